"""Ways and choices: small scenes whose answers can be told by hand."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import jsonschema
import numpy as np
import pytest

from loamwright import workflow
from loamwright.engine.life import choice, climbing, gait, spots
from loamwright.engine.life.choice_findings import choice_findings, way_findings
from loamwright.engine.life.space import by_species
from loamwright.engine.life.study import study_animals
from loamwright.engine.light.values import brightest, by_lamp
from loamwright.files.kept import Kept
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.report.animals_out import animals_document, animals_schema
from loamwright.report.choice_blocks import choice_csv, choice_tables, way_tables
from loamwright.report.choice_chart import choice_chart, drawable
from loamwright.report.choice_out import climb_schema
from loamwright.report.words import word

BASE = """\
name: Ways
enclosure: {inside: {width: 120 cm, depth: 60 cm, height: 100 cm}}
ground: [{name: mix, kind: mix, depth: 10 cm, parts: {coir: 1}}]
"""
ROD = "  - {{name: {}, shape: branch, from: [{} cm, {} cm, {} cm], to: [{} cm, {} cm, {} cm], diameter: 4 cm, material: hardwood}}\n"  # noqa: E501


def habitat(rods: str, sites: str, animals: str) -> Habitat:
    text = BASE + (f"hardscape:\n{rods}" if rods else "") + f"sites:\n{sites}animals: [{animals}]\n"
    return read_habitat_text(text, Path("ways.yaml"))


def climb_in(made: Habitat) -> climbing.Climb:
    groups = by_species(made)[0]
    found = gait.gait_of(groups)
    assert found is not None
    return climbing.climb(made, climbing.foot_places(made), groups[0].species, found)


SNAKE = "{species: python-regius, males: 1, reach: 10 cm}"
"""Climbs rods, and no wall; its length from snout to vent is not known."""

TWO = "  - {name: top, on: a, along: 0.5, role: basking}\n  - {name: far, on: b, along: 0.5, role: retreat}\n"  # noqa: E501


def rods(gap: float) -> str:
    """Two level rods in one line, so far apart from end to end [cm]."""
    half = gap / 2
    return ROD.format("a", 20, 30, 60, 60 - half, 30, 60) + ROD.format(
        "b", 60 + half, 30, 60, 100, 30, 60
    )


@pytest.mark.parametrize(("gap", "there"), [(9.0, True), (13.0, True), (15.0, False)])
def test_a_gap_is_bridged_up_to_the_reach(gap, there):
    """Between the rods' round ends lies the gap less a radius each: 4 cm less than from tip to tip."""
    found = climb_in(habitat(rods(gap), TWO, SNAKE))
    (way,) = found.ways
    assert np.isfinite(way.length) is np.bool_(there)
    assert len(found.beyond) == (0 if there else 1)


def test_a_thick_trunk_elsewhere_widens_no_gap():
    trunk = ROD.format("trunk", 20, 50, 20, 20, 50, 90).replace("diameter: 4 cm", "diameter: 18 cm")
    found = climb_in(habitat(rods(17.0) + trunk, TWO, SNAKE))
    assert not np.isfinite(found.ways[0].length)
    assert len(found.beyond) == 1


def test_a_way_is_as_long_as_it_is():
    (way,) = climb_in(habitat(rods(9.0), TWO, SNAKE)).ways
    # From the middle of one rod to that of the other.
    made = habitat(rods(9.0), TWO, SNAKE)
    a, b = (np.array(s.at) for s in made.sites[:2])
    assert way.length == pytest.approx(float(np.linalg.norm(a - b)), abs=0.12)


def test_who_jumps_gets_further_unless_something_is_between():
    jumper = SNAKE.replace("reach: 10 cm", "reach: 2 cm, jump: 25 cm")
    (way,) = climb_in(habitat(rods(20.0), TWO, jumper)).ways
    assert np.isfinite(way.length)
    board = "  - {name: board, shape: block, at: [60 cm, 30 cm, 10 cm], size: [1 cm, 60 cm, 90 cm], material: sandstone}\n"  # noqa: E501
    # A board across the whole box: from a to it is 10 cm, no more than the jump; a slip of a
    # reach and no jump stays on its side.
    short = SNAKE.replace("reach: 10 cm", "reach: 2 cm")
    (shut,) = climb_in(habitat(rods(20.0) + board, TWO, short)).ways
    assert not np.isfinite(shut.length)
    walker = SNAKE.replace("reach: 10 cm", "reach: 17 cm")
    free = climb_in(habitat(rods(20.0), TWO, walker)).ways[0]
    assert np.isfinite(free.length)


def test_nothing_is_reached_through_a_board():
    """Two places each side of a thin board, nearer than the reach: the line is blocked."""
    board = "  - {name: board, shape: block, at: [60 cm, 30 cm, 10 cm], size: [1 cm, 60 cm, 90 cm], material: sandstone}\n"  # noqa: E501
    made = habitat(rods(8.0) + board, TWO, SNAKE)
    places = climbing.foot_places(made)
    a = np.flatnonzero(places.owner == places.owners.index("a"))[-1:]
    b = np.flatnonzero(places.owner == places.owners.index("b"))[:1]
    assert not climbing._free(made, places, a, b).any()
    bare = habitat(rods(8.0), TWO, SNAKE)
    places = climbing.foot_places(bare)
    a = np.flatnonzero(places.owner == places.owners.index("a"))[-1:]
    b = np.flatnonzero(places.owner == places.owners.index("b"))[:1]
    assert climbing._free(bare, places, a, b).all()


def test_a_way_over_the_ground_is_none_off_it():
    leaning = ROD.format("a", 20, 30, 8, 30, 30, 60) + ROD.format("b", 90, 30, 8, 100, 30, 60)
    found = climb_in(habitat(leaning, TWO, SNAKE))
    assert found.beyond == ()  # down, across, and up again
    assert not np.isfinite(found.ways[0].length)
    assert found.shortest is None
    # Of both rods the upper end leads nowhere; the lower one stands in the ground.
    assert {d.piece for d in found.dead_ends} == {"a", "b"}
    assert all(d.height > 0.4 for d in found.dead_ends)


def test_pads_climb_glass_and_claws_a_background():
    sites = "  - {name: spot, at: [60 cm, 30 cm, 12 cm], role: basking}\n"
    high = "  - {name: up, at: [60 cm, 2 cm, 80 cm], role: retreat}\n"
    pads = climb_in(habitat("", sites + high, "{species: phelsuma-grandis, males: 1}"))
    assert pads.beyond == ()
    claws = climb_in(habitat("", sites + high, "{species: furcifer-pardalis, males: 1}"))
    assert claws.beyond == ("up",)
    lined = BASE.replace(
        "height: 100 cm}}",
        "height: 100 cm}, lining: [{name: w, panel: back, material: cork-tile, thickness: 2 cm}]}",
    )
    back = "  - {name: up, at: [60 cm, 56 cm, 80 cm], role: retreat}\n"
    text = f"{lined}sites:\n{sites}{back}animals: [{{species: furcifer-pardalis, males: 1}}]\n"
    assert climb_in(read_habitat_text(text, Path("w.yaml"))).beyond == ()


def test_tortoises_stay_on_the_ground():
    sites = "  - {name: low, at: [30 cm, 20 cm], role: hide}\n"
    found = climb_in(habitat(rods(9.0), sites + TWO, "{species: testudo-hermanni, males: 1}"))
    assert set(found.beyond) == {"top", "far"}


PLANT = "plants:\n  - {{species: {}, at: [60 cm, 30 cm], height: 70 cm, spread: 40 cm{}}}\n"


def bridged(plant: str, animal: str, more: str = "") -> climbing.Climb:
    """Two rods 20 cm apart with a plant between."""
    text = BASE + f"hardscape:\n{rods(20.0)}" + PLANT.format(plant, more)
    return climb_in(read_habitat_text(f"{text}sites:\n{TWO}animals: [{animal}]\n", Path("p.yaml")))


def test_a_woody_stem_carries_a_light_animal_and_a_soft_one_nobody():
    light = "{species: anolis-sagrei, males: 1}"
    assert np.isfinite(bridged("ficus-benjamina", light).ways[0].length)
    assert bridged("ficus-benjamina", light).plants == ("ficus-benjamina",)
    soft = bridged("maranta-leuconeura", light)
    assert not np.isfinite(soft.ways[0].length)
    assert soft.left_out == ("maranta-leuconeura",)
    heavy = "{species: iguana-iguana, males: 1, reach: 5 cm}"
    assert not np.isfinite(bridged("ficus-benjamina", heavy).ways[0].length)
    # A species whose mass nobody knows is not taken to be light.
    assert not np.isfinite(
        bridged("ficus-benjamina", SNAKE.replace("10 cm", "5 cm")).ways[0].length
    )


def test_the_file_says_better_what_a_plant_carries():
    heavy = "{species: iguana-iguana, males: 1, reach: 5 cm}"
    assert np.isfinite(bridged("ficus-benjamina", heavy, ", carries: true").ways[0].length)
    light = "{species: anolis-sagrei, males: 1}"
    assert not np.isfinite(bridged("ficus-benjamina", light, ", carries: false").ways[0].length)
    table = way_tables(SimpleNamespace(climb=bridged("ficus-benjamina", light)), "metric")[0]
    assert ("plants that carry it", "ficus-benjamina") in [r[:2] for r in table.rows]


def test_the_way_out_of_a_tube_is_by_its_ends():
    tube = "  - {name: log, shape: tube, from: [20 cm, 30 cm, 70 cm], to: [60 cm, 30 cm, 70 cm], diameter: 16 cm, wall: 2 cm, material: cork}\n"  # noqa: E501
    # A rod touches the tube's flank at its middle, 8 cm and a radius beside its axis.
    side = ROD.format("b", 40, 40, 70, 40, 55, 70)
    sites = "  - {name: in, on: log, inside: true, role: retreat}\n  - {name: out, on: b, along: 0.9, role: basking}\n"  # noqa: E501
    (way,) = climb_in(habitat(tube + side, sites, SNAKE)).ways
    # From the middle 20 cm to an end, 20 cm back along the outside, and 13 cm of rod; through the
    # wall it would be 13 cm and no more.
    assert way.length == pytest.approx(0.20 + 0.20 + 0.13, abs=0.10)


def test_without_a_length_nothing_is_known_of_its_ways():
    made = habitat(rods(9.0), TWO, "{species: python-regius, males: 1}")
    assert gait.gait_of(by_species(made)[0]) is None
    (found,) = way_findings(made.animals[0].species, None)
    assert str(found.state) == "not_known"
    assert study_animals(made, {}).residents[0].climb is None


def test_ways_become_findings():
    made = habitat(rods(15.0), TWO, "{species: furcifer-pardalis, males: 1, reach: 10 cm}")
    found = {f.need: f for f in way_findings(made.animals[0].species, climb_in(made))}
    assert str(found["sites-beyond"].state) == "missed"
    assert str(found["way-off-ground"].state) == "missed"
    told = word(found["sites-beyond"], made).why
    assert "out of reach" in told
    assert "bridges 10 cm" in told
    near = habitat(rods(9.0), TWO, "{species: furcifer-pardalis, males: 1, reach: 10 cm}")
    found = {f.need: f for f in way_findings(near.animals[0].species, climb_in(near))}
    assert {str(f.state) for f in found.values()} == {"met"}
    assert "the shortest, from 'top' to 'far'" in word(found["way-off-ground"], near).why.lower()


# -- choice ----------------------------------------------------------------------------------------

SITES = (
    "  - {name: lit, at: [60 cm, 30 cm, 12 cm], role: basking}\n"
    "  - {name: shade, at: [20 cm, 30 cm, 12 cm], role: retreat}\n"
)


def scene() -> tuple[Habitat, Any, Any]:
    """Two places, a day from 8 to 20 with one lamp on from 10 to 18; warm enough from 12 to 16."""
    text = BASE + (
        "lamps: [{name: uv, type: t5ho-uvb-medium-39w-reflector, at: [60 cm, 30 cm, 95 cm], along: x}]\n"  # noqa: E501
        f"sites:\n{SITES}animals: [{{species: pogona-vitticeps, males: 1}}]\n"
    )
    made = read_habitat_text(text, Path("c.yaml"))
    hour = np.arange(25.0)
    body = np.full((25, 2), 273.15 + 28.0)
    body[12:16, 0] = 273.15 + 37.0
    lamps = ((hour >= 10) & (hour < 18)).astype(float)[:, None]
    run = SimpleNamespace(
        season="winter", rows_by_hour=np.arange(25), lamps=lamps,
        operative={"pogona-vitticeps": body}, humidity=np.full((25, 2), 0.35),
        daytime=(hour >= 8) & (hour < 20), site=lambda n: ["lit", "shade"].index(n),
    )  # fmt: skip
    light = SimpleNamespace(
        sites=[SimpleNamespace(name="lit"), SimpleNamespace(name="shade")],
        table={"brightest": {"uvi": np.array([[5.0, 0.0]])}},
    )
    return made, run, light


def test_shares_of_the_day_by_hand():
    made, run, light = scene()
    found = choice.choice_of(made, made.animals[0].species, ("lit", "shade"), run, light)
    assert found is not None
    assert found.uvi[11].tolist() == [5.0, 0.0]
    assert found.uvi[9].tolist() == [0.0, 0.0]
    shares = found.shares
    assert shares.warm == pytest.approx(4 / 12)
    assert shares.uv == pytest.approx(8 / 12)  # 4.5 to 9.5 for zone 4
    assert shares.both == pytest.approx(4 / 12)
    assert shares.cool == 1.0  # shade, at 28 of 39 degC
    assert shares.damp == 1.0
    assert shares.together == pytest.approx(4 / 12)
    assert found.together_time == pytest.approx(4 * 3600.0)
    # 35 to 39 preferred: 7 K off in the shade all day, and 7 K at the lit place but for 4 hours
    assert found.quality == pytest.approx((12 * 7 + 8 * 7) / 24)
    (held,) = choice_findings(found.species, {"winter": found})
    assert str(held.state) == "met"


def test_a_place_too_hot_to_stay_at_still_warms():
    made, run, light = scene()
    run.operative["pogona-vitticeps"][12:16, 0] = 273.15 + 45.0
    found = choice.choice_of(made, made.animals[0].species, ("lit", "shade"), run, light)
    assert found is not None
    assert found.shares.both == pytest.approx(4 / 12)
    assert found.quality == pytest.approx((20 * 7 + 4 * 6) / 24)  # 45 is 6 K over 39


@pytest.mark.parametrize(("air", "share"), [(0.44, 1.0), (0.46, 0.0), (0.26, 1.0), (0.24, 0.0)])
def test_damp_counts_as_far_as_it_is_known(air, share):
    made, run, light = scene()  # 30 to 40 % asked for
    run.humidity = np.full((25, 2), air)
    found = choice.choice_of(made, made.animals[0].species, ("lit", "shade"), run, light)
    assert found is not None
    assert found.shares.damp == share


def test_half_a_lamp_is_half_the_index():
    made, run, light = scene()
    run.lamps = 0.5 * run.lamps
    found = choice.choice_of(made, made.animals[0].species, ("lit", "shade"), run, light)
    assert found is not None
    assert found.uvi[11, 0] == pytest.approx(2.5)
    assert found.shares.both == 0.0
    (held,) = choice_findings(found.species, {"winter": found})
    assert str(held.state) == "missed"
    assert "both at one place can be had 0 % of the day" in word(held, made).why


def test_only_places_within_reach_count():
    made, run, light = scene()
    found = choice.choice_of(made, made.animals[0].species, ("shade",), run, light)
    assert found is not None
    assert found.sites == ("shade",)
    assert found.shares.warm == 0.0
    assert choice.choice_of(made, made.animals[0].species, (), run, light) is None


def test_without_a_body_it_is_not_known():
    made, run, light = scene()
    run.operative = {}
    found = choice.choice_of(made, made.animals[0].species, ("lit", "shade"), run, light)
    assert found is not None
    assert found.shares.together is None
    (held,) = choice_findings(found.species, {"winter": found})
    assert str(held.state) == "not_known"
    assert "no number for this: body mass" in word(held, made).why


def test_the_builder_s_own_band_goes_before_the_zone():
    made, _, _ = scene()
    text = BASE + (
        f"sites:\n{SITES}animals: [{{species: pogona-vitticeps, males: 1}}]\n"
        "needs: [{quantity: uvi, low: 1, high: 2, site: lit, about: pogona-vitticeps, source: me}]\n"
    )
    own = read_habitat_text(text, Path("c.yaml"))
    band, source = choice.uvi_band(own, own.animals[0].species)
    assert band == (1.0, 2.0)
    assert source is not None
    assert source.text == "me"
    assert choice.uvi_band(made, made.animals[0].species)[0] == (4.5, 9.5)


def test_chart_csv_tables_and_document():
    made, run, light = scene()
    told = study_animals(made, {"winter": run}, light)
    (one,) = told.residents
    assert drawable(one)
    png = choice_chart(made, [one], "png", "metric")
    assert png.startswith(b"\x89PNG")
    drawn = choice_chart(made, [one], "svg", "us")
    assert drawn == choice_chart(made, [one], "svg", "us")
    # Several species stand one under another, each under its own name.
    both = choice_chart(made, [one, one], "svg", "us").decode()
    named = f"What {one.species.label} can choose from"
    assert both.count(f"<!-- {named} -->") == 2
    assert drawn.decode().count(f"<!-- {named} -->") == 1
    rows = list(csv.reader(io.StringIO(choice_csv(made, told, "us"))))
    assert rows[0][-2:] == ["body [°F]", "humidity [%]"]
    assert len(rows) == 1 + 24 * 2
    assert rows[1 + 2 * 12][2:] == ["12", "1", "lit", "basking", "5.000", "98.60", "35.0"]
    text = " ".join(" ".join(r) for t in [*way_tables(one, "us"), *choice_tables(one, "us")]
                    for r in t.rows)  # fmt: skip
    assert "all in the same hour 33 %" in text
    document = animals_document(made, told, (), "metric")
    jsonschema.validate(json.loads(json.dumps(document)), animals_schema())
    jsonschema.validate(document["species"][0]["climb"], climb_schema())
    assert document["species"][0]["choices"][0]["share_of_day"]["uv"] == pytest.approx(8 / 12)


def test_spots_without_a_name_count_beside_named_places():
    made, run, light = scene()
    bright = np.zeros((25, 1))
    bright[8:20] = 6.0
    more = choice.Sampled(
        ("ground",), bright, np.full((25, 1), 273.15 + 36.0), np.full((25, 1), 0.35)
    )
    species = made.animals[0].species
    alone = choice.choice_of(made, species, (), run, light, more)
    assert alone is not None
    assert (alone.sites, alone.roles) == (("ground",), (choice.SPOT,))
    found = choice.choice_of(made, species, ("lit", "shade"), run, light, more)
    assert found is not None
    assert found.roles == ("basking", "retreat", choice.SPOT)
    assert found.shares.both == 1.0
    # A spot in the light is no shelter, so shelter is what the named places have of it.
    assert alone.shares.cool == 0.0
    tables = choice_tables(SimpleNamespace(species=species, choices={"winter": found}), "metric")
    assert [r[0] for r in tables[1].rows] == ["lit", "shade"]
    assert "Beside them 1 spots" in tables[1].note


# -- spots -----------------------------------------------------------------------------------------


def test_spots_are_a_handful_on_every_thing_but_walls():
    made = habitat(rods(9.0), TWO, SNAKE)
    places = climbing.foot_places(made)
    rows = spots.chosen(places)
    on = [places.owners[i] for i in places.owner[rows]]
    assert {name: on.count(name) for name in set(on)} == {"a": 3, "b": 3, "ground": 6}
    # Far from each other: both ends of a rod are among its three.
    mine = places.at[rows][[i for i, name in enumerate(on) if name == "a"]]
    assert np.ptp(mine[:, 0]) == pytest.approx(0.355, abs=0.03)


@pytest.mark.slow
def test_a_spot_reads_what_a_site_there_does(tmp_path):
    """Light, surroundings and body at spots against named places in the same air."""
    path = Path(workflow.__file__).parent / "data" / "examples" / "rain-glass.yaml"
    made = read_habitat(path)
    group = made.animals[0]
    # Of these frogs no mass is known, so one is given.
    made = replace(made, animals=(replace(group, species=replace(group.species, mass=3e-3)),))
    store = Kept(tmp_path)
    study = workflow._light_study(made, store, workflow.quiet)
    found = workflow.animal_spots(made, study, store).spots
    sites = tuple(
        Site(f"spot {i}", tuple(float(v) for v in found.at[i])) for i in range(len(found.foot))
    )
    there = replace(made, sites=(*made.sites, *sites))
    own = workflow._light_study(there, store, workflow.quiet)
    first = len(made.sites)
    theirs = brightest(by_lamp(made.lamps, own.at_sites[:, first:, 2:], "uvi")).sum(axis=0)
    mine = brightest(by_lamp(made.lamps, found.ways, "uvi")).sum(axis=0)
    assert mine == pytest.approx(theirs, rel=0.02, abs=0.002)
    built = workflow.built_climate(there, own, store)
    run = workflow.climate_days(there, ("winter",), store)["winter"]
    species = made.animals[0].species
    read = spots.read(made, species, found, np.arange(len(found.foot)), run, built)
    assert read.humidity == pytest.approx(run.humidity[:, first:], abs=1e-3)
    # What lies on something takes its warmth as well, which a spot leaves out.
    off = read.operative - run.operative[species.key][:, first:]
    assert np.abs(off).mean() < 0.5
    free = np.isnan(run.surface[0, first:])
    assert np.abs(off[:, free]).max(initial=0.0) < 0.3
