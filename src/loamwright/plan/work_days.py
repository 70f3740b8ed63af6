"""Working time in whole minutes: days of so many minutes of work, some of them closed.

Time runs on one axis of minutes, a day being as many of them as are worked in it; a wait of a day is
a day on that axis too. Nothing is known of dates: a day is a number from the first on.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WorkDays:
    """``minutes`` of work in a day; ``first`` the weekday of day 0 (0 Monday; -1 not known, then no day
    is closed) and the ``closed`` weekdays."""

    minutes: int
    first: int = -1
    closed: frozenset[int] = frozenset()

    def open(self, day: int) -> bool:
        """True where there is work on a day."""
        return self.first < 0 or (self.first + day) % 7 not in self.closed

    def begins(self, at: int) -> int:
        """The first minute from ``at`` on that is worked."""
        while not self.open(at // self.minutes):
            at = (at // self.minutes + 1) * self.minutes
        return at

    def work(self, at: int, minutes: int) -> int:
        """The minute at which work of so many ``minutes`` begun at ``at`` ends."""
        if minutes <= 0:
            return at
        at = self.begins(at)
        while True:
            left = self.minutes - at % self.minutes
            if minutes <= left:
                return at + minutes
            minutes -= left
            at = self.begins(at + left)

    def work_back(self, end: int, minutes: int) -> int:
        """The latest minute at which work of so many ``minutes`` that is done by ``end`` can begin."""
        while minutes > 0:
            day = (end - 1) // self.minutes
            if not self.open(day):
                end = day * self.minutes
                continue
            took = min(minutes, end - day * self.minutes)
            end -= took
            minutes -= took
        return end

    def wait(self, at: int, days: int) -> int:
        """The minute at which a wait of so many whole days begun at ``at`` ends."""
        return at + days * self.minutes

    def day_of(self, at: int, *, end: bool = False) -> int:
        """The day a minute falls on; of an end, the day whose last minute it may be."""
        return (at - 1) // self.minutes if end and at > 0 else at // self.minutes
