"""Geometry that cannot be: said with both numbers, in the units the file uses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.files.build_context import SIZES, Build, box_size, in_unit_of, written
from loamwright.files.build_relief import check_relief
from loamwright.files.build_solids import Solid, plus
from loamwright.files.document import Loc
from loamwright.files.geometry_lamps import check_lamps
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.ground import Ground
from loamwright.habitat.planting import Plant
from loamwright.habitat.sites import Site
from loamwright.habitat.water import Bowl

SLACK = 1e-3
"""How far over a limit is still taken as on it [m]: files are written in whole millimetres."""

ABOVE_GROUND = ("basking", "perch")
"""Roles of sites that make no sense below the ground (a burrow, a nest and a probe do)."""


def check_geometry(
    build: Build,
    box: Enclosure,
    ground: Ground,
    surface: float,
    pieces: Sequence[tuple[Loc, Solid]],
    plants: Sequence[tuple[Loc, Plant]],
    sites: Sequence[tuple[Loc, Site]],
    lamps: Sequence[tuple[Loc, Lamp]],
    bowls: Sequence[tuple[Loc, Bowl]],
) -> None:
    """Say everything that cannot be built as the file has it; ``surface`` is the ground's [m]."""
    _layers(build, box, ground)
    check_relief(build, box, ground)
    _linings(build, box)
    _openings(build, box)
    solids = {solid.piece.name: solid for _, solid in pieces}
    for loc, solid in pieces:
        _piece(build, box, loc, solid)
    for loc, plant in plants:
        _plant(build, box, surface, loc, plant)
    for loc, site in sites:
        _site(build, box, surface, loc, site, solids)
    for loc, bowl in bowls:
        low = plus(bowl.at, (-bowl.size[0] / 2, -bowl.size[1] / 2, 0.0))
        high = plus(bowl.at, (bowl.size[0] / 2, bowl.size[1] / 2, bowl.depth))
        _extent(build, box, (*loc, "at"), low, high, "the bowl")
    check_lamps(build, box, surface, lamps, solids)


def _layers(build: Build, box: Enclosure, ground: Ground) -> None:
    if build.doc.get(("ground",)) is None or ground.depth < box.inside[2]:
        return
    unit = written(build, ("ground", 0, "depth"), ("enclosure", "inside", "height"))
    total = in_unit_of(ground.depth, unit)
    build.say(("ground",), f"the layers are {total} deep together; {box_size(build, box, 2, unit)}")


def _linings(build: Build, box: Enclosure) -> None:
    for i, (one, other) in enumerate((("left", "right"), ("front", "back"), ("floor", "top"))):
        total = box.lining_depth(one) + box.lining_depth(other)
        if total < box.inside[i]:
            continue
        listed = build.doc.get(("enclosure", "lining")) or []
        at = next(k for k, e in enumerate(listed) if e.get("panel") in (one, other))
        loc = ("enclosure", "lining", at, "thickness")
        text = written(build, loc)
        taken = in_unit_of(total, text)
        build.say(
            loc,
            f"linings of {one} and {other} take {taken} together; {box_size(build, box, i, text)}",
        )


def _openings(build: Build, box: Enclosure) -> None:
    axes = {"floor": (0, 1), "top": (0, 1), "front": (0, 2), "back": (0, 2)}
    places = build.places.get("enclosure.openings", range(len(box.openings)))
    for n, (place, hole) in enumerate(zip(places, box.openings, strict=True)):
        loc: Loc = ("enclosure", "openings", place)
        spans = []
        for k, i in enumerate(axes.get(hole.side, (1, 2))):
            low, high = hole.at[k] - hole.size[k] / 2, hole.at[k] + hole.size[k] / 2
            spans.append((low, high))
            text = written(build, (*loc, "at", k))
            if low < -SLACK or high > box.inside[i] + SLACK:
                reach = f"{in_unit_of(low, text)} to {in_unit_of(high, text)}"
                message = f"the opening reaches {'xyz'[i]} {reach}; {box_size(build, box, i, text)}"
                build.say((*loc, "at", k), message)
        for other in box.openings[:n]:
            if other.side != hole.side:
                continue
            apart = any(
                abs(hole.at[k] - other.at[k]) >= (hole.size[k] + other.size[k]) / 2 - 1e-9
                for k in (0, 1)
            )
            if not apart:
                a, b = (f"[{in_unit_of(o.at[0], written(build, (*loc, 'at', 0)))}, "
                        f"{in_unit_of(o.at[1], written(build, (*loc, 'at', 1)))}]"
                        for o in (hole, other))  # fmt: skip
                build.say(
                    (*loc, "at"), f"the opening at {a} overlaps {other.name!r} at {b} in its panel"
                )


def _extent(build: Build, box: Enclosure, loc: Loc, low: Vec3, high: Vec3, what: str) -> None:
    """Say where something reaches out of the box."""
    for i in range(3):
        listed = build.doc.get(loc)
        place = (*loc, i) if isinstance(listed, list) and i < len(listed) else loc
        one_outside(build, box, place, i, low[i], what, loc)
        if low[i] >= -SLACK:
            one_outside(build, box, place, i, high[i], what, loc)


def one_outside(
    build: Build, box: Enclosure, place: Loc, i: int, value: float, what: str, near: Loc
) -> bool:
    """Say where one coordinate is outside the box; True where it is."""
    text = written(build, place, near, ("enclosure", "inside", SIZES[i]))
    if value < -SLACK:
        message = f"{what} reaches {'xyz'[i]} = {in_unit_of(value, text)}; the inside begins at 0"
    elif value > box.inside[i] + SLACK:
        reach = f"{what} reaches {'xyz'[i]} = {in_unit_of(value, text)}"
        message = f"{reach}; {box_size(build, box, i, text)}"
    else:
        return False
    build.say(place, message)
    return True


def _piece(build: Build, box: Enclosure, loc: Loc, solid: Solid) -> None:
    piece = solid.piece
    if not solid.round:
        low, high = solid.extent()
        _extent(build, box, (*loc, "at"), low, high, f"the {piece.shape}")
        return
    for key, end in (("from", piece.start), ("to", piece.end)):
        for i in range(3):
            place = (*loc, key, i)
            if one_outside(build, box, place, i, end[i], "its end", place):
                continue
            if abs(solid.axis[i]) > 0.5:
                continue  # it runs into the panel and is cut to it
            half = piece.diameter / 2 * (1.0 - solid.axis[i] ** 2) ** 0.5
            beyond = end[i] - half if end[i] - half < -SLACK else end[i] + half
            if one_outside(build, box, place, i, beyond, "with its thickness it", place):
                break


def _plant(build: Build, box: Enclosure, surface: float, loc: Loc, plant: Plant) -> None:
    if build.doc.get((*loc, "at")) is not None:
        for i in (0, 1):
            one_outside(build, box, (*loc, "at", i), i, plant.foot[i], "its foot", (*loc, "at"))
    if plant.foot[2] < surface - SLACK:
        text = written(build, (*loc, "at", 2))
        foot, level = in_unit_of(plant.foot[2], text), in_unit_of(surface, text)
        build.say((*loc, "at"), f"its foot at z = {foot} is below the ground's surface at {level}")
    top = plant.foot[2] + plant.height
    if top > box.inside[2] + SLACK:
        text = written(build, (*loc, "height"), ("enclosure", "inside", "height"))
        tall, foot = in_unit_of(plant.height, text), in_unit_of(plant.foot[2], text)
        message = f"the plant is {tall} tall on a foot at {foot} and reaches z = "
        given = build.doc.get((*loc, "height")) is not None
        build.say(
            (*loc, "height") if given else loc,
            f"{message}{in_unit_of(top, text)}; {box_size(build, box, 2, text)}",
        )


def _site(
    build: Build,
    box: Enclosure,
    surface: float,
    loc: Loc,
    site: Site,
    solids: Mapping[str, Solid],
) -> None:
    key = "at" if build.doc.get((*loc, "at")) is not None else "on"
    place = (*loc, key)
    text = written(build, place, ("enclosure", "inside", "height"))
    if not isinstance(build.doc.get(place), list):
        text = written(build, ("enclosure", "inside", "height"))
    outside = False
    for i in range(3):
        listed = build.doc.get(place)
        one = (*place, i) if isinstance(listed, list) and i < len(listed) else place
        near = ("enclosure", "inside", SIZES[i]) if key == "on" else place
        outside |= one_outside(build, box, one, i, site.at[i], "the site", near)
    if outside:
        return
    for name, solid in solids.items():
        if solid.contains(site.at):
            low, high = solid.extent()
            point = ", ".join(in_unit_of(c, text) for c in site.at)
            span = ", ".join(
                f"{'xyz'[i]} {in_unit_of(low[i], text)} to {in_unit_of(high[i], text)}"
                for i in range(3)
            )
            build.say(place, f"the site at [{point}] is inside {name!r}, which fills {span}")
    for side, depth in ((x.side, box.lining_depth(x.side)) for x in box.linings):
        if (gap := from_panel(box, side, site.at)) < depth - SLACK:
            build.say(
                place,
                f"the site is {in_unit_of(gap, text)} from the {side}, inside its lining of "
                f"{in_unit_of(depth, text)}",
            )
            break
    if site.role in ABOVE_GROUND and site.at[2] < surface - SLACK:
        here, level = in_unit_of(site.at[2], text), in_unit_of(surface, text)
        message = f"a {site.role} site at z = {here} is below the ground's surface at {level}"
        build.say(place, message)


def from_panel(box: Enclosure, side: str, at: Vec3) -> float:
    """Distance of a point from a panel [m]."""
    i = {"left": 0, "right": 0, "front": 1, "back": 1, "floor": 2, "top": 2}[side]
    return at[i] if side in ("left", "front", "floor") else box.inside[i] - at[i]
