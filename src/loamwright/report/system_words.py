"""Metric sizes inside a text, told in the system people are shown.

Texts of the plan and of the catalogue are written once, in metric units. Whoever is shown inches gets
every size in them in inches, ounces, gallons or degrees Fahrenheit, by one way for all pages, so that
one good has one name.
"""

from __future__ import annotations

import math
import re

from loamwright import units
from loamwright.report import quantities

_NUMBER = r"\d+(?:\.\d+)?"
_SIZE = re.compile(
    rf"(?<![\w.])(?<!fan, )(?<!duct, )({_NUMBER}(?: x {_NUMBER})*)(?:( to |-)({_NUMBER}))? "
    r"(mm|cm|m|kg|g|L)(?![\w²³/])"
)
"""A size, but none that is a name of what is sold, the same everywhere: a fan of 92 mm, its duct."""
_KINDS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0}

_WARM = re.compile(rf"(?<![\w.])(-?{_NUMBER})(?:( to |-)(-?{_NUMBER}))? °C(?!\w)")

_STEP = re.compile(rf"(±|over )({_NUMBER}) K\b|(?<![\w.])({_NUMBER}) K(?= over\b)")
"""How far temperatures may lie apart."""

_SPREAD = re.compile(
    rf"(?<![\w.])({_NUMBER})(?:( to |-)({_NUMBER}))? (g|kg|L) ((?:of [a-z ]{{1,30}} )?(?:on|to)) a "
    r"square metre"
)
"""How much is spread over an area."""

_MESH = re.compile(r"mesh, (\d+(?:\.\d+)?) mm")
"""A mesh by its opening."""

FINE_MESH = 3.0
"""Openings below this [mm] are told to a thirty-second of an inch, and never as wider than they are:
what a fine mesh must hold back would pass. Coarser ones go by the nearest sixteenth, which is how
welded mesh is sold (1/4, 1/2 in; from memory)."""

_SCREW = re.compile(r"screws, (M?\d(?:\.\d)?) x (\d+) mm")
GAUGES = {"3": 4, "3.5": 6, "4": 8, "4.5": 10, "5": 10, "6": 14, "M4": "8-32"}
"""Screws by diameter [mm] and the number they go by in the United States; from memory."""


def in_system(text: str, system: str) -> str:
    """A text with the metric sizes and temperatures in it told in the system people are shown.

    Areas (``0.75 mm²``, which names a cable), densities (``kg/m3``) and mass in water (``mg/L``, which
    laboratories of the United States write too; from memory) stay.
    """
    if system == "metric":
        return text
    for pattern, told in _RULES:
        text = pattern.sub(told, text)
    return text


def _screw(found: re.Match[str]) -> str:
    thick, long = found.groups()
    # Sold by quarters of an inch, short ones by eighths; common practice, no source.
    step = 0.0254 / (4 if float(long) >= 25.0 else 8)
    steps = 1e-3 * float(long) / step
    # A machine screw has to reach its nut: no shorter by more than half a millimetre.
    size = step * (math.ceil(steps - 0.1) if thick[0] == "M" else round(steps))
    return f"screws, no. {GAUGES[thick]} x {quantities.measure(size, 'us')} in"


def _mesh(found: re.Match[str]) -> str:
    opening = float(found[1])
    if opening >= FINE_MESH:
        return f"mesh, {quantities.measure(1e-3 * opening, 'us')} in"
    parts = max(math.floor(opening / 25.4 * 32), 1)
    common = math.gcd(parts, 32)
    return f"mesh, {parts // common}/{32 // common} in"


def _ends(low: str, high: str) -> str:
    """Two amounts as a range, with their unit once where it is the same."""
    figure, _, name = low.rpartition(" ")
    return f"{figure if high.endswith(f' {name}') else low} to {high}"


def _size(found: re.Match[str]) -> str:
    first, _, last, unit = found.groups()
    *before, one = first.split(" x ")
    if unit in _KINDS:
        before = [quantities.measure(float(n) * _KINDS[unit], "us") for n in before]
    # Before a mass or a volume stand counts: two bags of 5 L.
    low = " x ".join([*before, _amount(float(one), unit)])
    return _ends(low, _amount(float(last), unit)) if last else low


def _amount(value: float, unit: str) -> str:
    match unit:
        case "kg":
            return units.show(value, "mass", "us")
        case "g":
            return units.show(1e-3 * value, "mass", "us")
        case "L":
            return quantities.water(value, "us")
    return f"{quantities.measure(value * _KINDS[unit], 'us')} in"


def _warm(found: re.Match[str]) -> str:
    low, _, high = found.groups()
    told = f"{_fahrenheit(low)} °F"
    return _ends(told, f"{_fahrenheit(high)} °F") if high else told


def _fahrenheit(celsius: str) -> str:
    return f"{1.8 * float(celsius) + 32.0:.1f}".removesuffix(".0")


def _step(found: re.Match[str]) -> str:
    lead, one, other = found.groups()
    # Thermometers and probes are good to a degree: one digit says it.
    return f"{lead or ''}{1.8 * float(one or other):.1g} °F"


def _spread(found: re.Match[str]) -> str:
    first, _, last, unit, what = found.groups()
    told = [_on_a_foot(float(n), unit) for n in (first, last) if n]
    return f"{_ends(*told) if last else told[0]} {what} a square foot"


def _on_a_foot(value: float, unit: str) -> str:
    """What lies on a square foot where this lies on a square metre."""
    if unit == "L":
        return quantities.water(value * float(units.KINDS["area"].units["ft2"].scale), "us")
    mass = value * float(units.KINDS["mass"].units[unit].scale)
    return f"{quantities.shown('litter', mass, 'us'):.2g} oz"


_RULES = (
    (_SCREW, _screw), (_MESH, _mesh), (_SPREAD, _spread), (_SIZE, _size),
    (_WARM, _warm), (_STEP, _step),
)  # fmt: skip
"""What is told how, tried in this order."""
