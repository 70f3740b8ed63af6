"""Walls, cells and contact: exact profiles, order of convergence, inverses."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from loamwright.physics import conduction as c

WIDTH = st.floats(1e-3, 0.2)
LAMBDA = st.floats(0.02, 5.0)


def cells(layers, per_layer, inner, outer):
    """Widths, conductivities and links (surface, between, surface) of a layered wall."""
    width = [d / per_layer for d, _ in layers for _ in range(per_layer)]
    lam = [k for _, k in layers for _ in range(per_layer)]
    links = [c.surface_link(width[0], lam[0], inner)]
    for i in range(len(width) - 1):
        links.append(c.cell_link(width[i], lam[i], width[i + 1], lam[i + 1], 0.0))
    links.append(c.surface_link(width[-1], lam[-1], outer))
    return np.array(width), np.array(links)


@given(
    st.lists(st.tuples(WIDTH, LAMBDA), min_size=1, max_size=4),
    st.integers(1, 5),
    st.floats(2.0, 20.0),
)
def test_steady_cells_carry_exactly_the_u_value(layers, per_layer, film):
    # Two-point links are exact for steady one-dimensional flow, whatever the grid.
    _, links = cells(layers, per_layer, film, film)
    d, k = zip(*layers, strict=True)
    total = c.wall_resistance(tuple(d), tuple(k), 1.0 / film, 1.0 / film)
    assert (1.0 / links).sum() == pytest.approx(total, rel=1e-12)


def test_swing_through_cells_converges_with_second_order():
    """A slab with a periodic left face and an adiabatic right one, against the complex exact."""
    k, rho, cp, depth, period = 0.2, 600.0, 1600.0, 0.05, 7200.0
    omega = 2.0 * math.pi / period
    wave = cmath.sqrt(1j * omega * rho * cp / k)
    exact = 1.0 / cmath.cosh(wave * depth)  # of the right face
    errors = []
    for n in (10, 20, 40):
        width = depth / n
        link = c.cell_link(width, k, width, k, 0.0)
        capacity = c.cell_capacity(width, rho, cp)
        face = c.surface_link(width, k, 1e12)  # a film so good that the face is given
        bands = np.zeros((3, n), dtype=complex)
        bands[0, 1:], bands[2, :-1] = -link, -link
        bands[1] = 1j * omega * capacity + 2.0 * link
        bands[1, 0] = 1j * omega * capacity + link + face
        bands[1, -1] = 1j * omega * capacity + link
        right = np.zeros(n, dtype=complex)
        right[0] = face
        swing = solve_banded((1, 1), bands, right)
        # the last centre lies half a cell before the adiabatic face, where T ~ cosh
        last = swing[-1] / cmath.cosh(wave * width / 2.0)
        errors.append(abs(last - exact))
    rates = [math.log2(errors[i] / errors[i + 1]) for i in range(2)]
    assert rates == pytest.approx([2.0, 2.0], abs=0.1)


def test_a_surface_balances_air_cell_and_sun():
    cell, width, k, film, air, sun = 300.0, 0.004, 0.2, 9.0, 295.0, 120.0
    face = c.surface_temperature(cell, width, k, film, air, sun)
    inward = 2.0 * k / width * (cell - face)
    assert inward + film * (air - face) + sun == pytest.approx(0.0, abs=1e-9)
    # without sun the flow is that of the link
    face = c.surface_temperature(cell, width, k, film, air, 0.0)
    assert film * (face - air) == pytest.approx(c.surface_link(width, k, film) * (cell - air))


def test_the_longest_explicit_step_is_where_a_node_reaches_its_neighbour():
    step = c.explicit_step_limit(500.0, 20.0)
    assert 300.0 + step * 20.0 * (310.0 - 300.0) / 500.0 == pytest.approx(310.0)


@pytest.mark.parametrize(
    ("thickness", "depth", "cells"), [(0.1, 0.05, 4), (0.101, 0.05, 5), (0.001, 0.05, 1)]
)
def test_cells_of_a_layer(thickness, depth, cells):
    assert c.cells_in_layer(thickness, depth, 2.0) == cells


def test_a_day_reaches_a_hand_into_damp_soil():
    # Sandy soil, De Vries: alpha about 5e-7 m2/s gives sqrt(5e-7 x 86400 / pi) = 0.117 m.
    assert c.penetration_depth(1.0, 1000.0, 2000.0, 86400.0) == pytest.approx(0.1173, abs=1e-4)


@given(st.floats(1e-3, 0.1), st.floats(0.0, 30.0), st.floats(260.0, 330.0), st.floats(0.05, 1.0))
def test_air_layers_insulate_most_downward(thickness, difference, mean, emissivity):
    side, up, down = (
        c.air_layer_resistance(thickness, direction, difference, mean, emissivity, 0.9)
        for direction in (c.SIDEWAYS, c.UP, c.DOWN)
    )
    assert up <= side * (1 + 1e-12)
    if thickness >= 0.02:  # thinner ones conduct alike in all directions
        assert side <= down * (1 + 1e-12)


@pytest.mark.parametrize("direction", [0, 1, 2])
def test_air_layers_do_not_jump_at_five_kelvin(direction):
    # The standard's two formulae meet within their rounding, 1.5 %.
    below, above = (
        c.air_layer_resistance(0.05, direction, d, 283.0, 0.9, 0.9) for d in (4.999, 5.001)
    )
    assert above == pytest.approx(below, rel=0.015)


@given(st.floats(280.0, 320.0), st.floats(280.0, 320.0), st.floats(1.0, 1e5), st.floats(1.0, 1e6))
def test_lumped_time_undoes_lumped_temperature(start, surroundings, constant, time):
    time = min(time, 10.0 * constant)
    then = c.lumped_temperature(start, surroundings, time, constant)
    assert min(start, surroundings) - 1e-9 <= then <= max(start, surroundings) + 1e-9
    if abs(then - surroundings) > 1e-6 and then != start:
        back = c.lumped_time(start, then, surroundings, constant)
        assert back == pytest.approx(time, rel=1e-5, abs=1e-6 * constant)


def test_a_body_never_reaches_what_lies_beyond_or_behind():
    assert c.lumped_time(300.0, 311.0, 310.0, 100.0) == math.inf
    assert c.lumped_time(300.0, 310.0, 310.0, 100.0) == math.inf
    assert c.lumped_time(300.0, 299.0, 310.0, 100.0) == math.inf
    assert c.lumped_time(300.0, 300.0, 310.0, 100.0) == 0.0
    assert c.lumped_time(300.0, 305.0, 300.0, 100.0) == math.inf


@given(st.floats(1.0, 4e4), st.floats(1.0, 4e4))
def test_contact_lies_between_and_leans_to_the_stronger(one, two):
    joint = c.contact_temperature(290.0, one, 330.0, two)
    assert 290.0 - 1e-9 <= joint <= 330.0 + 1e-9
    assert (joint < 310.0) == (one > two) or joint == pytest.approx(310.0)


def test_steel_feels_hotter_than_wood():
    # Same 60 degC surface, skin at 33 degC; effusivities from the materials table of the design.
    skin = c.effusivity(0.5, 1000.0, 3600.0)
    steel, wood = c.effusivity(50.0, 7800.0, 450.0), c.effusivity(0.13, 500.0, 1600.0)
    on_steel = c.contact_temperature(306.15, skin, 333.15, steel)
    on_wood = c.contact_temperature(306.15, skin, 333.15, wood)
    assert on_steel > 330.0 > 313.0 > on_wood


@given(st.floats(1e-6, 0.1), st.floats(1e-3, 0.2), LAMBDA, LAMBDA)
def test_ground_contact_is_less_than_either_part(area, depth, body, ground):
    both = c.ground_contact(area, depth, body, ground)
    assert both < c.spreading_conductance(area, ground)
    assert both < 2.0 * body * area / depth
    assert c.ground_contact(0.0, depth, body, ground) == 0.0
    # on a perfect conductor only the body resists
    assert c.ground_contact(area, depth, body, 1e15) == pytest.approx(2 * body * area / depth)
