"""The light engine against closed forms (Howell's catalogue, Keitz, enclosure theory, Beer-Lambert)."""

from __future__ import annotations

import numpy as np
import pytest

from loamwright.engine import shapes
from loamwright.engine.light.balance import flux_balance
from loamwright.engine.light.directions import spread
from loamwright.engine.light.emitters import emitted_rays
from loamwright.engine.light.model import LightModel
from loamwright.engine.lower import _SheetList
from loamwright.engine.scene import Canopies
from loamwright.physics import radiation
from scenes import far_floor, lamp, lamp_type, mesh_cover, room, scene

PAR = 2
UP = np.array([[0.0, 0.0, 1.0]])


def straight(kind, at, points, normals=None, **place) -> np.ndarray:
    """Irradiance per watt at points under one lamp with nothing in the way."""
    model = LightModel(scene([far_floor()]), [lamp(kind, at, **place)])
    points = np.atleast_2d(np.array(points, float))
    normals = np.tile(UP, (len(points), 1)) if normals is None else np.atleast_2d(normals)
    return model.sensors(points, normals).sensors.straight(model.emitters[0])[:, PAR]


# Tolerance of every view factor: half a per cent, what the design asks of the engine.
HALF_PER_CENT = 5e-3


@pytest.mark.parametrize(
    ("length", "d", "x"),
    [(0.55, 0.30, 0.0), (0.55, 0.20, 0.0), (1.0, 0.10, 0.0), (1.0, 5.0, 0.0),
     (0.55, 0.30, 0.10), (0.55, 0.30, 0.275), (0.55, 0.30, 0.40)],
)  # fmt: skip
def test_thin_tube_is_keitz_line(length, d, x):
    # As thin as this a tube is a line; four points round its arc leave 2e-5 of it.
    kind = lamp_type("tube", length=length, diameter=1e-6)
    expected = radiation.line_irradiance(d, length, x)
    assert straight(kind, (0, 0, d), (x, 0, 0))[0] == pytest.approx(expected, rel=5e-5)


@pytest.mark.parametrize(
    ("length", "h", "r"),
    [
        (0.6, 0.3, 0.013),
        (0.55, 0.2, 0.008),
        (1.0, 2.0, 0.5),
        (0.5, 0.05, 0.02),
        (0.075, 0.35, 0.0275),
        (0.075, 0.8, 0.0275),
    ],
)
def test_cylinder_end_position_is_howell_b31(length, h, r):
    kind = lamp_type("tube", length=length, diameter=2 * r)
    # The element stands opposite one end; exitance of one watt is 1/(2 pi r L).
    e = straight(kind, (length / 2, 0, h), (0, 0, 0))[0]
    factor = e * 2 * np.pi * r * length
    assert factor == pytest.approx(
        radiation.element_to_cylinder_end(length, h, r), rel=HALF_PER_CENT
    )


@pytest.mark.parametrize(
    ("a", "b", "c"), [(1.0, 1.0, 1.0), (0.3, 0.2, 0.5), (0.6, 0.3, 0.15), (0.85, 0.016, 0.1)]
)
def test_rectangle_over_its_corner_is_howell_b3(a, b, c):
    kind = lamp_type("bar", length=a, width=b)
    e = straight(kind, (a / 2, b / 2, c), (0, 0, 0))[0]
    expected = radiation.element_to_rectangle_parallel(a, b, c)
    assert e * a * b == pytest.approx(expected, rel=HALF_PER_CENT)


def test_upright_rectangle_is_howell_b4():
    a, b, c = 0.3, 0.2, 0.5
    kind = lamp_type("bar", length=b, width=a)
    e = straight(kind, (b / 2, c, a / 2), (0, 0, 0), aim=(0, -1, 0), along=(1, 0, 0))[0]
    expected = radiation.element_to_rectangle_upright(a, b, c)
    assert e * a * b == pytest.approx(expected, rel=HALF_PER_CENT)


@pytest.mark.parametrize(("r", "h"), [(0.05, 0.25), (0.05, 0.10), (0.10, 0.20)])
def test_lambertian_disk_is_howell_b12(r, h):
    # A beam whose intensity falls as the cosine is Lambertian: half intensity at 60 degrees.
    kind = lamp_type("spot", diameter=2 * r, beam_angle=2 * np.pi / 3)
    e = straight(kind, (0, 0, h), (0, 0, 0))[0]
    assert e * np.pi * r * r == pytest.approx(radiation.element_to_disk(r, h), rel=HALF_PER_CENT)


SHARES = (0.2, 0.4, 0.7, 0.9, 0.0)


def test_a_beam_with_a_wide_part_is_their_sum_in_every_band():
    """Intensity of a point at angle t from its axis: s (n+1)/(2 pi) cos^n t + (1-s) cos t / pi, each
    band with its own share s of the flux in the beam."""
    kind = lamp_type("spot", diameter=1e-6, beam_angle=np.radians(35), beam_share=SHARES)
    height, n = 0.4, radiation.beam_exponent(np.radians(35))
    x = np.array([0.0, 0.05, 0.12, 0.3, 0.9])
    model = LightModel(scene([far_floor()]), [lamp(kind, (0, 0, height))])
    points = np.column_stack([x, 0 * x, 0 * x])
    sensors = model.sensors(points, np.tile(UP, (len(x), 1))).sensors
    cosine = height / np.hypot(height, x)
    share = np.array(SHARES)
    intensity = (
        share * (n + 1) / (2 * np.pi) * cosine[:, None] ** n + (1 - share) * cosine[:, None] / np.pi
    )
    expected = intensity * (cosine / (height**2 + x**2))[:, None]
    # Single precision is kept for the share let through.
    assert sensors.straight(model.emitters[0]) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(("angle", "r", "h"), [(35.0, 0.032, 0.3), (60.0, 0.0475, 0.15)])
def test_disk_with_a_beam_is_its_integral(angle, r, h):
    """Straight ahead of a face that shines evenly: (1 - cos^(n+1)) / area, see `radiation`."""
    kind = lamp_type("spot", diameter=2 * r, beam_angle=np.radians(angle), beam_share=(0.6,) * 5)
    e = straight(kind, (0, 0, h), (0, 0, 0))[0]
    n = radiation.beam_exponent(np.radians(angle))
    expected = 0.6 * radiation.disk_beam_irradiance(h, r, n)
    expected += 0.4 * radiation.disk_beam_irradiance(h, r, 1.0)
    assert e == pytest.approx(expected, rel=HALF_PER_CENT)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.7, 1.0])
def test_a_beam_with_a_wide_part_closes_its_balance(share):
    """All of a watt lands on the walls, and rays followed forward find as much within a cone as the
    two parts hold there: s (1 - cos^(n+1)) + (1-s) sin^2."""
    kind = lamp_type("spot", diameter=0.05, beam_angle=np.radians(35), beam_share=(share,) * 5)
    model = LightModel(scene([room(1.0, 1.0, 1.0, 0.0)]), [lamp(kind, (0.5, 0.45, 0.63))])
    assert model.caught(0) == pytest.approx(1.0, abs=1e-2)
    assert abs(flux_balance(model, 0)) < 1e-2
    assert cone(model.emitters[0], 2) == pytest.approx(cone_expected(share), abs=5e-3)


def cone(emitter, band: int) -> float:
    """Share of a band's rays within 20 degrees; 4096 evenly spread ones count it within 0.5 %."""
    _, ways, shares = emitted_rays(emitter, 4096, spread(4096, 4), band)
    return shares[-ways[:, 2] > np.cos(np.radians(20.0))].sum()


def cone_expected(share: float) -> float:
    """The same of a beam of 35 degrees with a wide part, in closed form."""
    cosine, n = np.cos(np.radians(20.0)), radiation.beam_exponent(np.radians(35))
    return share * (1 - cosine ** (n + 1)) + (1 - share) * (1 - cosine**2)


@pytest.mark.parametrize("band", range(5))
def test_rays_of_a_band_hold_its_own_share_of_the_beam(band):
    kind = lamp_type("spot", diameter=0.05, beam_angle=np.radians(35), beam_share=SHARES)
    emitter = LightModel(scene([far_floor()]), [lamp(kind, (0, 0, 1.0))]).emitters[0]
    assert cone(emitter, band) == pytest.approx(cone_expected(SHARES[band]), abs=5e-3)


@pytest.mark.parametrize("shape", ["tube", "bar", "spot"])
def test_flux_through_a_closed_box_is_one_watt(shape):
    kind = lamp_type(shape, length=0.5, width=0.1, diameter=0.02, beam_angle=1.0)
    model = LightModel(scene([room(1.0, 1.0, 1.0, 0.0)]), [lamp(kind, (0.5, 0.45, 0.63))])
    # Four points a patch: the sum over the walls is good to about one per cent under a beam.
    assert model.caught(0) == pytest.approx(1.0, abs=1e-2)
    assert abs(flux_balance(model, 0)) < 1e-2


@pytest.mark.parametrize("angle", [10.0, 12.0, 35.0, 60.0])
@pytest.mark.parametrize(("x", "height"), [(0.5, 0.2), (0.43, 0.25), (0.46, 0.4), (0.52, 0.8)])
def test_a_narrow_beam_is_caught_whole(angle, x, height):
    """A beam narrower than a patch, over a slab's edge or middle, at any height."""
    slab = shapes.box(np.array([0.35, 0.13, 0.01]), np.array([0.65, 0.37, 0.06]), 0.1)
    kind = lamp_type("spot", diameter=0.064, beam_angle=np.radians(angle))
    parts = [room(1.0, 0.5, 1.0, 0.0), ("slab", 0.2, slab)]
    model = LightModel(scene(parts), [lamp(kind, (x, 0.27, 0.06 + height))])
    # 128 points a struck patch: measured within 1.5 %.
    assert abs(flux_balance(model, 0)) < 0.02


@pytest.mark.parametrize("reflect", [0.2, 0.5, 0.8])
def test_closed_cube_mean_irradiance(reflect):
    """Mean E = flux / (A (1 - reflectance)): every bounce returns the same share (enclosure theory)."""
    kind = lamp_type("tube", length=0.5, diameter=0.016)
    model = LightModel(scene([room(1.0, 1.0, 1.0, reflect)]), [lamp(kind, (0.5, 0.5, 0.6))])
    e = model.patch_light(0)[:, PAR]
    area = model.scene.area
    mean = float(e @ area / area.sum())
    assert mean == pytest.approx(1.0 / (6.0 * (1.0 - reflect)), rel=0.01)


def test_exchange_between_walls_of_a_box_is_howell_c11_and_c14():
    """From the floor of 1.2 x 0.6 x 0.6 m: ceiling 0.285875, long walls 0.240636 each, short walls
    0.116426 each, together 1 (Howell C-11 and C-14)."""
    model = LightModel(scene([room(1.2, 0.6, 0.6, 0.5)]), [])
    s, shares = model.scene, model.exchange.shares[0]
    floor = (s.normal[:, 2] > 0.9) & (s.centre[:, 2] < 1e-6)
    ceiling = s.normal[:, 2] < -0.9
    long_wall = s.normal[:, 1] > 0.9
    short_wall = s.normal[:, 0] > 0.9

    def factor(to):
        rows = shares[np.ix_(floor, to)].sum(axis=1)
        return float(rows @ s.area[floor] / s.area[floor].sum())

    assert factor(ceiling) == pytest.approx(0.285875, rel=HALF_PER_CENT)
    assert factor(long_wall) == pytest.approx(0.240636, rel=HALF_PER_CENT)
    assert factor(short_wall) == pytest.approx(0.116426, rel=1e-2)
    assert shares.sum(axis=1) == pytest.approx(np.ones(s.patches), abs=1e-12)


def test_radiosity_of_a_white_floor_under_a_black_box():
    """Two-surface enclosure: a floor of reflectance r hands r E F(floor->ceiling) to a black
    ceiling's mean irradiance (enclosure theory, one bounce, since the rest is black)."""
    r = 0.6
    box = room(1.0, 1.0, 1.0, 0.0)[2]
    low = (box[:, :, 2] < 1e-9).all(axis=1)
    parts = [("floor", r, box[low]), ("rest", 0.0, box[~low])]
    kind = lamp_type("bar", length=0.5, width=0.5)
    model = LightModel(scene(parts), [lamp(kind, (0.5, 0.5, 0.999))])
    s = model.scene
    ceiling = s.normal[:, 2] < -0.9
    got = float(model.patch_light(0)[ceiling, PAR] @ s.area[ceiling])
    # The floor is lit unevenly: weight each patch's exchange with the ceiling by its own light.
    floor = s.owner == 0
    e = model.patch_straight(0)[floor, PAR]
    expected = 0.0
    for centre, area, light in zip(s.centre[floor], s.area[floor], e, strict=True):
        x, y = centre[0], centre[1]
        f = sum(
            radiation.element_to_rectangle_parallel(a, b, 1.0)
            for a in (x, 1 - x)
            for b in (y, 1 - y)
        )
        expected += r * light * area * f
    assert got == pytest.approx(expected, rel=0.01)


def test_canopy_is_beer_lambert():
    """exp(-k s) with s the chord of the ellipsoid, exactly, for every band's own k."""
    k = np.array([[2.0, 1.5, 1.0, 0.5, 3.0]])
    crowns = Canopies(np.array([[0.0, 0.0, 1.0]]), np.array([[0.3, 0.2, 0.25]]), k, ("crown",))
    kind = lamp_type("spot", diameter=1e-6, beam_angle=2 * np.pi / 3)
    at = (0.0, 0.0, 2.0)
    clear = LightModel(scene([far_floor()]), [lamp(kind, at)])
    dimmed = LightModel(scene([far_floor()], canopies=crowns), [lamp(kind, at)])
    # The first point looks up the axis (chord 0.5), the second misses, the third cuts aslant.
    points = np.array([[0.0, 0, 0], [1.0, 0, 0], [0.2, 0, 0]])
    normals = np.tile(UP, (3, 1))
    a = clear.sensors(points, normals).sensors.straight(clear.emitters[0])
    b = dimmed.sensors(points, normals).sensors.straight(dimmed.emitters[0])
    ray = np.array([-0.2, 0, 2.0]) / np.hypot(0.2, 2.0)
    scaled, origin = (
        ray / [0.3, 0.2, 0.25],
        (np.array([0.2, 0, 0]) - [0, 0, 1.0]) / [0.3, 0.2, 0.25],
    )
    qa, qb, qc = scaled @ scaled, origin @ scaled, origin @ origin - 1
    slant = 2 * np.sqrt(qb * qb - qa * qc) / qa
    for row, chord in enumerate([0.5, 0.0, slant]):
        # Single precision is kept for the share let through.
        assert b[row] / a[row] == pytest.approx(np.exp(-k[0] * chord), rel=1e-5)


def test_sobol_points_are_scipys():
    from scipy.stats import qmc

    from loamwright.engine.light.directions import sobol

    assert np.array_equal(sobol(64), qmc.Sobol(4, scramble=False).random(64))


def test_mesh_dims_straight_light_by_its_open_area():
    """Square on, a mesh lets (1 - d/p)^2 through (opaque wires, geometry)."""
    sheets = _SheetList()
    place = (np.array([-1.0, -1.0, 1.0]), np.array([2.0, 0, 0]), np.array([0, 2.0, 0]))
    sheets.add_mesh(place, mesh_cover(0.006, 0.001), "lid")
    kind = lamp_type("spot", diameter=1e-6, beam_angle=1.0)
    open_model = LightModel(scene([far_floor()]), [lamp(kind, (0, 0, 2))])
    under = LightModel(scene([far_floor()], sheets), [lamp(kind, (0, 0, 2))])
    point = np.zeros((1, 3))
    a = open_model.sensors(point, UP).sensors.straight(open_model.emitters[0])
    b = under.sensors(point, UP).sensors.straight(under.emitters[0])
    assert b[0, PAR] / a[0, PAR] == pytest.approx((5 / 6) ** 2, rel=1e-6)


def test_shadow_of_a_block():
    """Behind a block the lamp is gone; beside it it is whole."""
    block = shapes.box(np.array([-0.1, -0.1, 0.5]), np.array([0.1, 0.1, 0.6]), 0.1)
    kind = lamp_type("spot", diameter=1e-4, beam_angle=2.0)
    model = LightModel(scene([far_floor(), ("block", 0.0, block)]), [lamp(kind, (0, 0, 1.0))])
    points = np.array([[0.0, 0, 0], [0.5, 0, 0]])
    e = model.sensors(points, np.tile(UP, (2, 1))).sensors.straight(model.emitters[0])[:, PAR]
    bare = straight(kind, (0, 0, 1.0), points)
    assert e[0] == 0.0
    assert e[1] == pytest.approx(bare[1], rel=1e-12)


def test_tilted_receiver_follows_the_cosine_law():
    kind = lamp_type("spot", diameter=1e-4, beam_angle=2.0)
    tilt = np.radians(35.0)
    normals = np.array([[0, 0, 1.0], [np.sin(tilt), 0, np.cos(tilt)]])
    e = straight(kind, (0, 0, 3.0), np.zeros((2, 3)), normals)
    assert e[1] / e[0] == pytest.approx(np.cos(tilt), rel=1e-6)


def test_fall_off_exponent_of_a_tube_lies_between_one_and_two():
    """-dlnE/dlnd runs from 1 (near) to 2 (far) without turning back (property of the Keitz form)."""
    kind = lamp_type("tube", length=0.55, diameter=0.001)
    d = np.geomspace(0.01, 10.0, 40)
    e = straight(kind, (0, 0, 0), np.column_stack([0 * d, 0 * d, -d]))
    n = -np.diff(np.log(e)) / np.diff(np.log(d))
    assert (n > 0.99).all()
    assert (n < 2.001).all()
    assert (np.diff(n) > -1e-6).all()


def test_all_round_sensors_agree_with_single_ones():
    """A meter turned up among many directions reads what a meter held up reads."""
    kind = lamp_type("tube", length=0.5, diameter=0.016)
    model = LightModel(scene([room(1.0, 0.8, 0.9, 0.5)]), [lamp(kind, (0.5, 0.4, 0.8))])
    point = np.array([[0.4, 0.3, 0.2]])
    one = model.sensors(point, UP).transport(0)[0, PAR]
    many = model.sensors(point, np.array([[0, 0, 1.0], [1.0, 0, 0]]), all_round=True)
    # Bounced light is sampled by different rays; it is a third of the whole here.
    assert many.transport(0)[0, PAR] == pytest.approx(one, rel=0.01)


def test_moving_and_dimming_a_lamp_is_the_same_as_building_anew():
    kind = lamp_type("tube", length=0.5, diameter=0.016)
    place = scene([room(1.0, 0.8, 0.9, 0.5)])
    first, second = lamp(kind, (0.5, 0.4, 0.8)), lamp(kind, (0.3, 0.4, 0.7))
    model = LightModel(place, [first])
    light = model.sensors(np.array([[0.4, 0.3, 0.2]]), UP)
    before = light.total("ppfd").copy()
    assert model.set_lamp(0, second)
    fresh = LightModel(place, [second]).sensors(np.array([[0.4, 0.3, 0.2]]), UP)
    assert light.total("ppfd") == fresh.total("ppfd")
    assert light.total("ppfd") != before


def test_same_digits_on_one_and_many_cores(monkeypatch):
    kind = lamp_type("tube", length=0.5, diameter=0.016)
    rng = np.random.default_rng(1)
    points = rng.uniform(0.1, 0.7, (3000, 3))
    normals = np.tile(UP, (3000, 1))

    def run() -> bytes:
        model = LightModel(scene([room(1.0, 0.8, 0.9, 0.5)]), [lamp(kind, (0.5, 0.4, 0.8))])
        return model.sensors(points, normals).transport(0).tobytes()

    by_cores = []
    for cores in (1, 2, 7):
        monkeypatch.setattr("loamwright.engine.light.parallel.CORES", cores)
        by_cores.append(run())
    assert by_cores[0] == by_cores[1] == by_cores[2]
