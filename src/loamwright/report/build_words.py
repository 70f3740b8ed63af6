"""What the findings of the build are called, and their reasons as clauses."""

from __future__ import annotations

from loamwright.engine.findings import Cause
from loamwright.plan.loads import Device
from loamwright.report import quantities
from loamwright.report.plain import clean

POUND_FORCE = 4.4482216
"""A pound-force [N]."""

TITLES: dict[str, str] = {
    "panel-deflection": "how far a panel bends",
    "panel-stress": "stress in a panel",
    "tipping": "tilt at which it tips over",
    "floor-load": "load on the room's floor",
    "fixing": "what holds it to the wall or to others",
    "stone-footing": "ground that could be dug away under a stone",
    "piece-held": "places that hold a piece",
    "piece-overlap": "pieces that would be in one place",
    "lamp-room": "room for a lamp",
    "lamp-carried": "what carries a lamp",
    "crown-wall": "crown that reaches into a wall",
    "crown-piece": "crown that pieces take up",
    "root-ball": "room for a root ball",
    "hole-covered": "part of an opening that ground or a background covers",
    "circuit-load": "load on the electric circuit",
    "voltage-drop": "voltage lost in a cable",
    "supply-reserve": "load of a low-voltage supply",
    "ingress": "protection against water where it mists",
    "nozzle-pressure": "pressure before a nozzle",
}
"""Titles of the build's needs by their code."""

WAYS = {
    "across": "where the floor's beams run from the wall behind it into the room",
    "along": "where they run along that wall",
}

HELD = {
    "four": "held on four edges", "three": "held on three edges", "two": "held on two edges",
    "everywhere": "held all over",
}  # fmt: skip

BENT_BY = {
    "ground": "the ground and its water press on it",
    "weight": "its own weight and lamps bend it",
}

PARTS = {
    "whole": "", "sill": "the strip below the doors", "front strip": "the strip before its window",
    "back strip": "the strip behind its window", "strip": "the strip between its windows",
}  # fmt: skip
"""Parts of a panel in words, empty where it is all of it."""

SIDES = {
    "the ground": "the ground", "the hard floor": "the drainage layer or the floor",
    "left": "the left panel",
    "right": "the right panel", "back": "the back panel", "front": "the front panel",
    "top": "the top panel", "floor": "the floor panel",
}  # fmt: skip
"""What pieces and lamps may be next to, beside what has a name of its own."""

PLACES = {
    "spray": "in a nozzle's spray", "damp": "inside a misted box", "window": "over an open window",
    "dry": "inside a dry box", "outside": "outside",
}  # fmt: skip

FAN_PLACES = {
    "damp": "on the outside, in the damp air of the box",
    "dry": "on the outside, in the air of the box",
}  # fmt: skip
"""Where a fan is: its body sits outside the panel, what goes through it is the box's air."""


def protection_place(device: Device) -> str:
    """Where something that draws current is, as far as water goes."""
    fans = FAN_PLACES if device.kind == "fan" else {}
    return fans.get(device.place, PLACES[device.place])


def clause(cause: Cause, system: str) -> str:
    """A reason of the build's as a clause, empty where it is not one of these."""
    value, who = cause.value, f"'{clean(cause.subject)}'"
    match cause.kind:
        case "bent_by":
            return BENT_BY.get(cause.subject, "")
        case "part_of_panel":
            return f"it is {PARTS.get(cause.subject) or 'the whole panel'}"
        case "held_on":
            return f"it is {HELD.get(cause.subject, clean(cause.subject))}"
        case "beyond_theory":
            return "so much that the theory for small bending says too much"
        case "no_stiffness":
            return f"the catalogue does not say how stiff {clean(cause.subject)} is"
        case "floor_unknown":
            return "the file does not say how they run: give room: floor: runs:"
        case "no_fixing":
            return "the file does not say what holds it: give screws: or glued:"
        case "stands_on":
            return f"its footing, {clean(cause.subject)}, reaches the drainage layer or the floor"
        case "digs_under":
            return "nothing carries it down to the drainage layer or the floor: give footing:"
        case "touches":
            return f"it touches {SIDES.get(cause.subject, who)}"
        case "touches_nothing":
            return "it touches nothing that is held itself"
        case "runs_into":
            return f"it runs into {who}"
        case "is_next":
            return f"next to it is {SIDES.get(cause.subject, who)}"
        case "carrier_meets":
            return f"what carries it meets {SIDES.get(cause.subject, who)}"
        case "crown_into":
            return f"{SIDES.get(cause.subject, who)} is in its crown"
        case "cuts_cover":
            return f"the mesh of {who} would have to be cut for it"
        case "covered_by":
            if cause.subject in SIDES:
                return "ground lies before it and water would run out: move the opening up"
            return f"{who} reaches into it: move the opening, or cut the background back"
        case "no_protection":
            return "the file does not say how it is protected: give protection:, such as IP65"
        case "wet_place":
            return f"it is {PLACES.get(cause.subject, clean(cause.subject))}"
    if value is None:
        return ""
    match cause.kind:
        case "needs_frame":
            told = quantities.length(value, system)
            return (
                f"its windows leave a strip of {told}, which carries nothing: put a frame under it"
            )
        case "panel_span":
            return f"it spans {quantities.length(value, system)}"
        case "bears_strip":
            told = quantities.length(value, system)
            return f"it bears a strip of panel {told} wide: set battens nearer, or on edge"
        case "pushes":
            force = f"{value / POUND_FORCE:.0f} lbf" if system == "us" else f"{value:.0f} N"
            return f"it takes a level push of {force} high up to tip it"
        case "floor_way":
            told = quantities.worded("floor_load", value, system)
            return f"as bad as {told} everywhere, {WAYS.get(cause.subject, clean(cause.subject))}"
        case "on_floor":
            return f"{quantities.worded('load', value, system)} stand on it, stand and tank too"
        case "is_away":
            where = SIDES.get(cause.subject, who)
            return f"{where} is {quantities.length(value, system)} away"
        case "body_behind":
            return f"its body reaches {quantities.length(value, system)} behind its face"
        case "crown_radius":
            return f"its crown is {quantities.length(2.0 * value, system)} across"
        case "ball_size":
            return f"its root ball is taken as {quantities.length(value, system)} wide"
        case "wet_mass":
            return f"{who} weighs {quantities.worded('load', value, system)} wet"
        case "needs_screws":
            return f"{value:.0f} screws would hold it" if value > 1 else "one screw would hold it"
        case "stone_mass":
            return f"{who} weighs {quantities.worded('load', value, system)}"
        case "continuous_current":
            return f"{value:.2f} A of it may stay on for hours"
        case "other_current":
            return f"{value:.2f} A come and go"
        case "takes_circuits":
            return f"it takes {value:.0f} circuits of this rating"
        case "cable_length":
            return f"the cable is {quantities.length(value, system)} long"
        case "run_current":
            return f"it carries {value:.2f} A"
        case "supply_feeds":
            return f"what it feeds draws {value:g} W"
        case "pump_keeps":
            return f"the pump keeps {quantities.worded('pressure', value, system)}"
        case "pump_taken":
            told = quantities.worded("pressure", value, system)
            return f"a pump that keeps {told} is taken, which is what the nozzles are made for"
        case "line_loses":
            return f"the line takes {quantities.worded('pressure', value, system)}"
        case "line_rises":
            return f"it rises {quantities.length(value, system)} over the tank's water"
    return ""
