"""Holes that cables, the misting line and water drawn off take through the panels.

Each lies where its thing is, moved to the nearest place that is clear of openings, fans, backgrounds,
edges and other holes. Panels of glass and doors are not drilled. Sizes are common practice, no source:
saw each hole to the gland or fitting that was bought.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import WIDE, battens
from loamwright.plan.box_joints import FREE_AXES, holes_of
from loamwright.plan.frames import frame_of
from loamwright.plan.loads import devices_of

CABLE, PROBE = 0.0165, 0.0125
"""Holes of a gland for a mains cable (M16) and for a probe's (M12) [m]; common practice."""

TUBE_WALL = 0.0015
"""What a pressure tube's wall and its play add to its bore on each side [m]; common practice."""

DRAIN = 0.021
"""Hole of a fitting with a half-inch thread [m]; common practice."""

CLEAR = 0.02
"""Least material between two holes, and to an edge or a background [m]; common practice."""

BELOW_TOP = 0.04
"""How far below the top cables leave through a wall, where the top takes no holes [m]."""

FROM_FRONT = 0.06
"""How far behind the front the drain sits [m]: within reach; common practice."""

LEAST_DRAINAGE = 0.015
"""Depth of a drainage layer below which no drain is planned [m]."""

STEP, REACH = 0.01, 0.60
"""Step and reach of the search for a clear place [m]."""

MARKS, MARKS_US = 0.005, 0.00635
"""Places are told to so much [m]: 5 mm, or a quarter of an inch."""

NEARER = 0.30
"""By how much nearer to its thing a hole in a wall must be to be drilled instead of one in the top
[m]; judgement."""

WALLS = ("front", "back", "left", "right")
GROUND = "the ground"

CABLES = "cable"
KINDS = (CABLES, "probe", "mist", "drain")


@dataclass(frozen=True, slots=True)
class Service:
    """Something led through a panel: ``kind`` one of `KINDS`, the ``side`` it goes through, empty where
    no panel takes a hole, ``at`` in the panel's coordinates and ``diameter`` of the hole [m]; ``moved``
    how far from where it would go straight [m]."""

    name: str
    kind: str
    side: str
    at: Vec2
    diameter: float
    moved: float = 0.0


def drillable(habitat: Habitat, side: str) -> bool:
    """Whether holes for cables and tubes may be drilled into a side."""
    panel = habitat.enclosure.panel(side)
    return not panel.doors and "glass" not in panel.material.key


def services_of(habitat: Habitat) -> tuple[Service, ...]:
    """Everything that is led through a panel, in the order of the file."""
    wanted: list[tuple[str, str, Vec3, float]] = []
    for d in devices_of(habitat):
        if d.kind in ("lamp", "heater") and _inside(habitat, d.at):
            wanted.append((f"cable of {d.name}", CABLES, _lead_of(habitat, d.name, d.at), CABLE))
    sites = {s.name: s.at for s in habitat.sites}
    for control in habitat.controls:
        ends = [(f"probe of {control.name}", control.probe)]
        if control.cut_out is not None:
            ends.append(
                (f"cut-out probe of {control.name}", control.cut_out_probe or control.probe)
            )
        for name, probe in ends:
            at = sites.get(probe)
            if at is not None and _inside(habitat, at):
                wanted.append((name, "probe", at, PROBE))
    if habitat.mist is not None:
        tube = habitat.mist.bore + 2.0 * TUBE_WALL
        wanted += [
            (f"tube of {n.name}", "mist", n.at, tube)
            for n in habitat.mist.nozzles if _inside(habitat, n.at)
        ]  # fmt: skip
    out: list[Service] = []
    for name, kind, at, size in wanted:
        out.append(_up(habitat, name, kind, at, size, out))
    drain = _drain(habitat, out)
    return (*out, *([drain] if drain is not None else []))


UNDER = 0.10
"""A long lamp no further under the top than this has its lead led out beyond its end, where a gland and
the bend of the lead have room [m]; common practice, no source."""

BEYOND = 0.05
"""How far beyond the end [m]; common practice, no source."""


def _lead_of(habitat: Habitat, name: str, at: Vec3) -> Vec3:
    """Where a device's lead leaves it: over it, or beyond the nearer end of a long lamp close to the
    top, the end nearer to the board."""
    lamp = next((x for x in habitat.lamps if x.name == name), None)
    if (
        lamp is None
        or lamp.type.shape not in ("tube", "bar")
        or habitat.enclosure.inside[2] - at[2] > UNDER
    ):
        return at
    half = lamp.type.length / 2.0 + BEYOND
    ends = [(at[0] + s * half * lamp.along[0], at[1] + s * half * lamp.along[1], at[2])
            for s in (-1.0, 1.0)]  # fmt: skip
    free = [e for e in ends if _inside(habitat, e)]
    return min(free, key=lambda e: math.dist(e, habitat.mains.board), default=at)


def _inside(habitat: Habitat, at: Vec3) -> bool:
    return all(0.0 <= v <= size for v, size in zip(at, habitat.enclosure.inside, strict=True))


def _up(
    habitat: Habitat, name: str, kind: str, at: Vec3, size: float, taken: list[Service]
) -> Service:
    """A hole in the top over a thing, or high in a wall where that is nearer by far or the top takes
    none."""
    inside = habitat.enclosure.inside
    high = inside[2] - BELOW_TOP
    places: dict[str, Vec2] = {
        "top": (at[0], at[1]), "back": (at[0], high), "right": (at[1], high), "left": (at[1], high),
    }  # fmt: skip
    mark = MARKS_US if habitat.units == "us" else MARKS
    best: tuple[float, Service] | None = None
    for side, straight in places.items():
        if not drillable(habitat, side):
            continue
        place = (round(straight[0] / mark) * mark, round(straight[1] / mark) * mark)
        found = _clear_place(habitat, side, place, size, taken)
        if found is None:
            continue
        service = Service(name, kind, side, found, size, math.dist(found, place))
        far = math.dist(at, _in_room(habitat, side, found))
        # Of a side where it is far off, the one after may be nearer.
        if best is None or far < best[0] - NEARER:
            best = far, service
    return best[1] if best is not None else Service(name, kind, "", (0.0, 0.0), size)


def _in_room(habitat: Habitat, side: str, at: Vec2) -> Vec3:
    """A place of a side in the room [m]."""
    out = [0.0, 0.0, 0.0]
    first, second = FREE_AXES[side]
    out[first], out[second] = at
    across = next(k for k in range(3) if k not in (first, second))
    out[across] = habitat.enclosure.inside[across] if side in ("top", "back", "right") else 0.0
    return out[0], out[1], out[2]


def _drain(habitat: Habitat, taken: list[Service]) -> Service | None:
    """A drain low in a side, its middle in the middle of the drainage; None without drainage."""
    depth = drainage_depth(habitat)
    if depth < LEAST_DRAINAGE:
        return None
    box = habitat.enclosure
    wide = box.inside[0]
    up = max(depth / 2.0, DRAIN / 2.0 + 0.012)
    near = box.lining_depth("front") + FROM_FRONT
    places = {"right": (near, up), "left": (near, up), "back": (wide - near, up)}
    for side, place in places.items():
        if drillable(habitat, side) and _level(habitat, side, place, DRAIN, taken):
            return Service("drain", "drain", side, place, DRAIN)
    return Service("drain", "drain", "", (0.0, up), DRAIN)


def drainage_depth(habitat: Habitat) -> float:
    """Depth of the layers in which water may stand, from the floor up, cloth not counted [m]."""
    depth = 0.0
    for layer in habitat.ground.layers:
        if layer.kind not in DRAINING:
            break
        depth += layer.depth if layer.kind != "fleece" else 0.0
    return depth


def _obstacles(habitat: Habitat, side: str, taken: list[Service]) -> list[tuple[Vec2, Vec2]]:
    """Middle and half size of everything that is in the way on a side, battens and the top's frame too;
    round things as squares."""
    out = [(at, (size[0] / 2, size[1] / 2)) for _, on, at, size in holes_of(habitat) if on == side]
    out += [(s.at, (s.diameter / 2, s.diameter / 2)) for s in taken if s.side == side]
    for b in battens(habitat):
        if b.side == side:
            out.append(((b.at, b.length / 2), (WIDE / 2, b.length / 2)))
    frame = frame_of(habitat) if side == "top" else None
    for m in frame.members if frame else ():
        middle = ((m.low[0] + m.high[0]) / 2, (m.low[1] + m.high[1]) / 2)
        out.append((middle, ((m.high[0] - m.low[0]) / 2, (m.high[1] - m.low[1]) / 2)))
    return out


def _level(habitat: Habitat, side: str, at: Vec2, size: float, taken: list[Service]) -> bool:
    """Whether a place low in a side is clear of other holes: it may lie near the floor."""
    return not any(_meets(at, size, *other) for other in _obstacles(habitat, side, taken))


def _meets(at: Vec2, size: float, middle: Vec2, half: Vec2) -> bool:
    room = size / 2.0 + CLEAR
    return all(abs(at[k] - middle[k]) < half[k] + room - 1e-9 for k in (0, 1))


@functools.cache
def _offsets() -> tuple[Vec2, ...]:
    """Steps away from a place, the nearest first, backwards and upwards before others of a length."""
    count = round(REACH / STEP)
    steps = range(-count, count + 1)
    found = [(i * STEP, j * STEP) for i in steps for j in steps]
    return tuple(sorted(found, key=lambda s: (round(math.hypot(*s), 6), -s[1], -s[0])))


def _clear_place(
    habitat: Habitat, side: str, place: Vec2, size: float, taken: list[Service]
) -> Vec2 | None:
    """The clear place of a side that is nearest to where a thing would go straight."""
    box = habitat.enclosure
    first, second = FREE_AXES[side]
    ends = {0: ("left", "right"), 1: ("front", "back"), 2: ("floor", "top")}
    room = size / 2.0 + CLEAR
    limits = [
        (box.lining_depth(ends[k][0]) + room, box.inside[k] - box.lining_depth(ends[k][1]) - room)
        for k in (first, second)
    ]
    others = _obstacles(habitat, side, taken)
    for step in _offsets():
        at = (place[0] + step[0], place[1] + step[1])
        inside = all(limits[k][0] - 1e-9 <= at[k] <= limits[k][1] + 1e-9 for k in (0, 1))
        if inside and not any(_meets(at, size, *o) for o in others):
            return round(at[0], 4), round(at[1], 4)
    return None


def covered_holes(habitat: Habitat) -> tuple[tuple[str, str, float], ...]:
    """Openings and fans that the ground or a background of a neighbouring side covers in part: name of
    the hole, of the background or `GROUND`, and by how much [m]."""
    box = habitat.enclosure
    ends = {0: ("left", "right"), 1: ("front", "back"), 2: ("floor", "top")}
    out = []
    for name, side, at, size in holes_of(habitat):
        if side in WALLS:
            up = _ground_at(habitat, side, at[0]) - (at[1] - size[1] / 2)
            if up > 1e-3:
                out.append((name, GROUND, min(up, size[1])))
        for k, axis in enumerate(FREE_AXES[side]):
            for far, other in enumerate(ends[axis]):
                depth = box.lining_depth(other)
                edge = at[k] + size[k] / 2 if far else at[k] - size[k] / 2
                over = edge - (box.inside[axis] - depth) if far else depth - edge
                if depth > 0.0 and over > 1e-3:
                    lining = next(x.name for x in box.linings if x.side == other)
                    out.append((name, lining, min(over, size[k])))
    return tuple(out)


def _ground_at(habitat: Habitat, side: str, along: float) -> float:
    """Height of the ground's surface at a place of a wall [m]."""
    wide, deep, _ = habitat.enclosure.inside
    x, y = {"front": (along, 0.0), "back": (along, deep), "left": (0.0, along),
            "right": (wide, along)}[side]  # fmt: skip
    return habitat.ground.surface_at(x, y)
