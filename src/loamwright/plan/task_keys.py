"""What the tasks of a build are called in the file, apart from them: to read a file takes no engine."""

KEYS = (
    "order", "take-down", "plants-apart", "cut", "glue", "cure", "leak", "stand", "place",
    "background", "meshes", "doors", "wiring", "mist", "anchor", "stones", "ground", "quarantine",
    "planting", "starters", "decomposers", "establish", "dry-run", "handover", "animals",
)  # fmt: skip
"""Every task there can be, by its key."""
