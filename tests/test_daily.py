"""The course of a day: what it holds, that it has no kinks, that it compiles."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics.daily import COOLING, DAY, WARMING, daily_course

H = 3600.0
CLOCK = st.floats(0.0, DAY)
WAY = st.floats(600.0, 12 * H)


@pytest.mark.parametrize(
    ("hour", "value"),
    [
        (7, 16.0),  # the day begins
        (9, 18.0),  # halfway up
        (11, 20.0),
        (13, 20.0),  # the middle of the day
        (19, 20.0),  # the day ends
        (23, 18.0),  # halfway down
        (3, 16.0),
        (6.99, 16.0),  # before dawn
        (31, 16.0),  # the next day
        (-11, 20.0),  # the day before
    ],
)
def test_a_day_from_seven_to_seven(hour: float, value: float) -> None:
    found = daily_course(hour * H, 20.0, 16.0, 7 * H, 19 * H, 4 * H, 8 * H)
    assert found == pytest.approx(value, abs=1e-9)


def test_the_usual_ways() -> None:
    assert daily_course(7 * H + WARMING / 2, 20.0, 16.0, 7 * H, 19 * H) == pytest.approx(18.0)
    assert daily_course(19 * H + COOLING / 4, 20.0, 16.0, 7 * H, 19 * H) == pytest.approx(
        18.0 + 2.0 * math.cos(math.pi / 4)
    )


def test_a_day_across_midnight() -> None:
    night_active = [
        daily_course(h * H, 24.0, 20.0, 20 * H, 6 * H, H, H) for h in (21, 1, 6, 7, 19.9)
    ]
    assert night_active == pytest.approx([24.0, 24.0, 24.0, 20.0, 20.0])


@pytest.mark.parametrize("hours", [(0.0, DAY), (7 * H, 7 * H), (DAY, 0.0)])
def test_a_day_without_night(hours: tuple[float, float]) -> None:
    assert {daily_course(h * H, 24.0, 20.0, *hours) for h in range(24)} == {24.0}


@given(time=CLOCK, rise=CLOCK, fall=CLOCK, up=WAY, down=WAY)
def test_it_stays_between_both_and_is_the_same_every_day(
    time: float, rise: float, fall: float, up: float, down: float
) -> None:
    found = daily_course(time, 301.0, 294.0, rise, fall, up, down)
    assert 294.0 <= found <= 301.0
    assert daily_course(time + DAY, 301.0, 294.0, rise, fall, up, down) == pytest.approx(
        found, abs=1e-6
    )


@given(rise=CLOCK, length=st.floats(H, DAY - H), up=WAY, down=WAY)
def test_it_reaches_both_whatever_the_ways(
    rise: float, length: float, up: float, down: float
) -> None:
    fall = (rise + length) % DAY
    assert daily_course(fall, 301.0, 294.0, rise, fall, up, down) == pytest.approx(301.0, abs=1e-6)
    just = rise - 1e-3
    assert daily_course(just, 301.0, 294.0, rise, fall, up, down) == pytest.approx(294.0, abs=1e-6)


@given(rise=CLOCK, length=st.floats(H, DAY - H), up=WAY, down=WAY)
def test_it_has_no_jumps_and_no_kinks(rise: float, length: float, up: float, down: float) -> None:
    fall, step = rise + length, 60.0
    times = np.arange(0.0, DAY + 3 * step, step)
    course = np.array([daily_course(t, 1.0, 0.0, rise, fall, up, down) for t in times])
    shortest = min(up, down, length, DAY - length)
    # A raised cosine is steepest in its middle (pi/2 of the mean) and most bent at its ends.
    assert np.abs(np.diff(course)).max() <= 0.5 * math.pi * step / shortest + 1e-9
    bend = 0.5 * (math.pi * step / shortest) ** 2
    assert np.abs(np.diff(course, 2)).max() <= bend + 1e-9


@given(rise=CLOCK, length=st.floats(H, DAY - H), up=WAY, down=WAY)
def test_its_mean(rise: float, length: float, up: float, down: float) -> None:
    """Each way is as long above its middle as below it."""
    fall = rise + length
    up, down = min(up, length), min(down, DAY - length)
    times = (np.arange(2880) + 0.5) * DAY / 2880
    mean = np.mean([daily_course(t, 1.0, 0.0, rise, fall, up, down) for t in times])
    # 30 s steps over two ways: the sum misses far less than one step of the curve's steepest part.
    assert mean == pytest.approx((length - 0.5 * up + 0.5 * down) / DAY, abs=5e-4)


@pytest.mark.slow
def test_it_compiles_and_says_the_same() -> None:
    numba = pytest.importorskip("numba")
    quick = numba.njit(daily_course)
    for hour in range(30):
        arguments = (hour * H, 301.0, 294.0, 7 * H, 19 * H, 4 * H, 8 * H)
        assert quick(*arguments) == pytest.approx(daily_course(*arguments), rel=1e-14)
    assert quick(9 * H, 20.0, 16.0, 7 * H, 19 * H) == pytest.approx(18.0)
