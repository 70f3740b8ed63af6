"""How far the slow parts of a network are from the day that repeats itself.

Over a whole day the network behaves nearly like a steady one: what a node gains from one midnight
to the next is a flow that a steady shift of all temperatures would carry off. The shift is found from
conductances at small differences, so it is a step of Newton's method with an approximate slope; the
day is then run again, and only a day that repeats itself is used.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lu_factor, lu_solve

from loamwright.engine.climate.air_film import LEAST_FILM, SIGMA
from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.network import LEAF, WATER, Net
from loamwright.engine.light.parallel import one_thread

Floats = NDArray[np.float64]

DAY = 86400.0
MEAN = 296.0
"""Temperature at which radiation is made linear [K]."""

SMALL_EXCESS = 2.0
"""Excess of surfaces over air for which convection is taken [K]."""

STIR = 0.004
"""Eddy diffusivity between cells taken for a day's mean [m2/s]."""

MOST_LEFT = 0.9
"""Share of a difference of films that a day leaves, at most."""

PLACE_LOSS = 9.0
"""What a place loses to all above it, radiation included [W/(m2 K)]."""

WET_LOSS = 0.6
"""What evaporation adds to the convection of moist ground and water, as a share of it: about the
psychrometric slope over resistance; only the speed of settling hangs on it."""


def steady_solver(net: Net, inflow: Floats) -> tuple[Floats, NDArray[np.int32]]:
    """Factors of the steady network of air cells, solids and leaves; ``inflow`` (N,) mean volume flow
    that enters each cell from the room [m3/s]."""
    n, m, leaf = len(net.volume), len(net.store), len(net.leaf)
    size = n + m + leaf
    k = np.zeros((size, size))
    spot = np.empty(len(net.area), int)
    for a in range(len(net.area)):
        if a < net.solids:
            spot[a] = n + net.first[a]
        elif net.wetting[a] == LEAF:
            spot[a] = n + m + a - net.solids
        else:
            spot[a] = -1

    def tie(i: int, j: int, worth: float) -> None:
        k[i, i] += worth
        k[j, j] += worth
        k[i, j] -= worth
        k[j, i] -= worth

    radiant = 4.0 * SIGMA * MEAN**3
    for a in range(len(net.area)):
        if spot[a] < 0:
            continue
        h = LEAST_FILM + net.free[a] * SMALL_EXCESS**0.25
        tie(int(spot[a]), int(net.cell[a]), h * net.area[a])
        if net.wetting[a] == WATER or (net.wetting[a] == LEAF):
            k[spot[a], spot[a]] += WET_LOSS * h * net.area[a]
        for b in range(a + 1, len(net.area)):
            worth = radiant * net.exchange[a, b]
            if spot[b] >= 0:
                tie(int(spot[a]), int(spot[b]), worth)
            else:
                k[spot[a], spot[a]] += worth
    for a in range(net.solids):
        begin, end = net.first[a], net.first[a + 1]
        for node in range(begin, end):
            if node + 1 < end:
                tie(n + node, n + node + 1, net.link[node])
            else:
                k[n + node, n + node] += net.link[node]
    for (one, two), worth in zip(net.tied, net.tie, strict=True):
        tie(n + int(one), n + int(two), float(worth))
    for i in range(n):
        k[i, i] += net.heat * inflow[i] + 1e-6
        if (i + 1) % net.columns:
            tie(i, i + 1, net.heat * 10 * STIR * net.dz * net.depth / net.dx)
        if i + net.columns < n:
            tie(i, i + net.columns, net.heat * STIR * net.dx * net.depth / net.dz)
    with one_thread():
        return lu_factor(k, overwrite_a=True, check_finite=False)


def mean_inflow(net: Net, flows: Floats) -> Floats:
    """Mean volume flow from the room into each cell over recorded flows (R, P) [m3/s]."""
    entering = np.maximum(-flows, 0.0).mean(axis=0)
    return entering @ net.path_cells


def shift(net: Net, factors: tuple[Floats, NDArray], before: Floats, after: Floats) -> Floats:
    """Change of all temperatures that would carry off what a day left behind, in the state's order
    (air, solids, leaves); zero elsewhere."""
    at = offsets(net)
    n = len(net.volume)
    gained = np.concatenate([
        (after[:n] - before[:n]) * net.volume * net.heat,
        (after[at[2] : at[3]] - before[at[2] : at[3]]) * net.store,
        (after[at[3] : at[4]] - before[at[3] : at[4]]) * net.leaf_store,
    ])  # fmt: skip
    found = lu_solve(factors, gained / DAY, check_finite=False)
    out = np.zeros(len(before))
    out[:n] = found[:n]
    out[at[2] : at[4]] = found[n:]
    for z in range(len(net.site_on)):
        if net.site_on[z] >= 0:
            begin, end = net.site_first[z], net.site_first[z + 1]
            mine = slice(at[6] + begin, at[6] + end)
            above = net.site_cells[z] @ out[:n]
            gained = after[mine] - before[mine]
            out[mine] = _under(net, begin, end, gained, float(above), net.site_back[z])
    return out


def film_shift(net: Net, films: Floats) -> Floats:
    """Change of the films (S,) [kg/m2] that would make a day dry what it wets; ``films`` (R, S) those
    of the day.

    A film dries by the share of the surface it covers, so what is left of a difference after a day
    is found from what dried and how much there was.
    """
    gained = films[-1] - films[0]
    dried = np.maximum(-np.diff(films, axis=0), 0.0).sum(axis=0)
    mean = films.mean(axis=0)
    left = np.minimum(np.exp(-dried / np.maximum(mean, 1e-9)), MOST_LEFT)
    return np.clip(films[-1] + gained * left / (1.0 - left), 0.0, net.capacity) - films[-1]


def _under(net: Net, begin: int, end: int, gained: Floats, above: float, back: float) -> Floats:
    """Shift of a place's own nodes, the air shifted by ``above`` [K]; ``back`` as in the network."""
    size = end - begin
    k = np.zeros((size, size))
    load = gained * net.site_store[begin:end] / DAY
    k[0, 0] = PLACE_LOSS
    load[0] += PLACE_LOSS * above
    k[-1, -1] += back
    load[-1] += back * above
    for i in range(size):
        onward = net.site_link[begin + i]
        k[i, i] += onward
        if i + 1 < size:
            k[i + 1, i + 1] += onward
            k[i, i + 1] -= onward
            k[i + 1, i] -= onward
    found: Floats = np.asarray(np.linalg.solve(k, load), float)
    return found
