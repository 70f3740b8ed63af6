"""Sums over a run: how long panels are wet, how long the tank lasts, how often the air is changed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]

WET_PANEL = 0.01
"""Film that blurs a pane [kg/m2]; common practice, no source."""


def seconds(run: ClimateRun) -> float:
    """Time between two rows [s]."""
    return float(run.hours[-1] - run.hours[0]) * 3600.0 / (len(run.hours) - 1)


def wet_time(run: ClimateRun, owner: str, film: float = WET_PANEL) -> float | None:
    """Time [s] over which what belongs to an owner is wet, its parts counted by their area: a panel
    of which half is wet for six hours is wet for three. None where it has no surface in the run.

    ``film`` is the water [kg/m2] from which on it counts as wet.
    """
    mine = np.array(run.surface_owner, str) == owner
    if not mine.any():
        return None
    area = run.surface_area[mine]
    wet = (run.films[:-1][:, mine] > film) @ area / area.sum()
    return float(wet.sum()) * seconds(run)


def tank_time(habitat: Habitat, run: ClimateRun) -> float | None:
    """Time [s] the mist's tank lasts at the run's rate: infinite where nothing is sprayed, None
    where there is no mist."""
    if habitat.mist is None:
        return None
    used = run.water.get("mist", 0.0)
    span = float(run.hours[-1] - run.hours[0]) * 3600.0
    return 1000.0 * habitat.mist.tank / used * span if used > 0.0 else float("inf")


def changes(run: ClimateRun) -> Floats:
    """Air changes (R,) [1/s]. Flows are known from the first step on, so that the row before it
    takes those of the row after it."""
    out = run.changes.copy()
    if len(out) > 1:
        out[0] = out[1]
    return out


def condensed(run: ClimateRun) -> float:
    """Water that condensed on surfaces over the run [kg]."""
    return float(run.heat.get("condensed", 0.0))
