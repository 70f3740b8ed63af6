"""A scene on the bench: what does not depend on its lamps is worked out once, then lamp after lamp.

A lamp's rows of a `LightStudy` depend on the scene and that lamp alone. They are kept, so that moving
a lamp costs only that lamp, and moving it back costs nothing.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.distance import cdist

from loamwright.engine.light import kernels
from loamwright.engine.light.balance import flux_balance
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.emitters import Emitter
from loamwright.engine.light.model import BOUNCED, Detail, LightModel
from loamwright.engine.light.record import WAYS, LightStudy, basking_sites, retreat_sites
from loamwright.engine.light.routes import way_between
from loamwright.engine.light.sensors import Sensors, canopy_arguments, sheet_arguments
from loamwright.engine.lower import air_box, lower_scene
from loamwright.engine.scene import GROUND, PIECE
from loamwright.habitat.bands import BANDS
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]

Pause = Callable[[], None]

MOST_LAMPS = 96
"""Lamps whose rows are kept; the ones unused for longest go first."""


def bare_lamp(lamp: Lamp) -> Lamp:
    """The lamp as its rays leave it: nameless, new, fully on."""
    return replace(
        lamp, name="", dim=1.0, hours_run=0.0, on=(0.0, 1.0), control="", follows_day=False,
        dimmable=False,
    )  # fmt: skip


def key_of_lamp(lamp: Lamp) -> tuple[Any, ...]:
    """What tells a lamp's rows from another's: all that `bare_lamp` leaves of it."""
    found: tuple[Any, ...] = _frozen(bare_lamp(lamp))
    return found


def _frozen(thing: Any) -> Any:
    """A record as nested tuples, which can be keys; quicker than its ``repr``, as spectra are long."""
    if is_dataclass(thing):
        return tuple(_frozen(getattr(thing, f.name)) for f in fields(thing))
    if isinstance(thing, Mapping):
        return tuple((key, _frozen(value)) for key, value in thing.items())
    if isinstance(thing, tuple) and thing and not isinstance(thing[0], (int, float, str)):
        return tuple(_frozen(value) for value in thing)
    return thing


def _go_on() -> None:
    """Nobody asks for a pause."""


@dataclass
class LampRows:
    """One lamp's rows of a `LightStudy`; ``rest`` those that only findings need, by their field."""

    model: LightModel
    at_sites: Singles
    rest: dict[str, NDArray] | None = None


class Bench:
    """A habitat's surfaces, sites and ways, ready to be lit; its own lamps are not looked at."""

    def __init__(self, habitat: Habitat, detail: Detail | None = None) -> None:
        self.model = LightModel(lower_scene(habitat), (), detail)
        scene = self.model.scene
        up = np.array([0.0, 0.0, 1.0])
        self.at = np.array([s.at for s in habitat.sites], float).reshape(-1, 3)
        self._alive = [s.role != "probe" for s in habitat.sites]
        self._sites = self._sensors(self.at, [np.array([up, s.normal]) for s in habitat.sites])
        points, self.way_of, self.way_ends = _ways(habitat, self.model)
        self.way_points = points
        self._ways = self._sensors(points, [up[None]] * len(points))
        self.people_at = _people_points(habitat)
        self._people = self._sensors(
            self.people_at, [np.zeros((0, 3))] * len(self.people_at), open_doors=True
        )
        rows = np.nonzero((scene.kind == GROUND) | (scene.kind == PIECE))[0]
        patch = np.repeat(scene.patch_of, 3)
        stands = np.isin(patch, rows)
        self._corners = scene.triangles.reshape(-1, 3)[stands]
        self._corner_owner = scene.owner[patch[stands]]
        self._kept: OrderedDict[tuple[Any, ...], LampRows] = OrderedDict()

    def _sensors(
        self, points: Floats, normals: list[Floats], open_doors: bool = False
    ) -> Sensors | None:
        if not len(points):
            return None
        return self.model.sensors(points, _fan(normals), all_round=True,
                                  open_doors=open_doors).sensors  # fmt: skip

    def _light(self, sensors: Sensors | None, model: LightModel, first: int) -> Singles:
        """Transport (N, first + `WAYS`, 5) from the one lamp of a model."""
        if sensors is None:
            return np.zeros((0, first + WAYS, kernels.BANDS), np.float32)
        light = sensors.straight(model.emitters[0])
        light[:, :BOUNCED] += sensors.bounced(model.radiosity(0), model.groups)
        return light.reshape(len(sensors.points), first + WAYS, -1).astype(np.float32)

    def rows(self, lamp: Lamp, *, whole: bool = True, pause: Pause = _go_on) -> LampRows:
        """A lamp's rows; without ``whole`` only its light at the sites is sure to be there. ``pause``
        is called now and then, and may end the work by raising."""
        key = key_of_lamp(lamp)
        found = self._kept.get(key)
        if found is None:
            model = self.model.alike([lamp])
            found = LampRows(model, self._light(self._sites, model, 2))
            self._kept[key] = found
            if len(self._kept) > MOST_LAMPS:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        if whole and found.rest is None:
            found.rest = self._rest(found.model, pause)
        return found

    def _rest(self, model: LightModel, pause: Pause) -> dict[str, NDArray]:
        emitter = model.emitters[0]
        out: dict[str, NDArray] = {}
        pause()
        out["way_light"] = self._light(self._ways, model, 1)
        pause()
        out["people"] = self._light(self._people, model, 0)
        pause()
        out["patch_light"] = model.patch_light(0).astype(np.float32)
        out |= self._obstacles(emitter)
        pause()
        near, site, owner = self._nearest(emitter)
        out["lamp_near"] = np.array(near)
        out["lamp_near_site"] = np.array(site, np.int32)
        out["lamp_near_owner"] = np.array(owner, np.int32)
        out["balance"] = np.array(flux_balance(model, 0))
        pause()
        return out

    def sites_light(self, lamps: Sequence[Lamp]) -> Singles:
        """Transport from each lamp to each site (L, S, 2 + `WAYS`, 5): a study's ``at_sites``."""
        found = [self.rows(lamp, whole=False).at_sites for lamp in lamps]
        shape = (0, len(self.at), 2 + WAYS, kernels.BANDS)
        return np.stack(found) if found else np.zeros(shape, np.float32)

    def points_light(self, points: Floats, lamps: Sequence[Lamp]) -> Singles:
        """Transport from each lamp to points (N, 3) [m] of their own: (L, N, 1 + `WAYS`, 5), facing up
        first."""
        sensors = self._sensors(points, [np.array([[0.0, 0.0, 1.0]])] * len(points))
        found = [self._light(sensors, self.rows(x, whole=False).model, 1) for x in lamps]
        shape = (0, len(points), 1 + WAYS, kernels.BANDS)
        return np.stack(found) if found else np.zeros(shape, np.float32)

    def study(self, lamps: Sequence[Lamp], pause: Pause = _go_on) -> LightStudy:
        """The study of this scene under these lamps; ``pause`` as in `rows`."""
        scene = self.model.scene
        rows = [self.rows(lamp, pause=pause) for lamp in lamps]
        none = self._empty()

        def stack(name: str) -> NDArray:
            found = [r.rest[name] for r in rows if r.rest is not None]
            return np.stack(found) if found else none[name]

        return LightStudy(
            at_sites=self.sites_light(lamps),
            way_points=self.way_points,
            way_light=stack("way_light"),
            way_of=np.array(self.way_of, np.int32),
            way_ends=np.array(self.way_ends, np.int32).reshape(-1, 2),
            patch_light=stack("patch_light"),
            patch_centre=scene.centre,
            patch_normal=scene.normal,
            patch_area=scene.area,
            patch_kind=scene.kind,
            patch_owner=scene.owner,
            people=stack("people"),
            people_at=self.people_at,
            solids_keep=stack("solids_keep"),
            blocker=stack("blocker"),
            crowns_keep=stack("crowns_keep"),
            sheets_keep=stack("sheets_keep"),
            distance=stack("distance"),
            lamp_near=stack("lamp_near"),
            lamp_near_site=stack("lamp_near_site"),
            lamp_near_owner=stack("lamp_near_owner"),
            balance=stack("balance"),
            owners=scene.owners,
            crowns=scene.canopies.names,
            sheets=scene.sheets.names,
        )

    def _empty(self) -> dict[str, NDArray]:
        """Each part of the rows for no lamp at all."""
        scene, count, bands = self.model.scene, len(self.at), len(BANDS)
        crowns, sheets = len(scene.canopies.names), len(scene.sheets.names)
        light = (kernels.BANDS,)
        return {
            "way_light": np.zeros((0, len(self.way_points), 1 + WAYS, *light), np.float32),
            "people": np.zeros((0, len(self.people_at), WAYS, *light), np.float32),
            "patch_light": np.zeros((0, scene.patches, bands), np.float32),
            "solids_keep": np.ones((0, count)),
            "blocker": np.full((0, count), -1, np.int32),
            "crowns_keep": np.ones((0, count, crowns, bands)),
            "sheets_keep": np.ones((0, count, sheets, bands)),
            "distance": np.zeros((0, count)),
            "lamp_near": np.zeros(0),
            "lamp_near_site": np.zeros(0, np.int32),
            "lamp_near_owner": np.zeros(0, np.int32),
            "balance": np.zeros(0),
        }

    def _obstacles(self, emitter: Emitter) -> dict[str, NDArray]:
        """What stands between a lamp and each site, and how far the lamp is."""
        scene, view, at = self.model.scene, self.model.view, self.at
        found = {name: value[0] for name, value in self._blank().items()}
        count, bands, samples = len(at), len(BANDS), len(emitter.sample)
        if not count:
            return found
        all_crowns, all_sheets = canopy_arguments(scene.canopies), sheet_arguments(scene.sheets)
        no_crowns = tuple(a[:0] for a in all_crowns)
        no_sheets = tuple(a[:0] for a in all_sheets)
        start = np.repeat(at, samples, axis=0)
        ray = np.tile(emitter.sample, (count, 1)) - start
        span = np.linalg.norm(ray, axis=1)
        ray /= span[:, None]
        found["distance"] = span.reshape(count, samples).min(axis=1)

        def share(sheet: tuple, crown: tuple) -> Floats:
            through = kernels.along_rays(start, ray, span, *sheet, *crown)
            return through.reshape(count, -1, bands).mean(axis=1)

        for c in range(len(scene.canopies.names)):
            found["crowns_keep"][:, c] = share(no_sheets, tuple(a[c : c + 1] for a in all_crowns))
        for s in range(len(scene.sheets.names)):
            found["sheets_keep"][:, s] = share(tuple(a[s : s + 1] for a in all_sheets), no_crowns)
        hit, far = view.solid.first(start.astype(np.float32), ray.astype(np.float32))
        stopped = (hit >= 0) & (far < span - 1e-3)
        found["solids_keep"] = 1.0 - stopped.reshape(count, samples).mean(axis=1)
        owner = np.where(stopped, scene.owner[scene.patch_of[np.maximum(hit, 0)]], -1)
        for site, row in enumerate(owner.reshape(count, samples)):
            stops = row[row >= 0]
            if len(stops):
                found["blocker"][site] = np.bincount(stops).argmax()
        return found

    def _blank(self) -> dict[str, NDArray]:
        """Room for one lamp's obstacles, as if nothing stood in its way."""
        names = ("solids_keep", "blocker", "crowns_keep", "sheets_keep", "distance")
        fill = {"blocker": -1, "distance": 0}
        empty = self._empty()
        return {n: np.full((1, *empty[n].shape[1:]), fill.get(n, 1), empty[n].dtype) for n in names}

    def _nearest(self, emitter: Emitter) -> tuple[float, int, int]:
        """Distance from a lamp to the nearest thing alive can reach in its light: [m], the site's
        number or -1, the owner of the surface or -1."""
        near, site_of, owner_of = np.inf, -1, -1
        ahead = emitter.normal[0]
        faced = emitter.kind[0] != 0
        for number, place in enumerate(self.at):
            if not self._alive[number]:
                continue
            gap = place - emitter.sample
            if faced:
                gap = gap[gap @ ahead > 0]
            if len(gap) and (d := float(np.linalg.norm(gap, axis=1).min())) < near:
                near, site_of, owner_of = d, number, -1
        if len(self._corners):
            far = cdist(self._corners, emitter.sample)
            if faced:
                far[(self._corners @ ahead)[:, None] <= (emitter.sample @ ahead)[None, :]] = np.inf
            best = far.min(axis=1)
            row = int(best.argmin())
            if best[row] < near:
                near, site_of, owner_of = float(best[row]), -1, int(self._corner_owner[row])
        return near, site_of, owner_of


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
