"""Surfaces that air and light touch: patches gathered by what they belong to and the air they face."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import chains
from loamwright.engine.climate.cells import Cells
from loamwright.engine.climate.network import DOWNWARD, EDGE, FILM, GROUND, UPWARD, WATER
from loamwright.engine.scene import Scene
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.physics import conduction, convection

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

SMALL = 0.01
"""Groups smaller than this [m2] join the largest of the same owner."""

HOLDS = {FILM: 0.08, GROUND: 0.8, WATER: 1.0}
"""Film a square metre holds before it runs off [kg/m2]. From memory: drops on upright panels 0.05 to
0.1; litter 0.5 to 1.5 (interception of forest floors)."""

WATER_HEAT = 4.18e6
"""Volumetric heat capacity of water [J/(m3 K)]."""


@dataclass(frozen=True)
class Group:
    """Patches of one owner before one cell of air: ``patches`` their numbers, ``area`` [m2],
    ``stand`` and ``length`` [m] for convection, ``wetting``, ``emissivity``, ``chain``, and the one
    ``under`` a place on it, which is warmer or colder than the rest; ``back`` conductance of the end
    of that to the air [W/(m2 K)]. A piece's upper and other sides are groups of their own; ``through``
    numbers of those on the other side and the conductance between the ends of both chains [W/K]."""

    owner: str
    patches: Ints
    area: float
    cell: int
    stand: int
    length: float
    wetting: int
    emissivity: float
    chain: chains.Chain
    under: chains.Chain
    back: float = 0.0
    through: tuple[tuple[int, float], ...] = ()


@dataclass(frozen=True)
class Hole:
    """An opening seen from inside: its ``patches``, area, cell, and the share of it that is open."""

    owner: str
    patches: Ints
    area: float
    cell: int
    open_share: float


def piece_volume(piece: Piece) -> float:
    """Volume of the material of a piece [m3]."""
    if piece.shape in ("branch", "tube"):
        length = float(np.linalg.norm(np.array(piece.end) - np.array(piece.start)))
        inner = max(piece.diameter - 2 * piece.wall, 0.0) if piece.shape == "tube" else 0.0
        return float(np.pi / 4 * (piece.diameter**2 - inner**2) * length)
    if piece.shape == "block":
        return float(np.prod(piece.size))
    if piece.shape == "rock":
        return float(np.pi / 6 * np.prod(piece.size))
    corners = np.array(piece.vertices, float)[np.array(piece.faces, int)]
    signed = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])).sum() / 6
    return abs(float(signed))


IN_THE_AIR = ("branch", "tube")
"""Shapes that have air behind them too; the others lie on something."""

UNDER = 4.0
"""Chains under places are so much finer: lamps strike them harder than the rest."""


def _piece_chains(
    piece: Piece, area: float, fineness: float
) -> tuple[chains.Chain, chains.Chain, float]:
    """A slab with the piece's own volume behind its own surface, no heat passing its middle; for a
    place on it one of twice the depth, to the other side, and what that side gives to the air."""
    depth = min(max(piece_volume(piece) / max(area, 1e-9), 0.002), 0.15)
    whole = [chains.slab(piece.material, depth)]
    through = [chains.slab(piece.material, 2.0 * depth)]
    back = 1.0 / conduction.SURFACE_RESISTANCE_HORIZONTAL if piece.shape in IN_THE_AIR else 0.0
    return (
        chains.chain(whole, None, fineness), chains.chain(through, None, UNDER * fineness), back,
    )  # fmt: skip


def gather(
    habitat: Habitat, scene: Scene, cells: Cells, fineness: float
) -> tuple[list[Group], list[Hole]]:
    """Solid groups and openings of a scene."""
    enclosure = habitat.enclosure
    pieces = {p.name: p for p in habitat.hardscape}
    bowls = {b.name: b for b in habitat.water}
    openings = {o.name: o for o in enclosure.openings}
    sides = {x.name: x.side for x in enclosure.linings} | {p.side: p.side for p in enclosure.panels}
    where = cells.of(scene.centre)
    groups: list[Group] = []
    holes: list[Hole] = []
    for number, owner in enumerate(scene.owners):
        mine = np.nonzero(scene.owner == number)[0]
        split = {int(c): mine[where[mine] == c] for c in np.unique(where[mine])}
        opening = openings.get(owner)
        if opening is not None and opening.cover.sheet is None:
            cover = opening.cover
            share = (1.0 - cover.wire / cover.pitch) ** 2 if cover.kind == "mesh" else 1.0
            for cell, rows in split.items():
                holes.append(Hole(owner, rows, float(scene.area[rows].sum()), cell, share))
            continue
        split = _joined(split, scene.area)
        back = 0.0
        if owner in pieces:
            piece = pieces[owner]
            whole = float(scene.area[mine].sum())
            made, under, back = _piece_chains(piece, whole, fineness)
            kind = (EDGE, piece.diameter or max(min(piece.size), 0.05) if piece.size else 0.1)
            wetting, emits = FILM, chains.emissivity(piece.material)
        elif owner in bowls:
            bowl = bowls[owner]
            water = chains.Slab(bowl.depth, 0.6, WATER_HEAT)
            made = under = chains.chain([water], None, 0.5)
            kind, wetting, emits = (UPWARD, min(bowl.size) / 4), WATER, 0.96
        elif owner == "ground":
            stack = chains.ground_stack(habitat.ground, enclosure)
            made, under = _both(stack, chains.outside_film("floor"), fineness)
            top = habitat.ground.layers[-1].surface
            kind, wetting = (UPWARD, _plate(enclosure.inside, "floor")), GROUND
            emits = chains.emissivity(top)
        else:
            side = opening.side if opening is not None else sides[owner]
            if opening is not None and opening.cover.sheet is not None:
                sheet = opening.cover.sheet
                stack, emits = [chains.slab(sheet, 0.004)], chains.emissivity(sheet)
            else:
                stack = chains.panel_stack(enclosure, side)
                lined = [x for x in enclosure.linings if x.side == side]
                face = lined[-1].material if lined else enclosure.panel(side).material
                emits = chains.emissivity(face)
            made, under = _both(stack, chains.outside_film(side), fineness)
            stand = {"floor": UPWARD, "top": DOWNWARD}.get(side, EDGE)
            kind, wetting = (stand, _plate(enclosure.inside, side)), FILM
        begin = len(groups)
        upper = np.zeros(scene.patches, np.bool_)
        if owner in pieces:
            upper[mine] = _upper(pieces[owner], scene.centre[mine], scene.normal[mine])
        for cell, rows in split.items():
            both = [rows[upper[rows]], rows[~upper[rows]]]
            apart = min(float(scene.area[p].sum()) for p in both) >= SMALL
            for part in both if apart else [rows]:
                area = float(scene.area[part].sum())
                groups.append(Group(owner, part, area, cell, kind[0], kind[1], wetting, emits,
                                    made, under, back))  # fmt: skip
        if owner in pieces:
            _tie(groups, begin, scene, mine[upper[mine]], mine[~upper[mine]])
    return groups, holes


def _tie(groups: list[Group], begin: int, scene: Scene, above: Ints, below: Ints) -> None:
    """Let heat pass between the sides of the piece whose groups start at ``begin``: from each patch
    ``above`` straight through to the nearest one ``below``."""
    if not len(above) or not len(below) or len(groups) - begin < 2:
        return
    of = np.full(scene.patches, -1, np.int64)
    for number in range(begin, len(groups)):
        of[groups[number].patches] = number
    way = scene.centre[below][None, :, :] - scene.centre[above][:, None, :]
    depth = -np.einsum("ijk,ik->ij", way, scene.normal[above])
    aside = np.sqrt(np.maximum((way**2).sum(axis=2) - depth**2, 0.0))
    opposite = below[np.where(depth > 0.0, aside, np.inf).argmin(axis=1)]
    worth: dict[tuple[int, int], float] = {}
    for one, two in zip(above, opposite, strict=True):
        pair = int(of[one]), int(of[two])
        if pair[0] != pair[1]:
            worth[pair] = worth.get(pair, 0.0) + float(scene.area[one])
    for number in range(begin, len(groups)):
        mine = {b: size for (a, b), size in worth.items() if a == number}
        if mine:
            chain = groups[number].chain
            through = tuple((b, size * chain.link[-2]) for b, size in mine.items())
            groups[number] = replace(groups[number], through=through)


UPWARD_FACE = 0.25
"""Upward share of the normal from which a patch of a piece faces up: what lamps and mist strike."""


def _upper(piece: Piece, centre: Floats, normal: Floats) -> NDArray[np.bool_]:
    """Patches of a piece's upper side; the inside of a tube is none of it."""
    up = normal[:, 2] > UPWARD_FACE
    if piece.shape == "tube":
        start, end = np.array(piece.start), np.array(piece.end)
        along = (end - start) / max(float(np.linalg.norm(end - start)), 1e-9)
        out = centre - start
        out = out - (out @ along)[:, None] * along
        up &= np.einsum("ij,ij->i", out, normal) > 0.0
    found: NDArray[np.bool_] = up
    return found


def _both(
    stack: list[chains.Slab], outside: float, fineness: float
) -> tuple[chains.Chain, chains.Chain]:
    """The chain of a stack, and the finer one under a place."""
    return (
        chains.chain(stack, outside, fineness), chains.chain(stack, outside, UNDER * fineness),
    )  # fmt: skip


def _joined(split: dict[int, Ints], area: Floats) -> dict[int, Ints]:
    """Parts so small that they are hardly there go to the largest one."""
    if len(split) < 2:
        return split
    largest = max(split, key=lambda c: float(area[split[c]].sum()))
    out = {largest: split[largest]}
    for cell, rows in split.items():
        if cell == largest:
            continue
        if float(area[rows].sum()) < SMALL:
            out[largest] = np.sort(np.concatenate([out[largest], rows]))
        else:
            out[cell] = rows
    return out


def _plate(inside: tuple[float, float, float], side: str) -> float:
    """Length that the convection of a side asks for [m]: area over perimeter of a level one,
    height of an upright one."""
    x, y, z = inside
    return x * y / (2 * (x + y)) if side in ("floor", "top") else z


SAMPLE_EXCESS, SAMPLE_FILM = 5.0, 298.15
"""Excess [K] and film temperature [K] at which the fourth-root law is laid on the published ones."""


def convection_factors(stand: int, length: float, pressure: float) -> tuple[float, float]:
    """Factors of h = c |dT|^(1/4) [W/(m2 K^1.25)] when the surface stirs its air and when not.

    Laid on Churchill & Chu 1975 (upright plates; cylinders for pieces, which are upright plates of
    their diameter here), McAdams 1954 (level plates) at 5 K; from 1 to 20 K the laws differ from
    it by up to 15 %.
    """
    nu, k, prandtl = _film(pressure)
    number = convection.rayleigh(SAMPLE_EXCESS, length, SAMPLE_FILM, nu, prandtl)
    root = SAMPLE_EXCESS**0.25
    if stand == EDGE:
        both = convection.vertical_plate(number, prandtl) * k / length / root
        return both, both
    stirs = convection.horizontal_plate_unstable(number) * k / length / root
    still = convection.horizontal_plate_stable(number) * k / length / root
    return stirs, still


def _film(pressure: float) -> tuple[float, float, float]:
    density = convection.air_density(SAMPLE_FILM, pressure)
    viscosity = convection.air_viscosity(SAMPLE_FILM)
    k = convection.air_conductivity(SAMPLE_FILM)
    return viscosity / density, k, viscosity * convection.air_heat_capacity(SAMPLE_FILM) / k
