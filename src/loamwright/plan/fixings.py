"""What holds backgrounds and hardscape, and stones that somebody could dig out."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground import displaced
from loamwright.engine.ground.footings import firm_height
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.physics.nozzles import GRAVITY
from loamwright.plan.box_joints import face_area

SCREW = 100.0
"""Load a screw of 4 to 5 mm bears for years in wood or board, safety in it [N]; from memory, low
for softwood battens and right for foamed board."""

GLUE = 5000.0
"""Shear that a cured silicone bears for years, safety in it [Pa]: half of the 10 kPa of structural
silicone in ETAG 002, both from memory; common sealants creep more."""

SAFETY = 2.0
"""Times its wet load that a fixing must hold [1]: animals climb, people lean; common practice, no
source."""

BACKED = 0.5
"""Share of a background's back that is glued where nothing is said [1]; common practice, no source."""

SOAKS = {
    "hardwood": 0.3, "softwood": 0.3, "bamboo": 0.3, "bark": 0.5, "cork": 0.2, "cork-tile": 0.2,
    "coated-pu-foam": 0.2, "clay-background": 0.2, "xps-foam": 0.05, "coir-mat": 3.0,
    "sandstone": 0.08, "limestone": 0.05, "lava-rock": 0.2, "terracotta": 0.15,
}  # fmt: skip
"""Water taken up as a share of the dry mass [1]; from memory. Others are taken to take up none."""

PLANT = 1.0
"""Mass of a wet plant fixed to a piece [kg]; common practice, no source."""

STONE, HEAVY = 1200.0, 0.5
"""Density [kg/m3] and mass [kg] from which on a piece could crush who digs under it; common
practice."""

TOUCHES = 0.015
"""How near two surfaces are where one carries the other [m]."""


@dataclass(frozen=True, slots=True)
class Fixing:
    """Something held: ``what`` (``background`` or ``piece``), its ``mass`` dry [kg], ``wet`` with
    plants on it [kg]; ``screws`` and ``glued`` area [m2] that are said or taken, ``assumed`` True
    where taken; ``holds`` [N] for years; ``factor`` of its load that is, None where nothing is
    said; ``needs`` screws."""

    name: str
    what: str
    mass: float
    wet: float
    screws: int
    glued: float
    assumed: bool
    holds: float
    factor: float | None
    needs: int


@dataclass(frozen=True, slots=True)
class Stone:
    """A heavy piece that stands in or on the ground: ``mass`` [kg], ``footing`` in words, and
    ``under``: how much ground that can be dug away lies under it [m]."""

    name: str
    mass: float
    footing: str
    under: float
    at: tuple[float, float, float]


def _middle(piece: Piece) -> tuple[float, float]:
    """Middle of a piece seen from above [m]."""
    if piece.shape == "mesh":
        return displaced.centre_of(piece)
    low, up = extent(piece)
    return (low[0] + up[0]) / 2.0, (low[1] + up[1]) / 2.0


def extent(piece: Piece) -> tuple[Vec3, Vec3]:
    """Lowest and highest corner of the box round a piece [m], exact."""
    if piece.shape == "mesh":
        by_axis = list(zip(*piece.vertices, strict=True))
        low, up = ([pick(axis) for axis in by_axis] for pick in (min, max))
    elif piece.shape in ("branch", "tube"):
        long = math.dist(piece.start, piece.end)
        reach = [
            0.5 * piece.diameter * math.sqrt(max(0.0, 1.0 - ((b - a) / long) ** 2))
            for a, b in zip(piece.start, piece.end, strict=True)
        ]
        low = [min(a, b) - r for a, b, r in zip(piece.start, piece.end, reach, strict=True)]
        up = [max(a, b) + r for a, b, r in zip(piece.start, piece.end, reach, strict=True)]
    else:
        half = piece.size[0] / 2.0, piece.size[1] / 2.0
        low = [piece.at[0] - half[0], piece.at[1] - half[1], piece.at[2]]
        up = [piece.at[0] + half[0], piece.at[1] + half[1], piece.at[2] + piece.size[2]]
    return (low[0], low[1], low[2]), (up[0], up[1], up[2])


def carried_by(habitat: Habitat, piece: Piece) -> str:
    """The piece another stands on: its top meets the other's foot, and they overlap seen from above."""
    low, up = extent(piece)
    for other in habitat.hardscape:
        if other.name == piece.name:
            continue
        under, over = extent(other)
        meets = abs(over[2] - low[2]) < TOUCHES
        if meets and all(low[k] < over[k] and under[k] < up[k] for k in (0, 1)):
            return other.name
    return ""


def _fixing(
    name: str, what: str, mass: float, wet: float, screws: int | None, glued: float | None,
    usual: float,
) -> Fixing:  # fmt: skip
    said = screws is not None or glued is not None
    assumed = not said and usual > 0.0
    area = glued if glued is not None else 0.0 if said else usual
    holds = SCREW * (screws or 0) + GLUE * area
    load = GRAVITY * wet
    factor = holds / load if (said or assumed) and load > 0.0 else None
    needs = math.ceil(SAFETY * load / SCREW - 1e-9)
    return Fixing(name, what, mass, wet, screws or 0, area, assumed, holds, factor, needs)


def fixings_of(habitat: Habitat) -> tuple[Fixing, ...]:
    """Backgrounds, and pieces that neither stand in the ground nor on another piece."""
    box = habitat.enclosure
    wide, deep, _ = box.inside
    found = []
    for lining in box.linings:
        density = lining.material.density
        if density is None or lining.side == "floor":
            continue
        mass = face_area(habitat, lining.side) * lining.thickness * density
        wet = mass * (1.0 + SOAKS.get(lining.material.key, 0.0))
        usual = BACKED * face_area(habitat, lining.side)
        found.append(
            _fixing(lining.name, "background", mass, wet, lining.screws, lining.glued, usual)
        )
    for piece in habitat.hardscape:
        density = piece.material.density
        if density is None:
            continue
        x, y = _middle(piece)
        inside = 0.0 <= x <= wide and 0.0 <= y <= deep
        surface = habitat.ground.surface_at(x, y) if inside else habitat.ground.depth
        if extent(piece)[0][2] <= surface + TOUCHES or carried_by(habitat, piece):
            continue
        mass = displaced.piece_solid(piece) * density
        plants = sum(p.on == piece.name for p in habitat.plants)
        wet = mass * (1.0 + SOAKS.get(piece.material.key, 0.0)) + PLANT * plants
        found.append(_fixing(piece.name, "piece", mass, wet, piece.screws, piece.glued, 0.0))
    return tuple(found)


def stones_of(habitat: Habitat) -> tuple[Stone, ...]:
    """Heavy pieces that stand on their own in or on the ground, and what lies under each."""
    found = []
    for piece in habitat.hardscape:
        density = piece.material.density
        if density is None or density < STONE or piece.shape in ("branch", "tube"):
            continue
        mass = displaced.piece_solid(piece) * density
        if mass < HEAVY or carried_by(habitat, piece):
            continue
        x, y = _middle(piece)
        low = extent(piece)[0][2]
        surface = habitat.ground.surface_at(x, y)
        if low > surface + TOUCHES:
            continue  # held in the air: a fixing
        under = 0.0 if piece.footing else max(0.0, min(low, surface) - firm_height(habitat, x, y))
        found.append(Stone(piece.name, mass, piece.footing, under, (x, y, low)))
    return tuple(found)
