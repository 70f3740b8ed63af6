"""Pieces of a starter: what is climbed and basked on, two hides, and where eggs are laid [m]."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.files.starter_parts import Piece, Place
from loamwright.files.starter_ruler import Ruler
from loamwright.files.starter_space import lining_depth
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec2, Vec3

COOL_HIDE, WARM_HIDE, HIGH_HIDE = "cork tube", "warm tube", "high tube"
"""Names of the tubes to hide in: at the cool end of the ground, at the warm one, and off the ground."""

ONE_PLACE = 0.28
"""Length of a tube up to which one place holds it [m]; beyond, it turns there."""

IN_GROUND = ("soil", "sand", "loam", "coir", "litter", "ground", "moist box", "substrate box")
"""Words of where a species lays that mean the ground."""


@dataclass(frozen=True, slots=True)
class Room:
    """What pieces are made to fit: the ``inside`` of the box, the ground's ``surface``, how high the
    basking ``place`` lies, and the animal's ``length`` [m]."""

    inside: Vec3
    surface: float
    place: float
    length: float
    ruler: Ruler


def climbing(room: Room, thick: float) -> list[Piece]:
    """A branch to bask on with a way up at each end, so that none is a dead end; a hide on the ground
    and one beside the right way up, so that shelter is reached without touching the ground."""
    w, d, _ = room.inside
    thick = room.ruler.round(thick)
    middle = room.place - thick / 2
    foot = room.surface
    # Both ways up end right under the branch, which lies on them.
    ends = _way_up((0.9 * w, 0.64 * d, foot), (0.66 * w, 0.48 * d), middle, thick)
    left = _way_up((0.07 * w, 0.62 * d, foot), (0.23 * w, 0.48 * d), middle, thick)
    return [
        Piece("basking branch", "branch", (0.2 * w, 0.48 * d, middle), "hardwood",
              "two screws into each side", to=(0.68 * w, 0.48 * d, middle), diameter=thick),
        Piece("climbing branch", "branch", ends[0], "hardwood", "two screws", to=ends[1],
              diameter=thick),
        Piece("left branch", "branch", left[0], "hardwood", "two screws", to=left[1],
              diameter=thick),
        _hide(room, COOL_HIDE, 0.68, 0.24 * d),
        _high_hide(room, ends, thick / 2),
    ]  # fmt: skip


def _way_up(foot: Vec3, top: Vec2, middle: float, thick: float) -> tuple[Vec3, Vec3]:
    """Ends of a branch from its ``foot`` to right under a level one of the same thickness whose axis
    lies at a height ``middle`` over ``top`` [m]: the steeper, the nearer its end must come."""
    aside = math.dist(foot[:2], top)
    lean = aside / math.hypot(aside, max(middle - thick - foot[2], 0.0))
    joint = max(middle - 0.5 * thick * (1.0 + lean), foot[2] + 0.01)
    return foot, (*top, joint)


def on_ground(room: Room, stone: str) -> list[Piece]:
    """A stone to bask on and one to cool off on, a hide at the cool end and one at the warm."""
    w, d, _ = room.inside
    long = min(max(1.6 * room.length, 0.12), 0.34 * w)
    deep = min(max(1.2 * room.length, 0.1), 0.4 * d)
    high = room.place - room.surface
    flat = min(0.5 * high, 0.08)
    wide = hide_width(room)
    y = max(0.48 * d - deep / 2 - wide / 2 - 0.01, wide / 2 + 0.01)
    return [
        Piece("basking stone", "block", (0.27 * w, 0.48 * d, room.surface), stone,
              "stands on the floor", size=(long, deep, high)),
        Piece("cool stone", "block", (0.62 * w, 0.68 * d, room.surface), "slate",
              "bedded in the ground", size=(0.6 * long, 0.6 * deep, flat)),
        _hide(room, COOL_HIDE, 0.68, 0.24 * d),
        _hide(room, WARM_HIDE, 0.06, y),
    ]  # fmt: skip


def hide_width(room: Room) -> float:
    """Width of a tube to hide in [m]."""
    _, d, h = room.inside
    return room.ruler.round(min(max(0.5 * room.length, 0.06), 0.22, 0.26 * d, 0.25 * h))


def _sunk(room: Room) -> float:
    """Height of the axis of a tube half sunk in the ground [m]."""
    wide = hide_width(room)
    return max(room.surface + 0.2 * wide, wide / 2 + room.ruler.step)


def _hide(room: Room, name: str, x: float, y: float) -> Piece:
    """A tube half sunk in the ground, its left end at a share of the width."""
    w, _, _ = room.inside
    wide = hide_width(room)
    middle = _sunk(room)
    return Piece(name, "tube", (x * w, y, middle), "cork", "half sunk in the ground",
                 to=((x + 0.26) * w, y, middle), diameter=wide, wall=0.1 * wide)  # fmt: skip


def _high_hide(room: Room, way: tuple[Vec3, Vec3], radius: float) -> Piece:
    """A tube off the ground whose left end touches the way up, in front of it."""
    w, d, _ = room.inside
    wide = hide_width(room)
    foot, top = way
    # Over the hide on the ground, which lies below it in a small box.
    z = max(0.5 * (foot[2] + top[2]), _sunk(room) + wide + 0.01)
    share = min(max((z - foot[2]) / (top[2] - foot[2]), 0.0), 1.0)
    x = foot[0] + share * (top[0] - foot[0])
    y = foot[1] + share * (top[1] - foot[1]) - wide / 2 - radius
    y = min(max(y, wide / 2 + 0.01), d - lining_depth(d) - wide / 2 - 0.005)
    end = min(x + 0.26 * w, 0.96 * w)
    fixing = "screwed to the climbing branch"
    if end - x > ONE_PLACE:
        end, fixing = w - room.ruler.step, "screwed to the climbing branch and the right wall"
    return Piece(HIGH_HIDE, "tube", (x, y, z), "cork", fixing,
                 to=(end, y, z), diameter=wide, wall=0.1 * wide)  # fmt: skip


def laying_places(species: Species, inside: Vec3, water: Vec3, climbs: bool) -> list[Place]:
    """Where a species lays, as far as it is known: on the ground, over the ``water`` (its place), or,
    where eggs are glued or lie in axils and hollows, in the high tube; none where nothing is known."""
    words = species.egg_site
    w, d, _ = inside
    if species.reproduction != "oviparous" or not words:
        return []
    if any(x in words for x in IN_GROUND):
        return [Place("laying place", "laying", at=(0.72 * w, 0.84 * d))]
    if "water" in words:
        return [Place("laying water", "laying", at=water)]
    if climbs:
        return [Place("laying place", "laying", on=HIGH_HIDE, along=0.8, inside=True)]
    return [Place("laying place", "laying", at=(0.72 * w, 0.84 * d))]
