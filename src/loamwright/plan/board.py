"""The board that sockets, supplies and controls are fixed on: its size, its place, how it is held.

It stands off the box's outside on two battens, so that nothing that runs down reaches it and air goes
behind; where no side of the box carries it, it is fixed to the room's wall or the stand. Sizes are
common practice, no source; the electrician decides.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import WIDE as RIB
from loamwright.plan.battens import battens, spread
from loamwright.plan.box_joints import FREE_AXES, holes_of
from loamwright.plan.lines import Line
from loamwright.plan.screws import (
    Screw,
    Screws,
    at_least,
    at_most,
    batten_screw,
    by_length,
    screw_lines,
    takes_screws,
)
from loamwright.plan.service_holes import drillable, services_of
from loamwright.plan.wiring import Wiring, wiring_of

CELL: Vec2 = (0.12, 0.10)
"""Room that a socket, a supply or a control takes on the board, its plug and lead included [m]. The
residual-current device takes none: it stands between outlet and board."""

COLUMNS = (3, 4, 2, 5, 6)
"""How many may stand side by side, the best first."""

THICK = 0.012
"""Thickness of the board [m]: plywood, varnished."""

OFF, UPRIGHT = 0.040, 0.020
"""What its battens stand off the panel, and their width [m]: battens of 20 x 40 mm on edge."""

FROM_EDGE = 0.05
"""Distance of a batten's middle from the board's edge [m]."""

NEAR = 0.15
"""How far outside a side the board's place may be to be fixed on it [m]; judgement."""

CLEAR = 0.03
"""Distance from fans, openings and what is led through the side [m]."""

STEP = 0.01
"""Step in which a clear place is looked for [m]."""

SPACING = 0.20
"""Greatest distance between the screws of a batten [m]."""

A_THING = 2
"""Screws of each thing on the board; its own sheet decides."""

GRIP = 0.025
"""How far a screw through the board reaches into a batten [m]."""


@dataclass(frozen=True, slots=True)
class Board:
    """The board: its ``size`` (width, height) [m], what it ``holds`` and how many of each; the ``side``
    of the box it is fixed on, empty where none carries it, and its corner ``low`` in the panel's
    coordinates [m]; ``screws`` from the inside through the panel into its battens, ``through`` those
    from the board into them, how many of each."""

    size: Vec2
    holds: tuple[tuple[str, int], ...]
    side: str
    low: Vec2
    screws: tuple[int, Screw] | None
    through: tuple[int, Screw]

    @property
    def fixed(self) -> tuple[int, Screw]:
        """The screws of what sits on it, which do not come out behind."""
        return A_THING * sum(n for _, n in self.holds), by_length(at_most(THICK))

    @property
    def uprights(self) -> tuple[float, float]:
        """Where the middles of its battens stand along the panel [m]."""
        return self.low[0] + FROM_EDGE, self.low[0] + self.size[0] - FROM_EDGE


def board_of(habitat: Habitat, wiring: Wiring | None = None) -> Board | None:
    """The board of a habitat; None where nothing draws current. ``wiring`` where it is known."""
    wiring = wiring or wiring_of(habitat)
    if not wiring.devices:
        return None
    holds = _holds(wiring)
    count = sum(n for _, n in holds)
    side = _side(habitat)
    best: tuple[float, Board] | None = None
    taken = _taken(habitat, side)
    ribs = [b.at for b in battens(habitat) if b.side == side]
    for columns in COLUMNS if side else ():
        size = columns * CELL[0], math.ceil(count / columns) * CELL[1]
        low = _place(habitat, side, size, taken, ribs)
        if low is None:
            continue
        far = math.dist(low, _corner(habitat, side, size))
        if best is None or far < best[0] - 1e-9:
            each, _ = spread(size[1], SPACING)
            held = (2 * each, batten_screw(habitat.enclosure.panel(side).thickness, OFF))
            best = far, Board(size, holds, side, low, held, _through(size))
    if best is not None:
        return best[1]
    size = COLUMNS[0] * CELL[0], math.ceil(count / COLUMNS[0]) * CELL[1]
    return Board(size, holds, "", (0.0, 0.0), None, _through(size))


def placed(habitat: Habitat) -> Habitat:
    """The habitat with its board where `board_of` puts it, so that every list and drawing of the
    wiring has the one place; unchanged where no side of the box carries it."""
    board = board_of(habitat)
    if board is None or not board.side:
        return habitat
    at: list[float] = list(habitat.mains.board)
    for k, axis in enumerate(FREE_AXES[board.side]):
        at[axis] = board.low[k] + board.size[k] / 2
    middle: Vec3 = (at[0], at[1], at[2])
    return replace(habitat, mains=replace(habitat.mains, board=middle))


def _corner(habitat: Habitat, side: str, size: Vec2) -> Vec2:
    """Where its corner would be with its middle where the file has it [m]."""
    first, second = FREE_AXES[side]
    at = habitat.mains.board
    return at[first] - size[0] / 2, at[second] - size[1] / 2


def _through(size: Vec2) -> tuple[int, Screw]:
    each, _ = spread(size[1], SPACING)
    return 2 * each, by_length(at_least(THICK + GRIP))


def _holds(wiring: Wiring) -> tuple[tuple[str, int], ...]:
    """What is fixed on it, as the wiring's list counts it."""
    counts = {
        "sockets": sum(int(x.amount + x.spares) for x in wiring.lines if x.key == "wiring/sockets"),
        "low-voltage supplies": len(wiring.supplies),
        "controls and time switches": sum(d.kind == "control" for d in wiring.devices),
        "independent limits": sum(
            int(x.amount) for x in wiring.lines if x.key == "controls/cut-out"
        ),
        "fan speed controls": len(wiring.slowed),
    }
    return tuple((what, n) for what, n in counts.items() if n)


def _side(habitat: Habitat) -> str:
    """The side of the box that the board's place is beside, if it takes screws and holes."""
    x, y, _ = habitat.mains.board
    wide, deep, _ = habitat.enclosure.inside
    gaps = {"right": x - wide, "left": -x, "back": y - deep}
    side = max(gaps, key=lambda s: gaps[s])
    thick = habitat.enclosure.panel(side).thickness
    if not 0.0 <= gaps[side] <= thick + NEAR or not drillable(habitat, side):
        return ""
    return side if takes_screws(habitat.enclosure.panel(side).material.key) else ""


def _taken(habitat: Habitat, side: str) -> list[tuple[Vec2, Vec2]]:
    """Middles and sizes of what sits in a side: fans, openings, what is led through [m]."""
    if not side:
        return []
    taken = [(at, hole) for _, on, at, hole in holes_of(habitat) if on == side]
    return taken + [
        (s.at, (s.diameter, s.diameter)) for s in services_of(habitat) if s.side == side
    ]


def _place(
    habitat: Habitat, side: str, size: Vec2, taken: Sequence[tuple[Vec2, Vec2]],
    ribs: Sequence[float],
) -> Vec2 | None:  # fmt: skip
    """Its corner, as near to where the file has its middle as is clear; None where nothing is."""
    first, second = FREE_AXES[side]
    inside = habitat.enclosure.inside
    room = inside[first] - size[0], inside[second] - size[1]
    if min(room) < 0.0:
        return None
    wanted = [min(max(v, 0.0), r) for v, r in zip(_corner(habitat, side, size), room, strict=True)]

    def clear(low: Vec2) -> bool:
        for rib in ribs:
            for own in (low[0] + FROM_EDGE, low[0] + size[0] - FROM_EDGE):
                if abs(rib - own) < (RIB + UPRIGHT) / 2:
                    return False
        return not any(
            all(low[k] - CLEAR < at[k] + hole[k] / 2 and at[k] - hole[k] / 2 < low[k] + size[k] + CLEAR
                for k in (0, 1))
            for at, hole in taken
        )  # fmt: skip

    places = [
        (i * STEP, j * STEP)
        for i in range(int(room[0] / STEP) + 1) for j in range(int(room[1] / STEP) + 1)
    ]  # fmt: skip
    start = (wanted[0], wanted[1])
    return next(
        (p for p in (start, *sorted(places, key=lambda p: math.dist(p, start))) if clear(p)), None
    )


def board_lines(habitat: Habitat) -> list[Line]:
    """The board, its battens and their screws."""
    board = board_of(habitat)
    if board is None:
        return []
    wide, high = (f"{100.0 * x:.4g}" for x in board.size)
    out = [
        Line("wiring/board", "wiring", f"board for sockets, supplies and controls, varnished plywood, "
             f"12 mm, {wide} x {high} cm", 1.0, "piece", uses=("board",),
             why="10 x 12 cm for each thing on it; common practice"),
    ]  # fmt: skip
    found = [Screws("board", board.through[0], board.through[1],
                    "through the board into its battens, drilled first"),
             Screws("board", *board.fixed, "two in each thing on the board")]  # fmt: skip
    out.append(
        Line("wiring/board-batten", "wiring", f"battens for the board, softwood, 20 x 40 mm, {high} cm",
             2.0, "piece", uses=("board",), why="on edge behind it, so that it stands off; common "
             "practice")
    )  # fmt: skip
    if board.screws is not None:
        found.append(Screws("board", *board.screws, "from the inside through the panel into the "
                            "board's battens, heads sunk and sealed"))  # fmt: skip
    return [*out, *screw_lines(found)]
