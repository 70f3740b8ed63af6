"""Descent of a planned group: kinship, what joining does, best pairs, whom to exchange."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.life.space import by_species
from loamwright.errors import InputError
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group, Individual

Floats = NDArray[np.float64]
Rows = NDArray[np.int64]

HALF_SIBS = 0.125
"""Inbreeding of young of half sibs [1]: closer pairs are to be avoided."""

MOST_EXCHANGES = 2
"""Exchanges told between two groups [1]; more would make one group of them."""


@dataclass(frozen=True)
class Herd:
    """The animals of the pedigree that a group descends from: ``names`` and rows of parents (-1 not
    known), ``sex``, and ``kinship`` of every two [1]."""

    names: tuple[str, ...]
    sire: Rows
    dam: Rows
    sex: tuple[str, ...]
    kinship: Floats

    def rows(self, names: Sequence[str]) -> list[int]:
        """Rows of animals by name."""
        place = {name: i for i, name in enumerate(self.names)}
        return [place[name] for name in names]

    def inbreeding(self, row: int) -> float:
        """Inbreeding of an animal [1]."""
        return 2.0 * float(self.kinship[row, row]) - 1.0

    def parents_known(self, row: int) -> int:
        """How many of an animal's parents are known."""
        return int(self.sire[row] >= 0) + int(self.dam[row] >= 0)


def ancestors(pedigree: Sequence[Individual], names: Sequence[str]) -> list[Individual]:
    """The animals named and all they descend from, in the order of the pedigree."""
    by_name = {x.name: x for x in pedigree}
    wanted, left = set(names), list(names)
    while left:
        animal = by_name[left.pop()]
        for parent in (animal.sire, animal.dam):
            if parent is not None and parent not in wanted:
                wanted.add(parent)
                left.append(parent)
    return [x for x in pedigree if x.name in wanted]


def herd_of(pedigree: Sequence[Individual], names: Sequence[str]) -> Herd:
    """Kinship of some animals and their ancestors."""
    from loamwright.physics.kinship import kinship_matrix

    kept = ancestors(pedigree, names)
    place = {x.name: i for i, x in enumerate(kept)}
    sire, dam = (
        np.array([place[p] if p is not None else -1 for p in parents], dtype=np.int64)
        for parents in ([x.sire for x in kept], [x.dam for x in kept])
    )
    # One that is a parent has shown its sex.
    sires, dams = {x.sire for x in pedigree}, {x.dam for x in pedigree}
    sex = tuple(
        "male" if x.sex == "unknown" and x.name in sires
        else "female" if x.sex == "unknown" and x.name in dams else x.sex
        for x in kept
    )  # fmt: skip
    return Herd(tuple(place), sire, dam, sex, kinship_matrix(sire, dam))


@dataclass(frozen=True)
class Measures:
    """A group as genes see it: ``name``, ``males``, ``females`` and ``unsexed`` by name,
    ``mean_kinship`` (each with itself included), ``diversity`` kept of the founders' stock, founder
    genome equivalents ``genomes``, founder equivalents ``founders``, greatest ``inbreeding`` of an
    animal, ``effective`` size by the sexes (None where one is missing) [all 1]."""

    name: str
    members: tuple[str, ...]
    males: int
    females: int
    unsexed: int
    mean_kinship: float
    diversity: float
    genomes: float
    founders: float
    inbreeding: float
    effective: float | None


def measures(herd: Herd, name: str, members: Sequence[str]) -> Measures:
    """What is told of a group."""
    from loamwright.physics import founders
    from loamwright.physics.kinship import gene_diversity

    rows = herd.rows(members)
    weights = np.zeros(len(herd.names))
    weights[rows] = 1.0
    diversity = gene_diversity(herd.kinship, weights)
    shares = founders.founder_shares(herd.sire, herd.dam, rows)
    sexes = [herd.sex[r] for r in rows]
    males, females = sexes.count("male"), sexes.count("female")
    return Measures(
        name, tuple(members), males, females, sexes.count("unknown"), 1.0 - diversity, diversity,
        founders.founder_genome_equivalents(diversity), founders.founder_equivalents(shares),
        max(herd.inbreeding(r) for r in rows),
        founders.effective_size(males, females) if males and females else None,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Pair:
    """A male with a female: the ``inbreeding`` their young would have [1]."""

    male: str
    female: str
    inbreeding: float


@dataclass(frozen=True, slots=True)
class Member:
    """One animal of the planned group: its ``inbreeding``, its mean kinship with the group (itself
    included) [1], how many parents are known, and where it lives now."""

    name: str
    sex: str
    inbreeding: float
    mean_kinship: float
    parents_known: int
    lives_in: str


@dataclass(frozen=True, slots=True)
class Exchange:
    """Two animals of one sex that two habitats might exchange if they were kept apart."""

    first: str
    second: str
    leaves: str
    comes: str


@dataclass(frozen=True, slots=True)
class Join:
    """Old habitats joined as they are: their names, ``animals``, adult ``males`` and ``females``, the
    ``closest`` pair that could mate (None without both sexes) and the gene ``diversity`` [1]."""

    groups: tuple[str, ...]
    animals: int
    males: int
    females: int
    closest: Pair | None
    diversity: float


@dataclass(frozen=True)
class Descent:
    """What the pedigree says of one species' planned group.

    ``before`` the existing habitats it comes from, ``joined`` the group as planned, its ``members``,
    lowest mean kinship first; ``pairs`` the best (each female once, as many as there are males),
    ``worst`` the closest pair that could mate, ``random`` mean inbreeding of young if all mate alike
    [1] (None without both sexes); ``gene_value`` diversity of the young of the best pairs [1];
    ``trio`` the animals whose young would be least akin, of the number and sexes a group of the species
    may have; ``exchanges`` between habitats kept apart; ``unnamed`` animals of the plan that the
    pedigree does not name; ``joins`` what each way of joining old habitats whole would come to.
    """

    species: Species
    before: tuple[Measures, ...]
    joined: Measures
    members: tuple[Member, ...]
    pairs: tuple[Pair, ...]
    worst: Pair | None
    random: float | None
    gene_value: float | None
    trio: tuple[str, ...]
    exchanges: tuple[Exchange, ...]
    unnamed: int
    joins: tuple[Join, ...] = ()


def sex_limit(species: Species) -> tuple[int, int] | None:
    """Most males and the females beside them that a group may have by the catalogue, such as 1 and 2
    of ``1.2``; the largest of several ways; None where it gives no numbers. ``n`` counts as no limit,
    given as -1."""
    best: tuple[int, int] | None = None
    for way in species.sex_ratio.split("(")[0].split(" or "):
        males, dot, females = way.strip().partition(".")
        if not dot or not males.isdigit():
            continue
        count = int(females) if females.isdigit() else -1
        if best is None or (int(males), count) > best:
            best = (int(males), count)
    return best


def descent_of(habitat: Habitat, groups: list[Group]) -> Descent | None:
    """Descent of the planned group of one species; None where none of it is known by name."""
    from loamwright.physics import kinship, pairings

    species = groups[0].species
    names = [n for g in groups for n in g.individuals]
    if not names:
        return None
    lives_in = {x.name: x.lives_in for x in habitat.pedigree}
    mine = {x.name for x in habitat.pedigree if x.species is None or x.species.key == species.key}
    places: dict[str, list[str]] = {}
    for old in habitat.existing:
        inside = [n for n in old.animals if n in mine]
        if inside:
            places[old.name] = inside
    herd = herd_of(
        habitat.pedigree, list(dict.fromkeys([*names, *itertools.chain(*places.values())]))
    )
    rows = herd.rows(names)
    mean = kinship.mean_kinship(herd.kinship, rows)
    by_row = dict(zip(rows, mean.tolist(), strict=True))
    members = sorted(
        (
            Member(n, herd.sex[r], herd.inbreeding(r), by_row[r], herd.parents_known(r),
                   lives_in[n])
            for n, r in zip(names, rows, strict=True)
        ),
        key=lambda m: m.mean_kinship,
    )  # fmt: skip
    males = [r for r in rows if herd.sex[r] == "male"]
    females = [r for r in rows if herd.sex[r] == "female"]
    pairs: list[Pair] = []
    worst, random, value = None, None, None
    if males and females:
        table = kinship.expected_inbreeding(herd.kinship, males, females)
        random = float(table.mean())
        worst = _closest(herd, rows)
        pairs = _best(herd, males, females, mean_of=by_row)
        sires = herd.rows([p.male for p in pairs])
        dams = herd.rows([p.female for p in pairs])
        value = kinship.planned_gene_diversity(herd.kinship, sires, dams, np.ones(len(pairs)))
    trio: tuple[str, ...] = ()
    limit = sex_limit(species)
    most = species.group_max
    if males and females and limit is not None and limit[0] > 0 and limit[1] != 0:
        wanted = (min(limit[0], len(males)), min(limit[1] % 1000, len(females)))
        if most is None or sum(wanted) <= most:
            chosen = pairings.best_group(herd.kinship, males, females, wanted)
            trio = tuple(herd.names[r] for part in chosen for r in part)
    before = tuple(measures(herd, name, inside) for name, inside in places.items())
    return Descent(
        species, before, measures(herd, "", names), tuple(members), tuple(pairs), worst, random,
        value, trio, tuple(_exchanges(herd, places)),
        sum(g.count for g in groups) - len(names), tuple(_joins(herd, places)),
    )  # fmt: skip


def _best(
    herd: Herd, males: list[int], females: list[int], mean_of: dict[int, float]
) -> list[Pair]:
    """As many pairs as there are males (or females), none closer than half sibs where that can be."""
    from loamwright.physics import pairings

    mean = np.zeros(len(herd.names))
    for row, value in mean_of.items():
        mean[row] = value
    count = min(len(males), len(females))
    for most in (HALF_SIBS + 1e-9, 1.0):
        costs = pairings.pair_costs(herd.kinship, mean, males, females, 0.5, most)
        try:
            chosen = pairings.best_pairs(costs, count)
        except InputError:
            continue
        return [
            Pair(herd.names[males[m]], herd.names[females[f]],
                 float(herd.kinship[males[m], females[f]]))
            for m, f in chosen
        ]  # fmt: skip
    return []


MOST_JOINED = 4
"""Old habitats up to which every way of joining them is told [1]; of more only pairs."""


def _closest(herd: Herd, rows: Rows | Sequence[int]) -> Pair | None:
    """The pair among some animals whose young would be most inbred."""
    males = [r for r in rows if herd.sex[r] == "male"]
    females = [r for r in rows if herd.sex[r] == "female"]
    if not males or not females:
        return None
    table = herd.kinship[np.ix_(males, females)]
    i, j = np.unravel_index(int(np.argmax(table)), table.shape)
    return Pair(herd.names[males[i]], herd.names[females[j]], float(table[i, j]))


def _joins(herd: Herd, places: dict[str, list[str]]) -> list[Join]:
    """Every way of joining old habitats whole."""
    sizes = range(2, len(places) + 1) if len(places) <= MOST_JOINED else (2,)
    out = []
    for size in sizes:
        for names in itertools.combinations(places, size):
            members = list(dict.fromkeys(itertools.chain(*(places[n] for n in names))))
            told = measures(herd, " + ".join(names), members)
            out.append(Join(names, len(members), told.males, told.females,
                            _closest(herd, herd.rows(members)), told.diversity))  # fmt: skip
    return out


def _exchanges(herd: Herd, places: dict[str, list[str]]) -> list[Exchange]:
    """Exchanges between every two habitats, were they kept apart."""
    from loamwright.physics import pairings

    code = {"male": 0, "female": 1, "unknown": 2}
    sex = np.array([code[s] for s in herd.sex])
    names = list(places)
    out = []
    for i, first in enumerate(names):
        for second in names[i + 1 :]:
            a, b = herd.rows(places[first]), herd.rows(places[second])
            if set(a) & set(b):
                continue
            for leaves, comes in pairings.exchanges(herd.kinship, a, b, sex, MOST_EXCHANGES):
                out.append(Exchange(first, second, herd.names[leaves], herd.names[comes]))
    return out


def descents(habitat: Habitat) -> dict[str, Descent | None]:
    """Descent of every species' group, by its key."""
    return {g[0].species.key: descent_of(habitat, g) for g in by_species(habitat)}
