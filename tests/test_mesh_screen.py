"""Meshes against brute-force rays on explicit wires; sheets against textbook Fresnel values."""

from __future__ import annotations

import math

import numpy as np
import pytest

from loamwright.physics.mesh_screen import (
    internal_transmittance,
    screen_transmittance,
    screen_transmittance_diffuse,
    screen_transmittance_toward,
    screen_transmittances,
    sheet_reflectance,
    sheet_transmittance,
    sheet_transmittance_diffuse,
    sheet_transmittances,
    surface_reflectances,
)


def rays_through_wires(direction, pitch, wire, woven=0.0, per_side=250):
    """Share of parallel rays that miss every cylinder of an endless square mesh.

    Each ray is a line; each wire an endless cylinder (the family along y lifted by ``woven``);
    a ray is stopped where its distance to a wire's axis is below the wire's radius.
    """
    sx, sy, sn = direction
    u = (np.arange(per_side) + 0.5) / per_side * pitch
    x, y = np.meshgrid(u, u)
    k = np.arange(-8, 9) * pitch

    def gap(offset, slope):
        # distance from the line (offset + slope z) to the axes at k, measured across the line
        return np.abs(offset[..., None] - k) / math.sqrt(1 + slope * slope)

    stopped = (gap(y, sy / sn) < wire / 2).any(-1)
    stopped |= (gap(x + sx / sn * woven, sx / sn) < wire / 2).any(-1)
    return 1.0 - stopped.mean()


@pytest.mark.parametrize(("ratio", "expected"), [(0.20, 0.64), (0.30, 0.49)])
def test_normal_incidence_is_the_open_area(ratio, expected):
    # reference sheet B-48: (1 - d/p)^2, given to two digits
    assert screen_transmittance(1.0, 1e-3, ratio * 1e-3) == pytest.approx(expected, abs=1e-12)
    assert screen_transmittance_toward(0, 0, 1, 1e-3, ratio * 1e-3) == pytest.approx(expected)


@pytest.mark.parametrize("theta", [0, 20, 45, 60, 70])
@pytest.mark.parametrize("phi", [0, 17, 45, 90])
@pytest.mark.parametrize("woven", [0.0, 0.4e-3])
def test_mesh_agrees_with_rays_on_explicit_wires(theta, phi, woven):
    t, f = math.radians(theta), math.radians(phi)
    s = (math.sin(t) * math.cos(f), math.sin(t) * math.sin(f), math.cos(t))
    pitch, wire = 2e-3, 0.4e-3
    counted = rays_through_wires(s, pitch, wire, woven)
    # 250 rays a side: each of four shadow edges is placed within half of 1/250 of the pitch
    assert screen_transmittance_toward(*s, pitch, wire) == pytest.approx(counted, abs=0.01)
    if phi in (0, 90):
        assert screen_transmittance(s[2], pitch, wire) == pytest.approx(counted, abs=0.01)


def test_mesh_closes_at_grazing_and_when_wires_touch():
    assert screen_transmittance(0.19, 1e-3, 0.2e-3) == 0.0
    assert screen_transmittance(0.0, 1e-3, 0.2e-3) == 0.0
    assert screen_transmittance(1.0, 1e-3, 1e-3) == 0.0
    assert screen_transmittance_toward(1, 0, 0, 1e-3, 0.2e-3) == 0.0
    assert screen_transmittance(0.0, 1e-3, 0.0) == 1.0


def test_mesh_arrays_say_the_same():
    rng = np.random.default_rng(5)
    s = rng.normal(size=(300, 3))
    s[0] = (1, 0, 0)
    one_by_one = [screen_transmittance_toward(*map(float, v), 2e-3, 0.5e-3) for v in s]
    np.testing.assert_allclose(screen_transmittances(s, 2e-3, 0.5e-3), one_by_one, atol=1e-14)


def test_diffuse_mesh_agrees_with_random_beams():
    rng = np.random.default_rng(7)
    sine2, phi = rng.random(400_000), rng.random(400_000) * 2 * math.pi
    s = np.stack(
        [np.sqrt(sine2) * np.cos(phi), np.sqrt(sine2) * np.sin(phi), np.sqrt(1 - sine2)], 1
    )
    # standard error of the mean below 4e-4
    assert screen_transmittance_diffuse(2e-3, 0.4e-3) == pytest.approx(
        screen_transmittances(s, 2e-3, 0.4e-3).mean(), abs=1.5e-3
    )


def test_soda_lime_reflects_four_and_a_quarter_per_cent_a_surface():
    # textbook: ((1.52 - 1) / (1.52 + 1))^2 = 4.26 %
    rs, rp, inside = surface_reflectances(1.0, 1.52)
    assert rs == pytest.approx(0.0426, abs=5e-5)
    assert rp == pytest.approx(rs)
    assert inside == 1.0


def test_no_p_reflection_at_brewsters_angle():
    rs, rp, _ = surface_reflectances(math.cos(math.atan(1.52)), 1.52)
    assert rp == pytest.approx(0.0, abs=1e-15)
    # Brewster: refracted beam at right angles to the reflected, rs = ((n^2-1)/(n^2+1))^2
    assert rs == pytest.approx(((1.52**2 - 1) / (1.52**2 + 1)) ** 2, rel=1e-12)


def test_clear_pane_without_absorption_is_the_two_surface_formula():
    # Normal incidence, all reflections: T = 2n/(n^2+1); 0.918 for n = 1.52 (any optics text)
    best = 2 * 1.52 / (1.52**2 + 1)
    assert best == pytest.approx(0.918, abs=5e-4)
    assert internal_transmittance(best, 1.52)[0] == pytest.approx(1.0)
    # Fresnel's own forms: sin^2(i-t)/sin^2(i+t) and tan^2(i-t)/tan^2(i+t); pane (1-r)/(1+r) each
    rs, rp, _ = surface_reflectances(math.cos(math.radians(60)), 1.5)
    i, t = math.radians(60), math.asin(math.sin(math.radians(60)) / 1.5)
    assert rs == pytest.approx((math.sin(i - t) / math.sin(i + t)) ** 2, rel=1e-12)
    assert rp == pytest.approx((math.tan(i - t) / math.tan(i + t)) ** 2, rel=1e-12)
    n15 = 2 * 1.5 / (1.5**2 + 1)
    expected = 0.5 * ((1 - rs) / (1 + rs) + (1 - rp) / (1 + rp))
    assert sheet_transmittance(0.5, n15, 1.5) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("t0", [0.0, 1e-6, 0.02, 0.5, 0.88, 0.91, 0.93, 0.99])
@pytest.mark.parametrize("n", [1.0, 1.33, 1.49, 1.52, 1.586])
def test_normal_incidence_gives_back_the_measured_value(t0, n):
    assert sheet_transmittance(1.0, t0, n) == pytest.approx(t0, rel=1e-12)


@pytest.mark.parametrize("cosine", [1.0, 0.8, 0.3, 0.05])
def test_index_one_only_absorbs(cosine):
    assert sheet_transmittance(cosine, 0.7, 1.0) == pytest.approx(0.7 ** (1 / cosine), rel=1e-12)
    assert sheet_reflectance(cosine, 0.7, 1.0) == pytest.approx(0.0, abs=1e-15)


def test_transmittance_falls_to_nothing_at_grazing():
    angles = np.radians(np.linspace(0, 90, 181))
    passed = [sheet_transmittance(math.cos(a), 0.85, 1.52) for a in angles]
    assert np.all(np.diff(passed) <= 1e-12)
    assert sheet_transmittance(0.0, 0.85, 1.52) == 0.0
    assert sheet_transmittance(1e-6, 0.85, 1.52) < 1e-4


@pytest.mark.parametrize("cosine", [1.0, 0.6, 0.2, 0.01])
@pytest.mark.parametrize("t0", [0.0, 0.3, 0.9, 0.95])
def test_nothing_is_gained(cosine, t0):
    sum_ = sheet_transmittance(cosine, t0, 1.52) + sheet_reflectance(cosine, t0, 1.52)
    assert sum_ <= 1.0 + 1e-12
    if t0 >= 0.918:  # clear: nothing is lost either
        assert sum_ == pytest.approx(1.0, abs=1e-12)


def test_reflections_traced_one_by_one_add_up():
    c, n, t0 = 0.45, 1.52, 0.6
    a0, _ = internal_transmittance(t0, n)
    rs, rp, inside = surface_reflectances(c, n)
    a = a0 ** (1 / inside)
    passed = back = 0.0
    for r in (rs, rp):
        back += r / 2
        carried = (1 - r) * a / 2
        for bounce in range(60):
            if bounce % 2 == 0:
                passed += carried * (1 - r)
            else:
                back += carried * (1 - r)
            carried *= r * a
    assert sheet_transmittance(c, t0, n) == pytest.approx(passed, rel=1e-12)
    assert sheet_reflectance(c, t0, n) == pytest.approx(back, rel=1e-12)


def test_sheet_arrays_say_the_same():
    cosines, t0 = np.linspace(-1, 1, 41), np.array([0.0, 0.02, 0.5, 0.9, 0.97])
    table = sheet_transmittances(cosines, t0, 1.52)
    assert table.shape == (41, 5)
    alone = [[sheet_transmittance(float(c), float(t), 1.52) for t in t0] for c in cosines]
    np.testing.assert_allclose(table, alone, atol=1e-14)


def test_diffuse_light_through_clear_glass():
    # Hemispherical reflectance of a lossless pane n = 1.5 by quadrature on a fine angular grid;
    # the mean of a smooth function, so 1e-4 is the grid's own error.
    angle = (np.arange(20_000) + 0.5) / 20_000 * math.pi / 2
    t0 = 2 * 1.5 / (1.5**2 + 1)
    passed = sheet_transmittances(np.cos(angle), np.array([t0]), 1.5)[:, 0]
    mean = np.sum(passed * np.sin(2 * angle)) * (math.pi / 2 / 20_000)
    assert sheet_transmittance_diffuse(t0, 1.5) == pytest.approx(mean, abs=1e-4)
    assert sheet_transmittance_diffuse(t0, 1.5) < t0


@pytest.mark.slow
def test_scalar_forms_compile():
    numba = pytest.importorskip("numba")
    screen = numba.njit(screen_transmittance)
    toward = numba.njit(screen_transmittance_toward)
    assert screen(0.7, 2e-3, 0.4e-3) == screen_transmittance(0.7, 2e-3, 0.4e-3)
    assert toward(0.1, 0.2, 0.7, 2e-3, 0.4e-3) == screen_transmittance_toward(
        0.1, 0.2, 0.7, 2e-3, 0.4e-3
    )
    sheet = numba.njit(sheet_transmittance)
    for t0 in (0.0, 0.7, 0.95):
        assert sheet(0.7, t0, 1.52) == pytest.approx(sheet_transmittance(0.7, t0, 1.52), rel=1e-14)
    fresnel, internal = numba.njit(surface_reflectances), numba.njit(internal_transmittance)
    assert fresnel(0.7, 1.52) == pytest.approx(surface_reflectances(0.7, 1.52))
    assert internal(0.7, 1.52) == pytest.approx(internal_transmittance(0.7, 1.52))
