"""Who builds and when: from what the file says to whole days and seconds."""

from __future__ import annotations

import math

from loamwright.files.build_context import Build
from loamwright.files.document import suggest
from loamwright.files.schema_workshop import WorkshopPart
from loamwright.habitat.workshop import WEEK, Workshop
from loamwright.plan.task_keys import KEYS

DAY = 86_400.0


def build_workshop(build: Build, part: WorkshopPart | None) -> Workshop:
    """The workshop; what is left out is common practice, and told only where the section is there."""
    usual = Workshop()
    if part is None:
        return usual
    if part.people is None:
        build.default("build.people", str(usual.people), "nothing is said")
    if part.hours is None:
        build.default("build.hours", build.show(usual.hours, "time"))
    if part.delivery is None:
        build.default("build.delivery", f"{usual.delivery} d")
    if part.closed and part.start is None:
        build.say(("build", "closed"), "needs a start: without one no day has a name")
    for section, told in (("work", part.work), ("waits", part.waits)):
        for key in told:
            if key not in KEYS:
                build.say(
                    ("build", section, key), f"there is no task {key!r}; {suggest(key, KEYS)}"
                )
    return Workshop(
        "" if part.start is None else part.start.isoformat(),
        -1 if part.start is None else part.start.weekday(),
        part.people or usual.people,
        float(part.hours) if part.hours is not None else usual.hours,
        tuple(sorted({WEEK.index(day) for day in part.closed})),
        usual.delivery if part.delivery is None else _days(part.delivery),
        tuple((key, float(time)) for key, time in part.work.items()),
        tuple((key, _days(time)) for key, time in part.waits.items()),
    )


def _days(time: float) -> int:
    """A time [s] as whole days, begun ones counted."""
    return math.ceil(float(time) / DAY - 1e-9)
