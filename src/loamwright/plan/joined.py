"""One shopping list of all parts of the plan: a thing that several of them ask for is bought once.

Amounts are those of `quantities`, and of the ground those of its engine, to the last unit. What the cut
plan takes from whole sheets and rolls is told as waste of the same line; what wiring, misting and
strength add joins the list.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import fsum

from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan import cut_parts
from loamwright.plan.build import Build
from loamwright.plan.cut_parts import PartToCut
from loamwright.plan.cuts import Cuts, Job
from loamwright.plan.keys import cover_key, lining_key, panel_key, sheet_key
from loamwright.plan.lines import Line, Stocked, merged
from loamwright.plan.loads import DIMMING, TIMED
from loamwright.plan.quantities import part_lines, shopping_list

SAME: Mapping[str, str] = {"controls/cut-out": "controls/limit"}
"""Keys of wiring and strength that the list calls otherwise. Of what both count for the same things the
larger need is bought."""

STARTS: Mapping[str, str] = {"misting/pump": "mist/pump-", "misting/tank": "mist/tank-"}
"""The same for keys that end in a size in the list."""

GROUP_OF: Mapping[str, str] = {"misting": "mist"}
"""Headings that the list calls otherwise."""

COUNTED: tuple[str, ...] = ("fixings/screws-stainless-", "fixings/washers-")
"""Starts of keys that list and strength count for the same things in one way: never twice."""

TIMERS: tuple[str, ...] = ("controls/time", "controls/seconds")
"""Switches by the clock: timers in the list, as many as wiring counts."""


def joined_list(
    habitat: Habitat, amount: Quantities, starters: Mapping[str, int], cuts: Cuts, build: Build
) -> tuple[Line, ...]:
    """Everything to buy, each thing once.

    Parameters
    ----------
    amount : Quantities
        The ground's amounts.
    starters : mapping
        Decomposers let in, by species.
    cuts : Cuts
        Of which whole sheets and lengths of rolls are bought.
    build : Build
        Wiring, misting line and fixings.
    """
    parts: dict[str, list[Line]] = {}
    for line in part_lines(habitat, amount, starters):
        parts.setdefault(line.key, []).append(line)
    listed = {x.key: x for same in parts.values() for x in merged(same)}
    instead: dict[str, Line] = {}
    for job in cuts.jobs:
        instead |= {x.key: x for x in whole_sheets(job, listed)}
    instead |= {x.key: x for x in panes(cuts, listed)}
    barred = {bar.key for bar in cuts.bars}
    instead |= {key: whole_bars(cuts, x) for key, x in listed.items() if key in barred}
    timers: list[Line] = []
    more: list[Line] = []
    for line in merged_alike(build.lines):
        key = SAME.get(line.key, line.key)
        start = STARTS.get(line.key)
        if start is not None and any(k.startswith(start) for k in listed):
            continue
        if line.key in TIMERS:
            timers.append(line)
        elif key in listed and key.startswith(COUNTED) and set(line.uses) <= set(listed[key].uses):
            continue
        elif key in listed:
            known = instead.get(key, listed[key])
            instead[key] = at_least(known, line, apart_from(line, parts[key]))
        else:
            line = replace(line, key=key, group=GROUP_OF.get(line.group, line.group))
            more.append(whole_bars(cuts, line))
    if timers:
        uses = tuple(u for t in timers for u in t.uses)
        count = fsum(t.amount for t in timers)
        fine = any(t.key == "controls/seconds" for t in timers)
        name = listed["controls/timer"].name if "controls/timer" in listed else TIMED
        dims = sum(u.startswith(DIMMING) for u in uses)
        if dims:
            name += f", {dims} of them dimming"
        instead["controls/timer"] = Line(
            "controls/timer", "controls", name, count, "piece", uses=uses,
            why="as the wiring says" + ("; the one for misting in seconds" if fine else ""),
        )  # fmt: skip
    return shopping_list(habitat, amount, starters, (*instead.values(), *more))


def merged_alike(lines: Iterable[Line]) -> tuple[Line, ...]:
    """`merged`, where lines of one key may lose different shares: the largest share counts for all."""
    found = list(lines)
    most: dict[str, float] = {}
    for line in found:
        most[line.key] = max(most.get(line.key, 0.0), line.waste)
    return merged(replace(x, waste=most[x.key]) for x in found)


def apart_from(line: Line, parts: Iterable[Line]) -> tuple[Line, ...]:
    """Those of some lines of one key that are for other things than ``line`` is; a line that names
    nothing may be for the same."""
    uses = set(line.uses)
    return tuple(x for x in parts if uses and x.uses and uses.isdisjoint(x.uses))


def at_least(line: Line, other: Line, apart: Iterable[Line] = ()) -> Line:
    """A line, its amount raised where another asks for more of the same; what of it is ``apart``, for
    things the other does not count, is bought besides."""
    both = (other, *apart)
    wanted = other.wanted + fsum(x.amount * (1.0 + x.waste) + x.spares for x in both[1:])
    if other.unit != line.unit or wanted <= line.wanted:
        return line
    amount = (wanted - line.spares) / (1.0 + line.waste)
    why = "; ".join(dict.fromkeys(x.why for x in both if x.why))
    uses = tuple(dict.fromkeys((*line.uses, *other.uses)))
    return replace(line, amount=amount, why=why or line.why, uses=uses)


def key_of(part: PartToCut) -> str:
    """What the shopping list calls the stuff of a part."""
    if part.kind == cut_parts.LINING:
        return lining_key(part.material, part.thickness)
    if part.kind == cut_parts.COVER:
        return cover_key(part.material)
    if part.kind == cut_parts.GROUND:
        return sheet_key(part.material)
    return panel_key(part.material, part.thickness)


def whole_sheets(job: Job, listed: Mapping[str, Line]) -> list[Line]:
    """Lines of the list for a job's material, with what is left of whole sheets or of the roll's width
    as their waste."""
    keys = dict.fromkeys(key_of(x.part) for s in job.sheets for x in s.laid)
    lines = [listed[k] for k in keys if k in listed and listed[k].unit == "m2"]
    whole = fsum(line.amount for line in lines)
    bought = fsum(s.width * s.height for s in job.sheets)
    if whole <= 0.0 or bought < whole:
        return []
    stock = stock_of(job)
    told = "from a roll" if job.roll else "whole sheets"
    why = f"{told}, as the cut plan says"
    if len(lines) > 1:
        why += f"; shared by {len(lines)} lines of this list: {sheets_told(stock)} in all"
    return [
        replace(x, waste=bought / whole - 1.0, why=why, stock=stock if len(lines) == 1 else ())
        for x in lines
    ]


def stock_of(job: Job) -> tuple[Stocked, ...]:
    """The sheets of a job by size, or the length of its roll."""
    counts: dict[tuple[float, float], int] = {}
    for sheet in job.sheets:
        # A roll is told by its length and its width across.
        size = (sheet.height, sheet.width) if job.roll else (sheet.width, sheet.height)
        counts[size] = counts.get(size, 0) + 1
    kind = "roll" if job.roll else "sheet"
    return tuple(Stocked(kind, count, *size) for size, count in counts.items())


def sheets_told(stock: Iterable[Stocked]) -> str:
    """Sheets in words: ``3 of 2.44 x 1.22 m``."""
    return " + ".join(f"{s.count} of {s.length:.4g} x {s.width:.4g} m" for s in stock)


def panes(cuts: Cuts, listed: Mapping[str, Line]) -> list[Line]:
    """Lines of panels and panes that are ordered cut to size: exactly their area, and how many."""
    by_key: dict[str, list[PartToCut]] = {}
    for part in cuts.ordered:
        if part.kind in (cut_parts.PANEL, cut_parts.DOOR, cut_parts.FIXED, cut_parts.CARRIER):
            by_key.setdefault(key_of(part), []).append(part)
    return [
        replace(
            listed[key], amount=fsum(p.area for p in parts), waste=0.0,
            why="ordered cut to size, by the sizes of the cut plan",
            stock=tuple(Stocked("pane", 1, p.width, p.height) for p in parts),
        )
        for key, parts in by_key.items()
        if key in listed and listed[key].unit == "m2"
    ]  # fmt: skip


def whole_bars(cuts: Cuts, line: Line) -> Line:
    """A line that the cut plan takes from bars, as those bars; any other line as it is."""
    counts: dict[float, int] = {}
    for bar in cuts.bars:
        if bar.key == line.key:
            counts[bar.length] = counts.get(bar.length, 0) + 1
    stock = tuple(Stocked("bar", n, length) for length, n in counts.items())
    bought = fsum(s.all for s in stock)
    if not stock or bought < line.amount:
        return line
    return replace(line, waste=bought / line.amount - 1.0, stock=stock,
                   why=f"{line.why}; whole bars, as the cut plan says")  # fmt: skip
