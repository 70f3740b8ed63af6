"""Pools, films, ground and leaves: signs, limits and closed balances."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics import evaporation, leaves, moist_air

SEA = moist_air.STANDARD_PRESSURE


def test_evaporation_stops_at_equal_pressure_and_turns_into_dew() -> None:
    assert evaporation.pool_evaporation(2500.0, 2500.0, 0.1, 2.44e6) == 0.0
    assert evaporation.pool_evaporation(2400.0, 2500.0, 0.1, 2.44e6) < 0.0
    assert evaporation.vapour_flux(0.003, 2500.0, 2500.0, 295.0) == 0.0


def test_cold_glass_gathers_dew_and_warm_glass_does_not() -> None:
    # Inner face of 6 mm glass, 28 degC inside and 20 degC outside: 24.09 degC (row D-09).
    face = 301.15 - 8.0 * 0.13 / 0.266
    assert face == pytest.approx(297.24, abs=0.002)
    for humidity, dew in ((0.85, True), (0.70, False)):
        p = moist_air.vapour_pressure_at(301.15, humidity)
        wet = moist_air.saturation_pressure(face)
        flux = evaporation.vapour_flux(0.003, wet, p, 0.5 * (face + 301.15))
        assert (flux < 0.0) is dew
        assert (moist_air.dew_point(p) > face) is dew
        assert (moist_air.relative_humidity_at(face, p) > 1.0) is dew


def test_resistances_add() -> None:
    dense = (2500.0 - 1500.0) / (461.524 * 295.0)
    free = evaporation.vapour_flux(0.004, 2500.0, 1500.0, 295.0)
    assert free == pytest.approx(0.004 * dense)
    held = evaporation.vapour_flux(0.004, 2500.0, 1500.0, 295.0, 250.0)  # 1 / 0.004 = 250 s/m
    assert held == pytest.approx(free / 2)
    assert evaporation.vapour_flux(0.0, 2500.0, 1500.0, 295.0, 250.0) == 0.0


def test_drying_time_is_that_of_the_shrinking_film() -> None:
    capacity, flux, step = 0.1, 2e-5, 1.0
    film, time = 0.08, 0.0
    while film > 0.0:
        film -= step * flux * evaporation.wet_fraction(film, capacity)
        time += step
    # One-second steps: the last of several thousand is the error.
    assert time == pytest.approx(evaporation.film_drying_time(0.08, capacity, flux), rel=2e-3)


def test_wet_fraction_stays_in_bounds() -> None:
    values = [evaporation.wet_fraction(m, 0.1) for m in np.linspace(-0.02, 0.15, 200)]
    assert min(values) == 0.0
    assert max(values) == 1.0
    assert np.all(np.diff(values) >= 0.0)
    assert evaporation.wet_fraction(0.0125, 0.1) == pytest.approx(0.25)


def test_ground_flux_is_continuous_and_dew_meets_no_resistance() -> None:
    t = 297.0
    s = moist_air.saturation_pressure(t)
    air = np.linspace(0.5 * s, 1.2 * s, 2001)
    flux = [evaporation.ground_flux(0.003, s, a, t, 0.9, 400.0) for a in air]
    steepest = 0.003 * (air[1] - air[0]) / (moist_air.VAPOUR_GAS * t)
    assert np.all(np.diff(flux) <= 0.0)
    assert np.max(np.abs(np.diff(flux))) < steepest * 1.001
    assert evaporation.ground_flux(0.003, s, 0.95 * s, t, 0.9, 400.0) == 0.0
    dew = evaporation.ground_flux(0.003, s, 1.1 * s, t, 0.9, 400.0)
    assert dew == pytest.approx(-3e-4 * moist_air.vapour_density(s, t))
    wet = evaporation.ground_flux(0.003, s, 0.5 * s, t, 1.0, 0.0)
    assert wet == pytest.approx(evaporation.vapour_flux(0.003, s, 0.5 * s, t))


def test_drier_ground_holds_its_water() -> None:
    wetness = np.linspace(0.0, 1.0, 50)
    assert np.all(np.diff([evaporation.ground_resistance(w) for w in wetness]) < 0.0)
    sand = [evaporation.ground_resistance_sand(w) for w in np.linspace(0.0, 0.4, 401)]
    assert np.all(np.diff(sand) <= 0.0)
    assert sand[-1] == 10.0
    assert abs(sand[150] - sand[149]) < 0.4  # no step at 0.15
    pores = [evaporation.pore_humidity(-h, 295.0) for h in np.geomspace(0.01, 1e5, 60)]
    assert np.all(np.diff(pores) < 0.0)
    assert evaporation.pore_humidity(0.0, 295.0) == 1.0


def test_litter_of_open_pores_is_still_air() -> None:
    free = 2.5e-5
    assert evaporation.porous_diffusivity(free, 1.0, 1.0) == free
    assert evaporation.porous_diffusivity(free, 0.0, 0.9) == 0.0
    # 0.5^(10/3) / 0.8^2 worked by hand
    assert evaporation.porous_diffusivity(free, 0.5, 0.8) == pytest.approx(0.15502 * free, rel=1e-4)
    assert evaporation.dry_layer_resistance(0.03, free) == pytest.approx(1200.0)


def leaf(
    absorbed: float, air: float, humidity: float, heat: float, vapour: float, emissivity: float
) -> tuple[float, float]:
    """Leaf temperature [K], and what the balance lacks there [W/m2]."""
    p = moist_air.vapour_pressure_at(air, humidity)
    t = leaves.leaf_temperature(absorbed, emissivity, air, p, SEA, heat, vapour)
    ratio = moist_air.humidity_ratio(p, SEA)
    sensible = moist_air.volumetric_heat_capacity(air, ratio, SEA) * heat * (t - air)
    flux = evaporation.vapour_flux(vapour, moist_air.saturation_pressure(t), p, air)
    grey = 2.0 * emissivity * leaves.STEFAN_BOLTZMANN * t**4
    return t, absorbed - grey - sensible - moist_air.latent_heat(t) * flux


@given(
    st.floats(600.0, 1400.0),
    st.floats(278.0, 315.0),
    st.floats(0.05, 1.0),
    st.floats(0.002, 0.05),
    st.floats(0.0, 0.02),
)
def test_leaf_balance_closes(
    absorbed: float, air: float, humidity: float, heat: float, vapour: float
) -> None:
    _, lacking = leaf(absorbed, air, humidity, heat, vapour, leaves.LEAF_EMISSIVITY)
    assert abs(lacking) < 1e-6


@given(st.floats(-20.0, 60.0), st.floats(288.0, 308.0), st.floats(0.3, 0.95), st.floats(0.0, 0.006))
def test_penman_monteith_is_the_balance_made_linear(
    extra: float, air: float, humidity: float, vapour: float
) -> None:
    emissivity, boundary = 0.96, 0.012
    isothermal = 2.0 * emissivity * leaves.STEFAN_BOLTZMANN * air**4
    exact, _ = leaf(isothermal + extra, air, humidity, boundary, vapour, emissivity)
    p = moist_air.vapour_pressure_at(air, humidity)
    ratio = moist_air.humidity_ratio(p, SEA)
    capacity = moist_air.volumetric_heat_capacity(air, ratio, SEA)
    heat = boundary + leaves.radiative_conductance(emissivity, air, capacity)
    lost = leaves.penman_monteith(
        extra,
        moist_air.vapour_pressure_deficit(air, p),
        moist_air.saturation_slope(air),
        moist_air.psychrometric_constant(air, ratio, SEA),
        capacity,
        heat,
        vapour,
    )
    linear = air + leaves.leaf_excess(extra, lost, capacity, heat)
    # The saturation curve bends by 6.5 % of its slope per kelvin: half of that per kelvin of
    # excess; the latent heat changes by 0.1 % per kelvin, on a flux worth at most 5 K.
    excess = abs(exact - air)
    assert abs(linear - exact) <= 1e-3 + 0.005 * excess + 0.0325 * excess * excess


def test_shaded_wet_leaf_hangs_at_the_wet_bulb() -> None:
    # As much conductance to vapour as to heat (Lewis number one), no radiation.
    for air, humidity in ((303.15, 0.3), (298.15, 0.5), (293.15, 0.9)):
        t, _ = leaf(0.0, air, humidity, 0.02, 0.02, 0.0)
        p = moist_air.vapour_pressure_at(air, humidity)
        bulb = moist_air.wet_bulb(air, moist_air.humidity_ratio(p, SEA), SEA)
        # Vapour pressure against humidity ratio as the driving force: 2 % of the depression.
        assert t == pytest.approx(bulb, abs=0.02 * (air - bulb))


def test_a_dry_leaf_gives_off_no_latent_heat() -> None:
    assert leaves.penman_monteith(50.0, 1000.0, 190.0, 66.0, 1190.0, 0.02, 0.0) == 0.0
    assert leaves.leaf_excess(50.0, 0.0, 1190.0, 0.02) == pytest.approx(50.0 / 23.8)


def test_saturated_still_air_evaporates_at_the_equilibrium_rate() -> None:
    # No deficit and open pores: the share slope / (slope + gamma) of the net radiation.
    lost = leaves.penman_monteith(100.0, 0.0, 190.0, 66.0, 1190.0, 0.01, 0.01)
    assert lost == pytest.approx(100.0 * 190.0 / 256.0)
    assert leaves.penman_monteith(-30.0, 0.0, 190.0, 66.0, 1190.0, 0.01, 0.01) < 0.0  # dew


def stomata(photons: float, deficit: float, light: float, dark: float) -> float:
    return leaves.stomatal_conductance(
        photons, deficit, light, dark, leaves.HALF_LIGHT, leaves.HALF_DEFICIT
    )


def test_stomata_follow_light_and_dryness() -> None:
    assert stomata(0.0, 0.0, 0.2, 0.02) == pytest.approx(0.02)
    assert stomata(leaves.HALF_LIGHT, 0.0, 0.2, 0.02) == pytest.approx(0.11)
    assert stomata(0.0, leaves.HALF_DEFICIT, 0.2, 0.02) == pytest.approx(0.01)
    assert stomata(0.0, -50.0, 0.2, 0.02) == pytest.approx(0.02)
    light = [stomata(q, 800.0, 0.2, 0.02) for q in np.linspace(0.0, 1500.0, 50)]
    assert np.all(np.diff(light) > 0.0)
    dry = [stomata(300.0, d, 0.2, 0.02) for d in np.linspace(0.0, 4000.0, 50)]
    assert np.all(np.diff(dry) < 0.0)
    # CAM plants open by night.
    assert stomata(0.0, 500.0, 0.01, 0.05) > stomata(400.0, 500.0, 0.01, 0.05)


def test_boundary_layer_thins_with_wind_warmth_and_smallness() -> None:
    def g(speed: float, length: float, excess: float) -> float:
        return leaves.leaf_boundary_conductance(speed, length, excess, 298.15, SEA)

    assert g(0.0, 0.05, 0.0) == 0.0
    assert g(0.3, 0.05, 2.0) > g(0.1, 0.05, 2.0) > g(0.0, 0.05, 2.0) > 0.0
    assert g(0.3, 0.02, 2.0) > g(0.3, 0.10, 2.0)
    assert g(0.0, 0.05, 4.0) == g(0.0, 0.05, -4.0)
    assert g(0.0, 0.05, 4.0) == pytest.approx(g(0.0, 0.05, 2.0) * 2**0.25)
    assert max(g(0.1, 0.05, 0.0), g(0.0, 0.05, 2.0)) < g(0.1, 0.05, 2.0)
    # A 5 cm leaf in the gentle stream of an enclosure: a few millimetres a second.
    assert 0.002 < g(0.1, 0.05, 1.0) < 0.01


@given(st.floats(1e-4, 0.02), st.floats(1e-3, 0.05), st.floats(0.0, 1.0))
def test_leaf_conductance_is_best_with_stomata_on_both_faces(
    stomatal: float, boundary: float, share: float
) -> None:
    both = leaves.leaf_vapour_conductance(stomatal, 0.0, boundary, 0.5)
    some = leaves.leaf_vapour_conductance(stomatal, 0.0, boundary, share)
    turned = leaves.leaf_vapour_conductance(stomatal, 0.0, boundary, 1.0 - share)
    assert some <= both * (1 + 1e-12)
    assert some == pytest.approx(turned)
    assert some < min(stomatal, 2 * boundary)


def test_conductance_ranges_are_ranges() -> None:
    for low, high in leaves.OPEN_CONDUCTANCE.values():
        assert 0.0 < low < high < 1.0
    g = leaves.mole_to_velocity(0.2, 300.0, 90_000.0)
    assert leaves.velocity_to_mole(g, 300.0, 90_000.0) == pytest.approx(0.2)
    assert math.isclose(g, 0.2 * 8.314462618 * 300.0 / 90_000.0)
