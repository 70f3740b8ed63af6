"""The loops over a pedigree worth compiling: tabular method, inbreeding, gene drop.

Parents are row numbers, -1 where unknown; but for `parents_first`, every loop wants parents to
come before their young. `kinship` and `founders` are the doors to them.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

Rows = NDArray[np.int64]
Array = NDArray[np.float64]

BLOCK = 64
"""Rows mirrored at a time [1]: so many rows and columns together stay in the nearest cache."""


@njit(cache=True, nogil=True)
def parents_first(sire: Rows, dam: Rows) -> Rows:
    """Rows with parents before young; fewer than there are where a row descends from itself.

    A. B. Kahn 1962, Commun ACM 5:558 (from memory): a row is ready once both its parents are placed.
    """
    n = sire.size
    order = np.empty(n, np.int64)
    # The young of each parent are a chain through two slots a row, one for each side.
    first = np.full(n, -1, np.int64)
    following = np.full(2 * n, -1, np.int64)
    waits = np.zeros(n, np.int64)
    for i in range(n - 1, -1, -1):
        for side in range(2):
            parent = sire[i] if side == 0 else dam[i]
            if parent >= 0:
                waits[i] += 1
                following[2 * i + side] = first[parent]
                first[parent] = 2 * i + side
    placed = 0
    for i in range(n):
        if waits[i] == 0:
            order[placed] = i
            placed += 1
    done = 0
    while done < placed:
        slot = first[order[done]]
        done += 1
        while slot >= 0:
            young = slot // 2
            waits[young] -= 1
            if waits[young] == 0:
                order[placed] = young
                placed += 1
            slot = following[slot]
    return order[:placed]


@njit(cache=True, nogil=True)
def tabular(sire: Rows, dam: Rows, out: Array) -> None:
    """Fill ``out`` with the kinship of every two rows.

    A row is the mean of its parents' rows. Columns are written block by block: writing each as it
    arises costs ten times the arithmetic. Until its block is mirrored, a pair is found in the row
    of the younger.
    """
    n = sire.size
    for top in range(0, n, BLOCK):
        end = min(top + BLOCK, n)
        for i in range(top, end):
            s, d = sire[i], dam[i]
            row = out[i]
            for j in range(i):
                row[j] = 0.0
            for parent in (s, d):
                if parent >= 0:
                    known = out[parent]
                    for j in range(top):
                        row[j] += 0.5 * known[j]
                    for j in range(top, i):
                        row[j] += 0.5 * out[max(parent, j), min(parent, j)]
            row[i] = 0.5
            if s >= 0 and d >= 0:
                row[i] += 0.5 * out[max(s, d), min(s, d)]
        for left in range(0, end, BLOCK):
            for i in range(top, end):
                for j in range(left, min(left + BLOCK, i)):
                    out[j, i] = out[i, j]


@njit(cache=True, nogil=True)
def sampling_variance(sire: Rows, dam: Rows, inbreeding: Array, out: Array) -> None:
    """Fill ``out`` with the variance of what chance gives each row beside its parents' mean.

    Quaas 1976, Biometrics 32:949 (from memory): 1/2 - (F_sire + F_dam) / 4, with -1 for F of an
    unknown parent.
    """
    for i in range(sire.size):
        s = inbreeding[sire[i]] if sire[i] >= 0 else -1.0
        d = inbreeding[dam[i]] if dam[i] >= 0 else -1.0
        out[i] = 0.5 - 0.25 * (s + d)


@njit(cache=True, nogil=True)
def meuwissen_luo(sire: Rows, dam: Rows, out: Array) -> None:
    """Fill ``out`` with inbreeding coefficients, one row of the Cholesky factor at a time.

    Meuwissen & Luo 1992, Genet Sel Evol 24:305: a row's ancestors are visited from the youngest,
    each handing half its share to both parents; F = sum of share^2 times variance, less 1. The
    shares are scanned; in deep pedigrees that is quicker than their sorted list of ancestors.
    """
    n = sire.size
    variance = np.empty(n)
    share = np.zeros(n)
    for i in range(n):
        s, d = sire[i], dam[i]
        variance[i] = 0.5 - 0.25 * ((out[s] if s >= 0 else -1.0) + (out[d] if d >= 0 else -1.0))
        if s < 0 or d < 0:
            out[i] = 0.0
            continue
        if s == sire[i - 1] and d == dam[i - 1]:
            out[i] = out[i - 1]
            continue
        total = variance[i] - 1.0
        share[s] += 0.5
        share[d] += 0.5
        for j in range(max(s, d), -1, -1):
            part = share[j]
            if part != 0.0:
                if sire[j] >= 0:
                    share[sire[j]] += 0.5 * part
                if dam[j] >= 0:
                    share[dam[j]] += 0.5 * part
                total += part * part * variance[j]
                share[j] = 0.0
        out[i] = total


@njit(cache=True, nogil=True)
def gather_to_founders(sire: Rows, dam: Rows, out: Array) -> None:
    """Hand half of every row's weight in ``out`` on to each parent, from the youngest on."""
    for i in range(sire.size - 1, -1, -1):
        if sire[i] >= 0:
            out[sire[i]] += 0.5 * out[i]
        if dam[i] >= 0:
            out[dam[i]] += 0.5 * out[i]


@njit(cache=True, nogil=True)
def spread_from_founders(sire: Rows, dam: Rows, out: Array) -> None:
    """Add to every row in ``out`` the mean of its parents, from the oldest on."""
    for i in range(sire.size):
        if sire[i] >= 0:
            out[i] += 0.5 * out[sire[i]]
        if dam[i] >= 0:
            out[i] += 0.5 * out[dam[i]]


@njit(cache=True, nogil=True)
def drop_genes(
    sire: Rows,
    dam: Rows,
    living: Rows,
    coins: NDArray[np.uint8],
    kept: Array,
    distinct: Array,
    identity: Array,
) -> None:
    """Drop two genes of each founder through the pedigree, once for each slab of ``coins``.

    Row i of a slab says which gene of its sire and which of its dam an animal gets. To ``kept`` is
    added how many genes of each row without parents live on; ``distinct`` and ``identity`` are
    the number of different genes among the living, and the chance that two drawn are the same.
    """
    n = sire.size
    genes = np.empty((n, 2), np.int64)
    copies = np.zeros(2 * n, np.int64)
    for run in range(coins.shape[0]):
        for i in range(n):
            s, d = sire[i], dam[i]
            genes[i, 0] = genes[s, coins[run, i, 0]] if s >= 0 else 2 * i
            genes[i, 1] = genes[d, coins[run, i, 1]] if d >= 0 else 2 * i + 1
        for i in living:
            copies[genes[i, 0]] += 1
            copies[genes[i, 1]] += 1
        different, square = 0, 0.0
        for gene in range(2 * n):
            if copies[gene] > 0:
                different += 1
                square += float(copies[gene]) ** 2
                kept[gene // 2] += 1.0
                copies[gene] = 0
        distinct[run] = different
        identity[run] = square / (2.0 * living.size) ** 2
