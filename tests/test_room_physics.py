"""The room model: its limits, its periodic year, its humidity."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics import room
from loamwright.physics.moist_air import saturation_pressure

INF = math.inf
ZERO = 273.15


def weather(seed: int = 3, hours: int = 24 * 30) -> np.ndarray:
    """Weather that no formula gives: a random walk drawn back to 10 degC."""
    rng = np.random.default_rng(seed)
    out, value = [], 0.0
    for step in rng.normal(0.0, 1.5, hours):
        value = 0.95 * value + step
        out.append(value)
    return np.array(out) + ZERO + 10.0


def test_a_room_left_alone_has_the_weathers_mean_and_its_gains() -> None:
    outside = weather()
    found = room.room_temperatures(outside, np.full(len(outside), -INF), INF, 2.5, 36 * 3600.0)
    # Exact but for how far the end of the second run is from that of an endless one.
    assert found.mean() == pytest.approx(outside.mean() + 2.5, abs=1e-6)
    assert np.ptp(found) < np.ptp(outside)


def test_the_year_follows_itself() -> None:
    """Begun at another hour, it is the same year."""
    outside = weather()
    low = np.tile(np.where(np.arange(24) < 12, 280.0, 284.0), 30)
    plain = room.room_temperatures(outside, low, 289.0, 2.0, 20 * 3600.0)
    moved = room.room_temperatures(
        np.roll(outside, 100), np.roll(low, 100), 289.0, 2.0, 20 * 3600.0
    )
    assert np.roll(plain, 100) == pytest.approx(moved, abs=1e-9)
    damp = np.linspace(0.4, 0.9, len(outside))
    one = room.room_humidities(outside, damp, plain, 2e-3)
    two = room.room_humidities(np.roll(outside, 100), np.roll(damp, 100), moved, 2e-3)
    assert np.roll(one, 100) == pytest.approx(two, abs=1e-9)


def test_it_stays_within_its_limits_and_reaches_them() -> None:
    outside = weather()
    low = np.full(len(outside), ZERO + 11.0)
    found = room.room_temperatures(outside, low, ZERO + 14.0, 2.0, 10 * 3600.0)
    assert found.min() == pytest.approx(ZERO + 11.0, abs=1e-9)
    assert found.max() == pytest.approx(ZERO + 14.0, abs=1e-9)


def test_heating_does_nothing_in_a_warm_room() -> None:
    outside = weather()
    none = np.full(len(outside), -INF)
    free = room.room_temperatures(outside, none, INF, 2.0, 36 * 3600.0)
    low = np.full(len(outside), free.min() - 0.5)
    heated = room.room_temperatures(outside, low, INF, 2.0, 36 * 3600.0)
    assert heated == pytest.approx(free, abs=1e-6)


def test_at_night_it_cools_as_a_body_does_and_warms_within_the_hour() -> None:
    """Steady cold, heated from 6 to 22: each night is one exponential."""
    hours = np.arange(48) % 24
    low = np.where((hours >= 6) & (hours < 22), 293.15, 280.0)
    found = room.room_temperatures(np.full(48, 273.15), low, INF, 3.0, 24 * 3600.0)
    ends = 276.15 + 17.0 * np.exp(-np.arange(9) / 24.0)
    night = np.concatenate([found[22:24], found[24:30]])
    assert night == pytest.approx(0.5 * (ends[1:] + ends[:-1]), abs=1e-9)
    assert found[30] == pytest.approx(0.5 * (ends[-1] + 293.15), abs=1e-9)
    assert found[31:46] == pytest.approx(293.15, abs=1e-9)


@given(
    outdoor=st.floats(233.15, 313.15),
    warmer=st.floats(0.0, 10.0),
    cold=st.floats(0.0, 10e-3),
)
def test_the_excess_falls_with_warmth(outdoor: float, warmer: float, cold: float) -> None:
    low, high = room.moisture_excess(outdoor + warmer, cold), room.moisture_excess(outdoor, cold)
    assert 0.375 * cold - 1e-15 <= low <= high <= cold


def test_more_than_saturation_condenses() -> None:
    steady = np.full(48, 1.0)
    found = room.room_humidities(293.15 * steady, steady, 285.15 * steady, 0.0)
    assert found == pytest.approx(1.0, abs=0.0)


def test_without_moisture_the_room_keeps_the_vapour_of_outside() -> None:
    steady = np.full(48, 1.0)
    found = room.room_humidities(275.15 * steady, 0.8 * steady, 293.15 * steady, 0.0)
    right = 0.8 * saturation_pressure(275.15) / saturation_pressure(293.15)
    assert found == pytest.approx(right, rel=1e-12)


def test_the_excess_goes_by_the_days_mean_and_not_by_the_hour() -> None:
    hours = np.arange(24 * 4)
    outside = 283.15 + 9.0 * np.sin(2.0 * np.pi * hours / 24.0)  # 1 to 19 degC, mean 10
    inside = np.full(len(hours), 294.15)
    with_it = room.room_humidities(outside, np.full(len(hours), 0.5), inside, 4e-3)
    without = room.room_humidities(outside, np.full(len(hours), 0.5), inside, 0.0)
    added = (with_it - without) * saturation_pressure(294.15)
    assert added == pytest.approx(2.75e-3 * 461.524 * 294.15, rel=1e-9)


@pytest.mark.parametrize("hours", [1, 2, 7, 24])
def test_the_running_mean(hours: int) -> None:
    values = np.random.default_rng(1).normal(size=60)
    right = [np.mean([values[(i - k) % 60] for k in range(hours)]) for i in range(60)]
    assert room.running_mean(values, hours) == pytest.approx(right, abs=1e-12)
