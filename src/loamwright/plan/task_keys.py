"""What the tasks of a build are called in the file, apart from them: to read a file takes no engine."""

KEYS = (
    "order", "take-down", "old-plants", "order-plants", "plants-apart", "cut", "glue", "cure", "glass",
    "strip", "leak", "stand", "place", "background", "meshes", "doors", "wiring", "mist", "drainage",
    "anchor", "wall", "stones", "ground", "order-animals", "quarantine", "planting",
    "order-decomposers", "starters", "decomposers", "establish", "dry-run", "handover", "animals",
)  # fmt: skip
"""Every task there can be, by its key."""
