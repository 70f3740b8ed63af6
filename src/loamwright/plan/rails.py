"""Rails that carry lamps over an opening: where each of a lamp's two lies, clear of what is there.

They run across the opening's shorter way and rest on the top's frame, or on the top itself where it
has none; under a lamp that lies lower than that they are fixed between the frame's bars; where it lies
lower still they lie over it on blocks, and it hangs from them. Sizes and distances are common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from loamwright.engine.lamp_bodies import body_of, box_body, gap_of, width_of
from loamwright.habitat.enclosure import Opening, Vec2, Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.plan.frames import frame_of
from loamwright.plan.lamp_kinds import is_long, is_turned

SIZE = 0.015
"""Width and height of a rail [m]; the aluminium tube of the shopping list."""

KEY, LABEL = "hangers/lamp-rail-15mm", "aluminium square tube, 15 x 15 x 1.5 mm"
"""What rails are cut from."""

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

SHARED = 0.02
"""How far from where it would be held best a lamp is put on a rail that is there already [m];
judgement."""

STEP = 0.005
"""Step in which a clear place is looked for [m]."""


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail: its corners ``low`` and ``high`` [m], ``at`` its middle's place (x, y) under the lamp
    [m]; ``between`` the bars of the frame, which it is fixed to, or on them or the top, or on blocks
    over lamps, which are ``hung`` from it; and what it ``meets``: fans, other openings, rails and
    lamps that no place avoids."""

    lamp: str
    over: str
    low: Vec3
    high: Vec3
    at: Vec2
    between: bool = False
    hung: bool = False
    meets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bed:
    """Where rails over an opening lie: they are spread ``k`` ways, from ``ends`` along the other [m],
    at the height ``level`` [m]; ``free`` is what of them nothing carries [m]; ``between`` the bars of
    the frame, or over lamps, which are ``hung`` from them."""

    k: int
    ends: Vec2
    level: float
    free: Vec2
    between: bool = False
    hung: bool = False


def length_of(rail: Rail) -> float:
    """How long a rail is cut [m]."""
    return max(b - a for a, b in zip(rail.low, rail.high, strict=True))


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
        found = [_pair(habitat, lamp, over, bed, out) for bed in _beds(habitat, over, lamp)]
        out += next((two for two in found if not any(r.meets for r in two)), found[0])
    return tuple(out)


def laid_rails(habitat: Habitat) -> tuple[tuple[str, Rail], ...]:
    """Every rail that is cut, by its name: one that two lamps share is the first one's."""
    out: list[tuple[str, Rail]] = []
    counts: dict[str, int] = {}
    for rail in rails_of(habitat):
        counts[rail.lamp] = counts.get(rail.lamp, 0) + 1
        if not any(same_place(rail, known) for _, known in out):
            out.append((f"rail {counts[rail.lamp]} of {rail.lamp}", rail))
    return tuple(out)


def _pair(
    habitat: Habitat, lamp: Lamp, over: Opening, bed: _Bed, laid: Iterable[Rail]
) -> list[Rail]:  # fmt: skip
    """Both rails of a lamp on a bed."""
    two: list[Rail] = []
    for way in (-1.0, 1.0):
        blocked = _blocked(habitat, lamp, over, bed, [*laid, *two])
        tried = [*_shared(lamp, over, bed, way, laid), *_tried(lamp, bed.k, way)]
        made = [_rail(lamp, over, bed, p) for p in tried]
        clear = next((r for r in made if not blocked(r)), None)
        two.append(clear or replace(made[0], meets=blocked(made[0])))
    return two


def _shared(lamp: Lamp, over: Opening, bed: _Bed, way: float, laid: Iterable[Rail]) -> list[float]:
    """Places of rails that lie there already, near enough to where a lamp would be held best: lamps one
    behind another lie on the same two [m]."""
    best, near, far = _reach(lamp, bed.k)
    middle, j = lamp.at[bed.k], 1 - bed.k
    found = []
    for r in laid:
        same = (r.low[j], r.high[j]) == bed.ends and abs(r.low[2] - bed.level) < 1e-6
        off = way * (0.5 * (r.low[bed.k] + r.high[bed.k]) - middle)
        if r.over == over.name and same and near <= off <= far and abs(off - best) <= SHARED:
            found.append(off)
    return [middle + way * x for x in sorted(set(found), key=lambda x: abs(x - best))]


def _tried(lamp: Lamp, k: int, way: float) -> list[float]:
    """Places of a rail on one side of a lamp's middle [m], the best one first, then by their distance
    from it."""
    best, near, far = _reach(lamp, k)
    steps = [near + n * STEP for n in range(round((far - near) / STEP) + 1)]
    return [lamp.at[k] + way * x for x in (best, *sorted(steps, key=lambda x: abs(x - best)))]


def same_place(one: Rail, other: Rail) -> bool:
    """Whether two lamps lie on the same rail."""
    pairs = zip((*one.low, *one.high), (*other.low, *other.high), strict=True)
    return all(abs(a - b) < 1e-6 for a, b in pairs)


def _reach(lamp: Lamp, k: int) -> tuple[float, float, float]:
    """How far from its middle a lamp's rails lie at best, at least and at most [m]."""
    if not is_long(lamp):
        aside = 0.5 * max(lamp.type.diameter, width_of(lamp)) + BESIDE
        return aside, aside, aside + ASIDE
    lies = abs(lamp.along[k])
    long = max(lamp.type.length * lies, width_of(lamp) * (1.0 - lies))
    return SHARE * long, NEAREST * long, FURTHEST * long


def _beds(habitat: Habitat, over: Opening, lamp: Lamp) -> list[_Bed]:
    """Where a lamp's rails may lie, the best first: under its face on the frame or the top, or between
    the frame's bars; else over its back, on blocks, so that it hangs from them; a spot's also over the
    long lamps around it."""
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
    wide = outer[0], outer[1]
    free = (inner[0], inner[1]) if bars else wide
    rests = top + (frame.size if frame and bars else 0.0)
    room = lamp.at[2] - SIZE + LOWER
    found = []
    if is_turned(lamp) or room >= rests:
        found.append(_Bed(k, wide, rests, free))
    elif bars == 2 and room >= top:
        found.append(_Bed(k, free, max(top, lamp.at[2] - SIZE), free, between=True))
    backs = [_back(lamp)]
    if is_turned(lamp):
        backs = [
            _back(x) for x in habitat.lamps if is_long(x) and opening_under(habitat, x) == over
        ]
    if backs:
        found.append(_Bed(k, wide, max(rests, *backs), free, hung=True))
    return found


def _back(lamp: Lamp) -> float:
    """Height of the back of a lamp [m]."""
    body = body_of(lamp)
    return float(body.middle[2]) + body.reach(np.array([0.0, 0.0, 1.0]))


def _rail(lamp: Lamp, over: Opening, bed: _Bed, place: float) -> Rail:
    low, high = [0.0, 0.0, bed.level], [0.0, 0.0, bed.level + SIZE]
    low[bed.k], high[bed.k] = place - SIZE / 2, place + SIZE / 2
    low[1 - bed.k], high[1 - bed.k] = bed.ends
    at = (place, lamp.at[1]) if bed.k == 0 else (lamp.at[0], place)
    return Rail(lamp.name, over.name, (low[0], low[1], low[2]), (high[0], high[1], high[2]), at,
                bed.between, bed.hung)  # fmt: skip


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
        out += [f"rail of {r.lamp}" for r in rails if not same_place(r, rail) and _near(r, rail)]
        return tuple(dict.fromkeys(out))

    return names


def _near(one: Rail, other: Rail) -> bool:
    """Whether two rails would be in one place, or nearer than they may be side by side."""
    return all(
        one.low[i] - air < other.high[i] - 1e-9 and other.low[i] < one.high[i] + air - 1e-9
        for i, air in ((0, CLEAR), (1, CLEAR), (2, 0.0))
    )


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
