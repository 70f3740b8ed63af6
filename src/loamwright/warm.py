"""`python -m loamwright.warm`: compile the engine's loops once, so that the first check is quick.

The compiled loops are kept beside the package (or where ``NUMBA_CACHE_DIR`` says).
"""

from __future__ import annotations


def warm() -> None:
    """Run a tiny habitat with every kind of lamp, a mesh, a crown and doors through the engine."""
    from importlib.resources import files
    from pathlib import Path

    from loamwright import workflow

    with_everything = files("loamwright").joinpath("data/warm.yaml")
    workflow.check(Path(str(with_everything)))


if __name__ == "__main__":
    warm()
