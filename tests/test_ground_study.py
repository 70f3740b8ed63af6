"""The ground over weeks: drowning, drying, watering plans, findings, old ground, documents, charts."""

from __future__ import annotations

import json
import time
from dataclasses import replace
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from click.testing import CliRunner

from loamwright import workflow
from loamwright.cli import main
from loamwright.engine.findings import State
from loamwright.engine.ground import study
from loamwright.engine.ground.coupled import Coupled
from loamwright.engine.ground.findings import ground_findings
from loamwright.engine.ground.inspection import inspect
from loamwright.engine.ground.outlook import PLANNED, amounts, look_ahead
from loamwright.engine.ground.stuck import Landing, landing_of
from loamwright.engine.ground.weather import STEP, DayOfGround, between, day_of_ground
from loamwright.files.reader import read_habitat
from loamwright.habitat.residents import Existing
from loamwright.report import ground_blocks, ground_charts, ground_out
from loamwright.report.words import word

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


def example(name):
    return read_habitat(EXAMPLES / f"{name}.yaml")


def day(lands, demand, roots=0.0):
    """A day on which so many millimetres land at nine, and are asked for evenly."""
    at_nine = np.zeros(24)
    at_nine[9] = lands * 1e-3 / STEP
    even = np.full(24, 1e-3 / 86400.0)
    return DayOfGround(at_nine, demand * even, roots * even, 0.8, 1.0, 0.5)


def outlook(name, of_day, days=28, **more):
    return look_ahead(example(name), of_day, of_day, days, "winter", **more)


def by_need(habitat, found):
    return {f.need: f for f in ground_findings(habitat, amounts(habitat), [found])}


def test_too_much_mist_drowns_the_rain_glass_and_is_named():
    found = outlook("rain-glass", day(2.3, 0.1))
    needs = by_need(example("rain-glass"), found)
    for need in ("standing-water", "ground-moist", "ground-air", "ground-top", "ground-drowned"):
        assert needs[need].state is State.MISSED, need
    assert found.draw_off() is not None
    assert 0.0 < found.plan.mist_most < 0.5
    assert not found.plan.kept
    told = word(needs["standing-water"], example("rain-glass"))
    assert "draw it off from day" in told.why.lower()
    assert "of this mist would be the most" in told.why
    # With the share that is named nothing drowns; with half as much more it does.
    setting, first = found.setting, found.plan.watering
    kept = study.forecast(setting, PLANNED, first, mist=found.plan.mist_most)
    assert not study.drowned(setting, kept)
    over = study.forecast(setting, PLANNED, first, mist=1.5 * found.plan.mist_most)
    assert study.drowned(setting, over)


def test_the_same_ground_with_little_mist_does_not():
    found = outlook("rain-glass", day(0.08, 0.5))
    needs = by_need(example("rain-glass"), found)
    for need in ("standing-water", "ground-moist", "ground-air", "ground-top", "ground-drowned"):
        assert needs[need].state is State.MET, need
    assert found.forecast.run.standing.max() == 0.0


def test_water_that_comes_in_is_where_the_sums_say():
    run = outlook("rain-glass", day(2.3, 0.1)).forecast.run
    lost = run.evaporated[-1] + run.from_litter[-1] + run.taken[-1] + run.drained[-1]
    assert run.supplied[-1] - lost == pytest.approx(run.stored[-1] - run.stored[0], rel=1e-6)
    assert run.drained[-1] == 0.0


def test_a_plan_by_hand_keeps_what_mist_alone_does_not():
    dry = day(0.1, 1.0, 0.5)
    found = outlook("school-meadow", dry, days=56)
    low, high = found.setting.band
    assert found.plan.kept
    assert found.plan.watering.days > 0
    assert found.forecast.middle[1:].min() >= low
    assert found.forecast.middle.max() <= high
    alone = outlook("school-meadow", dry, days=56, by_hand=False)
    assert alone.forecast.middle.min() < low
    assert by_need(example("school-meadow"), alone)["ground-moist"].state is State.MISSED
    # Without water it dries, and the sooner the more is drawn.
    thirsty = outlook("school-meadow", day(0.1, 1.0, 1.5), days=56)
    assert thirsty.dries < found.dries


def test_the_plan_is_the_least_that_lasts():
    found = outlook("school-meadow", day(0.1, 1.0, 0.5))
    setting, plan = found.setting, found.plan.watering
    low, high = setting.band
    kept_at = low + setting.reserve * (high - low)
    # Followed for a year it keeps the band, and ends its cycles where the reserve begins.
    year = study.forecast(setting, PLANNED, plan)
    assert low <= year.middle[1:].min()
    assert year.middle[1:].min() == pytest.approx(kept_at, abs=0.01)
    assert year.run.standing.max() < 0.01
    # A tenth less lives on what the ground began with: it ends lower.
    less = study.forecast(setting, PLANNED, replace(plan, amount=0.9 * plan.amount))
    assert less.middle[1:].min() < kept_at - 0.005
    # Nothing is poured before the ground has come down to its reserve.
    before = year.middle[1 : plan.start]
    assert len(before)
    assert before.min() >= kept_at
    poured = np.diff(year.run.supplied) * setting.area
    due = list(range(plan.start, PLANNED, plan.days))
    mist = 0.1e-3 * setting.area
    assert poured[due] == pytest.approx(plan.amount * setting.area + mist, rel=1e-6)
    assert poured[plan.start + 1] == pytest.approx(mist, rel=1e-6)


def test_a_holiday_begins_after_a_last_watering():
    found = outlook("school-meadow", day(0.1, 1.0, 0.5))
    supplied = found.without.run.supplied
    assert supplied[-1] == pytest.approx(found.plan.watering.amount)
    assert found.dries is not None
    fell = found.without.middle < found.setting.band[0]
    assert found.without.days[fell][0] == found.dries


def sprayed(litres, hours, area, share=1.0):
    """A tank sprayed evenly in so many hours of two days, of which a share lands."""
    edges = np.array([0.0, 9.0, 9.0 + hours, 48.0]) * 3600.0
    rates = np.array([0.0, share * litres / 1000.0 / area / (hours * 3600.0), 0.0])
    return Landing(edges, rates, litres)


def test_a_stuck_valve_is_followed_and_named():
    habitat = example("rain-glass")
    area = outlook("rain-glass", day(0.2, 0.3)).setting.area
    mild = outlook("rain-glass", day(0.2, 0.3), stuck=sprayed(8.0, 3.0, area, 0.5))
    needs = by_need(habitat, mild)
    assert needs["stuck-mist"].state is State.MET
    told = word(needs["stuck-mist"], habitat).why
    assert "sprays 8 L" in told
    assert "4 L of that reach the ground" in told
    harsh = outlook("rain-glass", day(0.2, 0.3), stuck=sprayed(30.0, 3.0, area))
    assert by_need(habitat, harsh)["stuck-mist"].state is State.MISSED
    # All that lands is in the ground or on it, but for what two days dry.
    run = harsh.stuck.run
    gained = run.stored[-1] - run.stored[0]
    lost = run.evaporated[-1] + run.from_litter[-1] + run.taken[-1]
    assert gained + lost == pytest.approx(0.030 / area, rel=1e-6)
    document = ground_out.ground_document(habitat, amounts(habitat), Coupled((harsh,), {}, 1, 0.0))
    stuck = document["water"]["stuck_mist"]
    assert stuck["sprayed_l"] == stuck["landed_l"] == pytest.approx(30.0)
    assert "stuck-mist" not in by_need(habitat, outlook("rain-glass", day(0.2, 0.3)))


def test_what_lands_in_a_run_is_film_that_rises_and_what_runs_in():
    from climate_sample import climate_habitat
    from climate_sample import run as sample

    run = sample(climate_habitat())
    film = np.zeros((len(run.hours), 1))
    film[10:, 0] = 0.4
    mist = np.zeros(len(run.hours))
    mist[10:14] = 60.0
    run = replace(
        run, films=film, surface_owner=("ground",), surface_area=np.array([0.2]), mist=mist,
        water={"mist": 2.0, "soil": 0.0, "leaves": 0.0, "soaked": 0.8, "vented": 0.0},
    )  # fmt: skip
    found = landing_of(run, 0.2)
    assert found.sprayed == 2.0
    assert found.depth == pytest.approx(0.4e-3 + 0.8e-3 / 0.2)
    wet = np.nonzero(found.rates)[0]
    assert (wet[0], wet[-1]) == (9, 12)


def test_the_chart_names_what_drowns(monkeypatch):
    from matplotlib.figure import Figure

    texts = []
    keep = Figure.text

    def noted(self, x, y, s, *more, **words):
        texts.append(s)
        return keep(self, x, y, s, *more, **words)

    monkeypatch.setattr(Figure, "text", noted)
    habitat = example("rain-glass")
    for lands, missed in ((2.3, True), (0.2, False)):
        texts.clear()
        water = Coupled((outlook("rain-glass", day(lands, 0.3)),), {}, 1, 0.0)
        ground_charts.ground_chart(habitat, amounts(habitat), water, "svg", "metric")
        told = [t for t in texts if t.startswith("Missed: water that stands on the floor")]
        assert bool(told) is missed


def test_a_year_takes_two_seconds_at_most():
    """The bar; `bench/ground_speed.py` measures it in earnest."""
    still = day(0.5, 0.4, 0.2)
    setting = study.setting_of(example("forest-edge"), still, still)
    study.forecast(setting, 1, study.Watering(0.01))
    start = time.process_time()
    found = study.forecast(setting, 365, study.Watering(0.01, 0.003, 14))
    assert time.process_time() - start < 2.0
    assert found.run.balance < 1e-6


def test_a_year_swings_between_its_days():
    winter, summer = day(0.1, 1.0), day(0.3, 2.0)
    assert between(winter, summer, 0.0).landed == pytest.approx(winter.landed)
    assert between(winter, summer, 182.5).landed == pytest.approx(summer.landed)
    assert between(winter, summer, 91.25).landed == pytest.approx(0.2e-3)


def test_film_that_rises_is_water_that_falls_is_demand():
    habitat = example("rain-glass")
    from climate_sample import climate_habitat
    from climate_sample import run as sample

    run = sample(climate_habitat())
    film = np.zeros((len(run.hours), 1))
    film[54:60, 0] = [0.5, 0.4, 0.3, 0.2, 0.1, 0.0]
    run = replace(
        run, films=film, surface_owner=("ground",), surface_area=np.array([0.2]),
        water={"mist": 1.0, "soil": 0.05, "leaves": 0.1, "soaked": 0.02, "vented": 0.0},
    )  # fmt: skip
    made = day_of_ground(habitat, run, 0.2, {"mix": 0.5})
    # 0.5 kg/m2 risen and 0.02 kg over 0.2 m2 run in.
    assert made.landed == pytest.approx(0.5e-3 + 0.1e-3)
    assert made.demand.sum() * STEP > 0.5e-3 + 0.25e-3
    assert made.reaches == pytest.approx(0.6e-3 * 0.2 * 1000)
    # Of the leaves only those of plants rooted in the ground.
    assert 0.0 < made.roots.sum() * STEP < 0.5e-3


@pytest.mark.parametrize(
    ("said", "verdict", "share"),
    [
        ({"smell": "earthy", "clumps": "few", "moist": "even"}, "reuse", 1.0),
        ({"smell": "rotten eggs"}, "discard", 0.0),
        ({"smell": "earthy", "colour": "grey below"}, "discard", 0.0),
        ({"smell": "sour", "clumps": "many", "moist": "wet below"}, "discard", 0.0),
        ({"smell": "musty", "clumps": "none"}, "part", 0.25),
        ({"smell": "earthy", "moist": "dry on top"}, "reuse", 1.0),
        ({"smell": "earthy", "life": "fungus gnats"}, "part", 0.25),
        ({"smell": "earthy with a little egg"}, "discard", 0.0),
        ({"smell": "earthy, no smell of eggs"}, "reuse", 1.0),
        ({"smell": "not sour, fresh", "wet": "evenly moist"}, "reuse", 1.0),
        ({"smell": "earthy", "life": "many springtails, no mites"}, "reuse", 1.0),
        ({"smell": "earthy", "life": "no springtails"}, "part", 0.25),
        ({"smell": "earthy", "life": "springtails and some mites"}, "part", 0.25),
        ({"smell": "fresh", "colour": "not brown"}, "reuse", 1.0),
        ({"clumps": "few"}, "unknown", 0.25),
        ({"smell": "like grandmother"}, "unknown", 0.25),
        ({}, "unknown", 0.25),
    ],
)
def test_old_ground_is_judged(said, verdict, share):
    sheet = inspect(Existing("tank", 0.04, tuple(said.items())))
    assert (sheet.verdict, sheet.share) == (verdict, share)


def test_reusing_what_the_sheet_discards_is_missed():
    habitat = example("forest-edge")
    bad = replace(habitat.existing[0], condition=(("smell", "rotten eggs"),))
    found = ground_findings(replace(habitat, existing=(bad,)), amounts(habitat), [])
    old = next(f for f in found if f.need == "old-ground")
    assert old.state is State.MISSED
    assert "rotten eggs" in word(old, habitat).why
    assert "sulphide" in old.source.text


@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_document_rows_and_chart(system):
    habitat = example("school-meadow")
    water = Coupled((outlook("school-meadow", day(0.1, 1.0, 0.5)),), {}, 1, 0.0)
    amount = amounts(habitat)
    document = json.loads(json.dumps(ground_out.ground_document(habitat, amount, water)))
    jsonschema.validate(document, ground_out.ground_schema())
    assert [x["name"] for x in document["layers"]] == [x.name for x in habitat.ground.layers]
    shape = np.array(document["water"]["content"]).shape
    assert shape == (len(document["water"]["days"]), len(document["water"]["depth_m"]))
    mix = next(x for x in document["layers"] if x["name"] == "mix")
    assert mix["bags"] == sum(b["count"] for part in mix["buy"] for b in part["bags"]) > 0
    assert document["water"]["by_hand_from_d"] >= 1
    told = mix["mix"]["container_capacity"]
    assert 0.2 < told["low"] < told["value"] < told["high"] < 0.7
    heavy = mix["mix"]["dry_density_kg_m3"]["value"]
    assert mix["dry_kg"] == pytest.approx(heavy * mix["volume_l"] / 1000.0)
    assert mix["mix"]["ph"]["low"] < mix["mix"]["ph"]["high"]
    assert all(x["mix"] is None for x in document["layers"] if x["name"] != "mix")
    assert document["old_ground"]["entrance hall"]["verdict"] == "discard"
    rows = ground_out.ground_csv(water.outlooks[0]).split("\r\n")
    assert len(rows) == 28 + 3
    told = [t for table in ground_blocks.ground_tables(habitat, amount, water, system)
            for row in table.rows for t in row]  # fmt: skip
    assert any(("qt" if system == "us" else " L") in t for t in told)
    assert "discard" in told
    # Two times that count from different days say so.
    assert "left without any water after day 28, it stays moist for" in told
    assert any(t.startswith("by hand, once new ground has used up") for t in told)
    for kind, start in (("svg", b"<?xml"), ("png", b"\x89PNG")):
        assert ground_charts.ground_chart(habitat, amount, water, kind, system).startswith(start)


def refused(tmp_path, *words, text=None):
    path = tmp_path / "rain.yaml"
    path.write_text(text or (EXAMPLES / "rain-glass.yaml").read_text("utf-8"), "utf-8")
    done = CliRunner(env={"LOAMWRIGHT_CACHE": ""}).invoke(main, ["ground", str(path), *words])
    assert done.exit_code == 2
    assert "Traceback" not in done.output
    return done.output


def test_bad_input_is_told(tmp_path):
    assert "is there already" in refused(tmp_path, "--csv", str(tmp_path / "rain.yaml"))
    assert ".png or .svg" in refused(tmp_path, "--plot", str(tmp_path / "a.pdf"))
    assert "1<=x<=52" in refused(tmp_path, "--weeks", "0")
    text = (EXAMPLES / "rain-glass.yaml").read_text("utf-8")
    deep = text.replace("kind: mix, depth: 7 cm", "kind: mix, depth: 70 cm")
    assert "76.2 cm deep together; inside height 60 cm" in refused(tmp_path, text=deep)
