"""The spectral bands in which light is carried, and the quantities made from them.

Four shortwave bands carry light; ultraviolet B and A share reflectances but not what glass lets
through. Lamps' ultraviolet is counted from 250 nm, so that short-wave output is never missed.
"""

from __future__ import annotations

BANDS: tuple[str, ...] = ("uvb", "uva", "par", "nir", "fir")
"""Ultraviolet B 250-315 nm, ultraviolet A 315-400 nm, plant light 400-700 nm, near infrared
700-3000 nm, thermal infrared above 3000 nm."""

BAND_EDGES_NM: tuple[tuple[float, float], ...] = (
    (250.0, 315.0),
    (315.0, 400.0),
    (400.0, 700.0),
    (700.0, 3000.0),
    (3000.0, 50000.0),
)

OPTICS: tuple[str, ...] = ("uv", "par", "nir")
"""Bands in which reflectances are given and light is bounced between surfaces."""

OPTICS_OF_BAND: tuple[int, ...] = (0, 0, 1, 2, -1)
"""Index into `OPTICS` for each band; thermal infrared is not bounced here (the heat engine
exchanges it), hence -1."""
