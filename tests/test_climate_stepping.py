"""The step of every run: what it makes of a rate, its order, its matrix, its sums."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import expm

import climate_boxes as boxes
import climate_small as small
from loamwright.engine.climate import drive, stepping
from loamwright.engine.climate.chains import Chain
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import Forcing
from loamwright.engine.climate.plan import at_midnight
from loamwright.engine.climate.rates import rates
from loamwright.engine.climate.running import _drive, decide
from loamwright.engine.climate.slopes import factor, factors_for, solve

ROOM = 300.0


def alone(rates_per_second):
    """A network of single nodes, each with its own rate towards the room; nothing else happens."""
    chains = [Chain((1.0,), (float(k),), (0.0,)) for k in rates_per_second]
    return boxes.with_chains(boxes.box(), chains)


def stepped(net, y, h):
    """A single step of ``h`` [s]."""
    stepping.step(
        net, boxes.forcing(net, ROOM), y, h, work_for(net), stepping.desk_for(net, len(y))
    )


def amplification(z):
    """What a step makes of unit departures whose rate times the step is ``z`` (negative)."""
    out = np.empty(len(z))
    size = boxes.built("bare-box").net.solids
    for begin in range(0, len(z), size):
        part = z[begin : begin + size]
        net = alone(-part / 60.0)
        y = boxes.state(net, ROOM)
        nodes = slice(offsets(net)[2], offsets(net)[2] + len(part))
        y[nodes] += 1.0
        stepped(net, y, 60.0)
        out[begin : begin + len(part)] = y[nodes] - ROOM
    return out


def test_every_rate_is_damped_as_the_published_function_says():
    """Verwer et al. 1999: R(z) = (1 + (1 - 2 g) z) / (1 - g z)^2 for g = 1 - 1/sqrt(2): never above
    one, and nothing is left of what is infinitely fast."""
    z = -np.concatenate([[0.0], np.geomspace(1e-3, 1e6, 200)])
    g = 1.0 - np.sqrt(0.5)
    found = amplification(z)
    assert found == pytest.approx((1 + (1 - 2 * g) * z) / (1 - g * z) ** 2, abs=1e-8)
    assert np.abs(found).max() <= 1.0 + 1e-9
    assert abs(found[-1]) < 1e-5


def test_a_step_agrees_with_the_exponential_to_second_order():
    """R(z) = 1 + z + z^2/2 + O(z^3): the remainder over z^3 stays bounded as z goes to nothing."""
    z = -np.array([0.1, 0.05, 0.025])
    rest = amplification(z) - (1.0 + z + 0.5 * z * z)
    assert np.abs(rest / z**3).max() < 0.3
    assert rest[0] / rest[1] == pytest.approx(8.0, rel=0.15)


def stiff():
    """A plate in 40 slices, fine at its face: rates from 1 / 20 min to 2 / s."""
    n = 40
    growth = 1.14 ** np.arange(n)
    store, link = 50.0 * growth, 60.0 / growth
    return Chain(tuple(store), tuple(link), tuple(range(n)))


def test_runs_converge_with_second_order():
    """The whole spectrum at once against the matrix exponential, steps halved from 60 s on."""
    chain = stiff()
    net = boxes.with_chains(boxes.box(), [chain])
    n = len(chain.store)
    a = np.zeros((n, n))
    for i in range(n):
        a[i, i] -= chain.link[i]
        if i + 1 < n:
            a[i, i + 1] += chain.link[i]
            a[i + 1, i] += chain.link[i]
            a[i + 1, i + 1] -= chain.link[i]
    a /= np.array(chain.store)[:, None]
    fastest = -np.linalg.eigvals(a).real.min()
    assert fastest * 60.0 > 100.0
    nodes = slice(offsets(net)[2], offsets(net)[2] + n)
    # Smooth in space, as a run's states are: what is fast has died already.
    begin = np.cos(np.linspace(0.0, np.pi / 2, n))
    exact = expm(a * 960.0) @ begin
    errors = []
    for step in (60.0, 30.0, 15.0, 7.5):
        y = boxes.state(net, ROOM)
        y[nodes] += begin
        for _ in range(round(960.0 / step)):
            stepped(net, y, step)
        errors.append(float(np.abs(y[nodes] - ROOM - exact).max()))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert (orders > 1.7).all(), (errors, orders)
    assert errors[0] < 5e-3


# -- the small habitat at work ---------------------------------------------------------------------


def at_work(minute):
    """Network, forcing and state of the small habitat's winter day at a minute."""
    day, net = small.settled("winter"), small.built().net
    y, memory = day.state.copy(), at_midnight(day.memory)
    if minute:
        drive.carry_on(small.built(), day.plan, y, memory, 0, minute, minute)
    output, cut = np.zeros(len(day.plan.kind)), np.zeros(len(day.plan.kind))
    light, speed = np.zeros(len(net.body_power)), np.zeros(len(net.path_kind))
    decide(net, day.plan, y, memory, minute, output, cut)
    mist, room, vapour = _drive(day.plan, minute, output, cut, memory, light, speed)
    return net, Forcing(light, speed, mist, room, vapour), y


NIGHT, MISTING, NOON = 3 * 60, 7 * 60 + 30, 12 * 60


@pytest.mark.slow
@pytest.mark.parametrize("minute", [NIGHT, MISTING, NOON])
def test_its_matrix_is_the_slope_of_the_rates_where_they_are_steep(minute):
    """Against central differences, everything of air and vapour that is fast beside a step."""
    net, force, y = at_work(minute)
    at = offsets(net)
    n, end = int(at[1]), int(at[4])
    unit = np.ones(end)
    unit[n : 2 * n] = 1e-3
    work, change = work_for(net), np.zeros_like(y)
    slopes = np.zeros((end, end))
    for i in range(end):
        ends = []
        for way in (1.0, -1.0):
            moved = y.copy()
            moved[i] += way * 1e-3 * unit[i]
            rates(net, force, moved, change, work)
            ends.append(change[:end].copy())
        slopes[:, i] = (ends[0] - ends[1]) / (2e-3 * unit[i])
    rates(net, force, y, change, work)
    c, factors = 10.0, factors_for(net)
    factor(net, work, y, c, factors)
    inverse = np.zeros((end, end))
    for i in range(end):
        x = np.zeros_like(y)
        x[i] = 1.0
        solve(net, c, factors, x)
        inverse[:, i] = x[:end]
    matrix = (np.eye(end) - np.linalg.inv(inverse)) / c
    scale = unit[None, :] / unit[:, None]
    wrong = np.abs((matrix - slopes) * scale)[: 2 * n, : 2 * n]
    assert np.abs(slopes * scale)[: 2 * n, : 2 * n].max() > 0.4
    assert wrong.max() < 0.1 * np.abs(slopes * scale)[: 2 * n, : 2 * n].max()


@pytest.mark.slow
@pytest.mark.parametrize("minute", [NIGHT, MISTING, NOON])
def test_steps_of_the_whole_network_converge_with_second_order(minute):
    """What the matrix leaves out, long-wave and pressure, does not cost the order."""
    net, force, y = at_work(minute)
    at = offsets(net)
    parts = slice(int(at[2]), int(at[4]))
    work, desk = work_for(net), stepping.desk_for(net, len(y))

    def after(steps):
        state = y.copy()
        for _ in range(steps):
            stepping.step(net, force, state, 20.0 / steps, work, desk)
        return state[parts]

    right = after(1280)
    errors = np.array([np.linalg.norm(after(k) - right) for k in (40, 80, 160)])
    assert (np.log2(errors[:-1] / errors[1:]) > 1.7).all(), errors


@pytest.mark.slow
@pytest.mark.parametrize("minute", [NIGHT, MISTING, NOON])
@pytest.mark.parametrize("length", [0.5, 60.0])
def test_a_step_keeps_heat_and_water_whatever_its_error(minute, length):
    net, force, y = at_work(minute)
    begin = y.copy()
    stepping.step(net, force, y, length, work_for(net), stepping.desk_for(net, len(y)))
    assert drive.balance(net, begin, y) == pytest.approx((0.0, 0.0), abs=1e-7)


def test_a_lumped_sphere_cools_as_its_exponential():
    """30 mm sphere, rho c = 3.6e6 J/(m3 K), h = 10 W/(m2 K): time constant 1800 s; from 25 towards
    40 degC it reaches 29.2520 degC after 600 s (lumped capacitance, Incropera eq. 5.6)."""
    volume, area = np.pi / 6 * 0.03**3, np.pi * 0.03**2
    chain = Chain((volume * 3.6e6,), (10.0 * area,), (0.0,))
    net = boxes.with_chains(boxes.box(), [chain])
    y = boxes.state(net, 40.0 + boxes.ZERO)
    node = offsets(net)[2]
    y[node] = 25.0 + boxes.ZERO
    boxes.carry(net, boxes.forcing(net, 40.0 + boxes.ZERO), y, 600.0)
    # Ten steps of a thirtieth of the time constant: second order leaves 1e-4 of 15 K.
    assert y[node] - boxes.ZERO == pytest.approx(29.2520, abs=1.5e-3)


def test_a_step_that_quickens_is_taken_back():
    """Ground air 8 K too warm: stirring grows within the step far beyond its slope at the beginning.
    What comes out is between what was there, holds its heat, and ends as short steps do."""

    def run(step, seconds):
        net = boxes.box()
        y = boxes.state(net, ROOM)
        y[: net.columns] += 8.0
        boxes.carry(net, boxes.forcing(net, ROOM), y, seconds, step)
        return y[: len(net.volume)] - ROOM, 8.0 * net.columns / len(net.volume)

    first, mean = run(60.0, 60.0)
    assert (first >= -0.02).all()
    assert (first <= 8.0).all()
    assert first.mean() == pytest.approx(mean, abs=1e-6)
    # What the whole network is held to beside SciPy, 0.05 K; the overturning itself was 8 K.
    assert run(60.0, 900.0)[0] == pytest.approx(run(0.5, 900.0)[0], abs=0.05)
