"""Rays against the true triangles, by Embree, on all cores; the answer of a ray does not depend
on which core asked."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from embreex.mesh_construction import TriangleMesh
from embreex.rtcore_scene import EmbreeScene
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SKIN = 1e-4
"""Shadow rays start and end this far [m] off what they leave and reach."""

_LEAST = 20_000


class Tracer:
    """Triangles ready to be asked. ``triangles`` (T, 3, 3) [m]."""

    def __init__(self, triangles: Floats) -> None:
        self._scene = EmbreeScene()
        self.empty = len(triangles) == 0
        if not self.empty:
            # One mesh in one scene: a hit's number is then the row of the triangle.
            self._mesh = TriangleMesh(self._scene, triangles.astype(np.float32))
            # The first question builds the tree; ask it before several threads do at once.
            one = np.zeros((1, 3), np.float32)
            self._scene.run(one, one + np.float32(1.0), dists=np.ones(1, np.float32))

    def _run(
        self,
        origins: NDArray[np.float32],
        directions: NDArray[np.float32],
        reach: NDArray[np.float32],
        query: str,
    ) -> NDArray[np.float32]:
        count = len(origins)
        if self.empty or count == 0:
            return np.full(count, -1, np.int32)  # type: ignore[return-value]
        workers = max(1, min(os.cpu_count() or 1, count // _LEAST))
        if workers == 1:
            return self._scene.run(origins, directions, dists=reach, query=query)
        edges = np.linspace(0, count, workers * 4 + 1).astype(int)

        def part(k: int) -> NDArray[np.float32]:
            cut = slice(edges[k], edges[k + 1])
            return self._scene.run(
                origins[cut], directions[cut], dists=reach[cut].copy(), query=query
            )

        with ThreadPoolExecutor(workers) as pool:
            return np.concatenate(list(pool.map(part, range(len(edges) - 1))))

    def free(self, points: Floats, targets: Floats) -> NDArray[np.bool_]:
        """True where nothing stands between point and target; both (K, 3) [m]."""
        if len(points) == 0:
            return np.zeros(0, np.bool_)
        way = (targets - points).astype(np.float32)
        span = np.sqrt(np.einsum("ij,ij->i", way, way))
        way /= np.maximum(span, 1e-9)[:, None]
        start = points.astype(np.float32) + way * np.float32(SKIN)
        reach = np.maximum(span - np.float32(2 * SKIN), np.float32(0.0))
        # The query's answer is -1 where the ray met nothing within its reach.
        return np.asarray(self._run(start, way, reach, "OCCLUDED")) == -1

    def first(
        self, origins: NDArray[np.float32], directions: NDArray[np.float32]
    ) -> tuple[NDArray[np.int32], NDArray[np.float32]]:
        """Row of the first triangle met by each ray (-1: none) and how far it is; origins and unit
        directions (K, 3) [m]."""
        count = len(origins)
        if self.empty or count == 0:
            return np.full(count, -1, np.int32), np.full(count, np.inf, np.float32)
        workers = max(1, min(os.cpu_count() or 1, count // _LEAST))
        edges = np.linspace(0, count, workers * (4 if workers > 1 else 1) + 1).astype(int)

        def part(k: int) -> tuple[NDArray[np.int32], NDArray[np.float32]]:
            cut = slice(edges[k], edges[k + 1])
            found = self._scene.run(origins[cut], directions[cut], output=1)
            return found["primID"], found["tfar"]

        if workers == 1:
            return part(0)
        with ThreadPoolExecutor(workers) as pool:
            parts = list(pool.map(part, range(len(edges) - 1)))
        return np.concatenate([p[0] for p in parts]), np.concatenate([p[1] for p in parts])
