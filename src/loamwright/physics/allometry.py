"""What residents eat and leave behind, from their mass: energy, food, dung, urates, nitrogen.

Plain arithmetic on floats, so that a compiled loop can take each function as it is. Laws of size
are means over species: one species in three lies off the field metabolic rate by more than a factor
of 1.7, and animals that need not search for food use less. They serve to plan for, not to feed by.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import exp
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loamwright.physics.bodies import field_heat_reptile

DAY: Final = 86_400.0
"""Seconds in a day [s]; exact."""

FIELD_SPREAD: Final = 0.227
"""Standard deviation of the decimal logarithm of field metabolic rates about the law [1]: residuals
of the 55 species of Nagy, Girard & Brown 1999, Annu Rev Nutr 19:247 (calculated)."""

FIELD_MASSES: Final = (0.0011, 45.2)
"""Masses of the smallest and the largest reptile in that table [kg]."""

URIC_ACID_NITROGEN: Final = 4.0 * 14.007 / 168.11
"""Nitrogen in uric acid, C5H4N4O3, by mass [1]; standard atomic masses."""

WATER_WITH: Final[Mapping[str, float]] = MappingProxyType(
    {"ammonia": 0.4, "urea": 0.04, "uric acid": 0.008}
)
"""Water passed with each kilogram of nitrogenous waste [m3/kg]; veterinary physiology text
(WikiVet, Nitrogenous Waste Excretion): 400, 40 and 8 ml a gram."""

PREY: Final[Mapping[str, tuple[float, float, float]]] = MappingProxyType(
    {
        "waxworm": (0.415, 0.0544, 27.7e6),
        "mealworm": (0.381, 0.0785, 22.5e6),
        "superworm": (0.421, 0.0749, 24.1e6),
        "silkworm": (0.173, 0.0860, 16.2e6),
        "soldier fly larva": (0.388, 0.0722, 21.5e6),
        "cricket": (0.308, 0.1065, 19.0e6),
        "cricket nymph": (0.229, 0.1076, 17.4e6),
        "cockroach nymph": (0.309, 0.0984, 21.7e6),
        "fruit fly": (0.309, 0.1087, 18.6e6),
        "woodlouse": (0.322, 0.0661, 10.8e6),
        "earthworm": (0.164, 0.1024, 18.1e6),
    }
)
"""Dry share [1], nitrogen of the dry mass [1] and usable energy of the dry mass [J/kg] of prey.

Finke 2002, Zoo Biol 21:269, and later work of his, as in *Hand-Rearing Birds*, 2nd ed., table
41.1: moisture, crude protein / 6.25 and kcal/g fresh, brought to dry mass (calculated). The energy
is what is left after digestion: for it the metabolised share of `food_for` is 1."""

LENGTH_MASS: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "Agamidae": (-4.686, 3.105),
        "Anguidae": (-5.765, 3.480),
        "Chamaeleonidae": (-3.997, 2.680),
        "Cordylidae": (-5.747, 3.589),
        "Corytophanidae": (-5.033, 3.243),
        "Dactyloidae": (-4.574, 2.942),
        "Diplodactylidae": (-4.804, 3.057),
        "Gekkonidae": (-4.242, 2.761),
        "Lacertidae": (-4.543, 2.951),
        "Scincidae": (-5.125, 3.229),
        "Varanidae": (-5.301, 3.235),
        "Xenosauridae": (-5.833, 3.571),
    }
)
"""Intercept and slope of log10 of mass [g] on log10 of snout-vent length [mm], by family [1].

Feldman et al. 2016, as carried by Meiri 2018, Glob Ecol Biogeogr 27:1168 (open data)."""


def mass_from_length(snout_vent: float, intercept: float, slope: float) -> float:
    """Mass of a lizard of a family [kg].

    Parameters
    ----------
    snout_vent : float
        Snout-vent length [m].
    intercept, slope : float
        Of the family, see `LENGTH_MASS` [1].

    Females' mean length gives a working mass, the greatest length a record.

    Source: Feldman et al. 2016, Glob Ecol Biogeogr 25:187 (pages from memory).
    """
    return float(1e-3 * 10.0**intercept * (1000.0 * snout_vent) ** slope)


def field_heat_band(mass: float, deviations: float) -> tuple[float, float]:
    """Band in which the energy a reptile uses in the wild lies [W], mean over the day.

    Parameters
    ----------
    mass : float
        Body mass [kg], see `FIELD_MASSES`.
    deviations : float
        Width to each side in standard deviations [1]: 1 holds two species in three.

    Source: `bodies.field_heat_reptile` (Nagy 2005) and `FIELD_SPREAD`.
    """
    middle = field_heat_reptile(mass)
    factor = 10.0 ** (FIELD_SPREAD * deviations)
    return middle / factor, middle * factor


def resting_heat_amphibian(mass: float, temperature: float) -> float:
    """Heat a resting amphibian makes [W].

    Parameters
    ----------
    mass : float
        Body mass [kg].
    temperature : float
        Body temperature [K], 273 to 303.

    Source: Gillooly et al. 2001, Science 293:2248, as coded in TrenchR: exp(16.68 - 5760 / T)
    m^0.75 / 60 with m in g.
    """
    return float(exp(16.68 - 5760.0 / temperature) * (1000.0 * mass) ** 0.75 / 60.0)


def insect_eater_intake(mass: float) -> float:
    """Dry food of a free-living insect-eating lizard [kg/s].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Gives less than `food_for` with the field metabolic rate, by a quarter at 0.1 kg: show both.

    Source: Nagy 2001, Nutr Abstr Rev B 71:21R (from memory): 0.013 m^0.773 g/d with m in g.
    """
    return float(0.013e-3 / DAY * (1000.0 * mass) ** 0.773)


def plant_eater_intake(mass: float) -> float:
    """Dry food of a free-living plant-eating iguana or its like [kg/s].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: Nagy 2001, Nutr Abstr Rev B 71:21R (from memory): 0.019 m^0.841 g/d with m in g.
    """
    return float(0.019e-3 / DAY * (1000.0 * mass) ** 0.841)


def food_for(power: float, energy: float, metabolised: float) -> float:
    """Dry food that covers a use of energy [kg/s].

    Parameters
    ----------
    power : float
        Energy used [W], growth and eggs not in it.
    energy : float
        Energy of the dry food, above 0 [J/kg]; about 23e6 for insects burnt (from memory).
    metabolised : float
        Share of it the animal can use, above 0 [1]; anoles on four kinds of prey 0.63 to 0.88.

    Source: energy balance at constant mass; Nagy 2001.
    """
    return power / (energy * metabolised)


def fresh_mass(dry: float, dry_share: float) -> float:
    """Fresh food of a dry mass [kg, kg/s].

    Parameters
    ----------
    dry : float
        Dry mass or flow of it [kg, kg/s].
    dry_share : float
        Dry mass over fresh mass, above 0 [1].

    Source: definition.
    """
    return dry / dry_share


def dung(dry_food: float, digested: float) -> float:
    """Dry dung, urates not in it [kg, kg/s].

    Parameters
    ----------
    dry_food : float
        Dry food [kg, kg/s].
    digested : float
        Share of its dry mass digested [1].

    Source: balance of dry matter.
    """
    return dry_food * (1.0 - digested)


def nitrogen_routes(dry_food: float, nitrogen: float, absorbed: float) -> tuple[float, float]:
    """Nitrogen that leaves an animal of constant mass in dung and in urates or urea [kg, kg/s].

    Parameters
    ----------
    dry_food : float
        Dry food [kg, kg/s].
    nitrogen : float
        Nitrogen of its dry mass [1], see `PREY`.
    absorbed : float
        Share of the nitrogen absorbed [1].

    Growing animals and laying females keep some: take it off the second.

    Source: balance of nitrogen.
    """
    total = dry_food * nitrogen
    return total * (1.0 - absorbed), total * absorbed


def uric_acid(nitrogen: float) -> float:
    """Uric acid that holds a mass of nitrogen [kg, kg/s].

    Parameters
    ----------
    nitrogen : float
        Nitrogen [kg, kg/s].

    Source: composition, `URIC_ACID_NITROGEN`. Urates also hold sodium, potassium and protein.
    """
    return nitrogen / URIC_ACID_NITROGEN


def size_law(masses: ArrayLike, values: ArrayLike) -> tuple[float, float, float]:
    """Law of size through measured animals: factor, exponent and spread.

    Parameters
    ----------
    masses : array_like, shape (n,)
        Masses, above 0, three or more [any].
    values : array_like, shape (n,)
        What was measured of each, above 0 [any].

    Returns
    -------
    tuple of float
        Factor and exponent of value = factor x mass^exponent, and the standard deviation of the
        decimal logarithm about it [1].

    Source: least squares on logarithms; it passes through geometric, not arithmetic, means.
    """
    x, y = np.log10(np.asarray(masses, dtype=float)), np.log10(np.asarray(values, dtype=float))
    slope, intercept = np.polyfit(x, y, 1)
    rest = y - intercept - slope * x
    return float(10.0**intercept), float(slope), float(np.sqrt(rest @ rest / (x.size - 2)))
