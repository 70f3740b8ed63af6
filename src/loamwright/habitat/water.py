"""Open water."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec2, Vec3


@dataclass(frozen=True, slots=True)
class Bowl:
    """A water bowl: ``at`` the centre of its foot, ``size`` across (x, y) and ``depth`` of the
    water when full [m]."""

    name: str
    at: Vec3
    size: Vec2
    depth: float
