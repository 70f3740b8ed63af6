"""Hardscape as it is bought and screwed: whole lengths, stones by size, screws by what they go into."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.files.reader import read_habitat
from loamwright.habitat.habitat import Habitat
from loamwright.plan.contacts import contacts_of
from loamwright.plan.covers import covers_of
from loamwright.plan.held_screws import ends_at, held_screws
from loamwright.plan.lines import Stocked, merged
from loamwright.plan.screws import fan_screws, screw_lines
from loamwright.plan.whole_pieces import hardscape_lines, lengths_bought
from loamwright.report.screw_words import screw_words

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


def screws(habitat: Habitat, name: str) -> list[tuple[int, str, str]]:
    return [(x.count, x.screw.size, x.way) for x in held_screws(habitat) if x.name == name]


def changed(habitat: Habitat, name: str, **changes: object) -> Habitat:
    made = tuple(replace(p, **changes) if p.name == name else p for p in habitat.hardscape)
    return replace(habitat, hardscape=made)


def test_screws_of_a_piece_go_where_its_words_say() -> None:
    edge = example("forest-edge")
    # 1 + 6 + 3 cm from behind; through the 6 cm of the branch and 2.5 cm into the trunk.
    assert screws(edge, "basking branch") == [
        (2, "5 x 100 mm", "from behind, through the back panel and its background into the piece"),
        (1, "5 x 90 mm", "through the piece into upright trunk, drilled first"),
    ]
    # 1 + 3 cm into a wall without a background; the post ends under the branch: through the 5 cm of
    # the branch and 5 cm down into the post's end grain.
    assert screws(edge, "cross branch") == [
        (2, "4 x 40 mm", "from behind, through the right panel into the piece"),
        (1, "5 x 100 mm", "through the piece into the end of front post, along it, drilled first"),
    ]


def test_a_screw_goes_into_the_end_that_meets_the_other_piece() -> None:
    edge = example("forest-edge")
    by = {p.name: p for p in edge.hardscape}
    branch, post = by["cross branch"], by["front post"]
    assert ends_at(post, branch)
    assert not ends_at(branch, post)
    # The basking branch ends beside the trunk, not at it; a hollow cane's end takes no screw.
    assert not ends_at(by["basking branch"], by["upright trunk"])
    cane = replace(post, material=by["left bamboo"].material)
    assert not ends_at(cane, branch)
    # Told from the post's side too.
    post = changed(changed(edge, "cross branch", screws=0), "front post", screws=1,
                   fixing="one screw into the cross branch")  # fmt: skip
    assert [(size, way) for _, size, way in screws(post, "front post")] == [
        ("5 x 100 mm", "through cross branch into the piece's end, along it, drilled first")
    ]


def test_without_words_each_piece_that_is_touched_gets_one_and_the_walls_the_rest() -> None:
    edge = changed(example("forest-edge"), "basking branch", fixing="", screws=5)
    found = screws(edge, "basking branch")
    assert [(n, way.split(",")[0]) for n, _, way in found] == [
        (3, "from behind"), (1, "through the piece into upright trunk"),
        (1, "through cork tube into the piece"),
    ]  # fmt: skip
    one = changed(edge, "basking branch", screws=1)
    assert [n for n, _, _ in screws(one, "basking branch")] == [1]


def test_what_a_piece_touches_is_told_in_the_order_of_the_file() -> None:
    edge = example("forest-edge")
    order = [p.name for p in edge.hardscape]
    for c in contacts_of(edge):
        found = [t.what for t in c.touches if t.kind == "piece"]
        assert found == sorted(found, key=order.index)


def test_no_point_comes_out_of_a_tubes_wall() -> None:
    """1 and 6 cm, and less than the 2 cm of cork."""
    assert [x[:2] for x in screws(example("forest-edge"), "cork tube")] == [(2, "5 x 80 mm")]


def test_machine_screws_go_through_fan_panel_mat_and_guard() -> None:
    found = {x.name: x for x in fan_screws(example("forest-edge"))}
    # 25 mm of fan, 10 of board, 0.6 of mesh and 8 for nut and washers: 43.6; 3 of pressed mat: 46.6.
    assert (found["exhaust"].count, found["exhaust"].screw.size) == (4, "M4 x 45 mm")
    assert (found["intake"].count, found["intake"].screw.size) == (4, "M4 x 50 mm")
    assert "its dust mat and its guard" in found["intake"].way
    lines = {x.key: x for x in merged(screw_lines(found.values()))}
    assert lines["fixings/machine-screws-stainless-m4x45mm"].amount == 4
    assert lines["fixings/washers-4mm"].amount == 8
    assert screw_words(found["exhaust"].screw, "us") == "no. 8-32 x 1 3/4 in"
    assert fan_screws(example("rain-glass")) == ()
    meadow = {x.name: x for x in fan_screws(example("school-meadow"))}
    assert meadow["exhaust"].way.startswith("through the fan's corners, the panel and its guards")
    guards = [c for c in covers_of(example("forest-edge")) if c.name.startswith("guard")]
    assert [c.screws for c in guards] == [found["intake"], found["exhaust"]]
