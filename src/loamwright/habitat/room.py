"""The room around the enclosure, by season."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Season:
    """Room air: ``day`` and ``night`` [K], relative ``humidity`` as a fraction."""

    day: float
    night: float
    humidity: float


@dataclass(frozen=True, slots=True)
class Room:
    """Winter and summer, and the altitude [m]."""

    winter: Season = Season(292.15, 289.15, 0.35)
    summer: Season = Season(298.15, 295.15, 0.55)
    altitude: float = 0.0
