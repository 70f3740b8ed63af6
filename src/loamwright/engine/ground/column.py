"""A column of ground as arrays: layers cut into slices, fine at the surface and where they meet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.ground.laws import MOBILE, RESIDUAL, SATURATED, material_at, material_row
from loamwright.physics import leaf_litter, root_uptake

Floats = NDArray[np.float64]

FINEST, GROWTH, COARSEST = 1e-3, 1.3, 0.01
"""Thickness of the slices beside a face [m], their growth away from it, and the thickest [m]."""

LEAST_SLICES = 4
"""Slices of the thinnest layer."""


@dataclass(frozen=True, slots=True)
class Porous:
    """A layer's water, by the van Genuchten-Mualem law.

    ``residual`` and ``saturated`` water content [1], ``alpha`` [1/m], ``n`` [1], saturated
    ``conductivity`` [m/s], Mualem's exponent ``bend`` [1].
    """

    residual: float
    saturated: float
    alpha: float
    n: float
    conductivity: float
    bend: float = 0.5

    def row(self) -> Floats:
        """Its row of the table of materials."""
        return material_row(
            self.residual, self.saturated, self.alpha, self.n, self.conductivity, self.bend
        )


@dataclass(frozen=True, slots=True)
class Slab:
    """One layer of a column: name, depth [m] and what it is made of."""

    name: str
    depth: float
    porous: Porous


@dataclass(frozen=True, slots=True)
class Litter:
    """Leaves on top: ``capacity`` most water they hold [m], ``passes`` the share of the ground's
    evaporation that goes through them when dry [1]."""

    capacity: float
    passes: float


NO_LITTER = Litter(0.0, 1.0)
"""Bare ground."""


@dataclass(frozen=True, slots=True)
class Bottom:
    """What is below: a closed floor, a drain, or ground that goes on.

    ``conductance`` of a drain [1/s]: flow per area and metre of water above its opening; 0 is a
    closed floor. ``height`` of the opening above the floor [m]. ``free``: water leaves by gravity.
    """

    conductance: float = 0.0
    height: float = 0.0
    free: bool = False


CLOSED = Bottom()
"""A floor without a hole: what drains stands on it."""

OPEN_HOLE = Bottom(conductance=1.0)
"""A floor that lets all water out once it is free of suction (a seepage face): a millimetre of
water drains in a second or two."""


@dataclass(frozen=True)
class Column:
    """A column of ground, bottom first.

    ``height`` (N,) of each node above the floor [m]; ``length`` (N-1,) and ``material`` (N-1,) of
    the slices between them; ``size`` (N,) what each node stands for [m]; ``upwind`` (N-1,) how far
    a slice conducts as the end does that water comes from [1]; ``table`` (K, 15) rows of the
    materials, one a layer; ``names`` and ``faces`` (K+1,) of the layers [m]; ``root`` (N,) share of
    the roots' demand, sum 1 or all 0; ``limits`` heads at which roots stop and begin [m].
    """

    height: Floats
    length: Floats
    material: NDArray[np.int64]
    size: Floats
    upwind: Floats
    table: Floats
    names: tuple[str, ...]
    faces: Floats
    root: Floats
    litter: Litter = NO_LITTER
    bottom: Bottom = CLOSED
    limits: tuple[float, float, float, float] = field(
        default=(root_uptake.AIRLESS, root_uptake.WET, root_uptake.DRY, root_uptake.WILTED)
    )

    @property
    def depth(self) -> float:
        """Height of the surface above the floor [m]."""
        return float(self.height[-1])

    def pores(self) -> Floats:
        """Water content of each node when full [1], (N,)."""
        full = self.table[self.material, RESIDUAL] + self.table[self.material, MOBILE]
        return self._shared(full * self.length)

    def _shared(self, amounts: Floats) -> Floats:
        """Amounts of the slices, half to each end, by the nodes' sizes."""
        out = np.zeros(len(self.height))
        out[:-1] += 0.5 * amounts
        out[1:] += 0.5 * amounts
        return out / self.size

    def part_of(self, low: float, high: float) -> Floats:
        """Share of each node's ground that lies between two heights [m], (N,)."""
        edges = np.concatenate(([0.0], 0.5 * (self.height[1:] + self.height[:-1]), [self.depth]))
        inside = np.minimum(edges[1:], high) - np.maximum(edges[:-1], low)
        return np.maximum(inside, 0.0) / self.size


def slices(depth: float, finest: float = FINEST) -> list[float]:
    """Thicknesses [m] of a layer's slices, finest at both faces."""
    step = min(finest, depth / LEAST_SLICES)
    half: list[float] = []
    while math.fsum(half) < 0.5 * depth * (1.0 - 1e-9):
        half.append(step)
        step = min(step * GROWTH, COARSEST)
    scale = 0.5 * depth / math.fsum(half)
    half = [scale * part for part in half]
    return half + half[::-1]


def build_column(
    slabs: Sequence[Slab],
    *,
    litter: Litter = NO_LITTER,
    bottom: Bottom = CLOSED,
    rooting: float = 0.0,
    finest: float = FINEST,
    even: bool = False,
) -> Column:
    """A column of layers, bottom first.

    Parameters
    ----------
    slabs : sequence of Slab
        The layers; litter on top is not one of them.
    litter : Litter
        What lies on the surface.
    bottom : Bottom
        What is below.
    rooting : float
        Depth the roots reach from the surface [m]; 0: no roots.
    finest : float
        Thickness of the slices beside a face [m].
    even : bool
        All slices of a layer as thick as ``finest``, for proofs.

    Raises
    ------
    ValueError
        If there is no layer, or one without depth.
    """
    if not slabs or any(not slab.depth > 0.0 for slab in slabs):
        raise ValueError("a column needs layers, each with a depth above 0")
    lengths: list[float] = []
    materials: list[int] = []
    for i, slab in enumerate(slabs):
        count = max(1, round(slab.depth / finest))
        parts = [slab.depth / count] * count if even else slices(slab.depth, finest)
        lengths += parts
        materials += [i] * len(parts)
    length = np.array(lengths)
    height = np.concatenate(([0.0], np.cumsum(length)))
    size = np.zeros(len(height))
    size[:-1] += 0.5 * length
    size[1:] += 0.5 * length
    faces = np.concatenate(([0.0], np.cumsum([slab.depth for slab in slabs])))
    table = np.array([slab.porous.row() for slab in slabs])
    reach = np.array([capillary_length(row) for row in table])[materials]
    upwind = np.maximum(0.0, 1.0 - 2.0 * reach / length)
    root = np.zeros(len(height))
    if rooting > 0.0:
        below = height[-1] - height
        root = np.array([root_uptake.root_density(d, rooting) for d in below]) * size
        root /= root.sum()
    return Column(
        height, length, np.array(materials), size, upwind, table,
        tuple(slab.name for slab in slabs), faces, root, litter, bottom,
    )  # fmt: skip


def capillary_length(row: Floats) -> float:
    """Suction over which a material's conductivity is lost [m]: its integral, over that when full.

    Slices more than twice as thick cannot resolve how flow falls with suction. The macroscopic
    capillary length of White & Sully 1987, Water Resour Res 23:1514 (from memory).
    """
    suctions = np.logspace(-5.0, 2.0, 300)
    k = np.array([material_at(-h, row)[2] for h in suctions]) / row[SATURATED]
    return float(suctions[0] + np.trapezoid(k, suctions))


def leaf_layer(
    depth: float, dry_density: float, holds: float, porosity: float, transfer: float
) -> Litter:
    """Litter as it acts on the ground below.

    Parameters
    ----------
    depth, dry_density : float
        Depth [m] and dry mass by volume [kg/m3].
    holds : float
        Water over dry mass when all of it is wet [1].
    porosity : float
        Share of its volume that is air [1].
    transfer : float
        Coefficient of vapour transfer above it [m/s].
    """
    capacity = depth * dry_density * holds / 1000.0
    passes = leaf_litter.litter_pass(depth, porosity, 2.55e-5, transfer)
    return Litter(capacity, passes)
