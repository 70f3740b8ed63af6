"""Where pieces of backgrounds and their screws go: they fill the side, and no screw meets a hole."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.plan.cut_parts import Hole
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.held_screws import held_screws
from loamwright.plan.lining_places import CLEAR, _clear, lining_places, shared
from loamwright.report.lining_blocks import linings_table

FOLDER = Path(workflow.__file__).parent / "data" / "examples"
NAMES = ("forest-edge", "dry-rock", "rain-glass", "school-meadow")


@cache
def planned(name: str):
    habitat = read_habitat(FOLDER / f"{name}.yaml")
    return habitat, cut_plan(habitat)


@pytest.mark.parametrize("name", NAMES)
def test_pieces_cover_their_side_once_and_screws_stand_in_them(name: str) -> None:
    habitat, cuts = planned(name)
    places = lining_places(habitat, cuts)
    for lining in habitat.enclosure.linings:
        mine = [x for x in places if x.part.name == lining.name]
        whole = next(p for p in cuts.parts if p.name == lining.name and p.kind == "lining")
        assert sum(x.part.area for x in mine) == pytest.approx(whole.area)
        # No point of the side lies in two pieces, and each in one.
        for i in range(1, 20):
            for j in range(1, 20):
                at = whole.width * (i - 0.37) / 20, whole.height * (j - 0.41) / 20
                holding = [
                    x for x in mine
                    if x.at[0] <= at[0] < x.at[0] + x.part.width
                    and x.at[1] <= at[1] < x.at[1] + x.part.height
                ]  # fmt: skip
                assert len(holding) == 1
        wanted = [s for s in held_screws(habitat) if s.name == lining.name]
        assert sum(len(x.screws) for x in mine) == sum(s.count for s in wanted)
        for x in mine:
            for a, b in x.screws:
                assert x.at[0] < a < x.at[0] + x.part.width
                assert x.at[1] < b < x.at[1] + x.part.height
                for h in x.part.holes:
                    off = [abs(a - x.at[0] - h.at[0]), abs(b - x.at[1] - h.at[1])]
                    assert any(off[k] >= h.size[k] / 2 + CLEAR - 1e-9 for k in (0, 1))


def test_sixteen_screws_of_forest_edge_are_shared_out_by_area() -> None:
    counts = {x.part.mark[-1]: len(x.screws) for x in lining_places(*planned("forest-edge"))}
    assert sum(counts.values()) == 16
    assert counts["a"] == counts["b"] == 4
    assert min(counts.values()) == 1
    (row,) = [
        r for r in linings_table(*planned("forest-edge"), "metric").rows if r[0].endswith("b")
    ]
    assert row[3:] == (
        "600 from the left, 0 from below", "4 of 5 x 70 mm",
        "650, 50; 1150, 50; 650, 1200; 1150, 1200",
    )  # fmt: skip


def test_sharing_gives_each_one_first_and_loses_none() -> None:
    assert shared(16, [0.75, 0.75, 0.125, 0.125, 0.125, 0.09, 0.09, 0.045]) == [
        4, 4, 2, 2, 1, 1, 1, 1,
    ]  # fmt: skip
    assert shared(2, [1.0, 3.0, 2.0]) == [0, 1, 1]
    assert shared(0, [1.0]) == [0]
    assert shared(7, [1.0, 1.0]) == [4, 3]


def test_a_screw_gives_way_to_a_hole() -> None:
    _, cuts = planned("forest-edge")
    piece = next(p for p in cuts.parts if p.kind == "lining")
    holed = replace(piece, holes=(Hole("hatch", (0.5, 0.5), (0.10, 0.10)),))
    x, y = _clear(holed, (0.5, 0.5))
    assert max(abs(x - 0.5), abs(y - 0.5)) >= 0.05 + CLEAR - 1e-9
    assert math.hypot(x - 0.5, y - 0.5) == pytest.approx(0.08, abs=0.011)
    assert _clear(holed, (0.2, 0.2)) == (0.2, 0.2)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_many_screws_in_a_grid_are_told_by_their_lines(system: str) -> None:
    rows = linings_table(*planned("dry-rock"), system).rows
    (row,) = rows
    assert row[5].startswith("where ")
    assert "from the left cross" in row[5]
