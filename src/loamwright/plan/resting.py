"""Which pieces are set before the ground is filled, and which only once it is there to bear them."""

from __future__ import annotations

import math

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.contacts import firm_touches
from loamwright.plan.fixings import carried_by

LEVEL = 0.5
"""Rise over length up to which a piece that is wholly in the ground lies in it, and does not stand
[1]: 30 degrees; judgement."""

WHOLE = 1e-6


def on_ground(habitat: Habitat) -> tuple[Piece, ...]:
    """The pieces that the ground bears, in the order of the file: they touch it, and neither the hard
    floor, a footing nor a fixing holds them; and what stands on such a piece by itself."""
    found = {p.name for p in habitat.hardscape if _borne(habitat, p)}
    while True:
        more = {
            p.name for p in habitat.hardscape
            if p.name not in found and not _held(p) and carried_by(habitat, p) in found
        }  # fmt: skip
        if not more:
            return tuple(p for p in habitat.hardscape if p.name in found)
        found |= more


def _held(piece: Piece) -> bool:
    """Whether something else than the ground is said to hold a piece."""
    return bool(piece.screws or piece.glued or piece.footing)


def _borne(habitat: Habitat, piece: Piece) -> bool:
    if _held(piece):
        return False
    touches = {t.kind: t for t in firm_touches(habitat, piece)}
    ground, floor = touches.get("ground"), touches.get("floor")
    # Words alone do not tell what a piece is fixed to; where it meets a wall, it may be that.
    if ground is None or (piece.fixing and "wall" in touches):
        return False
    if floor is None:
        return True
    # Dug in along its whole length, though one end comes near the floor.
    buried = ground.first < WHOLE and ground.last > 1.0 - WHOLE
    return buried and floor.last - floor.first < LEVEL and _lies(piece)


def _lies(piece: Piece) -> bool:
    """Whether a long piece lies rather than stands."""
    if piece.shape not in ("branch", "tube"):
        return False
    rise = abs(piece.end[2] - piece.start[2])
    return rise <= LEVEL * math.dist(piece.start, piece.end)
