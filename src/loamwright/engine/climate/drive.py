"""Runs of a built network: a typical day until it repeats itself, longer spells, failures."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import settle
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.layout import LEDGERS, offsets
from loamwright.engine.climate.network import LEAF, LEDGER, WATER, Net
from loamwright.engine.climate.plan import DAY_MINUTES, Memory, Plan, Tape, no_memory
from loamwright.engine.climate.running import run
from loamwright.errors import BalanceError
from loamwright.physics import moist_air

Floats = NDArray[np.float64]

REPEATS = 0.02
"""A day repeats itself when no node ends it further [K] from where it began."""

REPEATS_WET = 0.02
"""... and no surface is wetter or drier by this share of what it holds."""

NEARLY = 5.0
"""Times as much is borne of a day that comes no nearer to repeating itself for `STALLED` days:
thermostats and pulses of mist can make days take turns for ever."""

STALLED = 2

MOST_DAYS = 40
BALANCE_LIMIT = 1e-3
"""Largest share of the heat and water that came in which may be missing after a run."""


def state_size(net: Net) -> int:
    """Length of the state."""
    return int(offsets(net)[8])


def first_state(net: Net, temperature: float, vapour: float) -> Floats:
    """All at one temperature [K] and vapour density [kg/m3], dry."""
    at = offsets(net)
    y = np.zeros(state_size(net))
    y[: at[1]] = temperature
    y[at[1] : at[2]] = vapour
    y[at[2] : at[4]] = temperature
    y[at[6] : at[6] + len(net.site_store)] = temperature
    return y


def blank_tape(net: Net, rows: int) -> Tape:
    """Room for so many rows."""
    n, s = len(net.volume), len(net.area)
    lamps, paths, z = len(net.body_power), len(net.path_kind), len(net.site_on)
    sizes = (n, n, s, s, z, lamps, paths, lamps, paths)
    tables = [np.zeros((rows, k)) for k in sizes]
    lists = [np.zeros(rows) for _ in range(3)]
    return Tape(*tables, *lists, np.zeros((rows, LEDGERS)))  # type: ignore[call-arg]


def heat_stored(net: Net, y: Floats) -> float:
    """Heat held over 0 K by everything in the ledger's border [J]."""
    at = offsets(net)
    air = float((y[: at[1]] * net.volume).sum()) * net.heat
    solids = float(y[at[2] : at[3]] @ net.store)
    leaves = float(y[at[3] : at[4]] @ net.leaf_store)
    return air + solids + leaves


def water_stored(net: Net, y: Floats) -> float:
    """Water in the air and in films [kg]."""
    at = offsets(net)
    kept = net.wetting != WATER
    return float(y[at[1] : at[2]] @ net.volume + (y[at[4] : at[5]] * net.area)[kept].sum())


def balance(net: Net, before: Floats, after: Floats) -> tuple[float, float]:
    """Shares of the heat and of the water turned over in a run that are missing from its ledger."""
    at = offsets(net)
    change = dict(zip(LEDGER, after[at[7] : at[8]] - before[at[7] : at[8]], strict=True))
    heat_in = change["lamps"] + change["fans"] + change["water"]
    heat_out = change["walls"] + change["air"] + change["windows"] + change["evaporated"]
    gained = heat_stored(net, after) - heat_stored(net, before)
    turned = abs(change["lamps"]) + abs(change["walls"]) + abs(change["air"]) + abs(gained) + 1.0
    water_in = change["mist"] + change["bowls"] + change["soil"] + change["leaves"]
    water_out = change["soaked"] + change["vented"]
    wetter = water_stored(net, after) - water_stored(net, before)
    moved = (
        change["mist"] + abs(change["bowls"]) + change["soil"] + change["leaves"]
        + abs(change["vented"]) + abs(wetter) + 1e-6
    )  # fmt: skip
    return (
        float((heat_in - heat_out - gained) / turned),
        float((water_in - water_out - wetter) / moved),
    )


def checked(net: Net, before: Floats, after: Floats) -> tuple[float, float]:
    """`balance`, raising `BalanceError` where it does not close or a number is not finite."""
    if not np.isfinite(after).all():
        raise BalanceError("the climate's numbers ran away; nothing of this run can be used")
    heat, water = balance(net, before, after)
    if abs(heat) > BALANCE_LIMIT or abs(water) > BALANCE_LIMIT:
        raise BalanceError(
            f"the climate's balance does not close: {100 * heat:.2f} % of the heat and "
            f"{100 * water:.2f} % of the water are missing; its numbers cannot be used"
        )
    return heat, water


def forget_ledger(net: Net, y: Floats) -> None:
    """Begin the sums anew."""
    at = offsets(net)
    y[at[7] : at[8]] = 0.0


def repeat_day(
    built: Built, plan: Plan, start: Floats | None = None, every: int = 10,
    told: Callable[[int], None] | None = None,
    ran: Callable[[Tape, int, tuple[float, float]], None] | None = None,
) -> tuple[Floats, Memory, Tape, int, tuple[float, float]]:  # fmt: skip
    """Run the same day until it repeats itself, or nearly and no better (`NEARLY`); the state and
    memory at midnight, the last day's tape (every ``every`` minutes, both midnights included), the days
    it took, and its balance.

    Between days all temperatures are shifted by what would carry off the day's gain, and films to
    where a day would dry as much as it wets (`settle`). ``told`` is called with the number of each day
    before it is run, and may end the work by raising; ``ran`` with the tape, number and balance of each
    day that does not repeat itself yet.
    """
    net = built.net
    y = start.copy() if start is not None else _guess(built, plan)
    memory = no_memory(len(plan.kind))
    at = offsets(net)
    rows = DAY_MINUTES // every + 1
    tape = blank_tape(net, rows)
    slow, films, under = (
        slice(at[2], at[4]),
        slice(at[4], at[5]),
        slice(at[6], at[6] + len(net.site_store)),
    )
    nearest, stalled = math.inf, 0
    for day in range(1, MOST_DAYS + 1):
        if told is not None:
            told(day)
        forget_ledger(net, y)
        memory.used[0] = 0.0
        before = y.copy()
        run(net, plan, y, memory, 0, DAY_MINUTES, every, tape)
        closed = checked(net, before, y)
        moved = np.abs(y - before)
        warmer = max(moved[slow].max(), moved[under].max(initial=0.0))
        wetter = (moved[films] / net.capacity).max()
        off = max(warmer / REPEATS, wetter / REPEATS_WET)
        stalled = stalled + 1 if off > 0.8 * nearest else 0
        nearest = min(nearest, off)
        if day > 1 and (off < 1.0 or (off < NEARLY and stalled >= STALLED)):
            break
        if ran is not None:
            ran(tape, day, closed)
        if day < MOST_DAYS:
            factors = settle.steady_solver(net, settle.mean_inflow(net, tape.flows))
            more = settle.film_shift(net, tape.films)
            y += settle.shift(net, factors, before, y)
            y[films] += more
    return y, memory, tape, day, closed


def _guess(built: Built, plan: Plan) -> Floats:
    """Midnight somewhat over the room, as damp as a habitat usually is."""
    net = built.net
    temperature = float(plan.room.mean()) + 1.5
    vapour = moist_air.vapour_density(moist_air.vapour_pressure_at(temperature, 0.6), temperature)
    return first_state(net, temperature, vapour)


def carry_on(
    built: Built, plan: Plan, state: Floats, memory: Memory, begin: int, minutes: int, every: int
) -> tuple[Tape, tuple[float, float]]:
    """Run on from a state, changing it and the memory; the tape and the balance."""
    net = built.net
    tape = blank_tape(net, minutes // every + 1)
    forget_ledger(net, state)
    before = state.copy()
    run(net, plan, state, memory, begin, minutes, every, tape)
    return tape, checked(net, before, state)


def leaf_surfaces(net: Net) -> NDArray[np.int64]:
    """Numbers of the surfaces that are leaves."""
    return np.nonzero(net.wetting == LEAF)[0]
