"""How the box is joined, its battens and what they are cut from, and what is led through panels."""

from __future__ import annotations

import math

from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import END, battens, crossed
from loamwright.plan.cuts import Cuts
from loamwright.plan.joining import APART, BEAD, Joint, joints_of
from loamwright.plan.service_holes import services_of
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.cut_words import unit
from loamwright.report.draft_page import size_words
from loamwright.report.frame_blocks import frame_table
from loamwright.report.money_words import in_system
from loamwright.report.plain import clean, listing
from loamwright.report.screw_words import screw_words

PRACTICE = "Common practice, no source; the maker's sheet of the adhesive decides."

LED = {
    "cable": "mains cable: gland, drip loop before it", "probe": "probe's cable: gland",
    "mist": "pressure tube: sealed round", "drain": "draws off standing water: fitting with tap",
}  # fmt: skip


NOT_DRILLED = {
    "drain": "not drilled: level tube upright in a front corner",
    "other": "not drilled: lead it through a mesh or beside a door, or have the glazier drill",
}


def joint_tables(habitat: Habitat, cuts: Cuts, system: str) -> list[Table]:
    """Everything of joining: edges, battens, bars, what is led through."""
    out = [_edges(habitat, system), _battens(habitat, system), frame_table(habitat, system),
           _bars(cuts, system), _led(habitat, system)]  # fmt: skip
    return [t for t in out if t.rows]


def _edges(habitat: Habitat, system: str) -> Table:
    found = joints_of(habitat)
    rows = tuple(_edge(j, system) for j in found)
    length = math.fsum(j.length for j in found if j.sealed)
    bead = quantities.length(BEAD, system)
    return Table(
        "How the box is joined",
        ("edge", f"length\n{unit(system)}", "joined with", "screws", "sealed inside"), rows,
        right=frozenset({1}), tight=True,
        note="The panel named first lies over the edge of the other; screws go through it, drilled "
        f"first and sunk, the first and last {size_words(END, system)} from the inside's edges; their "
        f"number keeps them at least {size_words(APART, system)} off the screws through battens' ends. "
        f"Sealed: {quantities.length(length, system)} in all, a fillet of {bead} along "
        "each inside corner, once the adhesive has set as its maker says, the next day at the "
        f"earliest; silicone that joins panes seals them too. {PRACTICE}",
    )  # fmt: skip


def _edge(j: Joint, system: str) -> tuple[str, ...]:
    if j.glue is None:
        return clean(j.name), size_words(j.length, system), f"nothing: {j.why}", "–", "no"
    screws = "none"
    if j.screw is not None:
        apart = size_words(j.spacing, system)
        screws = f"{j.count} of {screw_words(j.screw, system)}, every {apart}"
    return clean(j.name), size_words(j.length, system), j.glue.name, screws, "yes"


def _battens(habitat: Habitat, system: str) -> Table:
    rows = []
    for b in battens(habitat):
        fixed = "adhesive alone"
        if b.screw is not None:
            fixed = (f"{b.screws} of {screw_words(b.screw, system)}, every "
                     f"{size_words(b.spacing, system)}")  # fmt: skip
        ends = [e for e in b.ends if e is not None]
        for size in dict.fromkeys(ends):
            where = "its ends" if ends.count(size) > 1 else "an end"
            fixed += f"; {ends.count(size)} of {screw_words(size, system)} at {where}"
        if across := crossed(habitat, b):
            fixed += f"; crosses {listing([clean(x) for x in across])}: part it there"
        edge = "front" if b.side in ("left", "right") else "left"
        rows.append((clean(b.name), size_words(b.length, system),
                     f"{size_words(b.at, system)} from the {edge}", fixed))  # fmt: skip
    end = size_words(END, system)
    return Table(
        f"Battens, {unit(system)}",
        ("batten", "length", "its middle, from the inside's edge", "screws"),
        tuple(rows), right=frozenset({1}), tight=True,
        note="They stand on the outside of the panel, glued along their whole length and screwed from "
        f"the inside before the background goes in; the first and last screw {end} from the inside's "
        "edges. Those of walls are as long as the box is high outside: their ends lie over the edges "
        "of floor and top (of boxes whose sides go through: over these) and are screwed into both, "
        "which holds them where the panel pushes most. "
        f"They stand out beyond the outer sizes of the box: leave room behind it. {PRACTICE}",
    )  # fmt: skip


def _bars(cuts: Cuts, system: str) -> Table:
    rows = [
        (str(n), clean(in_system(bar.label, system)), size_words(bar.length, system),
         " + ".join(f"{size_words(p.height, system)} (no. {p.mark})" for p in bar.pieces),
         size_words(bar.rest, system))
        for n, bar in enumerate(cuts.bars, 1)
    ]  # fmt: skip
    return Table(
        f"Bars to cut to length, {unit(system)}", ("bar", "of", "length", "cut from it", "left over"),
        tuple(rows), right=frozenset({2, 4}), tight=True,
        note="A saw's cut of 3 mm is counted for each piece." if system == "metric"
        else "A saw's cut of 1/8 in is counted for each piece.",
    )  # fmt: skip


def _led(habitat: Habitat, system: str) -> Table:
    rows = []
    for s in services_of(habitat):
        if s.side:
            where = f"{s.side}: {size_words(s.at[0], system)}, {size_words(s.at[1], system)}"
            hole = f"Ø {size_words(s.diameter, system)}"
        else:
            where = NOT_DRILLED["drain" if s.kind == "drain" else "other"]
            hole = "–"
        rows.append((clean(s.name, 50), LED[s.kind], hole, where))
    return Table(
        "Led through the panels", ("what", "how", f"hole\n{unit(system)}", "panel, place"), tuple(rows),
        right=frozenset({2}), tight=True,
        note="Places from the inside's corner, as the habitat file counts them; moved from straight "
        "above where an opening, a fan, a background or another hole is in the way. Drill to the gland "
        "or fitting you bought; keep clear of battens and frames. Holes: common practice.",
    )  # fmt: skip
