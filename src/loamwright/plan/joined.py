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
from loamwright.plan.lines import Line, merged
from loamwright.plan.quantities import part_lines, shopping_list

SAME: Mapping[str, str] = {
    "fixings/screw-stainless": "fixings/screws-stainless",
    "controls/cut-out": "controls/limit",
}
"""Keys of wiring and strength that the list calls otherwise. Of what both count for the same things the
larger need is bought."""

STARTS: Mapping[str, str] = {"misting/pump": "mist/pump-", "misting/tank": "mist/tank-"}
"""The same for keys that end in a size in the list."""

GROUP_OF: Mapping[str, str] = {"misting": "mist"}
"""Headings that the list calls otherwise."""

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
    timers: list[Line] = []
    more: list[Line] = []
    for line in merged_alike(build.lines):
        key = SAME.get(line.key, line.key)
        start = STARTS.get(line.key)
        if start is not None and any(k.startswith(start) for k in listed):
            continue
        if line.key in TIMERS:
            timers.append(line)
        elif key in listed:
            known = instead.get(key, listed[key])
            instead[key] = at_least(known, line, apart_from(line, parts[key]))
        else:
            more.append(replace(line, key=key, group=GROUP_OF.get(line.group, line.group)))
    if timers:
        uses = tuple(u for t in timers for u in t.uses)
        count = fsum(t.amount for t in timers)
        fine = any(t.key == "controls/seconds" for t in timers)
        name = listed["controls/timer"].name if "controls/timer" in listed else "time switch"
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
    count = len(job.sheets)
    sheets = "one whole sheet" if count == 1 else f"{count} whole sheets"
    why = "from a roll" if job.roll else sheets
    return [
        replace(x, waste=bought / whole - 1.0, why=f"{why}, as the cut plan says") for x in lines
    ]
