"""Air that comes and goes in the network: stack, doors, flat openings, fans, tracer, conservation."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

import climate_boxes as boxes
from loamwright.engine.climate import paths
from loamwright.engine.climate.balance_of_air import CLOSED, outflows
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import FAN_IN, FAN_OUT, LEDGER
from loamwright.engine.climate.paths import Path
from loamwright.engine.climate.plan import at_midnight
from loamwright.physics import airflow, fans, flow_losses, moist_air

ZERO = boxes.ZERO
GAS = moist_air.STANDARD_PRESSURE / moist_air.DRY_AIR_GAS

ONE_DENSITY = 7e-3
"""Losses are worked out for one density, 1.19 kg/m3; the cases' air has 1.16 to 1.204, and the root of
the ratio is within 0.6 %."""


def shares(net, *cells):
    out = np.zeros(len(net.volume))
    out[list(cells)] = 1.0 / len(cells)
    return out


def sharp(way):
    """The same way without the creeping term, which the published laws do not have."""
    return replace(way, linear=0.0)


def hole(net, height, area, *cells):
    way = paths._opening("hole", height, area, None, shares(net, *cells), top=False)
    return sharp(way)


def flows(net, inside, outside, speed=None):
    """Flows out and the pressure inside at the ground, the air inside even [degC]."""
    dense = GAS / (outside + ZERO)
    light = np.full(net.layers, GAS / (inside + ZERO))
    work = work_for(net)
    pressure = outflows(net, boxes.forcing(net, outside + ZERO, speed=speed), light, dense, work)
    return work.flow[:-1], pressure


# -- stack ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("inside", "outside", "height", "area", "discharge", "expected"),
    [(30, 22, 0.6, 0.005, 0.6, 1.18235e-3), (28, 21, 1.2, 0.010, 0.6, 3.13859e-3),
     (25, 20, 0.45, 0.003, 0.61, 4.97920e-4)],
)  # fmt: skip
def test_two_openings_draw_the_stack_flow(inside, outside, height, area, discharge, expected):
    """Q = C_d A sqrt(2 g (H/2) (Ti - To) / Ti), ASHRAE Fundamentals ch. 16, neutral level midway."""
    # The engine's holes have C_d = 0.6; another is an area as much larger.
    size = area * discharge / airflow.ORIFICE_DISCHARGE
    net = boxes.box(layers=4, dz=0.35)
    net = boxes.with_paths(net, [hole(net, 0.05, size, 0, 1), hole(net, 0.05 + height, size, 6, 7)])
    flow, pressure = flows(net, inside, outside)
    assert flow[1] == pytest.approx(expected, rel=ONE_DENSITY)
    assert flow[0] == pytest.approx(-flow[1], rel=1e-9)
    # Midway inside and outside agree.
    slope = airflow.GRAVITY * (GAS / (outside + ZERO) - GAS / (inside + ZERO))
    assert -pressure / slope == pytest.approx(0.05 + height / 2, rel=1e-6)


@pytest.mark.parametrize(
    ("inside", "outside", "height", "area"), [(30, 22, 0.6, 0.005), (28, 21, 1.2, 0.010)]
)
def test_creeping_takes_little_from_a_stack_flow(inside, outside, height, area):
    """The term that keeps the slope finite at no flow is CREEP over the speed of the pressure, half
    of that of the flow: 2 % at 0.24 m/s."""
    net = boxes.box(layers=4, dz=0.35)
    ways = [hole(net, 0.05, area, 0), hole(net, 0.05 + height, area, 6)]
    free, _ = flows(boxes.with_paths(net, ways), inside, outside)
    own = [paths._opening("hole", w.height, area, None, w.cells, top=False) for w in ways]
    slowed, _ = flows(boxes.with_paths(net, own), inside, outside)
    speed = free[1] / area
    assert slowed[1] == pytest.approx(free[1] * (1.0 - 0.5 * paths.CREEP / speed), rel=1e-3)
    assert slowed[1] > 0.975 * free[1]


def test_cold_air_falls_out():
    net = boxes.box()
    net = boxes.with_paths(net, [hole(net, 0.1, 0.004, 0), hole(net, 0.7, 0.004, 6)])
    warm, _ = flows(net, 28.0, 20.0)
    cold, _ = flows(net, 12.0, 20.0)
    assert warm[1] > 0.0 > warm[0]
    assert cold[0] > 0.0 > cold[1]


@pytest.mark.parametrize("ratio", [0.5, 1.0, 2.0])
def test_the_neutral_level_lies_nearer_the_larger_opening(ratio):
    """H / (1 + (A1/A2)^2 rho_i / rho_o), ASHRAE Fundamentals ch. 16; the engine balances volume, so
    its ratio of densities is one."""
    net = boxes.box()
    ways = [hole(net, 0.1, 0.004 * ratio, 0), hole(net, 0.7, 0.004, 6)]
    _, pressure = flows(boxes.with_paths(net, ways), 30.0, 20.0)
    dense, light = GAS / 293.15, GAS / 303.15
    level = -pressure / (airflow.GRAVITY * (dense - light)) - 0.1
    assert level == pytest.approx(airflow.neutral_level(0.6, ratio, 1.0, 1.0, 1.0), rel=1e-6)
    # Ten kelvins of density move it by less than 1 % of the height.
    by_mass = airflow.neutral_level(0.6, ratio, 1.0, light, dense)
    assert level == pytest.approx(by_mass, abs=0.01 * 0.6)


# -- doors and flat openings ---------------------------------------------------------------------


def door(net, width, height, pieces):
    step = height / pieces
    return [hole(net, (i + 0.5) * step, width * step, 0) for i in range(pieces)]


def test_an_open_door_exchanges_what_brown_and_solvason_found():
    """Int. J. Heat Mass Transfer 5:859 eq. 6, with the discharge coefficient of a hole; what the
    segments leave is the midpoint rule's error on a root, of order 3/2."""
    net = boxes.box()
    exact = airflow.doorway_exchange(
        airflow.ORIFICE_DISCHARGE, 0.5, 0.8, GAS / 303.15, GAS / 293.15
    )
    errors = []
    for pieces in (paths.SEGMENTS, 2 * paths.SEGMENTS, 4 * paths.SEGMENTS):
        flow, _ = flows(boxes.with_paths(net, door(net, 0.5, 0.8, pieces)), 30.0, 20.0)
        assert flow.sum() == pytest.approx(0.0, abs=1e-9)
        errors.append(flow[flow > 0].sum() / exact - 1.0)
    # One density for all leaves a rest of its own; differences of errors are free of it.
    steps = np.abs(np.diff(errors))
    assert np.log2(steps[0] / steps[1]) == pytest.approx(1.5, abs=0.3)
    assert abs(errors[0]) < 0.02


def lid(net, area, top=0.8):
    return sharp(paths._opening("lid", top, area, None, shares(net, 6, 7), top=True))


@pytest.mark.parametrize("inside", [22.0, 26.0, 34.0])
def test_a_flat_opening_exchanges_what_cooper_found(inside):
    """Cooper 1989 (NISTIR 89-4052) for denser air above, no net flow: heat carried out of the top
    cells is the exchange's."""
    area, room = 0.02, 20.0 + ZERO
    net = boxes.box()
    net = boxes.with_paths(net, [lid(net, area)])
    y = boxes.state(net, inside + ZERO)
    found = boxes.look(net, boxes.forcing(net, room), y)
    swap = found.ledger("air") / (net.heat * (inside + ZERO - room))
    exact = airflow.horizontal_exchange(area, GAS / room, GAS / (inside + ZERO), 0.0)
    assert found.flow[0] == pytest.approx(0.0, abs=1e-9)
    # The engine takes the room's density below the root, the law the mean of both: 1.2 % at 14 K.
    assert swap == pytest.approx(exact, rel=0.013)
    assert found.part(0, "dy")[6] < 0.0


def test_cold_air_under_a_flat_opening_lies_still():
    net = boxes.box()
    net = boxes.with_paths(net, [lid(net, 0.02)])
    found = boxes.look(net, boxes.forcing(net, 20.0 + ZERO), boxes.state(net, 12.0 + ZERO))
    assert found.ledger("air") == pytest.approx(0.0, abs=1e-9)


def test_damp_air_is_light_too():
    """Moist air of the room's temperature rises out of a flat opening: its density is that of its
    virtual temperature (ASHRAE Fundamentals ch. 1)."""
    room, vapour = 24.0 + ZERO, 0.018
    net = boxes.box()
    net = boxes.with_paths(net, [lid(net, 0.02)])
    y = boxes.state(net, room, vapour)
    found = boxes.look(net, boxes.forcing(net, room, 0.006), y)
    swap = found.ledger("vented") / (vapour - 0.006)

    def density(rho):
        pressure = rho * moist_air.VAPOUR_GAS * room
        return (moist_air.STANDARD_PRESSURE - 0.378 * pressure) / (moist_air.DRY_AIR_GAS * room)

    exact = airflow.horizontal_exchange(0.02, density(0.006), density(0.018), 0.0)
    assert swap == pytest.approx(exact, rel=0.005)


def test_a_through_flow_drowns_the_exchange():
    """Cooper's law under a pressure difference; from the flooding pressure on nothing falls in."""
    area, inside, room = 0.02, 30.0 + ZERO, 20.0 + ZERO
    net = boxes.box()
    for push in (0.3, 1.5):
        flooding = (
            0.942**2 * airflow.GRAVITY * (GAS / room - GAS / inside) * np.sqrt(area) / 2.0 * push
        )
        way = lid(net, area)
        blown = airflow.quadratic_flow(flooding, way.linear, way.square)
        fan = Path("fan", FAN_IN, 0.4, 0.0, 0.0, shares(net, 0), shut=1e6, fan_linear=-1e6 / blown)
        blowing = boxes.with_paths(net, [fan, way])
        found = boxes.look(blowing, boxes.forcing(blowing, room), boxes.state(net, inside))
        assert found.flow[1] == pytest.approx(blown, rel=1e-3)
        through = found.flow[1] * net.heat * (inside - room)
        swap = (found.ledger("air") - through) / (net.heat * (inside - room))
        exact = airflow.horizontal_exchange(area, GAS / room, GAS / inside, flooding)
        assert swap == pytest.approx(exact, rel=0.02, abs=1e-6 * blown)


# -- fans ----------------------------------------------------------------------------------------


def small_fan(net, kind=FAN_OUT, **more):
    """A fan of 40 Pa and 0.02 m3/s behind a dust mat and a guard."""
    shut, a, b = fans.curve_from_three(0.02, 40.0, 0.011, 22.0)
    mat = flow_losses.filter_coefficients(0.004, 6.0, 0.008, 15.0)
    parts = {"shut": shut, "fan_linear": a, "fan_square": b, "linear": mat[0],
             "square": mat[1] + 2.0e4, "idle": 5e5, "power": 2.0} | more  # fmt: skip
    return Path("fan", kind, 0.4, cells=shares(net, 2, 3), **parts)


@pytest.mark.parametrize("speed", [0.4, 0.7, 1.0])
@pytest.mark.parametrize("kind", [FAN_IN, FAN_OUT])
def test_a_fan_runs_where_its_curve_meets_its_losses(speed, kind):
    """Into a wide opening the point is `physics.fans.operating_flow`, the affinity laws in it."""
    net = boxes.box()
    fan = small_fan(net, kind)
    wide = hole(net, 0.4, 0.5, 2, 3)
    flow, _ = flows(boxes.with_paths(net, [fan, wide]), 20.0, 20.0, [speed, 1.0])
    shut, a, b = fans.curve_at_speed(fan.shut, fan.fan_linear, fan.fan_square, speed)
    alone = fans.operating_flow(shut, a, b, fan.linear, fan.square, 0.0)
    # The opening asks for 0.002 Pa of some 10.
    assert abs(flow[0]) == pytest.approx(alone, rel=5e-4)
    assert np.sign(flow[0]) == (1.0 if kind == FAN_OUT else -1.0)


def test_a_fan_and_a_narrow_opening_share_their_pressure():
    """One root of fan, losses, opening and stack together, found apart by bisection."""
    net = boxes.box()
    fan, narrow = small_fan(net), hole(net, 0.1, 0.001, 0)
    flow, _ = flows(boxes.with_paths(net, [fan, narrow]), 32.0, 20.0)
    lift = airflow.stack_pressure(0.4 - 0.1, GAS / 293.15, GAS / 305.15)

    def left(q):
        rise = fans.curve_pressure(fan.shut, fan.fan_linear, fan.fan_square, q)
        lost = fan.linear * q + fan.square * q * q
        return rise + lift - lost - narrow.square * q * q

    assert flow[0] == pytest.approx(brentq(left, 0.0, 0.05, xtol=1e-14), rel=1e-9)


def test_fans_heat_the_air_by_their_motors():
    """A fan that blows in leaves all of its power, by the cube of its speed, in the habitat's air; one
    that blows out leaves none."""
    net = boxes.box()
    for kind, heat in ((FAN_IN, 2.0 * 0.5**3), (FAN_OUT, 0.0)):
        ways = [small_fan(net, kind), hole(net, 0.4, 0.5, 2, 3)]
        force = boxes.forcing(net, 293.15, speed=[0.5, 1.0])
        found = boxes.look(boxes.with_paths(net, ways), force, boxes.state(net, 293.15))
        warmed = float((found.part(0, "dy") * net.volume).sum()) * net.heat
        assert warmed == pytest.approx(heat, abs=1e-9)
        assert found.ledger("fans") == pytest.approx(heat)


def test_a_stopped_fan_is_a_hole_with_its_losses():
    net = boxes.box()
    ways = [small_fan(net), hole(net, 0.1, 0.003, 0)]
    flow, _ = flows(boxes.with_paths(net, ways), 32.0, 20.0, [0.0, 1.0])
    lift = airflow.stack_pressure(0.3, GAS / 293.15, GAS / 305.15)
    square = ways[0].square + ways[0].idle + ways[1].square
    assert flow[0] == pytest.approx(airflow.quadratic_flow(lift, ways[0].linear, square), rel=1e-9)


# -- tracer and conservation ---------------------------------------------------------------------


def ventilated(mixing):
    """The box with a fan that changes its air twice an hour and a hole to let air in."""
    net = boxes.box(mixing=mixing)
    q = 2.0 * float(net.volume.sum()) / 3600.0
    fan = Path("fan", FAN_OUT, 0.7, 0.0, 0.0, shares(net, 6), shut=1e6, fan_linear=-1e6 / q)
    return boxes.with_paths(net, [fan, hole(net, 0.7, 0.01, 1)])


def test_a_tracer_decays_as_in_the_standard():
    """ASTM E741: 1500 to 817.31 ppm over 420 in 30 min at 2 changes an hour, air well mixed. Vapour is
    the tracer here, 1e-5 g/m3 a ppm, so that its buoyancy is nothing."""
    ppm = 1e-8
    net = ventilated(mixing=0.3)
    y = boxes.state(net, 293.15, 1500 * ppm)
    boxes.carry(net, boxes.forcing(net, 293.15, 420 * ppm), y, 1800.0)
    mean = y[offsets(net)[1] : offsets(net)[2]].mean() / ppm
    # Mixing takes seconds, the change half an hour: 0.1 % of what has gone.
    assert mean == pytest.approx(817.31, abs=1.0)
    assert mean == pytest.approx(airflow.diluted(1500.0, 420.0, 2.0 / 3600.0, 1800.0), abs=1.0)
    changes = airflow.changes_from_decay(1500.0, mean, 420.0, 1800.0)
    assert 3600.0 * changes == pytest.approx(2.0, rel=2e-3)


def test_air_that_leaves_is_as_old_as_volume_over_flow():
    """Mean residence time theorem (Danckwerts 1953): however badly mixed, what leaves after a step of
    tracer at the inlet holds V/Q of it back."""
    net = ventilated(mixing=1e-5)
    force = boxes.forcing(net, 293.15, 0.0)
    y = boxes.state(net, 293.15, 1e-7)
    uneven = []
    for _ in range(10):
        boxes.carry(net, force, y, 4 * 3600.0)
        vapour = y[offsets(net)[1] : offsets(net)[2]]
        uneven.append(float(vapour.max() / vapour.min()))
    vented = y[offsets(net)[7] + LEDGER.index("vented")]
    assert max(uneven) > 1.5  # badly mixed indeed
    assert vented == pytest.approx(1e-7 * float(net.volume.sum()), rel=1e-6)


@pytest.mark.slow
@pytest.mark.parametrize("name", boxes.EXAMPLES)
def test_as_much_air_leaves_as_enters(name):
    """At every recorded moment of a winter and a summer day, of the flow that passes."""
    for season in ("winter", "summer"):
        day = boxes.settled(name, season)
        built = boxes.built(name)
        from loamwright.engine.climate import drive

        tape, _ = drive.carry_on(
            built, day.plan, day.state.copy(), at_midnight(day.memory), 0, 1440, 10
        )
        assert np.abs(tape.flows.sum(axis=1)).max() < 1.01 * CLOSED


@pytest.mark.slow
def test_even_air_stays_even_whatever_flows_through_it():
    """Flows between cells carry on what enters: a vapour that is alike inside and out changes nowhere,
    though the air is unevenly warm and both fans run."""
    name = "forest-edge"
    built, day = boxes.built(name), boxes.settled(name, "winter")
    net = built.net._replace(wetting=np.where(built.net.wetting == 5, 5, 0), mist_rate=0.0)
    y = day.state.copy()
    n = len(net.volume)
    y[:n] += np.linspace(0.0, 3.0, n)
    y[n : 2 * n] = 0.008
    found = boxes.look(net, boxes.forcing(net, 290.0, 0.008), y)
    assert np.abs(found.flow).max() > 1e-3
    worst = np.abs(found.part(1, "dy")) * net.volume
    assert worst.max() < 1e-9 * np.abs(found.flow).max() * 0.008
