"""What pieces of hardscape touch: the ground, the walls and each other, and where they run through
each other.

Surfaces are looked at in points about a centimetre apart: gaps are told to some millimetres. Gaps to a
scanned piece are those to its corners.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.ground.footings import firm_height
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.plan.fixings import TOUCHES

STEP, ROUND = 0.01, 16
"""Distance of the points looked at along a piece [m], and how many go round it."""

MOST_POINTS = 4000
"""Corners of a scanned piece that are looked at."""

APART, SHORT = 0.10, 0.30
"""How far apart two places must be to hold a piece against turning [m], and the length up to which one
is enough [m]; common practice, no source."""

NOTCH = 0.25
"""Share of the thinner one's thickness by which pieces may be let into each other; common practice."""

ROUGH = 0.01
"""What pieces as grown may differ from the cylinders and boxes they are drawn as [m]; judgement."""

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Touch:
    """A piece meets something: ``what`` the panel's side, the background's or the piece's name, or the
    ground; ``kind`` (``ground``, ``floor``, ``wall``, ``piece``); ``first`` and ``last`` place along it
    where they meet, from 0 at its start to 1 at its end."""

    what: str
    kind: str
    first: float
    last: float


@dataclass(frozen=True, slots=True)
class Contact:
    """How a piece is held: what it ``touches``, the ``places`` along it that something holds and how
    many it ``needs``, and where it touches too little the ``nearest`` thing and how far that is [m]."""

    name: str
    length: float
    touches: tuple[Touch, ...]
    places: int
    needs: int
    nearest: str
    gap: float


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two pieces that fill the same room: how deep, and how deep a notch may be [m]."""

    name: str
    other: str
    depth: float
    allowed: float


@dataclass(frozen=True, slots=True)
class Near:
    """Points of every piece (``clouds``, by name), and for each ordered pair of pieces their gap [m]
    and the first and last place along the one where they are within touch, or nearest (``gaps``)."""

    clouds: dict[str, tuple[Points, Points]]
    gaps: dict[tuple[str, str], tuple[float, float, float]]


def near_of(habitat: Habitat) -> Near:
    """How near pieces are to each other."""
    clouds = {p.name: cloud_of(p) for p in habitat.hardscape}
    return Near(clouds, _gaps(habitat.hardscape, clouds))


def contacts_of(habitat: Habitat, near: Near | None = None) -> tuple[Contact, ...]:
    """How every piece is held, in the order of the file; ``near`` where it is known already.

    A piece that touches only others that hang in the air is not held by them.
    """
    near = near or near_of(habitat)
    gaps = near.gaps
    firm = {p.name: list(_fixed(habitat, p, near.clouds[p.name])) for p in habitat.hardscape}
    held = {name for name, found in firm.items() if any(x[1] <= TOUCHES for x in found)}
    while True:
        more = {
            a for a, b in gaps
            if a not in held and b in held and gaps[a, b][0] <= TOUCHES
        }  # fmt: skip
        if not more:
            break
        held |= more
    # In the order of the file: a set's own order changes from run to run.
    fast = [p.name for p in habitat.hardscape if p.name in held]
    return tuple(_contact(p, firm[p.name], gaps, fast) for p in habitat.hardscape)


def firm_touches(habitat: Habitat, piece: Piece) -> tuple[Touch, ...]:
    """What a piece touches of all that does not move: the ground, the hard floor and walls."""
    return tuple(t for t, gap in _fixed(habitat, piece, cloud_of(piece)) if gap <= TOUCHES)


def overlaps_of(habitat: Habitat, near: Near | None = None) -> tuple[Overlap, ...]:
    """Pieces that run through each other deeper than a notch, each pair once; ``near`` where it is
    known already."""
    pieces = habitat.hardscape
    gaps = (near or near_of(habitat)).gaps
    out = []
    for i, one in enumerate(pieces):
        for other in pieces[i + 1 :]:
            depth = -gaps[one.name, other.name][0]
            allowed = max(ROUGH, NOTCH * min(_thickness(one), _thickness(other)))
            if depth > allowed:
                out.append(Overlap(one.name, other.name, depth, allowed))
    return tuple(out)


Found = tuple[Touch, float]
"""What is there and the gap to it [m]."""


def _contact(
    piece: Piece, firm: Sequence[Found], gaps: dict[tuple[str, str], tuple[float, float, float]],
    held: Iterable[str],
) -> Contact:  # fmt: skip
    found = list(firm)
    for other in held:
        if other != piece.name:
            gap, first, last = gaps[piece.name, other]
            found.append((Touch(other, "piece", first, last), gap))
    touches = tuple(t for t, gap in found if gap <= TOUCHES)
    length = math.dist(piece.start, piece.end) if _long(piece) else 0.0
    places = _places(touches, length) if length > 0.0 else min(1, len(touches))
    apart = [(gap, t.what) for t, gap in found if gap > TOUCHES]
    gap, nearest = min(apart, default=(math.inf, ""))
    return Contact(
        piece.name, length, touches, places, 2 if length > SHORT + 1e-6 else 1, nearest, gap
    )  # fmt: skip


def _places(touches: Iterable[Touch], length: float) -> int:
    """Places along a piece that are far enough apart."""
    count, last = 0, -math.inf
    for at in sorted(x * length for t in touches for x in (t.first, t.last)):
        if at - last >= APART:
            count, last = count + 1, at
    return count


def _long(piece: Piece) -> bool:
    return piece.shape in ("branch", "tube")


def _thickness(piece: Piece) -> float:
    """How thick a piece is where it is thin [m]."""
    if _long(piece):
        return piece.diameter
    if piece.shape == "mesh":
        v = np.asarray(piece.vertices, float)
        return float((v.max(axis=0) - v.min(axis=0)).min())
    return min(piece.size)


# -- shapes as points, and how far a point is from a shape ---------------------------------------


def cloud_of(piece: Piece) -> tuple[Points, Points]:
    """Points on a piece's surface and along its middle (N, 3) [m], and where along it each is, from 0
    to 1 (N,)."""
    if piece.shape == "mesh":
        points = np.asarray(piece.vertices, float)
        points = points[:: max(1, len(points) // MOST_POINTS)]
        return points, np.full(len(points), 0.5)
    if not _long(piece):
        points = _box_points(piece)
        return points, np.full(len(points), 0.5)
    start, end = np.asarray(piece.start), np.asarray(piece.end)
    _, across, third = _frame(piece)
    length = math.dist(piece.start, piece.end)
    shares = np.linspace(0.0, 1.0, max(2, math.ceil(length / STEP) + 1))
    turns = np.linspace(0.0, 2.0 * math.pi, ROUND, endpoint=False)
    ring = 0.5 * piece.diameter * (
        np.cos(turns)[:, None] * across + np.sin(turns)[:, None] * third
    )  # fmt: skip
    middle = start + shares[:, None] * (end - start)
    points = (middle[:, None, :] + ring[None]).reshape(-1, 3)
    ends = np.concatenate([start + 0.5 * ring, end + 0.5 * ring])
    along = np.concatenate([np.repeat(shares, ROUND), np.zeros(ROUND), np.ones(ROUND)])
    points = np.concatenate([points, ends])
    if piece.shape == "tube":
        return points, along
    # Its axis too: of two pieces in one place no surface is within the other.
    return np.concatenate([points, middle]), np.concatenate([along, shares])


def _frame(piece: Piece) -> tuple[Points, Points, Points]:
    """Unit vectors along a round piece and across it."""
    axis = np.asarray(piece.end) - np.asarray(piece.start)
    axis = axis / np.linalg.norm(axis)
    aside = np.array([0.0, 0.0, 1.0]) if abs(axis[2]) < 0.9 else np.array([1.0, 0.0, 0.0])
    across = np.cross(axis, aside)
    across /= np.linalg.norm(across)
    return axis, across, np.cross(axis, across)


def _box_points(piece: Piece) -> Points:
    """Points on a block's or a rock's surface."""
    half = 0.5 * np.asarray(piece.size)
    middle = np.asarray(piece.at) + np.array([0.0, 0.0, half[2]])
    count = [max(2, math.ceil(2.0 * h / (2.0 * STEP)) + 1) for h in half]
    lines = [np.linspace(-1.0, 1.0, n) for n in count]
    faces = []
    for k in range(3):
        grid = np.stack(np.meshgrid(*(lines[i] for i in range(3) if i != k), indexing="ij"), -1)
        flat = grid.reshape(-1, 2)
        faces += [np.insert(flat, k, side, axis=1) for side in (-1.0, 1.0)]
    points: Points = np.concatenate(faces)
    if piece.shape == "rock":
        points /= np.linalg.norm(points, axis=1)[:, None]
    points *= half
    points += middle
    return np.concatenate([points, middle[None]])


def distance_to(piece: Piece, points: Points) -> Points:
    """How far points (N, 3) are outside a piece's stuff [m], negative within; a tube's bore is out."""
    far: Points
    if piece.shape == "mesh":
        corners, _ = cloud_of(piece)
        return np.array([np.linalg.norm(corners - p, axis=1).min() for p in points])
    if not _long(piece):
        half = 0.5 * np.asarray(piece.size)
        off = points - np.asarray(piece.at) - np.array([0.0, 0.0, half[2]])
        if piece.shape == "rock":
            size = np.linalg.norm(off, axis=1)
            stretched = np.linalg.norm(off / half, axis=1)
            # Along the ray from its middle: right on the surface, a little too far beside it.
            far = np.where(
                stretched > 1e-9, size * (1.0 - 1.0 / np.maximum(stretched, 1e-9)), -half.min()
            )
            return far
        over = np.abs(off) - half
        out = np.linalg.norm(np.maximum(over, 0.0), axis=1)
        far = out + np.minimum(over.max(axis=1), 0.0)
        return far
    axis = _frame(piece)[0]
    length = math.dist(piece.start, piece.end)
    off = points - np.asarray(piece.start)
    along = off @ axis
    beside = np.linalg.norm(off - along[:, None] * axis, axis=1) - 0.5 * piece.diameter
    past = np.abs(along - 0.5 * length) - 0.5 * length
    out = np.hypot(np.maximum(beside, 0.0), np.maximum(past, 0.0))
    far = out + np.minimum(np.maximum(beside, past), 0.0)
    return far if piece.shape != "tube" else np.maximum(far, -(beside + piece.wall))


def _gaps(
    pieces: Sequence[Piece], clouds: dict[str, tuple[Points, Points]]
) -> dict[tuple[str, str], tuple[float, float, float]]:
    """`Near.gaps`; each pair is looked at once."""
    out = {}
    for i, one in enumerate(pieces):
        for other in pieces[i + 1 :]:
            (mine, along), (theirs, beside) = clouds[one.name], clouds[other.name]
            if _far(mine, theirs):
                gap = _box_gap(mine, theirs)
                out[one.name, other.name] = out[other.name, one.name] = (gap, 0.5, 0.5)
                continue
            there, here = distance_to(other, mine), distance_to(one, theirs)
            gap = float(min(there.min(), here.min()))
            out[one.name, other.name] = (gap, *_reach(there, along))
            out[other.name, one.name] = (gap, *_reach(here, beside))
    return out


def _reach(off: Points, along: Points) -> tuple[float, float]:
    """First and last place along a piece where something is within touch, or nearest."""
    near = along[off <= max(TOUCHES, float(off.min()))]
    return float(near.min()), float(near.max())


def _box_gap(mine: Points, theirs: Points) -> float:
    """Distance of the boxes round two clouds [m]."""
    apart = np.maximum(theirs.min(0) - mine.max(0), mine.min(0) - theirs.max(0))
    return float(np.linalg.norm(np.maximum(apart, 0.0)))


def _far(mine: Points, theirs: Points) -> bool:
    """Whether two pieces are so far apart that it does not matter how far."""
    return _box_gap(mine, theirs) > 0.30


# -- what does not move -------------------------------------------------------------------------


def _fixed(habitat: Habitat, piece: Piece, cloud: tuple[Points, Points]) -> Iterable[Found]:
    """Ground, hard floor and walls, with the gap to each; a front that opens holds nothing."""
    points, along = cloud
    box = habitat.enclosure
    wide, deep, high = box.inside
    inside = (
        (points[:, 0] >= 0.0) & (points[:, 0] <= wide) & (points[:, 1] >= 0.0)
        & (points[:, 1] <= deep)
    )  # fmt: skip
    if inside.any():
        low, where = points[inside], along[inside]
        surface = np.array([habitat.ground.surface_at(x, y) for x, y in low[:, :2]])
        yield _found("the ground", "ground", low[:, 2] - surface, where)
        firm = np.array([firm_height(habitat, x, y) for x, y in low[:, :2]])
        yield _found("the hard floor", "floor", low[:, 2] - firm, where)
    planes = {"left": points[:, 0], "right": wide - points[:, 0], "back": deep - points[:, 1],
              "front": points[:, 1], "top": high - points[:, 2]}  # fmt: skip
    for side, off in planes.items():
        if side == "front" and box.panel("front").doors:
            continue
        names = [x.name for x in box.linings if x.side == side]
        yield _found(names[-1] if names else side, "wall", off - box.lining_depth(side), along)


def _found(what: str, kind: str, off: Points, along: Points) -> Found:
    return Touch(what, kind, *_reach(off, along)), float(off.min())
