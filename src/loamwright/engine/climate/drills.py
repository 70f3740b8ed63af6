"""What fails, what follows: each fault run from a settled day, against each resident's limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.network import PASSIVE
from loamwright.engine.climate.plan import DAY_MINUTES, DIMMING, THERMOSTAT, Plan, at_midnight
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.study import Settled, spell
from loamwright.engine.climate.windows import LIVED, SHELTER, sites_for
from loamwright.engine.light.parallel import over_rows
from loamwright.engine.light.record import LightStudy
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source

Floats = NDArray[np.float64]

BEGIN = 9 * 60
"""Minute of the day at which faults begin: the lamps have just come on."""

NIGHTFALL = 19 * 60
"""Minute at which a fault begins that is worst at night."""

LENGTH = 2 * DAY_MINUTES
"""How long a fault is followed [min]."""

EVERY = 5
"""Minutes between rows of a drill."""

HEAT_WAVE = 10.0
"""How far a heat wave lifts a summer room [K]; common practice, no source."""

DOOR_OPEN = 8 * 60
"""How long a door is forgotten [min]: a night."""

POWER_CUT = DAY_MINUTES
"""How long the electricity is off [min]."""

PUMP_LIMIT = 120.0
"""Longest run of the pump that a limiter would allow in an hour [s]; common practice, no source."""

LEAST_HEAT = 10.0
"""A lamp that gives less heat than this to what is inside [W] is no heater."""


@dataclass(frozen=True, slots=True)
class Limit:
    """A resident's limit: ``kind`` ``hot``, ``cold`` or ``dry``, ``value`` in the best place it can
    withdraw to ``of`` its ``body`` or the ``air`` there [K], or of the ``humidity`` [1], with its
    source."""

    species: str
    kind: str
    name: str
    value: float
    source: Source
    of: str = "body"


@dataclass(frozen=True)
class Crossing:
    """When a limit is first passed after the fault began [s] (infinite: never), the furthest that
    comes in the best refuge [K, or 1 for humidity] with the place and hours after the fault; ``usual``
    True where the limit is passed without the fault as well; ``of`` what was followed, the air for a
    body that cannot be computed."""

    limit: Limit
    time: float
    peak: float
    site: str
    hours: float
    usual: bool = False
    of: str = "body"


@dataclass(frozen=True)
class Drill:
    """One fault: ``key`` and ``subject``, when and for how long it lasts [min], the run that follows,
    what each limit does, water [kg] and electricity [J] against the same span without the fault,
    and ``protection`` that would have kept every limit (tried by the engine: ``held``)."""

    key: str
    subject: str
    season: str
    begin: int
    lasts: int
    run: ClimateRun
    crossings: tuple[Crossing, ...]
    hottest: tuple[float, str, float]
    coldest: tuple[float, str, float]
    water: float
    water_usual: float
    electricity: float
    electricity_usual: float
    protection: str = ""
    held: bool | None = None
    protected: tuple[Crossing, ...] = field(default=())

    @property
    def first(self) -> Crossing | None:
        """The limit that is passed first because of the fault, if any is."""
        passed = [c for c in self.crossings if math.isfinite(c.time) and not c.usual]
        return min(passed, key=lambda c: c.time) if passed else None


def limits_of(species: Species) -> list[Limit]:
    """What a species bears, as far as it is known: hot and cold, nearest first; of heat the air it
    wants where nothing is known of its body, and for amphibians the least humidity they want."""
    out: list[Limit] = []
    for kind, name, value in (
        ("hot", "voluntary_max", species.voluntary_max),
        ("hot", "critical_max", species.critical_max),
        ("cold", "night", species.night[0]),
        ("cold", "critical_min", species.critical_min),
    ):
        if value is not None:
            out.append(Limit(species.key, kind, name, value, species.source_of(name)))
    if not any(x.kind == "hot" for x in out):
        for name, value, of in (
            ("preferred_body", species.preferred_body[1], "body"),
            ("air_warm", species.air_warm, "air"),
        ):
            if value is not None:
                out.insert(0, Limit(species.key, "hot", name, value, species.source_of(name), of))
                break
    damp = species.humidity_day[0]
    if damp is not None and species.animal_class == "Amphibia":
        source = species.source_of("humidity_day")
        out.append(Limit(species.key, "dry", "humidity_day", damp, source, "humidity"))
    return out


def crossing(habitat: Habitat, run: ClimateRun, limit: Limit) -> Crossing | None:
    """What a limit does in a run; None where no resident's place is known."""
    bodies = run.operative.get(limit.species) if limit.of == "body" else None
    of = "air" if limit.of == "body" and bodies is None else limit.of
    table = bodies if bodies is not None else run.humidity if of == "humidity" else run.air
    roles = SHELTER if limit.kind == "hot" else LIVED
    places = sites_for(habitat, limit.species, roles) or sites_for(habitat, limit.species, LIVED)
    if not places:
        return None
    here = table[:, places]
    if limit.kind == "hot":
        best, row_site = here.min(axis=1), here.argmin(axis=1)
        row = int(best.argmax())
        over = best > limit.value
    else:
        best, row_site = here.max(axis=1), here.argmax(axis=1)
        row = int(best.argmin())
        over = best < limit.value
    first = float(run.hours[int(over.argmax())]) * 3600.0 if over.any() else math.inf
    site = habitat.sites[places[int(row_site[row])]].name
    return Crossing(limit, first, float(best[row]), site, float(run.hours[row]), of=of)


def _extreme(run: ClimateRun, places: list[int], *, hot: bool) -> tuple[float, str, float]:
    """Hottest surface or coldest air at the residents' places [K], where, hours after the start."""
    table = np.where(np.isfinite(run.surface), np.maximum(run.surface, run.air), run.air)
    table = table[:, places] if hot else run.air[:, places]
    flat = int(table.argmax() if hot else table.argmin())
    row, column = divmod(flat, table.shape[1])
    return float(table[row, column]), run.sites[places[column]], float(run.hours[row])


@dataclass(frozen=True)
class Fault:
    """A fault to run: the plan with it in, when it begins and how long it lasts [min], and the plan
    with the protection in (None: none is tried)."""

    key: str
    subject: str
    season: str
    begin: int
    lasts: int
    plan: Plan
    protection: str = ""
    protected: Plan | None = None


def _set(array: Floats, index: int, value: float) -> Floats:
    out = array.copy()
    out[index] = value
    return out


def faults_of(habitat: Habitat, built: Built, plans: Mapping[str, Plan]) -> list[Fault]:
    """Every fault this habitat can have; ``plans`` by season."""
    out: list[Fault] = []
    net = built.net
    heat = net.lit.sum(axis=1) + net.body_power * (net.air_heat.sum(axis=1) > 0.0)

    def add(
        key: str, subject: str, season: str, begin: int, lasts: int, protection: str = "",
        guard: dict[str, Any] | None = None, **changes: Any,
    ) -> None:  # fmt: skip
        span: dict[str, Any] = {"fault_from": begin, "fault_to": begin + lasts}
        plan = plans[season]._replace(**span, **changes)
        safe = plan._replace(**guard) if guard is not None else None
        out.append(Fault(key, subject, season, begin, lasts, plan, protection, safe))

    for c, control in enumerate(habitat.controls):
        summer, winter = plans["summer"], plans["winter"]
        if summer.kind[c] in (THERMOSTAT, DIMMING):
            own = control.cut_out is not None
            cut = control.cut_out if own else control.high + 4.0
            guard = None if own else {"cut": _set(summer.cut, c, float(cut or 0.0))}
            what = "own-cut-out" if own else "cut-out"
            add("stuck-on", control.name, "summer", BEGIN, LENGTH, what, guard,
                stuck=_set(summer.stuck, c, 1.0))  # fmt: skip
            add(
                "stuck-off", control.name, "winter", BEGIN, LENGTH, stuck=_set(winter.stuck, c, 0.0)
            )
    for k, lamp in enumerate(habitat.lamps):
        if heat[k] >= LEAST_HEAT:
            plan = plans["winter"]
            add("lamp-out", lamp.name, "winter", BEGIN, LENGTH,
                lamp_fault=_set(plan.lamp_fault, k, 0.0))  # fmt: skip
    for p, path in enumerate(built.paths):
        if path.kind != PASSIVE:
            plan = plans["summer"]
            add("fan-stopped", path.owner, "summer", BEGIN, LENGTH,
                fan_fault=_set(plan.fan_fault, p, 0.0))  # fmt: skip
    if habitat.mist is not None and habitat.mist.nozzles:
        rows = plans["winter"].mist
        limit = np.full(len(rows), PUMP_LIMIT / 3600.0)
        add("mist-stuck-on", "pump", "winter", BEGIN, LENGTH, "pump-limit",
            {"mist_fault": float(limit[0])}, mist_fault=1.0)  # fmt: skip
        add("mist-off", "pump", "summer", BEGIN, LENGTH, mist_fault=0.0)
        add("tank-empty", "tank", "summer", 0, LENGTH, tank=0.0)
    add("power-cut", "", "winter", NIGHTFALL, POWER_CUT, dead=True)
    add("heat-wave", "", "summer", BEGIN, LENGTH, room_rise=HEAT_WAVE)
    doors = [p for p, path in enumerate(built.paths) if path.door]
    if doors:
        plan = plans["winter"]
        open_ = plan.fan_fault.copy()
        open_[doors] = 1.0
        add("door-open", built.paths[doors[0]].owner, "winter", NIGHTFALL, DOOR_OPEN,
            fan_fault=open_)  # fmt: skip
    return out


def drill_all(
    habitat: Habitat, study: LightStudy, built: Built, settled: Mapping[str, Settled],
    faults: list[Fault], told: Callable[[Fault], None] = lambda _: None,
) -> list[Drill]:  # fmt: skip
    """Run faults, several at a time, each from its season's settled day beside the same spell without
    it. ``told`` is called with each fault that is done, and may end the work by raising."""
    begins = list({(f.season, f.begin): f for f in faults}.values())
    starts: dict[tuple[str, int], Settled] = {}
    usual: dict[tuple[str, int], ClimateRun] = {}
    found: dict[int, Drill] = {}

    def begin(low: int, high: int) -> None:
        for fault in begins[low:high]:
            day = settled[fault.season]
            start = _state_at(habitat, study, built, day, fault.begin)
            starts[fault.season, fault.begin] = start
            usual[fault.season, fault.begin] = _follow(
                habitat, study, built, start, day.plan, fault, ""
            )

    def follow(low: int, high: int) -> None:
        for number in range(low, high):
            fault = faults[number]
            where = fault.season, fault.begin
            found[number] = drill(habitat, study, built, starts[where], usual[where], fault)
            told(fault)

    over_rows(len(begins), 1, begin)
    over_rows(len(faults), 1, follow)
    return [found[k] for k in range(len(faults))]


def drill(
    habitat: Habitat, study: LightStudy, built: Built, start: Settled, usual: ClimateRun,
    fault: Fault,
) -> Drill:  # fmt: skip
    """Run one fault from the state at its beginning; ``usual`` is the same spell without it."""
    run = _follow(habitat, study, built, start, fault.plan, fault, fault.key)
    limits = [x for g in habitat.animals for x in limits_of(g.species)]
    limits = list({(x.species, x.name): x for x in limits}.values())
    without = _crossings(habitat, usual, limits)
    crossings = _marked(_crossings(habitat, run, limits), without)
    protected: tuple[Crossing, ...] = ()
    held: bool | None = None
    if fault.protected is not None and any(_counts(c) for c in crossings):
        safe = _follow(habitat, study, built, start, fault.protected, fault, fault.key)
        protected = _marked(_crossings(habitat, safe, limits), without)
        held = not any(_counts(c) for c in protected)
    places = sorted({
        i for g in habitat.animals for i in sites_for(habitat, g.species.key, LIVED)
    }) or list(range(len(habitat.sites)))  # fmt: skip
    nothing = (math.nan, "", 0.0)
    return Drill(
        fault.key, fault.subject, fault.season, fault.begin, fault.lasts, run, crossings,
        _extreme(run, places, hot=True) if places else nothing,
        _extreme(run, places, hot=False) if places else nothing,
        run.water["mist"], usual.water["mist"], run.electricity, usual.electricity,
        fault.protection, held, protected,
    )  # fmt: skip


def _counts(found: Crossing) -> bool:
    return math.isfinite(found.time) and not found.usual


def _marked(
    found: tuple[Crossing, ...], without: tuple[Crossing, ...]
) -> tuple[Crossing, ...]:  # fmt: skip
    """Crossings with those marked that happen without the fault too."""
    usual = {(c.limit.species, c.limit.name) for c in without if math.isfinite(c.time)}
    return tuple(replace(c, usual=(c.limit.species, c.limit.name) in usual) for c in found)


def _crossings(habitat: Habitat, run: ClimateRun, limits: list[Limit]) -> tuple[Crossing, ...]:
    found = [crossing(habitat, run, x) for x in limits]
    return tuple(c for c in found if c is not None)


def _state_at(
    habitat: Habitat, study: LightStudy, built: Built, day: Settled, minute: int
) -> Settled:
    """The settled day carried from midnight to a minute."""
    from loamwright.engine.climate import drive

    state, memory = day.state.copy(), at_midnight(day.memory)
    if minute:
        drive.carry_on(built, day.plan, state, memory, 0, minute, minute)
    return replace(day, state=state, memory=memory)


def _follow(
    habitat: Habitat, study: LightStudy, built: Built, start: Settled, plan: Plan, fault: Fault,
    name: str,
) -> ClimateRun:  # fmt: skip
    return spell(
        habitat, study, built, plan, start.state, start.memory, season=fault.season,
        begin=fault.begin, minutes=LENGTH, every=EVERY, fault=name,
    )  # fmt: skip


def first_limit_first(found: list[Drill]) -> list[Drill]:
    """Drills that pass a limit soonest at the top."""
    return sorted(found, key=lambda d: d.first.time if d.first else math.inf)
