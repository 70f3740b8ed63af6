"""What stands on the drainage comes after it; the box stands off the wall while it is screwed."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright.habitat.enclosure import Stand
from loamwright.habitat.habitat import Habitat
from loamwright.plan.order import order_of_work
from loamwright.plan.task import Task
from loamwright.plan.tasks import tasks_of
from loamwright.report.order_blocks import order_tables, short_name
from loamwright.workflow import read
from report_sample import habitat

DEMO = Path(__file__).parent.parent / "src/loamwright/data/examples/forest-edge.yaml"


@cache
def demo() -> Habitat:
    return read(DEMO)


def by_key(made: Habitat) -> dict[str, Task]:
    return {t.key: t for t in tasks_of(made, 30, 200.0)}


@pytest.mark.parametrize(
    ("earlier", "later"),
    [
        ("place", "anchor"), ("drainage", "anchor"), ("drainage", "stones"), ("anchor", "wiring"),
        ("anchor", "wall"), ("wiring", "wall"), ("mist", "wall"), ("wall", "ground"),
        ("wall", "stones"), ("stones", "ground"), ("leak", "drainage"),
    ],
)  # fmt: skip
def test_one_is_done_before_the_other(earlier: str, later: str) -> None:
    order = order_of_work(demo(), 40, 250.0)
    assert order.step(earlier).end <= order.step(later).start


def test_drainage_is_told_by_its_layers() -> None:
    made = habitat()
    assert by_key(made)["drainage"].name == "lay the drainage layer"
    assert by_key(demo())["drainage"].name == "lay the drainage layer and its fleece"
    assert by_key(demo())["ground"].name.startswith("mix, moisten and fill the ground above its")
    dry = replace(made, ground=replace(made.ground, layers=made.ground.layers[1:]))
    tasks = by_key(dry)
    assert "drainage" not in tasks
    assert "above" not in tasks["ground"].name
    assert "drainage" not in tasks["stones"].before


def test_the_box_stands_off_the_wall_only_while_something_is_screwed() -> None:
    tasks = by_key(demo())
    assert tasks["place"].name == (
        "set the box on its stand and level it, an arm's length from the wall while it is worked on "
        "from behind"
    )
    assert tasks["wall"].name == "push the box to the wall and tie it"
    plain = by_key(habitat())
    assert plain["place"].name == "set the box in its place and level it"
    assert "wall" not in plain
    made = habitat()
    tied = replace(made, enclosure=replace(made.enclosure, stand=Stand("bench", tied=True)))
    assert by_key(tied)["wall"].name == "tie the box to the wall"
    assert by_key(tied)["place"].name == "set the box on its stand and level it"
    loose = replace(demo().enclosure, stand=replace(demo().enclosure.stand, tied=False))
    assert by_key(replace(demo(), enclosure=loose))["wall"].name == "push the box to the wall"


def test_battens_and_drain_are_in_their_tasks() -> None:
    tasks = by_key(demo())
    assert tasks["glue"].name == (
        "join the box, glue and screw its battens and its board's, screw on the frame of its top, "
        "seal its corners"
    )
    assert tasks["leak"].name.startswith("fit the drain and fill the floor 5 cm deep")
    plain = tuple(replace(p, ribs=0.0, held="four") for p in demo().enclosure.panels)
    bare = replace(demo(), enclosure=replace(demo().enclosure, panels=plain))
    assert (
        by_key(bare)["glue"].name == "join the box, screw on its board's battens, seal its corners"
    )
    dark = replace(bare, lamps=(), fans=(), controls=(), mist=None)
    assert by_key(dark)["glue"].name == "join the box and seal its corners"
    dry = replace(demo(), ground=replace(demo().ground, layers=demo().ground.layers[1:]))
    assert "fit the drain" not in by_key(dry)["leak"].name


@pytest.mark.parametrize("system", ["metric", "us"])
def test_their_words_are_told_whole(system: str) -> None:
    order = order_of_work(demo(), 40, 250.0)
    rows = next(t for t in order_tables(order, None, system) if t.title == "Order of work").rows
    assert not [r[2] for r in rows if r[2].endswith("…")]
    assert short_name(order.step("leak")).startswith("fit the drain and fill the floor")


def test_litter_is_laid_once_and_before_what_lies_on_it() -> None:
    tasks = {t.key: t.name for t in tasks_of(demo())}
    assert tasks["ground"].endswith("layer by layer, its litter last")
    assert "litter" not in tasks["starters"]
    bare = read(DEMO.with_name("dry-rock.yaml"))
    assert {t.key: t.name for t in tasks_of(bare)}["ground"].endswith("layer by layer")
