"""What a typeset page is made of, and the same as plain data for the typesetter.

Every text travels as data and none as markup, so that a name in a habitat file, whatever it holds,
is set and never read.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from loamwright.engine.findings import State
from loamwright.report.blocks import FindingGroup, Table
from loamwright.report.figure import PAPER
from loamwright.report.letters import lines, pieces, together, width
from loamwright.report.plain import capital
from loamwright.report.terminal import SYMBOLS

LONGEST_CELL, LONGEST_WORDS = 700, 3000
"""Characters shown of a cell, and of a paragraph."""

WHOLE_TABLE = 26
"""A table of no more lines than this stays on one page."""

WHOLE_ROW = 900
"""A row of fewer characters is kept on one page."""


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; ``look`` ``body``, ``lead`` (what a section is for) or ``note``."""

    text: str
    look: str = "body"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading within a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture: file bytes and their ``kind`` (``png`` or ``svg``), a caption, what it shows for
    those who cannot see it, its ``width`` [1 of the line], or true width on paper ``size`` [m] where
    it is to scale; ``floats`` True where it may stand at the head of the next page while the text
    after it fills this one."""

    content: bytes
    kind: str
    caption: str = ""
    alt: str = ""
    width: float = 1.0
    size: float | None = None
    floats: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A drawing that fills a page of its own, lying, to the scale it names; its file's size is the
    paper's."""

    content: bytes
    kind: str
    alt: str


@dataclass(frozen=True, slots=True)
class Found:
    """Findings in groups, each with its source."""

    groups: tuple[FindingGroup, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels and what is told of each."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Ticks:
    """Things to tick off: what, and a remark."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt somebody."""

    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Stamp:
    """What must be read first: that a plan is not ready."""

    text: str


@dataclass(frozen=True, slots=True)
class Counts:
    """How many findings are in which state."""

    counts: tuple[tuple[State, str, int], ...]


@dataclass(frozen=True, slots=True)
class Codes:
    """Square codes side by side, each with its picture and words under it."""

    rows: tuple[tuple[bytes, str], ...]


@dataclass(frozen=True, slots=True)
class NewPage:
    """What follows begins a page."""


Block = (
    Words | Heading | Table | Shown | Sheet | Found | Facts | Ticks | Caution | Counts | Codes
    | NewPage | Stamp
)  # fmt: skip


APART = frozenset({
    "habitat", "findings", "light", "shopping", "cuts", "wiring", "order", "costs", "quote", "handover",
    "care", "cautions",
})  # fmt: skip
"""Sections that begin a page; others follow on where there is room."""


@dataclass(frozen=True, slots=True)
class Section:
    """A numbered section; ``key`` a stable name of it."""

    key: str
    title: str
    blocks: tuple[Block, ...]

    @property
    def apart(self) -> bool:
        """Whether it begins a page: it is for other hands than what stands before it."""
        return self.key in APART


class Files:
    """Pictures that go beside the data, each named once."""

    def __init__(self) -> None:
        self.contents: dict[str, bytes] = {}

    def add(self, content: bytes, kind: str) -> str:
        """A picture's file name."""
        for name, known in self.contents.items():
            if known is content or (len(known) == len(content) and known == content):
                return name
        name = f"picture-{len(self.contents) + 1}.{kind}"
        self.contents[name] = content
        return name


def section_data(section: Section, files: Files) -> dict[str, Any]:
    """A section as data."""
    return {
        "key": section.key,
        "title": lines(section.title),
        "apart": section.apart,
        "blocks": [block_data(b, files) for b in section.blocks],
    }


def block_data(block: Block, files: Files) -> dict[str, Any]:
    """A block as data: its ``kind`` and its texts."""
    if isinstance(block, Table):
        return table_data(block)
    if isinstance(block, Words):
        return {"kind": "words", "text": lines(block.text, LONGEST_WORDS), "look": block.look}
    if isinstance(block, Heading):
        return {"kind": "heading", "text": lines(block.text)}
    if isinstance(block, Shown):
        return _shown(block, files)
    if isinstance(block, Sheet):
        return {"kind": "sheet", "file": files.add(_on_white(block.content, block.kind), block.kind),
                "alt": lines(block.alt)}  # fmt: skip
    if isinstance(block, Found):
        return {"kind": "found", "groups": [_group(g) for g in block.groups]}
    if isinstance(block, Facts):
        return {"kind": "facts", "rows": _pairs(block.rows)}
    if isinstance(block, Ticks):
        return {"kind": "ticks", "rows": _pairs(block.rows)}
    if isinstance(block, Caution):
        return {"kind": "caution", "title": lines(block.title),
                "text": lines(block.text, LONGEST_WORDS)}  # fmt: skip
    if isinstance(block, Stamp):
        return {"kind": "stamp", "text": lines(block.text, LONGEST_WORDS)}
    if isinstance(block, Codes):
        return {"kind": "codes", "rows": [
            {"file": files.add(content, "svg"), "text": lines(text)} for content, text in block.rows
        ]}  # fmt: skip
    if isinstance(block, Counts):
        return {"kind": "counts", "counts": [
            {"state": state.value, "sign": SYMBOLS[state], "word": word, "count": count}
            for state, word, count in block.counts
        ]}  # fmt: skip
    return {"kind": "new-page"}


def _pairs(rows: Iterable[tuple[str, str]]) -> list[list[str]]:
    return [[lines(a, LONGEST_CELL), lines(b, LONGEST_WORDS)] for a, b in rows]


def _shown(picture: Shown, files: Files) -> dict[str, Any]:
    return {
        "kind": "picture",
        "file": files.add(_on_white(picture.content, picture.kind), picture.kind),
        "caption": lines(picture.caption),
        "alt": lines(picture.alt or picture.caption),
        "width": picture.width,
        "floats": picture.floats,
        "size_mm": None if picture.size is None else 1000.0 * picture.size,
    }


def _on_white(content: bytes, kind: str) -> bytes:
    """A drawing without its own paper colour: the page has one."""
    return content.replace(PAPER.lower().encode(), b"#ffffff") if kind == "svg" else content


def _group(group: FindingGroup) -> dict[str, Any]:
    return {
        "heading": lines(capital(group.heading)),
        "findings": [
            {
                "state": f.finding.state.value, "sign": SYMBOLS[f.finding.state],
                "title": lines(capital(f.title)), "word": f.state,
                "value": lines(f.value) if f.value != f.state else "",
                "wanted": lines(f.wanted), "margin": lines(f.margin),
                "source": lines(f.source, LONGEST_CELL), "weak": f.weak,
                "rows": [
                    [label, lines(text, LONGEST_WORDS)]
                    for label, text in (
                        ("where", f.where),
                        *((("when", f.when), ("why", f.why), ("to try", f.advice),
                           ("mind", f.mind))
                          if f.finding.state is not State.MET else ()),
                    )
                    if text
                ],
            }
            for f in group.findings
        ],
    }  # fmt: skip


def table_data(table: Table) -> dict[str, Any]:
    """A table as data, with the shares of the line its columns take."""
    heads = [lines(h) for h in table.columns]
    rows = [[together(lines(c, LONGEST_CELL)) for c in row] for row in table.rows]
    widths, size = column_widths(heads, rows, table.right)
    return {
        "kind": "table",
        "title": lines(table.title),
        "heads": heads,
        "headed": any(heads),
        "rows": rows,
        "whole": [sum(len(c) for c in row) < WHOLE_ROW for row in rows],
        "right": [i in table.right for i in range(len(heads))],
        "widths": widths,
        "size": size,
        "note": lines(table.note, LONGEST_WORDS),
        "tight": table.tight,
        "under": [len(heads) > 2 and bool(row[0]) and not any(row[1:]) for row in rows],
        # Numbers by the hour are set small and each row on one line.
        "keep": (len(rows) if table.tight else _lines(rows, widths)) <= WHOLE_TABLE,
    }


LINE = 52.0
"""Width of a line of text, in letters of a table's usual size [em]."""

PADDING = 1.1
"""Room beside the text of a column [em]."""

SHORT = 8.0
"""A column no wider than this is not broken [em]."""

SMALL, SMALLEST = 0.88, 0.78
"""Sizes that a crowded table is set in, over the usual [1]."""


def _lines(rows: Sequence[Sequence[str]], widths: Sequence[float] | None) -> float:
    """Rough number of lines that a table's rows take."""
    if widths is None:
        return float(len(rows))
    return float(sum(
        max((math.ceil(width(c) / max(w - PADDING, 1.0)) for c, w in zip(row, widths, strict=False)),
            default=1)
        for row in rows
    ))  # fmt: skip


def column_widths(
    heads: Sequence[str], rows: Sequence[Sequence[str]], right: Iterable[int] = ()
) -> tuple[list[float] | None, float]:
    """Widths of a table's columns, and the size its letters are set in [1].

    None where everything fits as it is. Else a share for each column: at least the widest piece that
    cannot be broken, and more in proportion to what the column would still like to have.
    """
    right = set(right)
    wanted, liked, least = [], [], []
    for k, head in enumerate(heads):
        cells = [row[k] for row in rows if k < len(row)]
        head_least = max((width(p) for p in pieces(head)), default=0.0) * 1.15
        cell_least = max((width(p) for c in cells for p in pieces(c)), default=0.0)
        across = sorted(width(c) for c in cells)
        # What most cells ask for: one very long name must not press the others together.
        usual = across[int(0.9 * (len(across) - 1))] if across else 0.0
        most = across[-1] if across else 0.0
        if k in right or most <= SHORT:  # numbers stay whole with their units, short words too
            cell_least = min(most, 1.5 * SHORT)
        least.append(max(head_least, cell_least, 1.0) + PADDING)
        liked.append(max(usual, cell_least) + PADDING)
        wanted.append(
            max(most, max((width(x) for x in head.split("\n")), default=0.0) * 1.1) + PADDING
        )
    for size in (1.0, SMALL, SMALLEST):
        if sum(wanted) <= LINE / size:
            return None, size
        if sum(least) <= 0.94 * LINE / size or size == SMALLEST:
            asked = [min(w, 45.0) for w in liked]
            spare = LINE / size - sum(least)
            more = [max(a - m, 0.0) for a, m in zip(asked, least, strict=True)]
            total = sum(more) or 1.0
            return [m + max(spare, 0.0) * x / total for m, x in zip(least, more, strict=True)], size
    raise AssertionError("unreachable")
