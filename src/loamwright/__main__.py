"""`python -m loamwright`."""

from loamwright.cli import run

run()
