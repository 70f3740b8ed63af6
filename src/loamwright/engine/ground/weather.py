"""What the climate does to the ground in a day: water that lands, and what is drawn from it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.moisture import top_of_ground
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.from_habitat import TRANSFER
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.planting import Plant

Floats = NDArray[np.float64]

HOURS = 24
"""Parts of a day."""

STEP = 86400.0 / HOURS

LEAST_SATURATION = 0.15
"""Wettest ground that is still dry on top [1]: the climate is asked what it would evaporate at
least so moist, as dry ground tells nothing of the air's demand."""


@dataclass(frozen=True)
class DayOfGround:
    """A day by the hour (24,), as depths of water over time on the ground [m/s]: ``lands`` of the
    mist and of dew and what runs off leaves and panels, ``demand`` what a water surface there would
    evaporate, ``roots`` what plants rooted in the ground transpire; ``humidity`` of the air over it
    [1]; ``mist`` sprayed in the day [kg] and ``reaches`` the share of it that lands."""

    lands: Floats
    demand: Floats
    roots: Floats
    humidity: float
    mist: float
    reaches: float

    @property
    def landed(self) -> float:
        """Depth of water that lands in a day [m]."""
        return float(self.lands.sum()) * STEP


def in_ground(habitat: Habitat, plant: Plant) -> bool:
    """True where a plant stands in the ground, and not on a branch or wall."""
    ground = habitat.ground
    surface = max(ground.depth, ground.surface_at(plant.foot[0], plant.foot[1]))
    return plant.foot[2] <= surface + 0.01


def rooted_share(habitat: Habitat) -> float:
    """Share of all leaves that belong to plants rooted in the ground [1]; mosses have no roots, and
    what sits on a branch drinks from its leaves."""
    whole = ground = 0.0
    for plant in habitat.plants:
        leaves = plant.type.leaf_area_index * plant.spread**2
        whole += leaves
        if (
            in_ground(habitat, plant)
            and plant.type.form not in ("moss", "liverwort")
            and "epiphyte" not in plant.type.form
        ):
            ground += leaves
    return ground / whole if whole else 0.0


def rooting_depth(habitat: Habitat) -> float:
    """How deep roots reach [m]: the deepest of the plants in the ground, down to the mix's bottom;
    a tenth of a metre where the catalogue has no number."""
    if rooted_share(habitat) == 0.0:
        return 0.0
    wanted = [p.type.rooting_depth or 0.10 for p in habitat.plants]
    depth = 0.0
    for layer in reversed(habitat.ground.layers):
        if layer.kind in DRAINING:
            break
        depth += layer.depth
    return min(max(wanted), depth)


def day_of_ground(
    habitat: Habitat, run: ClimateRun, area: float, wetness: Mapping[str, float] | None = None
) -> DayOfGround:
    """What a typical day that repeats itself does to the ground.

    The climate keeps mist that lands on the ground as a film, dries it at the air's full demand and
    lets what it cannot hold run in; where the film is gone it draws on the ground through the
    resistance of the top (`climate.moisture.top_of_ground` at ``wetness``). Rising film and what
    runs in is water that lands; falling film is demand; what the ground gave is demand once its
    resistance is taken off again. ``area`` of the ground [m2].
    """
    mine = np.array(run.surface_owner, str) == "ground"
    film = run.films[:, mine] @ run.surface_area[mine] / max(run.surface_area[mine].sum(), 1e-9)
    change = np.diff(film) / 1000.0
    hour = np.minimum((run.hours[:-1] % 24.0).astype(int), HOURS - 1)
    risen = np.bincount(hour, np.maximum(change, 0.0), HOURS)
    fallen = np.bincount(hour, np.maximum(-change, 0.0), HOURS)
    sprayed = np.bincount(hour, run.mist[1:], HOURS)
    soaked = run.water["soaked"] / 1000.0 / area
    when = sprayed if sprayed.sum() > 0.0 else np.ones(HOURS)
    lands = risen + soaked * when / when.sum()
    resistance, _ = top_of_ground(habitat.ground, wetness)
    given = max(run.water["soil"], 0.0) / 1000.0 / area
    open_water = given * (1.0 + resistance * TRANSFER) if resistance < 1e8 else 0.0
    dry = np.bincount(hour, film[:-1] < 1e-3, HOURS)
    share = dry / dry.sum() if dry.sum() else np.full(HOURS, 1.0 / HOURS)
    # Leaves open by day.
    lit = run.daytime[:-1] if len(run.daytime) == len(run.hours) else np.ones(len(hour), bool)
    open_hours = np.bincount(hour, lit.astype(float), HOURS).astype(float)
    if not open_hours.any():
        open_hours = np.ones(HOURS)
    roots = max(run.water["leaves"], 0.0) * rooted_share(habitat) / 1000.0 / area
    mist = run.water["mist"]
    low = run.cell_humidity[:, : run.grid[0]]
    return DayOfGround(
        lands=lands / STEP,
        demand=(fallen + open_water * share) / STEP,
        roots=roots * open_hours / open_hours.sum() / STEP,
        humidity=min(0.99, float(low.mean())),
        mist=mist,
        reaches=min(1.0, float(lands.sum()) * area * 1000.0 / mist) if mist > 0.0 else 0.0,
    )


def between(winter: DayOfGround, summer: DayOfGround, day: float) -> DayOfGround:
    """The day so many days after midwinter, on a cosine between the typical ones."""
    w = 0.5 + 0.5 * math.cos(2.0 * math.pi * day / 365.0)

    def mixed(a: Floats, b: Floats) -> Floats:
        return w * a + (1.0 - w) * b

    return DayOfGround(
        mixed(winter.lands, summer.lands),
        mixed(winter.demand, summer.demand),
        mixed(winter.roots, summer.roots),
        w * winter.humidity + (1.0 - w) * summer.humidity,
        w * winter.mist + (1.0 - w) * summer.mist,
        w * winter.reaches + (1.0 - w) * summer.reaches,
    )
