"""Hardscape as it is bought and screwed: whole lengths, stones by size, screws by what they go into."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.habitat.habitat import Habitat
from loamwright.plan.lines import Stocked
from loamwright.plan.whole_pieces import hardscape_lines, lengths_bought

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


@cache
def example(name: str) -> Habitat:
    return read_habitat(FOLDER / f"{name}.yaml")


def test_every_branch_comes_out_of_one_length() -> None:
    """109 cm and 5 cm to cut to fit come out of 1.5 m, not out of two of 1 m."""
    lines = {x.key: x for x in hardscape_lines(example("forest-edge"))}
    trunk = lines["hardscape/hardwood-branch-90mm"]
    assert trunk.amount == pytest.approx((0.10**2 + 0.02**2 + 1.088**2) ** 0.5)
    assert trunk.stock == (Stocked("length", 1, 1.5),)
    assert trunk.wanted == pytest.approx(1.5)
    # Two of 1.10 and 1.09 m, 5 cm over each: one pack of 1.2 m for each.
    assert lines["hardscape/bamboo-branch-40mm"].stock == (Stocked("length", 2, 1.2),)


def test_pieces_share_a_pack_and_longer_ones_are_asked_for_whole() -> None:
    edge, key = example("forest-edge"), "hardscape/hardwood-branch-40mm"
    assert lengths_bought(edge, key, [0.4, 0.5]) == (Stocked("length", 1, 1.0),)
    assert lengths_bought(edge, key, [0.4, 0.6]) == (Stocked("length", 2, 1.0),)  # and a kerf
    assert lengths_bought(edge, key, [1.21, 0.4]) == (
        Stocked("length", 1, 1.3), Stocked("length", 1, 1.0),
    )  # fmt: skip
    assert lengths_bought(edge, "hardscape/unknown", [0.31, 0.31]) == (Stocked("length", 2, 0.4),)
    rock = example("dry-rock")  # inches: in steps of 4 in
    assert lengths_bought(rock, "hardscape/unknown", [0.31]) == (Stocked("length", 1, 0.4064),)


def test_stones_are_told_by_number_and_size() -> None:
    lines = {x.key: x for x in hardscape_lines(example("forest-edge"))}
    stones = lines["hardscape/sandstone-rock"]
    assert "2 stones: 24 x 18 x 12 cm, 6.0 kg; 18 x 20 x 14 cm, 5.8 kg" in stones.name
    assert stones.unit == "kg"
    blocks = {x.key: x for x in hardscape_lines(example("dry-rock"))}["hardscape/sandstone-block"]
    assert "2 pieces: " in blocks.name
