"""Packing by cuts from edge to edge: what every sheet must hold, and how near the best it comes."""

from __future__ import annotations

import itertools
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from loamwright.plan.cut_order import cut_order
from loamwright.plan.exact_cutting import exact_sheets
from loamwright.plan.packing import pack_roll, pack_sheets
from loamwright.plan.packing_bounds import area_bound, length_bound, sheets_bound
from loamwright.plan.rectangles import Bin, Item, Spot

SMALL = st.builds(Item, st.integers(1, 12), st.integers(1, 9), st.booleans())
FEW = st.lists(SMALL, min_size=1, max_size=14)
SHEETS = [Bin(16, 12), Bin(24, 12)]


def rng() -> np.random.Generator:
    return np.random.default_rng(3)


def check_sheet(spots: tuple[Spot, ...], items: list[Item], bin_: Bin, kerf: int) -> None:
    """No overlap, kerf between any two, all inside, sizes and directions kept, cut by whole cuts."""
    for s in spots:
        assert 0 <= s.x <= s.x + s.width <= bin_.width
        assert 0 <= s.y <= s.y + s.height <= bin_.height
        assert (s.width, s.height) in items[s.item].ways
    for a, b in itertools.combinations(spots, 2):
        beside = a.x + a.width + kerf <= b.x or b.x + b.width + kerf <= a.x
        above = a.y + a.height + kerf <= b.y or b.y + b.height + kerf <= a.y
        assert beside or above
    order = cut_order(spots, bin_.width, bin_.height, kerf)
    assert order is not None, "cuts from edge to edge free every part"
    check_cuts(order, spots, bin_, kerf)


def check_cuts(order, spots, bin_, kerf) -> None:
    """Play the cuts: each parts one piece whole; in the end the pieces are the parts and offcuts."""
    pieces = [(0, 0, bin_.width, bin_.height)]
    for step in order.steps:
        hit = [
            p for p in pieces
            if (p[1], p[1] + p[3]) == (step.low, step.high) and p[0] < step.at < p[0] + p[2]
        ] if step.upright else [
            p for p in pieces
            if (p[0], p[0] + p[2]) == (step.low, step.high) and p[1] < step.at < p[1] + p[3]
        ]  # fmt: skip
        assert len(hit) == 1
        x, y, w, h = hit[0]
        pieces.remove(hit[0])
        far = step.at + kerf
        if step.upright:
            pieces += [(x, y, step.at - x, h), (far, y, x + w - far, h)]
        else:
            pieces += [(x, y, w, step.at - y), (x, far, w, y + h - far)]
        pieces = [p for p in pieces if p[2] > 0 and p[3] > 0]
    wanted = {(s.x, s.y, s.width, s.height) for s in spots} | set(order.offcuts)
    assert set(pieces) == wanted


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(FEW, st.integers(0, 2))
def test_every_sheet_can_be_cut(items, kerf):
    packed = pack_sheets(items, SHEETS, kerf, rng(), tries=30)
    for pattern in packed.patterns:
        check_sheet(pattern.spots, items, SHEETS[pattern.bin], kerf)
    laid = [s.item for p in packed.patterns for s in p.spots]
    assert sorted(laid) == list(range(len(items))), "each part once"
    assert packed.bought == sum(SHEETS[p.bin].area for p in packed.patterns)
    assert packed.bound <= packed.bought


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(FEW, st.integers(0, 2))
def test_every_roll_can_be_cut(items, kerf):
    packed = pack_roll(items, 13, kerf, rng(), tries=30)
    (pattern,) = packed.patterns
    check_sheet(pattern.spots, items, Bin(13, packed.bought), kerf)
    assert sorted(s.item for s in pattern.spots) == list(range(len(items)))
    assert packed.bound <= packed.bought
    assert packed.bought == max(s.y + s.height for s in pattern.spots), "no more than is used"


@cache
def can_be_cut(sizes: tuple[tuple[int, int, bool], ...], width: int, height: int) -> bool:
    """Judge: whether one sheet holds all items, by trying every cut and every share."""
    if not sizes:
        return True
    if len(sizes) == 1:
        return Item(*sizes[0]).fits(width, height)
    if sum(w * h for w, h, _ in sizes) > width * height:
        return False
    for members in range(1, 2 ** len(sizes) - 1):
        some = tuple(s for n, s in enumerate(sizes) if members >> n & 1)
        rest = tuple(s for n, s in enumerate(sizes) if not members >> n & 1)
        if any(can_be_cut(some, at, height) and can_be_cut(rest, width - at, height)
               for at in range(1, width)):  # fmt: skip
            return True
        if any(can_be_cut(some, width, at) and can_be_cut(rest, width, height - at)
               for at in range(1, height)):  # fmt: skip
            return True
    return False


def fewest(items: list[Item], bin_: Bin) -> int:
    """Judge: the fewest sheets, over all ways to share the items out."""
    sizes = tuple((i.width, i.height, i.turns) for i in items)

    @cache
    def need(left: int) -> int:
        if not left:
            return 0
        first, part, best = left & -left, left, 99
        while part:
            if part & first and can_be_cut(
                tuple(s for n, s in enumerate(sizes) if part >> n & 1), bin_.width, bin_.height
            ):
                best = min(best, 1 + need(left ^ part))
            part = (part - 1) & left
        return best

    return need(2 ** len(items) - 1)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.lists(st.builds(Item, st.integers(1, 7), st.integers(1, 6), st.booleans()),
                min_size=1, max_size=5))  # fmt: skip
def test_few_parts_are_cut_from_the_fewest_sheets(items):
    """Against trying everything: from the top down, cut by cut, where the code builds bottom up."""
    bin_ = Bin(8, 7)
    best = fewest(items, bin_)
    assert sheets_bound(items, [bin_]) <= best
    cost, patterns = exact_sheets(items, [bin_], [bin_.area])
    assert cost == best * bin_.area
    for pattern in patterns:
        check_sheet(pattern.spots, items, bin_, 0)
    packed = pack_sheets(items, [bin_], 0, rng())
    assert packed.bought == packed.bound == best * bin_.area


def bins_by_program(lengths: list[int], whole: int) -> int:
    """Judge: one-dimensional bin packing as an integer program (Kantorovich 1939), by HiGHS."""
    n = len(lengths)
    put = np.zeros((n, n * n + n))
    fill = np.zeros((n, n * n + n))
    for i in range(n):
        put[i, i * n : (i + 1) * n] = 1
        for b in range(n):
            fill[b, i * n + b] = lengths[i]
    for b in range(n):
        fill[b, n * n + b] = -whole
    cost = np.concatenate([np.zeros(n * n), np.ones(n)])
    found = milp(
        cost, integrality=np.ones(n * n + n), bounds=Bounds(0, 1),
        constraints=[LinearConstraint(put, 1, 1), LinearConstraint(fill, -np.inf, 0)],
    )  # fmt: skip
    return round(found.fun)


@pytest.mark.slow
@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(10, 70), min_size=9, max_size=13))
def test_strips_are_cut_as_an_integer_program_says(lengths):
    """Parts as wide as the sheet leave a one-dimensional problem."""
    items = [Item(50, length, False) for length in lengths]
    best = bins_by_program(lengths, 100)
    packed = pack_sheets(items, [Bin(50, 100)], 0, rng())
    assert len(packed.patterns) == best
    assert sheets_bound(items, [Bin(50, 100)]) <= best


def test_kerf_is_counted_between_parts_and_not_at_the_edge():
    two = [Item(50, 100), Item(50, 100)]
    assert len(pack_sheets(two, [Bin(103, 100)], 3, rng()).patterns) == 1
    assert len(pack_sheets(two, [Bin(102, 100)], 3, rng()).patterns) == 2


def test_grain_keeps_a_part_from_being_turned():
    part = [Item(30, 90, True), Item(30, 90, True)]
    assert len(pack_sheets(part, [Bin(100, 60)], 0, rng()).patterns) == 1
    fixed = [Item(90, 60, False), Item(60, 90, False)]
    assert len(pack_sheets(fixed, [Bin(100, 100)], 0, rng()).patterns) == 2


def test_a_small_sheet_serves_where_it_is_enough():
    items = [Item(10, 10), Item(23, 12)]
    packed = pack_sheets(items, [Bin(24, 12), Bin(10, 10)], 0, rng())
    assert packed.bought == packed.bound == 24 * 12 + 100


def test_a_squared_rectangle_cannot_be_cut_from_edge_to_edge():
    """Moron's rectangle of 1925, 33 x 32 from nine squares, no two alike: it fits without waste but no
    straight cut parts it. Bouwkamp code (from memory; the squares are seen to fill it below)."""
    tops = [0] * 33
    spots = []
    for size in (18, 15, 7, 8, 14, 4, 10, 1, 9):
        y = min(tops)
        x = tops.index(y)
        assert all(t == y for t in tops[x : x + size])
        spots.append(Spot(len(spots), x, y, size, size))
        tops[x : x + size] = [y + size] * size
    assert tops == [32] * 33
    assert cut_order(spots, 33, 32, 0) is None
    items = [Item(s.width, s.height) for s in spots]
    assert sheets_bound(items, [Bin(33, 32)]) == 1
    assert len(pack_sheets(items, [Bin(33, 32)], 0, rng(), tries=60).patterns) == 2


def test_bounds_see_more_than_area():
    halves = [Item(51, 51)] * 4
    assert sheets_bound(halves, [Bin(100, 100)]) == 4
    assert area_bound(halves, [Bin(100, 100), Bin(60, 60)]) == 4 * 3600
    assert length_bound([Item(6, 10, False)] * 3, 10) == 30


def test_the_same_generator_gives_the_same_sheets():
    items = [Item(3 + n % 5, 2 + n % 7) for n in range(20)]
    one, other = (pack_sheets(items, SHEETS, 1, rng(), tries=15) for _ in range(2))
    assert one == other
