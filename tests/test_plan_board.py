"""The board of sockets, supplies and controls: large enough, clear of what sits in its side, told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.plan.battens import battens
from loamwright.plan.board import CELL, CLEAR, THICK, board_lines, board_of, placed
from loamwright.plan.box_joints import FREE_AXES, holes_of
from loamwright.plan.build import build_of
from loamwright.plan.wiring import wiring_of
from loamwright.report.board_blocks import board_table
from loamwright.report.wiring_blocks import wiring_tables
from loamwright.report.wiring_drawing import wiring_drawing

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


def test_every_page_has_the_board_at_one_place() -> None:
    habitat = example("forest-edge")
    board = board_of(habitat)
    wiring = build_of(habitat).wiring
    middle = [a + b / 2 for a, b in zip(board.low, board.size, strict=True)]
    assert list(wiring.mains.board[1:]) == pytest.approx(middle)
    assert wiring.mains.board[1] != pytest.approx(habitat.mains.board[1])
    circuit = dict(wiring_tables(habitat, wiring, "metric")[0].rows)
    at = circuit["board for sockets, supplies and controls: x, y, z"]
    assert at.startswith(f"156 cm, {100 * middle[0]:.0f} cm, {100 * middle[1]:.1f} cm")
    # Once there it stays there, and where no side carries it, the file has the last word.
    assert placed(placed(habitat)) == placed(habitat)
    glass = example("rain-glass")
    assert placed(glass) == glass


def test_speed_controls_are_on_it_and_the_residual_current_device_before_it() -> None:
    habitat = example("forest-edge")
    wiring = wiring_of(habitat)
    holds = dict(board_of(habitat).holds)
    assert wiring.slowed == ("intake", "exhaust")
    assert holds["fan speed controls"] == 2
    assert not [w for w in holds if "protective" in w or "residual" in w]
    supplies = next(t for t in wiring_tables(habitat, wiring, "metric") if "supplies" in t.title)
    assert "exhaust (its speed control)" in {r[1] for r in supplies.rows}
    drawn = wiring_drawing(habitat, wiring, "metric").decode()
    assert "speed control of a fan" in drawn
    full = replace(habitat, fans=tuple(replace(x, speed=1.0) for x in habitat.fans))
    assert "fan speed controls" not in dict(board_of(full).holds)
    assert "speed control" not in wiring_drawing(full, wiring_of(full), "metric").decode()


def test_a_fan_is_not_said_to_be_inside() -> None:
    habitat = example("forest-edge")
    tables = wiring_tables(habitat, wiring_of(habitat), "metric")
    places = {r[0]: r[1] for r in next(t for t in tables if "Protection" in t.title).rows}
    assert places["intake"] == "on the outside, in the damp air of the box"
    assert places["front bar"] == "inside a misted box"


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
