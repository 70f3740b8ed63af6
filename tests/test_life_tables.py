"""Life tables and stage matrices against theory: roots, limits, projection and differences."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.errors import InputError
from loamwright.physics import life_tables as lt

SEEDS = st.integers(0, 2**32 - 1)


def random_table(seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    generator = np.random.default_rng(seed)
    n = int(generator.integers(2, 12))
    alive = np.cumprod(generator.uniform(0.3, 1.0, n))
    young = generator.uniform(0.0, 5.0, n) * 10 ** generator.uniform(-2, 2)
    young[0] = max(young[0], 1e-3)
    return np.arange(1.0, n + 1.0), alive, young


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_the_rate_solves_its_equation_and_is_that_of_the_matrix(seed):
    ages, alive, young = random_table(seed)
    rate = lt.intrinsic_rate(ages, alive, young)
    assert float(np.sum(np.exp(-rate * ages) * alive * young)) == pytest.approx(1.0, abs=1e-12)
    # A count just after the young are born: a class reaches its next age, then bears.
    survival = alive[1:] / alive[:-1]
    matrix = lt.leslie_matrix(survival, alive[0] * young)
    assert math.log(lt.growth_factor(matrix)) == pytest.approx(rate, abs=1e-9)
    births = np.zeros_like(matrix)
    births[0] = matrix[0]
    assert lt.matrix_reproduction(matrix, births) == pytest.approx(
        lt.net_reproduction(alive, young), rel=1e-10
    )


@settings(max_examples=50, deadline=None)
@given(SEEDS)
def test_a_long_projection_ends_in_the_stable_stages(seed):
    generator = np.random.default_rng(seed)
    matrix = generator.uniform(0.05, 1.0, (4, 4))
    numbers = np.ones(4)
    for _ in range(400):
        numbers = matrix @ numbers
        numbers /= numbers.sum()
    assert lt.stable_stages(matrix) == pytest.approx(numbers, abs=1e-9)
    assert (matrix @ numbers).sum() == pytest.approx(lt.growth_factor(matrix), rel=1e-9)
    values = lt.reproductive_values(matrix)
    assert values @ matrix == pytest.approx(lt.growth_factor(matrix) * values, rel=1e-9)


@settings(max_examples=30, deadline=None)
@given(SEEDS)
def test_sensitivities_are_slopes(seed):
    matrix = np.random.default_rng(seed).uniform(0.05, 1.0, (3, 3))
    found = lt.sensitivities(matrix)
    step = 1e-6
    for i in range(3):
        for j in range(3):
            up, down = matrix.copy(), matrix.copy()
            up[i, j] += step
            down[i, j] -= step
            slope = (lt.growth_factor(up) - lt.growth_factor(down)) / (2 * step)
            assert found[i, j] == pytest.approx(slope, abs=1e-7)
    assert lt.elasticities(matrix).sum() == pytest.approx(1.0, abs=1e-12)


def test_one_brood_at_one_age():
    """All young at age 5: r = ln R0 / 5, and both generation times are 5."""
    rate = lt.intrinsic_rate([5.0], [0.5], [16.0])
    assert rate == pytest.approx(math.log(8.0) / 5.0, rel=1e-14)
    assert lt.generation_time(8.0, rate) == pytest.approx(5.0, rel=1e-14)
    assert lt.cohort_generation_time([5.0], [0.5], [16.0]) == 5.0
    assert lt.approximate_rate(8.0, 5.0) == pytest.approx(rate, rel=1e-14)


def test_growing_and_shrinking_and_none():
    ages, alive = [1.0, 2.0], [0.5, 0.25]
    assert lt.intrinsic_rate(ages, alive, [1.0, 2.0]) == pytest.approx(0.0, abs=1e-14)
    assert lt.intrinsic_rate(ages, alive, [0.9, 2.0]) < 0.0
    assert lt.intrinsic_rate(ages, alive, [1e-9, 0.0]) == pytest.approx(math.log(5e-10), rel=1e-9)
    assert lt.intrinsic_rate(ages, alive, [0.0, 0.0]) == -math.inf
    # In a growing population the young of the young count more: the cohort's time is too long.
    net = lt.net_reproduction(alive, [6.0, 6.0])
    rate = lt.intrinsic_rate(ages, alive, [6.0, 6.0])
    cohort = lt.cohort_generation_time(ages, alive, [6.0, 6.0])
    assert cohort > lt.generation_time(net, rate)
    assert lt.approximate_rate(net, cohort) < rate


def test_a_stage_of_one_step_moves_on_and_one_without_end_stays():
    matrix = lt.stage_matrix([0.6, 0.5], [1.0, math.inf], [0.0, 3.0])
    assert matrix == pytest.approx(np.array([[0.0, 3.0], [0.6, 0.5]]))


@settings(max_examples=30, deadline=None)
@given(st.floats(0.1, 0.95), st.integers(2, 12))
def test_stages_of_a_population_that_holds_are_those_of_its_ages(survival, duration):
    """With R0 = 1 the stages stand for the same ages one by one."""
    ages = duration + 1
    long = np.zeros((ages, ages))
    for i in range(duration):
        long[i + 1, i] = survival
    fertility = survival**-duration
    long[0, duration] = fertility
    short = lt.stage_matrix([survival, 0.0], [duration, 1.0], [0.0, fertility])
    assert lt.growth_factor(long) == pytest.approx(1.0, abs=1e-9)
    assert lt.growth_factor(short) == pytest.approx(1.0, abs=1e-9)


def test_what_cannot_be_is_refused():
    with pytest.raises(InputError, match="give ages above 0"):
        lt.intrinsic_rate([0.0, 1.0], [1.0, 0.5], [2.0, 2.0])
    with pytest.raises(InputError, match="3 survivals for 3 fertilities; give one fewer"):
        lt.leslie_matrix([0.5, 0.5, 0.5], [1.0, 1.0, 1.0])
