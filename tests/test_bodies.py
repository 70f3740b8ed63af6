"""Bodies: the balance closes, limits, order, published laws joined without steps."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from loamwright.physics import bodies as b

T = st.floats(260.0, 340.0)
PART = st.floats(0.0, 0.5)


@given(st.floats(-2.0, 20.0), PART, T, PART, T, PART, T)
def test_the_operative_temperature_closes_its_balance(gained, r, tr, h, ta, g, tg):
    assume(r + h + g > 1e-3)
    t = b.operative_temperature(gained, r, tr, h, ta, g, tg)
    assume(1.0 < t < 2000.0)
    rest = gained + b.STEFAN_BOLTZMANN * r * (tr**4 - t**4) + h * (ta - t) + g * (tg - t)
    slope = 4.0 * b.STEFAN_BOLTZMANN * r * t**3 + h + g
    assert abs(rest) / slope < 1e-6  # a millionth of a kelvin


@given(PART, T, PART, T, PART, T)
def test_without_gain_it_lies_between_its_surroundings(r, tr, h, ta, g, tg):
    assume(r + h + g > 1e-3)
    t = b.operative_temperature(0.0, r, tr, h, ta, g, tg)
    assert min(tr, ta, tg) - 1e-6 <= t <= max(tr, ta, tg) + 1e-6


@given(st.floats(0.0, 5.0), st.floats(0.01, 5.0))
def test_more_light_is_hotter_and_more_wind_cooler(gained, more):
    args = (0.005, 300.0, 0.05, 298.0, 0.01, 296.0)
    t = b.operative_temperature(gained, *args)
    assert b.operative_temperature(gained + more, *args) > t
    windy = b.operative_temperature(gained, 0.005, 300.0, 0.05 + more, 298.0, 0.01, 296.0)
    assume(t > 298.0)
    assert 298.0 - 1e-6 <= windy < t + 1e-9


def test_the_linear_form_agrees_near_air_temperature():
    # Both balances per square metre, surplus of 20 W/m2: the fourth power bends 0.1 K or less.
    air, emissivity, u, d = 303.15, 0.95, 0.3, 0.03
    absorbed = 20.0 + emissivity * b.STEFAN_BOLTZMANN * air**4
    linear = b.operative_temperature_linear(absorbed, air, emissivity, u, d)
    h = 29.3 * 1.4 * 0.135 * math.sqrt(u / d)
    whole = b.operative_temperature(20.0, emissivity, air, h, air, 0.0, air)
    assert linear == pytest.approx(whole, abs=0.05)
    assert linear > air


@given(st.floats(1e-2, 1e9), st.floats(1.0, 10.0))
def test_free_convection_rises_without_steps(ra, more):
    assert b.nusselt_free(ra * more) >= b.nusselt_free(ra)
    assert b.nusselt_free(ra * (1 + 1e-6)) == pytest.approx(b.nusselt_free(ra), rel=1e-5)


@given(st.floats(1.0, 1e9))
def test_the_joined_law_stays_near_the_published_pieces(ra):
    if ra < 100.0:
        piece = 1.1173 * ra**0.1344
    elif ra < 1e4:
        piece = 0.7455 * ra**0.2167
    else:
        piece = 0.5168 * ra**0.2501
    assert piece * (1 - 1e-9) <= b.nusselt_free(ra) <= piece * 1.065


@given(st.floats(0.5e-3, 5.0), st.floats(1.01, 10.0))
def test_bodies_grow_and_large_ones_have_less_skin_for_their_mass(mass, more):
    for law in (b.lizard_area, b.frog_area, b.lizard_silhouette_broadside):
        assert law(mass * more) > law(mass)
        assert law(mass * more) / more < law(mass)
    assert b.lizard_silhouette_end_on(mass) < b.lizard_silhouette_broadside(mass)
    assert b.lizard_silhouette_broadside(mass) < 0.5 * b.lizard_area(mass)


def test_a_lizard_of_seventy_millimetres_weighs_twelve_grams():
    # 3.55e-5 x 70^3 = 12.18 g, by hand
    assert b.lizard_mass(0.070) == pytest.approx(0.01218, rel=1e-3)


def test_the_time_constant_grows_with_mass_to_the_four_tenths():
    # Ratio given beside the reference tables: tau ~ m^0.4, from area ~ m^0.688 and h ~ L^-0.4..0
    def tau(mass):
        area = b.lizard_area(mass)
        h = b.coefficient_spotila(0.1, b.body_length_scale(mass, 1000.0))
        return b.body_time_constant(mass, 3600.0, h * area, 0.965 * area, 0.0, 303.0)

    exponent = math.log(tau(0.1) / tau(0.01)) / math.log(10.0)
    assert exponent == pytest.approx(0.4, abs=0.05)


def test_warming_follows_the_exponential():
    assert b.warming_time(295.0, 305.0, 315.0, 470.0) == pytest.approx(470.0 * math.log(2.0))
    assert b.warming_time(310.0, 305.0, 300.0, 470.0) == pytest.approx(470.0 * math.log(2.0))
    assert b.warming_time(295.0, 316.0, 315.0, 470.0) == math.inf
    assert b.warming_time(295.0, 290.0, 315.0, 470.0) == math.inf
    assert b.warming_time(295.0, 295.0, 315.0, 470.0) == 0.0


@given(st.floats(1e-3, 5.0), st.floats(278.0, 317.0))
def test_warm_lizards_make_more_heat(mass, temperature):
    one = b.resting_heat_lizard(mass, temperature)
    assert b.resting_heat_lizard(mass, temperature + 1.0) == pytest.approx(one * 10**0.038)
    # at rest and at 30 degC an animal spends less than over an active day
    assert b.resting_heat_lizard(mass, 303.15) < b.field_heat_reptile(mass)


def test_thermal_quality():
    assert b.outside_band(308.0, 305.0, 310.0) == 0.0
    assert b.outside_band(303.0, 305.0, 310.0) == 2.0
    assert b.outside_band(313.0, 305.0, 310.0) == 3.0
    assert b.thermoregulation_effectiveness(0.0, 4.0) == 1.0
    assert b.thermoregulation_effectiveness(4.0, 4.0) == 0.0
    assert b.thermoregulation_effectiveness(1.0, 0.0) == 0.0
