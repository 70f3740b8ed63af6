"""Compile the ground's loops once."""

from __future__ import annotations

import numpy as np

from loamwright.engine.ground import readings
from loamwright.engine.ground.column import OPEN_HOLE, Litter, Porous, Slab, build_column
from loamwright.engine.ground.run import rest_over, run_column


def warm_ground() -> None:
    """Run a small column with everything in it for an hour."""
    coarse = Porous(0.0, 0.9, 200.0, 3.0, 1e-2)
    fine = Porous(0.1, 0.8, 30.0, 1.5, 1e-3)
    column = build_column(
        [Slab("below", 0.02, coarse), Slab("above", 0.05, fine)],
        litter=Litter(1e-3, 0.3), bottom=OPEN_HOLE, rooting=0.04,
    )  # fmt: skip
    times = np.array([0.0, 60.0, 3600.0])
    result = run_column(
        column, times, np.array([1e-5, 0.0]), 1e-8, 1e-8, rest_over(column, -0.3), 3600.0
    )
    readings.layer_content(column, result.head)
