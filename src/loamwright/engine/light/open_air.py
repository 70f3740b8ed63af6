"""A lamp alone in the dark: straight light with nothing in the way, as a meter on a bench sees it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light import kernels
from loamwright.engine.light.emitters import emitter_of
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.equipment import Lamp

Floats = NDArray[np.float64]


def beside_lamp(kind: LampType, distance: Floats, aside: Floats, along: Floats) -> Floats:
    """Irradiance per watt in each band on a meter turned toward the lamp's middle, (N, 5) [1/m2].

    ``distance`` (N,) in front of the lamp [m], ``aside`` (N,) across its long axis and ``along``
    (N,) along it [m].
    """
    emitter = emitter_of(Lamp(kind.label, kind, (0.0, 0.0, 0.0), (0.0, 0.0, -1.0)))
    points = np.column_stack([along, aside, -distance])
    normals = -points / np.linalg.norm(points, axis=1, keepdims=True)
    passed = np.ones((len(points), len(emitter.sample), kernels.BANDS), np.float32)
    return kernels.irradiance(
        points, np.arange(len(points)), normals, passed,
        emitter.kind, emitter.start, emitter.line, emitter.length, emitter.normal,
        emitter.radius, emitter.weight, emitter.first, emitter.pieces, emitter.table, emitter.narrow,
    )  # fmt: skip
