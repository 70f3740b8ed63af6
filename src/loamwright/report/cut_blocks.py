"""The cut plan as tables: parts, sheets with their gap to the bound, order of cuts, what is ordered."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.habitat.habitat import Habitat
from loamwright.plan.cut_parts import ABOVE, FRONT, PartToCut
from loamwright.plan.cuts import Cuts, Job, Sheet
from loamwright.plan.glass_front import is_glass
from loamwright.report.blocks import Table
from loamwright.report.cover_blocks import covers_table
from loamwright.report.cut_drawing import sheets_of
from loamwright.report.cut_words import (
    JOINTS,
    job_words,
    material_words,
    size_pair,
    troubles_of,
    unit,
)
from loamwright.report.draft_page import size_words
from loamwright.report.front_blocks import front_table
from loamwright.report.joint_blocks import joint_tables
from loamwright.report.lining_blocks import linings_table
from loamwright.report.plain import clean

THIN = 0.001
"""Thickness from which one is told [m]."""

SEEN = {ABOVE: "above", FRONT: "the front"}

GLASS = (
    "Have holes cut and edges ground by the glazier: toughened glass cannot be cut or drilled "
    "afterwards. Measure the built opening before you order."
)


def cut_tables(habitat: Habitat, cuts: Cuts, system: str = "metric") -> list[Table]:
    """Everything the workshop needs of the cut plan, in tables: troubles first where there are any."""
    out = []
    told = troubles_of(cuts, system)
    if told:
        out.append(Table("Cannot be cut as it is", ("what is wrong",), tuple((t,) for t in told)))
    sawn = [p for p in cuts.parts if not is_glass(p.material)]
    drilled = [p for p in cuts.parts if is_glass(p.material)]
    out += [
        _parts(habitat, cuts, system),
        _holes(sawn, "Holes to saw", SAWN, system),
        _holes(drilled, "Holes in glass, made by the glazier", DRILLED, system),
        covers_table(habitat, cuts, system),
        _sheets(cuts, system),
    ]
    out.append(_order(cuts, system))
    if cuts.ordered:
        out.append(_ordered(cuts, system))
    out.append(front_table(habitat, system))
    out += joint_tables(habitat, cuts, system)
    out.append(linings_table(habitat, cuts, system))
    return [t for t in out if t.rows]


def _parts(habitat: Habitat, cuts: Cuts, system: str) -> Table:
    where: dict[str, tuple[PartToCut, str]] = {}
    for number, (_, sheet) in enumerate(sheets_of(cuts), 1):
        for laid in sheet.laid:
            where[laid.part.mark] = (laid.part, str(number))
    for number, bar in enumerate(cuts.bars, 1):
        where |= {p.mark: (p, f"bar {number}") for p in bar.pieces}
    rows = []
    for part, sheet_number in sorted(where.values(), key=lambda x: (x[0].number, x[0].suffix)):
        rows.append((part.mark, clean(part.name, 30), material_words(part.label, system, 30),
                     *_size(part, system), _grain(part), sheet_number))  # fmt: skip
    name = unit(system)
    return Table(
        f"{clean(habitat.name)}: parts to cut",
        ("no.", "part", "of", f"thick\n{name}", f"wide\n{name}", f"high\n{name}", "grain", "sheet"),
        tuple(rows), right=frozenset({3, 4, 5, 7}), tight=True,
        note=f"{JOINTS[cuts.joint]} Width and height as seen from above (floor, top), from the front "
        "or from the right. Lettered pieces are set side by side from the lower left, row by row.",
    )  # fmt: skip


def _size(part: PartToCut, system: str) -> tuple[str, str, str]:
    # Of fleece and fine mesh the thickness says nothing; sixteenths of an inch would make it naught.
    thick = "–" if part.thickness < THIN else size_words(part.thickness, system)
    return thick, size_words(part.width, system), size_words(part.height, system)


def _grain(part: PartToCut) -> str:
    return part.grain or "–"


FROM_EDGES = (
    "Floor and top seen from above, back and front from the front, both sides from the right with the "
    "front to the left. What the small ones are for stands under Led through the panels."
)
SAWN = f"{FROM_EDGES} Saw the round holes of fans to the fan's own frame."
DRILLED = (
    f"{FROM_EDGES} Order these holes with the panes; the round ones of fans to the fan's own frame."
)


def _holes(parts: Sequence[PartToCut], title: str, note: str, system: str) -> Table:
    """Holes, from the part's own left and lower edge."""
    rows = []
    for part in parts:
        for hole in part.holes:
            if hole.round:
                size, place = f"Ø {size_words(hole.size[0], system)}", hole.at
                what = "middle"
            else:
                size = size_pair(*hole.size, system)
                place = (hole.at[0] - hole.size[0] / 2, hole.at[1] - hole.size[1] / 2)
                what = "corner"
            rows.append((part.mark, clean(part.name, 24), clean(hole.name, 40), size, what,
                         size_words(place[0], system), size_words(place[1], system)))  # fmt: skip
    name = unit(system)
    return Table(
        title,
        ("no.", "part", "hole", f"size, {name}", "to its", f"from left\n{name}", f"from below\n{name}"),
        tuple(rows), right=frozenset({3, 5, 6}), tight=True,
        note=note,
    )  # fmt: skip


def _sheets(cuts: Cuts, system: str) -> Table:
    rows, first = [], 1
    for job in cuts.jobs:
        last = first + len(job.sheets) - 1
        numbers = str(first) if first == last else f"{first} – {last}"
        rows.append((numbers, job_words(job, system), _bought(job, system), _share(job), _gap(job)))
        first = last + 1
    return Table(
        "Sheets and rolls",
        ("drawing", "of", f"to get, {unit(system)}", "used", "more than\nthe least"),
        tuple(rows), right=frozenset({3, 4}), tight=True,
        note="More than the least: by how much more is bought than any way of cutting could do with, "
        "at most; 0 % is proved to be the least. Backgrounds in pieces are held against their bare "
        "area.",
    )  # fmt: skip


def _bought(job: Job, system: str) -> str:
    """``2 of 2440 × 1220 + 1 of 3050 × 1560``; of a roll its length and width."""
    if job.roll and job.sheets[0].stock.length is None:
        one = job.sheets[0]
        return f"{size_words(one.height, system)} of {size_words(one.width, system)} wide"
    counts: dict[str, int] = {}
    for sheet in job.sheets:
        size = size_pair(sheet.width, sheet.height, system)
        counts[size] = counts.get(size, 0) + 1
    return " + ".join(f"{n} of {size}" for size, n in counts.items())


def _share(job: Job) -> str:
    area = sum(s.width * s.height for s in job.sheets)
    return f"{100 * sum(p.area for p in job.parts) / area:.0f} %"


def _gap(job: Job) -> str:
    return "0 %" if job.gap < 5e-4 else f"{100 * job.gap:.0f} %"


def _order(cuts: Cuts, system: str) -> Table:
    """Cuts by sheet: where each runs, from the sheet's left or lower edge."""
    rows = []
    for number, (_, sheet) in enumerate(sheets_of(cuts), 1):
        for cut in sheet.cuts:
            side = "left" if cut.upright else "below"
            ends = f"{size_words(cut.low, system)} to {size_words(cut.high, system)}"
            whole = cut.high - cut.low >= (sheet.height if cut.upright else sheet.width) - 1e-6
            rows.append((str(number), str(cut.number), "upright" if cut.upright else "level",
                         f"{size_words(cut.at, system)} from {side}",
                         "right through" if whole else ends, _frees(sheet, cut.number)))  # fmt: skip
    return Table(
        f"Order of cuts, {unit(system)}",
        ("drawing", "cut", "runs", "at", "along", "frees"), tuple(rows),
        right=frozenset({0, 1}), tight=True,
        note="The blade runs on the far side of the line: its kerf is counted there. Places are those "
        "of the sheet's drawing.",
    )  # fmt: skip


def _frees(sheet: Sheet, number: int) -> str:
    """Parts that no later cut touches and this one does."""
    last: dict[str, int] = {}
    for cut in sheet.cuts:
        for laid in sheet.laid:
            ends = (laid.x, laid.x + laid.width) if cut.upright else (laid.y, laid.y + laid.height)
            span = (laid.y, laid.y + laid.height) if cut.upright else (laid.x, laid.x + laid.width)
            near = abs(ends[1] - cut.at) < 1e-6 or 0.0 <= ends[0] - cut.at < 0.02
            if near and cut.low - 1e-6 <= span[0] and span[1] <= cut.high + 1e-6:
                last[laid.part.mark] = cut.number
    return ", ".join(mark for mark, n in last.items() if n == number)


def _ordered(cuts: Cuts, system: str) -> Table:
    rows = []
    for part in cuts.ordered:
        rows.append((part.mark, clean(part.name, 30), material_words(part.label, system),
                     *_size(part, system), str(len(part.holes)) if part.holes else "–"))  # fmt: skip
    name = unit(system)
    doors = ""
    if any(p.kind == "door" and p.seen == FRONT for p in cuts.parts):
        doors = (f" Doors are {size_words(cuts.runner, system)} {name} lower than their opening, for "
                 "runners or hinges; sliding ones overlap by "
                 f"{size_words(cuts.overlap, system)} {name}.")  # fmt: skip
    return Table(
        "Ordered cut to size, or made in place",
        ("no.", "part", "of", f"thick\n{name}", f"wide\n{name}", f"high\n{name}", "holes"),
        tuple(rows), right=frozenset({3, 4, 5, 6}), tight=True, note=GLASS + doors,
    )  # fmt: skip
