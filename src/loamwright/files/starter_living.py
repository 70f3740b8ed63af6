"""Climate, ground and plants of a starter file, from what the animal needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.engine.life.plants_findings import HELD_DOWN
from loamwright.habitat.catalogue import PlantType, Species

DRY, MILD, DAMP = "dry", "mild", "damp"

WISHES = {
    DRY: ("portulacaria-afra", "haworthiopsis-attenuata", "gasteria-carinata", "echeveria-secunda",
          "festuca-glauca", "chlorophytum-comosum"),
    MILD: ("chamaedorea-elegans", "chlorophytum-comosum", "nephrolepis-exaltata",
           "peperomia-obtusifolia", "ophiopogon-japonicus", "chamaedorea-seifrizii",
           "carex-oshimensis", "haworthiopsis-attenuata"),
    DAMP: ("chamaedorea-elegans", "asplenium-nidus", "neoregelia-carolinae", "maranta-leuconeura",
           "chamaedorea-seifrizii", "nephrolepis-exaltata", "chlorophytum-comosum",
           "peperomia-obtusifolia", "adiantum-raddianum", "carex-oshimensis",
           "ophiopogon-japonicus", "soleirolia-soleirolii", "moss"),
}  # fmt: skip
"""Plants tried by climate, in this order (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of the ground: its ``depth`` in metres, ``leaf`` for leaf litter, ``mix`` a finished
    mix of the catalogue."""

    name: str
    kind: str
    depth: float
    leaf: str = ""
    mix: str = ""


def climate_of(species: Species) -> str:
    """Dry, mild or damp, by the humidity the animal lives in by day."""
    given = [h for h in species.humidity_day if h is not None]
    if not given:
        return MILD
    middle = sum(given) / len(given)
    return DRY if middle < 0.42 else DAMP if middle >= 0.65 else MILD


def layers_for(climate: str, height: float, buried: float = 0.0) -> list[Layer]:
    """A usual ground for a box of a height [m], deep enough for eggs ``buried`` so deep [m] where the
    box is (common practice, no source)."""
    deep = max(min(max(0.13 * height, 0.03), 0.18), min(buried, 0.3 * height))
    if climate == DRY:  # dry on top, or the base would damp the air
        return [Layer("base", "loam-sand", 0.6 * deep), Layer("top", "sand", 0.4 * deep)]
    return [
        Layer("drainage", "drainage-mat", 0.02 if height < 1.0 else 0.03),
        Layer("separator", "fleece", 0.002),
        Layer("mix", "mix", deep, mix="tropical" if climate == DAMP else "woodland"),
        Layer("litter", "leaf-litter", 0.01 if height < 0.5 else 0.02, "oak"),
    ]


TIGHT = 1.25
"""How much deeper than the ground roots may go in a starter: no two plants of a kind root alike."""


def has_room(plant: PlantType, deep: float) -> bool:
    """True where a plant's roots fit in ground so deep [m], or it lives without."""
    if plant.form in ("moss", "liverwort") or "epiphyte" in plant.form:
        return True
    return (plant.rooting_depth or 0.0) <= TIGHT * deep


def stays(plant: PlantType, over: float, across: float) -> bool:
    """True where a plant that has so much height ``over`` the ground and is given so much room
    ``across`` [m] does not outgrow it: woody ones are kept down by pruning, others by nothing."""
    tall = HELD_DOWN.get(plant.form, 1.0) * over
    return (plant.mature_height or 0.0) <= tall and (plant.mature_spread or 0.0) <= across


@dataclass(frozen=True, slots=True)
class Bed:
    """What a plant finds: ``air`` from its coldest night to its warmest day [K], ground so ``deep`` for
    its roots, height ``over`` it and the shorter side of the box ``across`` [m]."""

    air: tuple[float, float]
    deep: float
    over: float
    across: float


def plants_for(
    plants: Mapping[str, PlantType], species: Species, bed: Bed
) -> list[tuple[str, PlantType]]:
    """Plants that bear the animal's climate and do not harm it, the likeliest first: those that grow
    well in the bed's air, whose roots have room and that do not outgrow the box; for want of them
    those that nearly like its air, then those too large for it, the smallest first."""
    cool = species.air_cool or 295.15
    damp = max([h for h in species.humidity_day if h is not None], default=0.6)
    found: list[tuple[str, PlantType]] = []
    bear: list[tuple[str, PlantType]] = []
    cramped: list[tuple[str, PlantType]] = []
    for key in WISHES[climate_of(species)]:
        plant = plants[key]
        low, high = plant.temperature
        # Plants stand on the cooler side; a young one bears two degrees less than it likes.
        fits = (low is None or low - 2.0 <= cool) and (high is None or high >= cool)
        bears = plant.humidity_min is None or plant.humidity_min <= damp
        if fits and bears and plant.toxicity.startswith("non-toxic"):
            likes = (low is None or low <= bed.air[0]) and (high is None or high >= bed.air[1])
            nearly = (low is None or low <= bed.air[0] + 1.0) and (
                high is None or high >= bed.air[1] - 1.0
            )
            roomy = has_room(plant, bed.deep) and stays(plant, bed.over, bed.across)
            (found if likes and roomy else bear if nearly and roomy else cramped).append(
                (key, plant)
            )
    cramped.sort(key=lambda pair: pair[1].mature_height or 0.0)
    if len(found) > 2:
        return found
    return found + bear or cramped[:1]
