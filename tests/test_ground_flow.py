"""Water moving in a column: conservation, rest, limits of the surface, and rates of convergence.

Published profiles stand in ``sheets/ground_flow.toml``.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from loamwright.engine.ground import laws, readings, richards, run
from loamwright.engine.ground.column import (
    CLOSED,
    NO_LITTER,
    OPEN_HOLE,
    Bottom,
    Column,
    Litter,
    Porous,
    Slab,
    build_column,
)
from loamwright.engine.ground.run import rest_over, run_column, state_at
from loamwright.errors import BalanceError
from loamwright.physics import held_water, infiltration, soil_water
from sheet_ground_flow import CELIA, wetting_run

DAY = 86400.0
MAT = Porous(0.0, 0.95, 333.3, 3.0, 0.1)
FLEECE = Porous(0.02, 0.88, 33.3, 3.0, 2e-3)
MIX = Porous(0.135, 0.82, 33.5, 1.56, 1.2e-3)
GRAVEL = Porous(0.02, 0.36, 111.6, 2.7, 0.01)


def planted(litter: Litter = NO_LITTER, bottom: Bottom = CLOSED, finest: float = 1e-3) -> Column:
    """Drainage mat, fleece and mix."""
    return build_column(
        [Slab("mat", 0.03, MAT), Slab("fleece", 0.002, FLEECE), Slab("mix", 0.18, MIX)],
        litter=litter, bottom=bottom, rooting=0.15, finest=finest,
    )  # fmt: skip


def misted(days: int, depth: float) -> tuple[np.ndarray, np.ndarray]:
    """Edges [s] and rates [m/s] of two mistings of 40 s a day, ``depth`` [m] each."""
    one = np.array([0.0, 27000.0, 27040.0, 68400.0, 68440.0])
    edges = np.concatenate([one + d * DAY for d in range(days)] + [[days * DAY]])
    return edges, np.tile([0.0, depth / 40.0, 0.0, depth / 40.0, 0.0], days)


# -- conservation -------------------------------------------------------------------------------

porous = st.builds(
    Porous,
    residual=st.floats(0.0, 0.1),
    saturated=st.floats(0.3, 0.95),
    alpha=st.floats(-0.3, 2.5).map(lambda x: 10.0**x),
    n=st.sampled_from([1.09, 1.2, 1.4, 1.9, 2.7, 4.0]),
    conductivity=st.floats(-8.0, -1.0).map(lambda x: 10.0**x),
)
bottoms = st.sampled_from([CLOSED, OPEN_HOLE, Bottom(free=True), Bottom(1e-3, 0.01)])


layers_of = st.lists(st.tuples(porous, st.floats(0.002, 0.2)), min_size=1, max_size=4)
act = st.tuples(
    st.floats(0.0, 5.3), st.floats(-9.0, -3.5), st.floats(-9.0, -6.0), st.booleans(), st.booleans()
)
"""Logarithms of how long [s], of rain and of demand [m/s], and whether each is there."""
anything = st.tuples(
    layers_of,
    st.lists(act, min_size=1, max_size=12),
    st.floats(-3.0, 5.0),
    bottoms,
    st.sampled_from([0.0, 1e-5, 5e-3]),
    st.floats(0.0, 0.98),
)
"""Cloudbursts on dust, floods on clay, drought in an open pot."""


def keep_the_water(layers, acts, dryness, bottom, leaves, humidity) -> None:
    """Within 1e-6 of what came in, in every record."""
    column = build_column(
        [Slab(str(i), depth, p) for i, (p, depth) in enumerate(layers)],
        litter=Litter(leaves, 0.3),
        bottom=bottom,
        rooting=0.2,
    )
    times = np.concatenate(([0.0], np.cumsum([10.0 ** a[0] for a in acts])))
    rain = np.array([10.0 ** a[1] if a[3] else 0.0 for a in acts])
    demand = np.array([10.0 ** a[2] if a[4] else 0.0 for a in acts])
    start = state_at(column, -(10.0**dryness))
    result = run_column(
        column, times, rain, demand, 2e-8, start, times[-1] / 3.0, air_humidity=humidity
    )
    supplied = result.supplied[-1]
    assert supplied == pytest.approx(float(rain @ np.diff(times)), rel=1e-9)
    lost = result.evaporated + result.from_litter + result.taken + result.drained
    gained = result.stored - result.stored[0]
    assert np.abs(gained + lost - result.supplied).max() <= 1e-6 * supplied + 1e-12
    water = run.node_water(column, result.end.head).sum() + result.end.litter
    assert water == pytest.approx(result.stored[-1], abs=1e-6 * supplied + 1e-9)
    for sums in (result.supplied, result.evaporated, result.from_litter, result.taken):
        assert (np.diff(sums) >= -1e-15).all()


@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(anything)
def test_no_water_is_lost_whatever_happens(case) -> None:
    keep_the_water(*case)


@pytest.mark.slow
@settings(deadline=None, max_examples=400, suppress_health_check=[HealthCheck.too_slow])
@given(anything)
def test_no_water_is_lost_in_many_more_cases(case) -> None:
    keep_the_water(*case)


def test_a_closed_box_keeps_every_drop() -> None:
    """Water put in and nothing taken out: the start and the supply, to the last digits."""
    column = planted()
    edges, rain = misted(20, 2e-3)
    result = run_column(column, edges, rain, 0.0, 0.0, rest_over(column, -0.5), DAY)
    assert result.stored[-1] == pytest.approx(result.stored[0] + 0.08, rel=1e-12)
    assert result.drained[-1] == result.evaporated[-1] == result.taken[-1] == 0.0
    assert result.balance < 1e-9


def test_a_year_in_two_halves_is_a_year() -> None:
    column = planted(litter=Litter(2e-3, 0.2))
    edges, rain = misted(40, 1e-3)
    demand = 1e-8
    whole = run_column(column, edges, rain, demand, 5e-9, rest_over(column, -0.3), 10 * DAY)
    first = run_column(
        column, edges[:101], rain[:100], demand, 5e-9, rest_over(column, -0.3), 10 * DAY
    )
    second = run_column(column, edges[100:], rain[100:], demand, 5e-9, first.end, 10 * DAY)
    assert second.time[0] == first.time[-1] == 20 * DAY
    assert np.abs(second.content[-1] - whole.content[-1]).max() < 2e-3  # the steps' tolerance
    both = first.supplied[-1] + second.supplied[-1]
    assert both == pytest.approx(whole.supplied[-1], rel=1e-9)
    assert second.stored[0] == pytest.approx(first.stored[-1], rel=1e-14)


def test_an_engine_that_loses_water_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    column = planted()
    edges, rain = misted(1, 1e-3)
    plain = richards.march

    def leaky(*arguments):
        reached = plain(*arguments)
        arguments[5][:] -= 1e-4  # heads: the water is in them
        return reached

    monkeypatch.setattr(richards, "march", leaky)
    with pytest.raises(BalanceError, match=r"misses .* L/m2 of 2 supplied"):
        run_column(column, edges, rain, 0.0, 0.0, rest_over(column, -0.3), DAY)
    monkeypatch.setattr(richards, "march", lambda *arguments: 1)
    with pytest.raises(BalanceError, match="could not be followed beyond 27000 s"):
        run_column(column, edges, rain, 0.0, 0.0, rest_over(column, -0.3), DAY)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"times": np.array([0.0, 0.0])}, "times must rise"),
        ({"surface_water": np.nan}, "not finite"),
        ({"surface_water": -1e-8}, "cannot be negative"),
        ({"root_demand": -1e-8}, "cannot be negative"),
        ({"record_every": 0.0}, "record_every"),
        ({"air_humidity": 1.0}, "air_humidity"),
    ],
)
def test_what_cannot_be_run_is_refused(change: dict, message: str) -> None:
    column = planted()
    values = {
        "times": np.array([0.0, 60.0]), "surface_water": 0.0, "evaporation_demand": 0.0,
        "root_demand": 0.0, "start": rest_over(column, -0.3), "record_every": 60.0,
        "air_humidity": 0.5,
    }  # fmt: skip
    with pytest.raises(ValueError, match=message):
        run_column(column, **(values | change))
    with pytest.raises(ValueError, match="depth above 0"):
        build_column([Slab("none", 0.0, MIX)])


# -- rest ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("level", [-0.4, 0.012, 0.05])
def test_rest_over_a_capillary_break_stays_at_rest(level: float) -> None:
    """Over standing water in the mat, or none, heads that balance gravity drive no flow."""
    column = planted()
    start = rest_over(column, level)
    result = run_column(column, np.array([0.0, 60 * DAY]), 0.0, 0.0, 0.0, start, 10 * DAY)
    # 0.1 mm of head in two months; what moves is rounding.
    assert np.abs(result.head - start.head).max() < 1e-4
    assert result.standing == pytest.approx(max(level, 0.0), abs=1e-4)


def test_standing_water_is_what_the_closed_form_says() -> None:
    """Water poured through a mat on a closed floor stands as deep as the hydrostatic integral."""
    column = build_column([Slab("gravel", 0.10, GRAVEL)])
    start = state_at(column, -0.06)
    result = run_column(
        column, np.array([0.0, 600.0, 90 * DAY]), np.array([0.02 / 600.0, 0.0]), 0.0, 0.0, start,
        90 * DAY,
    )  # fmt: skip
    args = (GRAVEL.residual, GRAVEL.saturated, GRAVEL.alpha, GRAVEL.n)
    deep = held_water.standing_depth(result.stored[-1], 0.10, *args)
    assert result.standing[-1] == pytest.approx(deep, abs=2e-3)  # gravel drains for ever


def test_a_drain_holds_the_level() -> None:
    column = planted(bottom=Bottom(1e-2, 0.015))
    edges, rain = misted(30, 5e-3)
    result = run_column(column, edges, rain, 0.0, 0.0, rest_over(column, -0.2), DAY)
    assert result.standing[-1] == pytest.approx(0.015, abs=1e-3)
    assert result.drained[-1] > 0.2


def test_a_coarse_layer_holds_flow_back_until_its_suction_is_small() -> None:
    """Steady flow over gravel: the head at the interface is that at which gravel carries it."""
    flow = 1e-6
    column = build_column(
        [Slab("gravel", 0.30, GRAVEL), Slab("mix", 0.15, MIX)], bottom=Bottom(free=True)
    )
    start = state_at(column, -0.05)
    result = run_column(column, np.array([0.0, 20 * DAY]), flow, 0.0, 0.0, start, 20 * DAY)
    wanted = soil_water.interface_head(flow, GRAVEL.conductivity, GRAVEL.alpha, GRAVEL.n, 0.5)
    i = int(np.argmin(np.abs(column.height - 0.30)))
    assert result.head[-1, i] == pytest.approx(wanted, rel=0.02)
    assert result.drained[-1] - result.drained[0] == pytest.approx(flow * 20 * DAY, rel=0.05)


# -- the surface --------------------------------------------------------------------------------


def test_water_stands_on_ground_that_cannot_take_it() -> None:
    clay = Porous(0.068, 0.38, 0.8, 1.09, 5.6e-7)
    column = build_column([Slab("clay", 0.10, clay)])
    start = state_at(column, -2.0)
    result = run_column(column, np.array([0.0, 36000.0]), 5e-6, 0.0, 0.0, start, 3600.0)
    room = 0.10 * clay.saturated - start.water.sum()
    assert result.ponded[1] > 0.005
    assert result.ponded[-1] == pytest.approx(0.18 - room, rel=1e-3)
    assert result.standing[-1] == pytest.approx(0.10 + result.ponded[-1], abs=1e-9)


def test_wet_ground_evaporates_all_that_is_wanted_and_dry_ground_what_it_can() -> None:
    column = build_column([Slab("mix", 0.15, MIX)])
    wet = rest_over(column, 0.10)
    demand = 2e-8
    result = run_column(column, np.array([0.0, 60 * DAY]), 0.0, demand, 0.0, wet, DAY)
    first, last = np.diff(result.evaporated)[[0, -1]] / (demand * DAY)
    assert first == pytest.approx(1.0, abs=2e-3)
    assert last < 0.5
    # The surface is no drier than the air.
    assert result.head[:, -1].min() >= soil_water.HUMID_HEAD * math.log(run.AIR_HUMIDITY) * 1.001


def test_steady_evaporation_from_a_water_table_is_gardners() -> None:
    """The flow a depth of exponential soil lets rise is found by the engine by itself."""
    k, alpha, depth = 1e-6, 10.0, 0.4
    row = laws.material_row(0.06, 0.40, alpha, 2.0, k, law=laws.EXPONENTIAL, plain=True)
    column = replace(
        build_column([Slab("soil", depth, CELIA)], finest=0.002, even=True), table=row[None, :]
    )
    demand = 0.0005 * k
    result = run_column(
        column, np.array([0.0, 400 * DAY]), 0.0, demand, 0.0, rest_over(column, 0.0), 400 * DAY,
        bottom_head=0.0, air_humidity=0.0,
    )  # fmt: skip
    wanted = [infiltration.steady_exponential_head(z, -demand, k, alpha) for z in column.height]
    assert np.abs(result.head[-1] - wanted).max() < 5e-4


def test_dew_falls_as_water() -> None:
    column = planted()
    start = rest_over(column, -0.3)
    edges = np.array([0.0, DAY])
    dew = run_column(column, edges, 0.0, -1e-8, 0.0, start, DAY)
    rain = run_column(column, edges, 1e-8, 0.0, 0.0, start, DAY)
    assert dew.stored[-1] == pytest.approx(rain.stored[-1], rel=1e-14)
    assert dew.evaporated[-1] == 0.0


def test_litter_catches_wets_through_and_dries() -> None:
    leaves = Litter(2e-3, 0.2)
    column = planted(litter=leaves)
    start = rest_over(column, -0.3)
    rain = run_column(column, np.array([0.0, 60.0]), 3e-3 / 60.0, 0.0, 0.0, start, 60.0)
    caught = 2e-3 * (1.0 - math.exp(-1.5))  # Merriam 1960
    assert rain.litter[-1] == pytest.approx(caught, rel=1e-9)
    assert rain.stored[-1] - rain.stored[0] == pytest.approx(3e-3, rel=1e-9)
    dry = run_column(column, np.array([0.0, 10 * DAY]), 0.0, 2e-8, 0.0, rain.end, DAY)
    assert dry.litter[-1] < 0.01 * caught
    assert dry.from_litter[-1] == pytest.approx(caught - dry.litter[-1], rel=1e-9)
    bare = run_column(
        planted(), np.array([0.0, 10 * DAY]), 0.0, 2e-8, 0.0, rest_over(column, -0.3), DAY
    )
    assert dry.evaporated[-1] < 0.3 * bare.evaporated[-1]


def test_roots_take_where_they_are_and_not_from_floods() -> None:
    column = planted()
    demand = 1e-8
    moist = run_column(column, np.array([0.0, DAY]), 0.0, 0.0, demand, rest_over(column, -0.6), DAY)
    assert moist.taken[-1] == pytest.approx(demand * DAY, rel=1e-6)
    flood = run_column(
        column, np.array([0.0, DAY]), 0.0, 0.0, demand, rest_over(column, column.depth), DAY
    )
    assert flood.taken[-1] < 0.01 * demand * DAY
    wilted = run_column(
        column, np.array([0.0, DAY]), 0.0, 0.0, demand, state_at(column, -90.0), DAY
    )
    assert wilted.taken[-1] < 1e-3 * demand * DAY
    assert column.root.sum() == pytest.approx(1.0)
    assert column.root[column.height < column.depth - 0.151].max() == 0.0


def test_early_uptake_goes_by_the_root_of_time() -> None:
    """Philip's first term: four times as long, twice as much."""
    loam = Porous(0.078, 0.43, 3.6, 1.56, 2.9e-6)
    column = build_column([Slab("loam", 0.30, loam)], finest=2e-4)
    result = run_column(
        column, np.array([0.0, 240.0]), 0.0, 0.0, 0.0, state_at(column, -10.0),
        np.array([15.0, 60.0]), top_head=0.0, tolerance=1e-4,
    )  # fmt: skip
    once, four = result.supplied[1:3]
    assert four / once == pytest.approx(2.0, rel=0.03)


# -- numbers ------------------------------------------------------------------------------------


def test_error_falls_with_the_square_of_the_mesh() -> None:
    """Against the closed form of Srivastava and Yeh: halving slices quarters the error."""
    errors = []
    for nodes in (50, 100, 200):
        column, result = wetting_run(nodes)
        k = 0.01 / 3600.0
        right = [
            infiltration.wetting_exponential_head(z, 3600.0, 1.0, 0.1 * k, 0.9 * k, k, 10.0, 0.34)
            for z in column.height
        ]
        errors.append(float(np.abs(result.head[-1] - right).max()))
    orders = [math.log2(a / b) for a, b in pairwise(errors)]
    assert min(orders) > 1.8, errors


def test_error_falls_with_the_square_of_the_step() -> None:
    """Redistribution in loam, steps of one length against steps a sixteenth as long."""
    loam = Porous(0.078, 0.43, 3.6, 1.56, 2.9e-6)
    column = build_column([Slab("loam", 0.4, loam)], finest=0.01, even=True)
    start = state_at(column, -0.3 - 2.0 * (1.0 - column.height / 0.4) ** 2)
    time = np.array([0.0, 4 * 3600.0])

    def end(step: float) -> np.ndarray:
        return run_column(
            column, time, 1e-7, 0.0, 0.0, start, time[-1], fixed_step=step, tolerance=1e-7
        ).content[-1]

    right = end(15.0)
    errors = [float(np.abs(end(step) - right).max()) for step in (960.0, 480.0, 240.0)]
    orders = [math.log2(a / b) for a, b in pairwise(errors)]
    assert min(orders) > 1.7, errors


def test_a_tighter_tolerance_comes_nearer() -> None:
    column = planted()
    edges, rain = misted(10, 2e-3)

    def content(tolerance: float) -> np.ndarray:
        return run_column(
            column, edges, rain, 1e-8, 5e-9, rest_over(column, -0.3), DAY, tolerance=tolerance
        ).content

    right = content(1e-7)
    errors = [float(np.abs(content(t) - right).max()) for t in (2e-3, 1e-4, 5e-6)]
    assert errors[0] < 5e-3
    assert errors[1] < errors[0]
    assert errors[2] < 0.3 * errors[1]


def test_twice_the_slices_move_no_layer() -> None:
    """The demo's mesh: mean water of each layer within 0.5 % of the volume of the finer one's."""
    edges, rain = misted(20, 2e-3)
    means = []
    for finest in (1e-3, 5e-4):
        column = planted(finest=finest)
        result = run_column(column, edges, rain, 1e-8, 5e-9, rest_over(column, -0.3), DAY)
        means.append(readings.layer_content(column, result.head))
    assert np.abs(means[0] - means[1])[:, 2].max() < 5e-3
    assert np.abs(means[0] - means[1]).max() < 2e-2  # the mat fills by single slices


def test_the_form_of_the_equation_matters() -> None:
    """Celia's point: the form in heads alone, in steps of 12 minutes, gains the wrong water;
    ours, in steps of that length, the right one."""
    size, step, end = 0.01, 720.0, DAY
    heads = np.full(100, -10.0)

    def law(h: np.ndarray, column: int) -> np.ndarray:
        """Van Genuchten with n = 2: content, its slope, conductivity."""
        x = (3.35 * h) ** 2
        if column == 0:
            return 0.102 + 0.266 / np.sqrt(1.0 + x)
        if column == 1:
            return -0.266 * x / (h * (1.0 + x) ** 1.5)
        return 0.00922e-2 * (1.0 + x) ** -0.25 * (1.0 - np.sqrt(x / (1.0 + x))) ** 2

    inflow, start = 0.0, law(heads, 0).sum() * size
    for _ in range(round(end / step)):
        new = heads.copy()
        for _ in range(20):
            k = law(np.concatenate(([-0.75], new, [-10.0])), 2)
            mean = 0.5 * (k[1:] + k[:-1])
            link = mean / size
            link[[0, -1]] *= 2.0
            c = law(new, 1) * size / step
            bands = np.zeros((3, 100))
            bands[1] = c + link[:-1] + link[1:]
            bands[0, 1:] = bands[2, :-1] = -link[1:-1]
            right = c * heads + mean[:-1] - mean[1:]
            right[0] += link[0] * -0.75
            right[-1] += link[-1] * -10.0
            found = solve_banded((1, 1), bands, right)
            moved = np.abs(found - new).max()
            new = found
            if moved < 1e-6:
                break
        inflow += step * (link[0] * (-0.75 - new[0]) + mean[0])
        inflow -= step * (link[-1] * (new[-1] + 10.0) + mean[-1])
        heads = new
    gained = law(heads, 0).sum() * size - start
    assert gained / inflow < 0.9
    column = build_column([Slab("soil", 1.0, CELIA)], finest=size, even=True)
    ours = run_column(
        column, np.array([0.0, end]), 0.0, 0.0, 0.0, state_at(column, -10.0), end,
        top_head=-0.75, bottom_head=-10.0, fixed_step=step,
    )  # fmt: skip
    assert (ours.stored[-1] - ours.stored[0]) / (
        ours.supplied[-1] - ours.drained[-1]
    ) == pytest.approx(1.0, abs=1e-9)


# -- readings -----------------------------------------------------------------------------------


def test_readings_agree_with_each_other() -> None:
    column = planted()
    state = rest_over(column, 0.01)
    heads = np.vstack((state.head, np.full_like(state.head, -50.0)))
    depth = np.diff(column.faces)
    content = readings.layer_content(column, heads)
    assert content[0] @ depth == pytest.approx(state.water.sum(), rel=1e-4)
    full = np.array([MAT.saturated, FLEECE.saturated, MIX.saturated])
    assert content + readings.layer_air(column, heads) == pytest.approx(
        np.vstack((full, full)), abs=1e-4
    )
    assert readings.layer_flooded(column, heads)[0] == pytest.approx([1 / 3, 0, 0], abs=1e-6)
    assert readings.layer_flooded(column, heads)[1] == pytest.approx([0, 0, 0])
    assert readings.standing_depth(column, heads) == pytest.approx([0.01, 0.0])
    assert readings.surface_suction(heads) == pytest.approx([column.depth - 0.01, 50.0])
    top = readings.top_saturation(column, heads, 0.05)
    mean = held_water.held_between(
        column.depth - 0.06, column.depth - 0.01, MIX.residual, MIX.saturated, MIX.alpha, MIX.n
    )
    assert top[0] == pytest.approx(mean / 0.05 / MIX.saturated, rel=2e-3)
    assert readings.top_saturation(column, state.head) == pytest.approx(top[0])
    assert readings.layer_suction(column, heads)[1] == pytest.approx([50.0] * 3)
    assert column.part_of(0.0, column.depth) == pytest.approx(np.ones_like(column.height))


def test_slices_are_fine_where_it_matters() -> None:
    column = planted()
    assert column.depth == pytest.approx(0.212)
    assert column.size.sum() == pytest.approx(column.depth)
    assert column.length[0] < 1.1e-3
    assert column.length[-1] < 1.1e-3
    assert column.length.max() <= 0.0101
    for face in column.faces:
        assert np.abs(column.height - face).min() < 1e-12
    assert (column.material[1:] >= column.material[:-1]).all()
