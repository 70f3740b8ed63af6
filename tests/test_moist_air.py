"""Moist air: inversions, order, outside judges, and that compiled loops can take each function."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from types import ModuleType

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from loamwright.physics import convection, evaporation, leaves, moist_air

SEA = moist_air.STANDARD_PRESSURE
temperatures = st.floats(220.0, 343.0)
pressures = st.floats(60_000.0, 110_000.0)
shares = st.floats(0.0, 1.0)


@given(st.floats(174.0, 460.0))
def test_dew_point_undoes_saturation(t: float) -> None:
    assume(abs(t - moist_air.TRIPLE_POINT) > 0.01)  # the equations of ice and water differ here
    p = moist_air.saturation_pressure(t)
    assert moist_air.dew_point(p) == pytest.approx(t, abs=1e-7)


def test_ice_and_water_meet_at_the_triple_point() -> None:
    ice = moist_air.saturation_pressure_ice(moist_air.TRIPLE_POINT)
    water = moist_air.saturation_pressure_water(moist_air.TRIPLE_POINT)
    assert ice == pytest.approx(water, rel=2e-5)  # two fits; 1.2e-5 apart
    assert water == pytest.approx(611.657, rel=2e-4)  # IAPWS triple point
    near = moist_air.dew_point(0.5 * (ice + water))
    assert near == pytest.approx(moist_air.TRIPLE_POINT, abs=1e-3)


@pytest.mark.parametrize("pressure", [-1.0, 0.0, 1e-9, 1.4e-3])
def test_air_without_vapour_has_the_lowest_dew_point(pressure: float) -> None:
    assert moist_air.dew_point(pressure) == moist_air.LOWEST_DEW_POINT


def test_lowest_vapour_pressure_belongs_to_the_lowest_dew_point() -> None:
    end = moist_air.saturation_pressure(moist_air.LOWEST_DEW_POINT)
    assert pytest.approx(end, rel=1e-3) == moist_air.LOWEST_VAPOUR_PRESSURE


@given(temperatures, shares, pressures)
def test_wet_bulb_is_undone_by_its_equation(t: float, share: float, pressure: float) -> None:
    w = share * moist_air.humidity_ratio(moist_air.saturation_pressure(t), pressure)
    bulb = moist_air.wet_bulb(t, w, pressure)
    if abs(bulb - moist_air.ZERO_CELSIUS) > 0.02:  # at 0 degC the ice of the bulb melts
        assert moist_air.wet_bulb_ratio(t, bulb, pressure) == pytest.approx(w, abs=1e-10)


@given(st.floats(273.2, 343.0), st.floats(0.0, 25.0), pressures)
def test_wet_bulb_undoes_its_equation(bulb: float, drop: float, pressure: float) -> None:
    w = moist_air.wet_bulb_ratio(bulb + drop, bulb, pressure)
    assume(w > 0.0 and bulb + drop < 343.0)
    assert moist_air.wet_bulb(bulb + drop, w, pressure) == pytest.approx(bulb, abs=1e-7)


@given(temperatures, st.floats(0.01, 0.99), pressures)
def test_dew_point_below_wet_bulb_below_temperature(
    t: float, share: float, pressure: float
) -> None:
    p = moist_air.vapour_pressure_at(t, share)
    w = moist_air.humidity_ratio(p, pressure)
    # 0.02 K: an ice bulb at 0 degC, and the frost point where ice meets water
    assert moist_air.dew_point(p) <= moist_air.wet_bulb(t, w, pressure) + 0.02
    assert moist_air.wet_bulb(t, w, pressure) <= t + 0.02


@given(temperatures, pressures)
def test_saturated_air_has_one_temperature(t: float, pressure: float) -> None:
    assume(abs(t - moist_air.ZERO_CELSIUS) > 0.1)
    w = moist_air.humidity_ratio(moist_air.saturation_pressure(t), pressure)
    assert moist_air.wet_bulb(t, w, pressure) == pytest.approx(t, abs=1e-6)


@given(temperatures, shares, pressures)
def test_humidities_convert_back(t: float, share: float, pressure: float) -> None:
    p = moist_air.vapour_pressure_at(t, share)
    w = moist_air.humidity_ratio(p, pressure)
    density = moist_air.vapour_density(p, t)
    h = moist_air.moist_air_enthalpy(t, w)
    assert moist_air.relative_humidity_at(t, p) == pytest.approx(share, rel=1e-12)
    assert moist_air.vapour_pressure_from_ratio(w, pressure) == pytest.approx(p, rel=1e-9)
    assert moist_air.vapour_pressure_from_density(density, t) == pytest.approx(p, rel=1e-12)
    assert moist_air.temperature_from_enthalpy(h, w) == pytest.approx(t, rel=1e-12)
    assert moist_air.vapour_pressure_deficit(t, p) >= -1e-9 * p


@given(temperatures, shares, pressures)
def test_volume_is_that_of_two_ideal_gases(t: float, share: float, pressure: float) -> None:
    p = moist_air.vapour_pressure_at(t, share)
    w = moist_air.humidity_ratio(p, pressure)
    two = (pressure - p) / (moist_air.DRY_AIR_GAS * t) + moist_air.vapour_density(p, t)
    assert moist_air.moist_air_density(t, w, pressure) == pytest.approx(two, rel=1e-5)
    # As heavy as dry air of the virtual temperature.
    warm = moist_air.virtual_temperature(t, w)
    assert pressure / (moist_air.DRY_AIR_GAS * warm) == pytest.approx(two, rel=1e-5)


@given(temperatures)
def test_slope_is_the_derivative(t: float) -> None:
    assume(abs(t - moist_air.TRIPLE_POINT) > 0.01)
    step = 1e-3
    rise = moist_air.saturation_pressure(t + step) - moist_air.saturation_pressure(t - step)
    assert moist_air.saturation_slope(t) == pytest.approx(rise / (2 * step), rel=1e-6)


def rising(values: list[float]) -> bool:
    return bool(np.all(np.diff(values) > 0.0))


def test_order() -> None:
    t = np.linspace(220.0, 360.0, 500)
    p = np.geomspace(1.0, 60_000.0, 500)
    ratio = np.linspace(0.0, 0.027, 300)
    assert rising([moist_air.saturation_pressure(x) for x in t])
    for side in (t[t < 273.16], t[t > 273.16]):  # ice is the steeper
        assert rising([moist_air.saturation_slope(x) for x in side])
    assert rising([moist_air.dew_point(x) for x in p])
    assert rising([moist_air.wet_bulb(303.15, w, SEA) for w in ratio])
    assert rising([moist_air.moist_air_enthalpy(303.15, w) for w in ratio])
    assert rising([-moist_air.moist_air_density(303.15, w, SEA) for w in ratio])
    assert rising([moist_air.volumetric_heat_capacity(303.15, w, SEA) for w in ratio])
    assert rising([-moist_air.latent_heat(x) for x in t[t > 273.0]])
    assert rising([moist_air.vapour_diffusivity(x, SEA) for x in t])
    assert rising([-moist_air.standard_pressure(z) for z in np.linspace(-500.0, 5000.0, 50)])


def test_psychrometric_constant_belongs_to_the_vapour_density() -> None:
    t, w = 298.15, 0.012
    capacity = moist_air.volumetric_heat_capacity(t, w, SEA)
    gamma = moist_air.psychrometric_constant(t, w, SEA)
    per_pascal = moist_air.latent_heat(t) / (moist_air.VAPOUR_GAS * t)
    assert capacity / gamma == pytest.approx(per_pascal, rel=1e-5)


@pytest.mark.slow
@pytest.mark.judge
def test_states_against_psychrolib(monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "numba", None)  # without numba it loads in no time
    monkeypatch.delitem(sys.modules, "psychrolib", raising=False)
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    for celsius in range(-25, 61, 5):
        for share in (0.05, 0.3, 0.6, 0.9):
            for pressure in (SEA, 84_000.0):
                t = celsius + 273.15
                p = moist_air.vapour_pressure_at(t, share)
                w = moist_air.humidity_ratio(p, pressure)
                theirs = psychrolib.GetHumRatioFromRelHum(celsius, share, pressure)
                assert w == pytest.approx(theirs, rel=1e-5)  # it rounds 0.621945 too
                dew = psychrolib.GetTDewPointFromRelHum(celsius, share)
                assert moist_air.dew_point(p) == pytest.approx(dew + 273.15, abs=2e-3)
                bulb = psychrolib.GetTWetBulbFromHumRatio(celsius, theirs, pressure)
                ours = moist_air.wet_bulb(t, w, pressure)
                if abs(bulb) > 0.1:  # about 0 degC a wet and an ice bulb both fit
                    assert ours == pytest.approx(bulb + 273.15, abs=2e-3)  # it bisects to 1e-3
                h = psychrolib.GetMoistAirEnthalpy(celsius, theirs)
                assert moist_air.moist_air_enthalpy(t, w) == pytest.approx(h, rel=1e-4, abs=1.0)
                v = psychrolib.GetMoistAirVolume(celsius, theirs, pressure)
                assert moist_air.moist_air_volume(t, w, pressure) == pytest.approx(v, rel=1e-5)
                d = psychrolib.GetMoistAirDensity(celsius, theirs, pressure)
                assert moist_air.moist_air_density(t, w, pressure) == pytest.approx(d, rel=1e-5)


@pytest.mark.slow
@pytest.mark.judge
def test_states_against_coolprop() -> None:
    from CoolProp.CoolProp import PropsSI
    from CoolProp.HumidAirProp import HAPropsSI

    for celsius in range(5, 61, 5):
        t = celsius + 273.15
        p = PropsSI("P", "T", t, "Q", 1, "Water")
        # IAPWS-95 against Hyland & Wexler
        assert moist_air.saturation_pressure(t) == pytest.approx(p, rel=3e-4)
        slope = (
            PropsSI("P", "T", t + 0.01, "Q", 1, "Water")
            - PropsSI("P", "T", t - 0.01, "Q", 1, "Water")
        ) / 0.02
        assert moist_air.saturation_slope(t) == pytest.approx(slope, rel=5e-4)
        latent = PropsSI("H", "T", t, "Q", 1, "Water") - PropsSI("H", "T", t, "Q", 0, "Water")
        assert moist_air.latent_heat(t) == pytest.approx(latent, rel=1e-5)  # fit: 7e-6
        # Real moist air: the enhancement factor of 1.0045 is left out, most felt when warm.
        for share in (0.2, 0.5, 0.9) if celsius <= 45 else ():
            w = HAPropsSI("W", "T", t, "P", SEA, "R", share)
            ours = moist_air.humidity_ratio(moist_air.vapour_pressure_at(t, share), SEA)
            assert ours == pytest.approx(w, rel=0.007)
            v = HAPropsSI("V", "T", t, "P", SEA, "W", w)
            assert moist_air.moist_air_volume(t, w, SEA) == pytest.approx(v, rel=1e-3)
            h = HAPropsSI("H", "T", t, "P", SEA, "W", w)
            assert moist_air.moist_air_enthalpy(t, w) == pytest.approx(h, rel=3e-3)
            bulb = HAPropsSI("B", "T", t, "P", SEA, "W", w)
            assert moist_air.wet_bulb(t, w, SEA) == pytest.approx(bulb, abs=0.1)


SAMPLES = {
    "absorbed": 1000.0, "air": 299.0, "air_filled": 0.4,
    "air_pressure": 2200.0, "altitude": 300.0, "available": 40.0, "boundary": 0.006,
    "capacity": 0.1, "conductance": 0.2, "convection": 3.0, "cuticular": 1e-4,
    "dark_open": 0.02, "deficit": 900.0, "density": 0.014, "depth": 0.03, "diffusivity": 2.5e-5,
    "emissivity": 0.96, "enthalpy": 58_000.0, "excess": 2.0, "film": 0.04, "flux": 1e-5,
    "grashof": 1e5, "half_deficit": 1500.0, "half_light": 100.0, "heat": 0.01,
    "heat_capacity": 1190.0, "humidity": 0.98, "latent": 2.44e6, "length": 0.05, "lewis": 0.88,
    "light_open": 0.2, "photons": 150.0, "porosity": 0.8, "pressure": 100_000.0,
    "psychrometric": 66.0, "ratio": 0.011, "relative_humidity": 0.6, "resistance": 200.0,
    "reynolds": 800.0, "saturated_pressure": 3000.0, "saturation": 0.4, "sea_temperature": 288.15,
    "slope": 190.0, "speed": 0.2, "stomatal": 0.004, "suction_head": -100.0,
    "surface_pressure": 3100.0, "temperature": 298.0,
    "transfer": 0.003, "upper_share": 0.2, "vapour": 0.004, "vapour_pressure": 1700.0,
    "water_content": 0.1, "wet_bulb": 291.0,
}  # fmt: skip
MODULES = (moist_air, evaporation, leaves)


def public(module: ModuleType) -> list[Callable[..., float]]:
    return [
        thing
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and name[0] != "_"
    ]


@pytest.mark.slow
def test_every_function_compiles_unchanged() -> None:
    from numba import njit
    from numba.extending import register_jitable

    functions = [f for module in MODULES for f in public(module)]
    assert len(functions) > 35
    for function in [*functions, *public(convection)]:  # leaves lean on convection
        register_jitable(function)
    for function in functions:
        given = [SAMPLES[name] for name in inspect.signature(function).parameters]
        assert njit(function)(*given) == pytest.approx(function(*given), rel=1e-12)
        if function.__name__ in {"saturation_slope", "wet_bulb", "dew_point"}:
            cold = [{298.0: 255.0, 0.011: 4e-4, 1700.0: 70.0}.get(x, x) for x in given]
            assert njit(function)(*cold) == pytest.approx(function(*cold), rel=1e-12)
