"""How long the demo's pack takes once its engines have run, and how large it is.

``python bench/pack_speed.py [EXAMPLE]``: runs the engines into a folder of kept results, then writes
the pack twice from them and compares every byte. Bars: 20 s, 5 MB.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from loamwright import pack_pages, workflow

SECONDS, BYTES = 20.0, 5_000_000
DATE = (2027, 3, 1)


def main(example: str = "forest-edge") -> int:
    with tempfile.TemporaryDirectory() as here:
        file, kept = Path(here) / f"{example}.yaml", Path(here) / "kept"
        workflow.new(file, example=example)
        start = time.perf_counter()
        checked = workflow.check(file, kept=kept)
        workflow.drills(checked.habitat, kept=kept)
        print(f"{example}: engines afresh {time.perf_counter() - start:.1f} s")
        made: list[dict[str, bytes]] = []
        took = []
        for name in ("one", "two"):
            start = time.perf_counter()
            folder = Path(here) / name
            packed = pack_pages.pack(file, folder, date=DATE, made="loamwright", kept=kept)
            took.append(time.perf_counter() - start)
            made.append(
                {str(p.relative_to(folder)): p.read_bytes() for p in sorted(packed.written)}
            )
        size = len(made[0][pack_pages.PDF])
        whole = sum(len(content) for content in made[0].values())
        print(f"pack {took[0]:.1f} s (bar {SECONDS:.0f} s), again {took[1]:.1f} s")
        print(f"PDF {size / 1e6:.2f} MB (bar {BYTES / 1e6:.0f} MB), {len(made[0])} files, "
              f"{whole / 1e6:.2f} MB in all")  # fmt: skip
        print("same bytes twice:", "yes" if made[0] == made[1] else "NO")
        good = took[0] <= SECONDS and size <= BYTES and made[0] == made[1]
        print("met" if good else "MISSED")
        return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
