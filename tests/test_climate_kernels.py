"""Every climate function compiles as it stands and then says the same."""

from __future__ import annotations

import inspect
import math

import numpy as np
import pytest

from loamwright.physics import (
    airflow,
    bodies,
    burns,
    conduction,
    convection,
    flow_losses,
    longwave,
    plumes,
)
from loamwright.physics import fans as fan_laws

MODULES = (
    airflow, bodies, burns, conduction, convection, fan_laws, flow_losses, longwave, plumes,
)  # fmt: skip

SPECIAL = {
    "wall_resistance": ((0.01, 0.02), (0.13, 0.04), 0.13, 0.04),
    "air_layer_resistance": (0.01, 1, 7.0, 300.0, 0.9, 0.8),
    "burn_threshold": (2, 30.0),
    "burn_time": (2, 335.0),
    "mean_radiant_temperature": (np.array([0.4, 0.6]), np.array([290.0, 310.0])),
    "curve_from_three": (0.05, 100.0, 0.02, 70.0),
    "lumped_time": (300.0, 305.0, 310.0, 100.0),
    "warming_time": (300.0, 305.0, 310.0, 100.0),
    "changes_from_decay": (1200.0, 600.0, 400.0, 60.0),
}


def functions():
    for module in MODULES:
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and name != "enclosure_exchange":
                yield name, function


@pytest.mark.slow
def test_every_function_compiles_and_agrees():
    numba = pytest.importorskip("numba")
    checked = 0
    for name, function in functions():
        count = len(inspect.signature(function).parameters)
        plain = SPECIAL.get(name, tuple(0.61 + 0.07 * i for i in range(count)))
        got = np.atleast_1d(numba.njit(function)(*plain))
        assert got == pytest.approx(np.atleast_1d(function(*plain)), rel=1e-12), name
        assert all(math.isfinite(v) for v in got), name
        checked += 1
    assert checked > 90


@pytest.mark.slow
def test_the_enclosure_compiles_and_agrees():
    numba = pytest.importorskip("numba")
    view = np.array([[0.0, 1.0], [0.25, 0.75]])
    arguments = (view, np.array([0.9, 0.4]), np.array([1.0, 4.0]))
    plain, quick = np.empty((2, 2)), np.empty((2, 2))
    longwave.enclosure_exchange(*arguments, np.empty((2, 4)), plain)
    numba.njit(longwave.enclosure_exchange)(*arguments, np.empty((2, 4)), quick)
    assert quick == pytest.approx(plain, rel=1e-12)
