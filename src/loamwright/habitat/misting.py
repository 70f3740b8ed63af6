"""Misting: tank, nozzles and times."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.sources import Sourced


@dataclass(frozen=True, slots=True)
class NozzleType(Sourced):
    """A generic nozzle: ``flow`` of water [m3/s], full ``cone`` angle [rad], mean ``drop`` diameter
    [m], ``pressure`` it needs [Pa]."""

    flow: float
    cone: float
    drop: float
    pressure: float | None = None


@dataclass(frozen=True, slots=True)
class Nozzle:
    """A nozzle in its place; ``aim`` a unit vector."""

    name: str
    type: NozzleType
    at: Vec3
    aim: Vec3 = (0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True)
class Mist:
    """All nozzles run together: ``times`` (start second after midnight, seconds long) each day,
    and besides when ``control`` asks; ``tank`` [m3], water at ``temperature`` [K]; ``pump`` [W], and
    the ``pressure`` it keeps [Pa], None where not said; ``bore`` of the line [m]; where the tank
    stands, ``tank_at`` [m]."""

    tank: float
    nozzles: tuple[Nozzle, ...] = ()
    times: tuple[tuple[float, float], ...] = ()
    control: str = ""
    temperature: float = 293.15
    pump: float = 20.0
    pressure: float | None = None
    bore: float = 0.004
    tank_at: Vec3 = (0.0, 0.0, 0.0)
