"""One task of a build, and where its times are from."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.life.moving import PLANTS

PRACTICE = "common practice, no source"

OWN = "the builder's own"
"""Source of a time that the file gives."""

DELIVERY = "the file's own, or common practice"
"""Source of the time that ordered goods take."""

APART = f"{PLANTS[0]} to {PLANTS[1]} days; common practice, from memory"
"""Source of the time that plants are kept apart."""


@dataclass(frozen=True, slots=True)
class Task:
    """One task: ``key`` and ``name``; ``before`` keys of the tasks that must be done first;
    ``minutes`` of work by each of its ``crew``; ``wait`` whole days that pass after the work before the
    next may begin [d] and ``waits_for`` in words; ``source`` of the times; ``away`` True where it goes
    on apart from the build and takes none of its hands. ``late`` True where it is done no sooner than
    what waits for it asks: live goods keep badly; its work is done before that of the tasks
    ``ahead_of`` which it stands."""

    key: str
    name: str
    before: tuple[str, ...] = ()
    minutes: int = 0
    crew: int = 1
    wait: int = 0
    waits_for: str = ""
    source: str = PRACTICE
    away: bool = False
    late: bool = False
    ahead_of: tuple[str, ...] = ()


def in_minutes(hours: float) -> int:
    """Hours as minutes of work, to a quarter of an hour."""
    return max(15, round(hours * 4.0) * 15)


def numbered(key: str, count: int) -> tuple[str, ...]:
    """Keys of so many tasks of one kind: the kind's own for the first, with its number for more."""
    return tuple(key if k == 1 else f"{key}-{k}" for k in range(1, count + 1))
