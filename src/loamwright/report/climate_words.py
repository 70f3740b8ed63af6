"""Words of the climate: what its needs are called, and its causes as clauses."""

from __future__ import annotations

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "basking-surface": "warmth of the basking surface",
    "body-warm": "warmth a body reaches",
    "air-warm": "air at the warm end by day",
    "air-cool": "air at the cool end by day",
    "night-air": "air at night",
    "humidity-day": "humidity by day",
    "humidity-night": "humidity at night",
    "cool-shelter": "a shelter cool enough at every hour",
    "plant-cold": "coldest hour at the plant",
    "plant-heat": "warmest hour at the plant",
    "plant-humidity": "humidity at the plant",
    "air-changes": "fresh air by day",
    "wet-pane": "wet pane",
    "wet-leaves": "wet leaves",
    "hot-lamp": "a hot lamp within reach",
    "hot-surface": "the hottest place to lie on",
    "tank": "how long the mist's tank lasts",
}
"""What a need of the climate is called, by its code."""

FIELDS: dict[str, str] = {
    "basking-surface": "temperature of its basking surface",
    "body-warm": "body temperature it prefers",
    "air-warm": "air temperature by day",
    "air-cool": "air temperature by day",
    "night-air": "air temperature at night",
    "humidity-day": "humidity by day",
    "humidity-night": "humidity at night",
    "cool-shelter": "body temperature it seeks shade at",
    "plant-cold": "lowest temperature it bears",
    "plant-heat": "highest temperature it bears",
    "plant-humidity": "humidity it needs",
    "mass": "body mass",
}
"""What the catalogue lacks, by need or field."""

SEASONS: dict[str, str] = {"winter": "in winter", "summer": "in summer",
                           "middle": "between the seasons"}  # fmt: skip


def clock(hour: float) -> str:
    """An hour of the day as a clock shows it; midnight at the end of a day is 24:00."""
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def clause(cause: Cause, system: str) -> str:
    """A cause of the climate as a clause; empty for one of another engine."""
    who = f"'{clean(cause.subject)}'"
    season = SEASONS.get(cause.subject, "")
    value = cause.value
    if cause.kind == "no_mass":
        return "the catalogue has no number for this: body mass"
    if cause.kind == "no_surface":
        return f"{who} hangs in the air, so there is no surface"
    if cause.kind == "no_guard":
        return f"no guard keeps animals off {who}"
    if value is None:
        return ""
    if cause.kind in ("lamp_heat", "climate_lamp_heat"):
        return f"{quantities.percent(value)} of the lamps' heat here comes from {who}"
    if cause.kind == "air_here":
        return f"the air here is at {quantities.worded('temperature', value, system)}"
    if cause.kind in ("room_air", "warm_room", "cold_room"):
        room = f"the room is at {quantities.worded('temperature', value, system)}"
        return f"{room} {season}".rstrip()
    if cause.kind == "room_humidity":
        room = f"the room's air has {quantities.worded('humidity', value, system)}"
        return f"{room} {season}".rstrip()
    if cause.kind == "air_changes":
        return f"the air is changed {_times(value)} an hour"
    if cause.kind == "fan_air":
        return f"{who} moves {quantities.number('flow', value * 3.6e6)} L of air an hour"
    if cause.kind == "warming":
        if value == float("inf"):
            return f"at {who} a body never gets as warm as it prefers"
        return f"at {who} a body cool from the night is warm after {quantities.duration(value)}"
    if cause.kind == "hour":
        return f"it is so at {clock(value)}"
    if cause.kind == "burn_after":
        return f"people's skin would burn on {who} after {quantities.duration(value)}"
    if cause.kind == "wettest":
        return f"{who} is wet for longest: {quantities.duration(value)} a day"
    return ""


def _times(rate: float) -> str:
    text = quantities.number("air_changes", quantities.shown("air_changes", rate, "metric"))
    return "once" if text == "1" else f"{text} times"
