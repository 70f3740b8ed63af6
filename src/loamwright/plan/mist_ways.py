"""How the misting line runs from the back edge of the top to each nozzle, clear of what lies on it.

Each branch goes forward from the back edge, across to the nozzle's hole, and through it. Common
practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.misting import Nozzle
from loamwright.plan.box_joints import holes_of
from loamwright.plan.service_holes import Service, services_of

CLEAR = 0.02
"""Air between a tube's middle and the edge of an opening or a fan it passes [m]; common practice."""

STEP = 0.01
"""Step in which a way forward is looked for [m]."""


@dataclass(frozen=True, slots=True)
class Branch:
    """The way of a branch to a ``nozzle``: its corners from the trunk on, ``way`` [m]; the ``hole`` it
    is led through, None where no panel takes one; what it ``crosses`` on the top, where no way avoids
    that."""

    nozzle: Nozzle
    way: tuple[Vec3, ...]
    hole: Service | None
    crosses: tuple[str, ...] = ()


def branches_of(habitat: Habitat) -> tuple[Branch, ...]:
    """The branch of every nozzle, from the right to the left as the trunk meets them."""
    if habitat.mist is None:
        return ()
    holes = {s.name: s for s in services_of(habitat) if s.kind == "mist" and s.side}
    found = [
        _branch(habitat, n, holes.get(f"tube of {n.name}")) for n in habitat.mist.nozzles
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda b: -b.way[0][0]))


def _branch(habitat: Habitat, nozzle: Nozzle, hole: Service | None) -> Branch:
    wide, deep, high = habitat.enclosure.inside
    x, y, _ = nozzle.at
    if hole is None or hole.side not in ("top", "back", "left", "right"):
        return Branch(nozzle, _corners((x, deep, high), (x, y, high), nozzle.at), None)
    a, b = hole.at
    if hole.side == "back":
        return Branch(nozzle, _corners((a, deep, high), (a, deep, b), nozzle.at), hole)
    if hole.side in ("left", "right"):
        side = wide if hole.side == "right" else 0.0
        return Branch(
            nozzle, _corners((side, deep, high), (side, a, high), (side, a, b), nozzle.at), hole
        )  # fmt: skip
    forward, crosses = _forward(habitat, (a, b))
    way = _corners((forward, deep, high), (forward, b, high), (a, b, high), nozzle.at)
    return Branch(nozzle, way, hole, crosses)


def _forward(habitat: Habitat, hole: Vec2) -> tuple[float, tuple[str, ...]]:
    """Where across the width a branch runs forward, as near to its hole as is clear, and what it
    crosses where nothing is."""
    wide, deep, _ = habitat.enclosure.inside
    count = round(wide / STEP)
    shifts = sorted((n * STEP for n in range(-count, count + 1)), key=lambda s: (abs(s), s))
    for shift in shifts:
        x = hole[0] + shift
        if not CLEAR <= x <= wide - CLEAR:
            continue
        if not _met(habitat, (x, hole[1]), (x, deep)) and not _met(habitat, (x, hole[1]), hole):
            return x, ()
    return hole[0], _met(habitat, hole, (hole[0], deep))


def _met(habitat: Habitat, start: Vec2, end: Vec2) -> tuple[str, ...]:
    """Openings and fans of the top that a straight tube comes too near to."""
    return tuple(
        name for name, side, at, size in holes_of(habitat)
        if side == "top" and all(
            min(start[k], end[k]) < at[k] + size[k] / 2 + CLEAR - 1e-9
            and at[k] - size[k] / 2 - CLEAR + 1e-9 < max(start[k], end[k])
            for k in (0, 1)
        )
    )  # fmt: skip


def _corners(*points: Vec3) -> tuple[Vec3, ...]:
    """Corners of a way, none twice."""
    out = [points[0]]
    for p in points[1:]:
        if max(abs(p[k] - out[-1][k]) for k in range(3)) > 1e-9:
            out.append(p)
    return tuple(out)
