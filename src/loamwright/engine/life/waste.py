"""What the residents eat and leave on the ground, by the laws of size."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.physics import allometry, bodies

KEPT_SHARE = 0.65
"""Energy used in an enclosure over that in the wild [1]; 0.5 to 0.8, from memory."""

AMPHIBIAN_FACTOR = 2.0
"""Energy an amphibian uses over that at rest [1]; 1.5 to 3, from memory."""

AMPHIBIAN_AT = 297.15
"""Body temperature at which amphibians' rest is taken [K]."""

SPREAD = 10.0**allometry.FIELD_SPREAD - 1.0
"""Relative standard uncertainty of a species' waste [1]: that of the law of its energy, upper side."""

CARBON = 0.45
"""Carbon of dry dung [1]; from memory, as of plant and insect matter."""

PLANT_EATERS = (
    "Corucia", "Dipsosaurus", "Iguana", "Malacochersus", "Testudo", "Uromastyx",
)  # fmt: skip
MIXED = (
    "Cuora", "Ctenophorus", "Egernia", "Leiocephalus", "Physignathus", "Platysaurus", "Pogona",
    "Terrapene", "Tiliqua", "Correlophus", "Rhacodactylus", "Mniarogekko",
)  # fmt: skip
MOUSE_EATERS = (
    "Antaresia", "Boaedon", "Gonyosoma", "Heterodon", "Lampropeltis", "Lichanura", "Pantherophis",
    "Python",
)  # fmt: skip
"""Genera by what they live on; all others eat insects. From memory."""

GRAZERS = (*PLANT_EATERS, *MIXED)
"""Genera that bite into plants; from memory."""


@dataclass(frozen=True, slots=True)
class Food:
    """Dry food: usable ``energy`` [J/kg], ``nitrogen`` [1], share ``digested`` of its mass and
    ``absorbed`` of its nitrogen [1]."""

    energy: float
    nitrogen: float
    digested: float
    absorbed: float


_CRICKET = allometry.PREY["cricket"]

FOODS: dict[str, Food] = {
    "insects": Food(_CRICKET[2], _CRICKET[1], 0.75, 0.80),
    "plants": Food(11.0e6, 0.035, 0.60, 0.60),
    "mixed": Food(15.0e6, 0.070, 0.68, 0.70),
    "mice": Food(20.0e6, 0.095, 0.80, 0.85),
}
"""Food by kind. Of insects energy and nitrogen are those of crickets (Finke, `allometry.PREY`), all
other numbers from memory; low-fibre leaves gave a plant eater 86 % of their
energy, Throckmorton 1973."""


@dataclass(frozen=True, slots=True)
class Eater:
    """A group of residents: ``key`` of the species, ``count``, what they live on (``diet``), and for
    all of them dry ``food``, ``dung`` [kg/s] and nitrogen of ``dung_nitrogen`` and ``urates`` [kg/s];
    ``length`` of the body [m], None where not known."""

    key: str
    count: int
    diet: str
    food: float
    dung: float
    dung_nitrogen: float
    urates: float
    length: float | None

    @property
    def hunts(self) -> bool:
        """True for those that would eat what lives in the ground."""
        return self.diet in ("insects", "mixed")


def diet_of(species: Species) -> str:
    """What a species lives on, a key of `FOODS`."""
    genus = species.latin.split()[0]
    for diet, genera in (("plants", PLANT_EATERS), ("mixed", MIXED), ("mice", MOUSE_EATERS)):
        if genus in genera:
            return diet
    return "insects"


def energy_of(species: Species) -> float | None:
    """Energy one grown animal uses in an enclosure, mean over the day [W]; None without a mass."""
    if species.mass is None:
        return None
    if species.animal_class.lower().startswith("amphib"):
        return AMPHIBIAN_FACTOR * allometry.resting_heat_amphibian(species.mass, AMPHIBIAN_AT)
    return KEPT_SHARE * bodies.field_heat_reptile(species.mass)


def eaters_of(habitat: Habitat) -> tuple[tuple[Eater, ...], tuple[str, ...]]:
    """The residents by species, and the keys of those whose mass is not known.

    Young count as grown: what they leave is told too high rather than too low.
    """
    found: dict[str, Eater] = {}
    unknown: list[str] = []
    for group in habitat.animals:
        energy = energy_of(group.species)
        if energy is None:
            unknown.append(group.species.key)
            continue
        diet = diet_of(group.species)
        food = FOODS[diet]
        count = group.count + (found[group.species.key].count if group.species.key in found else 0)
        dry = count * allometry.food_for(energy, food.energy, 1.0)
        in_dung, urates = allometry.nitrogen_routes(dry, food.nitrogen, food.absorbed)
        found[group.species.key] = Eater(
            group.species.key, count, diet, dry, allometry.dung(dry, food.digested), in_dung,
            urates, group.species.body_length,
        )  # fmt: skip
    return tuple(found.values()), tuple(dict.fromkeys(unknown))
