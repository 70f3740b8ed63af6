"""What passes between a surface and its air: convection, evaporation, the numbers they share."""

from __future__ import annotations

import math

from numba import njit

from loamwright.engine.climate.network import DOWNWARD
from loamwright.engine.compiled import bare
from loamwright.physics import moist_air

_pws = njit(cache=True, error_model="numpy")(moist_air.saturation_pressure_water)

SIGMA = 5.670374419e-8
RV = moist_air.VAPOUR_GAS
LATENT = 2.45e6
"""Heat of evaporation taken for the whole network [J/kg]: its value at 21 degC; 2.43e6 at 30 degC."""

LEWIS = 0.879 ** (-2.0 / 3.0)
"""Vapour over heat transfer, Lewis number of air at 25 degC (`evaporation.lewis_number`)."""

LEAST_FILM = 0.4
"""Convection [W/(m2 K)] that no stillness falls below: conduction through 6 cm of air."""

QUIET = 0.2
"""Excess [K] to which the stirring of quiet air is equal: with it a panel of 0.3 m exchanges
1.3 W/(m2 K) with air of its own temperature, as air of 0.05 m/s would (laminar plate). Without it the
slope of the fourth root is infinite at nothing, and a wet surface that its air overtakes has no
single course: evaporation there hangs on the root alone."""

SLOPE = 17.27 * 237.3
"""Slope of the saturation pressure is this over (T - 35.85 K)^2 of itself [K] (Magnus, FAO-56), where
only its size matters."""

RUN_OFF = 60.0
"""Time [s] in which a surplus of film runs off."""


@bare()
def held_slope(t):
    """Vapour that air of ``t`` [K] holds more for each kelvin [kg/(m3 K)]."""
    held = _pws(t) / (RV * t)
    return held * (SLOPE / (t - 35.85) ** 2 - 1.0 / t)


@bare()
def film_slope(excess, stand, free, still, h):
    """How the coefficient ``h`` of `film` grows with the excess [W/(m2 K2)]."""
    size = math.sqrt(excess * excess + QUIET * QUIET)
    stirs, rests = free * free, still * still
    stirs, rests = stirs * stirs, rests * rests
    lean = -1.0 if stand == DOWNWARD else 1.0
    grows = 0.5 * ((stirs + rests) * excess / size + (stirs - rests) * lean)
    return 0.25 * grows / (h * h * h)


@bare()
def film(excess, stand, free, still):
    """Convection coefficient of a surface ``excess`` kelvins over its air [W/(m2 K)].

    Smooth through nothing; fourth powers add, as published for free and forced flow together
    (Churchill 1977, exponents 3 to 4; from memory).
    """
    size = math.sqrt(excess * excess + QUIET * QUIET)
    lean = -excess / size if stand == DOWNWARD else excess / size
    stirs, rests = free * free, still * still
    stirs, rests = stirs * stirs, rests * rests
    both = 0.5 * ((stirs + rests) + (stirs - rests) * lean)
    return math.sqrt(math.sqrt(both * size + LEAST_FILM**4))
