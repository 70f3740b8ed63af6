"""What the findings of decomposers are called, and their reasons as clauses."""

from __future__ import annotations

import math

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "decomposer-warmth": "warmth of the ground for them",
    "decomposer-moisture": "moisture of the ground for them",
    "decomposer-numbers": "numbers after a year with the residents",
    "ground-ready": "days until the ground is ready for its residents",
    "waste-load": "waste the ground can carry",
    "litter-start": "leaf litter at planting",
    "litter-lasts": "days until leaves have to be laid again",
}
"""Titles of the decomposers' needs by their code."""

FIELDS: dict[str, str] = {
    "body_mass": "its mass", "temperature_low": "warmth below which it does not grow",
    "temperature_best": "warmth in which it grows fastest",
    "temperature_high": "warmth above which it does not grow",
    "measured_at": "warmth at which its growth was measured", "egg_time": "time to hatching",
    "grow_time": "time to grow up", "young_a_year": "young in a year", "life": "length of its life",
    "survival": "share of the young that grow up",
}  # fmt: skip
"""Fields of the catalogue in words."""

MATTER = {"metric": ("g", 1e-3), "us": ("oz", 0.028349523125)}
"""The unit of leaves, dung and humus, and its size [kg]."""

DAY = 86_400.0


def clause(cause: Cause, system: str) -> str:
    """A reason of the decomposers' as a clause, empty where it is not one of these."""
    value = cause.value
    match cause.kind:
        case "never_ready":
            return "within a year there are never as many young as were let in"
        case "hunter_unknown":
            name = clean(cause.subject.replace("-", " "))
            return f"what {name} take is left out, as their mass is not known"
        case "leaf_unknown":
            name = clean(cause.subject)
            kind = f"'{name}' leaves" if name else "leaves of a kind the file does not say"
            return f"{kind} are not among those measured, so all broad leaves are the range"
    if value is None:
        return ""
    match cause.kind:
        case "grows_by":
            if value <= 0.0:
                return "in one season their numbers fall even with food and nobody hunting"
            told = quantities.duration(math.log(2.0) / value)
            return f"with food and nobody hunting they double in {told} in the slower season"
        case "hungry_leave":
            told = quantities.worded("density", value, system)
            return f"residents that live on them alone leave {told}"
        case "fed_leave":
            return f"residents that touch none leave {quantities.worded('density', value, system)}"
        case "ready_between":
            if value == float(cause.subject):
                return ""
            last = "a year or never" if cause.subject == "365" else f"day {clean(cause.subject)}"
            return f"the sources' quickest growth gives day {value:.0f}, their slowest {last}"
        case "dung_half":
            return f"half of a dropping is gone after {quantities.duration(value)}"
        case "by_hand_share":
            return f"{quantities.percent(value)} of it has to be taken out by hand"
    return ""
