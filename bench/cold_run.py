"""One cold run in a process of its own: a habitat's light on a grid, step by step.

``python bench/cold_run.py HABITAT POINTS [LAMPS]`` prints a line of JSON: seconds by step, counts,
peak memory. HABITAT is a file or the name of a made-up scene of `peers_scene`.
"""

from __future__ import annotations

import time

START = time.perf_counter()

import json  # noqa: E402
import resource  # noqa: E402
import sys  # noqa: E402
from pathlib import Path  # noqa: E402
from typing import Any  # noqa: E402

import numpy as np  # noqa: E402

import peers_scene  # noqa: E402


def load(name: str) -> Any:
    """A habitat by file or by the name of a made-up scene."""
    made = getattr(peers_scene, name, None)
    if made is not None:
        return made()
    from loamwright.files.reader import read_habitat

    return read_habitat(Path(name))


def main(name: str, count: int, lamps: int | None = None) -> dict[str, Any]:
    steps: dict[str, float] = {}
    last = START

    def done(step: str) -> None:
        nonlocal last
        now = time.perf_counter()
        steps[step] = now - last
        last = now

    from loamwright.engine.light.model import LightModel
    from loamwright.engine.lower import air_box, lower_scene

    done("start and imports")
    habitat = load(name)
    done("read the habitat")
    scene = lower_scene(habitat)
    model = LightModel(scene, habitat.lamps[:lamps])
    done("surfaces and tree")
    low, high = air_box(habitat)
    points = peers_scene.lattice(low, high, count)
    light = model.sensors(points, np.tile([0.0, 0.0, 1.0], (len(points), 1)))
    _ = model.exchange
    done("exchange between patches")
    for k in range(len(model.lamps)):
        model.patch_straight(k)
    done("lamps to patches")
    for k in range(len(model.lamps)):
        model.radiosity(k)
    done("solve")
    light.sensors._look()
    done("gather rays of the points")
    for emitter in model.emitters:
        light.sensors.straight(emitter)
    done("lamps to points")
    # Again, now that the light itself is wanted: the part that remains is the gathering.
    for k in range(len(model.lamps)):
        light.sensors.bounced(model.radiosity(k), model._groups)
    done("gather")
    use = resource.getrusage(resource.RUSAGE_SELF)
    peak = use.ru_maxrss / 1024
    return {
        "steps": steps, "seconds": sum(steps.values()), "points": len(points),
        "triangles": len(scene.triangles), "patches": scene.patches, "lamps": len(model.lamps),
        "peak_mb": peak, "cpu": use.ru_utime + use.ru_stime,
        "samples": [len(e.sample) for e in model.emitters],
    }  # fmt: skip


if __name__ == "__main__":
    chosen = int(sys.argv[3]) if len(sys.argv) > 3 else None
    print(json.dumps(main(sys.argv[1], int(sys.argv[2]), chosen)))
