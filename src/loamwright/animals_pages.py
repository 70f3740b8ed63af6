"""The animals as a person asks for them: room and structure against what they need."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.targets import checked_targets, write_all
from loamwright.workflow import Note, check_habitat, quiet, read

if TYPE_CHECKING:
    from loamwright.engine.findings import Finding
    from loamwright.engine.life.study import Animals
    from loamwright.habitat.habitat import Habitat


NEEDED = ("climate", "ground", "animals")
"""Engines whose results the animals' need; light is computed in any case."""


@dataclass(frozen=True)
class Page:
    """A habitat, what is told of its animals, their findings, and what was written."""

    habitat: Habitat
    animals: Animals
    findings: list[Finding]
    written: tuple[Path, ...] = ()

    @property
    def missed(self) -> bool:
        """True if any need of the animals' is missed."""
        return any(f.state == "missed" for f in self.findings)


def animals(
    path: Path, *, csv: Path | None = None, plot: Path | None = None, units: str | None = None,
    kept: Path | None = None, force: bool = False, note: Note = quiet,
) -> Page:  # fmt: skip
    """Everything about a habitat's animals: room, structure, descent, ways and choices.

    Light, warmth and moisture are those of a check; they are computed, or taken from what is kept.
    ``csv`` and ``plot`` are files to write every hour at every place and the choice chart to (of
    several species the first whose body is known), ``units`` what people are shown.

    Raises
    ------
    InputError
        If the file is wrong, nobody lives in the habitat, or something may not be written.
    """
    kind = checked_targets(csv, plot, force=force)
    note("reading the habitat")
    habitat = read(path)
    if not habitat.animals:
        problem = "names no animals: give species and counts under animals:"
        raise InputError(Problem(problem, "animals", file=str(path)))
    checked = check_habitat(habitat, kept=kept, only=NEEDED, note=note)
    findings = [f for f in checked.findings if f.engine == "animals"]
    assert checked.animals is not None
    system = units or habitat.units
    contents: dict[Path, bytes] = {}
    if csv is not None:
        from loamwright.report.choice_blocks import choice_csv

        contents[csv] = choice_csv(habitat, checked.animals, system).encode()
    if plot is not None:
        from loamwright.report.choice_chart import choice_chart, drawable

        drawn = [one for one in checked.animals.residents if drawable(one)]
        if not drawn:
            problem = "no body's warmth is known here, so there is nothing to draw"
            raise InputError(Problem(problem, "--plot"))
        contents[plot] = choice_chart(habitat, drawn, kind, system)
    written = write_all(contents, force=force)
    return Page(habitat, checked.animals, findings, written)
