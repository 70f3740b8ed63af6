"""Adaptors that let a reference sheet speak of decomposers and litter in degrees Celsius and years."""

from __future__ import annotations

from loamwright.physics import decay, thermal_rates

ZERO = thermal_rates.ZERO_CELSIUS
YEAR = 365.25 * 86_400.0


def beta(celsius: list[float], low: float, optimum: float, high: float) -> list[float]:
    """Share of the best rate at each temperature."""
    return [
        thermal_rates.beta_factor(ZERO + t, ZERO + low, ZERO + optimum, ZERO + high)
        for t in celsius
    ]


def flooded_share(saturation: float) -> float:
    """Decay of litter on a flooded floor over that on a moist one."""
    return thermal_rates.moisture_factor(saturation, 0.05, 0.4, 0.8, 0.31)


def with_fauna(per_year: float, shares: list[float]) -> list[float]:
    """Decay constants a year once the fauna does its share."""
    return [decay.litter_decay(per_year, 1.0, 1.0, share) for share in shares]


def half_life_days(per_year: list[float]) -> list[float]:
    return [thermal_rates.half_life(k / YEAR) / decay.DAY for k in per_year]


def nitrification_per_day(celsius: list[float]) -> list[float]:
    return [decay.nitrification_constant(ZERO + t) * decay.DAY for t in celsius]


def urate_carbon() -> float:
    return decay.URATE_CARBON
