"""Tasks given to so many people: no more hands at work at a time than there are.

The serial schedule-generation scheme: tasks are taken in order of their latest start, each set at the
first time at which all it waits for is done and enough hands are free for all of it (Kelley 1963;
Kolisch 1996, European Journal of Operational Research 90:320, from memory). With enough people
it gives the earliest times of the critical path; with few it is good, not proved best.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from loamwright.plan.critical_path import Times
from loamwright.plan.work_days import WorkDays


@dataclass(frozen=True, slots=True)
class Placed:
    """When a task is done: ``start`` and ``end`` minute, and the tasks whose ``hands`` it waits for."""

    start: int
    end: int
    hands: tuple[str, ...] = ()


def place_tasks(
    before: Mapping[str, Sequence[str]],
    work: Mapping[str, int],
    waits: Mapping[str, int],
    crew: Mapping[str, int],
    people: int,
    times: Mapping[str, Times],
    days: WorkDays,
) -> dict[str, Placed]:
    """Start and end of every task.

    Parameters
    ----------
    before : mapping
        For each task those that must be done before it.
    work : mapping
        Minutes of work of each; 0 for one that only waits.
    waits : mapping
        Whole days each waits after its work.
    crew : mapping
        Hands each needs at the same time; more than there are count as all of them.
    people : int
        Hands there are.
    times : mapping
        Times of the critical path, whose latest starts rank the tasks.
    """
    placed: dict[str, Placed] = {}
    rank = {task: i for i, task in enumerate(times)}
    left = set(before)
    while left:
        ready = [t for t in left if all(w in placed for w in before[t])]
        task = min(ready, key=lambda t: (times[t].late_start, rank[t]))
        left.remove(task)
        at = max((placed[w].end for w in before[task]), default=0)
        hands: tuple[str, ...] = ()
        if work[task]:
            at, hands = _free(task, days.begins(at), work, crew, people, placed, days)
        done = days.work(at, work[task])
        placed[task] = Placed(at, days.wait(done, waits[task]), hands)
    return placed


def _free(
    task: str, at: int, work: Mapping[str, int], crew: Mapping[str, int], people: int,
    placed: Mapping[str, Placed], days: WorkDays,
) -> tuple[int, tuple[str, ...]]:  # fmt: skip
    """The first time from ``at`` on at which enough hands are free, and whose hands they were."""
    busy = {
        other: (x.start, days.work(x.start, work[other]))
        for other, x in placed.items() if work[other]
    }  # fmt: skip
    need = min(crew[task], people)
    held: tuple[str, ...] = ()
    while True:
        end = days.work(at, work[task])
        moments = sorted({at, *(start for start, _ in busy.values() if at < start < end)})
        crowded = next(
            (
                m for m in moments
                if need + sum(min(crew[o], people) for o, (s, e) in busy.items() if s <= m < e)
                > people
            ),
            None,
        )  # fmt: skip
        if crowded is None:
            return at, held
        inside = {o: e for o, (s, e) in busy.items() if s <= crowded < e}
        first = min(inside.values())
        held = tuple(o for o, e in inside.items() if e == first)
        at = days.begins(first)
