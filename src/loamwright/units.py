"""Quantities as people write them: "number unit" in, SI out, and back again.

A strict whitelist: one number, one unit of the wanted kind. Nothing is evaluated and nothing is
guessed, because a misread unit builds a wrong habitat. A bare number where a unit is needed, a
decimal comma, or a quart that is neither dry nor liquid is refused with what would be right.

Numbers are ``16``, ``0.5``, ``.5``, ``1e3``, ``1/2`` and ``36 1/2``; ``5 ft 6 in`` is read too.
Conversion is done in exact fractions and rounded once, so ``7 %`` is 0.07 to the last digit.
Photon quantities keep their customary units: ppfd [umol/(m2 s)], dli [mol/(m2 d)].
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from loamwright.errors import UnitError

MAX_TEXT = 80
"""Longest text read as a quantity; the rest of a file has no business in a number."""

_INCH, _FOOT = Fraction(254, 10000), Fraction(3048, 10000)
_POUND, _G = Fraction(45359237, 100_000_000), Fraction(980_665, 100_000)  # standard gravity
_IN3, _DEGREE = _INCH**3, Fraction(math.pi) / 180
_F_ZERO, _C_ZERO = Fraction(45967, 100), Fraction(27315, 100)  # degrees above absolute zero
_MILLI, _MICRO, _KILO = Fraction(1, 1000), Fraction(1, 1_000_000), Fraction(1000)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = (number + ``offset``) x ``scale``."""

    name: str
    scale: Fraction
    offset: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: its units (first spelling canonical), SI unit and a good example.

    ``negative`` says whether a minus makes sense; ``shows`` gives, for each system, the units to
    show as (from this magnitude in SI on, unit name, text shown), smallest first; ``decimals``
    fixes the decimals shown, otherwise ``significant`` digits are kept.
    """

    name: str
    si: str
    example: str
    units: Mapping[str, Unit]
    shows: Mapping[str, tuple[tuple[float, str, str], ...]]
    negative: bool = False
    decimals: int | None = None
    significant: int = 3

    @property
    def allowed(self) -> str:
        """The canonical unit spellings, for messages."""
        return ", ".join(dict.fromkeys(u.name for u in self.units.values()))


_Factor = Fraction | int | tuple[Fraction, Fraction]
_Shown = str | tuple[tuple[float, str, str], ...]


def _units(spec: Mapping[str, _Factor]) -> dict[str, Unit]:
    """Spellings (``"L l"`` are two) to units."""
    table: dict[str, Unit] = {}
    for spellings, factor in spec.items():
        names = spellings.split("|")
        scale, offset = factor if isinstance(factor, tuple) else (Fraction(factor), Fraction(0))
        for name in names:
            table[name] = Unit(names[0], scale, offset)
    return table


def _kind(
    name: str,
    si: str,
    example: str,
    units: Mapping[str, _Factor],
    metric: _Shown,
    us: _Shown | None = None,
    *,
    negative: bool = False,
    decimals: int | None = None,
    significant: int = 3,
) -> Kind:
    def steps(shown: _Shown) -> tuple[tuple[float, str, str], ...]:
        return ((0.0, shown, _pretty(shown)),) if isinstance(shown, str) else shown

    shows = {"metric": steps(metric), "us": steps(metric if us is None else us)}
    return Kind(name, si, example, _units(units), shows, negative, decimals, significant)


def _pretty(unit: str) -> str:
    """A unit as shown to people; `parse` reads it back."""
    text = re.sub(r"([a-z])2\b", r"\1²", re.sub(r"([a-z])3\b", r"\1³", unit))
    text = re.sub(r"\bu(?=mol|W)", "µ", text)
    return {"degC": "°C", "degF": "°F", "deg": "°"}.get(text, text)


_LENGTH: dict[str, _Factor] = {
    "mm": _MILLI, "cm": Fraction(1, 100), "m": 1, 'in|"': _INCH, "ft|'": _FOOT,
}  # fmt: skip
_QUART = Fraction(67200625, 1_000_000) * _IN3  # dry: 1/32 of the bushel of 2150.42 in3
_VOLUME: dict[str, _Factor] = {
    "mL|ml": _MICRO,
    "L|l": _MILLI,
    "m3": 1,
    "cm3": _MICRO,
    "gal_us": 231 * _IN3,
    "qt_dry": _QUART,
    "qt_liquid": 231 * _IN3 / 4,
    "fl_oz_us": 231 * _IN3 / 128,
    "ft3": _FOOT**3,
    "in3": _IN3,
}
_TIME = {"s": 1, "min": 60, "h": 3600, "d": 86400, "week": 604800}
_METRIC_VOLUME = ((0.0, "mL", "mL"), (1e-3, "L", "L"), (1.0, "m3", "m³"))

_ALL = (
    _kind(
        "length", "m", "16 mm", _LENGTH,
        ((0.0, "mm", "mm"), (0.02, "cm", "cm"), (10.0, "m", "m")),
        ((0.0, "in", "in"), (3.048, "ft", "ft")),
        negative=True, significant=4,
    ),
    _kind("wavelength", "nm", "450 nm", {"nm": 1, "um": 1000}, "nm", significant=5),
    _kind("angle", "rad", "45 deg", {"deg|°": _DEGREE, "rad": 1}, "deg", negative=True, decimals=1),
    _kind(
        "area", "m2", "1.1 m2",
        {"m2": 1, "cm2": Fraction(1, 10_000), "mm2": _MICRO, "ft2": _FOOT**2, "in2": _INCH**2},
        ((0.0, "cm2", "cm²"), (0.1, "m2", "m²")),
        ((0.0, "in2", "in²"), (0.1, "ft2", "ft²")),
    ),
    _kind(
        "volume", "m3", "20 L", _VOLUME, _METRIC_VOLUME,
        ((0.0, "qt_dry", "qt_dry"), (0.2, "ft3", "ft³")),
    ),
    _kind(
        "liquid_volume", "m3", "25 L", _VOLUME, _METRIC_VOLUME,
        ((0.0, "fl_oz_us", "fl_oz_us"), (2e-4, "qt_liquid", "qt_liquid"),
         (1e-2, "gal_us", "gal_us")),
    ),
    _kind(
        "mass", "kg", "45 g",
        {"g": _MILLI, "mg": _MICRO, "kg": 1, "lb": _POUND, "oz": _POUND / 16},
        ((0.0, "mg", "mg"), (1e-3, "g", "g"), (1.0, "kg", "kg")),
        ((0.0, "oz", "oz"), (0.45359237, "lb", "lb")),
    ),
    _kind(
        "temperature", "K", "28 degC",
        {"degC|°C": (Fraction(1), _C_ZERO), "degF|°F": (Fraction(5, 9), _F_ZERO), "K": 1},
        "degC", "degF", negative=True, decimals=1,
    ),
    _kind(
        "temperature_difference", "K", "2 K",
        {"K": 1, "degC_diff": 1, "degF_diff": Fraction(5, 9)},
        "K", "degF_diff", negative=True, decimals=1,
    ),
    _kind(
        "power", "W", "54 W", {"W": 1, "mW": _MILLI, "kW": _KILO},
        ((0.0, "W", "W"), (10_000.0, "kW", "kW")),
    ),
    _kind(
        "energy", "J", "1.2 kWh", {"Wh": 3600, "kWh": 3_600_000, "J": 1, "kJ": 1000},
        ((0.0, "J", "J"), (3600.0, "Wh", "Wh"), (3.6e6, "kWh", "kWh")),
    ),
    _kind(
        "time", "s", "40 s", _TIME,
        ((0.0, "s", "s"), (120.0, "min", "min"), (7200.0, "h", "h"), (172800.0, "d", "d")),
    ),
    _kind("clock", "s after midnight", "07:30", {}, ()),
    _kind("share", "1", "80 %", {"%": Fraction(1, 100)}, "%"),
    _kind(
        "flow", "m3/s", "0.5 L/min",
        {
            "L/min|l/min": _MILLI / 60, "mL/min|ml/min": _MICRO / 60, "L/h|l/h": _MILLI / 3600,
            "L/d|l/d": _MILLI / 86400, "m3/h": Fraction(1, 3600), "m3/s": 1,
            "cfm": _FOOT**3 / 60, "gal_us/h": 231 * _IN3 / 3600,
        },
        ((0.0, "mL/min", "mL/min"), (1e-3 / 60, "L/min", "L/min"), (1 / 3600, "m3/h", "m³/h")),
        ((0.0, "gal_us/h", "gal_us/h"), (4.7e-5, "cfm", "cfm")),
    ),
    _kind(
        "speed", "m/s", "0.1 m/s",
        {
            "m/s": 1, "cm/s": Fraction(1, 100), "mm/s": _MILLI, "km/h": Fraction(10, 36),
            "ft/min": _FOOT / 60, "ft/s": _FOOT, "mph": 5280 * _FOOT / 3600,
        },
        ((0.0, "cm/s", "cm/s"), (1.0, "m/s", "m/s")), "ft/min", negative=True,
    ),
    _kind(
        "pressure", "Pa", "1013 hPa",
        {"Pa": 1, "hPa|mbar": 100, "kPa": 1000, "MPa": 10**6, "GPa": 10**9,
         "psi": _POUND * _G / _INCH**2, "psf": _POUND * _G / _FOOT**2},
        ((0, "Pa", "Pa"), (1e4, "hPa", "hPa"), (2e5, "kPa", "kPa"), (2e6, "MPa", "MPa")),
        ((0, "Pa", "Pa"), (1e4, "hPa", "hPa"), (2e5, "psi", "psi")), negative=True, significant=4,
    ),
    _kind("lux", "lx", "2500 lx", {"lx": 1, "klx": 1000, "fc": 1 / _FOOT**2}, "lx", "fc"),
    _kind("luminous_flux", "lm", "1500 lm", {"lm": 1, "klm": 1000}, "lm", significant=4),
    _kind(
        "ppfd", "umol/(m2 s)", "150 umol/m2/s",
        {"umol/m2/s|umol/(m2 s)": 1, "mmol/m2/s|mmol/(m2 s)": 1000,
         "mol/m2/s|mol/(m2 s)": 1_000_000},
        "umol/m2/s",
    ),
    _kind("dli", "mol/(m2 d)", "6 mol/m2/d", {"mol/m2/d|mol/(m2 d)": 1}, "mol/m2/d"),
    _kind("amount", "mol", "2 mol", {"mol": 1, "mmol": _MILLI, "umol": _MICRO}, "mol"),
    _kind(
        "irradiance", "W/m2", "150 W/m2",
        {"W/m2": 1, "mW/m2": _MILLI, "uW/cm2": Fraction(1, 100), "mW/cm2": 10, "kW/m2": 1000},
        ((0.0, "mW/m2", "mW/m²"), (0.1, "W/m2", "W/m²")),
    ),
    _kind("voltage", "V", "12 V", {"V": 1, "mV": _MILLI}, "V"),
    _kind("current", "A", "1.5 A", {"A": 1, "mA": _MILLI}, ((0.0, "mA", "mA"), (0.5, "A", "A"))),
    _kind("density", "kg/m3", "450 kg/m3",
          {"kg/m3": 1, "g/L|g/l": 1, "kg/L|kg/l": 1000, "g/cm3": 1000, "lb/ft3": _POUND / _FOOT**3},
          "kg/m3", "lb/ft3", significant=4),
    _kind("dose", "kg/m3", "5 g/L",
          {"g/L|g/l": 1, "mg/L|mg/l": _MILLI, "kg/m3": 1, "oz/qt_dry": _POUND / 16 / _QUART,
           "lb/ft3": _POUND / _FOOT**3, "lb/yd3": _POUND / (27 * _FOOT**3)},
          "g/L", (((0.0, "oz/qt_dry", "oz/qt_dry"),))),
    _kind("vapour_density", "kg/m3", "2 g/m3",
          {"g/m3": _MILLI, "gr/ft3": _POUND / 7000 / _FOOT**3}, "g/m3", "gr/ft3"),
    _kind("area_density", "kg/m2", "12 kg/m2",
          {"kg/m2": 1, "g/m2": _MILLI, "lb/ft2": _POUND / _FOOT**2}, "kg/m2", "lb/ft2"),
    _kind("conductivity", "W/(m K)", "0.05 W/(m K)",
          {"W/(m K)|W/m/K|W/mK": 1, "mW/(m K)": _MILLI}, "W/(m K)"),
    _kind("heat_capacity", "J/(kg K)", "1300 J/(kg K)",
          {"J/(kg K)|J/kg/K": 1, "kJ/(kg K)|kJ/kg/K": 1000}, "J/(kg K)", significant=4),
    _kind("rate", "1/s", "3 /h",
          {"/s|1/s": 1, "/min|1/min": Fraction(1, 60), "/h|1/h": Fraction(1, 3600),
           "/d|1/d": Fraction(1, 86400)}, "/h"),
    _kind("money_per_energy", "1/J", "0.31/kWh", {"/kWh": Fraction(1, 3_600_000)}, "/kWh",
          significant=4),
    _kind("money_per_time", "1/s", "42/h", {"/h": Fraction(1, 3600), "/d": Fraction(1, 86400)},
          "/h", significant=4),
    _kind("number", "1", "2.9", {}, (), negative=True),
)  # fmt: skip

KINDS: Mapping[str, Kind] = MappingProxyType({k.name: k for k in _ALL})
"""Every kind `parse` and `show` know, by name."""

SYSTEMS: tuple[str, ...] = ("metric", "us")

_FRACTION = r"(?:(\d+) )?(\d+)/(\d+)"
_DECIMAL = r"(\d+(?:\.\d+)?|\.\d+)((?:[eE][+-]?\d+)?)"
_NUMBER = re.compile(rf"([+-]?)(?:{_FRACTION}(?![\d.])|{_DECIMAL})", re.ASCII)
_FEET_INCHES = re.compile(r"([+-]?)(\d+) ?(?:ft|') ?(\d.*?) ?(?:in|\")", re.ASCII)
_CLOCK = re.compile(r"(\d{1,2}):(\d\d)(?::(\d\d))?", re.ASCII)
_SPELLING = str.maketrans(
    {"\u00b5": "u", "\u03bc": "u", "²": "2", "³": "3", "·": " ", "\u2212": "-", "\u00a0": " ",
     "\u202f": " ", "\u2032": "'", "\u2033": '"', "^": None, "\u2103": "°C", "\u2109": "°F"}
)  # fmt: skip
_HINTS = {
    "qt": "a quart is dry or liquid: write {n} qt_dry (1.101 L each) or {n} qt_liquid "
    "(0.946 L each)",
    "gal": "gallons differ: write {n} gal_us (3.785 L each)",
    "C": "write {n} degC",
    "F": "write {n} degF",
    "fl oz": "write {n} fl_oz_us",
}
_HINTS |= {
    "quart": _HINTS["qt"], "quarts": _HINTS["qt"], "qts": _HINTS["qt"], "gallon": _HINTS["gal"],
    "gallons": _HINTS["gal"], "gals": _HINTS["gal"],
}  # fmt: skip


def parse(text: object, kind: str) -> float:
    """Read one quantity of a kind; the value is in the kind's SI unit (see `KINDS`).

    Raises `UnitError` (without a place: the reader of the file knows it) saying what was found
    and what would be right. For ``number`` a plain int or float is right too.
    """
    wanted = KINDS[kind]
    if isinstance(text, bool) or not isinstance(text, str):
        return _bare(text, wanted)
    if len(text) > MAX_TEXT:
        raise UnitError(f"{text[:20]!r}... is too long for {_a(kind)}; {_like(wanted)}")
    clean = " ".join(text.translate(_SPELLING).split())
    if not clean:
        raise UnitError(f"an empty text is not {_a(kind)}; {_like(wanted)}")
    if kind == "clock":
        return _clock(clean)
    if kind == "length" and (feet := _FEET_INCHES.fullmatch(clean)):
        return _feet_inches(text, *feet.groups())
    number, unit = _split(text, clean, wanted)
    if number < 0 and not wanted.negative:
        raise UnitError(f"{text!r}: {_a(kind)} cannot be negative; {_like(wanted)}")
    if kind == "number":
        if unit:
            raise UnitError(f"{text!r} has a unit ({unit}); a plain number is wanted, like 2.9")
        return _float(number, text)
    chosen = wanted.units.get(unit)
    if chosen is None:
        raise UnitError(f"{text!r}: {_wrong_unit(clean, unit, wanted)}")
    value = (number + chosen.offset) * chosen.scale
    if kind == "temperature" and value < 0:
        raise UnitError(f"{text!r} lies below absolute zero; {_like(wanted)}")
    return _float(value, text)


def show(value: float, kind: str, system: str = "metric", digits: int | None = None) -> str:
    """Write an SI value of a kind for people, with its unit; `parse` reads it back.

    ``system`` is ``metric`` or ``us``; ``digits`` fixes the decimals, otherwise they are sensible
    for the kind. ValueError for a value that is not finite.
    """
    if system not in SYSTEMS:
        raise ValueError(f"system {system!r} is not one of {SYSTEMS}")
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be shown as {_a(kind)}")
    what = KINDS[kind]
    if kind == "clock":
        minutes = round(value / 60.0)
        return f"{minutes // 60:02d}:{minutes % 60:02d}"
    if kind == "number":
        return _written(value, what, digits)
    # A hair of slack, so that 1 L held as 0.9999999999 L is not shown as 1000 mL.
    steps = what.shows[system]
    fit = [s for s in steps if abs(value) >= float(s[0]) * (1.0 - 1e-9)] or [steps[0]]
    _, unit_name, shown = fit[-1]
    unit = what.units[unit_name]
    number = value / float(unit.scale) - float(unit.offset)
    gap = "" if shown.startswith("/") or shown == "°" else " "
    return f"{_written(number, what, digits)}{gap}{shown}"


def _written(number: float, kind: Kind, digits: int | None) -> str:
    """A number rounded for people: no exponent where it can be helped, no ``-0``."""
    if digits is None and kind.decimals is None:
        if number == 0.0:
            return "0"
        places = kind.significant - 1 - math.floor(math.log10(abs(number)))
        if places > 12 or places < -15:
            return f"{number:.{kind.significant}g}"
        # Whole numbers are shown whole: 1013 hPa and not 1010 hPa.
        text = f"{number:.{max(places, 0)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{number:.{kind.decimals if digits is None else digits}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def _bare(found: object, wanted: Kind) -> float:
    """A value that is not text: right for ``number``, else the unit is missing."""
    if isinstance(found, bool) or not isinstance(found, int | float):
        name = "nothing" if found is None else f"{_brief(found)!r}"
        if isinstance(found, bool):
            name = str(found).lower()  # as a file writes it
        raise UnitError(f"{name} is not {_a(wanted.name)}; {_like(wanted)}")
    if wanted.name == "number":
        try:
            value = float(found)
        except OverflowError:
            value = math.inf
        if not math.isfinite(value):
            raise UnitError(f"{_brief(found)} is not a usable number; {_like(wanted)}")
        return value
    if wanted.name == "clock":
        raise UnitError(f'{_brief(found)} is not a time of day; write it like "07:30"')
    raise UnitError(f"{_brief(found)} has no unit; {_like(wanted)}")


def _brief(found: object) -> str:
    """What was found, short enough for a message."""
    try:
        return str(found)[:40]
    except ValueError:  # an int beyond Python's limit of decimal digits
        return "an endless number"


def _split(text: str, clean: str, wanted: Kind) -> tuple[Fraction, str]:
    """The number and the unit text of one quantity."""
    if re.search(r"\d,\d", clean):
        fixed = re.sub(r",(?=\d)", ".", clean, count=1)
        plain = re.sub(r",(?=\d)", "", clean)
        raise UnitError(
            f"{text!r}: a comma is not read as a decimal mark; write {fixed} "
            f"(or {plain}, if the comma parted thousands)"
        )
    if any(c in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞" for c in clean):
        raise UnitError(f"{text!r}: write the fraction out, like 36 1/2")
    found = _NUMBER.match(clean)
    if found is None:
        if re.match(r"[+-]?(inf|nan|\.inf|\.nan)", clean, re.IGNORECASE):
            raise UnitError(f"{text!r} is not a usable number; {_like(wanted)}")
        raise UnitError(f"{text!r} does not begin with a number; {_like(wanted)}")
    number = _exact(text, *found.groups())
    rest = clean[found.end() :]
    unit = rest.strip()
    if re.match(r"(?:[-+*x×÷/~–]|\.\.|to\b) ?[\d.]", unit):
        raise UnitError(
            f"{text!r}: sums, products and ranges are not worked out; "
            f"write one number and one unit, like {wanted.example}"
        )
    return number, unit


def _exact(
    text: str, sign: str, whole: str | None, top: str | None, bottom: str | None,
    decimal: str | None, exponent: str | None,
) -> Fraction:  # fmt: skip
    """The number as an exact fraction."""
    if decimal is not None:
        mantissa = Fraction(decimal)
        size = float(decimal + (exponent or ""))
        # Checked before the exact power is made: 1e999999999 would fill the memory.
        if not math.isfinite(size) or (size == 0.0 and mantissa != 0):
            raise UnitError(f"{text!r}: the number is too large or too small to be meant")
        value = Fraction(decimal + (exponent or "")) if mantissa else Fraction(0)
    else:
        assert top is not None
        assert bottom is not None
        if int(bottom) == 0:
            raise UnitError(f"{text!r}: a fraction cannot be over zero")
        value = int(whole or 0) + Fraction(int(top), int(bottom))
    return -value if sign == "-" else value


def _feet_inches(text: str, sign: str, feet: str, inches: str) -> float:
    """Metres from ``5 ft 6 1/2 in``."""
    found = _NUMBER.fullmatch(inches)
    over = _exact(text, *found.groups()) if found else None
    if over is None or over >= 12:
        raise UnitError(f"{text!r}: write feet and inches like 5 ft 6 1/2 in, inches under 12")
    value = int(feet) * _FOOT + over * _INCH
    return _float(-value if sign == "-" else value, text)


def _clock(clean: str) -> float:
    """Seconds after midnight from ``07:30`` (``24:00`` is the end of the day)."""
    found = _CLOCK.fullmatch(clean)
    if found:
        hours, minutes, seconds = (int(g or 0) for g in found.groups())
        total = hours * 3600 + minutes * 60 + seconds
        if minutes < 60 and seconds < 60 and total <= 86400:
            return float(total)
    raise UnitError(f'{clean!r} is not a time of day; write it like "07:30", 00:00 to 24:00')


def _float(value: Fraction, text: str) -> float:
    """The nearest float, refused where it would overflow or vanish."""
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number) or (number == 0.0 and value != 0):
        raise UnitError(f"{text!r}: the number is too large or too small to be meant")
    return number


def _wrong_unit(clean: str, unit: str, wanted: Kind) -> str:
    """What to say of a unit that is missing, unknown, or of another kind."""
    a = _a(wanted.name)
    if not unit:
        return f"the unit is missing; {_like(wanted)}"
    amount = clean[: len(clean) - len(unit)].strip()
    hint = _HINTS.get(unit)
    if hint and any(name in wanted.units for name in re.findall(r"\{n\} (\w+)", hint)):
        return hint.format(n=amount)
    others = [k for k in KINDS.values() if unit in k.units]
    if others:
        if wanted.name == "temperature_difference":
            return f"{a} is written in K or degF_diff, not {unit}; for example 2 K"
        return f"{unit} is a unit of {_words(others[0].name)}, but {a} is wanted; {_like(wanted)}"
    near = difflib.get_close_matches(unit, wanted.units, n=1, cutoff=0.4)
    folded = [u for u in wanted.units if u.lower() == unit.lower()]
    best = folded or near
    question = f"did you mean {amount} {best[0]}? " if best else ""
    return f"{unit[:30]!r} is not a unit of {_words(wanted.name)}; {question}{_choices(wanted)}"


def _words(kind: str) -> str:
    return {"ppfd": "PPFD", "dli": "daily light (DLI)", "share": "share (per cent)"}.get(
        kind, kind.replace("_", " ")
    )


def _a(kind: str) -> str:
    words = _words(kind)
    return f"{'an' if words[0] in 'aeio' else 'a'} {words}"


def _choices(kind: Kind) -> str:
    return f"units are {kind.allowed}" if kind.units else f"write it like {kind.example}"


def _like(kind: Kind) -> str:
    """How to write one, with the units allowed."""
    if not kind.units:
        return f"write it like {kind.example}"
    return f'write it like "{kind.example}" (units: {kind.allowed})'
