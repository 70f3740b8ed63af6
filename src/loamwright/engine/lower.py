"""Habitat to arrays: triangles, patches, sheets and canopies.

Surfaces are cut into patches of about `PATCH` for the exchange of light between them; shadows use
the true triangles.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from loamwright.engine import shapes
from loamwright.engine.scene import GROUND, PANEL, PIECE, SHEET, WATER, Canopies, Scene, Sheets
from loamwright.habitat.bands import BANDS
from loamwright.habitat.catalogue import Cover, Material
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece

PATCH = 0.10
"""Edge of a patch [m]: plain radiosity of a box at this size is within 0.1 % of the exact value
(measured in `tests/test_light_proof.py`)."""

MOST_PATCHES = 2500
"""Most patches on the sides of a box; reached at some 25 m2 of surface."""

Floats = NDArray[np.float64]

WATER_REFLECTANCE = (0.05, 0.04, 0.03)
"""Diffuse stand-in for the Fresnel reflectance of a calm water surface (n = 1.33: 2 % at normal
incidence, 6.6 % for diffuse light; between the two since bowls are seen mostly from above)."""


class _Surfaces:
    """Collects triangles and patches while a scene is built."""

    def __init__(self, patch: float = PATCH) -> None:
        self.patch = patch
        self.triangles: list[Floats] = []
        self.patch_of: list[NDArray[np.int32]] = []
        self.centre: list[Floats] = []
        self.normal: list[Floats] = []
        self.area: list[Floats] = []
        self.reflect: list[Floats] = []
        self.kind: list[NDArray[np.int32]] = []
        self.owner: list[NDArray[np.int32]] = []
        self.both: list[NDArray[np.bool_]] = []
        self.owners: list[str] = []
        self.count = 0

    def add(
        self,
        name: str,
        kind: int,
        reflect: tuple[float, float, float],
        triangles: Floats,
        both: bool = False,
    ) -> None:
        """Group the triangles of one thing into patches and keep both."""
        if len(triangles) == 0:
            return
        if name not in self.owners:
            self.owners.append(name)
        cross = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
        double = np.linalg.norm(cross, axis=1)
        keep = double > 1e-14
        triangles, cross, double = triangles[keep], cross[keep], double[keep]
        if len(triangles) == 0:
            return
        area = double / 2
        normal = cross / double[:, None]
        middle = triangles.mean(axis=1)
        group = _cells(middle, normal, self.patch)
        count = int(group.max()) + 1
        weight: Floats = np.bincount(group, area, count).astype(float)
        centre: Floats = np.stack(
            [np.bincount(group, area * middle[:, k], count) for k in range(3)], 1
        )
        facing: Floats = np.stack(
            [np.bincount(group, area * normal[:, k], count) for k in range(3)], 1
        )
        facing /= np.maximum(np.linalg.norm(facing, axis=1, keepdims=True), 1e-12)
        self.triangles.append(triangles)
        self.patch_of.append((group + self.count).astype(np.int32))
        self.centre.append(centre / weight[:, None])
        self.normal.append(facing)
        self.area.append(weight)
        self.reflect.append(np.tile(reflect, (count, 1)))
        self.kind.append(np.full(count, kind, np.int32))
        self.owner.append(np.full(count, self.owners.index(name), np.int32))
        self.both.append(np.full(count, both))
        self.count += count


def _cells(middle: Floats, normal: Floats, patch: float) -> NDArray[np.int64]:
    """Group number of each triangle: one group per cell of the patch grid and main direction."""
    axis = np.argmax(np.abs(normal), axis=1)
    sign = np.take_along_axis(normal, axis[:, None], 1)[:, 0] > 0
    cell = np.floor(middle / patch + 1e-6).astype(np.int64)
    key = np.column_stack([cell, axis * 2 + sign])
    _, group = np.unique(key, axis=0, return_inverse=True)
    return group.reshape(-1)


def _reflect(material: Material) -> tuple[float, float, float]:
    if material.clear:
        # A clear panel returns what both its faces reflect; the rest leaves into the dark room.
        face = ((material.refractive_index - 1) / (material.refractive_index + 1)) ** 2
        both = 2 * face / (1 + face)
        return (both, both, both)
    return (material.reflect_uv, material.reflect_par, material.reflect_nir)


def _cover_reflect(cover: Cover) -> tuple[float, float, float]:
    if cover.kind == "open":
        return (0.0, 0.0, 0.0)
    if cover.sheet is not None:
        return _reflect(cover.sheet)
    blocked = 1.0 - (1.0 - cover.wire / cover.pitch) ** 2
    return (blocked * cover.reflect,) * 3


_SIDES = {
    # side: (fixed axis, at the far end?, first free axis, second free axis)
    "floor": (2, False, 0, 1),
    "top": (2, True, 0, 1),
    "front": (1, False, 0, 2),
    "back": (1, True, 0, 2),
    "left": (0, False, 1, 2),
    "right": (0, True, 1, 2),
}


def _panel_cells(
    enclosure: Enclosure, side: str, low: Floats, high: Floats, size: float
) -> list[tuple[Floats, Floats, Floats]]:
    """Rectangles (corner, u, v) that cover a side but for its openings, facing inwards."""
    _axis, _far, i, j = _SIDES[side]
    holes = [
        (o.at[0] - o.size[0] / 2, o.at[0] + o.size[0] / 2,
         o.at[1] - o.size[1] / 2, o.at[1] + o.size[1] / 2)
        for o in enclosure.openings
        if o.side == side
    ]  # fmt: skip
    us = shapes.breaks(low[i], high[i], size, tuple(v for h in holes for v in h[:2]))
    vs = shapes.breaks(low[j], high[j], size, tuple(v for h in holes for v in h[2:]))
    out = []
    for u0, u1 in itertools.pairwise(us):
        for v0, v1 in itertools.pairwise(vs):
            u_mid, v_mid = (u0 + u1) / 2, (v0 + v1) / 2
            if any(h[0] < u_mid < h[1] and h[2] < v_mid < h[3] for h in holes):
                continue
            out.append(_rectangle(side, low, high, (u0, u1), (v0, v1)))
    return out


def _rectangle(
    side: str, low: Floats, high: Floats, us: tuple[float, float], vs: tuple[float, float]
) -> tuple[Floats, Floats, Floats]:
    axis, far, i, j = _SIDES[side]
    corner, u, v = np.zeros(3), np.zeros(3), np.zeros(3)
    corner[axis] = high[axis] if far else low[axis]
    corner[i], corner[j] = us[0], vs[0]
    u[i], v[j] = us[1] - us[0], vs[1] - vs[0]
    positive = np.cross(u, v)[axis] > 0
    # Inwards is + at the near end of the axis, - at the far end.
    return (corner, u, v) if positive != far else (corner, v, u)


class _SheetList:
    def __init__(self) -> None:
        self.rows: list[
            tuple[Floats, Floats, Floats, int, float, float, tuple[float, ...], float, str]
        ] = []

    def add_clear(
        self, place: tuple[Floats, Floats, Floats], material: Material, name: str
    ) -> None:
        self.rows.append((*place, 0, 1.0, 0.0, material.transmit, material.refractive_index, name))

    def add_mesh(self, place: tuple[Floats, Floats, Floats], cover: Cover, name: str) -> None:
        self.rows.append((*place, 1, cover.pitch, cover.wire, (1.0,) * 5, 1.0, name))

    def arrays(self) -> Sheets:
        columns = list(zip(*self.rows, strict=True)) if self.rows else [()] * 9
        return Sheets(
            np.array(columns[0], float).reshape(-1, 3),
            np.array(columns[1], float).reshape(-1, 3),
            np.array(columns[2], float).reshape(-1, 3),
            np.array(columns[3], np.int32),
            np.array(columns[4], float),
            np.array(columns[5], float),
            np.array(columns[6], float).reshape(-1, len(BANDS)),
            np.array(columns[7], float),
            tuple(columns[8]),
        )


def _piece_triangles(piece: Piece, patch: float) -> Floats:
    if piece.shape == "branch":
        return shapes.rod(np.array(piece.start), np.array(piece.end), piece.diameter / 2, patch / 2)
    if piece.shape == "tube":
        return shapes.pipe(
            np.array(piece.start), np.array(piece.end), piece.diameter / 2, piece.wall, patch / 2
        )
    if piece.shape == "block":
        size = np.array(piece.size)
        low = np.array(piece.at) - np.array([size[0] / 2, size[1] / 2, 0.0])
        return shapes.box(low, low + size, patch)
    if piece.shape == "rock":
        half = np.array(piece.size) / 2
        return shapes.ellipsoid(np.array(piece.at) + np.array([0.0, 0.0, half[2]]), half)
    corners = np.array(piece.vertices, float)
    return corners[np.array(piece.faces, int)]


def canopies_of(habitat: Habitat) -> Canopies:
    """Crowns as turbid ellipsoids.

    Leaf-area density is the leaf area index times the crown's ground area, spread evenly over the
    ellipsoid's volume. With leaves at every angle (spherical distribution) a ray meets
    0.5 m2 of projected leaf per m2 of leaf; scattering leaves dim light as if their projection
    were smaller by the root of their absorptance.

    Source: Campbell & Norman 1998, *An Introduction to Environmental Biophysics*, ch. 15, eqs.
    15.1 (extinction) and 15.5 (square root of absorptance, after Goudriaan 1977), from memory.
    """
    centre, half, extinction, names = [], [], [], []
    for plant in habitat.plants:
        middle, axes = plant.crown
        kind = plant.type
        # LAI = density x volume / ground area; volume 4/3 pi a b c, ground area pi a b.
        density = kind.leaf_area_index / (4.0 / 3.0 * axes[2])
        absorb = (kind.absorb_uv, kind.absorb_uv, kind.absorb_par, kind.absorb_nir, 0.95)
        centre.append(middle)
        half.append(axes)
        extinction.append([0.5 * math.sqrt(a) * density for a in absorb])
        names.append(plant.name)
    return Canopies(
        np.array(centre, float).reshape(-1, 3),
        np.array(half, float).reshape(-1, 3),
        np.array(extinction, float).reshape(-1, len(BANDS)),
        tuple(names),
    )


def air_box(habitat: Habitat) -> tuple[Floats, Floats]:
    """Low and high corner of the air inside: above the ground, inside the linings [m]."""
    enclosure = habitat.enclosure
    low = np.array(
        [enclosure.lining_depth("left"), enclosure.lining_depth("front"), habitat.ground.depth]
    )
    high = np.array(enclosure.inside) - np.array(
        [enclosure.lining_depth("right"), enclosure.lining_depth("back"),
         enclosure.lining_depth("top")]
    )  # fmt: skip
    return low, high


def patch_size(habitat: Habitat) -> float:
    """Edge of a patch [m]: `PATCH`, or more where the box is so large that its sides would have more
    than `MOST_PATCHES`, since the exchange between them costs the square of their number."""
    low, high = air_box(habitat)
    x, y, z = high - low
    area = 2.0 * float(x * y + y * z + z * x)
    return max(PATCH, math.sqrt(area / MOST_PATCHES))


def lower_scene(habitat: Habitat) -> Scene:
    """Surfaces, sheets and canopies of a habitat."""
    enclosure = habitat.enclosure
    low, high = air_box(habitat)
    patch = patch_size(habitat)
    solid, thin, sheets = _Surfaces(patch), [], _SheetList()

    for panel in enclosure.panels:
        side = panel.side
        if side == "floor" and habitat.ground.layers:
            continue
        lined = [x for x in enclosure.linings if x.side == side]
        name, material = (lined[-1].name, lined[-1].material) if lined else (side, panel.material)
        if material.clear:
            for place in _panel_cells(enclosure, side, low, high, 100.0):
                sheets.add_clear(place, material, side)
        cells = _panel_cells(enclosure, side, low, high, patch)
        triangles = np.concatenate([shapes.quad(*c) for c in cells]) if cells else shapes.EMPTY
        if material.clear:
            thin.append((side, _reflect(material), triangles))
        else:
            solid.add(name, PANEL, _reflect(material), triangles)

    for opening in enclosure.openings:
        (u, v), (du, dv) = opening.at, opening.size
        place = _rectangle(
            opening.side, low, high, (u - du / 2, u + du / 2), (v - dv / 2, v + dv / 2)
        )
        cover = opening.cover
        if cover.sheet is not None:
            sheets.add_clear(place, cover.sheet, opening.name)
        elif cover.kind == "mesh":
            sheets.add_mesh(place, cover, opening.name)
        if cover.kind != "open":
            thin.append((opening.name, _cover_reflect(cover), shapes.quad(*place)))

    if habitat.ground.layers:
        us = shapes.breaks(low[0], high[0], patch)
        vs = shapes.breaks(low[1], high[1], patch)
        cells = [
            _rectangle("floor", low, high, (u0, u1), (v0, v1))
            for u0, u1 in itertools.pairwise(us)
            for v0, v1 in itertools.pairwise(vs)
        ]
        surface = habitat.ground.layers[-1].surface
        solid.add(
            "ground", GROUND, _reflect(surface), np.concatenate([shapes.quad(*c) for c in cells])
        )

    for piece in habitat.hardscape:
        solid.add(
            piece.name,
            PIECE,
            _reflect(piece.material),
            _piece_triangles(piece, patch),
            both=piece.shape == "mesh",
        )

    for bowl in habitat.water:
        width, depth = bowl.size
        rim = bowl.at[2] + 0.002
        corner = np.array([bowl.at[0] - width / 2, bowl.at[1] - depth / 2, rim])
        surface_quad = shapes.quad(corner, np.array([width, 0, 0]), np.array([0, depth, 0]))
        solid.add(bowl.name, WATER, WATER_REFLECTANCE, surface_quad)

    first_sheet = sum(len(t) for t in solid.triangles)
    for name, reflect, triangles in thin:
        solid.add(name, SHEET, reflect, triangles, both=True)

    return Scene(
        np.concatenate(solid.triangles),
        np.concatenate(solid.patch_of),
        first_sheet,
        np.concatenate(solid.centre),
        np.concatenate(solid.normal),
        np.concatenate(solid.area),
        np.concatenate(solid.reflect),
        np.concatenate(solid.kind),
        np.concatenate(solid.owner),
        tuple(solid.owners),
        np.concatenate(solid.both),
        sheets.arrays(),
        canopies_of(habitat),
        tuple(p.side for p in enclosure.panels if p.doors > 0),
    )
