"""Places where no lamp can be: in the ground, in a piece, in or behind a closed panel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.files.build_context import Build, box_size, in_unit_of
from loamwright.files.build_solids import Solid, plus
from loamwright.files.document import Loc
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.equipment import Lamp

_SLACK = 1e-3
_BEYOND = (("left", "right"), ("front", "back"), ("floor", "top"))


def check_lamps(
    build: Build,
    box: Enclosure,
    surface: float,
    lamps: Sequence[tuple[Loc, Lamp]],
    solids: Mapping[str, Solid],
) -> None:
    """Say which lamps hang where none can."""
    for loc, lamp in lamps:
        place = (*loc, "at")
        beyond = _beyond(box, lamp.at)
        if beyond:
            _outside(build, box, place, lamp, beyond)
            continue
        unit = build.doc.get((*place, 2))
        if lamp.at[2] < surface:
            here, level = in_unit_of(lamp.at[2], unit), in_unit_of(surface, unit)
            build.say(
                (*place, 2), f"the lamp at z = {here} is below the ground's surface at {level}"
            )
            continue
        for name, solid in solids.items():
            if solid.contains(lamp.at):
                low, high = solid.extent()
                span = f"{in_unit_of(low[2], unit)} to {in_unit_of(high[2], unit)}"
                message = f"the lamp at z = {in_unit_of(lamp.at[2], unit)} is inside {name!r}"
                build.say(place, f"{message}, which fills z {span}")
        _ends(build, box, place, lamp)


def _beyond(box: Enclosure, at: Vec3) -> list[tuple[str, float, int]]:
    """The panels a point is in or behind, how far from the inside [m], and the axis."""
    out = []
    for i, (low, high) in enumerate(_BEYOND):
        if at[i] < -_SLACK:
            out.append((low, -at[i], i))
        elif at[i] > box.inside[i] + _SLACK:
            out.append((high, at[i] - box.inside[i], i))
    return out


def _outside(
    build: Build, box: Enclosure, place: Loc, lamp: Lamp, beyond: list[tuple[str, float, int]]
) -> None:
    """A lamp outside needs an opening or a see-through panel; in a panel it needs a hole."""
    for side, far, i in beyond:
        panel = box.panel(side)
        holes = [hole for hole in box.openings if hole.side == side]
        unit = build.doc.get((*place, i))
        if len(beyond) == 1 and far < panel.thickness - _SLACK:
            across = [lamp.at[k] for k in range(3) if k != i]
            if any(
                all(abs(across[k] - hole.at[k]) <= hole.size[k] / 2 + _SLACK for k in (0, 1))
                for hole in holes
            ):
                return
            build.say(
                (*place, i),
                f"the lamp is in the {side} panel: {in_unit_of(far, unit)} behind its inner face, "
                f"and the panel is {in_unit_of(panel.thickness, unit)} thick without an opening "
                "there",
            )
            return
        if holes or panel.material.clear or panel.material.key == "?":
            return
    side, _, i = beyond[0]
    unit = build.doc.get((*place, i))
    build.say(
        (*place, i),
        f"the lamp at {'xyz'[i]} = {in_unit_of(lamp.at[i], unit)} is behind the closed {side} "
        f"panel ({box_size(build, box, i, unit)}); hang it inside or give the panel an opening",
    )


def _ends(build: Build, box: Enclosure, place: Loc, lamp: Lamp) -> None:
    """Say where a long lamp does not fit between the panels."""
    for sign in (-0.5, 0.5):
        end = plus(lamp.at, lamp.along, sign * lamp.type.length)
        for side, _, i in _beyond(box, end):
            unit = build.doc.get((*place, i))
            build.say(
                (*place, i),
                f"the lamp is {in_unit_of(lamp.type.length, unit)} long and its {side} end is at "
                f"{'xyz'[i]} = {in_unit_of(end[i], unit)}; {box_size(build, box, i, unit)}",
            )
