"""Reader of a price list: a CSV file with one pack of one thing a row.

The first line names the columns, in any order and beside any others::

    key,name,pack,unit,price,currency,source,date
    media/coir,coir,50,L,11.90,EUR,my own shop,2027-01-15
    media/coir,coir,10,L,3.90,EUR,my own shop,2027-01-15

``key`` is what the shopping list calls the thing, ``pack`` how much is in a pack, in ``unit``,
and ``price`` what the pack costs without tax. These four must be there; ``currency``, where given,
must be that of the habitat file. Columns are parted by commas, semicolons or tabs, decimals by a point.
"""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

from loamwright.files.document import suggest
from loamwright.files.table_rows import table_rows
from loamwright.files.trouble import Trouble
from loamwright.files.weather_text import read_weather_text
from loamwright.habitat.money import Price

MAX_BYTES = 2_000_000
"""Largest list read; a thousand rows have about 60 kB."""
MAX_ROWS = 10_000
"""Most rows read."""
MAX_NAME = 200
"""Longest cell [characters]."""
MOST = Decimal(10) ** 9
"""Highest price and largest pack that make sense."""

COLUMNS = ("key", "name", "pack", "unit", "price", "currency", "source", "date")
NEEDED = ("key", "pack", "unit", "price")

_D = Decimal
UNITS: dict[str, tuple[str, Decimal]] = {
    "piece": ("piece", _D(1)), "pieces": ("piece", _D(1)),
    "m": ("m", _D(1)), "cm": ("m", _D("0.01")), "ft": ("m", _D("0.3048")),
    "m2": ("m2", _D(1)), "m²": ("m2", _D(1)), "ft2": ("m2", _D("0.09290304")),
    "L": ("L", _D(1)), "l": ("L", _D(1)), "mL": ("L", _D("0.001")), "m3": ("L", _D(1000)),
    "qt_dry": ("L", _D("1.101220942715")), "ft3": ("L", _D("28.316846592")),
    "gal_us": ("L", _D("3.785411784")), "fl_oz_us": ("L", _D("0.0295735295625")),
    "kg": ("kg", _D(1)), "g": ("kg", _D("0.001")), "lb": ("kg", _D("0.45359237")),
    "oz": ("kg", _D("0.028349523125")),
}  # fmt: skip
"""Units a pack may be given in: the unit its line is counted in, and how many of those it is."""

_KEY = re.compile(r"[a-z0-9][a-z0-9-]*(?:/[a-z0-9][a-z0-9.-]*)?")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?", re.ASCII)


def read_prices(path: Path, currency: str) -> tuple[Price, ...]:
    """Read a price list in a currency; raises `InputError` with the place of all that is wrong."""
    return parse_prices(read_weather_text(path, MAX_BYTES), str(path), currency)


def parse_prices(text: str, file: str, currency: str) -> tuple[Price, ...]:
    """Read the text of a price list; ``file`` names it in messages."""
    trouble = Trouble(file)
    out: list[Price] = []
    seen: dict[tuple[str, Decimal], int] = {}
    for line, cells in table_rows(text, trouble, COLUMNS, NEEDED, MAX_ROWS, "rows"):
        price = _row(cells, line, currency, trouble)
        if price is None:
            continue
        twin = seen.setdefault((price.key, price.pack), line)
        if twin != line:
            trouble.add(f"this pack has a price already, in line {twin}; keep one", price.key, line)
        out.append(price)
    trouble.stop()
    return tuple(out)


def _row(cells: dict[str, str], line: int, currency: str, trouble: Trouble) -> Price | None:
    """One pack, or None after saying what is wrong with it."""
    key = cells["key"]
    if not _KEY.fullmatch(key) or len(key) > MAX_NAME:
        said = repr(key[:40]) if key else "nothing"
        trouble.add(f"{said} is no key; write it as the shopping list does, such as media/coir",
                    "key", line)  # fmt: skip
        return None
    long = [c for c in COLUMNS if len(cells.get(c, "")) > MAX_NAME]
    if long:
        trouble.add(f"is longer than {MAX_NAME} characters", f"{key}.{long[0]}", line)
        return None
    unit = UNITS.get(cells["unit"])
    if unit is None:
        hint = (
            suggest(cells["unit"], UNITS) if cells["unit"] else "piece, m, m2, L and kg are known"
        )
        trouble.add(f"{cells['unit']!r} is no unit of a pack; {hint}", f"{key}.unit", line)
    pack = _number(cells["pack"], f"{key}.pack", line, trouble)
    if pack is not None and pack <= 0:
        trouble.add(f"{cells['pack']} must be more than 0", f"{key}.pack", line)
        pack = None
    price = _number(cells["price"], f"{key}.price", line, trouble)
    if price is not None and price < 0:
        trouble.add(f"{cells['price']} is negative; a price is 0 or more", f"{key}.price", line)
        price = None
    named = cells.get("currency", "")
    if named and named != currency:
        trouble.add(f"is in {named[:10]}, but the habitat file counts in {currency}; one list has one "
                    "currency", f"{key}.currency", line)  # fmt: skip
        return None
    if unit is None or pack is None or price is None:
        return None
    told = cells["pack"] if unit[0] == "piece" else f"{cells['pack']} {cells['unit']}"
    return Price(key, cells.get("name", ""), pack * unit[1], unit[0], told, price,
                 cells.get("source", ""), cells.get("date", ""), line)  # fmt: skip


def _number(text: str, field: str, line: int, trouble: Trouble) -> Decimal | None:
    """One exact number, or a noted problem."""
    what = field.rpartition(".")[2]
    if not text:
        trouble.add(f"there is no {what}; give one, or leave the row out", field, line)
        return None
    if not _NUMBER.fullmatch(text):
        point = text.replace(",", ".")
        hint = f"; write {point}, with a point" if _NUMBER.fullmatch(point) else ""
        trouble.add(f"{text[:30]!r} is not a number{hint}", field, line)
        return None
    value = Decimal(text)
    if abs(value) > MOST:
        trouble.add(f"{text[:30]} is too large to be meant", field, line)
        return None
    return value
