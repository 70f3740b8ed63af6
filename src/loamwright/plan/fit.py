"""Whether what is drawn can be there: pieces that something holds, and no two things in one place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from loamwright.engine.findings import Cause, Finding, held_against, worst_or_bad
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.contacts import ROUGH, Contact, Overlap, contacts_of, near_of, overlaps_of
from loamwright.plan.lamp_room import Room, rooms_of

PRACTICE = SourceKind.COMMON_PRACTICE

HELD = Source(
    "a branch that is held at one place turns under an animal: two places, 10 cm apart", PRACTICE
)
PARTED = Source(
    "branches are let into each other by a quarter of the thinner one at most", PRACTICE
)
BODIES = Source("depth of lamps and lampholders told from their kind and size", PRACTICE)

AIR = 0.001
"""Air that a lamp wants about its body at least [m]: none but that it is not in another's place."""

BODY_SPREAD = 0.1
"""Standard uncertainty of a lamp's depth, as a share of it; judgement."""

_finding = partial(held_against, "build")


@dataclass(frozen=True, slots=True)
class Fit:
    """How pieces are held (``contacts``), pieces in each other's place (``overlaps``), and the room
    that lamps have (``lamps``)."""

    contacts: tuple[Contact, ...]
    overlaps: tuple[Overlap, ...]
    lamps: tuple[Room, ...]


def fit_of(habitat: Habitat) -> Fit:
    """How things fit in a habitat."""
    near = near_of(habitat)
    return Fit(contacts_of(habitat, near), overlaps_of(habitat, near), rooms_of(habitat))


def fit_findings(fit: Fit) -> list[Finding]:
    """Findings of what fits: the worst of each kind, and all that are not met."""
    return [
        *worst_or_bad([_held(c) for c in fit.contacts]),
        *_parted(fit),
        *worst_or_bad([_lamp(r) for r in fit.lamps]),
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
