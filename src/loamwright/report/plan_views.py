"""The habitat as three drafts: from above, from the front, from the right; measures and numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES, outer_box, panel_boxes
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.report import outlines
from loamwright.report.draft import Chain, Draft, Line, Point, Ring, Shape, rectangle

VIEWS: dict[str, tuple[str, str]] = {
    "plan": ("z", "seen from above, without its top"),
    "front": ("y", "seen from the front"),
    "side": ("x", "seen from the right, without its right side"),
}
"""View -> the axis it is looked along, and how."""

_EARTH = ("#CFC9BB", "#C2AE93", "#D3BE97", "#B7A48C", "#CBBBA0")
_SOLID, _CROWN, _GLASS, _BOARD = "#E6DCC6", "#DDE5D6", "#E3EEF1", "#C9CCC6"
_STEPS = 40
_FAN_DEPTH = 0.025
_NEAR = 1e-4


@dataclass(frozen=True, slots=True)
class Tag:
    """Something numbered on a view: ``text`` in its circle, ``at`` its place there [m], ``name`` in the
    legend, ``where`` its place in the habitat [m], ``area`` its outlines on the view [m], none for
    what is but a point."""

    layer: str
    text: str
    at: Point
    name: str
    where: tuple[float, float, float]
    area: tuple[tuple[Point, ...], ...] = ()


def view(habitat: Habitat, name: str) -> tuple[Draft, list[Tag]]:
    """One of `VIEWS` as a draft without numbers, and what is to be numbered on it."""
    axis, how = VIEWS[name]
    right, up, _ = outlines.AXES[axis]
    shapes: list[Shape] = [*_box(habitat, name, right, up)]
    if up == 2:
        shapes += _ground(habitat, right)
    shapes += _linings(habitat, axis, right, up)
    if name == "front":
        shapes += _front(habitat)
    areas: dict[tuple[str, str], tuple[tuple[Point, ...], ...]] = {}
    for piece in habitat.hardscape:
        solid = outlines.triangles(piece)
        if len(solid):
            rings = tuple(_points(ring) for ring in outlines.shadow(piece, solid, axis))
            areas["HARDSCAPE", piece.name] = rings
            shapes += [Line("HARDSCAPE", ring, fill=_SOLID, alpha=0.85) for ring in rings]
    for plant in habitat.plants:
        crown = outlines.crown(plant, axis, None)
        if crown is not None:
            areas["PLANTS", plant.name] = (_points(crown[::2]),)
            shapes.append(Line("PLANTS", _points(crown[::2]), fill=_CROWN, alpha=0.5))
        if up == 2:
            foot = (plant.foot[right], plant.foot[2])
            shapes.append(Line("PLANTS", (foot, (foot[0], plant.crown[0][2])), closed=False))
    for bowl in habitat.water:
        size = (*bowl.size, bowl.depth)
        low = [bowl.at[0] - size[0] / 2, bowl.at[1] - size[1] / 2, bowl.at[2]]
        corner = (low[right] + size[right], low[up] + size[up])
        water = rectangle("WATER", (low[right], low[up]), corner, "#D5E5EC")
        areas["WATER", bowl.name] = (water.points,)
        shapes.append(water)
    shapes += _openings(habitat, name, right, up)
    for lamp in habitat.lamps:
        body = _lamp(lamp, right, up)
        areas["LAMPS", lamp.name] = (body.points,)
        shapes.append(body)
    shapes += _fans(habitat, right, up)
    for nozzle in habitat.mist.nozzles if habitat.mist else ():
        at = (nozzle.at[right], nozzle.at[up])
        way = (at[0] + 0.05 * nozzle.aim[right], at[1] + 0.05 * nozzle.aim[up])
        shapes += [Ring("MIST", at, 0.008, "#FFFFFF"), Line("MIST", (at, way), closed=False)]
    shapes += _measures(habitat, name, right, up)
    tags = [Tag(layer, number, (at[right], at[up]), told, at, areas.get((layer, told), ()))
            for layer, number, told, at in numbered(habitat)]  # fmt: skip
    return Draft(name, how, tuple(shapes)), tags


def _points(ring: np.ndarray) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in ring)


def _box(habitat: Habitat, name: str, right: int, up: int) -> list[Shape]:
    """Panels that stand edge on, and the back of the box or its floor behind everything."""
    low, high = outer_box(habitat)
    clear = {p.side: p.material.clear for p in habitat.enclosure.panels}
    out: list[Shape] = [
        rectangle("OUTLINE", (low[right], low[up]), (high[right], high[up]), "#FFFFFF")
    ]
    flat = {"plan": ("floor", "top"), "front": ("back",), "side": ("left", "right")}[name]
    for side, box in panel_boxes(habitat).items():
        if side not in flat:
            fill = _GLASS if clear[side] else _BOARD
            out.append(
                rectangle("OUTLINE", (box[0][right], box[0][up]), (box[1][right], box[1][up]), fill)
            )
    if name != "front":
        for part in parts_to_cut(habitat).parts:
            if part.kind in ("door", "fixed") and part.low and part.high and part.seen == "front":
                corners = (part.low[right], part.low[up]), (part.high[right], part.high[up])
                out.append(rectangle("GLASS", *corners, _GLASS))
    return out


def _front(habitat: Habitat) -> list[Shape]:
    """Doors and fixed panes of the front, outlines only: what stands behind is seen through."""
    found = [
        p for p in parts_to_cut(habitat).parts if p.seen == "front" and p.kind in ("door", "fixed")
    ]
    return [
        rectangle("GLASS", (p.low[0], p.low[2]), (p.high[0], p.high[2]))
        for p in found
        if p.low is not None and p.high is not None
    ]


def _linings(habitat: Habitat, axis: str, right: int, up: int) -> list[Shape]:
    """Backgrounds that stand edge on."""
    across = outlines.AXES[axis][2]
    return [
        rectangle("HIDDEN", (p.low[right], p.low[up]), (p.high[right], p.high[up]), "#E4DFD3", "////")
        for p in parts_to_cut(habitat).parts
        if p.kind == "lining" and p.low is not None and p.high is not None
        and across in FREE_AXES[_side_of(habitat, p.name)]
    ]  # fmt: skip


def _side_of(habitat: Habitat, lining: str) -> str:
    return next(x.side for x in habitat.enclosure.linings if x.name == lining)


def _ground(habitat: Habitat, right: int) -> list[Shape]:
    """Layers as they lie along the front, or along the right side."""
    box = habitat.enclosure
    left, rear = box.floor[0], box.floor[3]
    ends = (left, box.floor[1]) if right == 0 else (box.floor[2], rear)
    along = np.linspace(ends[0], ends[1], 2 if habitat.ground.level else _STEPS + 1)
    edge = box.floor[2] if right == 0 else box.floor[1]
    places = [(x, edge) if right == 0 else (edge, x) for x in along]
    below, out = np.zeros(len(along)), []
    for number, layer in enumerate(habitat.ground.layers):
        above = below + np.array([layer.depth_at(*p) for p in places])
        ring = [*zip(along, below, strict=True), *reversed([*zip(along, above, strict=True)])]
        fill = _EARTH[number % len(_EARTH)]
        out.append(Line("GROUND", tuple((float(x), float(z)) for x, z in ring), fill=fill))
        below = above
    return list(out)


def _openings(habitat: Habitat, name: str, right: int, up: int) -> list[Shape]:
    """Holes seen face on, and edge on where their panel is."""
    facing = {"plan": "top", "front": "front", "side": "right"}[name]
    boxes = panel_boxes(habitat)
    out: list[Shape] = []
    for hole in habitat.enclosure.openings:
        free = FREE_AXES[hole.side]
        if free == (right, up):
            low = (hole.at[0] - hole.size[0] / 2, hole.at[1] - hole.size[1] / 2)
            high = (hole.at[0] + hole.size[0] / 2, hole.at[1] + hole.size[1] / 2)
            layer = "OPENINGS" if hole.side == facing else "HIDDEN"
            out.append(rectangle(layer, low, high))
        elif hole.side in boxes:
            box, k = boxes[hole.side], 0 if free[0] in (right, up) else 1
            span = (hole.at[k] - hole.size[k] / 2, hole.at[k] + hole.size[k] / 2)
            if free[k] == right:
                corners = (span[0], box[0][up]), (span[1], box[1][up])
            else:
                corners = (box[0][right], span[0]), (box[1][right], span[1])
            out.append(rectangle("OPENINGS", *corners, "#FFFFFF"))
    return out


def _lamp(lamp: Lamp, right: int, up: int) -> Line:
    """A lamp's body as it projects."""
    at, aim, along = (np.array(v, float) for v in (lamp.at, lamp.aim, lamp.along))
    kind = lamp.type
    if kind.shape == "spot" or kind.length <= 0.0:
        helper = np.array([1.0, 0.0, 0.0]) if abs(aim[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
        first = np.cross(aim, helper)
        first /= np.linalg.norm(first)
        second, radius = np.cross(aim, first), max(kind.diameter / 2, 0.02)
        turn = np.linspace(0.0, 2 * np.pi, 25)[:-1]
        rim = [at + radius * (np.cos(a) * first + np.sin(a) * second) for a in turn]
        neck = at - aim * 1.8 * radius
        cap = [neck + 0.4 * radius * (np.cos(a) * first + np.sin(a) * second) for a in turn]
        points = np.array([*rim, *cap])
    else:
        wide = max(kind.width, kind.reflector_width, kind.diameter, 0.016)
        across = np.cross(along, aim)
        points = np.array([
            at + along * kind.length / 2 * a + across * wide / 2 * b - aim * 0.02 * c
            for a in (-1, 1) for b in (-1, 1) for c in (0, 1)
        ])  # fmt: skip
    return Line("LAMPS", _points(outlines.hull(points[:, [right, up]])), fill="#FFF6CC", alpha=0.8)


def _fans(habitat: Habitat, right: int, up: int) -> list[Shape]:
    """Fans: a circle face on, a box on the panel's outer face edge on."""
    boxes = panel_boxes(habitat)
    out: list[Shape] = []
    for fan in habitat.fans:
        free, radius = FREE_AXES[fan.side], fan.type.diameter / 2
        if free == (right, up):
            out.append(Ring("AIR", fan.at, radius))
            continue
        if fan.side not in boxes:
            continue
        box, k = boxes[fan.side], 0 if free[0] in (right, up) else 1
        across = next(n for n in range(3) if n not in free)
        far = fan.side in ("right", "back", "top")
        outer = box[1][across] if far else box[0][across]
        ends = (outer, outer + (_FAN_DEPTH if far else -_FAN_DEPTH))
        span = (fan.at[k] - radius, fan.at[k] + radius)
        if free[k] == right:
            low, high = (span[0], min(ends)), (span[1], max(ends))
        else:
            low, high = (min(ends), span[0]), (max(ends), span[1])
        out.append(rectangle("AIR", low, high, "#DCE8F2"))
    return out


def _measures(habitat: Habitat, name: str, right: int, up: int) -> list[Shape]:
    """Chains of measures: the box and its panels below and left, holes and doors above and right."""
    low, high = outer_box(habitat)
    box = habitat.enclosure
    size = box.inside
    floor = {0: box.floor[0:2], 1: box.floor[2:4]}
    across = [low[right], 0.0, *floor[right], size[right], high[right]]
    upward = [low[up], 0.0, size[up], high[up]]
    if up == 2:
        surface = habitat.ground.surface_at(box.floor[0], box.floor[2])
        if habitat.ground.level:
            upward.append(surface)
    else:
        upward += floor[1]
    # Level lines keep further off: their measures beyond an end pass over those of upright lines.
    out: list[Shape] = [
        Chain(_sorted(across), True, low[up], -10.0),
        Chain((low[right], high[right]), True, low[up], -17.0),
        Chain(_sorted(upward), False, low[right], -5.5),
        Chain((low[up], high[up]), False, low[right], -16.0),
    ]
    facing = {"plan": "top", "front": "front", "side": "right"}[name]
    spans: tuple[list[float], list[float]] = ([], [])
    for hole in box.openings:
        if hole.side == facing:
            for k in (0, 1):
                spans[k].extend((hole.at[k] - hole.size[k] / 2, hole.at[k] + hole.size[k] / 2))
    for fan in habitat.fans:
        if fan.side == facing:
            for k in (0, 1):
                spans[k].append(fan.at[k])
    if name == "front":
        spans[1].extend(
            p.high[2] for p in parts_to_cut(habitat).parts
            if p.seen == "front" and p.kind == "fixed" and p.high is not None
        )  # fmt: skip
    if spans[0]:
        out.append(
            Chain(_sorted([0.0, size[right], *spans[0]]), True, _top(habitat, high[up], up), 9.0)
        )
    if spans[1]:
        out.append(Chain(_sorted([0.0, size[up], *spans[1]]), False, high[right], 9.0))
    return out


def _top(habitat: Habitat, high: float, up: int) -> float:
    """Above the box and the lamps on it [m]."""
    if up != 2:
        return high
    lamps = [lamp.at[2] + 0.03 for lamp in habitat.lamps]
    return max([high, *lamps])


def _sorted(values: Sequence[float]) -> tuple[float, ...]:
    """Positions by size, each once."""
    out: list[float] = []
    for value in sorted(float(v) for v in values):
        if not out or value - out[-1] > _NEAR:
            out.append(value)
    return tuple(out)


def numbered(habitat: Habitat) -> list[tuple[str, str, str, tuple[float, float, float]]]:
    """What the drawings number: layer, number, name and place [m]. Places of probes have bare numbers,
    everything else a letter and a number; the same in every drawing of a habitat."""
    boxes = panel_boxes(habitat)
    found: list[tuple[str, str, str, tuple[float, float, float]]] = []
    own = [s for s in habitat.sites if not s.plant]
    found += [("SITES", "", s.name, s.at) for s in own]
    found += [("LAMPS", "L", x.name, x.at) for x in habitat.lamps]
    for fan in habitat.fans:
        free = FREE_AXES[fan.side]
        box = boxes.get(fan.side, outer_box(habitat))
        where = [(box[0][k] + box[1][k]) / 2 for k in range(3)]
        where[free[0]], where[free[1]] = fan.at
        found.append(("AIR", "F", fan.name, (where[0], where[1], where[2])))
    found += [("MIST", "N", x.name, x.at) for x in (habitat.mist.nozzles if habitat.mist else ())]
    for piece in habitat.hardscape:
        solid = outlines.triangles(piece)
        if len(solid):
            middle = (solid.reshape(-1, 3).min(axis=0) + solid.reshape(-1, 3).max(axis=0)) / 2
            found.append(("HARDSCAPE", "H", piece.name, tuple(float(v) for v in middle)))  # type: ignore[arg-type]
    found += [("PLANTS", "P", x.name, x.crown[0]) for x in habitat.plants]
    found += [("WATER", "W", b.name, b.at) for b in habitat.water]
    counts: dict[str, int] = {}
    out = []
    for layer, letter, name, where_is in found:
        counts[layer] = counts.get(layer, 0) + 1
        out.append((layer, f"{letter}{counts[layer]}", name, where_is))
    return out
