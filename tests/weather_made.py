"""Invented weather and room readings, written as the files a builder would bring."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import datetime, timedelta

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
HEAD = """\
LOCATION,Nowhere Hill,-,XXX,invented,000000,50.0,10.0,1.0,{elevation}
DESIGN CONDITIONS,0
TYPICAL/EXTREME PERIODS,0
GROUND TEMPERATURES,0
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0
COMMENTS 1,made by a test: no station
COMMENTS 2,
DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31
"""
FIRST = HEAD.count("\n") + 1
"""Line of the first row."""

DRY, DEW, HUMIDITY, PRESSURE, DIRECT = 6, 7, 8, 9, 14
"""Places of fields in a row."""


def outdoor(hour: float) -> float:
    """Outdoor temperature [degC] of an invented climate: a cold January, warm afternoons."""
    year = -math.cos(2.0 * math.pi * (hour / 24.0 - 15.0) / 365.0)
    day = -math.cos(2.0 * math.pi * (hour - 3.0) / 24.0)
    return 9.0 + 10.0 * year + 4.0 * day


def rows(*, leap: bool = False) -> list[list[str]]:
    """The rows of a year as fields, each a text, to be changed as a test likes."""
    out = []
    hour = 0
    for month, days in enumerate(DAYS):
        for day in range(1, days + 1 + (leap and month == 1)):
            for clock in range(1, 25):
                t = outdoor(hour + 0.5)
                fields = ["1999", f"{month + 1}", f"{day}", f"{clock}", "0", "?9" * 20]
                fields += [f"{t:.2f}", f"{t - 3.6:.2f}", "78", "97500"]
                fields += ["0", "0", "300", "100", "50", "80", "0", "0", "0", "0", "180", "3.0"]
                fields += ["5", "5", "20.0", "77777", "9", "999999999", "0", "0.1", "0", "88"]
                fields += ["0.2", "0.0", "1.0"]
                out.append(fields)
                hour += (month, day) != (1, 29)
    return out


def epw(made: list[list[str]] | None = None, elevation: str = "321.0") -> str:
    """A whole weather file."""
    made = rows() if made is None else made
    return HEAD.format(elevation=elevation) + "".join(",".join(row) + "\n" for row in made)


def indoor(hour: float) -> tuple[float, float]:
    """Room temperature [degC] and relative humidity [%] at an hour of the year."""
    year = -math.cos(2.0 * math.pi * (hour / 24.0 - 15.0) / 365.0)
    day = -math.cos(2.0 * math.pi * (hour - 3.0) / 24.0)
    return 21.0 + 3.0 * year + 1.5 * day, 45.0 + 12.0 * year


def log(
    step: float = 1.0,
    start: str = "2023-01-01T00:00",
    hours: float = 8760.0,
    head: str = "time,temperature [degC],humidity [%]",
    row: Callable[[str, float, float], str] = "{},{:.2f},{:.1f}".format,
    skip: Callable[[datetime], bool] = lambda _: False,
) -> str:
    """A log of the room: one reading each ``step`` hours, some left out."""
    first = datetime.fromisoformat(start)
    year = datetime.fromisoformat(f"{first.year}-01-01")
    out = [head]
    for i in range(round(hours / step)):
        now = first + timedelta(hours=i * step)
        if not skip(now):
            values = indoor((now - year) / timedelta(hours=1))
            out.append(row(now.isoformat(timespec="minutes"), *values))
    return "\n".join(out) + "\n"
