"""Plants that grow: light taken up, dry mass made, height gained, when to prune.

Height follows a logistic curve towards the stature the plant can reach, at a rate that light and
warmth slow. No published growth rates of enclosure plants were found: the greatest rate is an
argument, and `rate_between` gets it from two measurements of one's own plant.
"""

from __future__ import annotations

from math import exp, inf, log
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

DAY: Final = 86_400.0
"""Seconds in a day [s]; exact."""

DAYLIGHT_PHOTONS: Final = 4.57e-6
"""Photons of daylight, 400-700 nm, for each joule of it [mol/J]; Thimijan & Heins 1983,
HortScience 18:818 (from memory)."""


def daily_light(photons: float, lit: float) -> float:
    """Daily light integral [mol/(m2 d)].

    Parameters
    ----------
    photons : float
        Photon flux while lit, 400-700 nm [umol/(m2 s)].
    lit : float
        Time lit in a day [s].

    Source: definition.
    """
    return photons * 1e-6 * lit


def efficiency_per_photon(per_energy: float, photons_per_energy: float) -> float:
    """Dry mass for each mole of photons [kg/mol] from that for each joule of light.

    Parameters
    ----------
    per_energy : float
        Dry mass for the light taken up, 400-700 nm [kg/J]: forage plants 1.93e-9, with a standard
        deviation of 1.2e-9 between stands; shade and want of nitrogen move it by 40 %.
    photons_per_energy : float
        Photons for each joule of that light [mol/J], `DAYLIGHT_PHOTONS` for daylight.

    Source: definition; Druille, Oyarzabal & Oesterheld 2020, meta-analysis of 496 values.
    """
    return per_energy / photons_per_energy


def light_taken(leaf_area: float, extinction: float) -> float:
    """Share of the light that a canopy takes up [1].

    Parameters
    ----------
    leaf_area : float
        Leaf area above a square metre of ground [m2/m2].
    extinction : float
        Extinction coefficient [1]; 0.5 for leaves at all angles under light from all sides.

    Source: Monsi & Saeki 1953 (2005 in English, Ann Bot 95:549): 1 - exp(-k L).
    """
    return 1.0 - exp(-extinction * leaf_area)


def dry_growth(daily: float, taken: float, efficiency: float) -> float:
    """Dry mass a canopy makes in a day [kg/(m2 d)].

    Parameters
    ----------
    daily : float
        Daily light integral above it [mol/(m2 d)].
    taken : float
        Share taken up [1].
    efficiency : float
        Dry mass for each mole taken up [kg/mol].

    Source: Monteith 1977, Phil Trans R Soc B 281:277.
    """
    return daily * taken * efficiency


def light_factor(daily: float, compensation: float, half: float) -> float:
    """Growth at a light over growth in ample light [1]; 0 where the plant only holds its own.

    Parameters
    ----------
    daily : float
        Daily light integral at the crown [mol/(m2 d)].
    compensation : float
        Light at which it neither grows nor shrinks [mol/(m2 d)].
    half : float
        Light above that at which half the growth is reached, above 0 [mol/(m2 d)].

    Source: rectangular hyperbola, Michaelis & Menten's form, shifted by the compensation point.
    """
    above = max(daily - compensation, 0.0)
    return above / (above + half)


def height_after(height: float, stature: float, rate: float, time: float) -> float:
    """Height of a plant after a time [m].

    Parameters
    ----------
    height : float
        Height now, above 0 [m].
    stature : float
        Height it can reach here [m]; a plant at or above it stays as it is.
    rate : float
        Relative rate of growth while small [1/s].
    time : float
        Time [s].

    Source: Verhulst 1838, logistic curve: H / (1 + (H / h - 1) exp(-r t)).
    """
    if height >= stature:
        return height
    return stature / (1.0 + (stature / height - 1.0) * exp(-rate * time))


def rate_between(first: float, second: float, stature: float, time: float) -> float:
    """Relative rate of growth from two measurements of height [1/s].

    Parameters
    ----------
    first, second : float
        Heights, above 0 and below the stature [m].
    stature : float
        Height it can reach here [m].
    time : float
        Time between, above 0 [s].

    Divided by the light and warmth factors of that time it is the greatest rate.

    Source: logistic curve, solved for its rate.
    """
    return log(second * (stature - first) / (first * (stature - second))) / time


def time_to_height(height: float, wanted: float, stature: float, rate: float) -> float:
    """Time until a plant has a height [s]; infinite if it never will, 0 if it has.

    Parameters
    ----------
    height : float
        Height now, above 0 [m].
    wanted : float
        Height asked about [m].
    stature : float
        Height it can reach here [m].
    rate : float
        Relative rate of growth while small [1/s].

    From a plant pruned to `height` and the height at which it must be, it is the time between
    two prunings.

    Source: logistic curve, solved for time.
    """
    if wanted <= height:
        return 0.0
    if wanted >= stature or rate <= 0.0:
        return inf
    return log(wanted * (stature - height) / (height * (stature - wanted))) / rate


def pruning_time(
    height: float, wanted: float, stature: float, rates: ArrayLike, step: float
) -> float:
    """Time until a plant has to be pruned, its rate changing with the seasons [s].

    Parameters
    ----------
    height : float
        Height now, above 0 [m].
    wanted : float
        Height at which it is pruned [m].
    stature : float
        Height it can reach here [m].
    rates : array_like, shape (steps,)
        Relative rate of growth in each step, 0 or more [1/s].
    step : float
        Length of a step [s].

    Infinite when the rates end before. Exact for rates that are even within a step.

    Source: the logistic curve depends on the sum of rate times time only.
    """
    needed = time_to_height(height, wanted, stature, 1.0)
    if needed == 0.0 or needed == inf:
        return needed
    grown = np.cumsum(np.asarray(rates, dtype=float)) * step
    at = int(np.searchsorted(grown, needed))
    if at == grown.size:
        return inf
    before = float(grown[at - 1]) if at else 0.0
    return step * (at + (needed - before) / (float(grown[at]) - before))
