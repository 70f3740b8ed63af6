"""What is to come: clutches, incubation where the eggs lie, and when the room is used up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.life import places
from loamwright.engine.life.space import GROWN, NOW, asked_of, usable
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group
from loamwright.physics import incubation

MOST = 1000
"""Animals up to which the room is tried [1]."""


@dataclass(frozen=True, slots=True)
class Warm:
    """Eggs left at a laying site: its ``warmth``, mean of a day [K], by ``season``; ``days`` to
    hatching there, least and most, and the share of ``males``; None where not measured."""

    site: str
    season: str
    warmth: float
    days: tuple[float, float] | None
    males: float | None


@dataclass(frozen=True, slots=True)
class Capacity:
    """How many animals of a species the floor holds by a standard, counted at the length it is now,
    or grown; at least so many where the standard speaks of no more (``open``)."""

    standard: str
    country: str
    animals: int
    open: bool


@dataclass(frozen=True)
class Breeding:
    """What breeding brings: ``breeds`` True where both sexes, or young, are in the group; young of one
    clutch of each female ``young`` (least, most; None where not known); ``rooms`` how many animals each
    standard has floor for, fewest first; ``clutches`` after which the group is too
    many for that, if all are reared and stay (least, most); ``tried`` eggs measured by others (degC,
    days, eggs, author and year); ``warm`` eggs left where they lie; ``sexed`` shares of males by
    temperature [K, 1, number]; ``why_no_line`` why days cannot be told between the temperatures."""

    breeds: bool
    young: tuple[float, float] | None
    rooms: tuple[Capacity, ...]
    clutches: tuple[int, int] | None
    tried: tuple[incubation.Incubation, ...]
    warm: tuple[Warm, ...]
    sexed: tuple[tuple[float, float, float], ...]
    why_no_line: str


def capacities(habitat: Habitat, groups: list[Group]) -> list[Capacity]:
    """How many animals each standard has floor for, grown where young are there; fewest first."""
    floor = usable(habitat).floor
    rules = {a.standard.key: a for a in asked_of(groups) if a.when == NOW}
    rules |= {a.standard.key: a for a in asked_of(groups) if a.when == GROWN}
    out = []
    for asked in rules.values():
        if asked.space is None or asked.space.floor is None:
            continue
        length = asked.length.value if asked.length else 0.0
        held, spoken = 0, True
        for animals in range(1, MOST):
            space = asked.standard.rule(length, animals)
            spoken = space is not None
            if space is None or space.floor is None or space.floor > floor + 1e-9:
                break
            held = animals
        out.append(
            Capacity(asked.standard.key, asked.standard.country, held, held > 0 and not spoken)
        )
    return sorted(out, key=lambda c: (c.animals, c.open))


def breeding_of(
    habitat: Habitat, groups: list[Group], days: Mapping[str, ClimateRun]
) -> Breeding:  # fmt: skip
    """What breeding brings to the group of one species."""
    species = groups[0].species
    males, females, young = (sum(getattr(g, k) for g in groups)
                             for k in ("males", "females", "young"))  # fmt: skip
    breeds = bool(females and males) or young > 1
    least, most = species.clutch
    brood = None
    if least is not None and most is not None and females:
        brood = (females * least, females * most)
    rooms = capacities(habitat, groups)
    closed = [c for c in rooms if not c.open]
    clutches: tuple[int, int] | None = None
    if least is not None and most is not None and females and closed and breeds:
        free = max(closed[0].animals - (males + females + young), 0)
        # Clutches of single females, one by one: the one that brings the first animal too many.
        clutches = (1 + int(free // most), 1 + int(free // least))
    return Breeding(
        breeds, brood, tuple(rooms), clutches,
        tuple(incubation.measured(species.latin)), tuple(_warm(habitat, groups, days)),
        tuple(incubation.sexed(species.latin)), incubation.NO_LINE.get(species.latin, ""),
    )  # fmt: skip


def _warm(
    habitat: Habitat, groups: list[Group], days: Mapping[str, ClimateRun]
) -> list[Warm]:  # fmt: skip
    """Eggs left at the laying sites, by season."""
    from loamwright.physics.eggs import male_share

    species = groups[0].species
    if species.reproduction != "oviparous":
        return []
    table = incubation.sexed(species.latin)
    out = []
    for spot in places.laying(habitat, species):
        for run in days.values():
            warmth = float(run.air[:-1, run.site(spot.site.name)].mean())
            males = None
            if table and table[0][0] <= warmth <= table[-1][0]:
                males = male_share(warmth, [t for t, _, _ in table], [m for _, m, _ in table])
            out.append(Warm(spot.site.name, run.season, warmth,
                            incubation.hatching_days(species.latin, warmth), males))  # fmt: skip
    return out
