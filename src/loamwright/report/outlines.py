"""Outlines for drawings: solids cut by a plane, and the shadows of what is not cut.

Geometry only, no plotting. A drawing plane has a first direction to the right and a second one up:
x, z seen from the front (``axis`` y), y, z seen from the right (``axis`` x), x, y seen from above
(``axis`` z). All lengths in metres.
"""

from __future__ import annotations

import math
import zlib
from typing import TYPE_CHECKING

import numpy as np

from loamwright.habitat.hardscape import Piece
from loamwright.habitat.planting import Plant

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

AXES: dict[str, tuple[int, int, int]] = {"x": (1, 2, 0), "y": (0, 2, 1), "z": (0, 1, 2)}
"""Axis cut -> (index to the right, index up, index of the axis cut)."""

_COARSE = 100.0
_SIDES = 72
_CELLS = 220
_MOST_PAINTED = 40_000


def triangles(piece: Piece) -> Floats:
    """The surface of a piece as triangles (n, 3, 3), finer than the light needs."""
    from loamwright.engine import shapes

    start, end, size = (np.array(v, float) for v in (piece.start, piece.end, piece.size))
    if piece.shape == "branch":
        return shapes.rod(start, end, piece.diameter / 2, _COARSE, _SIDES)
    if piece.shape == "tube":
        return shapes.pipe(start, end, piece.diameter / 2, piece.wall, _COARSE, _SIDES)
    at = np.array(piece.at, float)
    if piece.shape == "block":
        low = at - np.array([size[0] / 2, size[1] / 2, 0.0])
        return shapes.box(low, low + size, _COARSE)
    if piece.shape == "rock":
        return shapes.ellipsoid(at + np.array([0.0, 0.0, size[2] / 2]), size / 2, _SIDES, 36)
    corners: Floats = np.array(piece.vertices, float).reshape(-1, 3)
    solid: Floats = corners[np.array(piece.faces, int).reshape(-1, 3)]
    return solid


def cut(solid: Floats, axis: str, position: float) -> tuple[list[Floats], list[Floats]]:
    """Where a plane cuts triangles (n, 3, 3): closed outlines and open lines, each (k, 2).

    A watertight surface gives closed outlines only; a hole in a scan leaves an open line.
    """
    right, up, across = AXES[axis]
    if len(solid) == 0:
        return [], []
    # Pushed off by a tenth of a micrometre, so that no corner of a drawn shape lies in the plane.
    side = solid[:, :, across] > position + 1.37e-7
    level = position + 1.37e-7
    count = side.sum(axis=1)
    crossed = (count == 1) | (count == 2)
    solid, side, count = solid[crossed], side[crossed], count[crossed]
    if len(solid) == 0:
        return [], []
    # The corner alone on its side, and the two others.
    lone = np.where((count == 1)[:, None], side, ~side).argmax(axis=1)
    rows = np.arange(len(solid))
    tip = solid[rows, lone]
    ends = []
    for step in (1, 2):
        other = solid[rows, (lone + step) % 3]
        above = tip[:, across] > level
        low = np.where(above[:, None], other, tip)
        high = np.where(above[:, None], tip, other)
        # From the lower to the higher corner in both triangles of an edge: the same digits.
        share = (level - low[:, across]) / (high[:, across] - low[:, across])
        point = low + share[:, None] * (high - low)
        ends.append(point[:, [right, up]])
    return _chain(ends[0], ends[1])


def _chain(first: Floats, second: Floats) -> tuple[list[Floats], list[Floats]]:
    """Segments (n, 2) to (n, 2) joined end to end."""
    at: dict[tuple[float, float], list[int]] = {}
    points = np.round(np.concatenate([first, second]), 12) + 0.0
    keys = [tuple(p) for p in points.tolist()]
    number = len(first)
    for index, key in enumerate(keys):
        at.setdefault(key, []).append(index)
    used = [False] * number

    def grow(line: list[tuple[float, float]]) -> None:
        while True:
            free = [i for i in at[line[-1]] if not used[i % number]]
            if not free:
                return
            segment = free[0] % number
            used[segment] = True
            far = keys[(free[0] + number) % (2 * number)]
            line.append(far)

    closed, open_lines = [], []
    for segment in range(number):
        if used[segment]:
            continue
        used[segment] = True
        line = [keys[segment], keys[segment + number]]
        grow(line)
        if line[0] == line[-1]:
            closed.append(np.array(line))
            continue
        line.reverse()
        grow(line)
        open_lines.append(np.array(line))
    return closed, open_lines


def hull(points: Floats) -> Floats:
    """Convex hull of points (n, 2), counter-clockwise, by the monotone chain."""
    ordered = np.unique(np.round(points, 9), axis=0).tolist()
    if len(ordered) < 3:
        return np.array(ordered)

    def half(sequence: list[list[float]]) -> list[list[float]]:
        out: list[list[float]] = []
        for p in sequence:
            while len(out) >= 2 and _turn(out[-2], out[-1], p) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    return np.array(half(ordered) + half(ordered[::-1]))


def _turn(a: list[float], b: list[float], c: list[float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def shadow(piece: Piece, solid: Floats, axis: str) -> list[Floats]:
    """What a piece covers when looked at along the axis: closed outlines (k, 2)."""
    right, up, _ = AXES[axis]
    flat = solid[:, :, [right, up]]
    return [hull(flat.reshape(-1, 2))] if piece.shape != "mesh" else _silhouette(flat)


def _silhouette(flat: Floats) -> list[Floats]:
    """Outlines of the union of flat triangles (n, 3, 2), to a two-hundredth of its size."""
    from contourpy import contour_generator
    from PIL import Image, ImageDraw
    from scipy.ndimage import binary_closing, gaussian_filter

    low = flat.reshape(-1, 2).min(axis=0)
    cell = float((flat.reshape(-1, 2).max(axis=0) - low).max()) / _CELLS
    if cell <= 0:
        return []
    border = 4
    place = (flat - low) / cell + border
    wide, high = (np.ceil(place.reshape(-1, 2).max(axis=0)).astype(int) + border).tolist()
    if len(flat) <= _MOST_PAINTED:
        paper = Image.new("1", (wide, high))
        pen = ImageDraw.Draw(paper)
        for triangle in place.tolist():
            pen.polygon([tuple(p) for p in triangle], fill=1, outline=1)
        mask = np.array(paper, bool)
    else:
        # So many triangles are each smaller than a cell: their corners and middles are enough.
        mask = np.zeros((high, wide), bool)
        dots = np.concatenate([place.reshape(-1, 2), place.mean(axis=1)]).astype(int)
        mask[dots[:, 1], dots[:, 0]] = True
        mask = binary_closing(mask, iterations=2)
    soft = gaussian_filter(mask.astype(float), 0.9)
    lines = contour_generator(z=soft).lines(0.5)
    return [
        np.asarray(line) * cell + low - (border - 0.5) * cell for line in lines if len(line) > 5
    ]


def area(outline: Floats) -> float:
    """Area inside a closed outline (k, 2), whichever way round [m2]."""
    x, y = outline[:, 0], outline[:, 1]
    return abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))) / 2


def middle(outline: Floats) -> tuple[float, float]:
    """A point to hang a label on: the middle of the outline's corners' range."""
    low, high = outline.min(axis=0), outline.max(axis=0)
    return float((low[0] + high[0]) / 2), float((low[1] + high[1]) / 2)


def crown(plant: Plant, axis: str, position: float | None) -> Floats | None:
    """A plant's crown as a soft leafy outline (k, 2), cut at a position, or whole for None.

    The leaves' ellipsoid is what the light engine uses; the waviness is drawing only, and the
    same for the same plant's name. None where the plane misses the crown.
    """
    right, up, across = AXES[axis]
    centre, half = plant.crown
    scale = 1.0
    if position is not None:
        off = (position - centre[across]) / half[across] if half[across] > 0 else 2.0
        if abs(off) >= 0.98:
            return None
        scale = math.sqrt(1.0 - off * off)
    seed = zlib.crc32(plant.name.encode("utf-8", "replace"))
    phase = [(seed >> s & 255) / 255 * 2 * math.pi for s in (0, 8, 16)]
    turn = np.linspace(0.0, 2 * np.pi, 241)
    lobes = 9 + seed % 4
    radius = (
        0.95
        + 0.085 * np.abs(np.sin(lobes * turn / 2 + phase[0]))
        + 0.025 * np.sin(3 * turn + phase[1])
        + 0.02 * np.sin(5 * turn + phase[2])
    )
    if lobes % 2:  # an odd number of half waves meets itself only if doubled
        radius = radius - 0.085 * np.abs(np.sin(lobes * turn / 2 + phase[0]))
        radius += 0.085 * np.abs(np.sin((lobes + 1) * turn / 2 + phase[0]))
    return np.column_stack(
        [
            centre[right] + half[right] * scale * radius * np.cos(turn),
            centre[up] + half[up] * scale * radius * np.sin(turn),
        ]
    )
