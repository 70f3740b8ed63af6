"""What the tasks of a build are called in the file, apart from them: to read a file takes no engine."""

from __future__ import annotations

import re

KEYS = (
    "order", "take-down", "old-plants", "order-plants", "plants-apart", "cut", "glue", "seal", "cure",
    "glass", "strip", "leak", "stand", "place", "background", "meshes", "doors",
    "door-glass", "wiring", "mist",
    "drainage", "anchor", "pieces-cure", "wall", "stones", "ground", "on-ground", "laying",
    "order-animals", "quarantine", "quarantine-own", "planting", "order-decomposers", "starters",
    "decomposers", "establish", "dry-run", "handover", "enters", "animals",
)  # fmt: skip
"""Every kind of task there can be, by its key; where there are several of a kind, such as old habitats
to take down, the second and later ones bear a number behind it."""


def kind_of(key: str) -> str:
    """The key of `KEYS` that a task's key belongs to: ``take-down`` of ``take-down-2``."""
    return re.sub(r"-\d+$", "", key)
