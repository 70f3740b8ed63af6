"""Circuits: resistance of conductors, voltage drop, what a continuous load asks of its fuse."""

from __future__ import annotations

import bisect
import math
from collections.abc import Sequence

CLASS_5: tuple[tuple[float, float], ...] = (
    (0.5e-6, 39.0e-3), (0.75e-6, 26.0e-3), (1.0e-6, 19.5e-3), (1.5e-6, 13.3e-3), (2.5e-6, 7.98e-3),
    (4e-6, 4.95e-3), (6e-6, 3.30e-3),
)  # fmt: skip
"""Flexible plain copper: section [m2], greatest resistance of one conductor at 20 degC [ohm/m];
IEC 60228, class 5, as printed by two cable makers' tables."""

AWG: tuple[int, ...] = (20, 18, 16, 14, 12, 10)
"""American wire gauges used here, thinnest first."""

COPPER = 1.7241e-8
"""Resistivity of annealed copper at 20 degC [ohm m]: 1/58 ohm mm2/m, the International Annealed Copper
Standard of 1913 (IEC 60028)."""

WARMER = 3.93e-3
"""Rise of copper's resistance by kelvin, from 20 degC on [1/K]; IEC 60028."""

CONTINUOUS = 3 * 3600.0
"""A load that stays on for so long is continuous [s]: NEC article 100."""

BREAKERS_IEC = (6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0)
BREAKERS_US = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
"""Standard ratings of overcurrent devices [A]: IEC 60898-1 (from memory) and NEC 240.6(A)."""

SUPPLIES = (6.0, 12.0, 18.0, 24.0, 36.0, 60.0, 100.0, 150.0, 240.0)
"""Sizes of low-voltage supplies that are sold [W]; common practice, no source."""


def wire_diameter(gauge: int) -> float:
    """Diameter of an American wire gauge [m]: 0.005 in x 92^((36 - n) / 39); ASTM B258.

    Parameters
    ----------
    gauge : int
        Gauge number [1].
    """
    return 0.005 * 0.0254 * 92.0 ** ((36 - gauge) / 39.0)


def wire_section(gauge: int) -> float:
    """Section of an American wire gauge [m2].

    Parameters
    ----------
    gauge : int
        Gauge number [1].
    """
    return 0.25 * math.pi * wire_diameter(gauge) ** 2


def wire_resistance(gauge: int) -> float:
    """Resistance of one solid copper conductor at 20 degC [ohm/m].

    Parameters
    ----------
    gauge : int
        Gauge number [1].
    """
    return COPPER / wire_section(gauge)


def warm_resistance(resistance: float, temperature: float) -> float:
    """Resistance of copper at a temperature, from that at 20 degC [ohm/m].

    Parameters
    ----------
    resistance : float
        Resistance at 20 degC [ohm/m].
    temperature : float
        Temperature of the conductor [K].
    """
    return resistance * (1.0 + WARMER * (temperature - 293.15))


def voltage_drop(
    current: float, length: float, resistance: float, power_factor: float = 1.0
) -> float:
    """Voltage lost on the way there and back [V]: 2 I L R cos(phi), direct or single-phase current.

    The conductors' reactance is left out: it counts from sections of some 25 mm2 on (from memory).

    Parameters
    ----------
    current : float
        Current [A].
    length : float
        One-way length of the cable [m].
    resistance : float
        Resistance of one conductor [ohm/m].
    power_factor : float
        Power factor of the load [1].
    """
    return 2.0 * current * length * resistance * power_factor


def current_of(power: float, voltage: float, power_factor: float = 1.0) -> float:
    """Current of a load [A]: P / (V cos(phi)).

    Parameters
    ----------
    power : float
        Power [W].
    voltage : float
        Voltage [V].
    power_factor : float
        Power factor [1].
    """
    return power / (voltage * power_factor)


def least_rating(continuous: float, other: float) -> float:
    """Least rating of an overcurrent device [A]: 125 % of the continuous load and all of the other.

    NEC 210.20(A).

    Parameters
    ----------
    continuous : float
        Load that stays on for three hours or more [A].
    other : float
        All other load [A].
    """
    return 1.25 * continuous + other


def next_size(wanted: float, sizes: Sequence[float]) -> float | None:
    """The smallest size of a rising list that is enough; None where none is [of the list].

    Parameters
    ----------
    wanted : float
        What is wanted [any].
    sizes : sequence of float
        Sizes there are, rising [any].
    """
    i = bisect.bisect_left(sizes, wanted * (1.0 - 1e-12))
    return sizes[i] if i < len(sizes) else None
