"""How fast pedigrees are: kinship table, inbreeding, gene drop, beside plain references.

``python bench/kinship_speed.py [ANIMALS]`` prints a table; 5,000 animals unless told. The references
are written here apart from the package: the tabular method row by row in numpy, and in plain Python on
lists (run on a pedigree of at most 1,000 and scaled by the square, as it goes). Values are compared.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

HERE = Path(__file__).parent
ANIMALS = 5_000
FOUNDERS = 40
BAR = 2.0
"""Seconds the table of 5,000 animals may take."""
PLAIN = 1_000
"""Animals of the plain-Python run."""
DROPS = 1_000


def herd(n: int, seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    """A herd that grows from founders, mating within the last 400 born."""
    generator = np.random.default_rng(seed)
    sire, dam = np.full(n, -1), np.full(n, -1)
    for i in range(FOUNDERS, n):
        sire[i], dam[i] = generator.choice(np.arange(max(0, i - 400), i), 2, replace=False)
    return sire, dam


def numpy_table(sire: np.ndarray, dam: np.ndarray) -> np.ndarray:
    """The tabular method, a row at a time."""
    n = sire.size
    table = np.zeros((n, n))
    for i in range(n):
        table[i, i] = 0.5
        for parent in (sire[i], dam[i]):
            if parent >= 0:
                table[i, :i] += 0.5 * table[parent, :i]
        table[:i, i] = table[i, :i]
        if sire[i] >= 0 and dam[i] >= 0:
            table[i, i] += 0.5 * table[sire[i], dam[i]]
    return table


def plain_table(sire: list[int], dam: list[int]) -> list[list[float]]:
    """The tabular method on lists."""
    n = len(sire)
    table = [[0.0] * n for _ in range(n)]
    for i in range(n):
        row = table[i]
        s, d = sire[i], dam[i]
        for j in range(i):
            value = 0.0
            if s >= 0:
                value += 0.5 * table[s][j]
            if d >= 0:
                value += 0.5 * table[d][j]
            row[j] = table[j][i] = value
        row[i] = 0.5 + (0.5 * table[s][d] if s >= 0 and d >= 0 else 0.0)
    return table


def seconds(work: Callable[[], Any], runs: int = 5) -> tuple[float, Any]:
    """Median seconds, and what came out."""
    spent = []
    for _ in range(runs):
        start = time.perf_counter()
        out = work()
        spent.append(time.perf_counter() - start)
    return sorted(spent)[runs // 2], out


def fresh_process(n: int, cache: str | None) -> float:
    """Seconds of the first table in a new process, imports apart; ``cache`` empty: compiling too."""
    code = (
        "import sys, time; sys.path.insert(0, sys.argv[2]); import kinship_speed as k; "
        "from loamwright.physics import kinship; s, d = k.herd(int(sys.argv[1])); "
        "t = time.perf_counter(); kinship.kinship_matrix(s, d); print(time.perf_counter() - t)"
    )
    environment = {**os.environ, **({"NUMBA_CACHE_DIR": cache} if cache else {})}
    done = subprocess.run(
        [sys.executable, "-c", code, str(n), str(HERE)],
        capture_output=True, text=True, env=environment, check=True,
    )  # fmt: skip
    return float(done.stdout)


def main() -> None:
    from loamwright.physics import founders, kinship

    n = int(sys.argv[1]) if len(sys.argv) > 1 else ANIMALS
    sire, dam = herd(n)
    generator = np.random.default_rng(2)
    place = generator.permutation(n)
    mixed = [np.full(n, -1), np.full(n, -1)]
    for source, target in zip((sire, dam), mixed, strict=True):
        known = source >= 0
        target[place[known]] = place[source[known]]

    with tempfile.TemporaryDirectory() as empty:
        first = fresh_process(n, empty)
    again = fresh_process(n, None)
    ours, table = seconds(lambda: kinship.kinship_matrix(sire, dam))
    any_order, table_mixed = seconds(lambda: kinship.kinship_matrix(*mixed))
    by_numpy, right = seconds(lambda: numpy_table(sire, dam), 3)
    m = min(n, PLAIN)
    small = (sire[:m].tolist(), dam[:m].tolist())
    by_lists, listed = seconds(lambda: plain_table(*small), 1)
    no_table, coefficients = seconds(lambda: kinship.inbreeding(sire, dam))
    with_all, means = seconds(lambda: kinship.kinship_with(sire, dam, np.ones(n)))
    living = np.arange(max(0, n - 400), n)
    drop, _ = seconds(
        lambda: founders.gene_drop(sire, dam, living, DROPS, np.random.default_rng(3)), 1
    )

    off = max(
        float(np.abs(table - right).max()),
        float(np.abs(table_mixed[np.ix_(place, place)] - right).max()),
        float(np.abs(np.asarray(listed) - right[:m, :m]).max()),
        float(np.abs(coefficients - (2.0 * np.diag(right) - 1.0)).max()),
        float(np.abs(means - right.mean(axis=1)).max()),
    )
    print(f"{n} animals, {FOUNDERS} founders, mean inbreeding {coefficients.mean():.3f}")
    print(f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}\n")
    print("| what | s |\n| --- | ---: |")
    for name, value in (
        (f"**kinship table** (bar {BAR:g} s at 5,000)", ours),
        ("the same, rows in any order", any_order),
        ("the same, first call of a new process", again),
        ("the same, the very first on a machine, compiling", first),
        ("reference: numpy, row by row", by_numpy),
        (f"reference: plain Python (from {m} animals)", by_lists * (n / m) ** 2),
        ("inbreeding of all, without the table", no_table),
        ("mean kinship of all, without the table", with_all),
        (f"{DROPS} gene drops, 400 living", drop),
    ):
        print(f"| {name} | {value:.3f} |")
    print(f"\nLargest difference between any two ways: {off:.1e}")
    if off > 1e-12 or (n <= ANIMALS and max(ours, any_order, again) > BAR):
        raise SystemExit("outside its bar")


if __name__ == "__main__":
    main()
