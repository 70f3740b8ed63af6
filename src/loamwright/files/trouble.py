"""What is wrong in a file of lines: numbers read strictly, problems collected with their place."""

from __future__ import annotations

import math
import re
from typing import NoReturn

from loamwright.errors import InputError, Problem

MAX_PROBLEMS = 20
"""Problems told of one file; after that the file is simply not what it says."""

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)


def lines_of(text: str) -> list[str]:
    """The lines of a file, without the blank or end-of-file marks some writers leave behind."""
    return re.split(r"\r\n|\r|\n", text.rstrip("\x1a\x00 \r\n\t"))


def plain_number(text: str) -> float | None:
    """The number a text is, in plain or scientific writing; None where it is none or endless."""
    if not _NUMBER.fullmatch(text):
        return None
    value = float(text)
    return value if math.isfinite(value) else None


class Trouble:
    """Collects the problems of one file."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []

    def add(self, message: str, field: str = "", line: int = 0, column: int = 1) -> None:
        """Note a problem; too many end the reading."""
        self.problems.append(Problem(message, field, self.file, line, column if line else 0))
        if len(self.problems) >= MAX_PROBLEMS:
            self.stop()

    def stop(self) -> None:
        """Raise what was found, if anything."""
        if self.problems:
            raise InputError(self.problems)

    def fail(self, message: str, field: str = "", line: int = 0) -> NoReturn:
        """Note a problem after which nothing more can be read, and raise."""
        self.problems.append(Problem(message, field, self.file, line, 1 if line else 0))
        raise InputError(self.problems)

    def number(self, text: str, field: str, line: int, column: int = 1) -> float | None:
        """One number, or a noted problem."""
        value = plain_number(text)
        if value is None and _NUMBER.fullmatch(text):
            self.add(f"{text[:30]} is too large to be meant", field, line, column)
        elif value is None:
            self.add(f"{text[:30]!r} is not a number", field, line, column)
        return value
