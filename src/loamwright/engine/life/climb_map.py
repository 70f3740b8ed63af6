"""The climbing graph as it can be drawn: things, places, the gaps between them, and ways along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.csgraph import dijkstra

from loamwright.engine.life.climbing import (
    GROUND,
    ROD,
    SOLID,
    STEM,
    WALL,
    WINDOW,
    Net,
    Places,
    net_of,
)
from loamwright.engine.life.gait import Gait
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]
Point = tuple[float, float, float]

KINDS = {ROD: "rod", STEM: "rod", SOLID: "piece", GROUND: "ground", WALL: "wall", WINDOW: "wall"}
"""What a thing is, by the kind of its foot places."""

STRAIGHT = 2e-3
"""A way is drawn straight between two of its points where all between lie as near as this to the
line [m]."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something animals can stand on: its ``name``, ``kind`` of `KINDS`, and whether they get to it."""

    name: str
    kind: str
    reached: bool


@dataclass(frozen=True, slots=True)
class Spot:
    """A named place: ``at`` [m], its ``role`` and whether they get to it."""

    name: str
    role: str
    at: Point
    reached: bool


@dataclass(frozen=True, slots=True)
class Link:
    """Where an animal gets from one thing (or place) to another: both names, both ends [m] and the
    ``gap`` between their surfaces [m]."""

    first: str
    second: str
    start: Point
    end: Point
    gap: float
    reached: bool


@dataclass(frozen=True, slots=True)
class Route:
    """The shortest way between two places: its ``length`` [m], whether it keeps ``off`` the ground, and
    the points it leads over [m]."""

    first: str
    second: str
    length: float
    off: bool
    points: tuple[Point, ...]


@dataclass(frozen=True)
class ClimbMap:
    """The graph of one species."""

    species: str
    things: tuple[Thing, ...]
    spots: tuple[Spot, ...]
    links: tuple[Link, ...]
    routes: tuple[Route, ...]


def map_of(habitat: Habitat, places: Places, species: Species, gait: Gait) -> ClimbMap:
    """The climbing graph of a species, as it is drawn."""
    net = net_of(habitat, places, species, gait)
    count = len(places.at)
    home = net.part[:count] == net.home
    things = tuple(
        Thing(name, KINDS[int(places.kind[mine[0]])], bool(home[mine].any()))
        for number, name in enumerate(places.owners)
        if len(mine := np.flatnonzero(net.usable & (places.owner == number)))
    )
    spots = tuple(
        Spot(s.name, s.role, s.at, bool(net.part[count + i] == net.home))
        for i, s in enumerate(net.sites)
    )
    links = (*_gaps(places, net, home), *_tied(places, net, home))
    return ClimbMap(species.key, things, spots, links, tuple(_routes(places, net, spots)))


def _gaps(places: Places, net: Net, home: NDArray[np.bool_]) -> list[Link]:
    """The narrowest gap between every two things of which one at least is a rod or a piece."""
    p, q = net.pairs[:, 0], net.pairs[:, 1]
    firm = (places.kind == ROD) | (places.kind == SOLID)
    rows = np.flatnonzero((places.owner[p] != places.owner[q]) & (firm[p] | firm[q]))
    best: dict[tuple[int, int], int] = {}
    for row in rows[np.argsort(net.span[rows], kind="stable")]:
        a, b = sorted((int(places.owner[p[row]]), int(places.owner[q[row]])))
        best.setdefault((a, b), int(row))
    return [
        Link(places.owners[places.owner[p[row]]], places.owners[places.owner[q[row]]],
             _point(places.at[p[row]]), _point(places.at[q[row]]), float(net.span[row]),
             bool(home[p[row]]))
        for row in best.values()
    ]  # fmt: skip


def _tied(places: Places, net: Net, home: NDArray[np.bool_]) -> list[Link]:
    """Each named place with the nearest thing it hangs on to."""
    out = []
    for i, site in enumerate(net.sites):
        rows = np.flatnonzero(net.ties[:, 0] == len(places.at) + i)
        if not len(rows):
            continue
        row = rows[int(np.argmin(net.tie_span[rows]))]
        foot = int(net.ties[row, 1])
        out.append(
            Link(site.name, places.owners[places.owner[foot]], site.at, _point(places.at[foot]),
                 float(net.tie_span[row]), bool(home[foot]))
        )  # fmt: skip
    return out


def _routes(places: Places, net: Net, spots: tuple[Spot, ...]) -> list[Route]:
    """From each basking place (else the first place reached) to every other place reached: the way off
    the ground, and over the ground where there is no other."""
    there = [i for i, s in enumerate(spots) if s.reached]
    starts = [i for i in there if spots[i].role == "basking"] or there[:1]
    if not starts:
        return []
    count = len(places.at)
    rows = [count + i for i in starts]
    found = [
        dijkstra(net.graph(count, kept), directed=False, indices=rows, return_predecessors=True)
        for kept in (places.kind != GROUND, None)
    ]
    at = np.concatenate([places.at, np.array([s.at for s in spots])])
    out = []
    for k, i in enumerate(starts):
        for j in there:
            if j == i or (j in starts and j < i):
                continue
            for off, (far, before) in zip((True, False), found, strict=True):
                length = float(far[k, count + j])
                if np.isfinite(length):
                    path = _path(before[k], count + i, count + j)
                    points = tuple(_point(x) for x in _plain(at[path]))
                    out.append(Route(spots[i].name, spots[j].name, length, off, points))
                    break
    return out


def _path(before: NDArray[np.int32], start: int, end: int) -> list[int]:
    """The rows from one to another."""
    out = [end]
    while out[-1] != start:
        out.append(int(before[out[-1]]))
    return out[::-1]


def _plain(points: Floats) -> Floats:
    """Points without those that lie on the line between their neighbours."""
    kept = [0]
    last = len(points) - 1
    while kept[-1] < last:
        first = kept[-1]
        reach = first + 1
        while reach < last and _on_line(points[first : reach + 2]):
            reach += 1
        kept.append(reach)
    return points[kept]


def _on_line(points: Floats) -> bool:
    way = points[-1] - points[0]
    long = float(np.linalg.norm(way))
    if long == 0.0:
        return False
    off = np.cross(points[1:-1] - points[0], way / long)
    return bool(np.linalg.norm(off, axis=1).max() <= STRAIGHT)


def _point(at: Floats) -> Point:
    x, y, z = (round(float(v), 4) for v in at)
    return x, y, z
