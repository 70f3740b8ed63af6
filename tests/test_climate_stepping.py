"""The step of every run: order, stability and damping of RKC, and a lumped body that cools."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import expm

import climate_boxes as boxes
from loamwright.engine.climate import stepping
from loamwright.engine.climate.chains import Chain
from loamwright.engine.climate.layout import offsets

ROOM = 300.0


def alone(rates_per_second):
    """A network of single nodes, each with its own rate towards the room; nothing else happens."""
    chains = [Chain((1.0,), (float(k),), (0.0,)) for k in rates_per_second]
    return boxes.with_chains(boxes.box(), chains)


def one_step(net, y, h, stages):
    """A single RKC step of ``h`` [s]."""
    force = boxes.forcing(net, ROOM)
    flow = np.zeros(len(net.path_kind) + 1)
    work = np.zeros(8 * (len(net.volume) + len(net.area)))
    scratch = stepping.scratch_for(len(y))
    from loamwright.engine.climate.rates import rates

    rates(net, force, y, scratch[0], flow, work)
    stepping._one(net, force, y, h, stages, flow, work, scratch)


def amplification(z, stages):
    """What a step makes of unit departures whose rate times the step is ``z`` (negative)."""
    out = np.empty(len(z))
    size = boxes.built("bare-box").net.solids
    for begin in range(0, len(z), size):
        part = z[begin : begin + size]
        net = alone(-part / 60.0)
        y = boxes.state(net, ROOM)
        nodes = slice(offsets(net)[2], offsets(net)[2] + len(part))
        y[nodes] += 1.0
        one_step(net, y, 60.0, stages)
        out[begin : begin + len(part)] = y[nodes] - ROOM
    return out


@pytest.mark.parametrize("stages", [2, 3, 5, 10, 20, 40])
def test_every_rate_up_to_the_reach_is_damped(stages):
    """Sommeijer, Shampine & Verwer 1997: inside the reach no departure grows; the strong damping of
    Verwer et al. 2004 leaves each well below one."""
    reach = stepping.REACH * (stages * stages - 1.0)
    z = -np.linspace(0.0, reach, 280)
    found = np.abs(amplification(z, stages))
    assert found[0] == pytest.approx(1.0, abs=1e-10)
    # Exact decay up to the middle of the first hump, then the damped plateau.
    assert (found[z < -2.0] < 0.7).all()
    assert found.max() <= 1.0 + 1e-10


@pytest.mark.parametrize("stages", [3, 4, 9])
def test_a_step_agrees_with_the_exponential_to_second_order(stages):
    """R(z) = 1 + z + z^2/2 + O(z^3): the remainder over z^3 stays bounded as z goes to nothing."""
    z = -np.array([0.1, 0.05, 0.025])
    rest = amplification(z, stages) - (1.0 + z + 0.5 * z * z)
    assert np.abs(rest / z**3).max() < 0.2
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
        boxes.carry(net, boxes.forcing(net, ROOM), y, 960.0, step)
        errors.append(float(np.abs(y[nodes] - ROOM - exact).max()))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert (orders > 1.7).all(), (errors, orders)
    assert errors[0] < 5e-3


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
    """Ground air 8 K too warm: stirring grows within the step far beyond what its stages were chosen
    for. What comes out is between what was there, holds its heat, and ends as short steps do."""

    def run(step, seconds):
        net = boxes.box()
        y = boxes.state(net, ROOM)
        y[: net.columns] += 8.0
        boxes.carry(net, boxes.forcing(net, ROOM), y, seconds, step)
        return y[: len(net.volume)] - ROOM

    first = run(60.0, 60.0)
    assert (first >= 0.0).all()
    assert (first <= 8.0).all()
    assert first.mean() == pytest.approx(2.0, abs=1e-9)
    # What the whole network is held to beside SciPy, 0.05 K; the overturning itself was 8 K.
    assert run(60.0, 900.0) == pytest.approx(run(0.5, 900.0), abs=0.05)
