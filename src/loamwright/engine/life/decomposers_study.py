"""Everything asked of a ground's small life: who, how many, ready when, what load, litter, by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.quantities import ground_area
from loamwright.engine.ground.study import is_arid
from loamwright.engine.life import decomposers_fauna as classes
from loamwright.engine.life.decomposers_run import (
    DAY,
    Community,
    Run,
    ready_day,
    run,
    with_starters,
)
from loamwright.engine.life.matter import Weather, dry_waste, floor_of, weather_of
from loamwright.engine.life.waste import eaters_of
from loamwright.habitat.decomposers import DecomposerType
from loamwright.habitat.habitat import Habitat

YEAR_DAYS = 365

WAIT = 84
"""Days after planting by which a ground should be ready [d]: 4 to 12 weeks are usual; common
practice, no source."""

SOON = 56
"""Days within which computed starters are to be ready [d]; common practice."""

WAYS = (-1.0, 0.0, 1.0)
"""The slowest growth and decay of the sources, the middle, the quickest."""

NITRATE_LIMIT = 0.2
"""Mineral nitrogen in the water of soaked ground that plants bear [kg/m3]: 100 to 199 mg/L is the
optimum of saturated media extracts (Warncke and Krauskopf, from memory)."""

MOST_LOAD = 64.0
"""Largest factor on the residents' waste that is tried."""

SECANTS = 6
"""Most steps towards the load that the ground bears."""

DRY_GROUND = 0.05
"""Saturation below which nothing of this is computed: dry ground digests nothing [1]."""


@dataclass(frozen=True)
class Found:
    """What is told of a ground's small life.

    ``community`` as let in, ``area`` [m2]; ``unfollowed`` species let in whose life is not known;
    ``computed`` True where the starter numbers are; ``ready`` day by way (None: not within a year);
    ``runs`` by way, residents moving in on the day it is ready (the middle's where it is never);
    ``fed`` and ``hungry`` the middle run with nothing and with all of the hunters' food taken from the
    ground; ``waste`` dry dung and urates that fall [kg/s] and ``carries`` what the ground bears of
    them by way [kg/s], None without residents of known mass; ``unknown`` residents whose mass is not
    known; ``moved_in`` day by way; ``rates`` of increase by species and season [1/s].
    """

    community: Community
    area: float
    unfollowed: tuple[DecomposerType, ...]
    computed: bool
    ready: tuple[int | None, ...]
    moved_in: tuple[int, ...]
    runs: tuple[Run, ...]
    fed: Run
    hungry: Run
    waste: float
    carries: tuple[float, ...] | None
    unknown: tuple[str, ...]
    rates: tuple[tuple[float, float], ...]

    @property
    def middle(self) -> Run:
        """The run with the middle of every range."""
        return self.runs[1]

    @property
    def balance(self) -> float:
        """Largest share of carbon or nitrogen that a run misses."""
        return max(r.balance for r in (*self.runs, self.fed, self.hungry))

    def counts(self) -> tuple[int, ...]:
        """Starter numbers for the whole floor."""
        return tuple(math.ceil(s * self.area - 1e-9) for s in self.community.starters)

    @property
    def by_hand(self) -> float | None:
        """Share of the waste that has to be taken out by hand [1]."""
        if self.carries is None or self.waste <= 0.0:
            return None
        return max(0.0, 1.0 - self.carries[1] / self.waste)

    def litter_lasts(self, way: int) -> float | None:
        """Days until leaves have to be laid again, at the pace of the settled ground [d]; None where
        there is no litter. From the mean rate of loss of the last half year."""
        start = self.community.floor.litter
        if start <= 0.0:
            return None
        rate = float(self.runs[way].litter_rate[-YEAR_DAYS // 2 :].mean())
        return -math.log(self.litter_left) / rate / DAY if rate > 0.0 else math.inf

    @property
    def litter_left(self) -> float:
        """Share of the litter that lies when leaves have to be laid again [1]: half of little, and
        150 g to a square metre of much."""
        start = self.community.floor.litter
        return 0.5 if start < 0.3 else 0.15 / start

    def dung_half_life(self) -> float:
        """Days until half of a dropping is gone, in the settled ground [d]."""
        rate = float(self.middle.waste_rate[-YEAR_DAYS // 2 :].mean())
        return math.log(2.0) / rate / DAY if rate > 0.0 else math.inf


def study(
    habitat: Habitat, days: Mapping[str, ClimateRun], outlooks: Sequence[Outlook],
    light: Mapping[str, float], season: str = "winter",
) -> Found | None:  # fmt: skip
    """The small life of a habitat's ground; None where the ground is dry and nobody named any.

    Parameters
    ----------
    days : mapping
        Typical winter and summer days of the climate.
    outlooks : sequence of Outlook
        The ground's water from winter and from summer on.
    light : mapping
        Plant light at the crowns by plant [mol/(m2 d)].
    season : str
        In the middle of which it is planted.
    """
    by_season = {o.season: o for o in outlooks}
    if set(by_season) != {"winter", "summer"}:
        return None
    weather = weather_of(days, by_season)
    return study_in(habitat, weather, by_season["winter"], light, season)


def study_in(
    habitat: Habitat, weather: Weather, outlook: Outlook | None, light: Mapping[str, float],
    season: str = "winter",
) -> Found | None:  # fmt: skip
    """`study` where the ground's weather is known."""
    named = [s for s in habitat.decomposers if s.named]
    dry = is_arid(habitat) or max(weather.saturation) < DRY_GROUND
    if dry and not named:
        return None
    area = ground_area(habitat)
    eaters, unknown = eaters_of(habitat)
    begins = 0.0 if season == "winter" else 182.5
    followed = [s for s in named if not s.species.unknown]
    if any(not s.named for s in habitat.decomposers):
        species = _chosen([s.species for s in habitat.decomposers], weather)
        counts: list[int | None] = [None] * len(species)
    else:
        species = [s.species for s in followed]
        counts = [s.count for s in followed]
    floor = floor_of(habitat, area, outlook, light)
    base = Community(tuple(species), (0.0,) * len(species), floor, weather, eaters, begins)
    community = _started(base, counts, area)
    ready = tuple(ready_day(community, run(community, YEAR_DAYS, way=w)) for w in WAYS)
    usual = ready[1] if ready[1] is not None else WAIT
    moved_in = tuple(usual if day is None else day for day in ready)
    runs = tuple(
        run(community, day + YEAR_DAYS, way=w, moved_in=day)
        for w, day in zip(WAYS, moved_in, strict=True)
    )
    whole = moved_in[1] + YEAR_DAYS
    fed = run(community, whole, moved_in=moved_in[1], hunted=0.0)
    hungry = run(community, whole, moved_in=moved_in[1], hunted=1.0)
    waste = dry_waste(eaters)
    carries = None
    if waste > 0.0:
        carries = tuple(
            waste * _bears(community, w, day) for w, day in zip(WAYS, moved_in, strict=True)
        )
    rates = tuple(
        (classes.growth_rate(x, weather.temperature[0], weather.saturation[0]),
         classes.growth_rate(x, weather.temperature[1], weather.saturation[1]))
        for x in species
    )  # fmt: skip
    return Found(
        community, area, tuple(s.species for s in named if s.species.unknown),
        any(c is None for c in counts), ready, moved_in, runs, fed, hungry, waste, carries,
        unknown, rates,
    )  # fmt: skip


def _chosen(candidates: Sequence[DecomposerType], weather: Weather) -> list[DecomposerType]:
    """The springtail and the isopod whose numbers grow fastest, the worse season counting."""
    best: dict[str, tuple[float, DecomposerType]] = {}
    for x in candidates:
        rate = min(
            classes.growth_rate(x, t, s)
            for t, s in zip(weather.temperature, weather.saturation, strict=True)
        )
        if x.kind in ("springtail", "isopod") and (x.kind not in best or rate > best[x.kind][0]):
            best[x.kind] = (rate, x)
    return [best[kind][1] for kind in ("springtail", "isopod") if kind in best]


def _started(base: Community, counts: Sequence[int | None], area: float) -> Community:
    """The community with its starters; those to be computed are the fewest, within what is usual, with
    which the ground is ready soon, else the most that are usual."""

    def starters(share: float) -> list[float]:
        out = []
        for x, count in zip(base.species, counts, strict=True):
            low, high = x.starter
            if count is not None:
                out.append(count / area)
            elif low is None or high is None:
                out.append(100.0)
            else:
                out.append(low * (high / low) ** share)
        return out

    made = with_starters(base, starters(0.0))
    if all(c is not None for c in counts):
        return made
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        made = with_starters(base, starters(share))
        day = ready_day(made, run(made, SOON))
        if day is not None:
            break
    return made


def _bears(community: Community, way: float, moved_in: int) -> float:
    """Largest factor on the residents' waste with which mineral nitrogen stays below its limit through
    the first year [1]."""
    limit = NITRATE_LIMIT * community.floor.pore_water

    def most(load: float) -> float:
        found = run(community, moved_in + YEAR_DAYS, way=way, moved_in=moved_in, load=load)
        return float(np.max(found.mineral()[moved_in:]))

    low, held = 0.0, most(0.0)
    if held > limit:
        return 0.0
    high, at_high = 1.0, most(1.0)
    while high < MOST_LOAD and at_high < limit:
        low, held = high, at_high
        high *= 4.0
        at_high = most(high)
    if at_high < limit:
        return MOST_LOAD
    # Mineral nitrogen rises nearly in a straight line with the load.
    for _ in range(SECANTS):
        load = low + (high - low) * min(0.95, max(0.05, (limit - held) / (at_high - held)))
        value = most(load)
        if abs(value - limit) < 0.01 * limit:
            return load
        if value < limit:
            low, held = load, value
        else:
            high, at_high = load, value
    return low
