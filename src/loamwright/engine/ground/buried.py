"""What the ground covers that it should not: pieces, and the ways into hides."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.findings import Cause, Finding, held_against
from loamwright.engine.ground.displaced import triangles_of
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.sites import Site
from loamwright.habitat.sources import Source, SourceKind

Floats = NDArray[np.float64]

PRACTICE = Source(
    "a piece stands out of the ground, and a hide has a way in",
    SourceKind.COMMON_PRACTICE,
)

SPREAD = 0.005
"""How surely the height of a ground's surface is known once it has settled [m]; common practice."""

LEAST = 0.02
"""How far a piece, or the way into a hide, stands out at least [m]; common practice."""

SHELTERS = ("hide", "retreat")


def buried_finding(habitat: Habitat) -> Finding | None:
    """Of the pieces that touch the ground the one that stands out of it least, by its highest point,
    or by its way in where it holds a hide; and of hides in no piece those that lie under it. None
    where nothing touches the ground."""
    if not habitat.ground.layers:
        return None
    touching = [p for p in habitat.hardscape if _touches(habitat, p)]
    out = [(_stands_out(habitat, p), p.name, _hides(habitat, p)) for p in touching]
    out += [(height, name, []) for name, height in _free_hides(habitat) if height < 0.0]
    if not out:
        return None
    value, name, hides = min(out, key=lambda o: o[0])
    causes = [Cause("hide_within", one) for one in hides]
    causes += [Cause("buried_too", n) for v, n, _ in out if v < LEAST - SPREAD and n != name]
    found = held_against("ground", "buried", "habitat", "height", value, (LEAST, None), SPREAD,
                         PRACTICE, causes=tuple(causes))  # fmt: skip
    return replace(found, site=name)


def _free_hides(habitat: Habitat) -> list[tuple[str, float]]:
    """Shelters in the hollow of no piece, with their height over the ground [m]."""
    return [
        (s.name, s.at[2] - habitat.ground.surface_at(*s.at[:2]))
        for s in habitat.sites
        if s.role in SHELTERS and not any(_within(p, s) for p in habitat.hardscape)
    ]


def _level(habitat: Habitat, points: Floats) -> float:
    """Height of the ground under a piece's middle [m]."""
    x, y = 0.5 * (points.min(axis=0) + points.max(axis=0))[:2]
    return habitat.ground.surface_at(float(x), float(y))


def _touches(habitat: Habitat, piece: Piece) -> bool:
    points = triangles_of(piece).reshape(-1, 3)
    return bool(points[:, 2].min() <= _level(habitat, points))


def _stands_out(habitat: Habitat, piece: Piece) -> float:
    if _hides(habitat, piece):
        return _way_in(habitat, piece)
    points = triangles_of(piece).reshape(-1, 3)
    return float(points[:, 2].max()) - _level(habitat, points)


def _hides(habitat: Habitat, piece: Piece) -> list[str]:
    """Shelters within the hollow of a tube."""
    return [s.name for s in habitat.sites if s.role in SHELTERS and _within(piece, s)]


def _within(piece: Piece, site: Site) -> bool:
    """True where a place lies in the hollow of a tube."""
    if piece.shape != "tube":
        return False
    start, end = np.array(piece.start), np.array(piece.end)
    axis = end - start
    t = float((np.array(site.at) - start) @ axis / (axis @ axis))
    off = float(np.linalg.norm(np.array(site.at) - start - t * axis))
    return -0.05 <= t <= 1.05 and off < piece.diameter / 2.0


def _way_in(habitat: Habitat, piece: Piece) -> float:
    """How far the upper rim of a tube's better end stands over the ground there [m]."""
    axis = np.array(piece.end) - np.array(piece.start)
    level = float(np.hypot(axis[0], axis[1]) / np.linalg.norm(axis))
    inner = piece.diameter / 2.0 - piece.wall
    return max(
        end[2] + inner * level - habitat.ground.surface_at(end[0], end[1])
        for end in (piece.start, piece.end)
    )
