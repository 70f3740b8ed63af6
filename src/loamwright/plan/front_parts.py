"""The front: a fixed sill that holds the ground back, and doors above it."""

from __future__ import annotations

import math
from dataclasses import replace

from loamwright.habitat.enclosure import Opening, Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import doors_slide, front_zone
from loamwright.plan.cut_parts import DOOR, FIXED, FRONT, Hole, PartToCut

BED = 0.001
"""Room left on each side of a pane for its bed of silicone or its slide [m]; common practice."""

ABOVE_GROUND = 0.02
"""How far the sill stands above the ground, and above a hole low in the front [m]; common practice."""

USUAL_SILL = 0.02
"""How much higher than the ground a file is read with a sill where it names none [m]."""

LOWEST_DOOR = 0.05
"""A front whose doors would be lower than this has no room for them [m]."""


def sill_height(habitat: Habitat) -> float:
    """Height of the fixed part of the front [m]: as the file says under its cuts or its front, else
    above the ground along the front and above holes that begin in the lower half, rounded up to 5 mm
    or a quarter of an inch."""
    said = habitat.cutting.sill
    if said is not None:
        return said
    box = habitat.enclosure
    wide, _, high = box.inside
    named = box.panel("front").sill
    # Where the file names none it is read with the usual one, which is worked out better here.
    if named and abs(named - min(habitat.ground.depth + USUAL_SILL, 0.5 * high)) > 1e-9:
        return named
    edge = 0.0
    if habitat.ground.layers:
        along = [wide * (n + 0.5) / 40 for n in range(40)]
        edge = max(habitat.ground.surface_at(x, 0.0) for x in along) + ABOVE_GROUND
    for hole in box.openings:
        bottom, top = (hole.at[1] + s * hole.size[1] / 2 for s in (-1, 1))
        if hole.side == "front" and bottom < high / 2:
            edge = max(edge, top + ABOVE_GROUND)
    step = 0.00635 if habitat.units == "us" else 0.005
    return min(math.ceil(edge / step - 1e-6) * step, high)


def front_parts(habitat: Habitat, labels: dict[str, str]) -> tuple[list[PartToCut], list[str]]:
    """Panes of the front, and holes of it that no pane holds whole.

    ``labels`` names materials by key. Sliding doors share the width and overlap; hinged ones leave the
    panel's gap between and beside them.
    """
    panel = habitat.enclosure.panel("front")
    wide, _, high = habitat.enclosure.inside
    holes = [o for o in habitat.enclosure.openings if o.side == "front"]
    cutting = habitat.cutting
    depth, thick = front_zone(habitat), panel.thickness
    key, label = panel.material.key, panel.material.label
    sill = sill_height(habitat) if panel.doors else high
    parts: list[PartToCut] = []
    if sill > 0.0:
        board = cutting.sill_material if panel.doors and cutting.sill_material else key
        low, up = (BED, -thick, 0.0), (wide - BED, 0.0, sill)
        name = "front sill" if panel.doors else "front"
        parts.append(
            PartToCut(name, FIXED, board, labels.get(board, label), thick, up[0] - low[0], sill,
                      FRONT, low=low, high=up)
        )  # fmt: skip
    tall = high - sill - cutting.runner
    if panel.doors and tall >= LOWEST_DOOR:
        base = sill + cutting.runner / 2
        for n, (start, end) in enumerate(_leaves(habitat)):
            # Doors that slide stand by turns in the inner and the outer track.
            outer = doors_slide(habitat) and n % 2 == 1
            near = -depth if outer else -thick
            name = "front door" if panel.doors == 1 else f"front door {n + 1} of {panel.doors}"
            parts.append(
                PartToCut(name, DOOR, key, label, thick, end - start, tall, FRONT,
                          low=(start, near, base), high=(end, near + thick, base + tall))
            )  # fmt: skip
    lost = []
    for hole in holes:
        number = next((n for n, p in enumerate(parts) if _holds(p, hole)), None)
        if number is None:
            lost.append(hole.name)
            continue
        part = parts[number]
        assert part.low is not None
        cut = Hole(hole.name, (hole.at[0] - part.low[0], hole.at[1] - part.low[2]), hole.size)
        parts[number] = replace(part, holes=(*part.holes, cut))
    return parts, lost


def _leaves(habitat: Habitat) -> list[Vec2]:
    """Left and right edge of each door [m]."""
    panel = habitat.enclosure.panel("front")
    wide, count = habitat.enclosure.inside[0], panel.doors
    if doors_slide(habitat):
        lap = habitat.cutting.overlap if count > 1 else 0.0
        one = (wide - 2 * BED + (count - 1) * lap) / count
        return [(BED + n * (one - lap), BED + n * (one - lap) + one) for n in range(count)]
    gap = panel.gap or 2 * BED
    one = (wide - (count + 1) * gap) / count
    return [(gap + n * (one + gap), gap + n * (one + gap) + one) for n in range(count)]


def _holds(part: PartToCut, hole: Opening) -> bool:
    """Whether a hole lies in a pane with glass all round it."""
    assert part.low is not None
    assert part.high is not None
    ends = [(hole.at[k] - hole.size[k] / 2, hole.at[k] + hole.size[k] / 2) for k in (0, 1)]
    return all(
        part.low[axis] < ends[k][0] and ends[k][1] < part.high[axis] for k, axis in ((0, 0), (1, 2))
    )
