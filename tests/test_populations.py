"""Decomposers, litter and nitrogen: balances, growth by the life table, limits, an outside solver."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

import decomposers as sample
from decomposers import DAY, YEAR, ZERO
from loamwright.physics import decay, thermal_rates
from loamwright.physics import populations as pop

pytestmark = pytest.mark.slow  # whichever test comes first compiles for some ten seconds

SEEDS = st.integers(0, 2**32 - 1)
QUARTER = 0.25 * DAY


def change(state, kinds, ground, weather) -> np.ndarray:
    gain, loss = np.empty_like(state), np.empty_like(state)
    pop.rates(state, kinds, ground, weather, gain, loss)
    assert (gain >= 0.0).all()
    assert (loss >= 0.0).all()
    return gain - loss


def run(state, kinds, ground, weather, time, longest=QUARTER) -> np.ndarray:
    after = state.copy()
    pop.evolve(after, kinds, ground, weather, time, longest, 0.2)
    return after


# -- nothing is lost -----------------------------------------------------------------------------


@settings(max_examples=150, deadline=None)
@given(SEEDS)
def test_carbon_and_nitrogen_balance_in_every_state(seed):
    """Any state, any weather, empty pools too: the changes add up to what falls in."""
    generator = np.random.default_rng(seed)
    kinds = sample.fauna(2, attack=generator.uniform(0, 1e-6))
    state = np.abs(sample.start(kinds) * 10 ** generator.uniform(-3, 1, 24))
    state[generator.random(state.size) < 0.3] = 0.0
    state[pop.ANIMALS :] += generator.uniform(0, 100, kinds.species.size)
    weather = sample.conditions(
        temperature=ZERO + generator.uniform(-5, 45),
        saturation=generator.uniform(0, 1),
        predators=generator.uniform(0, 20),
    )
    out = change(state, kinds, sample.ground(), weather)
    assert np.isfinite(out).all()
    flows = np.abs(out).sum()
    for total, falls in (
        (pop.total_carbon, weather.litter[0] + weather.waste[0]
         + pop.URATE_CARBON * weather.urate),
        (pop.total_nitrogen, weather.litter[1] + weather.waste[1] + weather.urate),
    ):  # fmt: skip
        # Rounding is in proportion to the flows that cancel, numbers of animals times their mass.
        assert total(out, kinds) == pytest.approx(falls, abs=1e-12 * flows + 1e-25)
    # What is empty can only fill.
    assert (out[state == 0.0] >= 0.0).all()


@pytest.mark.parametrize("weather", [
    sample.conditions(), sample.conditions(predators=3.0, temperature=ZERO + 27.0),
    sample.conditions(saturation=0.02), sample.conditions(saturation=1.0, litter=(0.0, 0.0)),
])  # fmt: skip
def test_nothing_is_lost_in_a_year(weather):
    kinds, ground = sample.fauna(2, attack=2e-7), sample.ground()
    state = sample.start(kinds)
    after = run(state, kinds, ground, weather, YEAR)
    assert (after >= 0.0).all()
    carbon = weather.litter[0] + weather.waste[0] + pop.URATE_CARBON * weather.urate
    nitrogen = weather.litter[1] + weather.waste[1] + weather.urate
    assert pop.total_carbon(after, kinds) == pytest.approx(
        pop.total_carbon(state, kinds) + carbon * YEAR, rel=1e-9
    )
    assert pop.total_nitrogen(after, kinds) == pytest.approx(
        pop.total_nitrogen(state, kinds) + nitrogen * YEAR, rel=1e-9
    )


def test_the_steps_follow_an_outside_solver():
    """LSODA at a relative error of 1e-10, over 60 days of growth, hunting and decay."""
    kinds, ground = sample.fauna(2, attack=2e-7), sample.ground()
    weather = sample.conditions(predators=2.0)
    state = sample.start(kinds)
    right = solve_ivp(
        lambda _, y: change(y, kinds, ground, weather), (0.0, 60 * DAY), state,
        method="LSODA", rtol=1e-10, atol=1e-16,
    ).y[:, -1]  # fmt: skip
    # Quarter-day steps: fourth order, and the fastest class turns over in four days.
    assert run(state, kinds, ground, weather, 60 * DAY) == pytest.approx(right, rel=2e-6)
    # Both solvers stop where eating to need begins: order drops there, so no rate is asked for.
    finer = run(state, kinds, ground, weather, 60 * DAY, longest=DAY / 24)
    assert finer == pytest.approx(right, rel=1e-7)


def test_compiled_and_plain_say_the_same():
    kinds, ground = sample.fauna(1, attack=1e-7), sample.ground()
    weather = sample.conditions(predators=1.0)
    state = sample.start(kinds)
    gain, loss = np.empty_like(state), np.empty_like(state)
    pop.rates.py_func(state, kinds, ground, weather, gain, loss)
    assert change(state, kinds, ground, weather) == pytest.approx(gain - loss, rel=1e-12)


# -- growth --------------------------------------------------------------------------------------


def rate_by_renewal(durations, deaths, births, adult_death, steps) -> float:
    """Root of the renewal equation of stages of gamma length, then adults of even risk."""

    def excess(r: float) -> float:
        through = 1.0
        for length, death in zip(durations, deaths, strict=True):
            pace = steps / length
            through *= (pace / (pace + death + r)) ** steps
        return births * through / (adult_death + r) - 1.0

    return brentq(excess, -0.9 * adult_death, 10.0 * births, xtol=1e-16, rtol=1e-14)


@pytest.mark.parametrize("steps", [1, 3, 8])
def test_growth_with_ample_food_is_that_of_the_life_table(steps):
    kinds = sample.fauna(steps)
    kinds = kinds._replace(births=np.where(np.arange(5 * steps) < 3 * steps - 1, 0, kinds.births))
    # The last classes of adults stand in a row too: all risk and births in the last one.
    kinds = kinds._replace(advance=np.where(
        np.arange(5 * steps) // steps == 2, 1e3 / DAY, kinds.advance))  # fmt: skip
    matrix = pop.ample_growth(kinds, 0, ZERO + 21.0, 0.5)
    found = float(np.linalg.eigvals(matrix).real.max())
    right = rate_by_renewal(
        [8.5 * DAY, 22.5 * DAY], [0.02 / DAY, 0.03 / DAY], 6.0 / DAY, 0.008 / DAY, steps
    )
    # Passing the first adult classes takes a thousandth of a day each.
    assert found == pytest.approx(right, rel=2e-4 * steps)
    assert 0.05 < found * DAY < 0.3


def test_a_small_population_on_much_food_grows_so():
    kinds = sample.fauna(2)
    state = sample.start(kinds, litter=50.0, ratio=10.0)
    state[pop.WASTE : pop.WASTE + 2] = 50.0, 6.0
    state[pop.ANIMALS :] = 0.0
    state[pop.ANIMALS + 5] = 1.0
    weather = sample.conditions(temperature=ZERO + 21.0)
    first = run(state, kinds, sample.ground(), weather, 80 * DAY)
    later = run(first, kinds, sample.ground(), weather, 10 * DAY)
    grown = np.log(later[pop.ANIMALS : pop.ANIMALS + 6] / first[pop.ANIMALS : pop.ANIMALS + 6])
    found = float(np.linalg.eigvals(pop.ample_growth(kinds, 0, ZERO + 21.0, 0.5)).real.max())
    assert grown == pytest.approx(found * 10 * DAY, rel=1e-4)


def test_springtails_collapse_between_24_and_28_degrees():
    """Eggs of the springtail fail above 28 degC and nothing moves below 8 degC."""
    kinds = sample.fauna(2)

    def rate(celsius: float) -> float:
        matrix = pop.ample_growth(kinds, 0, ZERO + celsius, 0.5)
        return float(np.linalg.eigvals(matrix).real.max())

    assert rate(21.0) > rate(24.0) > 0.0 > rate(28.0)
    assert rate(15.0) > 0.0 > rate(8.0)


def test_drought_stops_and_kills():
    kinds = sample.fauna(2)
    wet = np.linalg.eigvals(pop.ample_growth(kinds, 0, ZERO + 21.0, 0.5)).real.max()
    dry = np.linalg.eigvals(pop.ample_growth(kinds, 0, ZERO + 21.0, 0.05)).real.max()
    assert wet > 0.0
    # All die of drought and in the usual way, the hardiest class last.
    assert dry == pytest.approx(-(0.3 + 0.008) / DAY, rel=1e-12)


# -- food ----------------------------------------------------------------------------------------


def only(kinds: pop.Fauna, place: int, number: float = 100.0, **pools) -> np.ndarray:
    state = sample.start(kinds)
    state[pop.ANIMALS :] = 0.0
    state[pop.ANIMALS + place] = number
    for name, value in pools.items():
        state[getattr(pop, name) : getattr(pop, name) + 2] = value
    return state


STILL = sample.ground(litter_decay=0.0, waste_decay=0.0, humus_decay=0.0, urate_decay=0.0,
                      nitrification=0.0, uptake=0.0, leaching=0.0, volatilisation=0.0)  # fmt: skip
NOTHING = sample.conditions(litter=(0.0, 0.0), waste=(0.0, 0.0), urate=0.0, temperature=ZERO + 20.0)


def test_the_hungry_burn_themselves():
    """Without food a class loses what it breathes, over its mass, and its nitrogen is set free."""
    kinds = sample.fauna()._replace(death=np.zeros(5))
    state = only(kinds, 2, LITTER=(0.0, 0.0), WASTE=(0.0, 0.0))
    out = change(state, kinds, STILL, NOTHING)
    breath = 100.0 * kinds.breath[2]
    assert out[pop.BREATHED] == pytest.approx(breath, rel=1e-12)
    assert out[pop.ANIMALS + 2] == pytest.approx(-breath / kinds.carbon[2], rel=1e-12)
    assert out[pop.AMMONIUM] == pytest.approx(breath / 5.0, rel=1e-12)
    assert out[pop.ANIMALS] == 0.0


def test_animals_eat_to_need_and_no_more():
    """Ample rich food: intake is (breath + growth) / assimilation, not the most they could."""
    kinds = sample.fauna()
    state = only(kinds, 2, LITTER=(1e3, 1e2), WASTE=(1e3, 2e2))
    out = change(state, kinds, STILL, NOTHING)
    pace = thermal_rates.beta_factor(ZERO + 20, ZERO + 8, ZERO + 21, ZERO + 28)
    born = 100.0 * kinds.births[2] * pace
    assert out[pop.ANIMALS] == pytest.approx(born, rel=1e-12)
    eaten = (100.0 * kinds.breath[2] + born * kinds.carbon[0]) / 0.4
    assert out[pop.BREATHED] == pytest.approx(100.0 * kinds.breath[2], rel=1e-9)
    assert -out[pop.LITTER] == pytest.approx(eaten * 0.3 / 1.3, rel=1e-9)
    assert eaten < 100.0 * kinds.intake[2] * pace


def test_poor_food_is_eaten_faster_and_its_carbon_breathed():
    kinds = sample.fauna()
    rich = change(only(kinds, 2, LITTER=(1e3, 1e3 / 5), WASTE=(0, 0)), kinds, STILL, NOTHING)
    poor = change(only(kinds, 2, LITTER=(1e3, 1e3 / 12), WASTE=(0, 0)), kinds, STILL, NOTHING)
    worst = change(only(kinds, 2, LITTER=(1e3, 1e3 / 400), WASTE=(0, 0)), kinds, STILL, NOTHING)
    assert poor[pop.ANIMALS] == pytest.approx(rich[pop.ANIMALS], rel=1e-12)
    assert poor[pop.LITTER] < rich[pop.LITTER]
    assert poor[pop.BREATHED] > rich[pop.BREATHED]
    # At 400 to 1 nitrogen is the limit: all that passes into the body becomes eggs.
    assert worst[pop.ANIMALS] < rich[pop.ANIMALS]
    assert worst[pop.AMMONIUM] == pytest.approx(0.0, abs=1e-12 * worst[pop.BREATHED])
    eaten = -worst[pop.LITTER]
    assert worst[pop.ANIMALS] * kinds.carbon[0] / 5.0 == pytest.approx(eaten * 0.4 / 400, rel=1e-12)


def test_who_picks_the_richest_bits_grows_where_others_lack_nitrogen():
    """Picking twice the nitrogen is as good as litter twice as rich, and takes it out of the litter."""
    kinds = sample.fauna()
    plain = change(only(kinds, 2, LITTER=(1e3, 1e3 / 200), WASTE=(0, 0)), kinds, STILL, NOTHING)
    pickers = kinds._replace(choice=np.array([2.0, 2.0]))
    state = only(kinds, 2, LITTER=(1e3, 1e3 / 400), WASTE=(0, 0))
    picked = change(state, pickers, STILL, NOTHING)
    assert picked == pytest.approx(plain, rel=1e-12)
    assert -picked[pop.LITTER + 1] / -picked[pop.LITTER] == pytest.approx(2.0 / 400.0)
    poor = change(state, kinds, STILL, NOTHING)
    assert poor[pop.ANIMALS] < picked[pop.ANIMALS]


def test_the_crowded_grow_slower_each():
    """Kin at which crowding doubles the half-food: as with that half-food and no crowding."""
    kinds = sample.fauna()
    state = only(kinds, 1, LITTER=(0.4, 0.08), WASTE=(0, 0))
    kin = 100.0 * kinds.carbon[1]
    crowded = kinds._replace(crowding=kinds.half_food / kin)
    other = kinds._replace(half_food=2.0 * kinds.half_food)
    assert change(state, crowded, STILL, NOTHING) == pytest.approx(
        change(state, other, STILL, NOTHING), rel=1e-12
    )
    assert thermal_rates.crowded_share(3.0, 1.0, 0.5, 4.0) == pytest.approx(0.5)


def test_little_food_slows_growth():
    kinds = sample.fauna()
    much = change(only(kinds, 1, LITTER=(1e3, 1e2)), kinds, STILL, NOTHING)
    little = change(only(kinds, 1, LITTER=(0.04, 0.008), WASTE=(0, 0)), kinds, STILL, NOTHING)
    assert 0.0 < little[pop.ANIMALS + 2] < much[pop.ANIMALS + 2]


def test_eggs_need_no_food():
    kinds = sample.fauna()
    state = only(kinds, 0, LITTER=(0, 0), WASTE=(0, 0))
    out = change(state, kinds, STILL, NOTHING)
    pace = thermal_rates.beta_factor(ZERO + 20, ZERO + 8, ZERO + 21, ZERO + 28)
    assert out[pop.ANIMALS + 1] == pytest.approx(100.0 * pace / (8.5 * DAY), rel=1e-12)


def test_predators_eat_by_the_disc():
    """One kind of prey: Holling's disc; another kind beside it takes of their time."""
    kinds = sample.fauna(attack=1e-4)._replace(death=np.zeros(5))
    weather = NOTHING._replace(predators=2.0, handling=30.0)
    state = only(kinds, 2, 500.0, LITTER=(0, 0), WASTE=(0, 0))
    out = change(state, kinds, STILL, weather)
    eaten = 2.0 * thermal_rates.prey_eaten(500.0, 1e-4, 30.0)
    assert out[pop.EATEN] == pytest.approx(eaten * kinds.carbon[2], rel=1e-12)
    assert out[pop.EATEN + 1] == pytest.approx(out[pop.EATEN] / 5.0, rel=1e-12)
    state[pop.ANIMALS + 4] = 500.0
    shared = change(state, kinds, STILL, weather)
    both = shared[pop.EATEN]
    alone = both - eaten * kinds.carbon[2]
    assert alone < 2.0 * thermal_rates.prey_eaten(500.0, 1e-4, 30.0) * kinds.carbon[4]
    each = 2.0 * 500e-4 / (1.0 + 1e-4 * 30.0 * 1000.0)
    assert both == pytest.approx(each * (kinds.carbon[2] + kinds.carbon[4]), rel=1e-12)


# -- litter and nitrogen -------------------------------------------------------------------------


def bare(ratio: float, mineral: float = 1.0) -> np.ndarray:
    """Only litter and mineral nitrogen."""
    state = np.zeros(pop.ANIMALS + 5)
    state[pop.LITTER : pop.LITTER + 2] = 1.0, 1.0 / ratio
    state[pop.AMMONIUM] = mineral
    return state


@pytest.mark.parametrize(("saturation", "factor"), [(0.6, 1.0), (1.0, 0.31), (0.05, 0.0)])
def test_litter_goes_by_its_constant(saturation, factor):
    kinds = sample.fauna()
    rot = STILL._replace(litter_decay=1.25 / YEAR)
    weather = NOTHING._replace(temperature=ZERO + 25.0, saturation=saturation)
    after = run(bare(24.0), kinds, rot, weather, YEAR)
    assert after[pop.LITTER] == pytest.approx(
        decay.remaining_share(1.25 * factor / YEAR, YEAR), rel=1e-9
    )
    assert after[pop.HUMUS] == pytest.approx((1.0 - after[pop.LITTER]) / 3.0, abs=1e-12)


@pytest.mark.parametrize("ratio", [10.0, 24.0, 60.0])
def test_nitrogen_is_freed_or_tied_up_by_the_ratio(ratio):
    kinds = sample.fauna()
    rot = STILL._replace(litter_decay=1.25 / YEAR, half_mineral=1e-12)
    weather = NOTHING._replace(temperature=ZERO + 25.0)
    out = change(bare(ratio), kinds, rot, weather)
    gone = -out[pop.LITTER]
    right = decay.net_mineralisation(gone, ratio, 8.0, 1.0 / 3.0)
    assert out[pop.AMMONIUM] == pytest.approx(right, abs=1e-12 * gone)
    assert (right > 0.0) == (ratio < decay.critical_ratio(8.0, 1.0 / 3.0) - 1e-9)


def test_poor_litter_leaves_less_humus_where_nitrogen_lacks():
    kinds = sample.fauna()
    rot = STILL._replace(litter_decay=1.25 / YEAR, half_mineral=1e-4)
    weather = NOTHING._replace(temperature=ZERO + 25.0)
    fed = change(bare(60.0, 1e3), kinds, rot, weather)
    half = change(bare(60.0, 1e-4), kinds, rot, weather)
    starved = change(bare(60.0, 0.0), kinds, rot, weather)
    gone = 1.25 / YEAR
    for out in (fed, half, starved):
        assert out[pop.LITTER] == pytest.approx(-gone, rel=1e-12)
    # Of 60 to 1 the litter's own nitrogen makes 8/60 of it humus, a full third needs more.
    assert fed[pop.HUMUS] == pytest.approx(gone / 3.0, rel=1e-6)
    assert starved[pop.HUMUS] == pytest.approx(gone * 8.0 / 60.0, rel=1e-12)
    assert half[pop.HUMUS] == pytest.approx((fed + starved)[pop.HUMUS] / 2.0, rel=1e-6)
    assert starved[pop.AMMONIUM] == 0.0
    # Just at the critical ratio nothing jumps.
    near = [change(bare(24.0 + e, 0.0), kinds, rot, weather)[pop.HUMUS] for e in (-1e-9, 1e-9)]
    assert near[0] == pytest.approx(near[1], rel=1e-9)


def test_urates_become_ammonium_then_nitrate_then_leave():
    kinds = sample.fauna()
    rot = STILL._replace(urate_decay=0.2 / DAY, nitrification=0.1 / DAY, leaching=0.05 / DAY)
    weather = NOTHING._replace(temperature=ZERO + 25.0)
    state = np.zeros(pop.ANIMALS + 5)
    state[pop.URATE] = 1.0
    after = run(state, kinds, rot, weather, 10 * DAY, longest=DAY / 24)
    a, b, c = 0.2, 0.1, 0.05
    # Three first-order steps in a row, Bateman's equations.
    e = [math.exp(-k * 10) for k in (a, b, c)]
    assert after[pop.URATE] == pytest.approx(e[0], rel=1e-8)
    assert after[pop.AMMONIUM] == pytest.approx(a / (b - a) * (e[0] - e[1]), rel=1e-8)
    nitrate = (
        a
        * b
        * (e[0] / ((b - a) * (c - a)) + e[1] / ((a - b) * (c - b)) + e[2] / ((a - c) * (b - c)))
    )
    assert after[pop.NITRATE] == pytest.approx(nitrate, rel=1e-8)
    assert after[pop.BREATHED] == pytest.approx(pop.URATE_CARBON * (1.0 - e[0]), rel=1e-8)


def test_plants_take_both_forms_and_no_more_than_there_is():
    kinds = sample.fauna()
    rot = STILL._replace(uptake=1e-4 / DAY, half_uptake=1e-3)
    state = bare(24.0, 3e-3)
    state[pop.NITRATE] = 1e-3
    out = change(state, kinds, rot, NOTHING)
    assert out[pop.TAKEN] == pytest.approx(1e-4 / DAY * 0.8, rel=1e-12)
    assert out[pop.AMMONIUM] == pytest.approx(-0.75 * out[pop.TAKEN], rel=1e-12)
    after = run(state, kinds, rot, NOTHING, 20 * YEAR)
    assert 0.0 <= after[pop.AMMONIUM] < 1e-12
    assert after[pop.TAKEN] == pytest.approx(4e-3, rel=1e-9)


@pytest.mark.parametrize("steps", [1, 4, 20])
def test_rows_of_classes_make_stages_of_gamma_length(steps):
    """Mean and spread of the time through a stage, from the moments of its chain."""
    pace = pop.stage_rates([10.0], [steps])
    assert pace == pytest.approx(np.full(steps, steps / 10.0))
    # Of a chain -C the times spent have moments k! C^-k: first the mean, then the square.
    chain = np.linalg.inv(np.diag(pace) - np.diag(pace[:-1], -1))
    mean = float((chain @ np.eye(steps)[0]).sum())
    square = 2.0 * float((chain @ chain @ np.eye(steps)[0]).sum())
    assert mean == pytest.approx(10.0, rel=1e-12)
    assert math.sqrt(square - mean**2) == pytest.approx(10.0 / math.sqrt(steps), rel=1e-9)
