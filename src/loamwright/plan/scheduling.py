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


def put_off(
    placed: Mapping[str, Placed],
    before: Mapping[str, Sequence[str]],
    work: Mapping[str, int],
    waits: Mapping[str, int],
    crew: Mapping[str, int],
    people: int,
    late: Mapping[str, Sequence[str]],
    days: WorkDays,
) -> dict[str, Placed]:
    """The same plan with the ``late`` tasks done as late as what waits for them allows, nothing else
    moved; whatever waits begins on a day that finds it there in the morning.

    Parameters
    ----------
    placed : mapping
        Where `place_tasks` put every task.
    late : mapping
        The tasks to be put off, and those before whose start the work of each must be done.
    """
    out = dict(placed)
    left = list(late)
    while left:
        # One whose followers have been put off already, or are not to be.
        task = next(t for t in left if not any(t in before[o] for o in left))
        left.remove(task)
        after = [out[t].start for t in before if task in before[t]]
        if not after:
            continue
        end = min(after)
        if waits[task]:
            end = end // days.minutes * days.minutes - waits[task] * days.minutes
        end = min([end, *(out[t].start for t in late[task] if t in out)])
        start = _last_free(task, end, work, crew, people, out, days)
        if start > out[task].start:
            done = days.work(start, work[task])
            out[task] = Placed(start, days.wait(done, waits[task]))
    return out


def _last_free(
    task: str, end: int, work: Mapping[str, int], crew: Mapping[str, int], people: int,
    placed: Mapping[str, Placed], days: WorkDays,
) -> int:  # fmt: skip
    """The last time at which a task can begin so that its work is done by ``end`` and enough hands
    are free; before the first minute where there is none."""
    if not work[task]:
        return end
    need = min(crew[task], people)
    busy = {
        other: (x.start, days.work(x.start, work[other]))
        for other, x in placed.items() if work[other] and other != task
    }  # fmt: skip
    while True:
        start = days.work_back(end, work[task])
        inside = [(s, min(crew[o], people)) for o, (s, e) in busy.items() if s < end and start < e]
        if start < 0 or need + sum(hands for _, hands in inside) <= people:
            return start
        end = max(s for s, _ in inside)
