"""The misting line as tables: pump, line, tank, and the pressure each nozzle gets."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.mist_line import MistLine
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean


def mist_line_tables(habitat: Habitat, line: MistLine, system: str) -> list[Table]:
    """All tables of the misting line."""
    return [_line(habitat, line, system), _mouths(line, system)]


FLUID_OUNCE = 2.95735295625e-5
"""A fluid ounce of the United States [m3]."""


def flow_words(value: float, system: str) -> str:
    """A small flow of water [m3/s]: millilitres, or fluid ounces, a minute."""
    if system == "us":
        return f"{60.0 * value / FLUID_OUNCE:.2f} fl oz/min"
    return f"{6e7 * value:.1f} mL/min"


def _pressure(value: float, system: str) -> str:
    return quantities.worded("pressure", value, system)


def _line(habitat: Habitat, line: MistLine, system: str) -> Table:
    mist = habitat.mist
    assert mist is not None
    by_clock = (
        "only when the control asks"
        if line.lasts is None
        else (f"{quantities.duration(line.lasts)}, by the clock alone")
    )
    rows = [
        ("pump keeps" if line.said else "pump, as taken, keeps", _pressure(line.pump, system)),
        ("all nozzles together", flow_words(line.flow, system)),
        ("power that takes at least, about", f"{line.draws:.1f} W"),
        ("power of the pump in the file", f"{line.power:g} W"),
        ("line, inner diameter", quantities.worded("deflection", line.bore, system)),
        ("line, length", quantities.length(line.length, system)),
        ("sprayed a day by the clock", quantities.water(1000.0 * line.a_day, system)),
        ("tank holds", quantities.water(1000.0 * mist.tank, system)),
        ("tank lasts", by_clock),
    ]
    note = " ".join(mist_cautions(line))
    return Table("The misting line", ("", ""), tuple(rows), right=frozenset({1}), note=note)


def mist_cautions(line: MistLine) -> list[str]:
    """What must be said beside the misting line."""
    above = "The tank stands above a nozzle: it would run empty by itself; set it lower."
    valves = "Check valves at the nozzles keep the line full and stop them dripping."
    return [
        "Relieve the pressure before opening the line.",
        "Low-mineral water; drain and clean the tank.",
        above if line.above else valves,
    ]


def _mouths(line: MistLine, system: str) -> Table:
    rows = tuple(
        (clean(m.name, 24), quantities.length(m.length, system), quantities.length(m.rise, system),
         _pressure(m.lost, system), _pressure(m.pressure, system),
         "not known" if m.needs is None else _pressure(m.needs, system),
         flow_words(m.flow, system))
        for m in line.mouths
    )  # fmt: skip
    return Table(
        "Nozzles",
        ("nozzle", "line to it", "rises", "lost in the line", "pressure there", "made for", "flow"),
        rows, right=frozenset(range(1, 7)),
        note="Flow grows with the square root of the pressure: Q = K √p. Measure one into a jar.",
    )  # fmt: skip
