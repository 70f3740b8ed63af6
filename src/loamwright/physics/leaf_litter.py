"""Litter on the ground: the water its leaves catch and hold, and what they keep from evaporating.

Plain arithmetic on floats, so that a compiled loop can take each function as it is.
"""

from __future__ import annotations

from math import exp
from typing import Final

LEAF_HOLDS: Final = 2.05
"""Water held by litter over its dry mass, needles and leaves alike [1]: 2.0 to 2.1,
Zagyvai-Kiss et al. 2019, Agric For Meteorol 278:107656."""


def caught_depth(rain: float, capacity: float) -> float:
    """Water caught by dry litter out of a depth of rain or mist [m].

    Parameters
    ----------
    rain : float
        Depth of water that falls [m].
    capacity : float
        Most that the litter holds [m], above 0.

    Source: Merriam 1960, J Geophys Res 65:3850 (from memory): C (1 - exp(-P / C)).
    """
    return capacity * (1.0 - exp(-rain / capacity))


def litter_film(
    film: float, capacity: float, rain: float, evaporation: float, time: float
) -> float:
    """Water in litter after a time of steady rain and evaporation [m].

    Parameters
    ----------
    film : float
        Water in it at the beginning [m], 0 to `capacity`.
    capacity : float
        Most that it holds [m], above 0.
    rain : float
        Water that falls on it [m/s].
    evaporation : float
        Evaporation where all of it is wet [m/s].
    time : float
        Time [s].

    Of what falls the dry share catches, of what could evaporate the wet share does, both by
    film over capacity.

    Source: dS/dt = P (1 - S/C) - E S/C, the rate form of Merriam 1960 (from memory), integrated.
    """
    rate = (rain + evaporation) / capacity
    if rate <= 0.0:
        return film
    end = capacity * rain / (rain + evaporation)
    return end + (film - end) * exp(-rate * time)


def litter_pass(depth: float, porosity: float, diffusivity: float, transfer: float) -> float:
    """Evaporation from ground under dry litter over that from bare ground [1].

    Parameters
    ----------
    depth : float
        Depth of the litter [m].
    porosity : float
        Share of its volume that is air [1].
    diffusivity : float
        Diffusivity of vapour in free air [m2/s].
    transfer : float
        Coefficient of vapour transfer above it [m/s].

    Source: resistances in series, with the diffusivity of Millington & Quirk 1961 for dry pores,
    D p^(4/3) (from memory). Air blown through litter makes it pass more.
    """
    resistance = depth / (diffusivity * porosity ** (4.0 / 3.0))
    return float(1.0 / (1.0 + transfer * resistance))
