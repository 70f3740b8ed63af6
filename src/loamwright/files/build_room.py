"""The room: seasons as said in the file, or from a year of weather or readings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from loamwright.errors import InputError
from loamwright.files.build_context import COMMON_PRACTICE, Build
from loamwright.files.paths import inside
from loamwright.files.schema_room import FloorPart, HeatingPart, RoomPart, SeasonPart, WeatherPart
from loamwright.files.weather_csv import RoomLog, read_room_log
from loamwright.files.weather_epw import Outdoors, read_epw
from loamwright.files.weather_hours import MONTHS, STARTS, Note, month_of
from loamwright.habitat.controls import Schedule
from loamwright.habitat.room import HOURS, Floor, Room, RoomYear, Season
from loamwright.physics.room import room_humidities, room_temperatures

HEATED, SETBACK = 293.15, 3.0
"""What a room is heated to by day [K], and how much less by night [K]; common practice."""
HEATED_FROM, HEATED_TO = 6 * 3600.0, 22 * 3600.0
"""The heating's day [s after midnight]; common practice."""
GAINS = 3.0
"""How much warmer than outside an unheated room settles [K]; common practice."""
MOISTURE = 2.5e-3
"""Moisture excess of the cold season [kg/m3]: between the classes low (offices, dwellings with
mechanical ventilation) and middle (dwellings) of NF DTU 31.4 P1-1 (2020), annex B."""
TIME_CONSTANT = 86400.0
"""Time constant of a room [s]: 165 kJ/(m2 K) of a middling heavy building (ISO 13790, from memory)
over a loss of 2 W/(m2 K), both by floor area, is 23 h."""
FLOOR_SPAN = 4.0
"""Usual span of a floor's beams [m]; common practice."""

_LOC = ("room", "weather")
_MODEL = ("heating", "cooling", "gains", "moisture", "time_constant")

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Year:
    """A room's year, which file it is of, and the temperatures that tell its months apart."""

    room: RoomYear
    file: str
    guide: tuple[float, ...]
    altitude: float | None


def build_room(build: Build, part: RoomPart | None, schedule: Schedule, folder: Path) -> Room:
    """The room; its year, then the standard's own numbers, where nothing is said."""
    standard = Room()
    part = part or RoomPart.model_validate({})
    year = None if part.weather is None else _year(build, part.weather, folder)
    winter = _season(build, "winter", part.winter, standard.winter, year, schedule)
    summer = _season(build, "summer", part.summer, standard.summer, year, schedule)
    altitude = 0.0 if part.altitude is None else float(part.altitude)
    if part.altitude is None:
        why = "sea level"
        if year is not None and year.altitude is not None:
            altitude, why = year.altitude, f"the station of {year.file}"
        build.default("room.altitude", build.show(altitude), why)
    floor = part.floor or FloorPart.model_validate({})
    for key, shown in (("runs", "the worse of across and along"), ("span", build.show(FLOOR_SPAN))):
        if getattr(floor, key) is None:
            build.default(f"room.floor.{key}", shown)
    return Room(
        winter, summer, altitude, None if year is None else year.room,
        Floor(
            floor.runs or "unknown", FLOOR_SPAN if floor.span is None else float(floor.span),
            None if floor.bears is None else float(floor.bears),
        ),
    )  # fmt: skip


def _season(
    build: Build,
    name: str,
    part: SeasonPart | None,
    standard: Season,
    year: _Year | None,
    schedule: Schedule,
) -> Season:
    given = part or SeasonPart.model_validate({})
    why = f"heated room, {COMMON_PRACTICE}"
    if year is not None:
        standard, why = _month(name, year, schedule.hours(name))
    values: dict[str, float] = {}
    for key, kind in (("day", "temperature"), ("night", "temperature"), ("humidity", "share")):
        value = getattr(given, key)
        if value is None:
            value = getattr(standard, key)
            build.default(f"room.{name}.{key}", build.show(value, kind), why)
        values[key] = float(value)
    return Season(**values)


def _month(name: str, year: _Year, hours: tuple[float, float]) -> tuple[Season, str]:
    """Means of the coldest or warmest month by day and by night, and what they are."""
    warmest = name == "summer"
    month = month_of(year.guide, warmest=warmest)
    span = slice(STARTS[month], STARTS[month + 1])
    temperature = np.array(year.room.temperature[span]).reshape(-1, 24)
    lit = _within(hours)
    day = float(temperature[:, lit].mean())
    # A day of 24 hours has no night.
    night = float(temperature[:, ~lit].mean()) if not lit.all() else day
    humidity = float(np.mean(year.room.humidity[span]))
    which = f"{'warmest' if warmest else 'coldest'} month of {year.file} ({MONTHS[month]})"
    return Season(day, night, humidity), f"mean of the {which}"


def _within(hours: tuple[float, float]) -> NDArray[np.bool_]:
    """Which hours of a day have their middle within hours that may run across midnight."""
    start, to = hours
    length = (to - start) % 86400.0 or 86400.0
    return (np.arange(24) * 3600.0 + 1800.0 - start) % 86400.0 < length


def _year(build: Build, part: WeatherPart, folder: Path) -> _Year | None:
    """The year from the file it names; None after saying what is wrong."""
    loc = (*_LOC, "file")
    kind = Path(part.file).suffix.lower()
    if kind not in (".epw", ".csv"):
        message = "must be an EnergyPlus weather file (.epw) or the room's own readings (.csv)"
        build.say(loc, f"{part.file!r} {message}")
        return None
    if kind == ".csv":
        for key in _MODEL:
            if getattr(part, key) is not None:
                message = "belongs to a weather file (.epw); readings of the room need no model"
                build.say((*_LOC, key), message, key=True)
    else:
        _check_limits(build, part)
    try:
        path = inside(folder, part.file)
        if kind == ".csv":
            return _read(build, part.file, read_room_log(path))
        return _computed(build, part, read_epw(path))
    except InputError as error:
        build.pass_on(loc, error)
        return None


def _read(build: Build, file: str, log: RoomLog) -> _Year:
    """The year as it was read in the room."""
    _tell(build, log.notes)
    room = RoomYear(log.temperature, log.humidity, f"readings in the room, {file}")
    return _Year(room, file, log.temperature, None)


def _tell(build: Build, notes: tuple[Note, ...]) -> None:
    for note in notes:
        build.default("room.weather.file", note.value, note.why)


def _computed(build: Build, part: WeatherPart, outdoors: Outdoors) -> _Year:
    """The year by the room model, its defaults told."""
    _tell(build, outdoors.notes)
    low = _set_points(build, part)
    high, gains, moisture, constant = math.inf, GAINS, MOISTURE, TIME_CONSTANT
    if part.cooling is None:
        build.default("room.weather.cooling", "none", "none is named")
    else:
        high = float(part.cooling)
    if part.gains is None:
        build.default("room.weather.gains", build.show(gains, "temperature_difference"))
    else:
        gains = float(part.gains)
    if part.moisture is None:
        why = "offices and ventilated dwellings, NF DTU 31.4 P1-1 (2020) annex B"
        build.default("room.weather.moisture", build.show(moisture, "vapour_density"), why)
    else:
        moisture = float(part.moisture)
    if part.time_constant is None:
        why = "middling heavy building, ISO 13790 from memory"
        build.default("room.weather.time_constant", build.show(constant, "time"), why)
    else:
        constant = float(part.time_constant)
    outside = np.array(outdoors.temperature)
    inside_air = room_temperatures(outside, low, high, gains, constant)
    damp = room_humidities(outside, np.array(outdoors.humidity), inside_air, moisture)
    place = f" ({outdoors.place})" if outdoors.place else ""
    source = f"computed from the weather of {part.file}{place}"
    room = RoomYear(tuple(inside_air.tolist()), tuple(damp.tolist()), source)
    return _Year(room, part.file, outdoors.temperature, outdoors.elevation)


def _set_points(build: Build, part: WeatherPart) -> Array:
    """What the heating keeps in each hour of the year [K]; minus infinity for none."""
    if part.heating == "off":
        return np.full(HOURS, -math.inf)
    given = part.heating if isinstance(part.heating, HeatingPart) else None
    day, night = _heated(given)
    start = HEATED_FROM if given is None or given.start is None else float(given.start)
    to = HEATED_TO if given is None or given.to is None else float(given.to)
    for key, shown in (
        ("day", build.show(day, "temperature")),
        ("night", build.show(night, "temperature")),
        ("start", build.show(start, "clock")),
        ("to", build.show(to, "clock")),
    ):
        if getattr(given, key, None) is None:
            build.default(f"room.weather.heating.{'from' if key == 'start' else key}", shown)
    return np.tile(np.where(_within((start, to)), day, night), HOURS // 24)


def _heated(part: HeatingPart | None) -> tuple[float, float]:
    """Set points by day and by night [K]."""
    day = HEATED if part is None or part.day is None else float(part.day)
    night = day - SETBACK if part is None or part.night is None else float(part.night)
    return day, night


def _check_limits(build: Build, part: WeatherPart) -> None:
    """Say where heating and cooling would fight each other, and where hours are none."""
    given = part.heating if isinstance(part.heating, HeatingPart) else None
    if given is not None:
        start = HEATED_FROM if given.start is None else float(given.start)
        if given.to is not None and start == float(given.to):
            message = "is the same time as 'from'; from 00:00 to 24:00 is the whole day"
            build.say((*_LOC, "heating", "to"), message)
    if part.cooling is None or part.heating == "off":
        return
    warmest = max(_heated(given))
    if part.cooling <= warmest:
        kept = build.show(warmest, "temperature")
        message = f"{part.cooling.text} must lie above what the heating keeps, {kept}"
        build.say((*_LOC, "cooling"), message)
