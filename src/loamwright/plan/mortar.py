"""Mortar for pieces that are bedded in it: which, and how much."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.contacts import cloud_of
from loamwright.plan.lines import Line

WORDS = ("mortar", "cement", "grout")
"""Words in a fixing that tell of what hardens with water."""

BED = 0.010
"""Thickness of the bed [m]; common practice, no source."""

DENSITY = 1800.0
"""Dry mortar for a volume of bed [kg/m3]; makers' sheets say 1.7 to 1.9 kg for a litre, from memory."""


def in_mortar(piece: Piece) -> bool:
    """Whether a piece is said to be bedded in what hardens with water."""
    return any(word in piece.fixing.casefold() for word in WORDS)


def mortar_lines(habitat: Habitat) -> list[Line]:
    """Dry mortar for the beds under all pieces that lie in one [kg]: as wide and deep as each is."""
    return [
        Line("fixings/mortar", "fixings", "mortar of lime and cement, dry, without additives",
             DENSITY * BED * _foot(p), "kg", waste=0.1, uses=(p.name,),
             why=f"a bed of {1000 * BED:.0f} mm under what lies in it; common practice; rinse and let "
             "it harden before animals")
        for p in habitat.hardscape if in_mortar(p)
    ]  # fmt: skip


def _foot(piece: Piece) -> float:
    """Area under a piece [m2]: the rectangle round it, seen from above."""
    points, _ = cloud_of(piece)
    wide, deep, _ = points.max(axis=0) - points.min(axis=0)
    return float(wide * deep)
