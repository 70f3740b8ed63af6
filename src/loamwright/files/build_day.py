"""The day's hours and how they change with the seasons."""

from __future__ import annotations

import math

from loamwright.files.build_context import Build
from loamwright.files.document import Loc
from loamwright.files.schema_equipment import DayPart, HoursPart
from loamwright.habitat.controls import Schedule
from loamwright.physics.daylength import DAY, solstice_days

USUAL = (7 * 3600.0, 19 * 3600.0)
"""From lights on to lights off where nothing is said [s after midnight]."""


def build_schedule(build: Build, part: DayPart | None) -> Schedule:
    """The day in spring and autumn, in winter and in summer, and its ramp."""
    if part is None:
        build.default("day", "07:00 to 19:00")
        return Schedule(USUAL)
    day = _middle(build, part)
    by_table = {
        season: span(build, ("day", season), hours) if hours is not None else None
        for season, hours in (("winter", part.winter), ("summer", part.summer))
    }
    latitude = None if part.latitude is None else float(part.latitude)
    winter, summer = by_table["winter"], by_table["summer"]
    if latitude is not None:
        short, long = solstice_days(latitude)
        if short <= 0.0 or long >= DAY:
            degrees = math.degrees(abs(latitude))
            build.say(
                ("day", "latitude"),
                f"at {degrees:g} degrees the sun stays down in winter and up in summer; give the "
                "hours by winter and summer instead",
            )
            latitude = None
        else:
            for season, length, given in (("winter", short, winter), ("summer", long, summer)):
                if given is None:
                    build.default(
                        f"day.{season}",
                        _shown(build, _round_middle(day, length)),
                        "the sunrise equation at the latitude given",
                    )
            winter = winter or _round_middle(day, short)
            summer = summer or _round_middle(day, long)
    ramp = 0.0 if part.ramp is None else float(part.ramp)
    if part.ramp is None:
        build.default("day.ramp", build.show(0.0, "time"), "lamps switch at once")
    for hours, where in ((day, "the day"), (winter, "winter"), (summer, "summer")):
        if hours is not None and 2.0 * ramp > length_of(hours) > 0.0:
            lasts = build.show(length_of(hours), "time")
            build.say(
                ("day", "ramp"),
                f"up and down take {build.show(2.0 * ramp, 'time')} together; {where} lasts {lasts}",
            )
            break
    return Schedule(day, ramp, winter, summer, latitude)


def _middle(build: Build, part: DayPart) -> tuple[float, float]:
    if part.start is None and part.to is None:
        build.default("day.from", "07:00")
        build.default("day.to", "19:00")
        return USUAL
    for key, given, what in (
        ("from", part.start, "On at, such as 07:00"),
        ("to", part.to, "Off at, such as 19:00"),
    ):
        if given is None:
            build.say(("day", key), f"is needed: {what}")
            return USUAL
    assert part.start is not None
    assert part.to is not None
    return _checked(build, ("day",), float(part.start), float(part.to))


def span(build: Build, loc: Loc, part: HoursPart) -> tuple[float, float]:
    """From on to off [s after midnight]; the same time twice could mean never or always."""
    return _checked(build, loc, float(part.start), float(part.to))


def _checked(build: Build, loc: Loc, start: float, to: float) -> tuple[float, float]:
    if start == to:
        message = "is the same time as 'from'; from 00:00 to 24:00 is the whole day"
        build.say((*loc, "to"), message)
    return (start, to)


def length_of(hours: tuple[float, float]) -> float:
    """How long hours last [s]; they may run across midnight."""
    start, to = hours
    return to - start if to > start else to - start + DAY


def _round_middle(day: tuple[float, float], length: float) -> tuple[float, float]:
    """Hours of a length round the middle of others, to the whole minute."""
    middle = day[0] + length_of(day) / 2.0
    half = 60.0 * round(length / 120.0)
    return ((middle - half) % DAY, (middle + half) % DAY)


def _shown(build: Build, hours: tuple[float, float]) -> str:
    return " to ".join(build.show(time, "clock") for time in hours)
