"""Crowns seen from above: how they overlap, what light they pass, how many close a floor.

Plain arithmetic on floats.
"""

from __future__ import annotations

from math import acos, pi, sqrt

from loamwright.physics.growth import light_taken


def circle_overlap(radius: float, other: float, distance: float) -> float:
    """Area that two circles share [m2].

    Parameters
    ----------
    radius, other : float
        Radii, above 0 [m].
    distance : float
        Between their middles, 0 or more [m].

    Source: two segments of a circle; plane geometry.
    """
    small, large = min(radius, other), max(radius, other)
    if distance >= radius + other:
        return 0.0
    if distance <= large - small:
        return pi * small**2
    a = (distance**2 + small**2 - large**2) / (2.0 * distance)
    b = distance - a
    first = small**2 * acos(max(-1.0, min(1.0, a / small)))
    second = large**2 * acos(max(-1.0, min(1.0, b / large)))
    return first + second - distance * sqrt(max(small**2 - a**2, 0.0))


def passed_by(covered: float, leaf_area: float, extinction: float) -> float:
    """Share of the light that reaches a crown of which another covers a share [1].

    Parameters
    ----------
    covered : float
        Share of the lower crown that the upper one covers [1].
    leaf_area : float
        Leaf area above a square metre of the upper one [m2/m2].
    extinction : float
        Extinction coefficient [1].

    Source: Monsi & Saeki 1953 under the covered share, all light beside it.
    """
    return 1.0 - covered * light_taken(leaf_area, extinction)


def plants_to_close(area: float, spread: float) -> float:
    """Plants whose crowns together are as large as an area [1].

    Parameters
    ----------
    area : float
        Area [m2].
    spread : float
        Across one crown, above 0 [m].

    Source: area over the area of one circle.
    """
    return area / (pi / 4.0 * spread**2)
