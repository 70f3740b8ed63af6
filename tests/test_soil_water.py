"""Soil water, roots, litter, peat, heat and mixes: properties that no published value shows."""

from __future__ import annotations

import inspect
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loamwright.engine.ground import laws
from loamwright.physics import (
    held_water,
    infiltration,
    leaf_litter,
    mixes,
    peat,
    root_uptake,
    soil_heat,
    soil_water,
)

LOAM = (0.078, 0.43, 3.6, 1.56)

alphas = st.floats(0.1, 300.0)
spreads = st.floats(1.05, 6.0)
heads = st.floats(-5.0, 3.0).map(lambda x: -(10.0**x))
shares = st.lists(st.floats(0.01, 1.0), min_size=2, max_size=5).map(
    lambda x: [v / math.fsum(x) for v in x]
)


@given(alphas, spreads, st.floats(0.001, 0.999))
def test_head_is_the_inverse_of_saturation(alpha: float, n: float, share: float) -> None:
    head = soil_water.head_at(share, alpha, n)
    if math.isfinite(head) and head < -1e-12:
        assert soil_water.effective_saturation(head, alpha, n) == pytest.approx(share, rel=1e-9)


@given(heads, alphas, spreads)
def test_capacity_is_the_slope_of_content(head: float, alpha: float, n: float) -> None:
    args = (0.05, 0.6, alpha, n)
    e = 1e-4 * -head
    up, down = (soil_water.water_content(head + d, *args) for d in (e, -e))
    slope = soil_water.water_capacity(head, *args)
    # Central difference: its own error is of the order of e^2 and of rounding in the contents.
    assert (up - down) / (2.0 * e) == pytest.approx(slope, rel=1e-6, abs=1e-14 / e)


@given(heads, alphas, spreads)
def test_more_suction_holds_and_conducts_less(head: float, alpha: float, n: float) -> None:
    more = 1.5 * head
    assert soil_water.water_content(more, 0.0, 1.0, alpha, n) <= soil_water.water_content(
        head, 0.0, 1.0, alpha, n
    )
    k = [soil_water.conductivity(h, 1e-4, alpha, n, 0.5) for h in (0.0, head, more)]
    assert k == sorted(k, reverse=True)


@settings(deadline=None)  # the first call compiles
@given(heads, alphas, spreads, st.floats(-2.0, 6.0))
def test_the_compiled_law_is_the_physics(head: float, alpha: float, n: float, bend: float) -> None:
    """Beyond the last millimetre of suction, without what is added to it."""
    row = laws.material_row(0.05, 0.6, alpha, n, 1e-4, bend, plain=True)
    content, slope, k, _ = laws.material_at(head, row)
    if head < -laws.NEARLY or n >= laws.SMOOTH_N:
        assert content == pytest.approx(soil_water.water_content(head, 0.05, 0.6, alpha, n))
        capacity = soil_water.water_capacity(head, 0.05, 0.6, alpha, n)
        assert slope == pytest.approx(capacity, rel=1e-9, abs=1e-300)
        law = soil_water.conductivity(head, 1e-4, alpha, n, bend)
        # 1 - (1 - x)^m loses digits where x is small: both forms agree to 1e-8 there.
        assert k == pytest.approx(law, rel=1e-6, abs=1e-30)


@settings(deadline=None)
@given(heads, alphas, st.floats(1.05, 4.0))
def test_what_is_added_to_the_law_is_small(head: float, alpha: float, n: float) -> None:
    """A thousandth of the volume where plants live (to 150 m), and the slopes are the slopes."""
    row = laws.material_row(0.05, 0.6, alpha, n, 1e-4)
    content, slope, k, dk = laws.material_at(head, row)
    plain = soil_water.water_content(head, 0.05, 0.6, alpha, n)
    if -10.0 < head < -laws.NEARLY:
        assert content == pytest.approx(plain, abs=1e-3)
    e = 1e-5 * -head
    up, down = laws.material_at(head + e, row), laws.material_at(head - e, row)
    if abs(head + laws.NEARLY) > 2.0 * e:
        assert slope == pytest.approx((up[0] - down[0]) / (2 * e), rel=1e-4, abs=1e-13 / e)
        assert dk == pytest.approx((up[2] - down[2]) / (2 * e), rel=1e-3, abs=1e-13 * k / e)
    assert slope > 0.0
    assert k > 0.0


def test_dry_ground_gives_off_its_last_water() -> None:
    released = [soil_water.adsorbed_release(-h, 0.1) for h in (0.0, 10.0, 150.0, 1e3, 1e5)]
    assert released == sorted(released)
    assert released[0] == 0.0
    assert released[1] < 1e-3 * 0.1
    assert released[-1] == pytest.approx(0.1, rel=1e-6)


def test_evaporation_stops_where_pores_are_as_dry_as_the_air() -> None:
    edge = soil_water.HUMID_HEAD * math.log(0.6)
    assert soil_water.evaporated_share(0.0, 0.6) == 1.0
    assert soil_water.evaporated_share(-1.0, 0.6) == pytest.approx(1.0, abs=3e-4)
    assert soil_water.evaporated_share(edge, 0.6) == pytest.approx(0.0, abs=1e-12)
    assert soil_water.evaporated_share(2.0 * edge, 0.6) == 0.0


@given(st.floats(0.02, 0.5), st.floats(0.0, 0.3), alphas, st.floats(1.1, 4.0))
def test_held_water_is_the_integral(depth: float, suction: float, alpha: float, n: float) -> None:
    got = held_water.held_between(suction, suction + depth, 0.1, 0.8, alpha, n)
    z = suction + depth * np.linspace(0.0, 1.0, 20001) ** 3
    y = 0.1 + 0.7 * (1.0 + (alpha * z) ** n) ** (1.0 / n - 1.0)
    assert got == pytest.approx(np.trapezoid(y, z), rel=2e-6)


@given(st.floats(0.05, 0.5), alphas, st.floats(1.1, 4.0))
def test_a_deeper_pot_is_drier_and_holds_more_air(depth: float, alpha: float, n: float) -> None:
    shallow, deep = (
        held_water.container_content(d, 0.0, 0.1, 0.8, alpha, n) for d in (depth, 1.5 * depth)
    )
    assert 0.1 < deep < shallow < 0.8
    over_break = held_water.container_content(depth, 0.03, 0.1, 0.8, alpha, n)
    assert over_break < shallow


@given(st.floats(0.0, 0.1), st.floats(1.0, 300.0))
def test_standing_water_is_that_which_is_held(level: float, alpha: float) -> None:
    water = held_water.held_between(-level, 0.1 - level, 0.0, 0.9, alpha, 2.5)
    found = held_water.standing_depth(water, 0.1, 0.0, 0.9, alpha, 2.5)
    # Where the fringe fills the rest of the layer, the level hardly changes the water.
    again = held_water.held_between(-found, 0.1 - found, 0.0, 0.9, alpha, 2.5)
    assert again == pytest.approx(water, abs=1e-9)


def test_perched_water_is_lower_over_a_break() -> None:
    alpha, n = 15.5, 1.384
    open_hole = held_water.wet_height(0.9, 0.0, alpha, n)
    over = held_water.wet_height(0.9, 0.02, alpha, n)
    assert open_hole > over
    assert over == pytest.approx(max(0.0, open_hole - 0.02))
    assert soil_water.effective_saturation(-open_hole, alpha, n) == pytest.approx(0.9)


@given(st.floats(-9.0, -4.5), alphas, st.floats(1.2, 4.0))
def test_interface_head_carries_the_flow(power: float, alpha: float, n: float) -> None:
    flow = 10.0**power
    head = soil_water.interface_head(flow, 1e-4, alpha, n, 0.5)
    assert soil_water.conductivity(head, 1e-4, alpha, n, 0.5) == pytest.approx(flow, rel=1e-6)
    assert soil_water.interface_head(1e-3, 1e-4, alpha, n, 0.5) == 0.0


def test_green_ampt_meets_its_limits() -> None:
    k, suction, deficit = 1e-5, 0.2, 0.3
    early = infiltration.green_ampt_depth(1e-3, k, suction, deficit)
    assert early == pytest.approx(math.sqrt(2.0 * k * suction * deficit * 1e-3), rel=1e-3)
    late = infiltration.green_ampt_depth(1e8, k, suction, deficit)
    assert infiltration.green_ampt_rate(late, k, suction, deficit) == pytest.approx(k, rel=1e-3)
    assert infiltration.green_ampt_depth(0.0, k, suction, deficit) == 0.0
    pond = infiltration.ponding_time(3e-5, k, suction, deficit)
    rate = infiltration.green_ampt_rate(3e-5 * pond, k, suction, deficit)
    assert rate == pytest.approx(3e-5)
    assert infiltration.philip_depth(4.0, 0.01, 1e-3) == pytest.approx(0.024)


def test_exponential_soil_settles_to_its_steady_heads() -> None:
    args = (1.0, 1e-7, 2e-7, 1e-6, 10.0, 0.3)
    late = infiltration.wetting_exponential_head(0.6, 1e8, *args)
    assert late == pytest.approx(infiltration.steady_exponential_head(0.6, 2e-7, 1e-6, 10.0))
    early = infiltration.wetting_exponential_head(0.6, 10.0, *args)
    assert early == pytest.approx(
        infiltration.steady_exponential_head(0.6, 1e-7, 1e-6, 10.0), abs=1e-6
    )
    with pytest.raises(ValueError, match="no water rises"):
        infiltration.steady_exponential_head(1.0, -1e-7, 1e-6, 10.0)


def test_roots_stop_for_want_of_air_and_of_water() -> None:
    points = [0.0, -0.10, -0.175, -0.25, -3.0, -8.0, -44.0, -80.0, -200.0]
    limits = (root_uptake.AIRLESS, root_uptake.WET, root_uptake.DRY, root_uptake.WILTED)
    got = [root_uptake.uptake_share(h, *limits) for h in points]
    assert got == pytest.approx([0, 0, 0.5, 1, 1, 1, 0.5, 0, 0])
    assert root_uptake.root_share_above(0.3, 0.962) == pytest.approx(1 - 0.962**30)
    assert root_uptake.root_density(0.1, 0.1) == pytest.approx(0.05, abs=0.001)
    assert root_uptake.root_density(0.11, 0.1) == 0.0


def test_peat_is_only_known_where_it_was_measured() -> None:
    with pytest.raises(ValueError, match=r"not measured at pF 2\.5"):
        peat.peat_content(2.5, 80.0)
    assert peat.peat_content(1.0, 250.0) == 0.80
    assert peat.peat_content(1.0, 60.0) == pytest.approx(0.735)


def test_moist_ground_conducts_heat_between_dry_and_wet() -> None:
    for shape in (soil_heat.GRAVEL, soil_heat.SAND, soil_heat.SILT_AND_CLAY, soil_heat.FIBROUS):
        shares = [soil_heat.conductivity_share(s / 10.0, shape) for s in range(11)]
        assert shares == sorted(shares)
        assert (shares[0], shares[-1]) == (0.0, pytest.approx(1.0))
    # D-37: peat of pore space 0.9: 0.27 W/(m K) and 2.13e6 J/(m3 K) at a water content of 0.45.
    k = soil_heat.ground_conductivity(0.5, 0.04, 0.50, soil_heat.FIBROUS)
    assert k == pytest.approx(0.27, rel=0.25)  # fibrous shape runs below the straight line
    assert soil_heat.ground_heat(0.45, 130.0, 1900.0) == pytest.approx(2.13e6, rel=0.005)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1e-4), st.floats(0.0, 1e-6), st.floats(1.0, 1e5))
def test_litter_keeps_its_own_balance(
    wet: float, rain: float, evaporation: float, time: float
) -> None:
    capacity = 2e-3
    start = wet * capacity
    end = leaf_litter.litter_film(start, capacity, rain, evaporation, time)
    assert -1e-15 <= end <= capacity * (1 + 1e-12)
    middle = leaf_litter.litter_film(start, capacity, rain, evaporation, 0.5 * time)
    again = leaf_litter.litter_film(middle, capacity, rain, evaporation, 0.5 * time)
    assert again == pytest.approx(end, abs=1e-15)


def test_dry_litter_catches_as_merriam_says() -> None:
    caught = leaf_litter.litter_film(0.0, 2e-3, 1e-5, 0.0, 120.0)
    assert caught == pytest.approx(leaf_litter.caught_depth(1.2e-3, 2e-3))
    assert leaf_litter.litter_pass(0.03, 0.95, 2.5e-5, 3e-3) < 0.5
    assert leaf_litter.litter_pass(0.0, 0.95, 2.5e-5, 3e-3) == 1.0


@given(shares, st.floats(0.5, 0.65))
def test_mixed_volumes_lie_between_furnas_and_none(parts: list[float], solid: float) -> None:
    sizes = [1e-4 * 3.0**i for i in range(len(parts))]
    volume = mixes.mixed_volume(parts, sizes, solid)
    assert mixes.least_volume(parts, sizes, solid) - 1e-12 <= volume <= 1.0 + 1e-12
    assert mixes.mixed_volume(parts, [1e-3] * len(parts), solid) == pytest.approx(1.0)


@given(shares, st.floats(0.7, 1.0))
def test_masses_and_solids_are_kept(parts: list[float], volume: float) -> None:
    densities = [100.0 * (i + 1) for i in range(len(parts))]
    mass = mixes.blend_density(parts, densities, volume) * volume
    assert mass == pytest.approx(sum(p * d for p, d in zip(parts, densities, strict=True)))
    pores = [0.5 + 0.05 * i for i in range(len(parts))]
    solid = (1.0 - mixes.blend_porosity(parts, pores, volume)) * volume
    assert solid == pytest.approx(sum(p * (1 - q) for p, q in zip(parts, pores, strict=True)))
    rates = [1e-6 * 10.0**i for i in range(len(parts))]
    least, most = mixes.conductivity_bounds(parts, rates)
    assert least <= mixes.blend_conductivity(parts, rates) * (1 + 1e-12)
    assert mixes.blend_conductivity(parts, rates) <= most * (1 + 1e-12)


def test_acid_tells_where_nothing_buffers() -> None:
    assert mixes.free_proton_ph([0.5, 0.5], [4.0, 8.0]) == pytest.approx(4.301, abs=1e-3)
    assert mixes.blend_ph([1.0, 3.0], [1.0, 1.0], [4.0, 8.0]) == 7.0
    assert mixes.blend_ph([1.0, 1.0], [3.0, 1.0], [4.0, 8.0]) == 5.0
    assert mixes.settled_volume([0.5, 0.5], [0.2, 0.0]) == 0.9


COMPILED = (leaf_litter, root_uptake, soil_heat, soil_water)


@pytest.mark.slow
def test_every_function_for_the_loops_compiles_and_agrees() -> None:
    numba = pytest.importorskip("numba")
    checked = 0
    for module in COMPILED:
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ != module.__name__:
                continue
            count = len(inspect.signature(function).parameters)
            plain = [0.31 + 0.07 * i for i in range(count)]
            if "head" in inspect.signature(function).parameters:
                plain[0] = -1.3
            if name in ("effective_saturation", "head_at", "water_content", "water_capacity",
                        "conductivity", "interface_head"):  # fmt: skip
                plain[-2 if name in ("conductivity", "interface_head") else -1] = 1.7
            got = numba.njit(function)(*plain)
            assert got == pytest.approx(function(*plain), rel=1e-12), name
            assert math.isfinite(got), name
            checked += 1
    assert checked > 15
