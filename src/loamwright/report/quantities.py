"""Numbers of light in words: the right digits, the right unit, both systems."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loamwright.units import KINDS, show

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
}
"""What each quantity of light is called in a sentence."""

UNITS: dict[str, str] = {
    "uva": "W/m²",
    "uvb": "W/m²",
    "ppfd": "µmol/m²/s",
    "dli": "mol/m²/d",
    "lux": "lx",
    "radiant": "W/m²",
}
"""Units shown in both systems, as instruments are read in both; but see `unit`."""

_DECIMALS: dict[str, int] = {"uvb": 3, "dli": 1}


_FOOT_CANDLE = float(KINDS["lux"].units["fc"].scale)
_EDGE = {"metric": ("cm", float(KINDS["length"].units["cm"].scale)),
         "us": ("in", float(KINDS["length"].units["in"].scale))}  # fmt: skip


def unit(quantity: str, system: str) -> str:
    """The unit a quantity of light is shown in, empty for the UV index."""
    return "fc" if quantity == "lux" and system == "us" else UNITS.get(quantity, "")


def shown(quantity: str, value: float, system: str) -> float:
    """An SI value in the unit it is shown in (see `unit`)."""
    return value / _FOOT_CANDLE if quantity == "lux" and system == "us" else value


def edge(system: str) -> tuple[str, float]:
    """The unit in which places and drawings are measured, and its size [m]."""
    return _EDGE[system]


def decimals(quantity: str, value: float) -> int:
    """Decimals that carry meaning for a value of this size."""
    size = abs(value)
    if quantity in ("uvi", "uvi_step"):
        return 2 if size < 0.995 else 1
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
    if "." in text and not more and quantity not in ("uvi", "uvi_step"):
        text = text.rstrip("0").rstrip(".")
    return "0" if text.strip("-0.") == "" else text


def duration(seconds: float) -> str:
    """Hours and minutes as people say them."""
    if not math.isfinite(seconds):
        return "no limit"
    if seconds < 120:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    if minutes < 120:
        return f"{minutes} min"
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def worded(quantity: str, value: float | None, system: str, more: int = 0) -> str:
    """A value with its unit, in the system people are shown (``metric`` or ``us``)."""
    if value is None or not math.isfinite(value):
        return "no limit" if quantity == "exposure_time" and value else "not known"
    if quantity == "distance":
        return show(value, "length", system)
    if quantity == "exposure_time":
        return duration(value)
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
    if quantity in ("distance", "exposure_time"):
        return f"{told} ± {worded(quantity, spread, system)}"
    lead, figure, tail = "", told, ""
    if told.startswith("UVI "):
        lead, figure = "UVI ", told[4:]
    else:
        figure, gap, name = told.partition(" ")
        tail = gap + name
    places = len(figure.partition(".")[2])
    size = shown(quantity, spread, system)
    give = f"{size:,.{places}f}"
    if float(give.replace(",", "")) == 0.0:
        give = f"{size:.1g}"
    return f"{lead}{figure} ± {give}{tail}"


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
    """A length [m] as a bare number in the drawing's unit, to a tenth."""
    text = f"{value / edge(system)[1]:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def place(at: Sequence[float], system: str) -> str:
    """Coordinates as they are written in the habitat file: ``[75 cm, 40 cm, 122 cm]``."""
    return "[" + ", ".join(f"{measure(x, system)} {edge(system)[0]}" for x in at) + "]"


def length(value: float, system: str) -> str:
    """A length [m] in words, to a tenth of its unit."""
    figure, _, name = show(value, "length", system, 1).partition(" ")
    return f"{figure.removesuffix('.0')} {name}"


def percent(share: float) -> str:
    """A share of one as a percentage, honest near both ends."""
    points = share * 100
    if 0 < points < 1:
        return "less than 1 %"
    if 99 < points < 100:
        return "more than 99 %"
    return f"{points:.0f} %"
