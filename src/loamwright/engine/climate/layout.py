"""Where the parts of a state lie in its one vector."""

from __future__ import annotations

import numpy as np
from numba import njit

from loamwright.engine.climate.network import LEDGER

LEDGERS = len(LEDGER)


@njit(cache=True)
def offsets(net):
    """Where each part of the state begins: air, vapour, solids, leaves, films, bodies, places (nodes,
    then films), ledger, end."""
    n, m = len(net.volume), len(net.store)
    s, lamps = len(net.area), len(net.body_power)
    leaf = len(net.leaf)
    a = np.empty(9, np.int64)
    a[0], a[1], a[2] = 0, n, 2 * n
    a[3] = a[2] + m
    a[4] = a[3] + leaf
    a[5] = a[4] + s
    a[6] = a[5] + lamps
    a[7] = a[6] + len(net.site_store) + len(net.site_on)
    a[8] = a[7] + LEDGERS
    return a
