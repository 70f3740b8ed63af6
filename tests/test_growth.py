"""Growth of plants: the logistic curve against its equation, and prunings through the seasons."""

from __future__ import annotations

import inspect
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from loamwright.physics import growth

DAY = 86_400.0
HEIGHTS = st.floats(0.02, 0.9)


def test_height_solves_the_logistic_equation():
    rate, stature = 0.03 / DAY, 1.5
    right = solve_ivp(
        lambda _, h: rate * h * (1.0 - h / stature), (0.0, 300 * DAY), [0.1],
        rtol=1e-11, atol=1e-13, t_eval=[50 * DAY, 150 * DAY, 300 * DAY],
    ).y[0]  # fmt: skip
    found = [growth.height_after(0.1, stature, rate, t * DAY) for t in (50, 150, 300)]
    assert found == pytest.approx(right, rel=1e-8)


@settings(max_examples=60, deadline=None)
@given(HEIGHTS, HEIGHTS, st.floats(1e-9, 1e-5))
def test_height_time_and_rate_undo_each_other(one, two, rate):
    low, high = sorted((one, two))
    time = growth.time_to_height(low, high, 1.0, rate)
    assert growth.height_after(low, 1.0, rate, time) == pytest.approx(high, rel=1e-9)
    if time > 0.0 and high - low > 1e-6:
        assert growth.rate_between(low, high, 1.0, time) == pytest.approx(rate, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32 - 1), HEIGHTS)
def test_pruning_comes_when_the_height_is_reached(seed, wanted):
    generator = np.random.default_rng(seed)
    rates = generator.uniform(0.0, 0.05, 400) / DAY
    rates[generator.random(400) < 0.3] = 0.0
    time = growth.pruning_time(0.05, wanted, 1.0, rates, DAY)
    height, gone = 0.05, 0.0
    for rate in rates:
        part = min(DAY, time - gone)
        height = growth.height_after(height, 1.0, float(rate), part)
        gone += part
        if gone >= time:
            break
    expected = max(wanted, 0.05)
    if math.isinf(time):
        assert height < expected
    else:
        assert height == pytest.approx(expected, rel=1e-9)


def test_plants_that_need_no_pruning():
    assert growth.time_to_height(0.5, 0.4, 1.0, 1e-7) == 0.0
    assert growth.time_to_height(0.5, 1.0, 1.0, 1e-7) == math.inf
    assert growth.time_to_height(0.5, 0.6, 1.0, 0.0) == math.inf
    assert growth.pruning_time(0.5, 0.4, 1.0, [1e-7], DAY) == 0.0
    assert growth.pruning_time(0.5, 1.2, 1.0, [1e-7], DAY) == math.inf
    assert growth.pruning_time(0.5, 0.6, 1.0, [], DAY) == math.inf
    assert growth.height_after(1.2, 1.0, 1e-7, DAY) == 1.2


def test_even_rates_give_the_even_answer():
    even = growth.time_to_height(0.1, 0.7, 1.0, 1e-7)
    assert growth.pruning_time(0.1, 0.7, 1.0, np.full(3000, 1e-7), DAY) == pytest.approx(even)


def test_light():
    assert growth.light_factor(1.0, 1.0, 2.0) == 0.0
    assert growth.light_factor(0.2, 1.0, 2.0) == 0.0
    assert growth.light_factor(3.0, 1.0, 2.0) == 0.5
    assert growth.light_factor(1e9, 1.0, 2.0) == pytest.approx(1.0, abs=1e-8)
    assert growth.dry_growth(4.0, 0.5, 4e-4) == pytest.approx(8e-4)


@pytest.mark.slow
def test_every_law_compiles_and_agrees():
    numba = pytest.importorskip("numba")
    checked = 0
    for name, law in inspect.getmembers(growth, inspect.isfunction):
        if law.__module__ != growth.__name__ or name == "pruning_time":
            continue
        count = len(inspect.signature(law).parameters)
        plain = (0.2, 0.5, 0.9, 0.3)[:count]
        assert numba.njit(law)(*plain) == pytest.approx(law(*plain), rel=1e-13), name
        checked += 1
    assert checked == 8
