"""What the climate's findings and drills are called, and their reasons as clauses."""

from __future__ import annotations

from collections.abc import Callable

from loamwright.engine.findings import Cause
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

FAULTS: dict[str, str] = {
    "stuck-on": "controller {} stuck on",
    "stuck-off": "controller {} stuck off",
    "lamp-out": "lamp {} out",
    "fan-stopped": "fan {} stopped",
    "mist-stuck-on": "misting valve stuck open",
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
}
"""Limits of drills by the catalogue's field."""

PROTECTIONS: dict[str, str] = {
    "cut-out": "an independent limit at the controller's own probe, 4 K over its upper set point",
    "own-cut-out": "the independent limit that the habitat has",
    "pump-limit": "a limiter that stops the pump after two minutes in an hour",
}
"""Protections tried by the engine."""

Value = Callable[[float], str]


def fault_words(key: str, subject: str) -> str:
    """A fault in words."""
    return FAULTS.get(key, key.replace("-", " ")).format(f"'{clean(subject)}'")


def cause_clause(cause: Cause, temperature: Value, share: Value, duration: Value) -> str:
    """A reason of the climate's as a clause, empty where it is not one of these."""
    value, who = cause.value, f"'{clean(cause.subject)}'"
    if cause.kind == "no_surface":
        return (
            f"{who} hangs in the air, over no surface" if cause.subject else "no surface is there"
        )
    if cause.kind == "no_guard":
        return f"{who} has no guard round it"
    if value is None:
        return ""
    match cause.kind:
        case "air_here":
            return f"the air there is at {temperature(value)}"
        case "room_air":
            return f"the room is at {temperature(value)} then"
        case "room_humidity":
            return f"the room's air holds {share(value)}"
        case "air_changes":
            return f"the air is renewed {3600.0 * value:.1f} times an hour"
        case "warming":
            if value == float("inf"):
                return "a body never gets there from its morning shelter"
            return f"a body gets there from its morning shelter in {duration(value)}"
        case "burn_after":
            return f"it can burn after {duration(value)} of contact"
        case "hour":
            return f"at {int(value) % 24:02d}:{round(value % 1 * 60) % 60:02d}"
    return ""
