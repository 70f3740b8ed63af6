"""Metal beside mains lamps that is joined to the protective earth: what, and by how much lead.

A count of what is planned: whether and how metal is bonded, the local code and the electrician say.
Metal beside low voltage alone is left out, and so is metal inside fittings, whose own lead earths it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.habitat.catalogue import Cover
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan.frames import frame_of
from loamwright.plan.lines import Line
from loamwright.plan.mounts import RAILS, mounts_of
from loamwright.plan.routes import SLACK, cable_length, route

METAL = ("steel", "stainless", "alumin", "metal", "wire", "brass", "copper", "zinc", "galvan")
"""Words in a cover's key or label that mark metal."""

SECTION = 4e-6
"""Bonding lead [m2]: 4 mm2 copper where nothing protects it from harm; IEC 60364-5-54, from memory."""

GAUGES = ((20.0, 12), (60.0, 10), (100.0, 8))
"""Gauge of the bonding lead by the circuit's rating [A]; NEC table 250.122 for copper, from memory; 14
would do up to 15 A but breaks easily. Beyond the last: the last."""

SHORT = 0.30
"""Least lead between two parts [m], so that one can be lifted off; common practice, no source."""

FRAME, MESH, RAIL, GUARD = "frame", "mesh", "rail", "guard"
"""Kinds of metal that are bonded."""


@dataclass(frozen=True, slots=True)
class Bond:
    """Metal that is joined to the protective earth: its ``name``, ``kind`` one of the kinds here, what
    its lead comes ``to`` (the board, or the metal that is joined to it), the ``length`` of that lead
    [m] and the ``clamps`` it takes."""

    name: str
    kind: str
    to: str
    length: float
    clamps: int


BOARD = "board"

Span = tuple[Vec3, Vec3]
"""Lowest and highest corner of the room something takes [m]."""


@dataclass(frozen=True, slots=True)
class _Part:
    name: str
    kind: str
    spans: tuple[Span, ...]


def is_metal(cover: Cover) -> bool:
    """Whether a mesh or guard is of metal, by its key and its label."""
    said = f"{cover.key} {cover.label}".casefold()
    return cover.kind == "mesh" and any(word in said for word in METAL)


def bonds_of(habitat: Habitat) -> tuple[Bond, ...]:
    """What is bonded: the first part by a lead from the board, the others by short leads from that
    one, which is the frame of the top where there is one."""
    parts = list(_parts(habitat))
    if not parts:
        return ()
    hub, *others = parts
    board = habitat.mains.board
    at = min((_nearest(span, board) for span in hub.spans), key=lambda p: math.dist(p, board))
    lead = cable_length(route(habitat.enclosure, at, board))
    # The lead from the board ends at its earth terminal there.
    return (
        Bond(hub.name, hub.kind, BOARD, lead, 1),
        *(Bond(p.name, p.kind, hub.name, _between(p.spans, hub.spans), 2) for p in others),
    )


def bonding_lines(habitat: Habitat, bonds: Iterable[Bond]) -> list[Line]:
    """Lead and clamps of the bonds, one line each."""
    found = tuple(bonds)
    if not found:
        return []
    uses = tuple(b.name for b in found)
    if habitat.mains.system == "us":
        gauge = next((n for most, n in GAUGES if habitat.mains.fuse <= most), GAUGES[-1][1])
        size, told = f"awg{gauge}", f"AWG {gauge}"
    else:
        size, told = f"{1e6 * SECTION:g}mm2", f"{1e6 * SECTION:g} mm²"
    asks = "the local code and the electrician decide"
    return [
        Line(f"wiring/bonding-lead-{size}", "wiring", f"bonding lead, copper, green and yellow, {told}",
             math.fsum(b.length for b in found), "m", waste=0.05, uses=uses,
             why=f"from the board to the first metal, short ones from there; {asks}"),
        Line("wiring/bonding-clamp", "wiring", "earth clamps or ring lugs with screw, lock washer and "
             "nut, stainless", float(sum(b.clamps for b in found)), "piece", uses=uses,
             why=f"one where a lead meets metal; {asks}"),
    ]  # fmt: skip


def _parts(habitat: Habitat) -> Iterable[_Part]:
    """Metal that a mains lamp stands on, hangs from or shines through."""
    if not habitat.lamps:
        return
    high = habitat.enclosure.inside[2] + habitat.enclosure.panel("top").thickness
    frame = frame_of(habitat)
    if frame is not None:
        yield _Part("frame of the top", FRAME, tuple((m.low, m.high) for m in frame.members))
    for o in habitat.enclosure.openings:
        if o.side == "top" and is_metal(o.cover):
            low, far = (tuple(c + s * 0.5 * d for c, d in zip(o.at, o.size, strict=True))
                        for s in (-1.0, 1.0))  # fmt: skip
            yield _Part(o.name, MESH, (((low[0], low[1], high), (far[0], far[1], high)),))
    for mount in mounts_of(habitat):
        if mount.how == RAILS:
            for side, (x, y) in enumerate(mount.at, 1):
                spot = (x, y, high)
                yield _Part(f"rail {side} of {mount.name}", RAIL, ((spot, spot),))
    for lamp in habitat.lamps:
        if lamp.guard is not None and is_metal(lamp.guard):
            yield _Part(f"guard of {lamp.name}", GUARD, ((lamp.at, lamp.at),))


def _nearest(span: Span, place: Vec3) -> Vec3:
    """The point of a span that is nearest to a place."""
    x, y, z = (min(max(v, a), b) for v, a, b in zip(place, *span, strict=True))
    return x, y, z


def _between(one: Iterable[Span], other: Iterable[Span]) -> float:
    """Lead between two parts along the edges, with slack, to the next 10 cm [m]."""
    far = min(
        math.fsum(
            max(0.0, c - b, a - d)
            for a, b, c, d in zip(*first, *second, strict=True)
        )
        for first, second in itertools.product(one, other)
    )  # fmt: skip
    return max(SHORT, math.ceil(10.0 * (1.0 + SLACK) * far - 1e-9) / 10.0)
