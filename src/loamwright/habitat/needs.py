"""Needs: a quantity, a band, a place, a source."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.sources import Source


@dataclass(frozen=True, slots=True)
class Need:
    """A requirement of the builder's own.

    ``quantity`` one of `QUANTITIES`; ``low``/``high`` in its SI unit, None where open;
    ``site`` the place it is held at, ``about`` who or what needs it, ``facing`` how the light
    is measured there (``up``, ``brightest``, ``normal``).
    A need with the same quantity, site and subject as one of the catalogue replaces it.
    """

    quantity: str
    low: float | None
    high: float | None
    source: Source
    site: str = ""
    about: str = ""
    facing: str = "brightest"


QUANTITIES: dict[str, str] = {
    "uvi": "1",
    "uvi_step": "1",
    "uva": "W/m2",
    "uvb": "W/m2",
    "ppfd": "umol/(m2 s)",
    "dli": "mol/(m2 d)",
    "lux": "lx",
    "radiant": "W/m2",
    "distance": "m",
    "exposure_time": "s",
    "air_temperature": "K",
    "surface_temperature": "K",
    "operative_temperature": "K",
    "humidity": "1",
    "air_changes": "1/s",
    "condensation_time": "s",
    "wet_time": "s",
    "tank_time": "s",
    "water_content": "1",
    "air_filled_porosity": "1",
    "depth": "m",
    "standing_water": "m",
    "load": "kg",
    "time": "s",
    "reuse_share": "1",
    "area": "m2",
    "volume": "m3",
    "length": "m",
    "count": "1",
    "inbreeding": "1",
    "gene_diversity": "1",
    "chance": "1",
    "saturation": "1",
    "density": "1/m2",
    "waste": "kg/s",
    "litter": "kg/m2",
    "height": "m",
    "grazers": "1",
    "supports": "1",
    "deflection": "m",
    "stress": "Pa",
    "floor_load": "Pa",
    "pressure": "Pa",
    "tilt": "rad",
    "factor": "1",
    "current": "A",
    "voltage_drop": "1",
    "supply_load": "1",
    "crown_share": "1",
    "protection": "1",
}
"""Quantities and their SI units (photon quantities in the customary micromole/mole)."""

CLIMATE: tuple[str, ...] = (
    "air_temperature", "surface_temperature", "operative_temperature", "humidity",
)  # fmt: skip
"""Quantities of the climate that a builder may ask for at a site."""

LIGHT: tuple[str, ...] = (
    "uvi", "uvi_step", "uva", "uvb", "ppfd", "dli", "lux", "radiant", "distance", "exposure_time",
)  # fmt: skip
"""Quantities of light that a builder may ask for."""
