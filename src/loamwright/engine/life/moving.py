"""Moving in: how old habitats are taken down, what may be missed, and when animals may enter."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.inspection import Sheet, inspect
from loamwright.engine.ground.quantities import ground_quantities
from loamwright.engine.life.old_plants import OldPlant, old_plants
from loamwright.errors import InputError
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Eggs, Existing
from loamwright.physics import eggs as law

RISK = 0.05
"""Chance of a missed egg that is accepted [1]; common practice, no source."""

PORTION = 5e-3
"""Ground that is looked through at a time [m3]: what lies thin on a tray; common practice."""

QUARANTINE = (30, 90)
"""Days of quarantine: at least 30 under a veterinarian (AZA, as restated), 60 to 90 for snakes and
amphibians (from memory)."""

CYCLE = (28, 56)
"""Days a planted habitat stands without animals: 4 weeks at least, 6 to 8 usual; common practice."""

READINGS = 7
"""Days on end in which readings must lie inside limits; common practice."""

PLANTS = (14, 28)
"""Days of quarantine of plants; common practice."""


@dataclass(frozen=True)
class Search:
    """The search for eggs in one habitat: ``portions`` of ground to look through; ``expected`` eggs
    before any search by the record of laying (None where there is none) with the ``shape`` of how
    sure that is; ``found`` in ``searches``; ``detection`` of an egg in one search (None where not
    known) and whether it is ``told`` by the finds; the chance that one is ``missed`` still and how
    many are ``left``, to be expected (None where not known); ``needed`` searches until that chance
    is `RISK`."""

    portions: int
    expected: float | None
    shape: float
    found: int
    searches: int
    detection: float | None
    told: bool
    missed: float | None
    left: float | None
    needed: int | None


@dataclass(frozen=True)
class Down:
    """One habitat taken down: ``old``, its animals by name (``named``) and as ``counted``; its ground's
    ``sheet`` and how much of it goes into each layer, ``carried`` [m3]; the ``search`` for eggs,
    None where no animal that lays lived in it and no record is kept; its ``plants`` and the new ones
    that they may stand for."""

    old: Existing
    named: int
    counted: int | None
    sheet: Sheet
    carried: tuple[tuple[str, float], ...]
    search: Search | None
    plants: tuple[OldPlant, ...] = ()


@dataclass(frozen=True)
class Moving:
    """The plan: habitats in the order they come down (``downs``), ``steps`` (what, first day, last day)
    counted from the first being taken down (below 0: before it), and the days, least and most, after
    which animals may ``enter``."""

    downs: tuple[Down, ...]
    steps: tuple[tuple[str, int, int], ...]
    enter: tuple[int, int]


def clutch_of(habitat: Habitat, old: Existing) -> tuple[float | None, int | None]:
    """Mean clutch of the species in a habitat, the middle of the catalogue's, and its females."""
    by_name = {x.name: x for x in habitat.pedigree}
    inside = [by_name[n] for n in old.animals if n in by_name]
    females = sum(x.sex == "female" for x in inside)
    for animal in inside:
        species = animal.species
        if species is not None and species.clutch[0] is not None and species.clutch[1] is not None:
            return 0.5 * (species.clutch[0] + species.clutch[1]), females or None
    return None, females or None


def shape_of(expected: float, clutch: float) -> float:
    """How sure a number of eggs is that comes in clutches: clutches laid or not by chance make the
    variance clutch times the mean, so mean + mean^2 / shape [1]."""
    return expected / (clutch - 1.0) if clutch > 1.0 and expected > 0.0 else math.inf


def search_of(record: Eggs, clutch: float | None, females: int | None, volume: float) -> Search:
    """What a record of laying and of searching says."""
    size = record.clutch if record.clutch is not None else clutch
    count = record.females if record.females is not None else females
    expected: float | None = None
    shape = 1.0
    if size is not None and count is not None and record.since is not None and record.interval:
        expected = law.eggs_expected(count, record.since, record.interval, size, 0.0)
        shape = shape_of(expected, size)
    found, searches = sum(record.searches), len(record.searches)
    detection, told = record.detection, False
    if detection is None and searches > 1 and found:
        detection, told = _from_finds(record.searches), True
    missed = left = needed = None
    if detection is not None and 0.0 < detection < 1.0:
        before = math.inf if expected is None else expected
        overlooked = law.overlooked_share(detection, searches)
        if overlooked < 1.0 or expected is not None:
            missed = law.chance_missed(found, overlooked, before, shape)
            left = law.eggs_missed(found, overlooked, before, shape)
        needed = law.searches_needed(found, detection, before, shape, RISK)
    return Search(max(1, math.ceil(volume / PORTION)) if volume else 0, expected, shape, found,
                  searches, detection, told, missed, left, needed)  # fmt: skip


def _from_finds(searches: tuple[int, ...]) -> float | None:
    """The chance to find an egg, from finds that fall; None where they do not."""
    try:
        _, detection = law.removals(searches)
    except InputError:
        return None
    return detection if 0.0 < detection < 1.0 else None


def _lays(habitat: Habitat, old: Existing) -> bool:
    species: list[Species | None] = [x.species for x in habitat.pedigree if x.name in old.animals]
    return any(s is not None and s.reproduction == "oviparous" for s in species)


def down_of(habitat: Habitat, old: Existing, reused: Reused) -> Down:
    """What is known of a habitat that is taken down; ``reused`` as `reused_of` says it."""
    carried = tuple((layer, volume) for layer, name, volume in reused if name == old.name)
    search = None
    if old.eggs is not None or _lays(habitat, old):
        clutch, females = clutch_of(habitat, old)
        search = search_of(old.eggs or Eggs(), clutch, females, old.ground_volume)
    return Down(old, len(old.animals), old.counted, inspect(old), carried, search,
                old_plants(habitat, old))  # fmt: skip


Reused = tuple[tuple[str, str, float], ...]
"""Old ground that goes in: the layer, the old habitat, the volume as it lies [m3]."""


def reused_of(habitat: Habitat) -> Reused:
    """Old ground in each layer, net of the pieces that stand in it: what the ground's engine says."""
    if not any(layer.reuse for layer in habitat.ground.layers):
        return ()
    return tuple(
        (layer.name, name, volume)
        for layer in ground_quantities(habitat).layers
        for name, volume in layer.reused
    )


def comes_first(habitat: Habitat) -> tuple[Existing, ...]:
    """The old habitats in the order in which they come down, see `moving_of`."""
    carried = {name for layer in habitat.ground.layers for name, _ in layer.reuse}

    def rank(old: Existing) -> tuple[bool, int, int]:
        return old.name not in carried, RANK[inspect(old).verdict], -len(old.animals)

    return tuple(sorted(habitat.existing, key=rank))


RANK = {"reuse": 0, "part": 1, "unknown": 2, "discard": 3}
"""Which old ground comes first, by what is judged of it."""


def moving_of(habitat: Habitat) -> Moving | None:
    """The plan of moving in; None where no habitat is taken down.

    Ground that goes into the new one is wanted first, so those come down first whose ground is
    carried over and judged best; of equals the one with more animals.
    """
    if not habitat.existing:
        return None
    reused = reused_of(habitat)
    downs = [down_of(habitat, old, reused) for old in comes_first(habitat)]
    # One habitat a day: catching, counting and looking through its ground.
    last = len(downs) - 1
    animals = any(d.named or d.counted for d in downs) or any(g.origins for g in habitat.animals)
    built = last + 1
    steps: list[tuple[str, int, int]] = []
    if animals:
        steps.append(("quarantine", last, last + QUARANTINE[0]))
    # Plants that move come out of the old habitats before, to be sound when the ground is in: as the
    # order of work has it.
    if any(p.may for d in downs for p in d.plants):
        steps.append(("plants", -PLANTS[0], 0))
    steps.append(("cycle", built, built + CYCLE[0]))
    steps.append(("readings", built + CYCLE[0] - READINGS, built + CYCLE[0]))
    enter = (
        max(built + CYCLE[0], last + (QUARANTINE[0] if animals else 0)),
        max(built + CYCLE[1], last + (QUARANTINE[1] if animals else 0)),
    )
    return Moving(tuple(downs), tuple(steps), enter)
