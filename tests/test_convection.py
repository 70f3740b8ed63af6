"""Free and forced convection: air against a judge, limits, order, continuity."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.physics import convection as c

RA = st.floats(1e-3, 1e11)
PR = st.floats(0.5, 10.0)


@pytest.mark.slow
@pytest.mark.judge
def test_air_agrees_with_coolprop():
    # 1 % where enclosures live, 2 % on lamp surfaces: the standard-atmosphere laws are that good.
    judge = pytest.importorskip("CoolProp.CoolProp")
    for t in (273.15, 293.15, 303.15, 323.15, 400.65, 500.0, 580.0):
        ours = [
            c.air_density(t, 101325.0), c.air_viscosity(t), c.air_conductivity(t),
            c.air_heat_capacity(t),
        ]  # fmt: skip
        theirs = [judge.PropsSI(q, "T", t, "P", 101325.0, "Air") for q in "DVLC"]
        assert ours == pytest.approx(theirs, rel=0.01 if t < 401.0 else 0.02), t


@given(st.floats(273.15, 600.0), st.floats(6e4, 1.1e5))
def test_the_film_in_one_call_is_the_four_laws(temperature, pressure):
    k, nu, prandtl, factor = c.air_film(temperature, pressure)
    mu, cp = c.air_viscosity(temperature), c.air_heat_capacity(temperature)
    assert k == pytest.approx(c.air_conductivity(temperature), rel=1e-12)
    assert nu == pytest.approx(mu / c.air_density(temperature, pressure), rel=1e-12)
    assert prandtl == pytest.approx(mu * cp / k, rel=1e-12)
    ra = c.rayleigh(7.0, 0.3, temperature, nu, prandtl)
    assert factor * 7.0 * 0.3**3 == pytest.approx(ra, rel=1e-12)
    assert c.rayleigh(-7.0, 0.3, temperature, nu, prandtl) == ra


LAWS = {
    "vertical_plate": lambda ra, pr: c.vertical_plate(ra, pr),
    "vertical_plate_laminar": lambda ra, pr: c.vertical_plate_laminar(ra, pr),
    "unstable": lambda ra, pr: c.horizontal_plate_unstable(ra),
    "stable": lambda ra, pr: c.horizontal_plate_stable(ra),
    "stable newer": lambda ra, pr: c.horizontal_plate_stable_newer(ra),
    "sphere": c.sphere,
    "cylinder": c.horizontal_cylinder,
    "cavity below": lambda ra, pr: c.cavity_heated_below(ra),
    "cavity vertical": lambda ra, pr: c.cavity_vertical(ra, 20.0),
    "plate forced": c.flat_plate_forced,
    "cylinder forced": c.cylinder_forced,
    "sphere forced": c.sphere_forced,
}


@pytest.mark.parametrize("name", LAWS)
@given(ra=RA, pr=PR, more=st.floats(1.0001, 10.0))
def test_more_drive_never_carries_less(name, ra, pr, more):
    law = LAWS[name]
    assert law(ra * more, pr) >= law(ra, pr) * (1.0 - 1e-12)


@pytest.mark.parametrize("name", LAWS)
@given(ra=RA, pr=PR)
def test_no_law_jumps(name, ra, pr):
    """A solver steps over a law; a millionth more drive may not change it by a thousandth."""
    law = LAWS[name]
    assert law(ra * (1.0 + 1e-6), pr) == pytest.approx(law(ra, pr), rel=1e-3)


def test_limits_without_drive():
    assert c.sphere(0.0, 0.7) == 2.0  # conduction from a sphere
    assert c.sphere_forced(0.0, 0.7) == 2.0
    assert c.cavity_heated_below(0.0) == c.cavity_heated_below(1708.0) == 1.0
    assert c.cavity_vertical(0.0, 20.0) == 1.0
    assert c.vertical_plate(0.0, 0.7) == pytest.approx(0.825**2)
    assert c.horizontal_cylinder(0.0, 0.7) == pytest.approx(0.36)


@pytest.mark.parametrize(
    ("ra", "off"), [(1e3, 0.05), (1e5, 0.07), (1e6, 0.03), (1e7, 0.06), (1e8, 0.18), (1e9, 0.34)]
)
def test_the_general_plate_law_leaves_the_laminar_one_slowly(ra, off):
    # The general law smooths over the transition at 1e9, so it lies higher well before it.
    ratio = c.vertical_plate(ra, 0.71) / c.vertical_plate_laminar(ra, 0.71)
    assert ratio == pytest.approx(1.0, abs=off)


@given(st.floats(1e5, 1e9))
def test_a_stable_layer_carries_less_than_an_unstable_one(ra):
    assert c.horizontal_plate_stable(ra) < c.horizontal_plate_unstable(ra)


def test_the_two_stable_laws_differ_as_their_docstring_says():
    ratio = c.horizontal_plate_stable_newer(1e5) / c.horizontal_plate_stable(1e5)
    assert ratio == pytest.approx(1.083, abs=0.01)


@given(st.floats(0.1, 100.0), st.floats(0.1, 100.0))
def test_mixed_convection_lies_between_the_larger_and_its_cube_root_of_two(free, forced):
    both = c.mixed(free, forced)
    top = max(free, forced)
    assert top * (1 - 1e-12) <= both <= top * 2.0 ** (1.0 / 3.0) * (1 + 1e-12)
    assert c.mixed(free, 0.0) == pytest.approx(free)
