"""The handover sheet as tables: what to measure, when it means go, and the values hour by hour."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.plan.handover import HOURS, INSTRUMENTS, Check
from loamwright.plan.handover_limits import Band, Decision, decisions
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean

BOX = "□"
"""Where a tick goes."""

ACROSS = 6
"""Places side by side in one table of hours."""


def value(quantity: str, number: float, system: str) -> str:
    """A bare value in the unit it is read in."""
    return quantities.number(quantity, quantities.shown(quantity, number, system))


def band_words(quantity: str, band: Band | None, system: str) -> str:
    """A band of readings without its unit: ``24.5 – 27.9``; ``none`` where there is none."""
    if band is None:
        return "none"
    low, high = (None if x is None else value(quantity, x, system) for x in band)
    if low is not None and high is not None:
        return f"{low} – {high}"
    if low is not None:
        return f"from {low}"
    return f"up to {high}" if high is not None else "any"


def head(quantity: str, system: str) -> str:
    """A quantity with its unit: ``air temperature, °C``."""
    unit = quantities.unit(quantity, system)
    named = quantities.NAMES[quantity]
    return f"{named}, {unit}" if unit else named


def places_table(checks: Sequence[Check], system: str = "metric") -> Table:
    """What is measured where, by the name of each measurement."""
    rows = [
        (c.name, clean(c.site, 50), head(c.quantity, system),
         "" if c.at is None else quantities.place(c.at, system).strip("[]"))
        for c in checks
    ]  # fmt: skip
    return Table(
        "What to measure", ("name", "place", "what", "x, y, z"), tuple(rows),
        note="The name is the same for ever for this habitat, place and quantity; its last character "
        "checks the others. The logbook takes readings by it.",
    )  # fmt: skip


def instruments_table(checks: Sequence[Check]) -> Table:
    """What each quantity is measured with."""
    used = dict.fromkeys(c.quantity for c in checks)
    rows = [(quantities.NAMES[q], clean(INSTRUMENTS[q], 100)) for q in used]
    return Table("Instruments", ("what", "with, and how well"), tuple(rows),
                 note="Common practice; the maker's sheet of your meter decides.")  # fmt: skip


def _outside(quantity: str, band: Band, system: str) -> tuple[str, str]:
    """Readings below and above which it is no-go, empty where there is none."""
    low, high = band
    return (
        "" if low is None or low <= 0.0 else value(quantity, low, system),
        "" if high is None else value(quantity, high, system),
    )


DECIDES = (
    "Go: inside what is needed and what was computed, two standard uncertainties wide. No-go: outside "
    "the need by more than the meter errs. Wait: anything between; find out why, set right, read "
    "again. Means are of readings every hour, as a logger takes them. Where go is none, or what is "
    "expected lies outside of it, the plan itself misses the need or barely meets it: mend it first. "
    "One no-go keeps the animals out."
)
"""What go, wait and no-go mean, told beside the first table."""


def limits_tables(checks: Sequence[Check], season: str, system: str = "metric") -> list[Table]:
    """Go, wait and no-go on one season's day, a table for each quantity, with room for the reading
    and ticks."""
    by_quantity: dict[str, list[Check]] = {}
    for c in checks:
        if season in c.seasons:
            by_quantity.setdefault(c.quantity, []).append(c)
    out: list[Table] = []
    for quantity, found in by_quantity.items():
        rows = [_limit_row(d, system) for c in found for d in decisions(c, season)]
        title = head(quantity, system)
        out.append(Table(
            f"{title[0].upper()}{title[1:]}: on a {clean(season)} day",
            ("name", "place", "at", "expected", "go", "no-go\nbelow", "no-go\nabove", "read",
             "tick:\ngo", "\nwait", "\nno-go"),
            tuple(rows), right=frozenset({2, 3, 5, 6}), note="" if out else DECIDES,
        ))  # fmt: skip
    return out


MEAN_OF = {"day": "day's mean", "dark": "night's mean", "always": "24 h mean"}
"""Parts of the day over which readings are averaged."""


def when_words(d: Decision) -> str:
    """When a reading is taken: ``13:00``, or the mean of a part of the day."""
    return f"{d.hours[0]:02d}:00" if len(d.hours) == 1 else MEAN_OF[d.window]


def _limit_row(d: Decision, system: str) -> tuple[str, ...]:
    q = d.check.quantity
    return (
        d.check.name, clean(d.check.site, 50), when_words(d), value(q, d.expected, system),
        band_words(q, d.go, system), *_outside(q, d.no_go, system), "____",
        BOX, BOX, BOX,
    )  # fmt: skip


def hours_tables(checks: Sequence[Check], season: str, system: str = "metric") -> list[Table]:
    """The band of readings that fit, hour by hour, a few places side by side."""
    by_quantity: dict[str, list[Check]] = {}
    for c in checks:
        if season in c.seasons and not c.mean_of:
            by_quantity.setdefault(c.quantity, []).append(c)
    out = []
    for quantity, found in by_quantity.items():
        for at in range(0, len(found), ACROSS):
            some = found[at : at + ACROSS]
            rows = [
                (f"{hour:02d}:00",
                 *(band_words(quantity, c.band(season, hour), system) for c in some))
                for hour in range(HOURS)
            ]  # fmt: skip
            title = head(quantity, system)
            out.append(Table(
                f"{title[0].upper()}{title[1:]} by hour, {clean(season)} day",
                ("", *(clean(c.site, 20).replace(" ", "\n", 1) for c in some)), tuple(rows),
                right=frozenset(range(len(some) + 1)), tight=True,
            ))  # fmt: skip
    return out


def handover_tables(
    checks: Sequence[Check], season: str | None = None, system: str = "metric"
) -> list[Table]:
    """Everything of the handover sheet.

    Parameters
    ----------
    checks : sequence of Check
        The measurements.
    season : str, optional
        The season whose day is expected; every season that was computed when left out.
    system : str
        Units people are shown.
    """
    if not checks:
        return []
    seasons = [season] if season else list(checks[0].seasons)
    out = [places_table(checks, system), instruments_table(checks)]
    for one in seasons:
        out += [*limits_tables(checks, one, system), *hours_tables(checks, one, system)]
    return out
