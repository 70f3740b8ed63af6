"""Decomposers of the catalogue as the classes of `physics.populations`.

What is not measured of a species follows from what is: breath from its mass, intake from what its
growth and breath cost, the risk of its young from the share that grow up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.decomposers import DecomposerType, Range
from loamwright.physics import populations, soil_animals, thermal_rates

Floats = NDArray[np.float64]

YEAR = 365.25 * 86_400.0
DAY = 86_400.0

EGGS, YOUNG = 2, 4
"""Classes of the egg and of the young of each species; the grown are one more."""

CLASSES = EGGS + YOUNG + 1

NEWBORN = 0.01
"""Mass of an egg or newborn over the grown animal's [1]; from memory: springtail eggs 0.003, young
of isopods 0.005 to 0.02."""

DRY_CARBON = 0.30 * 0.40
"""Carbon of fresh mass [1]: 30 % dry, 40 % of that carbon; from memory."""

ASSIMILATION = (0.137, 0.533)
"""Share of food that passes into the body [1]: five detritivores on alder litter, published
(Charles University repository 573519)."""

MOST_EATEN = 2.0
"""Most that an animal eats over what growth, breeding and breath cost at best [1]; from memory."""

RATIO = {"springtail": 5.0, "isopod": 6.0}
"""Carbon to nitrogen of bodies [1]; from memory."""

TASTE = {"springtail": (0.3, 1.0), "isopod": (1.0, 0.6)}
"""How much of litter and of waste counts as food [1]: springtails live on what grows on it; from
memory."""

CHOICE = {"springtail": 5.0, "isopod": 2.0}
"""Nitrogen of what they pick out of the litter over that of all of it [1]: springtails graze hyphae of
ten carbon to a nitrogen, isopods leaves softened by them; from memory."""

MOISTURE: dict[str, tuple[float, float, float, float]] = {
    "wet": (0.10, 0.35, 0.95, 0.30),
    "moist": (0.05, 0.20, 0.85, 0.10),
    "dry": (0.00, 0.05, 0.60, 0.00),
}
"""Share of pores filled with water [1]: nothing goes on below the first, all is right between the
second and third; the fourth is what is left of every rate when all are full. From memory."""

DROUGHT = {"wet": 0.10 / DAY, "moist": 0.03 / DAY, "dry": 0.005 / DAY}
"""Deaths where it is too dry for all else [1/s]; from memory."""

HALF_FOOD = 0.02
"""Food at which intake is halved [kg carbon/m2]; from memory."""

CROWDING = 250.0
"""Food that a kilogram of their own kind keeps the others from [kg carbon/kg carbon]: with it
springtails level off at the 50 000 to 100 000 on a square metre of forest floors (Moldenke and Lattin
1990; general upper figure), see the tests; for isopods from memory that it holds too."""

REFERENCE = 293.15


def between(ends: Range, way: float) -> float:
    """A number in a range: its geometric middle at 0, its ends at -1 and 1."""
    low, high = ends
    if low is None or high is None:
        raise ValueError("an open range has no middle")
    return float(low * (high / low) ** (0.5 + 0.5 * way))


def life_of(species: DecomposerType, way: float) -> tuple[float, float, float, float, float]:
    """Egg and growing time at `measured_at`, grown life [s], daughters of a grown animal [1/s] and the
    share of the young that grow up [1]; ``way`` -1 the slowest told of it, 1 the quickest."""
    egg, grow = between(species.egg_time, -way), between(species.grow_time, -way)
    life = between(species.life, way) - egg - grow
    share = 0.5 if species.sexes == "two" else 1.0
    births = share * between(species.young_a_year, way) / YEAR
    return egg, grow, life, births, between(species.survival, way)


def fauna_of(
    species: Sequence[DecomposerType], way: float = 0.0, reach: float = 1.0, attack: float = 0.0,
    eaten: Sequence[bool] = (),
) -> populations.Fauna:  # fmt: skip
    """The classes of some species.

    Parameters
    ----------
    species : sequence of DecomposerType
        Each with its whole life known.
    way : float
        From -1, the least growth that is told of them, to 1, the most.
    reach : float
        Share of them that a predator can get at [1].
    attack : float
        Area a predator searches in a second [m2/s].
    eaten : sequence of bool, optional
        Which species are hunted; none where left out.
    """
    rows = [_one(x, way) for x in species]
    hunted = list(eaten) or [False] * len(rows)
    low = np.array([x.temperature_low for x in species], dtype=np.float64)
    high = np.array([x.temperature_high for x in species], dtype=np.float64)
    best = np.array([between(x.temperature_best, 0.0) for x in species], dtype=np.float64)
    # Eggs and newborn are passed over.
    catch = np.array([0.0] * (EGGS + 1) + [1.0] * YOUNG) * attack * reach
    return populations.Fauna(
        species=np.repeat(np.arange(len(rows)), CLASSES),
        carbon=_joined(rows, 0), advance=_joined(rows, 1), births=_joined(rows, 2),
        intake=_joined(rows, 3), breath=_joined(rows, 4), death=_joined(rows, 5),
        attack=np.concatenate([catch * h for h in hunted]) if rows else np.zeros(0),
        low=low, optimum=best, high=high,
        reference=np.full(len(rows), REFERENCE),
        q10=np.full(len(rows), soil_animals.heat_q10(REFERENCE)),
        moisture=np.array([MOISTURE[x.moisture] for x in species]).reshape(-1, 4),
        drought=np.array([DROUGHT[x.moisture] for x in species]),
        ratio=np.array([RATIO.get(x.kind, 6.0) for x in species]),
        assimilation=np.full(len(rows), math.sqrt(ASSIMILATION[0] * ASSIMILATION[1])),
        taste=np.array([TASTE.get(x.kind, (1.0, 0.6)) for x in species]).reshape(-1, 2),
        crowding=np.full(len(rows), CROWDING),
        choice=np.array([CHOICE.get(x.kind, 1.0) for x in species]),
        half_food=np.full(len(rows), HALF_FOOD),
    )  # fmt: skip


def _joined(rows: list[tuple[Floats, ...]], part: int) -> Floats:
    return np.concatenate([row[part] for row in rows]) if rows else np.zeros(0)


def _one(species: DecomposerType, way: float) -> tuple[Floats, ...]:
    """Carbon, advance, births, intake, breath and death by class."""
    egg, grow, life, births, survival = life_of(species, way)
    grown = between(species.body_mass, 0.0)
    body = np.concatenate([
        np.full(EGGS, NEWBORN), NEWBORN ** (1.0 - np.arange(YOUNG) / YOUNG), [1.0]
    ]) * grown  # fmt: skip
    carbon = DRY_CARBON * body
    paces = populations.stage_rates([egg, grow, life], [EGGS, YOUNG, 1])
    low, high = species.temperature_low, species.temperature_high
    best = between(species.temperature_best, 0.0)
    if low is None or high is None or species.measured_at is None:
        raise ValueError(f"too little is known of {species.key} to follow it")
    at_best = thermal_rates.beta_factor(species.measured_at, low, best, high)
    advance = paces / at_best
    share = egg / (egg + grow)
    death = np.concatenate([
        np.full(EGGS, soil_animals.risk_through(survival**share, paces[0], EGGS)),
        np.full(YOUNG, soil_animals.risk_through(survival ** (1.0 - share), paces[EGGS], YOUNG)),
        [1.0 / life],
    ])  # fmt: skip
    young = np.zeros(CLASSES)
    young[-1] = births
    breath = np.array([
        0.0 if i < EGGS else soil_animals.carbon_breathed(
            soil_animals.invertebrate_heat(float(m), REFERENCE)
        )
        for i, m in enumerate(body)
    ])  # fmt: skip
    growth = np.append(advance[:-1] * np.diff(carbon), births * carbon[0])
    at_best_breath = breath * thermal_rates.q10_factor(
        best, REFERENCE, soil_animals.heat_q10(REFERENCE)
    )
    assimilated = math.sqrt(ASSIMILATION[0] * ASSIMILATION[1])
    intake = MOST_EATEN * (at_best_breath + growth) / assimilated
    intake[:EGGS] = 0.0
    return carbon, advance, young, intake, breath, death


def growth_rate(species: DecomposerType, temperature: float, saturation: float,
                way: float = 0.0) -> float:  # fmt: skip
    """Rate at which numbers grow with food and nobody eaten [1/s]."""
    matrix = populations.ample_growth(fauna_of([species], way), 0, temperature, saturation)
    return float(np.linalg.eigvals(matrix).real.max())
