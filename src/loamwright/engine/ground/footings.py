"""What carries stones down through the ground, and what frames a top: their heights and masses."""

from __future__ import annotations

from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece

COURSE = 0.07
"""Height of a course of bricks with its bed [m]; common practice, no source."""

A_COURSE = 2
"""Bricks in a course under a stone: two side by side, crosswise to those below; common practice."""

BRICK = 3.5
"""Mass of a solid brick of 240 x 115 x 71 mm [kg]; from memory, 1.8 kg/dm3. Those of the United States
weigh some 2 kg."""

CLAY = 1800.0
"""Density of bricks [kg/m3]; from memory."""

SLAB = 2300.0
"""Density of paving stones, concrete blocks and other footings [kg/m3]; from memory."""

FRAME = 0.5
"""Mass of the tube of a top's frame [kg/m]: 25 x 25 x 2 mm of aluminium; calculated."""


def firm_height(habitat: Habitat, x: float, y: float) -> float:
    """Height up to which nobody digs: the drainage and its cover [m]."""
    height = 0.0
    for layer in habitat.ground.layers:
        if layer.kind not in DRAINING:
            break
        height += layer.depth_at(x, y)
    return height


def bricks_under(height: float) -> int:
    """Bricks of a footing so high [m], the last course cut or bedded to it."""
    return A_COURSE * max(1, round(height / COURSE))


def footing_mass(
    habitat: Habitat, piece: Piece, at: tuple[float, float], ground: float = 0.0
) -> float:  # fmt: skip
    """Mass of what carries a piece whose middle is at a place [kg], less that of the moist ground whose
    place it takes, of the density ``ground`` [kg/m3]; 0 without a footing."""
    if not piece.footing:
        return 0.0
    low, wide, deep = _foot(piece)
    height = low - firm_height(habitat, *at)
    if height <= 0.0:
        return 0.0
    if "brick" in piece.footing:
        mass, density = BRICK * bricks_under(height), CLAY
    else:
        mass, density = SLAB * wide * deep * height, SLAB
    return mass * max(0.0, 1.0 - ground / density)


def _foot(piece: Piece) -> tuple[float, float, float]:
    """Height of a piece's lowest point, its width and depth [m]."""
    if piece.shape == "mesh":
        xs, ys, zs = zip(*piece.vertices, strict=True)
        return min(zs), max(xs) - min(xs), max(ys) - min(ys)
    if piece.shape in ("branch", "tube"):
        return (
            min(piece.start[2], piece.end[2]) - 0.5 * piece.diameter, piece.diameter, piece.diameter
        )  # fmt: skip
    return piece.at[2], piece.size[0], piece.size[1]


def frame_mass(habitat: Habitat) -> float:
    """Mass of the frame of a fixed top that is held everywhere [kg], told from the length of its edges
    and of its windows' longer sides; 0 where it has none."""
    box = habitat.enclosure
    panel = box.panel("top")
    if panel.held != "everywhere" or panel.doors:
        return 0.0
    wide, deep, _ = box.inside
    windows = sum(2.0 * max(o.size) for o in box.openings if o.side == "top")
    return FRAME * (2.0 * (wide + deep) + windows)
