"""Decomposers by stage, and the litter, waste and nitrogen they live on and pass on.

Everything stands on one square metre of floor. The animals are counted by classes; a stage of a
life is one class or a few in a row, which makes its end less ragged (`stage_rates`). An animal of
a class weighs what its class weighs: to move up it has to find the carbon and the nitrogen of the
difference, to bear young that of the young. What it eats beyond is breathed, passed or excreted,
and what it lacks is burnt, so that some of the starving are used up. Nothing is lost: every gram
of carbon and nitrogen is in `total_carbon` and `total_nitrogen`.

Units are kg of carbon or nitrogen, m2 and seconds. Rates named *at best* are those at the optimum
temperature, right moisture and ample food.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import ArrayLike, NDArray

from loamwright.physics import decay, thermal_rates

Array = NDArray[np.float64]

_q10 = njit(cache=True, nogil=True)(thermal_rates.q10_factor)
_beta = njit(cache=True, nogil=True)(thermal_rates.beta_factor)
_moisture = njit(cache=True, nogil=True)(thermal_rates.moisture_factor)
_share = njit(cache=True, nogil=True)(thermal_rates.feeding_share)
_crowded = njit(cache=True, nogil=True)(thermal_rates.crowded_share)

URATE_CARBON = decay.URATE_CARBON

POOLS = (
    "litter carbon", "litter nitrogen", "waste carbon", "waste nitrogen", "humus carbon",
    "humus nitrogen", "urate nitrogen", "ammonium", "nitrate", "breathed carbon", "eaten carbon",
    "eaten nitrogen", "taken up nitrogen", "lost nitrogen",
)  # fmt: skip
"""What the first places of a state hold [kg/m2]; the numbers of animals by class follow [1/m2].

Waste is dung and dead animals; humus is what decay leaves, the microbes in it. The last five only
fill: what is breathed, eaten by predators, taken up by plants, washed out or gone as gas."""

LITTER, WASTE, HUMUS, URATE, AMMONIUM, NITRATE, BREATHED, EATEN, TAKEN, LOST = (
    0, 2, 4, 6, 7, 8, 9, 10, 12, 13,
)  # fmt: skip
"""Places in a state; for pools of carbon and nitrogen that of the carbon, nitrogen is the next."""

ANIMALS = len(POOLS)
"""Place of the first class of animals in a state."""


NOTHING = 1e-30
"""What is taken for nothing [kg/m2], [1/m2], so that a pool run dry ends."""


class Fauna(NamedTuple):
    """Decomposers; the first eight by class, classes of a species in a row, the rest by species."""

    species: NDArray[np.int64]
    """Row of the species of each class."""
    carbon: Array
    """Carbon of one animal [kg], not falling from class to class of a species."""
    advance: Array
    """Passage to the next class at best [1/s]; that of the last of a species is not used."""
    births: Array
    """Young of one animal at best [1/s]: half of a female's in a species of two sexes."""
    intake: Array
    """Carbon eaten by one animal at best [kg/s]; 0 for eggs."""
    breath: Array
    """Carbon breathed by one animal at rest at the reference temperature [kg/s]."""
    death: Array
    """Deaths in good conditions [1/s]."""
    attack: Array
    """Area a predator searches for animals of the class in a second [m2/s]."""
    low: Array
    """Temperature below which nothing moves [K]."""
    optimum: Array
    """Temperature at which development, feeding and breeding are fastest [K]."""
    high: Array
    """Temperature above which nothing moves [K]."""
    reference: Array
    """Temperature for which breath is given [K]."""
    q10: Array
    """Factor of breath for ten kelvin [1]."""
    moisture: Array
    """Shape (species, 4): the four points of `thermal_rates.moisture_factor` [1]."""
    drought: Array
    """Deaths added where moisture forbids all else [1/s]."""
    ratio: Array
    """Carbon to nitrogen in the body [1]."""
    assimilation: Array
    """Share of the food that passes into the body [1]."""
    taste: Array
    """Shape (species, 2): how much of litter and of waste counts as food [1]."""
    choice: Array
    """Nitrogen of what they pick out of the litter over that of all of it [1]; 1: they do not pick."""
    half_food: Array
    """Food at which intake is halved [kg carbon/m2]."""
    crowding: Array
    """Food that a kilogram of their own kind keeps the others from [kg carbon/kg carbon]."""


class Ground(NamedTuple):
    """How the ground works. Decay rates are for the reference temperature and right moisture."""

    litter_decay: float
    """By microbes [1/s]."""
    waste_decay: float
    """By microbes [1/s]."""
    humus_decay: float
    """By microbes [1/s]."""
    urate_decay: float
    """Of urates to ammonium [1/s]."""
    nitrification: float
    """Of ammonium to nitrate [1/s]."""
    reference: float
    """Temperature for which rates are given [K]."""
    q10: float
    """Factor of all of them for ten kelvin [1]."""
    moisture: tuple[float, float, float, float]
    """The four points of `thermal_rates.moisture_factor` [1]."""
    efficiency: float
    """Share of decomposed carbon that becomes humus where nitrogen is not lacking [1]."""
    humus_ratio: float
    """Carbon to nitrogen of what becomes humus [1]."""
    half_mineral: float
    """Mineral nitrogen at which microbes find half of what their food lacks [kg/m2]."""
    uptake: float
    """Most nitrogen plants take up [kg/(m2 s)]."""
    half_uptake: float
    """Mineral nitrogen at which they take up half of it [kg/m2]."""
    leaching: float
    """Nitrate washed out [1/s]."""
    volatilisation: float
    """Ammonium gone as ammonia [1/s]."""


class Conditions(NamedTuple):
    """What comes from outside, steady over a step."""

    temperature: float
    """Of litter and upper ground [K]."""
    saturation: float
    """Share of the pores filled with water [1]."""
    litter: tuple[float, float]
    """Carbon and nitrogen of leaves that fall [kg/(m2 s)]."""
    waste: tuple[float, float]
    """Carbon and nitrogen of the residents' dung [kg/(m2 s)]."""
    urate: float
    """Nitrogen of the residents' urates [kg/(m2 s)]."""
    predators: float
    """Animals that eat decomposers [1/m2]."""
    handling: float
    """Time a predator needs for one of them [s]."""


def stage_rates(durations: ArrayLike, steps: ArrayLike) -> Array:
    """Passage rates of classes when each stage is a row of them [1/s], shape (sum of steps,).

    Parameters
    ----------
    durations : array_like, shape (stages,)
        Mean length of each stage [s].
    steps : array_like of int, shape (stages,)
        Classes for each stage [1]; its length then varies by 1 / sqrt(steps) of itself.

    Source: linear chain, Manetsch 1976, IEEE Trans Syst Man Cybern 6:547 (from memory).
    """
    count = np.asarray(steps, dtype=np.int64)
    return np.repeat(count / np.asarray(durations, dtype=float), count)


def total_carbon(state: ArrayLike, fauna: Fauna) -> float:
    """All carbon, what has gone included [kg/m2].

    Parameters
    ----------
    state : array_like, shape (pools and classes,)
        Pools [kg/m2], then numbers by class [1/m2].
    fauna : Fauna
        The decomposers.

    Source: sum.
    """
    s = np.asarray(state, dtype=float)
    pools = s[[LITTER, WASTE, HUMUS, BREATHED, EATEN]].sum() + URATE_CARBON * s[URATE]
    return float(pools + s[ANIMALS:] @ fauna.carbon)


def total_nitrogen(state: ArrayLike, fauna: Fauna) -> float:
    """All nitrogen, what has gone included [kg/m2].

    Parameters
    ----------
    state : array_like, shape (pools and classes,)
        Pools [kg/m2], then numbers by class [1/m2].
    fauna : Fauna
        The decomposers.

    Source: sum.
    """
    s = np.asarray(state, dtype=float)
    places = [LITTER + 1, WASTE + 1, HUMUS + 1, URATE, AMMONIUM, NITRATE, EATEN + 1, TAKEN, LOST]
    return float(s[places].sum() + s[ANIMALS:] @ (fauna.carbon / fauna.ratio[fauna.species]))


def ample_growth(fauna: Fauna, species: int, temperature: float, saturation: float) -> Array:
    """How the classes of a species feed each other when food is ample [1/s], shape (own, own).

    Parameters
    ----------
    fauna : Fauna
        The decomposers.
    species : int
        Row of the species [1].
    temperature : float
        Temperature [K].
    saturation : float
        Share of the pores filled with water [1].

    The greatest real part of its eigenvalues is the rate of increase with nobody eaten.

    Source: the terms of `rates` that are in proportion to numbers, nothing limiting growth.
    """
    own = np.flatnonzero(fauna.species == species)
    wet = thermal_rates.moisture_factor(saturation, *fauna.moisture[species].tolist())
    pace = wet * thermal_rates.beta_factor(
        temperature, fauna.low[species], fauna.optimum[species], fauna.high[species]
    )
    advance = fauna.advance[own] * pace
    advance[-1] = 0.0
    out = np.diag(-advance - fauna.death[own] - fauna.drought[species] * (1.0 - wet))
    out += np.diag(advance[:-1], -1)
    out[0] += fauna.births[own] * pace
    return out


@njit(cache=True, nogil=True)
def _feed(state, fauna, temperature, saturation, gain, loss):  # type: ignore[no-untyped-def]
    """What the animals eat, breathe, pass, become and leave when they die."""
    classes = fauna.species.size
    first = 0
    kin = 0.0
    for k in range(classes):
        s = fauna.species[k]
        if k == 0 or fauna.species[k - 1] != s:
            first = k
            kin = 0.0
            for j in range(k, classes):
                if fauna.species[j] != s:
                    break
                kin += state[ANIMALS + j] * fauna.carbon[j]
        last = k == classes - 1 or fauna.species[k + 1] != s
        points = fauna.moisture[s]
        wet = _moisture(saturation, points[0], points[1], points[2], points[3])
        pace = wet * _beta(temperature, fauna.low[s], fauna.optimum[s], fauna.high[s])
        litter = fauna.taste[s, 0] * state[LITTER]
        waste = fauna.taste[s, 1] * state[WASTE]
        food = litter + waste
        picked = fauna.choice[s] * fauna.taste[s, 0] * state[LITTER + 1]
        richness = 0.0
        if food > 0.0:
            richness = (picked + fauna.taste[s, 1] * state[WASTE + 1]) / food
        own, share, ratio = fauna.carbon[k], fauna.assimilation[s], fauna.ratio[s]
        births = fauna.births[k] * pace
        advance = 0.0 if last else fauna.advance[k] * pace
        more = 0.0 if last else fauna.carbon[k + 1] - own
        need = advance * more + births * fauna.carbon[first]
        most = (
            fauna.intake[k]
            * pace
            * _crowded(max(food, 0.0), fauna.half_food[s], fauna.crowding[s], max(kin, 0.0))
        )
        burnt = fauna.breath[k] * _q10(temperature, fauna.reference[s], fauna.q10[s])
        spare = share * most - burnt
        lack = max(-spare, 0.0)
        grown = 0.0 if spare < 0.0 else 1.0
        if need > 0.0:
            # Growth is what carbon and what nitrogen allow, whichever is less.
            grown = min(grown, max(spare, 0.0) / need, share * most * richness * ratio / need)
        growth = grown * need
        eaten = most
        if spare >= 0.0:
            eaten = (burnt + growth) / share
            if growth > 0.0:
                # Of poor food more is eaten, and the carbon not needed is breathed.
                eaten = max(eaten, growth / (ratio * share * richness))
        n = state[ANIMALS + k]
        dead = n * (fauna.death[k] + fauna.drought[s] * (1.0 - wet))
        loss[ANIMALS + k] += n * (advance * grown + lack / own) + dead
        if not last:
            gain[ANIMALS + k + 1] += n * advance * grown
        gain[ANIMALS + first] += n * births * grown
        gain[BREATHED] += n * (share * eaten - growth + lack)
        gain[AMMONIUM] += n * (share * eaten * richness + (lack - growth) / ratio)
        gain[WASTE] += n * (1.0 - share) * eaten + dead * own
        gain[WASTE + 1] += n * (1.0 - share) * eaten * richness + dead * own / ratio
        if food > 0.0:
            loss[LITTER] += n * eaten * litter / food
            loss[WASTE] += n * eaten * waste / food
            loss[LITTER + 1] += n * eaten * picked / food
            loss[WASTE + 1] += n * eaten * fauna.taste[s, 1] * state[WASTE + 1] / food


@njit(cache=True, nogil=True)
def _hunt(state, fauna, predators, handling, gain, loss):  # type: ignore[no-untyped-def]
    """What predators eat: Holling's disc with many kinds of prey."""
    busy = 1.0
    for k in range(fauna.species.size):
        busy += fauna.attack[k] * handling * state[ANIMALS + k]
    for k in range(fauna.species.size):
        taken = predators * fauna.attack[k] * state[ANIMALS + k] / busy
        loss[ANIMALS + k] += taken
        gain[EATEN] += taken * fauna.carbon[k]
        gain[EATEN + 1] += taken * fauna.carbon[k] / fauna.ratio[fauna.species[k]]


@njit(cache=True, nogil=True)
def _rot(state, ground, temperature, saturation, gain, loss):  # type: ignore[no-untyped-def]
    """What microbes, plants and water do to litter, waste, humus and nitrogen."""
    points = ground.moisture
    pace = _q10(temperature, ground.reference, ground.q10)
    pace *= _moisture(saturation, points[0], points[1], points[2], points[3])
    mineral = state[AMMONIUM] + state[NITRATE]
    ammonium = state[AMMONIUM] / mineral if mineral > 0.0 else 1.0
    for pool, rate in (
        (LITTER, ground.litter_decay), (WASTE, ground.waste_decay), (HUMUS, ground.humus_decay),
    ):  # fmt: skip
        carbon, nitrogen = state[pool], state[pool + 1]
        if carbon <= 0.0:
            continue
        flow = rate * pace * carbon
        own = flow * nitrogen / carbon
        lacking = flow * ground.efficiency / ground.humus_ratio - own
        if lacking > 0.0:
            # What they do not get they do without: less humus, more breathed.
            found = lacking * _share(max(mineral, 0.0), ground.half_mineral)
            built = (own + found) * ground.humus_ratio
            loss[AMMONIUM] += found * ammonium
            loss[NITRATE] += found * (1.0 - ammonium)
        else:
            built = flow * ground.efficiency
            gain[AMMONIUM] -= lacking
        loss[pool] += flow
        loss[pool + 1] += own
        gain[HUMUS] += built
        gain[HUMUS + 1] += built / ground.humus_ratio
        gain[BREATHED] += flow - built
    urate = ground.urate_decay * pace * state[URATE]
    loss[URATE] += urate
    gain[AMMONIUM] += urate
    gain[BREATHED] += URATE_CARBON * urate
    nitrified = ground.nitrification * pace * state[AMMONIUM]
    loss[AMMONIUM] += nitrified
    gain[NITRATE] += nitrified
    taken = ground.uptake * _share(max(mineral, 0.0), ground.half_uptake)
    loss[AMMONIUM] += taken * ammonium + ground.volatilisation * state[AMMONIUM]
    loss[NITRATE] += taken * (1.0 - ammonium) + ground.leaching * state[NITRATE]
    gain[TAKEN] += taken
    gain[LOST] += ground.volatilisation * state[AMMONIUM] + ground.leaching * state[NITRATE]


@njit(cache=True, nogil=True)
def rates(
    state: Array, fauna: Fauna, ground: Ground, conditions: Conditions, gain: Array, loss: Array
) -> None:
    """Fill in what every pool [kg/(m2 s)] and number [1/(m2 s)] gains and loses.

    Parameters
    ----------
    state : ndarray, shape (pools and classes,)
        Pools [kg/m2], see `POOLS`, then numbers by class [1/m2].
    fauna : Fauna
        The decomposers.
    ground : Ground
        How the ground works.
    conditions : Conditions
        Weather, what falls, predators.
    gain, loss : ndarray, shape (pools and classes,)
        Filled; the change is gain - loss [kg/(m2 s)], [1/(m2 s)].

    Source: balances of carbon and nitrogen; feeding as in Holling 1959 and, where it is crowded,
    Beddington 1975, growth by the scarcer of
    carbon and nitrogen (Sterner & Elser 2002, *Ecological Stoichiometry*, from memory); microbes
    use carbon less well where nitrogen is lacking (Manzoni et al. 2008, Science 321:684).
    """
    gain[:] = 0.0
    loss[:] = 0.0
    gain[LITTER], gain[LITTER + 1] = conditions.litter
    gain[WASTE], gain[WASTE + 1] = conditions.waste
    gain[URATE] = conditions.urate
    _feed(state, fauna, conditions.temperature, conditions.saturation, gain, loss)
    _hunt(state, fauna, conditions.predators, conditions.handling, gain, loss)
    _rot(state, ground, conditions.temperature, conditions.saturation, gain, loss)


@njit(cache=True, nogil=True)
def evolve(
    state: Array,
    fauna: Fauna,
    ground: Ground,
    conditions: Conditions,
    time: float,
    longest: float,
    most_lost: float,
) -> int:
    """Carry ``state`` on by a time, conditions held; returns the steps taken.

    Parameters
    ----------
    state : ndarray, shape (pools and classes,)
        Pools [kg/m2] and numbers [1/m2]; changed.
    fauna : Fauna
        The decomposers.
    ground : Ground
        How the ground works.
    conditions : Conditions
        Weather, what falls, predators.
    time : float
        Time to go [s].
    longest : float
        Longest step [s]; a quarter of a day keeps errors far below what is known of any species.
    most_lost : float
        Share of a pool or class that may pass out of it in one step [1]; 0.2 keeps all positive.

    Source: Runge & Kutta, classical, fourth order; it keeps every sum that `rates` keeps.
    """
    n = state.size
    gain, loss, change, total = np.empty(n), np.empty(n), np.empty(n), np.empty(n)
    gone, count = 0.0, 0
    while gone < time:
        rates(state, fauna, ground, conditions, gain, loss)
        step = min(longest, time - gone)
        for i in range(n):
            # What passes through a pool, not what is left over, decides how long a step may be.
            if state[i] > 0.0 and loss[i] * step > most_lost * state[i]:
                step = most_lost * state[i] / loss[i]
        change[:] = gain - loss
        total[:] = change
        for part, weight in ((0.5, 2.0), (0.5, 2.0), (1.0, 1.0)):
            rates(state + part * step * change, fauna, ground, conditions, gain, loss)
            change[:] = gain - loss
            total += weight * change
        for i in range(n):
            state[i] += step / 6.0 * total[i]
            if abs(state[i]) < NOTHING:
                state[i] = 0.0
        gone += step
        count += 1
    return count
