"""A mist valve that sticks: the climate's fault, and the water that reaches the ground in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loamwright.engine.climate import study as climate
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.drills import EVERY, LENGTH, faults_of
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.column import Floats
from loamwright.engine.light.record import LightStudy
from loamwright.habitat.habitat import Habitat

FAULT = "mist-stuck-on"
"""The climate's name of the fault."""


@dataclass(frozen=True)
class Landing:
    """Water that lands on the ground: ``edges`` (M+1,) [s] and ``rates`` (M,) [m/s] between them, and
    what was ``sprayed`` [kg]."""

    edges: Floats
    rates: Floats
    sprayed: float

    @property
    def depth(self) -> float:
        """All of it [m]."""
        return float(self.rates @ np.diff(self.edges))


def stuck_run(habitat: Habitat, study: LightStudy, built: Built) -> ClimateRun:
    """Two days from midnight on a settled winter day; the pump sticks on in the morning and sprays
    until the tank is empty.

    Raises
    ------
    ValueError
        If nothing mists.
    """
    day = climate.typical_day(habitat, study, built, "winter")
    found = [f for f in faults_of(habitat, built, {"winter": day.plan, "summer": day.plan})
             if f.key == FAULT]  # fmt: skip
    if not found:
        raise ValueError("nothing mists")
    return climate.spell(
        habitat, study, built, found[0].plan, day.state, day.memory, season="winter",
        minutes=LENGTH, every=EVERY, fault=FAULT,
    )  # fmt: skip


def landing_of(run: ClimateRun, area: float) -> Landing:
    """What lands on the ground in a run: film that rises, and what runs in while it is sprayed;
    ``area`` of the ground [m2]."""
    mine = np.array(run.surface_owner, str) == "ground"
    film = run.films[:, mine] @ run.surface_area[mine] / max(run.surface_area[mine].sum(), 1e-9)
    risen = np.maximum(np.diff(film), 0.0) / 1000.0
    spread = run.mist[1:] if run.mist[1:].sum() > 0.0 else np.ones(len(risen))
    soaked = max(run.water["soaked"], 0.0) / 1000.0 / area * spread / spread.sum()
    edges = (run.hours - run.hours[0]) * 3600.0
    return Landing(edges, (risen + soaked) / np.diff(edges), run.water["mist"])
