"""Quantities read from a study: transport times what the lamps send now."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.flux import band_flux, quantity_weights
from loamwright.engine.light.record import NORMAL, UP, LightStudy
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]

FACINGS = ("up", "brightest", "normal")
QUANTITIES = ("uvi", "uva", "uvb", "ppfd", "lux", "radiant", "dli")
"""Quantities of a site: index [1], W/m2, W/m2, umol/(m2 s), lx, W/m2, mol/(m2 d)."""

ENGINE_SPREAD = 0.03
"""Standard uncertainty of the transport itself, relative: the demo against an independent ray
tracer (see `docs/validation.md`)."""


def lamp_worth(lamp: Lamp, quantity: str) -> Floats:
    """Value of a quantity per unit of transport in each band, (5,), with the lamp as it is now."""
    if quantity == "dli":
        return lamp_worth(lamp, "ppfd") * lamp.hours_a_day * 3600.0 / 1e6
    weights = quantity_weights(lamp)
    return band_flux(lamp) * weights[quantity] if quantity in weights else np.zeros(5)


def by_lamp(lamps: tuple[Lamp, ...], transport: NDArray, quantity: str) -> Floats:
    """A quantity from each lamp: transport (L, ..., 5) to values (L, ...)."""
    out = np.zeros(transport.shape[:-1])
    for k, lamp in enumerate(lamps):
        out[k] = transport[k].astype(float) @ lamp_worth(lamp, quantity)
    return out


def brightest(values: Floats) -> Floats:
    """Values by lamp (L, N) in the direction where their sum is greatest; from (L, N, W)."""
    if values.shape[0] == 0 or values.shape[1] == 0:
        return np.zeros(values.shape[:2])
    best = values.sum(axis=0).argmax(axis=1)
    return np.take_along_axis(values, best[None, :, None], axis=2)[:, :, 0]


@dataclass(frozen=True, slots=True)
class SiteLight:
    """Light at one site: ``values[facing][quantity]``, and ``spread`` the relative standard
    uncertainty of its ultraviolet and plant light."""

    name: str
    at: tuple[float, float, float]
    role: str
    values: dict[str, dict[str, float]]


@dataclass(frozen=True)
class LightResult:
    """Values at the sites: ``table[facing][quantity]`` (L, S) by lamp."""

    sites: tuple[SiteLight, ...]
    lamps: tuple[str, ...]
    table: dict[str, dict[str, Floats]]

    def share(self, site: int, quantity: str, lamp: int, facing: str = "brightest") -> float:
        """Share of a lamp in a quantity at a site, 0 where there is none."""
        column = self.table[facing][quantity][:, site]
        total = float(column.sum())
        return float(column[lamp]) / total if total > 0 else 0.0

    def value(self, site: int, quantity: str, facing: str) -> float:
        """A quantity at a site, all lamps on."""
        return float(self.table[facing][quantity][:, site].sum())


def spread_of(lamps: tuple[Lamp, ...], column: Floats) -> float:
    """Standard uncertainty of a sum over lamps (L,), same unit: each lamp's own spread, and the
    engine's."""
    parts = np.array([lamp.type.spread for lamp in lamps]) * column
    total = float(column.sum()) * ENGINE_SPREAD
    return float(np.sqrt((parts**2).sum() + total**2))


def read_values(habitat: Habitat, study: LightStudy) -> LightResult:
    """Every quantity at every site, in every facing."""
    table: dict[str, dict[str, Floats]] = {f: {} for f in FACINGS}
    for quantity in QUANTITIES:
        values = by_lamp(habitat.lamps, study.at_sites, quantity)
        table["up"][quantity] = (
            values[:, :, UP]
            if values.size
            else values.reshape(len(habitat.lamps), len(habitat.sites))
        )
        table["normal"][quantity] = values[:, :, NORMAL] if values.size else table["up"][quantity]
        table["brightest"][quantity] = brightest(values)
    sites = tuple(
        SiteLight(
            site.name,
            site.at,
            site.role,
            {f: {q: float(table[f][q][:, i].sum()) for q in QUANTITIES} for f in FACINGS},
        )
        for i, site in enumerate(habitat.sites)
    )
    return LightResult(sites, tuple(lamp.name for lamp in habitat.lamps), table)
