"""Plants over a year: light and warmth at each crown, height and spread, shade on each other, pruning.

Light at a crown as it is planted is the light engine's; how it changes as crowns grow over each other
follows from their circles seen from above. That a crown rises towards its lamps is left out: the light
told of a growing plant is rather too low.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.catalogue import PlantType
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.planting import Plant
from loamwright.physics import crowns, growth, thermal_rates

Floats = NDArray[np.float64]

DAY = 86_400.0
DAYS = 365

DOUBLING = {"slow": (200.0, 600.0), "medium": (90.0, 200.0), "fast": (40.0, 90.0)}
"""Days in which a small plant of a pace doubles its height in ample light and warmth [d]; from
memory."""

LUX_PER_PHOTON = 70.0
"""Illuminance over photon flux of white lamps [lx s m2/umol]; 65 to 75, from memory."""

HOLDS_SHARE = 0.5
"""Light at which a plant just holds its own over the least that it needs [1]; from memory."""

BEYOND = 10.0
"""How far below and above its good warmth a plant stops growing [K]; from memory."""

EXTINCTION = 0.5

PRUNED_TO = 2.0 / 3.0
"""What is left of its room's height after pruning [1]; common practice."""

NOT_UPWARD = ("moss", "liverwort", "trailing epiphyte", "creeping epiphyte", "atmospheric epiphyte")
"""Forms that do not grow up against the top."""

WAYS = (-1.0, 0.0, 1.0)


@dataclass(frozen=True)
class PlantYear:
    """One plant over a year: ``name``, days (R,), ``height`` and ``spread`` (R,) [m] pruned when it
    reaches its ``room`` [m], ``light`` (R,) [mol/(m2 d)], the days it is ``pruned``, ``pace`` of growth
    by light and warmth over the best (R,) [1]; ``shaded`` the plants over it at the end, with the
    share of light each keeps off [1]."""

    name: str
    room: float
    height: Floats
    spread: Floats
    light: Floats
    pace: Floats
    pruned: tuple[int, ...]
    shaded: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Planting:
    """A habitat's plants over a year by ``way`` (slowest, middle, quickest growth told of their pace),
    each a mapping by name; ``unknown`` what is missing to follow a plant, by its name; ``light`` and
    ``warmth`` (winter, summer) [K] at the crowns as planted."""

    years: tuple[Mapping[str, PlantYear], ...]
    unknown: Mapping[str, str]
    light: Mapping[str, float]
    warmth: Mapping[str, tuple[float, float]]

    @property
    def middle(self) -> Mapping[str, PlantYear]:
        """The year at the middle of each range."""
        return self.years[1]


def least_light(kind: PlantType, lit: float) -> float | None:
    """Least daily light of a plant [mol/(m2 d)]: its own, else its least illuminance over the time lit
    [s] under white lamps; None where neither is known."""
    if kind.dli[0] is not None:
        return kind.dli[0]
    if kind.lux[0] is not None:
        return growth.daily_light(kind.lux[0] / LUX_PER_PHOTON, lit)
    return None


def room_above(habitat: Habitat, plant: Plant) -> float:
    """Height that a plant has over its foot [m]: to the top, or to where a lamp over its crown must
    not be neared."""
    top = habitat.enclosure.inside[2]
    for lamp in habitat.lamps:
        x, y, z = lamp.at
        beside = math.hypot(x - plant.foot[0], y - plant.foot[1])
        if z > plant.foot[2] and beside <= 0.5 * plant.spread + 0.1:
            top = min(top, z - (lamp.type.min_distance or 0.0))
    return max(top - plant.foot[2], 0.01)


def latest_planted(plants: Sequence[Plant]) -> int | None:
    """The day the last plant goes in, by its number in the calendar; None where none is said."""
    return max((p.planted for p in plants if p.planted is not None), default=None)


MIDWINTER = 15
"""Day of the year that is taken as midwinter north of the equator: the middle of January."""

CALENDAR = (730_120, 365.2425)
"""Number in the calendar of 1 January 2000, and days of a year."""


def begins_on(habitat: Habitat, season: str) -> float:
    """Days after midwinter on which a habitat is planted [d]: the last day on which the file says that
    something is planted, else the middle of a season."""
    latest = latest_planted(habitat.plants)
    if latest is None:
        return 0.0 if season == "winter" else 0.5 * 365.0
    first, year = CALENDAR
    south = 0.5 * year if (habitat.schedule.latitude or 0.0) < 0.0 else 0.0
    return float((latest - first + 1 - MIDWINTER + south) % year)


def missing_of(plant: Plant, lit: float) -> str:
    """The field of a plant without which its growth is not known; empty where it is."""
    kind = plant.type
    for name in ("growth", "mature_height", "mature_spread"):
        if not getattr(kind, name) and not (name == "growth" and plant.growth is not None):
            return name
    if plant.growth is not None:
        return ""
    if None in kind.temperature:
        return "temperature"
    return "" if least_light(kind, lit) is not None else "dli"


def lit_time(habitat: Habitat, season: str) -> float:
    """Time lit in a season [s]."""
    start, end = habitat.schedule.hours(season)
    return end - start


def plant_year(
    habitat: Habitat, light: Mapping[str, float], warmth: Mapping[str, tuple[float, float]],
    season: str = "winter",
) -> Planting:  # fmt: skip
    """Follow a habitat's plants for a year from the middle of a season on, or from the day on which the
    last of them is planted, where the file says it.

    Parameters
    ----------
    light : mapping
        Daily light at the crowns by plant [mol/(m2 d)].
    warmth : mapping
        Mean air at the crowns in winter and in summer [K].
    """
    lit = lit_time(habitat, "middle")
    unknown = {p.name: what for p in habitat.plants if (what := missing_of(p, lit))}
    unknown |= {p.name: "light" for p in habitat.plants if p.name not in light}
    begins = begins_on(habitat, season)
    years = tuple(_follow(habitat, light, warmth, set(unknown), way, begins) for way in WAYS)
    return Planting(years, unknown, dict(light), dict(warmth))


def seasonal(winter: float, summer: float, day: float) -> float:
    """A value so many days after midwinter, on a cosine between the two."""
    w = 0.5 + 0.5 * math.cos(2.0 * math.pi * day / 365.0)
    return w * winter + (1.0 - w) * summer


def rate_at_best(pace: str, way: float) -> float:
    """Relative rate of growth in ample light and warmth [1/s]."""
    quick, slow = DOUBLING[pace]
    return math.log(2.0) / (slow * (quick / slow) ** (0.5 + 0.5 * way) * DAY)


FLAT = 0.05
"""Share of its stature a plant still lacks, under which a growth measured tells no rate [1]."""


def rate_measured(plant: Plant, pace: float) -> float:
    """Relative rate of growth in ample light and warmth [1/s] of a plant whose growth was measured at a
    ``pace`` [1] of the best: the logistic curve's where its height is what it is now."""
    tall = plant.type.mature_height or 0.0
    lacks = max(1.0 - plant.height / tall, FLAT) if tall > 0.0 else 1.0
    return (plant.growth or 0.0) / (plant.height * lacks) / (pace if pace > 0.0 else 1.0)


def _answers(kind: PlantType, lit: float) -> bool:
    """True where it is known how a plant answers to light and warmth."""
    return None not in kind.temperature and least_light(kind, lit) is not None


def pace_at(kind: PlantType, light: float, temperature: float, lit: float) -> float:
    """Growth at a light [mol/(m2 d)] and warmth [K] over the best [1]."""
    least = least_light(kind, lit)
    low, high = kind.temperature
    if least is None or low is None or high is None:
        return 0.0
    held = HOLDS_SHARE * least
    shine = growth.light_factor(light, held, least - held)
    warm = thermal_rates.beta_factor(temperature, low - BEYOND, 0.5 * (low + high), high + BEYOND)
    return shine * warm


def _follow(
    habitat: Habitat, light: Mapping[str, float], warmth: Mapping[str, tuple[float, float]],
    unknown: set[str], way: float, begins: float,
) -> dict[str, PlantYear]:  # fmt: skip
    plants = [p for p in habitat.plants if p.name in light]
    n = len(plants)
    lit = [lit_time(habitat, s) for s in ("winter", "middle", "summer")]
    height = np.array([p.height for p in plants])
    spread = np.array([p.spread for p in plants])
    rooms = [room_above(habitat, p) for p in plants]
    first = [_passed(plants, height, spread, i) for i in range(n)]
    out = np.zeros((4, DAYS + 1, n))
    pruned: list[list[int]] = [[] for _ in plants]
    best = [0.0] * n
    for day in range(DAYS + 1):
        length = seasonal(lit[0], lit[2], begins + day) / lit[1]
        shine = np.array([
            light[p.name] * length * _passed(plants, height, spread, i) / first[i]
            for i, p in enumerate(plants)
        ])  # fmt: skip
        out[0, day], out[1, day], out[2, day] = height, spread, shine
        for i, p in enumerate(plants):
            if p.name in unknown:
                continue
            air = seasonal(*warmth.get(p.name, (295.15, 297.15)), begins + day)
            pace = pace_at(p.type, shine[i], air, lit[1])
            if p.growth is not None and not _answers(p.type, lit[1]):
                pace = 1.0
            out[3, day, i] = pace
            if day == 0:
                told = p.growth is not None
                best[i] = rate_measured(p, pace) if told else rate_at_best(p.type.growth, way)
            rate = best[i] * pace
            tall, wide = p.type.mature_height or 0.0, p.type.mature_spread or 0.0
            height[i] = growth.height_after(float(height[i]), tall, rate, DAY)
            spread[i] = growth.height_after(float(spread[i]), wide, rate, DAY)
            if p.type.form not in NOT_UPWARD and height[i] > rooms[i] and day < DAYS:
                pruned[i].append(day)
                share = PRUNED_TO * rooms[i] / height[i]
                height[i] *= share
                spread[i] = max(p.spread * PRUNED_TO, share * spread[i])
    found = {}
    for i, p in enumerate(plants):
        found[p.name] = PlantYear(
            p.name, rooms[i], out[0, :, i].copy(), out[1, :, i].copy(), out[2, :, i].copy(),
            out[3, :, i].copy(), tuple(pruned[i]),
            _over(plants, out[0, -1], out[1, -1], i),
        )  # fmt: skip
    return found


def _over(
    plants: Sequence[Plant], height: Floats, spread: Floats, i: int
) -> tuple[tuple[str, float], ...]:
    """The plants over another, with the share of its light that each keeps off."""
    found = []
    mine = plants[i]
    top = mine.foot[2] + height[i]
    for j, other in enumerate(plants):
        over = other.foot[2] + height[j]
        if j == i or over <= top:
            continue
        # Only the part of a crown that stands higher keeps light off.
        part = min(1.0, (over - top) / max((1.0 - other.type.crown_base) * height[j], 1e-9))
        apart = math.hypot(mine.foot[0] - other.foot[0], mine.foot[1] - other.foot[1])
        shared = crowns.circle_overlap(0.5 * spread[i], 0.5 * spread[j], apart)
        covered = shared / (math.pi / 4.0 * spread[i] ** 2)
        kept = 1.0 - crowns.passed_by(covered, part * other.type.leaf_area_index, EXTINCTION)
        if kept > 0.005:
            found.append((other.name, float(kept)))
    return tuple(sorted(found, key=lambda pair: -pair[1]))


def _passed(plants: Sequence[Plant], height: Floats, spread: Floats, i: int) -> float:
    """Share of the light that the plants over another let through [1]."""
    share = 1.0
    for _, kept in _over(plants, height, spread, i):
        share *= 1.0 - kept
    return share
