"""Everything that is told of a habitat's animals, in one piece."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.life import places
from loamwright.engine.life.places import Laying, Perch
from loamwright.engine.life.space import Asked, Box, asked_of, by_species, usable
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site


@dataclass(frozen=True)
class Residents:
    """The animals of one species: how many ``males``, ``females`` and ``young``, what standards ask for
    them, and their places ``rests`` (off the ground), ``hides`` and ``laying``."""

    species: Species
    males: int
    females: int
    young: int
    asked: tuple[Asked, ...]
    rests: tuple[Site, ...]
    hides: tuple[Site, ...]
    laying: tuple[Laying, ...]


@dataclass(frozen=True)
class Animals:
    """The room there is, the rods to climb, and each species."""

    box: Box
    perches: tuple[Perch, ...]
    residents: tuple[Residents, ...]


def study_animals(habitat: Habitat) -> Animals:
    """What the geometry and the standards say of a habitat's animals."""
    residents = []
    for groups in by_species(habitat):
        species = groups[0].species
        residents.append(
            Residents(
                species, sum(g.males for g in groups), sum(g.females for g in groups),
                sum(g.young for g in groups), tuple(asked_of(groups)),
                tuple(places.rests(habitat, species)),
                tuple(places.for_species(habitat, species, places.SHELTERS)),
                tuple(places.laying(habitat, species)),
            )
        )  # fmt: skip
    return Animals(usable(habitat), tuple(places.perches(habitat)), tuple(residents))
