"""A second way to every measure of a pedigree, slow and plain, that shares no code with the first."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import numpy as np


def random_pedigree(
    generator: np.random.Generator, n: int, founders: int = 3, unknown: float = 0.15
) -> tuple[np.ndarray, np.ndarray]:
    """Parents before young, some of them unknown; no animal is both its young's parents."""
    sire, dam = np.full(n, -1), np.full(n, -1)
    for i in range(founders, n):
        sire[i], dam[i] = generator.choice(i, 2, replace=False)
        for side in (sire, dam):
            if generator.random() < unknown:
                side[i] = -1
    return sire, dam


def shuffled(
    generator: np.random.Generator, sire: np.ndarray, dam: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The same pedigree with rows in any order, and where each old row is now."""
    place = generator.permutation(sire.size)
    new_sire, new_dam = np.full(sire.size, -1), np.full(sire.size, -1)
    for old in range(sire.size):
        for source, target in ((sire, new_sire), (dam, new_dam)):
            if source[old] >= 0:
                target[place[old]] = place[source[old]]
    return new_sire, new_dam, place


def _chains(animal: int, sire, dam) -> list[tuple[int, ...]]:
    """Every way up from an animal, itself included, to each ancestor."""
    out: list[tuple[int, ...]] = [(animal,)]
    for parent in (sire[animal], dam[animal]):
        if parent >= 0:
            out += [(animal, *chain) for chain in _chains(parent, sire, dam)]
    return out


def inbreeding_by_paths(animal: int, sire, dam) -> Fraction:
    """Wright 1922: the sum over paths between the parents of (1/2)^(n1 + n2 + 1) (1 + F_A)."""
    s, d = sire[animal], dam[animal]
    if s < 0 or d < 0:
        return Fraction(0)
    total = Fraction(0)
    for up in _chains(s, sire, dam):
        for down in _chains(d, sire, dam):
            if up[-1] == down[-1] and not set(up[:-1]) & set(down[:-1]):
                steps = len(up) + len(down) - 1
                total += Fraction(1, 2**steps) * (1 + inbreeding_by_paths(up[-1], sire, dam))
    return total


def kinship_by_recursion(sire, dam) -> np.ndarray:
    """Kinship from its definition, pair by pair, younger first; parents come before young."""
    n = len(sire)
    known: dict[tuple[int, int], Fraction] = {}

    def pair(a: int, b: int) -> Fraction:
        if a < 0 or b < 0:
            return Fraction(0)
        a, b = max(a, b), min(a, b)
        if (a, b) not in known:
            if a == b:
                known[a, b] = Fraction(1, 2) + pair(sire[a], dam[a]) / 2
            else:
                known[a, b] = (pair(sire[a], b) + pair(dam[a], b)) / 2
        return known[a, b]

    return np.array([[float(pair(a, b)) for b in range(n)] for a in range(n)])


def every_drop(sire, dam, living) -> tuple[dict[int, Fraction], Fraction, Fraction]:
    """All ways genes can fall, each as likely: retention, different genes, chance of the same.

    Animals have both parents known, or neither.
    """
    young = [i for i in range(len(sire)) if sire[i] >= 0]
    kept = {i: Fraction(0) for i in range(len(sire)) if sire[i] < 0}
    distinct, identity = Fraction(0), Fraction(0)
    ways = 4 ** len(young)
    for coins in product(range(2), repeat=2 * len(young)):
        genes: dict[int, tuple] = {i: ((i, 0), (i, 1)) for i in kept}
        for at, i in enumerate(young):
            genes[i] = (genes[sire[i]][coins[2 * at]], genes[dam[i]][coins[2 * at + 1]])
        pool = [gene for i in living for gene in genes[i]]
        for founder, _ in set(pool):
            kept[founder] += Fraction(1, 2 * ways)
        distinct += Fraction(len(set(pool)), ways)
        same = sum(pool.count(gene) ** 2 for gene in set(pool))
        identity += Fraction(same, len(pool) ** 2 * ways)
    return kept, distinct, identity
