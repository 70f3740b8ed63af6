"""Strength and wiring as a person asks for them, with their drawings."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.targets import checked_targets, write_all
from loamwright.workflow import Note, quiet, read

if TYPE_CHECKING:
    from loamwright.habitat.habitat import Habitat
    from loamwright.plan.build import Build


@dataclass(frozen=True)
class Shown:
    """A habitat's ``build``, the ``system`` it is shown in, and what was ``written``."""

    habitat: Habitat
    build: Build
    system: str
    written: tuple[Path, ...] = ()


def build(
    path: Path, *, units: str | None = None, plot: Path | None = None,
    plot_mist: Path | None = None, force: bool = False, note: Note = quiet,
) -> Shown:  # fmt: skip
    """What holds a habitat and what feeds it; ``plot`` and ``plot_mist`` are files to draw the wiring
    and the misting line to.

    Raises
    ------
    InputError
        If the file is wrong, there is no misting to draw, or something may not be written.
    """
    kind = checked_targets(None, plot, force=force)
    kind_mist = checked_targets(None, plot_mist, force=force)
    if plot is not None and plot == plot_mist:
        raise InputError(Problem("names the file of --plot too", "--plot-mist", file=str(plot)))
    note("reading the habitat")
    habitat = read(path)
    from loamwright.plan.build import build_of

    note("looking at what holds and feeds it")
    found = build_of(habitat)
    if plot_mist is not None and found.mist is None:
        raise InputError(Problem("there is no misting to draw", "--plot-mist", file=str(path)))
    system = units or habitat.units
    drawn: dict[Path, bytes] = {}
    if plot is not None:
        from loamwright.report.wiring_drawing import wiring_drawing

        drawn[plot] = wiring_drawing(habitat, found.wiring, system, kind)
    if plot_mist is not None and found.mist is not None:
        from loamwright.report.mist_drawing import mist_drawing

        drawn[plot_mist] = mist_drawing(habitat, found.mist, system, kind_mist)
    return Shown(habitat, found, system, write_all(drawn, force=force))
