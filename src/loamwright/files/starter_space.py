"""Who moves into a starter, and how large a box published standards ask for them."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.life.descent import sex_limit
from loamwright.engine.life.space import Asked, asked_of
from loamwright.files.starter_living import climate_of, layers_for
from loamwright.files.starter_ruler import Ruler
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.residents import Group

LARGEST = 4.0
"""Greatest inside measure a starter is made for [m]."""

ROUNDS = 8
"""How often height and ground are brought into line: a higher box has a deeper ground."""


NEAR = 1e-6
"""Differences that are only those of rounding [m, m2]."""


@dataclass(frozen=True, slots=True)
class Size:
    """The ``inside`` of a starter [m], titles of the standards it was made to meet (``meets``) and of
    those that ask for more than a starter is made for (``beyond``)."""

    inside: Vec3
    meets: tuple[str, ...] = ()
    beyond: tuple[str, ...] = ()


def group_for(species: Species) -> Group:
    """The smallest group that is a group: a pair, within what the catalogue knows of numbers and sexes;
    one male of a species kept singly, two females of one without males."""
    males, females = sex_limit(species) or (1, 1)
    most = 2 if species.group_max is None else min(species.group_max, 2)
    if most < 2 or not females:
        return Group(species, 1, 0) if males else Group(species, 0, 1)
    return Group(species, 1, 1) if males else Group(species, 0, 2)


def buried_by(species: Species) -> float:
    """How deep eggs lie that a species buries, so that its ground is as deep [m]; 0 for amphibians."""
    return 0.0 if species.animal_class == "Amphibia" else species.body_length or 0.12


def lining_depth(deep: float) -> float:
    """How much of a box's depth its background takes [m]."""
    return min(0.02, 0.05 * deep)


def usual_size(species: Species, ruler: Ruler) -> Size:
    """A first guess at the inside from an animal's length (common practice, no source), and no less
    than the strictest published standard asks for the group, where one speaks of it."""
    wide, deep, high = (ruler.box(side) for side in guessed(species))
    asked = [a for a in asked_of([group_for(species)]) if a.space is not None]
    for one in asked:
        wide, deep, high = _widened(one, (wide, deep, high), species, ruler)
    inside = (_box(wide, ruler), _box(deep, ruler), _box(high, ruler))
    held = [_held(a, inside, species, ruler) for a in asked]
    titles = [a.standard.title for a in asked]
    meets = tuple(t for t, good in zip(titles, held, strict=True) if good)
    beyond = tuple(t for t, good in zip(titles, held, strict=True) if not good)
    return Size(inside, meets, beyond)


def guessed(species: Species) -> Vec3:
    """Width, depth and height of a usual box by the animal's length [m] (common practice)."""
    length = species.body_length or 0.12
    width = min(max(9.0 * length, 0.6), 1.8)
    rocks = "saxicolous" in species.stratum
    climbs = "arboreal" in species.stratum.split("+")[:2] and not rocks
    small = species.animal_class == "Amphibia" or length < 0.05
    height = min(max(width, 0.6), 1.5) if climbs else min(max(0.5 * width, 0.6), 0.8)
    depth = max(0.5 * width, 0.45)
    if small:
        width, depth, height = max(width, 0.6), 0.45, max(height, 0.6)
    return width, depth, height


def _box(metres: float, ruler: Ruler) -> float:
    """A measure in whole steps of a box, none shorter than asked for where a starter can be so long."""
    return min(ruler.box_up(metres), ruler.box_down(LARGEST))


def _widened(asked: Asked, inside: Vec3, species: Species, ruler: Ruler) -> Vec3:
    """A box no smaller than a standard asks for: its floor is that before the background, its height
    that over the ground."""
    space = asked.space
    if space is None:
        return inside
    wide, deep, high = inside
    wide = max(wide, space.long or 0.0)
    if space.short is not None:
        deep = max(deep, space.short + lining_depth(1.0))
    if space.floor is not None:
        wide = max(wide, space.floor / (deep - lining_depth(deep)))
        if wide > LARGEST:
            deep = max(deep, space.floor / LARGEST + lining_depth(1.0))
    if space.height is not None:
        for _ in range(ROUNDS):
            high = max(high, space.height + _ground(species, high, ruler))
    return min(wide, LARGEST), min(deep, LARGEST), min(high, LARGEST)


def _ground(species: Species, high: float, ruler: Ruler) -> float:
    layers = layers_for(climate_of(species), high, buried_by(species))
    return sum(ruler.round(x.depth) for x in layers)


def _held(asked: Asked, inside: Vec3, species: Species, ruler: Ruler) -> bool:
    """True where a box holds all that a standard asks for."""
    space = asked.space
    if space is None:
        return False
    wide, deep, high = inside
    free = deep - lining_depth(deep)
    return (
        wide * free >= (space.floor or 0.0) - NEAR
        and max(wide, free) >= (space.long or 0.0) - NEAR
        and min(wide, free) >= (space.short or 0.0) - NEAR
        and high - _ground(species, high, ruler) >= (space.height or 0.0) - NEAR
    )


def pool_for(species: Species) -> tuple[float, float]:
    """Area [m2] and depth [m] of the pool that standards ask for the group; 0 where they ask none."""
    spaces = [a.space for a in asked_of([group_for(species)]) if a.space is not None]
    area = max((s.pool for s in spaces if s.pool is not None), default=0.0)
    return area, max((s.pool_depth for s in spaces if s.pool_depth is not None), default=0.0)
