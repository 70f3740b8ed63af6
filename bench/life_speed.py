"""How fast the animals' part is: kinship of a large pedigree, and the demo's climbing graph.

``python bench/life_speed.py`` prints a table and fails outside its bars. Kinship is timed from a
habitat's own pedigree (names to rows, ancestors, table) as well as the table alone; values of both
are compared, and the demo's ways are told.
"""

from __future__ import annotations

import os
import platform
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from kinship_speed import herd

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "src" / "loamwright" / "data" / "examples"
ANIMALS, LIVING = 5_000, 400
KINSHIP_BAR, CLIMB_BAR = 2.0, 1.0
"""Seconds the kinship of 5,000 animals and the climbing graph of the demo may take."""


def seconds(work: Callable[[], Any], runs: int = 5) -> tuple[float, float, Any]:
    """Seconds of the first run and the median of all, and what came out."""
    spent = []
    for _ in range(runs):
        start = time.perf_counter()
        out = work()
        spent.append(time.perf_counter() - start)
    return spent[0], sorted(spent)[runs // 2], out


def main() -> None:
    from loamwright.engine.life import climbing, descent, gait
    from loamwright.engine.life.space import by_species
    from loamwright.files.reader import read_habitat
    from loamwright.habitat.residents import Individual
    from loamwright.physics.kinship import kinship_matrix

    sire, dam = herd(ANIMALS)
    sexes = ["male", "female"]
    pedigree = [
        Individual(f"a{i}", None, sexes[i % 2],
                   f"a{sire[i]}" if sire[i] >= 0 else None, f"a{dam[i]}" if dam[i] >= 0 else None)
        for i in range(ANIMALS)
    ]  # fmt: skip
    names = [x.name for x in pedigree]
    living = names[-LIVING:]
    kinship_matrix(sire[:10], dam[:10])  # loads the compiled loops
    table = seconds(lambda: kinship_matrix(sire, dam))
    whole = seconds(lambda: descent.herd_of(pedigree, names))
    measured = seconds(lambda: descent.measures(descent.herd_of(pedigree, living), "", living))
    off = float(np.abs(table[2] - whole[2].kinship).max())

    rows = [
        (f"kinship table of {ANIMALS} animals (bar {KINSHIP_BAR:g} s)", table),
        ("the same from a habitat's pedigree by name", whole),
        (f"mean kinship, diversity and founders of {LIVING} living", measured),
    ]
    told = []
    for name in ("forest-edge", "dry-rock", "rain-glass", "school-meadow"):
        habitat = read_habitat(EXAMPLES / f"{name}.yaml")
        groups = by_species(habitat)[0]
        held = gait.gait_of(groups)
        assert held is not None

        def graph(habitat: Any = habitat, groups: Any = groups, held: Any = held) -> Any:
            places = climbing.foot_places(habitat)
            return climbing.climb(habitat, places, groups[0].species, held)

        spent = seconds(graph)
        bar = f" (bar {CLIMB_BAR:g} s)" if name == "forest-edge" else ""
        rows.append((f"climbing graph of {name}{bar}", spent))
        told.append(f"{name}: {spent[2].places} foot places, {len(spent[2].reached)} named places "
                    f"reached, {len(spent[2].beyond)} not")  # fmt: skip

    print(f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}\n")
    print("| what | first, s | median, s |\n| --- | ---: | ---: |")
    for what, (first, median, _) in rows:
        print(f"| {what} | {first:.3f} | {median:.3f} |")
    print("\n" + "\n".join(told))
    print(f"\nLargest difference between the two kinship tables: {off:.1e}")
    demo = next(r[1] for r in rows if "forest-edge" in r[0])
    if off > 1e-12 or max(table[0], whole[0]) > KINSHIP_BAR or demo[0] > CLIMB_BAR:
        raise SystemExit("outside its bar")


if __name__ == "__main__":
    main()
