"""Places where no fan and no nozzle can be."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from loamwright.files.build_context import SIZES, Build, box_size, in_unit_of, written
from loamwright.files.build_solids import Solid
from loamwright.files.document import Loc
from loamwright.files.geometry_checks import SLACK, from_panel, one_outside
from loamwright.habitat.air import Fan
from loamwright.habitat.enclosure import Enclosure, Opening
from loamwright.habitat.misting import Nozzle

AXES = {"floor": (0, 1), "top": (0, 1), "front": (0, 2), "back": (0, 2)}
"""The two directions of a panel's own coordinates; (1, 2) for left and right."""


def check_fans(
    build: Build, box: Enclosure, surface: float, fans: Sequence[tuple[Loc, Fan]]
) -> None:
    """Say which fans do not fit where they are; ``surface`` is the ground's height [m]."""
    for n, (loc, fan) in enumerate(fans):
        place = (*loc, "at")
        unit = written(build, place)
        if not _fits(build, box, loc, fan):
            continue
        low = fan.at[1] - fan.type.diameter / 2
        if fan.side == "floor" and surface > 0.0:
            depth = in_unit_of(surface, unit)
            build.say((*loc, "panel"), f"a fan in the floor lies under the ground, {depth} deep")
        elif fan.side not in ("floor", "top") and low < surface - SLACK:
            edge, level = in_unit_of(low, unit), in_unit_of(surface, unit)
            message = f"the fan's lower edge at z = {edge} is below the ground's surface at {level}"
            build.say((*place, 1), message)
        for hole in box.openings:
            if hole.side == fan.side and _over(fan, hole):
                build.say(place, f"{_round(fan, unit)} overlaps the opening {hole.name!r}")
        for _, other in fans[:n]:
            reach = (fan.type.diameter + other.type.diameter) / 2
            apart = math.dist(fan.at, other.at)
            if other.side == fan.side and apart < reach - 1e-9:
                message = (
                    f"overlaps {other.name!r}: {in_unit_of(apart, unit)} from middle to middle"
                )
                build.say(place, f"{_round(fan, unit)} {message}")


def _fits(build: Build, box: Enclosure, loc: Loc, fan: Fan) -> bool:
    """Say where a fan reaches over the edge of its panel."""
    fits = True
    for k, i in enumerate(AXES.get(fan.side, (1, 2))):
        text = build.doc.get((*loc, "at", k))
        wide = fan.type.diameter
        low, high = fan.at[k] - wide / 2, fan.at[k] + wide / 2
        if wide > box.inside[i] + SLACK:
            across = in_unit_of(wide, text)
            message = f"the fan is {across} across, more than its panel: "
            build.say((*loc, "fan"), f"{message}{box_size(build, box, i, text)}")
            return False
        if low < -SLACK or high > box.inside[i] + SLACK:
            reach = f"{in_unit_of(low, text)} to {in_unit_of(high, text)}"
            message = f"the fan reaches {'xyz'[i]} {reach}; {box_size(build, box, i, text)}"
            build.say((*loc, "at", k), message)
            fits = False
    return fits


def _round(fan: Fan, unit: object) -> str:
    """A fan in words, with its numbers."""
    place = ", ".join(in_unit_of(c, unit) for c in fan.at)
    return f"the fan at [{place}], {in_unit_of(fan.type.diameter, unit)} across,"


def _over(fan: Fan, hole: Opening) -> bool:
    """Whether a fan's disk reaches into a hole of its panel."""
    gaps = [max(abs(fan.at[k] - hole.at[k]) - hole.size[k] / 2, 0.0) for k in (0, 1)]
    return math.hypot(*gaps) < fan.type.diameter / 2 - 1e-9


def check_nozzles(
    build: Build,
    box: Enclosure,
    surface: float,
    nozzles: Sequence[tuple[Loc, Nozzle]],
    solids: Mapping[str, Solid],
) -> None:
    """Say which nozzles are outside, in the ground, in a piece or in a lining."""
    for loc, nozzle in nozzles:
        place = (*loc, "at")
        outside = [
            one_outside(build, box, (*place, i), i, nozzle.at[i], "the nozzle",
                        ("enclosure", "inside", SIZES[i]))
            for i in range(3)
        ]  # fmt: skip
        if any(outside):
            continue
        unit = build.doc.get((*place, 2))
        if nozzle.at[2] < surface - SLACK:
            here, level = in_unit_of(nozzle.at[2], unit), in_unit_of(surface, unit)
            message = f"the nozzle at z = {here} is below the ground's surface at {level}"
            build.say((*place, 2), message)
            continue
        for name, solid in solids.items():
            if solid.contains(nozzle.at):
                low, high = solid.extent()
                span = ", ".join(
                    f"{'xyz'[i]} {in_unit_of(low[i], unit)} to {in_unit_of(high[i], unit)}"
                    for i in range(3)
                )
                point = ", ".join(in_unit_of(c, unit) for c in nozzle.at)
                build.say(place, f"the nozzle at [{point}] is inside {name!r}, which fills {span}")
        for side in dict.fromkeys(x.side for x in box.linings):
            gap, depth = from_panel(box, side, nozzle.at), box.lining_depth(side)
            if gap < depth - SLACK:
                build.say(
                    place,
                    f"the nozzle is {in_unit_of(gap, unit)} from the {side}, inside its lining of "
                    f"{in_unit_of(depth, unit)}",
                )
                break
