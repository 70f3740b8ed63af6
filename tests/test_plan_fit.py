"""What pieces touch, what runs into what, and whether lamps find room: against plain geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bad_case import METRIC
from loamwright import workflow
from loamwright.engine.lamp_bodies import depth_of, spot_depth
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.files.starter import starter
from loamwright.plan import contacts
from loamwright.plan.contacts import cloud_of, contacts_of, distance_to, overlaps_of
from loamwright.plan.fit import fit_findings, fit_of
from loamwright.plan.lamp_room import rooms_of
from loamwright.report.advice import steps
from loamwright.report.words import word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


def read(*pieces: str, lamps: tuple[str, ...] = (), box: str = METRIC):
    """A box 60 x 45 x 90 cm with 10 cm of ground, and what is put into it."""
    text = box
    if pieces:
        text += "hardscape:\n" + "".join(f"  - {{{p}}}\n" for p in pieces)
    if lamps:
        text += "lamps:\n" + "".join(f"  - {{{x}}}\n" for x in lamps)
    return read_habitat_text(text, Path("habitat.yaml"))


def branch(name: str, start: str, end: str, thick: str = "4 cm", shape: str = "branch") -> str:
    wall = ", wall: 1 cm" if shape == "tube" else ""
    return f"name: {name}, shape: {shape}, from: [{start}], to: [{end}], diameter: {thick}{wall}"


def of(habitat, name: str):
    return next(c for c in contacts_of(habitat) if c.name == name)


BETWEEN = branch("level", "2 cm, 20 cm, 50 cm", "58 cm, 20 cm, 50 cm")
ALONE = branch("alone", "15 cm, 20 cm, 50 cm", "45 cm, 20 cm, 50 cm")
POST = branch("post", "30 cm, 20 cm, 0 cm", "30 cm, 20 cm, 48 cm")


def test_the_box_is_as_it_is_said_here():
    habitat = read()
    assert habitat.enclosure.inside == pytest.approx((0.6, 0.45, 0.9))
    assert habitat.ground.depth == pytest.approx(0.10)


def test_a_branch_from_wall_to_wall_is_held_at_both_ends():
    habitat = read(BETWEEN.replace("2 cm, 20", "1 cm, 20").replace("58 cm", "59 cm"))
    level = of(habitat, "level")
    assert [(t.what, t.kind) for t in level.touches] == [("left", "wall"), ("right", "wall")]
    assert (level.places, level.needs) == (2, 2)
    assert level.length == pytest.approx(0.58)
    ends = {t.what: (t.first, t.last) for t in level.touches}
    assert ends["left"][0] == 0.0
    assert ends["left"][1] < 0.05
    assert ends["right"][1] == 1.0


def test_a_branch_in_the_air_is_held_by_nothing_and_the_nearest_thing_is_told():
    alone = of(read(ALONE), "alone")
    assert (alone.places, alone.needs, alone.touches) == (0, 1, ())
    assert alone.nearest in ("left", "right")
    assert alone.gap == pytest.approx(0.15, abs=1e-6)
    (found,) = [f for f in fit_findings(fit_of(read(ALONE))) if f.need == "piece-held"]
    assert (str(found.state), found.site) == ("missed", "alone")
    told = word(found, read(ALONE), "metric").why
    assert "15 cm away" in told
    assert "move an end of" in steps(found, read(ALONE))[0].text


def test_two_that_lean_on_each_other_in_the_air_hold_nothing():
    crossed = branch("crossed", "30 cm, 10 cm, 54 cm", "30 cm, 35 cm, 54 cm")
    both = read(ALONE, crossed)
    assert [(c.name, c.places) for c in contacts_of(both)] == [("alone", 0), ("crossed", 0)]
    # With a post under the one, both are held: the other by the one.
    three = read(ALONE, crossed, POST)
    assert of(three, "alone").places == 1
    assert of(three, "crossed").places == 1
    assert [t.what for t in of(three, "crossed").touches] == ["alone"]


def test_a_post_deep_in_the_ground_is_held_there_and_one_that_stands_on_it_is_not():
    post = of(read(POST), "post")
    assert [t.what for t in post.touches] == ["the ground", "the hard floor"]
    assert post.places == 2
    assert next(t for t in post.touches if t.kind == "ground").last == pytest.approx(0.25, abs=0.03)
    stands = of(read(POST.replace("20 cm, 0 cm", "20 cm, 10 cm")), "post")
    assert (stands.places, stands.needs) == (1, 2)


def test_a_front_that_opens_holds_nothing_and_a_shut_one_does():
    to_front = branch("rod", "30 cm, 1 cm, 50 cm", "30 cm, 25 cm, 50 cm")
    shut = read(
        to_front, box=METRIC.replace("  inside:", "  panels: {front: {doors: 0}}\n  inside:")
    )
    doors = read_habitat_text(
        (METRIC + f"hardscape:\n  - {{{to_front}}}\n").replace(
            "  inside:", "  panels: {front: {doors: 2}}\n  inside:", 1
        ),
        Path("h.yaml"),
    )
    assert doors.enclosure.panel("front").doors == 2
    assert of(shut, "rod").places == 1
    assert of(doors, "rod").places == 0


@pytest.mark.parametrize("apart", [0.030, 0.045, 0.060])
def test_gaps_of_crossing_branches_are_those_of_their_axes(apart: float):
    """Two cylinders that cross at right angles: their distance is that of the axes less both radii."""
    over = 100.0 * (0.50 + apart)
    habitat = read(ALONE, branch("over", f"30 cm, 10 cm, {over} cm", f"30 cm, 35 cm, {over} cm"))
    one, other = habitat.hardscape
    told = min(
        distance_to(other, cloud_of(one)[0]).min(), distance_to(one, cloud_of(other)[0]).min()
    )
    assert told == pytest.approx(max(apart - 0.04, -0.02), abs=2e-3)
    found = overlaps_of(habitat)
    assert bool(found) == (apart < 0.030 + 1e-9 and -told > 0.01)


def test_one_place_for_two_pieces_is_missed_and_a_notch_is_not():
    through = read(ALONE, branch("through", "30 cm, 10 cm, 50 cm", "30 cm, 35 cm, 50 cm"))
    (overlap,) = overlaps_of(through)
    assert (overlap.name, overlap.other) == ("alone", "through")
    assert overlap.allowed == pytest.approx(0.01)
    assert overlap.depth == pytest.approx(0.02, abs=2e-3)
    states = {f.need: str(f.state) for f in fit_findings(fit_of(through))}
    assert states["piece-overlap"] == "missed"
    notched = read(ALONE, branch("over", "30 cm, 10 cm, 53.2 cm", "30 cm, 35 cm, 53.2 cm"))
    assert overlaps_of(notched) == ()
    assert str(
        next(f for f in fit_findings(fit_of(notched)) if f.need == "piece-overlap").state
    ) == ("met")


def test_a_piece_drawn_twice_is_in_one_place():
    twice = read(ALONE, ALONE.replace("alone", "twin"))
    (overlap,) = overlaps_of(twice)
    assert overlap.depth == pytest.approx(0.02)


def test_what_lies_in_a_tube_is_not_in_its_wall():
    tube = branch("pipe", "10 cm, 20 cm, 50 cm", "50 cm, 20 cm, 50 cm", "12 cm", "tube")
    assert (
        overlaps_of(read(tube, branch("thin", "15 cm, 20 cm, 50 cm", "45 cm, 20 cm, 50 cm"))) == ()
    )
    across = branch("across", "30 cm, 10 cm, 50 cm", "30 cm, 30 cm, 50 cm", "3 cm")
    assert [o.other for o in overlaps_of(read(tube, across))] == ["across"]


def test_distances_to_solids_are_those_of_geometry():
    """Against the ball (a rock of three equal sides), the box and the cylinder."""
    rock, block = read(
        "name: rock, shape: rock, at: [30 cm, 20 cm, 10 cm], size: [20 cm, 20 cm, 20 cm]",
        "name: block, shape: block, at: [10 cm, 20 cm, 10 cm], size: [10 cm, 12 cm, 6 cm]",
    ).hardscape
    rng = np.random.default_rng(7)
    points = rng.uniform(0.0, 0.6, (400, 3))
    ball = np.linalg.norm(points - np.array([0.30, 0.20, 0.20]), axis=1) - 0.10
    assert distance_to(rock, points) == pytest.approx(ball, abs=1e-12)
    nearest = np.clip(points, [0.05, 0.14, 0.10], [0.15, 0.26, 0.16])
    outside = np.linalg.norm(points - nearest, axis=1)
    told = distance_to(block, points)
    assert told[outside > 0.0] == pytest.approx(outside[outside > 0.0], abs=1e-12)
    assert (told[outside == 0.0] <= 0.0).all()
    for piece in (rock, block):
        *surface, middle = distance_to(piece, cloud_of(piece)[0])
        assert np.abs(surface).max() < 1e-9
        assert middle == pytest.approx(-0.5 * min(piece.size))
    (post,) = read(POST).hardscape
    away = distance_to(post, np.array([[0.30, 0.27, 0.24], [0.30, 0.20, 0.53], [0.37, 0.20, 0.53]]))
    assert away == pytest.approx([0.05, 0.05, math.hypot(0.05, 0.05)])


# -- lamps ---------------------------------------------------------------------------------------

FLOOD = "name: flood, type: halogen-flood-50w, at: [30 cm, 20 cm, HIGH cm], aim: down"


def test_a_lamp_wants_room_for_its_body_under_the_top():
    low = read(lamps=(FLOOD.replace("HIGH", "70"),))
    (lamp,) = low.lamps
    assert depth_of(lamp) == spot_depth(lamp.type.diameter) == pytest.approx(0.05 + 1.3 * 0.064)
    (room,) = rooms_of(low)
    assert (room.nearest, room.cover) == ("top", "")
    assert room.gap == pytest.approx(0.20 - depth_of(lamp))
    (high,) = rooms_of(read(lamps=(FLOOD.replace("HIGH", "86"),)))
    assert high.gap == pytest.approx(0.04 - depth_of(lamp))
    finding = fit_findings(fit_of(read(lamps=(FLOOD.replace("HIGH", "86"),))))[-1]
    assert (finding.need, str(finding.state)) == ("lamp-room", "missed")


def test_through_an_open_hole_a_lamp_may_hang_and_mesh_would_be_cut():
    hole = (
        "  openings: [{name: hatch, panel: top, at: [30 cm, 20 cm], size: [20 cm, 20 cm], "
        "cover: X}]\n"
    )
    text = METRIC.replace("  inside:", hole + "  inside:", 1)
    assert text != METRIC
    mesh = read(lamps=(FLOOD.replace("HIGH", "86"),), box=text.replace("X", "steel-mesh-12mm"))
    (room,) = rooms_of(mesh)
    assert (room.nearest, room.cover) == ("top", "hatch")
    assert room.gap < 0.0
    told = fit_findings(fit_of(mesh))[-1]
    assert any(c.kind == "cuts_cover" for c in told.causes)
    (free,) = rooms_of(read(lamps=(FLOOD.replace("HIGH", "86"),), box=text.replace("X", "open")))
    assert free.nearest != "top"
    assert free.gap > 0.0


def test_two_lamps_in_one_place_are_told_whatever_their_order():
    bars = [f"name: bar {n}, type: led-bar-20w, at: [30 cm, {y} cm, 80 cm], along: x, aim: down"
            for n, y in ((1, 20), (2, 21))]  # fmt: skip
    one, other = rooms_of(read(lamps=tuple(bars)))
    width = load_catalogue().lamps["led-bar-20w"].width
    assert one.gap == other.gap == pytest.approx(0.01 - width)
    assert (one.nearest, other.nearest) == ("bar 2", "bar 1")
    apart = rooms_of(read(lamps=(bars[0], bars[1].replace("21 cm", "30 cm"))))
    assert all(r.gap >= 0.0 for r in apart)


# -- what is shipped -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_what_the_examples_draw_can_be_built(name: str):
    fit = fit_of(read_habitat(FOLDER / f"{name}.yaml"))
    assert [c.name for c in fit.contacts if c.places < c.needs] == []
    assert fit.overlaps == ()
    assert [r.name for r in fit.lamps if r.gap < 0.0] == []


@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_starters_draw_can_be_built(units: str):
    for animal in sorted(load_catalogue().animals)[:: 1 if units == "metric" else 7]:
        text = starter("first", size=None, animal=animal, units=units)
        fit = fit_of(read_habitat_text(text, Path("first.yaml")))
        assert [c.name for c in fit.contacts if c.places < c.needs] == [], animal
        assert fit.overlaps == (), animal
        assert [r.name for r in fit.lamps if r.gap < -1e-3] == [], animal


def test_a_scan_is_thinned_and_still_touches():
    rock = read_habitat(FOLDER / "dry-rock.yaml")
    outcrop = next(p for p in rock.hardscape if p.shape == "mesh")
    many = replace(outcrop, vertices=outcrop.vertices * 40)
    assert len(cloud_of(many)[0]) <= 2 * contacts.MOST_POINTS
    assert {t.what for t in of(rock, "basking slab").touches} == {"outcrop"}
