"""One step of a stiff run: the second-order Runge-Kutta-Chebyshev method.

The network's rates reach from a second (air) to days (ground). The method is explicit, so nothing is
linearised or split and what is summed in the ledger is exactly what the nodes exchange; its region
of stability grows with the square of its stages, so a minute costs some ten evaluations.

Source: Sommeijer, Shampine & Verwer 1997, J. Comput. Appl. Math. 88:315 (RKC), second order; strong
damping as in Verwer, Sommeijer & Hundsdorfer 2004, J. Comput. Phys. 201:61, for rates that swing
(air that is stirred by its own moisture): stable for real rates up to `REACH` (stages^2 - 1) over
the step, and in a strip about them half as wide as there are stages.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.rates import rates

DAMPING, REACH = 10.0, 0.34
MOST_STAGES = 40

ALLOWED = 1.3
"""A step is good while no stage's rate is above this times the one its stages were chosen for."""

ALLOWED_ERROR = (0.15, 2e-4, 0.15, 0.15, 1e-2, 0.5, 0.15)
"""Errors of a step that are allowed: of air [K], vapour [kg/m3] (0.3 % of humidity at 20 degC), solids
and leaves [K], films [kg/m2], lamp bodies [K], and all of a place [K and kg/m2]."""

LEAST_STEP = 1.0
"""No step is made shorter than this for its error [s]."""

SPRAY_STEP = 10.0
"""Longest step while it mists [s]: drops dry by the air's lack and cool it, which swings."""


@njit(cache=True)
def advance(net, force, y, span, flow, work, scratch):
    """Carry the state ``y`` on by ``span`` seconds under constant forcing; ``scratch`` (6, len(y)).

    Returns the number of evaluations of the rates.
    """
    at = offsets(net)
    start, begin, end = scratch[0], scratch[4], scratch[5]
    left = span
    take = span
    bound = rates(net, force, y, start, flow, work)
    calls = 1
    while left > 1e-9:
        take = min(take, left)
        if force.mist > 0.0:
            take = min(take, SPRAY_STEP)
        while True:
            stages = 2 + int(math.sqrt(1.0 + take * bound / REACH))
            if stages > MOST_STAGES:
                stages = MOST_STAGES
                take = REACH * (stages * stages - 1.0) / bound
            fastest = _one(net, force, y, take, stages, flow, work, scratch)
            calls += stages - 1
            wrong = 0.0
            if fastest <= ALLOWED * bound:
                known = rates(net, force, y, end, flow, work)
                calls += 1
                wrong = _error(at, begin, y, start, end, take)
                if wrong <= 1.0 or take <= LEAST_STEP:
                    break
            # Too long, or stirring has quickened within the step: take it back, try a shorter one.
            for i in range(len(y)):
                y[i] = begin[i]
            bound = max(bound, min(fastest, 4.0 * bound))
            take *= max(0.2, min(0.5, 0.8 * wrong ** (-1.0 / 3.0))) if wrong > 0.0 else 0.5
        for i in range(len(y)):
            start[i] = end[i]
        bound = max(known, 0.5 * fastest)
        left -= take
        take *= min(4.0, 0.8 * max(wrong, 1e-3) ** (-1.0 / 3.0))
    return calls


@njit(cache=True)
def _error(at, old, new, start, end, h):
    """Estimated error of a step of ``h`` seconds over what is allowed (Sommeijer et al., eq. 2.9)."""
    worst = 0.0
    for part in range(7):
        allowed = ALLOWED_ERROR[part]
        for i in range(at[part], at[part + 1]):
            error = 0.8 * (old[i] - new[i]) + 0.4 * h * (start[i] + end[i])
            worst = max(worst, abs(error) / allowed)
    return worst


@njit(cache=True)
def _one(net, force, y, h, s, flow, work, scratch):
    w0 = 1.0 + DAMPING / (s * s)
    first = math.sqrt(w0 * w0 - 1.0)
    angle = s * math.log(w0 + first)
    slope = s * math.sinh(angle) / first
    bend = (s * s * math.cosh(angle) - w0 * slope) / (first * first)
    w1 = slope / bend
    rate0, before, now, rate, begin = scratch[0], scratch[1], scratch[2], scratch[3], scratch[4]
    size = len(y)
    # Chebyshev polynomials and their derivatives at w0, by recurrence.
    t0, t1, d0, d1, e0, e1 = 1.0, w0, 0.0, 1.0, 0.0, 0.0
    b_two = _weight(2, w0)
    b_before, b_now = b_two, b_two
    mu = w1 * b_two
    for i in range(size):
        begin[i] = y[i]
        before[i] = y[i]
        now[i] = y[i] + mu * h * rate0[i]
    a_now = 1.0 - b_now * w0
    fastest = 0.0
    for _ in range(2, s + 1):
        t2 = 2.0 * w0 * t1 - t0
        d2 = 2.0 * w0 * d1 - d0 + 2.0 * t1
        e2 = 2.0 * w0 * e1 - e0 + 4.0 * d1
        b = e2 / (d2 * d2)
        m = 2.0 * b * w0 / b_now
        v = -b / b_before
        mt = 2.0 * b * w1 / b_now
        g = -a_now * mt
        fastest = max(fastest, rates(net, force, now, rate, flow, work))
        if not fastest < 1e3:
            return 1e3
        for i in range(size):
            following = (1.0 - m - v) * begin[i] + m * now[i] + v * before[i]
            following += h * (mt * rate[i] + g * rate0[i])
            before[i] = now[i]
            now[i] = following
        b_before, b_now = b_now, b
        a_now = 1.0 - b * t2
        t0, t1, d0, d1, e0, e1 = t1, t2, d1, d2, e1, e2
    for i in range(size):
        y[i] = now[i]
    return fastest


@njit(cache=True)
def _weight(j, w0):
    t0, t1, d0, d1, e0, e1 = 1.0, w0, 0.0, 1.0, 0.0, 0.0
    for _ in range(2, j + 1):
        t2 = 2.0 * w0 * t1 - t0
        d2 = 2.0 * w0 * d1 - d0 + 2.0 * t1
        e2 = 2.0 * w0 * e1 - e0 + 4.0 * d1
        t0, t1, d0, d1, e0, e1 = t1, t2, d1, d2, e1, e2
    return e1 / (d1 * d1)


@njit(cache=True)
def scratch_for(size):
    """Scratch space for `advance`."""
    return np.empty((6, size))
