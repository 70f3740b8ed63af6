"""What the owner does day by day, week by week: derived from the habitat and what was computed.

Numbers and names only; the words are the report's.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.study import litres
from loamwright.engine.life.decomposers_study import Found
from loamwright.engine.life.plants_year import Planting
from loamwright.engine.life.waste import FOODS, SPREAD, eaters_of
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.physics import allometry

DAY = 86_400.0

DAILY, WEEKLY, MONTHLY, YEARLY = "daily", "weekly", "monthly", "yearly"
TURNS: tuple[str, ...] = (DAILY, WEEKLY, MONTHLY, YEARLY)
"""How often the owner turns to a list, the shortest first."""

TANK_RESERVE = 1.5
"""A tank is filled before it lasts less than this over its time [1]: a third is left; common
practice, no source."""

STALE = 3
"""Days after which water that stands in a tank is poured away [d]; from memory."""

PRACTICE, COMPUTED, CATALOGUE, MEMORY = "practice", "computed", "catalogue", "memory"
"""Where a piece of work and its turn come from."""


@dataclass(frozen=True, slots=True)
class Care:
    """One piece of work: ``turn`` the list it stands on (of `TURNS`), ``key`` what it is,
    ``subjects`` names out of the habitat it is about, ``every`` so many days [d] where that is known
    more closely than by the turn, ``value`` and ``span`` (least, most) in SI by ``key``, ``days`` after
    planting on which it falls due [d], ``basis`` where it comes from."""

    turn: str
    key: str
    subjects: tuple[str, ...] = ()
    every: float | None = None
    value: float | None = None
    span: tuple[float, float] | None = None
    days: tuple[int, ...] = ()
    basis: str = PRACTICE


def turn_of(days: float) -> str:
    """The list on which work due every so many days [d] stands."""
    if days < 3.5:
        return DAILY
    if days < 18.0:
        return WEEKLY
    return MONTHLY if days < 62.0 else YEARLY


def care_of(
    habitat: Habitat,
    days: Mapping[str, ClimateRun],
    outlooks: Sequence[Outlook],
    planting: Planting | None,
    life: Found | None,
) -> tuple[Care, ...]:
    """Everything the owner of a habitat does to keep it, the most frequent first.

    Parameters
    ----------
    days : mapping
        Typical days of the climate by season; of them the water misted.
    outlooks : sequence of Outlook
        The ground's water from each season on; empty where none holds any.
    planting : Planting or None
        The plants over a year.
    life : Found or None
        What lives in the ground.
    """
    found = [
        *_animals(habitat), *_water(habitat, days), *_ground(habitat, outlooks, life),
        *_lamps(habitat.lamps), *_air(habitat), *_plants(planting), *_always(habitat, life),
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda c: TURNS.index(c.turn)))


def _animals(habitat: Habitat) -> Iterable[Care]:
    if not habitat.animals:
        return
    keys = tuple(dict.fromkeys(g.species.key for g in habitat.animals))
    yield Care(DAILY, "look", keys)
    eaters, unknown = eaters_of(habitat)
    for eater in eaters:
        dry = eater.food * DAY
        yield Care(DAILY, f"feed-{eater.diet}", (eater.key,), value=fresh_food(eater.diet, dry),
                   span=(1.0 / (1.0 + SPREAD), 1.0 + SPREAD), basis=COMPUTED)  # fmt: skip
    for key in unknown:
        yield Care(DAILY, "feed-unknown", (key,))
    yield Care(MONTHLY, "weigh", keys)
    yield Care(YEARLY, "veterinarian", keys)


def fresh_food(diet: str, dry: float) -> float | None:
    """Fresh food of a dry mass [kg]: of crickets for eaters of insects; None where the water of the
    food is not known."""
    if diet not in FOODS or diet != "insects":
        return None
    return allometry.fresh_mass(dry, allometry.PREY["cricket"][0])


def _water(habitat: Habitat, days: Mapping[str, ClimateRun]) -> Iterable[Care]:
    bowls = tuple(b.name for b in habitat.water)
    if bowls:
        yield Care(DAILY, "bowls", bowls)
        yield Care(WEEKLY, "scrub-bowls", bowls)
    mist = habitat.mist
    if mist is None or not mist.nozzles:
        return
    used = [run.water["mist"] for run in days.values() if "mist" in run.water]
    span = (min(used), max(used)) if used else None
    yield Care(DAILY, "mist", tuple(n.name for n in mist.nozzles), span=span, basis=COMPUTED)
    most = max(used, default=0.0)
    if mist.tank > 0.0 and most > 0.0:
        lasts = 1000.0 * mist.tank / most
        due = max(1.0, math.floor(lasts / TANK_RESERVE))
        # Before it runs dry, and before what stands in it has gone bad.
        soon = min(due, float(STALE))
        yield Care(turn_of(soon), "fill-tank", every=soon, value=lasts * DAY,
                   basis=COMPUTED if soon == due else MEMORY)  # fmt: skip
    else:
        yield Care(turn_of(STALE), "fill-tank", every=float(STALE), basis=MEMORY)
    yield Care(MONTHLY, "nozzles", tuple(n.name for n in mist.nozzles))


def _ground(habitat: Habitat, outlooks: Sequence[Outlook], life: Found | None) -> Iterable[Care]:
    for outlook in outlooks:
        watering = outlook.forecast.watering
        if watering.days:
            poured = litres(watering.amount, outlook.setting)
            yield Care(turn_of(watering.days), "water-ground", (outlook.season,),
                       every=float(watering.days), value=poured,
                       days=(watering.start,), basis=COMPUTED)  # fmt: skip
    due = [d for d in (o.draw_off() for o in outlooks) if d is not None]
    if outlooks:
        drained = any(x.kind in DRAINING for x in habitat.ground.layers)
        yield Care(WEEKLY, "drain" if drained else "undrained", value=min(due) * DAY if due else None,
                   basis=COMPUTED if due else PRACTICE)  # fmt: skip
    if life is None:
        return
    if life.by_hand:
        yield Care(DAILY, "dung-ground", value=life.by_hand, basis=COMPUTED)
    lasts = [d for d in (life.litter_lasts(k) for k in range(len(life.runs))) if d is not None]
    if lasts and math.isfinite(min(lasts)):
        every = life.litter_lasts(1)
        floor = life.community.floor
        more = floor.litter - (0.5 * floor.litter if floor.litter < 0.3 else 0.15)
        yield Care(turn_of(every or lasts[0]), "litter", (floor.leaf_name,), every=every,
                   value=more * life.area, span=(min(lasts) * DAY, max(lasts) * DAY),
                   basis=COMPUTED)  # fmt: skip
    yield Care(MONTHLY, "small-life", tuple(x.label for x in life.community.species))


def lamp_days(lamp: Lamp) -> float | None:
    """Days a new lamp of this kind lasts at its hours a day [d]; None where its life is not known."""
    life = lamp.type.life
    return None if life is None or lamp.hours_a_day <= 0.0 else life / lamp.hours_a_day


def _lamps(lamps: Sequence[Lamp]) -> Iterable[Care]:
    for lamp in lamps:
        days = lamp_days(lamp)
        if days is None:
            yield Care(YEARLY, "lamp-unknown", (lamp.name,))
            continue
        left = max(0.0, (lamp.type.life or 0.0) - lamp.hours_run) / lamp.hours_a_day
        yield Care(YEARLY, "lamp", (lamp.name,), every=days, value=left * DAY, basis=CATALOGUE)
    ultraviolet = tuple(x.name for x in lamps if x.type.band_watts[0] > 0.05)
    if ultraviolet:
        yield Care(MONTHLY, "uv-meter", ultraviolet)
    if lamps:
        yield Care(WEEKLY, "lamps-lit", tuple(x.name for x in lamps))


def _air(habitat: Habitat) -> Iterable[Care]:
    filtered = tuple(f.name for f in habitat.fans if f.filter is not None)
    if filtered:
        yield Care(MONTHLY, "filters", filtered)
    if habitat.fans:
        guarded = any(f.guards for f in habitat.fans)
        yield Care(YEARLY, "fans" if guarded else "fans-bare", tuple(f.name for f in habitat.fans))
    if habitat.controls:
        yield Care(DAILY, "readings", tuple(dict.fromkeys(c.probe for c in habitat.controls)))
        yield Care(MONTHLY, "probes", tuple(c.name for c in habitat.controls))
    cut = tuple(c.name for c in habitat.controls if c.cut_out is not None)
    if cut:
        yield Care(MONTHLY, "cut-outs", cut)


def _plants(planting: Planting | None) -> Iterable[Care]:
    if planting is None:
        return
    for name, year in planting.middle.items():
        if not year.pruned:
            continue
        first = [y[name].pruned[0] for y in planting.years if name in y and y[name].pruned]
        yield Care(YEARLY, "prune", (name,), days=year.pruned,
                   span=(min(first) * DAY, max(first) * DAY), basis=COMPUTED)  # fmt: skip
    for name in planting.unknown:
        yield Care(MONTHLY, "prune-unknown", (name,))


def _always(habitat: Habitat, life: Found | None) -> Iterable[Care]:
    if habitat.animals:
        yield Care(DAILY, "clean")
    yield Care(WEEKLY, "panes")
    if habitat.lamps or habitat.fans or habitat.mist is not None:
        yield Care(MONTHLY, "residual-current")
        yield Care(MONTHLY, "cables")
        yield Care(YEARLY, "electrician")
    yield Care(YEARLY, "fixings", tuple(p.name for p in habitat.hardscape if p.fixing))
