"""What stands on the drainage comes after it; the box stands off the wall while it is screwed."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright.habitat.enclosure import Stand
from loamwright.habitat.habitat import Habitat
from loamwright.plan.leak_test import LeakTest, leak_test
from loamwright.plan.order import order_of_work
from loamwright.plan.quantities_box import backgrounds
from loamwright.plan.task import Task
from loamwright.plan.tasks import tasks_of
from loamwright.report.order_blocks import order_tables, short_name
from loamwright.workflow import read
from report_sample import habitat

DEMO = Path(__file__).parent.parent / "src/loamwright/data/examples/forest-edge.yaml"


@cache
def demo() -> Habitat:
    return read(DEMO)


def example(name: str) -> Habitat:
    return read(DEMO.parent / f"{name}.yaml")


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
        "join the box, glue and screw its battens and its board's, screw on the frame of its top"
    )
    assert tasks["seal"].name == "seal the corners of the box, once its adhesive has set"
    assert tasks["glue"].waits_for == "the adhesive to set"
    assert tasks["seal"].before == ("glue",)
    assert {"glue", "seal"} <= set(tasks["cure"].before)
    assert tasks["leak"].name.startswith("fit the drain and fill the floor 5 cm deep")
    plain = tuple(replace(p, ribs=0.0, held="four") for p in demo().enclosure.panels)
    bare = replace(demo(), enclosure=replace(demo().enclosure, panels=plain))
    assert by_key(bare)["glue"].name == "join the box, screw on its board's battens"
    dark = replace(bare, lamps=(), fans=(), controls=(), mist=None)
    assert by_key(dark)["glue"].name == "join the box"
    glass = by_key(example("rain-glass"))
    assert glass["glue"].name == "join the box and seal its corners"
    assert "seal" not in glass
    # Work is the same in both: only its days differ.
    assert tasks["seal"].minutes > 0
    dry = replace(demo(), ground=replace(demo().ground, layers=demo().ground.layers[1:]))
    assert "fit the drain" not in by_key(dry)["leak"].name


def test_the_coating_says_what_it_is_for() -> None:
    lines = {x.key: x for x in backgrounds(demo())}
    why = lines["background/coating"].why
    assert "cut edges, joints and screw heads" in why
    assert "nothing" not in why
    assert "bought for all over" in why


def test_the_leak_test_says_what_the_box_stands_on() -> None:
    made = leak_test(demo())
    assert f"full support that bears the box and {1000 * made.volume:.0f} kg of water" in made.words
    low = LeakTest(0.0, 0.0, False)
    assert "support" not in low.words


def test_screws_of_the_background_below_the_ground_are_set_in_sealant() -> None:
    from loamwright.plan.cut_plan import cut_plan
    from loamwright.report.lining_blocks import linings_table

    made = demo()
    assert by_key(made)["background"].name.endswith("screws below the ground's top set in sealant")
    note = linings_table(made, cut_plan(made), "metric").note
    assert "set those lower than" in note
    bare = replace(made, ground=replace(made.ground, layers=()))
    assert by_key(bare)["background"].name == "fix and finish the background"
    assert "set those lower than" not in linings_table(bare, cut_plan(bare), "metric").note


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
