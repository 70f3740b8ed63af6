"""A forecast of the ground's water: mist, a first watering, watering by hand, weeks to a year."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from loamwright.engine.ground import readings
from loamwright.engine.ground.column import Column, Floats
from loamwright.engine.ground.from_habitat import ground_column
from loamwright.engine.ground.laws import MOBILE, RESIDUAL, material_at
from loamwright.engine.ground.quantities import ground_area
from loamwright.engine.ground.relief import cells, extremes
from loamwright.engine.ground.run import ColumnResult, State, rest_over, run_column, state_at
from loamwright.engine.ground.stuck import Landing
from loamwright.engine.ground.weather import (
    HOURS,
    LEAST_SATURATION,
    STEP,
    DayOfGround,
    between,
    rooting_depth,
)
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat

DAY = 86400.0

LAID = -1.0
"""Head of new ground when it is laid [m]: damp, a hand that squeezes it stays dry; common practice."""

DRIEST, LEAST_AIR = 1.0, 0.10
"""The band of ground that is evenly moist: suction at most [m], and air-filled pores at least [1].
Water held at 1 to 10 kPa is easily taken up, and less than a tenth of air is too little for roots:
De Boodt & Verdonck 1972, Acta Horticulturae 26:37 (from memory)."""

DRY_DRIEST = 150.0
"""The same for ground in which nothing grows and nothing rots: the wilting point [m]."""

TOP = 0.02
"""Depth of the ground's top, which may be dry [m]."""

POUR = 600.0
"""Time over which a watering by hand is poured [s]."""

EVERY_DAYS = (14, 10, 7, 5, 4, 3, 2, 1)
"""Days between waterings by hand that are tried, the longest first."""

AT_HOUR = 9
"""Hour of the day at which someone waters."""


@dataclass(frozen=True)
class Setting:
    """A column with what it is judged by: ``area`` [m2], node ranges of the ``middle`` (below the
    top, above the drainage) as shares of each node, the ``band`` of its mean water content [1], the
    depth of the drainage below it [m], the depth of standing water that reaches what must not drown
    (``brim`` [m]: the drainage's upper face where it is lowest, or a quarter of ground without a
    drainage, common practice), the share of the band that a plan keeps in ``reserve`` above its lower
    end [1], and the ``winter`` and ``summer`` days."""

    column: Column
    area: float
    middle: Floats
    band: tuple[float, float]
    drainage: float
    brim: float
    reserve: float
    winter: DayOfGround
    summer: DayOfGround


@dataclass(frozen=True)
class Watering:
    """Water poured by hand: ``first`` right after planting, and ``amount`` every so many ``days`` from
    the ``start``-th day after it on [m of water on the ground]; ``days`` 0: never."""

    first: float = 0.0
    amount: float = 0.0
    days: int = 0
    start: int = 1


@dataclass(frozen=True)
class Forecast:
    """Water of the ground by day: ``run`` with a record a day, ``middle`` (R,) mean water content
    below the top and above the drainage, ``top`` (R,) air-filled pores of the uppermost ground,
    ``air`` (R,) those of the middle, ``watering`` as it was done, ``start`` day after midwinter."""

    run: ColumnResult
    days: Floats
    middle: Floats
    air: Floats
    top: Floats
    saturation: Floats
    watering: Watering
    start: float


def is_arid(habitat: Habitat) -> bool:
    """True where the ground neither carries roots nor is watered nor bears litter to rot."""
    layers = habitat.ground.layers
    return habitat.mist is None and not any(
        x.kind in ("leaf-litter", "mix", "moss") for x in layers
    )


def setting_of(habitat: Habitat, winter: DayOfGround, summer: DayOfGround) -> Setting:
    """The column of a habitat over its closed floor, and the band of its middle.

    Raises
    ------
    ValueError
        If there is no ground, or nothing is known of a layer.
    """
    column = ground_column(habitat.ground, rooting=rooting_depth(habitat))
    drainage = lowest = 0.0
    floor = cells(habitat.enclosure, habitat.ground.layers)
    for layer in habitat.ground.layers:
        if layer.kind not in DRAINING:
            break
        drainage += layer.depth
        lowest += extremes(layer, floor)[0]
    if drainage >= column.depth - 1e-9:
        drainage = lowest = 0.0
    brim = lowest if drainage > 0.0 else 0.25 * column.depth
    top = max(column.depth - TOP, 0.5 * (column.depth + drainage))
    middle = column.part_of(drainage, top) * column.size
    middle /= middle.sum()
    driest = DRY_DRIEST if is_arid(habitat) else DRIEST
    low = high = 0.0
    for share, row in zip(_by_layer(column, drainage, top), column.table, strict=True):
        low += share * material_at(-driest, row)[0]
        high += share * max(row[RESIDUAL] + row[MOBILE] - LEAST_AIR, material_at(-driest, row)[0])
    return Setting(
        column, ground_area(habitat), middle, (low, high), drainage, brim,
        ARID_RESERVE if is_arid(habitat) else RESERVE, winter, summer,
    )  # fmt: skip


def _by_layer(column: Column, low: float, high: float) -> Floats:
    inside = np.minimum(column.faces[1:], high) - np.maximum(column.faces[:-1], low)
    inside = np.maximum(inside, 0.0)
    shares: Floats = inside / inside.sum()
    return shares


def first_watering(setting: Setting) -> float:
    """Water for the ground as it is laid to come to the middle of its band [m]."""
    column = setting.column
    there = float(_content(column, state_at(column, LAID).head) @ setting.middle)
    wanted = 0.5 * (setting.band[0] + setting.band[1])
    return max(0.0, wanted - there) * (column.depth - setting.drainage)


def _content(column: Column, head: Floats) -> Floats:
    """Water content by node, (..., N)."""
    slices = readings.slice_content(column, head) * column.length
    out = np.zeros(np.shape(head))
    out[..., :-1] += 0.5 * slices
    out[..., 1:] += 0.5 * slices
    return out / column.size


def forecast(
    setting: Setting, days: int, watering: Watering, *, start_day: float = 0.0,
    state: State | None = None, mist: float = 1.0, dry: bool = False,
) -> Forecast:  # fmt: skip
    """Follow the ground for so many days.

    Parameters
    ----------
    days : int
        How long.
    watering : Watering
        By hand; the first only where no ``state`` is given.
    start_day : float
        Days after midwinter on which it begins.
    state : State, optional
        Where it begins; new ground as it is laid where left out.
    mist : float
        Share of the mist's water that is sprayed.
    dry : bool
        Nothing is sprayed.
    """
    column = setting.column
    edges, lands, demand, roots = [0.0], [], [], []
    humidity = 0.0
    for day in range(days):
        of_day = between(setting.winter, setting.summer, start_day + day)
        humidity += of_day.humidity / days
        since = day - watering.start
        due = watering.days > 0 and since >= 0 and since % watering.days == 0
        poured = watering.amount if due else 0.0
        if day == 0 and state is None:
            poured = watering.first
        for hour in range(HOURS):
            rain = 0.0 if dry else mist * of_day.lands[hour]
            begin = edges[-1]
            if hour == AT_HOUR and poured > 0.0:
                edges.append(begin + POUR)
                lands.append(rain + poured / POUR)
                demand.append(of_day.demand[hour])
                roots.append(of_day.roots[hour])
            edges.append(day * DAY + (hour + 1) * STEP)
            lands.append(rain)
            demand.append(of_day.demand[hour])
            roots.append(of_day.roots[hour])
    begin_at = state or state_at(column, LAID)
    run = run_column(
        column, np.array(edges), np.array(lands), np.array(demand), np.array(roots), begin_at, DAY,
        air_humidity=min(humidity, 0.99),
    )  # fmt: skip
    content = _content(column, run.head)
    pores = column.pores()
    top_part = column.part_of(column.depth - TOP, column.depth) * column.size
    top_part /= top_part.sum()
    return Forecast(
        run, run.time / DAY, content @ setting.middle, (pores - content) @ setting.middle,
        (pores - content) @ top_part, readings.top_saturation(column, run.head), watering,
        start_day,
    )  # fmt: skip


@dataclass(frozen=True)
class Plan:
    """A computed watering plan: the ``watering`` by hand beside the mist that keeps the middle in
    its band, ``kept`` False where none was found; ``mist_most`` the largest share of the present
    mist under which nothing drowns, None where the present mist drowns nothing."""

    watering: Watering
    kept: bool
    mist_most: float | None = None


def drowned(setting: Setting, found: Forecast) -> bool:
    """True where water stands above the drainage, or over the floor by more than half its depth."""
    return bool(
        found.run.standing.max() > 0.8 * setting.brim or found.run.ponded.max() > 1e-3
    ) or bool(found.middle[-1] > setting.band[1])


RESERVE, ARID_RESERVE = 0.2, 0.05
"""Share of the band that a watering plan keeps in reserve above its lower end [1], as one watering may
come late, and where nothing grows in the ground; common practice, no source."""

CYCLES = 3
"""Waterings after which the ground must be as moist as before the first."""

HALVINGS = 12
"""Halvings towards the least water: the last change it by a two-hundredth of a millimetre a day."""

STANDS_ALLOWED = 5e-3
"""Water that a watering by hand may leave standing on the floor [m]."""


def plan_watering(setting: Setting, days: int, start_day: float = 0.0) -> Plan:
    """How much to water by hand and how often, beside the mist, so that the band is kept.

    Where mist alone keeps it for so many days, none. Otherwise the longest of `EVERY_DAYS` is taken at
    which an amount keeps the band, and of such amounts the least: ground that lies at the lower end
    of its band, with its reserve, is as moist after `CYCLES` waterings as before them. Less would live
    on the water that new ground begins with.
    """
    first = first_watering(setting)
    mist = forecast(setting, days, Watering(first), start_day=start_day)
    low, high = setting.band
    if mist.middle[-1] > high or drowned(setting, mist):
        return Plan(Watering(first), False, _most_mist(setting, days, first, start_day))
    if mist.middle[1:].min() >= low:
        return Plan(Watering(first), True)
    kept_at = low + setting.reserve * (high - low)
    begins = max(1, int(mist.days[1:][mist.middle[1:] < kept_at][0]) - 1)
    return _by_hand(setting, days, first, start_day, begins)


def _by_hand(setting: Setting, days: int, first: float, start_day: float, begins: int) -> Plan:
    """The plan where mist alone lets the ground fall to its reserve on the day it ``begins``."""
    low, high = setting.band
    kept_at = low + setting.reserve * (high - low)
    start = start_day + begins
    dry = _resting_at(setting, kept_at)
    best = Watering(first)
    for every in EVERY_DAYS:
        if every >= days:
            continue
        least, most = 0.0, 0.02 * every
        for _ in range(HALVINGS):
            amount = 0.5 * (least + most)
            told = forecast(
                setting, CYCLES * every, Watering(0.0, amount, every, 0), start_day=start,
                state=dry,
            )  # fmt: skip
            if told.middle[-1] < kept_at:
                least = amount
            else:
                most = amount
        best = Watering(first, most, every, begins)
        told = forecast(setting, days, best, start_day=start_day)
        if (
            told.run.standing.max() <= _stands(setting)
            and told.middle.max() <= high
            and told.middle[1:].min() >= low
        ):
            return Plan(best, True)
    return Plan(best, False)


def _resting_at(setting: Setting, content: float) -> State:
    """The column at rest with its middle at a water content [1]."""
    column = setting.column
    wet, dry = column.depth, column.depth - 2.0 * DRY_DRIEST
    for _ in range(60):
        level = 0.5 * (wet + dry)
        held = _content(column, rest_over(column, level).head) @ setting.middle
        wet, dry = (level, dry) if held > content else (wet, level)
    return rest_over(column, level)


def _stands(setting: Setting) -> float:
    return max(STANDS_ALLOWED, 0.5 * setting.drainage)


def _most_mist(setting: Setting, days: int, first: float, start_day: float) -> float:
    """Largest share of the mist under which nothing drowns [1]."""
    low, high = 0.0, 1.0
    for _ in range(7):
        share = 0.5 * (low + high)
        told = forecast(setting, days, Watering(first), start_day=start_day, mist=share)
        low, high = (low, share) if drowned(setting, told) else (share, high)
    return low


def dry_out(setting: Setting, found: Forecast, days: int) -> Forecast:
    """The same ground without any water from the forecast's end on, but for one last watering by
    hand where it is watered so."""
    last = Watering(0.0, found.watering.amount, 2 * days if found.watering.days else 0, 0)
    return forecast(
        setting, days, last, start_day=found.start + float(found.days[-1]), state=found.run.end,
        dry=True,
    )  # fmt: skip


def stuck_valve(setting: Setting, found: Forecast, landing: Landing) -> Forecast:
    """The ground as the forecast leaves it, under the water of a stuck mist valve; hourly records."""
    column, of_day = setting.column, between(setting.winter, setting.summer, found.start)
    run = run_column(
        column, landing.edges, landing.rates, float(of_day.demand.mean()),
        float(of_day.roots.mean()), found.run.end, STEP, air_humidity=min(of_day.humidity, 0.99),
    )  # fmt: skip
    content = _content(column, run.head)
    air = column.pores() - content
    return Forecast(
        run, run.time / DAY, content @ setting.middle, air @ setting.middle, air[:, -1],
        readings.top_saturation(column, run.head), found.watering, found.start,
    )  # fmt: skip


def wetness_of(setting: Setting, found: Forecast) -> dict[str, float]:
    """Saturation of each layer for the climate to go on with: mean of the second half."""
    half = found.run.head[len(found.run.head) // 2 :]
    content = readings.layer_content(setting.column, half).mean(axis=0)
    out = {}
    for i, name in enumerate(setting.column.names):
        row = setting.column.table[i]
        out[name] = float(content[i] / (row[RESIDUAL] + row[MOBILE]))
    top = setting.column.names[-1]
    out[top] = float(found.saturation[len(found.saturation) // 2 :].mean())
    return rounded(out)


def rounded(wetness: Mapping[str, float]) -> dict[str, float]:
    """Saturations to a twentieth, within what the climate can take: what is kept by them is found
    again, and finer the climate does not feel."""
    return {
        name: min(1.0, max(LEAST_SATURATION, round(20.0 * value) / 20.0))
        for name, value in wetness.items()
    }


def first_wetness(habitat: Habitat) -> dict[str, float]:
    """Saturation of layers before anything is known: the climate's own by kind."""
    from loamwright.engine.climate.moisture import WETNESS

    return rounded({x.name: WETNESS.get(x.kind, 0.5) for x in habitat.ground.layers})


def litres(depth: float, setting: Setting) -> float:
    """Water on the ground [m] as volume [L]."""
    return math.fsum([1000.0 * depth * setting.area])
