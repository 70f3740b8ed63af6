"""Names and sizes on the drawing of a sheet: clear of holes, dashed lines and the numbers of cuts."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.plan.cut_parts import Hole, Mark
from loamwright.plan.cuts import Laid, Offcut
from loamwright.report.cut_words import size_pair
from loamwright.report.draft import Point, Shape, Word, balloon_radius
from loamwright.report.draft_page import SMALL, fitted, text_width
from loamwright.report.plain import clean

PART = "#F1ECDD"
"""Colour of a part."""

_NAMED = 2.6
"""Height of a part's name [mm]."""

_ACROSS = 6.2
"""Height of name and size together [mm]."""

_PAD = 0.8
"""Width of the white round a size on a hatched field [mm]: what is left of a hatch beside it is then
no dot behind a number."""

Box = tuple[Point, Point]
"""Lower left and upper right corner on a sheet [m]."""


def mark_corners(laid: Laid, mark: Mark) -> Box:
    """Lower left and upper right corner of a mark as it comes to lie on the sheet, inside its part."""
    ends = [on_sheet(laid, p) for p in (mark.low, mark.high)]
    low = [max(min(e[k] for e in ends), (laid.x, laid.y)[k]) for k in (0, 1)]
    most = (laid.x + laid.width, laid.y + laid.height)
    high = [min(max(e[k] for e in ends), most[k]) for k in (0, 1)]
    return (low[0], low[1]), (high[0], high[1])


def hole_corners(laid: Laid, hole: Hole) -> Box:
    """Lower left and upper right corner of a hole as it comes to lie on the sheet."""
    x, y = on_sheet(laid, hole.at)
    size = (hole.size[1], hole.size[0]) if laid.turned else hole.size
    return (x - size[0] / 2, y - size[1] / 2), (x + size[0] / 2, y + size[1] / 2)


def on_sheet(laid: Laid, at: Point) -> Point:
    """A point of a part on the sheet: a turned part is turned by a quarter to the left."""
    if laid.turned:
        return laid.x + laid.width - at[1], laid.y + at[0]
    return laid.x + at[0], laid.y + at[1]


def names(
    laid: Laid, scale: int, system: str, taken: Sequence[Point] = ()
) -> tuple[list[Shape], bool]:
    """Number, name and size of a part inside its edges, clear of its holes, its dashed lines and the
    numbers of cuts that stand at ``taken`` [m]; only the number where there is no room for more. And
    whether there was room.

    Where there is room only across a dashed line, the words part it.
    """
    part = laid.part
    mm = scale / 1000.0
    name, told = f"{part.mark}  {clean(part.name, 40)}", size_pair(part.width, part.height, system)
    two = ((name, _NAMED, True, -1.9), (told, SMALL, False, 1.9))
    one = ((f"{name}  {told}", SMALL, True, 0.0),)
    whole = ((laid.x, laid.y), (laid.x + laid.width, laid.y + laid.height))
    holes = [hole_corners(laid, h) for h in part.holes] + _circles(taken, mm)
    marks = [mark_corners(laid, m) for m in part.marks]
    beside, over = _clear(whole, [*holes, *marks]), _clear(whole, holes)
    # Rather upright, smaller or in one line than across a dashed line.
    for free, lines, least in (
        (beside, two, 2.0), (beside, two, 1.6), (beside, one, 1.8), (over, two, 1.6),
    ):  # fmt: skip
        back = PART if free is over and marks else ""
        for turned in (False, True):
            for field in free:
                out = _set(field, lines, least, turned, back, mm)
                if out:
                    return out, True
    size = min(2.3, max(min(laid.width, laid.height) / mm / 1.3 - 0.5, 0.9))
    for low, high in sorted(beside, key=lambda f: -_narrow(f)):
        if _narrow((low, high)) / mm - 0.6 >= 1.3 * min(size, 1.4):
            size = min(size, (_narrow((low, high)) / mm - 0.6) / 1.3)
            middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
            return [Word("TEXT", middle, part.mark, size, bold=True)], False
    middle = (laid.x + laid.width / 2, laid.y + laid.height / 2)
    back = PART if part.marks else ""
    return [Word("TEXT", middle, part.mark, size, bold=True, back=back)], False


def _set(
    field: Box,
    lines: Sequence[tuple[str, float, bool, float]],
    least: float,
    turned: bool,
    back: str,
    mm: float,
) -> list[Shape]:
    """Lines in the middle of a field, none where they do not fit at a size of ``least`` [mm]; each
    line with its size, whether it is bold, and how far below the middle it stands [mm]."""
    low, high = field
    along, across = ((high[k] - low[k]) / mm for k in ((1, 0) if turned else (0, 1)))
    along, across = along - (2.0 if turned else 3.0), across - (3.0 if turned else 2.0)
    if across < _ACROSS if len(lines) > 1 else across < lines[0][1]:
        return []
    out: list[Shape] = []
    for text, wanted, bold, below in lines:
        size = fitted(text, wanted, along, least, bold)
        if size is None:
            return []
        shift = (below * mm, 0.0) if turned else (0.0, -below * mm)
        at = ((low[0] + high[0]) / 2 + shift[0], (low[1] + high[1]) / 2 + shift[1])
        out.append(Word("TEXT", at, text, size, turned, bold, back=back))
    return out


def rest_size(rest: Offcut, scale: int, system: str, taken: Sequence[Point] = ()) -> list[Shape]:
    """The size of what is left over, clear of the numbers of cuts; none where it has no room."""
    mm = scale / 1000.0
    text = size_pair(rest.width, rest.height, system)
    whole = ((rest.x, rest.y), (rest.x + rest.width, rest.y + rest.height))
    for low, high in _clear(whole, _circles(taken, mm)):
        wide, tall = (high[0] - low[0]) / mm, (high[1] - low[1]) / mm
        turned = tall > wide
        along, across = max(wide, tall) - 2.0, min(wide, tall) - 1.0
        size = fitted(text, SMALL, along)
        if size is None or across <= 1.3 * size:
            continue
        middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
        # The white must not reach over the edge.
        spare = min(across - 1.3 * size, along + 1.2 - text_width(text, size)) / 2
        pad = max(0.2, min(_PAD, spare))
        return [Word("HIDDEN", middle, text, size, turned, back="#FFFFFF", pad=pad)]
    return []


def _circles(taken: Sequence[Point], mm: float) -> list[Box]:
    """Squares round the numbers of cuts."""
    half = (balloon_radius("00") + 0.3) * mm
    return [((x - half, y - half), (x + half, y + half)) for x, y in taken]


def _narrow(box: Box) -> float:
    return min(box[1][0] - box[0][0], box[1][1] - box[0][1])


def _clear(whole: Box, full: Sequence[Box]) -> list[Box]:
    """Rectangles of a field beside what is full, roomiest first; the whole field where nothing is."""
    free = [whole]
    for a, b in full:
        cut = []
        for low, high in free:
            if a[0] >= high[0] or b[0] <= low[0] or a[1] >= high[1] or b[1] <= low[1]:
                cut.append((low, high))
                continue
            cut += [(low, (a[0], high[1])), ((b[0], low[1]), high),
                    (low, (high[0], a[1])), ((low[0], b[1]), high)]  # fmt: skip
        free = _maximal([f for f in cut if f[1][0] - f[0][0] > 1e-6 and f[1][1] - f[0][1] > 1e-6])
    return sorted(free, key=lambda f: -min(f[1][0] - f[0][0], 3 * (f[1][1] - f[0][1])))


def _maximal(found: list[Box]) -> list[Box]:
    """Rectangles that lie in no other: many holes would make more of them than can be looked at."""
    kept: list[Box] = []
    for low, high in sorted(set(found), key=lambda f: -(f[1][0] - f[0][0]) * (f[1][1] - f[0][1])):
        if not any(
            a[0] <= low[0] and a[1] <= low[1] and high[0] <= b[0] and high[1] <= b[1]
            for a, b in kept
        ):
            kept.append((low, high))
    return kept
