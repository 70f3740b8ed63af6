"""Pedigrees: kinship, inbreeding and founders against path counting and every fall of the genes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.errors import InputError
from loamwright.physics import founders, kinship, pedigrees
from loamwright.physics.kinship_loops import BLOCK
from pedigree_reference import (
    every_drop,
    inbreeding_by_paths,
    kinship_by_recursion,
    random_pedigree,
    shuffled,
)

EXACT = 1e-12
"""Kinships of a few dozen generations are sums of powers of a half: only rounding may differ."""

SEEDS = st.integers(0, 2**32 - 1)


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_inbreeding_is_the_sum_over_paths(seed):
    sire, dam = random_pedigree(np.random.default_rng(seed), 11)
    found = kinship.inbreeding(sire, dam)
    for i in range(sire.size):
        assert found[i] == pytest.approx(float(inbreeding_by_paths(i, sire, dam)), abs=EXACT)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_table_is_kinship_by_definition_in_any_order(seed):
    generator = np.random.default_rng(seed)
    sire, dam = random_pedigree(generator, 30)
    right = kinship_by_recursion(sire, dam)
    assert kinship.kinship_matrix(sire, dam) == pytest.approx(right, abs=EXACT)
    new_sire, new_dam, place = shuffled(generator, sire, dam)
    table = kinship.kinship_matrix(new_sire, new_dam)
    assert table[np.ix_(place, place)] == pytest.approx(right, abs=EXACT)
    assert kinship.inbreeding(new_sire, new_dam)[place] == pytest.approx(
        2.0 * np.diag(right) - 1.0, abs=EXACT
    )


@pytest.mark.parametrize("n", [BLOCK - 1, BLOCK, BLOCK + 1, 3 * BLOCK + 7])
def test_three_ways_agree_across_blocks(n):
    generator = np.random.default_rng(n)
    sire, dam, _ = shuffled(generator, *random_pedigree(generator, n, founders=6))
    table = kinship.kinship_matrix(sire, dam)
    assert np.array_equal(table, table.T)
    assert kinship.inbreeding(sire, dam) == pytest.approx(2.0 * np.diag(table) - 1.0, abs=EXACT)
    weights = generator.random(n)
    right = table @ weights / weights.sum()
    assert kinship.kinship_with(sire, dam, weights) == pytest.approx(right, abs=EXACT)
    # Kinships make a positive definite table: no chance of genes is negative.
    assert np.linalg.eigvalsh(table).min() > 0.0


def test_sibs_far_apart_in_age_are_sibs():
    """The shortcut for full sibs in a row must not reach over another animal."""
    sire, dam = [-1, -1, 0, 0, 2, 2, 0], [-1, -1, 1, 1, 3, 1, 1]
    assert kinship.inbreeding(sire, dam).tolist() == [0, 0, 0, 0, 0.25, 0.25, 0]
    assert kinship.relationship_matrix(sire, dam)[6, 2] == 0.5


def test_an_empty_pedigree_and_one_animal():
    assert kinship.kinship_matrix([], []).shape == (0, 0)
    assert kinship.inbreeding([], []).shape == (0,)
    assert kinship.kinship_matrix([-1], [-1]).tolist() == [[0.5]]


# -- wrong pedigrees -----------------------------------------------------------------------------


def problems(sire, dam) -> list[str]:
    with pytest.raises(InputError, match="; ") as caught:
        kinship.kinship_matrix(sire, dam)
    return [str(p) for p in caught.value.problems]


def test_every_circle_is_named_once():
    # 2 and 3 are each other's parents; 5 is its own; 6 only descends from the circle.
    sire, dam = [-1, -1, 3, 0, -1, 5, 2], [-1, -1, 1, 2, -1, 4, 1]
    said = problems(sire, dam)
    assert len(said) == 2
    assert said[0].startswith("animal 2: descends from itself: 2, a parent of 3, a parent of 2;")
    assert said[1].startswith("animal 5: descends from itself: 5, a parent of 5;")
    assert pedigrees.find_cycles(sire, dam) == [[2, 3], [5]]


@settings(max_examples=60, deadline=None)
@given(SEEDS)
def test_a_circle_tied_into_any_pedigree_is_found(seed):
    generator = np.random.default_rng(seed)
    sire, dam = random_pedigree(generator, 25, unknown=0.0)
    assert pedigrees.find_cycles(sire, dam) == []
    young = int(generator.integers(3, 25))
    ancestor = young
    while sire[ancestor] >= 0:
        ancestor = int(generator.choice([sire[ancestor], dam[ancestor]]))
    sire[ancestor] = young
    new_sire, new_dam, _ = shuffled(generator, sire, dam)
    found = pedigrees.find_cycles(new_sire, new_dam)
    assert len(found) == 1
    for parent, child in zip(found[0], [*found[0][1:], found[0][0]], strict=True):
        assert parent in (new_sire[child], new_dam[child])


def test_parents_that_are_no_rows_are_all_named():
    said = problems([-1, 7, 0], [-1, -2, 9])
    assert said == [
        "animal 1: sire 7 is not a row; give 0 to 2, or -1 for unknown",
        "animal 1: dam -2 is not a row; give 0 to 2, or -1 for unknown",
        "animal 2: dam 9 is not a row; give 0 to 2, or -1 for unknown",
    ]
    assert problems([-1, 0], [-1])[0].startswith("2 sires but 1 dams")


@pytest.mark.parametrize("weights", [[1.0], [0.0, 0.0], [1.0, -1.0]])
def test_weights_must_weigh(weights):
    with pytest.raises(InputError, match="give one each, some above 0"):
        kinship.kinship_with([-1, -1], [-1, -1], weights)


# -- groups and founders -------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_planned_young_are_as_akin_as_if_they_were_born(seed):
    generator = np.random.default_rng(seed)
    sire, dam = random_pedigree(generator, 12)
    males, females = generator.choice(12, 3), generator.choice(12, 3)
    young = generator.integers(1, 4, 3)
    born_sire = np.concatenate([sire, np.repeat(males, young)])
    born_dam = np.concatenate([dam, np.repeat(females, young)])
    after = kinship.kinship_matrix(born_sire, born_dam)
    new = np.arange(12, after.shape[0])
    before = kinship.kinship_matrix(sire, dam)
    assert kinship.planned_gene_diversity(before, males, females, young) == pytest.approx(
        1.0 - after[np.ix_(new, new)].mean(), abs=EXACT
    )
    assert kinship.inbreeding(born_sire, born_dam)[new] == pytest.approx(
        np.repeat(np.diag(kinship.expected_inbreeding(before, males, females)), young), abs=EXACT
    )


def test_gene_value_counts_young_still_to_come():
    """Two sibs and a stranger; only the stranger will still breed: its own diversity remains."""
    table = kinship.kinship_matrix([-1, -1, 0, 0, -1], [-1, -1, 1, 1, -1])
    there = kinship.gene_diversity(table, [0, 0, 1, 1, 1])
    assert there == pytest.approx(1.0 - (3 * 0.5 + 2 * 0.25) / 9, abs=EXACT)
    assert kinship.gene_diversity(table, [0, 0, 0, 0, 1]) == pytest.approx(0.5, abs=EXACT)
    assert kinship.gene_diversity(table, [0, 0, 1, 1, 2]) > there


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_shares_add_up_and_bound_the_genomes(seed):
    generator = np.random.default_rng(seed)
    sire, dam, _ = shuffled(generator, *random_pedigree(generator, 20))
    living = generator.choice(20, 6, replace=False)
    shares = founders.founder_shares(sire, dam, living)
    full_sire, full_dam = founders.with_missing_parents(sire, dam)
    assert shares.sum() == pytest.approx(1.0, abs=EXACT)
    assert not shares[full_sire >= 0].any()
    # Expected share by another way: kinship with a founder that is not inbred is half of it.
    table = kinship.kinship_matrix(full_sire, full_dam)
    for founder in np.flatnonzero((full_sire < 0) & (full_dam < 0)):
        assert shares[founder] == pytest.approx(2.0 * table[living, founder].mean(), abs=EXACT)
    assert table[:20, :20] == pytest.approx(kinship.kinship_matrix(sire, dam), abs=EXACT)
    weights = np.zeros(20)
    weights[living] = 1.0
    genomes = founders.founder_genome_equivalents(kinship.gene_diversity(table[:20, :20], weights))
    assert genomes <= founders.founder_equivalents(shares) + EXACT


DROPS = {
    "two young of a pair": ([-1, -1, 0, 0], [-1, -1, 1, 1], [2, 3]),
    "a shared sire": ([-1, -1, -1, 0, 0], [-1, -1, -1, 1, 2], [3, 4]),
    "a narrow line": ([-1, -1, 0, 0, 2], [-1, -1, 1, 1, 3], [4]),
    "a founder still lives": ([-1, -1, 0, 2], [-1, -1, 1, 1], [0, 3]),
}


@pytest.mark.parametrize("name", DROPS)
@pytest.mark.parametrize("turned", [False, True])
def test_dropped_genes_fall_as_all_ways_together(name, turned):
    sire, dam, living = DROPS[name]
    kept, distinct, identity = every_drop(sire, dam, living)
    if turned:
        last = len(sire) - 1
        sire, dam = ([last - p if p >= 0 else -1 for p in side[::-1]] for side in (sire, dam))
        living = [last - row for row in living]
        kept = {last - row: share for row, share in kept.items()}
    runs = 20_000
    retention, different, same = founders.gene_drop(
        sire, dam, living, runs, np.random.default_rng(5)
    )
    # Five standard errors: one chance in a million and a half for each of the values.
    for founder, share in kept.items():
        assert retention[founder] == pytest.approx(float(share), abs=5 * 0.5 / runs**0.5)
    spread = 5 * different.std() / runs**0.5 + EXACT
    assert different.mean() == pytest.approx(float(distinct), abs=spread)
    spread = 5 * same.std() / runs**0.5 + EXACT
    assert same.mean() == pytest.approx(float(identity), abs=spread)
    table = kinship.kinship_matrix(sire, dam)
    assert float(identity) == pytest.approx(table[np.ix_(living, living)].mean(), abs=EXACT)


@pytest.mark.parametrize("young", [1, 2, 5])
def test_a_founder_keeps_what_its_young_carry(young):
    """Each gene misses each young with chance a half; the mother is another for every young."""
    sire = [-1] * (young + 1) + [0] * young
    dam = [-1] * (young + 1) + list(range(1, young + 1))
    living = list(range(young + 1, 2 * young + 1))
    runs = 20_000
    generator = np.random.default_rng(11)
    retention, _, _ = founders.gene_drop(sire, dam, living, runs, generator)
    assert retention[0] == pytest.approx(1.0 - 0.5**young, abs=5 * 0.5 / runs**0.5)
    assert retention[1] == pytest.approx(0.5, abs=EXACT)


def test_drops_follow_the_generator_and_not_the_chunks():
    generator = np.random.default_rng(3)
    sire, dam, _ = shuffled(generator, *random_pedigree(generator, 40))
    one = founders.gene_drop(sire, dam, [3, 9, 20], 700, np.random.default_rng(1))
    two = founders.gene_drop(sire, dam, [3, 9, 20], 700, np.random.default_rng(1))
    other = founders.gene_drop(sire, dam, [3, 9, 20], 700, np.random.default_rng(2))
    assert all(np.array_equal(a, b) for a, b in zip(one, two, strict=True))
    assert not np.array_equal(one[2], other[2])
    full_sire, _ = founders.with_missing_parents(sire, dam)
    assert one[0].size == full_sire.size
    assert not one[0][full_sire >= 0].any()


def test_genomes_by_retention_come_near_and_lie_above():
    sire, dam = [-1, -1, -1, 0, 0, 0, 0], [-1, -1, -1, 1, 1, 2, 2]
    living = [3, 4, 5, 6]
    shares = founders.founder_shares(sire, dam, living)
    retention, _, _ = founders.gene_drop(sire, dam, living, 20_000, np.random.default_rng(2))
    # Retention is 15/16, 3/4, 3/4 and shares 1/2, 1/4, 1/4: 1 / (4/15 + 1/6) = 2.3077.
    assert founders.genome_equivalents_by_retention(shares, retention) == pytest.approx(
        30 / 13, abs=0.02
    )


def test_diversity_over_generations():
    assert founders.diversity_after(6, 0) == 1.0
    assert founders.diversity_after(50, 10) == pytest.approx(0.99**10, rel=1e-12)
    with pytest.raises(InputError, match="give at least 1"):
        founders.gene_drop([-1], [-1], [0], 0, np.random.default_rng(1))
