"""Fans, nozzles and filters of the catalogue: plausible among themselves, and shown with sources."""

from __future__ import annotations

import math

import pytest
from click.testing import CliRunner

from loamwright.cli import main
from loamwright.files.catalogue import load_catalogue

CATALOGUE = load_catalogue()


@pytest.mark.parametrize("key", CATALOGUE.fans)
def test_a_fan_does_not_move_more_than_it_draws(key: str) -> None:
    """No small fan turns half of its power into moving air; the best point of a straight curve
    carries a quarter of flow times pressure."""
    fan = CATALOGUE.fans[key]
    assert fan.free_flow * fan.static_pressure / 4.0 < 0.5 * fan.power


@pytest.mark.parametrize("key", CATALOGUE.fans)
def test_air_leaves_a_fan_at_a_likely_speed(key: str) -> None:
    """1 to 5 m/s through the frame of small axial fans, up to 10 out of radial ones (usual data
    sheets, from memory)."""
    fan = CATALOGUE.fans[key]
    speed = fan.free_flow / (math.pi / 4.0 * fan.diameter**2)
    assert 1.0 < speed < (10.0 if key.startswith("radial") else 5.0)


def test_radial_fans_press_harder_than_axial_ones() -> None:
    radial = [f.static_pressure for k, f in CATALOGUE.fans.items() if k.startswith("radial")]
    axial = [f.static_pressure for k, f in CATALOGUE.fans.items() if k.startswith("axial")]
    assert len(axial) >= 8
    assert len(radial) >= 1
    assert min(radial) > 2.0 * max(axial)


def test_slow_fans_follow_the_fan_laws() -> None:
    """Flow goes with the speed, pressure with its square: what a slow fan of the same size has left
    must fit within a factor of 1.5 (the wheels differ)."""
    for key, slow in CATALOGUE.fans.items():
        if not key.endswith("-quiet"):
            continue
        fast = CATALOGUE.fans[key.removesuffix("-quiet")]
        speed = slow.free_flow / fast.free_flow
        assert speed < 1.0
        assert 1 / 1.5 < slow.static_pressure / (fast.static_pressure * speed**2) < 1.5


@pytest.mark.parametrize("key", CATALOGUE.nozzles)
def test_a_nozzles_hole_follows_from_flow_and_pressure(key: str) -> None:
    """Orifice equation with a coefficient of 0.65: holes from 0.1 to 0.8 mm are what is sold, and
    drops are smaller than the hole they come from."""
    nozzle = CATALOGUE.nozzles[key]
    assert nozzle.pressure is not None
    area = nozzle.flow / (0.65 * math.sqrt(2.0 * nozzle.pressure / 1000.0))
    hole = math.sqrt(4.0 * area / math.pi)
    assert 1e-4 < hole < 8e-4
    assert nozzle.drop < hole


def test_finer_filters_cost_more() -> None:
    lost = {k: f.pressure / f.face_speed for k, f in CATALOGUE.filters.items()}
    assert lost["dust-foam"] < lost["dust-mat"] < lost["fine-dust-mat"] < lost["carbon-pad"]
    assert all(1.0 <= f.exponent <= 2.0 for f in CATALOGUE.filters.values())


@pytest.mark.parametrize(
    ("group", "key", "said"),
    [
        ("fans", "axial-92mm-12v", "85 m³/h"),
        ("nozzles", "fine-nozzle", "45 mL/min"),
        ("filters", "dust-mat", "20 Pa"),
    ],
)
def test_list_and_show(group: str, key: str, said: str) -> None:
    listed = CliRunner().invoke(main, ["list", group])
    shown = CliRunner().invoke(main, ["show", group, key])
    assert (listed.exit_code, shown.exit_code) == (0, 0)
    assert key in listed.stdout
    assert said in listed.stdout
    assert said in shown.stdout
    assert "from memory" in shown.stdout


def test_show_in_us_units_and_an_unknown_one() -> None:
    assert "50 cfm" in CliRunner().invoke(
        main, ["show", "fans", "axial-92mm-12v", "--units", "us"]
    ).stdout  # fmt: skip
    missing = CliRunner().invoke(main, ["show", "fans", "axial-90mm-12v"])
    assert missing.exit_code == 2
    assert "did you mean axial-" in missing.stderr
