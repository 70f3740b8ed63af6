"""Whether plants find room as they are set: their crowns beside walls and pieces, their root balls.

Crowns are the ellipsoids that the light engine sees; root balls are told from the crown's spread.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.ground.findings import loose_depth
from loamwright.engine.ground.weather import in_ground
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.planting import Plant
from loamwright.plan.contacts import distance_to
from loamwright.plan.fixings import extent

BALL, LEAST_BALL = 1.0 / 3.0, 0.06
"""Width of the root ball of a plant as bought, as a share of its crown's spread [1], and at least [m];
common practice, no source: the pot it comes in decides."""

BALL_DEEP = 0.8
"""Depth of a root ball by its width [1]; common practice, no source."""

FLAT = ("moss", "liverwort")
"""Forms without a crown and without roots."""

POINTS = 600
"""Points looked at in a crown."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Crown:
    """The crown of the plant called ``name``: its ``radius`` [m]; the ``wall`` that it reaches into
    furthest, a side of the box, and how far, ``over`` [m], nothing where it is clear of all; the
    ``share`` of its volume that ``pieces`` take, the one that takes most first."""

    name: str
    radius: float
    wall: str
    over: float
    share: float
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ball:
    """The root ball of a plant in the ground: its ``radius`` and ``depth`` [m]; ``loose`` depth of
    ground there [m]; what is ``nearest`` to it, a piece or a side, and the ``gap`` to that [m],
    negative where both would be in one place."""

    name: str
    radius: float
    depth: float
    loose: float
    nearest: str
    gap: float


def crowns_of(habitat: Habitat) -> tuple[Crown, ...]:
    """The crown of every plant that has one, in the order of the file; mosses lie flat against what
    they grow on."""
    return tuple(
        _crown(habitat, p)
        for p in habitat.plants if min(p.crown[1]) > 0.0 and p.type.form not in FLAT
    )  # fmt: skip


def balls_of(habitat: Habitat) -> tuple[Ball, ...]:
    """The root ball of every plant in the ground; mosses and epiphytes have none."""
    return tuple(_ball(habitat, p) for p in habitat.plants if _rooted(habitat, p))


def _rooted(habitat: Habitat, plant: Plant) -> bool:
    form = plant.type.form
    bare = form in FLAT or "epiphyte" in form
    return not plant.on and not bare and in_ground(habitat, plant)


def _crown(habitat: Habitat, plant: Plant) -> Crown:
    middle, half = plant.crown
    box = habitat.enclosure
    over = {
        side: reach + box.lining_depth(side)
        for k, sides in enumerate((("left", "right"), ("front", "back")))
        for side, reach in zip(
            sides, (half[k] - middle[k], middle[k] + half[k] - box.inside[k]), strict=True
        )
    }
    over["top"] = middle[2] + half[2] - box.inside[2] + box.lining_depth("top")
    wall = max(over, key=lambda side: over[side])
    points = np.asarray(middle) + np.asarray(half) * _ellipsoid()
    taken = np.zeros(len(points), bool)
    shares = []
    for piece in habitat.hardscape:
        if piece.name == plant.on or _apart(piece, middle, half):
            continue
        inside = distance_to(piece, points) <= 0.0
        if inside.any():
            shares.append((float(inside.mean()), piece.name))
            taken |= inside
    return Crown(
        plant.name, half[0], wall, max(0.0, over[wall]), float(taken.mean()),
        tuple(name for _, name in sorted(shares, key=lambda s: -s[0])),
    )  # fmt: skip


def _ellipsoid() -> Floats:
    """Points spread evenly in the ball of radius 1 (N, 3), always the same: by the golden angle."""
    n = np.arange(POINTS) + 0.5
    turn = np.pi * (1.0 + np.sqrt(5.0)) * n
    height = 1.0 - 2.0 * n / POINTS
    flat = np.sqrt(1.0 - height**2)
    # The radius by a sequence of its own, so that shells are not tied to heights.
    radius = ((n * 0.7548776662) % 1.0) ** (1.0 / 3.0)
    ball: Floats = radius[:, None] * np.stack(
        [flat * np.cos(turn), flat * np.sin(turn), height], axis=1
    )
    return ball


def _apart(
    piece: Piece, middle: tuple[float, float, float], half: tuple[float, float, float]
) -> bool:
    low, high = extent(piece)
    return any(
        low[k] > middle[k] + half[k] or high[k] < middle[k] - half[k] for k in range(3)
    )  # fmt: skip


def _ball(habitat: Habitat, plant: Plant) -> Ball:
    radius = 0.5 * max(LEAST_BALL, BALL * plant.spread)
    depth = BALL_DEEP * 2.0 * radius
    x, y, top = plant.foot
    left, right, front, back = habitat.enclosure.floor
    gaps = [(x - left, "left"), (right - x, "right"), (y - front, "front"), (back - y, "back")]
    axis = np.array([[x, y, top - depth * s] for s in np.linspace(0.0, 1.0, 9)])
    gaps += [(float(distance_to(p, axis).min()), p.name) for p in habitat.hardscape]
    gap, nearest = min(gaps)
    loose = loose_depth(habitat.ground, x, y)
    return Ball(plant.name, radius, depth, loose, nearest, gap - radius)
