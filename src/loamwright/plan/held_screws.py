"""Screws of backgrounds and pieces: how many go into which wall or other piece, and how long they are.

Sizes are common practice, no source.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from loamwright.habitat.enclosure import Panel, Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.box_joints import face_area
from loamwright.plan.contacts import Contact, contacts_of
from loamwright.plan.fixings import Fixing, carried_by, extent, fixings_of
from loamwright.plan.resting import on_ground
from loamwright.plan.screws import (
    A_METRE2,
    BEHIND,
    GRIP,
    Screw,
    Screws,
    at_least,
    at_most,
    by_length,
    screws_of,
    takes_screws,
)

JOINED = 0.025
"""How far a screw through the thinner of two pieces reaches into the other [m]."""

END_GRIP = 0.05
"""How far one reaches into a piece's end [m]: end grain holds half of what the side does; common
practice."""

ENDWISE = 0.7
"""Cosine of the widest angle between a piece's axis and the way to the other's, where its end meets the
other's side [1]."""

HOLLOW = ("bamboo",)
"""Materials whose ends take no screw."""

POINT = 0.002
"""Least stuff before a screw's point [m]: it must not come out where animals are."""

NEAR = 0.05
"""How near a piece is to a panel's face or background that carries it [m]; common practice."""


def held_screws(
    habitat: Habitat, fixings: tuple[Fixing, ...] | None = None,
    touching: tuple[Contact, ...] | None = None,
) -> tuple[Screws, ...]:  # fmt: skip
    """Screws of backgrounds and pieces: as many as the file says, else as its words do, else as many
    as a load without any fixing needs; ``fixings`` and what pieces are ``touching`` where they are
    known already. A piece has an entry for each thing that it is screwed to."""
    needs = {f.name: f.needs for f in (fixings or fixings_of(habitat)) if f.factor is None}
    out = [*lining_screws(habitat)]
    counts = {}
    for piece in habitat.hardscape:
        count = piece.screws if piece.screws is not None else screws_of(piece.fixing)
        if count := count or needs.get(piece.name, 0):
            counts[piece.name] = count
    contacts = {c.name: c for c in touching or contacts_of(habitat)} if counts else {}
    done: set[frozenset[str]] = set()
    for piece in habitat.hardscape:
        if piece.name in counts:
            out += _of_piece(habitat, piece, counts[piece.name], contacts[piece.name], done)
    return tuple(out)


def lining_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """Screws of backgrounds: as many as the file says, else so many to a square metre where its words
    speak of screws."""
    out = []
    for lining in habitat.enclosure.linings:
        count = lining.screws or 0
        if lining.screws is None and "screw" in lining.fixing:
            count = math.ceil(A_METRE2 * face_area(habitat, lining.side))
        if count:
            panel = habitat.enclosure.panel(lining.side)
            behind = BEHIND * panel.thickness if takes_screws(panel.material.key) else 0.0
            out.append(Screws(lining.name, count, by_length(at_least(lining.thickness + behind), True),
                              "through the background into the panel"))  # fmt: skip
    return tuple(out)


@dataclass(frozen=True, slots=True)
class _Into:
    """What a piece may be screwed to: ``walls`` and other ``pieces``."""

    walls: tuple[Panel, ...]
    pieces: tuple[Piece, ...]


def _of_piece(
    habitat: Habitat, piece: Piece, count: int, contact: Contact, done: set[frozenset[str]]
) -> list[Screws]:
    """One screw into each other piece, the rest into the walls; without a wall, into what carries it or
    the other pieces. ``done`` are pairs that are screwed together already; more are added to it."""
    into = _into(habitat, piece, contact)
    fresh = [p for p in into.pieces if frozenset((p.name, piece.name)) not in done]
    if not into.walls:
        fresh = fresh or list(into.pieces)
    spare = 1 if into.walls else 0
    joined = {p.name: 1 for p in fresh[: max(0, count - spare)]}
    rest = count - sum(joined.values())
    out = []
    for number, panel in enumerate(into.walls):
        share = rest // len(into.walls) + (number < rest % len(into.walls))
        if share:
            out.append(_into_wall(habitat, piece, panel, share))
    if not into.walls and rest:
        stands = any(t.kind == "floor" for t in contact.touches)
        if joined and not stands:
            for number, name in enumerate(joined):
                joined[name] += rest // len(joined) + (number < rest % len(joined))
        else:
            out.append(Screws(piece.name, rest, by_length(at_least(solid_of(piece) + GRIP)),
                              "through the piece, drilled first, into what carries it"))  # fmt: skip
    for other in fresh:
        if other.name in joined:
            done.add(frozenset((other.name, piece.name)))
            out.append(_into_piece(piece, other, joined[other.name]))
    return out


def _into(habitat: Habitat, piece: Piece, contact: Contact) -> _Into:
    """What a piece touches and is not only stood on; where its words name some of that, those alone."""
    box = habitat.enclosure
    sides = {x.name: x.side for x in box.linings}
    walls = {
        t.what: box.panel(sides.get(t.what, t.what)) for t in contact.touches if t.kind == "wall"
    }
    by_name = {p.name: p for p in habitat.hardscape}
    others = [by_name[t.what] for t in contact.touches if t.kind == "piece"]
    said = [w for w in walls if _wall_named(piece.fixing, w)]
    named = [p for p in others if _piece_named(piece.fixing, p.name)]
    # What the ground bears is set last: by then this piece has to hold.
    last = {p.name for p in on_ground(habitat)} if others else set()
    others = [
        p for p in others
        if carried_by(habitat, piece) != p.name and carried_by(habitat, p) != piece.name
        and p.name not in last
    ]  # fmt: skip
    if said or named:
        walls, others = {w: walls[w] for w in said}, named
    found = [p for p in walls.values() if takes_screws(p.material.key) and not p.doors]
    near = None if found or named else wall_of(habitat, piece)
    if near is not None and takes_screws(near.material.key):
        found = [near]
    return _Into(tuple(found), tuple(others))


def _wall_named(fixing: str, what: str) -> bool:
    """Whether words name a background, or a side's wall or panel."""
    if what in ("left", "right", "back", "front", "top"):
        return any(f"{what} {word}" in fixing for word in ("wall", "panel"))
    return what in fixing


def _piece_named(fixing: str, name: str) -> bool:
    """Whether words name a piece, or the last word of its name (``the trunk``)."""
    return name in fixing or name.split()[-1] in re.findall(r"\w+", fixing)


def _into_wall(habitat: Habitat, piece: Piece, panel: Panel, count: int) -> Screws:
    """From behind through panel and background, 3 cm into the piece or as deep as it is sound."""
    lining = habitat.enclosure.lining_depth(panel.side)
    told = f"the {panel.side} panel" + (" and its background" if lining else "")
    screw = _reaching(panel.thickness + lining, GRIP, solid_of(piece), washer=True)
    return Screws(piece.name, count, screw, f"from behind, through {told} into the piece")


def _into_piece(piece: Piece, other: Piece, count: int) -> Screws:
    """Through the other into the end of the one that ends at it; else through the thinner of two,
    2.5 cm into the other."""
    ends, side = next(
        (pair for pair in ((piece, other), (other, piece)) if ends_at(*pair)), (None, None)
    )
    if ends is not None and side is not None:
        through = solid_of(side)
        screw = _reaching(through, END_GRIP, math.dist(ends.start, ends.end))
        way = f"through the piece into the end of {other.name}, along it"
        if ends is piece:
            way = f"through {other.name} into the piece's end, along it"
        return Screws(piece.name, count, screw, f"{way}, drilled first")
    thin, thick = sorted((piece, other), key=solid_of)
    screw = _reaching(solid_of(thin), JOINED, solid_of(thick))
    way = f"through the piece into {other.name}"
    if thin is not piece:
        way = f"through {other.name} into the piece"
    return Screws(piece.name, count, screw, f"{way}, drilled first")


def ends_at(piece: Piece, other: Piece) -> bool:
    """Whether the end of a solid branch meets the side of another branch or tube: it points at the
    other's axis and reaches it."""
    if piece.shape != "branch" or other.shape not in ("branch", "tube"):
        return False
    if piece.material.key in HOLLOW:
        return False
    for end, far in ((piece.end, piece.start), (piece.start, piece.end)):
        way = [a - b for a, b in zip(end, far, strict=True)]
        to = [b - a for a, b in zip(end, _nearest(other, end), strict=True)]
        gap, long = math.hypot(*to), math.hypot(*way)
        if gap > 0.5 * other.diameter + JOINED or min(gap, long) < POINT:
            continue
        if math.fsum(a * b for a, b in zip(way, to, strict=True)) >= ENDWISE * gap * long:
            return True
    return False


def _nearest(piece: Piece, place: Vec3) -> Vec3:
    """The point of a piece's axis that is nearest to a place [m]."""
    axis = [b - a for a, b in zip(piece.start, piece.end, strict=True)]
    off = [b - a for a, b in zip(piece.start, place, strict=True)]
    share = math.fsum(a * b for a, b in zip(axis, off, strict=True)) / math.fsum(
        a * a for a in axis
    )
    share = min(1.0, max(0.0, share))
    x, y, z = (a + share * d for a, d in zip(piece.start, axis, strict=True))
    return x, y, z


def _reaching(through: float, grip: float, solid: float, washer: bool = False) -> Screw:
    """A screw through so much and at least ``grip`` into what is ``solid`` thick [m], but not out of it
    again."""
    length = at_least(through + grip)
    if length > through + solid - POINT:
        length = at_most(through + solid - POINT)
    return by_length(length, washer)


def solid_of(piece: Piece) -> float:
    """Thickness that a screw meets in a piece [m]: a tube's wall, a branch's diameter, else the least
    of its sizes."""
    if piece.shape == "tube":
        return piece.wall
    if piece.shape == "branch":
        return piece.diameter
    low, high = extent(piece)
    return min(b - a for a, b in zip(low, high, strict=True))


def wall_of(habitat: Habitat, piece: Piece) -> Panel | None:
    """The panel behind what a piece is fixed to: that of the background its words name, else the
    nearest one it reaches; None where it hangs on something else."""
    box = habitat.enclosure
    for lining in box.linings:
        if lining.name in piece.fixing:
            return box.panel(lining.side)
    low, high = extent(piece)
    gaps = {
        "left": low[0], "right": box.inside[0] - high[0], "back": box.inside[1] - high[1],
        "top": box.inside[2] - high[2],
    }  # fmt: skip
    side = min(gaps, key=lambda s: gaps[s] - box.lining_depth(s))
    if gaps[side] - box.lining_depth(side) > NEAR or box.panel(side).doors:
        return None
    return box.panel(side)


def of_each(found: Iterable[Screws]) -> dict[str, Sequence[Screws]]:
    """Screws by the name of what they hold."""
    out: dict[str, list[Screws]] = {}
    for x in found:
        out.setdefault(x.name, []).append(x)
    return {name: tuple(same) for name, same in out.items()}
