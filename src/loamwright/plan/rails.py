"""Rails that carry lamps over an opening: where each of a lamp's two lies, clear of what is there.

They run across the opening's shorter way and rest on the top's frame, or on the top itself where it
has none; under a lamp that lies lower than that they are fixed between the frame's bars. Sizes and
distances are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from loamwright.engine.lamp_bodies import body_of, box_body, gap_of, width_of
from loamwright.habitat.enclosure import Opening, Vec2, Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.plan.frames import frame_of
from loamwright.plan.lamp_kinds import is_long

SIZE = 0.015
"""Width and height of a rail [m]; the aluminium angle or tube of the shopping list."""

RESTS = 0.05
"""How far a rail reaches beyond its opening on each side, where no frame is beside it [m]; common
practice."""

SHARE, NEAREST, FURTHEST = 0.35, 0.10, 0.45
"""How far from its middle a long lamp is held, as a share of its length: at best, and within which
bounds a rail is moved [1]; common practice."""

BESIDE = 0.01
"""Air between a spot and the rails beside it [m]; common practice."""

ASIDE = 0.15
"""How far a spot's rail is moved away from it at most [m]; its bracket spans that; judgement."""

CLEAR = 0.005
"""Air between a rail and what it must not lie over [m]; common practice."""

LOWER = 0.005
"""How much lower than rails on the frame a lamp's face may be and still lie on them [m]."""

STEP = 0.005
"""Step in which a clear place is looked for [m]."""


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail: its corners ``low`` and ``high`` [m], ``at`` its middle's place (x, y) under the lamp
    [m]; ``between`` the bars of the frame, which it is fixed to, or on them or the top; and what it
    ``meets``: fans, other openings, rails and lamps that no place avoids."""

    lamp: str
    over: str
    low: Vec3
    high: Vec3
    at: Vec2
    between: bool = False
    meets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bed:
    """Where rails over an opening lie: they are spread ``k`` ways, from ``ends`` along the other [m],
    at the height ``level`` [m]; ``free`` is what of them nothing carries [m]; ``between`` the bars of
    the frame."""

    k: int
    ends: Vec2
    level: float
    free: Vec2
    between: bool = False


def opening_under(habitat: Habitat, lamp: Lamp) -> Opening | None:
    """The opening of the top that a lamp lies over, None where it is inside or there is none."""
    if lamp.at[2] <= habitat.enclosure.inside[2]:
        return None
    return next(
        (o for o in habitat.enclosure.openings if o.side == "top" and o.spans(lamp.at[:2])), None
    )


def rails_of(habitat: Habitat) -> tuple[Rail, ...]:
    """Two rails for every lamp over an opening, in the order of the file: each at the place nearest to
    where it would hold best that is clear of fans, other openings, lamps' bodies and other rails."""
    out: list[Rail] = []
    for lamp in habitat.lamps:
        over = opening_under(habitat, lamp)
        if over is None:
            continue
        bed = _bed(habitat, over, lamp)
        for way in (-1.0, 1.0):
            blocked = _blocked(habitat, lamp, over, bed, out)
            made = [_rail(lamp, over, bed, p) for p in _tried(lamp, bed.k, way)]
            clear = next((r for r in made if not blocked(r)), None)
            out.append(clear or replace(made[0], meets=blocked(made[0])))
    return tuple(out)


def _tried(lamp: Lamp, k: int, way: float) -> list[float]:
    """Places of a rail on one side of a lamp's middle [m], the best one first, then by their distance
    from it."""
    best, near, far = _reach(lamp, k)
    steps = [near + n * STEP for n in range(round((far - near) / STEP) + 1)]
    return [lamp.at[k] + way * x for x in (best, *sorted(steps, key=lambda x: abs(x - best)))]


def level_of(habitat: Habitat, over: Opening, lamp: Lamp) -> float:
    """Height of the upper face of a lamp's rails over an opening, above the top's outer face [m]."""
    box = habitat.enclosure
    return _bed(habitat, over, lamp).level + SIZE - box.inside[2] - box.panel("top").thickness


def _reach(lamp: Lamp, k: int) -> tuple[float, float, float]:
    """How far from its middle a lamp's rails lie at best, at least and at most [m]."""
    if not is_long(lamp):
        aside = 0.5 * max(lamp.type.diameter, width_of(lamp)) + BESIDE
        return aside, aside, aside + ASIDE
    lies = abs(lamp.along[k])
    long = max(lamp.type.length * lies, width_of(lamp) * (1.0 - lies))
    return SHARE * long, NEAREST * long, FURTHEST * long


def _bed(habitat: Habitat, over: Opening, lamp: Lamp) -> _Bed:
    k = 0 if over.size[0] >= over.size[1] else 1
    j = 1 - k
    top = habitat.enclosure.inside[2] + habitat.enclosure.panel("top").thickness
    frame = frame_of(habitat)
    outer, inner, bars = [], [], 0
    for way in (-1.0, 1.0):
        rim = over.at[j] + way * over.size[j] / 2
        beside = [
            m for m in (frame.members if frame else ())
            if m.across == (k == 0) and m.low[j] - 1e-6 <= rim <= m.high[j] + 1e-6
        ]  # fmt: skip
        bars += bool(beside)
        ends = [v for m in beside for v in (m.low[j], m.high[j])] or [rim, rim + way * RESTS]
        outer.append(max(ends) if way > 0 else min(ends))
        inner.append(min(ends) if way > 0 else max(ends))
    if frame is None or not bars:
        return _Bed(k, (outer[0], outer[1]), top, (outer[0], outer[1]))
    if lamp.at[2] < top + frame.size + SIZE - LOWER and bars == 2:
        level = max(top, lamp.at[2] - SIZE)
        return _Bed(k, (inner[0], inner[1]), level, (inner[0], inner[1]), True)
    return _Bed(k, (outer[0], outer[1]), top + frame.size, (inner[0], inner[1]))


def _rail(lamp: Lamp, over: Opening, bed: _Bed, place: float) -> Rail:
    low, high = [0.0, 0.0, bed.level], [0.0, 0.0, bed.level + SIZE]
    low[bed.k], high[bed.k] = place - SIZE / 2, place + SIZE / 2
    low[1 - bed.k], high[1 - bed.k] = bed.ends
    at = (place, lamp.at[1]) if bed.k == 0 else (lamp.at[0], place)
    return Rail(lamp.name, over.name, (low[0], low[1], low[2]), (high[0], high[1], high[2]), at,
                bed.between)  # fmt: skip


def _blocked(
    habitat: Habitat, lamp: Lamp, over: Opening, bed: _Bed, laid: Iterable[Rail]
) -> Callable[[Rail], tuple[str, ...]]:  # fmt: skip
    """Names of what a rail of a lamp would lie over or run into."""
    holes = [(o.name, o.at, o.size) for o in habitat.enclosure.openings
             if o.side == "top" and o.name != over.name]  # fmt: skip
    fans = [(f.name, f.at, (f.type.diameter,) * 2) for f in habitat.fans if f.side == "top"]
    bodies = [(x.name, body_of(x)) for x in habitat.lamps if x.name != lamp.name]
    rails = list(laid)

    def names(rail: Rail) -> tuple[str, ...]:
        # Over the rim of another opening it may end on the bar between both.
        free = _cut(rail, bed)
        out = [name for name, at, size in holes if _over(free, at, size, 0.0)]
        out += [name for name, at, size in fans if _over(rail, at, size, CLEAR)]
        own = box_body(rail.low, rail.high)
        out += [name for name, body in bodies if gap_of(own, body) < -1e-6]
        out += [
            f"rail of {r.lamp}" for r in rails
            if all(r.low[i] - CLEAR < rail.high[i] - 1e-9 and rail.low[i] < r.high[i] + CLEAR - 1e-9
                   for i in (0, 1))
            and r.low[2] < rail.high[2] - 1e-9 and rail.low[2] < r.high[2] - 1e-9
        ]  # fmt: skip
        return tuple(dict.fromkeys(out))

    return names


def _cut(rail: Rail, bed: _Bed) -> Rail:
    """What of a rail nothing carries."""
    low, high = list(rail.low), list(rail.high)
    low[1 - bed.k], high[1 - bed.k] = bed.free
    return replace(rail, low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2]))


def _over(rail: Rail, at: Vec2, size: Vec2, clear: float) -> bool:
    """Whether a rail lies over a hole, or nearer to it than ``clear``."""
    return all(
        rail.low[i] < at[i] + size[i] / 2 + clear - 1e-9
        and at[i] - size[i] / 2 - clear + 1e-9 < rail.high[i]
        for i in (0, 1)
    )
