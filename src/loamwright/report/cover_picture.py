"""A picture of the habitat for a title page: shaded by rays, with ink along its edges.

A drawing aid and no light simulation: one lamp over the viewer's left shoulder, a soft sky, glass left
out but for its edges, and the top open to the light. The same habitat gives the same picture.
"""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.parallel import over_rows
from loamwright.engine.light.rays import Tracer
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import outer_box
from loamwright.report.figure import INK, PAPER
from loamwright.report.solids import Solid, solids

Floats = NDArray[np.float64]

WIDE, HIGH = 1200, 960
"""Size of the picture [pixels]; it is drawn twice as fine and made smaller."""

_FINE = 2
_SUN = np.array([-0.52, -0.78, 0.95])
_AROUND = 7
"""Rays of the soft sky for each pixel."""

_SOFT = 3
"""Light is evened out over so many pixels to each side."""

_EDGE = 0.62
_ROWS = 120


@dataclass(frozen=True, slots=True)
class _Eye:
    """A camera: its place [m], unit vectors to the right, up and ahead, the half angle's tangent, and
    by how much the picture's middle is moved."""

    at: Floats
    right: Floats
    up: Floats
    ahead: Floats
    slope: float
    shift: tuple[float, float]

    def rays(self, x: Floats, y: Floats) -> Floats:
        """Unit directions through places of the picture, -1 to 1 over its width."""
        flat = (x + self.shift[0])[..., None] * self.right + (y + self.shift[1])[
            ..., None
        ] * self.up
        way = self.ahead + self.slope * flat
        out: Floats = way / np.sqrt(_dot(way, way))[..., None]
        return out

    def seen(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """Where points appear, and how far off they are."""
        off = points - self.at
        deep = off @ self.ahead
        x = off @ self.right / (deep * self.slope) - self.shift[0]
        y = off @ self.up / (deep * self.slope) - self.shift[1]
        return x, y, np.linalg.norm(off, axis=-1)


def cover(habitat: Habitat, wide: int = WIDE, high: int = HIGH) -> bytes:
    """The picture as PNG, ``wide`` x ``high`` pixels."""
    from PIL import Image

    things = solids(habitat)
    seen = [s for s in things if s.kind != "glass"]
    triangles = np.concatenate([s.triangles for s in seen])
    owner = np.repeat(np.arange(len(seen)), [len(s.triangles) for s in seen])
    shading = [s for s in seen if s.name != "top" and not s.lit]
    eye = _eye(habitat, wide / high)
    image, depth = _shade(eye, seen, triangles, owner, shading, wide * _FINE, high * _FINE)
    _glass_edges(image, depth, eye, [s for s in things if s.kind == "glass"])
    pixels = image.reshape(high, _FINE, wide, _FINE, 3).mean(axis=(1, 3))
    out = io.BytesIO()
    picture = Image.fromarray(np.round(255.0 * np.clip(pixels, 0.0, 1.0)).astype(np.uint8))
    picture.save(out, format="PNG")
    return out.getvalue()


def _eye(habitat: Habitat, shape: float) -> _Eye:
    """Stands in front, a little to the left and above, so far off that everything is in the picture."""
    low, high = (np.array(v) for v in outer_box(habitat))
    lamps = [np.array(x.at) for x in habitat.lamps]
    high[2] = max([high[2], *(a[2] + 0.04 for a in lamps)])
    size = high - low
    middle = (low + high) / 2
    far = 2.5 * float(np.linalg.norm(size))
    ahead = np.array([0.40, 1.0, -0.27])
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    up = np.cross(right, ahead)
    corners = np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[k][2]]
                        for i in (0, 1) for j in (0, 1) for k in (0, 1)])  # fmt: skip
    eye = _Eye(middle - far * ahead, right, up, ahead, 1.0, (0.0, 0.0))
    x, y, _ = eye.seen(corners)
    # Room at the edges, more of it below, where the shadow falls.
    slope = max((x.max() - x.min()) / 1.80, (y.max() - y.min()) * shape / 1.72)
    shift = ((x.max() + x.min()) / 2 / slope, (y.max() + y.min()) / 2 / slope - 0.03)
    return _Eye(eye.at, right, up, ahead, float(slope), (float(shift[0]), float(shift[1])))


def _shade(
    eye: _Eye, seen: list[Solid], triangles: Floats, owner: NDArray[np.int64],
    shading: list[Solid], wide: int, high: int,
) -> tuple[Floats, Floats]:  # fmt: skip
    """Colours (high, wide, 3) and distances of the picture, row by row."""
    colors = (
        np.array([[int(s.color[k : k + 2], 16) / 255.0 for k in (1, 3, 5)] for s in seen]) ** 2.2
    )
    lit = np.array([s.lit for s in seen])
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-15)
    first, shadows = Tracer(triangles), Tracer(np.concatenate([s.triangles for s in shading]))
    paper = np.array([int(PAPER[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]) ** 2.2
    level = float(triangles[:, :, 2].min()) - 0.002
    image, depth = np.empty((high, wide, 3)), np.empty((high, wide))
    number, facing = np.empty((high, wide), np.int64), np.empty((high, wide, 3))
    xs = (np.arange(wide) + 0.5) / wide * 2.0 - 1.0

    def work(row: int, end: int) -> None:
        rows = np.arange(row, end)
        ys = (1.0 - (rows + 0.5) / high * 2.0) * high / wide
        x, y = np.meshgrid(xs, ys)
        way = eye.rays(x, y).reshape(-1, 3)
        hit, far = first.first(
            np.broadcast_to(eye.at, way.shape).astype(np.float32), way.astype(np.float32)
        )
        color, distance, normal, who = _points(
            eye, way, hit, far.astype(float), level, colors, lit, normals, owner, shadows, paper,
            np.random.default_rng(row), wide,
        )  # fmt: skip
        part = slice(row, row + len(rows))
        image[part] = color.reshape(len(rows), wide, 3)
        depth[part] = distance.reshape(len(rows), wide)
        number[part] = who.reshape(len(rows), wide)
        facing[part] = normal.reshape(len(rows), wide, 3)

    over_rows(high, _ROWS, work)
    plants = np.array([s.kind == "plant" for s in seen] + [False])
    # Lamps end to end are one to the eye: no ink where they share a face.
    number = np.where(np.append(lit, False)[number], len(seen) + 1, number)
    plants = np.append(plants, [False, False])
    plants[-3:] = False
    image = _inked(image, depth, number, facing, plants)
    return np.clip(image, 0.0, 1.0) ** (1 / 2.2), depth


def _points(
    eye: _Eye, way: Floats, hit: NDArray[np.int32], far: Floats, level: float, colors: Floats,
    lit: NDArray[np.bool_], normals: Floats, owner: NDArray[np.int64], shadows: Tracer, paper: Floats,
    rng: np.random.Generator, wide: int,
) -> tuple[Floats, Floats, Floats, NDArray[np.int64]]:  # fmt: skip
    """Colour, distance, normal and owner of what each ray meets; the floor is one with the paper."""
    with np.errstate(divide="ignore", invalid="ignore"):
        floor = np.where(way[:, 2] < 0.0, (level - eye.at[2]) / way[:, 2], np.inf)
    ground = (hit < 0) | (far > floor)
    distance = np.where(ground, floor, far)
    who = np.where(ground, -1, owner[np.maximum(hit, 0)])
    normal = np.where(ground[:, None], np.array([0.0, 0.0, 1.0]), normals[np.maximum(hit, 0)])
    normal = np.where((_dot(normal, way) > 0.0)[:, None], -normal, normal)
    base = np.where(ground[:, None], paper, colors[np.maximum(who, 0)])
    real = np.isfinite(distance)
    points = eye.at + way * np.where(real, distance, 0.0)[:, None] + normal * 5e-4
    sun = _SUN / np.linalg.norm(_SUN)
    # What stands in the way of light is asked once for each pixel, not for each of its parts.
    count = len(points)
    some = np.arange(count).reshape(-1, wide)[::_FINE, ::_FINE].ravel()
    place, facing, there = points[some], normal[some], real[some]
    sunny = _free(shadows, place, sun + 0.03 * rng.standard_normal(place.shape), there)
    around = np.zeros(len(some))
    for _ in range(_AROUND):
        around += _free(shadows, place, facing + _sphere(rng, len(some)), there)
    across = wide // _FINE
    alike = who[some].reshape(-1, across), facing.reshape(-1, across, 3)
    soft = _smooth([sunny.reshape(-1, across), around.reshape(-1, across) / _AROUND], *alike)
    back = [np.repeat(np.repeat(v, _FINE, 0), _FINE, 1).ravel() for v in soft]
    lamp, sky = np.maximum(normal @ sun, 0.0) * back[0], back[1]
    light = 0.30 + 0.42 * sky + 0.62 * lamp
    # On the floor only what takes light away is seen, so that it runs into the paper.
    shade = 0.30 + 0.44 * sky + 0.26 * _ratio(lamp, max(float(sun[2]), 1e-6))
    color = np.where(ground[:, None], base * np.where(real, np.minimum(shade, 1.0), 1.0)[:, None],
                     base * light[:, None])  # fmt: skip
    glowing = ~ground & lit[np.maximum(who, 0)]
    color[glowing] = colors[who[glowing]] * 1.05
    return color, distance, normal, who


def _dot(a: Floats, b: Floats) -> Floats:
    """Products of vectors along the last axis; a sum over so short an axis takes far longer."""
    out: Floats = np.einsum("...i,...i->...", a, b)
    return out


def _ratio(value: Floats, whole: float) -> Floats:
    return np.minimum(value / whole, 1.0)


def _smooth(values: list[Floats], who: NDArray[np.int64], facing: Floats) -> list[Floats]:
    """Means over neighbours on the same thing that face the same way: no grain, and edges stay."""
    high, wide = who.shape
    sums = [np.zeros(who.shape) for _ in values]
    weight = np.zeros(who.shape)
    for down in range(-_SOFT, _SOFT + 1):
        for over in range(-_SOFT, _SOFT + 1):
            to = (
                slice(max(down, 0), high + min(down, 0)),
                slice(max(over, 0), wide + min(over, 0)),
            )
            of = (
                slice(max(-down, 0), high + min(-down, 0)),
                slice(max(-over, 0), wide + min(-over, 0)),
            )
            same = (who[to] == who[of]) & (_dot(facing[to], facing[of]) > 0.96)
            weight[to] += same
            for total, value in zip(sums, values, strict=True):
                total[to] += same * value[of]
    return [total / weight for total in sums]


def _sphere(rng: np.random.Generator, count: int) -> Floats:
    way = rng.standard_normal((count, 3))
    out: Floats = 0.98 * way / np.maximum(np.sqrt(_dot(way, way)), 1e-9)[:, None]
    return out


def _free(shadows: Tracer, points: Floats, ways: Floats, real: NDArray[np.bool_]) -> Floats:
    """1 where nothing is met on the way, 0 where something is."""
    out = np.ones(len(points))
    way = ways[real]
    unit = way / np.sqrt(_dot(way, way))[:, None]
    hit, _ = shadows.first(points[real].astype(np.float32), unit.astype(np.float32))
    out[real] = hit < 0
    return out


def _inked(
    image: Floats,
    depth: Floats,
    number: NDArray[np.int64],
    facing: Floats,
    plants: NDArray[np.bool_],
) -> Floats:
    """Ink where one thing ends or turns; leaves get less of it, so that a crown stays one."""
    edge = np.zeros(depth.shape)
    leaf = plants[number]
    for axis in (0, 1):
        one = tuple(slice(1, None) if k == axis else slice(None) for k in (0, 1))
        other = tuple(slice(None, -1) if k == axis else slice(None) for k in (0, 1))
        with np.errstate(invalid="ignore"):
            step = np.abs(depth[one] - depth[other]) / np.minimum(depth[one], depth[other])
        step = np.where(np.isfinite(step), step, 0.0)
        both_leaf = leaf[one] & leaf[other]
        differs = (number[one] != number[other]) | (
            (_dot(facing[one], facing[other]) < 0.75) & ~both_leaf
        )
        strength = np.where(differs, 1.0, 0.0) + np.where((step > 0.02) & ~both_leaf, 1.0, 0.0)
        strength = np.minimum(strength, 1.0)
        strength[both_leaf & (step > 0.004)] = 0.35
        strength[(leaf[one] ^ leaf[other])] *= 0.6
        edge[one] = np.maximum(edge[one], strength)
        edge[other] = np.maximum(edge[other], strength)
    ink = np.array([int(INK[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]) ** 2.2
    weight = (_EDGE * edge)[..., None]
    out: Floats = image * (1.0 - weight) + ink * weight
    return out


def _glass_edges(image: Floats, depth: Floats, eye: _Eye, panes: list[Solid]) -> None:
    """Edges of panes where nothing stands before them, drawn over the picture."""
    high, wide = depth.shape
    tint = np.array([0.22, 0.36, 0.42])
    for pane in panes:
        low, up = (
            pane.triangles.reshape(-1, 3).min(axis=0),
            pane.triangles.reshape(-1, 3).max(axis=0),
        )
        for start, end in _box_edges(low, up):
            share = np.linspace(0.0, 1.0, 2 * wide)[:, None]
            points = start + (end - start) * share
            x, y, far = eye.seen(points)
            column = np.floor((x + 1.0) / 2.0 * wide).astype(int)
            row = np.floor((1.0 - y * wide / high) / 2.0 * high).astype(int)
            for dr, dc in ((0, 0), (1, 0), (0, 1)):
                r, c = row + dr, column + dc
                fits = (r >= 0) & (r < high) & (c >= 0) & (c < wide)
                r, c = r[fits], c[fits]
                shown = far[fits] <= depth[r, c] + 0.004
                spots = np.unique(np.stack([r[shown], c[shown]], axis=1), axis=0)
                image[spots[:, 0], spots[:, 1]] = (
                    0.35 * image[spots[:, 0], spots[:, 1]] + 0.65 * tint
                )


def _box_edges(low: Floats, high: Floats) -> list[tuple[Floats, Floats]]:
    ends = (low, high)
    out = []
    for axis in range(3):
        a, b = (k for k in range(3) if k != axis)
        for i in (0, 1):
            for j in (0, 1):
                start, end = low.copy(), low.copy()
                start[a] = end[a] = ends[i][a]
                start[b] = end[b] = ends[j][b]
                end[axis] = high[axis]
                out.append((start, end))
    return out
