"""The ground's small life held against what it and the residents need."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from loamwright.engine.findings import Cause, Finding, State, held_against
from loamwright.engine.life.decomposers_fauna import MOISTURE
from loamwright.engine.life.decomposers_run import HUNTED_SHARE, hunters_of
from loamwright.engine.life.decomposers_study import WAIT, Found
from loamwright.engine.life.waste import SPREAD
from loamwright.habitat.sources import Source, SourceKind

DAY = 86_400.0

LEAST_LITTER = 0.3
"""Dry litter at planting [kg/m2]; 0.3 to 0.8 are usual, common practice."""

LEAST_INTERVAL = 28.0
"""Days between two layings of leaves that anyone keeps up [d]; common practice."""

WARMTH_SPREAD = 1.0
"""Standard uncertainty of the ground's temperature [K], as that of surfaces."""

WET_SPREAD = 0.07
"""Standard uncertainty of the share of pores filled [1]: that of water content over usual pores."""

MOIST = Source(
    "share of the pores filled in which litter animals of its kind thrive, from memory",
    SourceKind.FROM_MEMORY,
)
GROWN = Source("no fewer than were let in", SourceKind.COMMON_PRACTICE)
WAITING = Source(
    "4 weeks at least, 8 to 12 with rooted trees, until young are seen everywhere",
    SourceKind.COMMON_PRACTICE,
)
BORNE = Source(
    "mineral nitrogen in the water of the soaked ground at most 200 mg/L, the upper end of what plants "
    "in pots do best with, Warncke and Krauskopf, from memory",
    SourceKind.FROM_MEMORY,
)
LAID = Source("300 to 800 g of dry leaves on a square metre",
              SourceKind.COMMON_PRACTICE)  # fmt: skip
KEPT = Source("no oftener than every four weeks", SourceKind.COMMON_PRACTICE)


def decomposer_findings(found: Found | None) -> list[Finding]:
    """All findings of the ground's small life; none where the ground is dry by design."""
    if found is None:
        return []
    out: list[Finding] = []
    for row in range(len(found.community.species)):
        out += [_warmth(found, row), _moisture(found, row), _numbers(found, row)]
    for kind in found.unfollowed:
        out.append(_unknown("decomposer-numbers", kind.key, "density", kind.unknown[0]))
    out += [_ready(found), *_waste(found), *_litter(found)]
    return out


_made = partial(held_against, "decomposers")


def _unknown(need: str, about: str, quantity: str, what: str) -> Finding:
    return Finding(
        need=need, engine="decomposers", about=about, quantity=quantity, state=State.NOT_KNOWN,
        source=GROWN, causes=(Cause("no_number", what),),
    )  # fmt: skip


def _worse(values: tuple[float, float], low: float | None, high: float | None) -> tuple[float, str]:
    """The value of the season nearer to a limit, or further outside."""

    def gap(value: float) -> float:
        gaps = ([value - low] if low is not None else []) + (
            [high - value] if high is not None else []
        )
        return min(gaps, default=0.0)

    at = min((0, 1), key=lambda i: gap(values[i]))
    return values[at], ("winter", "summer")[at]


def _warmth(found: Found, row: int) -> Finding:
    kind = found.community.species[row]
    low, high = kind.temperature_low, kind.temperature_high
    value, season = _worse(found.community.weather.temperature, low, high)
    return _made("decomposer-warmth", kind.key, "surface_temperature", value, (low, high),
                 WARMTH_SPREAD, kind.source_of("temperature_high"), season)  # fmt: skip


def _moisture(found: Found, row: int) -> Finding:
    kind = found.community.species[row]
    _, low, high, _ = MOISTURE[kind.moisture]
    value, season = _worse(found.community.weather.saturation, low, high)
    return _made("decomposer-moisture", kind.key, "saturation", value, (low, high), WET_SPREAD,
                 MOIST, season)  # fmt: skip


def _towards(value: float, limit: float, ends: Sequence[float]) -> float:
    """How unsure a value is towards its limit: the furthest of other outcomes on that side."""
    return value - min(ends) if value >= limit else max(ends) - value


def _numbers(found: Found, row: int) -> Finding:
    """Numbers after a year with the residents against those let in. How sure they are is told by the
    slowest and the quickest growth of the sources, and by hunters that are full or hungry."""
    kind = found.community.species[row]
    ends = [float(r.numbers(row)[-1]) for r in (*found.runs, found.fed, found.hungry)]
    value, started = ends[1], found.community.starters[row]
    spread = _towards(value, started, ends)
    causes = []
    rate = min(found.rates[row])
    causes.append(Cause("grows_by", kind.key, rate))
    hunted = hunters_of(found.community, HUNTED_SHARE).takes
    if hunted and hunted[row]:
        causes.append(Cause("hungry_leave", kind.key, ends[4]))
        causes.append(Cause("fed_leave", kind.key, ends[3]))
    causes += [Cause("hunter_unknown", key) for key in found.unknown]
    return _made("decomposer-numbers", kind.key, "density", value, (started, None), spread, GROWN,
                 "a year after the residents move in", tuple(causes))  # fmt: skip


def _ready(found: Found) -> Finding:
    slow, middle, quick = found.ready
    if middle is None:
        return _made("ground-ready", "habitat", "time", 365.0 * DAY, (None, WAIT * DAY), 7.0 * DAY,
                     WAITING, causes=(Cause("never_ready"),))  # fmt: skip
    last = 365 if slow is None else slow
    first = middle if quick is None else quick
    spread = max(3.0, _towards(-middle, -WAIT, (-last, -first))) * DAY
    return _made("ground-ready", "habitat", "time", middle * DAY, (None, WAIT * DAY), spread,
                 WAITING, causes=(Cause("ready_between", str(last), float(first)),))  # fmt: skip


def _waste(found: Found) -> list[Finding]:
    out = [_unknown("waste-load", key, "waste", "mass") for key in found.unknown]
    if found.carries is None:
        return out
    slow, middle, quick = found.carries
    spread = SPREAD * found.waste + 0.5 * (max(slow, middle, quick) - min(slow, middle, quick))
    causes = [Cause("dung_half", "", found.dung_half_life() * DAY)]
    if found.by_hand:
        causes.insert(0, Cause("by_hand_share", "", found.by_hand))
    out.append(
        _made("waste-load", "habitat", "waste", found.waste, (None, middle), spread, BORNE,
              "the first year", tuple(causes))
    )  # fmt: skip
    return out


def _litter(found: Found) -> list[Finding]:
    floor = found.community.floor
    out = [
        _made("litter-start", "habitat", "litter", floor.litter, (LEAST_LITTER, None),
              0.3 * floor.litter, LAID)
    ]  # fmt: skip
    lasts = [found.litter_lasts(i) for i in range(3)]
    middle = lasts[1]
    if middle is None or lasts[0] is None or lasts[2] is None:
        return out
    causes = [] if floor.told else [Cause("leaf_unknown", floor.leaf_name)]
    spread = 0.5 * abs(min(lasts[0], 3650.0) - min(lasts[2], 3650.0)) * DAY
    out.append(
        _made("litter-lasts", "habitat", "time", min(middle, 3650.0) * DAY,
              (LEAST_INTERVAL * DAY, None), spread, KEPT, "", tuple(causes))
    )  # fmt: skip
    return out
