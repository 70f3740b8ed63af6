"""Water at rest in ground: containers after draining, perched and standing water.

Where nothing flows the suction rises by one metre a metre upwards, so a layer's water is the
integral of its water content over the suctions it spans. A negative suction is the depth below a
free water surface.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

from loamwright.physics.soil_water import effective_saturation, head_at

_INNER: Final = sqrt(3.0 / 7.0 - 2.0 / 7.0 * sqrt(1.2))
_OUTER: Final = sqrt(3.0 / 7.0 + 2.0 / 7.0 * sqrt(1.2))
_GAUSS: Final = tuple(
    (side * node, (18.0 + sign * sqrt(30.0)) / 36.0)
    for node, sign in ((_INNER, 1.0), (_OUTER, -1.0))
    for side in (-1.0, 1.0)
)
"""Four-point Gauss-Legendre nodes on -1..1 and their weights."""


def held_between(
    low: float, high: float, residual: float, saturated: float, alpha: float, n: float
) -> float:
    """Water at rest in a layer, as a depth of water [m].

    Parameters
    ----------
    low, high : float
        Suction at the base and at the top of the layer; their difference is its depth [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    Source: hydrostatics and van Genuchten 1980 eq. 3, integrated by Gauss-Legendre sums on slices
    that double away from saturation; 1e-7 of the depth.
    """
    bottom = max(low, 0.0)
    total = saturated * (min(high, 0.0) - low) if low < 0.0 else 0.0
    edge = 1.0 / (256.0 * alpha)
    while bottom < high:
        while edge <= bottom:
            edge *= 2.0
        top = min(high, edge)
        middle, half = 0.5 * (top + bottom), 0.5 * (top - bottom)
        for node, weight in _GAUSS:
            share = effective_saturation(-(middle + half * node), alpha, n)
            total += half * weight * (residual + (saturated - residual) * share)
        bottom = top
    return total


def container_content(
    depth: float, suction: float, residual: float, saturated: float, alpha: float, n: float
) -> float:
    """Mean water content of a layer after draining, its container capacity [1].

    Parameters
    ----------
    depth : float
        Depth of the layer, above 0 [m].
    suction : float
        Suction at its base: 0 over an open hole; over a coarse layer that of
        `soil_water.interface_head` [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    The deeper a container, the drier it is on average and the more air it holds; what is left of
    the pores (``saturated`` less this) is the air-filled porosity.

    Source: Bilderback & Fonteno 1987, J Environ Hort 5:180 (from memory), with the curve of van
    Genuchten 1980.
    """
    return held_between(suction, suction + depth, residual, saturated, alpha, n) / depth


def wet_height(saturation: float, suction: float, alpha: float, n: float) -> float:
    """How high above its base a drained layer is at least this full [m].

    Parameters
    ----------
    saturation : float
        Effective saturation asked for, above 0 and under 1 [1].
    suction : float
        Suction at the base [m].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    With 0.9 or so it is what growers call the perched water: no medium is wholly full at any
    suction, so its height depends on where the line is drawn.

    Source: hydrostatics and van Genuchten 1980 eq. 3 solved for the head.
    """
    return max(0.0, -head_at(saturation, alpha, n) - suction)


def standing_depth(
    water: float, depth: float, residual: float, saturated: float, alpha: float, n: float
) -> float:
    """Depth of the standing water in a layer on a closed floor that holds a known amount [m].

    Parameters
    ----------
    water : float
        Water in the layer, as a depth of water [m].
    depth : float
        Depth of the layer [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    At rest; part of the water hangs above the standing water. 0 where all of it does, `depth` where
    the layer cannot hold more.

    Source: `held_between` solved for the level, by bisection.
    """
    if water >= saturated * depth:
        return depth
    if water <= held_between(0.0, depth, residual, saturated, alpha, n):
        return 0.0
    low, high = 0.0, depth
    for _ in range(50):
        level = 0.5 * (low + high)
        if held_between(-level, depth - level, residual, saturated, alpha, n) > water:
            high = level
        else:
            low = level
    return 0.5 * (low + high)
