"""All ray work of a light check, as plain arrays that can be kept.

`study_light` looks at a habitat once: transport from every lamp to every site in every direction,
along the ways between basking places and retreats, on every patch, and in front of the open doors;
and what stands in each lamp's way. Dimming and age of the lamps are not in it: they are
applied when values are read, so one study serves every setting.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light import kernels
from loamwright.engine.light.balance import flux_balance
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.model import Detail, LightModel
from loamwright.engine.light.record import WAYS, LightStudy, basking_sites, retreat_sites
from loamwright.engine.light.routes import way_between
from loamwright.engine.light.sensors import canopy_arguments, sheet_arguments
from loamwright.engine.lower import air_box, lower_scene
from loamwright.engine.scene import GROUND, PIECE
from loamwright.habitat.bands import BANDS
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site

Floats = NDArray[np.float64]


def _ways(habitat: Habitat, model: LightModel) -> tuple[Floats, list[int], list[tuple[int, int]]]:
    ends: list[tuple[int, int]] = []
    for group in habitat.animals:
        retreats = retreat_sites(habitat, group.species.key)
        for basking in basking_sites(habitat, group.species.key):
            if retreats:
                here = np.array(habitat.sites[basking].at)
                near = min(
                    retreats,
                    key=lambda i: float(np.linalg.norm(np.array(habitat.sites[i].at) - here)),
                )
                if (basking, near) not in ends:
                    ends.append((basking, near))
    points: list[Floats] = []
    way_of: list[int] = []
    for number, (start, end) in enumerate(ends):
        way = way_between(model, np.array(habitat.sites[start].at), np.array(habitat.sites[end].at))
        points.append(way)
        way_of += [number] * len(way)
    return (np.concatenate(points) if points else np.zeros((0, 3))), way_of, ends


def _people_points(habitat: Habitat) -> Floats:
    """Eyes and faces before the open doors: a grid of nine over each side with doors [m]."""
    low, high = air_box(habitat)
    off = habitat.people.distance
    points: list[list[float]] = []
    for panel in habitat.enclosure.panels:
        if panel.doors <= 0:
            continue
        axis = {"floor": 2, "top": 2, "front": 1, "back": 1, "left": 0, "right": 0}[panel.side]
        far = panel.side in ("top", "back", "right")
        size = habitat.enclosure.inside[axis]
        free = [k for k in range(3) if k != axis]
        for a in (0.2, 0.5, 0.8):
            for b in (0.2, 0.5, 0.8):
                at = [0.0, 0.0, 0.0]
                at[axis] = size + off if far else -off
                at[free[0]] = low[free[0]] + a * (high[free[0]] - low[free[0]])
                at[free[1]] = low[free[1]] + b * (high[free[1]] - low[free[1]])
                points.append(at)
    return np.array(points, float).reshape(-1, 3)


def _fan(normals: list[Floats]) -> Floats:
    """Facets for each point: its own normals first, then the whole sphere of ways."""
    around = sphere(WAYS)
    return np.concatenate([np.concatenate([np.atleast_2d(n), around]) for n in normals])


def _all_lamps(
    model: LightModel, points: Floats, normals: list[Floats], open_doors: bool = False
) -> NDArray[np.float32]:
    ways = len(np.atleast_2d(normals[0])) + WAYS if len(points) else WAYS
    out = np.zeros((len(model.lamps), len(points), ways, kernels.BANDS), np.float32)
    if len(points):
        light = model.sensors(points, _fan(normals), all_round=True, open_doors=open_doors)
        for k in range(len(model.lamps)):
            out[k] = light.transport(k).reshape(len(points), ways, -1)
    return out


def study_light(habitat: Habitat, detail: Detail | None = None) -> LightStudy:
    """Do all ray work of a light check.

    Deterministic: the same habitat gives the same arrays to the last digit, on any number of
    threads.
    """
    model = LightModel(lower_scene(habitat), habitat.lamps, detail)
    scene = model.scene
    lamps = len(model.lamps)
    at = np.array([s.at for s in habitat.sites], float).reshape(-1, 3)
    up = np.array([0.0, 0.0, 1.0])
    sites = _all_lamps(model, at, [np.array([up, s.normal]) for s in habitat.sites])
    way_points, way_of, ends = _ways(habitat, model)
    way_light = _all_lamps(model, way_points, [up[None]] * len(way_points))
    people_at = _people_points(habitat)
    people = _all_lamps(model, people_at, [np.zeros((0, 3))] * len(people_at), open_doors=True)
    patch_light = np.zeros((lamps, scene.patches, len(BANDS)), np.float32)
    for k in range(lamps):
        patch_light[k] = model.patch_light(k)
    solids_keep, blocker, crowns_keep, sheets_keep, distance = _obstacles(model, at)
    near, near_site, near_owner = _nearest(model, habitat.sites)
    return LightStudy(
        sites,
        way_points,
        way_light,
        np.array(way_of, np.int32),
        np.array(ends, np.int32).reshape(-1, 2),
        patch_light,
        scene.centre,
        scene.normal,
        scene.area,
        scene.kind,
        scene.owner,
        people,
        people_at,
        solids_keep,
        blocker,
        crowns_keep,
        sheets_keep,
        distance,
        near,
        near_site,
        near_owner,
        np.array([flux_balance(model, k) for k in range(lamps)]),
        scene.owners,
        scene.canopies.names,
        scene.sheets.names,
    )


def _obstacles(
    model: LightModel, at: Floats
) -> tuple[Floats, NDArray[np.int32], Floats, Floats, Floats]:
    """What stands between each lamp and each site, and how far the lamp is."""
    scene, view = model.scene, model.view
    lamps, count = len(model.lamps), len(at)
    crowns, sheets = len(scene.canopies.names), len(scene.sheets.names)
    solids = np.ones((lamps, count))
    blocker = np.full((lamps, count), -1, np.int32)
    bands = len(BANDS)
    by_crown, by_sheet = (
        np.ones((lamps, count, crowns, bands)),
        np.ones((lamps, count, sheets, bands)),
    )
    distance = np.zeros((lamps, count))
    all_crowns, all_sheets = canopy_arguments(scene.canopies), sheet_arguments(scene.sheets)
    no_crowns = tuple(a[:0] for a in all_crowns)
    no_sheets = tuple(a[:0] for a in all_sheets)
    for k, emitter in enumerate(model.emitters if count else []):
        samples = len(emitter.sample)
        start = np.repeat(at, samples, axis=0)
        ray = np.tile(emitter.sample, (count, 1)) - start
        span = np.linalg.norm(ray, axis=1)
        ray /= span[:, None]
        distance[k] = span.reshape(count, samples).min(axis=1)

        def share(sheet: tuple, crown: tuple, rays: tuple = (start, ray, span)) -> Floats:
            through = kernels.along_rays(*rays, *sheet, *crown)
            return through.reshape(count, -1, bands).mean(axis=1)

        for c in range(crowns):
            by_crown[k, :, c] = share(no_sheets, tuple(a[c : c + 1] for a in all_crowns))
        for s in range(sheets):
            by_sheet[k, :, s] = share(tuple(a[s : s + 1] for a in all_sheets), no_crowns)
        hit, far = view.solid.first(start.astype(np.float32), ray.astype(np.float32))
        stopped = (hit >= 0) & (far < span - 1e-3)
        solids[k] = 1.0 - stopped.reshape(count, samples).mean(axis=1)
        owner = np.where(stopped, scene.owner[scene.patch_of[np.maximum(hit, 0)]], -1)
        for site, row in enumerate(owner.reshape(count, samples)):
            stops = row[row >= 0]
            if len(stops):
                blocker[k, site] = np.bincount(stops).argmax()
    return solids, blocker, by_crown, by_sheet, distance


def _nearest(
    model: LightModel, sites: tuple[Site, ...]
) -> tuple[Floats, NDArray[np.int32], NDArray[np.int32]]:
    """Distance from each lamp to the nearest thing alive can reach in its light: [m], the site's
    number or -1, the owner of the surface or -1."""
    scene = model.scene
    lamps = len(model.lamps)
    near = np.full(lamps, np.inf)
    site_of = np.full(lamps, -1, np.int32)
    owner_of = np.full(lamps, -1, np.int32)
    pieces = (scene.kind == GROUND) | (scene.kind == PIECE)
    rows = np.nonzero(pieces)[0]
    corner_patch = np.repeat(scene.patch_of, 3)
    corners = scene.triangles.reshape(-1, 3)[np.isin(corner_patch, rows)]
    corner_owner = scene.owner[corner_patch[np.isin(corner_patch, rows)]]
    for k, emitter in enumerate(model.emitters):
        ahead = emitter.normal[0]
        faced = emitter.kind[0] != 0
        for number, site in enumerate(sites):
            if site.role == "probe":
                continue
            gap = np.array(site.at) - emitter.sample
            if faced:
                gap = gap[gap @ ahead > 0]
            if len(gap) and (d := float(np.linalg.norm(gap, axis=1).min())) < near[k]:
                near[k], site_of[k], owner_of[k] = d, number, -1
        if len(corners):
            gap2 = corners[:, None, :] - emitter.sample[None, :, :]
            d2 = np.linalg.norm(gap2, axis=2)
            if faced:
                d2 = np.where(gap2 @ ahead > 0, d2, np.inf)
            best = d2.min(axis=1)
            row = int(best.argmin())
            if best[row] < near[k]:
                near[k], site_of[k], owner_of[k] = best[row], -1, corner_owner[row]
    return near, site_of, owner_of
