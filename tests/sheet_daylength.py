"""Small adaptors that let a reference sheet call the day's length with degrees and hours."""

from __future__ import annotations

import math

from loamwright.physics import daylength


def hours(latitude: float, declination: float) -> float:
    """From sunrise to sunset as almanacs count it [h]; angles in degrees."""
    return daylength.day_length(math.radians(latitude), math.radians(declination)) / 3600.0


def geometric_hours(latitude: float, day: float) -> float:
    """Without refraction and the sun's width [h]; latitude in degrees, day of the year."""
    declination = daylength.solar_declination(day)
    return daylength.day_length(math.radians(latitude), declination, 0.0) / 3600.0


def shortest_hours(latitude: float) -> float:
    return daylength.solstice_days(math.radians(latitude))[0] / 3600.0


def longest_hours(latitude: float) -> float:
    return daylength.solstice_days(math.radians(latitude))[1] / 3600.0
