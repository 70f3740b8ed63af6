"""The handover sheet: what is measured where, what should be read, and what the reading decides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.findings import ENGINE_AIR, ENGINE_HUMIDITY, RISE_SPREAD
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.windows import LIVED, cooled, day, middle_of_day, night, sites_for
from loamwright.engine.findings import Finding
from loamwright.engine.light.values import LightResult, spread_of
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.plan.identifiers import identifier

HOURS = 24

BODY = "operative_temperature"
"""What a resting body of the animal's size and colour comes to at a place."""

INSTRUMENTS = {
    "air_temperature": "thermometer with a small shaded probe, ±0.5 K",
    "humidity": "hygrometer checked over salt, ±3 points",
    "surface_temperature": "contact probe, or infrared with emissivity 0.95, ±1 K",
    BODY: "probe inside a closed, hollow model of the animal's size and colour, laid where it basks, "
          "±1 K",
    "uvi": "UV index meter, held toward the brightest direction, ±10 %",
    "ppfd": "quantum sensor, level, ±5 %",
}  # fmt: skip
"""What each quantity is measured with, and how well; common practice, makers' sheets decide."""

METER = {
    "air_temperature": 0.5, "surface_temperature": 1.0, BODY: 1.0, "humidity": 0.03, "uvi": 0.10,
    "ppfd": 0.05,
}  # fmt: skip
"""Standard uncertainty of such an instrument: [K], [K], [1], and of light the share of the reading."""

FACING = {"uvi": "brightest", "ppfd": "up"}
RELATIVE = frozenset({"uvi", "ppfd"})
"""Quantities of light: the meter's uncertainty is a share of the reading."""

WINDOWS = {
    "basking-surface": "midday", "body-warm": "midday", "air-warm": "midday", "air-cool": "midday",
    "night-air": "night", "humidity-day": "day", "humidity-night": "dark", "plant-cold": "dark",
    "plant-heat": "day", "plant-humidity": "always", "own-need": "midday", "uv-basking": "lit",
    "uv-retreat": "lit", "plant-light": "lit",
}  # fmt: skip
"""Part of the day in which the need behind a finding is held, by the finding's need."""


ROOM = "the room"
"""Where the room itself is read: in front of the box, in shade."""

ROOM_SPREAD = {"air_temperature": 1.0, "humidity": 0.05}
"""How far the room may be off what the file says for the sheet to hold, as a standard uncertainty
[K], [1]; common practice, no source."""

MEANS = frozenset({"humidity-day", "humidity-night", "plant-cold", "plant-heat", "plant-humidity"})
"""Needs that are held to the mean of their part of the day, as the finding behind them is."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One need held at a place: ``need`` and ``about`` as in the finding, ``low`` and ``high`` in SI
    (None where open), the part of the day (``window``) and by season the ``hours`` it covers; ``mean``
    True where it is held to the mean of those hours and not to each."""

    need: str
    about: str
    low: float | None
    high: float | None
    window: str
    hours: tuple[tuple[str, tuple[int, ...]], ...]
    mean: bool = False

    def covers(self, season: str, hour: int) -> bool:
        """True where the need is held at an hour of a season's day, by itself."""
        return not self.mean and hour in dict(self.hours).get(season, ())


Reaches = tuple[tuple[str, tuple[tuple[float, float], ...]], ...]
"""By season the lowest and highest reading of each full hour, 24 long [SI]."""


@dataclass(frozen=True, slots=True)
class Check:
    """One measurement: ``name`` its identifier, where (``site``, ``at`` [m], ``role``), what
    (``quantity``, with what ``instrument``), by season the value ``expected`` at each full hour and
    its standard uncertainty ``spread``, the meter's included, both in SI and 24 long; ``limits``
    the needs held there; ``mean_of`` the sites whose readings are averaged, where a need is held to
    the mean of an animal's places (``at`` is None then); ``reach`` the lowest and highest readings
    that what is computed within an hour allows, by season (empty: not known)."""

    name: str
    site: str
    at: Vec3 | None
    role: str
    quantity: str
    instrument: str
    expected: tuple[tuple[str, tuple[float, ...]], ...]
    spread: tuple[tuple[str, tuple[float, ...]], ...]
    limits: tuple[Limit, ...]
    mean_of: tuple[str, ...] = ()
    reach: Reaches = ()

    def value(self, season: str, hour: int) -> float:
        """The value to be expected at an hour [SI]."""
        return dict(self.expected)[season][hour]

    def band(self, season: str, hour: int) -> tuple[float, float]:
        """Readings that fit what was computed: within two standard uncertainties, and no further
        than the reach of that hour [SI]."""
        value, give = self.value(season, hour), 2.0 * dict(self.spread)[season][hour]
        low, high = value - give, value + give
        if season in (reach := dict(self.reach)):
            low, high = max(low, reach[season][hour][0]), min(high, reach[season][hour][1])
        if self.quantity in ("humidity", *RELATIVE):
            low = max(0.0, low)
        return low, min(1.0, high) if self.quantity == "humidity" else high

    @property
    def seasons(self) -> tuple[str, ...]:
        """Seasons whose day is known."""
        return tuple(season for season, _ in self.expected)


def meter(quantity: str, reading: float) -> float:
    """Standard uncertainty of the instrument at a reading [SI]."""
    return METER[quantity] * (abs(reading) if quantity in RELATIVE else 1.0)


def handover_checks(
    habitat: Habitat, days: Mapping[str, ClimateRun], light: LightResult | None,
    findings: Iterable[Finding],
) -> tuple[Check, ...]:  # fmt: skip
    """Every measurement of the handover: at each probe air and humidity, and at each site what a need
    of warmth, damp or light is held to there.

    A need that is held to the mean of an animal's places has a check of its own: the mean of the
    readings there. The room comes first: the sheet holds for the room that the file describes.
    """
    wanted: dict[tuple[str, str, str], list[Finding]] = {}
    means: dict[tuple[str, str], list[Finding]] = {}
    for site in habitat.sites:
        if site.role == "probe":
            for quantity in ("air_temperature", "humidity"):
                wanted.setdefault((site.name, quantity, ""), [])
    names = {s.name for s in habitat.sites}
    for told in findings:
        finding = _as_measured(told, light)
        if finding.quantity not in INSTRUMENTS or finding.need not in WINDOWS:
            continue
        if finding.quantity == BODY:
            # What a body comes to depends on the species: it is part of what is measured.
            if finding.site in names:
                wanted.setdefault((finding.site, BODY, finding.about), []).append(finding)
        elif finding.site in names:
            facing = finding.facing if finding.facing != FACING.get(finding.quantity) else ""
            wanted.setdefault((finding.site, finding.quantity, facing), []).append(finding)
        elif places := _places(habitat, finding.about):
            means.setdefault((finding.about, finding.quantity), []).append(finding)
            for name in places:
                wanted.setdefault((name, finding.quantity, ""), [])
    order = {s.name: i for i, s in enumerate(habitat.sites)}
    kinds = list(INSTRUMENTS)
    keys = sorted(wanted, key=lambda k: (order[k[0]], kinds.index(k[1])))
    found = [_check(habitat, days, light, *key, wanted[key]) for key in keys]
    checks = [c for c in found if c is not None]
    averaged = [
        _mean(habitat, days, about, quantity, held, checks)
        for (about, quantity), held in means.items()
    ]
    rooms = _room(habitat, days) if checks else ()
    return (*rooms, *checks, *(c for c in averaged if c is not None))


def _room(habitat: Habitat, days: Mapping[str, ClimateRun]) -> tuple[Check, ...]:
    """Air and humidity of the room by hour, as the runs took them to be."""
    out = []
    for quantity in ("air_temperature", "humidity"):
        made = Made()
        for season, run in days.items():
            hours = _by_hour(run, run.room if quantity == "air_temperature" else run.room_humidity)
            steady = np.full(HOURS, np.hypot(ROOM_SPREAD[quantity], METER[quantity]))
            made.add(season, hours, steady)
        out.append(Check(
            identifier(habitat.name, ROOM, quantity), ROOM, None, "room", quantity,
            INSTRUMENTS[quantity], *made.bands, (), reach=made.reaches,
        ))  # fmt: skip
    return tuple(out)


def _as_measured(finding: Finding, light: LightResult | None) -> Finding:
    """Daily light and illuminance as the plant light that is measured there with all lamps on: the
    same share of what is there as the need is of its own value."""
    if finding.quantity not in ("dli", "lux") or light is None or not finding.value:
        return finding
    number = next((i for i, s in enumerate(light.sites) if s.name == finding.site), None)
    if number is None:
        return finding
    full = light.value(number, "ppfd", finding.facing or FACING["ppfd"])
    low, high = (
        None if x is None else x / finding.value * full for x in (finding.low, finding.high)
    )
    spread = None if finding.uncertainty is None else finding.uncertainty / finding.value * full
    return replace(finding, quantity="ppfd", value=full, low=low, high=high, uncertainty=spread)


def _places(habitat: Habitat, about: str) -> list[str]:
    """The sites an animal lives at; none where it is no animal of the habitat."""
    if about not in {g.species.key for g in habitat.animals}:
        return []
    return [habitat.sites[i].name for i in sites_for(habitat, about, LIVED)]


def _mean(
    habitat: Habitat, days: Mapping[str, ClimateRun], about: str, quantity: str,
    findings: Sequence[Finding], checks: Sequence[Check],
) -> Check | None:  # fmt: skip
    """The mean of the readings at an animal's places; they err together, so its spread is theirs."""
    places = _places(habitat, about)
    there = [c for c in checks if c.quantity == quantity and c.site in places]
    if not there:
        return None

    label = _label(habitat, about)

    def mean(
        tables: list[dict[str, tuple[float, ...]]],
    ) -> tuple[tuple[str, tuple[float, ...]], ...]:
        return tuple(
            (s, tuple(float(x) for x in np.mean([t[s] for t in tables], axis=0)))
            for s in there[0].seasons
        )

    return Check(
        identifier(habitat.name, f"mean of {about}", quantity), f"mean of all places: {label}", None,
        "mean", quantity, "mean of the readings at its places", mean([dict(c.expected) for c in there]),
        mean([dict(c.spread) for c in there]), _limits(habitat, days, findings),
        tuple(c.site for c in there), _mean_reach(there),
    )  # fmt: skip


def _mean_reach(checks: Sequence[Check]) -> Reaches:
    """The mean of the lowest and of the highest readings of places that are read together."""
    if not all(c.reach for c in checks):
        return ()
    tables = [dict(c.reach) for c in checks]
    return tuple(
        (s, tuple((float(a), float(b)) for a, b in np.mean([t[s] for t in tables], axis=0)))
        for s in checks[0].seasons
    )


def _label(habitat: Habitat, about: str) -> str:
    """A species of the habitat as people call it."""
    return next((g.species.label for g in habitat.animals if g.species.key == about), about)


def _limits(
    habitat: Habitat, days: Mapping[str, ClimateRun], findings: Sequence[Finding]
) -> tuple[Limit, ...]:
    """The limits of findings, each once."""
    return tuple(dict.fromkeys(
        Limit(f.need, f.about, f.low, f.high, WINDOWS[f.need],
              tuple((s, _hours(habitat, run, WINDOWS[f.need])) for s, run in days.items()),
              f.need in MEANS)
        for f in findings if (f.low, f.high) != (None, None)
    ))  # fmt: skip


def _check(
    habitat: Habitat, days: Mapping[str, ClimateRun], light: LightResult | None, name: str,
    quantity: str, facing: str, findings: Sequence[Finding],
) -> Check | None:  # fmt: skip
    site = next(s for s in habitat.sites if s.name == name)
    made = (
        _of_light(habitat, days, light, site, quantity, facing or FACING[quantity])
        if quantity in RELATIVE
        else _of_climate(habitat, days, site, quantity, findings, facing)
    )
    if made is None:
        return None
    label = f"{name}, facing {facing}" if facing else name
    if quantity == BODY:
        label = f"{name}, body of {_label(habitat, facing)}"
    return Check(
        identifier(habitat.name, name, f"{quantity} {facing}".rstrip()), label, site.at, site.role,
        quantity, INSTRUMENTS[quantity], *made.bands, _limits(habitat, days, findings),
        reach=made.reaches,
    )  # fmt: skip


Floats = NDArray[np.float64]
Hourly = tuple[tuple[str, tuple[float, ...]], ...]


@dataclass(frozen=True, slots=True)
class Hours:
    """A column about each full hour, each (24,): its ``mean``, standard deviation (``swing``), and
    its ``least`` and ``most``."""

    mean: Floats
    swing: Floats
    least: Floats
    most: Floats


@dataclass(slots=True)
class Made:
    """Hour by hour and season by season: what is expected, how sure that is, how far it can reach."""

    expected: dict[str, tuple[float, ...]] = field(default_factory=dict)
    spread: dict[str, tuple[float, ...]] = field(default_factory=dict)
    reach: dict[str, tuple[tuple[float, float], ...]] = field(default_factory=dict)

    def add(self, season: str, hours: Hours, steady: Floats, *, share: bool = False) -> None:
        """A season's day: ``steady`` is the standard uncertainty of a value that would not change
        within the hour, the meter's included [SI], of light a ``share`` of the value [1]."""
        # A lamp that is switched on within an hour makes that hour's value anything between off and
        # on, but nothing beyond either: the standard deviation alone would allow it.
        if share:
            own, down, up = steady * hours.mean, steady * hours.least, steady * hours.most
        else:
            own = steady
            down, up = (_sure(x, hours.mean, steady) for x in (hours.least, hours.most))
        self.expected[season] = tuple(float(x) for x in hours.mean)
        self.spread[season] = tuple(float(x) for x in np.hypot(own, hours.swing))
        ends = zip(hours.least - 2.0 * down, hours.most + 2.0 * up, strict=True)
        self.reach[season] = tuple((float(a), float(b)) for a, b in ends)

    @property
    def bands(self) -> tuple[Hourly, Hourly]:
        """What is expected and its spread, as a check has them."""
        return tuple(self.expected.items()), tuple(self.spread.items())

    @property
    def reaches(self) -> Reaches:
        """How far readings can reach, as a check has it."""
        return tuple(self.reach.items())


def _sure(ends: Floats, means: Floats, steady: Floats) -> Floats:
    """The standard uncertainty of each hour's least or greatest value: that of such a value between
    the hour and those beside it (24,)."""
    out = []
    for hour, end in enumerate(ends):
        three = sorted((hour + k) % HOURS for k in (-1, 0, 1))
        three.sort(key=lambda h: float(means[h]))
        out.append(float(np.interp(end, means[three], steady[three])))
    return np.array(out)


def _rows(run: ClimateRun) -> NDArray[np.int64]:
    """The rows of a day's 24 full hours, by the clock."""
    rows = run.rows_by_hour[:HOURS]
    return rows[np.argsort(np.round(run.clock[rows]).astype(int) % HOURS, kind="stable")]


def _by_hour(run: ClimateRun, table: Floats) -> Hours:
    """A column (R,) in the hour about each full hour: a thermostat that clicks or a mist that falls
    makes no hour's reading certain."""
    clock, values = run.clock[:-1], table[: len(run.clock) - 1]
    near = [np.abs((clock - hour + 12.0) % 24.0 - 12.0) <= 0.5 for hour in range(HOURS)]
    found = [values[rows] for rows in near]
    return Hours(
        np.array([float(x.mean()) for x in found]), np.array([float(x.std()) for x in found]),
        np.array([float(x.min()) for x in found]), np.array([float(x.max()) for x in found]),
    )  # fmt: skip


def _of_climate(
    habitat: Habitat, days: Mapping[str, ClimateRun], site: Site, quantity: str,
    findings: Sequence[Finding], species: str = "",
) -> Made | None:  # fmt: skip
    """Values by hour from the climate's days; None where the place has none (a surface in free air, a
    body of a ``species`` that nothing is known of)."""
    made = Made()
    told = max((f.uncertainty or 0.0 for f in findings), default=0.0)
    for season, run in days.items():
        column = run.site(site.name)
        table = {
            "air_temperature": run.air,
            "humidity": run.humidity,
            "surface_temperature": run.surface,
            BODY: run.operative.get(species),
        }[quantity]
        if table is None:
            return None
        hours = _by_hour(run, table[:, column])
        if not np.isfinite(hours.mean).all():
            return None
        air = _by_hour(run, run.air[:, column]).mean
        rise = np.abs(air - _by_hour(run, run.room).mean)
        if quantity == "humidity":
            own = np.full(HOURS, ENGINE_HUMIDITY)
        else:
            own = np.hypot(RISE_SPREAD * rise, ENGINE_AIR)
        if quantity in ("surface_temperature", BODY):
            # The finding knows the lamps' spread at midday; at other hours it shrinks with their rise.
            over = np.abs(hours.mean - air)
            most = float(over.max())
            own = np.maximum(own, told * (over / most if most > 0.0 else 0.0))
        made.add(season, hours, np.hypot(own, METER[quantity]))
    return made if made.expected else None


def _of_light(
    habitat: Habitat, days: Mapping[str, ClimateRun], light: LightResult | None, site: Site,
    quantity: str, facing: str,
) -> Made | None:  # fmt: skip
    """Light by hour: each lamp's part times how far it is up at that hour."""
    if light is None:
        return None
    number = next(i for i, s in enumerate(light.sites) if s.name == site.name)
    by_lamp = light.table[facing][quantity][:, number]
    made = Made()
    for season, run in days.items():
        # Both are told at the lamp's own dimming: the run's share is of that.
        shares = [_by_hour(run, run.lamps[:, k]).mean for k in range(len(habitat.lamps))]
        parts = np.array(shares).T.reshape(HOURS, len(habitat.lamps)) * by_lamp[None, :]
        hours = _by_hour(run, run.lamps @ by_lamp)
        own = np.array([spread_of(habitat.lamps, p) for p in parts])
        share = np.divide(own, hours.mean, out=np.zeros(HOURS), where=hours.mean > 0.0)
        made.add(season, hours, np.hypot(share, METER[quantity]), share=True)
    return made if made.expected else None


def _hours(habitat: Habitat, run: ClimateRun, window: str) -> tuple[int, ...]:
    """Full hours of a part of the day."""
    rows = _rows(run)
    chosen: NDArray[np.bool_]
    match window:
        case "midday":
            chosen = middle_of_day(habitat, run)[rows]
        case "day":
            chosen = day(run)[rows]
        case "night":
            chosen = cooled(habitat, run)[rows]
        case "dark":
            chosen = night(habitat, run)[rows]
        case "lit":
            chosen = (run.lamps[rows] > 0.0).any(axis=1) & middle_of_day(habitat, run)[rows]
        case _:
            chosen = np.ones(len(rows), bool)
    return tuple(int(h) for h in np.round(run.clock[rows]).astype(int)[chosen] % HOURS)
