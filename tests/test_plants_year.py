"""Plants over a year: growth, shade, pruning, findings, documents, chart."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from datetime import date
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from loamwright import workflow
from loamwright.engine.findings import State
from loamwright.engine.life import plants_findings as held
from loamwright.engine.life import plants_year as year
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat
from loamwright.habitat.planting import Plant
from loamwright.physics import growth
from loamwright.report import plants_blocks, plants_charts, plants_out
from loamwright.report.words import word

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"
ZERO, DAY = 273.15, 86_400.0
PLANTS = load_catalogue().plants
FIG = PLANTS["ficus-benjamina"]


def example(name: str = "forest-edge"):
    return read_habitat(EXAMPLES / f"{name}.yaml")


def box(*plants: Plant, **changes):
    """Forest edge with other plants, lamps lit as long all year."""
    habitat = example()
    schedule = replace(habitat.schedule, winter=None, summer=None)
    return replace(habitat, plants=plants, schedule=schedule, lamps=(), **changes)


def fig(name: str = "fig", at=(0.7, 0.4, 0.22), height: float = 0.3, **changes) -> Plant:
    return Plant(name, replace(FIG, **changes), at, height, 0.3)


def followed(habitat, light: float = 20.0, celsius: float = 24.0, **more) -> year.Planting:
    """The same light and warmth for all, all year."""
    names = [p.name for p in habitat.plants]
    warm = (ZERO + celsius, ZERO + celsius)
    return year.plant_year(habitat, dict.fromkeys(names, light), dict.fromkeys(names, warm), **more)


def by_need(habitat, planting) -> dict[tuple[str, str], object]:
    return {(f.need, f.about): f for f in held.plant_findings(habitat, planting)}


# -- growth --------------------------------------------------------------------------------------


def test_growth_measured_is_the_growth_of_the_first_days() -> None:
    gain = 0.03 / (30.4375 * DAY)
    habitat = box(replace(fig(), growth=gain))
    planting = followed(habitat)
    mine = planting.middle["fig"].height
    assert mine[1] - mine[0] == pytest.approx(gain * DAY, rel=0.01)
    # It is measured, so all three ways are one; that of the catalogue's pace has its range.
    assert len({float(y["fig"].height[-1]) for y in planting.years}) == 1
    assert len({float(y["fig"].height[-1]) for y in followed(box(fig())).years}) == 3
    # Measured where it stands: in less light than now it would have been measured slower.
    dim = followed(habitat, light=9.0).middle["fig"].height
    assert dim[1] - dim[0] == pytest.approx(gain * DAY, rel=0.01)


def test_growth_measured_does_for_a_plant_of_which_nothing_else_is_known() -> None:
    bare = replace(fig(growth="", temperature=(None, None), dli=(None, None), lux=(None, None)),
                   growth=0.03 / (30.4375 * DAY))  # fmt: skip
    planting = followed(box(bare))
    assert planting.unknown == {}
    assert planting.middle["fig"].height[-1] > bare.height
    assert followed(box(replace(bare, growth=None))).unknown == {"fig": "growth"}


def test_the_year_begins_on_the_day_the_last_is_planted() -> None:
    may = date(2026, 5, 1).toordinal()
    habitat = box(replace(fig(), planted=may), replace(fig("other"), planted=may - 60))
    assert year.begins_on(habitat, "winter") == pytest.approx(106.0, abs=1.0)
    assert year.begins_on(habitat, "summer") == year.begins_on(habitat, "winter")
    south = replace(habitat, schedule=replace(habitat.schedule, latitude=-0.5))
    assert year.begins_on(south, "winter") == pytest.approx(106.0 + 182.6, abs=1.5)
    assert year.begins_on(box(fig()), "winter") == 0.0
    assert year.begins_on(box(fig()), "summer") == 182.5


def test_what_was_planted_earlier_has_rooted_by_then() -> None:
    may = date(2026, 5, 1).toordinal()
    early = replace(fig(), planted=may - 100)
    late = replace(fig("late"), planted=may)
    settled = by_need(box(early, late), followed(box(early, late)))[("plants-settled", "habitat")]
    assert settled.value == 84.0 * DAY
    assert settled.causes[0].subject == "late"
    assert held.settle_days(early, may) == 0.0


def test_a_small_plant_in_ample_light_doubles_as_its_pace_says() -> None:
    for pace, (quick, slow) in year.DOUBLING.items():
        for way, days in ((-1.0, slow), (0.0, math.sqrt(quick * slow)), (1.0, quick)):
            rate = year.rate_at_best(pace, way)
            assert math.exp(rate * days * DAY) == pytest.approx(2.0, rel=1e-12)


def test_growth_is_the_logistic_curve_at_the_factors_of_light_and_warmth() -> None:
    habitat = box(fig())
    told = followed(habitat, light=12.0).middle["fig"]
    # Least light 6: nothing at 3, half at 6; 24 degC is the middle of 18 to 30.
    factor = (12.0 - 3.0) / (12.0 - 3.0 + 3.0)
    assert told.pace[0] == pytest.approx(factor, rel=1e-12)
    rate = year.rate_at_best("fast", 0.0) * factor
    for day in (10, 30):
        expected = growth.height_after(0.3, 2.0, rate, day * DAY)
        assert told.height[day] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("light", "celsius"), [(2.9, 24.0), (20.0, 5.0), (20.0, 41.0)])
def test_no_growth_in_the_dark_the_cold_and_the_heat(light: float, celsius: float) -> None:
    told = followed(box(fig()), light, celsius).middle["fig"]
    assert (told.height == 0.3).all()
    assert told.pruned == ()


def test_ranges_stay_in_order_and_colder_winters_slow_growth() -> None:
    habitat = box(fig(height=0.1))
    planting = followed(habitat)
    slow, middle, quick = (y["fig"].height[100] for y in planting.years)
    assert slow < middle < quick
    warm, cold = (ZERO + 24.0, ZERO + 24.0), (ZERO + 15.0, ZERO + 24.0)
    ends = [
        year.plant_year(habitat, {"fig": 20.0}, {"fig": w}, "winter").middle["fig"].height[90]
        for w in (warm, cold)
    ]
    assert ends[1] < ends[0]


def test_it_is_cut_back_when_it_reaches_its_room() -> None:
    habitat = box(fig(height=0.6))
    told = followed(habitat).middle["fig"]
    room = habitat.enclosure.inside[2] - 0.22
    assert told.room == pytest.approx(room)
    assert told.height.max() <= room * 1.0001
    for day in told.pruned:
        assert told.height[day + 1] == pytest.approx(year.PRUNED_TO * room, rel=0.02)
    assert len(told.pruned) >= 2
    # The day agrees with the closed form of the curve.
    rate = year.rate_at_best("fast", 0.0) * told.pace[0]
    closed = growth.time_to_height(0.6, room, 2.0, rate) / DAY
    assert told.pruned[0] == pytest.approx(closed, abs=1.0)


def test_room_ends_where_a_lamp_must_not_be_neared() -> None:
    habitat = example()
    plant = next(p for p in habitat.plants if p.name == "fig")
    top = habitat.enclosure.inside[2] - plant.foot[2]
    lamp = habitat.lamps[0]
    lamp = replace(lamp, at=(plant.foot[0] + 0.05, plant.foot[1], 1.30),
                   type=replace(lamp.type, min_distance=0.20))  # fmt: skip
    room = year.room_above(replace(habitat, lamps=(lamp,)), plant)
    assert room == pytest.approx(1.30 - 0.20 - plant.foot[2])
    beside = replace(lamp, at=(plant.foot[0] + 0.5, plant.foot[1], 1.30))
    assert year.room_above(replace(habitat, lamps=(beside,)), plant) == pytest.approx(top)


# -- shade ---------------------------------------------------------------------------------------


def test_a_crown_over_another_takes_its_light() -> None:
    tall = fig("tall", height=0.9)
    low = fig("low", height=0.2, growth="slow")
    planting = followed(box(tall, low))
    shaded = planting.middle["low"]
    assert [name for name, _ in shaded.shaded] == ["tall"]
    # As planted the light is the engine's, shade and all; both crowns are 0.3 across.
    assert shaded.light[0] == pytest.approx(20.0)
    far = followed(box(fig("tall", at=(1.3, 0.4, 0.22), height=0.9), low))
    assert far.middle["low"].shaded == ()
    assert far.middle["low"].light[-1] == pytest.approx(20.0)
    kept = 1.0 - math.exp(-0.5 * FIG.leaf_area_index)
    share = dict(shaded.shaded)["tall"]
    assert share <= kept + 1e-12
    assert planting.middle["tall"].shaded == ()


def test_growing_over_it_lowers_the_light_and_is_named() -> None:
    below = fig("below", height=0.5, growth="slow")
    beside = fig("beside", at=(0.9, 0.4, 0.22), height=0.49)
    habitat = box(below, beside)
    planting = followed(habitat, light=7.0)
    told = planting.middle["below"]
    assert told.light[-1] < 0.9 * told.light[0]
    finding = by_need(habitat, planting)[("plant-light-grown", "below")]
    assert finding.value == pytest.approx(told.light[-30:].mean())
    assert finding.low == 6.0
    assert "the grown crown of 'beside' keeps off" in word(finding, habitat).why


def test_what_is_too_dark_today_is_told_once() -> None:
    below = fig("below", height=0.5, growth="slow")
    beside = fig("beside", at=(0.9, 0.4, 0.22), height=0.49)
    habitat = box(below, beside)
    assert ("plant-light-grown", "below") not in by_need(habitat, followed(habitat, light=5.0))


# -- what is not known ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"growth": ""}, "growth"), ({"mature_height": None}, "mature_height"),
        ({"temperature": (None, ZERO + 30.0)}, "temperature"),
        ({"dli": (None, None), "lux": (None, None)}, "dli"),
    ],
)  # fmt: skip
def test_nothing_is_guessed_of_a_plant_too_little_is_known_of(change: dict, field: str) -> None:
    habitat = box(fig(**change))
    planting = followed(habitat)
    assert planting.unknown == {"fig": field}
    assert (planting.middle["fig"].height == 0.3).all()
    finding = by_need(habitat, planting)[("plant-prune", "fig")]
    assert finding.state is State.NOT_KNOWN
    document = plants_out.plants_document(habitat, planting)
    assert document["plants"]["fig"]["growth"] is None
    assert document["plants"]["fig"]["not_known"] == field


def test_an_illuminance_counts_as_light_of_white_lamps() -> None:
    # 1076 lx under 70 lx to the umol for twelve hours: 0.66 mol a square metre and day.
    assert year.least_light(PLANTS["ficus-elastica"], 43_200.0) == pytest.approx(0.664, abs=0.001)
    assert year.least_light(FIG, 1.0) == 6.0


# -- findings ------------------------------------------------------------------------------------


def test_stature_counts_three_times_for_what_can_be_pruned() -> None:
    palm = replace(FIG, form="palm")
    climber = replace(FIG, form="climber")
    habitat = box(
        fig(), Plant("palm", palm, (0.3, 0.4, 0.22), 0.3, 0.3),
        Plant("climber", climber, (1.1, 0.4, 0.22), 0.3, 0.3),
    )  # fmt: skip
    needs = by_need(habitat, followed(habitat))
    assert needs[("plant-stature", "fig")].state is State.MET
    assert needs[("plant-stature", "palm")].state is State.MISSED
    assert ("plant-stature", "climber") not in needs


def test_pruning_every_month_is_too_often() -> None:
    quick = box(fig(at=(0.7, 0.4, 1.2), height=0.15, mature_height=20.0))
    finding = by_need(quick, followed(quick, light=500.0))[("plant-prune", "fig")]
    assert finding.state is State.MISSED
    calm = box(fig(height=0.2, growth="slow"))
    finding = by_need(calm, followed(calm))[("plant-prune", "fig")]
    assert finding.state is State.MET
    assert finding.value == 365 * DAY


@pytest.mark.parametrize(
    ("animal", "plant", "state"),
    [
        ("phelsuma-grandis", "ficus-benjamina", State.MET),
        ("testudo-hermanni", "ficus-benjamina", State.MISSED),
        ("testudo-hermanni", "chlorophytum-comosum", State.MET),
        ("corucia-zebrata", "epipremnum-aureum", State.MISSED),
    ],
)
def test_toxic_plants_count_where_somebody_grazes(animal: str, plant: str, state: State) -> None:
    species = load_catalogue().animals[animal]
    habitat = box(Plant("it", PLANTS[plant], (0.7, 0.4, 0.22), 0.3, 0.3))
    group = replace(habitat.animals[0], species=species)
    habitat = replace(habitat, animals=(group,))
    finding = by_need(habitat, followed(habitat))[("plant-toxic", "it")]
    assert finding.state is state
    bare = replace(habitat, plants=(replace(habitat.plants[0],
                   type=replace(PLANTS[plant], toxicity="")),))  # fmt: skip
    finding = by_need(bare, followed(bare))[("plant-toxic", "it")]
    grazed = animal != "phelsuma-grandis"
    assert finding.state is (State.NOT_KNOWN if grazed else State.MET)


def epiphyte(at, on: str = "", form: str = "tank epiphyte") -> Plant:
    kind = replace(PLANTS["neoregelia-carolinae"], form=form)
    return Plant("it", kind, at, 0.15, 0.2, on)


@pytest.mark.parametrize(
    ("plant", "state"),
    [
        (epiphyte((0.9, 0.4, 0.9), "basking branch"), State.MET),
        (epiphyte((0.5, 0.56, 0.36), "left stone"), State.MET),
        (epiphyte((0.7, 0.68, 0.8)), State.MET),  # on the coated rock face
        (epiphyte((0.7, 0.02, 0.8)), State.MISSED),  # on the glass
        (epiphyte((0.7, 0.35, 0.8)), State.MISSED),  # in the air
        (epiphyte((0.7, 0.35, 0.24)), State.MET),
        (epiphyte((0.7, 0.35, 0.24), form="atmospheric epiphyte"), State.MISSED),
    ],
)
def test_epiphytes_hold_on_what_is_rough(plant: Plant, state: State) -> None:
    habitat = box(plant)
    assert by_need(habitat, followed(habitat))[("plant-hold", "it")].state is state


def test_a_material_nobody_tells_of_is_not_known() -> None:
    habitat = box(epiphyte((0.9, 0.4, 0.9), "basking branch"))
    strange = tuple(
        replace(x, material=replace(x.material, key="own-resin")) for x in habitat.hardscape
    )
    habitat = replace(habitat, hardscape=strange)
    finding = by_need(habitat, followed(habitat))[("plant-hold", "it")]
    assert finding.state is State.NOT_KNOWN
    told = word(finding, habitat).why.lower()
    assert "nobody says here whether roots hold on own resin" in told


def test_every_finding_is_worded() -> None:
    habitat = example()
    planting = followed(habitat)
    found = held.plant_findings(habitat, planting)
    assert {f.need for f in found} >= {"plant-stature", "plant-prune", "plant-toxic", "plant-hold",
                                       "plants-settled"}  # fmt: skip
    for f in found:
        told = word(f, habitat)
        assert told.title
        assert "plant-" not in told.title
        assert "_" not in told.why
        if f.state is not State.NOT_KNOWN:
            assert told.wanted.startswith("wanted ")


# -- documents -----------------------------------------------------------------------------------


def test_document_table_and_csv_agree() -> None:
    habitat = example()
    planting = followed(habitat)
    document = json.loads(json.dumps(plants_out.plants_document(habitat, planting)))
    jsonschema.validate(document, plants_out.plants_schema())
    rows = list(csv.reader(io.StringIO(plants_out.plants_csv(planting))))
    assert len(rows) == year.DAYS + 2
    told = document["plants"]["fig"]["growth"]
    at = rows[0].index("fig height [m]")
    assert [float(r[at]) for r in rows[1:]] == pytest.approx(told["height_m"], abs=1e-4)
    for system in ("metric", "us"):
        for table in plants_blocks.plants_tables(habitat, planting, system):
            assert all(len(row) == len(table.columns) for row in table.rows)
    plan = {row["what"]: row for row in document["plan"]}
    crown = math.pi / 4.0 * 0.4**2
    assert plan["weeping fig"]["close_a_m2_as_planted"] == pytest.approx(1.0 / crown)
    assert plan["weeping fig"]["floor_share"] == pytest.approx(crown / (1.5 * 0.69))


@pytest.mark.slow
def test_who_shades_whom_is_told() -> None:
    # Neither grows, so that the tall one stays the taller.
    still = {"growth": 1e-12}
    tall, low = fig("tall", height=0.8), fig("low", at=(0.72, 0.4, 0.22), height=0.2)
    habitat = box(replace(tall, **still), replace(low, **still))
    planting = followed(habitat)
    table = next(t for t in plants_blocks.plants_tables(habitat, planting, "metric")
                 if "shades which" in t.title)  # fmt: skip
    assert table.rows[0][:2] == ("tall", "low")
    ((name, kept),) = planting.middle["low"].shaded
    assert name == "tall"
    assert table.rows[0][2] == f"{100 * kept:.0f} %"
    alone = box(fig())
    table = next(t for t in plants_blocks.plants_tables(alone, followed(alone), "metric")
                 if "shades which" in t.title)  # fmt: skip
    assert table.rows[0][0] == "none"


def test_the_chart_is_drawn_the_same_every_time() -> None:
    habitat = example()
    planting = followed(habitat)
    one = plants_charts.plants_chart(habitat, planting, "svg", "metric")
    assert one == plants_charts.plants_chart(habitat, planting, "svg", "metric")
    assert plants_charts.plants_chart(habitat, planting, "png", "us").startswith(b"\x89PNG")


@pytest.mark.slow
def test_the_command_writes_what_it_says(tmp_path: Path) -> None:
    from click.testing import CliRunner

    from loamwright.cli import main

    runner = CliRunner(env={"LOAMWRIGHT_CACHE": str(tmp_path / "kept"), "COLUMNS": "80"})
    small = Path(__file__).parent / "data" / "small-climate.yaml"
    table, chart = tmp_path / "p.csv", tmp_path / "p.svg"
    arguments = ["plants", str(small), "--csv", str(table), "--plot", str(chart)]
    done = runner.invoke(main, [*arguments, "--json"])
    assert done.exit_code == 0, done.output
    jsonschema.validate(json.loads(done.stdout), plants_out.plants_schema())
    assert table.read_text("utf-8").startswith("day,")
    assert chart.read_bytes().startswith(b"<?xml")
    done = runner.invoke(main, arguments)
    assert done.exit_code == 2
    assert "is there already; --force writes over it" in done.stderr
    done = runner.invoke(main, ["plants", str(small)])
    assert done.exit_code == 0
    assert max(len(line) for line in done.stdout.splitlines()) <= 80


def test_every_shipped_pace_is_one_of_three() -> None:
    paces = [p.growth for p in PLANTS.values()]
    assert set(paces) == {"", *year.DOUBLING}
    assert paces.count("") == 4
    assert np.all([p.source_of("growth").weak for p in PLANTS.values() if p.growth])
