"""Whether what is drawn can be there: pieces that something holds, and no two things in one place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from loamwright.engine.findings import Cause, Finding, held_against, worst_or_bad
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.contacts import ROUGH, Contact, Overlap, contacts_of, near_of, overlaps_of
from loamwright.plan.lamp_room import Room, rooms_of
from loamwright.plan.mounts import Mount, lamp_mounts
from loamwright.plan.plant_room import Ball, Crown, balls_of, crowns_of

PRACTICE = SourceKind.COMMON_PRACTICE

HELD = Source(
    "a branch that is held at one place turns under an animal; two places, 10 cm apart", PRACTICE
)
PARTED = Source(
    "branches are let into each other by a quarter of the thinner one at most", PRACTICE
)
BODIES = Source("depth of lamps and lampholders told from their kind and size", PRACTICE)

CARRIED = Source(
    "rods and brackets of 2 cm from a lamp's back straight up to the top, rails over an opening",
    PRACTICE,
)
LEAVES = Source("leaves bend at a wall; a crown that loses more grows lopsided", PRACTICE)
THROUGH = Source("twigs grow round a branch; what takes more leaves no crown", PRACTICE)
BALLS = Source(
    "root ball a third as wide as the crown and 0.8 times as deep as wide; it is teased by a quarter",
    PRACTICE,
)  # fmt: skip

CUT = 0.5
"""How far a crown may reach into a wall, as a share of its radius [1]; common practice, no source."""

TAKEN = 1.0 / 3.0
"""Share of a crown's volume that pieces may take [1]; common practice, no source."""

TEASED = 0.25
"""How far things may reach into a root ball, as a share of its radius [1]; common practice."""

AIR = 0.001
"""Air that a lamp wants about its body at least [m]: none but that it is not in another's place."""

BODY_SPREAD = 0.1
"""Standard uncertainty of a lamp's depth, as a share of it; judgement."""

_finding = partial(held_against, "build")


@dataclass(frozen=True, slots=True)
class Fit:
    """How pieces are held (``contacts``), pieces in each other's place (``overlaps``), the room that
    lamps have (``lamps``) and how they are carried (``mounts``), and the room of plants' ``crowns`` and
    root ``balls``."""

    contacts: tuple[Contact, ...]
    overlaps: tuple[Overlap, ...]
    lamps: tuple[Room, ...]
    mounts: tuple[Mount, ...] = ()
    crowns: tuple[Crown, ...] = ()
    balls: tuple[Ball, ...] = ()


def fit_of(habitat: Habitat) -> Fit:
    """How things fit in a habitat."""
    near = near_of(habitat)
    return Fit(
        contacts_of(habitat, near), overlaps_of(habitat, near), rooms_of(habitat),
        tuple(lamp_mounts(habitat)), crowns_of(habitat), balls_of(habitat),
    )  # fmt: skip


def fit_findings(fit: Fit) -> list[Finding]:
    """Findings of what fits: the worst of each kind, and all that are not met."""
    return [
        *worst_or_bad([_held(c) for c in fit.contacts]),
        *_parted(fit),
        *worst_or_bad([_lamp(r) for r in fit.lamps]),
        *(_carried(m) for m in fit.mounts if m.meets),
        *worst_or_bad([_wall(c) for c in fit.crowns]),
        *worst_or_bad([_pieces(c) for c in fit.crowns]),
        *worst_or_bad([f for b in fit.balls for f in _balls(b)]),
    ]


def _held(c: Contact) -> Finding:
    causes = [Cause("touches", t.what) for t in c.touches]
    if c.places < c.needs:
        if not causes:
            causes.append(Cause("touches_nothing"))
        if c.nearest:
            causes.append(Cause("is_away", c.nearest, c.gap))
    made = _finding("piece-held", "habitat", "count", float(c.places), (float(c.needs), None), 0.0,
                    HELD, "", tuple(causes))  # fmt: skip
    return replace(made, site=c.name)


def _parted(fit: Fit) -> list[Finding]:
    if len(fit.contacts) < 2:
        return []
    if not fit.overlaps:
        return [_finding("piece-overlap", "habitat", "depth", 0.0, (None, ROUGH), 0.0, PARTED)]
    return [
        replace(
            _finding("piece-overlap", "habitat", "depth", o.depth, (None, o.allowed), 0.0, PARTED, "",
                     (Cause("runs_into", o.other),)),
            site=o.name,
        )
        for o in fit.overlaps
    ]  # fmt: skip


def _lamp(r: Room) -> Finding:
    causes = [Cause("body_behind", "", r.behind), Cause("is_next", r.nearest)]
    if r.cover and r.gap < 0.0:
        causes.append(Cause("cuts_cover", r.cover))
    made = _finding("lamp-room", "habitat", "distance", r.gap, (AIR, None), BODY_SPREAD * r.behind,
                    BODIES, "", tuple(causes))  # fmt: skip
    return replace(made, site=r.name)


def _carried(m: Mount) -> Finding:
    """Told only of a lamp whose rods or rails meet something."""
    causes = tuple(Cause("carrier_meets", what) for what in m.meets)
    made = _finding("lamp-carried", "habitat", "count", float(len(m.meets)), (None, 0.0), 0.0, CARRIED,
                    "", causes)  # fmt: skip
    return replace(made, site=m.name)


def _wall(c: Crown) -> Finding:
    causes = [Cause("crown_radius", "", c.radius)]
    if c.over > 0.0:
        causes.insert(0, Cause("crown_into", c.wall))
    made = _finding("crown-wall", "habitat", "length", c.over, (None, CUT * c.radius), 0.0, LEAVES, "",
                    tuple(causes))  # fmt: skip
    return replace(made, site=c.name)


def _pieces(c: Crown) -> Finding:
    made = _finding("crown-piece", "habitat", "crown_share", c.share, (None, TAKEN), 0.0, THROUGH, "",
                    tuple(Cause("crown_into", name) for name in c.pieces))  # fmt: skip
    return replace(made, site=c.name)


def _balls(b: Ball) -> list[Finding]:
    size = (Cause("ball_size", "", 2.0 * b.radius),)
    into = max(0.0, -b.gap)
    beside = _finding("root-ball", "habitat", "length", into, (None, TEASED * b.radius), 0.0, BALLS, "",
                      (Cause("is_next", b.nearest), *size))  # fmt: skip
    deep = _finding("root-ball", "habitat", "depth", b.loose, (b.depth, None), 0.0, BALLS, "", size)
    return [replace(f, site=b.name) for f in (beside, deep)]
