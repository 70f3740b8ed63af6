"""Numbers in words: the right digits, the right unit, both systems."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from loamwright.units import KINDS, show

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NAMES: dict[str, str] = {
    "uvi": "UV index",
    "uvi_step": "rise of the UV index from place to place",
    "uva": "ultraviolet A",
    "uvb": "ultraviolet B",
    "ppfd": "plant light (PPFD)",
    "dli": "daily plant light (DLI)",
    "lux": "illuminance",
    "radiant": "radiant power",
    "distance": "distance",
    "exposure_time": "time allowed",
    "temperature": "temperature",
    "air_temperature": "air temperature",
    "surface_temperature": "surface temperature",
    "operative_temperature": "operative temperature",
    "humidity": "relative humidity",
    "air_changes": "air changes",
    "condensation_time": "time a pane is wet",
    "wet_time": "time leaves stay wet",
    "burn_time": "time to a burn",
    "tank_time": "time the tank lasts",
    "energy": "electricity",
    "water": "water",
    "speed": "speed",
    "duration": "time",
    "water_content": "water in the ground by volume",
    "air_filled_porosity": "air in the ground by volume",
    "depth": "depth",
    "standing_water": "water on the floor",
    "load": "load",
    "time": "time",
    "reuse_share": "share of a layer",
    "area": "area",
    "volume": "volume",
    "length": "length",
    "count": "number",
    "inbreeding": "inbreeding",
    "gene_diversity": "gene diversity",
    "chance": "chance",
    "saturation": "share of the pores filled with water",
    "density": "animals on an area",
    "waste": "dry waste",
    "litter": "dry leaf litter",
    "height": "height",
    "grazers": "residents harmed",
    "supports": "supports",
    "deflection": "bending",
    "stress": "stress",
    "floor_load": "even load on the floor",
    "pressure": "pressure",
    "tilt": "tilt",
    "factor": "times its load",
    "current": "current",
    "voltage_drop": "voltage lost",
    "supply_load": "load of a supply",
    "crown_share": "share of a crown",
    "protection": "protection against water",
}
"""What each quantity is called in a sentence."""

TEMPERATURES = frozenset(
    {"temperature", "air_temperature", "surface_temperature", "operative_temperature"}
)
TIMES = frozenset(
    {"exposure_time", "condensation_time", "wet_time", "burn_time", "tank_time", "duration", "time"}
)

LENGTHS = frozenset({"distance", "depth", "standing_water", "length", "height"})

UNITS: dict[str, str] = {
    "uva": "W/m²",
    "uvb": "W/m²",
    "ppfd": "µmol/m²/s",
    "dli": "mol/m²/d",
    "lux": "lx",
    "radiant": "W/m²",
    "humidity": "%",
    "air_changes": "per hour",
    "energy": "kWh",
    "water": "L",
    "speed": "cm/s",
    "water_content": "%",
    "air_filled_porosity": "%",
    "reuse_share": "%",
    "saturation": "%",
    "density": "per m²",
    # In both systems: an ounce holds months of what a small animal leaves.
    "waste": "g a day",
    "litter": "g/m²",
    "load": "kg",
    "area": "m²",
    "volume": "L",
    "inbreeding": "%",
    "gene_diversity": "%",
    "chance": "%",
    "deflection": "mm",
    "stress": "MPa",
    "floor_load": "kN/m²",
    "pressure": "kPa",
    "tilt": "°",
    "factor": "times",
    "current": "A",
    "voltage_drop": "%",
    "supply_load": "%",
    "crown_share": "%",
}
"""Units shown; most in both systems, as instruments are read in both; but see `unit`."""

_US_UNITS = {
    "lux": "fc",
    "water": "fl oz",
    "speed": "ft/min",
    "load": "lb",
    "area": "sq ft",
    "volume": "cu ft",
    "density": "per sq ft",
    "litter": "oz/sq ft",
    "deflection": "in",
    "stress": "psi",
    "floor_load": "psf",
    "pressure": "psi",
}

_DECIMALS: dict[str, int] = {"uvb": 3, "dli": 1}
_FIXED = frozenset({"uvi", "uvi_step"}) | TEMPERATURES


def _size(kind: str, name: str) -> float:
    """A unit in SI."""
    return float(KINDS[kind].units[name].scale)


_EDGE = {"metric": ("cm", _size("length", "cm")), "us": ("in", _size("length", "in"))}
_SIZE: dict[tuple[str, str], float] = {
    ("lux", "us"): _size("lux", "fc"),
    ("humidity", "metric"): 0.01,
    ("humidity", "us"): 0.01,
    **{
        (q, s): 0.01
        for q in (
            "water_content",
            "air_filled_porosity",
            "reuse_share",
            "inbreeding",
            "gene_diversity",
            "chance",
            "saturation",
            "voltage_drop",
            "supply_load",
            "crown_share",
        )
        for s in ("metric", "us")
    },
    ("load", "us"): _size("mass", "lb"),
    ("deflection", "metric"): _size("length", "mm"),
    ("deflection", "us"): _size("length", "in"),
    ("stress", "metric"): _size("pressure", "MPa"),
    ("stress", "us"): _size("pressure", "psi"),
    ("floor_load", "metric"): _size("pressure", "kPa"),
    ("floor_load", "us"): _size("pressure", "psf"),
    ("pressure", "metric"): _size("pressure", "kPa"),
    ("pressure", "us"): _size("pressure", "psi"),
    ("tilt", "metric"): _size("angle", "deg"),
    ("tilt", "us"): _size("angle", "deg"),
    ("area", "us"): _size("length", "ft") ** 2,
    ("volume", "metric"): 1e-3,
    ("volume", "us"): _size("length", "ft") ** 3,
    ("density", "us"): 1.0 / _size("area", "ft2"),
    ("waste", "metric"): _size("mass", "g") / _size("time", "d"),
    ("waste", "us"): _size("mass", "g") / _size("time", "d"),
    ("litter", "metric"): _size("area_density", "g/m2"),
    ("litter", "us"): _size("mass", "oz") / _size("area", "ft2"),
    ("air_changes", "metric"): 1.0 / 3600.0,
    ("air_changes", "us"): 1.0 / 3600.0,
    ("energy", "metric"): _size("energy", "kWh"),
    ("energy", "us"): _size("energy", "kWh"),
    # Water by its mass, 1 kg to the litre.
    ("water", "us"): 1000.0 * _size("liquid_volume", "fl_oz_us"),
    ("speed", "metric"): _size("speed", "cm/s"),
    ("speed", "us"): _size("speed", "ft/min"),
}
_INCH = _size("length", "in")
SMALL = {" cm²": 1e-4, " sq in": _INCH**2}
"""Units of small areas [m2]."""

SMALL_AREA = 0.1
"""Areas below this [m2] are told in square centimetres or inches."""

_GALLON = 1000.0 * _size("liquid_volume", "gal_us")
"""A gallon of water [kg]."""

SIXTEENTHS = 16
"""Parts of an inch to which lengths are told: the marks of a tape measure."""


def unit(quantity: str, system: str) -> str:
    """The unit a quantity is shown in, empty for the UV index and for times."""
    if quantity in TEMPERATURES:
        return "°F" if system == "us" else "°C"
    if system == "us" and quantity in _US_UNITS:
        return _US_UNITS[quantity]
    return UNITS.get(quantity, "")


def shown(quantity: str, value: float, system: str) -> float:
    """An SI value in the unit it is shown in (see `unit`)."""
    if quantity in TEMPERATURES:
        there = KINDS["temperature"].units["degF" if system == "us" else "degC"]
        return value / float(there.scale) - float(there.offset)
    return difference(quantity, value, system)


def shown_all(quantity: str, values: NDArray[np.float64], system: str) -> NDArray[np.float64]:
    """`shown` for every value of an array."""
    return shown(quantity, values, system)  # type: ignore[arg-type, return-value]


def difference(quantity: str, value: float, system: str) -> float:
    """An SI difference of two values in the unit it is shown in: 5 K are 9 °F, not -450 °F."""
    if quantity in TEMPERATURES:
        return value / _size("temperature_difference", "degF_diff") if system == "us" else value
    return value / _SIZE.get((quantity, system), 1.0)


def edge(system: str) -> tuple[str, float]:
    """The unit in which places and drawings are measured, and its size [m]."""
    return _EDGE[system]


def decimals(quantity: str, value: float) -> int:
    """Decimals that carry meaning for a value of this size."""
    size = abs(value)
    if quantity in ("uvi", "uvi_step"):
        return 2 if size < 0.995 else 1
    if quantity in TEMPERATURES:
        return 1
    if quantity == "humidity":
        return 0
    if quantity in _DECIMALS:
        fine = _DECIMALS[quantity]
        return fine if size < 10 else max(fine - 1, 0)
    if size >= 99.5:
        return 0
    return 1 if size >= 9.95 else 2


def number(quantity: str, value: float, more: int = 0) -> str:
    """A bare number; lux and the like from 1,000 on to three digits with a thousands comma."""
    if not math.isfinite(value):
        return "not known"
    if abs(value) >= 1000:
        step = 10 ** max(int(math.log10(abs(value))) - 2 - more, 0)
        return f"{round(value / step) * step:,}"
    text = f"{value:.{decimals(quantity, value) + more}f}"
    if "." in text and not more and quantity not in _FIXED:
        text = text.rstrip("0").rstrip(".")
    return "0" if text.strip("-0.") == "" else text


def duration(seconds: float) -> str:
    """Minutes, hours or days as people say them."""
    if not math.isfinite(seconds):
        return "no limit"
    if seconds < 120:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    if minutes < 120:
        return f"{minutes} min"
    if minutes >= 48 * 60:
        days = minutes / 1440
        return f"{days:.0f} days" if days >= 9.95 else f"{days:.1f} days".replace(".0 ", " ")
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def worded(quantity: str, value: float | None, system: str, more: int = 0) -> str:
    """A value with its unit, in the system people are shown (``metric`` or ``us``)."""
    if value is None or not math.isfinite(value):
        return "no limit" if quantity in TIMES and value else "not known"
    if quantity in LENGTHS:
        return length(value, system)
    if quantity in TIMES:
        return duration(value)
    if quantity == "water":
        return water(value, system)
    if quantity == "protection":
        return f"IPX{value:.0f}"
    if quantity == "area" and abs(value) < SMALL_AREA:
        size, name = (_INCH**2, "sq in") if system == "us" else (1e-4, "cm²")
        return f"{number('area', value / size, more)} {name}"
    if quantity in ("uvi", "uvi_step"):
        return f"UVI {number(quantity, value, more)}"
    text = number(quantity, shown(quantity, value, system), more)
    return f"{text} {unit(quantity, system)}".rstrip()


def worded_with(
    quantity: str, value: float | None, limits: Sequence[float | None], system: str
) -> tuple[str, list[str]]:
    """A value and its limits with enough digits that unlike numbers do not look alike.

    Returns the value's text and the limits' texts ("" where there is no limit).
    """
    known = [x for x in limits if x is not None]
    for more in range(3):
        texts = [worded(quantity, x, system, more) for x in known]
        told = worded(quantity, value, system, more)
        if all(told != t or value == x for t, x in zip(texts, known, strict=True)):
            break
    rest = iter(texts)
    return told, ["" if x is None else next(rest) for x in limits]


def give_or_take(quantity: str, told: str, spread: float, system: str) -> str:
    """A worded value with its standard uncertainty, in the value's own unit and digits."""
    if quantity in LENGTHS or quantity in TIMES:
        return f"{told} ± {worded(quantity, spread, system)}"
    lead, figure, tail = "", told, ""
    if told.startswith("UVI "):
        lead, figure = "UVI ", told[4:]
    else:
        figure, gap, name = told.partition(" ")
        tail = gap + name
    places = len(figure.partition(".")[2])
    size = difference(quantity, spread, system)
    if tail in SMALL:
        size = spread / SMALL[tail]
    give = f"{size:,.{places}f}"
    if float(give.replace(",", "")) == 0.0:
        # Python writes smaller ones as powers of ten, which few read.
        give = f"{size:.1g}" if size >= 1e-3 or size == 0.0 else "less than 0.001"
    return f"{lead}{figure} ± {give}{tail}"


def worded_difference(quantity: str, value: float, system: str) -> str:
    """How far one value lies from another: kelvins or degrees Fahrenheit, points of humidity."""
    size = abs(difference(quantity, value, system))
    if quantity in TEMPERATURES:
        return f"{size:.1f} {'°F' if system == 'us' else 'K'}"
    if quantity == "humidity":
        if size < 0.95:
            return "less than 1 point"
        return "1 point" if size < 1.5 else f"{size:.0f} points"
    return worded(quantity, abs(value), system)


def water(mass: float, system: str) -> str:
    """Water [kg] by volume: millilitres and litres, or fluid ounces and gallons."""
    if system == "us":
        if abs(mass) >= 0.5 * _GALLON:
            return f"{number('water', mass / _GALLON)} gal"
        return f"{number('water', shown('water', mass, system))} fl oz"
    if abs(mass) < 0.0995:
        return f"{1000 * mass:.0f} mL".replace("-0 mL", "0 mL")
    return f"{number('water', mass)} L"


def band(low: str, high: str) -> str:
    """The wanted band in words from the texts of its limits."""
    if low and high:
        tail = low.rpartition(" ")[2]
        if high.endswith(" " + tail):
            low = low[: -len(tail) - 1]
        return f"{low} to {high.removeprefix('UVI ')}"
    if low:
        return f"at least {low}"
    return f"at most {high}" if high else ""


def measure(value: float, system: str) -> str:
    """A length [m] as a bare number in the drawing's unit: to a millimetre, or to a sixteenth of an
    inch and written as on a tape measure, ``36 1/2``."""
    if system == "us":
        return _inches(value)
    text = f"{value / edge(system)[1]:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def _inches(value: float) -> str:
    parts = round(abs(value) / _EDGE["us"][1] * SIXTEENTHS)
    sign = "-" if value < 0 and parts else ""
    whole, rest = divmod(parts, SIXTEENTHS)
    if not rest:
        return f"{sign}{whole}"
    common = math.gcd(rest, SIXTEENTHS)
    told = f"{rest // common}/{SIXTEENTHS // common}"
    return f"{sign}{whole} {told}" if whole else f"{sign}{told}"


def place(at: Sequence[float], system: str) -> str:
    """Coordinates as they are written in the habitat file: ``[75 cm, 40 cm, 122 cm]``."""
    return "[" + ", ".join(f"{measure(x, system)} {edge(system)[0]}" for x in at) + "]"


def length(value: float, system: str) -> str:
    """A length [m] in words: to a tenth of its unit, or to a sixteenth of an inch."""
    if system == "us" and abs(value) < _LONG:
        return f"{_inches(value)} in"
    figure, _, name = show(value, "length", system, 1).partition(" ")
    return f"{figure.removesuffix('.0')} {name}"


def run_length(value: float, system: str) -> str:
    """A length [m] of cable or tube in words: to a tenth of a foot, never to a sixteenth of an inch."""
    return f"{value / _FOOT:.1f} ft" if system == "us" else length(value, system)


_FOOT = 0.3048

_LONG = 120 * _EDGE["us"][1]
"""Lengths from here on [m] are told in feet."""


def percent(share: float) -> str:
    """A share of one as a percentage, honest near both ends."""
    points = share * 100
    if 0 < points < 1:
        return "less than 1 %"
    if 99 < points < 100:
        return "more than 99 %"
    return f"{points:.0f} %"
