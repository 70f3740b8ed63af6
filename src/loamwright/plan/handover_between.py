"""A handover between winter and summer: how far the day lies from either, and the bands of both."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from loamwright.engine.life.plants_year import CALENDAR, MIDWINTER
from loamwright.plan.handover import Check
from loamwright.plan.handover_limits import Decision, decisions

WINTER, SUMMER = "winter", "summer"

NEAR = 0.1
"""A day no further than this from a season's own counts as that season's [1 of the way]."""


@dataclass(frozen=True, slots=True)
class Season:
    """The ``day`` of a handover as it is told, and how far it lies from midwinter to midsummer
    (``share``, 0 to 1)."""

    day: str
    share: float

    @property
    def near(self) -> str:
        """The season that is nearer."""
        return SUMMER if self.share >= 0.5 else WINTER

    @property
    def between(self) -> bool:
        """Whether it lies too far from both for one season's values to hold."""
        return NEAR < self.share < 1.0 - NEAR


def season_of(day: str, number: int, latitude: float | None = None) -> Season:
    """Where a day lies between the seasons, told as ``day``, by its ``number`` in the year (from 1 on):
    the yearly wave of a cosine from the middle of January on, half a year later south of the equator
    (``latitude`` [rad] below 0)."""
    year = CALENDAR[1]
    south = 0.5 * year if (latitude or 0.0) < 0.0 else 0.0
    since = number - MIDWINTER + south
    return Season(day, 0.5 * (1.0 - math.cos(2.0 * math.pi * since / year)))


def between(check: Check, season: Season) -> tuple[Decision, ...]:
    """The readings of a check on a day between the seasons.

    Needs and hours are those of the nearer season; readings that fit reach from the lower end of both
    seasons' bands to the upper one. The season's own readings where it is near enough, or where the
    other one is not known.
    """
    far_one = WINTER if season.near == SUMMER else SUMMER
    if season.near not in check.seasons:
        return decisions(check, far_one) if far_one in check.seasons else ()
    near = decisions(check, season.near)
    if not season.between or far_one not in check.seasons:
        return near
    far = list(decisions(check, far_one))
    out = []
    for d in near:
        other = next((x for x in far if _alike(x, d)), None)
        if other is None:
            fit = [check.band(far_one, hour) for hour in d.hours]
            ends = tuple(math.fsum(b[k] for b in fit) / len(fit) for k in (0, 1))
            value = math.fsum(check.value(far_one, h) for h in d.hours) / len(d.hours)
        else:
            far.remove(other)
            ends, value = other.fit, other.expected
        share = season.share if season.near == SUMMER else 1.0 - season.share
        out.append(replace(
            d, season=f"{WINTER} to {SUMMER}",
            expected=share * d.expected + (1.0 - share) * value,
            fit=(min(d.fit[0], ends[0]), max(d.fit[1], ends[1])),
            span=(min(d.expected, value), max(d.expected, value)),
        ))  # fmt: skip
    return tuple(out)


def _alike(one: Decision, other: Decision) -> bool:
    """Whether two seasons' readings are of the same part of the day."""
    if one.window or other.window:
        return one.window == other.window and (len(one.hours) > 1) == (len(other.hours) > 1)
    return one.hours == other.hours


def told_of(checks: Iterable[Check], season: Season) -> tuple[str, ...]:
    """The seasons whose values a sheet of the day tells: one, or both together; none where they are
    not known."""
    known = {s for c in checks for s in c.seasons}
    if season.between and {WINTER, SUMMER} <= known:
        return (WINTER, SUMMER)
    other = WINTER if season.near == SUMMER else SUMMER
    return next(((s,) for s in (season.near, other) if s in known), ())
