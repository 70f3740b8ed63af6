"""The light engine held against Radiance: the same sensors in the same scene, by both.

Sensors stand on an even lattice in the air, half of them looking up, half in a random direction, at
least `NEAR` from any lamp, outside crowns (Radiance cannot start a ray inside mist) and outside
solids. Both get the housed variant of the habitat (see `peers_scene.housed`).
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light.fields import inside_solid
from loamwright.engine.light.flux import band_flux
from loamwright.engine.light.model import Detail, LightModel
from loamwright.engine.lower import air_box, lower_scene
from loamwright.habitat.habitat import Habitat
from peers_scene import housed
from radiance_scene import JUDGED, RadianceScene, inside_crowns, rms_of_mean, straight_light

Floats = NDArray[np.float64]

NEAR = 0.10
"""No sensor is nearer to a lamp than this [m]: nothing alive may be, and there both programs
stand a lamp's face in by a few samples."""

BOUNCES = "-ab 12 -aa 0 -ad 1 -as 0 -lw 1e-5 -dt 0 -dc 1 -ds .2 -dj 1"
"""Settings for the bounced light: paths followed without a cache until they weigh nothing, each
lamp asked at a random place of its face, so that the answer has noise but no bias."""


@dataclass(frozen=True)
class Judged:
    """Irradiance by both in the uv, par and nir band [W/m2].

    ``ours_direct``, ``theirs_direct`` (L, N, 3) straight light by lamp; ``ours_total``,
    ``theirs_total`` (M, 3) all light of all lamps, at the first M sensors.
    """

    name: str
    lamps: tuple[str, ...]
    ours_direct: Floats
    theirs_direct: Floats
    ours_total: Floats
    theirs_total: Floats

    @property
    def direct(self) -> Floats:
        """RMS difference of the straight light as a share of its mean, by band (3,)."""
        return rms_of_mean(self.ours_direct.sum(axis=0), self.theirs_direct.sum(axis=0))

    @property
    def total(self) -> Floats:
        """The same with the light that surfaces send on (3,)."""
        return rms_of_mean(self.ours_total, self.theirs_total)

    @property
    def by_lamp(self) -> Floats:
        """The same for each lamp's straight light in its strongest band (L,)."""
        pairs = zip(self.ours_direct, self.theirs_direct, strict=True)
        return np.array([rms_of_mean(a, b)[b.mean(axis=0).argmax()] for a, b in pairs])

    def __str__(self) -> str:
        def percent(values: Floats) -> str:
            return " ".join(f"{100 * v:.2f}" for v in values)

        ratio = self.ours_total.mean(axis=0) / np.maximum(self.theirs_total.mean(axis=0), 1e-30)
        lamps = ", ".join(
            f"{name} {100 * v:.1f}" for name, v in zip(self.lamps, self.by_lamp, strict=True)
        )
        return (
            f"{self.name}: RMS as a share of the mean (uv, par, nir) "
            f"direct [{percent(self.direct)}] % over {self.ours_direct.shape[1]} sensors, "
            f"with bounces [{percent(self.total)}] % over {len(self.theirs_total)}; "
            f"ratio of means [{percent(ratio)}] %; direct lamp by lamp: {lamps} %"
        )


def watts_of(habitat: Habitat) -> Floats:
    """What each lamp sends now in the uv, par and nir band, (L, 3) [W]."""
    flux = np.array([band_flux(lamp) for lamp in habitat.lamps]).reshape(-1, 5)
    return np.column_stack([flux[:, 0] + flux[:, 1], flux[:, 2], flux[:, 3]])


def sensors(
    habitat: Habitat, model: LightModel, count: int, seed: int = 3
) -> tuple[Floats, Floats]:
    """About ``count`` sensors in the air of a habitat: points and normals (N, 3)."""
    rng = np.random.default_rng(seed)
    low, high = air_box(habitat)
    points = np.empty((0, 3))
    while len(points) < count:
        more = low + (high - low) * rng.random((count, 3))
        gap = [np.linalg.norm(more[:, None] - e.sample, axis=2).min(axis=1) for e in model.emitters]
        keep = (np.min(gap, axis=0) > NEAR) & ~inside_crowns(model.scene, more)
        more = more[keep]
        points = np.concatenate([points, more[~inside_solid(model, more)]])
    points = points[:count]
    normals = rng.normal(size=points.shape)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    normals[::2] = [0.0, 0.0, 1.0]
    return points, normals


def judge(
    habitat: Habitat, count: int = 600, bounced: int = 200, rays: int = 256,
    detail: Detail | None = None,
) -> Judged:  # fmt: skip
    """Ask both programs for straight light at ``count`` sensors and for all light at the first
    ``bounced`` of them."""
    habitat = housed(habitat)
    scene = lower_scene(habitat)
    model = LightModel(scene, habitat.lamps, detail)
    points, normals = sensors(habitat, model, count)
    bands, watts = list(JUDGED), watts_of(habitat)
    light = model.sensors(points, normals)
    lamps = range(len(habitat.lamps))
    straight = np.array(
        [light.sensors.straight(model.emitters[k])[:, bands] * watts[k] for k in lamps]
    )
    total = np.sum([light.transport(k)[:bounced, bands] * watts[k] for k in lamps], axis=0)
    with tempfile.TemporaryDirectory() as place:
        theirs = straight_light(Path(place), scene, habitat.lamps, watts, points, normals)
        whole = RadianceScene.write(Path(place) / "all", scene, habitat.lamps, watts=watts)
        sent_on = whole.bounced(points[:bounced], normals[:bounced], rays, BOUNCES)
    both = theirs.sum(axis=0)[:bounced] + sent_on
    names = tuple(lamp.name for lamp in habitat.lamps)
    return Judged(habitat.name, names, straight, theirs, total, both)


if __name__ == "__main__":
    import sys

    import peers_scene
    from loamwright.files.reader import read_habitat

    for name in sys.argv[1:] or ("empty_box", "peers_scene", "covered_scene"):
        known = getattr(peers_scene, name, None)
        print(judge(known() if known else read_habitat(Path(name))))
