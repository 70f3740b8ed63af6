"""A price changed in a price list, and nothing else: other rows, columns and ends stay as they are."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from loamwright.errors import InputError, Problem
from loamwright.files.prices_csv import COLUMNS, MAX_BYTES, UNITS, parse_prices
from loamwright.files.writer import write_whole

BY_HAND = "typed in the workbench"
"""Source of a price that was typed there for a thing that had none."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A price as a person typed it: ``price`` of a pack of the thing called ``key``; ``pack`` and
    ``unit`` as a list writes them (``70``, ``L``), ``name`` for people, ``date`` of the day."""

    key: str
    pack: str
    unit: str
    price: str
    name: str = ""
    date: str = ""


def text_of(path: Path) -> tuple[str, bytes]:
    """A list's text and the mark it begins with; raises `InputError` where it cannot be written back
    as it was."""
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise InputError(Problem(f"cannot be read: {error.strerror}", file=str(path))) from None
    if len(raw) > MAX_BYTES:
        raise InputError(Problem(f"is larger than {MAX_BYTES / 1e6:g} MB", file=str(path)))
    mark = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    try:
        return raw[len(mark) :].decode("utf-8"), mark
    except UnicodeDecodeError:
        problem = "is not UTF-8; save the list as UTF-8 text, then prices can be changed here"
        raise InputError(Problem(problem, file=str(path))) from None


def write_price(path: Path, currency: str, typed: Typed) -> None:
    """Put a price into a list on disk, whole or not at all; a list that is not there is begun.

    Raises
    ------
    InputError
        If the price is wrong, the list is, or it cannot be written.
    """
    text, mark = text_of(path) if path.exists() else (_head(), b"")
    changed = with_price(text, str(path), currency, typed)
    if changed != text or not path.exists():
        write_whole(path, mark + changed.encode("utf-8"), force=True)


def with_price(text: str, file: str, currency: str, typed: Typed) -> str:
    """The text of a list with a price in it; the row of that pack is changed, or one added."""
    row = _line((typed.key, typed.name, typed.pack, typed.unit, typed.price.strip(), currency,
                 BY_HAND, typed.date), ",")  # fmt: skip
    # A price is read by the list's own rules, so that it is refused in the same words.
    (wanted,) = parse_prices(f"{_head()}{row}", file, currency)
    lines = list(io.StringIO(text, newline=""))
    known = parse_prices(text, file, currency) if len(lines) > 1 else ()
    here = next((p for p in known if (p.key, p.pack, p.unit) == (wanted.key, wanted.pack, wanted.unit)),
                None)  # fmt: skip
    heads, mark = _heads(lines)
    if here is not None:
        if here.price == wanted.price:
            return text
        put = {"price": typed.price.strip(), **({"date": typed.date} if typed.date else {})}
        first, last = _row(lines, here.line - 1)
        lines[first:last] = [_changed("".join(lines[first:last]), mark, heads, put)]
        changed = "".join(lines)
    else:
        end = "\r\n" if "\r\n" in text else "\n"
        cells = {"key": typed.key, "name": typed.name, "pack": typed.pack, "unit": typed.unit,
                 "price": typed.price.strip(), "currency": currency, "source": BY_HAND,
                 "date": typed.date}  # fmt: skip
        added = _line([cells.get(h, "") for h in heads], mark, end)
        changed = f"{text}{'' if text.endswith(end[-1]) else end}{added}"
    parse_prices(changed, file, currency)
    return changed


def _head() -> str:
    return _line(COLUMNS, ",")


def _line(cells: object, mark: str, end: str = "\n") -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=mark, lineterminator=end).writerow(cells)  # type: ignore[arg-type]
    return out.getvalue()


def _heads(lines: list[str]) -> tuple[list[str], str]:
    """Columns by their names, and what parts them."""
    first = next(line for line in lines if line.strip())
    mark = ";" if ";" in first else "\t" if "\t" in first else ","
    cells = next(csv.reader([first], delimiter=mark))
    return [c.strip().lower().replace(" ", "_") for c in cells], mark


def _row(lines: list[str], first: int) -> tuple[int, int]:
    """Where a row begins and ends: quotes may run over lines."""
    last = first + 1
    while "".join(lines[first:last]).count('"') % 2 and last < len(lines):
        last += 1
    return first, last


def _changed(row: str, mark: str, heads: list[str], put: dict[str, str]) -> str:
    """A row with some of its cells given anew, the others as they were written."""
    body = row.rstrip("\r\n")
    cells, at, quoted = [], 0, False
    for n, letter in enumerate(body):
        if letter == '"':
            quoted = not quoted
        elif letter == mark and not quoted:
            cells.append(body[at:n])
            at = n + 1
    cells.append(body[at:])
    for n, head in enumerate(heads):
        if head in put:
            cells[n] = put[head]
    return mark.join(cells) + row[len(body) :]


def pack_of(text: str) -> tuple[str, str]:
    """A pack as people type it, such as ``70 L`` or ``1``: amount and unit; pieces where none is
    named."""
    number, _, unit = text.strip().partition(" ")
    named = unit.strip() or "piece"
    if named not in UNITS:
        raise InputError(Problem(f"{named[:20]!r} is no unit of a pack; write 1 piece, 2 m, 1 m2, 70 L "
                                 "or 5 kg", "pack"))  # fmt: skip
    return number, named
