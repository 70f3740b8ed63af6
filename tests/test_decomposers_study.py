"""Decomposers over a year: balance, food, hunters, readiness, load, litter, findings, chart."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from loamwright import workflow
from loamwright.engine.findings import State
from loamwright.engine.life import decomposers_run as running
from loamwright.engine.life import decomposers_study as study
from loamwright.engine.life import matter, waste
from loamwright.engine.life.decomposers_findings import decomposer_findings
from loamwright.engine.life.decomposers_run import Community, ready_day, run
from loamwright.errors import InputError
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat
from loamwright.habitat.decomposers import Starter
from loamwright.physics import allometry, bodies
from loamwright.physics import populations as pop
from loamwright.physics.leaf_decay import LEAVES
from loamwright.report import decomposers_blocks, decomposers_charts, decomposers_out
from loamwright.report.words import about_words, word

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"
ZERO, DAY = 273.15, 86_400.0
SHIPPED = load_catalogue().decomposers
OAK = matter.Floor(1.0, 0.5, LEAVES["oak"], "oak", True, 0.1, 1e-10)
MILD = matter.Weather((ZERO + 21.0, ZERO + 24.0), (0.5, 0.5))


def example(name: str = "forest-edge"):
    return read_habitat(EXAMPLES / f"{name}.yaml")


def eater(food: float = 1e-3 / DAY, length: float = 0.10, count: int = 2) -> waste.Eater:
    """Insect eaters on so much dry food [kg/s] together."""
    in_dung, urates = allometry.nitrogen_routes(food, 0.1065, 0.8)
    return waste.Eater("gecko", count, "insects", food, 0.25 * food, in_dung, urates, length)


def community(*keys: str, starters: float = 100.0, **changes) -> Community:
    kinds = tuple(SHIPPED[k] for k in keys or ("folsomia-candida", "porcellio-scaber"))
    made = Community(kinds, (starters,) * len(kinds), OAK, MILD, ())
    return replace(made, **changes)


def found_in(name: str = "forest-edge", weather: matter.Weather = MILD, **changes) -> study.Found:
    habitat = replace(example(name), **changes)
    found = study.study_in(habitat, weather, None, {})
    assert found is not None
    return found


def by_need(found: study.Found) -> dict[str, list]:
    out: dict[str, list] = {}
    for f in decomposer_findings(found):
        out.setdefault(f.need, []).append(f)
    return out


# -- the year ------------------------------------------------------------------------------------


def test_nothing_is_lost_with_residents_hunters_and_new_leaves() -> None:
    floor = replace(OAK, litter=0.2)
    made = community(floor=floor, eaters=(eater(),))
    told = run(made, 500, moved_in=40, hunted=1.0)
    assert told.balance < 1e-9
    assert len(told.topped) >= 1
    assert (told.state >= 0.0).all()
    # Leaves are laid when half of so thin a litter is gone, and then back to all of it.
    day, mass = told.topped[0]
    assert mass == pytest.approx(0.1, abs=0.01)
    assert told.litter()[day] == pytest.approx(0.2, rel=1e-9)


def test_springtails_level_off_where_forests_have_them() -> None:
    """50 000 on a square metre (Moldenke & Lattin 1990), at most about 100 000, of all springtails; a
    year's middle, residents fed, must lie within a factor of three of that span."""
    told = run(community("folsomia-candida", starters=1000.0), 365)
    late = told.numbers(0)[200:]
    assert 50_000 / 3 < late.mean() < 100_000 * 3


def test_leaves_go_by_their_constant_without_animals() -> None:
    made = replace(community(), species=(), starters=(),
                   weather=matter.Weather((ZERO + 25.0,) * 2, (0.5, 0.5)))  # fmt: skip
    told = run(made, 100, way=1.0)
    expected = 0.5 * np.exp(-LEAVES["oak"].quick * 100 * DAY)
    assert told.litter()[-1] == pytest.approx(expected, rel=1e-6)


def test_animals_take_their_share_of_the_decay() -> None:
    """A third of the decay of litter is the fauna's (26 to 40 %, litterbags): within 10 to 60 %."""
    without = run(replace(community(), species=(), starters=()), 365)
    with_them = run(community(starters=200.0), 365)
    lost, more = (
        OAK.litter + sum(mass for _, mass in r.topped) - r.litter()[-1]
        for r in (without, with_them)
    )
    share = 1.0 - lost / more
    assert 0.10 < share < 0.60


def test_hungry_residents_eat_woodlice_down_and_leave_springtails() -> None:
    made = community(eaters=(eater(),))
    fed = run(made, 400, moved_in=30, hunted=0.0)
    hungry = run(made, 400, moved_in=30, hunted=1.0)
    assert hungry.numbers(1)[-1] < 0.2 * fed.numbers(1)[-1]
    # Too small for a gecko of 10 cm.
    assert hungry.numbers(0)[100:].mean() > 0.5 * fed.numbers(0)[100:].mean()
    assert running.hunters_of(made, 1.0).takes == (False, True)


def test_hunters_never_take_more_than_they_eat() -> None:
    made = community(eaters=(eater(),), starters=5000.0)
    told = run(made, 30, moved_in=0, hunted=1.0)
    carbon = np.diff(told.state[:, pop.EATEN])
    assert carbon.max() <= 0.5 * 1e-3 * (1.0 + 1e-9)
    assert carbon.max() > 0.0


def test_plant_eaters_do_not_hunt() -> None:
    grazer = replace(eater(), diet="plants")
    assert running.hunters_of(community(eaters=(grazer,)), 1.0).takes == (False, False)


def test_the_ground_is_ready_when_young_abound() -> None:
    made = community(starters=100.0)
    told = run(made, 365)
    day = ready_day(made, told)
    assert day is not None
    assert day >= running.CYCLE
    for row in range(2):
        young = told.numbers(row) - told.grown(row)
        assert young[day] >= 100.0
    before = [(told.numbers(r) - told.grown(r))[day - 1] >= 100.0 for r in range(2)]
    assert day == running.CYCLE or not all(before)
    cold = replace(made, weather=matter.Weather((ZERO + 9.0,) * 2, (0.5, 0.5)))
    assert ready_day(cold, run(cold, 365)) is None
    assert ready_day(replace(made, species=(), starters=()), told) == running.CYCLE


# -- waste ---------------------------------------------------------------------------------------


def test_waste_of_a_gecko_is_that_of_its_energy() -> None:
    """By hand: 100 g of lizard use 11.76 kJ a day in the wild (Nagy 2005), 0.65 of that here; crickets
    hold 19.0 MJ/kg dry that can be used, 10.65 % nitrogen."""
    habitat = example()
    species = replace(habitat.animals[0].species, mass=0.1)
    group = replace(habitat.animals[0], species=species, males=1, females=0)
    eaters, unknown = waste.eaters_of(replace(habitat, animals=(group,)))
    food = 0.65 * 11.76e3 / 19.0e6
    assert not unknown
    assert eaters[0].food * DAY == pytest.approx(food, rel=2e-3)
    assert eaters[0].dung * DAY == pytest.approx(0.25 * food, rel=2e-3)
    assert (eaters[0].dung_nitrogen + eaters[0].urates) * DAY == pytest.approx(
        0.1065 * food, rel=2e-3
    )
    assert waste.energy_of(species) == pytest.approx(0.65 * bodies.field_heat_reptile(0.1))


def test_residents_of_unknown_mass_are_named_and_not_guessed() -> None:
    habitat = example()
    group = replace(habitat.animals[0], species=replace(habitat.animals[0].species, mass=None))
    eaters, unknown = waste.eaters_of(replace(habitat, animals=(group,)))
    assert eaters == ()
    assert unknown == ("phelsuma-grandis",)
    found = found_in(animals=(group,))
    needs = by_need(found)
    assert [f.state for f in needs["waste-load"]] == [State.NOT_KNOWN]
    assert "no number for this: body mass" in word(needs["waste-load"][0], habitat).why


def test_each_shipped_animal_has_a_diet_and_a_tenth_of_them_none_to_speak_of() -> None:
    diets = {waste.diet_of(x) for x in load_catalogue().animals.values()}
    assert diets == set(waste.FOODS)
    genera = {x.latin.split()[0] for x in load_catalogue().animals.values()}
    named = {*waste.PLANT_EATERS, *waste.MIXED, *waste.MOUSE_EATERS}
    assert named <= genera
    assert len(named) == len((*waste.PLANT_EATERS, *waste.MIXED, *waste.MOUSE_EATERS))


def test_the_load_it_carries_keeps_nitrogen_at_its_limit() -> None:
    made = community(eaters=(eater(),), floor=replace(OAK, pore_water=0.02))
    factor = study._bears(made, 0.0, 30)
    assert 0.0 < factor < study.MOST_LOAD
    limit = study.NITRATE_LIMIT * 0.02
    told = run(made, 30 + study.YEAR_DAYS, moved_in=30, load=factor)
    assert told.mineral()[30:].max() == pytest.approx(limit, rel=0.03)
    more = run(made, 30 + study.YEAR_DAYS, moved_in=30, load=1.5 * factor)
    assert more.mineral()[30:].max() > 1.2 * limit
    # Thirstier plants bear more of it.
    thirsty = replace(made, floor=replace(made.floor, uptake=2e-9))
    assert study._bears(thirsty, 0.0, 30) > factor


# -- the study -----------------------------------------------------------------------------------


def test_starters_left_out_are_chosen_and_counted() -> None:
    found = found_in()
    kinds = [x.kind for x in found.community.species]
    assert kinds == ["springtail", "isopod"]
    assert found.computed
    for x, per, count in zip(
        found.community.species, found.community.starters, found.counts(), strict=True
    ):
        low, high = x.starter
        assert low <= per <= high
        assert count == int(np.ceil(per * found.area - 1e-9))
    assert found.ready[1] is not None
    assert found.ready[1] <= study.SOON


def test_starters_of_the_file_are_taken_as_they_are() -> None:
    named = (Starter(SHIPPED["armadillidium-vulgare"], 40), Starter(SHIPPED["tenebrio-molitor"], 9))
    found = found_in(decomposers=named)
    assert [x.key for x in found.community.species] == ["armadillidium-vulgare"]
    assert found.counts() == (40,)
    assert [x.key for x in found.unfollowed] == ["tenebrio-molitor"]
    needs = by_need(found)
    assert {f.about: f.state for f in needs["decomposer-numbers"]}["tenebrio-molitor"] is (
        State.NOT_KNOWN
    )


def test_no_decomposers_at_all_is_an_answer_too() -> None:
    found = found_in(decomposers=())
    assert found.community.species == ()
    assert found.ready == (running.CYCLE,) * 3
    assert "decomposer-numbers" not in by_need(found)


def test_dry_ground_has_no_small_life_unless_somebody_names_it() -> None:
    habitat = example("dry-rock")
    arid = matter.Weather((ZERO + 25.0, ZERO + 30.0), (0.02, 0.02))
    assert study.study_in(habitat, arid, None, {}) is None
    assert decomposer_findings(None) == []
    tables = decomposers_blocks.decomposers_tables(habitat, None, "metric")
    assert "take all waste out by hand" in tables[0].note
    named = replace(habitat, decomposers=(Starter(SHIPPED["porcellio-scaber"], 50),))
    found = study.study_in(named, arid, None, {})
    assert found is not None
    needs = by_need(found)
    assert needs["decomposer-moisture"][0].state is State.MISSED
    assert needs["decomposer-numbers"][0].state is State.MISSED
    assert needs["litter-start"][0].state is State.MISSED


# -- findings ------------------------------------------------------------------------------------


def test_good_ground_meets_what_is_asked() -> None:
    needs = by_need(found_in(animals=()))
    for need in ("decomposer-warmth", "decomposer-moisture", "decomposer-numbers"):
        assert {f.state for f in needs[need]} <= {State.MET, State.CLOSE}, need
    assert needs["ground-ready"][0].state is State.MET
    assert needs["litter-start"][0].state is State.MET
    assert needs["litter-lasts"][0].state is State.MET
    assert "waste-load" not in needs


@pytest.mark.parametrize(
    ("weather", "need"),
    [
        (matter.Weather((ZERO + 21.0, ZERO + 33.0), (0.5, 0.5)), "decomposer-warmth"),
        (matter.Weather((ZERO + 5.0, ZERO + 21.0), (0.5, 0.5)), "decomposer-warmth"),
        (matter.Weather((ZERO + 21.0, ZERO + 23.0), (0.08, 0.5)), "decomposer-moisture"),
        (matter.Weather((ZERO + 9.0, ZERO + 10.0), (0.5, 0.5)), "ground-ready"),
    ],
)
def test_bad_ground_is_missed_and_says_which_season(weather: matter.Weather, need: str) -> None:
    named = (Starter(SHIPPED["folsomia-candida"], 1000),)
    finding = by_need(found_in(weather=weather, decomposers=named))[need][0]
    assert finding.state is State.MISSED
    if need == "decomposer-moisture":
        assert finding.when == "winter"
    if need == "ground-ready":
        assert [c.kind for c in finding.causes] == ["never_ready"]


def test_too_many_residents_have_to_be_cleaned_after() -> None:
    habitat = example()
    many = replace(habitat.animals[0], males=0, females=400)
    found = found_in(animals=(many,))
    load = by_need(found)["waste-load"][0]
    assert load.state is State.MISSED
    assert found.by_hand is not None
    assert 0.0 < found.by_hand <= 1.0
    told = word(load, habitat)
    assert "has to be taken out by hand" in told.why
    assert told.value.endswith("g a day")
    rows = dict(row[:2] for row in decomposers_blocks._by_hand(found).rows)
    assert "more than the ground carries" in rows["dung on the ground"]


def test_unmeasured_leaves_are_said_to_be_so() -> None:
    habitat = example()
    layers = tuple(
        replace(x, leaf="catappa") if x.kind == "leaf-litter" else x for x in habitat.ground.layers
    )
    found = found_in(ground=replace(habitat.ground, layers=layers))
    lasts = by_need(found)["litter-lasts"][0]
    assert [c.kind for c in lasts.causes] == ["leaf_unknown"]
    assert "'catappa' leaves are not among those measured" in word(lasts, habitat).why


def test_what_may_be_otherwise_counts_towards_the_limit() -> None:
    """Met only where no run of the slowest, quickest, fed and hungry falls below those let in."""
    found = found_in()
    for row, f in enumerate(by_need(found)["decomposer-numbers"]):
        ends = [float(r.numbers(row)[-1]) for r in (*found.runs, found.fed, found.hungry)]
        started = found.community.starters[row]
        if f.state is State.MET:
            assert min(ends) >= started
        elif f.state is State.MISSED:
            assert max(ends) <= started
        else:
            assert min(ends) <= started <= max(ends)


def test_every_finding_is_worded() -> None:
    habitat = example()
    found = found_in()
    for f in decomposer_findings(found):
        told = word(f, habitat)
        assert told.title
        assert "decomposer-" not in told.title
        assert told.value
        assert told.wanted.startswith("wanted ")
        assert "_" not in told.why
    heading = about_words("folsomia-candida", habitat)
    assert heading == "white springtail (Folsomia candida)"


# -- documents -----------------------------------------------------------------------------------


def test_document_follows_its_schema_and_adds_up() -> None:
    habitat, found = example(), found_in()
    document = json.loads(json.dumps(decomposers_out.decomposers_document(habitat, found)))
    jsonschema.validate(document, decomposers_out.decomposers_schema())
    life = document["life"]
    days = len(life["days"])
    assert days == found.moved_in[1] + study.YEAR_DAYS + 1
    assert all(len(life[key]) == days for key in ("litter_g", "waste_g", "nitrate_nitrogen_g"))
    spring = life["species"]["folsomia-candida"]
    assert spring["numbers"][0] == pytest.approx(spring["count"], abs=1.0)
    assert life["litter_g"][0] == pytest.approx(1000 * found.community.floor.litter * found.area)
    jsonschema.validate(
        decomposers_out.decomposers_document(habitat, None), decomposers_out.decomposers_schema()
    )


def test_csv_has_a_row_a_day() -> None:
    found = found_in()
    rows = list(csv.reader(io.StringIO(decomposers_out.decomposers_csv(found))))
    assert len(rows) == len(found.middle.days) + 1
    assert {len(r) for r in rows} == {len(rows[0])}
    assert rows[0][0] == "day"
    assert float(rows[1][1]) == pytest.approx(found.counts()[0], abs=1.0)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_fit(system: str) -> None:
    found = found_in()
    tables = decomposers_blocks.decomposers_tables(example(), found, system)
    matter = next(t for t in tables if t.title.startswith("Matter"))
    days = [int(row[0]) for row in matter.rows]
    assert days[-1] == len(found.middle.days) - 1
    assert all(b - a >= 28 for a, b in pairwise(days))
    assert "taken to move in" in matter.note
    assert len(tables) >= 5
    for table in tables:
        assert all(len(row) == len(table.columns) for row in table.rows)


@pytest.mark.slow
def test_the_chart_is_drawn_the_same_every_time() -> None:
    habitat, found = example(), found_in()
    one = decomposers_charts.decomposers_chart(habitat, found, "svg")
    assert one == decomposers_charts.decomposers_chart(habitat, found, "svg")
    assert one.startswith(b"<?xml")
    assert decomposers_charts.decomposers_chart(habitat, found, "png").startswith(b"\x89PNG")


# -- the file ------------------------------------------------------------------------------------

BARE = """
name: small
enclosure: {{inside: {{width: 60 cm, depth: 45 cm, height: 60 cm}}}}
animals: [{{species: phelsuma-grandis, males: 1}}]
{}
"""


def read(tmp_path: Path, text: str):
    path = tmp_path / "h.yaml"
    path.write_text(BARE.format(text), "utf-8")
    return read_habitat(path)


def test_the_file_names_starters(tmp_path: Path) -> None:
    made = read(tmp_path, "decomposers: [{species: folsomia-candida, count: 300},\n"
                "  {species: porcellio-scaber}]")  # fmt: skip
    assert [(s.species.key, s.count, s.named) for s in made.decomposers] == [
        ("folsomia-candida", 300, True), ("porcellio-scaber", None, True),
    ]  # fmt: skip
    assert "decomposers[porcellio-scaber].count" in [d.field for d in made.defaults]
    assert read(tmp_path, "decomposers: []").decomposers == ()
    silent = read(tmp_path, "")
    assert all(not s.named for s in silent.decomposers)
    assert "decomposers" in [d.field for d in silent.defaults]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("decomposers: [{species: folsomia}]", r"h\.yaml:5:\d+: decomposers\[0\]\.species: .*"
         "no decomposer 'folsomia'.*'folsomia-candida'"),
        ("decomposers: [{species: porcellio-scaber}, {species: porcellio-scaber}]",
         r"decomposers\[1\]\.species: .*let in twice, first in line 5"),
        ("decomposers: [{species: porcellio-scaber, count: 0}]", r"decomposers\[0\]\.count"),
        ("decomposers: [{species: porcellio-scaber, count: 12.5}]", r"decomposers\[0\]\.count"),
        ("decomposers: [{kind: isopod}]", r"decomposers\[0\]\.kind"),
        ("decomposers: many", "decomposers"),
    ],
)  # fmt: skip
def test_wrong_starters_are_told_with_their_place(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read(tmp_path, text)


OWN = """
decomposers:
  mine:
    label: mine
    latin: Nemo nullus
    kind: isopod
    role: rests
    moisture: moist
    {}
    sources: {{"*": my own count}}
"""


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("temperature_low: 20 degC\n    temperature_high: 10 degC", "not below temperature_high"),
        (
            "temperature_low: 20 degC\n    temperature_best: [15 degC, 25 degC]",
            "above temperature_low",
        ),
        (
            "temperature_high: 24 degC\n    temperature_best: [15 degC, 25 degC]",
            "below temperature_h",
        ),
        ("moisture: soggy", "twice|is not one of|already"),
        ("survival: [20 %, 120 %]", "is above"),
    ],
)
def test_own_decomposers_are_checked(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(OWN.format(text), "utf-8")
    with pytest.raises(InputError, match=message):
        load_catalogue([path])


# -- the command ---------------------------------------------------------------------------------

SMALL = Path(__file__).parent / "data" / "small-climate.yaml"


@pytest.mark.slow
def test_the_command_writes_what_it_says(tmp_path: Path) -> None:
    from click.testing import CliRunner

    from loamwright.cli import main

    runner = CliRunner(env={"LOAMWRIGHT_CACHE": str(tmp_path / "kept"), "COLUMNS": "80"})
    table, chart = tmp_path / "d.csv", tmp_path / "d.svg"
    arguments = ["decomposers", str(SMALL), "--csv", str(table), "--plot", str(chart)]
    done = runner.invoke(main, [*arguments, "--json"])
    assert done.exit_code == 0, done.output
    jsonschema.validate(json.loads(done.stdout), decomposers_out.decomposers_schema())
    assert table.read_text("utf-8").startswith("day,")
    assert chart.read_bytes().startswith(b"<?xml")
    done = runner.invoke(main, arguments)
    assert done.exit_code == 2
    assert "is there already; --force writes over it" in done.stderr
    done = runner.invoke(main, ["decomposers", str(SMALL), "--plot", str(tmp_path / "d.gif")])
    assert done.exit_code == 2
    assert "a chart is written as .png or .svg" in done.stderr
    done = runner.invoke(main, ["decomposers", str(SMALL), "--units", "us"])
    assert done.exit_code == 0
    assert "per sq ft" in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 80


def test_a_range_is_of_all_runs_and_one_number_has_none() -> None:
    assert decomposers_blocks._span([10.0, 20.0, 40.0]) == "20 (10 – 40)"
    # The middle pace may end highest: then its own number is the upper end.
    assert decomposers_blocks._span([10.0, 60.0, 40.0]) == "60 (10 – 60)"
    assert decomposers_blocks._span([7.1, 7.0, 6.9]) == "7"
