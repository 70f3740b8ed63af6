"""Work on rows cut into runs that several cores take in turn.

The runs do not depend on the number of cores and each writes rows of its own, so neither do the
digits. Kernels and ray tracer let go of the interpreter while they work.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import AbstractContextManager
from functools import cache
from typing import Any

import scipy.linalg  # noqa: F401  (its library of matrix products is to be found by `_libraries`)
from numba import config
from threadpoolctl import ThreadpoolController

CORES: int = config.NUMBA_NUM_THREADS  # type: ignore[attr-defined]
"""Cores this process may use."""


@cache
def _libraries() -> ThreadpoolController:
    """The libraries of matrix products; to look for them takes longer than many a product."""
    return ThreadpoolController()


def one_thread() -> AbstractContextManager[Any]:
    """Matrix products within use one thread: the sums inside of them must not depend on how many there
    are, and threads that wait for each other on a busy machine take ten times as long."""
    found: AbstractContextManager[Any] = _libraries().limit(limits=1)
    return found


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
