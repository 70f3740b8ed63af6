"""How fast light is, and how that grows: prints tables and writes ``bench/results.md``.

``python bench/light_speed.py [HABITAT] [--quick]``; HABITAT is a file or the name of a made-up scene
of `peers_scene`; by default the demo habitat. ``--quick`` leaves Radiance out.
"""

from __future__ import annotations

import json
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from embreex.mesh_construction import TriangleMesh
from embreex.rtcore_scene import EmbreeScene

import cold_run
import peers_scene
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.model import LightModel
from loamwright.engine.light.record import WAYS
from loamwright.engine.lower import air_box, lower_scene
from loamwright.habitat.habitat import Habitat

HERE = Path(__file__).parent
DEMO = HERE.parent / "src" / "loamwright" / "data" / "examples" / "forest-edge.yaml"
POINTS = 20_000
SITES = 40
RUNS = 5


def processor_seconds(work: Callable[[], Any]) -> float:
    """Least seconds of all cores in three calls: others at work on the machine change it little."""
    spent = []
    for _ in range(3):
        start = time.process_time()
        work()
        spent.append(time.process_time() - start)
    return min(spent)


def median(
    work: Callable[[], Any], runs: int = RUNS, before: Callable[[], Any] | None = None
) -> float:
    """Median seconds of ``runs`` calls."""
    spent = []
    for _ in range(runs):
        if before is not None:
            before()
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return statistics.median(spent)


def cold(name: str, cache: str | None = None) -> dict[str, Any]:
    """One run in a fresh process; ``wall`` is measured from outside."""
    environment = {**os.environ, **({"NUMBA_CACHE_DIR": cache} if cache else {})}
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, str(HERE / "cold_run.py"), name, str(POINTS)],
        capture_output=True, text=True, env=environment, check=True,
    )  # fmt: skip
    return {**json.loads(done.stdout), "wall": time.perf_counter() - start}


def cold_table(name: str) -> tuple[list[str], float]:
    """Cold runs, and what the very first run pays for compiling."""
    with tempfile.TemporaryDirectory() as empty:
        first = cold(name, empty)
    cold(name)
    runs = [cold(name) for _ in range(RUNS)]
    wall = statistics.median(r["wall"] for r in runs)
    one = runs[0]
    lines = [
        "## Cold",
        "",
        f"{one['points']} points, {one['triangles']} triangles, {one['patches']} patches, "
        f"{one['lamps']} lamps (shadow samples {one['samples']}), four bands in three optical groups, "
        f"interreflection. A fresh process each, median of {RUNS}.",
        "",
        "| step | s |",
        "| --- | ---: |",
    ]
    for step in one["steps"]:
        lines.append(f"| {step} | {statistics.median(r['steps'][step] for r in runs):.3f} |")
    lines += [
        f"| **whole process** (bar 3 s) | **{wall:.2f}** |",
        f"| its processor time, all cores | {statistics.median(r['cpu'] for r in runs):.2f} |",
        f"| the very first run on a machine, compiling all loops | {first['wall']:.1f} |",
        "",
        f"Peak memory {max(r['peak_mb'] for r in runs):.0f} MB (bar 1024 MB).",
    ]
    return lines, wall


def changes(habitat: Habitat) -> list[str]:
    """What a change of one lamp costs once everything is computed."""
    model, grid, points = _ready(habitat, POINTS)
    rng = np.random.default_rng(2)
    here = points[rng.permutation(len(points))[:SITES]]
    sites = model.sensors(here, np.tile(sphere(WAYS), (SITES, 1)), all_round=True)
    for light in (grid, sites):
        light.by_lamp("uvi")
    k = 0
    lamp = model.lamps[k]
    dims = iter(np.linspace(0.1, 0.9, 1000))
    shifts = iter(np.linspace(0.001, 0.05, 1000))

    def dim() -> None:
        model.set_lamp(k, replace(model.lamps[k], dim=float(next(dims))))

    def move() -> None:
        x, y, z = lamp.at
        model.set_lamp(k, replace(lamp, at=(x + float(next(shifts)), y, z)))

    def read(light: Any) -> Callable[[], Any]:
        return lambda: [light.total(q) for q in ("uvi", "ppfd", "radiant")]

    rows = [
        ("dimmed, all quantities on the grid", median(read(grid), before=dim), 0.020),
        (f"dimmed, {SITES} sites in {WAYS} directions", median(read(sites), before=dim), 0.020),
        (f"moved, {SITES} sites in {WAYS} directions", median(read(sites), before=move), 0.080),
        ("moved, grid", median(read(grid), before=move), 1.0),
    ]
    return [
        "## After a change of one lamp",
        "",
        f"UVI, plant light and radiant heat read anew; median of {RUNS}.",
        "",
        "| change | ms | bar, ms |",
        "| --- | ---: | ---: |",
        *(f"| {name} | {1000 * s:.1f} | {1000 * bar:.0f} |" for name, s, bar in rows),
    ]


def _ready(habitat: Habitat, count: int, lamps: int | None = None) -> tuple[LightModel, Any, Any]:
    model = LightModel(lower_scene(habitat), habitat.lamps[:lamps])
    points = peers_scene.lattice(*air_box(habitat), count)
    return model, model.sensors(points, np.tile([0.0, 0.0, 1.0], (len(points), 1))), points


def _bare(scene: EmbreeScene, count: int, work: Callable[[slice], Any]) -> float:
    """Rays a second of Embree alone: ``work`` on slices of 10,000 rays, on all cores."""
    cuts = [slice(low, low + 10_000) for low in range(0, count, 10_000)]
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return count / median(lambda: list(pool.map(work, cuts)), 3)


def ray_rate(habitat: Habitat) -> list[str]:
    """Rays a second: Embree asked for nothing else, and the engine's steps that ask it."""
    model, grid, points = _ready(habitat, POINTS)
    scene, count = EmbreeScene(), 1_000_000
    TriangleMesh(scene, model.scene.triangles.astype(np.float32))
    rng = np.random.default_rng(4)
    emitter = max(model.emitters, key=lambda e: len(e.sample))
    start = points[np.sort(rng.integers(len(points), size=count))].astype(np.float32)
    to_lamp = emitter.sample[rng.integers(len(emitter.sample), size=count)] - start
    reach = np.linalg.norm(to_lamp, axis=1).astype(np.float32) * np.float32(0.999)
    to_lamp = (to_lamp / np.linalg.norm(to_lamp, axis=1, keepdims=True)).astype(np.float32)
    way = rng.normal(size=(count, 3)).astype(np.float32)
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    scene.run(start[:1], way[:1])
    bare_shadow = _bare(
        scene, count,
        lambda s: scene.run(start[s], to_lamp[s], dists=reach[s].copy(), query="OCCLUDED"),
    )  # fmt: skip
    bare_first = _bare(scene, count, lambda s: scene.run(start[s], way[s], output=1))

    asked: list[int] = []
    solid = model.view.solid
    plain = solid.free

    def counted(points: Any, targets: Any, rows: Any, columns: Any) -> Any:
        asked.append(len(rows))
        return plain(points, targets, rows, columns)

    solid.free = counted  # type: ignore[method-assign]
    grid.sensors.straight(emitter)
    rays = sum(asked)
    solid.free = plain  # type: ignore[method-assign]
    ours_shadow = rays / median(lambda: grid.sensors.straight(emitter), 3)

    def look() -> None:
        grid.sensors._hit = None
        grid.sensors._look()

    ours_first = len(points) * grid.sensors.rays / median(look, 3)
    return [
        "## Share of the bare ray rate",
        "",
        "Million rays a second on all cores; *bare* is Embree alone on a million rays laid ready.",
        "",
        "| | bare | within the engine | share |",
        "| --- | ---: | ---: | ---: |",
        f"| shadow rays ({rays / len(points):.0f} a point for the widest lamp, and its light) "
        f"| {bare_shadow / 1e6:.1f} | {ours_shadow / 1e6:.1f} | {ours_shadow / bare_shadow:.0%} |",
        f"| first hits (gather rays, and what crowns let through) | {bare_first / 1e6:.1f} "
        f"| {ours_first / 1e6:.1f} | {ours_first / bare_first:.0%} |",
    ]


def scaling(habitat: Habitat) -> list[str]:
    """Cost against points and lamps, with the fitted exponents; draws ``scaling.png``."""
    by_points, by_lamps = [], []
    for count in (2_500, 5_000, 10_000, 20_000, 40_000):
        model, _, points = _ready(habitat, count)
        for k in range(len(model.lamps)):
            model.radiosity(k)

        def fresh(model: LightModel = model, points: Any = points) -> None:
            light = model.sensors(points, np.tile([0.0, 0.0, 1.0], (len(points), 1)))
            for k in range(len(model.lamps)):
                light.transport(k)

        by_points.append((len(points), processor_seconds(fresh)))
    many = habitat.lamps[:1] * 12
    for lamps in (1, 2, 4, 8, 12):
        model = LightModel(lower_scene(habitat), many[:lamps])
        points = peers_scene.lattice(*air_box(habitat), POINTS // 4)
        light = model.sensors(points, np.tile([0.0, 0.0, 1.0], (len(points), 1)))
        _ = model.exchange
        light.sensors._look()

        def again(model: LightModel = model, light: Any = light) -> None:
            light._kept = [None] * len(model.lamps)
            model._patch_straight = [None] * len(model.lamps)
            model._radiosity = [None] * len(model.lamps)
            for k in range(len(model.lamps)):
                light.transport(k)

        again()
        by_lamps.append((lamps, processor_seconds(again)))
    lines = [
        "## Growth",
        "",
        "Lamps to points and gathering for six lamps against points; everything a lamp costs (patches, "
        "solving, points) against lamps of one kind, at a quarter of the points; seconds of all cores "
        "together. See `scaling.png`.",
        "",
        "| points | s | | lamps | s |",
        "| ---: | ---: | --- | ---: | ---: |",
    ]
    for (n, a), (m, b) in zip(by_points, by_lamps, strict=True):
        lines.append(f"| {n} | {a:.3f} | | {m} | {b:.3f} |")
    exponents = [
        float(np.polyfit(np.log([n for n, _ in rows]), np.log([s for _, s in rows]), 1)[0])
        for rows in (by_points, by_lamps)
    ]
    lines += ["", f"Fitted exponents: points {exponents[0]:.2f}, lamps {exponents[1]:.2f} (bar 1)."]
    _draw(by_points, by_lamps, exponents)
    return lines


def _draw(by_points: list, by_lamps: list, exponents: list[float]) -> None:
    import matplotlib

    matplotlib.use("Agg")
    import matplotlib.pyplot as plt

    figure, axes = plt.subplots(1, 2, figsize=(8, 3.2), layout="constrained")
    for axis, rows, name, power in zip(
        axes, (by_points, by_lamps), ("points", "lamps"), exponents, strict=True
    ):
        n, s = np.array(rows).T
        axis.loglog(n, s, "o-", label=f"measured, exponent {power:.2f}")
        axis.loglog(n, s[-1] * n / n[-1], ":", color="grey", label="linear")
        axis.set_xlabel(name)
        axis.set_ylabel("processor time [s]")
        axis.legend()
    figure.savefig(HERE / "scaling.png", dpi=120)


def beside(habitat: Habitat, wall: float) -> list[str]:
    """Side by side with Radiance at equal error."""
    import beside_radiance

    found = beside_radiance.run(habitat, 200, 512)
    lines = [
        f"## Beside Radiance: {found.name}",
        "",
        f"RMS error as a share of the mean (uv, par, nir; sensors above 2 % of the greatest) at "
        f"{found.ours.sensors} sensors of the housed scene, against a converged reference by "
        "Radiance whose own scatter is "
        f"{' '.join(f'{100 * v:.2f}' for v in found.scatter)} %. Radiance by two processes; its time "
        f"is measured on these sensors and scaled to {POINTS}; it gives the sum of all lamps, the "
        "engine each lamp.",
        "",
        f"| | RMS error, % | s at the sensors | s for {POINTS} |",
        "| --- | --- | ---: | ---: |",
    ]
    for c in (found.ours, found.ours_fine, *found.theirs):
        mine = c.name.startswith("engine")
        whole = f"{wall:.2f} (cold process)" if c is found.ours else "" if mine else (
            f"{c.seconds_for(POINTS):.0f}"
        )  # fmt: skip
        error = " ".join(f"{100 * v:.2f}" for v in c.error)
        own = "" if mine else f"{c.seconds:.2f}"
        lines.append(f"| {c.name} | {error} | {own} | {whole} |")
    equal = found.equal
    if equal is None:
        lines += ["", "No setting of Radiance tried here reaches our error."]
    else:
        ratio = equal.seconds_for(POINTS) / wall
        lines += [
            "",
            f"At no greater error the quickest is *{equal.name}*: **{ratio:.0f} times our wall "
            "time** (bar 10, aim 30).",
        ]
    return lines


def machine() -> str:
    """What the numbers were measured on."""
    model = ""
    info = Path("/proc/cpuinfo")
    if info.exists():
        names = [
            x.split(":")[1].strip() for x in info.read_text().splitlines() if "model name" in x
        ]
        model = f", {names[0]}" if names else ""
    return (
        f"{os.cpu_count()} cores{model}; {platform.system()} {platform.machine()}; "
        f"Python {platform.python_version()}, numpy {np.__version__}."
    )


def main(arguments: list[str]) -> None:
    quick = "--quick" in arguments
    names = [a for a in arguments if not a.startswith("-")]
    name = names[0] if names else str(DEMO)
    habitat = cold_run.load(name)
    lines = ["# Speed of the light engine", "", f"{habitat.name}. {machine()}", ""]
    table, wall = cold_table(name)
    parts: list[Callable[[], list[str]]] = [
        lambda: table,
        lambda: changes(habitat),
        lambda: ray_rate(habitat),
        lambda: scaling(habitat),
    ]
    if not quick:
        parts.append(lambda: beside(habitat, wall))
    for part in parts:
        block = part()
        print("\n".join(block), "\n", flush=True)
        lines += [*block, ""]
    if not quick and not names:
        (HERE / "results.md").write_text("\n".join(lines))


if __name__ == "__main__":
    main(sys.argv[1:])
