"""What is kept of drills and cures comes back as it was, through a file as well."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loamwright.engine.climate import drill_record
from loamwright.engine.climate.drills import Crossing, Drill, Limit
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.findings import Cure
from loamwright.engine.light import cure_record
from loamwright.files.kept import Kept
from report_sample import MEMORY, PUBLISHED, finding, findings


def run(start: float) -> ClimateRun:
    """A made-up run of three rows: two sites, a resident, two air cells, three surfaces, one lamp."""

    def table(*shape: int) -> np.ndarray:
        return start + np.arange(math.prod(shape), dtype=float).reshape(shape)

    surface = table(3, 2)
    surface[:, 1] = np.nan  # in free air
    return ClimateRun(
        "winter", table(3), table(3), ("perch", "hide"), table(3, 2), table(3, 2) / 1e3, surface,
        {"frog/one": table(3, 2)}, {"frog/one": 60.0 * table(3, 2)}, table(3), table(3), (2, 1),
        np.zeros(3), np.ones(3), table(3, 2), table(3, 2), table(3, 3), table(3, 3),
        ("floor", "top", "slab"), table(3), table(3, 1), table(3, 1), table(3, 0), table(3, 0),
        table(3), table(3), {"lamps": start}, {"mist": 2.0}, {"rays": -start}, (1e-9, -start),
        days=4, fault="stuck-on", lamp_names=("flood",), daytime=np.array([True, False, True]),
    )  # fmt: skip


HOT = Limit("frog", "hot", "air_warm", 299.15, MEMORY, "air")
DRY = Limit("frog", "dry", "humidity_day", 0.6, PUBLISHED, "humidity")
DRILLS = (
    Drill(
        "stuck-on", "flood", "winter", 480, 2880, run(290.0),
        (Crossing(HOT, 7200.0, 311.5, "hide", 2.5, of="air"),
         Crossing(DRY, math.inf, 0.71, "perch", 14.0, usual=True, of="humidity")),
        (311.5, "hide", 2.5), (288.25, "perch", 30.0), 1.5, 1.25, 3.6e6, 3.5e6,
        "a second thermostat", True, (Crossing(HOT, math.inf, 298.0, "hide", 3.0),),
    ),
    Drill(
        "power-cut", "", "summer", 0, 2880, run(280.0), (), (300.0, "perch", 1.0),
        (281.0, "hide", 47.0), 0.0, 1.25, 0.0, 3.5e6,
    ),
)  # fmt: skip


def assert_alike(one: ClimateRun, two: ClimateRun) -> None:
    for f in fields(ClimateRun):
        a, b = getattr(one, f.name), getattr(two, f.name)
        if isinstance(a, np.ndarray):
            assert (a.dtype, a.shape) == (b.dtype, b.shape), f.name
            np.testing.assert_array_equal(a, b)
        elif f.name in ("operative", "time_constant"):
            assert list(a) == list(b)
            for species in a:
                np.testing.assert_array_equal(a[species], b[species])
        else:
            assert (type(a), a) == (type(b), b), f.name


def stored(arrays: Mapping[str, Any], folder: Path | None) -> Mapping[str, Any]:
    """Arrays as they come back from a folder of kept results; as they are without one."""
    if folder is None:
        return arrays
    store = Kept(folder)
    store.put("k" * 64, arrays)
    kept = store.get("k" * 64)
    assert kept is not None
    return kept


@pytest.mark.parametrize("filed", [False, True])
def test_drills_come_back_as_they_were(filed: bool, tmp_path: Path) -> None:
    arrays = stored(drill_record.arrays_of(DRILLS), tmp_path if filed else None)
    found = drill_record.drills_of(arrays)
    assert len(found) == len(DRILLS)
    for back, drill in zip(found, DRILLS, strict=True):
        assert_alike(back.run, drill.run)
        # All but the run, whose arrays have no truth of their own.
        none = run(0.0)
        assert replace(back, run=none) == replace(drill, run=none)
    assert found[0].crossings[1].time == math.inf
    assert found[0].crossings[0].limit.source.kind is MEMORY.kind
    assert found[0].first == DRILLS[0].first
    assert found[1].held is None


def test_a_tenth_drill_is_not_taken_for_the_first() -> None:
    """Runs stand under their drill's number, of which one may begin like another."""
    many = [replace(DRILLS[1], subject=str(n), run=run(float(n))) for n in range(12)]
    found = drill_record.drills_of(drill_record.arrays_of(many))
    assert [d.subject for d in found] == [str(n) for n in range(12)]
    assert [float(d.run.hours[0]) for d in found] == [float(n) for n in range(12)]


def test_no_drills_are_none() -> None:
    assert drill_record.drills_of(drill_record.arrays_of(())) == []


CURES = (
    Cure("move", "uv", 1.6, to=(0.75, 0.4, 1.22)),
    None,
    Cure("dim", "left spot", 1.2, value=0.6),
    Cure("move", "grow", 8.25, to=(0.8, 0.22, 1.3)),
)


@pytest.mark.parametrize("filed", [False, True])
def test_cures_come_back_to_their_findings(filed: bool, tmp_path: Path) -> None:
    cured = [finding(site=f"site {n}", cure=cure) for n, cure in enumerate(CURES)]
    bare = [replace(f, cure=None) for f in cured]
    arrays = stored(cure_record.arrays_of(cured), tmp_path if filed else None)
    assert cure_record.with_cures(bare, arrays) == cured
    assert [f.cure for f in bare] == [None] * 4, "what was given stays as it was"


def test_findings_without_a_cure_stay_without() -> None:
    bare = [replace(f, cure=None) for f in findings()]
    assert cure_record.with_cures(bare, cure_record.arrays_of(bare)) == bare
