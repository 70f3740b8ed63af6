"""Whether a point lies in a solid piece."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.model import LightModel

Floats = NDArray[np.float64]


def inside_solid(model: LightModel, points: Floats) -> NDArray[np.bool_]:
    """True for points (N, 3) inside a solid piece: from there most ways lead to a surface's back."""
    votes = np.zeros(len(points), int)
    for way in ((0.1, 0.2, 0.97), (0.7, -0.6, 0.4), (-0.5, 0.7, -0.5)):
        direction = np.array(way) / np.linalg.norm(way)
        rays = np.tile(direction.astype(np.float32), (len(points), 1))
        hit, _ = model.view.solid.first(points.astype(np.float32), rays)
        back = model.view.facing[np.maximum(hit, 0)] @ direction > 0
        votes += (hit >= 0) & back
    return votes >= 2
