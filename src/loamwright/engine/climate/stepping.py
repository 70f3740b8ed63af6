"""One step of a stiff run: a Rosenbrock method of second order whatever its matrix is.

The network's rates reach from a tenth of a second (stirred air) to days (ground). A step evaluates the
rates twice and solves a linear system twice (`slopes`) that knows what is stiff; what it leaves out
costs accuracy, not order. Sums are kept: what nodes give up, others or the ledger get.

Source: ROS2 of Verwer, Spee, Blom & Hundsdorfer 1999, SIAM J. Sci. Comput. 20:1456, eq. 2.3, with
gamma = 1 - 1/sqrt(2): L-stable where the matrix is exact.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.rates import rates
from loamwright.engine.climate.slopes import Factors, factor, factors_for, solve
from loamwright.engine.compiled import bare

Floats = NDArray[np.float64]

GAMMA = 1.0 - math.sqrt(0.5)

ALLOWED_ERROR = (0.25, 8e-5, 0.3, 0.3, 2e-2, 2.0, 0.4)
"""Differences between the step and one of first order that are allowed: of air [K], vapour [kg/m3]
(0.5 % of humidity at 20 degC), solids and leaves [K], films [kg/m2], lamp bodies [K], and all of a
place [K and kg/m2]. What is left over is some tenth of it."""

LEAST_STEP = 0.25
"""No step is made shorter than this for its error [s]."""

SPRAY_STEP = 5.0
"""Longest step while it mists [s]: drops dry by the air's lack and cool it, which swings."""


class Desk(NamedTuple):
    """Room for a step: ``begin`` the state before it, ``one`` and ``two`` its increments, and the
    ``factors`` of its system."""

    begin: Floats
    one: Floats
    two: Floats
    factors: Factors


@njit(cache=True, error_model="numpy")
def desk_for(net, size):
    """Room for steps of a state of so many numbers."""
    return Desk(np.zeros(size), np.zeros(size), np.zeros(size), factors_for(net))


@bare()
def advance(net, force, y, span, work, desk):
    """Carry the state ``y`` on by ``span`` seconds under constant forcing.

    Returns the number of evaluations of the rates.
    """
    left, take = span, span
    calls = 0
    while left > 1e-9:
        take = min(take, left)
        if force.mist > 0.0:
            take = min(take, SPRAY_STEP)
        wrong = step(net, force, y, take, work, desk)
        calls += 2
        if not wrong <= 1.0 and take > LEAST_STEP:
            for i in range(len(y)):
                y[i] = desk.begin[i]
            shorter = max(0.15, 0.7 / math.sqrt(wrong)) if wrong < 1e4 else 0.1
            take = max(LEAST_STEP, take * shorter)
            continue
        left -= take
        take *= min(5.0, 0.7 / math.sqrt(max(wrong, 1e-3)))
    return calls


@bare(forceinline=True)
def step(net, force, y, h, work, desk):
    """One step of ``h`` seconds; returns its error over what is allowed (not a number if it failed)."""
    at = offsets(net)
    begin, one, two = desk.begin, desk.one, desk.two
    c = GAMMA * h
    for i in range(len(y)):
        begin[i] = y[i]
    for stage in range(2):
        rates(net, force, y, two, work)
        if stage == 0:
            factor(net, work, y, c, desk.factors)
        for i in range(len(y)):
            two[i] = h * two[i] - (2.0 * one[i] if stage == 1 else 0.0)
        solve(net, c, desk.factors, two)
        if stage == 0:
            for i in range(len(y)):
                one[i] = two[i]
                y[i] = begin[i] + one[i]
    for i in range(len(y)):
        y[i] = begin[i] + 1.5 * one[i] + 0.5 * two[i]
    return _error(at, one, two)


@bare(forceinline=True)
def _error(at, one, two):
    """Difference to the step of first order over what is allowed; not a number where one is not."""
    worst = 0.0
    for part in range(7):
        allowed = ALLOWED_ERROR[part]
        for i in range(at[part], at[part + 1]):
            error = abs(0.5 * (one[i] + two[i])) / allowed
            if not error <= worst:
                worst = error
                if math.isnan(error):
                    return error
    return worst
