"""Walls, ground and pieces as chains of nodes from the surface inwards.

Nodes stand at the surface, at every border between materials, and between them closer near the
surface; half of each slice's heat is stored at either end of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.habitat.catalogue import Material
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.ground import Ground
from loamwright.physics import conduction

FILMS = {"top": conduction.SURFACE_RESISTANCE_UP, "floor": conduction.SURFACE_RESISTANCE_DOWN}
"""Resistance outside [m2K/W], radiation included, by side; upright panels have that of horizontal
flow (ISO 6946). All of the enclosure stands in a room, so these hold outside too."""

BEST_LINK = 500.0
"""Links that conduct better [W/(m2 K)] are taken for this: against the films it is nothing, and a
metal sheet would otherwise ask for steps of milliseconds."""

SWING = 2700.0
"""Period [s] whose penetration depth sets the first slice: pulses of lamps of some 45 minutes."""

FIRST, GROWTH = 0.5, 1.7
"""First slice as a share of the penetration depth, and how much thicker each is than the one before."""

USUAL = (0.2, 1000.0, 1500.0, 0.9)
"""Conductivity, density, heat capacity and emissivity where an own material has none."""


@dataclass(frozen=True, slots=True)
class Slab:
    """One material of a stack: ``thickness`` [m], ``conductivity`` [W/(m K)], ``capacity``
    volumetric [J/(m3 K)]."""

    thickness: float
    conductivity: float
    capacity: float


@dataclass(frozen=True, slots=True)
class Chain:
    """Nodes of one square metre from the surface inwards: ``store`` [J/(m2 K)], ``link`` to the next
    [W/(m2 K)], the last to the room (0: none); ``depth`` of each node [m]."""

    store: tuple[float, ...]
    link: tuple[float, ...]
    depth: tuple[float, ...]


def slab(material: Material, thickness: float) -> Slab:
    """A layer of a material."""
    conductivity = USUAL[0] if material.conductivity is None else material.conductivity
    density = USUAL[1] if material.density is None else material.density
    heat = USUAL[2] if material.heat_capacity is None else material.heat_capacity
    return Slab(thickness, conductivity, density * heat)


def emissivity(material: Material) -> float:
    """Long-wave emissivity [1]."""
    return USUAL[3] if material.emissivity is None else material.emissivity


def chain(slabs: list[Slab], outside: float | None, fineness: float = 1.0) -> Chain:
    """The chain of a stack from its surface inwards; ``outside`` resistance to the room at its end
    [m2K/W], or None where no heat passes."""
    store, link, depth = [0.0], [], [0.0]
    step = 0.0
    for part in slabs:
        reach = conduction.penetration_depth(part.conductivity, part.capacity, 1.0, SWING)
        first = FIRST * reach / fineness
        step = max(step, first) if step == 0.0 else max(min(step, part.thickness), first)
        left = part.thickness
        while left > 1e-9:
            take = min(step, left)
            if left - take < 0.4 * take:
                take = left
            half = 0.5 * part.capacity * take
            store[-1] += half
            store.append(half)
            link.append(min(part.conductivity / take, BEST_LINK))
            depth.append(depth[-1] + take)
            left -= take
            step *= GROWTH ** (1.0 / fineness)
    link.append(0.0 if outside is None else 1.0 / outside)
    return Chain(tuple(store), tuple(link), tuple(depth))


def panel_stack(enclosure: Enclosure, side: str) -> list[Slab]:
    """What a side is made of, from the inside out."""
    panel = enclosure.panel(side)
    lined = [x for x in enclosure.linings if x.side == side]
    return [slab(x.material, x.thickness) for x in reversed(lined)] + [
        slab(panel.material, panel.thickness)
    ]


def ground_stack(ground: Ground, enclosure: Enclosure) -> list[Slab]:
    """Layers from the top down, then the floor."""
    layers = [slab(x.surface, x.depth) for x in reversed(ground.layers)]
    return layers + panel_stack(enclosure, "floor")


def outside_film(side: str) -> float:
    """Resistance between a side's outer face and the room [m2K/W]."""
    return FILMS.get(side, conduction.SURFACE_RESISTANCE_HORIZONTAL)


def wall_conductance(slabs: list[Slab], inside: float, outside: float) -> float:
    """U value of a stack between two surface resistances [W/(m2 K)], for checks."""
    return 1.0 / (inside + outside + math.fsum(x.thickness / x.conductivity for x in slabs))
