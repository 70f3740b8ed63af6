"""Kinship and inbreeding from a pedigree.

A pedigree is two arrays of row numbers, see `pedigrees`. Animals without known parents are taken
as unrelated and not inbred, so every value counts from them on: an animal of unknown descent is
not proved unrelated by it. Kinship of two animals is the chance that a gene drawn from each is the
same by descent, which is also the inbreeding of their young. The additive relationship is twice
the kinship.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.errors import InputError
from loamwright.physics import kinship_loops as loops
from loamwright.physics.pedigrees import in_order, restored

Array = NDArray[np.float64]


def kinship_matrix(sire: ArrayLike, dam: ArrayLike) -> Array:
    """Kinship of every two animals [1], shape (n, n); the diagonal holds (1 + F) / 2.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.

    Memory 8 n^2 bytes. Raises InputError, see `pedigrees`.

    Source: tabular method, Emik & Terrill 1949, J Hered 40:51 (from memory); f_XY = (f_X,sire(Y)
    + f_X,dam(Y)) / 2 with Y the younger, Falconer & Mackay, *Quantitative Genetics*, ch. 5.
    """
    s, d, order = in_order(sire, dam)
    out = np.empty((s.size, s.size))
    loops.tabular(s, d, out)
    if order is None:
        return out
    place = np.empty_like(order)
    place[order] = np.arange(order.size)
    return np.asarray(out[np.ix_(place, place)])


def relationship_matrix(sire: ArrayLike, dam: ArrayLike) -> Array:
    """Additive (numerator) relationship of every two animals [1], shape (n, n).

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.

    Source: twice the kinship; Henderson 1976, Biometrics 32:69 (from memory).
    """
    out = kinship_matrix(sire, dam)
    out *= 2.0
    return out


def inbreeding(sire: ArrayLike, dam: ArrayLike) -> Array:
    """Inbreeding coefficient of each animal [1], shape (n,), without the matrix.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.

    Takes memory in proportion to n. Raises InputError, see `pedigrees`.

    Source: Meuwissen & Luo 1992, Genet Sel Evol 24:305 (doi 10.1186/1297-9686-24-4-305).
    """
    s, d, order = in_order(sire, dam)
    out = np.empty(s.size)
    loops.meuwissen_luo(s, d, out)
    return restored(out, order)


def kinship_with(sire: ArrayLike, dam: ArrayLike, weights: ArrayLike) -> Array:
    """Mean kinship of each animal with a weighted group [1], shape (n,), without the matrix.

    Parameters
    ----------
    sire, dam : array_like of int, shape (n,)
        Rows of the parents [1], -1 where unknown; any order.
    weights : array_like of float, shape (n,)
        Weight of each animal in the group [1]; only their proportions count.

    Time and memory in proportion to n, so that herds whose matrix would not fit can be judged.
    Raises InputError, see `pedigrees`.

    Source: Colleau 2002, Genet Sel Evol 34:409: A x = T D T' x (from memory).
    """
    s, d, order = in_order(sire, dam)
    w = np.array(weights, dtype=float).ravel()
    total = w.sum()
    if w.size != s.size or not total > 0.0:
        raise InputError(f"{w.size} weights for {s.size} animals; give one each, some above 0")
    out = w / total if order is None else w[order] / total
    coefficients, variance = np.empty(s.size), np.empty(s.size)
    loops.meuwissen_luo(s, d, coefficients)
    loops.sampling_variance(s, d, coefficients, variance)
    loops.gather_to_founders(s, d, out)
    out *= variance
    loops.spread_from_founders(s, d, out)
    return restored(0.5 * out, order)


def mean_kinship(kinship: ArrayLike, living: ArrayLike) -> Array:
    """Mean kinship of each living animal with all the living, itself included [1], shape (m,).

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    living : array_like of int, shape (m,)
        Rows of the living [1].

    The animals with the lowest carry the rarest genes. It changes with every birth and death.

    Source: Lacy 1995, Zoo Biol 14:565; Ballou & Lacy 1995.
    """
    rows = np.asarray(living, dtype=np.int64)
    return np.asarray(np.asarray(kinship, dtype=float)[np.ix_(rows, rows)].mean(axis=1))


def gene_diversity(kinship: ArrayLike, weights: ArrayLike) -> float:
    """Gene diversity of a group, as a share of that of the stock the founders came from [1].

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals of the group [1].
    weights : array_like of float, shape (n,)
        Weight of each animal [1]: all 1 for the diversity there is, 0 for who is not in the
        group; the number of young each is still to have gives the *gene value*, the diversity to
        come.

    Source: Lacy 1995, Zoo Biol 14:565: 1 - mean kinship; gene value with weights, Ballou & Lacy
    1995 (from memory).
    """
    w = np.asarray(weights, dtype=float)
    total = float(w.sum())
    return 1.0 - float(w @ np.asarray(kinship, dtype=float) @ w) / (total * total)


def expected_inbreeding(kinship: ArrayLike, sires: ArrayLike, dams: ArrayLike) -> Array:
    """Inbreeding that young of each sire with each dam would have [1], shape (sires, dams).

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    sires, dams : array_like of int
        Rows of the males and of the females [1].

    Source: Wright 1922, Am Nat 56:330; F of the young is the kinship of the parents.
    """
    s, d = np.asarray(sires, dtype=np.int64), np.asarray(dams, dtype=np.int64)
    return np.asarray(np.asarray(kinship, dtype=float)[np.ix_(s, d)])


def planned_kinship(kinship: ArrayLike, sires: ArrayLike, dams: ArrayLike) -> Array:
    """Kinship between the young of planned pairs [1], shape (pairs, pairs).

    Off the diagonal, a young of one pair with a young of another; on it, two young of the same
    pair (full sibs).

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    sires, dams : array_like of int, shape (pairs,)
        Rows of the parents of each pair [1].

    Source: mean kinship of the four pairs of parents; Falconer & Mackay, eq. 5.2 (from memory).
    """
    k = np.asarray(kinship, dtype=float)
    s, d = np.asarray(sires, dtype=np.int64), np.asarray(dams, dtype=np.int64)
    return np.asarray(
        0.25 * (k[np.ix_(s, s)] + k[np.ix_(s, d)] + k[np.ix_(d, s)] + k[np.ix_(d, d)])
    )


def planned_gene_diversity(
    kinship: ArrayLike, sires: ArrayLike, dams: ArrayLike, young: ArrayLike
) -> float:
    """Gene diversity of the young that planned pairs would leave [1].

    Parameters
    ----------
    kinship : array_like, shape (n, n)
        Kinship of every two animals [1].
    sires, dams : array_like of int, shape (pairs,)
        Rows of the parents of each pair [1].
    young : array_like of float, shape (pairs,)
        Young of each pair [1].

    Source: `planned_kinship`, each young having with itself (1 + F) / 2.
    """
    k = np.asarray(kinship, dtype=float)
    n = np.asarray(young, dtype=float)
    between = planned_kinship(k, sires, dams)
    own = 0.5 * (1.0 + k[np.asarray(sires, dtype=np.int64), np.asarray(dams, dtype=np.int64)])
    total = float(n.sum())
    pairs = float(n @ between @ n) + float(n @ (own - np.diag(between)))
    return 1.0 - pairs / (total * total)
