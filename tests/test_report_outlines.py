"""Cuts and outlines against plane geometry, and labels that keep off each other."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from loamwright.habitat.hardscape import Piece
from loamwright.report import outlines
from loamwright.report.labels import Wish, _crossings, _diagonals, _lines, arrange, overlap
from report_sample import STONE, WOOD, habitat, rock_mesh

ROUND = 2e-3
"""A circle drawn with 72 sides of equal area: what a cut across it can differ by."""


def areas(piece: Piece, axis: str, position: float) -> list[float]:
    closed, left = outlines.cut(outlines.triangles(piece), axis, position)
    assert left == []
    return sorted(outlines.area(ring) for ring in closed)


def test_cut_across_a_branch_is_a_disk_and_along_it_a_strip() -> None:
    branch = Piece("b", "branch", WOOD, (0.1, 0.3, 0.5), (0.9, 0.3, 0.5), 0.06)
    assert areas(branch, "x", 0.4) == [pytest.approx(math.pi * 0.03**2, rel=ROUND)]
    assert areas(branch, "y", 0.3) == [pytest.approx(0.8 * 0.06, rel=ROUND)]
    assert areas(branch, "x", 0.95) == []


def test_cut_across_a_leaning_branch_is_an_ellipse() -> None:
    branch = Piece("b", "branch", WOOD, (0.0, 0.0, 0.0), (1.0, 0.0, 1.0), 0.06)
    assert areas(branch, "x", 0.5) == [pytest.approx(math.pi * 0.03**2 * math.sqrt(2), rel=ROUND)]


def test_cut_across_a_tube_is_a_ring() -> None:
    tube = Piece("t", "tube", WOOD, (0.1, 0.3, 0.5), (0.9, 0.3, 0.5), 0.18, 0.02)
    inner, outer = areas(tube, "x", 0.4)
    assert outer - inner == pytest.approx(math.pi * (0.09**2 - 0.07**2), rel=ROUND)
    # Along its middle: two walls.
    assert areas(tube, "y", 0.3) == [pytest.approx(0.8 * 0.02, rel=0.01)] * 2


def test_cut_of_block_and_rock() -> None:
    block = Piece("s", "block", STONE, at=(0.5, 0.3, 0.2), size=(0.3, 0.2, 0.1))
    assert areas(block, "z", 0.25) == [pytest.approx(0.06)]
    assert areas(block, "z", 0.31) == []
    # A plane in the block's face is pushed off it and leaves no half-open outline.
    assert areas(block, "z", 0.2) == [pytest.approx(0.06)]
    rock = Piece("r", "rock", STONE, at=(0.5, 0.3, 0.2), size=(0.4, 0.2, 0.2))
    assert areas(rock, "z", 0.3) == [pytest.approx(math.pi * 0.2 * 0.1, rel=5e-3)]


def test_cut_of_a_scan_with_a_hole_keeps_its_open_line() -> None:
    solid = outlines.triangles(rock_mesh())
    closed, left = outlines.cut(solid, "z", 0.4)
    assert (len(closed), left) == (1, [])
    broken = np.delete(solid, [len(solid) // 2, len(solid) // 3], axis=0)
    levels = np.linspace(0.3, 0.6, 40)
    assert any(outlines.cut(broken, "z", z)[1] for z in levels)


def test_nothing_to_cut() -> None:
    assert outlines.cut(np.zeros((0, 3, 3)), "x", 0.0) == ([], [])


def test_shadow_of_a_block_is_its_face_and_of_a_mesh_its_silhouette() -> None:
    block = Piece("s", "block", STONE, at=(0.5, 0.3, 0.2), size=(0.3, 0.2, 0.1))
    (face,) = outlines.shadow(block, outlines.triangles(block), "y")
    assert outlines.area(face) == pytest.approx(0.03)
    solid = outlines.triangles(block)
    corners, faces = np.unique(solid.reshape(-1, 3), axis=0, return_inverse=True)
    mesh = Piece(
        "m", "mesh", STONE, vertices=tuple(map(tuple, corners)),
        faces=tuple(map(tuple, faces.reshape(-1, 3).tolist())),
    )  # fmt: skip
    (face,) = outlines.shadow(mesh, outlines.triangles(mesh), "y")
    # Painted on 220 cells along 0.3 m and smoothed: a cell all round is 5 % of the area.
    assert outlines.area(face) == pytest.approx(0.03, rel=0.05)
    assert np.allclose(face.mean(axis=0), (0.5, 0.25), atol=0.01)


def test_hull_of_points_is_convex_and_holds_them() -> None:
    points = np.random.default_rng(3).random((200, 2))
    hull = outlines.hull(points)
    edges = np.roll(hull, -1, axis=0) - hull
    turns = edges[:, 0] * np.roll(edges, -1, axis=0)[:, 1] - edges[:, 1] * np.roll(
        edges, -1, axis=0
    )[:, 0]  # fmt: skip
    assert (turns > 0).all()
    assert outlines.area(hull) > 0.8


def test_crown_is_cut_smaller_away_from_its_middle_and_not_at_all_outside() -> None:
    fig = habitat().plants[0]
    whole = outlines.crown(fig, "y", None)
    near = outlines.crown(fig, "y", 0.5)
    off = outlines.crown(fig, "y", 0.65)
    assert whole is not None
    assert near is not None
    assert off is not None
    assert outlines.area(near) == pytest.approx(outlines.area(whole))
    assert outlines.area(off) < 0.75 * outlines.area(near)
    assert outlines.crown(fig, "y", 0.1) is None
    # The waviness is drawing only: the area stays that of the light engine's ellipsoid.
    _, half = fig.crown
    assert outlines.area(whole) == pytest.approx(math.pi * half[0] * half[2], rel=0.08)
    assert np.array_equal(whole, outlines.crown(fig, "y", None))


def test_labels_do_not_cover_each_other() -> None:
    frame = (0.0, 0.0, 800.0, 600.0)
    wishes = [Wish(90.0, 24.0, (400.0 + 7 * i, 300.0 + 5 * (i % 3))) for i in range(9)]
    boxes = arrange(wishes, [], frame)
    assert all(overlap(a, b) == 0 for a, b in itertools.combinations(boxes, 2))
    assert all(b[0] >= 0 and b[1] >= 0 and b[2] <= 800 and b[3] <= 600 for b in boxes)
    assert boxes == arrange(wishes, [], frame)


def test_an_optional_label_is_left_out_rather_than_laid_over_another() -> None:
    frame = (0.0, 0.0, 300.0, 60.0)
    crowd = [Wish(140.0, 28.0, (150.0, 30.0)) for _ in range(4)]
    extra = Wish(140.0, 28.0, (150.0, 30.0), inside=True, optional=True)
    assert arrange([extra], [], frame)[0] is not None
    boxes = arrange([*crowd, extra], [], frame)
    assert boxes[-1] is None
    assert all(box is not None for box in boxes[:-1])


def test_names_of_what_a_cut_piece_hides_are_left_out() -> None:
    from loamwright.report.section_names import unhidden

    # The middle of the boulder, cut at y = 0.55, lies before the far branch.
    pieces = [("boulder", (0.75, 0.33)), ("old root", (0.75, 0.33)), ("slab", (1.25, 0.26))]
    plants = [("fig", (0.75, 0.33)), ("left bromeliad", (0.75, 0.33))]
    lamps = [("lamp behind", (0.75, 0.33))]
    names = {"LAMPS": lamps, "HARDSCAPE": pieces, "PLANTS": plants}
    seen = unhidden(habitat(), "y", 0.62, names)
    assert [name for name, _ in seen["HARDSCAPE"]] == ["boulder", "slab"]
    assert [name for name, _ in seen["PLANTS"]] == ["fig"]
    assert seen["LAMPS"] == lamps


@pytest.mark.parametrize(("count", "apart", "step"), [(5, 7.0, 5.0), (6, 9.0, 9.0), (8, 9.0, 9.0)])
def test_a_line_to_a_label_runs_under_no_other_label(count, apart, step) -> None:
    """Points in a heap: each label's line keeps off the others' words, and lines do not cross."""
    points = [(100.0 + apart * k, 100.0 + step * (k % 2)) for k in range(count)]
    wishes = [Wish(42.0, 16.0, p, clear=9.0) for p in points]
    taken = [(x - 5, y - 5, x + 5, y + 5) for x, y in points]
    boxes = np.array(arrange(wishes, taken, (0.0, 0.0, 300.0, 300.0)))
    lines = [_lines(box[None], np.array(p))[0] for box, p in zip(boxes, points, strict=True)]
    for k, line in enumerate(lines):
        others = np.array([b for j, b in enumerate(boxes) if j != k])
        assert _crossings(line[None], _diagonals(others))[0] == 0, k
        assert _crossings(line[None], np.array([o for j, o in enumerate(lines) if j != k]))[0] == 0
