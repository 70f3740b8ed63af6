"""Go, wait and no-go of the handover sheet: what to read when, and what a reading decides."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from loamwright.plan.handover import BODY, RELATIVE, Check, Limit, meter

Band = tuple[float | None, float | None]

USUAL_HOUR, NIGHT_HOUR = 13, 4
"""Hours at which a place is read that no need asks for: early afternoon, and before dawn."""


class Verdict(StrEnum):
    """What a reading decides."""

    GO = "go"
    WAIT = "wait"
    NO_GO = "no-go"


@dataclass(frozen=True, slots=True)
class Decision:
    """One reading of a check in a ``season``: at which full hour, or the mean of which (``hours``,
    more than one), of the part of the day called ``window``; the value ``expected`` and the readings
    that ``fit`` it, the ``need`` held, and what is ``no_go`` below its low and above its high end, the
    meter's own uncertainty allowed for; all in SI. ``needs`` what asks for it; ``span`` of the values
    expected where two seasons are told together (None: one season's)."""

    check: Check
    season: str
    hours: tuple[int, ...]
    window: str
    expected: float
    fit: tuple[float, float]
    need: Band
    no_go: Band
    needs: tuple[Limit, ...]
    span: tuple[float, float] | None = None

    @property
    def go(self) -> tuple[float, float] | None:
        """Readings that mean go [SI]; None where the plan itself misses the need: then none does."""
        low, high = self.need
        least = self.fit[0] if low is None else max(self.fit[0], low)
        most = self.fit[1] if high is None else min(self.fit[1], high)
        return (least, most) if least <= most else None

    def judge(self, reading: float) -> Verdict:
        """What a reading [SI] decides.

        *Go*: inside the need, and where two standard uncertainties of the computed value reach.
        *No-go*: outside the need by more than the meter's own uncertainty. *Wait* between the two:
        something is not as planned, or too near the limit; find out, set right, read again.
        """
        low, high = self.no_go
        if (low is not None and reading < low) or (high is not None and reading > high):
            return Verdict.NO_GO
        go = self.go
        return Verdict.GO if go is not None and go[0] <= reading <= go[1] else Verdict.WAIT


def middle_hour(hours: tuple[int, ...]) -> int:
    """The middle of hours that may run across midnight."""
    ordered = across(hours)
    return ordered[len(ordered) // 2] if ordered else USUAL_HOUR


def across(hours: tuple[int, ...]) -> tuple[int, ...]:
    """Hours of the day in the order in which they come, from the one after their longest gap on."""
    ordered = sorted(hours)
    if len(ordered) < 2:
        return tuple(ordered)
    gaps = [(ordered[i] - ordered[i - 1]) % 24 for i in range(len(ordered))]
    first = max(range(len(ordered)), key=lambda i: gaps[i])
    return tuple(ordered[first:] + ordered[:first])


def decisions(check: Check, season: str) -> tuple[Decision, ...]:
    """The readings of a check on a season's day: one for each part of the day in which something is
    needed, or where nothing is one by day, and of the climate one before dawn."""
    asked: dict[tuple[int, ...], list[Limit]] = {}
    for limit in check.limits:
        hours = across(dict(limit.hours).get(season, ()))
        if not hours:
            continue
        asked.setdefault(hours if limit.mean else (middle_hour(hours),), []).append(limit)
    if not asked:
        usual = [USUAL_HOUR] if check.quantity in {*RELATIVE, BODY} else [USUAL_HOUR, NIGHT_HOUR]
        asked = {(hour,): [] for hour in usual}
    return tuple(_decision(check, season, hours, needs) for hours, needs in asked.items())


def _decision(check: Check, season: str, hours: tuple[int, ...], needs: list[Limit]) -> Decision:
    # At one hour every need of that hour counts, also one whose own reading is at another.
    alone = len(hours) == 1
    held = [x for x in check.limits if x.covers(season, hours[0])] if alone else needs
    low = max((x.low for x in held if x.low is not None), default=None)
    high = min((x.high for x in held if x.high is not None), default=None)
    bands = [check.band(season, hour) for hour in hours]
    # Hours err together: the mean of their bands is the band of their mean.
    return Decision(
        check, season, hours, needs[0].window if needs else "",
        math.fsum(check.value(season, hour) for hour in hours) / len(hours),
        (math.fsum(b[0] for b in bands) / len(bands), math.fsum(b[1] for b in bands) / len(bands)),
        (low, high),
        (None if low is None else low - meter(check.quantity, low),
         None if high is None else high + meter(check.quantity, high)),
        tuple(held),
    )  # fmt: skip
