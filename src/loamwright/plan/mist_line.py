"""The misting line: what pressure each nozzle gets, what it sprays then, and how long the tank
lasts."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.misting import Mist
from loamwright.physics import nozzles as law
from loamwright.plan.lines import Line
from loamwright.plan.mist_ways import Branch, branches_of
from loamwright.plan.routes import CLIP, length_of

EFFICIENCY = 0.3
"""Share of a small diaphragm pump's power that becomes pressure and flow [1]; from memory, 0.2 to
0.4."""

FITTINGS = 1.2
"""Pressure lost in the line with its fittings, over that of the straight line [1]; common practice."""

ENOUGH = 0.9
"""Least share of the pressure a nozzle is made for at which it still sprays as told [1]: flow falls
by 5 %, drops grow by 3 %; worked out from the nozzle law and D ~ p^-0.3."""

GROUP = "misting"


@dataclass(frozen=True, slots=True)
class Mouth:
    """A nozzle: ``length`` of line from the pump [m], ``rise`` over the tank's water [m], ``lost``
    pressure on the way [Pa], ``pressure`` before it [Pa], what it ``needs`` [Pa] (None where not
    known), its ``flow`` [m3/s] then, and ``way`` from the trunk [m]."""

    name: str
    at: Vec3
    length: float
    rise: float
    lost: float
    pressure: float
    needs: float | None
    flow: float
    way: tuple[Vec3, ...]


@dataclass(frozen=True, slots=True)
class MistLine:
    """The line: ``pump`` pressure [Pa], ``said`` True where the file says it; ``bore`` [m];
    ``trunk`` its corners [m]; the nozzles; ``length`` of line in all [m]; ``a_day`` water sprayed
    by the clock [m3/day] and ``lasts`` how long the tank does for that [s], None where only a
    control asks; ``draws`` power the pump needs at least [W] and ``power`` that is said [W];
    ``above`` True where the tank stands higher than a nozzle."""

    pump: float
    said: bool
    bore: float
    trunk: tuple[Vec3, ...]
    mouths: tuple[Mouth, ...]
    length: float
    a_day: float
    lasts: float | None
    draws: float
    power: float
    above: bool
    lines: tuple[Line, ...]

    @property
    def flow(self) -> float:
        """Flow of all nozzles together [m3/s]."""
        return math.fsum(m.flow for m in self.mouths)


def mist_line_of(habitat: Habitat) -> MistLine | None:
    """The misting line of a habitat; None without misting."""
    mist = habitat.mist
    if mist is None or not mist.nozzles:
        return None
    wide, deep, high = habitat.enclosure.inside
    corner: Vec3 = (wide, deep, high)
    tank = mist.tank_at
    # Up behind the right back corner, along the back edge of the top, and forward to each nozzle.
    foot: Vec3 = (wide, deep, tank[2])
    trunk = [tank, (wide, tank[1], tank[2]), foot, corner]
    branches = branches_of(habitat)
    trunk += [b.way[0] for b in branches]
    known = [n.type.pressure for n in mist.nozzles if n.type.pressure is not None]
    pump = mist.pressure if mist.pressure is not None else max(known, default=0.0)
    mouths = _pressures(mist, pump, trunk, branches)
    seconds = math.fsum(t for _, t in mist.times)
    flow = math.fsum(m.flow for m in mouths)
    a_day = flow * seconds
    length = length_of(trunk) + math.fsum(length_of(m.way) for m in mouths)
    clips = math.fsum(clips_of(way) for way in (trunk, *(m.way for m in mouths)))
    return MistLine(
        pump, mist.pressure is not None, mist.bore, tuple(trunk), tuple(mouths), length, a_day,
        86400.0 * mist.tank / a_day if a_day > 0.0 else None,
        law.pump_power(flow, pump, EFFICIENCY), mist.pump,
        any(m.rise < 0.0 for m in mouths), _lines(mist, length, len(mouths), clips),
    )  # fmt: skip


def clips_of(way: Sequence[Vec3]) -> float:
    """Clips of a way: every 30 cm of each straight length, one at least to what is not short."""
    lengths = [math.dist(a, b) for a, b in itertools.pairwise(way)]
    return math.fsum(math.ceil(x / CLIP - 1e-9) for x in lengths if x >= SHORT)


SHORT = 0.10
"""Straight length of tube below which it takes no clip [m]; common practice, no source."""

STEPS = 40
"""Halvings of a pressure that is looked for: to a millionth of a millionth of the pump's."""


def _pressures(
    mist: Mist, pump: float, trunk: list[Vec3], branches: tuple[Branch, ...]
) -> list[Mouth]:
    """Pressures from the last nozzle back to the pump: what the last one gets is found by halving,
    since all that lies before it, and so the pump, must then give more the more it gets."""
    order = [b.nozzle for b in branches]
    first = len(trunk) - len(order)
    tees = trunk[first:]
    ways = [b.way for b in branches]
    spans = [length_of(trunk[: first + 1])]
    spans += [math.dist(a, b) for a, b in itertools.pairwise(tees)]
    heads = [law.head(n.at[2] - mist.tank_at[2]) for n in order]

    def flow(i: int, pressure: float) -> float:
        kind = order[i].type
        if kind.pressure is None:
            return kind.flow
        return law.nozzle_flow(law.nozzle_constant(kind.flow, kind.pressure), pressure)

    def line(amount: float, length: float) -> float:
        return FITTINGS * law.line_loss(amount, mist.bore, length)

    def before(i: int, pressure: float) -> float:
        """Pressure at a branch, at the tank's height, where its nozzle gets ``pressure``."""
        return pressure + line(flow(i, pressure), length_of(ways[i])) + heads[i]

    def at_branch(i: int, given: float) -> float:
        """Pressure a nozzle gets of what its branch is given."""
        low, up = 0.0, max(0.0, given)
        for _ in range(STEPS):
            middle = 0.5 * (low + up)
            low, up = (middle, up) if before(i, middle) < given else (low, middle)
        return 0.5 * (low + up)

    def back(last: float) -> tuple[float, list[float]]:
        """What the pump must give where the last nozzle gets so much, and what each then gets."""
        count = len(order)
        gets = [0.0] * count
        carried, given = 0.0, before(count - 1, last)
        for i in reversed(range(count)):
            gets[i] = last if i == count - 1 else at_branch(i, given)
            carried += flow(i, gets[i])
            given += line(carried, spans[i])
        return given, gets

    low, up = 0.0, pump
    for _ in range(STEPS):
        middle = 0.5 * (low + up)
        low, up = (middle, up) if back(middle)[0] < pump else (low, middle)
    _, gets = back(0.5 * (low + up))
    found, way_to = [], 0.0
    for i, nozzle in enumerate(order):
        way_to += spans[i]
        rise = nozzle.at[2] - mist.tank_at[2]
        found.append(
            Mouth(nozzle.name, nozzle.at, way_to + length_of(ways[i]), rise,
                  pump - gets[i] - heads[i], gets[i], nozzle.type.pressure, flow(i, gets[i]), ways[i])
        )  # fmt: skip
    return found


def _lines(mist: Mist, length: float, count: int, clips: float) -> tuple[Line, ...]:
    inner = 1000.0 * mist.bore
    return (
        Line(f"misting/tube-{inner:g}mm", GROUP, f"pressure tube, {inner:g} mm inside", length, "m",
             waste=0.1, why="from the tank up the right back corner, along the top, to each nozzle"),
        Line("misting/tee", GROUP, "tee or elbow", float(count), "piece", spares=1.0,
             why="one for each nozzle"),
        Line("misting/anti-drip-valve", GROUP, "anti-drip check valve", float(count), "piece",
             spares=1.0, why="so that no nozzle drips or lets the line run empty"),
        Line("misting/filter", GROUP, "suction filter", 1.0, "piece", why="before the pump"),
        Line("misting/tube-clip", GROUP, "tube clip", clips, "piece", waste=0.1,
             why="every 30 cm, one at least to each length from 10 cm on"),
        Line("misting/pump", GROUP, f"diaphragm pump, {mist.pump:g} W", 1.0, "piece",
             why="named in the file"),
        Line("misting/tank", GROUP, f"closed, dark tank, {1000 * mist.tank:g} L", 1.0, "piece",
             why="named in the file"),
    )  # fmt: skip
