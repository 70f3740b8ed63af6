"""The board of sockets, supplies and controls: large enough, clear of what sits in its side, told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.plan.battens import battens
from loamwright.plan.board import CELL, CLEAR, THICK, board_lines, board_of
from loamwright.plan.box_joints import FREE_AXES, holes_of
from loamwright.plan.wiring import wiring_of
from loamwright.report.board_blocks import board_table

FOLDER = Path(workflow.__file__).parent / "data" / "examples"
NAMES = ("forest-edge", "dry-rock", "rain-glass", "school-meadow")


def example(name: str):
    return read_habitat(FOLDER / f"{name}.yaml")


@pytest.mark.parametrize("name", NAMES)
def test_it_holds_everything_and_is_clear_of_its_sides_holes(name: str) -> None:
    habitat = example(name)
    board = board_of(habitat)
    count = sum(n for _, n in board.holds)
    assert board.size[0] * board.size[1] >= count * CELL[0] * CELL[1] - 1e-9
    holds = dict(board.holds)
    assert holds["controls and time switches"] == sum(
        d.kind == "control" for d in wiring_of(habitat).devices
    )
    if not board.side:
        return
    axes = FREE_AXES[board.side]
    for k, axis in enumerate(axes):
        assert board.low[k] >= -1e-9
        assert board.low[k] + board.size[k] <= habitat.enclosure.inside[axis] + 1e-9
    for _, side, at, size in holes_of(habitat):
        if side == board.side:
            gaps = [max(board.low[k] - at[k] - size[k] / 2, at[k] - size[k] / 2 - board.low[k]
                        - board.size[k]) for k in (0, 1)]  # fmt: skip
            assert max(gaps) >= CLEAR - 1e-9
    for b in battens(habitat):
        if b.side == board.side:
            assert min(abs(b.at - u) for u in board.uprights) >= 0.03 - 1e-9


def test_forest_edges_board_is_on_the_right_where_the_file_has_it() -> None:
    habitat = example("forest-edge")
    board = board_of(habitat)
    assert board.side == "right"
    # Its middle at 93.3 cm; backwards it ends with the inside.
    assert board.low[1] + board.size[1] / 2 == pytest.approx(1.40 * 2 / 3)
    assert board.low[0] + board.size[0] == pytest.approx(0.75)
    # Through 10 mm of panel into 40 mm of batten, not out of it.
    assert board.screws[1].length < 0.010 + 0.040
    keys = [x.key for x in board_lines(habitat)]
    assert keys[:2] == ["wiring/board", "wiring/board-batten"]
    # What sits on it: two screws a thing that do not come out of its 12 mm.
    things, screw = board.fixed
    assert things == 2 * sum(n for _, n in board.holds)
    assert screw.length <= THICK
    short = sum(x.amount for x in board_lines(habitat) if x.key == screw.key)
    assert short == things
    rows = dict(board_table(habitat, wiring_of(habitat), "metric").rows)
    assert rows["what sits on it held by"] == f"{things} of 3.5 x 12 mm, two a thing"


def test_glass_or_a_place_far_off_carries_none_and_without_current_there_is_none() -> None:
    assert board_of(example("rain-glass")).side == ""
    habitat = example("forest-edge")
    far = replace(habitat, mains=replace(habitat.mains, board=(2.4, 0.6, 0.9)))
    board = board_of(far)
    assert (board.side, board.screws) == ("", None)
    told = board_table(far, wiring_of(far), "metric").rows
    assert any("the room's wall" in r[1] for r in told)
    dead = replace(habitat, lamps=(), fans=(), controls=(), mist=None)
    assert board_of(dead) is None
    assert board_lines(dead) == []
    assert board_table(dead, wiring_of(dead), "metric").rows == ()


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_table_tells_size_place_and_fixing(system: str) -> None:
    habitat = example("forest-edge")
    rows = dict(board_table(habitat, wiring_of(habitat), system).rows)
    assert rows["on the outside of"].startswith("the right panel")
    if system == "metric":
        assert rows["size"].startswith("360 × 900 mm")
        assert "390 from the front, 483.3 from below" in rows["on the outside of"]
    else:
        assert " mm" not in " ".join(rows.values())
