"""Where cables and the mist line run: along the edges of the enclosure, outside, with loops that
drip."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from loamwright.habitat.enclosure import Enclosure, Vec3

LOOP = 0.30
"""Cable in a drip loop [m]: some 10 cm down and up again, and the bend; common practice, no source."""

SLACK = 0.10
"""Cable beyond the way, for bends and for taking things out [1]; common practice, no source."""

CLIP = 0.30
"""Distance between cable clips [m]; common practice, no source."""


def route(box: Enclosure, start: Vec3, end: Vec3, side: str = "") -> tuple[Vec3, ...]:
    """Corners of the way from a thing to the board.

    What is in or on the box leaves through the top and runs to its back edge, along it, and down on
    the right; what sits in the ``right`` or ``back`` panel runs on that panel; what stands below
    runs straight.
    """
    wide, deep, high = box.inside
    if side == "right":
        way = [start, (end[0], end[1], start[2]), end]
    elif side == "back" or start[2] < 0.0 or not (-0.05 <= start[0] <= wide + 0.05):
        way = [start, (end[0], start[1], start[2]), (end[0], end[1], start[2]), end]
    else:
        top = max(start[2], high)
        way = [
            start, (start[0], start[1], top), (start[0], deep, top), (end[0], deep, top),
            (end[0], end[1], top), end,
        ]  # fmt: skip
    out = [way[0]]
    for point in way[1:]:
        if math.dist(point, out[-1]) > 1e-6:
            out.append(point)
    return tuple(out)


def length_of(way: Sequence[Vec3]) -> float:
    """Length of a way [m]."""
    return math.fsum(math.dist(a, b) for a, b in itertools.pairwise(way))


def cable_length(way: Sequence[Vec3], loops: int = 1) -> float:
    """Cable a way takes, with loops and slack, to the next 10 cm [m]."""
    return math.ceil(10.0 * ((1.0 + SLACK) * length_of(way) + loops * LOOP) - 1e-9) / 10.0
