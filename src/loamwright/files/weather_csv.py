"""Reader of a room's own readings: a CSV file of time, temperature and relative humidity.

The first line names the columns with their units, in any order and beside any others::

    time,temperature [degC],humidity [%]
    2024-03-01T14:05,20.6,47.5

Columns are parted by commas, semicolons or tabs; where it is not commas, numbers may have a decimal
comma. Times are local, in ISO 8601, and rise; steps may be regular or not. Readings are joined by
straight lines, and each hour gets the mean of those lines. The last 365 days are used, and the
year follows itself: a log may begin on any day.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from loamwright.files.trouble import Trouble
from loamwright.files.weather_hours import MAX_GAP, STARTS, Note, hour_name
from loamwright.files.weather_text import read_weather_text
from loamwright.habitat.room import HOURS
from loamwright.units import KINDS

Array = NDArray[np.float64]

MAX_BYTES = 32_000_000
"""Largest log read; a reading a minute for a year has about 17 MB."""

TIMES = ("time", "timestamp", "date time", "datetime")
LIMITS = {"temperature": (223.15, 343.15), "humidity": (0.0, 1.1)}
"""Least and greatest reading [K, 1]; sensors overshoot 100 %, which is then taken as 100 %."""

LIKELY = (263.15, 318.15)
"""Least and greatest mean of a year [K]: beyond it the column is likely in another unit."""

CLOCK_CHANGE = 1.0
"""How far a clock may be set back [h]; readings of the repeated hour are left out."""

_HEADING = re.compile(r"\s*(?P<name>[^\[\]()]*?)\s*(?:[\[(]\s*(?P<unit>[^\[\]()]*?)\s*[\])]\s*)?")
_ISO = re.compile(
    r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d(?::\d\d(?:\.\d{1,6})?)?(?P<offset>Z|[+-]\d\d:\d\d)?", re.ASCII
)
_EMPTY = frozenset({"", "-", "--", "---", "na", "n/a", "nan", "null", "none"})


@dataclass(frozen=True, slots=True)
class RoomLog:
    """Hourly means of a year from 1 January 00:00 on: ``temperature`` [K], ``humidity`` (fraction)."""

    temperature: tuple[float, ...]
    humidity: tuple[float, ...]
    notes: tuple[Note, ...]


@dataclass(slots=True)
class _Column:
    """A column of numbers: where it stands, how its unit converts, and the readings in it.

    A value in SI is (number + ``offset``) x ``scale``; ``times`` are hours [h].
    """

    name: str
    place: int
    heading: str
    scale: float
    offset: float
    times: list[float] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)


def read_room_log(path: Path) -> RoomLog:
    """Read a log; raises `InputError` with the place of everything that is wrong."""
    return parse_room_log(read_weather_text(path, MAX_BYTES), str(path))


def parse_room_log(text: str, file: str) -> RoomLog:
    """Read the text of a log; ``file`` names it in messages.

    Raises `InputError` with the place of everything that is wrong.
    """
    trouble = Trouble(file)
    notes: list[Note] = []
    rows = _rows(text, trouble)
    top, heads = next(rows, (1, []))
    clock_at, columns = _heads(heads, top, trouble)
    clock = _Clock(trouble, clock_at, notes)
    for line, row in rows:
        if len(row) != len(heads):
            trouble.add(f"has {len(row)} columns; the first line names {len(heads)}", "row", line)
            continue
        time = clock.read(row[clock_at], line)
        if time is not None:
            for column in columns:
                _read(column, row[column.place], time, line, trouble)
    trouble.stop()
    if clock.leap:
        notes.append(Note("29 February left out", "a year of 365 days is computed"))
    hourly = [_hourly(column, trouble, notes) for column in columns]
    trouble.stop()
    temperature, humidity = hourly
    _check_units(temperature, humidity, columns, top, trouble)
    return RoomLog(
        tuple(temperature.tolist()), tuple(np.minimum(humidity, 1.0).tolist()), tuple(notes)
    )


def _rows(text: str, trouble: Trouble) -> Iterator[tuple[int, list[str]]]:
    """Line number and cells of each row that is not empty; the first decides what parts cells."""
    first = next((line for line in io.StringIO(text) if line.strip()), "")
    mark = ";" if ";" in first else "\t" if "\t" in first else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    while True:
        line = reader.line_num + 1  # where the row begins: a quote left open runs on
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            trouble.fail(f"cannot be read as CSV: {error}", "row", line)
        if any(cell.strip() for cell in row):
            yield line, row


def _heads(heads: list[str], line: int, trouble: Trouble) -> tuple[int, list[_Column]]:
    """Where the time stands, and the columns of temperature and humidity."""
    found: dict[str, list[tuple[int, str]]] = {"time": [], "temperature": [], "humidity": []}
    for i, head in enumerate(heads):
        match = _HEADING.fullmatch(head)
        name = " ".join(match["name"].lower().replace("_", " ").split()) if match else ""
        name = "time" if name in TIMES else name.removeprefix("relative ")
        if match and name in found:
            found[name].append((i, match["unit"] or ""))
    listed = ", ".join(repr(head.strip()[:30]) for head in heads[:8]) or "nothing"
    for name, like in (
        ("time", "time"),
        ("temperature", "temperature [degC]"),
        ("humidity", "humidity [%]"),
    ):
        if len(found[name]) != 1:
            many = f"{len(found[name])} columns are named so" if found[name] else "no column is it"
            trouble.add(
                f"{many}; the first line must name one {like!r}, and names {listed}", name, line
            )
    trouble.stop()
    columns = []
    for name, kind, like in (
        ("temperature", "temperature", "temperature [degC] or temperature [degF]"),
        ("humidity", "share", "humidity [%]"),
    ):
        place, text = found[name][0]
        unit = KINDS[kind].units.get(text.replace("\N{DEGREE SIGN} ", "\N{DEGREE SIGN}"))
        if unit is None:
            said = f"the unit {text[:20]!r} is not read" if text else "the unit is missing"
            trouble.add(f"{said}; write the column's name as {like}", name, line)
            continue
        heading = heads[place].strip()[:40]
        columns.append(_Column(name, place, heading, float(unit.scale), float(unit.offset)))
    trouble.stop()
    return found["time"][0][0], columns


class _Clock:
    """Times of rows as hours since the beginning of year 0, without the days of 29 February."""

    def __init__(self, trouble: Trouble, place: int, notes: list[Note]) -> None:
        self.trouble = trouble
        self.place = place
        self.notes = notes
        self.latest = -np.inf  # of the rows used
        self.before = -np.inf  # of the row before, used or not
        self.changed = -np.inf  # where the clock was last set back
        self.leap = False

    def read(self, text: str, line: int) -> float | None:
        """The time of a row [h]; None where it is wrong, or the row is left out."""
        now = self._parse(text.strip(), line)
        if now is None:
            return None
        if now.month == 2 and now.day == 29:
            self.leap = True
            return None
        seconds = now.minute * 60 + now.second + now.microsecond * 1e-6
        hours = STARTS[now.month - 1] + 24 * (now.day - 1) + now.hour + seconds / 3600.0
        time = HOURS * float(now.year) + hours
        if time > self.latest:
            self.latest = self.before = time
            return time
        # Readings after a set-back, until the clock is past the hour that is there twice.
        if time > self.before or self._set_back(time, text.strip(), line):
            self.before = time
        return None

    def _set_back(self, time: float, text: str, line: int) -> bool:
        """Whether a time that does not rise is the yearly change of the clock."""
        likely = self.latest - time <= CLOCK_CHANGE and self.latest - self.changed > HOURS / 2
        if likely:
            self.changed = self.latest
            self.notes.append(
                Note(
                    "the hour that is there twice, read once",
                    f"the clock is set back at {text[:20]} (line {line})",
                )
            )
        else:
            self.trouble.add(
                f"{text[:30]} does not come after the time before it; times must rise", "time",
                line, self.place + 1,
            )  # fmt: skip
        return likely

    def _parse(self, text: str, line: int) -> datetime | None:
        match = _ISO.fullmatch(text)
        like = "write local time like 2024-03-01T14:05"
        if match is None:
            self.trouble.add(f"{text[:30]!r} is not read; {like}", "time", line)
            return None
        if match["offset"] == "Z":
            self.trouble.add(f"{text[:30]!r} is world time (Z); {like}", "time", line)
            return None
        try:
            return datetime.fromisoformat(text).replace(tzinfo=None)
        except ValueError:
            self.trouble.add(f"{text[:30]!r} is no time of any day; {like}", "time", line)
            return None


def _read(column: _Column, text: str, time: float, line: int, trouble: Trouble) -> None:
    """One cell of numbers; an empty one is a reading that is missing."""
    text = text.strip()
    if text.lower() in _EMPTY:
        return
    if "," in text and "." not in text:
        text = text.replace(",", ".", 1)
    number = trouble.number(text, column.name, line)
    if number is None:
        return
    value = (number + column.offset) * column.scale
    low, high = LIMITS[column.name]
    if not low <= value <= high:
        least, most = (limit / column.scale - column.offset for limit in (low, high))
        trouble.add(
            f"{text} cannot be in a column {column.heading!r}; {least:.0f} to {most:.0f} is read",
            column.name, line,
        )  # fmt: skip
        return
    column.times.append(time)
    column.values.append(value)
    column.lines.append(line)


def _hourly(column: _Column, trouble: Trouble, notes: list[Note]) -> Array:
    """Means of the hours of the year, after the gaps have been looked at."""
    times, values = np.array(column.times), np.array(column.values)
    if not len(times):
        trouble.fail("no reading is in this column", column.name, 1)
    used = times > times[-1] - HOURS
    if not used.all():
        notes.append(
            Note(f"{column.name} of the last 365 days", "the file holds more than a year of it")
        )
    times, values = times[used], values[used]
    lines = np.array(column.lines)[used]
    if times[-1] - times[0] < HOURS - MAX_GAP:
        days = (times[-1] - times[0]) / 24.0
        trouble.fail(
            f"covers {days:.1f} days, from {hour_name(times[0] % HOURS)} to "
            f"{hour_name(times[-1] % HOURS)}; a whole year is needed",
            column.name, int(lines[-1]),
        )  # fmt: skip
    steps = np.append(np.diff(times), times[0] + HOURS - times[-1])
    for i in np.nonzero(steps > MAX_GAP)[0]:
        trouble.add(
            f"nothing is read for {steps[i]:.1f} h from {hour_name(times[i] % HOURS)} on; up to "
            f"{MAX_GAP} h are bridged",
            column.name, int(lines[(i + 1) % len(lines)]),
        )  # fmt: skip
    _note_bridges(column.name, times, steps, notes)
    return hour_means(times % HOURS, values)


def _note_bridges(name: str, times: Array, steps: Array, notes: list[Note]) -> None:
    """Say how many hours have no reading of their own."""
    bare = HOURS - len(np.unique(np.floor(times % HOURS)))
    if bare:
        i = int(np.argmax(steps))
        notes.append(
            Note(
                f"{name} of {bare} hours",
                f"none is read in them, bridged by straight lines; longest {steps[i]:.3g} h from "
                f"{hour_name(times[i] % HOURS)}",
            )
        )


def hour_means(times: Array, values: Array) -> Array:
    """Mean of each hour of a year that follows itself, of straight lines between readings.

    Parameters
    ----------
    times : NDArray (readings,)
        Hours of the year, each once, in any order [h].
    values : NDArray (readings,)
        What is read, of any unit.

    Returns
    -------
    NDArray (8760,)
        Exact means of the lines.
    """
    order = np.argsort(times)
    t, v = times[order], values[order]
    t = np.concatenate([[t[-1] - HOURS], t, [t[0] + HOURS]])
    v = np.concatenate([[v[-1]], v, [v[0]]])
    edges = np.arange(HOURS + 1.0)
    every = np.union1d(t, edges)
    heights = np.interp(every, t, v)
    areas = np.concatenate([[0.0], np.cumsum(0.5 * (heights[1:] + heights[:-1]) * np.diff(every))])
    return np.diff(areas[np.searchsorted(every, edges)])


def _check_units(
    temperature: Array, humidity: Array, columns: list[_Column], line: int, trouble: Trouble
) -> None:
    """Refuse columns whose numbers are likely in another unit than their heading says."""
    mean = float(temperature.mean())
    if not LIKELY[0] <= mean <= LIKELY[1]:
        column = columns[0]
        shown = mean / column.scale - column.offset
        trouble.add(
            f"the year's mean in {column.heading!r} is {shown:.0f}: is the column in another unit?",
            "temperature", line,
        )  # fmt: skip
    if float(humidity.max()) <= 0.01:
        heading = columns[1].heading
        trouble.add(
            f"no reading in {heading!r} is above 1: is the column a fraction, not per cent?",
            "humidity", line,
        )  # fmt: skip
    trouble.stop()
