"""A year of hours: their names, and short gaps bridged by straight lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from loamwright.habitat.room import HOURS

MAX_GAP = 6
"""Longest gap that is bridged [h]: a straight line over half a day would miss its peak."""

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of the months; the 29th of February is left out."""

STARTS = tuple(24 * sum(DAYS[:i]) for i in range(13))
"""Hour of the year at which each month begins, and that at which the year ends."""


@dataclass(frozen=True, slots=True)
class Note:
    """What was done to a file's values before use, and why."""

    value: str
    why: str


def hour_name(hour: float) -> str:
    """An hour of the year in words, such as ``14 March 05:00``."""
    minutes = round(hour * 60.0) % (HOURS * 60)
    whole = minutes // 60
    month = next(i for i in range(12) if whole < STARTS[i + 1])
    day, clock = divmod(whole - STARTS[month], 24)
    return f"{day + 1} {MONTHS[month]} {clock:02d}:{minutes % 60:02d}"


def month_of(hours: Sequence[float], *, warmest: bool) -> int:
    """The month (0 to 11) whose mean is lowest, or highest."""
    means = [sum(hours[a:b]) / (b - a) for a, b in pairwise(STARTS)]
    return means.index(max(means) if warmest else min(means))


def gaps_of(values: Sequence[float | None]) -> list[tuple[int, int]]:
    """First hour and length of each gap of a year that follows itself; one that runs over the new
    year is counted where it begins."""
    count = len(values)
    known = [i for i, value in enumerate(values) if value is not None]
    if not known:
        return [(0, count)]
    out = []
    for one, two in zip(known, [*known[1:], known[0] + count], strict=True):
        if two - one > 1:
            out.append(((one + 1) % count, two - one - 1))
    return out


def bridged(values: Sequence[float | None], gaps: Sequence[tuple[int, int]]) -> list[float]:
    """The values with straight lines over their gaps, as `gaps_of` finds them."""
    count = len(values)
    out = list(values)
    for first, length in gaps:
        before, after = values[first - 1], values[(first + length) % count]
        assert before is not None
        assert after is not None
        for i in range(length):
            out[(first + i) % count] = before + (after - before) * (i + 1) / (length + 1)
    return [float(value) for value in out if value is not None]
