"""Covers and guards as a table: over which hole, on which face, where, how far beyond it, how fixed."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES
from loamwright.plan.covers import NARROW, CoverPlace, covers_of
from loamwright.plan.cuts import Cuts
from loamwright.plan.screws import FAN_DEEP
from loamwright.report.blocks import Table
from loamwright.report.cut_words import size_pair, unit
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean, listing
from loamwright.report.screw_words import screw_words
from loamwright.report.system_words import in_system

ENDS = {0: ("left", "right"), 1: ("front", "back"), 2: ("below", "above")}
"""Words for both ends of each axis."""


def covers_table(habitat: Habitat, cuts: Cuts, system: str) -> Table:
    """Where every cover and guard lies; no rows without any."""
    numbers = {p.name: p.mark for p in cuts.parts if p.kind == "cover"}
    rows = tuple(_row(c, numbers, system) for c in covers_of(habitat))
    narrow = size_words(NARROW, system)
    deep = f"{size_words(FAN_DEEP, system)} {unit(system)}"
    return Table(
        f"Where covers and guards lie, {unit(system)}",
        ("no.", "over", "face", "cut to", "its corner, from the inside's edges", "beyond the hole",
         "fixed by"),
        rows, tight=True,
        note="Cut to the hole and what the cover reaches beyond it. The corner is the one nearest to "
        "both edges named. Covers of openings and a fan's first guard lie on the panel's inside, so "
        "that nothing gets in between; the fan itself sits outside. Its machine screws hold the guard "
        f"too: a fan {deep} deep is taken (from memory), measure yours. {_mats(habitat, system)}Where "
        f"a cover reaches less than {narrow} beyond its hole, screw its other edges and let washers "
        "bear on that one, or bed it in sealant. Bend or bind cut wire: it scratches. Common "
        "practice, no source.",
    )  # fmt: skip


def _row(c: CoverPlace, numbers: dict[str, str], system: str) -> tuple[str, ...]:
    axes = FREE_AXES[c.side]
    words = [w for k in axes for w in ENDS[k]]
    corner = ", ".join(
        f"{size_words(v, system)} from {_edge(ENDS[k][0])}"
        for v, k in zip(c.low, axes, strict=True)
    )
    laps = [size_words(x, system) for x in c.laps]
    over = f"{laps[0]} all round" if len(set(laps)) == 1 else ", ".join(
        f"{w} {x}" for w, x in zip(words, laps, strict=True)
    )  # fmt: skip
    face = f"{c.side}, inside" if c.inside else f"{c.side}, outside, under the fan"
    if c.behind:
        face += f", before '{clean(c.behind, 30)}' goes in"
    fixed = "a bed of sealant"
    if c.screws is not None:
        way = in_system(c.screws.way, system)
        fixed = f"{c.screws.count} of {screw_words(c.screws.screw, system)}, {way}"
    return (numbers.get(c.name, "–"), clean(c.over, 30), face, size_pair(*c.size, system), corner, over,
            fixed)  # fmt: skip


def _mats(habitat: Habitat, system: str) -> str:
    """How dust mats are cut and held; empty without any."""
    told = [
        f"'{clean(f.name, 30)}' {size_pair(f.type.diameter, f.type.diameter, system)} {unit(system)}"
        for f in habitat.fans if f.filter is not None
    ]  # fmt: skip
    if not told:
        return ""
    return (
        f"Dust mats are cut to the fan's frame, of {listing(told)}, and clamped between guard and "
        "panel by the fan's own screws; loosen these to wash one. "
    )


def _edge(word: str) -> str:
    return word if word == "below" else f"the {word}"
