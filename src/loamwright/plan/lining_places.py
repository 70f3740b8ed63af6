"""Where the pieces of backgrounds come to sit, and where the screws of each go.

Screws are shared out by area, one at least to a piece while there are enough; in a piece they stand in
rows, away from its edges and holes. Common practice, no source.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES
from loamwright.plan.cut_parts import LINING, Hole, PartToCut
from loamwright.plan.cuts import Cuts
from loamwright.plan.held_screws import lining_screws
from loamwright.plan.screws import Screw

EDGE = 0.05
"""Distance of screws from a piece's edges, or a quarter of its side where that is less [m]; common
practice."""

CLEAR = 0.03
"""Distance of screws from the edge of a hole [m]; common practice."""

UNEVEN = 1.6
"""How far the number of rows may be from what a piece's shape asks for, as a factor, so that all rows
are of one length [1]; judgement."""

STEP, REACH = 0.01, 0.15
"""Step and reach of the search for a place beside a hole [m]."""


@dataclass(frozen=True, slots=True)
class LiningPlace:
    """A piece of a background: its ``part``, the ``side`` it lies on, its lower left corner ``at`` in
    the panel's coordinates [m], the places of its ``screws`` there [m], and their ``size``, None where
    it has none: sealant alone holds it."""

    part: PartToCut
    side: str
    at: Vec2
    screws: tuple[Vec2, ...]
    size: Screw | None


def lining_places(habitat: Habitat, cuts: Cuts) -> tuple[LiningPlace, ...]:
    """Every piece of every background, by number and letter."""
    found = [x.part for j in cuts.jobs for s in j.sheets for x in s.laid if x.part.kind == LINING]
    found += [p for p in cuts.ordered if p.kind == LINING]
    sides = {x.name: x.side for x in habitat.enclosure.linings}
    screws = {s.name: s for s in lining_screws(habitat)}
    out = []
    for name, side in sides.items():
        pieces = sorted(
            (p for p in found if p.name == name), key=lambda p: (len(p.suffix), p.suffix)
        )
        mine = screws.get(name)
        counts = shared(mine.count if mine else 0, [p.area for p in pieces])
        for part, count in zip(pieces, counts, strict=True):
            assert part.low is not None
            first, second = FREE_AXES[side]
            at = part.low[first] + part.offset[0], part.low[second] + part.offset[1]
            places = tuple((at[0] + x, at[1] + y) for x, y in _rows(part, count))
            out.append(LiningPlace(part, side, at, places, mine.screw if mine and count else None))
    return tuple(out)


def shared(count: int, areas: Sequence[float]) -> list[int]:
    """A count shared out by area: one to each while there are enough, the largest first, then what is
    left by the largest remainders."""
    order = sorted(range(len(areas)), key=lambda n: (-areas[n], n))
    out = [0] * len(areas)
    for n in order[:count]:
        out[n] = 1
    rest = count - sum(out)
    if rest <= 0:
        return out
    whole = math.fsum(areas)
    parts = [rest * a / whole for a in areas]
    out = [have + math.floor(x) for have, x in zip(out, parts, strict=True)]
    by_rest = sorted(order, key=lambda n: -(parts[n] - math.floor(parts[n])))
    for n in by_rest[: count - sum(out)]:
        out[n] += 1
    return out


def _rows(part: PartToCut, count: int) -> list[Vec2]:
    """Places of screws in a piece from its lower left corner: rows from below, as even as can be."""
    if not count:
        return []
    rows = _even(count, math.sqrt(count * part.height / part.width))
    starts = [count * r // rows for r in range(rows + 1)]
    out = []
    for r, (a, b) in enumerate(itertools.pairwise(starts)):
        y = _spread(part.height, r, rows)
        out += [_clear(part, (_spread(part.width, n, b - a), y)) for n in range(b - a)]
    return out


def _even(count: int, wanted: float) -> int:
    """How many rows so many screws stand in: rows of one length where that is not far from what the
    piece's shape asks for."""
    # Four or more hold corners: not in one line, but for a strip.
    ends = (1, count) if count >= 4 else ()
    full = [r for r in range(1, count + 1) if count % r == 0 and r not in ends]
    best = min(full, key=lambda r: abs(math.log(r / wanted)), default=0)
    if best and abs(math.log(best / wanted)) <= math.log(UNEVEN):
        return best
    return min(count, max(1, round(wanted)))


def _spread(length: float, number: int, count: int) -> float:
    """Place of one of so many along a length [m]; one alone in the middle."""
    if count == 1:
        return length / 2
    edge = min(EDGE, length / 4)
    return edge + (length - 2 * edge) * number / (count - 1)


def _clear(part: PartToCut, place: Vec2) -> Vec2:
    """The place nearest to one that is clear of a piece's holes; the same where none is."""
    if not any(_meets(h, place) for h in part.holes):
        return place
    count = round(REACH / STEP)
    steps = sorted(
        itertools.product(range(-count, count + 1), repeat=2), key=lambda s: (math.hypot(*s), s)
    )
    edge = min(EDGE, part.width / 4), min(EDGE, part.height / 4)
    for i, j in steps:
        x, y = place[0] + i * STEP, place[1] + j * STEP
        within = edge[0] <= x <= part.width - edge[0] and edge[1] <= y <= part.height - edge[1]
        if within and not any(_meets(h, (x, y)) for h in part.holes):
            return x, y
    return place


def _meets(hole: Hole, place: Vec2) -> bool:
    return all(abs(place[k] - hole.at[k]) < hole.size[k] / 2 + CLEAR for k in (0, 1))
