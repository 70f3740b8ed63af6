"""The least that a few rectangles can be cut from, exactly: every way of putting them together.

Rectangles put together edge to edge, two at a time, make every pattern that cuts from edge to edge can
free. For every set of the items the boxes are kept that are not larger than another in both measures;
the cheapest sheets for all items follow set by set. The work grows as three to the number of items.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.plan.rectangles import Bin, Item, Pattern, Spot

MOST = 8
"""Most items that are solved exactly: a second or so."""


@dataclass(frozen=True, slots=True)
class _Box:
    """A box made of items: of one item (``item``), or of two boxes side by side or one on the other."""

    width: int
    height: int
    item: int = -1
    first: _Box | None = None
    second: _Box | None = None
    beside: bool = False


def exact_sheets(
    items: Sequence[Item], bins: Sequence[Bin], costs: Sequence[int]
) -> tuple[int, list[Pattern]]:
    """The least cost of sheets that items can be cut from by cuts from edge to edge, and one way.

    Parameters
    ----------
    items : sequence of Item
        At most `MOST` [any unit]; each must fit into one of the sheets.
    bins, costs : sequences
        The sheets there are [same unit], each as often as wanted, and what each costs.
    """
    assert len(items) <= MOST
    whole = (1 << len(items)) - 1
    boxes = _boxes(items, bins)
    cheapest: list[tuple[int, int, _Box] | None] = [None] * (whole + 1)
    for members in range(1, whole + 1):
        for number in sorted(range(len(bins)), key=lambda n: (costs[n], n)):
            room = bins[number]
            found = next((b for b in boxes[members]
                          if b.width <= room.width and b.height <= room.height), None)  # fmt: skip
            if found is not None:
                cheapest[members] = (costs[number], number, found)
                break
    best: list[tuple[int, int]] = [(0, 0)] + [(2**62, 0)] * whole
    for members in range(1, whole + 1):
        lowest = members & -members
        part = members
        while part:
            # Of all sheets the one that holds the first item, so that each choice is met once.
            if part & lowest and (one := cheapest[part]) is not None:
                cost = one[0] + best[members ^ part][0]
                if cost < best[members][0]:
                    best[members] = (cost, part)
            part = (part - 1) & members
    patterns, left = [], whole
    while left:
        part = best[left][1]
        one = cheapest[part]
        assert one is not None
        patterns.append(Pattern(one[1], tuple(_spots(one[2], 0, 0))))
        left ^= part
    return best[whole][0], patterns


def _boxes(items: Sequence[Item], bins: Sequence[Bin]) -> list[list[_Box]]:
    """For every set of items the smallest boxes, narrowest first."""
    rooms = [(b.width, b.height) for b in bins]
    out: list[list[_Box]] = [[] for _ in range(1 << len(items))]
    for members in range(1, len(out)):
        found: dict[tuple[int, int], _Box] = {}
        if members & (members - 1) == 0:
            number = members.bit_length() - 1
            found = {way: _Box(*way, item=number) for way in items[number].ways}
        part = (members - 1) & members
        while part > members ^ part:
            for a in out[part]:
                for b in out[members ^ part]:
                    for beside in (True, False):
                        size = (
                            (a.width + b.width, max(a.height, b.height)) if beside
                            else (max(a.width, b.width), a.height + b.height)
                        )  # fmt: skip
                        if size not in found and any(
                            size[0] <= w and size[1] <= h for w, h in rooms
                        ):
                            found[size] = _Box(*size, first=a, second=b, beside=beside)
            part = (part - 1) & members
        lowest = 2**62
        for size in sorted(found):
            if size[1] < lowest:
                lowest = size[1]
                out[members].append(found[size])
    return out


def _spots(box: _Box, x: int, y: int) -> list[Spot]:
    if box.first is None or box.second is None:
        return [Spot(box.item, x, y, box.width, box.height)]
    step = (box.first.width, 0) if box.beside else (0, box.first.height)
    return [*_spots(box.first, x, y), *_spots(box.second, x + step[0], y + step[1])]
