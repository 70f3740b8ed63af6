"""A year of the ground's small life: planting, the wait until it is ready, then the residents."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.life import decomposers_fauna as classes
from loamwright.engine.life.matter import (
    FIRST_MINERAL,
    LEAF_CARBON,
    TOP_UP_BELOW,
    Floor,
    Weather,
    falls,
    ground_of,
)
from loamwright.engine.life.waste import Eater
from loamwright.errors import BalanceError
from loamwright.habitat.decomposers import DecomposerType
from loamwright.physics import populations as pop

Floats = NDArray[np.float64]

DAY = 86_400.0

LONGEST = DAY / 4.0
MOST_LOST = 0.2

CYCLE = 28
"""Days that a planted ground waits for its animals at least; common practice."""

HUNTED_SHARE = 0.1
"""Share of its food that an insect eater takes out of the ground while it is well fed [1]; from
memory: nobody has measured it in an enclosure. The hungry take all of it there."""

HALF_DENSITY = 100.0
"""Animals within reach on a square metre at which a hunter takes half of what it could [1/m2]; from
memory."""

REACHED = 0.01
"""Depth down to which hunters get at animals in litter and ground [m]; from memory."""

LIVED_IN = 0.05
"""Depth of ground, under the litter, that they live in [m]; from memory."""

PREY = (1.0 / 30.0, 1.0 / 3.0)
"""Length of the prey that a hunter takes, over its own [1]; from memory."""

MISSING = 1e-6
"""Share of carbon and nitrogen that a run may miss."""


@dataclass(frozen=True)
class Community:
    """Who lives in which ground: the ``species`` followed and their starter numbers (``starters``,
    [1/m2]), the ``floor``, its ``weather``, the residents (``eaters``), and the day after midwinter of
    planting (``begins``)."""

    species: tuple[DecomposerType, ...]
    starters: tuple[float, ...]
    floor: Floor
    weather: Weather
    eaters: tuple[Eater, ...]
    begins: float = 0.0


@dataclass(frozen=True)
class Run:
    """Days (R,), the ``state`` of each (R, pools and classes), litter laid (``topped``: day, dry mass
    [kg/m2]), rates of loss of litter and waste by day [1/s], and the share of carbon and nitrogen that
    is missing at the end (``balance``)."""

    days: Floats
    state: Floats
    topped: tuple[tuple[int, float], ...]
    litter_rate: Floats
    waste_rate: Floats
    balance: float

    def litter(self) -> Floats:
        """Dry litter by day [kg/m2]."""
        return np.asarray(self.state[:, pop.LITTER] / LEAF_CARBON)

    def mineral(self) -> Floats:
        """Ammonium and nitrate by day [kg/m2]."""
        return np.asarray(self.state[:, pop.AMMONIUM] + self.state[:, pop.NITRATE])

    def numbers(self, row: int, *, eggs: bool = False) -> Floats:
        """Animals of a species by day [1/m2], eggs only where asked for."""
        at = pop.ANIMALS + row * classes.CLASSES
        begin = at if eggs else at + classes.EGGS
        return np.asarray(self.state[:, begin : at + classes.CLASSES].sum(axis=1))

    def grown(self, row: int) -> Floats:
        """Grown animals of a species by day [1/m2]."""
        return np.asarray(self.state[:, pop.ANIMALS + (row + 1) * classes.CLASSES - 1])


@dataclass(frozen=True)
class Hunters:
    """Who hunts in the ground: how many on a square metre, how fast each eats at most [kg carbon/s],
    and which species they take."""

    density: float = 0.0
    most: float = 0.0
    takes: tuple[bool, ...] = field(default=())


def hunters_of(community: Community, share: float) -> Hunters:
    """The insect eaters among the residents, taking a share of their food in the ground; what is too
    small or too large for them is left alone."""
    hunting = [e for e in community.eaters if e.hunts and e.length]
    count = sum(e.count for e in hunting)
    if not count or share <= 0.0:
        return Hunters(takes=(False,) * len(community.species))
    takes = []
    for x in community.species:
        length = x.body_length[1] or 0.0
        takes.append(any(PREY[0] <= length / (e.length or 1.0) <= PREY[1] for e in hunting))
    # Carbon of insects is near half of their dry mass.
    most = share * 0.5 * sum(e.food for e in hunting) / count
    return Hunters(count / community.floor.area, most, tuple(takes))


def run(
    community: Community, days: int, *, way: float = 0.0, moved_in: int | None = None,
    load: float = 1.0, hunted: float = HUNTED_SHARE,
) -> Run:  # fmt: skip
    """Follow a community for so many days.

    Parameters
    ----------
    days : int
        How long.
    way : float
        -1 the slowest growth and decay told in the sources, 1 the quickest.
    moved_in : int, optional
        Day on which the residents move in; never where left out.
    load : float
        Factor on what they leave [1].
    hunted : float
        Share of their food that hunters take out of the ground [1].

    Raises
    ------
    BalanceError
        If carbon or nitrogen is missing.
    """
    floor = community.floor
    hunters = hunters_of(community, hunted)
    deep = LIVED_IN + (floor.litter / 40.0)
    attack = handling = 0.0
    fauna = classes.fauna_of(community.species, way)
    if any(hunters.takes):
        # No more is eaten than hunters want, even where all they find is the largest.
        largest = max(fauna.carbon[fauna.species == i].max()
                      for i, taken in enumerate(hunters.takes) if taken)  # fmt: skip
        handling = largest / hunters.most
        attack = 1.0 / (handling * HALF_DENSITY)
        fauna = classes.fauna_of(
            community.species, way, min(1.0, REACHED / deep), attack, hunters.takes
        )
    ground = ground_of(floor, way)
    state = np.zeros(pop.ANIMALS + fauna.species.size)
    carbon = LEAF_CARBON * floor.litter
    state[pop.LITTER : pop.LITTER + 2] = carbon, carbon / floor.leaf.ratio
    state[pop.NITRATE] = FIRST_MINERAL
    for row, number in enumerate(community.starters):
        state[pop.ANIMALS + (row + 1) * classes.CLASSES - 1] = number
    begun = np.array([pop.total_carbon(state, fauna), pop.total_nitrogen(state, fauna)])
    fallen = np.zeros(2)
    out = np.empty((days + 1, state.size))
    rates = np.zeros((2, days + 1))
    gain, loss = np.empty_like(state), np.empty_like(state)
    topped: list[tuple[int, float]] = []
    least = min(TOP_UP_BELOW, 0.5 * floor.litter)
    for day in range(days + 1):
        short = floor.litter - state[pop.LITTER] / LEAF_CARBON
        if floor.litter > 0.0 and floor.litter - short < least:
            added = np.array([LEAF_CARBON * short, LEAF_CARBON * short / floor.leaf.ratio])
            state[pop.LITTER : pop.LITTER + 2] += added
            fallen += added
            topped.append((day, short))
        out[day] = state
        there = moved_in is not None and day >= moved_in
        dung, nitrogen, urates = falls(community.eaters, floor.area, load if there else 0.0)
        warmth, wet = community.weather.on(community.begins + day + 0.5)
        weather = pop.Conditions(
            warmth, wet, (0.0, 0.0), (dung, nitrogen), urates,
            hunters.density if there else 0.0, handling,
        )  # fmt: skip
        pop.rates(state, fauna, ground, weather, gain, loss)
        for i, pool in enumerate((pop.LITTER, pop.WASTE)):
            rates[i, day] = loss[pool] / state[pool] if state[pool] > 0.0 else 0.0
        if day < days:
            pop.evolve(state, fauna, ground, weather, DAY, LONGEST, MOST_LOST)
            fallen += DAY * np.array([dung + pop.URATE_CARBON * urates, nitrogen + urates])
    ended = np.array([pop.total_carbon(state, fauna), pop.total_nitrogen(state, fauna)])
    there_is = np.maximum(begun + fallen, 1e-12)
    balance = float((np.abs(ended - begun - fallen) / there_is).max())
    if not balance <= MISSING:
        raise BalanceError(
            f"the ground's small life misses {balance:.1e} of its carbon or nitrogen; nothing of "
            "this run can be used"
        )
    return Run(np.arange(days + 1.0), out, tuple(topped), rates[0], rates[1], balance)


def ready_day(community: Community, found: Run) -> int | None:
    """The first day, from `CYCLE` on, on which every species let in has as many young as were let in
    grown; None if that never comes. Without any species it is the `CYCLE`."""
    done = np.ones(len(found.days), bool)
    for row, started in enumerate(community.starters):
        done &= found.numbers(row) - found.grown(row) >= started
    done[:CYCLE] = False
    return int(np.argmax(done)) if done.any() else None


def with_starters(community: Community, starters: Sequence[float]) -> Community:
    """The same with other starter numbers [1/m2]."""
    return replace(community, starters=tuple(starters))
