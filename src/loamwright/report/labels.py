"""Labels on a drawing that do not cover each other."""

from __future__ import annotations

import math
from dataclasses import dataclass

Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A label that wants a place: its size, the point it belongs to, and how far it must keep
    from that point; all in the same unit (pixels)."""

    width: float
    height: float
    anchor: tuple[float, float]
    clear: float = 6.0
    inside: bool = False
    """True for a label that may lie on its own point (the name of a large thing)."""
    optional: bool = False
    """True for a label that is left out rather than laid over another or carried far off."""


FAR = 60.0
"""Distance [pixels] beyond which an optional label no longer belongs to its point."""


def overlap(a: Box, b: Box) -> float:
    """Area two boxes share."""
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return wide * high if wide > 0 and high > 0 else 0.0


def _outside(box: Box, frame: Box) -> float:
    whole = (box[2] - box[0]) * (box[3] - box[1])
    return max(whole - overlap(box, frame), 0.0)


def _candidates(wish: Wish) -> list[Box]:
    x, y = wish.anchor
    out: list[Box] = []
    if wish.inside:
        out.append(
            (x - wish.width / 2, y - wish.height / 2, x + wish.width / 2, y + wish.height / 2)
        )
    for step in range(7):
        gap = wish.clear + 13.0 * step
        for turn in range(16):
            # Right first, then round: ties are settled the same way every time.
            angle = math.pi / 8 * ((turn + 1) // 2) * (1 if turn % 2 else -1)
            cx = x + math.cos(angle) * (gap + wish.width / 2)
            cy = y + math.sin(angle) * (gap + wish.height / 2)
            out.append(
                (
                    cx - wish.width / 2,
                    cy - wish.height / 2,
                    cx + wish.width / 2,
                    cy + wish.height / 2,
                )
            )
    return out


def arrange(wishes: list[Wish], taken: list[Box], frame: Box) -> list[Box | None]:
    """A box for each label, in order: near its point, inside the frame, off what is taken.

    Greedy: earlier labels choose first. ``taken`` are boxes already drawn (markers, contour
    labels). Where there is no free place the least bad one is used, or None for a label that is
    optional.
    """
    settled: list[Box] = []
    out: list[Box | None] = []
    for wish in wishes:
        best, least = None, math.inf
        for box in _candidates(wish):
            padded = (box[0] - 2, box[1] - 2, box[2] + 2, box[3] + 2)
            covered = sum(overlap(padded, s) for s in settled)
            lost = covered > 0.0 or _outside(box, frame) > 0.0 or _gap(wish, box) > FAR
            if wish.optional and lost:
                continue
            cost = 40.0 * covered
            cost += 6.0 * sum(overlap(padded, t) for t in taken)
            cost += 60.0 * _outside(box, frame)
            cx, cy = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
            cost += math.hypot(cx - wish.anchor[0], cy - wish.anchor[1])
            if cost < least - 1e-9:
                best, least = box, cost
        out.append(best)
        if best is not None:
            settled.append(best)
    return out


def _gap(wish: Wish, box: Box) -> float:
    """Distance of a box from the point it belongs to."""
    x = min(max(wish.anchor[0], box[0]), box[2])
    y = min(max(wish.anchor[1], box[1]), box[3])
    return math.hypot(x - wish.anchor[0], y - wish.anchor[1])
