"""Money, packs and amounts in words."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from decimal import Decimal

from loamwright import units
from loamwright.plan.buying import Bought
from loamwright.plan.currency import digits, rounded
from loamwright.plan.lines import Line, Stocked
from loamwright.report import quantities
from loamwright.report.plain import clean

UNKNOWN = "no price"


def money(amount: Decimal | None, currency: str) -> str:
    """An amount with the digits of its currency and thousands parted, `UNKNOWN` where there is none."""
    if amount is None:
        return UNKNOWN
    return f"{rounded(amount, currency):,.{digits(currency)}f}"


def share(value: Decimal) -> str:
    """A share of one as a percentage: ``20 %``, ``8.1 %``."""
    return f"{float(100 * value):.4g} %"


def amount(value: float, unit: str, system: str) -> str:
    """An amount of a line in the system people are shown."""
    match unit:
        case "piece":
            return f"{value:,.0f}" if abs(value - round(value)) < 1e-9 else f"{value:.2g}"
        case "m":
            return quantities.length(value, system)
        case "m2":
            return quantities.worded("area", max(value, quantities.SMALL_AREA), system) if (
                value >= quantities.SMALL_AREA
            ) else quantities.worded("area", value, system)  # fmt: skip
        case "L":
            if system == "metric":
                return f"{quantities.number('volume', value)} L"
            return units.show(1e-3 * value, "volume", "us").replace("qt_dry", "dry qt")
        case "kWh":
            return f"{value:,.0f} kWh"
    return units.show(value, "mass", system)


def water_amount(litres: float, system: str) -> str:
    """Water [L] in litres or gallons."""
    return quantities.water(litres, system)


POURED = ("fixings", "background", "mist", "water")
"""Headings whose litres are of a liquid, in the United States told in fluid ounces and gallons."""

OFF_ROLLS = ("wiring", "mist")
"""Headings whose lengths are cable and tube."""

AS_SOLD = ("lamps", "air", "controls", "wiring")
"""Headings whose sizes are names of what is sold, the same everywhere (a fan of 92 mm)."""

_SIZE = re.compile(r"(\d+(?:\.\d+)?)((?: x \d+(?:\.\d+)?)*) (mm|cm|m|kg|L)(?![\w²])")
_KINDS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0}

_STEP = re.compile(r"(±|over )(\d+(?:\.\d+)?) K\b")
"""How far temperatures may lie apart."""

_SCREW = re.compile(r"screws, (M?\d(?:\.\d)?) x (\d+) mm")
GAUGES = {"3": 4, "3.5": 6, "4": 8, "4.5": 10, "5": 10, "6": 14, "M4": "8-32"}
"""Screws by diameter [mm] and the number they go by in the United States; from memory."""


def needed(line: Line, system: str) -> str:
    """What must be there of a line, spares and waste included."""
    if line.unit == "L" and line.group in POURED:
        return water_amount(line.wanted, system)
    if line.unit == "m" and line.group in OFF_ROLLS:
        return quantities.run_length(line.wanted, system)
    return amount(line.wanted, line.unit, system)


def thing(line: Line, system: str) -> str:
    """A line's name, its sizes in the system people are shown."""
    return line.name if line.group in AS_SOLD else in_system(line.name, system)


CUSTOMARY = {
    "m": ("ft", 0.3048), "m2": ("ft2", 0.09290304), "kg": ("lb", 0.45359237),
    "L": ("qt_dry", 1.101220942715),
}  # fmt: skip
"""Units of lines, and what they are sold in in the United States: its name, and how much of the unit
it is (exact; a dry quart is 67.200625 cubic inches)."""

GALLON = ("gal_us", 3.785411784)


def sold_in(unit: str, group: str, system: str) -> tuple[str, float]:
    """The unit in which an amount of a line is told for the machine, and how much of its own one is."""
    if system == "metric":
        return unit, 1.0
    if unit == "L" and group in POURED:
        return GALLON
    return CUSTOMARY.get(unit, (unit, 1.0))


def in_system(text: str, system: str) -> str:
    """A text of the plan with the metric sizes in it told in the system people are shown."""
    if system == "metric":
        return text

    def told(found: re.Match[str]) -> str:
        first, more, unit = found.groups()
        numbers = [float(x) for x in (first, *more.split(" x ")[1:])]
        if unit == "kg":
            return units.show(numbers[0], "mass", system)
        if unit == "L":
            return water_amount(numbers[0], system)
        return " x ".join(quantities.measure(n * _KINDS[unit], system) for n in numbers) + " in"

    def screw(found: re.Match[str]) -> str:
        thick, long = found.groups()
        # Sold by quarters of an inch, short ones by eighths; common practice, no source.
        step = 0.0254 / (4 if float(long) >= 25.0 else 8)
        steps = 1e-3 * float(long) / step
        # A machine screw has to reach its nut: no shorter by more than half a millimetre.
        size = step * (math.ceil(steps - 0.1) if thick[0] == "M" else round(steps))
        return f"screws, no. {GAUGES[thick]} x {quantities.measure(size, system)} in"

    def step(found: re.Match[str]) -> str:
        return f"{found[1]}{1.8 * float(found[2]):.1g} °F"

    return _STEP.sub(step, _SIZE.sub(told, _SCREW.sub(screw, text)))


def packs(bought: Bought, system: str) -> str:
    """The packs to buy as the price list writes them; without a price bags, or the amount. What the cut
    plan takes whole is told as that."""
    if bought.line.stock:
        return stock_words(bought.line.stock, system)
    if bought.packs:
        return " + ".join(
            f"{n}"
            if p.unit == "piece" and p.pack == 1
            else f"{n} × {clean(p.told, 16).replace('m2', 'm²').replace('ft2', 'ft²')}"
            for p, n in bought.packs
        )
    line = bought.line
    if line.bags:
        return " + ".join(f"{n} × {amount(size, line.unit, system)}" for size, n in line.bags)
    return needed(line, system)


def stock_words(stock: Sequence[Stocked], system: str) -> str:
    """Sheets, rolls, bars and panes: ``3 sheets of 2.44 × 1.22 m``."""
    panes = sum(s.count for s in stock if s.kind == "pane")
    out = [f"{panes} {'pane' if panes == 1 else 'panes'} to size"] if panes else []
    for s in stock:
        sizes = [quantities.length(x, system) for x in (s.length, s.width)]
        if s.kind == "sheet":
            size = f"{sizes[0]} × {sizes[1]}"
            if system == "metric":
                size = f"{s.length:.4g} × {s.width:.4g} m"
            out.append(f"{s.count} {'sheet' if s.count == 1 else 'sheets'} of {size}")
        elif s.kind == "roll":
            count = f"{s.count} × " if s.count > 1 else ""
            out.append(f"{count}{sizes[0]} of roll, {sizes[1]} wide")
        elif s.kind in ("bar", "length"):
            out.append(f"{s.count} {s.kind}{'' if s.count == 1 else 's'} of {sizes[0]}")
    return " + ".join(out)


def minutes(value: int) -> str:
    """Work in hours and quarters: ``2 h 30``."""
    hours, rest = divmod(value, 60)
    return f"{hours} h" if not rest else f"{hours} h {rest:02d}" if hours else f"{rest} min"
