"""What the climate's findings and drills are called, and their reasons as clauses."""

from __future__ import annotations

import math

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "basking-surface": "surface of the basking place",
    "body-warm": "how warm a body gets where it basks (operative temperature)",
    "air-warm": "warm end of the air by day",
    "air-cool": "cool end of the air by day",
    "night-air": "air at night",
    "humidity-day": "humidity by day",
    "humidity-night": "humidity at night",
    "cool-shelter": "a shelter that stays cool enough at every hour",
    "plant-cold": "cold for the plant",
    "plant-heat": "heat for the plant",
    "plant-humidity": "humidity for the plant",
    "air-changes": "fresh air",
    "wet-pane": "water on the pane",
    "wet-leaves": "leaves that stay wet",
    "hot-lamp": "a lamp that can be touched",
    "hot-surface": "the hottest surface to lie on",
    "tank": "how long the misting tank lasts",
}
"""Titles of the climate's needs by their code."""

FIELDS: dict[str, str] = {
    "basking-surface": "temperature of its basking surface",
    "body-warm": "body temperature it prefers",
    "air-warm": "air temperature by day",
    "air-cool": "air temperature by day",
    "night-air": "air temperature at night",
    "humidity-day": "humidity by day",
    "humidity-night": "humidity at night",
    "cool-shelter": "body temperature at which it seeks shade",
    "plant-cold": "lowest temperature it bears",
    "plant-heat": "highest temperature it bears",
    "plant-humidity": "humidity it needs",
    "mass": "body mass",
}
"""What the catalogue lacks, by need or field."""

SEASONS: dict[str, str] = {
    "winter": "in winter",
    "middle": "between the seasons",
    "summer": "in summer",
}

FAULTS: dict[str, str] = {
    "stuck-on": "controller {} stuck on",
    "stuck-off": "controller {} stuck off",
    "lamp-out": "lamp {} out",
    "fan-stopped": "fan {} stopped",
    "mist-stuck-on": "misting stuck on",
    "mist-off": "misting fails",
    "tank-empty": "misting tank empty",
    "power-cut": "power cut",
    "heat-wave": "heat wave in the room",
    "door-open": "door left open ({})",
}
"""What each fault is called; {} stands for what fails."""

LIMITS: dict[str, str] = {
    "voluntary_max": "the most it bears by choice",
    "critical_max": "its critical maximum",
    "critical_min": "its critical minimum",
    "night": "its night's lower end",
    "preferred_body": "the top of its preferred band",
    "air_warm": "the warm end of the air it wants",
    "humidity_day": "the least humidity it wants by day",
}
"""Limits of drills by the catalogue's field."""

PROTECTIONS: dict[str, str] = {
    "cut-out": "an independent limit at the controller's own probe, 4 K over its upper set point",
    "own-cut-out": "the independent limit that the habitat has",
    "pump-limit": "a limiter that stops the pump after two minutes in an hour",
}
"""Protections tried by the engine."""


def fault_words(key: str, subject: str) -> str:
    """A fault in words."""
    return FAULTS.get(key, key.replace("-", " ")).format(f"'{clean(subject)}'")


def clock(hour: float) -> str:
    """An hour of the day as a clock shows it; midnight at the end of a day is 24:00."""
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def clause(cause: Cause, system: str) -> str:
    """A reason of the climate's as a clause, empty where it is not one of these."""
    value, who = cause.value, f"'{clean(cause.subject)}'"
    if cause.kind == "no_mass":
        return "the catalogue has no number for this: body mass"
    if cause.kind == "no_surface":
        return (
            f"{who} hangs in the air, over no surface" if cause.subject else "no surface is there"
        )
    if cause.kind == "no_guard":
        return f"{who} has no guard round it"
    return "" if value is None else _with_value(cause.kind, who, cause.subject, value, system)


def _with_value(kind: str, who: str, subject: str, value: float, system: str) -> str:
    """A reason that carries a number."""
    season = SEASONS.get(subject, "then")
    match kind:
        case "lamp_heat" | "climate_lamp_heat":
            return f"{quantities.percent(value)} of the lamps' light that warms it comes from {who}"
        case "air_here":
            return f"the air there is at {quantities.worded('temperature', value, system)}"
        case "room_air" | "warm_room" | "cold_room":
            return f"the room is at {quantities.worded('temperature', value, system)} {season}"
        case "room_humidity":
            return f"the room's air holds {quantities.percent(value)} {season}"
        case "air_changes":
            return f"the air is renewed {_times(value)} an hour"
        case "fan_air":
            return f"{who} moves {quantities.number('flow', value * 3.6e6)} L of air an hour"
        case "warming":
            if math.isinf(value):
                return "a body never gets there from its morning shelter"
            return f"a body gets there from its morning shelter in {quantities.duration(value)}"
        case "burn_after":
            return f"it can burn after {quantities.duration(value)} of contact"
        case "wettest":
            return f"{who} is wet for longest: {quantities.duration(value)} a day"
        case "hour":
            return f"at {clock(value)}"
    return ""


def _times(rate: float) -> str:
    text = quantities.number("air_changes", quantities.shown("air_changes", rate, "metric"))
    return "once" if text == "1" else f"{text} times"
