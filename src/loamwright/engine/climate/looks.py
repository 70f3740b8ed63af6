"""What surfaces, leaves and places see of each other, and where mist and lamps' light meet leaves:
everything that needs rays, as arrays that can be kept."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.cells import Cells
from loamwright.engine.climate.surfaces import Group, Hole
from loamwright.engine.climate.tracing import light_in_leaves, sight, sight_from, spray
from loamwright.engine.light.emitters import emitter_of
from loamwright.engine.light.sensors import View
from loamwright.engine.scene import Canopies
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

NEAR, NEAR_SHELTER = 0.06, 0.14
"""A place this far [m] over a surface is on it; in a hide, in the middle of a tube, it may be more."""


@dataclass(frozen=True)
class Looks:
    """``exchange`` (G, G) [m2] area times share between the solid groups and holes, made reciprocal;
    ``to_leaves`` (G,) and ``gaps`` (G,) [m2]; ``crown_cells`` (C, N) shares of each crown's leaves in
    the cells; ``site_patch`` (Z,) the patch a place lies on (-1: in the air), ``site_sees`` (Z, G),
    ``site_leaves`` (Z,) shares of its half space; ``all_round`` (Z, G) and ``round_leaves`` (Z,)
    the same for the whole sphere; ``site_mist`` (Z,) share of the spray that lands about a place over
    the area [1/m2]; ``mist_group`` (G,), ``mist_crown`` (C,) and ``mist_cell`` (N,)
    shares, ``mist_way`` [m]."""

    exchange: Floats
    to_leaves: Floats
    gaps: Floats
    crown_cells: Floats
    site_patch: Ints
    site_sees: Floats
    site_leaves: Floats
    all_round: Floats
    round_leaves: Floats
    site_mist: Floats
    mist_group: Floats
    mist_crown: Floats
    mist_cell: Floats
    mist_way: Floats

    def arrays(self) -> dict[str, NDArray[Any]]:
        """Named arrays."""
        return {f.name: getattr(self, f.name) for f in fields(self)}

    @classmethod
    def from_arrays(cls, arrays: dict[str, NDArray[Any]]) -> Looks:
        """From what `arrays` gave."""
        return cls(**{f.name: arrays[f.name] for f in fields(cls)})


def groups_of_patches(groups: list[Group], holes: list[Hole], patches: int) -> Ints:
    """Number of the group or hole of each patch (P,)."""
    out = np.full(patches, -1, np.int64)
    parts: list[Group | Hole] = [*groups, *holes]
    for number, part in enumerate(parts):
        out[part.patches] = number
    return out


def look(
    habitat: Habitat, view: View, cells: Cells, groups: list[Group], holes: list[Hole]
) -> Looks:
    """Follow every ray the climate needs that does not depend on lamps."""
    scene = view.scene
    count = len(groups) + len(holes)
    of = groups_of_patches(groups, holes, scene.patches)
    seen = sight(view)
    onto = np.zeros((scene.patches, count))
    onto[np.arange(scene.patches), of] = 1.0
    weighted = (onto * scene.area[:, None]).T
    exchange = weighted @ (seen.shares @ onto)
    exchange = 0.5 * (exchange + exchange.T)
    to_leaves, gaps = weighted @ seen.leaves, weighted @ seen.gaps

    points = np.array([s.at for s in habitat.sites], float).reshape(-1, 3)
    normals = np.array([s.normal for s in habitat.sites], float).reshape(-1, 3)
    site_patch = np.full(len(points), -1, np.int64)
    if len(points):
        lifted = points + 0.002 * normals
        hit, span = view.met(lifted.astype(np.float32), (-normals).astype(np.float32))
        for z, site in enumerate(habitat.sites):
            reach = NEAR_SHELTER if site.role in ("hide", "retreat", "laying") else NEAR
            if hit[z] >= 0 and span[z] < reach and site.role != "crown":
                site_patch[z] = hit[z]
    sees, leaves = sight_from(view, points + 0.004 * normals, normals)
    under, under_leaves = sight_from(view, points + 0.004 * normals, -normals)
    both, both_leaves = 0.5 * (sees + under), 0.5 * (leaves + under_leaves)

    crown_cells = np.array([_crown(scene.canopies, c, cells) for c in
                            range(len(scene.canopies.names))])  # fmt: skip
    mist_group, mist_crown = np.zeros(count), np.zeros(len(scene.canopies.names))
    mist_cell, way = np.zeros(cells.count), 0.0
    site_mist = np.zeros(len(points))
    nozzles = habitat.mist.nozzles if habitat.mist else ()
    total = sum(x.type.flow for x in nozzles)
    for nozzle in nozzles:
        share = nozzle.type.flow / total
        found = spray(view, np.array(nozzle.at), np.array(nozzle.aim), nozzle.type.cone)
        mist_group += share * (found.patches @ onto)
        mist_crown += share * found.crowns
        on = site_patch >= 0
        site_mist[on] += share * (found.patches / scene.area)[site_patch[on]]
        number = cells.of(found.points)
        mist_cell += share * np.bincount(number, minlength=cells.count) / len(number)
        way += share * found.length
    return Looks(
        exchange, to_leaves, gaps, crown_cells.reshape(-1, cells.count), site_patch, sees @ onto,
        leaves, both @ onto, both_leaves, site_mist, mist_group, mist_crown, mist_cell, np.array([way]),
    )  # fmt: skip


def _crown(crowns: Canopies, c: int, cells: Cells) -> Floats:
    """Shares of a crown's leaves in the cells."""
    steps = (np.arange(10) + 0.5) / 5.0 - 1.0
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    inside = grid[(grid**2).sum(axis=1) <= 1.0]
    number = cells.of(crowns.centre[c] + inside * crowns.half[c])
    return np.bincount(number, minlength=cells.count) / len(number)


def leaves_of_lamps(habitat: Habitat, view: View) -> Floats:
    """Share of each lamp's flux that each crown takes in each band, (L, C, 5)."""
    crowns = len(view.scene.canopies.names)
    out = np.zeros((len(habitat.lamps), crowns, 5))
    for number, lamp in enumerate(habitat.lamps):
        out[number] = light_in_leaves(view, emitter_of(lamp), view.scene.reflect)
    return out
