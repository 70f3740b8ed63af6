"""Fans and what stands in their way."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Cover
from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.sources import Sourced


@dataclass(frozen=True, slots=True)
class FanType(Sourced):
    """A generic fan at full speed: ``diameter`` [m], ``free_flow`` [m3/s] with nothing in the way,
    ``static_pressure`` [Pa] with the way shut, ``power`` [W]; ``curve`` further points
    (flow [m3/s], pressure [Pa]) of a data sheet between the two, by rising flow."""

    diameter: float
    free_flow: float
    static_pressure: float
    power: float
    curve: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class FilterType(Sourced):
    """A filter or dust mat: ``pressure`` [Pa] lost at ``face_speed`` [m/s]; the loss grows with the
    speed to the power ``exponent``."""

    pressure: float
    face_speed: float
    exponent: float = 1.0


@dataclass(frozen=True, slots=True)
class Fan:
    """A fan in a panel: ``at`` in the panel's coordinates [m], ``inward`` blows in, ``speed`` share
    of full speed, ``guards`` meshes before it, ``filter`` and ``duct_length`` [m] of a duct of its own
    diameter, ``control`` the controller that switches it, ``on`` (start, end) seconds after midnight
    when no controller does (equal: always), ``protection`` as a lamp's."""

    name: str
    type: FanType
    side: str
    at: Vec2
    inward: bool
    speed: float = 1.0
    guards: tuple[Cover, ...] = ()
    filter: FilterType | None = None
    duct_length: float = 0.0
    control: str = ""
    on: tuple[float, float] = (0.0, 0.0)
    protection: str = ""
