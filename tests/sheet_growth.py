"""Adaptors that let a reference sheet speak of plants and eggs in degrees Celsius and days."""

from __future__ import annotations

from loamwright.physics import eggs, growth

ZERO = 273.15
DAY = 86_400.0


def light(photons: float, hours: float) -> float:
    """Daily light integral from a photon flux [umol/(m2 s)] and hours lit."""
    return growth.daily_light(photons, hours * 3600.0)


def line(celsius: list[float], days: list[float]) -> list[float]:
    """Threshold [degC] and degree-days."""
    threshold, constant, _ = eggs.rate_line([ZERO + t for t in celsius], [d * DAY for d in days])
    return [threshold - ZERO, constant / DAY]


def days_at(celsius: list[float], days: list[float], wanted: list[float]) -> list[float]:
    """Days of incubation by the line through experiments."""
    threshold, constant, _ = eggs.rate_line([ZERO + t for t in celsius], [d * DAY for d in days])
    return [
        eggs.incubation_time(ZERO + t, threshold, constant, ZERO, ZERO + 60.0) / DAY for t in wanted
    ]


def pooled(celsius: list[float], shares: list[float], numbers: list[float]) -> list[float]:
    """Share of males at each temperature, experiments put together."""
    return eggs.pooled_shares([ZERO + t for t in celsius], shares, numbers)[1].tolist()


def between(celsius: list[float], shares: list[float], wanted: list[float]) -> list[float]:
    """Share of males between experiments."""
    tried = [ZERO + t for t in celsius]
    return [eggs.male_share(ZERO + t, tried, shares) for t in wanted]


def searches(first: float, second: float, both: float) -> list[float]:
    return list(eggs.two_searches(first, second, both))


def taken_away(counts: list[float]) -> list[float]:
    return list(eggs.removals(counts))


def band(share: float, number: float) -> list[float]:
    """95 % band of a share."""
    return list(eggs.share_band(share, number, 1.96))
