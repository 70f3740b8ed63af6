"""Each sheet as a drawing: its parts with sizes and holes, the order of cuts, what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loamwright.plan.cut_parts import Hole, Mark
from loamwright.plan.cuts import Cuts, Job, Laid, Sheet
from loamwright.report import figure as style
from loamwright.report.cut_words import job_words, sheet_name, size_pair
from loamwright.report.draft import (
    Balloon,
    Chain,
    Draft,
    Line,
    Point,
    Ring,
    Shape,
    Word,
    rectangle,
)  # fmt: skip
from loamwright.report.draft_page import (
    SMALL,
    Page,
    fitted,
    place,
    scale_for,
    size_words,
    text_width,
)  # fmt: skip
from loamwright.report.plain import clean

WIDTH = 176.0
"""Width of a drawing [mm]: it fits between the margins of both papers standing."""

_LEFT, _RIGHT, _FOOT, _HEAD = 15.0, 7.0, 12.0, 20.0
_TALLEST = 150.0
_PART, _LOST = "#F1ECDD", "#FFFFFF"
_NAMED = 2.6


def sheet_drawings(
    cuts: Cuts, kind: str = "svg", system: str = "metric"
) -> list[tuple[str, bytes]]:
    """A drawing (``svg``, ``png``) of each sheet and each length of a roll, with its file's name."""
    out = []
    for number, (job, sheet) in enumerate(sheets_of(cuts), 1):
        with style.style():
            page = _page(job, sheet, number, system)
            out.append((f"{sheet_name(job, number)}.{kind}", page.bytes(kind)))
    return out


def sheets_of(cuts: Cuts) -> Iterator[tuple[Job, Sheet]]:
    """Every sheet with its job, in the order in which they are numbered."""
    for job in cuts.jobs:
        for sheet in job.sheets:
            yield job, sheet


def sheet_draft(
    job: Job, sheet: Sheet, number: int, scale: int, system: str, words: bool = True
) -> tuple[Draft, list[Laid]]:
    """A sheet as a draft at a scale 1 : n, and the parts too small to carry their name.

    ``words`` False leaves the names on parts out, for a CAD file that sets its own.
    """
    shapes: list[Shape] = [rectangle("SHEET", (0.0, 0.0), (sheet.width, sheet.height), "#FFFFFF")]
    for rest in sheet.offcuts:
        shapes.append(
            rectangle("OFFCUTS", (rest.x, rest.y), (rest.x + rest.width, rest.y + rest.height),
                      _LOST, "////")
        )  # fmt: skip
    unnamed = []
    for laid in sheet.laid:
        shapes.append(
            rectangle("PARTS", (laid.x, laid.y), (laid.x + laid.width, laid.y + laid.height), _PART)
        )
        shapes += [_mark(laid, m) for m in laid.part.marks]
        shapes += [_hole(laid, h) for h in laid.part.holes]
        if words:
            named = _names(laid, scale, system)
            shapes += named
            if len(named) < 2:
                unnamed.append(laid)
    for rest in sheet.offcuts if words else ():
        text = size_pair(rest.width, rest.height, system)
        room = (1000.0 * rest.width / scale - 2.0, 1000.0 * rest.height / scale - 1.0)
        turned = room[1] > room[0]
        size = fitted(text, SMALL, max(room))
        if size is not None and min(room) > 1.3 * size:
            middle = (rest.x + rest.width / 2, rest.y + rest.height / 2)
            shapes.append(Word("HIDDEN", middle, text, size, turned, back="#FFFFFF"))
    shapes += _cuts(sheet, scale)
    shapes.append(Chain((0.0, sheet.width), True, 0.0, -6.0))
    shapes.append(Chain((0.0, sheet.height), False, 0.0, -6.0))
    return Draft(sheet_name(job, number), job_words(job, system), tuple(shapes)), unnamed


def _page(job: Job, sheet: Sheet, number: int, system: str) -> Page:
    room = (WIDTH - _LEFT - _RIGHT, _TALLEST)
    scale = scale_for((sheet.width, sheet.height), room, system)
    draft, unnamed = sheet_draft(job, sheet, number, scale, system)
    high = 1000.0 * sheet.height / scale
    listed = [f"{x.part.mark}  {clean(x.part.name, 40)}, "
              f"{size_pair(x.part.width, x.part.height, system)}" for x in unnamed]  # fmt: skip
    listed += [hole_words(x, h, system) for x in sheet.laid for h in x.part.holes]
    listed += [mark_words(x, m, system) for x in sheet.laid for m in x.part.marks]
    columns = 1 if any(x.part.holes or x.part.marks for x in sheet.laid) else 2
    rows = -(-len(listed) // columns)
    # The key to the cuts takes a line of its own under the list.
    foot = _FOOT + 4.0 * rows + ((5.5 if sheet.cuts else 2.0) if rows else 0.0)
    page = Page(WIDTH, high + _HEAD + foot)
    top = high + foot
    page.text(
        4.0, top + 13.0, f"{number}  {draft.title}", _fit(draft.title, 3.6, WIDTH - 20.0), bold=True
    )
    what = "length of roll" if job.roll else "sheet"
    unit = "in" if system == "us" else "mm"
    note = (
        f"{what} {size_pair(sheet.width, sheet.height, system)} {unit}, scale 1 : {scale}, "
        f"{100 * sheet.used:.0f} % becomes parts"
    )
    if job.kerf > 0.0:
        note += f", kerf {size_words(job.kerf, system)} {unit} counted"
    if job.trim > 0.0:
        note += f", {size_words(job.trim, system)} {unit} trimmed off each edge"
    page.text(4.0, top + 8.0, note, 2.4, color=style.SOFT_INK)
    if sheet.stock.grain != "none":
        edge = "longer" if sheet.stock.grain == "long" else "shorter"
        page.text(4.0, top + 4.4, f"grain along the {edge} edge", 2.2, color=style.SOFT_INK)
    place(page, draft, scale, (_LEFT, foot), system)
    for n, words in enumerate(listed):
        x = 4.0 + (WIDTH - 8.0) / columns * (n // max(rows, 1))
        page.text(x, foot - _FOOT - 2.0 - 4.0 * (n % max(rows, 1)) + 0.5, words,
                  _fit(words, 2.3, (WIDTH - 12.0) / columns))  # fmt: skip
    if sheet.cuts:
        key = "numbers in circles: order of cuts, each from edge to edge of the piece it parts"
        page.text(WIDTH - 4.0, 3.0, key, 1.9, ha="right", color=style.SOFT_INK)
    return page


def hole_words(laid: Laid, hole: Hole, system: str) -> str:
    """A hole with its size and place on the drawing: of a round one the middle, else the lower left
    corner, from the left and the lower edge of its part as it lies there."""
    x, y = _on_sheet(laid, hole.at)
    size = (hole.size[1], hole.size[0]) if laid.turned else hole.size
    across, up = x - laid.x, y - laid.y
    if hole.round:
        what, where = f"Ø {size_words(size[0], system)}", "middle"
    else:
        what, where = size_pair(*size, system), "begins"
        across, up = across - size[0] / 2, up - size[1] / 2
    told = (
        f"{where} {size_words(across, system)} from the left, {size_words(up, system)} from below"
    )
    return f"{laid.part.mark}  hole {clean(hole.name, 40)}: {what}, {told}, as drawn"


def mark_words(laid: Laid, mark: Mark, system: str) -> str:
    """A batten or a bar of the frame with the place of its middle on the drawing, along the way it
    does not run."""
    low, high = _corners(laid, mark)
    upright = high[1] - low[1] > high[0] - low[0]
    k = 0 if upright else 1
    middle = (low[k] + high[k]) / 2 - (laid.x, laid.y)[k]
    edge = "the left" if upright else "below"
    return (f"{laid.part.mark}  {clean(mark.name, 40)} {mark.where}, dashed: middle "
            f"{size_words(middle, system)} from {edge}, as drawn")  # fmt: skip


def _corners(laid: Laid, mark: Mark) -> tuple[Point, Point]:
    """Lower left and upper right corner of a mark as it comes to lie on the sheet, inside its part."""
    ends = [_on_sheet(laid, p) for p in (mark.low, mark.high)]
    low = [max(min(e[k] for e in ends), (laid.x, laid.y)[k]) for k in (0, 1)]
    most = (laid.x + laid.width, laid.y + laid.height)
    high = [min(max(e[k] for e in ends), most[k]) for k in (0, 1)]
    return (low[0], low[1]), (high[0], high[1])


def _mark(laid: Laid, mark: Mark) -> Shape:
    """A batten or a bar of the frame where it comes to stand."""
    return rectangle("HIDDEN", *_corners(laid, mark))


def _fit(text: str, size: float, room: float) -> float:
    """A size [mm] at which a text fits a room, however small."""
    wide = text_width(text, size, True)
    return size if wide <= room else size * room / wide


def _hole(laid: Laid, hole: Hole) -> Shape:
    """A hole where it comes to lie on the sheet, clipped to its part."""
    middle = _on_sheet(laid, hole.at)
    size = (hole.size[1], hole.size[0]) if laid.turned else hole.size
    if hole.round and not hole.edge:
        return Ring("HOLES", middle, size[0] / 2, "#FFFFFF")
    low = (max(middle[0] - size[0] / 2, laid.x), max(middle[1] - size[1] / 2, laid.y))
    high = (min(middle[0] + size[0] / 2, laid.x + laid.width),
            min(middle[1] + size[1] / 2, laid.y + laid.height))  # fmt: skip
    return rectangle("HOLES", low, high, "#FFFFFF")


def _on_sheet(laid: Laid, at: Point) -> Point:
    """A point of a part on the sheet: a turned part is turned by a quarter to the left."""
    if laid.turned:
        return laid.x + laid.width - at[1], laid.y + at[0]
    return laid.x + at[0], laid.y + at[1]


def _names(laid: Laid, scale: int, system: str) -> list[Shape]:
    """Number, name and size of a part, clear of its holes and inside its edges; only the number where
    there is no room for more."""
    part = laid.part
    lines = [(f"{part.mark}  {clean(part.name, 40)}", _NAMED, True),
             (size_pair(part.width, part.height, system), SMALL, False)]  # fmt: skip
    for low, high in _clear(laid):
        room = (
            (high[0] - low[0]) * 1000.0 / scale - 3.0,
            (high[1] - low[1]) * 1000.0 / scale - 2.0,
        )
        for turned in (False, True):
            along, across = (room[1], room[0]) if turned else room
            sizes = [fitted(text, size, along, 1.6, bold) for text, size, bold in lines]
            if None in sizes or across < 6.2:
                continue
            middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
            step = 1.9 * scale / 1000.0
            out: list[Shape] = []
            for (text, _, bold), size, way in zip(lines, sizes, (-1.0, 1.0), strict=True):
                shift = (way * step, 0.0) if turned else (0.0, -way * step)
                at = (middle[0] + shift[0], middle[1] + shift[1])
                # A batten's dashed line must not strike through the name.
                back = _PART if part.marks else ""
                out.append(Word("TEXT", at, text, size or SMALL, turned, bold, back=back))
            return out
    middle = (laid.x + laid.width / 2, laid.y + laid.height / 2)
    room_both = min(laid.width, laid.height) * 1000.0 / scale - 0.6
    size = min(2.3, max(room_both / 1.3, 0.9))
    back = _PART if part.marks else ""
    return [Word("TEXT", middle, part.mark, size, bold=True, back=back)]


def _clear(laid: Laid) -> list[tuple[Point, Point]]:
    """Rectangles of a part beside its holes, roomiest first; the whole part where it has none."""
    whole = ((laid.x, laid.y), (laid.x + laid.width, laid.y + laid.height))
    free = [whole]
    for hole in laid.part.holes:
        middle = _on_sheet(laid, hole.at)
        size = (hole.size[1], hole.size[0]) if laid.turned else hole.size
        a, b = [m - s / 2 for m, s in zip(middle, size, strict=True)], [
            m + s / 2 for m, s in zip(middle, size, strict=True)]  # fmt: skip
        cut = []
        for low, high in free:
            if a[0] >= high[0] or b[0] <= low[0] or a[1] >= high[1] or b[1] <= low[1]:
                cut.append((low, high))
                continue
            cut += [(low, (a[0], high[1])), ((b[0], low[1]), high),
                    (low, (high[0], a[1])), ((low[0], b[1]), high)]  # fmt: skip
        free = _maximal([f for f in cut if f[1][0] - f[0][0] > 1e-6 and f[1][1] - f[0][1] > 1e-6])
    return sorted(free, key=lambda f: -min(f[1][0] - f[0][0], 3 * (f[1][1] - f[0][1])))


def _maximal(found: list[tuple[Point, Point]]) -> list[tuple[Point, Point]]:
    """Rectangles that lie in no other: many holes would make more of them than can be looked at."""
    kept: list[tuple[Point, Point]] = []
    for low, high in sorted(set(found), key=lambda f: -(f[1][0] - f[0][0]) * (f[1][1] - f[0][1])):
        if not any(
            a[0] <= low[0] and a[1] <= low[1] and high[0] <= b[0] and high[1] <= b[1]
            for a, b in kept
        ):
            kept.append((low, high))
    return kept


def _cuts(sheet: Sheet, scale: int) -> list[Shape]:
    """Cut lines with their numbers: each at the line's end, off the sheet where it ends there."""
    lines: list[Shape] = []
    numbers: list[Shape] = []
    taken: list[Point] = []
    for cut in sheet.cuts:
        ends = ((cut.at, cut.low), (cut.at, cut.high)) if cut.upright else (
            (cut.low, cut.at), (cut.high, cut.at))  # fmt: skip
        lines.append(Line("CUTS", ends, closed=False))
        spot = _number_place(cut.upright, ends, sheet, scale, taken)
        taken.append(spot)
        numbers.append(Balloon("CUTS", spot, str(cut.number)))
    return [*lines, *numbers]


def _number_place(
    upright: bool, ends: tuple[Point, Point], sheet: Sheet, scale: int, taken: list[Point]
) -> Point:
    """A place for a cut's number on its line, or beyond its far end, off the numbers set before."""
    mm = scale / 1000.0
    low, high = ends
    length = (high[1] - low[1]) if upright else (high[0] - low[0])
    options = []
    if upright and high[1] >= sheet.height - 1e-9:
        options.append((high[0], high[1] + 2.6 * mm))
    if not upright and high[0] >= sheet.width - 1e-9:
        options.append((high[0] + 2.8 * mm, high[1]))
    for share in (0.85, 0.7, 0.55, 0.4, 0.25, 0.12, 0.95):
        along = share * length
        options.append((low[0], low[1] + along) if upright else (low[0] + along, low[1]))
    gap = 4.2 * mm

    def clash(p: Point) -> float:
        return math.fsum(max(0.0, gap - math.dist(p, q)) for q in taken)

    return min(options, key=clash)
