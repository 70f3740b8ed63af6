"""The room around the enclosure, by season and hour by hour."""

from __future__ import annotations

from dataclasses import dataclass

HOURS = 8760
"""Hours of a year; the 29th of February is left out."""


@dataclass(frozen=True, slots=True)
class Season:
    """Room air: ``day`` and ``night`` [K], relative ``humidity`` as a fraction."""

    day: float
    night: float
    humidity: float


@dataclass(frozen=True, slots=True)
class RoomYear:
    """The room's air in each hour of a year from 1 January 00:00 on, local time.

    ``temperature`` [K] and relative ``humidity`` (fraction), each the mean of the hour, shape
    (8760,); ``source`` says where they come from.
    """

    temperature: tuple[float, ...]
    humidity: tuple[float, ...]
    source: str


JOISTS: tuple[str, ...] = ("slab", "across", "along", "unknown")
"""What the floor is: a slab on the ground; beams that run from the wall behind the enclosure into the
room (across its width) or along that wall; not said."""


@dataclass(frozen=True, slots=True)
class Floor:
    """The room's floor: how it ``runs`` (one of `JOISTS`), its ``span`` [m] and the imposed load it
    ``bears`` [Pa], None where it is what is usual for such a room."""

    runs: str = "unknown"
    span: float = 4.0
    bears: float | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """Winter and summer, the altitude [m], the whole ``year`` where it is known, and the ``floor``."""

    winter: Season = Season(292.15, 289.15, 0.35)
    summer: Season = Season(298.15, 295.15, 0.55)
    altitude: float = 0.0
    year: RoomYear | None = None
    floor: Floor = Floor()

    def season(self, name: str) -> Season:
        """The room in a season: ``winter``, ``summer``, else halfway between the two."""
        if name == "winter":
            return self.winter
        if name == "summer":
            return self.summer
        one, two = self.winter, self.summer
        return Season(
            0.5 * (one.day + two.day),
            0.5 * (one.night + two.night),
            0.5 * (one.humidity + two.humidity),
        )
