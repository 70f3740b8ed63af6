"""How the misting line's branches run: to their holes, clear of openings and fans, and told."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.plan.box_joints import holes_of
from loamwright.plan.mist_line import clips_of, mist_line_of
from loamwright.plan.mist_ways import CLEAR, branches_of
from loamwright.plan.routes import length_of
from loamwright.plan.service_holes import services_of
from loamwright.report.mist_blocks import mist_line_tables

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


def example(name: str):
    return read_habitat(FOLDER / f"{name}.yaml")


@pytest.mark.parametrize("name", ["forest-edge", "school-meadow", "rain-glass"])
def test_branches_end_at_their_nozzles_and_lie_over_no_hole(name: str) -> None:
    habitat = example(name)
    _, _, high = habitat.enclosure.inside
    for b in branches_of(habitat):
        assert b.way[-1] == b.nozzle.at
        assert b.crosses == ()
        if b.hole is None or b.hole.side != "top":
            continue
        assert any(math.dist(p, (*b.hole.at, high)) < 1e-9 for p in b.way)
        for start, end in itertools.pairwise(b.way[:-1]):
            for n in range(51):
                x, y = (start[k] + (end[k] - start[k]) * n / 50 for k in (0, 1))
                for _, side, at, size in holes_of(habitat):
                    if side == "top":
                        off = max(abs(x - at[0]) - size[0] / 2, abs(y - at[1]) - size[1] / 2)
                        assert off >= CLEAR - 1e-6


def test_the_branch_of_forest_edges_right_nozzle_goes_round_exhaust_and_window() -> None:
    right, middle, left = branches_of(example("forest-edge"))
    # The window ends at 140 cm and the fan at 136.6 cm from the left.
    assert right.way[0][0] == pytest.approx(1.42)
    assert right.hole.at == (1.34, 0.22)
    assert [p[0] for p in middle.way] == [0.75] * 3
    assert [p[0] for p in left.way] == [0.22] * 3
    line = mist_line_of(example("forest-edge"))
    assert line.length == pytest.approx(
        length_of(line.trunk) + sum(length_of(m.way) for m in line.mouths)
    )
    assert [m.name for m in line.mouths] == ["right nozzle", "middle nozzle", "left nozzle"]


def test_where_nothing_is_clear_it_says_what_it_crosses() -> None:
    habitat = example("forest-edge")
    fan = next(f for f in habitat.fans if f.name == "exhaust")
    wall = replace(fan, type=replace(fan.type, diameter=0.30), at=(0.75, 0.50))
    box = habitat.enclosure
    window = replace(box.openings[0], at=(0.75, 0.42), size=(1.48, 0.30))
    blocked = replace(habitat, fans=(wall,), enclosure=replace(box, openings=(window,)))
    right = branches_of(blocked)[0]
    assert "lamp window" in right.crosses
    told = mist_line_tables(blocked, mist_line_of(blocked), "metric")[1].rows
    assert any("no way is clear" in r[0] for r in told)


def test_a_hole_in_the_back_is_taken_where_the_tops_is_far_off() -> None:
    """School meadow's strip behind the windows has no room between the frame's bars."""
    sides = {s.name: s.side for s in services_of(example("school-meadow")) if s.kind == "mist"}
    assert set(sides.values()) == {"back"}
    for b in branches_of(example("school-meadow")):
        assert length_of(b.way) < 0.20


def test_clips_are_counted_by_straight_lengths() -> None:
    assert clips_of([(0, 0, 0), (0.30, 0, 0), (0.30, 0.31, 0), (0.30, 0.31, 0.04)]) == 1 + 2
    line = mist_line_of(example("forest-edge"))
    (clips,) = [x for x in line.lines if x.key == "misting/tube-clip"]
    assert clips.amount == 18
    table = mist_line_tables(example("forest-edge"), line, "metric")[1]
    assert sum(int(r[4]) for r in table.rows) == 18


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_run_is_told_leg_by_leg(system: str) -> None:
    habitat = example("forest-edge")
    table = mist_line_tables(habitat, mist_line_of(habitat), system)[1]
    assert table.title == "The run of the misting line"
    assert all(len(r) == len(table.columns) for r in table.rows)
    told = " ".join(" ".join(r) for r in table.rows)
    if system == "metric":
        assert "forward at 142 cm from the left to 22 cm from the front, 8 cm to the left" in told
    else:
        assert " cm" not in told
        assert "mm" not in told
