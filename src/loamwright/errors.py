"""What can go wrong, as one small tree.

::

    LoamwrightError
    ├── InputError      the input is wrong: one or more located problems   (exit status 2)
    │   └── UnitError   a text is not the quantity it should be             (exit status 2)
    └── BalanceError    an engine failed its own balance                    (exit status 3)

An `InputError` carries *all* problems found, so that a person mends a file once, not ten times.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong: where, what, and what would be right."""

    message: str
    field: str = ""
    file: str = ""
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        place = self.file
        if self.line:
            place += f":{self.line}:{self.column}"
        return ": ".join(part for part in (place, self.field, self.message) if part)


class LoamwrightError(Exception):
    """Anything this package raises on purpose."""


class InputError(LoamwrightError):
    """The input is wrong; `problems` lists everything found, in the order of the file."""

    def __init__(self, problems: Problem | list[Problem] | str) -> None:
        if isinstance(problems, str):
            problems = Problem(problems)
        if isinstance(problems, Problem):
            problems = [problems]
        self.problems = sorted(problems, key=lambda p: (p.file, p.line, p.column))
        super().__init__("\n".join(str(p) for p in self.problems))


class UnitError(InputError):
    """A text could not be read as a quantity of the wanted kind."""


class BalanceError(LoamwrightError):
    """An engine's own balance does not close; its numbers must not be used."""
