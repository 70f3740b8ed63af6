"""Whether plants find room as they are set: crowns and root balls against plain geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bad_case import METRIC
from loamwright import workflow
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.files.starter import starter
from loamwright.habitat.needs import QUANTITIES
from loamwright.plan import fit
from loamwright.plan.fit import fit_findings, fit_of
from loamwright.plan.plant_room import BALL, BALL_DEEP, _ellipsoid, balls_of, crowns_of
from loamwright.report.advice import steps
from loamwright.report.words import word

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


def read(plant: str, *pieces: str):
    """A box 60 x 45 x 90 cm with 10 cm of ground, one plant, and what stands in it."""
    text = METRIC + f"plants:\n  - {{{plant}}}\n"
    if pieces:
        text += "hardscape:\n" + "".join(f"  - {{{p}}}\n" for p in pieces)
    return read_habitat_text(text, Path("habitat.yaml"))


FIG = "name: fig, species: ficus-benjamina, at: [{} cm, {} cm], height: 40 cm, spread: {} cm"


def states(habitat, need: str) -> list[str]:
    return [str(f.state) for f in fit_findings(fit_of(habitat)) if f.need == need]


def test_points_fill_a_ball_evenly():
    points = _ellipsoid()
    far = np.linalg.norm(points, axis=1)
    assert far.max() <= 1.0
    # Half the radius holds an eighth of the volume, and so does each octant.
    assert (far <= 0.5).mean() == pytest.approx(1 / 8, abs=0.02)
    octants = (points > 0).astype(int) @ np.array([1, 2, 4])
    assert np.bincount(octants) / len(points) == pytest.approx(np.full(8, 1 / 8), abs=0.03)


@pytest.mark.parametrize(("x", "over"), [(15, 0.0), (10, 0.0), (7, 0.03), (4, 0.06)])
def test_a_crown_goes_as_far_into_a_wall_as_it_is_drawn(x: float, over: float):
    habitat = read(FIG.format(x, 20, 20))
    (crown,) = crowns_of(habitat)
    assert crown.over == pytest.approx(over, abs=1e-9)
    assert states(habitat, "crown-wall") == ["missed" if over > fit.CUT * 0.10 else "met"]
    if over > 0.05:
        assert crown.wall == "left"
        (found,) = [f for f in fit_findings(fit_of(habitat)) if f.need == "crown-wall"]
        told = word(found, habitat, "metric")
        assert "the left panel is in its crown" in told.why.lower()
        assert "move plant 'fig' away" in steps(found, habitat)[0].text


def test_the_top_counts_as_a_wall():
    habitat = read(FIG.format(30, 20, 20))
    tall = replace(habitat, plants=(replace(habitat.plants[0], height=0.95),))
    (crown,) = crowns_of(tall)
    # 10 cm of ground and 95 cm of plant under 90 cm.
    assert (crown.wall, crown.over) == ("top", pytest.approx(0.15))


def test_a_piece_takes_its_share_of_a_crown():
    fig = FIG.format(30, 20, 20)
    (free,) = crowns_of(read(fig))
    assert (free.share, free.pieces) == (0.0, ())
    # A block that fills the crown's left half.
    block = "name: wall, shape: block, at: [15 cm, 20 cm, 10 cm], size: [30 cm, 40 cm, 70 cm]"
    (half,) = crowns_of(read(fig, block))
    assert half.share == pytest.approx(0.5, abs=0.04)
    assert half.pieces == ("wall",)
    assert states(read(fig, block), "crown-piece") == ["missed"]
    twig = ("name: twig, shape: branch, from: [5 cm, 20 cm, 35 cm], to: [55 cm, 20 cm, 35 cm], "
            "diameter: 2 cm")  # fmt: skip
    assert states(read(fig, twig), "crown-piece") == ["met"]


def test_what_a_plant_sits_on_does_not_count():
    branch = ("name: limb, shape: branch, from: [5 cm, 20 cm, 50 cm], to: [55 cm, 20 cm, 50 cm], "
              "diameter: 6 cm")  # fmt: skip
    sits = (
        "name: tank, species: neoregelia-carolinae, on: limb, along: 0.5, height: 12 cm, "
        "spread: 12 cm"
    )
    habitat = read(sits, branch)
    (crown,) = crowns_of(habitat)
    assert crown.share == 0.0
    assert balls_of(habitat) == ()


def test_a_root_ball_wants_room_beside_pieces_and_depth():
    fig = FIG.format(30, 20, 30)
    radius = 0.5 * BALL * 0.30
    (ball,) = balls_of(read(fig))
    assert (ball.radius, ball.depth) == pytest.approx((radius, 2 * radius * BALL_DEEP))
    assert ball.loose == pytest.approx(0.10)
    assert (ball.nearest, ball.gap) == ("front", pytest.approx(0.20 - radius))
    for away, state in ((8.0, "met"), (5.5, "missed")):
        post = (f"name: post, shape: branch, from: [{30 + away} cm, 20 cm, 0 cm], to: "
                f"[{30 + away} cm, 20 cm, 40 cm], diameter: 4 cm")  # fmt: skip
        habitat = read(fig, post)
        (ball,) = balls_of(habitat)
        assert ball.nearest == "post"
        assert ball.gap == pytest.approx(0.01 * away - 0.02 - radius, abs=1e-6)
        assert states(habitat, "root-ball") == [state]
    # 45 cm of spread asks for 12 cm of ground, there are 10.
    (found,) = [
        f for f in fit_findings(fit_of(read(FIG.format(30, 22, 45)))) if f.need == "root-ball"
    ]
    assert (str(found.state), found.quantity) == ("missed", "depth")
    assert found.low == pytest.approx(0.45 * BALL * BALL_DEEP)


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_plants_of_the_examples_have_room(name: str):
    habitat = read_habitat(FOLDER / f"{name}.yaml")
    needs = ("crown-wall", "crown-piece", "root-ball", "lamp-carried")
    found = [f for f in fit_findings(fit_of(habitat)) if f.need in needs]
    assert {f.need for f in found} == {"crown-wall", "crown-piece", "root-ball"}
    assert {str(f.state) for f in found} == {"met"}
    # Mosses lie flat and have no crown.
    assert "wall moss" not in [c.name for c in crowns_of(habitat)]


def test_plants_and_carriers_of_starters_have_room():
    for animal in sorted(load_catalogue().animals)[::6]:
        text = starter("first", size=None, animal=animal, units="metric")
        habitat = read_habitat_text(text, Path("first.yaml"))
        needs = ("crown-wall", "crown-piece", "root-ball", "lamp-carried")
        found = [f for f in fit_findings(fit_of(habitat)) if f.need in needs]
        assert [f.site for f in found if str(f.state) != "met"] == [], animal


def test_radius_is_half_the_spread():
    (crown,) = crowns_of(read(FIG.format(30, 20, 24)))
    assert crown.radius == pytest.approx(0.12)
    assert not math.isnan(crown.share)


def test_every_quantity_of_these_findings_has_a_unit():
    habitat = read_habitat(FOLDER / "forest-edge.yaml")
    assert {f.quantity for f in fit_findings(fit_of(habitat))} <= set(QUANTITIES)
