"""What the ground bears is set once it is there; places to lay eggs are made in it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.sites import Site
from loamwright.plan.held_screws import held_screws
from loamwright.plan.laying_work import laying_lines
from loamwright.plan.order import order_of_work
from loamwright.plan.resting import on_ground
from loamwright.plan.task import Task
from loamwright.plan.task_words import laid_words
from loamwright.plan.tasks import tasks_of
from loamwright.report.inside_blocks import pieces_table
from loamwright.workflow import read
from report_sample import GECKO, STONE, WOOD, habitat

EXAMPLES = Path(__file__).parent.parent / "src/loamwright/data/examples"


@cache
def example(name: str) -> Habitat:
    return read(EXAMPLES / f"{name}.yaml")


def by_key(made: Habitat) -> dict[str, Task]:
    return {t.key: t for t in tasks_of(made, 40, 250.0)}


@pytest.mark.parametrize(
    ("name", "borne"),
    [
        ("forest-edge", ["low log"]),
        ("dry-rock", ["burrow"]),
        ("rain-glass", ["climbing root", "thin root", "bark tunnel", "left pot", "mossy stone"]),
        ("school-meadow", ["left reed", "middle reed", "right reed", "low log", "far log"]),
    ],
)
def test_which_pieces_the_ground_bears(name: str, borne: list[str]) -> None:
    assert [p.name for p in on_ground(example(name))] == borne


def test_what_holds_a_piece_sets_it_before_the_ground() -> None:
    made = habitat()

    def borne(piece: Piece) -> bool:
        return piece in on_ground(replace(made, hardscape=(piece,)))

    top = made.ground.depth
    stone = Piece("s", "block", STONE, at=(0.7, 0.3, top - 0.02), size=(0.2, 0.2, 0.05))
    assert borne(stone)
    assert not borne(replace(stone, footing="bricks"))
    assert not borne(replace(stone, at=(0.7, 0.3, 0.03)))  # on the drainage
    assert not borne(replace(stone, at=(0.7, 0.3, top + 0.3)))  # in the air
    post = Piece("p", "branch", WOOD, (0.7, 0.3, 0.1), (0.7, 0.3, 0.8), 0.03)
    assert borne(post)
    assert not borne(replace(post, start=(0.7, 0.3, 0.03)))
    assert not borne(replace(post, screws=2))
    leans = replace(post, end=(0.01, 0.3, 0.8))
    assert borne(leans)
    assert not borne(replace(leans, fixing="glued to the wall"))
    peg = Piece("p", "branch", WOOD, (0.7, 0.3, 0.035), (0.7, 0.3, 0.2), 0.03)
    assert not borne(peg)  # it stands, all of it in the ground
    burrow = Piece("b", "tube", WOOD, (0.4, 0.3, 0.08), (0.7, 0.3, 0.16), 0.1, 0.01)
    assert borne(burrow)


def test_what_stands_on_a_piece_that_the_ground_bears_follows_it() -> None:
    made = habitat()
    top = made.ground.depth
    low = Piece("low", "block", STONE, at=(0.7, 0.3, top), size=(0.3, 0.3, 0.1))
    over = replace(low, name="over", at=(0.7, 0.3, top + 0.1))
    assert on_ground(replace(made, hardscape=(over, low))) == (over, low)
    firm = replace(low, footing="bricks")
    assert on_ground(replace(made, hardscape=(over, firm))) == ()


def test_they_are_set_after_the_ground_and_before_planting() -> None:
    order = order_of_work(example("forest-edge"), 40, 250.0)
    laid = order.step("on-ground")
    assert order.step("ground").end <= laid.start
    assert laid.end <= order.step("planting").start
    assert "'low log'" in laid.task.name
    assert "the bowl level" in laid.task.name
    assert order.step("stones").end <= order.step("ground").start
    assert order.step("stones").task.minutes == 30  # the two stones on their bricks
    bare = replace(habitat(), hardscape=(), water=())
    assert "on-ground" not in by_key(bare)


def test_what_is_laid_is_named_or_counted() -> None:
    made = example("school-meadow")
    pieces = on_ground(made)
    assert laid_words(pieces[:2], ()).startswith("set 'left reed' and 'middle reed', bedded")
    assert laid_words(pieces[:3], ()).startswith("set 'left reed', 'middle reed' and 'right reed',")
    assert laid_words(pieces, made.water) == (
        "set the 5 pieces that the ground bears, bedded on ground brought up to the foot, so that "
        "nothing rolls; set the bowl level on ground, not on leaves"
    )
    assert (
        laid_words((), (*made.water, *made.water)) == "set the bowls level on ground, not on leaves"
    )


def test_the_sheet_of_pieces_says_when_each_is_set() -> None:
    rows = {r[0]: r[-1] for r in pieces_table(example("forest-edge"), "metric").rows}
    assert rows["low log"] == "the ground: set once it is filled"
    assert "bricks" in rows["left stone"]
    assert rows["upright trunk"] == "stands on the drainage mat"


def test_no_screw_goes_through_what_is_set_later() -> None:
    drawn = example("school-meadow")
    screwed = tuple(
        replace(p, fixing="one screw at each end") if p.name == "second basking rod" else p
        for p in drawn.hardscape
    )
    made = replace(drawn, hardscape=screwed)
    rods = [s for s in held_screws(made) if s.name == "second basking rod"]
    assert sum(s.count for s in rods) >= 1
    assert not [s for s in rods if "low log" in s.way]
    firm = tuple(replace(p, footing="bricks") if p.name == "low log" else p for p in made.hardscape)
    rods = [s for s in held_screws(replace(made, hardscape=firm)) if s.name == "second basking rod"]
    assert [s for s in rods if "low log" in s.way]


# -- places to lay eggs --------------------------------------------------------------------------


def laying(made: Habitat) -> list[str]:
    return [t.name for t in tasks_of(made, 40, 250.0) if t.key.startswith("laying")]


def test_a_hollow_in_a_tube_is_closed_below_and_filled() -> None:
    assert laying(example("forest-edge")) == [
        "make the laying place 'laying hollow' in 'cork tube': close its lower end with a piece of "
        "cork and silicone, fill it 4 cm deep with moist mix, pressed firm"
    ]
    (cork,) = laying_lines(example("forest-edge"))
    # The tube is 17 cm across with a wall of 2 cm.
    assert cork.key == "hardscape/cork-plug-130mm"
    assert cork.uses == ("cork tube",)
    assert laying_lines(example("dry-rock")) == []


def test_a_place_on_the_ground_is_told_its_depth() -> None:
    assert laying(example("school-meadow")) == [
        "make the laying place 'laying spot': 15 cm of ground without stones, pressed firm, moist "
        "below its top"
    ]
    assert "15.2 cm of ground" in laying(example("dry-rock"))[0]


def test_a_bore_without_depth_is_lined() -> None:
    assert laying(example("rain-glass")) == [
        "make the laying place 'pot' in 'left pot': wipe it smooth, line it with damp litter"
    ]


def test_places_are_made_for_those_who_lay_and_before_planting() -> None:
    order = order_of_work(example("forest-edge"), 40, 250.0)
    step = order.step("laying")
    assert order.step("ground").end <= step.start
    assert step.end <= order.step("planting").start
    lays = replace(GECKO, reproduction="oviparous")
    group = replace(habitat().animals[0], species=lays)
    top = habitat().ground.depth
    spots = (Site("a", (0.3, 0.2, top), role="laying"), Site("b", (0.3, 0.2, 1.0), role="laying"))
    made = replace(habitat(), animals=(group,), sites=spots)
    assert [t.key for t in tasks_of(made, 30) if t.key.startswith("laying")] == [
        "laying", "laying-2",
    ]  # fmt: skip
    assert laying(made)[1].startswith("keep the laying place 'b' clear")
    assert {"laying", "laying-2"} <= set(by_key(made)["planting"].before)
    males = replace(made, animals=(replace(group, males=2, females=0),))
    assert laying(males) == []
    dry = replace(group, species=replace(lays, egg_site="dry crevice sand"))
    assert laying(replace(made, animals=(dry,)))[0].endswith("loose and dry")
