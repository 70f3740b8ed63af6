"""Facets that receive light: where they look, what reaches them straight and by way of surfaces."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light import kernels
from loamwright.engine.light.directions import hemisphere, sphere, spread
from loamwright.engine.light.emitters import Emitter
from loamwright.engine.light.parallel import one_thread, over_rows
from loamwright.engine.light.rays import Tracer
from loamwright.engine.scene import Canopies, Scene, Sheets

Floats = NDArray[np.float64]

DIM_BANDS = np.array([0, 2, 3], np.int64)
"""A band of each optical group (uv, par, nir): crowns dim gathered light by the group."""

RUN = 512
"""Points that one core takes at a time."""


def sheet_arguments(sheets: Sheets) -> tuple[NDArray, ...]:
    """The sheets as the kernels take them."""
    return (
        sheets.corner,
        sheets.edge_u,
        sheets.edge_v,
        sheets.mesh,
        sheets.pitch,
        sheets.wire,
        sheets.transmit,
        sheets.index,
    )


def canopy_arguments(canopies: Canopies) -> tuple[NDArray, ...]:
    """The canopies as the kernels take them."""
    return (canopies.centre, canopies.half, canopies.extinction)


@dataclass
class View:
    """A scene with the tools to look through it: ``solid`` triangles stop lamps' rays, ``every``
    triangle (sheets too) can be met by a gather ray."""

    scene: Scene
    solid: Tracer
    every: Tracer
    patch_of: NDArray[np.int32]
    facing: Floats
    both: NDArray[np.bool_]

    @classmethod
    def of(cls, scene: Scene) -> View:
        """Make the tracers of a scene."""
        t = scene.triangles
        cross = np.cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0])
        cross /= np.linalg.norm(cross, axis=1, keepdims=True)
        return cls(
            scene,
            Tracer(t[: scene.first_sheet_triangle]),
            Tracer(t),
            scene.patch_of,
            cross,
            scene.both_sides[scene.patch_of],
        )

    def without_doors(self) -> View:
        """The same with the doors open: their sheets and triangles gone, the patches kept."""
        scene = self.scene
        gone = [i for i, name in enumerate(scene.owners) if name in scene.doors]
        stays = ~np.isin(scene.owner[scene.patch_of], gone)
        shut = np.array([name not in scene.doors for name in scene.sheets.names], bool)
        first = scene.first_sheet_triangle
        t = scene.triangles
        return View(
            replace(scene, sheets=scene.sheets.only(shut)),
            Tracer(t[:first][stays[:first]]),
            Tracer(t[stays]),
            scene.patch_of[stays],
            self.facing[stays],
            self.both[stays],
        )

    def met(
        self, origins: NDArray[np.float32], directions: NDArray[np.float32]
    ) -> tuple[NDArray[np.int32], NDArray[np.float32]]:
        """Patch met by each ray, -1 for none or for the dark back of one, and the distance [m]."""
        hit, span = self.every.first(origins, directions)
        found = hit >= 0
        row = np.where(found, hit, 0)
        behind = np.einsum("ij,ij->i", directions, self.facing[row]) > 0.0
        lit = found & (~behind | self.both[row])
        return np.where(lit, self.patch_of[row], -1).astype(np.int32), span


def _seen(
    view: View, emitter: Emitter, points: Floats, wants: NDArray[np.bool_], fine: bool
) -> tuple[NDArray[np.float32], NDArray[np.int8]]:
    """Share of each piece of a lamp that each point sees past solids, (N, R), and for pieces seen in
    part the number of a spot that is seen (-1: take the middle), for what dims the light on its way.

    Rays go to the corners of the pieces, which neighbours share; where a piece's corners disagree,
    others spread over it decide, if it must be ``fine``.
    """
    free = view.solid.free
    corners, spots = emitter.corners, emitter.spots
    rows, columns = np.nonzero(kernels.nodes_wanted(wants, corners, len(emitter.nodes)))
    seen_nodes = np.zeros((len(points), len(emitter.nodes)), np.bool_)
    seen_nodes[rows, columns] = free(points, emitter.nodes, rows, columns)
    seen = kernels.seen_by_corners(wants, corners, seen_nodes)
    spot = np.full(wants.shape, -1, np.int8)
    if fine:
        rows, columns = np.nonzero((seen > 0.0) & (seen < 1.0))
        found = np.zeros(len(rows), np.float32)
        for k in range(spots.shape[1]):
            open_way = free(points, np.ascontiguousarray(spots[:, k]), rows, columns)
            found += open_way
            spot[rows[open_way], columns[open_way]] = k
        # A lamp's points have no spots but themselves, and are never seen in part.
        seen[rows, columns] = found / max(spots.shape[1], 1)
    return seen, spot


def lamp_light(
    view: View,
    emitter: Emitter,
    points: Floats,
    index: NDArray[np.int64],
    normals: Floats,
    all_round: bool,
    *,
    shadows: bool = True,
    sheets: bool = True,
    canopies: bool = True,
    fine: bool = True,
) -> Floats:
    """Straight light of one lamp on facets, (M, 5) [1/m2] per watt of its flux in each band.

    ``points`` (N, 3) [m]; ``index`` (M,) and ``normals`` (M, 3) the facets at them, sorted by
    point; ``all_round`` when a point's facets look every way. The next three switch off what
    stands in the way, to say what it costs; without ``fine`` the edges of shadows are coarse, which
    is enough where many points are averaged.
    """
    scene = view.scene
    out = np.empty((len(index), kernels.BANDS))
    none = np.zeros(len(scene.sheets.names), bool)
    covers = sheet_arguments(scene.sheets if sheets else scene.sheets.only(none))
    crowns = canopy_arguments(scene.canopies)
    if not canopies:
        crowns = tuple(a[:0] for a in crowns)
    first_normal = np.zeros((len(points), 3))
    first_normal[index] = normals

    def some(low: int, high: int) -> None:
        here = np.ascontiguousarray(points[low:high])
        wants = kernels.wanted(
            here, first_normal[low:high], all_round, emitter.kind, emitter.normal,
            emitter.first, emitter.pieces, emitter.sample,
        )  # fmt: skip
        if shadows:
            seen, spot = _seen(view, emitter, here, wants, fine)
        else:
            seen, spot = wants.astype(np.float32), np.full(wants.shape, -1, np.int8)
        passed = kernels.pass_through(
            here, emitter.sample, emitter.spots, seen, spot, wants, *covers, *crowns
        )
        first, last = np.searchsorted(index, [low, high])
        out[first:last] = kernels.irradiance(
            here, index[first:last] - low, normals[first:last], passed,
            emitter.kind, emitter.start, emitter.line, emitter.length, emitter.normal,
            emitter.radius, emitter.weight, emitter.first, emitter.pieces, emitter.table,
            emitter.narrow,
        )  # fmt: skip

    over_rows(len(points), RUN, some)
    return out


@dataclass
class Sensors:
    """Facets at points. With one facet a point the gather fan is a cosine half-sphere round its
    normal; with ``ways`` facets a point it is the whole sphere, shared by all of them."""

    view: View
    points: Floats
    normals: Floats
    rays: int
    all_round: bool = False
    index: NDArray[np.int64] = field(init=False)
    _hit: NDArray[np.int32] | None = None
    _dim: NDArray[np.float32] | None = None
    _fan: Floats | None = None

    def __post_init__(self) -> None:
        ways = len(self.normals) // max(1, len(self.points))
        self.index = np.repeat(np.arange(len(self.points)), ways)

    def straight(self, emitter: Emitter) -> Floats:
        """Straight light of one lamp, (M, 5) [1/m2]."""
        return lamp_light(self.view, emitter, self.points, self.index, self.normals, self.all_round)

    def _look(self) -> None:
        """Trace the gather rays once; they do not depend on the lamps."""
        if self._hit is not None:
            return
        count = len(self.points)
        crowns = self.view.scene.canopies
        dims = len(crowns.names) > 0
        self._fan = sphere(self.rays) if self.all_round else hemisphere(self.rays)
        axis = np.tile([0.0, 0.0, 1.0], (count, 1)) if self.all_round else self.normals
        turns = 2 * np.pi * spread(count, 2)[:, 0] * (not self.all_round)
        hit = np.empty((count, self.rays), np.int32)
        groups = len(DIM_BANDS)
        dim = np.empty((count if dims else 0, self.rays, groups), np.float32)
        fan = self._fan

        def some(low: int, high: int) -> None:
            here = np.ascontiguousarray(self.points[low:high])
            directions = kernels.gather_rays(
                here, np.ascontiguousarray(axis[low:high]), fan, turns[low:high]
            )
            origins = np.repeat(here.astype(np.float32), self.rays, axis=0)
            found, span = self.view.met(origins, directions.reshape(-1, 3))
            hit[low:high] = found.reshape(high - low, self.rays)
            if dims:
                dim[low:high] = kernels.gather_dim(  # type: ignore[call-arg]
                    here, directions, span.reshape(high - low, self.rays), hit[low:high],
                    *canopy_arguments(crowns), DIM_BANDS,
                )  # fmt: skip

        over_rows(count, RUN // 4, some)
        self._hit, self._dim = hit, dim

    def bounced(self, radiosity: Floats, groups: NDArray[np.int64]) -> Floats:
        """Light from surfaces, (M, C), for radiosities (P, C) whose columns belong to the optical
        ``groups`` (C,)."""
        self._look()
        assert self._hit is not None
        assert self._dim is not None
        assert self._fan is not None
        if self.all_round:
            return self._bounced_all_round(radiosity, groups)
        weights = np.full(self.rays, 1.0 / self.rays)
        out = np.empty((len(self.points), radiosity.shape[1]))
        hit, dim = self._hit, self._dim

        def some(low: int, high: int) -> None:
            out[low:high] = kernels.gather(hit[low:high], dim[low:high], weights, radiosity, groups)

        over_rows(len(out), RUN, some)
        return out

    def _bounced_all_round(self, radiosity: Floats, groups: NDArray[np.int64]) -> Floats:
        """The same for facets that share their point's whole sphere of rays."""
        assert self._hit is not None
        assert self._dim is not None
        assert self._fan is not None
        count, columns = len(self.points), radiosity.shape[1]
        ways = len(self.normals) // count
        seen = np.where(self._hit[:, :, None] >= 0, radiosity[self._hit], 0.0)
        if len(self._dim):
            seen *= self._dim[:, :, groups]
        normals = self.normals.reshape(count, ways, 3)
        out = np.empty((count, ways, columns))
        # Most ways are the same at every point: one product does for all of those.
        same = (normals == normals[:1]).all(axis=(0, 2))
        with one_thread():
            if same.any():
                cosine = np.maximum(0.0, normals[0, same] @ self._fan.T)
                flat = seen.transpose(1, 0, 2).reshape(self.rays, count * columns)
                part = (cosine @ flat).reshape(-1, count, columns)
                out[:, same] = part.transpose(1, 0, 2)
            for way in np.nonzero(~same)[0]:
                cosine = np.maximum(0.0, normals[:, way] @ self._fan.T)
                out[:, way] = np.einsum("nr,nrc->nc", cosine, seen)
        # Irradiance of radiance B/pi over the sphere: sum of B cos x 4 / rays.
        return out.reshape(count * ways, columns) * (4.0 / self.rays)
