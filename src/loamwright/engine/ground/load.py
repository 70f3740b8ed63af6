"""What presses on the stand, and where."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.engine.ground.displaced import centre_of, piece_solid
from loamwright.engine.ground.footings import footing_mass, frame_mass
from loamwright.engine.ground.lamp_mass import lamp_mass
from loamwright.habitat.habitat import Habitat

WATER = 1000.0
"""Density of water [kg/m3]."""

SHEET = 4e-3
"""Thickness of a clear sheet that lies over an opening [m]; common practice, no source."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Load:
    """What presses on the stand, each (what, mass [kg]), moist ground among it, and the most it is
    ``rated`` for [kg], None where not known; ``flooded`` all of it with the ground flooded [kg];
    ``unknown`` pieces and panels without a density; ``centre`` of the moist load from the inner left
    and front [m], and ``corner`` the heaviest of four corners (name, mass [kg]) by the lever rule."""

    parts: tuple[tuple[str, float], ...]
    rated: float | None
    flooded: float
    unknown: tuple[str, ...]
    centre: Point
    corner: tuple[str, float]

    @property
    def total(self) -> float:
        """All of it [kg]."""
        return math.fsum(mass for _, mass in self.parts)


def load_on_stand(habitat: Habitat, ground: Sequence[tuple[float, Point]], flooded: float) -> Load:
    """The load of a habitat.

    Parameters
    ----------
    habitat : Habitat
        The habitat.
    ground : sequence of (mass [kg], centre [m])
        Its layers, moist.
    flooded : float
        Mass of all layers when flooded [kg].
    """
    box = habitat.enclosure
    wide, deep, high = box.inside
    middle = (wide / 2, deep / 2)
    areas = {
        "floor": wide * deep, "top": wide * deep, "back": wide * high, "front": wide * high,
        "left": deep * high, "right": deep * high,
    }  # fmt: skip
    beside = {"back": (wide / 2, deep), "front": (wide / 2, 0.0), "left": (0.0, deep / 2),
              "right": (wide, deep / 2)}  # fmt: skip
    unknown: list[str] = []
    found: list[tuple[str, float, Point]] = [("ground", mass, at) for mass, at in ground]

    def put(what: str, name: str, volume: float, density: float | None, at: Point) -> None:
        if density is None:
            unknown.append(name)
        else:
            found.append((what, volume * density, at))

    holes = dict.fromkeys(areas, 0.0)
    for opening in box.openings:
        holes[opening.side] += opening.size[0] * opening.size[1]
    for p in box.panels:
        volume = (areas[p.side] - holes[p.side]) * p.thickness
        put("panels", p.side, volume, p.material.density, beside.get(p.side, middle))
    for opening in box.openings:
        sheet = opening.cover.sheet
        if sheet is not None:
            volume = opening.size[0] * opening.size[1] * SHEET
            at = beside.get(opening.side, middle)
            put("panels", opening.name, volume, sheet.density, at)
    for lining in box.linings:
        put("linings", lining.name, areas[lining.side] * lining.thickness,
            lining.material.density, beside.get(lining.side, middle))  # fmt: skip
    left, right, front, back = box.floor
    room = (right - left) * (back - front) * habitat.ground.depth
    dense = math.fsum(mass for mass, _ in ground) / room if room > 0.0 else 0.0
    for piece in habitat.hardscape:
        put("hardscape", piece.name, piece_solid(piece), piece.material.density, centre_of(piece))
        at = centre_of(piece)
        found.append(("footings", footing_mass(habitat, piece, at, dense), at))
    found.append(("frame", frame_mass(habitat), middle))
    for b in habitat.water:
        put("bowls", b.name, b.size[0] * b.size[1] * b.depth, WATER, (b.at[0], b.at[1]))
    # Lamps lie on the top or hang from it.
    found += [("lamps", lamp_mass(x), (x.at[0], x.at[1])) for x in habitat.lamps]
    parts = [
        (what, math.fsum(m for w, m, _ in found if w == what))
        for what in (
            "panels",
            "frame",
            "linings",
            "ground",
            "hardscape",
            "footings",
            "bowls",
            "lamps",
        )
    ]
    total = math.fsum(m for _, m, _ in found)
    x = math.fsum(m * at[0] for _, m, at in found) / total if total else middle[0]
    y = math.fsum(m * at[1] for _, m, at in found) / total if total else middle[1]
    over = flooded - math.fsum(mass for mass, _ in ground)
    stand = box.stand
    return Load(
        tuple((what, m) for what, m in parts if m > 0.0), stand.rated if stand else None,
        total + over, tuple(unknown), (x, y), _heaviest(total, x / wide, y / deep),
    )  # fmt: skip


def _heaviest(total: float, right: float, back: float) -> tuple[str, float]:
    """The corner that carries most: each side's share is the other side's lever."""
    right, back = min(1.0, max(0.0, right)), min(1.0, max(0.0, back))
    shares = {
        f"{depth} {side}": a * b
        for depth, a in (("front", 1.0 - back), ("back", back))
        for side, b in (("left", 1.0 - right), ("right", right))
    }
    name = max(shares, key=lambda key: shares[key])
    return name, total * shares[name]
