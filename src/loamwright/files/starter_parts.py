"""What a starter's design is made of: openings, pieces, plants, lamps, sites [m]."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.files.starter_climate import Climate
from loamwright.files.starter_living import Layer
from loamwright.files.starter_room import Rooms, Warmth
from loamwright.habitat.enclosure import Vec2, Vec3

NO_PLACE: Vec3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening, and why it is there."""

    name: str
    panel: str
    at: Vec2
    size: Vec2
    cover: str
    why: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of hardscape as the file gives it."""

    name: str
    shape: str
    at: Vec3
    material: str
    fixing: str
    to: Vec3 = NO_PLACE
    size: Vec3 = NO_PLACE
    diameter: float = 0.0
    wall: float = 0.0


@dataclass(frozen=True, slots=True)
class Planted:
    """A plant on the ground, or ``on`` a branch."""

    name: str
    key: str
    at: Vec2
    height: float
    spread: float
    on: str = ""
    along: float = 0.0


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp; ``aimed`` at the basking place or else down, with its long side along x."""

    name: str
    key: str
    at: Vec3
    aimed: bool = False
    guard: bool = False
    dim: float = 1.0
    all_day: bool = False
    control: str = ""
    always: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """A site in the air, on a piece, or inside of one."""

    name: str
    role: str
    at: tuple[float, ...] | None = None
    on: str = ""
    along: float | None = None
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Design:
    """Everything a starter file says in numbers."""

    inside: Vec3
    panel: str
    lining: str
    lining_depth: float
    openings: tuple[Hole, ...]
    layers: tuple[Layer, ...]
    pieces: tuple[Piece, ...]
    plants: tuple[Planted, ...]
    lamps: tuple[Lamp, ...]
    sites: tuple[Place, ...]
    bowl_at: Vec2
    bowl_size: Vec2
    bowl_depth: float
    zone: int
    zone_known: bool
    uv_distance: float
    climate: Climate
    mesh: str
    rooms: Rooms
    warmth: Warmth | None
    surface: float
