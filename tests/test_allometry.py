"""Balances of food, dung and nitrogen, and that the laws compile as they stand."""

from __future__ import annotations

import inspect

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.physics import allometry, bodies


@settings(max_examples=50, deadline=None)
@given(st.floats(1e-6, 1.0), st.floats(0.01, 0.15), st.floats(0.0, 1.0))
def test_nitrogen_goes_one_way_or_the_other(dry, nitrogen, absorbed):
    in_dung, in_urates = allometry.nitrogen_routes(dry, nitrogen, absorbed)
    assert in_dung + in_urates == pytest.approx(dry * nitrogen, rel=1e-12)
    assert allometry.uric_acid(in_urates) * allometry.URIC_ACID_NITROGEN == pytest.approx(
        in_urates, rel=1e-12
    )


@settings(max_examples=50, deadline=None)
@given(st.floats(0.001, 50.0), st.floats(0.0, 3.0))
def test_the_band_lies_about_the_law(mass, deviations):
    low, high = allometry.field_heat_band(mass, deviations)
    assert low * high == pytest.approx(bodies.field_heat_reptile(mass) ** 2, rel=1e-12)
    assert low <= high


def test_food_pays_for_the_energy():
    dry = allometry.food_for(0.2, 20e6, 0.7)
    assert dry * 20e6 * 0.7 == pytest.approx(0.2)
    assert allometry.dung(dry, 0.7) == pytest.approx(0.3 * dry)
    assert allometry.fresh_mass(0.3, 0.25) == pytest.approx(1.2)


def test_a_law_is_found_again():
    masses = np.logspace(-3, 2, 9)
    factor, exponent, spread = allometry.size_law(masses, 3.0 * masses**0.75)
    assert (factor, exponent) == pytest.approx((3.0, 0.75), rel=1e-12)
    assert spread == pytest.approx(0.0, abs=1e-12)
    noisy = 3.0 * masses**0.75 * 10.0 ** np.array([0.1, -0.1, 0, 0, 0, 0, 0, 0, 0])
    assert allometry.size_law(masses, noisy)[2] > 0.03


def test_amphibians_make_more_heat_when_warm_and_large():
    cool = allometry.resting_heat_amphibian(0.02, 283.15)
    assert 1.5 < allometry.resting_heat_amphibian(0.02, 293.15) / cool < 3.0
    assert allometry.resting_heat_amphibian(0.04, 283.15) == pytest.approx(2**0.75 * cool)


@pytest.mark.slow
def test_every_law_compiles_and_agrees():
    numba = pytest.importorskip("numba")
    checked = 0
    for name, law in inspect.getmembers(allometry, inspect.isfunction):
        if law.__module__ != allometry.__name__ or name in ("field_heat_band", "size_law"):
            continue
        plain = tuple(0.61 + 0.07 * i for i in range(len(inspect.signature(law).parameters)))
        plain = (0.02, 290.0) if name == "resting_heat_amphibian" else plain
        assert numba.njit(law)(*plain) == pytest.approx(law(*plain), rel=1e-13), name
        checked += 1
    assert checked == 9
