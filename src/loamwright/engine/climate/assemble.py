"""Habitat to network: everything the compiled loops read, and the way back to names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import moisture
from loamwright.engine.climate.cells import Cells, cut, still_mixing, stirring
from loamwright.engine.climate.lamps import body_of, worth
from loamwright.engine.climate.longwave_areas import fitted, grey_areas
from loamwright.engine.climate.looks import Looks
from loamwright.engine.climate.network import (
    DOWNWARD,
    DRY,
    EDGE,
    GROUND,
    LEAF,
    OPENING,
    PASSIVE,
    UPWARD,
    WATER,
    Net,
)
from loamwright.engine.climate.paths import Path, paths_of
from loamwright.engine.climate.surfaces import HOLDS, Group, Hole, convection_factors, gather
from loamwright.engine.light.record import NORMAL, LightStudy
from loamwright.engine.lower import air_box
from loamwright.engine.scene import Scene
from loamwright.errors import BalanceError
from loamwright.habitat.bands import OPTICS_OF_BAND
from loamwright.habitat.catalogue import Material
from loamwright.habitat.habitat import Habitat
from loamwright.physics import moist_air

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FIR = 4
LIGHT_LIMIT = 1.06
"""Light that surfaces and leaves take over what lamps send; the light engine's patches hold it within
5 % for each lamp. What is over 1 is scaled back; beyond this the numbers cannot be used."""

QUIET_CHANGES = 2.0 / 3600.0
"""Air changes [1/s] for which the stirring of quiet air is taken; stronger flows stir by themselves."""

CEILING = 0.30
"""Heat that rises from a lamp spreads under the ceiling in a layer of this depth [m]. From memory: a
ceiling jet is about a tenth of the plume's height deep, more in a small box."""

ROUND_LAMP = 0.25
"""Half width of the air that a lamp's rising heat reaches first [m]."""

PLACE_SIZE = 0.06
"""Length of a place for its own convection [m]: about that of a resting animal or a probe's disk."""


@dataclass(frozen=True)
class Built:
    """A network with the names of its parts: ``cells``, ``groups`` and ``holes`` (surfaces are groups,
    leaves, holes), ``leaf_plants`` plant number of each leaf surface, ``paths``, ``site_group`` (Z,)
    the group a place lies on (-1: none), ``site_round`` (Z, S) what a body there sees all round."""

    net: Net
    cells: Cells
    groups: list[Group]
    holes: list[Hole]
    leaf_plants: tuple[int, ...]
    paths: list[Path]
    site_group: Ints
    site_round: Floats
    light_scale: float


def absorbs(material: Material | None, reflect: Floats, optics: tuple[int, ...]) -> Floats:
    """Share absorbed in each of the four light bands, for patches of reflectance (P, 3)."""
    share = 1.0 - reflect[:, optics]
    if material is not None and material.clear:
        share = share - np.array(material.transmit[:4])
    return np.maximum(share, 0.0)


def face_material(habitat: Habitat, owner: str) -> Material | None:
    """The clear material of an owner that is a panel or a covered opening, else None."""
    for opening in habitat.enclosure.openings:
        if opening.name == owner:
            return opening.cover.sheet
    for panel in habitat.enclosure.panels:
        if panel.side == owner:
            return panel.material
    return None


def prepare(habitat: Habitat, scene: Scene, fineness: float = 1.0) -> tuple[
    Cells, list[Group], list[Hole]
]:  # fmt: skip
    """Cells and surfaces of a habitat, before any ray."""
    low, high = air_box(habitat)
    cells = cut(low, high, fineness)
    groups, holes = gather(habitat, scene, cells, fineness)
    return cells, groups, holes


def assemble(
    habitat: Habitat,
    scene: Scene,
    study: LightStudy,
    looks: Looks,
    leaves_light: Floats,
    cells: Cells,
    groups: list[Group],
    holes: list[Hole],
    wetness: Mapping[str, float] | None = None,
    exchange: Floats | None = None,
) -> Built:
    """The network. ``leaves_light`` (L, C, 5) from `looks.leaves_of_lamps`; ``wetness`` saturation of
    the ground's layers by name, where known better than by kind; ``exchange`` (S, S) [m2] that of a
    network with the same surfaces, where one has been built."""
    pressure = moist_air.standard_pressure(habitat.room.altitude)
    mean = 0.5 * (habitat.room.winter.day + habitat.room.summer.day) + 3.0
    heat = moist_air.volumetric_heat_capacity(mean, 0.010, pressure)
    dx, dy, dz = cells.size
    volume = np.full(cells.count, dx * dy * dz)
    leaf_plants, leaf_cells, leaf_area = _leaf_surfaces(habitat, looks)
    solids, leafs = len(groups), len(leaf_plants)
    surfaces = solids + leafs + len(holes)
    parts: list[Group | Hole] = [*groups, *holes]

    area, cell = np.zeros(surfaces), np.zeros(surfaces, np.int64)
    stand, wetting = np.zeros(surfaces, np.int64), np.full(surfaces, OPENING, np.int64)
    free, still = np.zeros(surfaces), np.zeros(surfaces)
    capacity, resist, pores = np.ones(surfaces), np.zeros(surfaces), np.ones(surfaces)
    see_room, emits = np.zeros(surfaces), np.ones(surfaces)
    first, store, link = [0], [], []
    ground_resistance, ground_pores = moisture.top_of_ground(habitat.ground, wetness)
    for a, group in enumerate(groups):
        area[a], cell[a], stand[a] = group.area, group.cell, group.stand
        wetting[a], emits[a] = group.wetting, group.emissivity
        free[a], still[a] = convection_factors(group.stand, group.length, pressure)
        capacity[a] = HOLDS.get(group.wetting, 1.0)
        if group.wetting == GROUND:
            resist[a], pores[a] = ground_resistance, ground_pores
        store += [c * group.area for c in group.chain.store]
        link += [k * group.area for k in group.chain.link]
        first.append(len(store))
    for b, (number, where, size) in enumerate(zip(leaf_plants, leaf_cells, leaf_area, strict=True)):
        a = solids + b
        area[a], cell[a], wetting[a] = 2.0 * size, where, LEAF
        form = habitat.plants[number].type
        free[a] = still[a] = moisture.leaf_convection(form, pressure)
        capacity[a], emits[a] = moisture.LEAF_FILM, 0.96
    for c, hole in enumerate(holes):
        a = solids + leafs + c
        area[a], cell[a] = hole.area, hole.cell
        see_room[a] = hole.open_share
    stomata = [moisture.stomata(habitat.plants[p].type) for p in leaf_plants]

    columns = np.r_[np.arange(solids), solids + leafs + np.arange(len(holes))]
    if exchange is None:
        exchange = _exchange(looks, groups, holes, columns, leaf_area, emits, surfaces)
    lit, warm, par, scale = _lamp_heat(
        habitat,
        scene,
        study,
        leaves_light,
        parts,
        columns,
        solids,
        leaf_plants,
        leaf_area,
        surfaces,
    )
    bodies = [body_of(lamp) for lamp in habitat.lamps]
    air_heat, plume_from, plume_to, plume_columns = _lamp_air(habitat, cells)
    paths = paths_of(habitat, cells)
    sites = _sites(
        habitat, scene, study, looks, groups, columns, leaf_area, solids, surfaces, bodies
    )
    tied = [(a, b, worth) for a, g in enumerate(groups) for b, worth in g.through]
    lift, sway = stirring(cells.low, cells.high)
    mist = habitat.mist
    net = Net(
        columns=cells.columns, layers=cells.layers, dx=dx, dz=dz, depth=dy, heat=heat,
        pressure=pressure, mixing=still_mixing(float(volume.sum()), QUIET_CHANGES),
        lift=lift, sway=sway, volume=volume, solids=solids, area=area, cell=cell, stand=stand,
        free=free, still=still, wetting=wetting, capacity=capacity, resist=resist, pores=pores,
        drain=_drains(groups, cells, leaf_cells, surfaces), exchange=exchange,
        views=exchange.sum(axis=1), see_room=see_room,
        first=np.array(first, np.int64), store=np.array(store), link=np.array(link),
        tied=np.array([(first[a + 1] - 1, first[b + 1] - 1) for a, b, _ in tied],
                      np.int64).reshape(-1, 2),
        tie=np.array([worth for _, _, worth in tied], float),
        leaf=np.array(leaf_area), leaf_store=np.array(leaf_area) * moisture.LEAF_HEAT,
        stomata=np.array([s[0] for s in stomata]), stomata_dark=np.array([s[1] for s in stomata]),
        lit=lit, warm=warm, par=par, air_heat=air_heat,
        body_power=np.array([b.power for b in bodies]),
        body_loss=np.array([b.loss for b in bodies]),
        body_store=np.array([b.store for b in bodies]),
        body_air=np.array([b.air for b in bodies]),
        plume_from=plume_from, plume_to=plume_to, plume_columns=plume_columns,
        path_kind=np.array([p.kind for p in paths], np.int64),
        path_height=np.array([p.height for p in paths]),
        path_linear=np.array([p.linear for p in paths]),
        path_square=np.array([p.square for p in paths]),
        fan_shut=np.array([p.shut for p in paths]),
        fan_linear=np.array([p.fan_linear for p in paths]),
        fan_square=np.array([p.fan_square for p in paths]),
        fan_power=np.array([p.power for p in paths]),
        path_cells=np.array([p.cells for p in paths]),
        fan_idle=np.array([p.idle if p.kind != PASSIVE else 0.0 for p in paths]),
        open_top=np.array([p.top for p in paths]), screen=np.array([p.screen for p in paths]),
        potential=cells.potential(),
        mist_surface=_mist(looks, groups, holes, columns, leaf_plants, leaf_area, wetting, surfaces),
        mist_cell=looks.mist_cell,
        mist_rate=1000.0 * sum(x.type.flow for x in mist.nozzles) if mist else 0.0,
        mist_heat=mist.temperature if mist else 293.15,
        site_cells=np.array([cells.between(np.array(s.at)) for s in habitat.sites]).reshape(
            -1, cells.count),
        drop=_drop(habitat), flight=float(looks.mist_way[0]) / moisture.DROP_SPEED,
        **sites[0],
    )  # fmt: skip
    return Built(net, cells, groups, holes, tuple(leaf_plants), paths, sites[1], sites[2], scale)


def _leaf_surfaces(habitat: Habitat, looks: Looks) -> tuple[list[int], list[int], list[float]]:
    """Plant, cell and one-sided area of each leaf surface."""
    plants: list[int] = []
    where: list[int] = []
    sizes: list[float] = []
    for number, plant in enumerate(habitat.plants):
        whole = plant.type.leaf_area_index * np.pi / 4 * plant.spread**2
        shares = looks.crown_cells[number]
        keep = np.nonzero(shares > 0.08)[0]
        if not len(keep):
            keep = np.array([int(shares.argmax())])
        for cell in keep:
            plants.append(number)
            where.append(int(cell))
            sizes.append(float(max(whole, 1e-4) * shares[cell] / shares[keep].sum()))
    return plants, where, sizes


def _exchange(
    looks: Looks, groups: list[Group], holes: list[Hole], columns: Ints, leaf_area: list[float],
    emits: Floats, surfaces: int,
) -> Floats:  # fmt: skip
    """Grey exchange areas between all surfaces; leaves fill what patches see of them in proportion to
    their area, and what a patch sees of nothing comes back to it."""
    size = np.array([g.area for g in groups] + [h.area for h in holes])
    seen = np.zeros((surfaces, surfaces))
    seen[np.ix_(columns, columns)] = looks.exchange
    solids = len(groups)
    leafs = len(leaf_area)
    if leafs:
        share = np.array(leaf_area) / sum(leaf_area)
        block = looks.to_leaves[:, None] * share[None, :]
        leaf = np.arange(solids, solids + leafs)
        seen[np.ix_(columns, leaf)] = block
        seen[np.ix_(leaf, columns)] = block.T
    area = np.zeros(surfaces)
    area[columns] = size
    seen[columns, columns] += looks.gaps
    seen = fitted(seen, area)
    area = np.where(area > 0.0, area, seen.sum(axis=1))
    return grey_areas(seen, area, emits)


def _lamp_heat(
    habitat: Habitat, scene: Scene, study: LightStudy, leaves_light: Floats,
    parts: list[Group | Hole], columns: Ints, solids: int, leaf_plants: list[int],
    leaf_area: list[float], surfaces: int,
) -> tuple[Floats, Floats, Floats, float]:  # fmt: skip
    """Light and thermal infrared that each surface absorbs of each lamp (L, S) [W], [1], plant light
    (L, S) [W], and the greatest share by which they had to be scaled back."""
    flux = worth(habitat.lamps)
    count = len(habitat.lamps)
    lit, warm, par = (np.zeros((count, surfaces)) for _ in range(3))
    optics = OPTICS_OF_BAND[:4]
    light = study.patch_light.astype(float)
    for number, part in enumerate(parts):
        if isinstance(part, Hole):
            continue
        rows = part.patches
        share = absorbs(face_material(habitat, part.owner), scene.reflect[rows], optics)
        for k in range(count):
            caught = light[k, rows, :4] * scene.area[rows][:, None] * share
            lit[k, columns[number]] = float(caught.sum(axis=0) @ flux[k, :4])
            warm[k, columns[number]] = float(light[k, rows, FIR] @ scene.area[rows])
    whole = np.bincount(leaf_plants, leaf_area, len(habitat.plants)) if leaf_plants else None
    for b, (plant, size) in enumerate(zip(leaf_plants, leaf_area, strict=True)):
        assert whole is not None
        part_of = size / whole[plant]
        lit[:, solids + b] = (leaves_light[:, plant, :4] * flux[:, :4]).sum(axis=1) * part_of
        par[:, solids + b] = leaves_light[:, plant, 2] * flux[:, 2] * part_of
        warm[:, solids + b] = leaves_light[:, plant, FIR] * part_of
    worst = 1.0
    for k in range(count):
        sent = float(flux[k, :4].sum())
        for table, most in ((lit, sent), (warm, 1.0)):
            over = float(table[k].sum()) / most if most > 0.0 else 0.0
            worst = max(worst, over)
            if over > LIGHT_LIMIT:
                raise BalanceError(
                    f"light of lamp '{habitat.lamps[k].name}': surfaces and leaves take "
                    f"{over:.3f} of what it sends; its heat cannot be used"
                )
            if over > 1.0:
                table[k] /= over
                if table is lit:
                    par[k] /= over
    return lit, warm, par, worst


def _lamp_air(habitat: Habitat, cells: Cells) -> tuple[Floats, Floats, Floats, Floats]:
    """Where the air takes up each lamp's heat (L, N), heights of the lamp and of the end of its plume
    above the ground (L,), shares of the columns it stands in (L, columns); a lamp above or outside
    the box warms the room."""
    count = len(habitat.lamps)
    shares, base = np.zeros((count, cells.count)), np.full(count, -1.0)
    end, columns = np.full(count, -1.0), np.zeros((count, cells.columns))
    for k, lamp in enumerate(habitat.lamps):
        at = np.array(lamp.at)
        if not ((at > cells.low).all() and (at < cells.high).all()):
            continue
        top = float(cells.high[2])
        foot = min(float(at[2]), top - CEILING)
        low = np.array([at[0] - ROUND_LAMP, cells.low[1], max(foot, top - CEILING)])
        high = np.array([at[0] + ROUND_LAMP, cells.high[1], top])
        shares[k] = cells.overlap(low, high)
        base[k] = float(at[2] - cells.low[2])
        end[k] = max(float(low[2] - cells.low[2]), 0.0)
        columns[k] = shares[k].reshape(cells.layers, cells.columns).sum(axis=0)
    return shares, base, end, columns


def _drains(
    groups: list[Group], cells: Cells, leaf_cells: list[int], surfaces: int
) -> Ints:  # fmt: skip
    """Where the surplus of each surface's film runs: to the ground under it, from there away."""
    floors = {g.cell % cells.columns: a for a, g in enumerate(groups)
              if g.wetting == GROUND or g.owner == "floor"}  # fmt: skip
    out = np.full(surfaces, -1, np.int64)
    every = [(a, g.cell) for a, g in enumerate(groups) if g.wetting not in (GROUND, WATER)
             and g.owner != "floor"]  # fmt: skip
    every += [(len(groups) + b, c) for b, c in enumerate(leaf_cells)]
    for a, cell in every:
        column = cell % cells.columns
        if floors:
            near = min(floors, key=lambda c: abs(c - column))
            out[a] = floors[near]
    return out


def _mist(
    looks: Looks, groups: list[Group], holes: list[Hole], columns: Ints, leaf_plants: list[int],
    leaf_area: list[float], wetting: Ints, surfaces: int,
) -> Floats:  # fmt: skip
    """Shares of the spray that land on each surface; what meets a hole falls on the ground."""
    out = np.zeros(surfaces)
    out[columns] = looks.mist_group
    solids = len(groups)
    if leaf_plants:
        whole = np.bincount(leaf_plants, leaf_area)
        for b, (plant, size) in enumerate(zip(leaf_plants, leaf_area, strict=True)):
            out[solids + b] = looks.mist_crown[plant] * size / float(whole[plant])
    lost = np.array([w in (OPENING, DRY) for w in wetting])
    spare = 1.0 - float(out[~lost].sum())
    out[lost] = 0.0
    floors = [a for a, g in enumerate(groups) if g.wetting == GROUND or g.owner == "floor"]
    under = np.array([groups[a].area for a in floors])
    out[floors] += spare * under / under.sum()
    return out


def _drop(habitat: Habitat) -> float:
    """Mean drop diameter of all nozzles by flow [m]."""
    nozzles = habitat.mist.nozzles if habitat.mist else ()
    total = sum(x.type.flow for x in nozzles)
    return sum(x.type.flow * x.type.drop for x in nozzles) / total if total else 1e-4


def _sites(
    habitat: Habitat, scene: Scene, study: LightStudy, looks: Looks, groups: list[Group],
    columns: Ints, leaf_area: list[float], solids: int, surfaces: int, bodies: list,
) -> tuple[dict[str, NDArray], Ints, Floats]:  # fmt: skip
    """Arrays of the places, the group each lies on, and what a body there sees all round."""
    count, lamps = len(habitat.sites), len(habitat.lamps)
    of = np.full(scene.patches, -1, np.int64)
    for number, group in enumerate(groups):
        of[group.patches] = number
    share = np.array(leaf_area) / sum(leaf_area) if leaf_area else np.zeros(0)
    leaf = np.arange(solids, solids + len(leaf_area))

    def spread_out(row: Floats, leaves: float) -> Floats:
        out = np.zeros(surfaces)
        out[columns] = row
        out[leaf] += leaves * share
        return out

    flux = worth(habitat.lamps)
    stores: list[float] = []
    links: list[float] = []
    firsts, back = [0], np.zeros(count)
    sees, all_round = np.zeros((count, surfaces)), np.zeros((count, surfaces))
    lit, warm = np.zeros((count, lamps)), np.zeros((count, lamps))
    free, emits = np.zeros(count), np.full(count, 0.95)
    on_group = np.full(count, -1, np.int64)
    pressure = moist_air.standard_pressure(habitat.room.altitude)
    for z, site in enumerate(habitat.sites):
        all_round[z] = spread_out(looks.all_round[z], float(looks.round_leaves[z]))
        patch = int(looks.site_patch[z])
        number = int(of[patch]) if patch >= 0 else -1
        firsts.append(firsts[-1])
        if number < 0 or groups[number].wetting == WATER:
            continue
        group = groups[number]
        on_group[z] = number
        stores += group.under.store
        links += group.under.link
        firsts[-1] += len(group.under.store)
        back[z] = group.back
        sees[z] = spread_out(looks.site_sees[z], float(looks.site_leaves[z]))
        optics = OPTICS_OF_BAND[:4]
        material = face_material(habitat, group.owner)
        takes = absorbs(material, scene.reflect[patch : patch + 1], optics)[0]
        emits[z] = group.emissivity
        for k in range(lamps):
            normal = study.at_sites[k, z, NORMAL].astype(float)
            lit[z, k] = float((normal[:4] * flux[k, :4]) @ takes)
            sent = bodies[k].loss * (1.0 - bodies[k].air)
            warm[z, k] = group.emissivity * normal[FIR] * sent
        tilt = UPWARD if site.normal[2] > 0.7 else DOWNWARD if site.normal[2] < -0.7 else EDGE
        length = PLACE_SIZE / 4 if tilt != EDGE else PLACE_SIZE
        free[z] = convection_factors(tilt, length, pressure)[0]
    arrays: dict[str, NDArray] = {
        "site_on": on_group, "site_first": np.array(firsts, np.int64),
        "site_store": np.array(stores), "site_link": np.array(links), "site_back": back,
        "site_sees": sees, "site_lit": lit, "site_warm": warm, "site_free": free,
        "site_emits": emits,
        "site_mist": looks.site_mist,
    }  # fmt: skip
    return arrays, on_group, all_round
