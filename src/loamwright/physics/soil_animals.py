"""Small animals of litter and ground: what they breathe, and how many of their young are lost.

Plain arithmetic on floats. With `populations` they make a species' classes out of what is known of
its life.
"""

from __future__ import annotations

from math import exp, log
from typing import Final

BOLTZMANN_EV: Final = 8.617333262e-5
"""Boltzmann constant [eV/K]; exact in the SI."""

OXYGEN_HEAT: Final = 4.5e5
"""Heat set free by each mole of oxygen breathed [J/mol]; Gnaiger 1983, from memory: 430 to 480 kJ."""

RESPIRATORY_QUOTIENT: Final = 0.85
"""Carbon dioxide given off over oxygen taken up [1]; between fat, 0.7, and sugar, 1.0 (textbook)."""

CARBON: Final = 0.012011
"""Molar mass of carbon [kg/mol]; standard atomic mass."""


def invertebrate_heat(mass: float, temperature: float) -> float:
    """Heat an idle invertebrate of litter or ground makes [W].

    Parameters
    ----------
    mass : float
        Fresh body mass, above 0 [kg]; measured from 1e-9 to 1e-2.
    temperature : float
        Temperature [K], 273 to 313.

    Source: Ehnes, Rall & Brose 2011, Ecol Lett 14:993, linear model over all groups (from memory):
    ln I = 23.055 + 0.695 ln M - 0.686 / (k T), I in J/h, M in mg.
    """
    logarithm = 23.055335 + 0.6950710 * log(1e6 * mass) - 0.6864200 / (BOLTZMANN_EV * temperature)
    return exp(logarithm) / 3600.0


def carbon_breathed(heat: float) -> float:
    """Carbon that leaves an animal as carbon dioxide [kg/s].

    Parameters
    ----------
    heat : float
        Heat it makes [W].

    Source: heat over `OXYGEN_HEAT`, times `RESPIRATORY_QUOTIENT` and the molar mass of carbon.
    """
    return heat / OXYGEN_HEAT * RESPIRATORY_QUOTIENT * CARBON


def heat_q10(temperature: float) -> float:
    """Factor of `invertebrate_heat` for ten kelvin about a temperature [1].

    Parameters
    ----------
    temperature : float
        Middle of the ten kelvin [K].

    Source: the law's own temperature term.
    """
    gap = 1.0 / (temperature - 5.0) - 1.0 / (temperature + 5.0)
    return exp(0.6864200 / BOLTZMANN_EV * gap)


def risk_through(survival: float, rate: float, classes: int) -> float:
    """Risk of death in each of a row of classes that lets a share pass through all of them [1/s].

    Parameters
    ----------
    survival : float
        Share that passes, above 0 and at most 1 [1].
    rate : float
        Passage from class to class [1/s].
    classes : int
        Classes in the row [1].

    Source: of a class p / (p + d) pass, so s = (p / (p + d))^n; solved for d.
    """
    return float(rate * (survival ** (-1.0 / classes) - 1.0))


def covered_share(litter: float, leaf_mass: float) -> float:
    """Share of the floor that leaves cover when they fall at random [1].

    Parameters
    ----------
    litter : float
        Dry litter [kg/m2].
    leaf_mass : float
        Dry mass over area of its leaves, above 0 [kg/m2].

    Source: Poisson's law: 1 - exp(-layers).
    """
    return 1.0 - exp(-litter / leaf_mass)
