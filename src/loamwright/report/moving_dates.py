"""Moving in on the days of the order of work: one calendar for both."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.life.moving import CYCLE, QUARANTINE, Moving
from loamwright.plan.order import OrderOfWork, Step
from loamwright.plan.task_keys import kind_of

DOWN = "old habitats are taken down"
"""The first step, in words."""

TASKS: dict[str, tuple[str, ...]] = {
    "quarantine": ("quarantine-own", "quarantine"), "plants": ("old-plants", "plants-apart"),
    "cycle": ("establish",), "readings": ("dry-run",),
}  # fmt: skip
"""Tasks of the order of work that are a step of moving in, the first that is there."""


@dataclass(frozen=True, slots=True)
class MovingDates:
    """``steps`` (what, first and last day, 0 the first day of the build), and the days, at the earliest
    and by the longer times, on which animals may ``enter`` (None without animals)."""

    steps: tuple[tuple[str, int, int], ...]
    enter: tuple[int, int] | None


def dates_of(moving: Moving, order: OrderOfWork) -> MovingDates:
    """The steps of moving in by the order of work, none shorter than moving in asks for."""
    by_key = {s.task.key: s for s in order.steps}
    steps: list[tuple[str, int, int]] = []
    downs = [s for s in order.steps if kind_of(s.task.key) == "take-down"]
    if downs:
        # One habitat a day is looked through, as the plan of moving in has it.
        first = min(s.first for s in downs)
        last = max(s.last for s in downs)
        steps.append((DOWN, first, max(last, first + len(moving.downs) - 1)))
    for what, first, last in moving.steps:
        step = next((by_key[k] for k in TASKS[what] if k in by_key), None)
        if step is not None:
            steps.append((what, _begins(step), max(step.done, _begins(step) + last - first)))
    if order.enter is None:
        return MovingDates(tuple(steps), None)
    ends = {what: (first, last) for what, first, last in steps}
    enter = max([order.enter, *(last for what, (_, last) in ends.items() if what != DOWN)])
    longest = [enter]
    for what, days in (("cycle", CYCLE[1]), ("quarantine", QUARANTINE[1])):
        if what in ends:
            longest.append(ends[what][0] + days)
    return MovingDates(tuple(steps), (enter, max(longest)))


def _begins(step: Step) -> int:
    """The day on which a wait begins: that of the end of its work."""
    return step.last if step.task.minutes else step.first
