"""How it stands: masses dry, moist and flooded, the floor under it, and how far it tilts before it
tips."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.physics import beams
from loamwright.physics.nozzles import GRAVITY
from loamwright.plan.box_joints import front_zone, outer_box

PSF = 47.880259
"""A pound-force by square foot [Pa]."""

IMPOSED = {"private": 1500.0, "breeding": 1500.0, "exhibit": 3000.0, "retail": 4000.0}
"""Imposed load of floors by purpose [Pa]: EN 1991-1-1 table 6.2, lower ends of dwellings (A) and of
rooms with tables such as schools and receptions (C1), shops (D1); from memory."""

IMPOSED_US = {"private": 40 * PSF, "breeding": 40 * PSF, "exhibit": 50 * PSF, "retail": 75 * PSF}
"""The same in the United States [Pa]: IRC table R301.5 (40 psf, seen) and ASCE 7 table 4.3-1
(offices 50 psf, retail above the first floor 75 psf; from memory)."""

TILT = math.radians(10.0)
"""Tilt that free-standing equipment must bear without tipping over [rad]: the stability test of IEC
62368-1, from memory; taken over for want of a standard of its own."""

PUSH, PUSH_HEIGHT = 200.0, 1.5
"""Someone leaning on it: level force [N] and the height it acts at, or the top where lower [m]; common
practice, no source."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Masses [kg]: ``dry`` (set up, ground dry), ``moist`` and ``flooded`` as the ground's load
    tells them, ``parts`` of the moist one; ``tank`` (full, where it stands under the box) and
    ``stand`` itself.

    ``rated`` load of the stand [kg], None where not known; ``corner`` the heaviest corner.
    ``footprint`` (width, depth) [m]; ``pressure`` under it, flooded, with all that stands there
    [Pa]. ``floor``: the even load that bends or shears the floor's beams as much, by how they run
    [Pa]; ``bears`` what the floor is built for [Pa], ``said`` True where the file says so. ``tilt``
    at which it tips over its weaker way [rad]; ``tipping`` how often `PUSH` goes into what would
    tip it; ``tied`` to a wall; ``high`` over all [m].
    """

    dry: float
    moist: float
    flooded: float
    parts: tuple[tuple[str, float], ...]
    tank: float
    stand: float
    rated: float | None
    corner: tuple[str, float]
    footprint: tuple[float, float]
    pressure: float
    floor: tuple[tuple[str, float], ...]
    bears: float
    said: bool
    tilt: float
    tipping: float
    push_height: float
    tied: bool
    high: float
    unknown: tuple[str, ...]

    @property
    def on_floor(self) -> float:
        """All that the floor carries, flooded [kg]."""
        return self.flooded + self.tank + self.stand


def standing_of(habitat: Habitat, amount: Quantities) -> Standing:
    """How a habitat stands; its load is that of the ground's quantities."""
    box, load = habitat.enclosure, amount.load
    wide, _, high = box.inside
    low, up = outer_box(habitat)
    across, through, over = (up[k] - low[k] for k in range(3))
    dry = load.total - math.fsum(x.moist - x.dry for x in amount.layers)
    under = box.stand.height if box.stand else 0.0
    stand = box.stand.mass if box.stand else 0.0
    mist = habitat.mist
    beneath = mist is not None and mist.tank_at[2] < 0.0 and 0.0 < mist.tank_at[0] < wide
    tank = 1000.0 * mist.tank if mist is not None and beneath else 0.0
    weight = GRAVITY * (load.flooded + tank + stand)
    pressure = weight / (across * through)
    floor = habitat.room.floor
    tables = IMPOSED_US if habitat.units == "us" else IMPOSED
    bears = tables.get(habitat.purpose, tables["private"]) if floor.bears is None else floor.bears
    # Least stable with its ground dry: low weight, and what is high up weighs as much as ever.
    ground = math.fsum(x.dry for x in amount.layers)
    masses = dict(load.parts)
    heights = [
        (masses.get("panels", 0.0) + masses.get("linings", 0.0), under + 0.5 * high),
        (ground, under + 0.5 * habitat.ground.depth), (masses.get("lamps", 0.0), under + high),
        (masses.get("frame", 0.0), under + high),
        (masses.get("footings", 0.0), under + 0.5 * habitat.ground.depth),
        (masses.get("hardscape", 0.0), under + 0.4 * high),
        (masses.get("bowls", 0.0), under + habitat.ground.depth), (stand, 0.5 * under),
    ]  # fmt: skip
    total = math.fsum(m for m, _ in heights)
    # Where no mass is known, that of the middle.
    centre = math.fsum(m * z for m, z in heights) / total if total else under + 0.5 * high
    y = load.centre[1] + front_zone(habitat)
    lever = max(0.0, min(y, through - y))
    reach = min(under + over, PUSH_HEIGHT)
    return Standing(
        dry, load.total, load.flooded, load.parts, tank, stand, load.rated, load.corner,
        (across, through), pressure, _floor(pressure, across, through, floor.span, floor.runs),
        bears, floor.bears is not None, math.atan2(lever, centre),
        beams.tipping_factor(GRAVITY * total, lever, PUSH, reach), reach,
        bool(box.stand and box.stand.tied), under + over, load.unknown,
    )  # fmt: skip


def _floor(
    pressure: float, across: float, through: float, span: float, runs: str
) -> tuple[tuple[str, float], ...]:
    """Even load as bad for the floor's beams, by the way they run; empty for a slab on the ground."""
    if runs == "slab":
        return ()
    found = {}
    # Into the room: it stands at their end. Along the wall: in their middle, where it bends most.
    places = {
        "across": (0.0, min(through, span)),
        "along": (0.5 * (span - min(across, span)), across),
    }
    for way, (start, length) in places.items():
        moment = beams.part_moment(pressure, start, length, span)
        shear = beams.part_shear(pressure, start, length, span)
        found[way] = max(
            beams.even_load_of_moment(moment, span), beams.even_load_of_shear(shear, span)
        )
    return tuple((way, load) for way, load in found.items() if runs in ("unknown", way))
