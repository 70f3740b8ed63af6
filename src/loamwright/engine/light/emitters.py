"""Lamps as bodies that shine: lines, strips and points that the kernels integrate.

A tube is a Lambertian cylinder; a bar, a panel and a tube in a reflector are Lambertian strips
(lines side by side at Gauss points across the width); a spot is a disk of points, each with a
cosine-power beam and, as far as not all of its light is in the beam, a Lambertian half-sphere; a
measured lamp is its luminous face sampled by points with the measured
intensity. The irradiance of a line is integrated in closed form piece by piece along its
length; a shadow ray goes to the middle of each piece.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.equipment import Lamp
from loamwright.physics.radiation import beam_exponent

Floats = NDArray[np.float64]

CYLINDER, STRIP, BEAM, TABLE = 0, 1, 2, 3

PIECE_LENGTH = 0.05
"""Length of one piece of a line [m]. Where shadow crosses it, several rays go to it."""

WIDE = 0.12
"""From this width on [m] a strip is a panel;"""

PANEL_PIECE, STRIP_PIECE = 0.07, 0.025
"""widest piece of a panel and of a narrower strip [m]: the edge of a window that a tube lies over cuts
it lengthwise, and what it leaves must be told finely."""

TABLE_VERTICAL, TABLE_HORIZONTAL = 181, 73
"""Points of a resampled intensity table: 0..pi from the aim, 0..2 pi round it."""


@dataclass(frozen=True, slots=True)
class Emitter:
    """One lamp's shining body, for one watt of flux.

    Elements (E,): ``kind``; ``start`` (E, 3) one end of a line or a point [m]; ``line`` (E, 3) unit
    vector along it; ``length`` [m]; ``normal`` (E, 3) unit vector the way it faces; ``radius``
    [m] of a cylinder or the exponent of a beam; ``weight`` share of the flux; ``first`` and
    ``pieces`` where its samples stand. Samples (R, 3): ``sample`` [m] the middle of each piece of
    the shining face, ``corners`` (R, 4) numbers of its corners among the ``nodes`` (Q, 3), which
    shadow rays go to first, and ``spots`` (R, G, 3) places spread over it for where the corners
    disagree. ``table`` (H, V) intensity per watt [1/sr] for measured lamps, else empty;
    ``narrow`` (5,) share of each band that leaves a spot in its beam.
    """

    kind: NDArray[np.int32]
    start: Floats
    line: Floats
    length: Floats
    normal: Floats
    radius: Floats
    weight: Floats
    first: NDArray[np.int32]
    pieces: NDArray[np.int32]
    sample: Floats
    nodes: Floats
    corners: NDArray[np.int32]
    spots: Floats
    table: Floats
    narrow: Floats


SPOTS = 8
ALONG = np.array([-5, 3, -1, 7, -7, 1, -3, 5]) / 16
"""Places on a piece of a strip as shares of its length, one in each eighth; across it they go from side
to side, shifted from piece to piece, lest the edge of a shadow along the strip fall alike on all."""

ON_AXIS = np.array([-3, -1, 1, 3]) / 8
"""Places on a piece of a tube's axis."""

GOLDEN = 0.6180339887498949

PAR = 2
"""The band whose share of a beam stands for all where the flux is followed forward."""


def _gauss(count: int) -> tuple[Floats, Floats]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return nodes, weights / 2


def _disk_points(radius: float) -> tuple[Floats, Floats]:
    """Points (n, 2) and weights on a disk: three rings by Gauss points in r squared."""
    nodes, weights = _gauss(3)
    points, shares = [], []
    for ring, (node, weight) in enumerate(zip(nodes, weights, strict=True)):
        r = radius * math.sqrt((node + 1) / 2)
        angles = 2 * np.pi * (np.arange(8) + ring / 3) / 8
        points.append(np.column_stack([r * np.cos(angles), r * np.sin(angles)]))
        shares.append(np.full(8, weight / 8))
    return np.concatenate(points), np.concatenate(shares)


def _uniform_table(
    table: tuple[tuple[float, ...], tuple[float, ...], tuple[tuple[float, ...], ...]],
) -> Floats:
    """The measured intensities on an even grid, scaled so that the whole sphere holds 1."""
    vertical, horizontal, rows = table
    values = np.array(rows, float)
    v = np.linspace(0.0, np.pi, TABLE_VERTICAL)
    h = np.linspace(0.0, 2 * np.pi, TABLE_HORIZONTAL)
    by_v = np.array([np.interp(v, vertical, row, left=0.0, right=0.0) for row in values])
    if len(horizontal) == 1:
        grid = np.repeat(by_v, TABLE_HORIZONTAL, axis=0)
    else:
        grid = np.array([np.interp(h, horizontal, column) for column in by_v.T]).T
    ring = np.trapezoid(grid[:, :] * np.sin(v)[None, :], v, axis=1)
    total = np.trapezoid(ring, h)
    return grid / total


def emitter_of(lamp: Lamp) -> Emitter:
    """The shining body of a lamp in its place."""
    kind = lamp.type
    at, aim, along = np.array(lamp.at), np.array(lamp.aim), np.array(lamp.along)
    across = np.cross(along, aim)
    body = _Body()
    table = np.zeros((0, 0))
    if kind.shape == "tube" and kind.reflector_width <= 0:
        start = at - along * kind.length / 2
        (row,) = body.add_rows(start, along * kind.length, across * 0.0, 1)
        body.add(CYLINDER, start, along, kind.length, aim, kind.diameter / 2, 1.0, row)
    elif kind.shape in ("tube", "bar"):
        width = kind.reflector_width if kind.shape == "tube" else kind.width
        start = at - along * kind.length / 2
        panel = width >= WIDE
        bands = math.ceil(width / (PANEL_PIECE if panel else STRIP_PIECE))
        nodes, weights = _gauss(2 if panel or bands == 1 else 1)
        rows = body.add_rows(start - across * width / 2, along * kind.length, across * width, bands)
        for band, row in enumerate(rows):
            middle = start + across * ((band + 0.5) / bands - 0.5) * width
            for node, weight in zip(nodes, weights, strict=True):
                place = middle + across * node * width / bands / 2
                body.add(STRIP, place, along, kind.length, aim, 0.0, float(weight) / bands, row)
    elif kind.shape == "spot":
        exponent = beam_exponent(kind.beam_angle)
        for (x, y), weight in zip(*_disk_points(kind.diameter / 2), strict=True):
            place = at + x * along + y * across
            sample = body.add_point(place)
            body.add(BEAM, place, along, 0.0, aim, exponent, float(weight), sample)
    else:
        assert kind.table is not None
        table = _uniform_table(kind.table)
        columns = max(1, min(8, math.ceil(kind.length / PIECE_LENGTH)))
        ranks = max(1, min(4, math.ceil(kind.width / PIECE_LENGTH)))
        for x in (np.arange(columns) + 0.5) / columns - 0.5:
            for y in (np.arange(ranks) + 0.5) / ranks - 0.5:
                place = at + x * kind.length * along + y * kind.width * across
                sample = body.add_point(place)
                body.add(TABLE, place, along, 0.0, aim, 0.0, 1.0 / (columns * ranks), sample)
    return body.emitter(table, np.array(kind.beam_share))


class _Body:
    """Elements and samples while a lamp's body is put together."""

    def __init__(self) -> None:
        self._rows: list[tuple[int, Floats, Floats, float, Floats, float, float, int, int]] = []
        self._samples: list[Floats] = []
        self._spots: list[Floats] = []
        self._nodes: list[Floats] = []
        self._corners: list[NDArray[np.int32]] = []
        self._count = 0
        self._nodes_count = 0

    def add_rows(
        self, corner: Floats, along: Floats, across: Floats, bands: int
    ) -> list[tuple[int, int]]:
        """Pieces of a face from ``corner`` along and across (zero across: a tube's axis), in ``bands``
        rows; returns each row's first number and how many it holds."""
        count = max(6, math.ceil(float(np.linalg.norm(along)) / PIECE_LENGTH))
        axis = not across.any()
        u, v = along / count, across / bands
        i, j = np.meshgrid(np.arange(count + 1), np.arange(1 if axis else bands + 1))
        self._nodes.append(corner + i.reshape(-1, 1) * u + j.reshape(-1, 1) * v)
        out = []
        for band in range(bands):
            place = np.arange(count)
            middles = corner + (place[:, None] + 0.5) * u + (band + 0.5) * v
            low = self._nodes_count + band * (count + 1) + place
            high = low if axis else low + count + 1
            self._corners.append(np.stack([low, low + 1, high, high + 1], 1).astype(np.int32))
            if axis:
                offsets = np.broadcast_to(np.outer(ON_AXIS, u), (count, len(ON_AXIS), 3))
            else:
                shift = np.mod((place + 1 + 7 * band) * GOLDEN, 1.0)
                side = (np.arange(SPOTS)[None, :] + shift[:, None]) / SPOTS - 0.5
                offsets = ALONG[None, :, None] * u + side[:, :, None] * v
            self._spots.append(middles[:, None, :] + offsets)
            self._samples.append(middles)
            out.append((self._count, count))
            self._count += count
        self._nodes_count += len(self._nodes[-1])
        return out

    def add_point(self, place: Floats) -> tuple[int, int]:
        """A single place that is its own only corner."""
        first, self._count = self._count, self._count + 1
        self._samples.append(place[None])
        self._nodes.append(place[None])
        self._corners.append(np.full((1, 4), self._nodes_count, np.int32))
        self._nodes_count += 1
        self._spots.append(np.zeros((1, 0, 3)))
        return first, 1

    def add(
        self,
        kind: int,
        start: Floats,
        line: Floats,
        length: float,
        normal: Floats,
        radius: float,
        weight: float,
        samples: tuple[int, int],
    ) -> None:
        """Add one element that is shaded through ``samples``."""
        self._rows.append((kind, start, line, length, normal, radius, weight, *samples))

    def emitter(self, table: Floats, narrow: Floats) -> Emitter:
        """The finished body."""
        column = list(zip(*self._rows, strict=True))
        return Emitter(
            np.array(column[0], np.int32),
            np.array(column[1]),
            np.array(column[2]),
            np.array(column[3]),
            np.array(column[4]),
            np.array(column[5]),
            np.array(column[6]),
            np.array(column[7], np.int32),
            np.array(column[8], np.int32),
            np.concatenate(self._samples),
            np.concatenate(self._nodes),
            np.concatenate(self._corners),
            np.concatenate(self._spots),
            table,
            narrow,
        )


def emitted_rays(
    emitter: Emitter, count: int, numbers: Floats, band: int = PAR
) -> tuple[Floats, Floats, Floats]:
    """Rays that leave the lamp in a band, for following its flux forward.

    ``numbers`` (count, 4) evenly spread in 0..1. Returns origins and directions (count, 3) and
    each ray's share of the flux (count,); shares sum to 1 up to the sampling error of a table.
    """
    u = numbers
    pick = np.searchsorted(np.cumsum(emitter.weight), u[:, 0] * emitter.weight.sum())
    pick = np.minimum(pick, len(emitter.weight) - 1)
    kind, line, normal = emitter.kind[pick], emitter.line[pick], emitter.normal[pick]
    origin = emitter.start[pick] + line * (emitter.length[pick] * u[:, 1])[:, None]
    across = np.cross(line, normal)
    cylinder = kind == CYLINDER
    # A cylinder's face looks in any direction round its axis; the pick's spare fraction chooses it.
    turn = 2 * np.pi * np.modf(u[:, 0] * 977.0)[0]
    round_normal = np.cos(turn)[:, None] * normal + np.sin(turn)[:, None] * across
    face = np.where(cylinder[:, None], round_normal, normal)
    side = np.cross(line, face)
    origin = origin + np.where(cylinder[:, None], face * emitter.radius[pick][:, None], 0.0)
    # A spot's rays start from points: the number that picks a place along a line is free for the
    # choice between beam and half-sphere.
    in_beam = (kind == BEAM) & (u[:, 1] < emitter.narrow[band])
    exponent = np.where(in_beam, emitter.radius[pick], 1.0)
    azimuth = 2 * np.pi * u[:, 2]
    cosine = u[:, 3] ** (1.0 / (exponent + 1.0))
    share = np.full(count, 1.0 / count)
    if (kind == TABLE).any():
        cosine = 1.0 - 2.0 * u[:, 3]
        column = azimuth / (2 * np.pi) * (TABLE_HORIZONTAL - 1)
        row = np.arccos(cosine) / np.pi * (TABLE_VERTICAL - 1)
        share = emitter.table[column.round().astype(int), row.round().astype(int)]
        share = share * 4 * np.pi / count
    sine = np.sqrt(np.maximum(0.0, 1.0 - cosine**2))
    direction = (
        cosine[:, None] * face
        + (sine * np.cos(azimuth))[:, None] * line
        + (sine * np.sin(azimuth))[:, None] * side
    )
    return origin, direction, share
