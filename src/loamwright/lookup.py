"""What is looked up: entries of the catalogue, and what a command's words mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from loamwright.errors import InputError, Problem


def catalogue_list(group: str, own: Sequence[Path], system: str) -> Any:
    """A group of the catalogue as a table."""
    from loamwright.files.catalogue import load_catalogue
    from loamwright.report.blocks import Table
    from loamwright.report.catalogue_tables import listing

    found = listing(group, load_catalogue(own).group(group), system)
    return Table(group.capitalize(), found.heads, found.rows)


def catalogue_entry(group: str, name: str, own: Sequence[Path], system: str) -> Any:
    """One catalogue entry as a table of values with their sources."""
    from loamwright.files.catalogue import load_catalogue
    from loamwright.report.blocks import catalogue_table
    from loamwright.report.catalogue_tables import lines

    catalogue = load_catalogue(own)
    entries = catalogue.group(group)
    if name not in entries:
        near = catalogue.nearest(group, name)
        hint = f"; did you mean {' or '.join(near)}?" if near else f"; see: loamwright list {group}"
        raise InputError(Problem(f"no {group} entry is called '{name}'{hint}"))
    rows = [(x.label, x.value, x.source, x.kind) for x in lines(group, entries[name], system)]
    return catalogue_table(f"{entries[name].label} ({name})", rows)


def grid_spacing(spacing: str, path: Path, *, force: bool = False) -> float:
    """The spacing [m] that a text such as ``5 cm`` means, if the file may be written too."""
    from loamwright.units import parse

    if path.exists() and not force:
        raise InputError(Problem("is there already; --force writes over it", file=str(path)))
    try:
        metres = parse(spacing, "length")
    except InputError as error:
        raise InputError([replace(p, field="--grid") for p in error.problems]) from None
    if not metres >= LEAST_SPACING:
        raise InputError(Problem(f"'{spacing}' is too fine; from 5 mm on", "--grid"))
    return metres


LEAST_SPACING = 0.005
"""Finest grid [m]."""
