"""Seconds for a year of what lives in the ground, printed; no test depends on them.

python bench/community_speed.py
"""

from __future__ import annotations

import time
from pathlib import Path

from loamwright import workflow
from loamwright.engine.life import decomposers_study as study
from loamwright.engine.life.decomposers_run import Community, run
from loamwright.engine.life.matter import Floor, Weather
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat
from loamwright.physics.leaf_decay import LEAVES

MILD = Weather((294.0, 297.0), (0.45, 0.5))


def timed(make, times: int = 5) -> float:
    """Least of some timings [s]; the first, which compiles, is left out."""
    make()
    found = []
    for _ in range(times):
        start = time.perf_counter()
        make()
        found.append(time.perf_counter() - start)
    return min(found)


def main() -> None:
    shipped = load_catalogue().decomposers
    kinds = tuple(x for x in shipped.values() if not x.unknown)
    floor = Floor(1.0, 0.8, LEAVES["oak"], "oak", True, 0.12, 1e-10)
    for count in (1, 2, len(kinds)):
        made = Community(kinds[:count], (200.0,) * count, floor, MILD, ())
        seconds = timed(lambda made=made: run(made, 365, moved_in=50))
        print(f"a year of {count} species: {seconds:.3f} s")
    example = Path(workflow.__file__).parent / "data" / "examples" / "forest-edge.yaml"
    habitat = read_habitat(example)
    seconds = timed(lambda: study.study_in(habitat, MILD, None, {}))
    print(f"all that is told of forest edge (about 25 years of it): {seconds:.3f} s")


if __name__ == "__main__":
    main()
