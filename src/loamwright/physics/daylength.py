"""Length of the day by latitude and season: the sunrise equation."""

from __future__ import annotations

import math

OBLIQUITY = math.radians(23.44)
"""The sun's greatest declination, reached at the solstices [rad] (obliquity of the ecliptic, 2000)."""

SUNRISE = math.radians(-50.0 / 60.0)
"""Altitude of the sun's centre when its upper rim seems to touch the horizon [rad]: 34' of
refraction and 16' of half diameter, the convention of the almanacs."""

DAY = 86400.0
"""Length of a day [s]."""


def solar_declination(day: float) -> float:
    """Declination of the sun.

    Parameters
    ----------
    day : float
        Day of the year, 1 to 366 [d].

    Returns
    -------
    float
        Declination [rad], positive in the northern summer.

    Notes
    -----
    Allen et al. 1998 (FAO irrigation and drainage paper 56), equation 24; good to about half a
    degree.
    """
    return 0.409 * math.sin(2.0 * math.pi * day / 365.0 - 1.39)


def day_length(latitude: float, declination: float, altitude: float = SUNRISE) -> float:
    """Time from sunrise to sunset.

    Parameters
    ----------
    latitude : float
        Latitude, positive in the north [rad].
    declination : float
        Declination of the sun [rad].
    altitude : float
        Altitude of the sun's centre that counts as rise and set [rad]; 0 leaves refraction and
        the sun's width out.

    Returns
    -------
    float
        Length of the day [s]; 0 where the sun stays down, 86400 where it stays up.

    Notes
    -----
    The sunrise equation: cos w = (sin h - sin f sin d) / (cos f cos d), with the hour angle w of
    sunset, altitude h, latitude f and declination d. With h = 0 it is equations 25 and 34 of
    Allen et al. 1998 (FAO irrigation and drainage paper 56).
    """
    above = math.sin(altitude) - math.sin(latitude) * math.sin(declination)
    across = math.cos(latitude) * math.cos(declination)
    if abs(above) >= across:
        return 0.0 if above > 0.0 else DAY
    return DAY * math.acos(above / across) / math.pi


def solstice_days(latitude: float) -> tuple[float, float]:
    """Length of the shortest and of the longest day of the year.

    Parameters
    ----------
    latitude : float
        Latitude, of either sign [rad].

    Returns
    -------
    tuple of float
        Shortest and longest day [s], by `day_length` at the two solstices.
    """
    north = abs(latitude)
    return day_length(north, -OBLIQUITY), day_length(north, OBLIQUITY)
