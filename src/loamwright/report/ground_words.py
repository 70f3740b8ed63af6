"""What the ground's findings are called, and their reasons as clauses."""

from __future__ import annotations

from loamwright.engine.findings import Cause
from loamwright.report import quantities
from loamwright.report.plain import clean

TITLES: dict[str, str] = {
    "root-depth": "depth of ground for its roots",
    "laying-depth": "depth of ground to bury eggs in",
    "old-ground": "old ground that goes in",
    "load": "load on the stand",
    "buried": "how far pieces and ways into hides stand out of the ground",
    "ground-moist": "evenly moist middle and bottom of the ground",
    "ground-top": "air in the top of the ground",
    "ground-air": "air left for roots in the ground",
    "ground-drowned": "time the ground has too little air",
    "standing-water": "water that stands on the floor",
    "stuck-mist": "water on the floor after the mist has stuck on",
    "holiday": "how long the ground stays moist without water",
}
"""Titles of the ground's needs by their code."""

VERDICTS: dict[str, str] = {
    "reuse": "reuse",
    "part": "reuse in part",
    "discard": "discard",
    "unknown": "not judged: nobody says how it smells",
}
"""Verdicts on old ground."""

LOADS: dict[str, str] = {
    "panels": "panels",
    "frame": "frame of the top",
    "linings": "backgrounds",
    "ground": "moist ground",
    "hardscape": "branches and rocks",
    "footings": "footings, less the ground in whose place they are",
    "bowls": "water in bowls",
    "lamps": "lamps",
}
"""What presses on the stand."""


def clause(cause: Cause, system: str) -> str:
    """A reason of the ground's as a clause, empty where it is not one of these."""
    value, who = cause.value, f"'{clean(cause.subject)}'"
    verdict = cause.kind.removeprefix("old_")
    if verdict in VERDICTS and cause.kind.startswith("old_"):
        return f"the inspection of {who} says: {VERDICTS[verdict]}"
    match cause.kind:
        case "old_sign":
            return f"what speaks against it: {clean(cause.subject)}"
        case "no_rating":
            return "the file does not say what the stand is rated for"
        case "hide_within":
            return f"the way into {who} counts"
        case "buried_too":
            return f"{who} is buried too"
        case "no_density":
            return f"the mass of {who} is not known and left out"
    if value is None:
        return ""
    match cause.kind:
        case "load_of":
            what = LOADS.get(cause.subject, clean(cause.subject))
            return f"{what} {quantities.worded('load', value, system)}"
        case "mist_lands":
            told = quantities.water(value, system)
            return f"{told} of mist and dew reach the ground a day" if value else "no mist lands"
        case "stuck_mist":
            return f"the pump sprays {quantities.water(value, system)} until the tank is empty"
        case "stuck_lands":
            return f"{quantities.water(value, system)} of that reach the ground"
        case "by_hand":
            days = "day" if cause.subject == "1" else f"{clean(cause.subject)} days"
            return f"with {quantities.water(value, system)} by hand every {days}, as computed"
        case "less_mist":
            return f"{quantities.percent(value)} of this mist would be the most it can take"
        case "draw_off":
            return f"draw it off from day {value / 86400.0:.0f} on"
    return ""
