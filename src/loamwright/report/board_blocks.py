"""The board of sockets, supplies and controls as a table: its size, its place, how it is held."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.board import OFF, board_of
from loamwright.plan.box_joints import FREE_AXES
from loamwright.plan.wiring import Wiring
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.cut_words import size_pair, unit
from loamwright.report.draft_page import size_words
from loamwright.report.lining_blocks import FROM
from loamwright.report.money_words import in_system
from loamwright.report.screw_words import screw_words


def board_table(habitat: Habitat, wiring: Wiring, system: str) -> Table:
    """The board; no rows where nothing draws current."""
    title, columns = "The board", ("", "")
    board = board_of(habitat, wiring)
    if board is None:
        return Table(title, columns, ())
    count, screw = board.through
    rows = [
        ("size", f"{size_pair(*board.size, system)} {unit(system)}, plywood, "
         f"{quantities.length(0.012, system)}, varnished"),
        ("holds", ", ".join(f"{what}: {n}" for what, n in board.holds)),
    ]  # fmt: skip
    batten = in_system("softwood batten, 20 x 40 mm", system)
    if board.side:
        axes = FREE_AXES[board.side]
        corner, uprights = (
            ", ".join(
                f"{size_words(v, system)} from {FROM[k]}" for v, k in zip(at, ks, strict=True)
            )
            for at, ks in ((board.low, axes), (board.uprights, (axes[0], axes[0])))
        )
        rows.append(("on the outside of", f"the {board.side} panel, {unit(system)}; its lower corner, "
                     f"from the inside's edges: {corner}"))  # fmt: skip
        rows.append(("on two battens", f"{batten}, on edge, {size_words(OFF, system)} "
                     f"{unit(system)} off the panel, their middles {uprights}"))  # fmt: skip
    else:
        rows.append(("on", "the room's wall or the stand beside it, on two battens on edge: no panel "
                     "of the box there carries it"))  # fmt: skip
    if board.screws is not None:
        n, into = board.screws
        rows.append(("battens held by", f"{n} of {screw_words(into, system)}, from the inside through "
                     "the panel, heads sunk and sealed, before a background goes in"))  # fmt: skip
    rows.append(("board held by", f"{count} of {screw_words(screw, system)}, through it into its "
                 "battens"))  # fmt: skip
    things, short = board.fixed
    rows.append(
        ("what sits on it held by", f"{things} of {screw_words(short, system)}, two a thing")
    )
    return Table(
        title, columns, tuple(rows),
        note="Fix sockets, supplies and controls on it while it lies flat; cables come from below with "
        "a drip loop. Keep the tank and every joint of the water line away from it. Mains is a "
        "licensed electrician's work where the code says so. Common practice, no source.",
    )  # fmt: skip
