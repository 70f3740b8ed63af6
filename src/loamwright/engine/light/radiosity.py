"""Light that surfaces hand on to each other.

Patches send diffusely what they reflect. The share of what leaves j that i receives per area is
found by rays spread as the cosine over i, so it holds every shadow and closes by itself; the
linear system is solved once per optical band and serves every lamp.

Source: Siegel & Howell, *Thermal Radiation Heat Transfer*, enclosure theory for diffuse-gray
surfaces (net-radiation method), from memory.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lu_factor, lu_solve

from loamwright.engine.light import kernels
from loamwright.engine.light.directions import sobol, spread
from loamwright.engine.light.parallel import one_thread, over_rows
from loamwright.engine.light.sensors import DIM_BANDS, View, canopy_arguments

Floats = NDArray[np.float64]

_RUN = 64
"""Patches that one core takes at a time."""


def patch_points(view: View, count: int) -> tuple[Floats, Floats, Floats]:
    """Points spread evenly over each patch.

    Returns ``count`` points a patch (P*count, 3), just off the surface, the normals there, and a
    pair of numbers (P*count, 2) that is evenly spread together with the points, for directions.
    """
    scene = view.scene
    corners = scene.triangles
    area = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    )
    order = np.argsort(scene.patch_of, kind="stable")
    filled = np.cumsum(area[order])
    patches = scene.patches
    total = np.bincount(scene.patch_of, area, patches)
    before = np.cumsum(total) - total
    # The same points for every patch, but shifted, lest neighbours share their error.
    shift = spread(patches, 4)
    numbers = np.mod(sobol(count)[None, :, :] + shift[:, None, :], 1.0).reshape(-1, 4)
    target = np.repeat(before, count) + numbers[:, 0] * np.repeat(total, count) * (1 - 1e-12)
    pick = np.minimum(np.searchsorted(filled, target, side="right"), len(order) - 1)
    triangle = order[pick]
    # What is left of the first number within its triangle serves as the next.
    left = (target - (filled[pick] - area[triangle])) / area[triangle]
    root, second = np.sqrt(np.clip(left, 0.0, 1.0)), numbers[:, 1]
    a, b, c = corners[triangle, 0], corners[triangle, 1], corners[triangle, 2]
    points = (
        (1 - root)[:, None] * a + (root * (1 - second))[:, None] * b + (root * second)[:, None] * c
    )
    normals = view.facing[triangle]
    return points + 2e-4 * normals, normals, numbers[:, 2:]


def exchange_shares(view: View, rays: int, bands: NDArray[np.int64] = DIM_BANDS) -> list[Floats]:
    """Share of each patch's field of view that each other patch fills, one (P, P) matrix for each of
    the ``bands`` in which crowns dim the way (a single one when there are no crowns or no bands)."""
    scene = view.scene
    patches = scene.patches
    points, normals, numbers = patch_points(view, rays)
    angle, r = 2 * np.pi * numbers[:, 1], np.sqrt(numbers[:, 0])
    local = np.column_stack([r * np.cos(angle), r * np.sin(angle), np.sqrt(1 - r * r)])
    crowns = scene.canopies
    groups = max(1, len(bands)) if crowns.names else 1
    dims = len(bands) > 0 and len(crowns.names) > 0
    matrices = [np.zeros((patches, patches)) for _ in range(groups)]

    def some(low: int, high: int) -> None:
        # A run holds whole patches, so no two cores touch the same row.
        cut = slice(low * rays, high * rays)
        directions = _laid_on(local[cut], normals[cut])
        hit, span = view.met(points[cut].astype(np.float32), directions)
        found = hit >= 0
        row = np.repeat(np.arange(high - low), rays)
        key = row[found] * patches + hit[found]
        dim = np.ones((len(key), 1), np.float32)
        if dims:
            dim = kernels.gather_dim(  # type: ignore[call-arg]
                points[cut], directions[:, None, :], span[:, None], hit[:, None],
                *canopy_arguments(crowns), bands,
            )[found, 0]  # fmt: skip
        for g, matrix in enumerate(matrices):
            size = (high - low) * patches
            matrix[low:high] = np.bincount(key, dim[:, g], size).reshape(high - low, patches)

    over_rows(patches, _RUN, some)
    return [m / rays for m in matrices]


def _laid_on(local: Floats, normals: Floats) -> NDArray[np.float32]:
    helper = np.where(
        np.abs(normals[:, :1]) < 0.9, np.array([[1.0, 0.0, 0.0]]), np.array([[0.0, 1.0, 0.0]])
    )
    first = np.cross(normals, helper)
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    second = np.cross(normals, first)
    out = local[:, :1] * first + local[:, 1:2] * second + local[:, 2:] * normals
    return out.astype(np.float32)


class Exchange:
    """The solved exchange of light between the patches of a scene."""

    def __init__(self, view: View, rays: int) -> None:
        self.reflect = view.scene.reflect
        self.shares = exchange_shares(view, rays)
        with one_thread():
            self._factors = [
                lu_factor(
                    # Single precision is a thousand times finer than the sampled shares.
                    (
                        np.eye(len(self.reflect)) - self.reflect[:, g : g + 1] * self._shares_of(g)
                    ).astype(np.float32),
                    overwrite_a=True,
                    check_finite=False,
                )
                for g in range(self.reflect.shape[1])
            ]

    def _shares_of(self, group: int) -> Floats:
        return self.shares[group if len(self.shares) > 1 else 0]

    def radiosity(self, straight: Floats, groups: NDArray[np.int64]) -> Floats:
        """Radiosity (P, C) from straight irradiance (P, C); ``groups`` (C,) the optical band of
        each column."""
        out = np.empty_like(straight)
        with one_thread():
            for g in np.unique(groups):
                columns = groups == g
                first = self.reflect[:, g : g + 1] * straight[:, columns]
                out[:, columns] = lu_solve(
                    self._factors[g], first.astype(np.float32), check_finite=False
                )
        return out

    def received(self, straight: Floats, radiosity: Floats, groups: NDArray[np.int64]) -> Floats:
        """Irradiance of each patch (P, C): straight and from the other patches."""
        out = straight.copy()
        with one_thread():
            for g in np.unique(groups):
                columns = groups == g
                out[:, columns] += self._shares_of(g) @ radiosity[:, columns]
        return out
