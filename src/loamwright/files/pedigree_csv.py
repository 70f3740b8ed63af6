"""Reader of a pedigree kept as a table: a CSV file with one animal a row.

The first line names the columns, in any order and beside any others; ``name`` must be among them::

    name,species,sex,sire,dam,lives_in
    Anise,takydromus-sexlineatus,male,Sorrel,Thyme,science room

``sex`` is male, female or unknown (m, f and u too), empty cells are not known, and ``lives_in`` is
the existing habitat an animal is in, or any other place where it still lives. Columns are parted by
commas, semicolons or tabs.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from loamwright.errors import Problem
from loamwright.files.schema_residents import IndividualPart
from loamwright.files.table_rows import table_rows
from loamwright.files.trouble import Trouble
from loamwright.files.weather_text import read_weather_text

MAX_BYTES = 4_000_000
"""Largest table read; ten thousand animals have about 600 kB."""
MAX_ANIMALS = 10_000
"""Most animals read."""
MAX_NAME = 200
"""Longest name [characters]."""

COLUMNS = ("name", "species", "sex", "sire", "dam", "lives_in")
SEXES = {"": None, "m": "male", "f": "female", "u": "unknown", "?": "unknown"}
"""Short ways to write a sex."""


@dataclass(frozen=True, slots=True)
class Row:
    """One animal of a table: what it says, the ``line`` it stands in, and the ``file``."""

    part: IndividualPart
    lives_in: str
    line: int
    file: str

    def problem(self, message: str, field: str = "") -> Problem:
        """A problem at a cell of the row."""
        where = f"{self.part.name}.{field}" if field else self.part.name
        return Problem(message, where, self.file, self.line, 1)


def read_pedigree(path: Path) -> list[Row]:
    """Read a table; raises `InputError` with the place of everything that is wrong."""
    return parse_pedigree(read_weather_text(path, MAX_BYTES), str(path))


def parse_pedigree(text: str, file: str) -> list[Row]:
    """Read the text of a table; ``file`` names it in messages."""
    trouble = Trouble(file)
    out: list[Row] = []
    for line, cells in table_rows(text, trouble, COLUMNS, ("name",), MAX_ANIMALS, "animals"):
        row = _row(cells, line, file, trouble)
        if row is not None:
            out.append(row)
    trouble.stop()
    return out


def _row(cells: dict[str, str], line: int, file: str, trouble: Trouble) -> Row | None:
    """One animal, or None after saying what is wrong with it."""
    name = cells["name"]
    if not name:
        trouble.add("has no name", "name", line)
        return None
    for key in COLUMNS:
        if len(cells.get(key, "")) > MAX_NAME:
            trouble.add(f"is longer than {MAX_NAME} characters", f"{name[:30]}.{key}", line)
            return None
    sex = cells.get("sex", "").lower()
    sex_word = SEXES.get(sex, sex)
    if sex_word not in (None, "male", "female", "unknown"):
        trouble.add(
            f"{cells['sex']!r} is not one of: male, female, unknown (or m, f, u)",
            f"{name}.sex", line,
        )  # fmt: skip
        return None
    part = IndividualPart.model_validate(
        {
            "name": name, "sex": sex_word,
            **{key: cells.get(key) or None for key in ("species", "sire", "dam")},
        }
    )  # fmt: skip
    return Row(part, cells.get("lives_in", ""), line, file)
