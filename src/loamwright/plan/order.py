"""The order of work: when each task is done, by how many, and the day animals may enter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.workshop import Workshop
from loamwright.plan.critical_path import Times, binding_chain, critical_path
from loamwright.plan.scheduling import place_tasks, put_off
from loamwright.plan.task import Task
from loamwright.plan.tasks import tasks_of
from loamwright.plan.work_days import WorkDays


@dataclass(frozen=True, slots=True)
class Step:
    """One task in its place: ``start`` and ``end`` minute of work (see `WorkDays`), ``times`` of the
    critical path with as many hands as anyone likes, ``float_minutes`` it may be late by there;
    ``first`` and ``last`` day it is worked on, ``done`` the day on which what follows may begin, and
    ``hands`` tasks it stood back for."""

    task: Task
    start: int
    end: int
    times: Times
    first: int
    last: int
    done: int
    hands: tuple[str, ...] = ()

    @property
    def slack(self) -> int:
        """How late it may be without making the whole late, with hands enough [min of work]; none
        where it is put off as far as it goes."""
        return 0 if self.task.late else self.times.total


@dataclass(frozen=True, slots=True)
class OrderOfWork:
    """The order of work. ``steps`` by their start; ``days`` from the start to its end [d]; ``soonest``
    the days of the critical path, with any number of hands [d]; ``enter`` the day animals may enter
    (None without animals) and ``chain`` the tasks that keep them out until then; ``work`` minutes of
    all hands together; ``short`` tasks that want more hands than there are."""

    steps: tuple[Step, ...]
    week: WorkDays
    people: int
    days: int
    soonest: int
    enter: int | None
    chain: tuple[str, ...]
    work: int
    short: tuple[str, ...]

    def step(self, key: str) -> Step:
        """The step of a task."""
        return next(s for s in self.steps if s.task.key == key)

    @property
    def meanwhile(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """For each task that waits, the tasks that are worked on while it does."""
        out = []
        for s in self.steps:
            begins = self.week.work(s.start, s.task.minutes)
            found = tuple(
                o.task.key for o in self.steps
                if o.task.minutes and o is not s and begins <= o.start < s.end
            )  # fmt: skip
            if s.task.wait and found:
                out.append((s.task.key, found))
        return tuple(out)

    @property
    def labour(self) -> tuple[tuple[str, int], ...]:
        """Work by task, all its hands together [min]."""
        return tuple(
            (s.task.name, s.task.minutes * s.task.crew) for s in self.steps if s.task.minutes
        )


def order_of_work(habitat: Habitat, ready: int | None = None, moist: float = 0.0) -> OrderOfWork:
    """The order of work of a habitat's build; see `tasks.tasks_of` for the arguments."""
    return schedule(tasks_of(habitat, ready, moist), habitat.workshop)


def schedule(tasks: Sequence[Task], workshop: Workshop) -> OrderOfWork:
    """Tasks put in order for a workshop: the critical path, then the hands there are."""
    week = WorkDays(
        max(1, round(workshop.hours / 60.0)), workshop.weekday, frozenset(workshop.closed)
    )
    by_key = {t.key: t for t in tasks}
    before = {t.key: t.before for t in tasks}
    work = {t.key: t.minutes for t in tasks}
    waits = {t.key: t.wait for t in tasks}

    def ahead(key: str, start: int) -> int:
        return week.wait(week.work(start, work[key]), waits[key])

    def back(key: str, end: int) -> int:
        return week.work_back(end - waits[key] * week.minutes, work[key])

    times = critical_path(
        before, {k: work[k] + waits[k] * week.minutes for k in work}, forward=ahead, backward=back
    )
    crew = {t.key: t.crew for t in tasks}
    soonest = place_tasks(before, work, waits, crew, workshop.people, times, week)
    late = {t.key: t.ahead_of for t in tasks if t.late}
    placed = put_off(soonest, before, work, waits, crew, workshop.people, late, week)
    steps = []
    for key, x in placed.items():
        worked = week.work(x.start, work[key])
        first = week.day_of(x.start if not work[key] else week.begins(x.start))
        last = week.day_of(worked, end=True) if work[key] else first
        done = week.day_of(x.end)
        steps.append(Step(by_key[key], x.start, x.end, times[key], first, max(first, last), done,
                          x.hands))  # fmt: skip
    steps.sort(key=lambda s: (s.start, s.end, s.task.key))
    # What binds shows before anything is put off: afterwards all of that ends just in time.
    starts = {k: x.start for k, x in soonest.items()}
    ends = {k: x.end for k, x in soonest.items()}
    goal = "animals" if "animals" in placed else max(ends, key=lambda k: ends[k])
    chain = binding_chain(before, starts, ends, goal, {k: x.hands for k, x in soonest.items()})
    return OrderOfWork(
        tuple(steps), week, workshop.people, -(-max(ends.values()) // week.minutes),
        -(-max(t.early_end for t in times.values()) // week.minutes),
        week.day_of(starts["animals"]) if "animals" in placed else None, chain,
        sum(t.minutes * t.crew for t in tasks),
        tuple(t.key for t in tasks if t.crew > workshop.people),
    )  # fmt: skip
