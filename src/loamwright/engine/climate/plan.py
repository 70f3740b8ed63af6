"""What happens when: schedules, controllers and faults as arrays, one row a minute."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MINUTE = 60.0
DAY_MINUTES = 1440

THERMOSTAT, DIMMING, COOLING, HUMIDISTAT, PULSE_MIST = 0, 1, 2, 3, 4
"""Kinds of controller, in the order of `habitat.controls.KINDS`."""

AS_SET = -1.0
"""No fault: the thing does what its schedule and controller say."""


NOT_ELECTRIC = -2
"""In place of a controller's number: a path that is open or shut without electricity."""


class Plan(NamedTuple):
    """Schedules by the minute (T rows of a day, used round and round), controllers (C) and faults.

    ``lamps`` (T, L) share of full the schedule allows, ``lamp_control`` (L,) number of the
    controller or -1; ``fans`` (T, P) speed the schedule allows (1 for passive paths that are open),
    ``fan_control`` (P,); ``mist`` (T,) share of the minute the pump runs, ``mist_control``;
    ``tank`` [kg], ``rate`` [kg/s]; ``room`` (U,) [K] and ``vapour`` (U,) [kg/m3], a day or a year
    by the minute; ``daytime`` (T,).
    Controllers: ``kind``, ``probe`` (C,) site, ``low`` and ``high`` (C, 2) by day and by night (NaN:
    off), ``lag`` [s], ``pulse``, ``pause`` [s], ``cut`` [K] (NaN: none), ``cut_probe``.
    Faults from minute ``fault_from`` to ``fault_to``: ``stuck`` (C,) output of a controller,
    ``lamp_fault`` (L,), ``fan_fault`` (P,), ``mist_fault`` (each `AS_SET` or the share it is stuck
    at), ``dead`` no electricity, ``no_cut`` the independent limits fail too, ``room_rise`` [K].
    """

    lamps: Floats
    lamp_control: Ints
    fans: Floats
    fan_control: Ints
    mist: Floats
    mist_control: int
    tank: float
    rate: float
    room: Floats
    vapour: Floats
    daytime: Ints
    kind: Ints
    probe: Ints
    low: Floats
    high: Floats
    lag: Floats
    pulse: Floats
    pause: Floats
    cut: Floats
    cut_probe: Ints
    fault_from: int
    fault_to: int
    stuck: Floats
    lamp_fault: Floats
    fan_fault: Floats
    mist_fault: float
    dead: bool
    no_cut: bool
    room_rise: float


class Memory(NamedTuple):
    """What controllers remember between minutes, changed in place: ``sensed`` (C,) and ``switched``
    (C,) 0 or 1, ``waits`` (C,) seconds until the next pulse may start, ``owed`` (C,) seconds of a
    pulse still to run, ``cut_sensed`` (C,), ``used`` (1,) water taken from the tank [kg]."""

    sensed: Floats
    switched: Floats
    waits: Floats
    owed: Floats
    cut_sensed: Floats
    used: Floats


def no_memory(controllers: int) -> Memory:
    """Memory of controllers that have sensed nothing yet."""
    blank = np.full(controllers, np.nan)
    return Memory(
        blank.copy(), np.zeros(controllers), np.zeros(controllers), np.zeros(controllers),
        blank.copy(), np.zeros(1),
    )  # fmt: skip


def at_midnight(memory: Memory) -> Memory:
    """A copy of a memory, to go on with; the tank is full."""
    own = Memory(*(a.copy() for a in memory))
    own.used[0] = 0.0
    return own


class Tape(NamedTuple):
    """What a run records, a row every ``every`` minutes: air (R, N) and vapour (R, N), surfaces
    (R, S), films (R, S), site nodes (R, Z), lamp bodies (R, L), flows out (R, P), lamps (R, L) and
    fans (R, P) as they ran, mean since the row before, mist seconds since the row before (R,), room
    (R,) and its vapour (R,), ledger (R, 14)."""

    air: Floats
    vapour: Floats
    surface: Floats
    films: Floats
    sites: Floats
    bodies: Floats
    flows: Floats
    lamps: Floats
    fans: Floats
    mist: Floats
    room: Floats
    room_vapour: Floats
    ledger: Floats
