"""Named places that matter to someone."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec3

ROLES: tuple[str, ...] = ("basking", "perch", "hide", "retreat", "laying", "probe", "crown")


@dataclass(frozen=True, slots=True)
class Site:
    """A place: ``at`` a point in the air just above the surface, ``normal`` the way that
    surface faces (unit vector), ``role`` one of `ROLES`, ``species`` keys it is meant for
    (empty: everybody), ``plant`` the plant whose crown it is."""

    name: str
    at: Vec3
    normal: Vec3 = (0.0, 0.0, 1.0)
    role: str = "probe"
    species: tuple[str, ...] = ()
    plant: str = ""
