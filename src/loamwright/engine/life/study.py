"""Everything that is told of a habitat's animals, in one piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.life import places
from loamwright.engine.life.breeding import Breeding, breeding_of
from loamwright.engine.life.descent import Descent, descent_of
from loamwright.engine.life.places import Laying, Perch
from loamwright.engine.life.space import Asked, Box, asked_of, by_species, usable
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site


@dataclass(frozen=True)
class Residents:
    """The animals of one species: how many ``males``, ``females`` and ``young``, what standards ask for
    them, their places ``rests`` (off the ground), ``hides`` and ``laying``, what the pedigree says
    (``descent``, None where it names none of them) and what ``breeding`` brings."""

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


@dataclass(frozen=True)
class Animals:
    """The room there is, the rods to climb, and each species."""

    box: Box
    perches: tuple[Perch, ...]
    residents: tuple[Residents, ...]


def study_animals(habitat: Habitat, days: Mapping[str, ClimateRun]) -> Animals:
    """What geometry, standards and pedigree say of a habitat's animals, and the climate of ``days``,
    where it was computed, of the eggs they leave."""
    residents = []
    for groups in by_species(habitat):
        species = groups[0].species
        residents.append(
            Residents(
                species, sum(g.males for g in groups), sum(g.females for g in groups),
                sum(g.young for g in groups), tuple(asked_of(groups)),
                tuple(places.rests(habitat, species)),
                tuple(places.for_species(habitat, species, places.SHELTERS)),
                tuple(places.laying(habitat, species)), descent_of(habitat, groups),
                breeding_of(habitat, groups, days),
            )
        )  # fmt: skip
    return Animals(usable(habitat), tuple(places.perches(habitat)), tuple(residents))
