"""How the pace of small lives follows temperature, moisture and food.

Plain arithmetic on floats, so that a compiled loop can take each function as it is. Exponential
laws (`q10_factor`) serve for breathing and decay; for development and growth use one with a lower
threshold, an optimum and an upper one: springtails that lay 900 eggs at 21 degC lay 100 at 27 degC.
"""

from __future__ import annotations

from math import log, sqrt
from typing import Final

ZERO_CELSIUS: Final = 273.15
"""Temperature of 0 degC [K]; exact."""


def q10_factor(temperature: float, reference: float, q10: float) -> float:
    """Rate at a temperature over the rate at another [1].

    Parameters
    ----------
    temperature : float
        Temperature [K].
    reference : float
        Temperature at which the rate is known [K].
    q10 : float
        Factor for ten kelvin [1], above 0.

    Source: van 't Hoff 1884, definition of Q10.
    """
    return float(q10 ** (0.1 * (temperature - reference)))


def q10_between(cold_rate: float, warm_rate: float, cold: float, warm: float) -> float:
    """Factor for ten kelvin from the rates at two temperatures [1].

    Parameters
    ----------
    cold_rate, warm_rate : float
        Rates, above 0 [any, the same].
    cold, warm : float
        Their temperatures, not equal [K].

    Source: definition of Q10.
    """
    return float((warm_rate / cold_rate) ** (10.0 / (warm - cold)))


def degree_day_rate(temperature: float, threshold: float, constant: float) -> float:
    """Share of a development done in a second [1/s]; 0 below the threshold.

    Parameters
    ----------
    temperature : float
        Temperature [K], not above the warmest one at which the line was measured.
    threshold : float
        Temperature at which development stops [K].
    constant : float
        Thermal constant, above 0 [K s]: degree-days times 86,400.

    Source: (T - T0) / K, law of the sum of effective temperatures; Damos & Savopoulou-Soultani
    2012, Psyche 2012:123405.
    """
    return max(temperature - threshold, 0.0) / constant


def beta_factor(temperature: float, low: float, optimum: float, high: float) -> float:
    """Rate at a temperature over the rate at the optimum [1]; 0 outside the two thresholds.

    Parameters
    ----------
    temperature : float
        Temperature [K].
    low, optimum, high : float
        Lower threshold, optimum and upper threshold, rising [K].

    Takes only the three temperatures that are mostly all that is known of a species.

    Source: beta function of Yin et al. 1995, Agric For Meteorol 77:1, with its exponents for a
    rise of power 1 from the lower threshold, Yan & Hunt 1999, Ann Bot 84:607 (form from memory):
    (T - Tl) / (To - Tl) ((Th - T) / (Th - To))^((Th - To) / (To - Tl)).
    """
    if temperature <= low or temperature >= high:
        return 0.0
    rise = (temperature - low) / (optimum - low)
    fall = (high - temperature) / (high - optimum)
    return float(rise * fall ** ((high - optimum) / (optimum - low)))


def briere_rate(temperature: float, scale: float, low: float, high: float) -> float:
    """Share of a development done in a second [1/s]; 0 outside the two thresholds.

    Parameters
    ----------
    temperature : float
        Temperature [K].
    scale : float
        Fitted factor [1/(s K^2.5)].
    low, high : float
        Lower and upper threshold, rising, low above 0 degC [K].

    Source: Briere et al. 1999, Environ Entomol 28:22, eq. 1, in degC: a T (T - Tl) (Th - T)^0.5.
    """
    if temperature <= low or temperature >= high:
        return 0.0
    celsius = temperature - ZERO_CELSIUS
    return scale * celsius * (temperature - low) * sqrt(high - temperature)


def moisture_factor(
    saturation: float, dry: float, moist: float, wet: float, flooded: float
) -> float:
    """Rate at a wetness over the rate when it is right [1]: 0 to 1, straight between four points.

    Parameters
    ----------
    saturation : float
        Share of the pores filled with water [1], 0 to 1.
    dry : float
        Wetness up to which nothing happens [1].
    moist, wet : float
        Ends of the right wetness [1], dry < moist <= wet < 1.
    flooded : float
        What is left of the rate when all pores are full [1], 0 to 1; 0.31 for the decay of forest
        litter.

    Source: shape of the water factors of EPIC, Williams 1995 (as public help texts print them);
    0.31 is 0.766 / 2.46 per year on the flooded and the aerated floor of one forest, Lam et al.
    2021, Biotropica 53:920.
    """
    if saturation <= dry:
        return 0.0
    if saturation < moist:
        return (saturation - dry) / (moist - dry)
    if saturation <= wet:
        return 1.0
    return 1.0 - (1.0 - flooded) * min((saturation - wet) / (1.0 - wet), 1.0)


def feeding_share(food: float, half: float) -> float:
    """Intake over the intake when food is ample [1].

    Parameters
    ----------
    food : float
        Food there is [any], 0 or more.
    half : float
        Food at which half is eaten, above 0 [the same].

    Source: Holling 1959, Can Entomol 91:385: type II, in its hyperbolic form.
    """
    return food / (food + half)


def crowded_share(food: float, half: float, crowding: float, eaters: float) -> float:
    """Intake over the intake when food is ample and nobody else there [1].

    Parameters
    ----------
    food : float
        Food there is [any], 0 or more.
    half : float
        Food at which half is eaten, above 0 [the same].
    crowding : float
        Food that one unit of eaters keeps the others from [the same, for each unit of eaters].
    eaters : float
        Eaters there are [any], 0 or more.

    Source: Beddington 1975, J Anim Ecol 44:331; DeAngelis, Goldstein & O'Neill 1975, Ecology 56:881
    (form from memory): F / (F + H + c P).
    """
    return food / (food + half + crowding * eaters)


def prey_eaten(density: float, attack: float, handling: float) -> float:
    """Prey a predator eats in a second [1/s].

    Parameters
    ----------
    density : float
        Prey on a square metre [1/m2].
    attack : float
        Area searched in a second [m2/s].
    handling : float
        Time for one prey, digestion included [s].

    Source: Holling 1959, Can Entomol 91:385, disc equation: a N / (1 + a h N).
    """
    return attack * density / (1.0 + attack * handling * density)


def half_life(rate: float) -> float:
    """Time in which half is gone [s].

    Parameters
    ----------
    rate : float
        Rate constant, above 0 [1/s].

    Source: ln 2 / k.
    """
    return log(2.0) / rate
