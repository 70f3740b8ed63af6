"""Water that roots take: how suction limits it, and where in the ground the roots are.

Plain arithmetic on floats, so that a compiled loop can take each function as it is.
"""

from __future__ import annotations

from math import exp
from typing import Final

AIRLESS, WET, DRY, WILTED = -0.10, -0.25, -8.0, -80.0
"""Heads at which roots take nothing for want of air, all they want from, and down to, and nothing
for want of water [m]: grass at low demand in public soil-water codes (-10, -25, -800, -8000 cm),
after Wesseling 1991 (from memory). Potted plants in loose media were not measured."""

BETA_TROPICAL: Final = 0.962
"""`root_share_above` of tropical evergreen forest, for depths in cm [1]; Jackson et al. 1996,
Oecologia 108:389 (from memory)."""


def uptake_share(head: float, airless: float, wet: float, dry: float, wilted: float) -> float:
    """What roots take over what they would like to [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    airless : float
        Head above which they take nothing, for want of air [m].
    wet, dry : float
        Heads between which they take all they want [m].
    wilted : float
        Head below which they take nothing [m].

    Source: Feddes, Kowalik & Zaradny 1978, *Simulation of Field Water Use and Crop Yield*
    (as public soil-water codes print it).
    """
    if head >= airless or head <= wilted:
        return 0.0
    if head > wet:
        return (airless - head) / (airless - wet)
    if head >= dry:
        return 1.0
    return (head - wilted) / (dry - wilted)


def root_share_above(depth: float, beta: float) -> float:
    """Share of all roots that lie above a depth of deep ground [1].

    Parameters
    ----------
    depth : float
        Depth below the surface [m].
    beta : float
        Share left by each centimetre [1], under 1.

    Source: Gale & Grigal 1987; Jackson et al. 1996, Oecologia 108:389: 1 - beta^d, d in cm.
    """
    return float(1.0 - beta ** (100.0 * depth))


def root_density(depth: float, rooting: float) -> float:
    """Roots at a depth over those at the surface, falling to a twentieth at the rooting depth [1].

    Parameters
    ----------
    depth : float
        Depth below the surface [m].
    rooting : float
        Rooting depth [m].

    For a shallow bed that roots fill: below the rooting depth there are none.

    Source: exponential decline, Raats 1974, Soil Sci Soc Am J 38:717 (from memory); the twentieth
    is our own.
    """
    return exp(-3.0 * depth / rooting) if depth <= rooting else 0.0
