"""Slopes, terraces and doses: volumes against closed forms and against meshes cut by trimesh."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from loamwright import workflow
from loamwright.engine.ground import quantities as q
from loamwright.engine.ground.displaced import centre_of, clipped, piece_below, piece_under
from loamwright.engine.ground.findings import loose_depth
from loamwright.engine.ground.study import setting_of
from loamwright.engine.ground.weather import DayOfGround
from loamwright.engine.unlit import bare
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.hardscape import Piece
from loamwright.report.ground_charts import _profiles

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"
WIDE = (-9.0, 9.0, -9.0, 9.0)


def made(ground, more=""):
    text = (
        "name: Small\nenclosure:\n  inside: {width: 60 cm, depth: 45 cm, height: 90 cm}\n"
        f"ground: [{{kind: drainage-mat}}, {{name: mix, kind: mix, depth: 12 cm, {ground}}}]\n"
        f"animals: [{{species: phelsuma-grandis, males: 1}}]\n{more}"
    )
    return read_habitat_text(text, Path("small.yaml"))


def mix_of(habitat):
    return next(x for x in q.ground_quantities(habitat).layers if x.name == "mix")


def piece(shape, **more):
    material = read_habitat(EXAMPLES / "rain-glass.yaml").hardscape[0].material
    return Piece("p", shape, material, **more)


def test_a_slope_changes_no_volume_but_its_edges():
    plain, sloped = mix_of(made("")), mix_of(made("slope: {high: back, rise: 8 cm}"))
    assert sloped.volume == pytest.approx(plain.volume, rel=1e-12)
    assert sloped.volume == pytest.approx(0.60 * 0.45 * 0.12)
    assert (sloped.least, sloped.most) == (pytest.approx(0.08), pytest.approx(0.16))
    # The middle of a wedge's volume: rise x depth / 12 over the mean depth behind the middle.
    assert sloped.centre[1] == pytest.approx(0.225 + 0.08 * 0.45 / 12 / 0.12)
    assert sloped.centre[0] == pytest.approx(0.30)


@pytest.mark.parametrize(
    ("high", "x", "y"), [("right", 0.6, 0.2), ("left", 0.0, 0.2), ("front", 0.3, 0.0)]
)
def test_it_rises_to_the_side_that_is_named(high, x, y):
    layer = made(f"slope: {{high: {high}, rise: 8 cm}}").ground.layers[1]
    assert layer.depth_at(x, y) == pytest.approx(0.16)


def test_terraces_add_what_they_cover():
    steps = ("terraces: [{from: [0 cm, 25 cm], to: [30 cm, 45 cm], rise: 10 cm}, "
             "{from: [0 cm, 35 cm], to: [20 cm, 45 cm], rise: 5 cm}]")  # fmt: skip
    found = mix_of(made(steps))
    more = 0.30 * 0.20 * 0.10 + 0.20 * 0.10 * 0.05
    assert found.volume == pytest.approx(0.60 * 0.45 * 0.12 + more)
    assert (found.least, found.most) == (pytest.approx(0.12), pytest.approx(0.27))
    ground = made(steps).ground
    assert loose_depth(ground, 0.10, 0.40) == pytest.approx(0.27)
    assert loose_depth(ground, 0.25, 0.30) == pytest.approx(0.22)
    assert loose_depth(ground, 0.50, 0.10) == pytest.approx(0.12)
    # Light and climate see it level at its mean, and the column of water is as deep.
    assert ground.depth == pytest.approx(0.02 + found.depth)
    assert found.depth == pytest.approx(found.volume / (0.60 * 0.45))


def test_terraces_end_at_the_linings():
    habitat = read_habitat_text(
        "name: Small\nenclosure:\n  inside: {width: 60 cm, depth: 45 cm, height: 90 cm}\n"
        "  lining: [{name: wall, panel: back, material: cork-tile, thickness: 5 cm}]\n"
        "ground: [{name: mix, kind: mix, depth: 12 cm, "
        "terraces: [{from: [0 cm, 30 cm], to: [60 cm, 45 cm], rise: 10 cm}]}]\n"
        "animals: [{species: phelsuma-grandis, males: 1}]\n",
        Path("small.yaml"),
    )
    assert mix_of(habitat).volume == pytest.approx(0.60 * 0.40 * 0.12 + 0.60 * 0.10 * 0.10)


def tilted():
    solid = trimesh.creation.icosphere(subdivisions=2, radius=0.12)
    solid.apply_transform(trimesh.transformations.rotation_matrix(0.7, [1, 2, 0.5]))
    solid.apply_translation([0.3, 0.2, 0.08])
    faces = tuple(tuple(int(i) for i in f) for f in solid.faces)
    points = tuple(tuple(float(x) for x in v) for v in solid.vertices)
    return solid, piece("mesh", vertices=points, faces=faces)


@pytest.mark.parametrize("plane", [(0.05, 0.2, -0.3), (0.10, 0.0, 0.4), (-0.02, 0.5, 0.1)])
@pytest.mark.parametrize("rect", [WIDE, (0.25, 0.36, 0.12, 0.9), (0.31, 0.9, -0.9, 0.19)])
def test_a_mesh_is_cut_by_slopes_and_terraces_as_trimesh_cuts_it(plane, rect):
    solid, mine = tilted()
    height, along_x, along_y = plane
    left, right, front, back = rect
    theirs = solid
    for normal, origin in (
        ([along_x, along_y, -1.0], [0.0, 0.0, height]),
        ([1.0, 0, 0], [left, 0, 0]), ([-1.0, 0, 0], [right, 0, 0]),
        ([0, 1.0, 0], [0, front, 0]), ([0, -1.0, 0], [0, back, 0]),
    ):  # fmt: skip
        # A ball is convex, and so is what is left of it: its corners tell its volume.
        points, _, _ = trimesh.intersections.slice_faces_plane(
            theirs.vertices, theirs.faces, plane_normal=normal, plane_origin=origin
        )
        if len(points) < 4:
            theirs = None
            break
        theirs = trimesh.convex.convex_hull(points)
    volume = theirs.volume if theirs is not None else 0.0
    assert piece_under(mine, plane, rect) == pytest.approx(volume, rel=1e-6, abs=1e-12)


def test_closed_forms_under_a_slope():
    # A block 20 x 10 cm on the floor, under a face that rises from 5 to 15 cm along it.
    block = piece("block", at=(0.1, 0.05, 0.0), size=(0.2, 0.1, 0.3))
    assert piece_under(block, (0.05, 0.5, 0.0), WIDE) == pytest.approx(0.2 * 0.1 * 0.10)
    # Half of it lies within the rectangle, where the face is 5 to 10 cm high.
    half = piece_under(block, (0.05, 0.5, 0.0), (0.0, 0.1, -1.0, 1.0))
    assert half == pytest.approx(0.1 * 0.1 * 0.075)
    # An upright rod: area times the face's height at its axis.
    rod = piece("branch", start=(0.3, 0.2, 0.0), end=(0.3, 0.2, 0.5), diameter=0.08)
    assert piece_under(rod, (0.02, 0.3, 0.2), WIDE) == pytest.approx(
        math.pi * 0.04**2 * (0.02 + 0.09 + 0.04)
    )
    # A plane through a ball's middle halves it, however it is tilted.
    ball = piece("rock", at=(0.2, 0.1, 0.0), size=(0.12, 0.12, 0.12))
    through = 0.06 - 0.7 * 0.2 + 0.4 * 0.1
    assert piece_under(ball, (through, 0.7, -0.4), WIDE) == pytest.approx(
        0.5 * 4 / 3 * math.pi * 0.06**3, rel=1e-6
    )


@pytest.mark.parametrize("shape", ["mesh", "rock", "block", "branch"])
def test_a_level_face_in_parts_takes_as_much_as_in_one(shape):
    made_of = {
        "mesh": tilted()[1],
        "rock": piece("rock", at=(0.2, 0.1, 0.0), size=(0.12, 0.1, 0.08)),
        "block": piece("block", at=(0.2, 0.1, 0.0), size=(0.12, 0.1, 0.08)),
        "branch": piece("branch", start=(0, 0, 0.1), end=(0.4, 0.3, 0.05), diameter=0.08),
    }[shape]
    edges = [-9.0, 0.11, 0.22, 0.31, 9.0]
    parts = sum(
        piece_under(made_of, (0.06, 0.0, 0.0), (a, b, c, d))
        for a, b in itertools.pairwise(edges)
        for c, d in itertools.pairwise(edges)
    )
    assert parts == pytest.approx(piece_below(made_of, 0.06), rel=2e-3)


def test_cut_triangles_lie_within():
    solid, _ = tilted()
    rect = (0.25, 0.36, 0.12, 0.22)
    cut = clipped(np.array(solid.triangles), rect)
    assert len(cut)
    assert cut[:, :, 0].min() >= rect[0] - 1e-12
    assert cut[:, :, 0].max() <= rect[1] + 1e-12
    assert cut[:, :, 1].min() >= rect[2] - 1e-12
    assert cut[:, :, 1].max() <= rect[3] + 1e-12


def test_pieces_are_taken_off_sloped_layers():
    rock = ("hardscape: [{name: r, shape: block, at: [30 cm, 30 cm, 2 cm], "
            "size: [20 cm, 20 cm, 60 cm], material: sandstone}]\n")  # fmt: skip
    bare, with_rock = (mix_of(made("slope: {high: back, rise: 9 cm}", m)) for m in ("", rock))
    # The block goes through the layer: its foot's area times the mean depth over it.
    over = 0.12 + 0.09 / 0.45 * (0.30 - 0.225)
    assert bare.volume - with_rock.volume == pytest.approx(0.20 * 0.20 * over)
    assert with_rock.displaced == pytest.approx(0.20 * 0.20 * over)


def test_doses_are_of_new_ground_as_it_is_mixed():
    more = "existing: [{name: old, ground: 20 L}]\n"
    doses = "additions: [{what: lime, dose: 2 g/L}, {what: charcoal, dose: 5 %}]"
    plain = mix_of(made(doses))
    settled = plain.depth / plain.loose
    lime, charcoal = plain.doses
    assert (lime.what, lime.unit) == ("lime", "kg")
    assert lime.amount == pytest.approx(2.0 * plain.volume / settled)
    assert charcoal.amount == pytest.approx(0.05 * plain.volume / settled)
    reused = mix_of(made(doses + ", reuse: [{from: old, share: 40 %}]", more))
    assert reused.doses[0].amount == pytest.approx(0.6 * lime.amount)
    assert plain.dry - mix_of(made("")).dry == pytest.approx(lime.amount)
    pound = mix_of(made("additions: [{what: lime, dose: 1/16 oz/qt_dry}]"))
    assert pound.doses[0].amount == pytest.approx(
        0.028349523125 / 16 / q.QUART * pound.volume / settled
    )


def test_the_load_leans_to_where_the_ground_is_deep():
    level = q.ground_quantities(made("")).load
    right = q.ground_quantities(made("slope: {high: right, rise: 20 cm}")).load
    assert right.total == pytest.approx(level.total, rel=1e-9)
    assert level.centre[0] == pytest.approx(0.30)
    mix = mix_of(made("slope: {high: right, rise: 20 cm}"))
    moved = mix.moist * 0.20 * 0.60 / 12 / 0.12 / right.total
    assert right.centre[0] - level.centre[0] == pytest.approx(moved)
    assert right.corner[0].endswith("right")
    # Levers: the four corners carry all of it.
    x, y = right.centre[0] / 0.60, right.centre[1] / 0.45
    assert right.corner[1] == pytest.approx(right.total * max(x, 1 - x) * max(y, 1 - y))


def test_the_middle_of_a_piece_is_that_of_its_volume():
    solid, mine = tilted()
    assert centre_of(mine) == pytest.approx(tuple(solid.center_mass[:2]), abs=1e-9)
    rod = piece("branch", start=(0.1, 0.2, 0.0), end=(0.5, 0.3, 0.4), diameter=0.05)
    assert centre_of(rod) == pytest.approx((0.3, 0.25), abs=1e-9)


def test_water_reaches_the_ground_where_the_drainage_is_shallowest():
    still = DayOfGround(np.zeros(24), np.zeros(24), np.zeros(24), 0.8, 0.0, 0.0)
    text = ("name: Small\nenclosure:\n  inside: {width: 60 cm, depth: 45 cm, height: 90 cm}\n"
            "ground: [{kind: gravel, depth: 5 cm, slope: {high: back, rise: 4 cm}}, "
            "{kind: mix, depth: 12 cm}]\n"
            "animals: [{species: phelsuma-grandis, males: 1}]\n")  # fmt: skip
    setting = setting_of(read_habitat_text(text, Path("small.yaml")), still, still)
    assert setting.drainage == pytest.approx(0.05)
    assert setting.brim == pytest.approx(0.03)


def test_the_column_is_drawn_along_the_slope():
    _, faces, told = _profiles(made("slope: {high: back, rise: 8 cm}"))
    assert told == "front to back"
    assert (faces[-1][0], faces[-1][-1]) == (
        pytest.approx(0.10, abs=1e-5),
        pytest.approx(0.18, abs=1e-5),
    )
    _, faces, told = _profiles(made("slope: {high: left, rise: 8 cm}"))
    assert told == "left to right"
    assert faces[-1][0] > faces[-1][-1]
    assert _profiles(made(""))[2] == ""


def test_light_is_not_studied_anew_for_what_no_ray_meets():
    one, other = made("additions: [{what: lime, dose: 2 g/L}]"), made("")
    assert bare(one) == bare(other)
    assert bare(replace(one, ground=other.ground)) == bare(other)


def test_old_ground_of_a_known_mix_is_blended_as_what_it_is():
    parts = "parts: {coir: 4, composted-bark: 3, sand: 1}"
    old = "existing: [{name: old, ground: 20 L, mix: arid}]\n"
    half = ", reuse: [{from: old, share: 50 %}]"
    plain = mix_of(made(parts)).blend
    mixed = mix_of(made(parts + half, old)).blend
    whole = mix_of(made("mix: arid")).blend
    # Sandy old ground makes it heavier, and hold less air.
    assert plain.dry_density[1] < mixed.dry_density[1] < whole.dry_density[1]
    assert whole.porosity[1] < mixed.porosity[1] < plain.porosity[1]
    unknown = mix_of(made(parts + half, old.replace(", mix: arid", "")))
    assert unknown.blend.dry_density == plain.dry_density
    layer = made(parts + half, old).ground.layers[1]
    assert sum(share for _, share in layer.old) == pytest.approx(0.5)
    all_old = made(parts + ", reuse: [{from: old, share: 100 %}]", old.replace("20 L", "60 L"))
    assert mix_of(all_old).buy == ()
    assert mix_of(all_old).dry == pytest.approx(mix_of(made("mix: arid")).dry, rel=0.02)
