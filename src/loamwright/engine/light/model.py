"""The light of a habitat: transport from each lamp, kept so that a change costs only itself.

Dimming or ageing a lamp is a product with what is stored; moving a lamp recomputes that lamp;
only a change of surfaces, covers or crowns asks for everything anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.distance import cdist

from loamwright.engine.light.emitters import BEAM, Emitter, emitter_of
from loamwright.engine.light.flux import band_flux, quantity_weights
from loamwright.engine.light.radiosity import Exchange, patch_points
from loamwright.engine.light.sensors import Sensors, View, lamp_light
from loamwright.engine.scene import Scene
from loamwright.habitat.bands import BANDS, OPTICS_OF_BAND
from loamwright.habitat.equipment import Lamp

Floats = NDArray[np.float64]

BOUNCED = 4
"""Bands that are bounced between surfaces: the first four of `BANDS`."""


CLOSE: tuple[tuple[float, int], ...] = ((0.0, 32), (0.10, 8), (0.22, 1))
"""From which distance to a lamp [m] a patch is sampled how many times as finely."""


PAR = 2

STRUCK = 0.01
"""A patch that would catch more than this share of a beam's flux is sampled more finely,"""

STRUCK_MORE = 32
"""by this factor."""


@dataclass(frozen=True, slots=True)
class Detail:
    """How finely light is sampled (numbers of rays and points; all at least 1).

    The defaults hold the demo within 3 % of a converged reference (`bench/`).
    """

    patch_rays: int = 256
    patch_points: int = 4
    grid_rays: int = 96
    site_rays: int = 2048


class LightModel:
    """Lamps in a scene. Sensors made by it follow its lamps until it is changed."""

    def __init__(self, scene: Scene, lamps: Sequence[Lamp], detail: Detail | None = None) -> None:
        self.scene = scene
        self.detail = detail or Detail()
        self.view = View.of(scene)
        self.lamps: list[Lamp] = list(lamps)
        self.emitters: list[Emitter] = [emitter_of(lamp) for lamp in lamps]
        self._exchange: Exchange | None = None
        self._patch_points: dict[int, tuple[Floats, Floats]] = {}
        self._patch_straight: list[Floats | None] = [None] * len(self.lamps)
        self._radiosity: list[Floats | None] = [None] * len(self.lamps)
        self._groups = np.array(OPTICS_OF_BAND[:BOUNCED], np.int64)

    def alike(self, lamps: Sequence[Lamp]) -> LightModel:
        """The same scene under other lamps; what was worked out for the scene is shared."""
        other = copy(self)
        other.lamps = list(lamps)
        other.emitters = [emitter_of(lamp) for lamp in lamps]
        other._exchange = self.exchange
        other._patch_straight = [None] * len(other.lamps)
        other._radiosity = [None] * len(other.lamps)
        return other

    @property
    def groups(self) -> NDArray[np.int64]:
        """Optical group of each bounced band."""
        return self._groups

    @property
    def exchange(self) -> Exchange:
        """The solved exchange between patches, made when first needed."""
        if self._exchange is None:
            self._exchange = Exchange(self.view, self.detail.patch_rays)
        return self._exchange

    def set_lamp(self, k: int, lamp: Lamp) -> bool:
        """Put another lamp in place ``k``; True if its transport must be computed anew."""
        old, self.lamps[k] = self.lamps[k], lamp
        same = replace(lamp, dim=old.dim, hours_run=old.hours_run, on=old.on, name=old.name)
        if same == old:
            return False
        self.emitters[k] = emitter_of(lamp)
        self._patch_straight[k] = self._radiosity[k] = None
        return True

    def _points(self, count: int) -> tuple[Floats, Floats]:
        """``count`` points on each patch and the normals there, (P, count, 3) each; kept."""
        found = self._patch_points.get(count)
        if found is None:
            points, normals, _ = patch_points(self.view, count)
            shape = (self.scene.patches, count, 3)
            found = (points.reshape(shape), normals.reshape(shape))
            self._patch_points[count] = found
        return found

    def _sample_patches(
        self, emitter: Emitter, rows: NDArray[np.bool_], more: int, found: Floats, peak: Floats
    ) -> None:
        """Write the mean straight light on the patches ``rows`` and its peak in plant light, found
        at ``more`` times the usual points."""
        count = self.detail.patch_points * more
        points, normals = (a[rows].reshape(-1, 3) for a in self._points(count))
        light = lamp_light(
            self.view, emitter, points, np.arange(len(points)), normals, False, fine=False
        ).reshape(-1, count, len(BANDS))
        found[rows] = light.mean(axis=1)
        peak[rows] = light[:, :, PAR].max(axis=1)

    def patch_straight(self, k: int) -> Floats:
        """Straight light of lamp ``k`` on each patch, its mean over the patch, (P, 5) [1/m2].

        Light changes fast across patches close to the lamp, which get more points.
        """
        found = self._patch_straight[k]
        if found is None:
            emitter = self.emitters[k]
            near = cdist(self.scene.centre, emitter.sample).min(axis=1)
            tier = np.searchsorted([d for d, _ in CLOSE], near, side="right") - 1
            found = np.empty((self.scene.patches, len(BANDS)))
            peak = np.empty(self.scene.patches)
            for number, (_, more) in enumerate(CLOSE):
                self._sample_patches(emitter, tier == number, more, found, peak)
            if (emitter.kind >= BEAM).any():
                # A beam may be narrower than a patch: what it strikes is looked at closely.
                struck = peak * self.scene.area > STRUCK
                self._sample_patches(emitter, struck, STRUCK_MORE, found, peak)
            self._patch_straight[k] = found
        return found

    def radiosity(self, k: int) -> Floats:
        """What each patch sends on of lamp ``k``, (P, 4) [1/m2] per watt in each bounced band."""
        found = self._radiosity[k]
        if found is None:
            found = self.exchange.radiosity(self.patch_straight(k)[:, :BOUNCED], self._groups)
            self._radiosity[k] = found
        return found

    def patch_light(self, k: int) -> Floats:
        """Light of lamp ``k`` on each patch, straight and bounced, (P, 5) [1/m2] per watt."""
        out = self.patch_straight(k).copy()
        out[:, :BOUNCED] = self.exchange.received(out[:, :BOUNCED], self.radiosity(k), self._groups)
        return out

    def sensors(
        self, points: Floats, normals: Floats, *, all_round: bool = False, open_doors: bool = False
    ) -> SensorLight:
        """Sensors at ``points`` (N, 3) looking along ``normals`` (N*ways, 3), point by point."""
        view = self.view.without_doors() if open_doors else self.view
        rays = self.detail.site_rays if all_round else self.detail.grid_rays
        return SensorLight(self, Sensors(view, points, normals, rays, all_round))

    def caught(self, k: int) -> float:
        """Share of lamp ``k``'s plant-light flux that lands straight on solid surfaces, summed over
        the patches; held against rays followed from the lamp (`balance`)."""
        solid = self.scene.kind != 3
        return float(self.patch_straight(k)[solid, 2] @ self.scene.area[solid])


class SensorLight:
    """Transport from every lamp to a set of sensors, kept lamp by lamp."""

    def __init__(self, model: LightModel, sensors: Sensors) -> None:
        self.model = model
        self.sensors = sensors
        self._kept: list[tuple[Emitter, Floats] | None] = [None] * len(model.lamps)

    def transport(self, k: int) -> Floats:
        """Irradiance (M, 5) [1/m2] per watt of lamp ``k`` in each band, straight and bounced."""
        kept = self._kept[k]
        emitter = self.model.emitters[k]
        if kept is None or kept[0] is not emitter:
            light = self.sensors.straight(emitter)
            light[:, :BOUNCED] += self.sensors.bounced(self.model.radiosity(k), self.model._groups)
            kept = (emitter, light)
            self._kept[k] = kept
        return kept[1]

    def by_lamp(self, quantity: str) -> Floats:
        """A quantity at each sensor from each lamp with its present dimming and age, (L, M)."""
        rows = []
        for k, lamp in enumerate(self.model.lamps):
            worth = band_flux(lamp) * quantity_weights(lamp)[quantity]
            rows.append(self.transport(k) @ worth)
        return np.array(rows).reshape(len(rows), len(self.sensors.normals))

    def total(self, quantity: str) -> Floats:
        """A quantity at each sensor, all lamps on, (M,)."""
        return self.by_lamp(quantity).sum(axis=0)
