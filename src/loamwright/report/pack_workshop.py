"""The sections of the pack for the workshop: cuts, wiring and water, strength."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from loamwright.habitat.habitat import Habitat
from loamwright.report.pack_sections import plain_titles
from loamwright.report.plain import on_paper
from loamwright.report.plan_out import table_csv
from loamwright.report.typst_blocks import (
    Block,
    Caution,
    Heading,
    Section,
    Shown,
    Words,
)

if TYPE_CHECKING:
    from loamwright.plan.build import Build
    from loamwright.plan.cuts import Cuts
    from loamwright.plan.strength import Strength

Drawn = Sequence[tuple[str, bytes]]

GLASS = (
    "Glass is ordered cut, its edges ground and its holes drilled by the glazier; toughened glass is "
    "never cut. Measure the finished box before you order panes."
)

ENGINEER = (
    "Computed for plain panels held at their edges and for what the habitat file says of stand and "
    "room. Cracks, knots, poor glue and old floors are not in it: a structural engineer decides."
)


def cuts_section(
    habitat: Habitat, cuts: Cuts, drawings: Drawn, width: float, system: str
) -> Section:
    """Parts, sheets, order of cuts, and a drawing of every sheet; ``width`` of a drawing [m]."""
    from loamwright.report.cut_blocks import cut_tables

    with on_paper():
        tables = plain_titles(cut_tables(habitat, cuts, system), habitat)
    blocks: list[Block] = [
        Words("What is cut from what, by cuts from edge to edge, in an order that a saw can follow. "
              "Each sheet's drawing is to the scale that it names; the CAD files hold the same.",
              "lead"),
        *tables, Caution("Glass", GLASS),
    ]  # fmt: skip
    if drawings:
        blocks.append(Heading("Sheets and rolls"))
        blocks += [Shown(content, "svg", size=width) for _, content in drawings]
    return Section("cuts", "Cuts", tuple(blocks))


def wiring_section(
    habitat: Habitat, build: Build, drawing: bytes, mist: bytes | None, system: str
) -> Section:
    """Circuit, cables, supplies, protection; pump, line, nozzles and tank."""
    from loamwright.report.board_blocks import board_table
    from loamwright.report.mist_blocks import mist_line_tables
    from loamwright.report.wiring_blocks import DEFER, wiring_tables

    with on_paper():
        blocks: list[Block] = [
            Words(DEFER, "lead"), Heading("Wiring"), Shown(drawing, "svg", "One line for each cable"),
            *plain_titles(wiring_tables(habitat, build.wiring, system), habitat),
            *(t for t in (board_table(habitat, build.wiring, system),) if t.rows),
        ]  # fmt: skip
        if build.mist is not None:
            blocks.append(Heading("Water"))
            if mist is not None:
                blocks.append(Shown(mist, "svg", "The misting line, from the front", width=0.86))
            blocks += plain_titles(mist_line_tables(habitat, build.mist, system), habitat)
    title = "Wiring" if build.mist is None else "Wiring and water"
    return Section("wiring", title, tuple(blocks))


def strength_section(habitat: Habitat, strength: Strength, system: str) -> Section:
    """How it stands, how panels bend, what holds pieces and background."""
    from loamwright.report.strength_blocks import strength_tables

    with on_paper():
        tables = plain_titles(strength_tables(habitat, strength, system), habitat)
    return Section("strength", "Strength and loads", (Words(ENGINEER, "lead"), *tables))


def cuts_csv(cuts: Cuts) -> str:
    """Every part as a row: sizes in millimetres, the sheet it comes from (empty: ordered to size)."""
    from loamwright.report.cut_drawing import sheets_of

    where = {
        laid.part.mark: str(number)
        for number, (_, sheet) in enumerate(sheets_of(cuts), 1)
        for laid in sheet.laid
    }
    where |= {p.mark: f"bar {n}" for n, bar in enumerate(cuts.bars, 1) for p in bar.pieces}
    parts = [laid.part for _, sheet in sheets_of(cuts) for laid in sheet.laid] + list(cuts.ordered)
    parts += [p for bar in cuts.bars for p in bar.pieces]
    rows = [
        (p.mark, p.name, p.material, *(1000.0 * v for v in (p.thickness, p.width, p.height)),
         p.grain, len(p.holes), where.get(p.mark, ""))
        for p in sorted(parts, key=lambda p: (p.number, p.suffix))
    ]  # fmt: skip
    return table_csv(("mark", "name", "material", "thickness_mm", "width_mm", "height_mm", "grain",
                      "holes", "sheet"), rows)  # fmt: skip
