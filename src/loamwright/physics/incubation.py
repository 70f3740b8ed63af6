"""Measured incubation: days and share of males at constant temperatures, species of the catalogue.

All from the Reptile Development Database (Noble et al. 2018, Scientific Data), which names the first
author and year of each experiment. Fluctuating incubations are left out: in changing warmth days are
summed, see `eggs.hatching_time`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.physics.eggs import pooled_shares, rate_line

ZERO = 273.15
DAY = 86400.0

SOURCE = "Reptile Development Database, Noble et al. 2018, Scientific Data"


@dataclass(frozen=True, slots=True)
class Incubation:
    """Eggs kept at one temperature: ``latin`` name, ``author`` and ``year``, ``celsius`` [degC],
    ``days`` to hatching, mean [d], ``eggs`` [1]."""

    latin: str
    author: str
    year: int
    celsius: float
    days: float
    eggs: float


@dataclass(frozen=True, slots=True)
class Sexes:
    """Hatchlings sexed from eggs kept at one temperature: ``males`` their share, ``number`` [1]."""

    latin: str
    author: str
    year: int
    celsius: float
    males: float
    number: float


INCUBATIONS: tuple[Incubation, ...] = (
    Incubation("Anolis sagrei", "Warner", 2012, 26.0, 35.9, 18.33),
    Incubation("Anolis sagrei", "Warner", 2012, 28.0, 30.4, 18.33),
    Incubation("Anolis sagrei", "Warner", 2012, 30.0, 25.8, 18.33),
    Incubation("Chamaeleo calyptratus", "Ballen", 2015, 25.0, 253.4, 39.0),
    Incubation("Chamaeleo calyptratus", "Ballen", 2015, 28.0, 227.5, 26.0),
    Incubation("Chlamydosaurus kingii", "Harlow", 1999, 26.0, 124.5, 2.0),
    Incubation("Chlamydosaurus kingii", "Harlow", 1999, 29.0, 87.5, 15.0),
    Incubation("Chlamydosaurus kingii", "Harlow", 1999, 32.0, 72.4, 9.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 28.0, 82.5, 24.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 30.0, 66.4, 46.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 32.0, 56.4, 34.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 34.0, 49.3, 42.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 35.0, 46.7, 48.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 36.0, 45.5, 120.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 38.0, 44.6, 48.0),
    Incubation("Dipsosaurus dorsalis", "Muth", 1980, 40.0, 46.7, 20.0),
    Incubation("Lacerta agilis", "Li", 2013, 27.0, 38.4, 19.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 14.0, 115.0, 1.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 16.0, 110.0, 1.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 18.0, 107.0, 3.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 20.0, 98.0, 3.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 24.0, 77.0, 3.0),
    Incubation("Lepidodactylus lugubris", "Ota", 1994, 28.0, 68.0, 4.0),
    Incubation("Malacochersus tornieri", "Ewert", 2004, 27.0, 113.4, 5.0),
    Incubation("Malacochersus tornieri", "Ewert", 2004, 28.0, 101.9, 13.0),
    Incubation("Malacochersus tornieri", "Ewert", 2004, 29.0, 94.6, 14.0),
    Incubation("Malacochersus tornieri", "Ewert", 2004, 30.0, 91.9, 9.0),
    Incubation("Malacochersus tornieri", "Ewert", 2004, 32.0, 81.1, 19.0),
    Incubation("Podarcis muralis", "Ji", 1999, 26.0, 46.8, 42.0),
    Incubation("Podarcis muralis", "Ji", 1999, 29.0, 33.5, 113.0),
    Incubation("Podarcis muralis", "Ji", 1999, 32.0, 27.6, 109.0),
    Incubation("Podarcis muralis", "Le Henanff", 2013, 23.0, 65.9, 73.0),
    Incubation("Podarcis muralis", "Le Henanff", 2013, 29.0, 32.6, 80.0),
    Incubation("Podarcis muralis", "Van Damme", 1992, 24.0, 73.6, 11.0),
    Incubation("Podarcis muralis", "Van Damme", 1992, 28.0, 35.8, 10.0),
    Incubation("Podarcis muralis", "Van Damme", 1992, 32.0, 26.7, 6.0),
    Incubation("Podarcis muralis", "Van Damme", 1992, 35.0, 25.5, 2.0),
    Incubation("Sceloporus occidentalis", "Buckley", 2007, 24.0, 71.4, 91.0),
    Incubation("Sceloporus occidentalis", "Buckley", 2007, 30.0, 42.2, 78.0),
)
"""Every incubation at a constant temperature."""

SEXES: tuple[Sexes, ...] = (
    Sexes("Eublepharis macularius", "Janes", 2007, 26.0, 0.0, 11.0),
    Sexes("Eublepharis macularius", "Janes", 2007, 30.0, 0.46, 17.0),
    Sexes("Eublepharis macularius", "Janes", 2007, 32.5, 0.37, 18.0),
    Sexes("Eublepharis macularius", "Kratochvil", 2008, 28.0, 0.0, 54.0),
    Sexes("Eublepharis macularius", "Kratochvil", 2008, 30.0, 0.38, 52.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 26.0, 0.0, 125.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 28.0, 0.0, 43.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 29.0, 0.19, 21.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 30.0, 0.287, 80.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 31.0, 0.826, 46.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 31.5, 0.889, 9.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 32.0, 0.872, 94.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 32.5, 0.74, 219.0),
    Sexes("Eublepharis macularius", "Viets", 1993, 33.0, 0.8, 5.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 25.0, 0.405, 97.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 26.0, 0.797, 97.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 27.0, 0.875, 97.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 28.0, 0.659, 97.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 29.0, 0.044, 97.0),
    Sexes("Intellagama lesueurii", "Doody", 2006, 30.0, 0.0, 97.0),
    Sexes("Terrapene carolina", "Ewert", 1991, 22.5, 0.73, 33.0),
    Sexes("Terrapene carolina", "Ewert", 1991, 25.0, 0.96, 76.0),
    Sexes("Terrapene carolina", "Ewert", 1991, 27.0, 0.81, 31.0),
    Sexes("Terrapene carolina", "Ewert", 1991, 30.0, 0.0, 84.0),
)
"""Every experiment in which hatchlings were sexed."""


NO_LINE: dict[str, str] = {
    "Chamaeleo calyptratus": "its eggs rest: degree-days fail",
    "Lepidodactylus lugubris": "one to four eggs at each temperature, and days that hardly fall below "
    "18 degC",
}
"""Species whose measured days no straight line through rates may be drawn through, and why."""


def measured(latin: str) -> list[Incubation]:
    """The incubations of a species, coolest first.

    Parameters
    ----------
    latin : str
        Scientific name.

    Source: `INCUBATIONS`.
    """
    return sorted((x for x in INCUBATIONS if x.latin == latin), key=lambda x: x.celsius)


@dataclass(frozen=True, slots=True)
class Line:
    """Development by degree-days: ``threshold`` [K], ``constant`` [K s], ``spread`` of rates about the
    line [1] (nan from two temperatures), measured from ``coldest`` to ``warmest`` [K]."""

    threshold: float
    constant: float
    spread: float
    coldest: float
    warmest: float


def development(latin: str) -> Line | None:
    """Degree-days of a species' eggs; None where fewer than two temperatures below the optimum are
    known, or eggs rest.

    Parameters
    ----------
    latin : str
        Scientific name.

    The line is drawn through temperatures up to the first at which a further kelvin saves less than
    half of what it saves on average below: there the straight line bends.

    Source: `eggs.rate_line`; the cut, this project's own, leaves out 36 to 40 degC of *Dipsosaurus*
    and 35 degC of *Podarcis*.
    """
    found = measured(latin)
    if latin in NO_LINE or not found:
        return None
    by_warmth: dict[float, list[Incubation]] = {}
    for x in found:
        by_warmth.setdefault(x.celsius, []).append(x)
    levels = sorted(by_warmth)
    days = [
        sum(x.days * x.eggs for x in by_warmth[t]) / sum(x.eggs for x in by_warmth[t])
        for t in levels
    ]
    last = len(levels) - 1
    for i in range(2, len(levels)):
        mean = (1.0 / days[i - 1] - 1.0 / days[0]) / (levels[i - 1] - levels[0])
        here = (1.0 / days[i] - 1.0 / days[i - 1]) / (levels[i] - levels[i - 1])
        if here < 0.5 * mean:
            last = i - 1
            break
    if last < 1:
        return None
    warmth = [ZERO + t for t in levels[: last + 1]]
    threshold, constant, spread = rate_line(warmth, [DAY * d for d in days[: last + 1]])
    return Line(threshold, constant, spread, warmth[0], warmth[-1])


def hatching_days(latin: str, temperature: float) -> tuple[float, float] | None:
    """Days to hatching at a constant temperature, least and most [d]; None where not measured.

    Parameters
    ----------
    latin : str
        Scientific name.
    temperature : float
        Temperature of the eggs [K].

    Source: K / (T - T0) give or take the spread of the line, at least 5 %.
    """
    line = development(latin)
    if line is None or not line.coldest <= temperature <= line.warmest:
        return None
    middle = line.constant / (temperature - line.threshold) / DAY
    spread = 0.05 if math.isnan(line.spread) else max(0.05, line.spread)
    return middle * (1.0 - spread), middle * (1.0 + spread)


def sexed(latin: str) -> list[tuple[float, float, float]]:
    """Temperature [K], share of males [1] and hatchlings [1] of a species, coolest first; experiments
    at one temperature put together.

    Parameters
    ----------
    latin : str
        Scientific name.

    Source: `SEXES`, `eggs.pooled_shares`.
    """
    mine = [x for x in SEXES if x.latin == latin]
    if not mine:
        return []
    levels, shares, numbers = pooled_shares(
        [ZERO + x.celsius for x in mine], [x.males for x in mine], [x.number for x in mine]
    )
    return list(zip(levels.tolist(), shares.tolist(), numbers.tolist(), strict=True))
