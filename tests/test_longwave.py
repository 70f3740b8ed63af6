"""Grey enclosures: two-surface closed forms, conservation, a second way to solve."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics import longwave as w
from loamwright.physics.radiation import rectangles_at_right_angles, rectangles_opposed

EPS = st.floats(0.01, 1.0)
T = st.floats(250.0, 600.0)


def exchange(view, emissivity, area):
    n = len(area)
    out, work = np.empty((n, n)), np.empty((n, 2 * n))
    w.enclosure_exchange(
        np.asarray(view, float), np.asarray(emissivity, float), np.asarray(area, float), work, out
    )
    return out


def box(a, b, h):
    """View factors and areas of a closed box: floor, ceiling and four walls."""
    opposed = rectangles_opposed
    corner = rectangles_at_right_angles
    view = np.zeros((6, 6))
    area = np.array([a * b, a * b, a * h, a * h, b * h, b * h])
    view[0, 1] = view[1, 0] = opposed(a, b, h)
    view[2, 3] = view[3, 2] = opposed(a, h, b)
    view[4, 5] = view[5, 4] = opposed(b, h, a)
    for i in (0, 1):
        for j in (2, 3):
            view[i, j] = corner(b, h, a)
        for j in (4, 5):
            view[i, j] = corner(a, h, b)
    for i in (2, 3):
        for j in (4, 5):
            view[i, j] = corner(a, b, h)
    for i in range(6):
        for j in range(i):
            view[i, j] = view[j, i] * area[j] / area[i]
    return view, area


@given(st.lists(EPS, min_size=6, max_size=6))
def test_a_grey_box_is_closed_and_mutual(emissivity):
    view, area = box(1.2, 0.6, 0.9)
    assert view.sum(1) == pytest.approx(np.ones(6), abs=1e-9)
    g = exchange(view, emissivity, area)
    assert (g > -1e-12).all()
    assert g == pytest.approx(g.T, abs=1e-9)
    assert g.sum(1) == pytest.approx(area * emissivity, rel=1e-8)


def test_black_walls_exchange_by_view_factors_alone():
    view, area = box(1.2, 0.6, 0.9)
    assert exchange(view, np.ones(6), area) == pytest.approx(area[:, None] * view, abs=1e-12)


@given(st.lists(EPS, min_size=6, max_size=6), st.lists(T, min_size=6, max_size=6))
def test_exchange_areas_agree_with_solved_radiosities(emissivity, temperature):
    view, area = box(1.0, 0.5, 1.5)
    e, t = np.array(emissivity), np.array(temperature)
    emitted = w.STEFAN_BOLTZMANN * t**4
    radiosity = np.linalg.solve(np.eye(6) - (1 - e)[:, None] * view, e * emitted)
    gained = area * e * (view @ radiosity - emitted)  # absorbed minus sent out
    g = exchange(view, e, area)
    ours = (g * (emitted[None, :] - emitted[:, None])).sum(1)
    assert ours == pytest.approx(gained, abs=1e-7 * emitted.max())
    assert ours.sum() == pytest.approx(0.0, abs=1e-8 * emitted.max())


@given(EPS, EPS, st.floats(0.1, 10.0))
def test_two_surfaces_in_closed_form(one, two, ratio):
    # a body of area 1 inside a shell of area 1 + ratio sees only the shell
    shell = 1.0 + ratio
    view = [[0.0, 1.0], [1.0 / shell, 1.0 - 1.0 / shell]]
    g = exchange(view, [one, two], [1.0, shell])
    assert g[0, 1] == pytest.approx(w.two_surface_area(1.0, one, shell, two, 1.0), rel=1e-10)


def test_a_mirror_takes_no_part():
    g = exchange([[0.0, 0.5, 0.5], [0.5, 0.0, 0.5], [0.5, 0.5, 0.0]], [1.0, 1.0, 0.0], [1, 1, 1])
    assert g[2] == pytest.approx([0.0, 0.0, 0.0])
    assert g[0, 1] == pytest.approx(0.5 + 0.25)  # direct, and by the mirror: half of its half


@given(EPS, T, T)
def test_the_coefficient_is_the_exchange_exactly(emissivity, one, two):
    h = w.exchange_coefficient(emissivity, one, two)
    loss = w.net_loss(emissivity, 1.0, one, two)
    assert h * (one - two) == pytest.approx(loss, rel=1e-9, abs=1e-9)
    assert w.exchange_coefficient(emissivity, one, one) == pytest.approx(
        w.linear_coefficient(emissivity, one), rel=1e-12
    )


@given(EPS, EPS)
def test_plates_are_the_limit_of_two_surfaces(one, two):
    both = w.two_surface_area(1.0, one, 1.0, two, 1.0)
    assert both == pytest.approx(w.parallel_emissivity(one, two), rel=1e-12)
    assert both <= min(one, two) * (1 + 1e-12)


@given(st.lists(st.tuples(st.floats(0.01, 1.0), T), min_size=1, max_size=6))
def test_mean_radiant_temperature_radiates_as_much(pairs):
    weights, temperatures = (np.array(x) for x in zip(*pairs, strict=True))
    mean = w.mean_radiant_temperature(weights, temperatures)
    assert temperatures.min() - 1e-9 <= mean <= temperatures.max() + 1e-9
    power = (weights * temperatures**4).sum() / weights.sum()
    assert w.black_exitance(mean) == pytest.approx(w.STEFAN_BOLTZMANN * power, rel=1e-12)
