"""The leak test: how deep the floor is filled, held by what stands at its front."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.plan.glass_front import strip_height

BELOW_EDGE = 0.02
"""How far the water stays below the front strip's top and below holes [m]; common practice."""

OVER_DRAINAGE = 0.02
"""How far it stands over the drainage layer, where water may stand later [m]; common practice."""

LEAST = 0.05
"""A floor is filled no less deep where its front holds so much [m]; common practice, no source."""

LOWEST = 0.01
"""Less than this tests nothing [m]: seams are wetted instead; common practice, no source."""

STEP = 0.005
"""Depths are told in whole steps of this [m]."""


@dataclass(frozen=True, slots=True)
class LeakTest:
    """``depth`` of the water over the floor [m], 0 where nothing holds it, its ``volume`` [m3], and
    whether the floor has a hole to close first (``drain``)."""

    depth: float
    volume: float
    drain: bool

    @property
    def words(self) -> str:
        """What is done, sizes in metric units."""
        if self.depth <= 0.0:
            return (
                "wet every seam of the floor from inside, look under it after a day (its front or a "
                "hole is too low to fill it)"
            )
        first = "close the floor's holes, " if self.drain else ""
        return (
            f"{first}fill the floor {100 * self.depth:g} cm deep with water "
            f"({1000 * self.volume:.0f} L), on a level, full support that bears the box and "
            f"{1000 * self.volume:.0f} kg of water; mark the level, look after a day, empty it"
        )


def leak_test(habitat: Habitat) -> LeakTest:
    """The test of a habitat's floor: over its drainage layer, but below what holds the water."""
    box = habitat.enclosure
    wide, deep, _ = box.inside
    drainage = 0.0
    for layer in habitat.ground.layers:
        if layer.kind not in DRAINING:
            break
        drainage += layer.depth
    walls = [(o.at[1] - o.size[1] / 2) for o in box.openings if o.side not in ("floor", "top")]
    walls += [f.at[1] - f.type.diameter / 2 for f in habitat.fans if f.side not in ("floor", "top")]
    most = min([strip_height(habitat), *walls]) - BELOW_EDGE
    depth = min(max(LEAST, drainage + OVER_DRAINAGE), most)
    depth = math.floor(depth / STEP + 1e-6) * STEP
    depth = depth if depth >= LOWEST else 0.0
    return LeakTest(depth, wide * deep * depth, any(o.side == "floor" for o in box.openings))
