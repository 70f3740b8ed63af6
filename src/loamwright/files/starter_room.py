"""Room and heater of a starter file: a room as it would suit the animal, and the heat it lacks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.files.starter_living import DRY
from loamwright.habitat.catalogue import LampType, Species
from loamwright.habitat.enclosure import Vec3

ZERO = 273.15

WARMEST = {"winter day": 23.0, "winter night": 20.0, "summer day": 25.0, "summer night": 21.0}
"""What a room of a home is at most kept at [degC] (common practice, no source)."""

USUAL_AIR, USUAL_NIGHT = (22.0, 28.0), (18.0, 22.0)
"""Air by day and at night where the catalogue has none [degC]: a home's warmer half."""

LAMPS_ADD, NIGHT_ADDS = 3.0, 1.5
"""By how much lamps may warm the air over the room by day, and what is left of it at night [K];
common practice, no source."""

EMITTERS = ("ceramic-emitter-60w", "ceramic-emitter-100w", "ceramic-emitter-150w")

MOST = 3
"""Heaters of a starter at most."""

LOSS, KEPT = 3.0, 0.5
"""Heat a box loses per surface and kelvin [W/(m2 K)], and what of a heater's warms it: some leaves by
the window, some dries the misted ground [1] (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Rooms:
    """The room's air by season: day and night [degC], relative humidity by day."""

    winter: tuple[float, float]
    summer: tuple[float, float]
    humidity: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Warmth:
    """What a heater holds: air it goes on below and off above, by day and at night, and the limit
    beyond which it is cut [degC]."""

    day: tuple[float, float]
    night: tuple[float, float]
    cut_out: float


def _half(celsius: float) -> float:
    return round(2.0 * celsius) / 2.0


def _celsius(given: float | None, usual: float) -> float:
    return usual if given is None else given - ZERO


def wanted_air(species: Species) -> tuple[tuple[float, float], tuple[float, float]]:
    """Air wanted by day (cool and warm end) and at night (lowest and highest) [degC]."""
    cool = _celsius(species.air_cool, USUAL_AIR[0])
    warm = max(_celsius(species.air_warm, USUAL_AIR[1]), cool)
    low, high = species.night
    least = _celsius(low, min(USUAL_NIGHT[0], cool))
    most = max(_celsius(high, USUAL_NIGHT[1]), least)
    return (cool, warm), (least, most)


def room_for(species: Species, climate: str) -> Rooms:
    """A room as near to what the animal wants as one is kept."""
    (cool, warm), (least, most) = wanted_air(species)
    winter_day = _half(min(cool, WARMEST["winter day"]))
    summer_day = _half(max(min(warm - LAMPS_ADD, WARMEST["summer day"]), winter_day))
    middle = least + (most - least) / 3.0
    winter_night = _half(min(middle, WARMEST["winter night"], winter_day))
    summer_night = _half(
        min(max(min(most - NIGHT_ADDS, WARMEST["summer night"]), winter_night), summer_day)
    )
    damp = species.humidity_night[1] or 1.0
    humidity = (0.4, 0.5)
    if climate == DRY:
        winter = min(0.35, 0.8 * damp)
        humidity = (winter, max(winter, min(0.45, 0.8 * damp, species.humidity_day[1] or 1.0)))
    return Rooms((winter_day, winter_night), (summer_day, summer_night), humidity)


def warmth_for(species: Species, rooms: Rooms) -> Warmth | None:
    """What a heater has to hold; None where the room is warm enough, and for amphibians, which a
    heater would dry out: their room has to be warm."""
    (cool, warm), (least, most) = wanted_air(species)
    if species.animal_class == "Amphibia":
        return None
    if cool <= rooms.winter[0] + 1.0 and least <= rooms.winter[1]:
        return None
    day = _half(cool + min(1.0, (warm - cool) / 3.0))
    night = _half(least) + (0.5 if most - least >= 2.0 else 0.0)
    return Warmth((day, day + 1.0), (night, night + 1.0), _half(warm + 5.0))


def bounds(rooms: Rooms, warmth: Warmth | None) -> tuple[float, float]:
    """Coldest night and warmest day that plants are to bear [K]."""
    coldest = warmth.night[0] if warmth is not None else rooms.winter[1]
    return coldest + ZERO, rooms.summer[0] + LAMPS_ADD + ZERO


def ground_warmth(rooms: Rooms, warmth: Warmth | None) -> float:
    """About how warm the ground is in summer, mean of day and night [degC]."""
    day, night = rooms.summer[0] + LAMPS_ADD, rooms.summer[1] + NIGHT_ADDS
    if warmth is not None:
        day, night = max(day, warmth.day[0]), max(night, warmth.night[0])
    return 0.5 * (day + night)


def choose_heater(
    lamps: Mapping[str, LampType], warmth: Warmth, rooms: Rooms, inside: Vec3, distance: float
) -> tuple[str, int]:
    """Heat emitters that make up for what the room lacks, and how many; ``distance`` to the nearest
    perch [m]."""
    w, d, h = inside
    lacks = max(warmth.day[0] - rooms.winter[0], warmth.night[0] - rooms.winter[1], 0.0)
    watts = LOSS * 2.0 * (w * d + w * h + d * h) * lacks / KEPT
    fitting = [k for k in EMITTERS if (lamps[k].min_distance or 0.0) + 0.02 <= distance]
    strong = [k for k in fitting if lamps[k].power >= watts]
    key = strong[0] if strong else fitting[-1] if fitting else EMITTERS[0]
    return key, max(1, min(MOST, math.ceil(watts / lamps[key].power)))
