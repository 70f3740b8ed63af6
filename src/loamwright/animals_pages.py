"""The animals as a person asks for them: room and structure against what they need."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.workflow import ENGINES, Note, check_habitat, read

if TYPE_CHECKING:
    from loamwright.engine.findings import Finding
    from loamwright.engine.life.study import Animals
    from loamwright.habitat.habitat import Habitat


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


def _quiet(_: str) -> None:
    return


def animals(path: Path, *, kept: Path | None = None, note: Note = _quiet) -> Page:
    """Room and structure of a habitat for its animals.

    Warmth of hides and moisture of laying places are those of a check; they are computed, or taken
    from what is kept.

    Raises
    ------
    InputError
        If the file is wrong, or nobody lives in the habitat.
    """
    from loamwright.engine.life.study import study_animals

    note("reading the habitat")
    habitat = read(path)
    if not habitat.animals:
        problem = "names no animals: give species and counts under animals:"
        raise InputError(Problem(problem, "animals", file=str(path)))
    checked = check_habitat(habitat, kept=kept, only=ENGINES, note=note)
    findings = [f for f in checked.findings if f.engine == "animals"]
    return Page(habitat, study_animals(habitat, checked.climate), findings)
