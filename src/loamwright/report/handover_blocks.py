"""The handover sheet as tables: what to measure, when it means go, and the values hour by hour."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.plan.handover import HOURS, INSTRUMENTS, Check
from loamwright.plan.handover_between import Season, between, told_of
from loamwright.plan.handover_ground import GroundCheck
from loamwright.plan.handover_limits import Band, Decision, decisions
from loamwright.plan.instruments import LOGGER, fewer_words, logged_places
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.money_words import in_system
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


def instruments_table(checks: Sequence[Check], system: str = "metric") -> Table:
    """What each quantity is measured with."""
    used = dict.fromkeys(c.quantity for c in checks)
    rows = [(quantities.NAMES[q], clean(in_system(INSTRUMENTS[q], system), 100)) for q in used]
    logged = logged_places(checks)
    if logged:
        count = "one place" if len(logged) == 1 else f"{len(logged)} places"
        fewer = fewer_words(len(logged))
        rows.append((f"by night and means, at {count}", in_system(LOGGER, system) + "; one at each"
                     + (f", or {fewer}" if fewer else "")))  # fmt: skip
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
    "again. Hours of the night are read off the logger that lay there; means are of its readings at "
    "every full hour. Where go is none, or what is expected lies outside of it, the plan itself misses "
    "the need or barely meets it: mend it first. One no-go keeps the animals out."
)
"""What go, wait and no-go mean, told beside the first table."""


def limits_tables(checks: Sequence[Check], season: str, system: str = "metric") -> list[Table]:
    """Go, wait and no-go on one season's day, a table for each quantity, with room for the reading
    and ticks."""
    held = [d for c in checks if season in c.seasons for d in decisions(c, season)]
    return _limits_tables(held, f"on a {clean(season)} day", system)


def between_tables(checks: Sequence[Check], season: Season, system: str = "metric") -> list[Table]:
    """The same on the day of the handover, between the seasons."""
    held = [d for c in checks for d in between(c, season)]
    return _limits_tables(held, f"on {season.day}", system)


def between_words(checks: Sequence[Check], season: Season) -> str:
    """What is said of the season in which the handover falls."""
    told = told_of(checks, season)
    way = (
        f"Planned for {season.day}, {100.0 * season.share:.0f} % of the way from midwinter to "
        "midsummer. Values are computed for a typical winter day and a typical summer day"
    )
    if len(told) > 1:
        way += (
            "; between them they lie between. So what is expected is told from the lower to the "
            "higher of both, and go reaches from the lower end of both bands to the upper one."
        )
    elif told:
        way += f": those of the {told[0]} day are told."
    else:
        way += "."
    return (
        f"{way} At another time of the year hold readings against that season's own limits, which the "
        "list beside this pack has (handover.csv)."
    )


def _limits_tables(held: Sequence[Decision], when: str, system: str) -> list[Table]:
    by_quantity: dict[str, list[Decision]] = {}
    for d in held:
        by_quantity.setdefault(d.check.quantity, []).append(d)
    out: list[Table] = []
    for quantity, found in by_quantity.items():
        rows = [_limit_row(d, system) for d in found]
        title = head(quantity, system)
        out.append(Table(
            f"{title[0].upper()}{title[1:]}: {when}",
            ("name", "place", "at", "expected", "go", "no-go\nbelow", "no-go\nabove", "read",
             "tick:\ngo", "\nwait", "\nno\u2011go"),
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
        d.check.name, clean(d.check.site, 50), when_words(d), _expected(d, system),
        band_words(q, d.go, system), *_outside(q, d.no_go, system), "____",
        BOX, BOX, BOX,
    )  # fmt: skip


def _expected(d: Decision, system: str) -> str:
    """The value expected, or from the lower to the higher of two seasons."""
    q = d.check.quantity
    if d.span is None:
        return value(q, d.expected, system)
    low, high = (value(q, x, system) for x in d.span)
    return low if low == high else f"{low} – {high}"


EXPECT = (
    "Ranges by the hour are what to expect at that hour, two standard uncertainties wide. They are no "
    "limits: limits are go, wait and no-go."
)
"""What the tables of hours are, said under the first of them."""

FELT = {
    ("top", True): ("moist or dry, loose, crumbles, no drop when squeezed hard",
                    "shining wet, or drips when squeezed"),
    ("top", False): ("dry to the touch, crumbles, no drop when squeezed hard",
                     "wet, shining, or drips"),
    ("middle", True): ("cool and moist, a handful keeps its shape, one drop at most when squeezed",
                       "dusty dry, or water runs out of it; smells sour"),
    ("middle", False): ("barely moist: cool, a handful clings and falls apart when poked; no drop",
                        "dusty dry right to the floor, or a drop when squeezed; smells sour"),
}  # fmt: skip
"""What a handful says by where it is from and whether the ground is meant to be damp: go, and no-go;
common practice, no source."""

OF = {"top": ("air_filled_porosity", "air"), "middle": ("water_content", "water")}
"""What is wanted of a handful by volume."""


def felt_table(checks: Sequence[GroundCheck], system: str = "metric") -> Table:
    """Handfuls of ground beneath the probes: looked at, felt, squeezed."""
    rows = []
    for c in checks:
        go, no_go = FELT[c.part, c.damp]
        if c.band != (None, None):
            quantity, what = OF[c.part]
            unit = quantities.unit(quantity, system)
            go += f" ({band_words(quantity, c.band, system)} {unit} {what} by volume)"
        rows.append((f"below '{clean(c.site, 40)}'", quantities.length(c.depth, system), go, no_go,
                     BOX, BOX, BOX))  # fmt: skip
    return Table(
        "Ground: look, feel, squeeze",
        ("place", "under the\nsurface", "go", "no-go", "tick:\ngo", "\nwait", "\nno-go"), tuple(rows),
        right=frozenset({1}),
        note="A handful each, with the litter pushed aside and laid back. Anything between go and "
        "no-go: wait, water or let it dry, look again. Common practice, no source.",
    )  # fmt: skip


def hours_tables(checks: Sequence[Check], season: str, system: str = "metric") -> list[Table]:
    """The band of readings that fit, hour by hour, a few places side by side; what is left over of
    several quantities stands together."""
    by_quantity: dict[str, list[Check]] = {}
    for c in checks:
        if season in c.seasons and not c.mean_of:
            by_quantity.setdefault(c.quantity, []).append(c)
    full: list[list[Check]] = []
    rest: list[Check] = []
    for found in by_quantity.values():
        whole = len(found) // ACROSS * ACROSS
        full += [found[at : at + ACROSS] for at in range(0, whole, ACROSS)]
        rest += found[whole:]
    groups = full + [rest[at : at + ACROSS] for at in range(0, len(rest), ACROSS)]
    return [_hours(some, season, system, "" if n else EXPECT) for n, some in enumerate(groups)]


def _hours(some: Sequence[Check], season: str, system: str, note: str) -> Table:
    """One table of hours; columns of several quantities say which."""
    quantities_here = list(dict.fromkeys(c.quantity for c in some))
    title = " and ".join(head(q, system) for q in quantities_here)
    several = len(quantities_here) > 1
    heads = []
    for c in some:
        name = clean(c.site, 20).replace(" ", "\n", 1)
        heads.append(
            f"{name}\n{head(c.quantity, system).replace(', ', chr(10))}" if several else name
        )
    rows = [
        (f"{hour:02d}:00",
         *(band_words(c.quantity, c.band(season, hour), system) for c in some))
        for hour in range(HOURS)
    ]  # fmt: skip
    return Table(
        f"{title[0].upper()}{title[1:]} by hour, {clean(season)} day", ("", *heads), tuple(rows),
        right=frozenset(range(len(some) + 1)), tight=True, note=note,
    )  # fmt: skip


def handover_tables(
    checks: Sequence[Check], season: str | None = None, system: str = "metric",
    day: Season | None = None, felt: Sequence[GroundCheck] = (),
) -> list[Table]:  # fmt: skip
    """Everything of the handover sheet.

    Parameters
    ----------
    checks : sequence of Check
        The measurements.
    season : str, optional
        The season whose day is expected; every season that was computed when left out.
    system : str
        Units people are shown.
    day : Season, optional
        The day of the handover, whose limits stand in place of the seasons' own.
    felt : sequence of GroundCheck
        Handfuls of ground.
    """
    if not checks:
        return []
    seasons = [season] if season else list(checks[0].seasons)
    out = [places_table(checks, system), instruments_table(checks, system)]
    if day is not None:
        out += between_tables(checks, day, system)
    if felt:
        out.append(felt_table(felt, system))
    for one in seasons:
        if day is None:
            out += limits_tables(checks, one, system)
        out += hours_tables(checks, one, system)
    return out
