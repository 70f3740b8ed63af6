"""Published flow problems run through the ground engine; lengths in cm as their sources have them."""

from __future__ import annotations

import functools
from dataclasses import replace

import numpy as np

from loamwright.engine.ground import laws
from loamwright.engine.ground.column import (
    OPEN_HOLE,
    Column,
    Porous,
    Slab,
    build_column,
)
from loamwright.engine.ground.run import ColumnResult, rest_over, run_column, state_at
from loamwright.physics.infiltration import steady_exponential_head

CELIA = Porous(0.102, 0.368, 3.35, 2.0, 0.00922e-2)
DAY, HOUR = 86400.0, 3600.0


@functools.cache
def celia_run() -> tuple[Column, ColumnResult]:
    """A metre of dry soil, its surface held at -75 cm for a day."""
    column = build_column([Slab("soil", 1.0, CELIA)], finest=1.0 / 500, even=True)
    result = run_column(
        column, np.array([0.0, DAY]), 0.0, 0.0, 0.0, state_at(column, -10.0), DAY,
        top_head=-0.75, bottom_head=-10.0, tolerance=1e-5,
    )  # fmt: skip
    return column, result


def celia_heads(depths: list[float]) -> list[float]:
    column, result = celia_run()
    return list(100.0 * np.interp(1.0 - np.array(depths) / 100.0, column.height, result.head[-1]))


def celia_front(head: float) -> float:
    """Depth at which the head is this."""
    column, result = celia_run()
    wet = result.head[-1] > head / 100.0
    i = int(np.flatnonzero(wet)[0])
    low, high = result.head[-1][i - 1], result.head[-1][i]
    height = np.interp(head / 100.0, [low, high], [column.height[i - 1], column.height[i]])
    return float(100.0 * (1.0 - height))


def celia_gain() -> float:
    """Water gained over the day."""
    _, result = celia_run()
    return float(100.0 * (result.stored[-1] - result.stored[0]))


def celia_balance() -> float:
    """Water gained over what came in and did not go out."""
    _, result = celia_run()
    gain = result.stored[-1] - result.stored[0]
    return float(gain / (result.supplied[-1] - result.drained[-1]))


@functools.cache
def sand_run() -> tuple[Column, ColumnResult]:
    """Haverkamp's sand, 40 cm, its surface held at -20.7 cm for 360 s."""
    row = laws.material_row(
        0.075, 0.287, 100.0 / 1.611e6 ** (1 / 3.96), 3.96, 0.00944e-2, 4.74,
        law=laws.HAVERKAMP, plain=True,
    )  # fmt: skip
    row[laws.M] = 100.0 / 1.175e6 ** (1 / 4.74)
    column = build_column([Slab("sand", 0.4, CELIA)], finest=0.4 / 320, even=True)
    column = replace(column, table=row[None, :])
    result = run_column(
        column, np.array([0.0, 360.0]), 0.0, 0.0, 0.0, state_at(column, -0.615), 360.0,
        top_head=-0.207, bottom_head=-0.615, tolerance=1e-5,
    )  # fmt: skip
    return column, result


def sand_heads(depths: list[float]) -> list[float]:
    column, result = sand_run()
    return list(100.0 * np.interp(0.4 - np.array(depths) / 100.0, column.height, result.head[-1]))


def sand_gain() -> float:
    _, result = sand_run()
    return float(100.0 * (result.stored[-1] - result.stored[0]))


@functools.cache
def wetting_run(nodes: int) -> tuple[Column, ColumnResult]:
    """Exponential soil over a water table; the flow steps from 0.1 to 0.9 cm/h for an hour."""
    k = 0.01 / HOUR
    row = laws.material_row(0.06, 0.40, 10.0, 2.0, k, law=laws.EXPONENTIAL, plain=True)
    column = build_column([Slab("soil", 1.0, CELIA)], finest=1.0 / nodes, even=True)
    column = replace(column, table=row[None, :])
    heads = [steady_exponential_head(z, 0.1 * k, k, 10.0) for z in column.height]
    start = state_at(column, np.array(heads))
    result = run_column(
        column, np.array([0.0, HOUR]), 0.9 * k, 0.0, 0.0, start, HOUR,
        bottom_head=0.0, tolerance=1e-6,
    )  # fmt: skip
    return column, result


def wetting_heads(heights: list[float]) -> list[float]:
    column, result = wetting_run(200)
    return list(100.0 * np.interp(np.array(heights) / 100.0, column.height, result.head[-1]))


def wetting_gain() -> float:
    _, result = wetting_run(200)
    return float(100.0 * (result.stored[-1] - result.stored[0]))


def drained_pot(depth: float, residual: float, saturated: float, alpha: float, n: float) -> float:
    """Mean water content of a pot that was full and has drained through a hole for two months.

    A conductivity of 1e-4 m/s stands for any: at rest it has no say.
    """
    porous = Porous(residual, saturated, 100.0 * alpha, n, 1e-4)
    column = build_column([Slab("pot", depth / 100.0, porous)], bottom=OPEN_HOLE)
    time = np.array([0.0, 60.0 * DAY])
    result = run_column(column, time, 0.0, 0.0, 0.0, rest_over(column, column.depth), 60.0 * DAY)
    return float(result.stored[-1] / column.depth)


def drained_pots(
    depths: list[float], residual: float, saturated: float, alpha: float, n: float
) -> list[float]:
    return [drained_pot(d, residual, saturated, alpha, n) for d in depths]
