"""Laws of temperature, moisture, food and decay: limits, and that they compile as they stand."""

from __future__ import annotations

import inspect
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.physics import decay, thermal_rates

GIVEN = {
    "beta_factor": (290.0, 281.0, 294.0, 301.0),
    "briere_rate": (290.0, 1e-9, 281.0, 301.0),
    "moisture_factor": (0.9, 0.1, 0.4, 0.8, 0.3),
    "degree_day_rate": (290.0, 281.0, 1e6),
    "nitrification_constant": (290.0,),
}
"""Arguments that lie where a law does something; all others take any."""


@pytest.mark.slow
def test_every_law_compiles_and_agrees():
    numba = pytest.importorskip("numba")
    checked = 0
    for module in (thermal_rates, decay):
        for name, law in inspect.getmembers(module, inspect.isfunction):
            if law.__module__ != module.__name__:
                continue
            count = len(inspect.signature(law).parameters)
            plain = GIVEN.get(name, tuple(0.61 + 0.07 * i for i in range(count)))
            assert numba.njit(law)(*plain) == pytest.approx(law(*plain), rel=1e-13), name
            assert math.isfinite(law(*plain))
            checked += 1
    assert checked >= 17


@settings(max_examples=60, deadline=None)
@given(st.floats(270, 320), st.floats(1, 15), st.floats(1, 15))
def test_the_beta_law_is_one_at_its_optimum_and_less_elsewhere(temperature, below, above):
    optimum = 298.0
    value = thermal_rates.beta_factor(temperature, optimum - below, optimum, optimum + above)
    assert 0.0 <= value <= 1.0 + 1e-12
    assert thermal_rates.beta_factor(
        optimum, optimum - below, optimum, optimum + above
    ) == pytest.approx(1.0, abs=1e-12)
    if not optimum - below < temperature < optimum + above:
        assert value == 0.0


def test_limits_of_the_laws():
    assert thermal_rates.degree_day_rate(280.0, 281.0, 1e6) == 0.0
    assert thermal_rates.degree_day_rate(291.0, 281.0, 1e6) == pytest.approx(1e-5)
    assert thermal_rates.briere_rate(281.0, 1.0, 281.0, 300.0) == 0.0
    assert thermal_rates.briere_rate(300.0, 1.0, 281.0, 300.0) == 0.0
    assert thermal_rates.briere_rate(290.0, 1e-3, 281.0, 299.0) == pytest.approx(
        1e-3 * 16.85 * 9.0 * 3.0, rel=1e-12
    )
    assert thermal_rates.feeding_share(0.0, 1.0) == 0.0
    assert thermal_rates.feeding_share(3.0, 3.0) == 0.5
    assert thermal_rates.prey_eaten(1e12, 1e-4, 50.0) == pytest.approx(1 / 50.0, rel=1e-6)
    assert thermal_rates.prey_eaten(10.0, 1e-4, 0.0) == pytest.approx(1e-3)
    points = (0.1, 0.4, 0.8, 0.31)
    wet = [thermal_rates.moisture_factor(s, *points) for s in (0.0, 0.1, 0.25, 0.4, 0.8, 0.9, 1.0)]
    assert wet == pytest.approx([0.0, 0.0, 0.5, 1.0, 1.0, 0.655, 0.31])
    assert decay.decay_constant(1.0, 0.5, 10.0) == pytest.approx(thermal_rates.half_life(1.0) / 10)
    assert decay.nitrification_constant(277.0) == 0.0
    assert decay.century_moisture(0.0) == pytest.approx(1 / 31)
