"""A lamp fitted to the builder's own meter readings.

Output is scaled so that the lamp's model meets the readings in the least-squares sense of their
logarithms (a reading is as wrong in proportion, near or far). Readings off the axis of a
spot also find its beam angle. What the readings leave open stays the generic lamp's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

from loamwright.engine.light.open_air import beside_lamp
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.sources import Source, SourceKind

Floats = NDArray[np.float64]

METER_SPREAD = 0.10
"""Standard uncertainty of a hand-held meter's calibration, relative (common practice, no source); all
readings share it, so more readings do not lessen it."""

ONE_READING_SPREAD = 0.15
"""Scatter of placing the meter taken when a single reading cannot show it (common practice, no
source)."""

QUANTITIES = ("uvi", "ppfd", "lux")


@dataclass(frozen=True, slots=True)
class Reading:
    """One meter reading: ``distance`` in front of the lamp [m], ``aside`` across and ``along`` its
    long axis [m], the ``quantity`` (``uvi`` [1], ``ppfd`` [umol/(m2 s)], ``lux`` [lx]), ``value``."""

    distance: float
    quantity: str
    value: float
    aside: float = 0.0
    along: float = 0.0


@dataclass(frozen=True, slots=True)
class FittedLamp:
    """The fitted lamp; ``residual`` relative root mean square misfit of each quantity's readings,
    ``spread`` relative standard uncertainty of the fitted output, ``scale`` against the generic
    lamp, ``predicted`` the value the fit gives for each reading."""

    lamp: LampType
    residual: dict[str, float]
    spread: float
    scale: dict[str, float]
    predicted: tuple[float, ...]


def _model(kind: LampType, readings: Sequence[Reading]) -> Floats:
    light = beside_lamp(
        kind,
        np.array([r.distance for r in readings]),
        np.array([r.aside for r in readings]),
        np.array([r.along for r in readings]),
    )
    watts = np.array(kind.band_watts)
    out = np.empty(len(readings))
    for i, reading in enumerate(readings):
        weights = np.array(kind.per_watt[reading.quantity], float)
        out[i] = light[i] @ (watts * weights)
    return out


def _logs(kind: LampType, readings: Sequence[Reading]) -> Floats:
    model = np.maximum(_model(kind, readings), 1e-12)
    return np.log(np.array([r.value for r in readings]) / model)


def _off_by(kind: LampType, readings: Sequence[Reading]) -> float:
    logs = _logs(kind, readings)
    groups = np.array([r.quantity == "uvi" for r in readings])
    return float(sum(((logs[g] - logs[g].mean()) ** 2).sum() for g in (groups, ~groups) if g.any()))


def fit_to_readings(base: LampType, readings: Sequence[Reading]) -> FittedLamp:
    """Fit a generic lamp to readings taken in the open, a meter turned toward the lamp's middle.

    Values must be above 0 and quantities among `QUANTITIES`; the lamp must emit in the bands that
    were measured (a lamp without ultraviolet cannot be fitted to an ultraviolet index).
    """
    kind = base
    if base.shape == "spot" and sum(r.aside > 0 or r.along > 0 for r in readings) >= 2:
        best = minimize_scalar(
            lambda angle: _off_by(replace(base, beam_angle=angle), readings),
            bounds=(np.radians(5.0), np.radians(170.0)),
            method="bounded",
        )
        kind = replace(base, beam_angle=float(best.x))
    watts = np.array(kind.band_watts)
    residual: dict[str, float] = {}
    scale: dict[str, float] = {}
    scatter = 0.0
    logs = _logs(kind, readings)
    for names, measured in ((("uvi",), slice(0, 2)), (("ppfd", "lux"), slice(2, 4))):
        rows = np.array([r.quantity in names for r in readings])
        if not rows.any():
            continue
        mean = float(logs[rows].mean())
        count = int(rows.sum())
        watts[measured] *= np.exp(mean)
        own = float(logs[rows].std(ddof=1)) if count > 1 else ONE_READING_SPREAD
        scatter = max(scatter, own / np.sqrt(count))
        for name in names:
            here = np.array([r.quantity == name for r in readings])
            if here.any():
                residual[name] = float(np.sqrt(((logs[here] - mean) ** 2).mean()))
                scale[name] = float(np.exp(mean))
    spread = float(np.hypot(scatter, METER_SPREAD))
    text = f"fitted to {len(readings)} meter readings of the builder"
    sources = {**base.sources, "band_watts": Source(text, SourceKind.BUILDER),
               "spread": Source(text, SourceKind.BUILDER)}  # fmt: skip
    bands = (float(watts[0]), float(watts[1]), float(watts[2]), float(watts[3]), float(watts[4]))
    fitted = replace(kind, band_watts=bands, spread=spread, sources=sources)
    predicted = tuple(float(v) for v in _model(fitted, readings))
    return FittedLamp(fitted, residual, spread, scale, predicted)
