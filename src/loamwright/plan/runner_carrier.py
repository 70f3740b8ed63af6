"""The strip before the fixed part of the front that carries the outer track of sliding doors.

It stands in the front's zone, as high as the fixed strip, and is made of the box's own board where that
is thin enough, in as many layers as fill the depth, else of the front's own panes. What is left is the
bed of silicone between it and the strip. All of it common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import doors_slide, front_zone
from loamwright.plan.cut_parts import CARRIER, FIXED, FRONT, PartToCut
from loamwright.plan.front_parts import BED, front_parts
from loamwright.plan.joining import SILICONE
from loamwright.plan.lines import Line
from loamwright.plan.screws import takes_screws

THICKEST_BED = 0.003
"""Thickness up to which silicone alone fills what is left; beyond it it stands on packers [m]."""

BEAD = 0.010
"""Width of each of the two beads of silicone behind it and under each runner [m]."""

RUNNER_BED = 0.001
"""Thickness of the silicone under and over runners [m]."""

NAME = "runner carrier"


@dataclass(frozen=True, slots=True)
class Carrier:
    """The strip: its ``material`` and ``label``, the ``thickness`` of each of its ``layers`` [m], the
    ``bed`` between it and the fixed strip [m], its ``length`` and ``height`` [m] and how far its outer
    face lies before the inside (``zone``) [m]."""

    material: str
    label: str
    thickness: float
    layers: int
    bed: float
    length: float
    height: float
    zone: float

    @property
    def packed(self) -> bool:
        """Whether what is left is too thick for a bed of silicone alone."""
        return self.bed > THICKEST_BED + 1e-9


def carrier_of(habitat: Habitat) -> Carrier | None:
    """The strip of a front whose doors slide over a fixed part; None where there is none."""
    if not doors_slide(habitat):
        return None
    strips = [p for p in front_parts(habitat, {})[0] if p.kind == FIXED]
    if not strips:
        return None
    box = habitat.enclosure
    front = box.panel("front")
    zone = front_zone(habitat)
    deep = zone - strips[0].thickness
    boards = [box.panel(s) for s in ("floor", "left", "right", "back", "top")]
    found = [p for p in boards if takes_screws(p.material.key) and 0.0 < p.thickness <= deep + 1e-9]
    made = [
        Carrier(p.material.key, p.material.label, p.thickness, layers,
                max(0.0, deep - layers * p.thickness), box.inside[0] - 2.0 * BED, strips[0].height,
                zone)
        for p in (*found, front)
        if (layers := math.floor(deep / p.thickness + 1e-6)) > 0
    ]  # fmt: skip
    if not made:
        return None
    return next((c for c in made if not c.packed), min(made, key=lambda c: c.bed))


def carrier_parts(habitat: Habitat) -> list[PartToCut]:
    """Its layers as parts, from the outside in."""
    c = carrier_of(habitat)
    if c is None:
        return []
    out = []
    for n in range(c.layers):
        name = NAME if c.layers == 1 else f"{NAME}, layer {n + 1} of {c.layers}"
        low = (BED, -c.zone + n * c.thickness, 0.0)
        high = (BED + c.length, -c.zone + (n + 1) * c.thickness, c.height)
        out.append(PartToCut(name, CARRIER, c.material, c.label, c.thickness, c.length, c.height, FRONT,
                             low=low, high=high))  # fmt: skip
    return out


def runner_silicone(habitat: Habitat) -> list[Line]:
    """Silicone that beds the strip, and both runners of doors that slide."""
    if not doors_slide(habitat):
        return []
    wide, c = habitat.enclosure.inside[0], carrier_of(habitat)
    beds = [RUNNER_BED, RUNNER_BED]
    if c is not None:
        beds += [c.bed, *[RUNNER_BED] * (c.layers - 1)]
    litres = 1000.0 * math.fsum(2.0 * BEAD * wide * bed for bed in beds)
    return [Line(SILICONE.key, "fixings", SILICONE.name, litres, "L", 0.5, uses=("runners",),
                 why="two beads of 10 mm under the lower runner, over the upper one and behind the "
                 "strip that carries the outer track; common practice")]  # fmt: skip
