"""What controls are called: one table for the shopping list and the wiring."""

from __future__ import annotations

from loamwright.habitat.controls import Control
from loamwright.habitat.habitat import Habitat

CONTROLS = {
    "thermostat": "thermostat for heating", "dimming-thermostat": "dimming thermostat",
    "cooling": "thermostat for cooling", "humidistat": "humidistat that airs",
    "pulse-mist": "humidistat that mists in pulses", "time": "time switch",
    "seconds": "time switch to the second, for misting",
}  # fmt: skip
"""Each kind of control, and of switch that goes by the clock, by its key."""

LIMIT = "independent limit that cuts the heat and stays off until someone resets it"
"""What cuts the heat where a control sticks."""


def own_clock(habitat: Habitat, control: Control) -> bool:
    """Whether a control must tell the time: its values differ by night, or its lamps have hours."""
    by_night = (control.night_low, control.night_high) != (control.low, control.high)
    return by_night or any(
        x.control == control.name and (x.follows_day or x.hours_a_day < 24.0) for x in habitat.lamps
    )


def bought_as(habitat: Habitat, kind: str) -> str:
    """What a kind of control is bought as: where one of it must tell the time, all are."""
    clock = any(own_clock(habitat, x) for x in habitat.controls if x.kind == kind)
    return CONTROLS[kind] + (" with a clock of its own" if clock else "")
