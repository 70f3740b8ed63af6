"""Light straight ahead of a lamp's middle, in the open, by closed forms alone: for tables and for
first designs, where the engine itself would be slow to start. `open_air` computes any place."""

from __future__ import annotations

import math

from loamwright.habitat.bands import BANDS
from loamwright.habitat.catalogue import LampType
from loamwright.physics.radiation import (
    beam_exponent,
    disk_beam_irradiance,
    element_to_cylinder_end,
    element_to_rectangle_parallel,
)


def ahead(kind: LampType, distance: float) -> tuple[float, ...]:
    """Irradiance per watt in each band [1/m2] on a meter that faces the middle of a new lamp from
    ``distance`` [m], outside the lamp.

    Exact for tubes, bars and spots (Howell B-31, B-3, B-12 and the beam's own integral);
    `ValueError` for a measured lamp, which has no closed form.
    """
    if kind.shape == "spot":
        radius = kind.diameter / 2
        beam = disk_beam_irradiance(distance, radius, beam_exponent(kind.beam_angle))
        wide = disk_beam_irradiance(distance, radius, 1.0)
        return tuple(share * beam + (1.0 - share) * wide for share in kind.beam_share)
    if kind.shape == "tube" and kind.reflector_width <= 0:
        radius = kind.diameter / 2
        factor = 2.0 * element_to_cylinder_end(kind.length / 2, distance, radius)
        return (factor / (2.0 * math.pi * radius * kind.length),) * len(BANDS)
    if kind.shape in ("tube", "bar"):
        width = kind.reflector_width if kind.shape == "tube" else kind.width
        factor = 4.0 * element_to_rectangle_parallel(kind.length / 2, width / 2, distance)
        return (factor / (kind.length * width),) * len(BANDS)
    raise ValueError(f"a lamp of shape {kind.shape} has no closed form")


def value_ahead(kind: LampType, quantity: str, distance: float) -> float:
    """A quantity of ``per_watt``, or ``radiant`` [W/m2], straight ahead of a new lamp."""
    one = (1.0,) * len(BANDS)
    weights = one if quantity == "radiant" else kind.per_watt.get(quantity, (0.0,) * len(BANDS))
    light = ahead(kind, distance)
    return sum(e * w * q for e, w, q in zip(light, kind.band_watts, weights, strict=True))
