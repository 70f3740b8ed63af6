"""Pairs, groups and exchanges against trying everything."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.errors import InputError
from loamwright.physics import kinship, pairings
from pedigree_reference import random_pedigree

SEEDS = st.integers(0, 2**32 - 1)
ROUNDING = 1e-9


def all_pairings(costs: np.ndarray, pairs: int, per_male: int) -> float:
    """Least total over every way to give ``pairs`` females a male, none more than so many."""
    males, females = costs.shape
    best = np.inf
    for chosen in combinations(range(females), pairs):
        for given_to in product(range(males), repeat=pairs):
            if max(given_to.count(m) for m in given_to) <= per_male:
                best = min(best, sum(costs[m, f] for m, f in zip(given_to, chosen, strict=True)))
    return best


@settings(max_examples=80, deadline=None)
@given(SEEDS, st.integers(1, 3), st.integers(1, 4), st.integers(1, 3))
def test_pairs_are_the_best_there_are(seed, males, females, per_male):
    generator = np.random.default_rng(seed)
    costs = generator.random((males, females)) - 0.3
    costs[generator.random(costs.shape) < 0.25] = np.inf
    for pairs in range(1, min(males * per_male, females) + 1):
        right = all_pairings(costs, pairs, per_male)
        if not np.isfinite(right):
            with pytest.raises(InputError, match="must not be"):
                pairings.best_pairs(costs, pairs, per_male)
            continue
        found = pairings.best_pairs(costs, pairs, per_male)
        assert sum(costs[m, f] for m, f in found) == pytest.approx(right, abs=ROUNDING)
        assert len({f for _, f in found}) == pairs
        assert max([m for m, _ in found].count(m) for m, _ in found) <= per_male


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_a_harem_is_the_best_there_is(seed):
    costs = np.random.default_rng(seed).random((3, 5))
    found = pairings.best_harem(costs, 3)
    right = min(
        sum(costs[m, list(chosen)]) for m in range(3) for chosen in combinations(range(5), 3)
    )
    assert sum(costs[m, f] for m, f in found) == pytest.approx(right, abs=ROUNDING)
    assert len({m for m, _ in found}) == 1


def test_costs_weigh_rarity_against_inbreeding():
    table = kinship.kinship_matrix([-1, -1, 0, 0, -1], [-1, -1, 1, 1, -1])
    mean = np.array([0.3, 0.3, 0.2, 0.2, 0.1])
    rare = pairings.pair_costs(table, mean, [2], [3, 4], 0.0)
    assert rare == pytest.approx(np.array([[0.2, 0.15]]))
    own = pairings.pair_costs(table, mean, [2], [3, 4], 1.0)
    assert own == pytest.approx(np.array([[0.25, 0.0]]))
    barred = pairings.pair_costs(table, mean, [2], [3, 4], 0.5, most_inbreeding=0.125)
    assert np.isinf(barred[0, 0])
    assert np.isfinite(barred[0, 1])


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda c: pairings.best_pairs(c, 3), "3 pairs; give 1 to 2"),
        (lambda c: pairings.best_pairs(c, 0), "0 pairs; give 1 to 2"),
        (lambda c: pairings.best_harem(c, 4), "4 females; give 1 to 3"),
        (lambda c: pairings.best_harem(np.full((2, 3), np.inf), 2), "no male can be given 2"),
        (lambda c: pairings.best_group(np.eye(3), [0], [1, 2], (2, 1)), "2 males; give 1 to 1"),
    ],
)
def test_what_cannot_be_is_refused(call, said):
    with pytest.raises(InputError, match=said):
        call(np.ones((2, 3)))


def herd(seed: int, n: int = 24) -> tuple[np.ndarray, list[int], list[int]]:
    sire, dam = random_pedigree(np.random.default_rng(seed), n, founders=5)
    return kinship.kinship_matrix(sire, dam), list(range(n - 10, n, 2)), list(range(n - 9, n, 2))


@pytest.mark.parametrize("seed", range(8))
def test_a_group_is_the_best_of_all_on_small_herds(seed):
    """The search is not proved best; on herds small enough to try everything it is."""
    table, males, females = herd(seed)
    found = pairings.best_group(table, males, females, (2, 3))
    right = min(
        pairings.breeding_kinship(table, m, f)
        for m, f in product(combinations(males, 2), combinations(females, 3))
    )
    assert pairings.breeding_kinship(table, *found) == pytest.approx(right, abs=ROUNDING)
    assert [len(part) for part in found] == [2, 3]
    assert set(found[0]) <= set(males)
    assert set(found[1]) <= set(females)


def test_breeding_kinship_is_that_of_the_young():
    """Every male with every female, one young each: two young drawn at random."""
    table, males, females = herd(1)
    m, f = males[:2], females[:3]
    pairs = list(product(m, f))
    between = kinship.planned_kinship(table, [p[0] for p in pairs], [p[1] for p in pairs])
    assert pairings.breeding_kinship(table, m, f) == pytest.approx(between.mean(), abs=ROUNDING)


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_exchange_is_the_best_there_is(seed):
    generator = np.random.default_rng(seed)
    sire, dam = random_pedigree(generator, 20, founders=4)
    table = kinship.kinship_matrix(sire, dam)
    rows = generator.permutation(20)
    first, second = rows[:5].tolist(), rows[5:9].tolist()
    sex = generator.integers(0, 2, 20)
    best = pairings.groups_kinship(table, first, second)
    found = pairings.best_exchange(table, first, second, sex)
    reached = {
        (a, b): pairings.groups_kinship(
            table, [b if x == a else x for x in first], [a if x == b else x for x in second]
        )
        for a, b in product(first, second)
        if sex[a] == sex[b]
    }
    right = min([best, *reached.values()])
    if found is None:
        assert right == pytest.approx(best, abs=ROUNDING)
    else:
        assert reached[found] == pytest.approx(right, abs=ROUNDING)
        assert reached[found] < best


def test_two_broods_are_mixed():
    """Two groups of full sibs: after half of each has moved no exchange helps."""
    sire = [-1, -1, -1, -1, 0, 0, 0, 0, 2, 2, 2, 2]
    dam = [-1, -1, -1, -1, 1, 1, 1, 1, 3, 3, 3, 3]
    table = kinship.kinship_matrix(sire, dam)
    first, second, sex = [4, 5, 6, 7], [8, 9, 10, 11], [0, 1] * 6
    done = pairings.exchanges(table, first, second, sex, 10)
    assert len(done) == 2
    assert all(sex[a] == sex[b] for a, b in done)
    away, come = {a for a, _ in done}, {b for _, b in done}
    a = [x for x in first if x not in away] + sorted(come)
    b = [x for x in second if x not in come] + sorted(away)
    best = min(
        pairings.groups_kinship(table, g, [x for x in range(4, 12) if x not in g])
        for g in combinations(range(4, 12), 4)
    )
    assert pairings.groups_kinship(table, a, b) == pytest.approx(best, abs=ROUNDING)
    assert pairings.exchanges(table, first, second, sex, 1) == done[:1]
    assert pairings.exchanges(table, a, b, sex, 5) == []
