"""Adaptors that let a reference sheet speak of pedigrees as lists of parents."""

from __future__ import annotations

import numpy as np

from loamwright.physics import founders, kinship, pairings

Pedigree = list[list[int]]
"""Sire and dam of each animal, counted from 1 as books do; 0 for unknown."""


def _parents(pedigree: Pedigree) -> tuple[np.ndarray, np.ndarray]:
    table = np.asarray(pedigree, dtype=np.int64) - 1
    return table[:, 0], table[:, 1]


def last_inbreeding(pedigree: Pedigree) -> list[float]:
    """Inbreeding of the last animal, by its parents' kinship and without the table."""
    sire, dam = _parents(pedigree)
    table = kinship.kinship_matrix(sire, dam)
    return [2.0 * table[-1, -1] - 1.0, kinship.inbreeding(sire, dam)[-1]]


def inbreeding(pedigree: Pedigree, animals: list[int]) -> list[float]:
    return kinship.inbreeding(*_parents(pedigree))[np.asarray(animals) - 1].tolist()


def relationships(pedigree: Pedigree) -> list[float]:
    """The additive relationship table, row by row."""
    return kinship.relationship_matrix(*_parents(pedigree)).ravel().tolist()


def sampling_variances(pedigree: Pedigree) -> list[float]:
    """What is left of each animal's own variance beside its parents': 1 + F less their mean's."""
    sire, dam = _parents(pedigree)
    table = kinship.relationship_matrix(sire, dam)
    out = []
    for i in range(len(sire)):
        known = [p for p in (sire[i], dam[i]) if p >= 0]
        out.append(table[i, i] - 0.25 * table[np.ix_(known, known)].sum())
    return out


def living_measures(pedigree: Pedigree, living: list[int]) -> list[float]:
    """Mean kinship, gene diversity, founder genome equivalents, founder equivalents."""
    sire, dam = _parents(pedigree)
    rows = np.asarray(living) - 1
    table = kinship.kinship_matrix(sire, dam)
    weights = np.zeros(len(sire))
    weights[rows] = 1.0
    diversity = kinship.gene_diversity(table, weights)
    shares = founders.founder_shares(sire, dam, rows)
    mean = kinship.mean_kinship(table, rows)
    return [
        float(mean.min()), float(mean.max()), diversity,
        founders.founder_genome_equivalents(diversity), founders.founder_equivalents(shares),
    ]  # fmt: skip


def lost_per_generation(males: float, females: float) -> list[float]:
    """Effective size and the share of diversity lost in one generation."""
    size = founders.effective_size(males, females)
    return [size, 1.0 - founders.diversity_after(size, 1)]


def best_pair_total(table: list[list[float]], pairs: int) -> float:
    chosen = pairings.best_pairs(table, pairs)
    return float(sum(table[m][f] for m, f in chosen))
