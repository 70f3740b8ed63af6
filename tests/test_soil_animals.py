"""Small animals of the ground: closed forms, a published measurement, and the table of leaves."""

from __future__ import annotations

import math

import pytest

from loamwright.physics import decay, soil_animals, thermal_rates
from loamwright.physics.leaf_decay import FAUNA_SHARE, LEAVES, RICH, YEAR

ZERO = 273.15


def test_a_woodlouse_breathes_as_measured() -> None:
    # Smigel & Gibbs 2008, J Insect Sci 8:44: idle pill woodlice give off CO2 at 18 degC; isopods of
    # 50 to 100 mg make 0.05 to 0.4 microlitre of it for each mg and hour in textbook tables (from
    # memory), so a factor of four either way is all that can be asked.
    heat = soil_animals.invertebrate_heat(70e-6, ZERO + 18.0)
    mole = soil_animals.carbon_breathed(heat) / soil_animals.CARBON
    microlitres = mole * 3600.0 * 24.05e6 / 70.0  # an hour, of each mg, at 20 degC
    assert 0.05 < microlitres < 0.4


def test_breath_rises_with_mass_and_warmth() -> None:
    one = soil_animals.invertebrate_heat(1e-6, ZERO + 20.0)
    assert soil_animals.invertebrate_heat(1e-5, ZERO + 20.0) / one == pytest.approx(10**0.695071)
    warm = soil_animals.invertebrate_heat(1e-6, ZERO + 30.0)
    assert warm / one == pytest.approx(soil_animals.heat_q10(ZERO + 25.0), rel=1e-12)
    assert 2.0 < warm / one < 3.0


@pytest.mark.parametrize("classes", [1, 3, 12])
def test_the_share_that_passes_is_the_share_asked_for(classes: int) -> None:
    rate = 2e-7
    risk = soil_animals.risk_through(0.12, rate, classes)
    assert (rate / (rate + risk)) ** classes == pytest.approx(0.12, rel=1e-12)
    assert soil_animals.risk_through(1.0, rate, classes) == 0.0


def test_leaves_cover_by_poisson() -> None:
    assert soil_animals.covered_share(0.0, 0.08) == 0.0
    # ln 2 layers cover half.
    assert soil_animals.covered_share(0.08 * math.log(2.0), 0.08) == pytest.approx(0.5)


def test_oak_has_the_half_life_that_is_told_of_it() -> None:
    """At 25 degC, moist: four to seven months with the fauna that bags keep out or let in, of an
    enclosure; 1.2 to 2.1 a year."""
    oak = LEAVES["oak"]
    factor = thermal_rates.q10_factor(ZERO + 25.0, oak.temperature, oak.q10)
    for share in (0.0, *FAUNA_SHARE):
        rate = decay.litter_decay(oak.quick, factor, 1.0, share) * YEAR
        assert 1.2 < rate < 2.2
        assert 3.9 < math.log(2.0) / rate * 12.0 < 7.0


@pytest.mark.parametrize(
    ("name", "cold", "warm"),
    [
        # Humid places of LIDET: Hubbard Brook 5 degC and Harvard Forest 7 degC against Panama 26.
        ("oak", (0.493, 5.0), (1.26, 26.0)),
        ("maple", (0.440, 5.0), (1.39, 26.0)),
        ("tropical", (0.604, 5.0), (2.85, 26.0)),
    ],
)
def test_q10_of_leaves_is_that_across_humid_places(
    name: str, cold: tuple[float, float], warm: tuple[float, float]
) -> None:
    found = thermal_rates.q10_between(cold[0], warm[0], cold[1], warm[1])
    # Two places of eight; the table's figure is the fit through all of them.
    assert LEAVES[name].q10 == pytest.approx(found, rel=0.15)


def test_richer_leaves_of_one_place_go_faster() -> None:
    assert LEAVES["tropical"].quick > LEAVES["maple"].quick > LEAVES["pine"].quick
    assert RICH.ratio < min(leaf.ratio for leaf in LEAVES.values())
    for leaf in LEAVES.values():
        assert 0.0 < leaf.slow <= leaf.quick
