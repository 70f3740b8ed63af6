"""The misting line as tables: pump, line, tank, and the pressure each nozzle gets."""

from __future__ import annotations

import itertools
import math

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan.mist_line import MistLine, clips_of
from loamwright.plan.mist_ways import Branch, branches_of
from loamwright.plan.routes import CLIP, length_of
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.cut_words import unit
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean, listing


def mist_line_tables(habitat: Habitat, line: MistLine, system: str) -> list[Table]:
    """All tables of the misting line."""
    return [_line(habitat, line, system), _run(habitat, line, system), _mouths(line, system)]


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
        (
            "pump keeps" if line.said else "pump keeps (usual; the file does not say)",
            _pressure(line.pump, system),
        ),
        ("all nozzles together", flow_words(line.flow, system)),
        ("power that takes at least, about", f"{line.draws:.1f} W"),
        ("power of the pump in the file", f"{line.power:g} W"),
        ("line, inner diameter", quantities.length(line.bore, system)),
        ("line, length", quantities.run_length(line.length, system)),
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


def _run(habitat: Habitat, line: MistLine, system: str) -> Table:
    """The line's straight lengths from the tank on, then each branch."""
    rows = []
    for a, b in itertools.pairwise(line.trunk):
        far = math.dist(a, b)
        if far > 1e-6:
            rows.append((_along(a, b), _spot(a, system), _spot(b, system),
                         quantities.run_length(far, system), f"{clips_of((a, b)):.0f}"))  # fmt: skip
    for x in branches_of(habitat):
        told = f"branch to '{clean(x.nozzle.name, 24)}': {_branch(x, system)}"
        long = quantities.run_length(length_of(x.way), system)
        ends = _spot(x.way[0], system), _spot(x.way[-1], system)
        rows.append((told, *ends, long, f"{clips_of(x.way):.0f}"))
    return Table(
        "The run of the misting line", ("length", "from x, y, z", "to x, y, z", "long", "clips"),
        tuple(rows), right=frozenset({3, 4}),
        note="Outside the box: up behind its right back corner, along the back edge of the top, with a "
        "tee where each branch begins. Branches lie on the top, over the bars of its frame, clear of "
        "openings and fans; inside they are clipped below the top. Clips that grip the tube without "
        f"pinching it, every {quantities.length(CLIP, system)}; bends as wide as the tube's maker "
        "says. Common practice, no source.",
    )  # fmt: skip


def _spot(at: Vec3, system: str) -> str:
    return quantities.place(at, system).strip("[]")


WAYS = {(0, 1): "to the right", (0, -1): "to the left", (1, 1): "backwards", (1, -1): "forwards",
        (2, 1): "up", (2, -1): "down"}  # fmt: skip
"""Which way a straight length runs, by its axis and sign."""


def _along(a: Vec3, b: Vec3) -> str:
    """Which way a straight length runs."""
    gaps = [v - u for u, v in zip(a, b, strict=True)]
    k = max(range(3), key=lambda i: abs(gaps[i]))
    return f"trunk, {WAYS[k, 1 if gaps[k] > 0.0 else -1]}"


def _branch(b: Branch, system: str) -> str:
    """A branch in words: how far forward from where, across, and through which panel."""
    if b.hole is None:
        return "led in through a mesh or beside a door, since no panel takes a hole"
    hole = ", ".join(size_words(v, system) for v in b.hole.at)
    through = f"through the {b.hole.side} at {hole} {unit(system)}"
    if b.hole.side != "top":
        return through
    start, front = quantities.length(b.way[0][0], system), quantities.length(b.hole.at[1], system)
    told = f"forward at {start} from the left to {front} from the front"
    aside = b.hole.at[0] - b.way[0][0]
    if abs(aside) > 1e-6:
        told += f", {quantities.length(abs(aside), system)} {WAYS[0, 1 if aside > 0.0 else -1]}"
    if b.crosses:
        told += f" (over {listing([clean(x, 24) for x in b.crosses])}: no way is clear)"
    return f"{told}, {through}"


def _mouths(line: MistLine, system: str) -> Table:
    rows = tuple(
        (clean(m.name, 24), quantities.run_length(m.length, system), quantities.length(m.rise, system),
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
