"""The habitat as coloured solids: what a picture or a model of it is made of. Lengths in metres."""

from __future__ import annotations

import itertools
import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine import shapes
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.planting import Plant
from loamwright.plan.box_joints import FREE_AXES, panel_boxes
from loamwright.plan.cut_parts import PartToCut
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.report import outlines

Floats = NDArray[np.float64]

EARTH = {
    "drainage-mat": "#5E6468", "clay-pebbles": "#A5694A", "gravel": "#8E8C85", "fleece": "#CFCDC4",
    "mix": "#54402F", "coir": "#6F4E34", "peat": "#43352B", "bark": "#70503A", "soil": "#5A4635",
    "clay": "#936F50", "loam-sand": "#B08D63", "sand": "#D2BA92", "moss": "#6B8747",
    "leaf-litter": "#7E6038",
}  # fmt: skip
"""Colours of layers by kind."""

SURFACES = {
    "pvc": "#E6E6E0", "melamine": "#EEEDE8",
    "wood": "#8F6E4C", "cork": "#A8825A", "sandstone": "#C6AB83", "slate": "#737C82",
    "lava": "#5D5350", "granite": "#A29D98", "foam": "#8B7F6C", "clay": "#A8795A",
    "terracotta": "#B4714E", "ply": "#C9A877", "stone": "#B3ADA2",
}  # fmt: skip
"""Colours of solids by a word of their material's key; others are grey."""

GREENS = ("#5E7F4A", "#6C8C55", "#4F7244", "#7A9660", "#587A56")
_LEAVES = 260
_GLASS = "#CFE3E8"


@dataclass(frozen=True, slots=True)
class Solid:
    """One thing: ``name``, ``kind`` (panel, glass, lining, layer, piece, plant, lamp, fan,
    nozzle, bowl, water), its ``triangles`` (n, 3, 3) [m], wound outwards, and its ``color``; ``alpha``
    below 1 for what is seen through; ``lit`` True for what shines by itself."""

    name: str
    kind: str
    triangles: Floats
    color: str
    alpha: float = 1.0
    lit: bool = False


def solids(habitat: Habitat) -> list[Solid]:
    """Everything there is to see, the box first."""
    out = [_part(habitat, p) for p in parts_to_cut(habitat).parts if p.low is not None]
    out += _ground(habitat)
    for piece in habitat.hardscape:
        triangles = outlines.triangles(piece)
        if len(triangles):
            out.append(Solid(piece.name, "piece", triangles, _surface(piece.material.key)))
    out += [Solid(p.name, "plant", _plant(p), GREENS[zlib.crc32(p.name.encode()) % len(GREENS)])
            for p in habitat.plants]  # fmt: skip
    for bowl in habitat.water:
        low = np.array([bowl.at[0] - bowl.size[0] / 2, bowl.at[1] - bowl.size[1] / 2, bowl.at[2]])
        high = low + np.array([*bowl.size, bowl.depth])
        out.append(Solid(bowl.name, "bowl", shapes.box(low, high, 10.0), "#A39A8C"))
        rim = 0.08 * min(bowl.size) * np.array([1.0, 1.0, 0.0])
        top = np.array([0.0, 0.0, high[2] - low[2]])
        pool = shapes.box(low + rim + top, high - rim + np.array([0.0, 0.0, 0.001]), 10.0)
        out.append(Solid(f"water of {bowl.name}", "water", pool, "#6F9DB3"))
    out += [Solid(x.name, "lamp", _lamp(x), "#FFF1C4", lit=True) for x in habitat.lamps]
    out += _fans(habitat)
    for nozzle in habitat.mist.nozzles if habitat.mist else ():
        at, aim = np.array(nozzle.at), np.array(nozzle.aim)
        out.append(
            Solid(nozzle.name, "nozzle", shapes.rod(at - 0.02 * aim, at, 0.006, 1.0, 12), "#3D4A50")
        )
    return [s for s in out if len(s.triangles)]


def _surface(key: str) -> str:
    if "black" in key:
        return "#3C3F3E"
    return next((c for word, c in SURFACES.items() if word in key), "#A9A8A2")


def _part(habitat: Habitat, part: PartToCut) -> Solid:
    """A panel, a pane or a background with its holes."""
    assert part.low is not None
    assert part.high is not None
    low, high = np.array(part.low), np.array(part.high)
    flat = int(np.argmin(high - low))
    first, second = (k for k in range(3) if k != flat)
    holes = [
        (
            h.at[0] - h.size[0] / 2,
            h.at[0] + h.size[0] / 2,
            h.at[1] - h.size[1] / 2,
            h.at[1] + h.size[1] / 2,
        )
        for h in part.holes
    ]
    triangles = _plate(low, high, flat, first, second, holes)
    glass = part.material.endswith(("glass", "acrylic")) or part.material == "polycarbonate"
    if glass:
        return Solid(part.name, "glass", triangles, _GLASS, 0.22)
    kind = "lining" if part.kind == "lining" else "panel"
    return Solid(part.name, kind, triangles, _surface(part.material))


def _plate(
    low: Floats, high: Floats, flat: int, first: int, second: int,
    holes: list[tuple[float, float, float, float]],
) -> Floats:  # fmt: skip
    """A plate with rectangular holes: faces only where it ends."""
    us = _edges(high[first] - low[first], [v for h in holes for v in h[:2]])
    vs = _edges(high[second] - low[second], [v for h in holes for v in h[2:]])

    def solid(i: int, j: int) -> bool:
        if not (0 <= i < len(us) - 1 and 0 <= j < len(vs) - 1):
            return False
        u, v = (us[i] + us[i + 1]) / 2, (vs[j] + vs[j + 1]) / 2
        return not any(a < u < b and c < v < d for a, b, c, d in holes)

    out = []

    def face(corner: Floats, one: Floats, other: Floats, outward: Floats) -> None:
        if float(np.dot(np.cross(one, other), outward)) < 0.0:
            one, other = other, one
        out.append(shapes.quad(corner, one, other))

    axis = np.eye(3)
    deep = axis[flat] * (high[flat] - low[flat])
    for i, j in itertools.product(range(len(us) - 1), range(len(vs) - 1)):
        if not solid(i, j):
            continue
        corner = low + axis[first] * us[i] + axis[second] * vs[j]
        u, v = axis[first] * (us[i + 1] - us[i]), axis[second] * (vs[j + 1] - vs[j])
        face(corner, u, v, -axis[flat])
        face(corner + deep, u, v, axis[flat])
        for di, dj, start, along, way in (
            (-1, 0, corner, v, -axis[first]), (1, 0, corner + u, v, axis[first]),
            (0, -1, corner, u, -axis[second]), (0, 1, corner + v, u, axis[second]),
        ):  # fmt: skip
            if not solid(i + di, j + dj):
                face(start, along, deep, way)
    return np.concatenate(out) if out else shapes.EMPTY


def _edges(length: float, inside: list[float]) -> list[float]:
    return sorted({0.0, length, *(round(v, 9) for v in inside if 0.0 < v < length)})


def _ground(habitat: Habitat) -> list[Solid]:
    """Layers one on the other; a level one is a block, another follows its relief."""
    left, right, front, back = habitat.enclosure.floor
    level = habitat.ground.level
    xs = np.linspace(left, right, 2 if level else 61)
    ys = np.linspace(front, back, 2 if level else 31)
    below = np.zeros((len(xs), len(ys)))
    out = []
    for layer in habitat.ground.layers:
        above = below + np.array([[layer.depth_at(x, y) for y in ys] for x in xs])
        out.append(Solid(layer.name, "layer", _slab(xs, ys, below, above),
                         EARTH.get(layer.kind, "#5A4635")))  # fmt: skip
        below = above
    return out


def _slab(xs: Floats, ys: Floats, below: Floats, above: Floats) -> Floats:
    """The solid between two height fields on one grid."""

    def mesh(z: Floats) -> Floats:
        x, y = np.meshgrid(xs, ys, indexing="ij")
        points = np.stack([x, y, z], axis=-1)
        a, b, c, d = points[:-1, :-1], points[1:, :-1], points[1:, 1:], points[:-1, 1:]
        faces = [np.stack([a, b, c], axis=-2), np.stack([a, c, d], axis=-2)]
        return np.concatenate([f.reshape(-1, 3, 3) for f in faces])

    def wall(low: Floats, high: Floats) -> Floats:
        a, b, c, d = low[:-1], low[1:], high[1:], high[:-1]
        return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])

    def line(i: int | slice, j: int | slice, z: Floats) -> Floats:
        x, y = np.meshgrid(xs, ys, indexing="ij")
        found: Floats = np.stack([x[i, j], y[i, j], z[i, j]], axis=-1)
        return found

    every = slice(None)
    walls = [
        wall(line(every, 0, below), line(every, 0, above)),
        wall(line(every, -1, below)[::-1], line(every, -1, above)[::-1]),
        wall(line(0, every, below)[::-1], line(0, every, above)[::-1]),
        wall(line(-1, every, below), line(-1, every, above)),
    ]
    return np.concatenate([mesh(above), mesh(below)[:, ::-1], *walls])


def _plant(plant: Plant) -> Floats:
    """A stem and leaves strewn over the crown, the same for the same plant's name."""
    centre, half = (np.array(v) for v in plant.crown)
    rng = np.random.default_rng(zlib.crc32(plant.name.encode("utf-8", "replace")))
    way = rng.standard_normal((_LEAVES, 3))
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    middle = centre + way * half * rng.uniform(0.45, 0.95, (_LEAVES, 1))
    size = (
        0.16
        * float(np.cbrt(np.prod(np.maximum(half, 0.004))))
        * rng.uniform(0.8, 1.5, (_LEAVES, 1))
    )
    # Leaves hang outwards and a little down.
    out = way + np.array([0.0, 0.0, -0.25]) + 0.35 * rng.standard_normal((_LEAVES, 3))
    out /= np.linalg.norm(out, axis=1, keepdims=True)
    side = np.cross(out, rng.standard_normal((_LEAVES, 3)))
    side /= np.linalg.norm(side, axis=1, keepdims=True)
    tip, root = middle + out * size * 1.7, middle - out * size * 1.2
    left, right = middle + side * size * 0.75, middle - side * size * 0.75
    leaves = np.concatenate(
        [np.stack([root, left, tip], axis=1), np.stack([root, tip, right], axis=1)]
    )
    foot = np.array(plant.foot, float)
    top = centre + np.array([0.0, 0.0, 0.3 * half[2]])
    if np.linalg.norm(top - foot) < 1e-4:
        return leaves
    stem = shapes.rod(foot, top, max(0.004, 0.012 * float(half.max() * 2)), 1.0, 8)
    return np.concatenate([leaves, stem])


def _lamp(lamp: Lamp) -> Floats:
    """A lamp's body: a tube, a flat case, or a cone."""
    at, aim, along = (np.array(v, float) for v in (lamp.at, lamp.aim, lamp.along))
    kind = lamp.type
    if kind.shape == "tube" and kind.reflector_width <= 0.0:
        return shapes.rod(at - along * kind.length / 2, at + along * kind.length / 2,
                          max(kind.diameter / 2, 0.008), 10.0, 16)  # fmt: skip
    if kind.shape != "spot" and kind.length > 0.0:
        wide = max(kind.width, kind.reflector_width, kind.diameter, 0.016)
        across = np.cross(along, aim)
        corner = at - along * kind.length / 2 - across * wide / 2
        a, b, c = along * kind.length, across * wide, -aim * 0.025
        return np.concatenate([
            shapes.quad(corner, b, a), shapes.quad(corner + c, a, b),
            shapes.quad(corner, a, c), shapes.quad(corner + b, c, a),
            shapes.quad(corner, c, b), shapes.quad(corner + a, b, c),
        ])  # fmt: skip
    radius = max(kind.diameter / 2, 0.02)
    first, second = shapes.frame(aim)
    turn = 2 * np.pi * np.arange(28) / 28
    circle = np.cos(turn)[:, None] * first + np.sin(turn)[:, None] * second
    mouth, neck = at + radius * circle, at - aim * 1.8 * radius + 0.42 * radius * circle
    end = at - aim * 1.8 * radius
    after = [np.roll(r, -1, axis=0) for r in (mouth, neck)]
    return np.concatenate([
        np.stack([neck, after[0], mouth], axis=1), np.stack([neck, after[1], after[0]], axis=1),
        np.stack([np.broadcast_to(at, mouth.shape), mouth, after[0]], axis=1),
        np.stack([np.broadcast_to(end, neck.shape), after[1], neck], axis=1),
    ])  # fmt: skip


def _fans(habitat: Habitat) -> list[Solid]:
    """Fans as round cases on the outer face of their panels."""
    boxes = panel_boxes(habitat)
    out = []
    for fan in habitat.fans:
        if fan.side not in boxes:
            continue
        low, high = (np.array(v) for v in boxes[fan.side])
        free = FREE_AXES[fan.side]
        flat = next(n for n in range(3) if n not in free)
        far = fan.side in ("right", "back", "top")
        start = np.zeros(3)
        start[free[0]], start[free[1]] = fan.at
        start[flat] = high[flat] if far else low[flat]
        end = start.copy()
        end[flat] += 0.025 if far else -0.025
        out.append(
            Solid(
                fan.name, "fan", shapes.rod(start, end, fan.type.diameter / 2, 1.0, 40), "#4A5257"
            )
        )
    return out
