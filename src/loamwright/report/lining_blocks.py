"""Backgrounds as a table: which piece goes where, and where its screws stand."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES
from loamwright.plan.cuts import Cuts
from loamwright.plan.lining_places import LiningPlace, lining_places
from loamwright.report.blocks import Table
from loamwright.report.cut_words import size_pair, unit
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean
from loamwright.report.screw_words import screw_words

FROM = {0: "the left", 1: "the front", 2: "below"}
"""From where each axis is counted."""

FEW = 6
"""Screws of a piece whose places are told one by one."""


def linings_table(habitat: Habitat, cuts: Cuts, system: str) -> Table:
    """Every piece of every background; no rows without any."""
    found = lining_places(habitat, cuts)
    rows = tuple(_row(x, system) for x in found)
    return Table(
        f"Where the pieces of backgrounds go, {unit(system)}",
        ("no.", "background", "size", "its lower left corner, from the inside's edges", "screws",
         "places of its screws"),
        rows, tight=True,
        note="Places of screws are counted as the corner is, from the inside's edges. Begin at the "
        "lower left; bed each piece in sealant, butt it to the last and screw it before the next, "
        "heads sunk and coated over. Stagger nothing: the seams are those of the table. Where a "
        "branch or trunk is screwed through from behind, or a tube or cable comes out, move a screw "
        f"by a hand's breadth.{_low(habitat, found, system)} Common practice, no source.",
    )  # fmt: skip


def _low(habitat: Habitat, found: Sequence[LiningPlace], system: str) -> str:
    """What is done with screws that pierce a panel below the top of the ground: the leak test is over
    by then."""
    wide, deep, _ = habitat.enclosure.inside
    top = max(
        habitat.ground.surface_at(wide * i / 8, deep * j / 8) for i in range(9) for j in range(9)
    )
    upright = [x for x in found if x.size is not None and x.side not in ("top", "floor")]
    if not any(p[1] < top for x in upright for p in x.screws):
        return ""
    return (
        f" They are driven after the leak test: set those lower than {size_words(top, system)} from "
        "below, which is the top of the ground, in sealant, hole and head, and look from behind that "
        "none drips."
    )


def _row(x: LiningPlace, system: str) -> tuple[str, ...]:
    axes = FREE_AXES[x.side]
    corner = ", ".join(
        f"{size_words(v, system)} from {FROM[k]}" for v, k in zip(x.at, axes, strict=True)
    )

    count = "none: sealant alone"
    if x.size is not None:
        count = f"{len(x.screws)} of {screw_words(x.size, system)}"
    return (x.part.mark, f"{clean(x.part.name, 30)}, {x.side}",
            size_pair(x.part.width, x.part.height, system), corner, count,
            _places(x.screws, axes, system))  # fmt: skip


def _places(screws: tuple[Vec2, ...], axes: tuple[int, int], system: str) -> str:
    """Places one by one; many that stand in a grid as what its columns and rows are at."""
    if not screws:
        return "–"
    across, up = (sorted({round(p[k], 6) for p in screws}) for k in (0, 1))
    if len(screws) > FEW and len(across) * len(up) == len(screws):
        lines = [", ".join(size_words(v, system) for v in line) for line in (across, up)]
        return f"where {lines[0]} from {FROM[axes[0]]} cross {lines[1]} from {FROM[axes[1]]}"
    return "; ".join(f"{size_words(a, system)}, {size_words(b, system)}" for a, b in screws)
