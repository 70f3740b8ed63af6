"""The pack set as one PDF (or its pages as pictures): the same data, the same bytes."""

from __future__ import annotations

import json
import tempfile
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from loamwright.report.letters import font_folder, lines
from loamwright.report.typst_blocks import Block, Files, Section, Shown, block_data, section_data

PAPERS: dict[str, str] = {"a4": "a4", "letter": "us-letter"}
"""Sizes of paper, and what the typesetter calls them."""

EPOCH_YEAR = 1980
"""Earliest year a file may say it was made in; older ones make no valid archive."""


@dataclass(frozen=True, slots=True)
class Document:
    """A whole pack: what stands on its cover, what opens it, its sections.

    ``date`` year, month, day; ``checksum`` of the habitat file as hexadecimal text; ``made`` by what it
    was made; ``foot`` what stands at the foot of each page. ``bare``: sections alone, without cover,
    contents and numbers. ``stamp`` what the cover says while the plan misses a need, empty: nothing.
    """

    title: str
    kicker: str
    purpose: str
    facts: tuple[tuple[str, str], ...]
    date: tuple[int, int, int]
    made: str
    checksum: str
    foot: str
    sections: tuple[Section, ...]
    cover: Shown | None = None
    opening: tuple[Block, ...] = ()
    bare: bool = False
    stamp: str = ""


def source_files(document: Document, paper: str) -> dict[str, bytes]:
    """Everything the typesetter reads: template, data, pictures."""
    beside = Files()
    year, month, day = document.date
    cover: dict[str, Any] | None = None
    if document.cover is not None:
        cover = block_data(document.cover, beside)
    data = {
        "paper": PAPERS[paper],
        "title": lines(document.title),
        "author": "loamwright",
        "kicker": lines(document.kicker),
        "purpose": lines(document.purpose),
        "facts": [[lines(a), lines(b, 600)] for a, b in document.facts],
        "date": {"year": year, "month": month, "day": day},
        "made": lines(document.made),
        "checksum": lines(document.checksum),
        "foot": lines(document.foot),
        "cover": cover,
        "stamp": lines(document.stamp, 600),
        "bare": document.bare,
        "opening": [block_data(b, beside) for b in document.opening],
        "sections": [section_data(s, beside) for s in document.sections],
    }
    template = files("loamwright").joinpath("data/templates/pack.typ").read_bytes()
    return {"main.typ": template, "data.json": json.dumps(data).encode(), **beside.contents}


def typeset(
    document: Document, paper: str = "a4", kind: str = "pdf", ppi: float = 110.0
) -> list[bytes]:
    """The document as one PDF, or (``png``) as a picture of each page.

    ``paper`` one of `PAPERS`. Nothing of the machine goes into it: no system letters, no clock.
    """
    import typst

    more: dict[str, Any] = {"ppi": ppi} if kind == "png" else {"timestamp": _seconds(document.date)}
    with tempfile.TemporaryDirectory() as folder:
        for name, content in source_files(document, paper).items():
            (Path(folder) / name).write_bytes(content)
        made: Any = typst.compile(  # type: ignore[call-overload]
            str(Path(folder) / "main.typ"), root=folder, font_paths=[font_folder()],
            ignore_system_fonts=True, format=kind, **more,
        )  # fmt: skip
    return list(made) if isinstance(made, list) else [made]


def _seconds(date: tuple[int, int, int]) -> int:
    """Seconds from 1970 on to a date's midnight in universal time [s]."""
    import calendar

    year, month, day = date
    return calendar.timegm((max(year, EPOCH_YEAR), month, day, 0, 0, 0))
