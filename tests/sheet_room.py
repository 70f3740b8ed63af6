"""Small adaptors that let a reference sheet call the room's physics in the units of its sources."""

from __future__ import annotations

import numpy as np

from loamwright.physics import room

ZERO = 273.15


def excess(cold: float, outdoors: list[float]) -> list[float]:
    """Moisture excess [g/m3] at outdoor temperatures [degC]."""
    return [1e3 * room.moisture_excess(t + ZERO, cold * 1e-3) for t in outdoors]


def pressure_of_excess(grams: list[float], temperature: float) -> list[float]:
    """Vapour pressure [Pa] that an excess [g/m3] adds at a temperature [degC]."""
    return [room.room_vapour_pressure(0.0, g * 1e-3, temperature + ZERO) for g in grams]


def humidity(outdoor: float, percent: float, inside: float, cold: float) -> float:
    """Relative humidity of the room [%] in steady weather [degC, %, degC, g/m3]."""
    steady = np.full(48, 1.0)
    found = room.room_humidities(
        (outdoor + ZERO) * steady, percent / 100.0 * steady, (inside + ZERO) * steady, cold * 1e-3
    )
    return 100.0 * float(found[-1])


def covered(hours: float, constant: float) -> float:
    """Share of its way that an unheated room has covered after hours [h], of a constant [h]."""
    left = room.room_temperature(
        1.0, 0.0, 0.0, float("-inf"), float("inf"), 3600.0 * hours, 3600.0 * constant
    )
    return 1.0 - left


def swing(constant: float, period: float) -> list[float]:
    """Share of the outdoor swing that gets into the room, and its delay [h]; both in hours."""
    count = 8760
    hours = np.arange(count) + 0.5
    wave = np.exp(2j * np.pi * hours / period)
    outdoor = 280.0 + 5.0 * wave.real
    found = room.room_temperatures(
        outdoor, np.full(count, -np.inf), float("inf"), 0.0, 3600.0 * constant
    )
    answer = np.vdot(wave, found - found.mean()) / np.vdot(wave, outdoor - outdoor.mean())
    return [abs(answer), float(-np.angle(answer) * period / (2.0 * np.pi))]
