"""What can be read off a column at known heads: by slice, by layer, at the top and on the floor.

Every function takes heads of one time (N,) or of many (R, N) and answers in kind.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import njit

from loamwright.engine.ground.column import Column, Floats
from loamwright.engine.ground.laws import MOBILE, RESIDUAL, material_at


@njit(cache=True)
def _slice_contents(heads: Any, material: Any, table: Any) -> Any:
    """Mean water content of each slice: what its two halves hold."""
    records, nodes = heads.shape
    out = np.zeros((records, nodes - 1))
    for r in range(records):
        for e in range(nodes - 1):
            p = table[material[e]]
            below, _, _, _ = material_at(min(heads[r, e], 0.0), p)
            above, _, _, _ = material_at(min(heads[r, e + 1], 0.0), p)
            # Oven-dry ground may fall short of nothing by the least that the law keeps back.
            out[r, e] = max(0.0, 0.5 * (below + above))
    return out


def slice_content(column: Column, head: Floats) -> Floats:
    """Water content of the slices [1], (..., N-1)."""
    many = np.atleast_2d(np.asarray(head, dtype=float))
    out: Floats = _slice_contents(many, column.material, column.table)
    return out.reshape((*np.shape(head)[:-1], out.shape[-1]))


def slice_pores(column: Column) -> Floats:
    """Water content of the slices when full [1], (N-1,)."""
    full: Floats = (column.table[:, RESIDUAL] + column.table[:, MOBILE])[column.material]
    return full


def layer_content(column: Column, head: Floats) -> Floats:
    """Mean water content of the layers [1], (..., K)."""
    return _by_layer(column, slice_content(column, head) * column.length)


def layer_air(column: Column, head: Floats) -> Floats:
    """Mean air-filled porosity of the layers [1], (..., K)."""
    air = slice_pores(column) - slice_content(column, head)
    return _by_layer(column, np.maximum(air, 0.0) * column.length)


def layer_flooded(column: Column, head: Floats) -> Floats:
    """Share of each layer's depth that is under water: no suction [1], (..., K)."""
    heads = np.asarray(head, dtype=float)
    low, high = heads[..., :-1], heads[..., 1:]
    fall = np.where(low != high, low - high, 1.0)
    part = np.where(low >= 0.0, np.where(high >= 0.0, 1.0, low / fall), 0.0)
    part = np.where((low < 0.0) & (high >= 0.0), high / -fall, part)
    return _by_layer(column, part * column.length)


def layer_suction(column: Column, head: Floats) -> Floats:
    """Mean suction of the layers, none where under water [m], (..., K)."""
    heads = np.minimum(np.asarray(head, dtype=float), 0.0)
    return _by_layer(column, -0.5 * (heads[..., 1:] + heads[..., :-1]) * column.length)


def _by_layer(column: Column, amounts: Floats) -> Floats:
    """Amounts of the slices, summed by layer, over its depth."""
    layers = len(column.names)
    belongs = (column.material[:, None] == np.arange(layers)).astype(float)
    sums: Floats = amounts @ belongs
    return sums / np.diff(column.faces)


def standing_depth(column: Column, head: Floats) -> Floats:
    """Depth of the water that stands on the floor: up to where suction begins, and what stands on
    the surface of drowned ground with it [m], (...)."""
    heads = np.atleast_2d(np.asarray(head, dtype=float))
    out = np.zeros(len(heads))
    for r, h in enumerate(heads):
        dry = np.flatnonzero(h < 0.0)
        if len(dry) == 0:
            out[r] = column.depth + h[-1]
        elif dry[0] > 0:
            i = dry[0] - 1
            out[r] = column.height[i] + column.length[i] * h[i] / (h[i] - h[i + 1])
    return out.reshape(np.shape(head)[:-1])


def top_saturation(column: Column, head: Floats, depth: float = 0.05) -> Floats:
    """Water over pores in the uppermost ground [1], (...); what ground resistance asks for."""
    bottom = column.depth - depth
    inside = np.clip(column.height[1:] - bottom, 0.0, column.length)
    water = slice_content(column, head) @ inside
    share: Floats = np.minimum(1.0, water / (slice_pores(column) @ inside))
    return share


def surface_suction(head: Floats) -> Floats:
    """Suction at the surface [m], (...); none where water stands on it."""
    out: Floats = np.maximum(-np.asarray(head, dtype=float)[..., -1], 0.0)
    return out
