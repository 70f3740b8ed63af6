"""Tables and charts that are written beside what is shown."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from loamwright.errors import InputError, Problem
from loamwright.workflow import write_file


def checked_targets(csv: Path | None, plot: Path | None, *, force: bool) -> str:
    """The kind of picture that ``plot`` asks for (empty for none), once both files may be written.

    Raises
    ------
    InputError
        If one is there already and not to be written over, or no picture of that kind can be made.
    """
    from loamwright.report.day_out import picture_kind

    for target in (csv, plot):
        if target is not None and target.exists() and not force:
            raise InputError(Problem("is there already; --force writes over it", file=str(target)))
    kind = picture_kind(plot.name) if plot is not None else ""
    if plot is not None and not kind:
        raise InputError(Problem("a chart is written as .png or .svg", "--plot", file=str(plot)))
    return kind


def write_all(contents: Mapping[Path, bytes], *, force: bool) -> tuple[Path, ...]:
    """Write files, each whole or not at all; returns their paths."""
    for target, content in contents.items():
        write_file(target, content, force=force)
    return tuple(contents)
