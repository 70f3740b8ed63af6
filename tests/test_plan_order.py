"""The order of work: the critical path against a graph library, hands, working days, animals in."""

from __future__ import annotations

import random
from dataclasses import replace

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loamwright.engine.life.plants_findings import settle_days
from loamwright.habitat.decomposers import DecomposerType, Starter
from loamwright.habitat.workshop import Workshop
from loamwright.plan.critical_path import binding_chain, critical_path, in_order
from loamwright.plan.order import OrderOfWork, order_of_work, schedule
from loamwright.plan.scheduling import place_tasks
from loamwright.plan.task import Task
from loamwright.plan.task_keys import KEYS
from loamwright.plan.tasks import tasks_of
from loamwright.plan.work_days import WorkDays
from report_sample import ANY, habitat

STARTER = Starter(DecomposerType("x", "x", ANY, "X x", "isopod", "eats", "moist"), 10)


def network(seed: int, count: int = 14) -> tuple[dict[str, list[str]], dict[str, int]]:
    """A made-up network without circles."""
    dice = random.Random(seed)
    names = [f"t{i}" for i in range(count)]
    before = {
        n: sorted(dice.sample(names[:i], min(i, dice.randint(0, 3)))) for i, n in enumerate(names)
    }
    return before, {n: dice.randint(0, 9) for n in names}


@pytest.mark.parametrize("seed", range(25))
def test_the_longest_way_is_that_of_a_graph_library(seed: int) -> None:
    before, durations = network(seed)
    times = critical_path(before, durations)
    graph = networkx.DiGraph()
    for task, waits in before.items():
        graph.add_node(task)
        for other in waits:
            graph.add_edge(other, task, weight=durations[other])
    last = max(t.early_end for t in times.values())
    for task, found in times.items():
        way = graph.subgraph(networkx.ancestors(graph, task) | {task})
        longest = networkx.dag_longest_path_length(way) if before[task] else 0
        assert found.early_start == longest
        # Longer by its float it delays nothing; by one more it delays the whole.
        for more, late in ((found.total, False), (found.total + 1, True)):
            grown = critical_path(before, durations | {task: durations[task] + more})
            assert (max(t.early_end for t in grown.values()) > last) is late
    assert any(t.critical for t in times.values())


def test_circles_and_strangers_are_refused() -> None:
    with pytest.raises(ValueError, match="wait for each other in a circle: a, b"):
        in_order({"a": ["b"], "b": ["a"]})
    with pytest.raises(ValueError, match="a waits for c, which is no task"):
        in_order({"a": ["c"]})


# -- working days --------------------------------------------------------------------------------

WEEK = WorkDays(360, 0, frozenset({5, 6}))


def test_work_goes_round_closed_days() -> None:
    friday = 4 * 360
    assert WEEK.work(friday + 300, 60) == friday + 360
    assert WEEK.work(friday + 300, 61) == 7 * 360 + 1
    assert WEEK.work(5 * 360, 10) == 7 * 360 + 10
    assert WEEK.wait(friday, 3) == 7 * 360


@given(st.integers(0, 20_000), st.integers(1, 3_000))
def test_work_back_undoes_work(at: int, span: int) -> None:
    begun = WEEK.begins(at)
    assert WEEK.work_back(WEEK.work(at, span), span) == begun


# -- hands ---------------------------------------------------------------------------------------


def placed(before, work, crew, people):
    days = WorkDays(60)
    waits = dict.fromkeys(work, 0)
    return place_tasks(before, work, waits, crew, people, critical_path(before, work), days)


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("people", [1, 2, 3])
def test_no_more_hands_are_at_work_than_there_are(seed: int, people: int) -> None:
    before, work = network(seed)
    dice = random.Random(seed)
    crew = {n: dice.randint(1, 3) for n in work}
    found = placed(before, work, crew, people)
    for task, x in found.items():
        assert all(found[o].end <= x.start for o in before[task])
        assert x.end - x.start == work[task]
    for moment in {x.start for x in found.values()}:
        busy = [min(crew[t], people) for t, x in found.items() if x.start <= moment < x.end]
        assert sum(busy) <= people
    if people == 1:
        assert max(x.end for x in found.values()) >= sum(work.values())


@pytest.mark.parametrize("seed", range(20))
def test_with_hands_enough_it_is_the_critical_path(seed: int) -> None:
    before, work = network(seed)
    times = critical_path(before, work)
    found = placed(before, work, dict.fromkeys(work, 1), 99)
    assert {t: x.start for t, x in found.items()} == {t: x.early_start for t, x in times.items()}


def test_the_chain_that_binds_ends_in_what_is_asked() -> None:
    before = {"a": [], "b": [], "c": ["a", "b"]}
    assert binding_chain(before, {"a": 0, "b": 0, "c": 5}, {"a": 3, "b": 5, "c": 6}, "c") == (
        "b",
        "c",
    )


# -- a build -------------------------------------------------------------------------------------


def order(**changes: object) -> OrderOfWork:
    made = replace(habitat(), **changes)  # type: ignore[arg-type]
    return order_of_work(made, 30, 200.0)


def test_every_task_stands_after_what_it_waits_for() -> None:
    found = order()
    by_key = {s.task.key: s for s in found.steps}
    for s in found.steps:
        assert all(by_key[k].end <= s.start for k in s.task.before)
        assert s.start >= s.times.early_start
    assert found.enter == by_key["animals"].first
    assert found.chain[-1] == "animals"
    assert found.days >= found.soonest


def test_more_hands_are_never_slower_and_closed_days_never_quicker() -> None:
    base = Workshop("2027-03-01", 0)
    alone, crowd = (order(workshop=replace(base, people=n)).days for n in (1, 4))
    assert crowd <= alone
    assert order(workshop=replace(base, closed=(5, 6))).days >= alone


def test_nothing_is_worked_on_a_closed_day() -> None:
    found = order(workshop=Workshop("2027-03-01", 0, closed=(2, 5, 6)))
    for s in found.steps:
        if s.task.minutes:
            assert s.first % 7 not in (2, 5, 6), s.task.key
            assert s.last % 7 not in (2, 5, 6), s.task.key


def test_without_animals_nobody_enters() -> None:
    found = order(animals=())
    assert found.enter is None
    assert "quarantine" not in {s.task.key for s in found.steps}


@pytest.mark.parametrize(
    ("form", "days"), [("tree", 84), ("shrub", 56), ("rosette", 42), ("moss", 28)]
)
def test_animals_wait_until_the_slowest_plant_bears_them(form: str, days: int) -> None:
    plant = habitat().plants[0]
    slow = replace(plant, type=replace(plant.type, form=form))
    quick = replace(plant, name="quick", type=replace(plant.type, form="moss"))
    found = order(plants=(quick, slow))
    step = found.step("establish")
    assert step.task.wait == days == settle_days(slow)
    assert found.enter is not None
    assert found.enter >= found.step("planting").last + days
    assert (f"'{slow.name}'" in step.task.waits_for) == (days > 28)


def test_a_wait_of_the_builders_own_says_so() -> None:
    shop = Workshop(work=(("cut", 5 * 3600.0),), waits=(("cure", 21),))
    tasks = {t.key: t for t in tasks_of(replace(habitat(), workshop=shop), 30, 200.0)}
    assert (tasks["cure"].wait, tasks["cure"].source) == (21, "the builder's own")
    assert (tasks["cut"].minutes, tasks["cut"].source) == (300, "the builder's own")
    assert tasks["glue"].source != "the builder's own"


def test_every_task_has_a_key_that_files_may_use() -> None:
    made = replace(habitat(), decomposers=(STARTER,))
    assert {t.key for t in tasks_of(made, 30)} <= set(KEYS)
    assert len(set(KEYS)) == len(KEYS)


def test_decomposers_wait_as_long_as_is_usual_where_nothing_is_known() -> None:
    tasks = {t.key: t for t in tasks_of(replace(habitat(), decomposers=(STARTER,)))}
    assert tasks["decomposers"].wait == 84
    assert "not told by the computation" in tasks["decomposers"].source
    told = {t.key: t for t in tasks_of(replace(habitat(), decomposers=(STARTER,)), 30)}
    assert told["decomposers"].wait == 30
    assert "starters" not in {t.key for t in tasks_of(replace(habitat(), decomposers=()))}


def test_what_goes_on_while_something_waits() -> None:
    found = order()
    steps = {s.task.key: s for s in found.steps}
    told = dict(found.meanwhile)
    assert told
    for key, others in told.items():
        waits = steps[key]
        for other in others:
            assert waits.start + waits.task.minutes <= steps[other].start < waits.end
            assert steps[other].task.minutes


def test_animals_of_your_own_wait_for_less() -> None:
    group = habitat().animals[0]
    bought = {t.key: t for t in tasks_of(habitat())}["quarantine"].wait
    own = replace(habitat(), animals=(replace(group, origins=("old tank",)),))
    assert {t.key: t for t in tasks_of(own)}["quarantine"].wait < bought


def test_hands_that_are_missing_are_told() -> None:
    tasks = [Task("lift", "lift", minutes=30, crew=2), Task("rest", "rest", ("lift",), 30)]
    assert schedule(tasks, Workshop()).short == ("lift",)
    assert schedule(tasks, Workshop(people=2)).short == ()
    assert schedule(tasks, Workshop()).work == 90
