"""What the findings of living plants are called, and their reasons as clauses."""

from __future__ import annotations

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "plant-stature": "height when grown, against its room",
    "plant-prune": "time between prunings",
    "plant-light-grown": "light a year on, under the others' crowns",
    "plant-toxic": "residents that would eat of it and be harmed",
    "plant-hold": "something for an epiphyte to hold on to",
    "plants-settled": "days until the plants bear animals",
}
"""Titles of the plants' needs by their code."""

FIELDS: dict[str, str] = {
    "growth": "pace of its growth", "mature_height": "height when grown",
    "mature_spread": "spread when grown", "temperature": "warmth in which it grows well",
    "toxicity": "whether it is toxic", "light": "light at its crown",
}  # fmt: skip
"""Fields of the catalogue in words."""


def clause(cause: Cause, system: str) -> str:
    """A reason of the plants' as a clause, empty where it is not one of these."""
    who, value = f"'{clean(cause.subject)}'", cause.value
    match cause.kind:
        case "never_pruned":
            return "it does not reach the top of its room within the year"
        case "toxic_as":
            return f"it is {clean(cause.subject)}"
        case "grazes":
            return f"{clean(cause.subject.replace('-', ' ')).capitalize()} bites into plants"
        case "in_the_ground":
            return "it stands in the ground"
        case "hangs_free":
            return "it hangs in the air, on no piece and near no panel"
        case "grip_unknown":
            return f"nobody says here whether roots hold on {clean(cause.subject)}"
        case "held_by":
            return f"it is fixed to {who}"
        case "made_of":
            return f"that is {clean(cause.subject.replace('-', ' '))}"
        case "slowest_to_root":
            return f"{who} takes longest to root"
    if value is None:
        return ""
    match cause.kind:
        case "room_over":
            return f"it has {quantities.length(value, system)} over its foot"
        case "first_pruned":
            return f"the first is due on day {value / 86_400.0:.0f}"
        case "light_today":
            return f"as planted it gets {quantities.worded('dli', value, system)}"
        case "crown_keeps":
            return f"the grown crown of {who} keeps off {quantities.percent(value)}"
    return ""
