"""Long-wave exchange in the network: plates, closed boxes, other ways to solve them."""

from __future__ import annotations

import numpy as np
import pytest

import climate_boxes as boxes
from loamwright.engine.climate.longwave_areas import grey_areas
from loamwright.engine.climate.air_film import SIGMA
from loamwright.physics import longwave


def by_elimination(views, emissivity, area):
    n = len(area)
    out, work = np.empty((n, n)), np.empty((n, 2 * n))
    longwave.enclosure_exchange(views, emissivity, area, work, out)
    return out


def closed(rng, n):
    """A random closed set of surfaces: reciprocal, every row of view factors summing to one."""
    seen = rng.uniform(0.0, 1.0, (n, n))
    seen = seen + seen.T
    return seen, seen.sum(axis=1), rng.uniform(0.05, 1.0, n)


@pytest.mark.parametrize("n", [2, 5, 40])
def test_exchange_areas_are_those_of_the_net_radiation_method(n):
    """Hottel & Sarofim 1967, solved twice: by matrices here, by elimination in `physics`."""
    seen, area, emissivity = closed(np.random.default_rng(n), n)
    found = grey_areas(seen, area, emissivity)
    other = by_elimination(seen / area[:, None], emissivity, area)
    off = ~np.eye(n, dtype=bool)
    assert found[off] == pytest.approx(other[off], rel=1e-9)
    # Together with what a surface sends itself, a row is all the surface can take.
    assert found.sum(axis=1) + np.diag(other) == pytest.approx(area * emissivity, rel=1e-9)
    assert found == pytest.approx(found.T, rel=1e-12)


@pytest.mark.parametrize(("one", "two"), [(0.9, 0.9), (0.84, 0.05), (0.1, 0.5)])
def test_two_plates_exchange_as_incropera_has_it(one, two):
    """Large parallel plates, Incropera eq. 13.19: sigma A (T1^4 - T2^4) / (1/e1 + 1/e2 - 1)."""
    area = np.array([2.0, 2.0])
    seen = np.array([[0.0, 2.0], [2.0, 0.0]])
    found = grey_areas(seen, area, np.array([one, two]))
    assert found[0, 1] == pytest.approx(2.0 * longwave.parallel_emissivity(one, two), rel=1e-12)


def test_plates_in_the_network_exchange_that_heat():
    """Two surfaces of the running network that see only each other."""
    net = boxes.box()
    count = len(net.area)
    exchange = np.zeros((count, count))
    seen = np.array([[0.0, 0.5], [0.5, 0.0]])
    exchange[:2, :2] = grey_areas(seen, np.array([0.5, 0.5]), np.array([0.9, 0.6]))
    net = net._replace(exchange=exchange, views=exchange.sum(axis=1), link=np.zeros(len(net.link)))
    y = boxes.state(net, 295.0)
    found = boxes.look(net, boxes.forcing(net, 295.0), y)
    nodes = found.part(2)
    nodes[net.first[0]], nodes[net.first[1]] = 320.0, 295.0
    found = boxes.look(net, boxes.forcing(net, 295.0), y)
    heat = found.part(2, "dy")[net.first[:2]] * net.store[net.first[:2]]
    expected = 0.5 * longwave.parallel_emissivity(0.9, 0.6) * SIGMA * (320.0**4 - 295.0**4)
    assert heat == pytest.approx([-expected, expected], rel=1e-9)


def faces(name):
    """Which wall each surface of the bare box belongs to."""
    built = boxes.built(name)
    order = ("floor", "top", "front", "back", "left", "right")
    return np.array([order.index(g.owner) for g in built.groups]), built


@pytest.mark.slow
@pytest.mark.parametrize("name", boxes.EXAMPLES)
def test_no_surface_takes_more_than_it_can(name):
    net = boxes.built(name).net
    assert net.exchange == pytest.approx(net.exchange.T, rel=1e-12, abs=1e-15)
    assert (net.exchange >= 0.0).all()
    solid = np.arange(net.solids)
    emits = np.array([g.emissivity for g in boxes.built(name).groups])
    assert (net.views[solid] <= net.area[solid] * emits * (1.0 + 1e-9)).all()
