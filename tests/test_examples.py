"""The examples: they read, they say what they are meant to say, and their files travel with them."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import jsonschema
import numpy as np
import pytest
import trimesh
from click.testing import CliRunner
from ruamel.yaml import YAML

from loamwright import ground_pages, workflow
from loamwright.cli import main
from loamwright.files.json_schema import habitat_schema
from loamwright.files.reader import read_habitat
from loamwright.files.starter import example_files
from loamwright.habitat.sources import SourceKind
from loamwright.report.json_out import check_schema

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


def source(example: str) -> Path:
    return FOLDER / f"{example}.yaml"


@pytest.mark.parametrize("example", workflow.EXAMPLES)
def test_it_reads_and_follows_the_schema(example):
    habitat = read_habitat(source(example))
    assert habitat.animals
    assert {s.role for s in habitat.sites} >= {
        "basking",
        "perch",
        "hide",
        "retreat",
        "laying",
        "probe",
    }
    jsonschema.validate(YAML(typ="safe").load(source(example)), habitat_schema())


@pytest.mark.parametrize("example", workflow.EXAMPLES)
def test_new_writes_it_whole(example, tmp_path):
    target = tmp_path / "mine.yaml"
    written = workflow.new(target, example=example)
    assert target in written
    assert target.read_bytes() == source(example).read_bytes()
    assert read_habitat(target) == read_habitat(source(example))


def test_files_beside_an_example_are_found():
    assert set(example_files("dry-rock")) == {"", "parts/outcrop.obj"}
    assert set(example_files("rain-glass")) == {""}


def test_an_example_is_not_half_written_over(tmp_path):
    (tmp_path / "parts").mkdir()
    taken = tmp_path / "parts" / "outcrop.obj"
    taken.write_text("mine")
    with pytest.raises(workflow.InputError, match=r"outcrop\.obj: is there already"):
        workflow.new(tmp_path / "dry.yaml", example="dry-rock")
    assert taken.read_text() == "mine"
    assert not (tmp_path / "dry.yaml").exists()


def outcrop() -> str:
    """The recipe of `parts/outcrop.obj`: nothing was scanned, all of it is made up."""
    ball = trimesh.creation.icosphere(subdivisions=3)
    x, y, z = ball.vertices.T
    bumps = (
        1
        + 0.07 * np.sin(5 * x + 1.3) * np.cos(4 * y - 0.4)
        + 0.05 * np.sin(9 * y + 3 * z)
        + 0.03 * np.cos(13 * x - 7 * z + 0.8)
    )
    v = ball.vertices * bumps[:, None] * [330.0, 250.0, 300.0]
    v[:, 2] = np.clip(v[:, 2], -60.0, 140.0)
    v[:, 2] -= v[:, 2].min()
    lines = [
        "# An outcrop, made up: a ball pushed in and out by a few waves, cut flat below and above.",
        "# Millimetres; 642 corners, 1280 faces.",
    ]
    lines += [f"v {a:.1f} {b:.1f} {c:.1f}" for a, b, c in v]
    lines += ["f " + " ".join(str(i + 1) for i in f) for f in ball.faces]
    return "\n".join(lines) + "\n"


def test_the_outcrop_is_what_its_recipe_makes():
    shipped = trimesh.load(FOLDER / "parts" / "outcrop.obj", process=False)
    fresh = trimesh.load(trimesh.util.wrap_as_stream(outcrop()), file_type="obj", process=False)
    assert len(shipped.faces) == 1280
    assert shipped.is_watertight
    # Written to a tenth of a millimetre.
    assert np.allclose(
        sorted(shipped.vertices.tolist()), sorted(fresh.vertices.tolist()), atol=0.11
    )


def test_the_mesh_stands_on_the_ground_and_carries_the_slab():
    habitat = read_habitat(source("dry-rock"))
    pieces = {p.name: p for p in habitat.hardscape}
    heights = [v[2] for v in pieces["outcrop"].vertices]
    assert min(heights) == pytest.approx(habitat.ground.depth)
    assert pieces["basking slab"].at[2] == pytest.approx(max(heights))
    # The file's 200 mm of height, not 200 m or 200 in.
    assert max(heights) - min(heights) == pytest.approx(0.2, abs=1e-3)


def test_the_fitted_tube_gives_what_the_meter_read():
    habitat = read_habitat(source("dry-rock"))
    uv = next(lamp for lamp in habitat.lamps if lamp.name == "uv")
    assert uv.type.source_of("band_watts").kind is SourceKind.BUILDER
    # A meter good to 10 % and three readings that agree: surer than the catalogue's 30 %.
    assert uv.type.spread < 0.12


def test_the_school_joins_three_habitats():
    habitat = read_habitat(source("school-meadow"))
    assert len(habitat.existing) == 3
    assert len(habitat.pedigree) == 14
    group = habitat.animals[0]
    assert (group.males, group.females, group.young) == (3, 7, 1)
    assert {n for e in habitat.existing for n in e.animals} == set(group.individuals)
    kept = Counter(i.lives_in for i in habitat.pedigree)
    assert kept == {"science room": 4, "library": 3, "entrance hall": 4, "": 3}
    assert sum(i.sire is not None or i.dam is not None for i in habitat.pedigree) == 9


@pytest.mark.parametrize(
    ("example", "parts", "reused"),
    [("forest-edge", 10, {"old tank"}), ("school-meadow", 8, {"science room", "library"})],
)
def test_a_mix_is_made_of_known_parts_and_living_ground(example, parts, reused):
    habitat = read_habitat(source(example))
    mix = next(layer for layer in habitat.ground.layers if layer.kind == "mix")
    assert sum(n for _, n in mix.parts) == parts
    assert {name for name, _ in mix.reuse} == reused
    there = {e.name: e.ground_volume for e in habitat.existing}
    volume = habitat.enclosure.inside[0] * habitat.enclosure.inside[1] * mix.depth
    for name, share in mix.reuse:
        assert 0.5 * there[name] < share * volume <= there[name]
    assert habitat.money is not None
    assert habitat.money.currency == "EUR"


# -- what a check says ----------------------------------------------------------------------

NEEDS = {"uv-basking", "uv-retreat", "uv-steepness", "uv-maximum", "plant-light", "lamp-distance",
         "people-uv", "basking-surface", "body-warm", "air-warm", "air-cool", "night-air",
         "humidity-day", "humidity-night", "plant-cold", "plant-heat", "plant-humidity",
         "air-changes", "wet-pane", "wet-leaves", "hot-surface", "root-depth", "load",
         "ground-moist", "ground-top", "ground-air", "ground-drowned", "standing-water",
         "holiday", "space-floor", "hides", "hide-warm", "hide-cool", "laying-places",
         "water-places", "group-size", "group-males", "pair-inbreeding", "sites-beyond",
         "choice-together", "buried", "enter-day", "dead-ends", "panel-deflection", "panel-stress",
         "fixing", "circuit-load", "voltage-drop", "supply-reserve",
         "piece-held", "piece-overlap", "lamp-room", "crown-wall", "crown-piece",
         "root-ball"}  # fmt: skip
LIFE = {"decomposer-warmth", "decomposer-moisture", "decomposer-numbers", "ground-ready",
        "waste-load", "litter-start", "litter-lasts"}  # fmt: skip
"""Where litter lies and the ground is moist; nothing lives in dry rock's sand."""
PLANTS = {"plant-stature", "plant-prune", "plant-toxic", "plants-settled"}
SOME_PLANTS = {
    "forest-edge": {"plant-hold", "plant-light-grown"},
    "dry-rock": set(),
    "rain-glass": {"plant-hold", "plant-light-grown"},
    "school-meadow": {"plant-light-grown"},
}
FURTHER = {
    # Lamps inside and without a guard, misting, a mass to work out a body's temperature with, stones
    # that stand in the ground, a floor of beams; forest edge is tied to the wall.
    "forest-edge": "cool-shelter hot-lamp tank stuck-mist old-ground stone-footing floor-load ingress "
    "nozzle-pressure",
    "dry-rock": "cool-shelter hot-lamp laying-depth stone-footing tipping",
    "rain-glass": "tank stuck-mist floor-load nozzle-pressure tipping",
    "school-meadow": "cool-shelter tank stuck-mist old-ground laying-depth stone-footing floor-load "
    "nozzle-pressure tipping",
}
ANIMALS = {
    # Sides and height by a standard that names them, perches for those that climb, moist nests.
    "forest-edge": "space-sides space-height perches way-off-ground young-room",
    "dry-rock": "space-sides space-height laying-moist young-room",
    "rain-glass": "young-room",
    "school-meadow": "space-sides space-height perches laying-moist joined-diversity "
    "way-off-ground headcount eggs-missed quarantine",
}

MISSED = {
    # The README's exercise, and the bromeliad in the root's shade.
    "forest-edge": {("uv-basking", "phelsuma-grandis")},
    "dry-rock": set(),
    # As its comments say, and a fern and a bromeliad that outgrow it.
    "rain-glass": {
        ("plant-light", "large bromeliad"),
        ("plant-stature", "fern"),
        ("plant-stature", "top bromeliad"),
    },
    # Joining all three groups is too much: see the file's comment.
    "school-meadow": {
        (need, "takydromus-sexlineatus")
        for need in ("group-size", "group-males", "pair-inbreeding")
    },
}
MET = {
    # By more than their uncertainty; the others are met or close.
    "forest-edge": "uv-retreat uv-maximum air-changes wet-pane wet-leaves hot-surface tank "
    "decomposer-warmth ground-ready waste-load litter-start litter-lasts",
    "dry-rock": "uv-basking uv-retreat uv-maximum air-warm air-changes wet-pane wet-leaves",
    "rain-glass": "uv-basking uv-retreat uv-maximum air-changes tank decomposer-warmth "
    "decomposer-moisture decomposer-numbers ground-ready litter-start litter-lasts",
    "school-meadow": "uv-basking uv-retreat air-changes wet-pane wet-leaves hot-surface tank "
    "decomposer-warmth decomposer-moisture decomposer-numbers ground-ready waste-load litter-lasts",
}


@pytest.fixture(scope="module")
def checked(tmp_path_factory):
    """Each example checked once, by the command, as JSON."""
    kept = tmp_path_factory.mktemp("kept")
    done = {}

    def run(example: str):
        if example not in done:
            result = CliRunner(env={"LOAMWRIGHT_CACHE": str(kept)}).invoke(
                main, ["check", str(source(example)), "--json"]
            )
            done[example] = (result.exit_code, json.loads(result.stdout))
        return done[example]

    return run


@pytest.mark.slow
@pytest.mark.parametrize("example", workflow.EXAMPLES)
def test_check_finds_what_it_should(example, checked):
    status, document = checked(example)
    jsonschema.validate(document, check_schema())
    findings = document["findings"]
    living = PLANTS | SOME_PLANTS[example] | (set() if example == "dry-rock" else LIFE)
    assert {f["need"] for f in findings} == living | NEEDS | {
        *FURTHER[example].split(),
        *ANIMALS[example].split(),
    }
    missed = {(f["need"], f["about"]) for f in findings if f["state"] == "missed"}
    assert status == (1 if missed else 0)
    assert missed == MISSED[example]
    for need in MET[example].split():
        states = {f["state"] for f in findings if f["need"] == need}
        assert states == {"met"}, f"{need}: {states}"
    assert all(f["state"] == "met" for f in findings if f["need"] in ("lamp-distance", "people-uv"))
    assert all(f["source"] for f in findings)


def changed(example: str, folder: Path, *edits: tuple[str, str]) -> Path:
    """A copy of an example with some of its words changed."""
    text = source(example).read_text("utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = folder / f"{example}-changed.yaml"
    path.write_text(text, "utf-8")
    for prices in source(example).parent.glob(f"{example}-prices.csv"):
        (folder / prices.name).write_bytes(prices.read_bytes())
    return path


@pytest.mark.slow
def test_the_miss_of_forest_edge_mends_by_the_move_it_names(checked, tmp_path):
    _, document = checked("forest-edge")
    missed = next(f for f in document["findings"] if f["need"] == "uv-basking")
    assert "Moving 'uv' to [77 cm, 47 cm, 145 cm]" in json.dumps(missed)
    move = ("at: [44 cm, 54 cm, 145 cm]", "at: [77 cm, 47 cm, 145 cm]")
    found = workflow.check(changed("forest-edge", tmp_path, move))
    assert str(next(f for f in found.findings if f.need == "uv-basking").state) == "met"
    assert not found.missed


@pytest.mark.slow
def test_the_miss_of_rain_glass_mends_as_its_comment_says(tmp_path):
    plant = "species: guzmania-lingulata, at: "
    move = (f"{plant}[52 cm, 37 cm]", f"{plant}[50 cm, 12 cm]")
    found = workflow.check(changed("rain-glass", tmp_path, move), only=("light", "climate"))
    light = [f for f in found.findings if (f.need, f.about) == ("plant-light", "large bromeliad")]
    assert [str(f.state) for f in light] == ["met"]
    assert not found.missed


@pytest.mark.slow
def test_rain_glass_stays_wet_without_its_fan_as_its_comment_says(checked, tmp_path):
    fan = ("flow: out, speed: 40 %", "flow: out, speed: 1 %")
    times = (
        '[{at: "08:30", for: 30 s}, {at: "19:00", for: 35 s}]',
        '[{at: "08:30", for: 90 s}, {at: "13:00", for: 90 s}, {at: "19:00", for: 90 s}]',
    )
    found = workflow.check(changed("rain-glass", tmp_path, fan, times), only=("climate",))
    missed = {(f.need, f.site) for f in found.findings if f.state == "missed"}
    assert missed == {("wet-leaves", "top bromeliad")}
    # Panes lie near their limit.
    panes = {str(f.state) for f in found.findings if f.need == "wet-pane"}
    assert panes == {"close"}


@pytest.mark.slow
def test_rain_glass_drowns_without_its_fan_and_with_too_much_mist(tmp_path):
    """Seen in the chart and named in the findings, and no other example's ground drowns."""
    fan = ("flow: out, speed: 40 %", "flow: out, speed: 1 %")
    times = (
        '[{at: "08:30", for: 30 s}, {at: "19:00", for: 35 s}]',
        '[{at: "08:30", for: 5 min}, {at: "13:00", for: 5 min}, {at: "19:00", for: 5 min}]',
    )
    path = changed("rain-glass", tmp_path, fan, times)
    kept = tmp_path / "kept"
    found = workflow.check(path, kept=kept, only=("ground",))
    missed = {f.need for f in found.findings if f.state == "missed"}
    assert {"ground-moist", "ground-air", "ground-drowned", "standing-water"} <= missed
    chart = tmp_path / "ground.svg"
    shown = ground_pages.ground(path, kept=kept, plot=chart)
    assert shown.water is not None
    outlook = shown.water.outlooks[0]
    # The level climbs over the drainage and through the mix, and the middle leaves its band.
    assert outlook.forecast.run.standing.max() > outlook.setting.column.depth
    assert outlook.forecast.middle[-1] > outlook.setting.band[1]
    assert outlook.draw_off() is not None
    assert outlook.plan.mist_most is not None
    assert outlook.plan.mist_most < 0.5
    assert len(chart.read_bytes()) > 20_000


@pytest.mark.slow
def test_a_need_of_the_builders_own_carries_its_own_words(checked):
    _, document = checked("school-meadow")
    basking = [f for f in document["findings"] if f["need"] == "uv-basking"]
    assert len(basking) == 2
    assert all("own choice, no document" in json.dumps(f["source"]) for f in basking)
