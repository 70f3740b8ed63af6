"""Plants that stand or hang in the habitat."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import PlantType
from loamwright.habitat.enclosure import Vec3


@dataclass(frozen=True, slots=True)
class Plant:
    """One plant: ``foot`` where it stands or is fixed, ``height`` above the foot and
    ``spread`` across [m]; ``on`` the piece it is fixed to, empty where it is on none; ``growth`` of
    its height where it stands, measured by the builder [m/s], the day it is ``planted`` by its number
    in the calendar, and whether its stem ``carries`` animals; None where the file does not say."""

    name: str
    type: PlantType
    foot: Vec3
    height: float
    spread: float
    on: str = ""
    growth: float | None = None
    planted: int | None = None
    carries: bool | None = None

    @property
    def crown(self) -> tuple[Vec3, Vec3]:
        """Centre and half axes of the ellipsoid that holds the leaves [m]."""
        low = self.foot[2] + self.type.crown_base * self.height
        high = self.foot[2] + self.height
        half = (self.spread / 2, self.spread / 2, (high - low) / 2)
        return (self.foot[0], self.foot[1], (low + high) / 2), half
