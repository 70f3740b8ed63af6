"""How fast the ground's water is, beside SciPy's stiff solvers; writes ``bench/ground_results.md``.

``python bench/ground_speed.py [--quick]``; ``--quick`` leaves the slow solvers out and writes nothing.
"""

from __future__ import annotations

import os
import platform
import sys
import time
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import scipy
from numba import njit
from scipy.integrate import odeint, solve_ivp
from scipy.sparse import diags

from loamwright.engine.ground import richards
from loamwright.engine.ground.column import Column, Slab, build_column
from loamwright.engine.ground.from_habitat import ground_column, layer_water
from loamwright.engine.ground.run import TOLERANCE, State, _acts, rest_over, run_column
from loamwright.files.reader import read_habitat

HERE = Path(__file__).parent
DEMO = HERE.parent / "src" / "loamwright" / "data" / "examples" / "forest-edge.yaml"
DAY = 86400.0
MIST, SECONDS = 5e-4, 40.0
DEMAND, ROOTS = 1.0e-8, 5e-9
"""Depth of one misting [m] and its length [s]; evaporation wanted by day and roots' demand [m/s]."""
SIDE_DAYS = 10
RUNS = 5


def weather(days: int, mist: float = MIST) -> tuple[np.ndarray, ...]:
    """Edges [s], mist, evaporation demand and roots' demand [m/s]: mist at 7:30 and 19:00, and
    evaporation and roots from 7:00 to 19:30."""
    edges = [0.0, 25200.0, 27000.0, 27000.0 + SECONDS, 68400.0, 68400.0 + SECONDS, 70200.0]
    rain = [0.0, 0.0, mist / SECONDS, 0.0, mist / SECONDS, 0.0, 0.0]
    light = np.array([0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 0.0])
    times = np.concatenate([np.array(edges) + d * DAY for d in range(days)] + [[days * DAY]])
    return times, np.tile(rain, days), np.tile(DEMAND * light, days), np.tile(ROOTS * light, days)


def seconds_of(work: Callable[[], Any], runs: int = RUNS) -> float:
    """Least processor seconds of some calls: others at work on the machine change it little."""
    spent = []
    for _ in range(runs):
        start = time.process_time()
        work()
        spent.append(time.process_time() - start)
    return min(spent)


def demo_columns() -> tuple[Column, Column]:
    """The demo's ground, and the same without its litter."""
    ground = read_habitat(DEMO).ground
    bare = [Slab(x.name, x.depth, layer_water(x).porous) for x in ground.layers[:-1]]
    return ground_column(ground, rooting=0.15), build_column(bare, rooting=0.15)


def year(column: Column) -> list[str]:
    acts = weather(365)
    start = rest_over(column, -0.2)
    result = run_column(column, *acts, start, DAY)
    spent = seconds_of(lambda: run_column(column, *acts, start, DAY))
    return [
        "## A year of the demo's ground",
        "",
        f"{', '.join(column.names)} and litter, {100 * column.depth:.1f} cm below the litter, "
        f"{len(column.height)} nodes; two mistings of {1000 * MIST:g} mm a day, daily records.",
        "",
        "| | |",
        "| --- | ---: |",
        f"| **seconds** (bar 2) | **{spent:.2f}** |",
        f"| steps | {result.steps} |",
        f"| evaluations of all nodes | {result.looks} |",
        f"| microseconds an evaluation | {1e6 * spent / result.looks:.1f} |",
        f"| water missed, as a share of that supplied (bar 1e-6) | {result.balance:.0e} |",
    ]


@njit(cache=True)
def slopes(head, rain, demand, roots, near, material, length, upwind, table, root, acts, work, out):
    """Right-hand side for the others: the rate at which each head changes [m/s]."""
    acts[richards.RAIN], acts[richards.EVAPORATION], acts[richards.ROOTS] = rain, demand, roots
    richards.fill_nodes(head, near, material, length, table, work)
    richards.fill_rates(head, length, upwind, root, acts, work, out)
    return work[richards.RATE] / work[richards.SLOPE]


class Side:
    """The demo without litter for some days, followed by whoever is asked; ``near`` as in
    `richards.fill_nodes`."""

    def __init__(self, column: Column, days: int, mist: float, level: float) -> None:
        self.column, self.acts = column, weather(days, mist)
        self.start = rest_over(column, level)
        self.near = 0.0
        self.count = len(column.height)
        self.asked = 0
        self._fixed = (
            column.material, column.length, column.upwind, column.table, column.root,
            _acts(column, 0.7, None, None),
            np.full((richards.ROWS, self.count), richards.UNSEEN), np.zeros(4),
        )  # fmt: skip

    def ours(self, tolerance: float) -> np.ndarray:
        result = run_column(self.column, *self.acts, self.start, DAY, tolerance=tolerance)
        return result.content[1:]

    def theirs(self, go: Callable[[Any, np.ndarray, float], np.ndarray]) -> np.ndarray:
        """Contents at each midnight; ``go`` follows one stretch between changes of the weather."""
        times, rain, demand, roots = self.acts
        head, kept = self.start.head.copy(), []
        for i in range(len(rain)):
            what = (rain[i], demand[i], roots[i], self.near, *self._fixed)

            def rate(y: np.ndarray, what: tuple = what) -> np.ndarray:
                self.asked += 1
                return slopes(y, *what)

            head = go(rate, head, times[i + 1] - times[i])
            if times[i + 1] % DAY == 0.0:
                kept.append(self.content(head))
        return np.array(kept)

    def content(self, head: np.ndarray) -> np.ndarray:
        state = State(head, np.zeros(self.count))
        work = self._fixed[6]
        richards.fill_nodes(state.head, 0.0, self.column.material, self.column.length,
                            self.column.table, work)  # fmt: skip
        return work[richards.WATER] / self.column.size


def by_odeint(tolerance: float) -> Callable[..., np.ndarray]:
    def go(rate: Any, head: np.ndarray, length: float) -> np.ndarray:
        found = odeint(
            lambda y, _: rate(y), head, [0.0, length], rtol=tolerance, atol=tolerance / 10.0,
            ml=1, mu=1, mxstep=1_000_000,
        )  # fmt: skip
        return np.ascontiguousarray(found[-1])

    return go


def by_ivp(method: str, tolerance: float, count: int) -> Callable[..., np.ndarray]:
    more: dict[str, Any] = {"lband": 1, "uband": 1}
    if method != "LSODA":
        more = {"jac_sparsity": diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(count, count))}

    def go(rate: Any, head: np.ndarray, length: float) -> np.ndarray:
        found = solve_ivp(
            lambda _, y: rate(y), (0.0, length), head, method=method, rtol=tolerance,
            atol=tolerance / 10.0, **more,
        )  # fmt: skip
        return np.ascontiguousarray(found.y[:, -1])

    return go


NAMES = {
    "odeint": "`odeint` (LSODA, banded)",
    "short": "the same, with our shortcut",
    "LSODA": "`solve_ivp` LSODA, banded",
    "BDF": "`solve_ivp` BDF, sparse",
    "Radau": "`solve_ivp` Radau, sparse",
}
CASES = {
    "Moist: mist that evaporates": (5e-4, -0.2),
    "Wet: 1.5 mm a misting, water stands in the drainage": (1.5e-3, 0.005),
}
"""Depth of one misting [m] and the water level at which the ground is at rest in the beginning."""


def side_by_side(column: Column, title: str, quick: bool) -> list[str]:
    side = Side(column, SIDE_DAYS, *CASES[title])
    judge = side.theirs(by_ivp("Radau", 1e-8, side.count))
    fine = (1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 1e-6, 1e-7)
    ladder = {
        "odeint": fine,
        "short": fine,
        "LSODA": () if quick else (1e-3, 1e-4, 1e-5, 1e-6),
        "BDF": () if quick else (1e-3, 1e-4, 1e-5, 1e-6),
        "Radau": () if quick else (1e-2, 1e-3, 1e-4),
    }

    def errors(content: np.ndarray) -> tuple[float, float]:
        miss = content - judge
        return float(np.abs(miss).max()), float(np.sqrt((miss * miss).mean()))

    side.ours(TOLERANCE)
    rows, ours, theirs, verdict = [], [], [], []
    for tolerance in (1e-2, TOLERANCE, 1e-3, 1e-4, 1e-5):
        spent = seconds_of(lambda t=tolerance: side.ours(t))
        ours.append((tolerance, spent, *errors(side.ours(tolerance))))
        mark = " (default)" if tolerance == TOLERANCE else ""
        worst, mean = ours[-1][2:]
        rows.append(f"| ours | {tolerance:g}{mark} | {spent:.4f} | {worst:.1e} | {mean:.1e} | |")
    for name, tolerances in ladder.items():
        side.near = richards.NEAR if name == "short" else 0.0
        for tolerance in tolerances:
            plain = name in ("odeint", "short")
            go = by_odeint(tolerance) if plain else by_ivp(name, tolerance, side.count)
            side.asked = 0
            worst, mean = errors(side.theirs(go))
            asked = side.asked
            runs = 1 if name in ("BDF", "Radau") else 3
            spent = seconds_of(lambda g=go: side.theirs(g), runs)
            theirs.append((name, tolerance, spent, worst, mean))
            rows.append(
                f"| {NAMES[name]} | {tolerance:g} | {spent:.3f} | {worst:.1e} | {mean:.1e} "
                f"| {asked} |"
            )
    for tolerance, spent, worst, mean in ours:
        good = [t for t in theirs if t[3] <= 1.05 * worst and t[4] <= 1.05 * mean]
        best = min(good, key=lambda t: t[2], default=None)
        ivp = min((t for t in good if t[0] in ("LSODA", "BDF", "Radau")), key=lambda t: t[2],
                  default=None)  # fmt: skip
        told = [
            f"{NAMES[t[0]]} at {t[1]:g}, {t[2]:.3f} s | **{t[2] / spent:.1f}**"
            if t is not None
            else "none as near |"
            for t in (best, ivp)
        ]
        verdict.append(f"| {tolerance:g} | {spent:.4f} | {' | '.join(told)} |")
    return [
        f"### {title}",
        "",
        "| solver | tolerance | s | largest error | rms error | calls |",
        "| --- | ---: | ---: | ---: | ---: | ---: |",
        *rows,
        "",
        "At equal error (neither error greater than ours, 5 % allowed):",
        "",
        "| our tolerance | s | quickest that is as near | times as long "
        "| quickest of `solve_ivp` | times as long |",
        "| ---: | ---: | --- | ---: | --- | ---: |",
        *verdict,
        "",
    ]


def beside_scipy(column: Column, quick: bool) -> list[str]:
    lines = [
        f"## Beside SciPy {scipy.__version__}",
        "",
        f"The same ground without litter, {SIDE_DAYS} days, {len(column.height)} nodes. The others "
        "get the very same compiled equations as rates of the heads, start anew where the weather "
        "changes, and know that the Jacobian is tridiagonal. Water contents at each midnight against "
        "`solve_ivp` Radau at a tolerance of 1e-8; *calls* of the compiled right-hand side; "
        "*our shortcut*: heads that hardly changed are taken along the slopes. An error of a per cent "
        "and more means that the solver lost its way (it says so with a warning). Processor seconds, "
        f"least of {RUNS} (of 3 for theirs, 1 for the slow ones).",
        "",
    ]
    for title in CASES:
        lines += side_by_side(column, title, quick)
    return lines


def growth() -> list[str]:
    """Cost against the number of nodes."""
    layers = read_habitat(DEMO).ground.layers[:-1]
    slabs = [Slab(x.name, x.depth, layer_water(x).porous) for x in layers]
    rows = []
    for finest in (2e-3, 1e-3, 5e-4, 2.5e-4):
        column = build_column(slabs, rooting=0.15, finest=finest)
        acts, start = weather(30), rest_over(column, -0.2)
        result = run_column(column, *acts, start, DAY)
        spent = seconds_of(lambda c=column, a=acts, s=start: run_column(c, *a, s, DAY), 3)
        rows.append(f"| {1000 * finest:g} | {len(column.height)} | {result.steps} | {spent:.3f} |")
    return [
        "## Growth with the mesh, 30 days",
        "",
        "| finest slice, mm | nodes | steps | s |",
        "| ---: | ---: | ---: | ---: |",
        *rows,
    ]


def machine() -> str:
    info = Path("/proc/cpuinfo")
    names = []
    if info.exists():
        lines = info.read_text("utf-8").splitlines()
        names = [x.split(":")[1].strip() for x in lines if "model name" in x]
    what = f", {names[0]}" if names else ""
    return (
        f"{os.cpu_count()} cores{what}; {platform.system()} {platform.machine()}; Python "
        f"{platform.python_version()}, numpy {np.__version__}. One core is used."
    )


def main(arguments: list[str]) -> None:
    quick = "--quick" in arguments
    whole, bare = demo_columns()
    # Solvers that lose their way warn once a stretch; their errors in the table say it better.
    warnings.simplefilter("ignore")
    lines = ["# Speed of the ground's water", "", machine(), ""]
    for part in (lambda: year(whole), lambda: beside_scipy(bare, quick), growth):
        block = part()
        print("\n".join(block), "\n", flush=True)
        lines += [*block, ""]
    if not quick:
        (HERE / "ground_results.md").write_text("\n".join(lines), "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
