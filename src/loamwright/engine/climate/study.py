"""From a habitat to its climate: what needs rays once, then as many days as wanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import assemble, drive, looks, schedule
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.cells import Cells
from loamwright.engine.climate.plan import DAY_MINUTES, Memory, Plan, Tape, at_midnight
from loamwright.engine.climate.reading import read_tape
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.surfaces import Group, Hole
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.sensors import View
from loamwright.engine.lower import lower_scene
from loamwright.engine.scene import Scene
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]

EVERY = 10
"""Minutes between the rows of a day."""


@dataclass(frozen=True)
class Prepared:
    """A habitat's cells and surfaces, with what they see: ready for `build`. ``exchange`` (S, S) [m2]
    is that of a network built of them before."""

    scene: Scene
    cells: Cells
    groups: list[Group]
    holes: list[Hole]
    looks: looks.Looks
    leaves: Floats
    exchange: Floats | None = None


def prepare(
    habitat: Habitat, kept: Mapping[str, NDArray[Any]] | None = None, fineness: float = 1.0
) -> Prepared:
    """Follow the rays the climate needs, or take them from what `arrays_of` gave before."""
    scene = lower_scene(habitat)
    cells, groups, holes = assemble.prepare(habitat, scene, fineness)
    if kept is not None:
        found = looks.Looks.from_arrays({k: v for k, v in kept.items() if k != "leaves_light"})
        return Prepared(scene, cells, groups, holes, found, kept["leaves_light"])
    view = View.of(scene)
    seen = looks.look(habitat, view, cells, groups, holes)
    return Prepared(scene, cells, groups, holes, seen, looks.leaves_of_lamps(habitat, view))


def arrays_of(prepared: Prepared) -> dict[str, NDArray[Any]]:
    """What `prepare` can take up again."""
    return prepared.looks.arrays() | {"leaves_light": prepared.leaves}


def build(
    habitat: Habitat, study: LightStudy, prepared: Prepared,
    wetness: Mapping[str, float] | None = None,
) -> Built:  # fmt: skip
    """The network of a habitat; ``wetness`` saturation of ground layers by name."""
    p = prepared
    return assemble.assemble(
        habitat,
        p.scene,
        study,
        p.looks,
        p.leaves,
        p.cells,
        p.groups,
        p.holes,
        wetness,
        p.exchange,
    )


@dataclass(frozen=True)
class Settled:
    """A season's typical day that repeats itself: the run, and state, memory and plan to go on from."""

    run: ClimateRun
    state: Floats
    memory: Memory
    plan: Plan


def typical_day(
    habitat: Habitat, study: LightStudy, built: Built, season: str,
    start: Floats | None = None, told: Callable[[int], None] | None = None,
    shown: Callable[[ClimateRun], None] | None = None,
) -> Settled:  # fmt: skip
    """The typical day of a season (of `schedule.SEASONS`); ``start`` a state to begin from, ``told``
    called with the number of each day that is run, ``shown`` with each that does not repeat itself yet.

    Raises `BalanceError` where heat or water do not close within 0.1 %.
    """
    plan = schedule.plan_of(habitat, built.paths, season)

    def read(tape: Tape, days: int, balance: tuple[float, float]) -> ClimateRun:
        return read_tape(habitat, study, built, plan, tape, season=season, every=EVERY,
                         balance=balance, days=days)  # fmt: skip

    def ran(tape: Tape, days: int, balance: tuple[float, float]) -> None:
        if shown is not None:
            # A later day is written into the same tape.
            shown(read(Tape(*(a.copy() for a in tape)), days, balance))

    state, memory, tape, days, balance = drive.repeat_day(built, plan, start, EVERY, told, ran)
    run = read(tape, days, balance)
    return Settled(run, state, memory, plan)


def spell(
    habitat: Habitat, study: LightStudy, built: Built, plan: Plan, state: Floats, memory: Memory,
    *, season: str, begin: int = 0, minutes: int = DAY_MINUTES, every: int = EVERY, fault: str = "",
) -> ClimateRun:  # fmt: skip
    """Run on from a state (left as it is) under another plan, for instance with a fault in it."""
    state, own = state.copy(), at_midnight(memory)
    tape, balance = drive.carry_on(built, plan, state, own, begin, minutes, every)
    return read_tape(habitat, study, built, plan, tape, season=season, every=every, begin=begin,
                     balance=balance, fault=fault)  # fmt: skip
