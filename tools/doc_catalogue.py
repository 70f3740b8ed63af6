"""The catalogue as pages: one a group, every entry with its values and the source of each."""

from __future__ import annotations

import html
from collections.abc import Mapping
from typing import Any

from loamwright.files.catalogue import load_catalogue
from loamwright.report.catalogue_tables import lines, listing

GROUPS = {
    "animals": "What each animal needs, as far as a source was found. *Not known* means that nobody "
    "has put a number here yet; `check` then says *not known* too.",
    "plants": "What each plant needs, and how its crown dims light.",
    "lamps": "Generic lamps, no make. Lamps of one class differ by a factor of two and more: "
    "[readings of your own lamp](../own-lamps.md) are always better.",
    "fans": "Generic fans, no make, by their two ends: the flow with nothing in the way and the "
    "pressure with the way shut. A data sheet of your own fan gives both.",
    "nozzles": "Misting nozzles. A minute into a jar measures the flow of your own.",
    "filters": "Dust mats and carbon before a fan, clean.",
    "mixes": "Finished mixes by their parts. How a mix holds water, what it weighs and how it "
    "settles is worked out from its [components](components.md).",
    "media": "How the layers of the ground hold and conduct water and heat. One pot of your "
    "own, filled, soaked, drained and weighed, is worth more than any of these numbers.",
    "components": "What a mix of the ground is made of. Bags differ as widely as the ranges say; a "
    "litre on a kitchen scale weighs your own.",
    "covers": "Meshes, guards and clear sheets over openings and round lamps.",
    "materials": "What surfaces reflect, what clear sheets let through, and thermal properties.",
    "decomposers": "What lives on litter and waste in the ground. A species is *followed* through "
    "the year where its whole life is known, if often from memory; see "
    "[how decomposers are computed](../decomposers.md).",
    "spectra": "What kinds of lamps radiate, by wavelength. A lamp of the catalogue is one or more "
    "of these, in watts.",
}


def _cell(text: str) -> str:
    return html.escape(text, quote=False).replace("|", "\\|").replace("\n", " ")


def _overview(group: str, entries: Mapping[str, Any]) -> list[str]:
    found = listing(group, entries)
    out = [
        "| " + " | ".join(found.heads) + " |",
        "| " + " | ".join("---" for _ in found.heads) + " |",
    ]
    for key, *rest in found.rows:
        out.append("| " + " | ".join([f"[`{key}`](#{key})", *map(_cell, rest)]) + " |")
    return out


def _entry(group: str, key: str, entry: Any) -> list[str]:
    """One entry: a table of values, each with the number of its source in the list below."""
    sources: dict[tuple[str, str], int] = {}
    out = [f"### {_cell(entry.label)} {{ #{key} }}", "", f"`{key}`", ""]
    out += ["| what | value | source |", "| --- | --- | --- |"]
    for line in lines(group, entry):
        mark = ""
        if line.source:
            mark = str(sources.setdefault((line.source, line.kind), len(sources) + 1))
        out.append(f"| {_cell(line.label)} | {_cell(line.value)} | {mark} |")
    out.append("")
    for (text, kind), number in sources.items():
        weak = kind in ("from memory", "common practice")
        told = f"**{kind}**" if weak else str(kind)
        # Many texts say their kind themselves.
        rest = text.removeprefix(str(kind)).removeprefix(", no source").lstrip(" ,:;")
        said = f": {_cell(rest)}" if rest else ""
        out.append(f"{number}. {told}{said}")
    return [*out, ""]


def catalogue_page(group: str) -> str:
    """The page of one group."""
    entries = load_catalogue().group(group)
    out = [
        "---",  # the overview table below is the contents; the tables want the room
        "hide:",
        "  - toc",
        "---",
        "",
        f"# Catalogue: {group}",
        "",
        GROUPS[group],
        "",
        "This page is made from the catalogue. The number behind each value is that of its source "
        "below the table. **From memory** and **common practice** have no document behind them: "
        "check such a number before an animal's life depends on it. `loamwright show "
        f"{group} NAME` prints the same in the terminal.",
        "",
        "## All entries",
        "",
        *_overview(group, entries),
        "",
        "## Entry by entry",
        "",
    ]
    for key in entries:
        out += _entry(group, key, entries[key])
    return "\n".join(out).rstrip() + "\n"
