"""The air cut into cells: columns side by side along the width, layers above each other."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

COLUMN, LAYER = 0.50, 0.10
"""Width and height of a cell that is aimed at [m]; doubling the cells moves no site of the examples by
more than 0.5 K or 3 % (`tests/test_climate_judge.py`)."""

JET = 0.20
"""Air that enters spreads over cells within this distance [m] of the opening before it can be told
from the air around it. From memory: a free jet has entrained its own flow after some four openings."""

DOORWAY = 0.65
"""Discharge coefficient of the two-way flow between columns (`physics.airflow`)."""


@dataclass(frozen=True)
class Cells:
    """``columns`` x ``layers`` equal cells of the air between ``low`` and ``high`` (3,) [m], numbered
    layer by layer from below."""

    low: Floats
    high: Floats
    columns: int
    layers: int

    @property
    def count(self) -> int:
        """Number of cells."""
        return self.columns * self.layers

    @property
    def size(self) -> tuple[float, float, float]:
        """Width, depth and height of a cell [m]."""
        x, y, z = self.high - self.low
        return float(x) / self.columns, float(y), float(z) / self.layers

    def of(self, points: Floats) -> NDArray[np.int64]:
        """Cell of each point (K, 3); points outside belong to the nearest."""
        dx, _, dz = self.size
        c = np.clip(((points[:, 0] - self.low[0]) / dx).astype(int), 0, self.columns - 1)
        k = np.clip(((points[:, 2] - self.low[2]) / dz).astype(int), 0, self.layers - 1)
        return (k * self.columns + c).astype(np.int64)

    def between(self, point: Floats) -> Floats:
        """Shares of the cells (N,) in the air at a point, linear between their middles."""
        dx, _, dz = self.size
        out = np.zeros((self.layers, self.columns))
        u = np.clip((point[0] - self.low[0]) / dx - 0.5, 0.0, self.columns - 1.0)
        v = np.clip((point[2] - self.low[2]) / dz - 0.5, 0.0, self.layers - 1.0)
        c, k = min(int(u), max(self.columns - 2, 0)), min(int(v), max(self.layers - 2, 0))
        u, v = u - c, v - k
        for dk, wk in ((0, 1.0 - v), (1, v)):
            for dc, wc in ((0, 1.0 - u), (1, u)):
                if wk * wc > 0.0:
                    out[k + dk, c + dc] += wk * wc
        return out.ravel()

    def overlap(self, low: Floats, high: Floats) -> Floats:
        """Shares of the cells (N,) in a box, by volume; the nearest cells where it lies outside."""
        dx, _, dz = self.size
        x = _shares(low[0], high[0], self.low[0], dx, self.columns)
        z = _shares(low[2], high[2], self.low[2], dz, self.layers)
        return np.outer(z, x).ravel()

    def around(self, low: Floats, high: Floats) -> Floats:
        """Shares of the cells (N,) into which air from an opening spreads."""
        return self.overlap(low - JET, high + JET)

    def potential(self) -> Floats:
        """Inverse (N, N) of the graph of cells, each link worth its area over its length."""
        dx, dy, dz = self.size
        n = self.count
        graph = np.zeros((n, n))
        for k in range(self.layers):
            for c in range(self.columns):
                i = k * self.columns + c
                if c + 1 < self.columns:
                    _tie(graph, i, i + 1, dz * dy / dx)
                if k + 1 < self.layers:
                    _tie(graph, i, i + self.columns, dx * dy / dz)
        found: Floats = np.asarray(np.linalg.pinv(graph), float)
        return found


def _tie(graph: Floats, i: int, j: int, worth: float) -> None:
    graph[i, i] += worth
    graph[j, j] += worth
    graph[i, j] -= worth
    graph[j, i] -= worth


def _shares(low: float, high: float, origin: float, step: float, count: int) -> Floats:
    edges = origin + step * np.arange(count + 1)
    low, high = max(low, edges[0]), min(high, edges[-1])
    if high - low < 1e-9:
        out = np.zeros(count)
        out[int(np.clip((0.5 * (low + high) - origin) / step, 0, count - 1))] = 1.0
        return out
    out = np.clip(np.minimum(high, edges[1:]) - np.maximum(low, edges[:-1]), 0.0, None)
    found: Floats = out / out.sum()
    return found


def cut(low: Floats, high: Floats, fineness: float = 1.0) -> Cells:
    """Cells of about `COLUMN` x `LAYER` over ``fineness``."""
    width, _, height = high - low
    columns = max(1, math.ceil(width / COLUMN * fineness - 1e-9))
    layers = max(2, math.ceil(height / LAYER * fineness - 1e-9))
    return Cells(low, high, columns, layers)


def stirring(low: Floats, high: Floats) -> tuple[float, float]:
    """Factors of the eddy diffusivity that unevenly warm air gives itself, upward and sideways.

    With the gradient g' = g |dT/dx| / T of buoyancy, diffusivity is the factor times its root
    [m2/s]. The factors are those at which two halves of the space exchange what published laws
    give for one opening as large as their border: Cooper 1989 (NISTIR 89-4052) for the lower warmer
    half, Brown & Solvason 1962 for halves side by side. Written for a gradient, the answer does not
    depend on the number of cells.
    """
    width, depth, height = high - low
    lift = 0.1 * math.sqrt(math.sqrt(width * depth)) * (height / 2.0) ** 1.5
    sway = DOORWAY / 3.0 * math.sqrt(height) * (width / 2.0) ** 1.5
    return float(lift), float(sway)


def still_mixing(volume: float, changes: float) -> float:
    """Eddy diffusivity of quiet indoor air [m2/s].

    Parameters
    ----------
    volume : float
        Volume of the air [m3].
    changes : float
        Air changes [1/s].

    Source: Cheng et al. 2011, Environ Sci Technol 45:4016: V^(2/3) (0.52 N + 0.31 /h), from rooms of
    homes (from memory); a habitat is smaller than any of them.
    """
    return volume ** (2.0 / 3.0) * (0.52 * changes + 0.31 / 3600.0)
