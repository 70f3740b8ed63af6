"""Drills as arrays, to be kept beside their runs, and back."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.drills import Crossing, Drill, Limit
from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.sources import Source, SourceKind

_PLAIN = (
    "key", "subject", "season", "begin", "lasts", "hottest", "coldest", "water", "water_usual",
    "electricity", "electricity_usual", "protection", "held",
)  # fmt: skip


def arrays_of(drills: Sequence[Drill]) -> dict[str, NDArray[Any]]:
    """Arrays that say everything of some drills: each one's run under its number, the rest as text."""
    out: dict[str, NDArray[Any]] = {}
    told = []
    for number, drill in enumerate(drills):
        out |= {f"{number}/{name}": array for name, array in drill.run.arrays().items()}
        one: dict[str, Any] = {name: getattr(drill, name) for name in _PLAIN}
        one["crossings"] = [asdict(c) for c in drill.crossings]
        one["protected"] = [asdict(c) for c in drill.protected]
        told.append(one)
    out["drills"] = np.array(json.dumps(told))
    return out


def drills_of(arrays: Mapping[str, NDArray[Any]]) -> list[Drill]:
    """The drills that `arrays_of` made arrays of."""
    found = []
    for number, one in enumerate(json.loads(str(arrays["drills"]))):
        mark = f"{number}/"
        run = ClimateRun.from_arrays(
            {k.removeprefix(mark): a for k, a in arrays.items() if k.startswith(mark)}
        )
        plain: dict[str, Any] = {name: one[name] for name in _PLAIN}
        for name in ("hottest", "coldest"):
            value, site, hours = plain[name]
            plain[name] = (float(value), site, float(hours))
        crossings, protected = (
            tuple(_crossing(c) for c in one[name]) for name in ("crossings", "protected")
        )
        found.append(Drill(run=run, crossings=crossings, protected=protected, **plain))
    return found


def _crossing(told: dict[str, Any]) -> Crossing:
    limit = dict(told.pop("limit"))
    source = dict(limit.pop("source"))
    kind = SourceKind(source.pop("kind"))
    return Crossing(Limit(source=Source(kind=kind, **source), **limit), **told)
