"""The fields of each catalogue group: what kind of value each holds and whether it must be there.

Names are those of the dataclasses in `loamwright.habitat` (``catalogue``, ``air``, ``media``,
``misting``); what a file gives in another form (``radiant`` and ``wide`` for a lamp, ``parts`` for
a spectrum,
``transmit`` by band) is turned there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.habitat.decomposers import KINDS, MOISTURES


@dataclass(frozen=True, slots=True)
class Field:
    """``kind``: ``text``, ``flag``, ``choice``, ``ratio`` (0.3 or 30 %), ``share`` (30 %),
    ``count``, ``number``, ``bands``, ``radiant`` (watts by spectrum), ``parts``, ``numbers``,
    ``curve`` (points [flow, pressure]), ``recipe`` (component: parts), or a kind of
    `loamwright.units`. ``pair``: a list of low and high, null where open."""

    kind: str
    required: bool = False
    pair: bool = False
    choices: tuple[str, ...] = ()
    low: float | None = None
    high: float | None = None

    @property
    def numeric(self) -> bool:
        """True where the value is a number, which must have a source."""
        return self.kind not in ("text", "flag", "choice")


_RATIO = Field("ratio", low=0.0, high=1.0)
_MUST = Field("ratio", required=True, low=0.0, high=1.0)
_TEXT = Field("text")
_NAME = Field("text", required=True)
_SIZE = Field("length", low=0.0)
_TEMPERATURE = Field("temperature")
_TEMPERATURES = Field("temperature", pair=True)
_SHARES = Field("share", pair=True, low=0.0, high=1.0)
_TIMES = Field("time", pair=True, low=0.0)
_FACTOR = Field("number", low=1.0, high=1000.0)

GROUPS: tuple[str, ...] = (
    "materials", "covers", "spectra", "lamps", "plants", "animals", "fans", "nozzles", "filters",
    "media", "components", "mixes", "decomposers",
)  # fmt: skip
"""Groups of the catalogue, in the order they are shown."""

FIELDS: Mapping[str, Mapping[str, Field]] = {
    "materials": {
        "reflect_uv": _MUST,
        "reflect_par": _MUST,
        "reflect_nir": _MUST,
        "conductivity": Field("conductivity", low=0.0),
        "density": Field("density", low=0.0),
        "heat_capacity": Field("heat_capacity", low=0.0),
        "emissivity": _RATIO,
        "clear": Field("flag"),
        "transmit": Field("bands", low=0.0, high=1.0),
        "refractive_index": Field("number", low=1.0, high=4.0),
        "young": Field("pressure", low=1e6),
        "poisson": Field("number", low=0.0, high=0.5),
        "creep": Field("ratio", low=0.01, high=1.0),
        "strength": Field("pressure", low=1e4),
    },
    "covers": {
        "kind": Field("choice", required=True, choices=("mesh", "sheet", "open")),
        "pitch": _SIZE,
        "wire": _SIZE,
        "reflect": _RATIO,
        "sheet": _TEXT,
    },
    "spectra": {
        "parts": Field("parts"),
        "clear_from": Field("wavelength", low=100.0),
        "clear_width": Field("wavelength", low=0.1),
        "opaque_from": Field("wavelength", low=100.0),
        "opaque_width": Field("wavelength", low=0.1),
        "wavelength": Field("numbers", low=100.0, high=100_000.0),
        "power": Field("numbers", low=0.0),
    },
    "lamps": {
        "shape": Field("choice", required=True, choices=("tube", "bar", "spot")),
        "power": Field("power", required=True, low=0.0),
        "radiant": Field("radiant", required=True),
        "wide": Field("radiant"),
        "length": _SIZE,
        "width": _SIZE,
        "diameter": _SIZE,
        "reflector_width": _SIZE,
        "beam_angle": Field("angle", low=0.0, high=3.1415927),
        "spread": Field("ratio", low=0.0, high=2.0),
        "life": Field("time", low=0.0),
        "end_share": _RATIO,
        "min_distance": _SIZE,
        "group": _TEXT,
    },
    "plants": {
        "latin": _NAME,
        "form": _NAME,
        "leaf_area_index": Field("number", required=True, low=0.0, high=20.0),
        "crown_base": _MUST,
        "absorb_uv": _MUST,
        "absorb_par": _MUST,
        "absorb_nir": _MUST,
        "dli": Field("dli", pair=True, low=0.0),
        "lux": Field("lux", pair=True, low=0.0),
        "temperature": _TEMPERATURES,
        "humidity_min": Field("share", low=0.0, high=1.0),
        "mature_height": _SIZE,
        "mature_spread": _SIZE,
        "rooting_depth": _SIZE,
        "water": _TEXT,
        "growth": Field("choice", choices=("slow", "medium", "fast")),
        "toxicity": _TEXT,
    },
    "animals": {
        "latin": _NAME,
        "animal_class": _NAME,
        "activity": _NAME,
        "stratum": _NAME,
        "ferguson_zone": Field("count", low=1, high=4),
        "body_length": _SIZE,
        "mass": Field("mass", low=0.0),
        "preferred_body": _TEMPERATURES,
        "voluntary_max": _TEMPERATURE,
        "critical_max": _TEMPERATURE,
        "critical_min": _TEMPERATURE,
        "basking_surface": _TEMPERATURES,
        "air_warm": _TEMPERATURE,
        "air_cool": _TEMPERATURE,
        "night": _TEMPERATURES,
        "humidity_day": _SHARES,
        "humidity_night": _SHARES,
        "group_max": Field("count", low=1, high=1000),
        "family": _TEXT,
        "length_max": _SIZE,
        "total_length": _SIZE,
        "reproduction": _TEXT,
        "clutch": Field("number", pair=True, low=0.5, high=100_000.0),
        "egg_site": _TEXT,
        "incubation": Field("time", pair=True, low=0.0),
        "incubation_temperature": _TEMPERATURE,
        "sex_ratio": _TEXT,
    },
    "fans": {
        "diameter": Field("length", required=True, low=0.0, high=2.0),
        "free_flow": Field("flow", required=True, low=0.0),
        "static_pressure": Field("pressure", required=True, low=0.0),
        "power": Field("power", required=True, low=0.0),
        "curve": Field("curve"),
    },
    "nozzles": {
        "flow": Field("flow", required=True, low=0.0),
        "cone": Field("angle", required=True, low=0.0, high=3.1415927),
        "drop": Field("length", required=True, low=0.0, high=0.01),
        "pressure": Field("pressure", low=0.0),
    },
    "filters": {
        "pressure": Field("pressure", required=True, low=0.0),
        "face_speed": Field("speed", required=True, low=0.0),
        "exponent": Field("number", low=0.5, high=2.5),
    },
    "media": {
        "form": Field("choice", required=True, choices=("ground", "cover")),
        "residual": Field("share", required=True, low=0.0, high=1.0),
        "saturated": Field("share", required=True, low=0.0, high=1.0),
        "air_entry": Field("length", required=True, low=0.0, high=100.0),
        "n": Field("number", required=True, low=1.01, high=12.0),
        "hydraulic_conductivity": Field("speed", required=True, low=0.0, high=10.0),
        "dry_density": Field("density", required=True, low=1.0, high=5000.0),
        "bend": Field("number", low=-10.0, high=20.0),
        "air_entry_factor": _FACTOR,
        "conductivity_factor": _FACTOR,
        "heat_conductivity_dry": Field("conductivity", low=0.0, high=10.0),
        "heat_conductivity_wet": Field("conductivity", low=0.0, high=10.0),
        "heat_shape": Field("number", low=0.05, high=20.0),
        "heat_capacity": Field("heat_capacity", low=0.0, high=5000.0),
        "carbon_nitrogen": Field("number", pair=True, low=1.0, high=2000.0),
        "holds": Field("number", low=0.0, high=50.0),
    },
    "components": {
        "role": _NAME,
        "dry_density": Field("density", required=True, pair=True, low=1.0, high=5000.0),
        "moist_density": Field("density", required=True, pair=True, low=1.0, high=5000.0),
        "porosity": _SHARES,
        "container_capacity": _SHARES,
        "air_porosity": _SHARES,
        "ph": Field("number", pair=True, low=0.0, high=14.0),
        "shrink": _SHARES,
        "grain": Field("length", pair=True, low=0.0, high=1.0),
        "medium": _TEXT,
    },
    "mixes": {
        "use": _NAME,
        "parts": Field("recipe", required=True),
        "medium": _TEXT,
    },
    "decomposers": {
        "latin": _NAME,
        "kind": Field("choice", required=True, choices=KINDS),
        "role": _NAME,
        "moisture": Field("choice", required=True, choices=MOISTURES),
        "sexes": Field("choice", choices=("females only", "two")),
        "body_length": Field("length", pair=True, low=0.0, high=1.0),
        "body_mass": Field("mass", pair=True, low=0.0, high=1.0),
        "temperature_low": _TEMPERATURE,
        "temperature_best": _TEMPERATURES,
        "temperature_high": _TEMPERATURE,
        "measured_at": _TEMPERATURE,
        "egg_time": _TIMES,
        "grow_time": _TIMES,
        "brood": Field("number", pair=True, low=0.0, high=1e5),
        "young_a_year": Field("number", pair=True, low=0.0, high=1e5),
        "life": _TIMES,
        "survival": _SHARES,
        "eats": Field("mass", pair=True, low=0.0, high=0.01),
        "starter": Field("number", pair=True, low=0.0, high=1e6),
        "risk": _TEXT,
    },
}
"""Field name to its form, by group."""

COMMON: tuple[str, ...] = ("label", "sources", "like")
"""Keys every entry may have beside the fields of its group."""
