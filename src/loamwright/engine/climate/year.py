"""A whole year, day after day, on the room's conditions by the hour."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import drive
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.plan import DAY_MINUTES, Plan, Tape, no_memory
from loamwright.engine.climate.reading import read_tape
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.running import run
from loamwright.engine.climate.schedule import Room, plan_of
from loamwright.engine.light.parallel import over_rows
from loamwright.engine.light.record import LightStudy
from loamwright.habitat.controls import Schedule
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.room import RoomYear
from loamwright.physics import moist_air
from loamwright.physics.daily import daily_course

Floats = NDArray[np.float64]

DAYS = 365
COLDEST = 15
"""Day of the year on which winter is deepest where only the seasons are known; common practice."""

HOUR_ROWS = 60
"""Minutes between the rows of a year."""

COARSE = 0.3
"""Cells of a year are this much coarser along each axis than those of a day."""


PART = 183
"""Days of a part of the year that runs on its own."""


def summer_share(day: int) -> float:
    """0 in the depth of winter, 1 at the height of summer; ``day`` 0 is 1 January."""
    return 0.5 - 0.5 * math.cos(2.0 * math.pi * (day - COLDEST) / DAYS)


def hours_on(schedule: Schedule, day: int) -> tuple[float, float]:
    """Hours of the day on a date [s], between those of winter and of summer."""
    share = summer_share(day)
    winter, summer = schedule.hours("winter"), schedule.hours("summer")
    return (
        winter[0] + share * (summer[0] - winter[0]),
        winter[1] + share * (summer[1] - winter[1]),
    )


def room_by_minute(habitat: Habitat) -> Room:
    """Room air over the year by the minute: what was read or modelled by the hour, between hours in a
    straight line; else between the habitat's winter and summer."""
    year = habitat.room.year
    if year is None:
        year = _from_seasons(habitat)
    steps = np.arange(DAYS * DAY_MINUTES) / 60.0
    temperature = np.interp(steps, np.arange(len(year.temperature)) + 0.5, year.temperature,
                            period=float(len(year.temperature)))  # fmt: skip
    vapour = np.array([
        moist_air.vapour_density(moist_air.vapour_pressure_at(t, h), t)
        for t, h in zip(year.temperature, year.humidity, strict=True)
    ])  # fmt: skip
    by_minute = np.interp(steps, np.arange(len(vapour)) + 0.5, vapour, period=float(len(vapour)))
    return Room(temperature, by_minute)


def _from_seasons(habitat: Habitat) -> RoomYear:
    """The year between the two seasons of the file."""
    winter, summer = habitat.room.winter, habitat.room.summer
    temperature, humidity = [], []
    for day in range(DAYS):
        share = summer_share(day)
        rise, fall = hours_on(habitat.schedule, day)
        warm = winter.day + share * (summer.day - winter.day)
        cool = winter.night + share * (summer.night - winter.night)
        damp = winter.humidity + share * (summer.humidity - winter.humidity)
        for hour in range(24):
            temperature.append(daily_course((hour + 0.5) * 3600.0, warm, cool, rise, fall))
            humidity.append(damp)
    return RoomYear(tuple(temperature), tuple(humidity), "between the file's winter and summer")


def _sliced(tape: Tape, low: int, high: int) -> Tape:
    return Tape(*(table[low:high] for table in tape))


def run_year(
    habitat: Habitat,
    study: LightStudy,
    built: Built,
    told: Callable[[int], None] = lambda _: None,
) -> ClimateRun:
    """The year from 1 January, a row an hour, in two parts that run side by side; the first day of each
    is repeated until it settles.

    ``told`` is called with the number of each day that is done. The tank is taken to be
    filled every midnight. Raises `BalanceError` where heat or water do not close.
    """
    net = built.net
    room = room_by_minute(habitat)
    tape = drive.blank_tape(net, DAYS * 24 + 1)
    parts: dict[int, tuple[Plan, tuple[float, float], Floats]] = {}
    done: list[int] = []

    def some(low: int, high: int) -> None:
        # A part's first row is that of the part before it; it gets rows of its own instead.
        rows = drive.blank_tape(net, (high - low) * 24 + 1)
        memory = no_memory(len(habitat.controls))
        state: Floats | None = None
        begin: Floats = np.zeros(0)
        for day in range(low, high):
            minutes = slice(day * DAY_MINUTES, (day + 1) * DAY_MINUTES)
            air = Room(room.temperature[minutes], room.vapour[minutes])
            plan = plan_of(habitat, built.paths, "winter", air, hours_on(habitat.schedule, day))
            if state is None:
                state, memory, *_ = drive.repeat_day(built, plan)
                drive.forget_ledger(net, state)
                begin = state.copy()
            memory.used[0] = 0.0
            hours = _sliced(rows, (day - low) * 24, (day - low + 1) * 24 + 1)
            run(net, plan, state, memory, 0, DAY_MINUTES, HOUR_ROWS, hours)
            done.append(day)
            told(len(done))
        assert state is not None
        first = 0 if low == 0 else 1
        for whole, part in zip(tape, rows, strict=True):
            whole[low * 24 + first : high * 24 + 1] = part[first:]
        parts[low] = plan, drive.checked(net, begin, state), rows.ledger[-1]

    over_rows(DAYS, PART, some)
    summed = np.zeros(len(tape.ledger[0]))
    for low in sorted(parts)[:-1]:
        summed = summed + parts[low][2]
        tape.ledger[(low + PART) * 24 + 1 : min(low + 2 * PART, DAYS) * 24 + 1] += summed
    worst = max((p[1] for p in parts.values()), key=lambda b: max(abs(b[0]), abs(b[1])))
    return read_tape(habitat, study, built, parts[0][0], tape, season="year", every=HOUR_ROWS,
                     balance=worst)  # fmt: skip
