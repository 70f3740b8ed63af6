"""The pressure inside at which as much air leaves as enters, and the flow through each path."""

from __future__ import annotations

import math

from numba import njit

from loamwright.engine.climate.network import FAN_IN, PASSIVE
from loamwright.engine.compiled import bare
from loamwright.physics import airflow, fans

_orifice = njit(cache=True)(airflow.quadratic_flow)
_fan_point = njit(cache=True)(fans.operating_flow)

GRAVITY = airflow.GRAVITY

MOST = 200.0
"""Largest pressure inside over the room, either way [Pa]; the strongest fan of the catalogue makes
less."""

CLOSED = 1e-12
"""Air that may be missing [m3/s]: at 300 K it carries 4e-7 W."""

MOST_TRIES = 120


@bare(forceinline=True)
def outflows(net, force, density_in, density_out, work):
    """Volume flow out through each path [m3/s] (negative: in), written into ``work.flow`` (P+1,),
    whose last number keeps the pressure; returns the pressure inside over outside at the ground [Pa]
    at which in and out are equal. ``density_in`` (layers,) and ``density_out`` [kg/m3]."""
    flow, lean = work.flow, work.lean
    paths = len(net.path_kind)
    dz, layers = net.dz, net.layers
    for p in range(paths):
        z = net.path_height[p]
        weight = 0.0
        for k in range(layers):
            part = min(max(z - k * dz, 0.0), dz)
            weight += part * density_in[k]
        # The head outside is of the room's air, also below the ground's level.
        lean[p] = GRAVITY * (density_out * z - weight) if z > 0.0 else 0.0
    low, high = -MOST, MOST
    step, before = 2.0 * MOST, 2.0 * MOST
    # The pressure of the last call is a good first guess for this one.
    middle = flow[paths]
    for _ in range(MOST_TRIES):
        total = 0.0
        slope = 0.0
        for p in range(paths):
            difference = middle + lean[p]
            kind = net.path_kind[p]
            speed = force.speed[p]
            if kind == PASSIVE:
                if speed == 0.0:
                    flow[p] = 0.0
                    continue
                q = speed * _orifice(difference, net.path_linear[p], net.path_square[p])
                rise = net.path_linear[p] + 2.0 * net.path_square[p] * abs(q)
                slope += speed / max(rise, 1e-3)
            elif speed > 0.0:
                help_ = -difference if kind == FAN_IN else difference
                shut = net.fan_shut[p] * speed * speed
                q = _fan_point(shut, net.fan_linear[p] * speed, net.fan_square[p],
                               net.path_linear[p], net.path_square[p], help_)  # fmt: skip
                rise = (net.path_linear[p] - net.fan_linear[p] * speed
                        + 2.0 * (net.path_square[p] - net.fan_square[p]) * q)  # fmt: skip
                if q > 0.0:
                    slope += 1.0 / max(rise, 1e-3)
                q = -q if kind == FAN_IN else q
            else:
                square = net.path_square[p] + net.fan_idle[p]
                q = _orifice(difference, net.path_linear[p], square)
                slope += 1.0 / max(net.path_linear[p] + 2.0 * square * abs(q), 1e-3)
            flow[p] = q
            total += q
        if abs(total) < CLOSED:
            break
        if total > 0.0:
            high = middle
        else:
            low = middle
        # Newton's step, unless it leaves the bracket or is more than half the step before the last.
        newton = total / slope if slope > 0.0 else math.inf
        if abs(newton) > 0.5 * abs(before) or not low < middle - newton < high:
            newton = middle - 0.5 * (low + high)
        before = step
        step = newton
        middle -= step
    flow[paths] = middle
    return middle
