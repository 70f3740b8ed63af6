"""Faults: what each does to the habitat, and which protection holds."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

import climate_small as small
from loamwright import workflow
from loamwright.cli import main
from loamwright.engine.climate import drills, study
from loamwright.report import drill_report

pytestmark = pytest.mark.slow

EXAMPLES = Path(__file__).parent.parent / "src" / "loamwright" / "data" / "examples"


@cache
def days():
    return {s: small.settled(s) for s in ("winter", "summer")}


@cache
def faults():
    plans = {s: d.plan for s, d in days().items()}
    return {(f.key, f.subject): f for f in drills.faults_of(small.habitat(), small.built(), plans)}


@cache
def ran(key: str, subject: str = "") -> drills.Drill:
    fault = faults()[key, subject]
    return drills.drill_all(small.habitat(), small.light(), small.built(), days(), [fault])[0]


def test_every_thing_that_can_fail_is_listed():
    assert set(faults()) == {
        ("stuck-on", "basking"), ("stuck-off", "basking"), ("lamp-out", "flood"),
        ("fan-stopped", "exhaust"), ("mist-stuck-on", "pump"), ("mist-off", "pump"),
        ("tank-empty", "tank"), ("power-cut", ""), ("heat-wave", ""), ("door-open", "front"),
    }  # fmt: skip


def test_a_stuck_thermostat_burns_all_night_and_an_independent_limit_holds_it():
    stuck = ran("stuck-on", "basking")
    usual = days()["summer"].run
    basking = usual.site("basking")
    assert stuck.run.surface[:, basking].max() > usual.surface[:, basking].max() + 2.0
    # Lit by night as well: that is what stuck means.
    flood = stuck.run.lamp_names.index("flood")
    dark = (stuck.run.clock > 1.0) & (stuck.run.clock < 5.0)
    assert stuck.run.lamps[dark, flood].min() == pytest.approx(1.0)
    assert stuck.protection == "cut-out"
    fault = faults()["stuck-on", "basking"]
    assert fault.protected is not None
    safe = study.spell(
        small.habitat(), small.light(), small.built(), fault.protected, days()["summer"].state,
        days()["summer"].memory, season="summer", begin=fault.begin, minutes=drills.LENGTH, every=5,
    )  # fmt: skip
    assert safe.surface[:, basking].max() < stuck.run.surface[:, basking].max() - 0.5


def test_a_lamp_that_is_out_leaves_its_place_cold():
    out = ran("lamp-out", "flood")
    usual = days()["winter"].run
    noon, at = usual.rows_by_hour[12], out.run.hours
    row = int(abs(at - 3.0).argmin())  # begun at nine
    basking = usual.site("basking")
    assert out.run.surface[row, basking] < usual.surface[noon, basking] - 5.0
    assert out.electricity < out.electricity_usual


def test_without_electricity_nothing_runs():
    cut = ran("power-cut")
    inside = cut.run.hours < 24.0
    assert cut.run.lamps[1:][inside[1:]].max() == 0.0
    assert cut.run.mist[1:][inside[1:]].max() == 0.0
    assert cut.electricity < 0.6 * cut.electricity_usual


def test_a_stuck_valve_empties_the_tank_and_no_more():
    wet = ran("mist-stuck-on", "pump")
    assert wet.water == pytest.approx(2.0, rel=1e-6)
    assert wet.water_usual == pytest.approx(0.09, rel=1e-6)
    assert ran("mist-off", "pump").water == 0.0
    assert ran("tank-empty", "tank").water == 0.0


def test_an_open_door_lets_the_rooms_night_in():
    door = ran("door-open", "front")
    usual = days()["winter"].run
    open_ = (door.run.hours > 1.0) & (door.run.hours < 8.0)
    dark = (usual.clock > 21.0) | (usual.clock < 5.0)
    assert door.run.changes[open_].mean() > 5.0 * usual.changes[dark].mean()
    middle = usual.site("middle")
    room = door.run.room[open_]
    assert abs(door.run.air[open_, middle] - room).max() < 1.0


def test_a_heat_wave_lifts_everything_by_about_as_much():
    wave = ran("heat-wave")
    usual = days()["summer"].run
    hide = usual.site("hide")
    rise = wave.run.air[-1, hide] - usual.air[usual.rows_by_hour[9], hide]
    assert 0.6 * drills.HEAT_WAVE < rise < 1.05 * drills.HEAT_WAVE


def test_limits_passed_without_the_fault_are_marked():
    source = small.habitat().animals[0].species.source_of("night")
    limit = drills.Limit("anolis-carolinensis", "cold", "night", 400.0, source)
    run = days()["winter"].run
    found = drills.crossing(small.habitat(), run, limit)
    assert found is not None
    assert found.time == 0.0
    (marked,) = drills._marked((found,), (found,))
    assert marked.usual
    assert replace(ran("power-cut"), crossings=(marked,)).first is None


def test_crossings_are_timed_from_the_fault():
    drill = ran("heat-wave")
    for c in drill.crossings:
        table = drill.run.operative[c.limit.species]
        places = [drill.run.site("hide")]
        if c.limit.kind == "hot" and math.isfinite(c.time):
            row = round(c.time / 300.0)
            assert table[row, places].min() > c.limit.value
            assert row == 0 or table[row - 1, places].min() <= c.limit.value


def test_what_is_not_known_of_a_body_is_held_against_the_air_it_wants():
    """Of a frog neither what its body bears nor its mass is in the catalogue."""
    frog = workflow.read(EXAMPLES / "rain-glass.yaml").animals[0].species
    limits = {x.name: x for x in drills.limits_of(frog)}
    assert limits["air_warm"].of == "air"
    assert limits["air_warm"].value == pytest.approx(299.15)
    assert (limits["humidity_day"].of, limits["humidity_day"].kind) == ("humidity", "dry")
    assert {x.kind for x in drills.limits_of(replace(frog, voluntary_max=303.0))} >= {"hot", "cold"}
    known = {x.name for x in drills.limits_of(replace(frog, voluntary_max=303.0))}
    assert "air_warm" not in known

    habitat, wave = small.habitat(), ran("heat-wave")
    hide = wave.run.site("hide")
    source = habitat.animals[0].species.source_of("night")
    key = habitat.animals[0].species.key
    peak = wave.run.air[:, hide].max()
    warm = drills.crossing(
        habitat, wave.run, drills.Limit(key, "hot", "air_warm", peak - 1.0, source, "air")
    )
    assert warm is not None
    assert (warm.of, warm.site, warm.peak) == ("air", "hide", pytest.approx(peak))
    row = round(warm.time / 300.0)
    assert wave.run.air[row, hide] > peak - 1.0 >= wave.run.air[row - 1, hide]
    damp = drills.crossing(
        habitat, wave.run, drills.Limit(key, "dry", "humidity_day", 1.1, source, "humidity")
    )
    assert damp is not None
    assert damp.time == 0.0
    assert damp.peak <= 1.0
    unknown = replace(wave.run, operative={})
    cold = drills.crossing(habitat, unknown, drills.Limit(key, "cold", "night", 200.0, source))
    assert cold is not None
    assert cold.of == "air"
    told = drill_report.told(habitat, replace(wave, crossings=(warm, damp)), "metric")
    lines = " ".join(line for _, line in told.lines)
    assert "the warm end of the air it wants" in lines
    assert "the air of its best refuge goes to" in lines
    assert "110 %" in lines
    document = drill_report.drill_document(habitat, [replace(wave, crossings=(warm, damp, cold))])
    jsonschema.validate(json.loads(json.dumps(document)), workflow.schema("drill"))


def test_drills_close_their_balances():
    for key in (("stuck-on", "basking"), ("door-open", "front"), ("mist-stuck-on", "pump")):
        heat, water = ran(*key).run.balance
        assert abs(heat) < 1e-6
        assert abs(water) < 1e-6


def test_the_command_prints_and_its_document_keeps_its_schema(tmp_path, monkeypatch):
    monkeypatch.setenv("LOAMWRIGHT_CACHE", str(tmp_path))
    told = CliRunner().invoke(main, ["drill", str(small.FILE), "--only", "power-cut"])
    assert told.exit_code in (0, 1), told.output
    assert "power cut" in told.output
    document = drill_report.drill_document(small.habitat(), [ran("power-cut"), ran("heat-wave")])
    jsonschema.validate(json.loads(json.dumps(document)), workflow.schema("drill"))
    wrong = CliRunner().invoke(main, ["drill", str(small.FILE), "--only", "earthquake"])
    assert wrong.exit_code == 2
    assert "no fault 'earthquake' can happen here; there is stuck-on" in wrong.output


def test_faults_are_drawn_where_asked(tmp_path, monkeypatch):
    monkeypatch.setenv("LOAMWRIGHT_CACHE", str(tmp_path / "kept"))
    asked = ["drill", str(small.FILE), "--only", "heat-wave", "-o", str(tmp_path / "drawn")]
    told = CliRunner().invoke(main, asked)
    assert told.exit_code in (0, 1), told.output
    picture = tmp_path / "drawn" / "drill-heat-wave.png"
    assert picture.read_bytes().startswith(b"\x89PNG")
    again = CliRunner().invoke(main, asked)
    assert again.exit_code == 2
    assert "drill-heat-wave.png is there already; --force writes over it" in again.output
