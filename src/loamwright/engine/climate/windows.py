"""Parts of the day over which a need is held: its middle, and its night."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.physics.daily import COOLING

Rows = NDArray[np.bool_]

SETTLING = 2.0
"""Hours after dusk before a night's values are held against its needs."""


def middle_of_day(habitat: Habitat, run: ClimateRun) -> Rows:
    """Rows in the middle half of the day's hours."""
    start, end = (t / 3600.0 for t in habitat.schedule.hours(run.season))
    span = (end - start) % 24.0 or 24.0
    since = np.mod(run.clock - start, 24.0)
    return (since >= 0.25 * span) & (since <= 0.75 * span)


def day(run: ClimateRun) -> Rows:
    """Rows in the day's hours."""
    return run.daytime.astype(bool)


def night(habitat: Habitat, run: ClimateRun) -> Rows:
    """Rows outside the day's hours, from `SETTLING` after dusk; all of the night if it is shorter."""
    _, end = (t / 3600.0 for t in habitat.schedule.hours(run.season))
    dark = ~day(run)
    settled = dark & (np.mod(run.clock - end, 24.0) >= SETTLING)
    return settled if settled.any() else dark


def cooled(habitat: Habitat, run: ClimateRun) -> Rows:
    """Rows of the night by which the room has cooled, `COOLING` after dusk; the last hour of a night
    that is shorter. What a species is said to want at night is what the night falls to."""
    _, end = (t / 3600.0 for t in habitat.schedule.hours(run.season))
    dark = ~day(run)
    since = np.where(dark, np.mod(run.clock - end, 24.0), -1.0)
    return dark & (since >= min(COOLING / 3600.0, float(since.max()) - 1.0))


def sites_for(habitat: Habitat, species: str, roles: Iterable[str]) -> list[int]:
    """Numbers of the sites of these roles that are meant for a species."""
    wanted = set(roles)
    return [
        i
        for i, s in enumerate(habitat.sites)
        if s.role in wanted and (not s.species or species in s.species)
    ]


LIVED = ("basking", "perch", "hide", "retreat", "laying")
"""Roles of the places an animal uses."""

SHELTER = ("hide", "retreat")
"""Roles of the places it withdraws to."""
