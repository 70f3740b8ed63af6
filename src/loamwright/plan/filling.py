"""One sheet filled by a rule: each item goes into the free rectangle that suits it best, and what is
left of that rectangle is parted by one cut from edge to edge."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.plan.rectangles import Item, Spot

CHOICES: tuple[str, ...] = ("area", "short", "long", "low")
"""Which free rectangle suits best: least area left, least rest on the shorter or the longer side, or
the lowest."""

SPLITS: tuple[str, ...] = ("short", "long", "small", "large")
"""Which way the rest is cut: across its shorter or longer rest, or so that the smaller part is as small
or as large as can be."""

Free = tuple[int, int, int, int]
"""A free rectangle: x, y, width, height."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How items are placed: one of `CHOICES` and one of `SPLITS`."""

    choice: str
    split: str


RULES: tuple[Rule, ...] = tuple(Rule(c, s) for c in CHOICES for s in SPLITS)


def fill(
    items: Sequence[Item], order: Sequence[int], width: int, height: int, rule: Rule
) -> tuple[list[Spot], list[int], list[Free]]:
    """Put items, in their order, into a sheet for as long as they fit.

    Returns
    -------
    spots, left, free
        Where items lie, the numbers of those that found no room, in order, and what stays free.
    """
    free: list[Free] = [(0, 0, width, height)]
    spots: list[Spot] = []
    left: list[int] = []
    for number in order:
        best: tuple[tuple[int, ...], int, int, int] | None = None
        for w, h in items[number].ways:
            for index, (x, y, wide, high) in enumerate(free):
                if w > wide or h > high:
                    continue
                score = (*_score(rule.choice, x, y, wide, high, w, h), index)
                if best is None or score < best[0]:
                    best = (score, index, w, h)
        if best is None:
            left.append(number)
            continue
        _, index, w, h = best
        x, y, wide, high = free.pop(index)
        spots.append(Spot(number, x, y, w, h))
        free.extend(f for f in _parts(rule.split, x, y, wide, high, w, h) if f[2] > 0 and f[3] > 0)
    return spots, left, free


def _score(choice: str, x: int, y: int, wide: int, high: int, w: int, h: int) -> tuple[int, int]:
    if choice == "area":
        return wide * high - w * h, min(wide - w, high - h)
    if choice == "short":
        return min(wide - w, high - h), max(wide - w, high - h)
    if choice == "long":
        return max(wide - w, high - h), min(wide - w, high - h)
    return y + h, x


def _parts(split: str, x: int, y: int, wide: int, high: int, w: int, h: int) -> tuple[Free, Free]:
    """What is left beside and above an item in a corner, cut one way or the other."""
    right, above = wide - w, high - h
    if split == "short":
        flat = right < above
    elif split == "long":
        flat = right >= above
    else:
        # The smaller of both parts, for a flat and for an upright cut.
        lying, standing = min(right * h, wide * above), min(right * high, w * above)
        flat = (lying <= standing) if split == "small" else (lying > standing)
    if flat:
        return (x + w, y, right, h), (x, y + h, wide, above)
    return (x + w, y, right, high), (x, y + h, w, above)
