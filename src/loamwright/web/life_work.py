"""What an engine process does for the animals, the plants and the small life of the ground."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.life.climb_map import ClimbMap
    from loamwright.engine.life.decomposers_study import Found
    from loamwright.engine.life.plants_year import Planting
    from loamwright.engine.life.study import Animals
    from loamwright.habitat.enclosure import Vec3
    from loamwright.habitat.habitat import Habitat

ABOVE = 0.005
"""How far above its top the light of a crown is told [m], as the file's reader places it."""


@dataclass(frozen=True)
class Life:
    """What is told of a habitat's life: its ``animals`` and their climbing graphs by species
    (``ways``), the ``small`` life of its ground (None where that is dry), its ``planting`` (None
    without plants), the ``findings`` of all; the ``habitat`` looked at, where the asker notes it."""

    animals: Animals | None = None
    ways: Mapping[str, ClimbMap] = field(default_factory=dict)
    small: Found | None = None
    planting: Planting | None = None
    findings: tuple[Finding, ...] = ()
    habitat: Habitat | None = None

    def beside(self, older: Life) -> Life:
        """The animals of this, with the rest of an older one until that is known too."""
        rest = tuple(f for f in older.findings if f.engine != "animals")
        return replace(older, animals=self.animals, ways=self.ways,
                       findings=(*self.findings, *rest))  # fmt: skip


def life(
    shop: Any, note: Any, habitat: Habitat, study: bytes, days: Mapping[str, ClimateRun],
    water: Coupled | None,
) -> Life:  # fmt: skip
    """Everything about a habitat's life; the animals are handed over before the year in the ground and
    of the plants is followed."""
    from loamwright.engine.light.values import read_values

    values = read_values(habitat, pickle.loads(study))
    told = Life()
    if habitat.animals:
        from loamwright.engine.life.findings import animals_findings
        from loamwright.engine.life.study import study_animals

        note("looking where animals can climb and what they can choose")
        animals = study_animals(habitat, days, values)
        outlooks = water.outlooks if water is not None else ()
        found = animals_findings(habitat, animals, days, outlooks)
        told = Life(animals, _ways(habitat), findings=tuple(found))
    note("following what lives in the ground", told)
    if water is not None:
        from loamwright.engine.life.decomposers_findings import decomposer_findings
        from loamwright.engine.life.decomposers_study import study as followed
        from loamwright.engine.life.plants_sites import crown_light

        small = followed(habitat, days, water.outlooks, crown_light(habitat, values))
        told = replace(told, small=small,
                       findings=(*told.findings, *decomposer_findings(small)))  # fmt: skip
    if habitat.plants:
        from loamwright.engine.life.plants_findings import plant_findings
        from loamwright.engine.life.plants_sites import crown_air, crown_light
        from loamwright.engine.life.plants_year import plant_year

        note("following the plants through a year")
        planting = plant_year(habitat, crown_light(habitat, values), crown_air(habitat, days))
        told = replace(told, planting=planting,
                       findings=(*told.findings, *plant_findings(habitat, planting)))  # fmt: skip
    return told


def _ways(habitat: Habitat) -> dict[str, ClimbMap]:
    from loamwright.engine.life.climb_map import map_of
    from loamwright.engine.life.climbing import foot_places
    from loamwright.engine.life.gait import gait_of
    from loamwright.engine.life.space import by_species

    foot, out = foot_places(habitat), {}
    for groups in by_species(habitat):
        gait = gait_of(groups)
        if gait is not None:
            species = groups[0].species
            out[species.key] = map_of(habitat, foot, species, gait)
    return out


def crown_spot(shop: Any, note: Any, habitat: Habitat, plant: str, foot: Vec3) -> float:
    """Daily light that a plant's crown would have with its foot elsewhere [mol/(m2 d)].

    The rest of the habitat is lit without that plant, which is kept at hand: another place then costs
    no more than its own rays.
    """
    import numpy as np

    from loamwright.engine.light.record import UP
    from loamwright.engine.light.values import by_lamp

    moved = next(p for p in habitat.plants if p.name == plant)
    without = replace(
        habitat, plants=tuple(p for p in habitat.plants if p.name != plant),
        sites=tuple(s for s in habitat.sites if s.plant != plant),
    )  # fmt: skip
    middle, half = replace(moved, foot=foot).crown
    size = habitat.enclosure.inside
    at = [min(max(v, 0.0), most) for v, most in zip(
        (middle[0], middle[1], middle[2] + half[2] + ABOVE), size, strict=True)]  # fmt: skip
    light = shop.bench(without, note).points_light(np.array([at]), without.lamps)
    return float(by_lamp(without.lamps, light[:, :, UP], "dli").sum())


JOBS: dict[str, Callable[..., Any]] = {"life": life, "crown_spot": crown_spot}
"""Jobs of this module by name."""
