"""Spectral functions: what a sheet of values cannot say."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.habitat.bands import BAND_EDGES_NM
from loamwright.physics import lamp_spectra, spectra
from loamwright.physics.action_tables import (
    ACTINIC,
    ACTINIC_NM,
    PHOTOPIC_NM,
    PREVITAMIN_NM,
)

LAMP = (np.array([290.0, 310.0, 350.0, 450.0, 700.0, 2000.0]), np.array([0.0, 2, 1, 5, 3, 0.1]))


def test_bands_are_those_of_the_habitat() -> None:
    assert spectra.BAND_EDGES_NM == BAND_EDGES_NM


def test_erythema_weight_is_continuous_where_its_branches_meet() -> None:
    # B-03: with 139 nm in the third branch there would be a step of 3.4 % at 328 nm.
    for edge in (298.0, 328.0):
        below, above = spectra.erythema_weight([edge - 1e-9, edge + 1e-9])
        assert below == pytest.approx(above, rel=1e-7)


def test_actinic_weight_is_log_linear_between_points() -> None:
    middle = spectra.actinic_weight(0.5 * (308.0 + 310.0))
    assert float(middle) == pytest.approx((0.026 * 0.015) ** 0.5, rel=1e-12)
    assert np.allclose(spectra.actinic_weight(ACTINIC_NM), ACTINIC, rtol=1e-12)


@pytest.mark.parametrize("table", [ACTINIC_NM, PREVITAMIN_NM, PHOTOPIC_NM])
def test_tables_rise_in_wavelength(table: tuple[float, ...]) -> None:
    assert np.all(np.diff(table) > 0)


@pytest.mark.parametrize("low", [290.0, 305.0, 340.0])
@pytest.mark.parametrize("high", [344.0, 690.0, 1500.0])
def test_integral_of_straight_pieces_is_exact(low: float, high: float) -> None:
    # Against Simpson's rule on each straight piece, which is exact for one too.
    nodes = np.unique([low, high, *LAMP[0][(LAMP[0] > low) & (LAMP[0] < high)]])
    exact = 0.0
    for a, b in itertools.pairwise(nodes):
        ends = np.interp([a, 0.5 * (a + b), b], *LAMP)
        exact += (b - a) / 6.0 * (ends[0] + 4.0 * ends[1] + ends[2])
    assert spectra.integrate(*LAMP, low, high) == pytest.approx(exact, rel=1e-12)


def test_nothing_outside_the_spectrum() -> None:
    assert spectra.integrate(*LAMP, 100.0, 290.0) == 0.0
    whole = spectra.integrate(*LAMP, 290.0, 2000.0)
    assert spectra.integrate(*LAMP, 1.0, 1e6) == pytest.approx(whole, rel=1e-12)


@given(st.floats(251.0, 2999.0), st.floats(251.0, 2999.0), st.floats(251.0, 2999.0))
def test_integrals_add_up(a: float, b: float, c: float) -> None:
    low, middle, high = sorted((a, b, c))
    parts = spectra.integrate(*LAMP, low, middle) + spectra.integrate(*LAMP, middle, high)
    assert parts == pytest.approx(spectra.integrate(*LAMP, low, high), rel=1e-9, abs=1e-9)


def test_a_coarse_grid_does_not_overstate_sunburn() -> None:
    # A flat lamp given by two points: the closed integral of 10^(0.094 (298 - x)).
    got = spectra.erythemal([300.0, 320.0], [1.0, 1.0])
    k = 0.094 * np.log(10.0)
    exact = (np.exp(-2.0 * k) - np.exp(-22.0 * k)) / k
    assert got == pytest.approx(exact, rel=0.005)  # trapezoid at 1 nm: k2/12 = 0.4 %


def test_short_waves_of_a_lamp_are_counted() -> None:
    # Half a watt at 260 nm is as bad as it gets and would be lost from 280 nm on.
    assert spectra.uv_index([259.0, 260.0, 261.0], [0.0, 0.5, 0.0]) == pytest.approx(20.0)


def test_band_shares_sum_to_one() -> None:
    # C-59
    assert sum(spectra.band_shares(*LAMP)) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("name", ["uvi", "actinic", "d3", "ppfd", "lux"])
def test_per_watt_gives_the_quantity_back(name: str) -> None:
    worth = spectra.per_watt(*LAMP)[name]
    watts = [spectra.integrate(*LAMP, low, high) for low, high in BAND_EDGES_NM]
    got = sum(w * q for w, q in zip(watts, worth, strict=True))
    # V(lambda) runs on past 700 nm and is cut at the band's edge: the nodes differ a little.
    assert got == pytest.approx(spectra.quantity(*LAMP, name), rel=1e-6)


def test_per_watt_of_an_empty_band_is_nothing() -> None:
    worth = spectra.per_watt([500.0, 600.0], [1.0, 1.0])
    assert worth["uvi"] == (0.0, 0.0, 0.0, 0.0, 0.0)
    assert worth["lux"][2] > 0.0


def test_brightness_changes_nothing_per_watt() -> None:
    # C-60
    bright = spectra.per_watt(LAMP[0], 17.0 * LAMP[1])
    for name, worth in spectra.per_watt(*LAMP).items():
        assert bright[name] == pytest.approx(worth, rel=1e-12)


def test_mix_is_the_light_of_both_together() -> None:
    nm = np.arange(280.0, 760.0, 0.5)
    one = lamp_spectra.gaussian_band(nm, 320.0, 30.0)
    two = lamp_spectra.gaussian_band(nm, 550.0, 80.0)
    parts = [
        (power, spectra.band_shares(nm, shape), spectra.per_watt(nm, shape))
        for power, shape in ((2.0, one), (5.0, two))
    ]
    watts, worth = spectra.mix(parts)
    scale = [spectra.integrate(nm, s, 250.0, 50_000.0) for s in (one, two)]
    both = 2.0 * one / scale[0] + 5.0 * two / scale[1]
    assert sum(watts) == pytest.approx(7.0, rel=1e-9)
    for name in worth:
        got = sum(w * q for w, q in zip(watts, worth[name], strict=True))
        # Only the splitting of a 1 nm step at a band's edge differs.
        assert got == pytest.approx(spectra.quantity(nm, both, name), rel=1e-5)


def test_gaussian_band_has_unit_area_and_its_width() -> None:
    nm = np.arange(300.0, 700.0, 0.1)
    band = lamp_spectra.gaussian_band(nm, 500.0, 40.0)
    assert np.trapezoid(band, nm) == pytest.approx(1.0, rel=1e-9)
    peak, half = lamp_spectra.gaussian_band([500.0, 520.0], 500.0, 40.0)
    assert half / peak == pytest.approx(0.5, rel=1e-12)


def test_glass_edge_opens_and_closes() -> None:
    assert lamp_spectra.glass_edge([200.0, 302.0, 400.0], 302.0, 1.5) == pytest.approx(
        [0.0, 0.5, 1.0], abs=1e-12
    )
    assert lamp_spectra.glass_edge([3000.0, 6000.0], 4500.0, -200.0) == pytest.approx(
        [1.0, 0.0], abs=1e-3
    )


def test_tungsten_is_whiter_than_a_black_body() -> None:
    # Reference C.6: 0.45 in the visible, about 0.25 at 2.5 um (from memory): tolerance 10 %.
    visible, infrared = lamp_spectra.tungsten_emissivity([550.0, 2500.0])
    assert visible == pytest.approx(0.45, rel=0.1)
    assert infrared == pytest.approx(0.25, rel=0.1)
    edge = lamp_spectra.tungsten_emissivity([2500.0, 2500.0001])
    assert edge[0] == pytest.approx(edge[1], rel=1e-6)


def test_planck_does_not_overflow() -> None:
    assert float(lamp_spectra.planck(200.0, 300.0)) == pytest.approx(0.0, abs=1e-60)
