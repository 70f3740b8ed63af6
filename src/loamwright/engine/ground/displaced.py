"""How much of the ground pieces take up: their volume below a height."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from loamwright.engine import shapes
from loamwright.habitat.hardscape import Piece

Floats = NDArray[np.float64]

Plane = tuple[float, float, float]
"""Height at x = y = 0 [m] and rise along x and y [1]."""

Rect = tuple[float, float, float, float]
"""Left, right, front and back edge [m]."""

PART = 0.05
"""Length into which a rod is cut [m]; its volume does not depend on it."""


def volume_below(triangles: Floats, height: float) -> float:
    """Volume of a closed surface below a height [m3], exact; (n, 3, 3) corners [m].

    Integral of min(z, height) over the faces seen from above: by the divergence theorem that of 1
    below the height and 0 above it.
    """
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    up = 0.5 * np.cross(b - a, c - a)[:, 2]
    over = mean_above(triangles[:, :, 2] - height)
    return float(up @ (triangles[:, :, 2].mean(axis=1) - over))


def mean_above(values: Floats) -> Floats:
    """Mean over a triangle of the part above 0 of a function that runs straight between its values
    at the corners; (n, 3) to (n,)."""
    low, middle, high = np.sort(values, axis=1).T
    out = values.mean(axis=1)
    out[high <= 0.0] = 0.0
    one = (middle <= 0.0) & (high > 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        tip = high**3 / (3.0 * (high - low) * (high - middle))
        cut = -(low**3) / (3.0 * (middle - low) * (high - low))
    out = np.where(one, tip, out)
    two = (low < 0.0) & (middle > 0.0)
    return np.where(two, out + cut, out)


def ellipsoid_below(centre: float, half: tuple[float, float, float], height: float) -> float:
    """Volume of an ellipsoid below a height [m3]; ``centre`` its height, ``half`` its axes [m]."""
    t = min(1.0, max(-1.0, (height - centre) / half[2]))
    return math.pi * half[0] * half[1] * half[2] * (2.0 / 3.0 + t - t**3 / 3.0)


def piece_below(piece: Piece, height: float) -> float:
    """Volume of a piece below a height [m3]. A tube's inside counts: it is a way in, or a pot, and
    is kept free of ground."""
    if piece.shape == "rock":
        x, y, z = piece.size
        return ellipsoid_below(piece.at[2] + z / 2.0, (x / 2.0, y / 2.0, z / 2.0), height)
    if piece.shape == "block":
        x, y, z = piece.size
        return x * y * min(z, max(0.0, height - piece.at[2]))
    if piece.shape == "mesh":
        triangles = np.array(piece.vertices)[np.array(piece.faces)]
        whole = volume_below(triangles, 1e3)
        return math.copysign(1.0, whole) * volume_below(triangles, height)
    triangles = shapes.rod(
        np.array(piece.start), np.array(piece.end), piece.diameter / 2.0, PART, sides=48
    )
    return volume_below(triangles, height)


def triangles_of(piece: Piece) -> Floats:
    """The closed surface of a piece, (n, 3, 3) [m]; of a tube the outer one."""
    if piece.shape == "mesh":
        return np.array(piece.vertices)[np.array(piece.faces)]
    if piece.shape == "rock":
        half = np.array(piece.size) / 2.0
        return shapes.ellipsoid(np.add(piece.at, (0.0, 0.0, half[2])), half, 96, 48)
    if piece.shape == "block":
        low = np.subtract(piece.at, (piece.size[0] / 2.0, piece.size[1] / 2.0, 0.0))
        return shapes.box(low, low + np.array(piece.size), 1e3)
    return shapes.rod(
        np.array(piece.start), np.array(piece.end), piece.diameter / 2.0, PART, sides=48
    )


def piece_under(piece: Piece, plane: Plane, rect: Rect) -> float:
    """Volume of a piece below a plane, within a rectangle seen from above [m3].

    Sheared so that the plane lies level, a body keeps its volume; and as the faces are summed over
    what they cover seen from above, cutting them at the rectangle's edges leaves out just what lies
    beside it.
    """
    triangles = triangles_of(piece)
    whole = volume_below(triangles, 1e3)
    if not whole:
        return 0.0
    cut = clipped(triangles, rect)
    if not len(cut):
        return 0.0
    cut[:, :, 2] -= plane[1] * cut[:, :, 0] + plane[2] * cut[:, :, 1]
    # Corners lie on a round piece, chords within it: what they miss is made up in proportion.
    return volume_below(cut, plane[0]) * piece_below(piece, 1e3) / whole


def clipped(triangles: Floats, rect: Rect) -> Floats:
    """The parts of triangles within a rectangle seen from above, (m, 3, 3) [m]."""
    out = triangles
    for axis, bound, sign in ((0, rect[0], 1.0), (0, rect[1], -1.0), (1, rect[2], 1.0),
                              (1, rect[3], -1.0)):  # fmt: skip
        far = sign * (out[:, :, axis] - bound)
        inside = far >= 0.0
        count = inside.sum(axis=1)
        parts = [out[count == 3]]
        for corners, d in zip(out[(count > 0) & (count < 3)], far[(count > 0) & (count < 3)],
                              strict=True):  # fmt: skip
            ring = []
            for i in range(3):
                j = (i + 1) % 3
                if d[i] >= 0.0:
                    ring.append(corners[i])
                if (d[i] >= 0.0) != (d[j] >= 0.0):
                    ring.append(corners[i] + (corners[j] - corners[i]) * d[i] / (d[i] - d[j]))
            fan = [[ring[0], ring[k], ring[k + 1]] for k in range(1, len(ring) - 1)]
            if fan:
                parts.append(np.array(fan))
        out = np.concatenate(parts)
    return out.copy()


def centre_of(piece: Piece) -> tuple[float, float]:
    """Middle of a piece's volume seen from above [m]."""
    a, b, c = np.moveaxis(triangles_of(piece), 1, 0)
    volumes = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0
    if not volumes.sum():
        return float(a[:, 0].mean()), float(a[:, 1].mean())
    middle = (volumes[:, None] * (a + b + c) / 4.0).sum(axis=0) / volumes.sum()
    return float(middle[0]), float(middle[1])


def piece_solid(piece: Piece) -> float:
    """Volume of what a piece is made of [m3]: of a tube the wall alone."""
    whole = piece_below(piece, 1e3)
    if piece.shape == "tube":
        inner = 1.0 - 2.0 * piece.wall / piece.diameter
        return whole * (1.0 - max(0.0, inner) ** 2)
    return whole
