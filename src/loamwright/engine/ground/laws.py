"""How a material holds and conducts water, all at once, for the compiled loops.

The laws are those of `physics.soil_water`; here water content, its slope, conductivity and its
slope come from one exponential and two logarithms, since this is where the engine spends its time.
Three things are added to the law of van Genuchten and Mualem:

- the residual water goes with the logarithm of the suction (`soil_water.adsorbed_release`) and
  vapour moves in the pores (`soil_water.vapour_conductivity`): without them nothing could move
  or dry in dry ground, and the equations would have no answer there;
- over the last millimetre of suction water content and conductivity run smoothly to those of full
  ground. Where n is under 2 the law itself bends infinitely sharply there, which no measurement
  shows (Vogel, van Genuchten & Cislerova 2001, Adv Water Resour 24:133) and no solver likes;
- full ground stores a little more water under pressure, and a little less under suction: air in
  it and loose grains give way. Without that, full ground between tight layers had no one head.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loamwright.physics import soil_water

GENUCHTEN, EXPONENTIAL, HAVERKAMP = 0.0, 1.0, 2.0
"""Laws; the last two are there because published solutions use them."""

(
    LAW, RESIDUAL, MOBILE, ALPHA, N, M, SATURATED, BEND, STORE, VAPOUR, TAIL,
    NEAR_LOSS, NEAR_SLOPE, NEAR_FALL, NEAR_STEEP,
) = range(15)  # fmt: skip
"""Columns of a material's row; the last four are what is lost at `NEARLY` of water content and of
conductivity, and the slopes there."""

STORAGE = 1e-4
"""Specific storage of full ground [1/m], of the order of loose soil and peat (from memory); over
10 cm of head it is a hundred-thousandth of the volume."""

NEARLY = 1e-3
"""Suction under which content and conductivity run smoothly to those of full ground [m]."""

SMOOTH_N = 3.0
"""Spread of the pore sizes from which on the law is smooth at saturation of itself [1]."""

LEAST_TAIL = 1e-4
"""Residual water that is there at least, so that dry ground has a suction [1]."""

VAPOUR_DIFFUSIVITY, VAPOUR_DENSITY = 2.55e-5, 0.0230
"""Vapour in air at 25 degC: diffusivity [m2/s] and density at saturation [kg/m3]."""

_HUMID, _DRY = soil_water.HUMID_HEAD, soil_water.DRY_HEAD


def material_row(
    residual: float,
    saturated: float,
    alpha: float,
    n: float,
    conductivity: float,
    bend: float = 0.5,
    *,
    law: float = GENUCHTEN,
    plain: bool = False,
) -> NDArray[np.float64]:
    """The row of a material, (15,); ``plain`` leaves out storage, vapour and the dry end.

    Parameters as in `soil_water`. For ``HAVERKAMP``: ``alpha`` and ``n`` are 1/scale and power of
    the water content, ``bend`` the power of the conductivity, whose 1/scale is set by the caller
    in column M.
    """
    row = np.zeros(15)
    row[LAW], row[RESIDUAL], row[MOBILE] = law, residual, saturated - residual
    row[ALPHA], row[N], row[M] = alpha, n, 1.0 - 1.0 / n
    row[SATURATED], row[BEND] = conductivity, bend
    if law == GENUCHTEN:
        content, slope, k, steep = _genuchten(-NEARLY, row)
        row[NEAR_LOSS], row[NEAR_SLOPE] = saturated - content, slope
        row[NEAR_FALL], row[NEAR_STEEP] = conductivity - k, steep
    if not plain:
        row[STORE] = STORAGE
        row[VAPOUR] = soil_water.vapour_conductivity(0.0, 1.0, VAPOUR_DIFFUSIVITY, VAPOUR_DENSITY)
        row[TAIL] = max(residual, LEAST_TAIL) / math.log(soil_water.OVEN_HEAD / _DRY)
    return row


@njit(cache=True, error_model="numpy")
def _genuchten(head, p):
    """Content, its slope, conductivity and its slope by the plain law, under suction."""
    n, m = p[N], p[M]
    v = -p[ALPHA] * head
    y = math.exp((n - 1.0) * math.log(v))
    x = y * v
    share = math.exp(-m * math.log1p(x))
    w = 1.0 / (1.0 + x)
    rise = -m * n * x * w / head  # of ln(share) with the head
    content = p[RESIDUAL] + p[MOBILE] * share
    slope = p[MOBILE] * share * rise
    closed = y * share  # (1 - share^(1/m))^m
    opened = m / x if x > 1e8 else 1.0 - closed
    bend = math.sqrt(share) if p[BEND] == 0.5 else math.exp(-m * p[BEND] * math.log1p(x))
    k = p[SATURATED] * bend * opened * opened
    return content, slope, k, k * (p[BEND] * rise - 2.0 * closed * m * n * w / (head * opened))


@njit(cache=True, error_model="numpy")
def material_at(head, p):
    """Water content, its slope [1/m], conductivity [m/s] and its slope [1/s] at a head [m]."""
    if head >= 0.0:
        return p[RESIDUAL] + p[MOBILE] + p[STORE] * head, p[STORE], p[SATURATED], 0.0
    if p[LAW] != GENUCHTEN:
        return _other_law(head, p)
    if head > -NEARLY and p[N] < SMOOTH_N:
        # Cubics with no slope at saturation that meet the law at `NEARLY`.
        t = -head / NEARLY
        one, two = t * t * (3.0 - 2.0 * t), t * t * (1.0 - t)
        d_one, d_two = 6.0 * t * (1.0 - t), t * (2.0 - 3.0 * t)
        loss, fall = p[NEAR_SLOPE] * NEARLY, p[NEAR_STEEP] * NEARLY
        content = p[RESIDUAL] + p[MOBILE] - p[NEAR_LOSS] * one + loss * two
        slope = (p[NEAR_LOSS] * d_one - loss * d_two) / NEARLY
        k = p[SATURATED] - p[NEAR_FALL] * one + fall * two
        dk = (p[NEAR_FALL] * d_one - fall * d_two) / NEARLY
    else:
        content, slope, k, dk = _genuchten(head, p)
    filled = (content - p[RESIDUAL]) / p[MOBILE]
    slope += p[STORE] * (filled + head * slope / p[MOBILE])
    content += p[STORE] * head * filled
    square = (head / _DRY) ** 2
    if square < 1e-4:
        released = 0.5 * square * (1.0 - square * (0.5 - square / 3.0))
    else:
        released = 0.5 * math.log1p(square)
    content -= p[TAIL] * released
    slope -= p[TAIL] * square / ((1.0 + square) * head)
    if p[VAPOUR] > 0.0:
        humid, drier = 1.0 + head / _HUMID, 1.0 / _HUMID
        if head < -50.0:
            humid = math.exp(head / _HUMID)
            drier = humid / _HUMID
        air = p[RESIDUAL] + p[MOBILE] - content
        k += p[VAPOUR] * humid * air
        dk += p[VAPOUR] * (air * drier - humid * slope)
    return content, slope, k, dk


@njit(cache=True, error_model="numpy")
def _other_law(head, p):
    """The exponential soil, and Haverkamp's sand."""
    if p[LAW] == EXPONENTIAL:
        share = math.exp(p[ALPHA] * head)
        content, slope = p[RESIDUAL] + p[MOBILE] * share, p[MOBILE] * p[ALPHA] * share
        return content, slope, p[SATURATED] * share, p[SATURATED] * p[ALPHA] * share
    x = (-p[ALPHA] * head) ** p[N]
    z = (-p[M] * head) ** p[BEND]
    content = p[RESIDUAL] + p[MOBILE] / (1.0 + x)
    slope = -p[MOBILE] * p[N] * x / (head * (1.0 + x) ** 2)
    k = p[SATURATED] / (1.0 + z)
    return content, slope, k, -k * p[BEND] * z / (head * (1.0 + z))


@njit(cache=True, error_model="numpy")
def head_of_share(share, p):
    """Head at an effective saturation under 1 [m]."""
    return -((share ** (-1.0 / p[M]) - 1.0) ** (1.0 / p[N])) / p[ALPHA]
