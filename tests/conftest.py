"""Settings of every test: the same generated cases each time, so that a failure can be repeated."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")
