"""Meter readings from a file, fitted to a lamp."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.engine.light.fit import QUANTITIES, FittedLamp, Reading, fit_to_readings
from loamwright.errors import InputError, Problem
from loamwright.habitat.catalogue import LampType

__all__ = ["FittedLamp", "Reading", "fit_lamp"]


def fit_lamp(base: LampType, readings: Sequence[Reading]) -> FittedLamp:
    """Fit ``base`` to ``readings``; raises `InputError` where they cannot belong to such a lamp."""
    problems: list[Problem] = []
    if not readings:
        problems.append(Problem("no readings; give at least one, e.g. {distance: 30 cm, uvi: 2.9}"))
    for number, reading in enumerate(readings):
        field = f"readings[{number}]"
        if reading.quantity not in QUANTITIES:
            problems.append(Problem(f"'{reading.quantity}' cannot be fitted; read uvi, ppfd or lux",
                                    field))  # fmt: skip
        elif not any(
            w > 0 and q > 0
            for w, q in zip(base.band_watts, base.per_watt.get(reading.quantity, ()), strict=False)
        ):
            problems.append(Problem(f"'{base.key}' gives no {reading.quantity} at all, so it cannot "
                                    "be fitted to one; choose a lamp type of that kind",
                                    field))  # fmt: skip
        if not reading.value > 0:
            problems.append(Problem(f"{reading.quantity} is {reading.value:g}; a reading that can be "
                                    "fitted is above 0", f"{field}.{reading.quantity}"))  # fmt: skip
        if not reading.distance > base.diameter / 2:
            problems.append(Problem(f"{reading.distance:g} m from the lamp's middle is inside it; "
                                    "give the distance in front of the lamp",
                                    f"{field}.distance"))  # fmt: skip
    if problems:
        raise InputError(problems)
    return fit_to_readings(base, readings)
