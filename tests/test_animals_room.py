"""Room and structure: the box net of what stands in it, standards applied to groups, findings."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from click.testing import CliRunner

from loamwright import workflow
from loamwright.cli import main
from loamwright.engine.life import places
from loamwright.engine.life.room_findings import room_findings
from loamwright.engine.life.space import GROWN, NOW, asked_of, by_species, length_of, usable
from loamwright.engine.life.study import study_animals
from loamwright.files.catalogue import load_catalogue
from loamwright.files.reader import read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.physics.space_standards import STANDARDS, standards_for
from loamwright.report.animals_blocks import animals_tables
from loamwright.report.animals_out import animals_document, animals_schema
from loamwright.report.words import TITLES, word

BOX = """\
name: Plain
enclosure:
  inside: {width: 120 cm, depth: 60 cm, height: 60 cm}
  lining: [{name: wall, panel: back, material: cork-tile, thickness: 10 cm}]
ground: [{name: mix, kind: mix, depth: 10 cm, parts: {coir: 1}}]
"""


def habitat(animals: str, more: str = "", box: str = BOX) -> Habitat:
    return read_habitat_text(f"{box}{more}animals: [{animals}]\n", Path("plain.yaml"))


def findings(made: Habitat, need: str) -> list:
    return [f for f in room_findings(made, {}, ()) if f.need == need]


# -- the box ---------------------------------------------------------------------------------------


def test_room_is_net_of_ground_background_and_pieces():
    pieces = (
        "hardscape:\n"
        "  - {name: slab, shape: block, at: [30 cm, 20 cm], size: [20 cm, 10 cm, 5 cm], "
        "material: sandstone}\n"
        "  - {name: sunk, shape: block, at: [80 cm, 20 cm, 5 cm], size: [20 cm, 10 cm, 10 cm], "
        "material: sandstone}\n"
        "  - {name: log, shape: tube, from: [20 cm, 35 cm, 30 cm], to: [70 cm, 35 cm, 30 cm], "
        "diameter: 10 cm, wall: 1 cm, material: cork}\n"
        "water: [{name: bowl, at: [100 cm, 40 cm], size: [10 cm, 20 cm], depth: 3 cm}]\n"
    )
    box = usable(habitat("{species: pogona-vitticeps, males: 1}", pieces))
    assert (box.long, box.short, box.height) == pytest.approx((1.2, 0.5, 0.5))
    assert box.floor == pytest.approx(0.6)
    # slab whole, half of the sunk one, of the log only its wall: pi / 4 (0.10^2 - 0.08^2) 0.5;
    # a log of 48 sides lacks half a per cent of a round one
    wall = 3.14159265 / 4 * (0.10**2 - 0.08**2) * 0.5
    assert box.pieces == pytest.approx(0.001 + 0.001 + wall, rel=3e-3)
    assert box.volume == pytest.approx(0.6 * 0.5 - box.pieces)
    assert (box.pool, box.pool_depth) == pytest.approx((0.02, 0.03))


# -- standards -------------------------------------------------------------------------------------


def test_every_species_of_the_catalogue_gets_the_standards_of_its_kind():
    served = {
        key: [x.key for x in standards_for(s.latin, s.family, s.stratum)]
        for key, s in load_catalogue().animals.items()
    }
    assert served["pogona-vitticeps"][0] == "at-2004-pogona"  # laws first
    assert set(served["pogona-vitticeps"]) == {
        "at-2004-pogona", "de-1997-pogona", "nsw-2013-pogona", "uk-rspca-pogona",
        "vet-lizard-arboreal",
    }  # fmt: skip
    assert "nsw-2013-pogona" not in served["pogona-henrylawsoni"]
    assert served["rieppeleon-brevicaudatus"][0] == "de-1997-chameleon-ground"
    assert served["furcifer-pardalis"][0] == "de-1997-chameleon"
    assert "de-1997-chameleon" not in served["rieppeleon-brevicaudatus"]
    assert "vet-lizard" not in served["phelsuma-grandis"]  # of two, the one for those that climb
    assert served["testudo-hermanni"] == ["ch-tortoise", "de-1997-tortoise"]
    assert served["terrapene-carolina"] == []  # a box turtle is no land tortoise
    assert served["salamandra-salamandra"] == []
    history = {s.key for s in STANDARDS if not s.in_force}
    assert history == {"ch-2001-calyptratus"}
    assert not history & {key for keys in served.values() for key in keys}
    used = {key for keys in served.values() for key in keys} | history
    assert {s.key for s in STANDARDS} == used  # none that serves nobody


def test_the_file_s_own_length_goes_before_the_catalogue_s():
    groups = by_species(habitat("{species: pogona-vitticeps, males: 2, length: 25 cm}"))[0]
    german = next(a for a in asked_of(groups) if a.standard.key == "de-1997-pogona")
    assert german.space is not None
    # As two pages print it for two of 25 cm: 1.25 x 1.00 x 0.75 m.
    assert (german.space.long, german.space.short, german.space.height) == pytest.approx(
        (1.25, 1.0, 0.75)
    )
    assert german.length is not None
    assert german.length.spread == 0.0


def test_a_mean_of_the_catalogue_is_short_of_the_longest_and_says_how_far():
    groups = by_species(habitat("{species: phelsuma-grandis, males: 1, females: 1}"))[0]
    now, grown = (length_of(groups, "snout-vent", when) for when in (NOW, GROWN))
    assert now is not None
    assert grown is not None
    assert (now.value, grown.value) == pytest.approx((0.097, 0.118))
    assert now.spread == pytest.approx(0.5 * (118 / 97 - 1))
    tail = length_of(groups, "total", NOW)
    assert tail is not None
    assert tail.value == pytest.approx(0.28 * 97 / 118)


def test_of_young_alone_only_what_they_grow_to_is_known():
    groups = by_species(habitat("{species: pogona-vitticeps, young: 4}"))[0]
    assert length_of(groups, "snout-vent", NOW) is None
    asked = {(a.standard.key, a.when): a for a in asked_of(groups)}
    assert asked["de-1997-pogona", NOW].space is None
    grown = asked["de-1997-pogona", GROWN].space
    assert grown is not None
    # 5 x 4 of the longest known, 25 cm, and two more animals: 1.25 m2 x 1.3
    assert grown.floor == pytest.approx(1.625)
    measured = by_species(habitat("{species: pogona-vitticeps, young: 4, length: 8 cm}"))[0]
    small = length_of(measured, "snout-vent", NOW)
    assert small is not None
    assert small.value == pytest.approx(0.08)
    tall = length_of(measured, "snout-vent", GROWN)
    assert tall is not None
    assert tall.value == pytest.approx(0.25)


def test_groups_of_one_species_are_counted_together():
    two = "{species: pogona-vitticeps, males: 1}, {species: pogona-vitticeps, females: 3}"
    asked = asked_of(by_species(habitat(two))[0])
    austria = next(a for a in asked if a.standard.key == "at-2004-pogona")
    assert austria.animals == 4
    assert austria.space is not None
    assert austria.space.floor == pytest.approx(1.8)  # the standard's worked example


# -- findings --------------------------------------------------------------------------------------


def states(made: Habitat) -> dict[tuple[str, str], str]:
    return {
        (f.need, f.source.text.split(":")[0]): str(f.state) for f in room_findings(made, {}, ())
    }


def test_a_floor_too_small_is_missed_and_says_why():
    made = habitat("{species: pogona-vitticeps, males: 2, length: 20 cm}")
    by = states(made)
    assert by["space-floor", "Austria"] == "missed"  # 0.6 m2 for 1.0 m2
    assert by["space-height", "Austria"] == "missed"  # 0.5 m for 0.8 m
    assert by["space-floor", "Germany"] == "missed"  # 0.8 m2
    assert by["space-floor", "New South Wales"] == "met"  # 0.5625 m2
    german = next(f for f in findings(made, "space-sides") if f.source.text.startswith("Germany"))
    assert (german.value, german.low) == pytest.approx((0.5, 0.8))
    told = word(german, made)
    assert "he short side is the one that is nearest" in told.why
    assert "for a length snout to vent of 20 cm (as the file says)" in told.why
    assert "10 January 1997" in told.source
    assert "as others restate them" in told.source


def test_a_standard_silent_on_so_many_is_not_taken_for_a_pass():
    one = habitat("{species: furcifer-pardalis, males: 1, length: 10 cm}")
    assert states(one)["space-floor", "Germany"] == "met"
    three = habitat("{species: furcifer-pardalis, males: 1, females: 2, length: 10 cm}")
    found = next(f for f in findings(three, "space-floor") if f.source.text.startswith("Germany"))
    assert str(found.state) == "not_known"
    assert found.low == pytest.approx(0.4 * 0.25 * 1.2)
    assert "speaks of 2 animals at most" in word(found, three).why
    large = habitat("{species: furcifer-pardalis, males: 1, females: 2, length: 25 cm}")
    floor = next(f for f in findings(large, "space-floor") if f.source.text.startswith("Germany"))
    assert str(floor.state) == "missed"  # 0.75 m2 for two already


def test_without_a_standard_nothing_is_put_in_its_place():
    made = habitat("{species: salamandra-salamandra, males: 1}")
    (found,) = findings(made, "space-floor")
    assert (str(found.state), found.low, found.value) == ("not_known", None, None)
    assert "o published standard for Salamandridae" in word(found, made).why


def test_pools_of_tree_frogs():
    bowl = "water: [{name: bowl, at: [60 cm, 20 cm], size: [20 cm, 20 cm], depth: 15 cm}]\n"
    made = habitat("{species: ranoidea-caerulea, males: 1, females: 1, length: 9 cm}", bowl)
    pool, deep = (findings(made, need)[0] for need in ("space-pool", "pool-depth"))
    # 2 KL x 1 KL and 2 KL deep
    assert (pool.value, pool.low, str(pool.state)) == (
        pytest.approx(0.04), pytest.approx(0.0162), "met",
    )  # fmt: skip
    assert (deep.low, str(deep.state)) == (pytest.approx(0.18), "missed")


def test_structure_is_counted():
    bare = habitat("{species: phelsuma-grandis, males: 1, females: 1}")
    by = {f.need: f for f in room_findings(bare, {}, ())}
    for need in ("perches", "hides", "laying-places", "water-places"):
        assert str(by[need].state) == "missed", need
    more = (
        "hardscape: [{name: rod, shape: branch, from: [20 cm, 20 cm, 15 cm], "
        "to: [90 cm, 30 cm, 50 cm], diameter: 4 cm, material: hardwood}]\n"
        "water: [{name: bowl, at: [100 cm, 40 cm], size: [10 cm, 20 cm], depth: 3 cm}]\n"
        "sites:\n"
        "  - {name: a, on: rod, along: 0.2, role: perch}\n"
        "  - {name: b, on: rod, along: 0.9, role: basking}\n"
        "  - {name: floor, at: [30 cm, 40 cm], role: perch}\n"
        "  - {name: c, at: [10 cm, 20 cm], role: hide}\n"
        "  - {name: d, at: [110 cm, 20 cm], role: retreat, for: gekko-gecko}\n"
        "  - {name: e, at: [60 cm, 40 cm], role: laying}\n"
    )
    made = habitat("{species: phelsuma-grandis, males: 1, females: 1}", more)
    by = {f.need: f for f in room_findings(made, {}, ())}
    assert (by["perches"].value, str(by["perches"].state)) == (2.0, "met")  # not the one below
    assert (by["hides"].value, str(by["hides"].state)) == (1.0, "missed")  # d is another's
    assert str(by["laying-places"].state) == "met"
    (rod,) = places.perches(made)
    assert (rod.low, rod.high, rod.diameter) == pytest.approx((0.05, 0.40, 0.04))
    (spot,) = places.laying(made, made.animals[0].species)
    assert spot.depth == pytest.approx(0.10)


def test_nobody_lays_where_no_female_is():
    males = habitat("{species: phelsuma-grandis, males: 1}")
    assert findings(males, "laying-places") == []
    bearing = habitat("{species: trioceros-jacksonii, females: 1}")
    assert findings(bearing, "laying-places") == []


def test_the_warmth_of_hides_is_held_against_the_day_s_air():
    made = habitat(
        "{species: phelsuma-grandis, males: 1}",
        "sites: [{name: low, at: [10 cm, 20 cm], role: hide}, "
        "{name: high, at: [50 cm, 20 cm, 40 cm], role: retreat}]\n",
    )

    class Run:
        season = "winter"
        clock = np.arange(24.0)
        air = np.stack([np.full(24, 273.15 + 23.0), np.full(24, 273.15 + 27.5)], axis=1)

        @staticmethod
        def site(name: str) -> int:
            return ["low", "high"].index(name)

    found = {f.need: f for f in room_findings(made, {"winter": Run()}, ())}  # type: ignore[dict-item]
    assert (found["hide-warm"].site, str(found["hide-warm"].state)) == ("high", "met")
    assert (found["hide-cool"].site, str(found["hide-cool"].state)) == ("low", "met")
    Run.air = Run.air - 4.0
    found = {f.need: f for f in room_findings(made, {"winter": Run()}, ())}  # type: ignore[dict-item]
    assert str(found["hide-warm"].state) == "missed"  # 23.5 at most, 25 asked for


# -- told ------------------------------------------------------------------------------------------


def test_every_finding_has_a_title_and_a_source():
    made = habitat("{species: ranoidea-caerulea, males: 1, females: 1}")
    for found in room_findings(made, {}, ()):
        assert found.need in TITLES
        assert found.source.text
        assert found.engine == "animals"


@pytest.mark.parametrize("system", ["metric", "us"])
def test_tables_and_document(system):
    made = habitat("{species: pogona-vitticeps, males: 1, young: 2}")
    told = study_animals(made, {})
    tables = animals_tables(made, told, system)
    text = "\n".join(" ".join(row) for t in tables for row in t.rows)
    assert ("m²" in text) == (system == "metric")
    assert "BGBl. II 486/2004" in text
    document = animals_document(made, told, room_findings(made, {}, ()), system)
    jsonschema.validate(json.loads(json.dumps(document)), animals_schema())
    assert document["room"]["floor_m2"] == pytest.approx(0.6)
    first = document["species"][0]
    assert (first["males"], first["young"]) == (1, 2)
    assert {s["group"] for s in first["standards"]} == {"now", "grown"}


def test_without_animals_there_is_nothing_to_tell(tmp_path):
    path = tmp_path / "empty.yaml"
    path.write_text(BOX + "plants: [{species: ficus-benjamina, at: [60 cm, 30 cm]}]\n")
    done = CliRunner(env={"LOAMWRIGHT_CACHE": ""}).invoke(main, ["animals", str(path)])
    assert done.exit_code == 2
    assert "empty.yaml: animals: names no animals" in done.stderr


@pytest.mark.slow
def test_the_command(tmp_path):
    path = tmp_path / "plain.yaml"
    path.write_text(BOX + "animals: [{species: pogona-vitticeps, males: 2}]\n")
    run = CliRunner(env={"LOAMWRIGHT_CACHE": str(tmp_path / "kept")}).invoke
    done = run(main, ["animals", str(path), "--json"])
    assert done.exit_code == 1
    document = json.loads(done.stdout)
    jsonschema.validate(document, animals_schema())
    assert {f["engine"] for f in document["findings"]} == {"animals"}
    shown = run(main, ["animals", str(path), "--units", "us"])
    assert shown.exit_code == 1
    assert "sq ft" in shown.stdout
    assert max(map(len, shown.stdout.splitlines())) <= 100
    checked = workflow.check(path, kept=tmp_path / "kept", only=("animals",))
    assert {f.engine for f in checked.findings} == {"animals"}
    assert "animals" in checked.engines


def test_more_animals_and_longer_ones_need_more():
    """More animals never need less floor, longer ones never a smaller box."""
    for standard in STANDARDS:
        for animals in (1, 2):
            small, large = standard.rule(0.2, animals), standard.rule(0.3, animals)
            if small is None or large is None:
                continue
            for name in ("floor", "long", "short", "height"):
                a, b = getattr(small, name), getattr(large, name)
                assert (a is None) == (b is None)
                if a is not None and b is not None:
                    assert a <= b, (standard.key, name)
        counts = [s for n in range(1, 8) if (s := standard.rule(0.2, n)) is not None]
        floors = [s.floor for s in counts if s.floor is not None]
        assert floors == sorted(floors), standard.key
