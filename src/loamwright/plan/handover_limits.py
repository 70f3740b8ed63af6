"""Go, wait and no-go of the handover sheet: one hour to read at for each part of the day."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.plan.handover import RELATIVE, Check, Limit, meter

Band = tuple[float | None, float | None]

USUAL_HOUR, NIGHT_HOUR = 13, 4
"""Hours at which a place is read that no need asks for: early afternoon, and before dawn."""


@dataclass(frozen=True, slots=True)
class Decision:
    """One reading of a check: at which full ``hour`` in which ``season``, the value ``expected`` and
    the readings that mean ``go`` (None where the plan itself misses the need, so that none does),
    the ``need`` held and what is ``no_go`` below its low and above its high end, the meter's own
    uncertainty allowed for; all in SI. ``needs`` what asks for it."""

    check: Check
    season: str
    hour: int
    expected: float
    go: tuple[float, float] | None
    need: Band
    no_go: Band
    needs: tuple[Limit, ...]


def middle_hour(hours: tuple[int, ...]) -> int:
    """The middle of hours that may run across midnight."""
    ordered = sorted(hours)
    if not ordered:
        return USUAL_HOUR
    gaps = [(ordered[i] - ordered[i - 1]) % 24 for i in range(len(ordered))]
    first = max(range(len(ordered)), key=lambda i: gaps[i]) if len(ordered) > 1 else 0
    turned = ordered[first:] + ordered[:first]
    return turned[len(turned) // 2]


def decisions(check: Check, season: str) -> tuple[Decision, ...]:
    """The readings of a check on a season's day: one for each part of the day in which something is
    needed, or two where nothing is; readings of the same hour once."""
    hours = [middle_hour(dict(x.hours).get(season, ())) for x in check.limits]
    if not hours:
        hours = [USUAL_HOUR] if check.quantity in RELATIVE else [USUAL_HOUR, NIGHT_HOUR]
    return tuple(_decision(check, season, hour) for hour in dict.fromkeys(hours))


def _decision(check: Check, season: str, hour: int) -> Decision:
    low, high = check.need(season, hour)
    least, most = check.band(season, hour)
    at_least = least if low is None else max(least, low)
    at_most = most if high is None else min(most, high)
    return Decision(
        check, season, hour, check.value(season, hour),
        (at_least, at_most) if at_least <= at_most else None, (low, high),
        (None if low is None else low - meter(check.quantity, low),
         None if high is None else high + meter(check.quantity, high)),
        tuple(x for x in check.limits if x.covers(season, hour)),
    )  # fmt: skip
