"""Work on rows cut into runs that several cores take in turn.

The runs do not depend on the number of cores and each writes rows of its own, so neither do the
digits. Kernels and ray tracer let go of the interpreter while they work.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from numba import config

CORES: int = config.NUMBA_NUM_THREADS  # type: ignore[attr-defined]
"""Cores this process may use."""


def over_rows(count: int, run: int, work: Callable[[int, int], None]) -> None:
    """Call ``work(low, high)`` for consecutive rows of ``count``, at most ``run`` at a time."""
    edges = list(range(0, count, run))
    cores = min(CORES, len(edges))
    if cores <= 1:
        for low in edges:
            work(low, min(low + run, count))
        return
    with ThreadPoolExecutor(cores) as pool:
        # list() waits for all and raises what a run raised.
        list(pool.map(lambda low: work(low, min(low + run, count)), edges))
