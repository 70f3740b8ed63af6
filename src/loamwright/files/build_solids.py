"""The solid a piece of hardscape fills: its extent, its top, a place along it, what is inside."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.hardscape import Piece

CLEAR = 0.002
"""How far above a surface a site stands [m]: clear of rounding, within a meter's thickness."""

_UPRIGHT = 0.999


def minus(a: Vec3, b: Vec3) -> Vec3:
    """a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def plus(a: Vec3, b: Vec3, times: float = 1.0) -> Vec3:
    """a + times b."""
    return (a[0] + times * b[0], a[1] + times * b[1], a[2] + times * b[2])


def dot(a: Vec3, b: Vec3) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def size_of(a: Vec3) -> float:
    """Length of a vector."""
    return math.sqrt(dot(a, a))


@dataclass(slots=True)
class Solid:
    """A piece as a solid; arrays of a mesh are made once."""

    piece: Piece
    _vertices: NDArray[np.float64] = field(init=False, repr=False)
    _faces: NDArray[np.int64] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self._vertices = np.asarray(self.piece.vertices, dtype=float).reshape(-1, 3)
        self._faces = np.asarray(self.piece.faces, dtype=np.int64).reshape(-1, 3)

    @property
    def round(self) -> bool:
        """A branch or a tube."""
        return self.piece.shape in ("branch", "tube")

    @property
    def axis(self) -> Vec3:
        """Unit vector from start to end of a branch or tube."""
        d = minus(self.piece.end, self.piece.start)
        length = size_of(d)
        return (d[0] / length, d[1] / length, d[2] / length)

    @property
    def middle(self) -> Vec3:
        """The middle of the piece."""
        low, high = self.extent()
        return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)

    def extent(self) -> tuple[Vec3, Vec3]:
        """Lowest and highest corner of the box round the piece [m]."""
        p = self.piece
        if self.round:
            half = [p.diameter / 2 * math.sqrt(max(1.0 - a * a, 0.0)) for a in self.axis]
            low = [min(a, b) - h for a, b, h in zip(p.start, p.end, half, strict=True)]
            high = [max(a, b) + h for a, b, h in zip(p.start, p.end, half, strict=True)]
            return (low[0], low[1], low[2]), (high[0], high[1], high[2])
        if p.shape == "mesh":
            v = self._vertices
            a, b = v.min(axis=0), v.max(axis=0)
            return (float(a[0]), float(a[1]), float(a[2])), (float(b[0]), float(b[1]), float(b[2]))
        x, y, z = p.at
        w, d, h = p.size
        return (x - w / 2, y - d / 2, z), (x + w / 2, y + d / 2, z + h)

    def along(self, share: float, side: Vec3 | None = None) -> tuple[Vec3, Vec3]:
        """A place on the surface of a branch or tube, and the way the surface faces there.

        ``share`` from 0 (start) to 1 (end); ``side`` the direction wanted, up when None. An
        upright piece has no upper side: there the front is taken.
        """
        axis = self.axis
        wanted = side or ((0.0, 0.0, 1.0) if abs(axis[2]) < _UPRIGHT else (0.0, -1.0, 0.0))
        across = plus(wanted, axis, -dot(wanted, axis))
        if size_of(across) < 1e-6:
            across = (0.0, -1.0, 0.0) if abs(axis[1]) < 0.9 else (0.0, 0.0, 1.0)
            across = plus(across, axis, -dot(across, axis))
        n = size_of(across)
        normal = (across[0] / n, across[1] / n, across[2] / n)
        centre = plus(self.piece.start, minus(self.piece.end, self.piece.start), share)
        return plus(centre, normal, self.piece.diameter / 2), normal

    def within(self, share: float) -> tuple[Vec3, Vec3]:
        """A place on the inner floor of a tube, and the way that floor faces."""
        _, normal = self.along(share)
        centre = plus(self.piece.start, minus(self.piece.end, self.piece.start), share)
        return plus(centre, normal, self.piece.wall - self.piece.diameter / 2), normal

    def top(self, x: float, y: float) -> tuple[float, Vec3] | None:
        """Height of the upper side of a block, rock or mesh at (x, y), and the way it faces."""
        p = self.piece
        up = (0.0, 0.0, 1.0)
        if p.shape == "block":
            inside = abs(x - p.at[0]) <= p.size[0] / 2 and abs(y - p.at[1]) <= p.size[1] / 2
            return (p.at[2] + p.size[2], up) if inside else None
        if p.shape == "rock":
            a, b, c = (s / 2 for s in p.size)
            u, v = (x - p.at[0]) / a, (y - p.at[1]) / b
            rest = 1.0 - u * u - v * v
            if rest <= 0.0:
                return None
            w = math.sqrt(rest)
            n = (u / a, v / b, w / c)
            s = size_of(n)
            return p.at[2] + c + c * w, (n[0] / s, n[1] / s, n[2] / s)
        return self._mesh_top(x, y) if p.shape == "mesh" else None

    def contains(self, at: Vec3, slack: float = 5e-4) -> bool:
        """Whether a point lies in the solid, deeper than ``slack`` [m]."""
        p = self.piece
        low, high = self.extent()
        if any(c <= a + slack or c >= b - slack for c, a, b in zip(at, low, high, strict=True)):
            return False
        if self.round:
            length = size_of(minus(p.end, p.start))
            offset = minus(at, p.start)
            t = dot(offset, self.axis)
            away = size_of(plus(offset, self.axis, -t))
            inner = p.diameter / 2 - p.wall if p.shape == "tube" else -1.0
            return slack < t < length - slack and inner + slack < away < p.diameter / 2 - slack
        if p.shape == "rock":
            half = [s / 2 - slack for s in p.size]
            centre = (p.at[0], p.at[1], p.at[2] + p.size[2] / 2)
            off = zip(at, centre, half, strict=True)
            return sum(((c - m) / max(h, 1e-9)) ** 2 for c, m, h in off) < 1.0
        return p.shape != "mesh" or self._in_mesh(at)

    def _mesh_top(self, x: float, y: float) -> tuple[float, Vec3] | None:
        heights, normals = self._crossings((x, y, 0.0), 2)
        if not len(heights):
            return None
        best = int(np.argmax(heights))
        n = normals[best] * (1.0 if normals[best][2] > 0 else -1.0)
        return float(heights[best]), (float(n[0]), float(n[1]), float(n[2]))

    def _in_mesh(self, at: Vec3) -> bool:
        """Odd crossings both ways along all three axes: an open mesh holds nothing for sure."""
        for k in range(3):
            levels, _ = self._crossings(at, k)
            above = int(np.count_nonzero(levels > at[k]))
            if above % 2 == 0 or (len(levels) - above) % 2 == 0:
                return False
        return True

    def _crossings(self, at: Vec3, k: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Where the line through a point along axis ``k`` meets the faces, and their normals.

        The line is moved by a hair so that it does not run along an edge.
        """
        i, j = (k + 1) % 3, (k + 2) % 3
        t = self._vertices[self._faces]
        a, b, c = t[:, 0], t[:, 1], t[:, 2]
        px, py = at[i] + 1.7e-7, at[j] + 2.3e-7
        area = (b[:, i] - a[:, i]) * (c[:, j] - a[:, j]) - (c[:, i] - a[:, i]) * (b[:, j] - a[:, j])
        flat = np.abs(area) > 1e-16
        safe = np.where(flat, area, 1.0)
        u = ((px - a[:, i]) * (c[:, j] - a[:, j]) - (c[:, i] - a[:, i]) * (py - a[:, j])) / safe
        v = ((b[:, i] - a[:, i]) * (py - a[:, j]) - (px - a[:, i]) * (b[:, j] - a[:, j])) / safe
        hit = flat & (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
        levels = (a[:, k] + u * (b[:, k] - a[:, k]) + v * (c[:, k] - a[:, k]))[hit]
        normals = np.cross(b - a, c - a)[hit]
        sizes = np.linalg.norm(normals, axis=1, keepdims=True)
        return levels, normals / np.where(sizes > 0, sizes, 1.0)
