"""The order of work where old habitats come down: each when it is wanted, and the day the file sets."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from loamwright.engine.ground.quantities import ground_quantities
from loamwright.engine.life.moving import PLANTS, QUARANTINE, moving_of
from loamwright.engine.life.old_plants import old_plants, stays_out
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Existing
from loamwright.habitat.workshop import Workshop
from loamwright.plan.lines import merged
from loamwright.plan.mortar import mortar_lines
from loamwright.plan.order import OrderOfWork, order_of_work
from loamwright.plan.task import Task
from loamwright.plan.task_keys import KEYS, kind_of
from loamwright.plan.tasks import tasks_of
from loamwright.report.moving_blocks import moving_tables
from loamwright.report.order_blocks import chain_words, order_tables
from loamwright.workflow import read
from report_sample import habitat

EXAMPLES = Path(__file__).parent.parent / "src/loamwright/data/examples"
DAY = 86_400.0


@cache
def meadow() -> Habitat:
    return read(EXAMPLES / "school-meadow.yaml")


@cache
def forest() -> Habitat:
    return read(EXAMPLES / "forest-edge.yaml")


def by_key(made: Habitat) -> dict[str, Task]:
    return {t.key: t for t in tasks_of(made, 40, 250.0)}


def order(made: Habitat) -> OrderOfWork:
    return order_of_work(made, 40, 250.0)


def entering(made: Habitat, days: float | None) -> Habitat:
    seconds = None if days is None else days * DAY
    return replace(made, animals=tuple(replace(g, enters=seconds) for g in made.animals))


# -- the day the file sets -----------------------------------------------------------------------


def test_animals_do_not_enter_before_the_day_the_file_sets() -> None:
    found = order(meadow())
    assert found.enter is not None
    assert found.enter >= found.step("take-down").first + 84
    assert found.chain[-2:] == ("enters", "animals")
    free = order(entering(meadow(), None))
    assert free.enter is not None
    assert free.enter < found.enter
    assert "enters" not in {s.task.key for s in free.steps}
    told = chain_words(found)
    assert any("the day you set for moving in, counted from taking down 'science room'" in x
               for x in told)  # fmt: skip
    assert any("84 days for 'enters' in the file" in x for x in told)


def test_a_day_that_comes_sooner_than_all_else_holds_nothing_back() -> None:
    free, soon = (order(entering(meadow(), d)) for d in (None, 10))
    assert soon.enter == free.enter
    assert "enters" not in soon.chain
    assert "enters" in soon.step("animals").task.before


def test_without_old_habitats_the_day_counts_from_planting() -> None:
    made = entering(habitat(), 120.4)
    assert by_key(made)["enters"].before == ("planting",)
    assert by_key(made)["enters"].wait == 121
    bare = replace(made, plants=())
    assert by_key(bare)["enters"].before == ("ground",)
    found = order(made)
    assert found.enter is not None
    assert found.enter >= found.step("planting").first + 120


# -- old habitats --------------------------------------------------------------------------------


def test_each_old_habitat_has_its_task_by_name() -> None:
    tasks = by_key(meadow())
    downs = {k: t for k, t in tasks.items() if kind_of(k) == "take-down"}
    assert [t.name.split("'")[1] for t in downs.values()] == [
        "science room", "library", "entrance hall",
    ]  # fmt: skip
    moving = moving_of(meadow())
    assert moving is not None
    assert [t.name.split("'")[1] for t in downs.values()] == [d.old.name for d in moving.downs]
    assert downs["take-down"].name == (
        "take down 'science room': catch and count its animals, search its ground"
    )
    assert by_key(forest())["take-down"].name == "take down 'old tank': search its ground"
    assert {kind_of(k) for k in tasks} <= set(KEYS)


def test_living_ground_comes_out_when_the_box_is_ready_for_it() -> None:
    found = order(meadow())
    down = {s.task.name.split("'")[1]: s for s in found.steps if kind_of(s.task.key) == "take-down"}
    ground = found.step("ground")
    for name in ("science room", "library"):
        assert down[name].task.key in ground.task.before
        assert 0 <= ground.first - down[name].last <= 3  # not in buckets for weeks
        assert down[name].start >= found.step("background").end
    assert down["entrance hall"].task.key not in ground.task.before  # its ground is not wanted


def test_animals_that_move_are_in_quarantine_in_time() -> None:
    found = order(meadow())
    apart = found.step("quarantine")
    last = max(s.end for s in found.steps if kind_of(s.task.key) == "take-down")
    assert apart.start >= last
    assert apart.task.wait == QUARANTINE[0]
    assert apart.end <= found.step("animals").start
    long = tuple(replace(x, quarantined=(60.5 if x.name == "library" else 30) * DAY)
                 for x in meadow().existing)  # fmt: skip
    held = by_key(replace(meadow(), existing=long))["quarantine"]
    assert (held.wait, held.source.split(";")[0]) == (61, "the builder's own")
    one, two = meadow().animals[0], replace(meadow().animals[0], origins=(), individuals=())
    both = by_key(replace(meadow(), animals=(one, two)))
    assert both["quarantine"].before == ("order-animals",)
    assert both["quarantine-own"].before == ("take-down", "take-down-2", "take-down-3")
    assert {"quarantine", "quarantine-own"} <= set(both["animals"].before)


def test_their_plants_come_out_before_and_are_kept_apart() -> None:
    found = order(meadow())
    plants = found.step("old-plants")
    assert plants.end <= found.step("planting").start
    assert plants.task.wait == PLANTS[0]
    for s in found.steps:
        if kind_of(s.task.key) == "take-down":
            assert plants.last <= s.first
    assert "leave the animals cover" in plants.task.name
    assert "cover" not in by_key(forest())["old-plants"].name


def test_the_builders_own_time_is_that_of_all_old_habitats_together() -> None:
    shop = Workshop(work=(("take-down", 12 * 3600.0),))
    tasks = tasks_of(replace(meadow(), workshop=shop), 40, 250.0)
    downs = [t for t in tasks if kind_of(t.key) == "take-down"]
    assert sum(t.minutes for t in downs) == pytest.approx(12 * 60, abs=2)
    assert {t.source for t in downs} == {"the builder's own"}


# -- old plants ----------------------------------------------------------------------------------


def test_old_plants_are_matched_with_new_ones_of_their_kind() -> None:
    tank = forest().existing[0]
    assert [(p.words, p.may) for p in old_plants(forest(), tank)] == [
        ("a tired bromeliad", ("high bromeliad", "low bromeliad"))
    ]
    found = {old.name: {p.words: p.may for p in old_plants(meadow(), old)}
             for old in meadow().existing}  # fmt: skip
    assert found["science room"]["two sedges"] == ()
    assert "spider plant" in found["science room"]["a spider plant"]
    assert "prayer plant" not in found["science room"]["a spider plant"]  # all of them are plants
    assert found["library"]["a peace lily"] == ("left lily", "right lily")
    assert found["entrance hall"] == {"a fern": ("fern",), "moss": ()}
    assert stays_out(meadow(), meadow().existing[2]) == ("moss",)
    odd = Existing("odd", plants=("plants", "a lily turf", "", "Ficus"))
    assert [bool(p.may) for p in old_plants(forest(), odd)] == [False, False, False, True]


def test_a_plant_without_a_place_is_told_and_takes_no_task() -> None:
    sedges = replace(forest().existing[0], plants=("two sedges",))
    made = replace(forest(), existing=(sedges,))
    assert "old-plants" not in by_key(made)
    tables = moving_tables(moving_of(made), "metric")
    table = next(t for t in tables if t.title == "Plants of old habitats")
    assert table.rows[0][:2] == ("old tank", "two sedges")
    assert "no place in the new habitat" in table.rows[0][2]
    known = next(t for t in moving_tables(moving_of(forest()), "metric")
                 if t.title == "Plants of old habitats")  # fmt: skip
    assert "'high bromeliad' or 'low bromeliad'" in known.rows[0][2]


# -- old ground ----------------------------------------------------------------------------------


def test_old_ground_is_told_as_the_grounds_engine_says_it() -> None:
    moving = moving_of(forest())
    assert moving is not None
    carried = dict(moving.downs[0].carried)
    mix = next(x for x in ground_quantities(forest()).layers if x.name == "mix")
    assert carried == {"mix": pytest.approx(dict(mix.reused)["old tank"], rel=1e-12)}
    assert 0.15 * mix.volume == pytest.approx(carried["mix"])


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_task_is_told_whole(system: str) -> None:
    for name in ("forest-edge", "dry-rock", "rain-glass", "school-meadow"):
        tables = order_tables(order(read(EXAMPLES / f"{name}.yaml")), None, system)
        rows = next(t for t in tables if t.title == "Order of work").rows
        assert not [r[2] for r in rows if r[2].endswith("…")]


def test_mortar_is_bought_and_cures_before_the_ground_comes():
    made = read(EXAMPLES / "dry-rock.yaml")
    (line,) = merged(mortar_lines(made))
    assert line.uses == ("basking slab", "ledge")
    inch = 0.0254
    # A bed of a centimetre under slabs of 15 x 11 and 18 x 12 inches, 1.8 kg a litre.
    assert line.amount == pytest.approx(1800 * 0.01 * (15 * 11 + 18 * 12) * inch**2, rel=1e-6)
    order = order_of_work(made)
    cure, ground = order.step("pieces-cure"), order.step("ground")
    assert cure.task.wait == 14
    assert ground.first >= cure.done
    without = replace(made, hardscape=tuple(replace(p, fixing="") for p in made.hardscape))
    assert "pieces-cure" not in {s.task.key for s in order_of_work(without).steps}
    assert mortar_lines(without) == []
