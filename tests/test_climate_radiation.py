"""Long-wave exchange in the network: plates, closed boxes, other ways to solve them."""

from __future__ import annotations

import numpy as np
import pytest

import climate_boxes as boxes
from loamwright.engine.climate import study as climate
from loamwright.engine.climate.air_film import SIGMA
from loamwright.engine.climate.longwave_areas import fitted, grey_areas
from loamwright.engine.unlit import climate_bare
from loamwright.physics import longwave
from loamwright.physics.radiation import rectangles_at_right_angles, rectangles_opposed


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


def test_walls_of_a_box_see_each_other_as_view_factors_say():
    """The engine's rays and cells, fitted and gathered by wall, against Howell's C-11 and C-14: the
    way from the file to the shares that the net radiation method takes."""
    built = boxes.built("bare-box")
    order = ("floor", "top", "front", "back", "left", "right")
    onto = np.eye(6)[[order.index(g.owner) for g in built.groups]]
    looks = climate.prepare(climate_bare(boxes.habitat("bare-box"))).looks
    seen = fitted(looks.exchange, np.array([g.area for g in built.groups]))
    found = onto.T @ seen @ onto
    x, y, z = built.cells.high - built.cells.low
    area = np.array([x * y, x * y, x * z, x * z, y * z, y * z])
    views = np.zeros((6, 6))
    for i, j, a, b, h in ((0, 1, x, y, z), (2, 3, x, z, y), (4, 5, y, z, x)):
        views[i, j] = views[j, i] = rectangles_opposed(a, b, h)
    for i in (0, 1):
        for j, along, depth in ((2, x, y), (4, y, x)):
            views[i, j : j + 2] = rectangles_at_right_angles(depth, z, along)
    for i in (2, 3):
        views[i, :2] = views[0, i] * area[0] / area[2]
        views[i, 4:] = rectangles_at_right_angles(x, y, z)
    for i in (4, 5):
        views[i, :2] = views[0, i] * area[0] / area[4]
        views[i, 2:4] = views[2, i] * area[2] / area[4]
    assert views.sum(axis=1) == pytest.approx(np.ones(6), abs=1e-9)
    assert found == pytest.approx(views * area[:, None], rel=0.01)


@pytest.mark.parametrize("n", [1, 3, 30])
def test_fitting_keeps_symmetry_and_gives_every_row_its_area(n):
    rng = np.random.default_rng(n)
    right, area, _ = closed(rng, n)
    noise = rng.normal(1.0, 0.03, (n, n))
    found = fitted(right * np.sqrt(noise * noise.T), area)
    assert found == pytest.approx(found.T, rel=1e-12)
    assert found.sum(axis=1) == pytest.approx(area, rel=1e-9)
    # What needs no fitting is left as it is; what has no area of its own keeps what sees it.
    assert fitted(right, area) == pytest.approx(right, rel=1e-9)
    area[0] = 0.0
    assert np.isfinite(fitted(right, area)).all()


def test_a_surface_that_sees_nothing_looks_at_itself():
    seen = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 0.5], [0.0, 0.5, 0.0]])
    assert fitted(seen, np.array([2.0, 0.5, 0.5]))[0] == pytest.approx([2.0, 0.0, 0.0])


@pytest.mark.slow
@pytest.mark.parametrize("name", boxes.EXAMPLES)
def test_no_surface_takes_more_than_it_can(name):
    net = boxes.built(name).net
    assert net.exchange == pytest.approx(net.exchange.T, rel=1e-12, abs=1e-15)
    assert (net.exchange >= 0.0).all()
    solid = np.arange(net.solids)
    emits = np.array([g.emissivity for g in boxes.built(name).groups])
    assert (net.views[solid] <= net.area[solid] * emits * (1.0 + 1e-9)).all()
