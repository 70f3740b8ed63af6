"""How fast a day, a year and all failures are, beside SciPy with the same compiled rates.

``python bench/climate_speed.py [--quick]``: prints tables and writes ``bench/climate_results.md``;
``--quick`` leaves SciPy out and writes nothing. The first run compiles for a minute, which is not in
the figures.
"""

from __future__ import annotations

import math
import os
import platform
import statistics
import sys
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import scipy
from numba import njit
from scipy.integrate import solve_ivp

from loamwright import workflow
from loamwright.engine.climate import drills, drive, running, study, year
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import Forcing
from loamwright.engine.climate.plan import Memory
from loamwright.engine.climate.rates import rates
from loamwright.engine.climate.running import _drive, decide
from loamwright.engine.light.study import study_light
from loamwright.engine.unlit import bare

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "src" / "loamwright" / "data" / "examples"
SMALL = HERE.parent / "tests" / "data" / "small-climate.yaml"
RUNS = 7
BEGIN, MINUTES = 6 * 60 + 50, 100
"""The spell that SciPy runs too: dawn, misting, lamps coming on."""


@cache
def made(path: Path, fineness: float = 1.0) -> Any:
    """Habitat, light and network of a file."""
    habitat = workflow.read(path)
    light = study_light(bare(habitat))
    return habitat, light, study.build(habitat, light, study.prepare(habitat, fineness=fineness))


@cache
def settled(path: Path, fineness: float = 1.0) -> Any:
    return study.typical_day(*made(path, fineness), "winter")


def fresh(day: Any) -> tuple[np.ndarray, Memory]:
    memory = Memory(*(a.copy() for a in day.memory))
    memory.used[0] = 0.0
    return day.state.copy(), memory


def median(work: Callable[[], Any], runs: int = RUNS) -> float:
    spent = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return statistics.median(spent)


def temperatures(net: Any) -> int:
    """Nodes that have a temperature."""
    parts = (net.volume, net.store, net.leaf, net.body_power, net.site_store)
    return sum(len(part) for part in parts)


def one_day(path: Path, fineness: float) -> tuple[str, int, float]:
    """A row of the table; nodes and microseconds by evaluation of the rates."""
    _, _, built = made(path, fineness)
    day, net = settled(path, fineness), built.net
    tape = drive.blank_tape(net, 145)

    def work() -> int:
        state, memory = fresh(day)
        return running.run(net, day.plan, state, memory, 0, 1440, 10, tape)

    calls, spent, nodes = work(), median(work), temperatures(net)
    row = (
        f"| {path.stem}, cells x {fineness:g} | {len(net.volume)} | {len(net.area)} | {nodes} "
        f"| {int(offsets(net)[7])} | {calls} | {1e3 * spent:.0f} |"
    )
    return row, nodes, 1e6 * spent / calls


def longer(path: Path, days: int) -> float:
    """Times as long as one day that so many days take."""
    _, _, built = made(path)
    day = settled(path)

    def work(count: int) -> None:
        state, memory = fresh(day)
        memory.used[0] = 0.0
        drive.carry_on(built, day.plan, state, memory, 0, 1440 * count, 60)

    return median(lambda: work(days)) / median(lambda: work(1))


@njit
def _many(net: Any, force: Any, y: Any, change: Any, work: Any, count: int) -> None:
    for _ in range(count):
        rates(net, force, y, change, work)


@cache
def seconds_of_rates() -> float:
    """Of one evaluation of the rates of the small habitat, called from compiled code [s]."""
    _, _, built = made(SMALL)
    day, net = settled(SMALL), built.net
    state, _ = fresh(day)
    light, speed = np.ones(len(net.body_power)), np.ones(len(net.path_kind))
    force = Forcing(light, speed, 0.0, 293.0, 0.008)
    work, change = work_for(net), np.zeros_like(state)
    _many(net, force, state, change, work, 1)
    return median(lambda: _many(net, force, state, change, work, 1000)) / 1000


def by_scipy(method: str, tolerance: float) -> tuple[float, np.ndarray, int]:
    """Seconds, states by the minute of the spell, the controllers deciding as they go, and calls of the
    rates."""
    _, _, built = made(SMALL)
    day, net = settled(SMALL), built.net
    at = offsets(net)
    end = int(at[7])
    full, memory = fresh(day)
    drive.carry_on(built, day.plan, full, memory, 0, BEGIN, BEGIN)
    work, change = work_for(net), np.zeros_like(full)
    output, cut = np.zeros(len(day.plan.kind)), np.zeros(len(day.plan.kind))
    light, speed = np.zeros(len(net.body_power)), np.zeros(len(net.path_kind))
    rows, calls = [full[:end].copy()], 0
    start = time.perf_counter()
    for minute in range(BEGIN, BEGIN + MINUTES):
        decide(net, day.plan, full, memory, minute, output, cut)
        mist, room, vapour = _drive(day.plan, minute, output, cut, memory, light, speed)
        force = Forcing(light, speed, mist, room, vapour)

        def rhs(_t: float, part: np.ndarray, force: Forcing = force) -> np.ndarray:
            nonlocal calls
            calls += 1
            full[:end] = part
            rates(net, force, full, change, work)
            return change[:end].copy()

        found = solve_ivp(
            rhs, (0.0, 60.0), rows[-1], method=method, rtol=tolerance, atol=tolerance / 10
        )
        rows.append(found.y[:, -1])
        full[:end] = found.y[:, -1]
    return time.perf_counter() - start, np.array(rows), calls


def beside_scipy() -> list[str]:
    _, _, built = made(SMALL)
    day, net = settled(SMALL), built.net
    n = len(net.volume)
    _, exact, _ = by_scipy("LSODA", 1e-8)
    state, memory = fresh(day)
    drive.carry_on(built, day.plan, state, memory, 0, BEGIN, BEGIN)

    def own() -> np.ndarray:
        mine, kept = state.copy(), Memory(*(a.copy() for a in memory))
        return drive.carry_on(built, day.plan, mine, kept, BEGIN, MINUTES, 1)[0].air

    error = np.abs(own() - exact[:, :n]).max()
    spent = median(own)
    lines = [
        f"| ours | {1e3 * spent:.1f} | {error:.3f} | 1 | | |",
    ]
    for method in ("LSODA", "BDF", "Radau"):
        for tolerance in (1e-3, 1e-4, 1e-5):
            seconds, rows, calls = by_scipy(method, tolerance)
            off = np.abs(rows[:, :n] - exact[:, :n]).max()
            bare = calls * seconds_of_rates()
            lines.append(
                f"| {method} {tolerance:g} | {1e3 * seconds:.0f} | {off:.3f} | {seconds / spent:.0f} "
                f"| {calls} | {bare / spent:.0f} |"
            )
    return lines


def main() -> None:
    quick = "--quick" in sys.argv
    demo = EXAMPLES / "forest-edge.yaml"
    sizes = ((SMALL, 0.3), (SMALL, 0.5), (SMALL, 1.0), (demo, year.COARSE), (demo, 1.0))
    days_run = [one_day(*size) for size in sizes]
    (_, least, quick_one), (_, most, slow_one) = days_run[0], days_run[-1]
    exponent = math.log(slow_one / quick_one) / math.log(most / least)
    lines = [
        "# Speed of the climate engine",
        "",
        f"{os.cpu_count()} cores; {platform.system()} {platform.machine()}; Python "
        f"{platform.python_version()}, numpy {np.__version__}, SciPy {scipy.__version__}. Loops "
        f"compiled before; medians of {RUNS}.",
        "",
        "## A day, controllers by the minute",
        "",
        "Bar: 30 ms with 40 temperatures or more.",
        "",
        "| habitat | cells | surfaces | temperatures | equations | evaluations | ms |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: |",
        *(row for row, _, _ in days_run),
        "",
        f"From the smallest to the largest an evaluation grows as the temperatures to the power "
        f"{exponent:.2f}; seven days of the small habitat take {longer(SMALL, 7):.2f} times one.",
    ]
    habitat, light, built = made(demo)
    typical = median(lambda: study.typical_day(habitat, light, built, "winter"), 3)
    coarse = made(demo, year.COARSE)
    whole = median(lambda: year.run_year(*coarse), 1)
    days = {s: study.typical_day(habitat, light, built, s) for s in ("winter", "summer")}
    faults = drills.faults_of(habitat, built, {s: d.plan for s, d in days.items()})
    failures = median(lambda: drills.drill_all(habitat, light, built, days, faults), 1)
    lines += [
        "",
        "## The demo",
        "",
        "| what | s |",
        "| --- | ---: |",
        f"| a typical day until it repeats itself | {typical:.2f} |",
        f"| the year, {len(coarse[2].net.area)} surfaces (bar 10 s) | {whole:.1f} |",
        f"| all {len(faults)} failures, two days each (bar 10 s) | {failures:.1f} |",
    ]
    if not quick:
        lines += [
            "",
            "## Beside SciPy, the same compiled rates",
            "",
            f"The small habitat of the tests, {MINUTES} minutes: dawn, misting, lamps coming on. "
            "Error of the air against LSODA at 1e-8 [K]. SciPy calls the compiled rates from Python; "
            "the last column leaves that and all of its own work out: its calls, at what one costs "
            f"within compiled code ({1e6 * seconds_of_rates():.1f} us), over all that ours takes.",
            "",
            "| solver and tolerance | ms | error | times ours | calls | the calls alone, times ours |",
            "| --- | ---: | ---: | ---: | ---: | ---: |",
            *beside_scipy(),
        ]
    text = "\n".join(lines) + "\n"
    print(text)
    if not quick:
        (HERE / "climate_results.md").write_text(text)


if __name__ == "__main__":
    main()
