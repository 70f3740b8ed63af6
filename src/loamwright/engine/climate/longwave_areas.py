"""Exchange areas of grey surfaces, all reflections included."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.parallel import one_thread

Floats = NDArray[np.float64]

ROUNDS = 200
"""Most rounds of fitting; a handful is enough where rays have found what there is."""


def fitted(seen: Floats, area: Floats) -> Floats:
    """Areas times view factors (S, S) [m2], made such that each row sums to its ``area`` (S,) [m2].

    ``seen`` is what rays found, symmetric, so its rows are some per cent off. Every pair is scaled by
    a factor of each of its two surfaces, which keeps it symmetric; surfaces of area 0 have no sum to
    keep. Rows that see nothing at all look at themselves.

    Source: matrix balancing, Sinkhorn & Knopp 1967, Pacific J. Math. 21:343, the symmetric case.
    """
    seen = seen.copy()
    known = area > 0.0
    alone = known & (seen.sum(axis=1) <= 0.0)
    seen[alone, alone] = area[alone]
    factor = np.ones(len(area))
    for _ in range(ROUNDS):
        row = factor * (seen @ factor)
        wrong = np.where(known, np.sqrt(area / np.where(known, row, 1.0)), 1.0)
        factor *= wrong
        if np.abs(wrong - 1.0).max() < 1e-12:
            break
    return factor[:, None] * seen * factor[None, :]


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
    with one_thread():
        sent = np.linalg.solve(np.eye(size) - reflected[:, None] * views, np.diag(emissivity))
        areas = (area * emissivity)[:, None] * (views @ sent)
    areas = 0.5 * (areas + areas.T)
    np.fill_diagonal(areas, 0.0)
    return np.maximum(areas, 0.0)
