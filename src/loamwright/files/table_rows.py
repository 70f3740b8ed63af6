"""Tables of CSV with named columns, row by row; what is wrong is said with its line."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from loamwright.files.trouble import Trouble


def table_rows(
    text: str, trouble: Trouble, columns: Sequence[str], needed: Sequence[str], most: int, what: str
) -> Iterator[tuple[int, dict[str, str]]]:
    """Lines and cells by column of a table's text, comma, semicolon or tab between its cells.

    Parameters
    ----------
    text : str
        The whole file.
    trouble : Trouble
        Takes what is wrong; what cannot be read any further ends in an `InputError`.
    columns, needed : sequence of str
        Columns that may be there once (others keep their names), and those that must be.
    most : int
        Rows read at most.
    what : str
        What a row is, in the plural.
    """
    first = next((line for line in io.StringIO(text) if line.strip()), "")
    mark = ";" if ";" in first else "\t" if "\t" in first else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    heads: list[str] = []
    found = 0
    while True:
        line = reader.line_num + 1  # where the row begins: a quote left open runs on
        try:
            cells = [cell.strip() for cell in next(reader)]
        except StopIteration:
            break
        except csv.Error as error:
            trouble.fail(f"cannot be read as CSV: {error}", "row", line)
        if not any(cells):
            continue
        if not heads:
            heads = _heads(cells, line, trouble, columns, needed)
            continue
        if found == most:
            trouble.fail(f"holds more than {most} {what}; that many are read", "row", line)
        if len(cells) != len(heads):
            trouble.add(f"has {len(cells)} columns; the first line names {len(heads)}", "row", line)
            continue
        found += 1
        yield line, dict(zip(heads, cells, strict=True))
    if not heads:
        trouble.fail("is empty; the first line names the columns: " + ", ".join(columns))


def _heads(
    cells: list[str], line: int, trouble: Trouble, columns: Sequence[str], needed: Sequence[str]
) -> list[str]:
    """The columns by their names here; others keep theirs."""
    heads = [cell.lower().replace(" ", "_") for cell in cells]
    for name in columns:
        if heads.count(name) > 1:
            trouble.fail(f"{heads.count(name)} columns are named {name!r}; keep one", name, line)
    gone = [name for name in needed if name not in heads]
    if gone:
        listed = ", ".join(repr(cell[:30]) for cell in cells[:8])
        trouble.fail(
            f"no column is {gone[0]!r}; the first line must name the columns, and names {listed}",
            gone[0], line,
        )  # fmt: skip
    return heads
