"""Plants that stand or hang in the habitat."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import PlantType
from loamwright.habitat.enclosure import Vec3


@dataclass(frozen=True, slots=True)
class Plant:
    """One plant: ``foot`` where it stands or is fixed, ``height`` above the foot and
    ``spread`` across [m]; ``on`` the piece it is fixed to, empty where it is on none."""

    name: str
    type: PlantType
    foot: Vec3
    height: float
    spread: float
    on: str = ""

    @property
    def crown(self) -> tuple[Vec3, Vec3]:
        """Centre and half axes of the ellipsoid that holds the leaves [m]."""
        low = self.foot[2] + self.type.crown_base * self.height
        high = self.foot[2] + self.height
        half = (self.spread / 2, self.spread / 2, (high - low) / 2)
        return (self.foot[0], self.foot[1], (low + high) / 2), half
