"""A habitat's hours, controllers and room as the arrays of a `Plan`."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.network import PASSIVE
from loamwright.engine.climate.paths import Path
from loamwright.engine.climate.plan import AS_SET, DAY_MINUTES, MINUTE, NOT_ELECTRIC, Plan
from loamwright.habitat.controls import KINDS, Control, Schedule
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.room import Season
from loamwright.physics import moist_air
from loamwright.physics.daily import daily_course

Floats = NDArray[np.float64]

SEASONS = ("winter", "middle", "summer")
"""Seasons of a typical day; the middle lies between winter and summer."""


def share_of_minutes(start: float, end: float) -> Floats:
    """Share of each minute of a day between two times [s], across midnight too; equal times: always."""
    if start == end:
        return np.ones(DAY_MINUTES)
    edges = np.arange(DAY_MINUTES + 1) * MINUTE
    if end < start:
        return np.minimum(share_of_minutes(start, 86400.0) + share_of_minutes(0.0, end), 1.0)
    inside = np.minimum(end, edges[1:]) - np.maximum(start, edges[:-1])
    return np.clip(inside / MINUTE, 0.0, 1.0)


def ramp(share: Floats, start: float, end: float, span: float) -> Floats:
    """Dawn and dusk of ``span`` seconds inside the hours; what is always on has none."""
    if span <= 0.0 or (end - start) % 86400.0 == 0.0:
        return share
    middle = (np.arange(DAY_MINUTES) + 0.5) * MINUTE
    since = np.mod(middle - start, 86400.0)
    until = np.mod(end - middle, 86400.0)
    return share * np.clip(np.minimum(since, until) / span, 0.0, 1.0)


def lamp_hours(lamp: Lamp, schedule: Schedule, hours: tuple[float, float]) -> Floats:
    """Share of full that a lamp's hours allow, by the minute; ``hours`` those of the day [s]."""
    start, end = hours if lamp.follows_day else lamp.on
    share = share_of_minutes(start, end)
    return ramp(share, start, end, schedule.ramp) if lamp.dimmable else share


def room_day(season: Season, hours: tuple[float, float]) -> Floats:
    """Room temperature by the minute [K] (`physics.daily.daily_course`), the day's value in the
    day's hours."""
    rise, fall = hours
    return np.array([
        daily_course((i + 0.5) * MINUTE, season.day, season.night, rise, fall)
        for i in range(DAY_MINUTES)
    ])  # fmt: skip


def room_vapour(temperature: Floats, season: Season) -> Floats:
    """Vapour of the room by the minute [kg/m3]: its vapour pressure at day stays, up to saturation."""
    steady = moist_air.vapour_pressure_at(season.day, season.humidity)
    out = np.empty_like(temperature)
    for i, t in enumerate(temperature):
        pressure = min(steady, moist_air.saturation_pressure(float(t)))
        out[i] = moist_air.vapour_density(pressure, float(t))
    return out


@dataclass(frozen=True)
class Room:
    """Room air by the minute: ``temperature`` [K] and ``vapour`` [kg/m3]."""

    temperature: Floats
    vapour: Floats


def typical_room(habitat: Habitat, season: str) -> Room:
    """The room on a typical day."""
    found = habitat.room.season(season)
    temperature = room_day(found, habitat.schedule.hours(season))
    return Room(temperature, room_vapour(temperature, found))


def plan_of(
    habitat: Habitat,
    paths: list[Path],
    season: str,
    room: Room | None = None,
    hours: tuple[float, float] | None = None,
) -> Plan:
    """The plan of a typical day of a season; ``room`` other room air and ``hours`` other hours of
    the day [s] than the season's."""
    schedule = habitat.schedule
    of_day = hours or schedule.hours(season)
    names = {c.name: i for i, c in enumerate(habitat.controls)}
    sites = {s.name: i for i, s in enumerate(habitat.sites)}
    lamps = np.array([lamp_hours(x, schedule, of_day) for x in habitat.lamps]).reshape(
        -1, DAY_MINUTES
    )
    fans = np.zeros((len(paths), DAY_MINUTES))
    fan_control = np.full(len(paths), NOT_ELECTRIC, np.int64)
    for number, path in enumerate(paths):
        if path.kind == PASSIVE:
            fans[number] = 0.0 if path.door else 1.0
            continue
        fan = habitat.fans[number]
        on = fan.on
        fans[number] = fan.speed * share_of_minutes(*on)
        fan_control[number] = names.get(fan.control, -1)
    mist = np.zeros(DAY_MINUTES)
    if habitat.mist:
        for start, seconds in habitat.mist.times:
            mist += share_of_minutes(start, (start + seconds) % 86400.0)
    air = room or typical_room(habitat, season)
    lit = share_of_minutes(*of_day)
    controls = habitat.controls
    return Plan(
        lamps=np.ascontiguousarray(lamps.T),
        lamp_control=np.array([names.get(x.control, -1) for x in habitat.lamps], np.int64),
        fans=np.ascontiguousarray(fans.T), fan_control=fan_control,
        mist=np.minimum(mist, 1.0),
        mist_control=names.get(habitat.mist.control, -1) if habitat.mist else -1,
        tank=1000.0 * habitat.mist.tank if habitat.mist else 0.0,
        rate=1000.0 * sum(x.type.flow for x in habitat.mist.nozzles) if habitat.mist else 0.0,
        room=air.temperature, vapour=air.vapour,
        daytime=(lit > 0.5).astype(np.int64),
        kind=np.array([KINDS.index(c.kind) for c in controls], np.int64),
        probe=np.array([sites[c.probe] for c in controls], np.int64),
        low=_limits(controls, low=True), high=_limits(controls, low=False),
        lag=np.array([c.lag for c in controls]), pulse=np.array([c.pulse for c in controls]),
        pause=np.array([c.pause for c in controls]),
        cut=np.array([math.nan if c.cut_out is None else c.cut_out for c in controls]),
        cut_probe=np.array([sites[c.cut_out_probe or c.probe] for c in controls], np.int64),
        fault_from=0, fault_to=0, stuck=np.full(len(controls), AS_SET),
        lamp_fault=np.full(len(habitat.lamps), AS_SET), fan_fault=np.full(len(paths), AS_SET),
        mist_fault=AS_SET, dead=False, no_cut=False, room_rise=0.0,
    )  # fmt: skip


def _limits(controls: tuple[Control, ...], *, low: bool) -> Floats:
    out = np.full((len(controls), 2), math.nan)
    for i, c in enumerate(controls):
        day, night = (c.low, c.night_low) if low else (c.high, c.night_high)
        out[i, 0] = day
        if night is not None:
            out[i, 1] = night
    return out
