"""Each sheet as a drawing: its parts with sizes and holes, the order of cuts, what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loamwright.plan.cut_parts import Hole, Mark
from loamwright.plan.cuts import Cuts, Job, Laid, Sheet
from loamwright.report import figure as style
from loamwright.report.cut_labels import PART, mark_corners, names, on_sheet, rest_size
from loamwright.report.cut_words import job_words, sheet_name, size_pair
from loamwright.report.draft import (
    Balloon,
    Chain,
    Draft,
    Line,
    Point,
    Ring,
    Shape,
    rectangle,
)  # fmt: skip
from loamwright.report.draft_page import (
    Page,
    place,
    scale_for,
    size_words,
    text_width,
)  # fmt: skip
from loamwright.report.plain import clean

WIDTH = 176.0
"""Width of a drawing [mm]: it fits between the margins of both papers standing."""

_LEFT, _RIGHT, _FOOT, _HEAD = 15.0, 7.0, 12.0, 20.0
_KEY = 3.5
"""Height of the line with the key to the cuts [mm]."""

_TALLEST = 150.0
_LOST = "#FFFFFF"


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
    cuts = _cuts(sheet, scale)
    taken = [b.at for b in cuts if isinstance(b, Balloon)]
    for laid in sheet.laid:
        shapes.append(
            rectangle("PARTS", (laid.x, laid.y), (laid.x + laid.width, laid.y + laid.height), PART)
        )
        shapes += [_mark(laid, m) for m in laid.part.marks]
        shapes += [_hole(laid, h) for h in laid.part.holes]
        if words:
            words_on_it, named = names(laid, scale, system, taken)
            shapes += words_on_it
            if not named:
                unnamed.append(laid)
    for rest in sheet.offcuts if words else ():
        shapes += rest_size(rest, scale, system, taken)
    shapes += cuts
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
    # The key to the cuts takes a line of its own under the measures and the list.
    foot = _FOOT + 4.0 * rows + (2.0 if rows else 0.0) + (_KEY if sheet.cuts else 0.0)
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
    x, y = on_sheet(laid, hole.at)
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
    low, high = mark_corners(laid, mark)
    upright = high[1] - low[1] > high[0] - low[0]
    k = 0 if upright else 1
    middle = (low[k] + high[k]) / 2 - (laid.x, laid.y)[k]
    edge = "the left" if upright else "below"
    return (f"{laid.part.mark}  {clean(mark.name, 40)} {mark.where}, dashed: middle "
            f"{size_words(middle, system)} from {edge}, as drawn")  # fmt: skip


def _mark(laid: Laid, mark: Mark) -> Shape:
    """A batten or a bar of the frame where it comes to stand."""
    return rectangle("HIDDEN", *mark_corners(laid, mark))


def _fit(text: str, size: float, room: float) -> float:
    """A size [mm] at which a text fits a room, however small."""
    wide = text_width(text, size, True)
    return size if wide <= room else size * room / wide


def _hole(laid: Laid, hole: Hole) -> Shape:
    """A hole where it comes to lie on the sheet, clipped to its part."""
    middle = on_sheet(laid, hole.at)
    size = (hole.size[1], hole.size[0]) if laid.turned else hole.size
    if hole.round and not hole.edge:
        return Ring("HOLES", middle, size[0] / 2, "#FFFFFF")
    low = (max(middle[0] - size[0] / 2, laid.x), max(middle[1] - size[1] / 2, laid.y))
    high = (min(middle[0] + size[0] / 2, laid.x + laid.width),
            min(middle[1] + size[1] / 2, laid.y + laid.height))  # fmt: skip
    return rectangle("HOLES", low, high, "#FFFFFF")


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
