"""What leaves a lamp now, and what its light is worth in each quantity."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.bands import BANDS
from loamwright.habitat.equipment import Lamp
from loamwright.physics.mesh_screen import screen_transmittance

Floats = NDArray[np.float64]


def flux_factor(lamp: Lamp) -> float:
    """Share of a new, undimmed, unguarded lamp's flux that leaves it now.

    Output falls exponentially to ``end_share`` at ``life`` (see `Lamp`); a guard takes the share
    its wires cover, seen square on.
    """
    share = lamp.dim
    kind = lamp.type
    if lamp.hours_run > 0 and kind.life and kind.end_share is not None:
        share *= kind.end_share ** (lamp.hours_run / kind.life)
    guard = lamp.guard
    if guard is not None and guard.kind == "mesh":
        share *= screen_transmittance(1.0, guard.pitch, guard.wire)
    return share


def band_flux(lamp: Lamp) -> Floats:
    """Watts that leave the lamp in each band now, (5,)."""
    flux = np.array(lamp.type.band_watts, float) * flux_factor(lamp)
    if lamp.guard is not None and lamp.guard.sheet is not None:
        flux = flux * np.array(lamp.guard.sheet.transmit)
    return flux


def quantity_weights(lamp: Lamp) -> Mapping[str, Floats]:
    """What one W/m2 of the lamp's light in each band is worth in each quantity, (5,) each."""
    weights = {name: np.array(row, float) for name, row in lamp.type.per_watt.items()}
    one = np.eye(len(BANDS))
    weights["uvb"], weights["uva"] = one[0], one[1]
    weights["par_watts"] = one[2]
    weights["radiant"] = np.ones(len(BANDS))
    return weights
