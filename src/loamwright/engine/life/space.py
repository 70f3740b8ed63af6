"""Room: what the box leaves the animals, and what published standards ask for them."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.ground.displaced import piece_below, piece_solid
from loamwright.engine.ground.relief import cells, taken_up
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group
from loamwright.habitat.sources import Source, SourceKind
from loamwright.physics.space_standards import Space, Standard, standards_for

NOW, GROWN = "now", "grown"
"""The group as it is, and once all are as long as the longest known."""


@dataclass(frozen=True, slots=True)
class Box:
    """What the box leaves: the ``floor`` between the linings [m2], its ``long`` and ``short`` side
    [m], ``height`` from the ground (its mean) to what is under the top [m]; ``volume`` net of ground,
    linings and what pieces are made of [m3], ``pieces`` of these above the ground [m3]; ``pool`` area
    of all bowls [m2] and the depth of the deepest [m]."""

    floor: float
    long: float
    short: float
    height: float
    volume: float
    pieces: float
    pool: float
    pool_depth: float


def usable(habitat: Habitat) -> Box:
    """The room a habitat leaves its animals. What is hollow counts as room: a tube is a hide."""
    box, ground = habitat.enclosure, habitat.ground
    left, right, front, back = box.floor
    wide, deep = right - left, back - front
    under = box.inside[2] - box.lining_depth("top")
    parts = cells(box, ground.layers)
    pieces = 0.0
    for piece in habitat.hardscape:
        whole = piece_below(piece, 1e3)
        below = taken_up([piece], box, ground.layers, parts) if ground.layers else 0.0
        if whole:
            pieces += piece_solid(piece) * max(0.0, 1.0 - below / whole)
    height = under - ground.depth
    return Box(
        floor=wide * deep, long=max(wide, deep), short=min(wide, deep), height=height,
        volume=max(0.0, wide * deep * height - pieces), pieces=pieces,
        pool=sum(b.size[0] * b.size[1] for b in habitat.water),
        pool_depth=max((b.depth for b in habitat.water), default=0.0),
    )  # fmt: skip


FILE = Source("measured, in the habitat file", SourceKind.BUILDER)
SCALED = Source(
    "greatest length with the tail, less by as much as the mean adult is shorter than the longest",
    SourceKind.CALCULATED,
)
MEMORY_SPREAD = 0.10
"""Standard uncertainty of a length from memory, as a share of it [1]; this project's judgement."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length [m] with its standard uncertainty as a share, and where it comes from."""

    value: float
    spread: float
    source: Source


def length_of(groups: list[Group], measure: str, when: str) -> Length | None:
    """The length of the largest as a standard counts it: measured where the file says it, else of a
    mean adult now and of the longest known once grown; None where nothing is known.

    A mean adult is short of the largest of a group by half the way to the longest known, give or take.
    """
    species = groups[0].species
    tail = measure == "total"
    given = [v for g in groups if (v := g.total_length if tail else g.length) is not None]
    adults = any(g.males + g.females for g in groups)
    if given and (when == NOW or adults):
        return Length(max(given), 0.0, FILE)
    if when == NOW and not adults:
        return None
    mean, longest = species.body_length, species.length_max
    name = "total_length" if tail else "length_max" if longest is not None else "body_length"
    greatest: float | None = getattr(species, name)
    if greatest is None:
        return None
    source = species.source_of(name)
    spread = MEMORY_SPREAD if source.weak else 0.0
    if when == GROWN or mean is None or longest is None or measure == "carapace":
        return Length(greatest, spread, source)
    half = 0.5 * (longest / mean - 1.0)
    if tail:
        return Length(greatest * mean / longest, max(spread, half), SCALED)
    return Length(mean, half, species.source_of("body_length"))


@dataclass(frozen=True, slots=True)
class Asked:
    """What one standard asks for the animals of one species: ``when`` `NOW` or `GROWN`, for how many
    ``animals`` of which ``length`` (None where it counts none, or none is known: then ``space`` is
    None too); ``spoken`` the number of animals the ``space`` is for, fewer than ``animals`` where the
    standard does not speak of so many."""

    species: Species
    standard: Standard
    when: str
    animals: int
    length: Length | None
    spoken: int
    space: Space | None

    def spread(self, value: float, power: int) -> float:
        """Uncertainty of a value that goes with a power of the length [same unit]."""
        return power * self.length.spread * value if self.length else 0.0


def by_species(habitat: Habitat) -> list[list[Group]]:
    """The groups of each species together, in the order of the file."""
    found: dict[str, list[Group]] = {}
    for group in habitat.animals:
        found.setdefault(group.species.key, []).append(group)
    return list(found.values())


def asked_of(groups: list[Group]) -> list[Asked]:
    """What every standard in force asks for the groups of one species, as they are and, where young
    are among them, once these have grown; the second only where it differs."""
    species = groups[0].species
    animals = sum(g.count for g in groups)
    whens = (NOW, GROWN) if any(g.young for g in groups) else (NOW,)
    out: list[Asked] = []
    for standard in standards_for(species.latin, species.family, species.stratum):
        before: Asked | None = None
        for when in whens:
            length = length_of(groups, standard.measure, when) if standard.measure else None
            space, spoken = None, animals
            while (length is not None or not standard.measure) and spoken > 0:
                space = standard.rule(length.value if length else 0.0, spoken)
                if space is not None:
                    break
                spoken -= 1
            asked = Asked(species, standard, when, animals, length, spoken, space)
            if before is None or (asked.space, asked.length) != (before.space, before.length):
                out.append(asked)
            before = asked
    return out
