"""What lamps weigh: the catalogue does not say, so it is told from their shape."""

from __future__ import annotations

from loamwright.habitat.equipment import Lamp

TUBE, BAR, SPOT, HOLDER = 1.2, 2.0, 0.7, 0.4
"""Mass of a tube with its reflector and of a bar of light diodes by length [kg/m], of a spot with
holder and guard, and of any other holder [kg]; common practice, no source."""


def lamp_mass(lamp: Lamp) -> float:
    """Mass of a lamp with what holds it [kg]; common practice, no source."""
    kind = lamp.type
    if kind.shape == "tube":
        return HOLDER + TUBE * kind.length
    if kind.shape == "bar":
        return HOLDER + BAR * kind.length * max(1.0, kind.width / 0.1)
    return SPOT


def on_top(lamp: Lamp, height: float) -> bool:
    """Whether the top panel carries it: it lies on it, or hangs in the upper quarter."""
    return lamp.at[2] > 0.75 * height
