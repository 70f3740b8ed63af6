"""Time to the same error: the engine and Radiance on the same scene and sensors.

Reference: Radiance with finely cut lamps, every shadow ray, and many followed paths. Its contestants
run from cheap to costly, in the two ways that serve a lattice of points: `rtrace -I` with its
irradiance cache, and paths followed from rays chosen per sensor; the quickest whose error is no
greater than ours is the one that counts. Radiance gives the sum of all lamps in one run, the
engine each lamp apart.
"""

from __future__ import annotations

import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from judge import BOUNCES, sensors, watts_of
from loamwright.engine.light.model import Detail, LightModel
from loamwright.engine.lower import lower_scene
from loamwright.habitat.habitat import Habitat
from peers_scene import housed
from radiance_scene import JUDGED, RadianceScene, rms_of_mean, straight_light

Floats = NDArray[np.float64]

FINE = Detail(patch_rays=2048, patch_points=32, grid_rays=2048)
"""The engine's own sampling turned up, to part its sampling error from what it leaves out."""

CONTESTANTS: tuple[tuple[str, float, str, int], ...] = (
    # name, cells of the lamps [m] (0: uncut), options of the straight light, rays followed
    ("8 paths, lamps uncut", 0.0, "-ab 0 -dt 0 -dc 1 -ds .2", 8),
    ("16 paths, lamps uncut, -ds .05", 0.0, "-ab 0 -dt 0 -dc 1 -ds .05 -dj 1", 16),
    ("16 paths, cells of 10 cm", 0.10, "-ab 0 -dt 0 -dc 1 -ds .1 -dj 1", 16),
    ("32 paths, cells of 10 cm", 0.10, "-ab 0 -dt 0 -dc 1 -ds .05 -dj 1", 32),
    ("64 paths, cells of 10 cm", 0.10, "-ab 0 -dt 0 -dc 1 -ds .05 -dj 1", 64),
    ("64 paths, cells of 5 cm", 0.05, "-ab 0 -dt 0 -dc 1 -ds .05 -dj 1", 64),
    ("128 paths, cells of 5 cm", 0.05, "-ab 0 -dt 0 -dc 1 -ds .03 -dj 1", 128),
    ("256 paths, cells of 5 cm", 0.05, "-ab 0 -dt 0 -dc 1 -ds .02 -dj 1", 256),
)
CACHED = ("cache -aa .3 -ad 64", 0.05, "-dt 0 -dc 1 -ds .05 -dj 1", 0)
_CACHE = "-ab 5 -aa .3 -ar 16 -ad 64 -as 0 -lw 2e-3 -dt 0 -dc 1 -ds .2"
_PATHS = "-ab 5 -aa 0 -ad 1 -as 0 -lw 1e-3 -dt 0 -dc 1 -ds .2 -dj 1"


@dataclass(frozen=True)
class Contestant:
    """RMS error against the reference by band (3,) and seconds for ``sensors`` facets."""

    name: str
    error: Floats
    seconds: float
    sensors: int
    extra: float = 0.0

    @property
    def worst(self) -> float:
        """Greatest RMS error of the three bands, a share of the mean."""
        return float(self.error.max())

    def seconds_for(self, count: int) -> float:
        """Seconds for ``count`` sensors, by what one more sensor costs."""
        return self.extra + self.seconds * count / self.sensors


@dataclass(frozen=True)
class SideBySide:
    """All results of one scene."""

    name: str
    ours: Contestant
    ours_fine: Contestant
    scatter: Floats
    theirs: tuple[Contestant, ...]

    @property
    def equal(self) -> Contestant | None:
        """The quickest contestant no worse than ours."""
        good = [c for c in self.theirs if c.worst <= self.ours.worst]
        return min(good, key=lambda c: c.seconds / c.sensors) if good else None


def run(
    habitat: Habitat, count: int = 300, reference_rays: int = 768, processes: int = 2
) -> SideBySide:
    """Compare on ``count`` sensors of a habitat."""
    habitat = housed(habitat)
    scene = lower_scene(habitat)
    model = LightModel(scene, habitat.lamps)
    points, normals = sensors(habitat, model, count, seed=11)
    watts, bands, lamps = watts_of(habitat), list(JUDGED), range(len(habitat.lamps))

    def engine(detail: Detail | None) -> tuple[Floats, float]:
        start = time.perf_counter()
        one = LightModel(scene, habitat.lamps, detail).sensors(points, normals)
        total = np.sum([one.transport(k)[:, bands] * watts[k] for k in lamps], axis=0)
        return total, time.perf_counter() - start

    with tempfile.TemporaryDirectory() as place:
        straight = straight_light(Path(place), scene, habitat.lamps, watts, points, normals).sum(
            axis=0
        )
        whole = RadianceScene.write(Path(place) / "all", scene, habitat.lamps, watts=watts)
        half = reference_rays // 2
        parts = [whole.bounced(points, normals, half, BOUNCES, seed=s) for s in (1, 2)]
        reference = straight + (parts[0] + parts[1]) / 2
        # Two halves differ by twice the standard error of their mean.
        scatter = rms_of_mean(straight + parts[0], straight + parts[1]) / 2
        theirs = []
        for name, cell, options, rays in (*CONTESTANTS, CACHED):
            cut = RadianceScene.write(Path(place) / "cut", scene, habitat.lamps, cell, watts)
            theirs.append(
                _contest(cut, whole, name, options, rays, points, normals, reference, processes)
            )
    ours, seconds = engine(None)
    fine, fine_seconds = engine(FINE)
    return SideBySide(
        habitat.name,
        Contestant("engine", rms_of_mean(ours, reference), seconds, count),
        Contestant("engine, more rays", rms_of_mean(fine, reference), fine_seconds, count),
        scatter,
        tuple(theirs),
    )


def _contest(
    cut: RadianceScene, whole: RadianceScene, name: str, options: str, rays: int, points: Floats,
    normals: Floats, reference: Floats, processes: int,
) -> Contestant:  # fmt: skip
    """Straight light from cut lamps, bounced light from whole ones (fewer rays a bounce)."""

    def seconds(rows: slice) -> tuple[Floats, float]:
        cut.spent.clear()
        whole.spent.clear()
        here, facing = points[rows], normals[rows]
        light = cut.irradiance(here, facing, options + (" -ab 0" if not rays else ""), processes)
        if rays:
            light = light + whole.bounced(here, facing, rays, _PATHS, processes, seed=5)
        else:
            straight = whole.irradiance(here, facing, _CACHE.replace("-ab 5", "-ab 0"), processes)
            first = sum(whole.spent)
            light = light + whole.irradiance(here, facing, _CACHE, processes) - straight
            # Only needed to take the coarse straight light out again: not counted.
            return light, sum(cut.spent) + sum(whole.spent) - first
        return light, sum(cut.spent) + sum(whole.spent)

    light, whole_time = seconds(slice(None))
    error = rms_of_mean(light, reference)
    if rays:
        return Contestant(name, error, whole_time, len(points))
    # A filling cache makes later sensors cheaper: count what the second half added, but no less
    # than its straight light.
    middle = len(points) // 2
    _, half_time = seconds(slice(0, middle))
    per = max(whole_time - half_time, sum(cut.spent))
    return Contestant(name, error, per, len(points) - middle, max(0.0, half_time - per))
