"""Whether lamps find room: their bodies against the panels behind them and against each other.

The catalogue knows what shines, not how deep the body behind it is: that is told from its shape.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat

HOLDER, DEEPER = 0.05, 1.3
"""What a lampholder takes behind a spot [m], and the spot's own depth by its diameter [1]; common
practice, no source."""

FLAT = 0.035
"""Depth of a tube in its reflector, and of a panel or bar of light diodes [m]; common practice."""

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Room:
    """The room of a lamp: ``behind`` its body reaches from its face [m]; ``nearest`` the panel's side
    or the lamp that is nearest to it, and the ``gap`` to that [m], negative where they would have to
    be in one place; ``cover`` the name of an opening whose mesh its body would go through."""

    name: str
    behind: float
    nearest: str
    gap: float
    cover: str


def depth_of(lamp: Lamp) -> float:
    """How far a lamp's body reaches behind what shines [m]; common practice, no source."""
    return FLAT if lamp.type.shape in ("tube", "bar") else spot_depth(lamp.type.diameter)


def spot_depth(diameter: float) -> float:
    """How deep a spot is with its holder [m], from its diameter [m]; common practice, no source."""
    return HOLDER + DEEPER * diameter


def rooms_of(habitat: Habitat) -> tuple[Room, ...]:
    """The room of every lamp, in the order of the file."""
    bodies = {lamp.name: _body(lamp) for lamp in habitat.lamps}
    return tuple(_room(habitat, lamp, bodies) for lamp in habitat.lamps)


@dataclass(frozen=True, slots=True)
class _Body:
    """A box in the room: middle, unit vectors of its axes (3, 3) and half its size along each."""

    middle: Vector
    axes: Vector
    half: Vector

    def reach(self, way: Vector) -> float:
        """How far it goes from its middle along a unit vector [m]."""
        return float(np.abs(self.axes @ way) @ self.half)


def _body(lamp: Lamp) -> _Body:
    kind, deep = lamp.type, depth_of(lamp)
    aim, along = np.asarray(lamp.aim), np.asarray(lamp.along)
    across = np.cross(aim, along)
    if kind.shape == "tube":
        size = (kind.length, max(kind.reflector_width, kind.diameter), deep)
    elif kind.shape == "bar":
        size = (kind.length, kind.width, deep)
    else:
        # A spot is round: a box a little smaller than the one round it comes nearer to that.
        wide = kind.diameter * math.sqrt(math.pi) / 2.0
        size = (wide, wide, deep)
    return _Body(
        np.asarray(lamp.at) - 0.5 * deep * aim, np.stack([along, across, aim]), 0.5 * np.array(size)
    )  # fmt: skip


def _room(habitat: Habitat, lamp: Lamp, bodies: dict[str, _Body]) -> Room:
    body = bodies[lamp.name]
    found: list[tuple[float, str, str]] = []
    for side, gap, cover in _panels(habitat, lamp, body):
        found.append((gap, side, cover))
    found += [(_gap(body, other), name, "") for name, other in bodies.items() if name != lamp.name]
    gap, nearest, cover = min(found)
    return Room(lamp.name, depth_of(lamp), nearest, gap, cover)


def _panels(habitat: Habitat, lamp: Lamp, body: _Body) -> Sequence[tuple[str, float, str]]:
    """Each panel with the gap to it, and the opening the lamp is under or over."""
    box = habitat.enclosure
    out = []
    for axis, (low, high) in enumerate((("left", "right"), ("front", "back"), ("floor", "top"))):
        way = np.eye(3)[axis]
        reach = body.reach(way)
        at = float(body.middle[axis])
        across, up = (float(v) for v in np.delete(body.middle, axis))
        place = (across, up)
        # Lamps above the top have no panels beside them.
        if axis < 2 and lamp.at[2] > box.inside[2]:
            continue
        for side, gap in (
            (low, at - reach - box.lining_depth(low)),
            (high, box.inside[axis] - box.lining_depth(high) - at - reach),
        ):
            if side == "top" and lamp.at[2] > box.inside[2]:
                gap = at - reach - box.inside[2] - box.panel("top").thickness
            covers = [
                o for o in box.openings if o.side == side and o.spans(place)
            ]  # fmt: skip
            if any(o.cover.kind == "open" for o in covers):
                continue
            out.append((side, gap, covers[0].name if covers else ""))
    return out


def _gap(one: _Body, other: _Body) -> float:
    """Distance of two bodies along the axis that parts them best [m]; negative where none does.

    Never more than their distance; less where corners face each other.
    """
    crossed = np.cross(one.axes[:, None, :], other.axes[None, :, :]).reshape(-1, 3)
    size = np.linalg.norm(crossed, axis=1)
    ways = np.concatenate([one.axes, other.axes, crossed[size > 1e-6] / size[size > 1e-6, None]])
    apart = other.middle - one.middle
    return max(abs(float(apart @ w)) - one.reach(w) - other.reach(w) for w in ways)
