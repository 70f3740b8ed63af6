"""How few sheets, or how short a roll, could do at best: bounds that no cutting can beat.

Sizes are whole numbers (any unit). The bounds hold for free cutting and so for guillotine cuts too.
A dual feasible function f takes shares of a sheet's width to shares, so that whatever fits side by
side in the sheet still adds up to no more than one; the sum of f(width) g(height) over all items is
then a lower bound of the number of sheets. Functions: S. P. Fekete and J. Schepers, "New classes of
fast lower bounds for bin packing problems", Mathematical Programming 91 (2001), 11-31, theorems 2, 4
and 6, from memory; tests hold the bounds against exact solutions and published optima.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from loamwright.plan.rectangles import Bin, Item

Floats = NDArray[np.float64]

_STEPS = (1, 2, 3, 4, 5)
_SLACK = 1e-9
_MOST_SIZES = 4
_MOST_EDGES = 60
"""Most thresholds that are tried for each of the two functions that have one."""


def sheets_bound(items: Sequence[Item], bins: Sequence[Bin]) -> int:
    """Least number of sheets that any cutting of the items needs.

    Parameters
    ----------
    items : sequence of Item
        What is cut [any unit].
    bins : sequence of Bin
        The sheets there are [same unit], each as often as wanted; the bound is taken for one sheet as
        wide and as high as the largest.
    """
    if not items:
        return 0
    wide, high = max(b.width for b in bins), max(b.height for b in bins)
    return max(_functions_bound(items, wide, high), _apart_bound(items, wide, high))


def area_bound(items: Sequence[Item], bins: Sequence[Bin]) -> int:
    """Least area of sheets [any unit squared] that any cutting of the items needs.

    For every choice of sizes that together take all items: whole sheets, at least one of each of them,
    with the items' area and no fewer than `sheets_bound` of that choice; the least over all choices.
    """
    if not items:
        return 0
    wanted, least = sum(i.area for i in items), 2**62
    sizes = sorted(set(bins), key=lambda b: (b.area, b.width))[:_MOST_SIZES]
    if len(set(bins)) > _MOST_SIZES:
        return max(wanted, sheets_bound(items, bins) * min(b.area for b in bins))
    for number in range(1, 2 ** len(sizes)):
        used = [b for n, b in enumerate(sizes) if number >> n & 1]
        if not all(any(i.fits(b.width, b.height) for b in used) for i in items):
            continue
        once = sum(b.area for b in used)
        more = sheets_bound(items, used) - len(used)
        least = min(least, once + whole_sheets(wanted - once, more, used))
    return least


def whole_sheets(wanted: int, count: int, bins: Sequence[Bin]) -> int:
    """Least area of ``count`` sheets or more with an area ``wanted`` together [any unit squared]."""
    if wanted <= 0 and count <= 0:
        return 0
    areas = sorted({b.area for b in bins}, reverse=True)
    wanted, count = max(wanted, 0), max(count, 0)
    most = math.ceil(wanted / areas[-1]) + count
    if len(areas) > 3 or most ** (len(areas) - 1) > 200_000:
        return max(wanted, count * areas[-1])
    least = 2**62
    for some in itertools.product(range(most + 1), repeat=len(areas) - 1):
        whole = sum(n * a for n, a in zip(some, areas, strict=False))
        rest = max(0, count - sum(some), math.ceil((wanted - whole) / areas[-1]))
        least = min(least, whole + rest * areas[-1])
    return least


def length_bound(items: Sequence[Item], wide: int) -> int:
    """Least length of a roll of a width that any cutting of the items needs [any unit]."""
    if not items:
        return 0
    functions = _table([n for i in items for n in (i.width, i.height)], wide)
    total: Floats = np.zeros(len(functions))
    longest = 0
    for item in items:
        ways = [(w, h) for w, h in item.ways if w <= wide]
        total += np.min([functions[:, w] * h for w, h in ways], axis=0)
        longest = max(longest, min(h for _, h in ways))
    return max(longest, math.ceil(float(total.max()) - _SLACK * max(1.0, float(total.max()))))


def _functions_bound(items: Sequence[Item], wide: int, high: int) -> int:
    sizes = [n for i in items for n in (i.width, i.height)]
    across, up = _table(sizes, wide), _table(sizes, high)
    total: Floats = np.zeros((len(across), len(up)))
    for item in items:
        ways = [(w, h) for w, h in item.ways if w <= wide and h <= high]
        total += np.min([np.outer(across[:, w], up[:, h]) for w, h in ways], axis=0)
    return math.ceil(float(total.max()) - 1e-6)


class _Table:
    """Values of every function at every size that occurs: ``table[:, size]``."""

    def __init__(self, rows: Floats, column: dict[int, int]) -> None:
        self.rows, self.column = rows, column

    def __len__(self) -> int:
        return len(self.rows)

    def __getitem__(self, at: tuple[slice, int]) -> Floats:
        found: Floats = self.rows[:, self.column[at[1]]]
        return found


def _table(sizes: Sequence[int], whole: int) -> _Table:
    known = sorted({s for s in sizes if s <= whole})
    edges = [s for s in known if 2 * s <= whole][:_MOST_EDGES]
    rows = [[s / whole for s in known]]
    rows += [[_rounded(s, whole, k) for s in known] for k in _STEPS]
    for edge in edges:
        rows.append([_cut_off(s, whole, edge) for s in known])
        rows.append([_counted(s, whole, edge) for s in known])
    return _Table(np.array(rows), {s: i for i, s in enumerate(known)})


def _rounded(size: int, whole: int, k: int) -> float:
    """u(k): a share is rounded down to k-ths unless it is a whole number of (k+1)-ths."""
    if (k + 1) * size % whole == 0:
        return size / whole
    return ((k + 1) * size // whole) / k


def _cut_off(size: int, whole: int, edge: int) -> float:
    """U(edge): what leaves less than the edge counts whole, what is below the edge counts nothing."""
    if size > whole - edge:
        return 1.0
    return 0.0 if size < edge else size / whole


def _counted(size: int, whole: int, edge: int) -> float:
    """phi(edge): sizes counted by how many of the edge still fit beside them."""
    fits = whole // edge
    if 2 * size > whole:
        return 1.0 - ((whole - size) // edge) / fits
    return 1.0 / fits if size >= edge else 0.0


def _apart_bound(items: Sequence[Item], wide: int, high: int) -> int:
    """Items no two of which share a sheet: that many sheets."""
    chosen: list[Item] = []
    for item in sorted(items, key=lambda i: (-i.width * i.height, -i.width, -i.height)):
        if all(not _beside(item, other, wide, high) for other in chosen):
            chosen.append(item)
    return len(chosen)


def _beside(one: Item, other: Item, wide: int, high: int) -> bool:
    """Whether two items fit into one sheet."""
    for w, h in one.ways:
        for v, g in other.ways:
            if (w + v <= wide and max(h, g) <= high) or (h + g <= high and max(w, v) <= wide):
                return True
    return False
