"""Where animals can climb: a graph of foot places on everything in the box, and ways through it.

A rod is a chain of places along its axis, everything else a net of places on its surface. Places of
one thing hang together; two things do where the gap between them is no wider than the animal
reaches, or jumps with nothing in between. A plant that carries the animal is a rod from its foot to
its top, and in its crown as thick as half of that: the outer twigs carry nobody. Others are left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csr_matrix
from scipy.sparse.csgraph import connected_components, dijkstra
from scipy.spatial import cKDTree

from loamwright.engine.ground.displaced import triangles_of
from loamwright.engine.life.gait import NONE, SMOOTH, Gait, carries
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.planting import Plant
from loamwright.habitat.sites import Site

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

STEP = 0.04
"""Distance of neighbouring foot places [m]."""

NEIGHBOURS = 1.6
"""Places of one surface this many steps apart hang together [1]: a step and its diagonal."""

TIE = 0.06
"""A named place is tied to foot places as near as this, or within the animal's reach [m]."""

ROD, SOLID, GROUND, WALL, WINDOW, STEM = 0, 1, 2, 3, 4, 5
"""What a foot place is on; a window is a wall without a background."""

CARRYING = 0.5
"""Share of a crown's half width whose branches carry an animal [1]; this project's judgement."""

LIVED = ("basking", "perch", "hide", "retreat", "laying")
"""Roles of the places animals go to."""

SKIN = 2e-3
"""How far off a surface a look for something in between begins [m]."""


@dataclass(frozen=True)
class Places:
    """Foot places: ``at`` (N, 3) [m], ``round`` how far the surface stands off them (rods: their
    radius) [m], ``kind`` and ``owner`` (N,) with the ``owners``' names, ``normal`` (N, 3) unit, 0 for
    rods."""

    at: Floats
    round: Floats
    kind: Ints
    owner: Ints
    owners: tuple[str, ...]
    normal: Floats


class _Collector:
    def __init__(self) -> None:
        self.at: list[Floats] = []
        self.off: list[Floats] = []
        self.kind: list[Ints] = []
        self.owner: list[Ints] = []
        self.normal: list[Floats] = []
        self.owners: list[str] = []

    def add(
        self, name: str, kind: int, at: Floats, off: float | Floats = 0.0,
        normal: Floats | None = None,
    ) -> None:  # fmt: skip
        if not len(at):
            return
        self.owners.append(name)
        self.at.append(at)
        self.off.append(np.broadcast_to(np.asarray(off, np.float64), (len(at),)).copy())
        self.kind.append(np.full(len(at), kind, np.int64))
        self.owner.append(np.full(len(at), len(self.owners) - 1, np.int64))
        self.normal.append(np.zeros_like(at) if normal is None else normal)

    def places(self) -> Places:
        if not self.at:
            empty = np.zeros((0, 3))
            none = np.zeros(0, np.int64)
            return Places(empty, np.zeros(0), none, none, (), empty)
        return Places(
            np.concatenate(self.at), np.concatenate(self.off), np.concatenate(self.kind),
            np.concatenate(self.owner), tuple(self.owners), np.concatenate(self.normal),
        )  # fmt: skip


def foot_places(habitat: Habitat) -> Places:
    """Foot places on everything in a box, inside it and above the ground."""
    box, ground = habitat.enclosure, habitat.ground
    left, right, front, back = box.floor
    high = box.inside[2] - box.lining_depth("top")
    out = _Collector()
    xs, ys = _steps(left, right), _steps(front, back)
    grid = np.array([(x, y, ground.surface_at(x, y)) for x in xs for y in ys])
    out.add("ground", GROUND, grid, normal=np.tile([0.0, 0.0, 1.0], (len(grid), 1)))
    low = min(float(grid[:, 2].min()), high)
    zs = _steps(low, high)
    walls = {
        "left": ([(left, y, z) for y in ys for z in zs], (1.0, 0.0, 0.0)),
        "right": ([(right, y, z) for y in ys for z in zs], (-1.0, 0.0, 0.0)),
        "front": ([(x, front, z) for x in xs for z in zs], (0.0, 1.0, 0.0)),
        "back": ([(x, back, z) for x in xs for z in zs], (0.0, -1.0, 0.0)),
        "top": ([(x, y, high) for x in xs for y in ys], (0.0, 0.0, -1.0)),
    }
    for side, (points, way) in walls.items():
        at = np.array(points)
        kind = WALL if box.lining_depth(side) > 0.0 else WINDOW
        at = at[_above(habitat, at, 0.0)]
        out.add(side, kind, at, normal=np.tile(way, (len(at), 1)))
    for piece in habitat.hardscape:
        if piece.shape in ("branch", "tube"):
            radius = piece.diameter / 2.0
            start, end = np.array(piece.start), np.array(piece.end)
            count = max(2, int(np.ceil(np.linalg.norm(end - start) / STEP)) + 1)
            at = start + np.linspace(0.0, 1.0, count)[:, None] * (end - start)
            out.add(piece.name, ROD, at[_above(habitat, at, radius)], radius)
        else:
            at, normal = _skin(piece)
            keep = _above(habitat, at, 0.0)
            out.add(piece.name, SOLID, at[keep], normal=normal[keep])
    for plant in habitat.plants:
        out.add(plant.name, STEM, *_stem(plant, high))
    return out.places()


def _stem(plant: Plant, high: float) -> tuple[Floats, Floats]:
    """Places along a plant's stem up to the top of the box, and how far its branches carry off it."""
    (_, _, middle), (wide, _, half) = plant.crown
    foot = np.array(plant.foot)
    top = min(plant.height, high - foot[2])
    rise = np.linspace(0.0, top, max(2, int(np.ceil(top / STEP)) + 1))
    at = foot + rise[:, None] * np.array([0.0, 0.0, 1.0])
    inside = 1.0 - ((at[:, 2] - middle) / max(half, 1e-9)) ** 2
    return at, CARRYING * wide * np.sqrt(np.maximum(inside, 0.0))


def _steps(low: float, high: float) -> Floats:
    """Middles of equal steps of about `STEP` between two ends [m]."""
    count = max(1, round((high - low) / STEP))
    return low + (np.arange(count) + 0.5) * (high - low) / count


def _above(habitat: Habitat, at: Floats, off: float) -> NDArray[np.bool_]:
    """Which places stand out of the ground."""
    surface = np.array([habitat.ground.surface_at(x, y) for x, y, _ in at])
    return np.asarray(at[:, 2] + off > surface - 1e-9) if len(at) else np.zeros(0, bool)


def _skin(piece: Piece) -> tuple[Floats, Floats]:
    """Places evenly over a closed surface, and its normals there."""
    triangles = triangles_of(piece)
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    cross = np.cross(b - a, c - a)
    double = np.linalg.norm(cross, axis=1)
    edges = np.stack([b - a, c - a, c - b])
    parts = np.maximum(1, np.ceil(np.linalg.norm(edges, axis=2).max(axis=0) / STEP)).astype(int)
    points, normals = [], []
    for n in np.unique(parts[double > 1e-12]):
        rows = np.flatnonzero((parts == n) & (double > 1e-12))
        j, k = np.meshgrid(np.arange(n), np.arange(n), indexing="ij")
        inside = j + k < n
        u, v = (j[inside] + 1 / 3) / n, (k[inside] + 1 / 3) / n
        at = (a[rows, None] + u[None, :, None] * (b - a)[rows, None]
              + v[None, :, None] * (c - a)[rows, None])  # fmt: skip
        points.append(at.reshape(-1, 3))
        normals.append(np.repeat(cross[rows] / double[rows, None], len(u), axis=0))
    if not points:
        return np.zeros((0, 3)), np.zeros((0, 3))
    # Fine meshes have many small faces: one place to a cell is enough.
    at = np.concatenate(points)
    _, first = np.unique(np.floor(at / (STEP / 2)).astype(np.int64), axis=0, return_index=True)
    return at[first], np.concatenate(normals)[first]


@dataclass(frozen=True)
class Way:
    """A way between two named places: its ``length`` [m], infinite where there is none."""

    start: str
    end: str
    length: float


@dataclass(frozen=True)
class DeadEnd:
    """An end of a rod from which nothing else is within reach: ``at`` [m], ``height`` over the ground
    [m]; a ``branch``, not a tube."""

    piece: str
    at: tuple[float, float, float]
    height: float
    branch: bool = True


@dataclass(frozen=True)
class Climb:
    """Where a species can climb: ``reached`` and ``beyond`` its named places, ``ways`` from each
    basking place to each shelter that never touch the ground, ``dead_ends``; ``places`` how many foot
    places were looked at and ``feet`` which of them it gets to; ``plants`` that carry it and
    ``left_out`` those that do not."""

    gait: Gait
    reached: tuple[str, ...]
    beyond: tuple[str, ...]
    ways: tuple[Way, ...]
    dead_ends: tuple[DeadEnd, ...]
    places: int
    feet: NDArray[np.bool_] | None = None
    plants: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def shortest(self) -> Way | None:
        """The shortest way off the ground; None where there is none."""
        there = [w for w in self.ways if np.isfinite(w.length)]
        return min(there, key=lambda w: w.length) if there else None


@dataclass(frozen=True)
class Net:
    """What hangs together for a gait: which foot places are ``usable`` (N,), ``sites`` animals go to,
    ``pairs`` of foot places with their ``span`` [m], ``ties`` of sites (rows from N on) to foot places
    with theirs (``tie_span`` [m]), the ``part`` of the graph each row is in, and the part animals live
    in (``home``)."""

    usable: NDArray[np.bool_]
    sites: tuple[Site, ...]
    pairs: Ints
    span: Floats
    ties: Ints
    tie_span: Floats
    part: Ints
    home: int

    def graph(self, count: int, kept: NDArray[np.bool_] | None = None) -> csr_matrix:
        """Distances between rows [m], ``kept`` the foot places that may be used (all when left out)."""
        every = np.ones(count, bool) if kept is None else kept
        pairs = every[self.pairs[:, 0]] & every[self.pairs[:, 1]]
        ties = every[self.ties[:, 1]]
        return _graph(count + len(self.sites), [self.pairs[pairs], self.ties[ties]],
                      [self.span[pairs], self.tie_span[ties]])  # fmt: skip


def carried_by(habitat: Habitat, species: Species, gait: Gait) -> list[str]:
    """Plants that carry animals of a gait."""
    return [p.name for p in habitat.plants if gait.rods and carries(p, species)]


def net_of(habitat: Habitat, places: Places, species: Species, gait: Gait) -> Net:
    """The foot places and sites of a gait, and what of it hangs together."""
    usable = np.ones(len(places.at), bool)
    if gait.walls == NONE:
        usable &= (places.kind != WALL) & (places.kind != WINDOW)
    elif gait.walls != SMOOTH:
        usable &= places.kind != WINDOW
    if not gait.rods:
        usable &= (places.kind != ROD) & (places.kind != SOLID)
    carried = carried_by(habitat, species, gait)
    usable &= (places.kind != STEM) | np.isin(
        places.owner, [i for i, name in enumerate(places.owners) if name in carried]
    )
    sites = [
        s for s in habitat.sites
        if s.role in LIVED and (not s.species or species.key in s.species)
    ]  # fmt: skip
    pairs, span = _edges(habitat, places, gait, usable)
    ties, tie_span = _ties(habitat, places, sites, gait, usable)
    first = len(places.at)
    whole = _graph(first + len(sites), [pairs, ties], [span, tie_span])
    _, part = connected_components(whole, directed=False)
    home = _home(places, sites, part, first, usable)
    return Net(usable, tuple(sites), pairs, span, ties, tie_span, part, home)


def climb(habitat: Habitat, places: Places, species: Species, gait: Gait) -> Climb:
    """Where animals of a gait get to."""
    net = net_of(habitat, places, species, gait)
    sites, first = list(net.sites), len(places.at)
    reached = tuple(s.name for i, s in enumerate(sites) if net.part[first + i] == net.home)
    beyond = tuple(s.name for i, s in enumerate(sites) if net.part[first + i] != net.home)
    off = net.graph(first, places.kind != GROUND)
    carried = carried_by(habitat, species, gait)
    soft = [p.name for p in habitat.plants if p.name not in carried]
    return Climb(gait, reached, beyond, tuple(_ways(off, sites, first)),
                 tuple(_dead_ends(habitat, places, gait, net.usable)) if gait.rods else (),
                 int(net.usable.sum()), net.usable & (net.part[:first] == net.home),
                 tuple(carried), tuple(soft))  # fmt: skip


def _edges(
    habitat: Habitat, places: Places, gait: Gait, usable: NDArray[np.bool_]
) -> tuple[Ints, Floats]:
    """Pairs of foot places an animal gets from one to the other, and how far it is: neighbours on one
    thing, and from each place the nearest one of every other thing."""
    rows = np.flatnonzero(usable)
    leap = max(gait.reach, gait.jump)
    joined: list[Ints] = []
    spans: list[Floats] = []
    owners = np.unique(places.owner[rows])
    for number in owners:
        mine = rows[places.owner[rows] == number]
        others = rows[places.owner[rows] > number]
        tree = cKDTree(places.at[mine])
        near = tree.query_pairs(NEIGHBOURS * STEP, output_type="ndarray")
        joined.append(mine[near])
        spans.append(np.linalg.norm(places.at[mine[near[:, 0]]] - places.at[mine[near[:, 1]]],
                                    axis=1))  # fmt: skip
        # Both ways, so that the nearest of a net to a rod's end counts, and of the rod to the net's.
        back = cKDTree(places.at[others]) if len(others) else None
        for tree_of, ask, target in ((tree, others, mine), (back, mine, others)):
            if tree_of is None or not len(ask):
                continue
            bound = leap + places.round[mine].max() + places.round[others].max()
            far, at = tree_of.query(places.at[ask], distance_upper_bound=bound)
            hit = np.flatnonzero(np.isfinite(far))
            p, q = ask[hit], target[at[hit]]
            gap = far[hit] - places.round[p] - places.round[q]
            keep = gap <= leap
            joined.append(np.stack([p[keep], q[keep]], axis=1))
            spans.append(np.maximum(gap[keep], 0.0) + 1e-3)
    pairs, span = np.concatenate(joined), np.concatenate(spans)
    keep = _free(habitat, places, pairs[:, 0], pairs[:, 1])
    return pairs[keep], span[keep]


def _free(habitat: Habitat, places: Places, p: Ints, q: Ints) -> NDArray[np.bool_]:
    """True where nothing stands between two places; what touches needs no look."""
    from loamwright.engine.light.rays import Tracer

    out = np.ones(len(p), bool)
    gap = np.linalg.norm(places.at[p] - places.at[q], axis=1) - places.round[p] - places.round[q]
    look = np.flatnonzero((places.owner[p] != places.owner[q]) & (gap > STEP / 2))
    if not len(look) or not habitat.hardscape:
        return out
    tracer = Tracer(np.concatenate([triangles_of(x) for x in habitat.hardscape]))
    a, b = places.at[p[look]], places.at[q[look]]
    way = b - a
    way /= np.linalg.norm(way, axis=1)[:, None]
    start = a + way * (places.round[p[look]] + SKIN)[:, None] + SKIN * places.normal[p[look]]
    end = b - way * (places.round[q[look]] + SKIN)[:, None] + SKIN * places.normal[q[look]]
    number = np.arange(len(look))
    out[look] = tracer.free(start, end, number, number)
    return out


def _ties(
    habitat: Habitat, places: Places, sites: list[Site], gait: Gait, usable: NDArray[np.bool_]
) -> tuple[Ints, Floats]:
    """Named places tied to foot places: pairs (site row, place) and how far it is."""
    pairs: list[tuple[int, int]] = []
    span: list[float] = []
    first = len(places.at)
    tubes = {x.name: x for x in habitat.hardscape if x.shape == "tube"}
    for i, site in enumerate(sites):
        at = np.array(site.at)
        tube = next((t for t in tubes.values() if _within(t, at)), None)
        if tube is not None:
            mine = np.flatnonzero(
                (places.owner == _owner(places, tube.name)) & usable & (places.kind == ROD)
            )
            # From inside a tube the ways out are its two ends.
            near = mine[[0, -1]] if len(mine) else mine
        else:
            gap = np.linalg.norm(places.at - at, axis=1) - places.round
            near = np.flatnonzero(usable & (gap <= max(TIE, min(gait.reach, 2 * TIE))))
        for j in near:
            pairs.append((first + i, int(j)))
            span.append(float(np.linalg.norm(places.at[j] - at)))
    return np.array(pairs, np.int64).reshape(-1, 2), np.array(span)


def _owner(places: Places, name: str) -> int:
    return places.owners.index(name) if name in places.owners else -1


def _within(tube: Piece, at: Floats) -> bool:
    """True for a point inside a tube's hollow."""
    start, end = np.array(tube.start), np.array(tube.end)
    axis = end - start
    along = float(np.clip((at - start) @ axis / (axis @ axis), 0.0, 1.0))
    inner = tube.diameter / 2.0 - tube.wall
    beside = float(np.linalg.norm(at - start - along * axis))
    return 0.0 < along < 1.0 and beside <= inner + 1e-6


def _graph(count: int, pairs: Iterable[Ints], spans: Iterable[Floats]) -> csr_matrix:
    joined = np.concatenate([np.asarray(p).reshape(-1, 2) for p in pairs])
    weight = np.concatenate(list(spans))
    return coo_matrix((np.maximum(weight, 1e-6), (joined[:, 0], joined[:, 1])),
                      shape=(count, count)).tocsr()  # fmt: skip


def _home(
    places: Places, sites: list[Site], part: Ints, first: int, usable: NDArray[np.bool_]
) -> int:
    """The part of the graph animals live in: that of most of their places, the ground's of equals."""
    ground = np.flatnonzero((places.kind == GROUND) & usable)
    at_ground = int(part[ground[0]]) if len(ground) else -1
    counts: dict[int, int] = {}
    for i in range(len(sites)):
        number = int(part[first + i])
        counts[number] = counts.get(number, 0) + 1
    if not counts:
        return at_ground
    return max(counts, key=lambda number: (counts[number], number == at_ground))


def _ways(off: csr_matrix, sites: list[Site], first: int) -> list[Way]:
    """The shortest way from each basking place to each shelter."""
    starts = [i for i, s in enumerate(sites) if s.role == "basking"]
    ends = [i for i, s in enumerate(sites) if s.role in ("hide", "retreat")]
    if not starts or not ends:
        return []
    far = dijkstra(off, directed=False, indices=[first + i for i in starts])
    return [
        Way(sites[i].name, sites[j].name, float(far[row, first + j]))
        for row, i in enumerate(starts)
        for j in ends
    ]


def _dead_ends(
    habitat: Habitat, places: Places, gait: Gait, usable: NDArray[np.bool_]
) -> list[DeadEnd]:
    """Ends of rods with nothing else within reach."""
    out = []
    leap = max(gait.reach, gait.jump)
    for piece in habitat.hardscape:
        number = _owner(places, piece.name)
        mine = np.flatnonzero((places.owner == number) & usable)
        if piece.shape not in ("branch", "tube") or not len(mine):
            continue
        others = np.flatnonzero((places.owner != number) & usable)
        for row in (mine[0], mine[-1]):
            at = places.at[row]
            gap = np.linalg.norm(places.at[others] - at, axis=1) - places.round[others]
            if not len(others) or float(gap.min()) - places.round[row] > leap:
                x, y, z = (float(v) for v in at)
                height = z - habitat.ground.surface_at(x, y)
                out.append(DeadEnd(piece.name, (x, y, z), height, piece.shape == "branch"))
    return out
