"""Water in the network: states against two outside programs, a bowl, dew on a pane."""

from __future__ import annotations

import CoolProp.HumidAirProp as humid
import numpy as np
import psychrolib
import pytest

import climate_boxes as boxes
from loamwright.engine.climate.air_film import LATENT, film
from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.network import FILM, UPWARD, WATER
from loamwright.physics import conduction, evaporation, moist_air

ZERO = boxes.ZERO
SEA = moist_air.STANDARD_PRESSURE


# -- states at the places ------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.judge
@pytest.mark.parametrize("name", ["forest-edge", "rain-glass"])
def test_states_at_the_places_are_those_of_two_outside_programs(name):
    """Humidity that a run reports for its vapour, against psychrolib (ASHRAE's ideal mixture) and
    CoolProp (real moist air), every hour at every place."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    run = boxes.settled(name, "winter").run
    net = boxes.built(name).net
    rows = run.rows_by_hour
    checked = 0
    for row in rows[::3]:
        for z in range(len(run.sites)):
            t, rh = float(run.air[row, z]), float(run.humidity[row, z])
            vapour = rh * moist_air.saturation_pressure(t)
            density = vapour / (moist_air.VAPOUR_GAS * t)
            # psychrolib: the same equations of saturation, so it is the arithmetic that is judged.
            ratio = psychrolib.GetHumRatioFromVapPres(vapour, net.pressure)
            judged = psychrolib.GetRelHumFromHumRatio(t - ZERO, ratio, net.pressure)
            assert rh == pytest.approx(judged, rel=1e-6)
            dew = psychrolib.GetTDewPointFromRelHum(t - ZERO, rh)
            assert moist_air.dew_point(vapour) - ZERO == pytest.approx(dew, abs=1e-3)
            # CoolProp by the vapour's share of the moles; real air differs by 0.5 % (enhancement).
            share = vapour / net.pressure
            real = humid.HAPropsSI("R", "T", t, "P", net.pressure, "Y", share)
            assert rh == pytest.approx(real, rel=6e-3)
            volume = humid.HAPropsSI("Vha", "T", t, "P", net.pressure, "Y", share)
            ratio_real = humid.HAPropsSI("W", "T", t, "P", net.pressure, "Y", share)
            held = ratio_real / (1.0 + ratio_real) / volume
            assert density == pytest.approx(held, rel=2e-3)
            checked += 1
    assert checked > 50


def test_humidity_of_a_probe_is_its_own_airs():
    """What controllers sense and what a run reports come from vapour and temperature alike."""
    from loamwright.engine.climate.reading import humidity
    from loamwright.engine.climate.running import site_air

    net = boxes.box()
    y = boxes.state(net, 298.15, 0.0115)
    air, rh = site_air(net, y, 0)
    psychrolib.SetUnitSystem(psychrolib.SI)
    pressure = 0.0115 * moist_air.VAPOUR_GAS * 298.15
    judged = psychrolib.GetRelHumFromVapPres(25.0, pressure)
    assert air == pytest.approx(298.15, abs=1e-9)
    assert rh == pytest.approx(judged, rel=1e-6)
    assert humidity(np.array([0.0115]), np.array([298.15]))[0] == pytest.approx(rh, rel=1e-12)


# -- a bowl --------------------------------------------------------------------------------------


def bowl(area, factor):
    """The box whose first surface is open water."""
    net = boxes.box()
    count = len(net.area)
    areas, free = np.full(count, 1e-15), np.full(count, 1e-9)
    areas[0], free[0] = area, factor
    wetting, stand = net.wetting.copy(), net.stand.copy()
    wetting[0], stand[0] = WATER, UPWARD
    return net._replace(area=areas, free=free, still=0.5 * free, wetting=wetting, stand=stand)


@pytest.mark.parametrize(
    ("water", "air", "humidity"), [(24.0, 24.0, 0.8), (25.0, 28.0, 0.6), (27.0, 21.0, 0.5)]
)
def test_a_bowl_evaporates_what_the_hand_formula_says(water, air, humidity):
    """Lewis relation with the surface's own convection (Chilton-Colburn; Incropera eq. 6.60): mass
    transfer h / (rho c) Le^(-2/3) times the difference of vapour over the film's R T."""
    area, factor = 0.16 * 0.16, 3.0
    net = bowl(area, factor)
    at = offsets(net)
    vapour = moist_air.vapour_density(
        moist_air.vapour_pressure_at(air + ZERO, humidity), air + ZERO
    )
    y = boxes.state(net, air + ZERO, vapour)
    y[at[2] + net.first[0]] = water + ZERO
    found = boxes.look(net, boxes.forcing(net, air + ZERO, vapour), y)
    h = film(water - air, UPWARD, factor, 0.5 * factor)
    heat = moist_air.volumetric_heat_capacity(
        air + ZERO, moist_air.humidity_ratio(vapour * moist_air.VAPOUR_GAS * (air + ZERO), SEA), SEA
    )
    transfer = evaporation.vapour_transfer(h, heat, evaporation.lewis_number(air + ZERO, SEA))
    by_hand = area * evaporation.vapour_flux(
        transfer, moist_air.saturation_pressure(water + ZERO),
        moist_air.vapour_pressure_at(air + ZERO, humidity), 0.5 * (water + air) + ZERO,
    )  # fmt: skip
    # The network has one heat capacity of its air, that of 23 degC (1.7 % at 28 degC), and one Lewis
    # number, that of 25 degC (0.3 %).
    assert found.ledger("bowls") == pytest.approx(by_hand, rel=0.021)
    assert float(found.part(1, "dy") @ net.volume) == pytest.approx(found.ledger("bowls"), rel=1e-9)
    # The water pays for it: heat of evaporation out of the first node, and what the air gives.
    node = found.part(2, "dy")[net.first[0]] * net.store[net.first[0]]
    inward = net.link[net.first[0]] * (air - water)
    lost = h * area * (water - air) + LATENT * found.ledger("bowls")
    assert node == pytest.approx(inward - lost, rel=1e-6)


def test_still_air_over_a_bowl_at_its_own_temperature():
    """Surface and air both 24 degC, air at 80 %, h = 3 W/(m2 K): 43.1 g/(h m2) (Lewis relation with
    the diffusivity of Marrero & Mason 1972)."""
    from loamwright.engine.climate.air_film import LEAST_FILM, QUIET

    # At no excess the level surface's factor is the mean of its two, by fourth powers.
    mean = (3.0**4 - LEAST_FILM**4) / QUIET
    factor = (mean * 2.0 / (1.0 + 0.5**4)) ** 0.25
    net = bowl(1.0, factor)
    t = 24.0 + ZERO
    vapour = moist_air.vapour_density(moist_air.vapour_pressure_at(t, 0.8), t)
    found = boxes.look(net, boxes.forcing(net, t, vapour), boxes.state(net, t, vapour))
    # The published number has dry air's heat capacity; the network's air is moist (1 % more).
    assert found.ledger("bowls") * 3.6e6 == pytest.approx(43.1, rel=0.015)


# -- dew -----------------------------------------------------------------------------------------


def pane(vapour):
    """6 mm of glass between 28 degC inside, h = 1 / 0.13, and a room of 20 degC, at its steady state;
    inside air of a vapour density."""
    from loamwright.engine.climate import chains

    side = conduction.SURFACE_RESISTANCE_HORIZONTAL
    flow = 8.0 / (2 * side + 0.006)
    net = boxes.box(volume=np.full(boxes.built("bare-box").cells.count, 1e12))
    net = boxes.with_chains(net, [chains.chain([chains.Slab(0.006, 1.0, 1.9e6)], side)])
    net = boxes.one_surface(net, 1.0, 1.0 / side, flow * side)
    wetting = net.wetting.copy()
    wetting[0] = FILM
    net = net._replace(wetting=wetting)
    y = boxes.state(net, 28.0 + ZERO, vapour)
    force = boxes.forcing(net, 20.0 + ZERO, vapour)
    boxes.carry(net, force, y, 24 * 3600.0)
    return net, force, y, flow


def dewy(dew_point):
    """Vapour density of air of 28 degC with a dew point [degC]."""
    return moist_air.vapour_density(moist_air.saturation_pressure(dew_point + ZERO), 28.0 + ZERO)


def test_dew_begins_where_the_dew_point_passes_the_pane():
    """Surface condensation by ISO 13788: 6 mm of glass, 28 degC inside, 20 degC room, inner face
    24.090 degC. A dew point 0.05 K lower leaves it dry, one 0.05 K higher wets it."""
    net, force, y, _flow = pane(dewy(24.04))
    at = offsets(net)
    assert y[at[2] + net.first[0]] - ZERO == pytest.approx(24.090, abs=2e-3)
    assert y[at[4]] == 0.0
    assert boxes.look(net, force, y).ledger("condensed") == 0.0
    wet = y.copy()
    wet[at[1] : at[2]] = dewy(24.14)
    found = boxes.look(net, force, wet)
    assert found.part(4, "dy")[0] > 0.0
    assert found.ledger("condensed") > 0.0


def test_dew_warms_the_pane_and_runs_off():
    """In steady dew the pane gives the room the air's heat and the latent heat of what condenses; the
    film stays near what the glass holds, the rest runs down."""
    net, force, y, _flow = pane(dewy(26.0))
    at = offsets(net)
    found = boxes.look(net, force, y)
    assert found.part(2)[net.first[0]] > 24.2 + ZERO
    caught = found.ledger("condensed")
    sensible = found.ledger("walls") - LATENT * caught
    h = film(found.part(2)[0] - y[0], 0, net.free[0], net.still[0])
    assert sensible == pytest.approx(h * (y[0] - found.part(2)[0]), rel=1e-6)
    assert net.capacity[0] < y[at[4]] < 1.2 * net.capacity[0]
    assert found.ledger("soaked") == pytest.approx(caught, rel=1e-3)


def test_a_film_dries_at_the_rate_of_its_area():
    """A wet pane in dry air loses what the hand formula says while it is whole, and less as it breaks
    up; all of it is vapour in the end."""
    net = boxes.one_surface(boxes.box(), 1.0, 4.0, 1.0)
    wetting = net.wetting.copy()
    wetting[0] = FILM
    net = net._replace(wetting=wetting, link=np.full(len(net.link), 50.0))
    at = offsets(net)
    y = boxes.state(net, 293.15, 0.004)
    y[at[4]] = 0.05
    before = float(y[at[1] : at[2]] @ net.volume)
    force = boxes.forcing(net, 293.15, 0.004)
    whole = boxes.look(net, force, y.copy())
    half = y.copy()
    half[at[4]] = 0.025
    broken = boxes.look(net, force, half)
    assert net.capacity[0] > 0.05
    assert broken.part(4, "dy")[0] == pytest.approx(0.5 * whole.part(4, "dy")[0], rel=1e-9)
    boxes.carry(net, force, y, 4 * 3600.0)
    after = float(y[at[1] : at[2]] @ net.volume)
    assert after - before == pytest.approx(0.05 - y[at[4]], rel=1e-9)
