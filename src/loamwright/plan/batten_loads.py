"""How far battens bend: beams held at their ends, that bear what of a panel is nearest to them.

Each bears the ground's pressure half way to its neighbours; near the floor's edge, to which the panel
is held, no further to each side than it is high (loads go to the nearest support: common practice for
slabs).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from loamwright.habitat.habitat import Habitat
from loamwright.physics import beams
from loamwright.plan.battens import THICK, WIDE, Batten, battens
from loamwright.plan.panels import BULGE, PanelLoad

YOUNG, CREEP = 10e9, 0.55
"""Young's modulus of softwood along its grain [Pa], and the share of it that is left for a load that
stays for years [1]; from memory, as the catalogue's softwood: service class 2 of EN 1995-1-1."""

STATIONS = 401
"""Stations along a batten."""


@dataclass(frozen=True, slots=True)
class BattenLoad:
    """A batten called ``name`` on a ``side`` under its worst load: its ``span`` and the ``strip`` of
    panel that it bears [m], the greatest ``load`` by length on it, flooded [N/m], its ``deflection``
    and the ``allowed`` one [m]."""

    name: str
    side: str
    span: float
    strip: float
    load: float
    deflection: float
    allowed: float


def batten_loads(habitat: Habitat, loads: Iterable[PanelLoad]) -> tuple[BattenLoad, ...]:
    """Every batten on a panel that something presses on, from the panels' ``loads``."""
    by_side: dict[str, PanelLoad] = {}
    for x in loads:
        if x.side not in by_side or x.flooded > by_side[x.side].flooded:
            by_side[x.side] = x
    standing = battens(habitat)
    return tuple(
        _bent(habitat, b, by_side[b.side], [x.at for x in standing if x.side == b.side])
        for b in standing if b.side in by_side
    )  # fmt: skip


def _bent(habitat: Habitat, b: Batten, load: PanelLoad, places: list[float]) -> BattenLoad:
    wide, deep, high = habitat.enclosure.inside
    across, span = {
        "left": (deep, high), "right": (deep, high), "back": (wide, high), "front": (wide, high),
    }.get(b.side, (wide, deep))  # fmt: skip
    edges = [0.0, *places, across]
    n = places.index(b.at) + 1
    sides = (0.5 * (edges[n] - edges[n - 1]), 0.5 * (edges[n + 1] - edges[n]))
    at = np.linspace(0.0, span, STATIONS)
    # Sideways to each neighbour's half, and no further than to the held edges along and across.
    reach = np.minimum(at, span - at)
    strip = np.minimum(reach, sides[0]) + np.minimum(reach, sides[1])
    shape = np.ones(STATIONS)
    if load.kind == "ground":
        shape = np.clip(1.0 - at / load.loaded, 0.0, None)
    inertia = beams.rectangle_inertia(WIDE, THICK)
    bent = beams.varied_deflection(strip * shape, span, YOUNG, inertia)
    # What lies there for years creeps; a flood lasts for days.
    worst = max(load.pressure / CREEP, load.flooded)
    return BattenLoad(
        b.name, b.side, span, sum(sides), float((strip * shape).max()) * load.flooded, bent * worst,
        BULGE * span,
    )  # fmt: skip
