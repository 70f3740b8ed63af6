"""In which order to cut a sheet: each cut runs from edge to edge of the piece it parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.plan.rectangles import Spot

Free = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Step:
    """Cut number ``number``: upright at x = ``at`` or level at y = ``at`` (the kerf lies beyond), from
    ``low`` to ``high`` along the other direction."""

    number: int
    upright: bool
    at: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class CutOrder:
    """All cuts in order, and what is left over as rectangles (x, y, width, height)."""

    steps: tuple[Step, ...]
    offcuts: tuple[Free, ...]


def cut_order(spots: Sequence[Spot], width: int, height: int, kerf: int) -> CutOrder | None:
    """Cuts that free every spot of a sheet, or None where no cuts from edge to edge do.

    Parameters
    ----------
    spots : sequence of Spot
        What lies on the sheet [any unit].
    width, height : int
        Size of the sheet [same unit].
    kerf : int
        Width of a cut [same unit]; it may run out over the sheet's edge.

    Notes
    -----
    Any cut that parts the items without touching one leaves two pieces that can be cut if the whole
    can; so the largest offcut is freed first, and nothing is lost by it.
    """
    steps: list[Step] = []
    offcuts: list[Free] = []
    waiting: list[tuple[Free, list[Spot]]] = [((0, 0, width, height), list(spots))]
    while waiting:
        (x, y, wide, high), inside = waiting.pop()
        if not inside:
            offcuts.append((x, y, wide, high))
            continue
        if len(inside) == 1 and (inside[0].width, inside[0].height) == (wide, high):
            continue
        found = _best_cut(inside, (x, y, wide, high), kerf)
        if found is None:
            return None
        upright, at = found
        end = y + high if upright else x + wide
        steps.append(Step(len(steps) + 1, upright, at, y if upright else x, end))
        before = [s for s in inside if (s.x if upright else s.y) < at]
        after = [s for s in inside if (s.x if upright else s.y) >= at]
        if upright:
            low, rest = (x, y, at - x, high), (at + kerf, y, x + wide - at - kerf, high)
        else:
            low, rest = (x, y, wide, at - y), (x, at + kerf, wide, y + high - at - kerf)
        # The piece nearer the corner is cut up first; the rest lies aside until then.
        if rest[2] > 0 and rest[3] > 0:
            waiting.append((rest, after))
        waiting.append((low, before))
    return CutOrder(tuple(steps), tuple(offcuts))


def _best_cut(inside: Sequence[Spot], piece: Free, kerf: int) -> tuple[bool, int] | None:
    """The cut that frees the largest offcut, or else one nearest to the middle."""
    x, y, wide, high = piece
    best: tuple[tuple[float, ...], bool, int] | None = None
    for upright in (True, False):
        start, size, across = (x, wide, high) if upright else (y, high, wide)
        lows = [s.x if upright else s.y for s in inside]
        highs = [s.x + s.width if upright else s.y + s.height for s in inside]
        for at in sorted({*highs, *(a - kerf for a in lows)}):
            if not start < at < start + size:
                continue
            if any(a < at + kerf and b > at for a, b in zip(lows, highs, strict=True)):
                continue
            # Nothing beyond the cut, or nothing before it: an offcut.
            free = 0
            if not any(a >= at for a in lows):
                free = (start + size - at - kerf) * across
            elif all(a >= at for a in lows):
                free = (at - start) * across
            middle = abs(at - start - size / 2) / size
            score = (-float(free), middle, float(not upright), float(at))
            if best is None or score < best[0]:
                best = (score, upright, at)
    return None if best is None else (best[1], best[2])
