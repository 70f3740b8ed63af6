"""How an animal gets about: what it holds on to, how far it reaches and jumps."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Species
from loamwright.habitat.planting import Plant
from loamwright.habitat.residents import Group
from loamwright.habitat.sources import Source, SourceKind

SMOOTH, ROUGH, NONE = "smooth", "rough", "none"
"""Walls it can climb: glass and board too, backgrounds only, or none."""

PADS = (
    "Gekkonidae", "Diplodactylidae", "Phyllodactylidae", "Dactyloidae", "Hylidae",
    "Rhacophoridae", "Dendrobatidae", "Mantellidae",
)  # fmt: skip
"""Families with pads on their toes that hold on glass; from memory."""

WALKERS = ("Testudinidae", "Emydidae", "Geoemydidae")
"""Families that stay on the ground; from memory."""

HOLDS = Source(
    "from memory: families with pads on their toes climb glass, other lizards that climb or live on "
    "rocks climb backgrounds, tortoises neither",
    SourceKind.FROM_MEMORY,
)
REACHES = Source(
    "common practice, no source: an animal that holds on with its hind feet bridges about the length "
    "of its own trunk",
    SourceKind.COMMON_PRACTICE,
)
FILE = Source("watched by the builder, in the habitat file", SourceKind.BUILDER)


@dataclass(frozen=True, slots=True)
class Gait:
    """``walls`` it climbs; ``rods`` True where it climbs branches and rocks; ``reach`` the widest gap
    it bridges and ``jump`` the widest it jumps [m], 0 where it is not known to jump; where from."""

    walls: str
    rods: bool
    reach: float
    jump: float
    reach_source: Source
    holds_source: Source = HOLDS


WOODY = ("tree", "tree-shrub", "shrub")
"""Forms of plants whose stems carry animals."""

CARRIED = 0.1
"""Heaviest animal that a woody stem of a planted size carries [kg]: how thick it is, is not known."""

CARRIES = Source(
    "from memory: woody stems carry animals of up to 100 g, soft ones nobody; else as the file says",
    SourceKind.FROM_MEMORY,
)


def carries(plant: Plant, species: Species) -> bool:
    """True where an animal can climb a plant: as the file says, else where its stem is woody and the
    animal is known to be light."""
    if plant.carries is not None:
        return plant.carries
    light = species.mass is not None and species.mass <= CARRIED
    return plant.type.form in WOODY and light


def gait_of(groups: list[Group]) -> Gait | None:
    """Gait of a species' group; None where neither its length nor its reach is known."""
    species = groups[0].species
    given = [g.reach for g in groups if g.reach is not None]
    jumps = [g.jump for g in groups if g.jump is not None]
    reach = max(given) if given else species.body_length
    if reach is None:
        return None
    return Gait(_walls(species), species.family not in WALKERS, reach,
                max(jumps) if jumps else 0.0, FILE if given else REACHES)  # fmt: skip


def _walls(species: Species) -> str:
    """The walls a species climbs."""
    if species.family in PADS:
        return SMOOTH
    lizard = species.animal_class == "Reptilia" and species.family not in WALKERS
    high = "arboreal" in species.stratum or "saxicolous" in species.stratum
    return ROUGH if lizard and high and not species.family.endswith(SNAKES) else NONE


SNAKES = ("Colubridae", "Dipsadidae", "Natricidae", "Pythonidae", "Lamprophiidae", "Boidae")
"""Families of snakes: they climb branches; walls they are not known to."""
