"""Walls as chains of nodes: ISO 6946 in the steady state, the series of a slab on the way there."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.linalg import expm
from scipy.optimize import brentq

import climate_boxes as boxes
from loamwright.engine.climate import chains
from loamwright.engine.climate.layout import offsets
from loamwright.physics import conduction

ZERO = boxes.ZERO
SIDE = conduction.SURFACE_RESISTANCE_HORIZONTAL

# Thickness [m] and conductivity [W/(m K)] from the inside; heat capacities only shape the way there.
GLASS = [(0.006, 1.0)]
PLYWOOD = [(0.018, 0.13)]
THREE = [(0.003, 0.17), (0.030, 0.033), (0.018, 0.13)]


def stack(layers):
    return [chains.Slab(d, k, 1.0e6) for d, k in layers]


def matrices(chain: chains.Chain, inside: float):
    """Rate matrix and input of a square metre: air at 1 before its face, the room at 0."""
    n = len(chain.store)
    k = np.zeros((n, n))
    for i in range(n - 1):
        k[i, i] -= chain.link[i]
        k[i + 1, i + 1] -= chain.link[i]
        k[i, i + 1] += chain.link[i]
        k[i + 1, i] += chain.link[i]
    k[-1, -1] -= chain.link[-1]
    k[0, 0] -= inside
    start = np.zeros(n)
    start[0] = inside
    store = np.array(chain.store)
    return k / store[:, None], start / store


def steady(layers, fineness=1.0):
    """Temperatures of all nodes for air at 1 and the room at 0, and their depths."""
    chain = chains.chain(stack(layers), SIDE, fineness)
    a, b = matrices(chain, 1.0 / SIDE)
    return np.linalg.solve(-a, b), np.array(chain.depth)


@pytest.mark.parametrize(
    ("layers", "u"), [(GLASS, 3.7594), (PLYWOOD, 2.5097), (THREE, 0.75460)],
    ids=["glass", "plywood", "plywood, foam and plastic"],
)  # fmt: skip
@pytest.mark.parametrize("fineness", [0.5, 1.0, 3.0])
def test_u_values_are_those_of_iso_6946(layers, u, fineness):
    """U = 1 / (R_si + sum d / lambda + R_si), ISO 6946; a node more or fewer changes nothing."""
    found, _ = steady(layers, fineness)
    # The expected numbers are printed to five digits.
    assert (1.0 - found[0]) / SIDE == pytest.approx(u, rel=2e-5)
    assert chains.wall_conductance(stack(layers), SIDE, SIDE) == pytest.approx(u, rel=2e-5)


def test_temperatures_between_layers_are_those_of_iso_6946():
    """30 degC behind 3 mm of plastic, 30 mm of foam, 18 mm of plywood, 20 degC outside."""
    found, depth = steady(THREE)
    at = [20.0 + 10.0 * found[np.argmin(np.abs(depth - d))] for d in (0.0, 0.003, 0.033, 0.051)]
    assert at == pytest.approx([29.019, 28.886, 22.026, 20.981], abs=1e-3)


@pytest.mark.parametrize(
    ("layers", "inside", "outside", "surfaces"),
    [(GLASS, 28.0, 20.0, (24.090, 23.910)), (THREE, 30.0, 20.0, (29.019, 20.981))],
    ids=["glass", "three layers"],
)
def test_the_engine_carries_a_wall_to_its_steady_state(layers, inside, outside, surfaces):
    """The same walls as a surface of the network, from cold until nothing changes."""
    h = 1.0 / SIDE
    flow = (inside - outside) / (2 * SIDE + sum(d / k for d, k in layers))
    net = boxes.box(volume=np.full(boxes.built("bare-box").cells.count, 1e12))
    net = boxes.with_chains(net, [chains.chain(stack(layers), SIDE)])
    net = boxes.one_surface(net, 1.0, h, flow * SIDE)
    y = boxes.state(net, outside + ZERO)
    at = offsets(net)
    y[: at[1]] = inside + ZERO
    force = boxes.forcing(net, outside + ZERO)
    # The slowest wall's time constant is 3.3 hours; after 72 it is at its end to 1e-9.
    boxes.carry(net, force, y, 72 * 3600.0)
    wall = y[at[2] + net.first[0] : at[2] + net.first[1]] - ZERO
    assert [wall[0], wall[-1]] == pytest.approx(surfaces, abs=1e-3)
    last = boxes.look(net, force, y)
    assert last.ledger("walls") == pytest.approx(flow, rel=1e-6)


# -- on the way there ----------------------------------------------------------------------------


def series(x, fourier, biot, terms=60):
    """Temperature of a slab that starts at 1, air at 0 before x = 1, no heat through x = 0.

    Carslaw & Jaeger 1959, section 3.11; Incropera eq. 5.42: roots of zeta tan zeta = Bi.
    """
    out = np.zeros_like(np.asarray(x, float))
    for n in range(terms):
        low, high = n * np.pi + 1e-12, (n + 0.5) * np.pi - 1e-12
        zeta = brentq(lambda z: z * np.sin(z) - biot * np.cos(z), low, high, xtol=1e-14)
        weight = 4.0 * np.sin(zeta) / (2.0 * zeta + np.sin(2.0 * zeta))
        out = out + weight * np.exp(-zeta * zeta * fourier) * np.cos(zeta * np.asarray(x))
    return out


SLAB = chains.Slab(0.05, 0.20, 1.2e6)
FILM = 8.0


def slab_error(fineness, hours):
    """Largest difference of a chain's nodes from the series, of a unit step, at these hours."""
    chain = chains.chain([SLAB], None, fineness)
    a, _ = matrices(chain, FILM)
    depth = np.array(chain.depth)
    diffusivity = SLAB.conductivity / SLAB.capacity
    worst = 0.0
    for hour in hours:
        exact = series(
            1.0 - depth / SLAB.thickness, diffusivity * hour * 3600.0 / SLAB.thickness**2,
            FILM * SLAB.thickness / SLAB.conductivity,
        )  # fmt: skip
        found = expm(a * hour * 3600.0) @ np.ones(len(depth))
        worst = max(worst, float(np.abs(found - exact).max()))
    return worst, len(depth)


def test_a_slab_warms_as_its_series_says():
    # Half an hour is the shortest swing the chain is made for; what is asked is 2 % of the step.
    error, nodes = slab_error(1.0, (0.5, 1.0, 2.0, 4.0))
    assert nodes <= 6
    assert error < 0.02


def test_finer_chains_are_of_second_order():
    """Halving the slices quarters the error (central differences); uneven slices keep that, since
    they halve together."""
    errors = [slab_error(f, (0.5, 2.0))[0] for f in (2.0, 4.0, 8.0)]
    orders = [np.log2(a / b) for a, b in itertools.pairwise(errors)]
    assert all(1.7 < order < 2.4 for order in orders), (errors, orders)


def test_a_chain_keeps_all_the_heat_of_its_layers():
    for fineness in (0.5, 1.0, 2.0):
        chain = chains.chain(stack(THREE), SIDE, fineness)
        assert sum(chain.store) == pytest.approx(1e6 * sum(d for d, _ in THREE), rel=1e-12)
        assert chain.depth[-1] == pytest.approx(sum(d for d, _ in THREE), rel=1e-12)


def test_metal_is_no_colder_than_metal():
    """A sheet of aluminium would ask for steps of milliseconds; what is taken instead may leave out
    no more than a hundredth of the resistance of two films."""
    sheet = chains.Slab(0.003, 160.0, 2.4e6)
    chain = chains.chain([sheet], SIDE)
    taken = 1.0 / (2 * SIDE + sum(1.0 / k for k in chain.link[:-1]))
    assert taken == pytest.approx(chains.wall_conductance([sheet], SIDE, SIDE), rel=0.01)
