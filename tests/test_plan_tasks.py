"""Tasks: glass measured late, the leak test, live goods in time, one calendar with moving in."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from loamwright.engine.life.joining_findings import waiting_of
from loamwright.engine.life.moving import CYCLE, PLANTS, moving_of
from loamwright.habitat.cutting import Cutting
from loamwright.habitat.decomposers import DecomposerType, Starter
from loamwright.habitat.enclosure import Opening
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.workshop import Workshop
from loamwright.plan.glass_front import all_glass, later_glass
from loamwright.plan.leak_test import leak_test
from loamwright.plan.order import OrderOfWork, order_of_work
from loamwright.plan.scheduling import Placed, put_off
from loamwright.plan.task import Task
from loamwright.plan.tasks import tasks_of
from loamwright.plan.work_days import WorkDays
from loamwright.report.moving_blocks import moving_tables
from loamwright.report.moving_dates import DOWN, dates_of
from loamwright.report.order_blocks import order_tables, slack_words
from loamwright.workflow import read
from report_sample import ANY, BOARD, GLASS, MESH, habitat

STARTER = Starter(DecomposerType("x", "x", ANY, "X x", "isopod", "eats", "moist"), 10)
EXAMPLES = Path(__file__).parent.parent / "src/loamwright/data/examples"


def of_material(
    made: Habitat, sides: tuple[str, ...], material, doors: int | None = None
) -> Habitat:
    panels = tuple(
        replace(p, material=material if p.side in sides else p.material,
                doors=p.doors if doors is None or p.side != "front" else doors)
        for p in made.enclosure.panels
    )  # fmt: skip
    return replace(made, enclosure=replace(made.enclosure, panels=panels))


def by_key(made: Habitat) -> dict[str, Task]:
    return {t.key: t for t in tasks_of(made, 30, 200.0)}


# -- glass ---------------------------------------------------------------------------------------


def test_glass_of_a_made_front_is_measured_on_the_joined_box() -> None:
    tasks = by_key(habitat())
    assert tasks["glass"].before == ("glue",)
    assert tasks["glass"].name == "measure the front and order the glass: fixed front strip"
    # Sliding doors fit between runners that lie on the strip.
    assert tasks["door-glass"].name == "measure between the runners and order the glass: 2 doors"
    assert tasks["door-glass"].before == ("strip",)
    assert tasks["strip"].name.endswith(" and both runners in sealant")
    assert "door-glass" in tasks["doors"].before
    assert tasks["glass"].wait == habitat().workshop.delivery
    assert "glass" in tasks["doors"].before
    assert tasks["strip"].before == ("glue", "seal", "glass")
    assert tasks["order"].name.startswith("order the goods, all but glass that is measured later")


def test_a_box_of_panes_orders_them_at_the_start() -> None:
    body = ("floor", "back", "left", "right")
    closed = of_material(habitat(), body, GLASS, doors=0)
    assert all_glass(closed)
    assert not later_glass(closed).there
    assert not {"glass", "strip"} & set(by_key(closed))
    # What opens is still measured, its strip is one of the box's panes.
    assert later_glass(of_material(habitat(), body, GLASS)).what == "2 doors"
    assert "strip" not in by_key(of_material(habitat(), body, GLASS))


def test_a_front_of_boards_waits_for_no_glass() -> None:
    tasks = by_key(of_material(habitat(), ("front",), BOARD))
    assert not {"glass", "strip"} & set(tasks)
    assert "glass" not in tasks["order"].name
    board = replace(habitat(), cutting=Cutting(sill_material="pvc-foam-board"))
    assert later_glass(board).what == "2 doors"
    assert "strip" not in by_key(board)


# -- leak test -----------------------------------------------------------------------------------


def test_the_floor_is_filled_once_what_holds_the_water_is_in() -> None:
    assert set(by_key(habitat())["leak"].before) == {"cure", "strip"}
    order = order_of_work(habitat(), 30, 200.0)
    assert order.step("leak").start >= order.step("strip").end
    assert order.step("strip").start >= order.step("glass").end


def test_how_deep_it_is_filled() -> None:
    made = habitat()
    drains = 0.0
    for layer in made.ground.layers:
        if layer.kind not in ("fleece", "drainage-mat", "clay-pebbles", "gravel"):
            break
        drains += layer.depth
    test = leak_test(made)
    assert max(0.05, drains + 0.02) - 0.005 <= test.depth <= max(0.05, drains + 0.02) + 1e-9
    wide, deep, _ = made.enclosure.inside
    assert test.volume == pytest.approx(wide * deep * test.depth)
    assert f"{1000 * test.volume:.0f} L" in by_key(made)["leak"].name
    # No higher than the strip and the lowest hole allow.
    low = leak_test(replace(made, cutting=Cutting(sill=0.045)))
    assert low.depth == pytest.approx(0.025)
    hole = Opening("vent", "left", (0.3, 0.06), (0.05, 0.04), MESH)
    holed = replace(made, enclosure=replace(made.enclosure, openings=(hole,)))
    assert leak_test(holed).depth == pytest.approx(0.02)
    slit = Opening("slit", "left", (0.3, 0.045), (0.05, 0.04), MESH)
    holed = replace(made, enclosure=replace(made.enclosure, openings=(slit,)))
    assert leak_test(holed).depth == 0.0  # half a centimetre would test nothing
    drained = Opening("drain", "floor", (0.3, 0.3), (0.05, 0.05), MESH)
    holed = replace(made, enclosure=replace(made.enclosure, openings=(drained,)))
    assert leak_test(holed).words.startswith("close the floor's holes, fill the floor")


def test_without_a_strip_the_seams_are_wetted() -> None:
    test = leak_test(replace(habitat(), cutting=Cutting(sill=0.0)))
    assert (test.depth, test.volume) == (0.0, 0.0)
    assert test.words.startswith("wet every seam")


def test_depth_is_told_in_the_readers_units() -> None:
    order = order_of_work(habitat(), 30, 200.0)
    told = {s: " ".join(" ".join(r) for t in order_tables(order, None, s) for r in t.rows)
            for s in ("metric", "us")}  # fmt: skip
    assert " cm deep with water" in told["metric"]
    assert " cm " not in told["us"]
    assert " in deep with water" in told["us"]
    assert " gal)" in told["us"]


# -- live goods ----------------------------------------------------------------------------------


def example() -> OrderOfWork:
    return order_of_work(read(EXAMPLES / "forest-edge.yaml"), 40, 250.0)


def test_plants_come_in_time_to_be_kept_apart_and_no_sooner() -> None:
    order = example()
    planting, apart = order.step("planting"), order.step("plants-apart")
    bought = order.step("order-plants")
    assert apart.end <= planting.start
    assert planting.first - apart.last <= PLANTS[0] + 3  # closed days
    assert bought.done <= apart.first
    assert apart.first - bought.done <= 3
    assert bought.first > order.step("order").first
    assert slack_words(order, apart) == "in time"


def test_old_plants_are_kept_apart_before_their_habitat_is_taken_down() -> None:
    order = example()
    old, down = order.step("old-plants"), order.step("take-down")
    assert old.end <= order.step("planting").start
    assert old.last <= down.first


def test_decomposers_come_on_the_day_they_are_let_in() -> None:
    shop = Workshop("2027-03-01", 0, closed=(5, 6))
    made = replace(habitat(), workshop=shop, decomposers=(STARTER,))
    order = order_of_work(made, 30, 200.0)
    starters, ordered = order.step("starters"), order.step("order-decomposers")
    assert ordered.task.wait == 7
    # They come on that day, or on days before it on which nobody works.
    assert ordered.done <= starters.first
    assert not any(order.week.open(day) for day in range(ordered.done, starters.first))


def test_what_is_put_off_moves_nothing_else() -> None:
    days = WorkDays(60)
    before = {"a": [], "live": [], "use": ["a", "live"]}
    work, waits = {"a": 90, "live": 30, "use": 10}, {"a": 5, "live": 2, "use": 0}
    placed = {"a": Placed(0, 390), "live": Placed(90, 240), "use": Placed(390, 400)}
    found = put_off(placed, before, work, waits, dict.fromkeys(work, 1), 1, {"live": ()}, days)
    # Day 6 begins at minute 360: there in the morning, ordered two days before by then.
    assert found == placed | {"live": Placed(210, 360)}
    first = put_off(placed, before, work, waits, dict.fromkeys(work, 1), 1, {"live": ("a",)}, days)
    assert first == placed
    # Hands that are busy then are left to their work.
    work["b"], waits["b"], before["b"] = 40, 0, []
    busy = placed | {"b": Placed(200, 240)}
    found = put_off(busy, before, work, waits, dict.fromkeys(work, 1), 1, {"live": ()}, days)
    assert found["live"].start == 170


def test_bought_animals_are_agreed_on_before_their_quarantine() -> None:
    tasks = by_key(habitat())
    assert tasks["quarantine"].before == ("order-animals",)
    own = replace(habitat(), animals=(replace(habitat().animals[0], origins=("old tank",)),))
    assert "order-animals" not in by_key(own)


# -- one calendar --------------------------------------------------------------------------------


def test_moving_in_is_told_on_the_days_of_the_order_of_work() -> None:
    made = read(EXAMPLES / "forest-edge.yaml")
    moving, order = moving_of(made), example()
    assert moving is not None
    assert order.enter is not None
    found = dates_of(moving, order)
    steps = {what: (first, last) for what, first, last in found.steps}
    assert steps[DOWN][0] == order.step("take-down").first
    assert steps["cycle"] == (order.step("establish").first, order.step("establish").done)
    assert steps["plants"][1] - steps["plants"][0] >= PLANTS[0]
    assert found.enter is not None
    assert found.enter[0] >= order.enter
    assert found.enter[1] >= steps["cycle"][0] + CYCLE[1]
    start = date(2027, 3, 1)
    table = moving_tables(moving, "metric", order, start)[-1]
    assert table.title == "Days of moving in, by the order of work"
    text = " ".join(" ".join(r) for r in table.rows)
    assert "2027-" in text
    assert "day 42" not in text
    alone = moving_tables(moving, "metric")[-1]
    assert alone.note.startswith("Days count from the first habitat taken down;")
    told = {r[0]: r[1] for r in alone.rows}
    assert told["plants in quarantine, their roots rinsed"] == "14 days before to day 0"


def test_the_finding_and_the_order_of_work_count_the_same_days() -> None:
    """Plants of the old habitat come out before it is taken down, in both."""
    made = read(EXAMPLES / "forest-edge.yaml")
    order = example()
    day = waiting_of(made, moving_of(made)).day
    assert order.enter is not None
    assert 0 <= order.enter - order.step("take-down").first - day <= 3


def test_a_step_that_moving_in_wants_longer_is_told_longer() -> None:
    made = read(EXAMPLES / "forest-edge.yaml")
    moving = moving_of(made)
    assert moving is not None
    shop = replace(made.workshop, waits=(("establish", 3), ("quarantine", 1)))
    order = order_of_work(replace(made, workshop=shop), 1, 250.0)
    steps = {what: (first, last) for what, first, last in dates_of(moving, order).steps}
    assert steps["cycle"][1] - steps["cycle"][0] == CYCLE[0]
    enter = dates_of(moving, order).enter
    assert enter is not None
    assert order.enter is not None
    assert enter[0] == steps["cycle"][1] > order.enter
