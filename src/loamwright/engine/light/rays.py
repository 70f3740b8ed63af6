"""Rays against the true triangles, by Embree. Several cores may ask at once; the answer of a ray does
not depend on which one did."""

from __future__ import annotations

import numpy as np
from embreex.mesh_construction import TriangleMesh
from embreex.rtcore_scene import EmbreeScene
from numpy.typing import NDArray

from loamwright.engine.light import kernels

Floats = NDArray[np.float64]

SKIN = 1e-4
"""Shadow rays start and end this far [m] off what they leave and reach."""


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

    def free(
        self,
        points: Floats,
        targets: Floats,
        rows: NDArray[np.int64],
        columns: NDArray[np.int64],
    ) -> NDArray[np.bool_]:
        """True where nothing stands between ``points[rows]`` and ``targets[columns]`` [m]."""
        if self.empty or len(rows) == 0:
            return np.ones(len(rows), np.bool_)
        start, way, reach = kernels.shadow_rays(points, targets, rows, columns, SKIN)
        # The query's answer is -1 where the ray met nothing within its reach.
        return np.asarray(self._scene.run(start, way, dists=reach, query="OCCLUDED")) == -1

    def first(
        self, origins: NDArray[np.float32], directions: NDArray[np.float32]
    ) -> tuple[NDArray[np.int32], NDArray[np.float32]]:
        """Row of the first triangle met by each ray (-1: none) and how far it is; origins and
        unit directions (K, 3) [m]. Origins stand off the surfaces they leave: a step along the ray
        could carry it through the wall beside a corner."""
        if self.empty or len(origins) == 0:
            count = len(origins)
            return np.full(count, -1, np.int32), np.full(count, np.inf, np.float32)
        found = self._scene.run(origins, directions, output=1)
        return found["primID"], found["tfar"]
