"""What is left of the founders: their shares, the genes lost on the way, effective size.

A missing parent counts as a founder of its own (`with_missing_parents`), so shares always add up
to one and a pedigree with gaps looks richer than the animals may be.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.errors import InputError
from loamwright.physics import kinship_loops as loops
from loamwright.physics.pedigrees import check_pedigree, in_order, restored

Array = NDArray[np.float64]
Rows = NDArray[np.int64]

CHUNK = 256
"""Gene drops whose coins are drawn at a time [1]: keeps memory small."""


def with_missing_parents(sire: ArrayLike, dam: ArrayLike) -> tuple[Rows, Rows]:
    """The pedigree with a founder added for each parent missing beside a known one.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.

    Returns
    -------
    tuple of arrays of int
        Sires and dams; the first n rows are those given, founders added stand after them.

    Source: definition; kinship of the given rows does not change by it.
    """
    s, d = check_pedigree(sire, dam)
    added = s.size
    half = np.flatnonzero((s < 0) != (d < 0))
    for row in half:
        if s[row] < 0:
            s[row] = added
        else:
            d[row] = added
        added += 1
    none = np.full(half.size, -1, np.int64)
    return np.concatenate([s, none]), np.concatenate([d, none])


def founder_shares(sire: ArrayLike, dam: ArrayLike, living: ArrayLike) -> Array:
    """Expected share of each founder in the genes of a group [1], 0 for who has parents.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.
    living : array_like of int, shape (m,)
        Rows of the group [1].

    Returns
    -------
    ndarray of float
        Shares, adding up to 1, of the rows of `with_missing_parents`: n and those added.

    Source: Lacy 1989, Zoo Biol 8:111; James 1972 (from memory).
    """
    s, d, order = in_order(*with_missing_parents(sire, dam))
    out = np.zeros(s.size)
    out[np.asarray(living, dtype=np.int64)] = 1.0
    out = (out if order is None else out[order]) / max(out.sum(), 1.0)
    loops.gather_to_founders(s, d, out)
    out[s >= 0] = 0.0
    return restored(out, order)


def founder_equivalents(shares: ArrayLike) -> float:
    """Number of founders that, equally represented, would be as diverse [1].

    Parameters
    ----------
    shares : array_like of float
        Share of each founder in the group [1], adding up to 1.

    Chance losses on the way are not counted: see `founder_genome_equivalents`, never above it.

    Source: Lacy 1989, Zoo Biol 8:111: 1 / sum p^2.
    """
    p = np.asarray(shares, dtype=float)
    return 1.0 / float(p @ p)


def founder_genome_equivalents(gene_diversity: float) -> float:
    """Number of new unrelated founders that would be as diverse as the group [1].

    Parameters
    ----------
    gene_diversity : float
        Gene diversity of the group [1], below 1.

    Source: Lacy 1995, Zoo Biol 14:565: 1 / (2 mean kinship); Caballero & Toro 2000.
    """
    return 0.5 / (1.0 - gene_diversity)


def genome_equivalents_by_retention(shares: ArrayLike, retention: ArrayLike) -> float:
    """Founder genome equivalents from gene drops [1].

    Parameters
    ----------
    shares : array_like of float
        Share of each founder in the group [1].
    retention : array_like of float
        Expected share of each founder's two genes still there [1], from `gene_drop`; founders
        without a share may have 0.

    An approximation to `founder_genome_equivalents`, which is exact, and above it where what is
    left of a founder's genes is unequally common.

    Source: Lacy 1989, Zoo Biol 8:111: 1 / sum (p^2 / r).
    """
    p, r = np.asarray(shares, dtype=float), np.asarray(retention, dtype=float)
    there = p > 0.0
    return 1.0 / float(np.sum(p[there] ** 2 / r[there]))


def gene_drop(
    sire: ArrayLike,
    dam: ArrayLike,
    living: ArrayLike,
    runs: int,
    generator: np.random.Generator,
) -> tuple[Array, Array, Array]:
    """What chance leaves of the founders' genes, by dropping them through the pedigree.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.
    living : array_like of int, shape (m,)
        Rows of the group looked at [1].
    runs : int
        Drops [1]; the standard error of a retention is at most 0.5 / sqrt(runs).
    generator : numpy.random.Generator
        Source of chance.

    Returns
    -------
    tuple of ndarray of float
        Retention of each row of `with_missing_parents` [1] (0 to 1, 0 for who has parents);
        different genes left in each run [1]; in each run the chance that two genes drawn from the
        group are the same [1], whose mean is the group's mean kinship.

    Source: MacCluer et al. 1986, Zoo Biol 5:147 (from memory).
    """
    if runs < 1:
        raise InputError(f"{runs} gene drops; give at least 1")
    s, d, order = in_order(*with_missing_parents(sire, dam))
    group = np.asarray(living, dtype=np.int64)
    if order is not None:
        place = np.empty_like(order)
        place[order] = np.arange(order.size)
        group = place[group]
    kept, distinct, identity = np.zeros(s.size), np.empty(runs), np.empty(runs)
    for start in range(0, runs, CHUNK):
        part = slice(start, min(start + CHUNK, runs))
        size = (part.stop - part.start, s.size, 2)
        coins = generator.integers(0, 2, size=size, dtype=np.uint8)
        loops.drop_genes(s, d, group, coins, kept, distinct[part], identity[part])
    return restored(kept / (2.0 * runs), order), distinct, identity


def effective_size(males: float, females: float) -> float:
    """Effective size of a group by the numbers that breed [1].

    Parameters
    ----------
    males, females : float
        Breeding males and females [1], above 0.

    Equal chances of leaving young within each sex are taken for granted.

    Source: Wright 1931, Genetics 16:97: 4 Nm Nf / (Nm + Nf).
    """
    return 4.0 * males * females / (males + females)


def diversity_after(effective: float, generations: float) -> float:
    """Share of gene diversity kept after some generations [1].

    Parameters
    ----------
    effective : float
        Effective size [1], at least 0.5.
    generations : float
        Generations [1].

    Source: Wright 1931, Genetics 16:97: (1 - 1 / (2 Ne))^t.
    """
    return float((1.0 - 0.5 / effective) ** generations)
