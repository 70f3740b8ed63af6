"""Blocks printed to a terminal with rich: readable at 80 columns, and without colour."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, TextIO

from loamwright.engine.findings import State
from loamwright.report.blocks import CheckReport, FindingGroup, Table
from loamwright.report.words import Worded

if TYPE_CHECKING:
    from rich.console import Console

    from loamwright.engine.climate.drills import Drill
    from loamwright.habitat.habitat import Habitat

SYMBOLS: dict[State, str] = {
    State.MISSED: "✗",
    State.CLOSE: "≈",
    State.NOT_KNOWN: "?",
    State.MET: "✓",
}
"""A sign for each state, beside its word: colour alone says nothing."""

_STYLES: dict[State, str] = {
    State.MISSED: "bold red",
    State.CLOSE: "yellow",
    State.NOT_KNOWN: "magenta",
    State.MET: "green",
}

_PLAIN = str.maketrans(
    {"✗": "x", "≈": "~", "✓": "+", "µ": "u", "²": "2", "±": "+/-", "–": "-", "…": "...",
     "─": "-", "━": "-", "°": " deg ", "×": "x"}
)  # fmt: skip
_LEAST, _MOST = 40, 100


def console(
    file: TextIO | None = None, *, width: int | None = None, color: bool | None = None
) -> Console:
    """A console for these blocks.

    ``color`` None leaves it to the terminal and to ``NO_COLOR``. Lines are at most 100 columns,
    as longer ones are hard to read.
    """
    from rich.console import Console

    made = Console(
        file=file,
        highlight=False,
        markup=False,
        emoji=False,
        no_color=None if color is None else not color,
        force_terminal=True if color else None,
        width=width,
    )
    made.width = max(_LEAST, min(made.width, _MOST))
    return made


def print_check(report: CheckReport, out: Console) -> None:
    """Findings group by group, tables if there are any, and the counts at the end."""
    _line(out, report.habitat, style="bold")
    for group in report.groups:
        out.print()
        _print_group(group, out)
    for table in report.tables:
        out.print()
        print_table(table, out)
    out.print()
    if report.caution:
        _line(out, report.caution)
    for group in report.groups:
        for worded in group.findings:
            if worded.finding.state is State.MISSED:
                _line(out, f"{SYMBOLS[State.MISSED]} {worded.state}: {worded.title}, "
                      f"{group.heading}", style=_STYLES[State.MISSED])  # fmt: skip
    worst = next((s for s, n in report.counts.items() if n), State.MET)
    _line(out, report.counts_line, style=_STYLES[worst])
    _line(out, report.coverage)


def print_findings(report: CheckReport, out: Console) -> None:
    """Findings group by group and their counts, under tables that say the rest."""
    for group in report.groups:
        out.print()
        _print_group(group, out)
    out.print()
    if report.caution:
        _line(out, report.caution)
    worst = next((s for s, n in report.counts.items() if n), State.MET)
    _line(out, report.counts_line, style=_STYLES[worst])


def print_drills(
    habitat: Habitat, drills: Sequence[Drill], system: str, out: Console
) -> None:  # fmt: skip
    """Drill by drill, those that pass a limit first, and what is not known."""
    from loamwright.report import drill_report

    _line(out, f"{habitat.name}: what fails, what follows in two days", style="bold")
    for drill in drills:
        told = drill_report.told(habitat, drill, system)
        out.print()
        state = State.MISSED if told.passed else State.MET
        _line(out, f"{SYMBOLS[state]} {told.heading}", style=_STYLES[state])
        for label, text in told.lines:
            _line(out, text, label=label, indent=4)
    out.print()
    for label in drill_report.unknown_limits(habitat, drills):
        _line(
            out,
            f"? not known: no limit of {label} is in the catalogue, or no place of it in the file",
        )
    _line(out, drill_report.CAUTION)


def print_table(table: Table, out: Console) -> None:
    """One table; cells too wide for the terminal are wrapped, never cut."""
    from rich import box
    from rich.table import Table as Grid
    from rich.text import Text

    if table.title:
        _line(out, table.title, style="bold")
    if table.rows:
        padding = (0, 0 if table.tight else 1)
        grid = Grid(box=box.SIMPLE_HEAD, pad_edge=False, padding=padding, show_edge=False)
        if _ascii(out):
            grid.box = box.ASCII2
        for number, head in enumerate(table.columns):
            # The first column holds names people copy: it is broken only where it must be.
            longest = max(len(row[number]) for row in table.rows)
            grid.add_column(
                Text(_fit(head, out)),
                justify="right" if number in table.right else "left",
                overflow="fold",
                no_wrap=number == 0 and longest <= out.width // 2,
                vertical="top",
            )
        for row in table.rows:
            grid.add_row(*(Text(_fit(cell, out)) for cell in row))
        out.print(grid)
    if table.note:
        _line(out, table.note)


def print_tables(tables: Iterable[Table], out: Console) -> None:
    """Tables with an empty line between them."""
    for number, table in enumerate(tables):
        if number:
            out.print()
        print_table(table, out)


def _print_group(group: FindingGroup, out: Console) -> None:
    _line(out, group.heading, style="bold underline")
    for worded in group.findings:
        _print_finding(worded, out)


def _print_finding(worded: Worded, out: Console) -> None:
    """One finding; what is met takes few lines, what is not is explained."""
    state = worded.finding.state
    head = f"{SYMBOLS[state]} {worded.state.upper() if state is State.MISSED else worded.state}"
    value = worded.value if worded.value != worded.state else ""
    facts = ", ".join(x for x in (value, worded.wanted, worded.margin) if x)
    _line(out, f"{head}: {worded.title}", style=_STYLES[state], indent=2)
    rows = [("", facts), ("where", worded.where)]
    if state is not State.MET:
        rows += [("when", worded.when), ("why", worded.why), ("to try", worded.advice),
                 ("mind", worded.mind)]  # fmt: skip
    rows.append(("source", worded.source))
    for label, text in rows:
        if text:
            _line(out, text, label=label, indent=4)


def _line(out: Console, text: str, *, style: str = "", label: str = "", indent: int = 0) -> None:
    """A paragraph with a hanging indent; continued lines stand under the first word."""
    from rich.cells import cell_len
    from rich.text import Text

    text = _fit(text, out)
    lead = " " * indent + (f"{label:<8}" if label else "")
    room = max(out.width - cell_len(lead), 20)
    wrapped = Text(text, style=style).wrap(out, room)
    for number, part in enumerate(wrapped):
        start = lead if number == 0 else " " * cell_len(lead)
        part.rstrip()
        out.print(Text.assemble((start, "dim" if label else ""), part), soft_wrap=True)


def _ascii(out: Console) -> bool:
    return not out.encoding.lower().replace("-", "").startswith("utf")


def _fit(text: str, out: Console) -> str:
    """Text the terminal's encoding can carry."""
    if not _ascii(out):
        return text
    plain = text.translate(_PLAIN)
    return plain.encode(out.encoding, "replace").decode(out.encoding)
