"""Networks that the climate's proofs run: an empty box whose parts are set as a proof needs them,
and the shipped examples, each made once.

The box comes from a habitat file through the engine, so its arrays are what the compiled loops get.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from loamwright import workflow
from loamwright.engine.climate import drive
from loamwright.engine.climate import study as climate
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.chains import Chain
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import DRY, EDGE, Forcing, Net
from loamwright.engine.climate.paths import Path as Way
from loamwright.engine.climate.rates import rates
from loamwright.engine.climate.stepping import advance, desk_for
from loamwright.engine.climate.study import Settled
from loamwright.engine.light.record import LightStudy
from loamwright.engine.unlit import bare, climate_bare
from loamwright.habitat.habitat import Habitat

EXAMPLES = workflow.EXAMPLES
BOX = Path(__file__).parent / "data" / "bare-box.yaml"
SHIPPED = Path(workflow.__file__).parent / "data" / "examples"
ZERO = 273.15


# -- habitats ------------------------------------------------------------------------------------


@cache
def habitat(name: str) -> Habitat:
    """A shipped example, or the bare box."""
    return workflow.read(BOX if name == "bare-box" else SHIPPED / f"{name}.yaml")


@cache
def light(name: str) -> LightStudy:
    from loamwright.engine.light.study import study_light

    return study_light(bare(habitat(name)))


@cache
def built(name: str, fineness: float = 1.0) -> Built:
    prepared = climate.prepare(climate_bare(habitat(name)), fineness=fineness)
    return climate.build(habitat(name), light(name), prepared)


@cache
def settled(name: str, season: str, fineness: float = 1.0) -> Settled:
    return climate.typical_day(habitat(name), light(name), built(name, fineness), season)


# -- the box, set as wanted ----------------------------------------------------------------------


def box(**parts: Any) -> Net:
    """The bare box's network: dry, closed, no long-wave exchange, surfaces that hardly touch the air;
    ``parts`` replaces arrays."""
    net = built("bare-box").net
    count = len(net.area)
    still = {
        "wetting": np.full(count, DRY), "exchange": np.zeros((count, count)),
        "views": np.zeros(count), "free": np.full(count, 1e-9), "still": np.full(count, 1e-9),
        "area": np.full(count, 1e-15),
    }  # fmt: skip
    return with_paths(net, [])._replace(**(still | parts))


def with_paths(net: Net, ways: list[Way]) -> Net:
    """The network with these ways for air and no others."""
    n = len(net.volume)

    def table(name: str) -> np.ndarray:
        return np.array([getattr(w, name) for w in ways], float)

    return net._replace(
        path_kind=np.array([w.kind for w in ways], np.int64), path_height=table("height"),
        path_linear=table("linear"), path_square=table("square"), fan_shut=table("shut"),
        fan_linear=table("fan_linear"), fan_square=table("fan_square"), fan_power=table("power"),
        fan_idle=table("idle"), open_top=table("top"), screen=table("screen"),
        path_cells=np.array([w.cells for w in ways], float).reshape(-1, n),
    )  # fmt: skip


def with_chains(net: Net, chains: list[Chain], area: float = 1.0) -> Net:
    """The network whose first surfaces lead into these chains of ``area`` [m2] inwards; the other
    surfaces are one light node each that follows the room."""
    store, link, first = [], [], [0]
    for a in range(net.solids):
        chain = chains[a] if a < len(chains) else Chain((1e3,), (1.0,), (0.0,))
        store += [area * c for c in chain.store]
        link += [area * k for k in chain.link]
        first.append(len(store))
    return net._replace(first=np.array(first, np.int64), store=np.array(store), link=np.array(link))


def one_surface(net: Net, area: float, h: float, excess: float, **parts: Any) -> Net:
    """The first surface upright with ``area`` [m2] and a film of ``h`` [W/(m2 K)] at ``excess`` [K]."""
    from loamwright.engine.climate.air_film import LEAST_FILM, QUIET

    count = len(net.area)
    areas = np.full(count, 1e-15)
    areas[0] = area
    factor = ((h**4 - LEAST_FILM**4) / np.hypot(excess, QUIET)) ** 0.25
    free = np.full(count, 1e-9)
    free[0] = factor
    stand = np.full(count, EDGE, np.int64)
    return net._replace(area=areas, free=free, still=free.copy(), stand=stand, **parts)


def forcing(net: Net, room: float, vapour: float = 0.0, speed: Any = None, **more: Any) -> Forcing:
    """A room [K] and its vapour [kg/m3]; every way open and every fan at full speed unless said."""
    lamps, paths = len(net.body_power), len(net.path_kind)
    full = np.ones(paths) if speed is None else np.asarray(speed, float)
    plain = {"lamps": np.zeros(lamps), "mist": 0.0} | more
    return Forcing(plain["lamps"], full, plain["mist"], room, vapour)


@dataclass
class Moved:
    """A state with what a call of the rates made of it."""

    net: Net
    y: np.ndarray
    dy: np.ndarray
    flow: np.ndarray

    def part(self, number: int, of: str = "y") -> np.ndarray:
        """A part of the state (see `rates.offsets`)."""
        at = offsets(self.net)
        return getattr(self, of)[at[number] : at[number + 1]]

    def ledger(self, name: str) -> float:
        """How fast an entry of the ledger grows."""
        from loamwright.engine.climate.network import LEDGER

        return float(self.part(7, "dy")[LEDGER.index(name)])


def look(net: Net, force: Forcing, y: np.ndarray) -> Moved:
    """One call of the rates."""
    dy = np.zeros_like(y)
    work = work_for(net)
    rates(net, force, y, dy, work)
    return Moved(net, y, dy, work.flow[:-1])


def carry(net: Net, force: Forcing, y: np.ndarray, seconds: float, step: float = 60.0) -> int:
    """Move the state on, as a run does; returns the evaluations."""
    work, desk = work_for(net), desk_for(net, len(y))
    calls = 0
    for _ in range(round(seconds / step)):
        calls += advance(net, force, y, step, work, desk)
    return calls


def state(net: Net, temperature: float, vapour: float = 0.0) -> np.ndarray:
    """All at one temperature and vapour density; lamp bodies cold."""
    return drive.first_state(net, temperature, vapour)


def example_with(name: str, **changes: Any) -> Habitat:
    """An example with parts of it replaced."""
    return replace(habitat(name), **changes)
