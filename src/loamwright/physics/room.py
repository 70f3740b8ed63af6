"""A room through the year from the weather outside: one node, first order, simple humidity.

The room is what surrounds an enclosure, not what is designed: sun through windows, neighbouring
rooms and the moisture that walls and furniture take up and give back are left out.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.physics.conduction import lumped_temperature
from loamwright.physics.moist_air import (
    ZERO_CELSIUS,
    relative_humidity_at,
    vapour_pressure_at,
    vapour_pressure_from_density,
)

Array = NDArray[np.float64]

HOUR = 3600.0
"""Step of a year's values [s]."""

COLD, WARM = ZERO_CELSIUS + 5.0, ZERO_CELSIUS + 15.0
"""Outdoor temperatures [K] up to which the moisture excess is that of the cold season, and from
which it is that of the warm one; Kalamees, Vinha & Kurnitski 2006, J Building Physics 29:219."""

WARM_SHARE = 1.5 / 4.0
"""Moisture excess of the warm over that of the cold season [1]: 1.5 and 4 g/m3 in the same work."""

MEMORY = 24
"""Hours whose mean outdoor temperature decides the moisture excess: windows are opened by the day's
weather, and the source's curve is made of means, not of hours."""


def moisture_excess(outdoor: float, cold_excess: float) -> float:
    """Vapour that a room's air holds over that outside [kg/m3].

    Parameters
    ----------
    outdoor : float
        Mean outdoor temperature of the day [K].
    cold_excess : float
        Excess in the cold season, at 5 degC and below [kg/m3].

    Source: Kalamees, Vinha & Kurnitski 2006, J Building Physics 29:219 (101 timber houses; abstract
    seen): constant up to 5 degC, linear to 15 degC, constant above.
    """
    share = min(max((outdoor - COLD) / (WARM - COLD), 0.0), 1.0)
    return cold_excess * (1.0 - (1.0 - WARM_SHARE) * share)


def room_vapour_pressure(outdoor_pressure: float, excess: float, temperature: float) -> float:
    """Vapour pressure in a room whose air comes from outside [Pa].

    Air that is warmed keeps its vapour pressure; the excess comes on top.

    Parameters
    ----------
    outdoor_pressure : float
        Vapour pressure outside [Pa].
    excess : float
        Moisture excess, at the room's temperature [kg/m3].
    temperature : float
        Air temperature of the room [K].

    Source: balance of the vapour of a ventilated room in steady state, ISO 13788 (from memory),
    with the ideal gas law.
    """
    return outdoor_pressure + vapour_pressure_from_density(excess, temperature)


def room_temperature(
    start: float,
    outdoor: float,
    gains: float,
    low: float,
    high: float,
    time: float,
    constant: float,
) -> float:
    """Temperature of a room after a time of steady weather [K].

    Left alone the room drifts to `gains` above the outdoor air; heating and cooling, of any power
    that takes, keep it within its limits.

    Parameters
    ----------
    start : float
        Temperature at time zero [K].
    outdoor : float
        Outdoor air temperature [K].
    gains : float
        How much warmer than outside the room settles by sun, people and equipment alone [K].
    low, high : float
        Heating and cooling set points; minus and plus infinity for none [K].
    time : float
        Time since then [s].
    constant : float
        Time constant of the room, above 0 [s].

    Source: Incropera eq. 5.6 (lumped body), held at a limit from when it is reached.
    """
    free = lumped_temperature(start, outdoor + gains, time, constant)
    return min(max(free, low), high)


def room_temperatures(
    outdoor: Array, low: Array, high: float, gains: float, constant: float
) -> Array:
    """A room's temperature in each hour of a year that follows itself [K].

    Parameters
    ----------
    outdoor : NDArray (hours,)
        Mean outdoor temperature of each hour [K].
    low : NDArray (hours,)
        Heating set point in each hour; minus infinity for none [K].
    high : float
        Cooling set point; infinity for none [K].
    gains : float
        Steady excess over the outdoor air without heating [K].
    constant : float
        Time constant of the room [s].

    Returns
    -------
    NDArray (hours,)
        Mean of each hour, taken as that of its start and end.

    Source: `room_temperature` step by step; the year is run twice, so that it begins as it ends.
    """
    outside, limits = outdoor.tolist(), low.tolist()
    found = max(float(outdoor.mean()) + gains, limits[0])
    ends = np.empty(len(outside) + 1)
    for _ in range(2):
        ends[0] = found
        for i, (air, limit) in enumerate(zip(outside, limits, strict=True)):
            found = room_temperature(found, air, gains, limit, high, HOUR, constant)
            ends[i + 1] = found
    return 0.5 * (ends[1:] + ends[:-1])


def room_humidities(
    outdoor: Array, outdoor_humidity: Array, room: Array, cold_excess: float
) -> Array:
    """Relative humidity of a room's air in each hour of a year that follows itself [1].

    Parameters
    ----------
    outdoor : NDArray (hours,)
        Mean outdoor temperature of each hour [K].
    outdoor_humidity : NDArray (hours,)
        Outdoor relative humidity of each hour [1].
    room : NDArray (hours,)
        Room temperature of each hour [K].
    cold_excess : float
        Moisture excess of the cold season [kg/m3].

    Returns
    -------
    NDArray (hours,)
        Relative humidity, at most 1: what is more condenses.

    Source: `moisture_excess` and `room_vapour_pressure` hour by hour.
    """
    days = running_mean(outdoor, MEMORY)
    found = np.empty(len(room))
    hours = zip(outdoor, outdoor_humidity, room, days, strict=True)
    for i, (air, humidity, inside, day) in enumerate(hours):
        outside = vapour_pressure_at(float(air), float(humidity))
        excess = moisture_excess(float(day), cold_excess)
        pressure = room_vapour_pressure(outside, excess, float(inside))
        found[i] = min(relative_humidity_at(float(inside), pressure), 1.0)
    return found


def running_mean(values: Array, hours: int) -> Array:
    """Mean of each hour and those before it, in a year that follows itself.

    Parameters
    ----------
    values : NDArray (hours of the year,)
        Hourly values, of any unit [any].
    hours : int
        How many hours the mean is taken over [h].

    Source: running mean.
    """
    before = values[len(values) - hours + 1 :]
    sums = np.concatenate([[0.0], np.cumsum(np.concatenate([before, values]))])
    return (sums[hours:] - sums[:-hours]) / hours
