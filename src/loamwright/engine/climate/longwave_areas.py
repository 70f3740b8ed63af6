"""Exchange areas of grey surfaces, all reflections included."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def grey_areas(seen: Floats, area: Floats, emissivity: Floats) -> Floats:
    """Areas G (S, S) [m2] with which surfaces exchange sigma (Tj^4 - Ti^4).

    ``seen`` (S, S) area times view factor, symmetric, rows summing to ``area`` (S,) [m2];
    ``emissivity`` (S,). Surfaces of no area exchange nothing.

    Source: net radiation method, Hottel & Sarofim 1967; the same as
    `physics.longwave.enclosure_exchange`, by one matrix solution.
    """
    size = len(area)
    views = seen / np.maximum(area, 1e-12)[:, None]
    reflected = 1.0 - emissivity
    sent = np.linalg.solve(np.eye(size) - reflected[:, None] * views, np.diag(emissivity))
    areas = (area * emissivity)[:, None] * (views @ sent)
    areas = 0.5 * (areas + areas.T)
    np.fill_diagonal(areas, 0.0)
    return np.maximum(areas, 0.0)
