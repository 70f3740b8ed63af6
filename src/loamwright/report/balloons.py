"""Where the numbers in circles stand on a view: each on its thing, or beside it with a leader to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loamwright.report.draft import Balloon, Point, balloon_radius
from loamwright.report.plan_views import Tag

_GAP = 0.5
"""Least room between two circles [mm]."""

_CORNERS = 48
"""Corners of an outline that are looked at."""

_SPOTS = 40
"""Most places on a thing that are tried."""

_AWAY = (4.4, 5.5, 7.0, 9.0, 12.0, 16.0, 22.0)
"""Lengths of leaders that are tried [mm]; each in twelve directions."""

_ROUNDS = 12
_AGAIN = 4
"""Rounds until none moves, and how often it is begun anew where some stand badly."""

# What is to be avoided and how much, in the measure of a millimetre further away from the middle
# of the thing; no source, chosen by looking at the drawings.
_OVER, _HIDES, _CROSSES, _OUTSIDE = 200.0, 60.0, 40.0, 80.0
_SAME, _OTHER, _CROWD = 3.0, 0.8, 0.5
_FAR, _EDGE, _LEADER, _LENGTH = 0.2, 1.0, 5.0, 0.5


@dataclass(frozen=True, slots=True)
class _Choice:
    """Places a number may stand: middles of its circle ``at`` and ends ``to`` of its leader (n, 2)
    [mm], ``led`` where it has one (n), and what each costs by itself (n)."""

    at: np.ndarray
    to: np.ndarray
    led: np.ndarray
    cost: np.ndarray
    radius: float


def balloons(
    tags: Sequence[Tag], scale: int, frame: tuple[Point, Point] | None = None
) -> list[Balloon]:
    """The numbers of a view, drawn at a scale 1 : n.

    A number stands on its thing where it is plainest whose it is; where others would be covered, it
    stands beside it with a leader. Circles do not touch, leaders cross each other and other circles
    as little as may be, and circles stay within ``frame`` (lower left, upper right corner [m]).
    """
    mm = scale / 1000.0
    areas = [[_thin(np.asarray(ring, float) / mm) for ring in tag.area] for tag in tags]
    within = None if frame is None else np.asarray(frame, float) / mm
    choices = [_choice(i, tags, areas, mm, within) for i in range(len(tags))]
    # Points first: they can not give way.
    order = sorted(range(len(tags)), key=lambda i: (bool(areas[i]), len(choices[i].cost), i))
    settled = _settled(order, choices)
    turns = np.random.default_rng(1)
    for _ in range(_AGAIN):
        bad = [i for i in order if _beside(i, choices, settled)[settled[i]] > 0.0]
        if not bad:
            break
        # Those that stand badly choose before the others.
        rest = [i for i in order if i not in bad]
        other = _settled([*turns.permutation(bad).tolist(), *rest], choices)
        if _total(other, choices) < _total(settled, choices):
            settled = other
    out = []
    for i, tag in enumerate(tags):
        chosen, k = choices[i], settled[i]
        to = (float(chosen.to[k, 0]) * mm, float(chosen.to[k, 1]) * mm)
        if not chosen.led[k]:
            out.append(Balloon(tag.layer, to, tag.text))
            continue
        shift = chosen.at[k] - chosen.to[k]
        out.append(Balloon(tag.layer, to, tag.text, (float(shift[0]), float(shift[1])), to))
    return out


def _choice(
    number: int,
    tags: Sequence[Tag],
    areas: Sequence[Sequence[np.ndarray]],
    mm: float,
    frame: np.ndarray | None,
) -> _Choice:
    """Every place that is tried for one number."""
    own = np.asarray(tags[number].at, float)[None] / mm
    spots = own
    if areas[number]:
        spots = np.concatenate([own, _spots(areas[number])])
        inside = _inside(spots, areas[number])
        spots = spots[inside] if inside.any() else own
    # A place inside several outlines does not tell plainly whose number stands there.
    doubt = np.linalg.norm(spots - own, axis=1) * _FAR
    if areas[number]:
        for k, rings in enumerate(areas):
            if k != number and rings:
                weight = _SAME if tags[k].layer == tags[number].layer else _OTHER
                doubt = doubt + weight * _inside(spots, rings)
        # Nor does one at the edge.
        edge = [_off(spots, r, np.roll(r, -1, axis=0)).min(axis=0) for r in areas[number]]
        doubt = doubt + _EDGE * np.clip(1.5 - np.min(edge, axis=0), 0.0, None)
    plainest = np.argsort(doubt, kind="stable")[:2]
    turn = np.arange(12) * np.pi / 6 + 0.3
    ways = np.array([(a * np.cos(t), a * np.sin(t)) for a in _AWAY for t in turn])
    ends = np.repeat(spots[plainest], len(ways), axis=0)
    beside = ends + np.tile(ways, (len(plainest), 1))
    crowd = sum((_inside(beside, rings).astype(float) for rings in areas if rings),
                np.zeros(len(beside)))  # fmt: skip
    led = (
        np.repeat(doubt[plainest], len(ways))
        + _LEADER
        + _LENGTH * np.linalg.norm(beside - ends, axis=1)
        + _CROWD * crowd
    )
    at = np.concatenate([spots, beside])
    cost = np.concatenate([doubt, led])
    radius = balloon_radius(tags[number].text)
    if frame is not None:
        out = np.any((at < frame[0] + radius) | (at > frame[1] - radius), axis=1)
        # What stands at the edge itself, as a fan does, may keep its number on it.
        cost = cost + _OUTSIDE * out * np.r_[np.zeros(len(spots)), np.ones(len(beside))]
    to = np.concatenate([spots, ends])
    has = np.r_[np.zeros(len(spots), bool), np.ones(len(beside), bool)]
    return _Choice(at, to, has, cost, radius)


def _settled(order: Sequence[int], choices: Sequence[_Choice]) -> dict[int, int]:
    """Which place each number takes when they choose one after the other, again and again until none
    moves."""
    settled: dict[int, int] = {}
    for _ in range(_ROUNDS):
        before = dict(settled)
        for i in order:
            settled[i] = int(np.argmin(choices[i].cost + _beside(i, choices, settled)))
        if settled == before:
            break
    return settled


def _total(settled: dict[int, int], choices: Sequence[_Choice]) -> float:
    """What all places cost together."""
    each = [choices[i].cost[k] + _beside(i, choices, settled)[k] / 2 for i, k in settled.items()]
    return float(np.sum(each))


def _beside(number: int, choices: Sequence[_Choice], settled: dict[int, int]) -> np.ndarray:
    """What each place of a number costs beside the others as they stand (n)."""
    mine = choices[number]
    others = [(choices[k], n) for k, n in settled.items() if k != number]
    cost = np.zeros(len(mine.cost))
    if not others:
        return cost
    at = np.array([c.at[n] for c, n in others])
    to = np.array([c.to[n] for c, n in others])
    led = np.array([c.led[n] for c, n in others])
    radius = np.array([c.radius for c, _ in others])
    apart = np.linalg.norm(mine.at[:, None] - at[None], axis=-1)
    short = np.clip(mine.radius + radius + _GAP - apart, 0.0, None)
    cost += np.sum(np.where(short > 0.0, _OVER + _OVER * short, 0.0), axis=1)
    # Neither circle may hide the end of the other's leader, nor stand on the leader.
    on_others = _off(at, mine.to, mine.at) < radius + 0.4
    off_mine = _off(mine.at, to, at).T
    cost += _HIDES * np.sum(on_others & mine.led[:, None], axis=1)
    cost += _HIDES * np.sum((off_mine < mine.radius + 0.4) & led[None], axis=1)
    both = mine.led[:, None] & led[None]
    cost += _CROSSES * np.sum(_cross(mine.to, mine.at, to, at) & both, axis=1)
    return cost


def _thin(ring: np.ndarray) -> np.ndarray:
    """An outline with few corners."""
    step = max(1, -(-len(ring) // _CORNERS))
    return np.asarray(ring[::step])


def _spots(rings: Sequence[np.ndarray]) -> np.ndarray:
    """A grid of places over outlines (n, 2), each of its rows and columns alike far apart."""
    corners = np.concatenate(list(rings))
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = np.maximum(high - low, 0.1)
    # A thin slanting rod fills little of its range: many more are laid than will lie inside.
    step = max(float(np.sqrt(size[0] * size[1] / (6 * _SPOTS))), 0.4)
    across, up = (np.arange(low[k] + step / 2, high[k], step) for k in (0, 1))
    grid = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
    grid = grid[_inside(grid, rings)]
    return np.asarray(grid[:: max(1, -(-len(grid) // _SPOTS))])


def _inside(points: np.ndarray, rings: Sequence[np.ndarray]) -> np.ndarray:
    """Which points (n, 2) lie inside outlines, holes in them not counted: bool (n)."""
    out = np.zeros(len(points), bool)
    x, y = points[:, :1], points[:, 1:]
    for ring in rings:
        a, b = ring, np.roll(ring, -1, axis=0)
        over = (a[None, :, 1] > y) != (b[None, :, 1] > y)
        rise = np.where(a[:, 1] == b[:, 1], 1.0, b[:, 1] - a[:, 1])
        cut = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / rise
        out ^= np.sum(over & (x < cut), axis=1) % 2 == 1
    return out


def _off(points: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """Distances of points (m, 2) from lines between ``low`` and ``high`` (n, 2): (n, m)."""
    way = high - low
    long = np.maximum(np.sum(way * way, axis=1), 1e-12)
    from_low = points[None] - low[:, None]
    share = np.clip(np.sum(from_low * way[:, None], axis=-1) / long[:, None], 0.0, 1.0)
    return np.asarray(np.linalg.norm(from_low - share[..., None] * way[:, None], axis=-1))


def _cross(a: np.ndarray, b: np.ndarray, c: np.ndarray, d: np.ndarray) -> np.ndarray:
    """Which lines a-b (n, 2) cross which lines c-d (m, 2): bool (n, m)."""

    def side(p: np.ndarray, q: np.ndarray, r: np.ndarray) -> np.ndarray:
        one, other = q - p, r - p
        return np.asarray(one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0])

    a, b, c, d = a[:, None], b[:, None], c[None], d[None]
    return np.asarray((side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0))
