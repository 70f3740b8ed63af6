"""The frame of the top as a table: its members, where they lie, and how far the freest one bends."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import spread
from loamwright.plan.box_joints import panel_boxes
from loamwright.plan.frames import A_CORNER, CONNECTOR, FAN_AIR, SPACING, Frame, Member, frame_of
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.cut_words import unit
from loamwright.report.draft_page import size_words
from loamwright.report.money_words import in_system
from loamwright.report.plain import clean, listing
from loamwright.report.screw_words import screw_words

PRACTICE = "Sizes of tube, share of the load and limit are common practice, no source."


def frame_table(habitat: Habitat, system: str) -> Table:
    """The frame of the top; no rows where it has none."""
    frame = frame_of(habitat)
    title = f"Frame of the top, {unit(system)}"
    columns = ("bar", "length", "its middle, from the panel's outer edge", "line of its screws",
               "screws from inside")  # fmt: skip
    if frame is None:
        return Table(title, columns, ())
    low, _ = panel_boxes(habitat)["top"]
    rows = []
    for m in frame.members:
        k, edge = (1, "front") if m.across else (0, "left")
        middle = (m.low[k] + m.high[k]) / 2 - low[k]
        fixed = "adhesive alone"
        if frame.screw is not None:
            count, apart = spread(m.length, SPACING)
            fixed = (
                f"{count} of {screw_words(frame.screw, system)}, every {size_words(apart, system)}"
            )
        if m.overhangs:
            fixed += f"; {_overhang(m, system)}"
        if m.crosses:
            fixed += f"; crosses {listing([clean(x) for x in m.crosses])}: part it there"
        if m.near:
            fixed += (
                f"; nearer than {size_words(FAN_AIR, system)} to the frame of "
                f"{listing([clean(x) for x in m.near])}: file the bar there, or move the fan"
            )
        rows.append((clean(m.name, 60), size_words(m.length, system),
                     f"{size_words(middle, system)} from the {edge}",
                     f"{size_words(m.line - low[k], system)} from the {edge}", fixed))  # fmt: skip
    return Table(title, columns, tuple(rows), right=frozenset({1}), tight=True,
                 note=_note(frame, system))  # fmt: skip


def _overhang(m: Member, system: str) -> str:
    """Why a bar does not bear on its whole width, and where it does."""
    why = f", as {listing([clean(x) for x in m.beside])} leaves no more room" if m.beside else ""
    width = (m.high[1] - m.low[1]) if m.across else (m.high[0] - m.low[0])
    return (
        f"lies over the rim of '{clean(m.over, 40)}' by {size_words(m.overhangs, system)}{why}: it "
        f"bears on {size_words(width - m.overhangs, system)}, its screws stand in the middle of that"
    )


def _note(frame: Frame, system: str) -> str:
    bends = quantities.worded("deflection", frame.deflection, system)
    most = quantities.worded("deflection", frame.allowed, system)
    span = quantities.length(frame.span, system)
    held = (
        "" if frame.holds else " That is too far: carry the front bar in its middle, or build with a "
        "stiffer section."
    )  # fmt: skip
    return (
        f"{in_system(frame.label, system).capitalize()}, on the outside of the top, which hangs on it; "
        "meshes and sheets over its windows are fixed from below, over the sunk heads of the bars' "
        "screws: drive these first. Drill along the line of the screws. A bar that spans freely, such "
        f"as the front one over the doors, bends by {bends} over {span} under half of the top, half of "
        f"all lamps and itself; at most {most}, a three-hundredth.{held} {frame.corners} corner "
        f"connectors, {A_CORNER} screws of {screw_words(CONNECTOR, system)} each. Bars along front "
        "and back run through; cut the others to fit between. Keep bare aluminium off steel in the "
        f"damp: stainless screws only. {PRACTICE}"
    )
