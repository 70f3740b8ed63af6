"""Reader of EnergyPlus weather files (.epw): eight lines of head, then a row for each hour.

Fields, their units and the values that stand for a missing one are those of the format's public
data dictionary (EnergyPlus, Auxiliary Programs, "EPW data dictionary"). Files of typical years put
months of different years together, so the year of a row is not looked at; the hours must be
whole and in order. Hour 1 is the one that ends at 01:00.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from loamwright.files.trouble import Trouble, lines_of, plain_number
from loamwright.files.weather_hours import (
    DAYS,
    MAX_GAP,
    MONTHS,
    Note,
    bridged,
    gaps_of,
    hour_name,
)
from loamwright.files.weather_text import read_weather_text
from loamwright.habitat.room import HOURS
from loamwright.physics.moist_air import ZERO_CELSIUS, relative_humidity_at, saturation_pressure

MAX_BYTES = 8_000_000
"""Largest weather file read; a year has 1.5 MB."""

LEAST_FIELDS, MOST_FIELDS = 32, 35
"""Fields of a row; older files end after the days since the last snow."""

_HEAD = 40
"""Lines among which the head must end."""


@dataclass(frozen=True, slots=True)
class _Field:
    """A field of a row: its ``place``, limits, and the value from which on it is missing."""

    name: str
    place: int
    low: float
    high: float
    missing: float
    unit: str


_FIELDS = (
    _Field("dry bulb temperature", 6, -70.0, 70.0, 99.9, "degC"),
    _Field("dew point temperature", 7, -70.0, 70.0, 99.9, "degC"),
    _Field("relative humidity", 8, 0.0, 110.0, 999.0, "%"),
    _Field("atmospheric pressure", 9, 31_000.0, 120_000.0, 999_999.0, "Pa"),
    _Field("global horizontal radiation", 13, 0.0, 1500.0, 9999.0, "Wh/m2"),
    _Field("direct normal radiation", 14, 0.0, 1500.0, 9999.0, "Wh/m2"),
    _Field("diffuse horizontal radiation", 15, 0.0, 1500.0, 9999.0, "Wh/m2"),
)


@dataclass(frozen=True, slots=True)
class Outdoors:
    """The weather of a year, hour by hour from 1 January 00:00 on, standard time.

    ``temperature`` [K] and ``humidity`` (fraction, at most 1); ``pressure`` [Pa] and
    the radiation on the level, straight from the sun and from the sky [W/m2], each None where
    the file has no whole year of it. ``place`` as the file names it, ``elevation`` [m].
    """

    place: str
    elevation: float
    temperature: tuple[float, ...]
    humidity: tuple[float, ...]
    pressure: tuple[float, ...] | None
    global_horizontal: tuple[float, ...] | None
    direct_normal: tuple[float, ...] | None
    diffuse_horizontal: tuple[float, ...] | None
    notes: tuple[Note, ...]


def read_epw(path: Path) -> Outdoors:
    """Read an EPW file; raises `InputError` with the place of everything that is wrong."""
    return parse_epw(read_weather_text(path, MAX_BYTES), str(path))


def parse_epw(text: str, file: str) -> Outdoors:
    """Read the text of an EPW file; ``file`` names it in messages.

    Raises `InputError` with the place of everything that is wrong.
    """
    trouble = Trouble(file)
    lines = lines_of(text)
    place, elevation = _location(lines[0], trouble)
    first = _data_periods(lines, trouble)
    columns: list[list[float | None]] = [[] for _ in _FIELDS]
    at: list[int] = []
    leap = 0
    for number, fields, keep in _rows(lines, first, trouble):
        leap += not keep
        if keep:
            at.append(number)
            for field, column in zip(_FIELDS, columns, strict=True):
                column.append(_value(field, fields, number, trouble))
    trouble.stop()
    notes: list[Note] = []
    if leap:
        notes.append(Note("29 February left out", "a year of 365 days is computed"))
    _humidity_from_dew_point(columns, notes)
    needed = {"dry bulb temperature", "relative humidity"}
    whole: list[tuple[float, ...] | None] = []
    for field, column in zip(_FIELDS, columns, strict=True):
        found = _whole(field, column, at, field.name in needed, trouble, notes)
        whole.append(None if found is None else tuple(found))
    trouble.stop()
    dry, _, humidity, pressure, total, direct, diffuse = whole
    assert dry is not None
    assert humidity is not None
    return Outdoors(
        place,
        elevation,
        tuple(t + ZERO_CELSIUS for t in dry),
        tuple(min(h / 100.0, 1.0) for h in humidity),
        pressure,
        total,
        direct,
        diffuse,
        tuple(notes),
    )


def _location(line: str, trouble: Trouble) -> tuple[str, float]:
    """Place and elevation [m] from the first line."""
    fields = [field.strip() for field in line.split(",")]
    if fields[0].upper() != "LOCATION":
        trouble.fail(
            f"{fields[0][:30]!r} begins the file; an EPW weather file begins with LOCATION",
            "LOCATION", 1,
        )  # fmt: skip
    if len(fields) < 10:
        trouble.fail(
            f"has {len(fields) - 1} fields; 9 are needed, the last the elevation", "LOCATION", 1
        )
    elevation = trouble.number(fields[9], "elevation", 1, line.find(fields[9]) + 1)
    if elevation is not None and not -450.0 <= elevation <= 6000.0:
        trouble.add(f"{elevation:g} m cannot be; -450 to 6000 m is read", "elevation", 1)
    named = [field for field in (fields[1], fields[3]) if field and field != "-"]
    return ", ".join(named)[:80], elevation or 0.0


def _data_periods(lines: list[str], trouble: Trouble) -> int:
    """Index of the first row of data, after the line that ends the head."""
    heads = [[field.strip() for field in line.split(",")] for line in lines[:_HEAD]]
    last = next((i for i, head in enumerate(heads) if head[0].upper() == "DATA PERIODS"), None)
    if last is None:
        trouble.fail(
            "there is no DATA PERIODS line: the file is no EPW weather file, or is cut short",
            "DATA PERIODS", len(heads),
        )  # fmt: skip
    for field, place in (("number of data periods", 1), ("records per hour", 2)):
        said = heads[last][place] if len(heads[last]) > place else ""
        if trouble.number(said, field, last + 1) not in (None, 1.0):
            trouble.add(f"{said[:30]} is not read; 1 is right", field, last + 1)
    trouble.stop()
    return last + 1


def _rows(lines: list[str], first: int, trouble: Trouble) -> Iterator[tuple[int, list[str], bool]]:
    """Line number and fields of each row, and whether it is of a day that is used.

    A row that is not the hour that is due ends the reading: all after it would be out of place.
    """
    at = first
    for month, days in enumerate(DAYS):
        day = 1
        while day <= days or (month, day) == (1, 29):
            for hour in range(1, 25):
                if at >= len(lines):
                    trouble.stop()
                    trouble.fail(
                        f"the file ends after {at - first} rows, where {day} {MONTHS[month]}, hour "
                        f"{hour} is due: it is cut short; {HOURS} hours are needed",
                        "date", len(lines),
                    )  # fmt: skip
                fields = lines[at].split(",")
                if (month, day, hour) == (1, 29, 1) and _date(fields) == (3, 1, 1):
                    break
                _in_order(fields, at + 1, (month + 1, day, hour), trouble)
                at += 1
                yield at, fields, (month, day) != (1, 29)
            day += 1
    if at < len(lines):
        trouble.stop()
        trouble.fail("rows follow after the end of the year; one year is read", "date", at + 1)


def _date(fields: list[str]) -> tuple[int, int, int] | None:
    """Month, day and hour of a row; None where they are not whole numbers."""
    texts = [field.strip() for field in fields[1:4]]
    if len(texts) < 3 or not all(re.fullmatch(r"[0-9]{1,2}", text) for text in texts):
        return None
    month, day, hour = (int(text) for text in texts)
    return month, day, hour


def _in_order(fields: list[str], number: int, due: tuple[int, int, int], trouble: Trouble) -> None:
    """Refuse a row that is not of the hour that is due, or has too few or too many fields."""
    if not LEAST_FIELDS <= len(fields) <= MOST_FIELDS:
        trouble.stop()
        trouble.fail(
            f"has {len(fields)} fields; {MOST_FIELDS} are right (at least {LEAST_FIELDS})", "row",
            number,
        )  # fmt: skip
    if _date(fields) != due:
        trouble.stop()
        found = ", ".join(field.strip()[:10] for field in fields[1:4])
        trouble.fail(
            f"month, day and hour are {found!r} where {due[0]}, {due[1]}, {due[2]} is due; rows must "
            "run hour by hour from 1 January, hour 1, to 31 December, hour 24",
            "date", number,
        )  # fmt: skip


def _value(field: _Field, fields: list[str], line: int, trouble: Trouble) -> float | None:
    """A field of a row; None where it is missing or wrong."""
    text = fields[field.place].strip()
    if not text:
        return None
    value = plain_number(text)
    if value is not None and value >= field.missing:
        return None
    if value is not None and field.low <= value <= field.high:
        return value
    column = sum(len(before) + 1 for before in fields[: field.place]) + 1
    if value is None:
        trouble.number(text, field.name, line, column)
    else:
        trouble.add(
            f"{value:g} {field.unit} cannot be; {field.low:g} to {field.high:g} {field.unit} is read, "
            f"or {field.missing:g} where it is missing",
            field.name, line, column,
        )  # fmt: skip
    return None


def _humidity_from_dew_point(columns: list[list[float | None]], notes: list[Note]) -> None:
    """Fill hours without relative humidity that have a dew point."""
    dry, dew, humidity = columns[0], columns[1], columns[2]
    count = 0
    for i, (t, d) in enumerate(zip(dry, dew, strict=True)):
        if humidity[i] is None and t is not None and d is not None:
            pressure = saturation_pressure(d + ZERO_CELSIUS)
            humidity[i] = min(100.0 * relative_humidity_at(t + ZERO_CELSIUS, pressure), 100.0)
            count += 1
    if count:
        notes.append(Note(f"relative humidity of {count} hours", "from their dew point"))


def _whole(
    field: _Field,
    column: list[float | None],
    at: list[int],
    needed: bool,
    trouble: Trouble,
    notes: list[Note],
) -> list[float] | None:
    """A column with its short gaps bridged; a long one is a problem of a column that is needed, and
    makes another one None."""
    gaps = gaps_of(column)
    long = [gap for gap in gaps if gap[1] > MAX_GAP]
    for first, length in long if needed else ():
        trouble.add(
            f"is missing for {length} hours from {hour_name(first)}; up to {MAX_GAP} are bridged",
            field.name, at[first],
        )  # fmt: skip
    if long:
        return None
    if gaps and field.name != "dew point temperature":  # which is not used by itself
        longest = max(gaps, key=lambda gap: gap[1])
        count = sum(length for _, length in gaps)
        notes.append(
            Note(
                f"{field.name} of {count} hours",
                f"missing, bridged by straight lines; longest {longest[1]} h from "
                f"{hour_name(longest[0])}",
            )
        )
    return bridged(column, gaps)
