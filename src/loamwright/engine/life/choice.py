"""What an animal can choose from: ultraviolet and warmth at every place it gets to, hour by hour."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.findings import ENGINE_HUMIDITY
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.light.findings import RETREAT_UVI, zone_source
from loamwright.engine.light.values import LightResult
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source
from loamwright.physics import ferguson
from loamwright.physics.bodies import outside_band

Floats = NDArray[np.float64]
Band = tuple[float | None, float | None]

SPOT = "spot"
"""Role of a place without a name, on a piece or on the ground."""

HOURS = 24
"""Hours of a day."""


@dataclass(frozen=True)
class Shares:
    """Shares of the day in which something can be had [1]; None where its band is not known: a place
    that warms a body to its preferred band or beyond (``warm``: it stays as long as it likes),
    ultraviolet in its band (``uv``), ``both`` at one place, a ``cool`` and dark shelter, air of the
    right ``damp``, and all ``together`` in the same hour."""

    warm: float | None
    uv: float | None
    both: float | None
    cool: float | None
    damp: float | None
    together: float | None


@dataclass(frozen=True)
class Choice:
    """The choice of a species on a typical day (24 full hours, S places reached): ``uvi`` (24, S),
    ``operative`` (24, S) [K], None where no body is known, ``humidity`` (24, S), the hours that are
    ``day`` (24,), bands of the UV index, the body [K] and the air's humidity, with the UV index's
    source; ``shares`` of the day; ``quality`` mean distance of operative temperatures by day from the
    preferred band [K] (d_e), None where one is not known."""

    species: Species
    season: str
    sites: tuple[str, ...]
    roles: tuple[str, ...]
    uvi: Floats
    operative: Floats | None
    humidity: Floats
    day: NDArray[np.bool_]
    uvi_band: Band
    body_band: Band
    damp_band: Band
    uvi_source: Source | None
    shares: Shares
    quality: float | None

    @property
    def together_time(self) -> float | None:
        """Time a day in which all can be had in the same hour [s]."""
        share = self.shares.together
        return None if share is None else 3600.0 * share * float(self.day.sum())


def uvi_band(habitat: Habitat, species: Species) -> tuple[Band, Source | None]:
    """The UV index a species seeks: the builder's own need for its basking place, else its zone's."""
    basking = {s.name for s in habitat.sites if s.role == "basking"}
    for need in habitat.needs:
        mine = need.about in ("", species.key) and (need.site in basking or need.about)
        if need.quantity == "uvi" and mine and (not need.site or need.site in basking):
            return (need.low, need.high), need.source
    if species.ferguson_zone is None:
        return (None, None), None
    return ferguson.ZONES[species.ferguson_zone].maximum, zone_source(species)


@dataclass(frozen=True)
class Sampled:
    """Places without a name (Z): what they are on (``names``), and over a run (R rows) the ``uvi``, the
    ``operative`` temperature [K] (None where no body is known) and the ``humidity``, all (R, Z)."""

    names: tuple[str, ...]
    uvi: Floats
    operative: Floats | None
    humidity: Floats


def choice_of(
    habitat: Habitat,
    species: Species,
    reached: tuple[str, ...],
    run: ClimateRun,
    light: LightResult,
    more: Sampled | None = None,
) -> Choice | None:
    """The choice among the places a species reaches, named ones and ``more``; None where it reaches
    none.

    The light is that of all lamps as they are switched and dimmed in each hour of the run.
    """
    sites = [s for s in habitat.sites if s.name in reached]
    if not sites and more is None:
        return None
    names = [s.name for s in sites]
    columns = [run.site(n) for n in names]
    rows = run.rows_by_hour[:HOURS]
    at = [s.name for s in light.sites]
    table = light.table["brightest"]["uvi"][:, [at.index(n) for n in names]]
    uvi = run.lamps[rows] @ table if len(habitat.lamps) else np.zeros((len(rows), len(sites)))
    body = run.operative.get(species.key)
    operative = None if body is None else body[rows][:, columns]
    humidity = run.humidity[rows][:, columns]
    day = run.daytime[rows].astype(bool)
    band, source = uvi_band(habitat, species)
    roles = tuple(s.role for s in sites)
    if more is not None:
        names, roles = [*names, *more.names], roles + (SPOT,) * len(more.names)
        uvi = np.hstack([uvi, more.uvi[rows]])
        humidity = np.hstack([humidity, more.humidity[rows]])
        if operative is not None and more.operative is not None:
            operative = np.hstack([operative, more.operative[rows]])
    shares, quality = _shares(species, roles, uvi, operative, humidity, day, band)
    return Choice(
        species, run.season, tuple(names), roles, uvi, operative, humidity, day, band,
        species.preferred_body, species.humidity_day, source, shares, quality,
    )  # fmt: skip


def _inside(values: Floats, band: Band) -> NDArray[np.bool_] | None:
    """Where values lie in a band; None where it has no end."""
    low, high = band
    if low is None and high is None:
        return None
    out = np.ones(values.shape, bool)
    if low is not None:
        out &= values >= low
    if high is not None:
        out &= values <= high
    return out


def _shares(
    species: Species, roles: tuple[str, ...], uvi: Floats, operative: Floats | None,
    humidity: Floats, day: NDArray[np.bool_], band: Band,
) -> tuple[Shares, float | None]:  # fmt: skip
    """Shares of the day, and the mean distance from the preferred band."""
    if not day.any():
        return Shares(None, None, None, None, None, None), None
    low, high = species.preferred_body
    warm = None if operative is None or low is None else _inside(operative, (low, None))
    bright = _inside(uvi, band)
    # Air a point beyond its band counts while that is within what is known of it.
    dry, wet = species.humidity_day
    damp = _inside(
        humidity,
        (None if dry is None else dry - ENGINE_HUMIDITY,
         None if wet is None else wet + ENGINE_HUMIDITY),
    )  # fmt: skip
    shelter = np.array([r in ("hide", "retreat") for r in roles])
    most = species.voluntary_max if species.voluntary_max is not None else high
    cool = None
    if operative is not None and most is not None:
        cool = (operative <= most) & (uvi <= RETREAT_UVI) & shelter[None, :]

    def hours(where: NDArray[np.bool_] | None) -> NDArray[np.bool_] | None:
        return None if where is None else np.asarray(where.any(axis=1))

    def share(where: NDArray[np.bool_] | None) -> float | None:
        return None if where is None else float(where[day].mean())

    both = None if warm is None or bright is None else warm & bright
    needed = [hours(both), hours(cool), hours(damp)]
    together = None
    if all(n is not None for n in needed):
        together = np.logical_and.reduce([n for n in needed if n is not None])
    quality = None
    if operative is not None and low is not None and high is not None:
        quality = float(
            np.mean([outside_band(float(v), low, high) for v in operative[day].ravel()])
        )
    return (
        Shares(share(hours(warm)), share(hours(bright)), share(hours(both)), share(hours(cool)),
               share(hours(damp)), share(together)),
        quality,
    )  # fmt: skip
