"""Eggs: development in changing warmth, shares of males, and searches against every outcome."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.stats import binom, nbinom, poisson

from loamwright.errors import InputError
from loamwright.physics import eggs

DAY = 86_400.0
ZERO = 273.15


# -- development ---------------------------------------------------------------------------------


def test_a_line_is_found_again():
    warmth = np.array([24.0, 26.0, 30.0]) + ZERO
    threshold, constant, spread = eggs.rate_line(warmth, 400 * DAY / (warmth - ZERO - 15.5))
    assert threshold == pytest.approx(ZERO + 15.5, abs=1e-9)
    assert constant == pytest.approx(400 * DAY, rel=1e-9)
    assert spread == pytest.approx(0.0, abs=1e-9)
    assert math.isnan(eggs.rate_line(warmth[:2], [30 * DAY, 25 * DAY])[2])


def test_no_line_no_answer():
    with pytest.raises(InputError, match="leave out those above the optimum"):
        eggs.rate_line([311.0, 313.0], [44.4 * DAY, 46.2 * DAY])
    with pytest.raises(InputError, match="give two at least"):
        eggs.rate_line([300.0, 300.0], [30 * DAY, 31 * DAY])
    assert math.isnan(eggs.incubation_time(306.0, 289.0, 4e7, 299.0, 305.0))
    assert math.isnan(eggs.incubation_time(298.0, 289.0, 4e7, 299.0, 305.0))


def test_even_warmth_hatches_when_the_line_says():
    threshold, constant = ZERO + 15.8, 367 * DAY
    for celsius in (26.0, 28.3):
        even = eggs.incubation_time(ZERO + celsius, threshold, constant, ZERO + 20, ZERO + 30)
        hours = np.full(24 * 60, ZERO + celsius)
        found = eggs.hatching_time(hours, 3600.0, threshold, constant, ZERO + 30)
        assert found == pytest.approx(even, rel=1e-9)


def test_warm_days_and_cool_nights_add_up_above_the_threshold_only():
    threshold, constant = ZERO + 16.0, 100 * DAY
    days = np.tile([ZERO + 26.0, ZERO + 10.0], 100)
    # Half of the time at 10 K above the threshold, nights count nothing: 20 d, less a last night.
    assert eggs.hatching_time(days, DAY / 2, threshold, constant, ZERO + 30) == pytest.approx(
        19.5 * DAY
    )
    hot = np.full(100, ZERO + 40.0)
    assert eggs.hatching_time(hot, DAY, threshold, constant, ZERO + 30) == pytest.approx(
        100 / 14 * DAY
    )
    assert eggs.hatching_time(hot[:7], DAY, threshold, constant, ZERO + 30) == math.inf
    assert eggs.hatching_time([], DAY, threshold, constant, ZERO + 30) == math.inf


# -- sexes ---------------------------------------------------------------------------------------


def test_experiments_are_weighed_by_their_hatchlings():
    levels, shares, numbers = eggs.pooled_shares(
        [303.0, 301.0, 303.0], [0.5, 0.0, 1.0], [30, 7, 10]
    )
    assert levels.tolist() == [301.0, 303.0]
    assert shares == pytest.approx([0.0, 25 / 40])
    assert numbers.tolist() == [7.0, 40.0]


def test_shares_between_experiments_and_none_outside():
    assert eggs.male_share(302.0, [301.0, 303.0], [0.0, 0.6]) == pytest.approx(0.3)
    assert math.isnan(eggs.male_share(300.9, [301.0, 303.0], [0.0, 0.6]))
    assert math.isnan(eggs.male_share(303.1, [301.0, 303.0], [0.0, 0.6]))
    assert eggs.male_share_logistic(302.0, 302.0, -0.4) == 0.5
    assert eggs.male_share_logistic(304.0, 302.0, -0.4) < 0.01


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 40), st.integers(1, 40), st.floats(0.5, 3.0))
def test_a_band_ends_where_the_count_is_so_far_off(males, more, deviations):
    """Wilson's ends are the shares from which the count lies just so many deviations away."""
    number = males + more
    low, high = eggs.share_band(males / number, number, deviations)
    for end in (low, high):
        if 1e-9 < end < 1.0 - 1e-9:
            off = abs(males / number - end) / math.sqrt(end * (1.0 - end) / number)
            assert off == pytest.approx(deviations, rel=1e-6)


# -- searches ------------------------------------------------------------------------------------

MANY = np.arange(4000)


def posterior(prior: np.ndarray, found: int, overlooked: float) -> np.ndarray:
    """Chance of each number of missed eggs, by Bayes' rule over all numbers of eggs."""
    numbers = found + MANY[: MANY.size - found]
    weights = prior[numbers] * binom.pmf(found, numbers, 1.0 - overlooked)
    return weights / weights.sum()


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 30), st.floats(0.2, 0.95), st.integers(1, 5), st.floats(0.5, 40.0),
       st.floats(0.4, 20.0))  # fmt: skip
def test_missed_eggs_by_trying_every_number(found, detection, searches, expected, shape):
    overlooked = eggs.overlooked_share(detection, searches)
    for prior, mean, form in (
        (poisson.pmf(MANY, expected), expected, math.inf),
        (nbinom.pmf(MANY, shape, shape / (shape + expected)), expected, shape),
        (np.ones(MANY.size), math.inf, 1.0),
    ):
        right = posterior(prior, found, overlooked)
        if not np.isfinite(right).all():
            continue  # so many found from so few expected that the chance underflows
        assert eggs.chance_missed(found, overlooked, mean, form) == pytest.approx(
            1.0 - right[0], abs=1e-9
        )
        assert eggs.eggs_missed(found, overlooked, mean, form) == pytest.approx(
            float(right @ MANY[: right.size]), rel=1e-6, abs=1e-9
        )


@settings(max_examples=80, deadline=None)
@given(st.integers(0, 30), st.floats(0.05, 0.95), st.floats(0.0, 40.0),
       st.sampled_from([math.inf, 0.7, 3.0]), st.floats(0.001, 0.5))  # fmt: skip
def test_the_searches_asked_for_are_just_enough(found, detection, expected, shape, risk):
    needed = eggs.searches_needed(found, detection, expected, shape, risk)

    def chance(searches: int) -> float:
        overlooked = eggs.overlooked_share(detection, searches)
        return eggs.chance_missed(found, overlooked, expected, shape)

    assert chance(needed) <= risk * (1.0 + 1e-9)
    if needed > 0:
        assert chance(needed - 1) > risk * (1.0 - 1e-9)


def test_nothing_known_takes_more_searches():
    known = eggs.searches_needed(6, 0.6, 2.0, math.inf, 0.05)
    unknown = eggs.searches_needed(6, 0.6, math.inf, 1.0, 0.05)
    assert unknown > known > 0
    assert eggs.searches_needed(0, 0.5, 0.0, math.inf, 0.05) == 0


def test_the_record_says_what_is_still_to_come():
    assert eggs.eggs_expected(2, 60 * DAY, 30 * DAY, 2.0, 5) == pytest.approx(3.0)
    assert eggs.eggs_expected(2, 60 * DAY, 30 * DAY, 2.0, 12) == 0.0


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_removals_are_most_likely(seed):
    """The estimate against the likelihood of how the eggs found are spread over the searches."""
    generator = np.random.default_rng(seed)
    left, counts = int(generator.integers(60, 400)), []
    for _ in range(int(generator.integers(2, 6))):
        counts.append(int(generator.binomial(left, generator.uniform(0.3, 0.7))))
        left -= counts[-1]
    number, chance = eggs.removals(counts)
    if math.isinf(number):
        return
    searches = np.arange(len(counts))

    def unlikely(p: float) -> float:
        shares = p * (1.0 - p) ** searches
        return -float(np.asarray(counts) @ np.log(shares / shares.sum()))

    best = minimize_scalar(unlikely, bounds=(1e-4, 1.0 - 1e-9), method="bounded",
                           options={"xatol": 1e-10})  # fmt: skip
    # The bottom of a parabola is flat: the place is known to the root of the rounding.
    assert chance == pytest.approx(best.x, abs=1e-5)
    assert number == pytest.approx(sum(counts) / (1.0 - (1.0 - chance) ** len(counts)), rel=1e-12)


def test_counts_that_do_not_fall_tell_nothing():
    assert eggs.removals([3, 5, 9]) == (math.inf, 0.0)
    assert eggs.removals([4, 4]) == (math.inf, 0.0)
    assert eggs.removals([9, 0]) == pytest.approx((9.0, 1.0))
    with pytest.raises(InputError, match="two searches at least"):
        eggs.removals([5])
