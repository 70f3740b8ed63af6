"""Triangles of simple shapes, wound so that normals point into the air around them.

Every function returns an array (n, 3, 3) of triangle corners [m].
"""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

Triangles = NDArray[np.float64]

EMPTY: Triangles = np.zeros((0, 3, 3))


def _steps(low: float, high: float, size: float) -> NDArray[np.float64]:
    return np.linspace(low, high, max(1, int(np.ceil((high - low) / size - 1e-9))) + 1)


def breaks(low: float, high: float, size: float, at: tuple[float, ...] = ()) -> list[float]:
    """Positions from ``low`` to ``high`` [m] no further apart than ``size``, with every value
    of ``at`` that lies between them among the positions."""
    edges = sorted({low, high, *(a for a in at if low < a < high)})
    out: list[float] = []
    for start, stop in itertools.pairwise(edges):
        out.extend(float(v) for v in _steps(start, stop, size)[:-1])
    out.append(high)
    return out


def quad(corner: NDArray[np.float64], u: NDArray[np.float64], v: NDArray[np.float64]) -> Triangles:
    """Two triangles of the parallelogram ``corner``, ``corner+u``, ``corner+u+v``; the normal is
    u x v."""
    a, b, c, d = corner, corner + u, corner + u + v, corner + v
    return np.array([[a, b, c], [a, c, d]])


def frame(axis: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Two unit vectors that make a right-handed frame with the unit vector ``axis``."""
    helper = np.array([1.0, 0.0, 0.0]) if abs(axis[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    first = np.cross(axis, helper)
    first /= np.linalg.norm(first)
    return first, np.cross(axis, first)


def _ring(
    centre: NDArray[np.float64], axis: NDArray[np.float64], radius: float, sides: int
) -> NDArray[np.float64]:
    # The polygon is blown up so that its area equals the circle's: volumes, surfaces and shadows
    # then have no bias however few sides it has.
    radius = radius * np.sqrt(2 * np.pi / (sides * np.sin(2 * np.pi / sides)))
    first, second = frame(axis)
    angle = 2 * np.pi * np.arange(sides) / sides
    return centre + radius * (
        np.cos(angle)[:, None] * first[None, :] + np.sin(angle)[:, None] * second[None, :]
    )


def _mantle(rings: list[NDArray[np.float64]], inward: bool) -> Triangles:
    out = []
    for low, high in itertools.pairwise(rings):
        low_next, high_next = np.roll(low, -1, axis=0), np.roll(high, -1, axis=0)
        out.append(np.stack([low, low_next, high_next], axis=1))
        out.append(np.stack([low, high_next, high], axis=1))
    triangles = np.concatenate(out)
    return triangles[:, ::-1] if inward else triangles


def rod(
    start: NDArray[np.float64],
    end: NDArray[np.float64],
    radius: float,
    size: float,
    sides: int = 16,
) -> Triangles:
    """A solid round rod with flat ends, cut along its length no longer than ``size`` [m]."""
    length = float(np.linalg.norm(end - start))
    axis = (end - start) / length
    rings = [_ring(start + axis * s, axis, radius, sides) for s in _steps(0.0, length, size)]
    first, last = rings[0], rings[-1]
    caps = [
        np.stack([np.broadcast_to(start, first.shape), np.roll(first, -1, axis=0), first], axis=1),
        np.stack([np.broadcast_to(end, last.shape), last, np.roll(last, -1, axis=0)], axis=1),
    ]
    return np.concatenate([_mantle(rings, inward=False), *caps])


def pipe(
    start: NDArray[np.float64],
    end: NDArray[np.float64],
    radius: float,
    wall: float,
    size: float,
    sides: int = 20,
) -> Triangles:
    """A hollow round tube open at both ends, ``wall`` thick [m]."""
    length = float(np.linalg.norm(end - start))
    axis = (end - start) / length
    where = _steps(0.0, length, size)
    outer = [_ring(start + axis * s, axis, radius, sides) for s in where]
    inner = [_ring(start + axis * s, axis, radius - wall, sides) for s in where]
    ends = np.concatenate(
        [
            _mantle([inner[0], outer[0]], inward=False),
            _mantle([outer[-1], inner[-1]], inward=False),
        ]
    )
    return np.concatenate([_mantle(outer, inward=False), _mantle(inner, inward=True), ends])


def box(low: NDArray[np.float64], high: NDArray[np.float64], size: float) -> Triangles:
    """An axis-parallel block, its faces cut into cells no larger than ``size`` [m]."""
    out = []
    for axis in range(3):
        i, j = (axis + 1) % 3, (axis + 2) % 3
        us, vs = breaks(low[i], high[i], size), breaks(low[j], high[j], size)
        for top in (False, True):
            for u0, u1 in itertools.pairwise(us):
                for v0, v1 in itertools.pairwise(vs):
                    corner, u, v = np.zeros(3), np.zeros(3), np.zeros(3)
                    corner[axis] = high[axis] if top else low[axis]
                    corner[i], corner[j] = u0, v0
                    u[i], v[j] = u1 - u0, v1 - v0
                    out.append(quad(corner, u, v) if top else quad(corner, v, u))
    return np.concatenate(out)


def ellipsoid(
    centre: NDArray[np.float64], half: NDArray[np.float64], around: int = 24, down: int = 12
) -> Triangles:
    """An ellipsoid with half axes ``half`` [m], by longitude and latitude."""
    lat = np.linspace(-np.pi / 2, np.pi / 2, down + 1)
    lon = 2 * np.pi * np.arange(around) / around
    rings = [
        centre
        + half
        * np.stack(
            [np.cos(a) * np.cos(lon), np.cos(a) * np.sin(lon), np.full(around, np.sin(a))], axis=1
        )
        for a in lat
    ]
    triangles = _mantle(rings, inward=False)
    area = np.linalg.norm(
        np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]), axis=1
    )
    return triangles[area > 1e-12]
