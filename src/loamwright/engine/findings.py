"""Findings: needs held against computed values. Numbers and names only; the edge words them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.sources import Source


class State(StrEnum):
    """How a value stands to its need."""

    MET = "met"
    CLOSE = "close"
    MISSED = "missed"
    NOT_KNOWN = "not_known"


ORDER = {State.MISSED: 0, State.CLOSE: 1, State.NOT_KNOWN: 2, State.MET: 3}


@dataclass(frozen=True, slots=True)
class Cause:
    """One reason behind a value, as data: ``kind`` picks the sentence, the rest fills it.

    Kinds of the light engine: ``lamp_share`` (subject lamp, value share 0..1), ``distance``
    (subject lamp, value m), ``cover`` (subject cover's place, value share let through),
    ``shadow`` (subject piece, value share of the lamp's light it blocks), ``canopy`` (subject plant,
    value share it lets through), ``bounced`` (value share from surfaces), ``dim`` (subject lamp,
    value), ``aged`` (subject lamp, value share left), ``no_number`` (subject field the catalogue
    lacks), ``no_site`` (subject role nobody named), ``no_lamp`` (nothing of this kind shines).
    """

    kind: str
    subject: str = ""
    value: float | None = None


@dataclass(frozen=True, slots=True)
class Cure:
    """A change that would meet the need: ``kind`` ``move`` (subject lamp, ``to`` its new place),
    ``dim`` (subject lamp, ``value`` 0..1) with the ``result`` the engine computed for it."""

    kind: str
    subject: str
    result: float
    to: Vec3 | None = None
    value: float | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """A need held against a value.

    ``need`` stable code (``uv-basking``, ``uv-retreat``, ``uv-steepness``, ``plant-light``,
    ``lamp-distance``, ``uv-maximum``, ``people-uv``, ``own-need``); ``engine`` who says so;
    ``about`` the resident, plant, lamp or ``people``; ``quantity`` a key of `needs.QUANTITIES`;
    ``value``, ``low``, ``high`` in its SI unit, None where there is none; ``uncertainty`` the
    standard uncertainty of the value in the same unit; ``margin`` distance to the nearest limit as a
    share of it, negative outside the band; ``site``/``at`` where; ``when`` e.g. ``lamps on``.
    """

    need: str
    engine: str
    about: str
    quantity: str
    state: State
    source: Source
    value: float | None = None
    low: float | None = None
    high: float | None = None
    uncertainty: float | None = None
    margin: float | None = None
    site: str = ""
    at: Vec3 | None = None
    when: str = ""
    facing: str = ""
    causes: tuple[Cause, ...] = ()
    cure: Cure | None = None


KELVINS = 10.0
"""Margins of temperatures are given as a share of so many kelvins: a limit's own distance from
absolute zero would make them all alike."""


def judge(
    value: float | None,
    low: float | None,
    high: float | None,
    uncertainty: float,
    *,
    kelvin: bool = False,
) -> tuple[State, float | None]:
    """State and margin of a value against a band; ``kelvin`` True for temperatures.

    The margin is the distance to the nearest limit as a share of that limit (of `KELVINS` for a
    temperature, of the value's own uncertainty where the limit is zero), negative outside. *Close*
    means nearer to a limit, on either side, than one standard uncertainty.
    """
    if value is None or (low is None and high is None):
        return State.NOT_KNOWN, None
    gaps: list[tuple[float, float]] = []
    if low is not None:
        gaps.append((value - low, low))
    if high is not None:
        gaps.append((high - value, high))
    gap, limit = min(gaps, key=lambda g: g[0])
    if kelvin:
        margin = gap / KELVINS
    else:
        margin = gap / abs(limit) if limit else gap / uncertainty if uncertainty else gap
    # At least nothing is wanted of what cannot be less: no limit is near, however small it is.
    if low is not None and low <= 0.0 and high is None and gap >= 0.0:
        return State.MET, margin
    if abs(gap) < uncertainty:
        return State.CLOSE, margin
    return (State.MET if gap >= 0 else State.MISSED), margin


def held_against(
    engine: str, need: str, about: str, quantity: str, value: float,
    band: tuple[float | None, float | None], spread: float, source: Source, when: str = "",
    causes: tuple[Cause, ...] = (),
) -> Finding:  # fmt: skip
    """A value with its standard uncertainty ``spread`` held against a band, in SI."""
    state, margin = judge(value, *band, spread, kelvin=quantity.endswith("temperature"))
    return Finding(
        need=need, engine=engine, about=about, quantity=quantity, state=state, source=source,
        value=value, low=band[0], high=band[1], uncertainty=spread, margin=margin, when=when,
        causes=causes,
    )  # fmt: skip


def worst_or_bad(found: list[Finding]) -> list[Finding]:
    """All that are not met, else the one with the smallest margin."""
    bad = [f for f in found if f.state is not State.MET]
    if bad or not found:
        return bad
    return [min(found, key=lambda f: f.margin if f.margin is not None else 0.0)]


def worst_first(findings: list[Finding]) -> list[Finding]:
    """Missed before close before not known before met; within each the smallest margin first."""
    return sorted(
        findings,
        key=lambda f: (ORDER[f.state], f.margin if f.margin is not None else 0.0, f.about, f.site),
    )
