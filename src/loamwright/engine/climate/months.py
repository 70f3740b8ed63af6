"""A year's run month by month, and the hours in which it leaves what is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.windows import LIVED, SHELTER, sites_for
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat

LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of the months; the 29th of February is left out."""

Band = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class Month:
    """Means and extremes of a month at the places animals use: ``room`` and air [K], humidity [1],
    ``electricity`` [J], water ``sprayed`` [kg], and hours ``outside`` each band by species and band."""

    room: float
    coldest: float
    mean: float
    warmest: float
    driest: float
    humidity: float
    electricity: float
    sprayed: float
    outside: Mapping[tuple[str, str], float]


def bands(species: Species) -> dict[str, Band]:
    """What a species asks of the air, by day and by night."""
    return {
        "air by day": (species.air_cool, species.air_warm),
        "air at night": species.night,
        "humidity by day": species.humidity_day,
        "humidity at night": species.humidity_night,
    }


def _beyond(values: NDArray[np.float64], band: Band) -> NDArray[np.bool_]:
    low, high = band
    out = np.zeros(values.shape, bool)
    if low is not None:
        out |= values < low
    if high is not None:
        out |= values > high
    return out


def months(habitat: Habitat, run: ClimateRun) -> list[Month]:
    """The twelve months of a run of a year with a row an hour.

    By day the air counts as outside its range when no place animals use lies in it; at night, and for
    humidity, the mean of the places is held. Where no animal is named, every site counts.
    """
    species = {g.species.key: g.species for g in habitat.animals}
    places = {k: sites_for(habitat, k, LIVED) for k in species}
    refuges = {k: sites_for(habitat, k, SHELTER) for k in species}
    every = sorted({i for p in places.values() for i in p}) or list(range(len(habitat.sites)))
    power = np.array([x.type.power * x.dim for x in habitat.lamps])
    fans = {f.name: f.type.power for f in habitat.fans}
    fan_power = np.array([fans.get(name, 0.0) for name in run.fan_names])
    pump = habitat.mist.pump if habitat.mist else 0.0
    rate = 1000.0 * sum(x.type.flow for x in habitat.mist.nozzles) if habitat.mist else 0.0
    out: list[Month] = []
    start = 0
    for days in LENGTHS:
        rows = slice(start * 24 + 1, (start + days) * 24 + 1)
        start += days
        air, damp = run.air[rows][:, every], run.humidity[rows][:, every]
        used = float((run.lamps[rows] @ power).sum()) * 3600.0
        used += float((run.fans[rows] ** 3 @ fan_power).sum()) * 3600.0
        used += float(run.mist[rows].sum()) * pump
        out.append(
            Month(
                float(run.room[rows].mean()), float(air.min()), float(air.mean()),
                float(air.max()), float(damp.min()), float(damp.mean()), used,
                float(run.mist[rows].sum()) * rate,
                _outside(run, rows, species, places, refuges),
            )
        )  # fmt: skip
    return out


def _outside(
    run: ClimateRun,
    rows: slice,
    species: Mapping[str, Species],
    places: Mapping[str, list[int]],
    refuges: Mapping[str, list[int]],
) -> dict[tuple[str, str], float]:
    out: dict[tuple[str, str], float] = {}
    lit = run.daytime[rows].astype(bool)
    for key, kind in species.items():
        here = places[key]
        if not here:
            continue
        air, damp = run.air[rows][:, here], run.humidity[rows][:, here]
        for name, band in bands(kind).items():
            if band == (None, None):
                continue
            if name == "air by day":
                beyond = _beyond(air, band).all(axis=1) & lit
            elif name == "air at night":
                beyond = _beyond(air.mean(axis=1), band) & ~lit
            else:
                beyond = _beyond(damp.mean(axis=1), band) & (lit if "day" in name else ~lit)
            out[key, name] = float(beyond.sum())
        limit = kind.voluntary_max if kind.voluntary_max is not None else kind.preferred_body[1]
        shelters = refuges[key]
        if limit is not None and key in run.operative and shelters:
            coolest = run.operative[key][rows][:, shelters].min(axis=1)
            out[key, "cool shelter"] = float((coolest > limit).sum())
    return out
