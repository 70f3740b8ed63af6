"""Crowns from above: closed forms and an independent count."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loamwright.physics import crowns


def test_circles_apart_within_and_half_way() -> None:
    assert crowns.circle_overlap(1.0, 2.0, 3.0) == 0.0
    assert crowns.circle_overlap(1.0, 2.0, 0.5) == pytest.approx(math.pi)
    # Two unit circles through each other's middle: 2 pi / 3 - sqrt(3) / 2.
    lens = 2.0 * math.pi / 3.0 - math.sqrt(3.0) / 2.0
    assert crowns.circle_overlap(1.0, 1.0, 1.0) == pytest.approx(lens, rel=1e-12)


@pytest.mark.parametrize(
    ("one", "two", "apart"), [(0.2, 0.3, 0.35), (0.5, 0.1, 0.45), (1.0, 1.0, 0.0)]
)
def test_overlap_is_that_of_a_count_of_points(one: float, two: float, apart: float) -> None:
    at = (np.arange(2000) + 0.5) / 2000 * 2.0 * one - one
    x, y = np.meshgrid(at, at)
    inside = (x**2 + y**2 < one**2) & ((x - apart) ** 2 + y**2 < two**2)
    counted = inside.mean() * (2.0 * one) ** 2
    assert crowns.circle_overlap(one, two, apart) == pytest.approx(counted, rel=3e-3)
    assert crowns.circle_overlap(two, one, apart) == crowns.circle_overlap(one, two, apart)


def test_light_passes_beside_and_through() -> None:
    assert crowns.passed_by(0.0, 3.0, 0.5) == 1.0
    assert crowns.passed_by(1.0, 3.0, 0.5) == pytest.approx(math.exp(-1.5))
    assert crowns.passed_by(0.5, 3.0, 0.5) == pytest.approx((1.0 + math.exp(-1.5)) / 2.0)


def test_so_many_plants_close_a_floor() -> None:
    assert crowns.plants_to_close(1.0, 0.5) == pytest.approx(4.0 / (math.pi * 0.25))
