"""Small scenes and lamps that tests build directly, without a file."""

from __future__ import annotations

from typing import Any

import numpy as np

from loamwright.engine import shapes
from loamwright.engine.lower import PATCH, _SheetList, _Surfaces
from loamwright.engine.scene import PANEL, Canopies, Scene
from loamwright.habitat.catalogue import Cover, LampType, Material
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.sources import Source, SourceKind

INVENTED = {"*": Source("invented for a test", SourceKind.FROM_MEMORY)}
PER_WATT = {"uvi": (40.0, 0.0, 0.0, 0.0, 0.0), "ppfd": (0.0, 0.0, 4.6, 0.0, 0.0)}


def lamp_type(shape: str, **geometry: Any) -> LampType:
    return LampType(
        key="invented", label="invented", sources=INVENTED, shape=shape, power=10.0,
        band_watts=(1.0, 1.0, 1.0, 1.0, 1.0), per_watt=PER_WATT, **geometry,
    )  # fmt: skip


def lamp(kind: LampType, at, aim=(0.0, 0.0, -1.0), along=(1.0, 0.0, 0.0)) -> Lamp:
    return Lamp("lamp", kind, tuple(at), tuple(aim), tuple(along))


def material(reflect: float = 0.5, **other) -> Material:
    return Material(
        key="invented", label="invented", sources=INVENTED, reflect_uv=reflect,
        reflect_par=reflect, reflect_nir=reflect, **other,
    )  # fmt: skip


def mesh_cover(pitch: float, wire: float) -> Cover:
    return Cover(key="mesh", label="mesh", sources=INVENTED, kind="mesh", pitch=pitch, wire=wire)


def no_canopies() -> Canopies:
    return Canopies(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 5)), ())


def scene(
    parts: list[tuple[str, float, np.ndarray]],
    sheets: _SheetList | None = None,
    canopies: Canopies | None = None,
) -> Scene:
    """A scene of named opaque parts (name, reflectance, triangles)."""
    s = _Surfaces()
    for name, reflect, triangles in parts:
        s.add(name, PANEL, (reflect,) * 3, triangles)
    return Scene(
        np.concatenate(s.triangles), np.concatenate(s.patch_of), sum(map(len, s.triangles)),
        np.concatenate(s.centre), np.concatenate(s.normal), np.concatenate(s.area),
        np.concatenate(s.reflect), np.concatenate(s.kind), np.concatenate(s.owner),
        tuple(s.owners), np.concatenate(s.both), (sheets or _SheetList()).arrays(),
        canopies or no_canopies(),
    )  # fmt: skip


def room(
    width: float, depth: float, height: float, reflect: float
) -> tuple[str, float, np.ndarray]:
    """An empty closed box seen from inside."""
    triangles = shapes.box(np.zeros(3), np.array([width, depth, height]), PATCH)
    return ("room", reflect, triangles[:, ::-1])


def far_floor() -> tuple[str, float, np.ndarray]:
    """A black floor far below, for scenes that only want straight light."""
    corner = np.array([-50.0, -50.0, -50.0])
    return ("floor", 0.0, shapes.quad(corner, np.array([1.0, 0, 0]), np.array([0, 1.0, 0])))
