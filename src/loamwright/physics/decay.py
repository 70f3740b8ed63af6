"""Litter and waste that decay, and the nitrogen set free or tied up by it.

Plain arithmetic on floats, so that a compiled loop can take each function as it is.
"""

from __future__ import annotations

from math import exp, log
from typing import Final

URATE_CARBON: Final = 5.0 * 12.011 / (4.0 * 14.007)
"""Carbon over nitrogen in uric acid, C5H4N4O3 [1]; standard atomic masses."""

DAY: Final = 86_400.0
"""Seconds in a day [s]; exact."""


def remaining_share(rate: float, time: float) -> float:
    """Share of a litter left after a time [1].

    Parameters
    ----------
    rate : float
        Decay constant [1/s].
    time : float
        Time [s].

    One constant for all of it: what is left after two half-lives is tougher and goes slower.

    Source: Olson 1963, Ecology 44:322: exp(-k t).
    """
    return exp(-rate * time)


def decay_constant(start: float, end: float, time: float) -> float:
    """Decay constant from two weighings [1/s].

    Parameters
    ----------
    start, end : float
        Mass at both, above 0 [any, the same].
    time : float
        Time between, above 0 [s].

    Source: Olson 1963, Ecology 44:322.
    """
    return log(start / end) / time


def litter_decay(
    reference_rate: float, temperature_factor: float, moisture: float, fauna_share: float
) -> float:
    """Decay constant of a litter where it lies [1/s].

    Parameters
    ----------
    reference_rate : float
        Constant without fauna, at the reference temperature, moist [1/s].
    temperature_factor : float
        `thermal_rates.q10_factor` [1]; Q10 of litters across humid sites is 1.5 to 1.8.
    moisture : float
        `thermal_rates.moisture_factor` [1].
    fauna_share : float
        Share of the decay that is the fauna's [1], below 1; 0.31 over all forests, 0.40 in the
        tropics. 0 where their feeding is computed.

    Source: factors multiplied, Sierra et al. 2015, J Adv Model Earth Syst 7:335; shares by
    Xu et al. 2020, Geoderma 114620, and the synthesis of `fauna_share`.
    """
    return reference_rate * temperature_factor * moisture / (1.0 - fauna_share)


def fauna_share(log_ratio: float) -> float:
    """Share of decay that is the fauna's, from litterbags with and without [1].

    Parameters
    ----------
    log_ratio : float
        Logarithm of mass lost with fauna over mass lost without [1].

    Source: 1 - exp(-LRR), global synthesis of 476 litterbag pairs (preprint).
    """
    return 1.0 - exp(-log_ratio)


def century_moisture(saturation: float) -> float:
    """Decay at a wetness over that when wet [1], without loss by flooding.

    Parameters
    ----------
    saturation : float
        Water in the ground over what it can hold [1], 0 to 1.

    Source: Century model, as listed by Sierra et al. 2015, J Adv Model Earth Syst 7:335, table 2:
    1 / (1 + 30 exp(-8.5 W)).
    """
    return 1.0 / (1.0 + 30.0 * exp(-8.5 * saturation))


def critical_ratio(decomposer_ratio: float, efficiency: float) -> float:
    """Carbon to nitrogen of a food from which decomposers neither free nor take up nitrogen [1].

    Parameters
    ----------
    decomposer_ratio : float
        Carbon to nitrogen in the decomposers [1]; about 8.
    efficiency : float
        Share of the carbon taken that becomes decomposer [1], above 0; about a third, less on
        poor food.

    Source: Manzoni et al. 2008, Science 321:684 (equation from memory).
    """
    return decomposer_ratio / efficiency


def net_mineralisation(
    carbon: float, ratio: float, decomposer_ratio: float, efficiency: float
) -> float:
    """Nitrogen set free by a decay [the unit of the carbon]; negative: taken up from around.

    Parameters
    ----------
    carbon : float
        Carbon decomposed [kg, kg/s or the like].
    ratio : float
        Carbon to nitrogen of the food, above 0 [1].
    decomposer_ratio : float
        Carbon to nitrogen in the decomposers, above 0 [1].
    efficiency : float
        Share of the carbon that becomes decomposer [1].

    Source: nitrogen balance of the decomposers; Manzoni & Porporato 2009, Soil Biol Biochem
    41:1355 (from memory).
    """
    return carbon * (1.0 / ratio - efficiency / decomposer_ratio)


def nitrification_constant(temperature: float) -> float:
    """Rate constant at which ammonium becomes nitrate in moist ground near neutral [1/s].

    Parameters
    ----------
    temperature : float
        Temperature of the ground [K], up to about 303; the line goes on above, nitrifiers do not.

    Source: EPIC, Williams 1995, after Reddy et al. 1979 (as public help texts print it): 0.41 (T
    - 5) / 10 a day with T in degC. Acid mixes are slower: no factor is given here.
    """
    return max(0.041 * (temperature - 278.15), 0.0) / DAY
