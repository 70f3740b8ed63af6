"""The whole habitat, as read from one file."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.air import Fan
from loamwright.habitat.controls import Control, Schedule
from loamwright.habitat.cutting import Cutting
from loamwright.habitat.decomposers import Starter
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.ground import Ground
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.mains import Mains
from loamwright.habitat.misting import Mist
from loamwright.habitat.money import Money
from loamwright.habitat.needs import Need
from loamwright.habitat.planting import Plant
from loamwright.habitat.residents import Existing, Group, Individual
from loamwright.habitat.room import Room
from loamwright.habitat.sites import Site
from loamwright.habitat.water import Bowl
from loamwright.habitat.workshop import Workshop


@dataclass(frozen=True, slots=True)
class People:
    """How long someone works in front of the open doors a day [s], eye to door distance [m]."""

    minutes_in_front: float = 1800.0
    distance: float = 0.30


@dataclass(frozen=True, slots=True)
class Default:
    """A value the file left out, as a person should see it."""

    field: str
    value: str
    why: str


@dataclass(frozen=True, slots=True)
class Habitat:
    """One habitat: everything the engines need, in SI, with nothing left to look up."""

    name: str
    enclosure: Enclosure
    purpose: str = "private"
    units: str = "metric"
    room: Room = Room()  # noqa: RUF009 (frozen)
    ground: Ground = Ground()  # noqa: RUF009 (frozen)
    hardscape: tuple[Piece, ...] = ()
    plants: tuple[Plant, ...] = ()
    lamps: tuple[Lamp, ...] = ()
    animals: tuple[Group, ...] = ()
    decomposers: tuple[Starter, ...] = ()
    sites: tuple[Site, ...] = ()
    needs: tuple[Need, ...] = ()
    existing: tuple[Existing, ...] = ()
    pedigree: tuple[Individual, ...] = ()
    people: People = People()
    day: tuple[float, float] = (25200.0, 68400.0)
    defaults: tuple[Default, ...] = ()
    water: tuple[Bowl, ...] = ()
    fans: tuple[Fan, ...] = ()
    mist: Mist | None = None
    controls: tuple[Control, ...] = ()
    schedule: Schedule = Schedule()  # noqa: RUF009 (frozen)
    money: Money | None = None
    workshop: Workshop = Workshop()  # noqa: RUF009 (frozen)
    cutting: Cutting = Cutting()  # noqa: RUF009 (frozen)
    mains: Mains = Mains()  # noqa: RUF009 (frozen)
