"""Burn thresholds: order, inverse, against an independent list of serious burns."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics import burns as b

SURFACE = st.integers(0, 4)
TIME = st.floats(1.0, 28800.0)


@given(SURFACE, TIME, st.floats(1.0, 10.0))
def test_longer_contact_burns_at_lower_temperature(surface, time, more):
    assert b.burn_threshold(surface, time * more) <= b.burn_threshold(surface, time) + 1e-9


@given(TIME)
def test_metal_burns_first_and_wood_last(time):
    row = [b.burn_threshold(surface, time) for surface in range(5)]
    assert row == sorted(row)
    if time >= 600.0:
        assert max(row) - min(row) < 1e-9


@given(SURFACE, TIME)
def test_time_undoes_threshold(surface, time):
    again = b.burn_time(surface, b.burn_threshold(surface, time))
    # between 1 and 10 min wood and plastic fall 12 K, elsewhere more; rounding decides the rest
    assert again == pytest.approx(time, rel=1e-6)


@given(SURFACE, st.floats(300.0, 400.0), st.floats(0.0, 20.0))
def test_hotter_surfaces_never_take_longer(surface, temperature, more):
    hot, hotter = b.burn_time(surface, temperature), b.burn_time(surface, temperature + more)
    assert hotter <= hot * (1 + 1e-12)


@pytest.mark.parametrize("surface", range(5))
def test_ends_of_the_table(surface):
    assert b.burn_time(surface, 316.15 - 0.01) == math.inf
    assert b.burn_time(surface, 316.15) == pytest.approx(28800.0)
    assert b.burn_time(surface, 500.0) == 1.0
    assert b.burn_threshold(surface, 0.1) == b.burn_threshold(surface, 1.0)


@pytest.mark.parametrize(
    ("celsius", "seconds"),
    [(49, 300), (52, 105), (55, 30), (57, 10), (60, 5), (63, 3), (66, 1.5), (68, 1)],
)
def test_serious_burns_lie_at_or_above_the_onset(celsius, seconds):
    # G-55, hot metal or water, serious burns; attributed to a burns institute, poster unsure.
    onset = b.burn_threshold(b.BARE_METAL, seconds)
    assert onset <= celsius + 273.15 + 0.05
    assert onset > celsius + 273.15 - 7.0
