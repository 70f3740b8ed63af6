"""Bodies of lamps as boxes, and how far they are from panels and from each other.

The catalogue knows what shines, not how deep the body behind it is: that is told from its shape.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
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


def depth_of(lamp: Lamp) -> float:
    """How far a lamp's body reaches behind what shines [m]; common practice, no source."""
    return FLAT if lamp.type.shape in ("tube", "bar") else spot_depth(lamp.type.diameter)


def spot_depth(diameter: float) -> float:
    """How deep a spot is with its holder [m], from its diameter [m]; common practice, no source."""
    return HOLDER + DEEPER * diameter


def width_of(lamp: Lamp) -> float:
    """How wide a lamp is across its length [m]."""
    kind = lamp.type
    if kind.shape == "tube":
        return max(kind.reflector_width, kind.diameter)
    return kind.width if kind.shape == "bar" else kind.diameter


@dataclass(frozen=True, slots=True)
class Body:
    """A box in the room: middle, unit vectors of its axes (3, 3) and half its size along each [m]."""

    middle: Vector
    axes: Vector
    half: Vector

    def reach(self, way: Vector) -> float:
        """How far it goes from its middle along a unit vector [m]."""
        return float(np.abs(self.axes @ way) @ self.half)


def body_of(lamp: Lamp) -> Body:
    """The body of a lamp."""
    kind, deep = lamp.type, depth_of(lamp)
    aim, along = np.asarray(lamp.aim), np.asarray(lamp.along)
    across = np.cross(aim, along)
    if kind.shape in ("tube", "bar"):
        size = (kind.length, width_of(lamp), deep)
    else:
        # A spot is round: a box a little smaller than the one round it comes nearer to that.
        wide = kind.diameter * math.sqrt(math.pi) / 2.0
        size = (wide, wide, deep)
    return Body(
        np.asarray(lamp.at) - 0.5 * deep * aim, np.stack([along, across, aim]), 0.5 * np.array(size)
    )  # fmt: skip


def box_body(low: Sequence[float], high: Sequence[float]) -> Body:
    """A box along the axes between two corners [m]."""
    a, b = np.asarray(low, float), np.asarray(high, float)
    return Body(0.5 * (a + b), np.eye(3), 0.5 * (b - a))


def nearest_of(
    habitat: Habitat, lamp: Lamp, body: Body, others: Iterable[tuple[str, Body]]
) -> tuple[float, str, str]:
    """What is nearest to a lamp's body: the gap to it [m], its name or the panel's side, and the
    opening there whose mesh the body is under or over, empty where there is none."""
    found = [(gap, side, cover) for side, gap, cover in _panels(habitat, lamp, body)]
    found += [(gap_of(body, other), name, "") for name, other in others]
    return min(found)


def _panels(habitat: Habitat, lamp: Lamp, body: Body) -> Sequence[tuple[str, float, str]]:
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


def gap_of(one: Body, other: Body) -> float:
    """Distance of two bodies along the axis that parts them best [m]; negative where none does.

    Never more than their distance; less where corners face each other.
    """
    crossed = np.cross(one.axes[:, None, :], other.axes[None, :, :]).reshape(-1, 3)
    size = np.linalg.norm(crossed, axis=1)
    ways = np.concatenate([one.axes, other.axes, crossed[size > 1e-6] / size[size > 1e-6, None]])
    apart = other.middle - one.middle
    return max(abs(float(apart @ w)) - one.reach(w) - other.reach(w) for w in ways)
