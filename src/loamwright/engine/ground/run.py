"""Follow the water of a column through time, and read what comes out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loamwright.engine.ground import richards
from loamwright.engine.ground.column import Column, Floats
from loamwright.engine.ground.readings import standing_depth
from loamwright.errors import BalanceError

TOLERANCE = 5e-3
"""Allowed error of a node's water content in one step [1]."""

BALANCE = 1e-6
"""Most that a run's balance may miss, as a share of the water that came in."""

LEAST_WATER = 1e-9
"""Water that may be missed however little came in [m]: a milligram on a square metre."""

LEAST_STEP = 1e-4
"""Step that is taken whatever its error [s]: where a flow begins at once, none is small enough."""

AIR_HUMIDITY = 0.7
"""Relative humidity of the air over the ground where none is given [1]."""


@dataclass(frozen=True)
class State:
    """A column at one time: ``head`` (N,) [m], ``water`` (N,) in each node [m], ``litter`` the
    water in the leaves [m]."""

    head: Floats
    water: Floats
    litter: float = 0.0


@dataclass(frozen=True)
class ColumnResult:
    """A run; R records (the first is the start), N nodes. Lengths are metres of water.

    ``time`` (R,) [s]; ``head`` (R, N) [m], ``content`` (R, N) by volume [1]; ``standing`` (R,)
    depth of the water that stands on the floor [m], ``ponded`` (R,) on the surface, ``litter`` (R,)
    in the leaves, ``stored`` (R,) in all (leaves and pond included).

    Sums since the start (R,): ``supplied`` from above, ``evaporated`` from the ground,
    ``from_litter`` from the leaves, ``taken`` by roots, ``drained`` below.

    ``end`` the last state, to go on from; ``balance`` water missed over water supplied [1];
    ``steps``, ``refused`` and ``looks`` (evaluations of all nodes) count the work.
    """

    time: Floats
    head: Floats
    content: Floats
    standing: Floats
    ponded: Floats
    litter: Floats
    stored: Floats
    supplied: Floats
    evaporated: Floats
    from_litter: Floats
    taken: Floats
    drained: Floats
    end: State
    balance: float
    steps: int
    refused: int
    looks: int


def state_at(column: Column, head: Floats | float, litter: float = 0.0) -> State:
    """The state of a column with known heads [m] (one for all, or (N,))."""
    heads = np.array(np.broadcast_to(np.asarray(head, dtype=float), column.height.shape))
    return State(heads, node_water(column, heads), litter)


def rest_over(column: Column, level: float) -> State:
    """The state at rest over a water level [m] above the floor (below it where negative)."""
    return state_at(column, level - column.height)


def node_water(column: Column, head: Floats) -> Floats:
    """Water of each node [m], (N,), what stands on the surface with the top one."""
    work = np.full((richards.ROWS, len(head)), richards.UNSEEN)
    richards.fill_nodes(head, 0.0, column.material, column.length, column.table, work)
    return work[richards.WATER].copy()


def run_column(
    column: Column,
    times: Floats,
    surface_water: Floats | float,
    evaporation_demand: Floats | float,
    root_demand: Floats | float,
    start: State,
    record_every: float | Floats,
    *,
    air_humidity: float = AIR_HUMIDITY,
    tolerance: float = TOLERANCE,
    fixed_step: float = 0.0,
    top_head: float | None = None,
    bottom_head: float | None = None,
) -> ColumnResult:
    """Follow a column under water from above, evaporation and roots.

    Parameters
    ----------
    column : Column
        The ground.
    times : ndarray of shape (M+1,)
        Rising times between which the three rates hold [s].
    surface_water, evaporation_demand, root_demand : ndarray of shape (M,), or float
        Water that falls on the litter or ground, what a water surface there would evaporate, and
        what the roots would like to take [m/s]. A negative demand is dew and falls as water.
    start : State
        Where it begins: `state_at`, `rest_over`, or ``end`` of an earlier run.
    record_every : float, or ndarray
        Time between records [s], or their times; the start and the end are recorded anyway.
    air_humidity : float
        Relative humidity of the air, taken at the ground's temperature, under 1 [1].
    tolerance : float
        Allowed error of a node's water content in one step [1].
    fixed_step : float
        Above 0: steps of this length [s], whatever their error.
    top_head, bottom_head : float, optional
        Heads held at the surface (instead of rates) and at the floor (instead of a bottom) [m].

    Raises
    ------
    BalanceError
        If the water does not add up within `BALANCE`, or the flow could not be followed.
    ValueError
        If the times do not rise, or a rate is not finite.
    """
    edges = np.asarray(times, dtype=float)
    if edges.ndim != 1 or len(edges) < 2 or not (np.diff(edges) > 0.0).all():
        raise ValueError("times must rise, two at least")
    if not 0.0 <= air_humidity < 1.0:
        raise ValueError(f"air_humidity {air_humidity} is not from 0 to under 1")
    count = len(edges) - 1
    demand, roots = _rates(evaporation_demand, count), _rates(root_demand, count)
    supply = _rates(surface_water, count) + np.maximum(-demand, 0.0)
    demand = np.maximum(demand, 0.0)
    if (supply < 0.0).any() or (roots < 0.0).any():
        raise ValueError("surface_water and root_demand cannot be negative")
    if top_head is not None:
        supply, demand = np.zeros(count), np.zeros(count)
    marks = _record_times(edges, record_every)
    points = np.union1d(edges, marks)
    which = np.clip(np.searchsorted(edges, points[:-1], side="right") - 1, 0, count - 1)
    polished = np.isin(points[1:], marks)
    head, litter = start.head.copy(), np.array([start.litter])
    water, nodes = start.water.copy(), len(head)
    kept = np.zeros((int(polished.sum()), 2 * nodes + 7))
    sums, counts = np.zeros(6), np.zeros(4)
    for place, held, flow in (
        (-1, top_head, richards.SUPPLIED), (0, bottom_head, richards.DRAINED),
    ):  # fmt: skip
        if held is not None:
            # The node takes up at once what it lacks of the head held.
            head[place] = held
            lacks = node_water(column, head)[place] - water[place]
            water[place] += lacks
            sums[flow] += lacks if place else -lacks
    reached = richards.march(
        points, supply[which], demand[which], roots[which], polished, head, water, litter,
        column.litter.capacity, column.litter.passes, column.material, column.length, column.size,
        column.upwind, column.table, column.root,
        _acts(column, air_humidity, top_head, bottom_head), tolerance, fixed_step, LEAST_STEP,
        sums, counts, kept, np.zeros((richards.ROWS, nodes)),
    )  # fmt: skip
    if reached < len(points) - 1:
        raise BalanceError(
            f"the water of the ground could not be followed beyond {points[reached]:.6g} s"
        )
    balance = _balance(column, start, head, litter[0], sums)
    return _result(column, np.append(edges[0], marks), start, kept, balance, counts)


def _rates(values: Floats | float, count: int) -> Floats:
    rates = np.array(np.broadcast_to(np.asarray(values, dtype=float), (count,)))
    if not np.isfinite(rates).all():
        raise ValueError("a rate is not finite")
    return rates


def _record_times(edges: Floats, record_every: float | Floats) -> Floats:
    """Times of the records after the start."""
    if isinstance(record_every, np.ndarray):
        inside = record_every[(record_every > edges[0]) & (record_every < edges[-1])]
    elif not record_every > 0.0:
        raise ValueError("record_every must be above 0 s")
    else:
        inside = np.arange(edges[0] + record_every, edges[-1], record_every)
    # A record that misses an edge by rounding only would leave a sliver of time between.
    right = np.clip(np.searchsorted(edges, inside), 1, len(edges) - 1)
    near = np.where(
        inside - edges[right - 1] < edges[right] - inside, edges[right - 1], edges[right]
    )
    return np.union1d(np.where(np.abs(near - inside) < 1e-6, near, inside), edges[-1:])


def _acts(
    column: Column, air_humidity: float, top_head: float | None, bottom_head: float | None
) -> Floats:
    acts = np.zeros(13)
    acts[richards.HUMIDITY] = air_humidity
    acts[richards.DRAIN_KIND] = richards.FREE if column.bottom.free else richards.DRAIN
    acts[richards.DRAIN_CONDUCTANCE] = column.bottom.conductance
    acts[richards.DRAIN_HEIGHT] = column.bottom.height
    acts[richards.AIRLESS : richards.WILTED + 1] = column.limits
    acts[richards.TOP_HEAD] = np.nan if top_head is None else top_head
    acts[richards.BOTTOM_HEAD] = np.nan if bottom_head is None else bottom_head
    return acts


def _balance(column: Column, start: State, head: Floats, leaves: float, sums: Floats) -> float:
    """Water missed over water supplied; the water is that which the heads hold."""
    gained = node_water(column, head).sum() - start.water.sum() + leaves - start.litter
    lost = sum(
        sums[k]
        for k in (richards.EVAPORATED, richards.FROM_LITTER, richards.TAKEN, richards.DRAINED)
    )
    supplied = float(sums[richards.SUPPLIED])
    missed = abs(gained + lost - supplied)
    if missed > max(BALANCE * abs(supplied), LEAST_WATER):
        raise BalanceError(
            f"the ground's water misses {missed * 1000:.3g} L/m2 of {supplied * 1000:.6g} supplied"
        )
    return missed / abs(supplied) if supplied else 0.0


def _result(
    column: Column,
    time: Floats,
    start: State,
    kept: Floats,
    balance: float,
    counts: Floats,
) -> ColumnResult:
    nodes = len(start.head)
    first = np.concatenate((start.head, start.water, [start.litter], np.zeros(6)))
    rows = np.vstack((first, kept))
    head, water, litter = rows[:, :nodes], rows[:, nodes : 2 * nodes], rows[:, 2 * nodes]
    sums = rows[:, 2 * nodes + 1 :]
    ponded = np.maximum(head[:, -1], 0.0)
    content = water / column.size
    content[:, -1] -= ponded / column.size[-1]
    return ColumnResult(
        time,
        head,
        content,
        standing_depth(column, head),
        ponded,
        litter,
        water.sum(axis=1) + litter,
        sums[:, richards.SUPPLIED],
        sums[:, richards.EVAPORATED],
        sums[:, richards.FROM_LITTER],
        sums[:, richards.TAKEN],
        sums[:, richards.DRAINED],
        State(head[-1].copy(), water[-1].copy(), float(litter[-1])),
        balance,
        int(counts[richards.STEPS]),
        int(counts[richards.REFUSED]),
        int(counts[richards.LOOKS]),
    )
