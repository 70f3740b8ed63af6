"""A year: hours by date, the room's own conditions, months and hours outside what is asked for."""

from __future__ import annotations

import json
from dataclasses import replace

import jsonschema
import numpy as np
import pytest

import climate_small as small
from loamwright import workflow
from loamwright.engine.climate import months, year
from loamwright.habitat.controls import Schedule
from loamwright.habitat.room import RoomYear
from loamwright.report import year_report

SCHEDULE = Schedule(winter=(8.0 * 3600, 17.0 * 3600), summer=(6.0 * 3600, 20.0 * 3600))


def test_hours_of_the_day_go_from_winters_to_summers_and_back():
    assert year.hours_on(SCHEDULE, year.COLDEST) == pytest.approx((28800.0, 61200.0))
    start, end = year.hours_on(SCHEDULE, year.COLDEST + 182)
    assert (start, end) == (pytest.approx(21600.0, abs=10.0), pytest.approx(72000.0, abs=10.0))
    spans = [np.diff(year.hours_on(SCHEDULE, d))[0] for d in range(365)]
    assert max(spans) == pytest.approx(14 * 3600.0, abs=10.0)
    assert min(spans) == pytest.approx(9 * 3600.0, abs=10.0)


def test_a_room_without_readings_lies_between_its_seasons():
    room = year.room_by_minute(small.habitat())
    assert room.temperature.shape == (365 * 1440,)
    assert room.temperature.min() == pytest.approx(291.15, abs=0.05)
    assert room.temperature.max() == pytest.approx(299.15, abs=0.05)


def test_readings_by_the_hour_are_followed():
    hourly = tuple(290.0 + 5.0 * np.sin(2 * np.pi * np.arange(8760) / 8760))
    read = RoomYear(hourly, (0.5,) * 8760, "a test's own")
    habitat = replace(small.habitat(), room=replace(small.habitat().room, year=read))
    room = year.room_by_minute(habitat)
    for hour in (0, 100, 4380, 8759):
        assert room.temperature[hour * 60 + 30] == pytest.approx(hourly[hour], abs=1e-9)


@pytest.mark.slow
def test_a_year_runs_closes_and_is_told_by_months(monkeypatch):
    """Shortened to a dozen days, each standing for a month."""
    monkeypatch.setattr(year, "DAYS", 12)
    monkeypatch.setattr(months, "LENGTHS", (1,) * 12)
    told: list[int] = []
    run = year.run_year(small.habitat(), small.light(), small.built(), told.append)
    assert told == list(range(1, 13))
    assert len(run.hours) == 12 * 24 + 1
    assert max(abs(x) for x in run.balance) < 1e-6
    found = months.months(small.habitat(), run)
    assert sum(m.electricity for m in found) == pytest.approx(run.electricity, rel=1e-9)
    assert sum(m.sprayed for m in found) == pytest.approx(run.water["mist"], rel=1e-9)
    key = small.habitat().animals[0].species.key
    band = months.bands(small.habitat().animals[0].species)["humidity by day"]
    rows = slice(1, 25)
    damp = run.humidity[rows][:, :3].mean(axis=1)
    lit = run.daytime[rows]
    low = damp < band[0] if band[0] is not None else np.zeros(24, bool)
    high = damp > band[1] if band[1] is not None else np.zeros(24, bool)
    if band != (None, None):
        assert found[0].outside[key, "humidity by day"] == ((low | high) & lit).sum()
    document = year_report.year_document(small.habitat(), run)
    jsonschema.validate(json.loads(json.dumps(document)), workflow.schema("year"))
    first, second = year_report.year_tables(small.habitat(), run, "us")
    assert len(first.rows) == 12
    assert "°F" in first.columns[1]
    assert second.title
