"""What controls are called: one table for the shopping list and the wiring."""

from __future__ import annotations

CONTROLS = {
    "thermostat": "thermostat for heating", "dimming-thermostat": "dimming thermostat",
    "cooling": "thermostat for cooling", "humidistat": "humidistat that airs",
    "pulse-mist": "humidistat that mists in pulses", "time": "time switch",
    "seconds": "time switch to the second, for misting",
}  # fmt: skip
"""Each kind of control, and of switch that goes by the clock, by its key."""

LIMIT = "independent limit that cuts the heat and stays off until someone resets it"
"""What cuts the heat where a control sticks."""
