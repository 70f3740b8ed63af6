"""Everything that is told of a habitat's animals, in one piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.life import places
from loamwright.engine.life.breeding import Breeding, breeding_of
from loamwright.engine.life.choice import Choice, Sampled, choice_of
from loamwright.engine.life.climbing import Climb, climb, foot_places
from loamwright.engine.life.descent import Descent, descent_of
from loamwright.engine.life.gait import gait_of
from loamwright.engine.life.moving import Moving, moving_of
from loamwright.engine.life.places import Laying, Perch
from loamwright.engine.life.space import Asked, Box, asked_of, by_species, usable
from loamwright.engine.light.values import LightResult, brightest, by_lamp
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site

if TYPE_CHECKING:
    from loamwright.engine.life.spots import Between


@dataclass(frozen=True)
class Residents:
    """The animals of one species: how many ``males``, ``females`` and ``young``, what standards ask for
    them, their places ``rests`` (off the ground), ``hides`` and ``laying``, what the pedigree says
    (``descent``, None where it names none of them), what ``breeding`` brings, where they ``climb``
    (None where their length is not known) and their ``choices`` by season, where it was computed."""

    species: Species
    males: int
    females: int
    young: int
    asked: tuple[Asked, ...]
    rests: tuple[Site, ...]
    hides: tuple[Site, ...]
    laying: tuple[Laying, ...]
    descent: Descent | None
    breeding: Breeding
    climb: Climb | None
    choices: Mapping[str, Choice]


@dataclass(frozen=True)
class Animals:
    """The room there is, the rods to climb, each species, and the plan of ``moving`` in (None where
    no habitat is taken down)."""

    box: Box
    perches: tuple[Perch, ...]
    residents: tuple[Residents, ...]
    moving: Moving | None = None


def _sampled(
    habitat: Habitat, species: Species, way: Climb, run: ClimateRun, between: Between
) -> Sampled | None:
    """What a run says at the spots a species gets to; None where it gets to none."""
    from loamwright.engine.life import spots

    if way.feet is None:
        return None
    which = np.flatnonzero(way.feet[between.spots.foot])
    if not len(which):
        return None
    found = spots.read(habitat, species, between.spots, which, run, between.built)
    worth = by_lamp(habitat.lamps, between.spots.ways[:, which], "uvi")
    return Sampled(tuple(between.spots.on[i] for i in which), run.lamps @ brightest(worth),
                   found.operative, found.humidity)  # fmt: skip


def study_animals(
    habitat: Habitat, days: Mapping[str, ClimateRun], light: LightResult | None = None,
    between: Between | None = None,
) -> Animals:  # fmt: skip
    """What geometry, standards and pedigree say of a habitat's animals; and the climate of ``days``
    and the ``light``, where they were computed, of their eggs and of what they can choose from; with
    spots ``between`` the named places where these were looked at."""
    residents = []
    foot = foot_places(habitat)
    for groups in by_species(habitat):
        species = groups[0].species
        gait = gait_of(groups)
        way = None if gait is None else climb(habitat, foot, species, gait)
        choices: dict[str, Choice] = {}
        for season, run in days.items():
            if light is not None and way is not None:
                more = None if between is None else _sampled(habitat, species, way, run, between)
                choice = choice_of(habitat, species, way.reached, run, light, more)
                choices |= {season: choice} if choice is not None else {}
        residents.append(
            Residents(
                species, sum(g.males for g in groups), sum(g.females for g in groups),
                sum(g.young for g in groups), tuple(asked_of(groups)),
                tuple(places.rests(habitat, species)),
                tuple(places.for_species(habitat, species, places.SHELTERS)),
                tuple(places.laying(habitat, species)), descent_of(habitat, groups),
                breeding_of(habitat, groups, days), way, choices,
            )
        )  # fmt: skip
    return Animals(
        usable(habitat), tuple(places.perches(habitat)), tuple(residents), moving_of(habitat)
    )
