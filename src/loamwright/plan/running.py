"""What a year of running takes: electricity, water, lamps, litter, filters."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.quantities import Quantities
from loamwright.engine.ground.study import litres
from loamwright.engine.life.decomposers_study import Found
from loamwright.habitat.habitat import Habitat
from loamwright.plan.keys import litter_key

DAYS = 365.0
"""Days of a year [d]."""

JOULES = 3.6e6
"""A kilowatt hour [J]."""

WEIGHTS = {
    frozenset({"winter", "summer"}): {"winter": 0.5, "summer": 0.5},
    frozenset({"winter", "middle", "summer"}): {"winter": 0.25, "middle": 0.5, "summer": 0.25},
}
"""Share of the year each typical day stands for. The room is taken to swing between winter and summer
as a cosine does, whose mean lies halfway; a middle day stands for the two middle seasons. Common
practice, no source."""

BOWL_DAYS = 1.0
"""Days between fillings of a bowl with fresh water [d]; common practice."""

FILTER_LIFE = 365.0
"""Days a washed dust mat lasts [d]; common practice, no source."""

ON = 0.02
"""Share of full from which a lamp counts as lit [1]."""


@dataclass(frozen=True, slots=True)
class Use:
    """What a year takes of one thing: ``key`` as in a price list (``electricity``, ``water/tap``, the
    key of a line), ``amount`` [``unit``: kWh, L, piece, kg], None where not known; ``why``."""

    key: str
    name: str
    amount: float | None
    unit: str
    why: str
    uses: tuple[str, ...] = ()


def weights(seasons: Sequence[str]) -> dict[str, float]:
    """Share of the year for each season's typical day; alone, a season stands for all of it."""
    even = {s: 1.0 / len(seasons) for s in seasons} if seasons else {}
    return WEIGHTS.get(frozenset(seasons), even)


def over_the_year(days: Mapping[str, ClimateRun], value: Mapping[str, float]) -> float:
    """A year's sum of what a typical day takes, by season [unit of the value]."""
    share = weights(list(days))
    return DAYS * math.fsum(share[s] * value[s] for s in days)


def lit_hours(run: ClimateRun, lamp: int) -> float:
    """Hours a lamp is lit in a typical day [h], dimmed or not."""
    rows = run.lamps[:-1, lamp]
    return 24.0 * float(np.mean(rows > ON)) if len(rows) else 0.0


def year_of(
    habitat: Habitat, days: Mapping[str, ClimateRun], ground: Quantities | None = None,
    outlooks: Sequence[Outlook] = (), life: Found | None = None,
) -> tuple[Use, ...]:  # fmt: skip
    """What a year takes.

    Parameters
    ----------
    days : mapping
        Typical days of the climate by season; empty: electricity and mist are not known.
    ground : Quantities, optional
        The ground's amounts, for its litter.
    outlooks : sequence of Outlook
        The ground's water, for what is watered by hand.
    life : Found, optional
        What lives in the ground, for how long its litter lasts.
    """
    return (
        *_electricity(days), *_water(habitat, days, outlooks), *_lamps(habitat, days),
        *_litter(ground, life), *_filters(habitat), *_decomposers(life),
    )  # fmt: skip


def _electricity(days: Mapping[str, ClimateRun]) -> list[Use]:
    if not days:
        return [Use("electricity", "electricity", None, "kWh", "no day of the climate was run")]
    used = over_the_year(days, {s: run.electricity / JOULES for s, run in days.items()})
    told = " and ".join(f"{run.electricity / JOULES:.2f} on a {s} day" for s, run in days.items())
    return [Use("electricity", "electricity", used, "kWh", f"kWh: {told}, weighted over the year")]


def _water(
    habitat: Habitat, days: Mapping[str, ClimateRun], outlooks: Sequence[Outlook]
) -> list[Use]:
    parts: list[tuple[str, float | None]] = []
    if habitat.mist is not None and (habitat.mist.nozzles or habitat.mist.times):
        mist = over_the_year(days, {s: run.water["mist"] for s, run in days.items()})
        parts.append(("mist", mist if days else None))
    bowls = math.fsum(1000.0 * b.size[0] * b.size[1] * b.depth for b in habitat.water)
    if bowls > 0.0:
        parts.append(("bowls, fresh every day", bowls * DAYS / BOWL_DAYS))
    found = []
    for x in outlooks:
        plan = x.forecast.watering
        found.append(litres(plan.amount, x.setting) * DAYS / plan.days if plan.days else 0.0)
    if found:
        parts.append(("the ground by hand", math.fsum(found) / len(found)))
    if not parts:
        return []
    known = [v for _, v in parts if v is not None]
    told = ", ".join(f"{what} {'not known' if v is None else f'{v:.0f} L'}" for what, v in parts)
    whole = len(known) == len(parts)
    return [Use("water/tap", "water", math.fsum(known) if whole else None, "L", told)]


def _lamps(habitat: Habitat, days: Mapping[str, ClimateRun]) -> list[Use]:
    """Lamps replaced in a year: hours lit over the life in which output falls to its end."""
    by_type: dict[str, list[int]] = {}
    for k, lamp in enumerate(habitat.lamps):
        by_type.setdefault(lamp.type.key, []).append(k)
    out = []
    for key, numbers in by_type.items():
        kind = habitat.lamps[numbers[0]].type
        names = tuple(habitat.lamps[k].name for k in numbers)
        hours = [
            over_the_year(days, {s: lit_hours(run, k) for s, run in days.items()})
            if days else habitat.lamps[k].hours_a_day * DAYS
            for k in numbers
        ]  # fmt: skip
        lit, told = math.fsum(hours), _lit_words(hours)
        if kind.life is None:
            out.append(Use(f"lamps/{key}", kind.label, None, "piece",
                           f"{told}; its life is not known", names))  # fmt: skip
            continue
        out.append(Use(f"lamps/{key}", kind.label, lit / kind.life, "piece",
                       f"{told}, replaced after {kind.life:.0f} h", names))  # fmt: skip
    return out


def _lit_words(hours: Sequence[float]) -> str:
    """Hours lit in a year, of each where there are several: ``lit 4380 h a year each``."""
    least, most = (f"{x:.0f}" for x in (min(hours), max(hours)))
    span = most if least == most else f"{least} to {most}"
    return f"lit {span} h a year{' each' if len(hours) > 1 else ''}"


def _litter(ground: Quantities | None, life: Found | None) -> list[Use]:
    """Leaves strewn again each time they are down to what must lie there."""
    if ground is None:
        return []
    out = []
    for layer in ground.layers:
        for p in layer.buy:
            if p.unit != "kg":
                continue
            lasts = life.litter_lasts(1) if life is not None else None
            name = p.key.replace("-", " ")
            if lasts is None or not math.isfinite(lasts):
                out.append(Use(litter_key(p.key), name, None, "kg",
                               "how fast it is eaten is not known", (layer.name,)))  # fmt: skip
            else:
                assert life is not None
                gone = 1.0 - life.litter_left
                out.append(Use(litter_key(p.key), name, gone * p.amount * DAYS / lasts, "kg",
                               f"{100.0 * gone:.0f} % of it laid again every {lasts:.0f} days",
                               (layer.name,)))  # fmt: skip
    return out


def _filters(habitat: Habitat) -> list[Use]:
    by_key: dict[str, list[str]] = {}
    labels = {}
    for fan in habitat.fans:
        if fan.filter is not None:
            by_key.setdefault(fan.filter.key, []).append(fan.name)
            labels[fan.filter.key] = fan.filter.label
    return [
        Use(f"filters/{key}", labels[key], len(names) * DAYS / FILTER_LIFE, "piece",
            "a new one a year, washed in between", tuple(names))
        for key, names in by_key.items()
    ]  # fmt: skip


def _decomposers(life: Found | None) -> list[Use]:
    """Decomposers let in again: those whose numbers fall below what was let in within a year."""
    if life is None:
        return []
    out = []
    for row, (kind, count) in enumerate(zip(life.community.species, life.counts(), strict=True)):
        left = float(life.middle.numbers(row)[-1])
        short = left < life.community.starters[row]
        why = (
            "numbers fall below the starters within a year: let in as many again"
            if short else "they keep their numbers by themselves"
        )  # fmt: skip
        out.append(Use(f"decomposers/{kind.key}", kind.label, float(count) if short else 0.0,
                       "piece", why, ("ground",)))  # fmt: skip
    return out
