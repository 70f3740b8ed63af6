"""How the inner loops are compiled."""

from __future__ import annotations

from functools import partial

from numba import njit

bare = partial(njit, cache=True, error_model="numpy", _nrt=False)
"""Compiler of functions that make no arrays of their own.

Counting who holds an array is left out: the caller holds all of them. With records of some eighty
arrays, that counting took more than half of a climate run's time (measured with perf). A function that
allocates, also by copying one slice onto another, is refused by the compiler.
"""
