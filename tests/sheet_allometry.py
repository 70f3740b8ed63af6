"""Adaptors that let a reference sheet speak of residents in grams, kilojoules and days."""

from __future__ import annotations

import math

from loamwright.physics import allometry, bodies

DAY = 86_400.0


def field_kj(grams: list[float]) -> list[float]:
    """Field metabolic rate of reptiles [kJ/d]."""
    return [bodies.field_heat_reptile(m / 1000.0) * DAY / 1000.0 for m in grams]


def law_through(grams: list[float], values: list[float]) -> list[float]:
    """Factor and exponent through measured animals."""
    return list(allometry.size_law(grams, values)[:2])


def share_within(grams: list[float], measured: list[float], deviations: float) -> float:
    """Share of measured species [kJ/d] inside the band."""
    inside = 0
    for mass, kj in zip(grams, measured, strict=True):
        low, high = allometry.field_heat_band(mass / 1000.0, deviations)
        inside += low <= kj * 1000.0 / DAY <= high
    return inside / len(grams)


def spread_factor() -> float:
    """Width of one standard deviation as a factor."""
    low, high = allometry.field_heat_band(0.01, 1.0)
    return math.sqrt(high / low)


def insect_eater(grams: float) -> list[float]:
    """Food, dung and nitrogen of a lizard of 80 % digestion on insects of 23 kJ/g and 30 % dry mass:
    dry [g/d], fresh [g/d], dung at 75 % [g/d], nitrogen in urates and dung, uric acid [mg/d]."""
    power = bodies.field_heat_reptile(grams / 1000.0)
    dry = allometry.food_for(power, 23e6, 0.80)
    dung_nitrogen, urate_nitrogen = allometry.nitrogen_routes(dry, 0.10, 0.80)
    grams_a_day = 1000.0 * DAY
    return [
        dry * grams_a_day,
        allometry.fresh_mass(dry, 0.30) * grams_a_day,
        allometry.dung(dry, 0.75) * grams_a_day,
        urate_nitrogen * grams_a_day * 1000.0,
        dung_nitrogen * grams_a_day * 1000.0,
        allometry.uric_acid(urate_nitrogen) * grams_a_day * 1000.0,
    ]


def dry_intake(grams: float) -> list[float]:
    """Dry food of insect eaters and of plant eaters [g/d]."""
    mass = grams / 1000.0
    both = (allometry.insect_eater_intake(mass), allometry.plant_eater_intake(mass))
    return [flow * 1000.0 * DAY for flow in both]


def amphibian(grams: float, kelvin: float) -> float:
    return allometry.resting_heat_amphibian(grams / 1000.0, kelvin)


def family_mass(family: str, millimetres: float) -> float:
    """Mass [g] of a lizard of a family."""
    return 1000.0 * allometry.mass_from_length(millimetres / 1000.0, *allometry.LENGTH_MASS[family])


def prey_fresh(name: str) -> list[float]:
    """Moisture and crude protein [% of fresh mass] and usable energy [kcal/g fresh] of prey."""
    dry, nitrogen, energy = allometry.PREY[name]
    return [100.0 * (1.0 - dry), 100.0 * dry * nitrogen * 6.25, energy * dry / 4.184e6]
