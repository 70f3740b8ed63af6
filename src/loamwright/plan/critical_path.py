"""The critical path method: when each task can and must begin, and which ones have no slack.

Kelley & Walker 1959, Critical-path planning and scheduling: a forward pass gives the earliest times,
a backward pass the latest; the difference is the total float.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

Move = Callable[[str, int], int]
"""From a task and a time to the time at which it ends (or, backwards, begins)."""


@dataclass(frozen=True, slots=True)
class Times:
    """Times of one task, in whatever whole unit was given: earliest start and end, latest start and
    end, ``total`` float (how late it may be without making the whole late) and ``free`` float
    (without making any other task late)."""

    early_start: int
    early_end: int
    late_start: int
    late_end: int
    total: int
    free: int

    @property
    def critical(self) -> bool:
        """True where any delay delays the whole."""
        return self.total == 0


def in_order(before: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The tasks so that each stands behind all it waits for; otherwise in the order given.

    Raises
    ------
    ValueError
        If a task waits for itself, by whatever way, or for one that is not there.
    """
    for task, waits in before.items():
        for other in waits:
            if other not in before:
                raise ValueError(f"{task} waits for {other}, which is no task")
    done: dict[str, None] = {}
    left = dict(before)
    while left:
        ready = next((t for t, waits in left.items() if all(w in done for w in waits)), None)
        if ready is None:
            raise ValueError(f"tasks wait for each other in a circle: {', '.join(left)}")
        done[ready] = None
        del left[ready]
    return tuple(done)


def critical_path(
    before: Mapping[str, Sequence[str]],
    durations: Mapping[str, int],
    *,
    forward: Move | None = None,
    backward: Move | None = None,
) -> dict[str, Times]:
    """Times of every task.

    Parameters
    ----------
    before : mapping
        For each task those that must be done before it.
    durations : mapping
        How long each takes, in whole units.
    forward, backward : callable, optional
        Where a task that begins at a time ends, and where one that ends at a time begins, where
        that is more than adding the duration (closed days).
    """
    ahead = forward or (lambda task, start: start + durations[task])
    back = backward or (lambda task, end: end - durations[task])
    order = in_order(before)
    after: dict[str, list[str]] = {task: [] for task in order}
    start: dict[str, int] = {}
    end: dict[str, int] = {}
    for task in order:
        for other in before[task]:
            after[other].append(task)
        start[task] = max((end[other] for other in before[task]), default=0)
        end[task] = ahead(task, start[task])
    last = max(end.values(), default=0)
    late_start: dict[str, int] = {}
    late_end: dict[str, int] = {}
    for task in reversed(order):
        late_end[task] = min((late_start[other] for other in after[task]), default=last)
        # A task on closed days may seem to have less than no float: it has none.
        late_start[task] = max(start[task], back(task, late_end[task]))
    return {
        task: Times(
            start[task], end[task], late_start[task], late_end[task],
            late_start[task] - start[task],
            min((start[other] for other in after[task]), default=last) - end[task],
        )
        for task in order
    }  # fmt: skip


def binding_chain(
    before: Mapping[str, Sequence[str]],
    start: Mapping[str, int],
    end: Mapping[str, int],
    last: str,
    others: Mapping[str, Sequence[str]] | None = None,
) -> tuple[str, ...]:
    """The tasks that make ``last`` begin when it does, first to last: each the one that ends latest of
    those its follower waits for (``others``: also those it waits for because the hands do them)."""
    chain = [last]
    while True:
        task = chain[-1]
        waits = [*before[task], *((others or {}).get(task, ()))]
        if not waits or start[task] == 0:
            return tuple(reversed(chain))
        chain.append(max(waits, key=lambda other: (end[other], start[other])))
