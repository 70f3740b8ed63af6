"""Kinds of lamps by how they are held: screwed into a holder, or long and held at two places."""

from __future__ import annotations

from loamwright.habitat.equipment import Lamp

SCREWED_IN = (
    "halogen lamps", "incandescent lamps", "heat emitters", "mercury-vapour lamps",
    "compact ultraviolet lamps",
)  # fmt: skip
"""Groups of lamps that are screwed into a holder; common practice, no source."""

LONG = 0.15
"""Length from which on a lamp is held at two places [m]; common practice."""


def is_long(lamp: Lamp) -> bool:
    """Whether a lamp is held at two places along it: a tube, a bar or a panel, not one in a holder."""
    kind = lamp.type
    return kind.shape in ("tube", "bar") and kind.length >= LONG and kind.group not in SCREWED_IN


def is_turned(lamp: Lamp) -> bool:
    """Whether a lamp sits in a holder that a bracket holds and that is turned to its place."""
    return lamp.type.shape not in ("tube", "bar") or lamp.type.group in SCREWED_IN
