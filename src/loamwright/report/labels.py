"""Labels on a drawing that do not cover each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

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


def _overlaps(boxes: Floats, others: Sequence[Box]) -> Floats:
    """Area (n,) that each of n boxes (n, 4) shares with all the others together."""
    if not others:
        return np.zeros(len(boxes))
    left, bottom, right, top = np.array(others).T
    wide = np.minimum(boxes[:, 2, None], right) - np.maximum(boxes[:, 0, None], left)
    high = np.minimum(boxes[:, 3, None], top) - np.maximum(boxes[:, 1, None], bottom)
    found: Floats = np.sum(np.maximum(wide, 0.0) * np.maximum(high, 0.0), axis=1)
    return found


def _candidates(wish: Wish) -> Floats:
    """Boxes (n, 4) where a label may lie, the ones liked best first."""
    half = np.array([wish.width, wish.height]) / 2
    middles = [(0.0, 0.0)] if wish.inside else []
    for step in range(7):
        gap = wish.clear + 13.0 * step
        for turn in range(16):
            # Right first, then round: ties are settled the same way every time.
            angle = math.pi / 8 * ((turn + 1) // 2) * (1 if turn % 2 else -1)
            middles.append((math.cos(angle) * (gap + half[0]), math.sin(angle) * (gap + half[1])))
    at = np.array(wish.anchor) + np.array(middles)
    return np.concatenate([at - half, at + half], axis=1)


def _lines(boxes: Floats, anchor: Floats) -> Floats:
    """Lines (n, 2, 2) from a point to the nearest points of n boxes (n, 4)."""
    ends = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
    return np.stack([np.broadcast_to(anchor, ends.shape), ends], axis=1)


def _diagonals(boxes: Floats) -> Floats:
    """Both diagonals (2n, 2, 2) of n boxes: what runs through a box crosses one of them."""
    left, low, right, top = boxes.T
    return np.concatenate([
        np.stack([np.stack([left, low], 1), np.stack([right, top], 1)], axis=1),
        np.stack([np.stack([left, top], 1), np.stack([right, low], 1)], axis=1),
    ])  # fmt: skip


def _crossings(lines: Floats, others: Floats) -> Floats:
    """How many of the others (m, 2, 2) each of n lines (n, 2, 2) crosses."""

    def side(start: Floats, end: Floats, point: Floats) -> Floats:
        along, off = end - start, point - start
        found: Floats = along[..., 0] * off[..., 1] - along[..., 1] * off[..., 0]
        return found

    a, b = lines[:, None, 0], lines[:, None, 1]
    c, d = others[None, :, 0], others[None, :, 1]
    apart = side(a, b, c) * side(a, b, d) < 0.0
    found: Floats = np.sum(apart & (side(c, d, a) * side(c, d, b) < 0.0), axis=1, dtype=float)
    return found


THROUGH, ACROSS = 300.0, 120.0
"""Cost of a line through a text, or of two lines that cross, as so much distance [pixels]."""


def arrange(
    wishes: list[Wish], taken: list[Box], frame: Box, words: Sequence[Box] = ()
) -> list[Box | None]:
    """A box for each label, in order: near its point, inside the frame, off what is taken.

    Greedy: earlier labels choose first. ``taken`` are boxes already drawn (markers, contour labels),
    ``words`` those of texts, which are kept off like other labels. Where there is no free place the
    least bad one is used, or None for a label that is optional.
    """
    settled: list[Box] = list(words)
    leaders: list[Floats] = []
    out: list[Box | None] = []
    for wish in wishes:
        boxes = _candidates(wish)
        padded = boxes + np.array([-2.0, -2.0, 2.0, 2.0])
        covered = _overlaps(padded, settled)
        outside = np.maximum(wish.width * wish.height - _overlaps(boxes, [frame]), 0.0)
        # A box inside the frame misses it by the last digits of its area at most.
        outside[outside < 1e-6] = 0.0
        anchor = np.array(wish.anchor)
        nearest = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
        far = np.hypot(*(nearest - anchor).T)
        cost = 40.0 * covered + 6.0 * _overlaps(padded, taken) + 60.0 * outside
        cost += np.hypot(*((boxes[:, :2] + boxes[:, 2:]) / 2 - anchor).T)
        lines = _lines(boxes, anchor)
        if settled:
            cost += THROUGH * _crossings(lines, _diagonals(np.array(settled)))
        if leaders:
            drawn = np.concatenate(leaders)
            cost += ACROSS * _crossings(lines, drawn)
            both = _diagonals(boxes)
            cost += THROUGH * _crossings(both, drawn).reshape(2, -1).sum(axis=0)
        if wish.optional:
            cost[(covered > 0.0) | (outside > 0.0) | (far > FAR)] = math.inf
        # The first of those that are as good as the best.
        best = int(np.argmax(cost <= cost.min() + 1e-9))
        if not math.isfinite(cost[best]):
            out.append(None)
            continue
        left, bottom, right, top = (float(v) for v in boxes[best])
        settled.append((left, bottom, right, top))
        leaders.append(lines[best : best + 1])
        out.append(settled[-1])
    return out
