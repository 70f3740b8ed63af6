# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""The habitat file reader: a full file read right, and every kind of problem said where it is."""

from __future__ import annotations

import math
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from loamwright.errors import InputError
from loamwright.files.catalogue import load_catalogue
from loamwright.files.document import parse_document
from loamwright.files.json_schema import habitat_schema, schema_markdown
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import SourceKind

FULL = """\
format: 1
name: Quarry Room        # a comment
purpose: breeding
units: us
room:
  winter: {day: 66 degF, night: 16 degC, humidity: 35 %}
  altitude: 12 m
enclosure:
  inside: {width: 150 cm, depth: 75 cm, height: 4 ft}
  panels:
    back: {material: plywood, thickness: 18 mm}
    front: {material: float-glass, thickness: 6 mm, doors: 2, gap: 3 mm}
  openings:
    - {name: window, panel: top, at: [75 cm, 40 cm], size: [90 cm, 20 cm], cover: steel-mesh-6mm}
  lining:
    - {name: rock face, panel: back, material: coated-pu-foam, thickness: 6 cm, fixing: screws}
  stand: {kind: timber bench, rated: 400 kg}
ground:
  - {name: drainage, kind: drainage-mat, depth: 3 cm}
  - {name: separator, kind: fleece}
  - {name: mix, kind: mix, depth: 20 cm}
  - {name: litter, kind: leaf-litter, leaf: oak, depth: 3 cm}
hardscape:
  - {name: branch, shape: branch, from: [20 cm, 50 cm, 60 cm], to: [110 cm, 50 cm, 60 cm],
     diameter: 5 cm, material: hardwood, fixing: two screws}
  - {name: cork tube, shape: tube, from: [20 cm, 20 cm, 45 cm], to: [60 cm, 20 cm, 45 cm],
     diameter: 18 cm, wall: 2 cm}
  - {name: pebble, shape: rock, at: [120 cm, 20 cm], size: [10 cm, 10 cm, 6 cm], on: slab}
  - {name: slab, shape: block, at: [120 cm, 20 cm], size: [30 cm, 20 cm, 4 cm], on: floor}
plants:
  - {name: fig, species: ficus-benjamina, at: [110 cm, 50 cm], height: 80 cm, spread: 45 cm}
  - {species: neoregelia-small, on: branch, along: 0.25, height: 12 cm, spread: 15 cm}
  - {species: neoregelia-small, at: [20 cm, 60 cm], height: 12 cm, spread: 15 cm}
lamps:
  - {name: uv, type: t5ho-uvb-medium-54w, at: [75 cm, 40 cm, 118 cm], hours_run: 1200 h}
  - {name: spot, type: halogen-flood-50w, at: [35 cm, 40 cm, 115 cm], aim: basking,
     guard: wire-cage, dim: 80 %, hours: {from: 20:00, to: 06:00}}
water:
  - {name: bowl, at: [75 cm, 20 cm], size: [18 cm, 16 cm], depth: 3 cm}
day: {from: "08:00", to: "20:30"}
animals:
  - {species: phelsuma-grandis, males: 1, females: 2, from: old-left, individuals: [Ada, Bea, Carl]}
sites:
  - {name: basking, on: branch, along: 0.5, role: basking, for: phelsuma-grandis}
  - {name: cool hide, on: cork tube, inside: true, role: hide}
  - {name: mid air, at: [75 cm, 40 cm, 70 cm]}
  - {name: slab top, on: slab, at: [110 cm, 20 cm], role: perch}
  - {name: pebble top, on: pebble}
  - {name: leaves, on: ground, at: [60 cm, 50 cm], role: retreat, normal: [0, 0, 2]}
existing:
  - {name: old-left, ground: 70 L, condition: {moist: even}, animals: [Ada, Bea, Carl]}
pedigree:
  - {name: Ada, species: phelsuma-grandis, sex: female, sire: Old, dam: Oma}
  - {name: Bea, sex: female}
  - {name: Carl, species: phelsuma-grandis, sex: male}
  - {name: Old, sex: male}
  - {name: Oma, sex: female}
people: {in_front: 20 min, distance: 40 cm}
needs:
  - {quantity: uvi, site: basking, about: phelsuma-grandis, low: 2, high: 4, source: our own log}
  - {quantity: uva, about: fig, high: 15 W/m2, source: a grower, facing: up}
"""

SMALL = """\
name: Small
enclosure:
  inside: {width: 60 cm, depth: 45 cm, height: 90 cm}
"""
RESIDENT = "animals: [{species: phelsuma-grandis, males: 1}]\n"


def read(text: str, folder: Path = Path()) -> Habitat:
    return read_habitat_text(text, folder / "habitat.yaml", folder)


def problems(text: str, folder: Path = Path()) -> list[str]:
    with pytest.raises(InputError, match=r"habitat.yaml:\d+:\d+") as caught:
        read(text, folder)
    return [str(p).removeprefix(f"{folder}/") for p in caught.value.problems]


@pytest.fixture(scope="module")
def full() -> Habitat:
    return read(FULL)


def named(items: tuple, name: str):  # type: ignore[type-arg, no-untyped-def]
    return next(item for item in items if item.name == name)


def test_box_room_and_ground_in_si(full: Habitat) -> None:
    assert full.enclosure.inside == pytest.approx((1.5, 0.75, 1.2192))  # 4 ft of 0.3048 m
    assert full.room.winter.day == pytest.approx((66 + 459.67) * 5 / 9)
    assert full.room.summer.humidity == 0.55
    assert full.room.altitude == 12.0
    assert full.enclosure.panel("front").doors == 2
    assert full.enclosure.panel("back").material.key == "plywood"
    assert full.enclosure.panel("left").material.key == "pvc-foam-board"
    assert full.enclosure.openings[0].cover.key == "steel-mesh-6mm"
    assert full.enclosure.lining_depth("back") == 0.06
    assert full.enclosure.stand is not None
    assert full.enclosure.stand.rated == 400.0
    assert full.ground.depth == pytest.approx(0.03 + 0.002 + 0.20 + 0.03)
    assert full.ground.layers[-1].leaf == "oak"
    assert full.day == (8 * 3600.0, 20.5 * 3600.0)
    assert full.people.minutes_in_front == 1200.0
    assert (full.purpose, full.units) == ("breeding", "us")


def test_pieces_stand_on_what_they_name(full: Habitat) -> None:
    slab, pebble = named(full.hardscape, "slab"), named(full.hardscape, "pebble")
    assert slab.at == pytest.approx((1.2, 0.2, 0.262))
    assert pebble.at[2] == pytest.approx(0.262 + 0.04), "though the slab comes later in the file"
    assert [p.name for p in full.hardscape] == ["branch", "cork tube", "pebble", "slab"]
    assert named(full.hardscape, "cork tube").material.key == "cork"
    assert full.water[0].at == pytest.approx((0.75, 0.2, 0.262))


def test_sites_lie_just_above_their_surface(full: Habitat) -> None:
    basking = named(full.sites, "basking")
    assert basking.at == pytest.approx((0.65, 0.5, 0.6 + 0.025 + 0.002))
    assert basking.normal == pytest.approx((0, 0, 1))
    assert basking.species == ("phelsuma-grandis",)
    hide = named(full.sites, "cool hide")
    assert hide.at == pytest.approx((0.4, 0.2, 0.45 - 0.07 + 0.002)), "on the tube's inner floor"
    assert named(full.sites, "slab top").at[2] == pytest.approx(0.302 + 0.002)
    assert named(full.sites, "pebble top").at == pytest.approx((1.2, 0.2, 0.362 + 0.002))
    assert named(full.sites, "leaves").at == pytest.approx((0.6, 0.5, 0.264))
    assert named(full.sites, "leaves").normal == (0, 0, 1)


def test_a_crown_becomes_a_site(full: Habitat) -> None:
    crown = named(full.sites, "fig crown")
    assert (crown.role, crown.plant) == ("crown", "fig")
    assert crown.at == pytest.approx((1.1, 0.5, 0.262 + 0.80 + 0.005))
    assert [p.name for p in full.plants] == ["fig", "neoregelia-small", "neoregelia-small 2"]
    assert full.plants[1].foot == pytest.approx((0.425, 0.5, 0.625)), "on top of the branch"


def test_lamps(full: Habitat) -> None:
    uv, spot = full.lamps
    assert (uv.aim, uv.along, uv.hours_run, uv.on) == ((0, 0, -1), (1, 0, 0), 1200.0, full.day)
    basking = named(full.sites, "basking").at
    away = math.dist(basking, spot.at)
    expected = [(b - a) / away for a, b in zip(spot.at, basking, strict=True)]
    assert spot.aim == pytest.approx(expected)
    assert np.dot(spot.aim, spot.along) == pytest.approx(0.0, abs=1e-12)
    assert (spot.dim, spot.on) == (0.8, (72000.0, 21600.0))
    assert spot.guard is not None
    assert spot.hours_a_day == 10.0


def test_residents_and_needs(full: Habitat) -> None:
    group = full.animals[0]
    assert (group.males, group.females, group.origins) == (1, 2, ("old-left",))
    assert group.individuals == ("Ada", "Bea", "Carl")
    ada = named(full.pedigree, "Ada")
    assert (ada.sire, ada.dam, ada.lives_in) == ("Old", "Oma", "old-left")
    assert full.existing[0].ground_volume == pytest.approx(0.07)
    uvi, uva = full.needs
    assert (uvi.low, uvi.high, uvi.site, uvi.facing) == (2.0, 4.0, "basking", "brightest")
    assert uvi.source.kind is SourceKind.BUILDER
    assert (uva.low, uva.high, uva.facing) == (None, 15.0, "up")


def test_nothing_of_the_file_format_leaks_into_the_habitat(full: Habitat) -> None:
    """Plain floats, so that results do not depend on how a number was written."""
    assert type(full.enclosure.inside[0]) is float
    assert type(full.lamps[0].at[2]) is float
    assert type(full.plants[0].height) is float


def test_the_least_file_gets_stated_defaults() -> None:
    habitat = read(SMALL + RESIDENT)
    stated = {d.field: d for d in habitat.defaults}
    assert stated["enclosure.panels.front.material"].value == "float-glass"
    assert stated["enclosure.panels.front.doors"].value == "2"
    assert stated["enclosure.panels.top.thickness"].value == "10 mm"
    assert stated["day"].value == "07:00 to 19:00"
    assert stated["room.winter.day"].value == "19.0 °C"
    assert stated["people.distance"].value == "30 cm"
    assert stated["ground[mix]"].value == "13.5 cm"  # 15 % of 90 cm
    assert all(d.why for d in habitat.defaults)
    assert read(SMALL + "ground: []\n" + RESIDENT).ground.depth == 0.0
    assert read(SMALL + "plants:\nlamps:\n" + RESIDENT).plants == (), "an empty key is left out"


def test_a_plant_without_a_size_is_young_and_fits() -> None:
    fig = load_catalogue().plants["ficus-benjamina"]
    assert fig.mature_height == 2.0
    habitat = read(SMALL + "ground: []\nplants: [{species: ficus-benjamina, at: [30 cm, 20 cm]}]\n")
    plant = habitat.plants[0]
    assert plant.height == pytest.approx(0.9 * 0.9), "60 % of 2 m is more than the box allows"
    assert plant.spread == pytest.approx(0.45)
    default = next(d for d in habitat.defaults if d.field == "plants[ficus-benjamina].height")
    assert "60% of its mature height of 2" in default.why


def test_many_problems_come_at_once_with_their_places() -> None:
    text = (
        SMALL
        + (
            "hardscape:\n"
            "  - {name: a, shape: branch, from: [0 cm, 10 cm, 50 cm], to: [70 cm, 10 cm, 50 cm], "
            "diameter: 3 cm}\n"
            "lamps:\n"
            "  - {name: uv, type: t5ho-uvb-medum-24w, at: [30 cm, 20 cm, 85 cm]}\n"
            "  - {name: uv, type: halogen-flood-50w, at: [30 cm, 20, 85 cm]}\n"
            "sites:\n"
            "  - {name: s, on: b, rol: perch}\n"
            "  - {name: t, on: bb}\n"
            "animal: 3\n"
        )
        + RESIDENT.replace("males: 1", "males: one")
    )
    assert problems(text) == [
        "habitat.yaml:5:63: hardscape[0].to[0]: its end reaches x = 70 cm; inside width 60 cm",
        "habitat.yaml:7:22: lamps[0].type: the catalogue has no lamp 't5ho-uvb-medum-24w'; "
        "the nearest known is 't5ho-uvb-medium-24w'",
        "habitat.yaml:8:12: lamps[1].name: 'uv' is the name of another lamp too (line 7); "
        "names must differ",
        'habitat.yaml:8:53: lamps[1].at[1]: 20 has no unit; write it like "16 mm" '
        "(units: mm, cm, m, in, ft)",
        "habitat.yaml:10:22: sites[0].rol: unknown key; the nearest known is 'role'",
        "habitat.yaml:11:19: sites[1].on: there is no piece named 'bb'; known: a, floor, ground",
        "habitat.yaml:12:1: animal: unknown key; the nearest known is 'animals'",
        "habitat.yaml:13:46: animals[0].males: must be a whole number",
    ]


def test_a_faulty_entry_does_not_make_what_names_it_faulty() -> None:
    text = (
        SMALL
        + (
            "hardscape: [{name: a, shape: branch, from: [0 cm, 1 cm, 50 cm], to: [9 cm, 1 cm, 50 cm], "
            "diameter: 3}]\n"
            "sites: [{name: s, on: a}]\n"
            "lamps: [{name: l, type: halogen-flood-50w, at: [30 cm, 20 cm, 80 cm], aim: s}]\n"
            "needs: [{quantity: uvi, site: s, low: 1, source: me}]\n"
        )
        + RESIDENT
    )
    assert [p.split(": ")[1] for p in problems(text)] == ["hardscape[0].diameter"]


BOX = "name: B\nenclosure: {inside: {width: 60 cm, depth: 45 cm, height: 36 in}}\n" + RESIDENT

WRONG = [
    # the form
    ("- a\n", "1:1: is not a habitat file"),
    ("name: x\n" + RESIDENT, "1:1: enclosure: is needed"),
    (SMALL.replace("name: Small\n", "") + RESIDENT, "1:1: name: is needed"),
    (SMALL, "has no animal and no plant"),
    (BOX.replace("B\n", "[a]\n", 1), "1:7: name: must be a text"),
    (BOX.replace("B\n", "12\n", 1), '1:7: name: must be a text; put it in quotes: "12"'),
    (BOX + "format: 2\n", "4:9: format: 2 is not one of: 1"),
    (BOX + "purpose: zoo\n", "4:10: purpose: 'zoo' is not one of: exhibit, breeding, retail"),
    (BOX + "lamps: {name: a}\n", r"4:8: lamps: must be a list"),
    (BOX + "room: warm\n", "4:7: room: must be keys with values"),
    (BOX + "fans: []\n", "4:1: fans: unknown key"),
    (BOX.replace("depth: 45 cm, ", ""), "enclosure.inside.depth: is needed: Inside depth"),
    (BOX.replace("depth:", "dpth:"), "unknown key; the nearest known is 'depth'"),
    # units
    (BOX.replace("60 cm", "60 kg"), "enclosure.inside.width: '60 kg'"),
    (BOX.replace("60 cm", "60"), "enclosure.inside.width: 60 has no unit"),
    (BOX.replace("60 cm", "0 cm"), "'0 cm' must be more than 0 mm"),
    (BOX.replace("60 cm", "-3 cm"), "'-3 cm' must lie between|must be more than"),
    (BOX.replace("60 cm", "9e9 m"), "'9e9 m' must lie between"),
    (BOX.replace("60 cm", "[60 cm]"), "a list is not one quantity"),
    (BOX + "room: {winter: {day: 19 cm}}\n", "room.winter.day: '19 cm'"),
    (BOX + "room: {winter: {day: 700 degC}}\n", "must lie between"),
    (BOX + "day: {from: 25:00, to: 19:00}\n", "day.from: '25:00'"),
    # ground
    (BOX + "ground: [{kind: mix, depth: 95 cm}]\n", "together 95|95 cm deep together; inside height "
     r"91.44 cm \(36 in\)"),
    (BOX + "ground: [{kind: mix}]\n", "ground.0..depth: is needed for mix"),
    (BOX + "ground: [{kind: leaf-liter}]\n", "'leaf-liter' is not known; .*'leaf-litter'"),
    (BOX + "ground: [{kind: mix, depth: 5 cm, leaf: oak}]\n", "leaf: belongs to leaf-litter"),
    (BOX + "ground: [{kind: mix, depth: 5 cm, surface: mos}]\n", "no material 'mos'"),
    # pieces
    (BOX + "hardscape: [{name: a, shape: brnch}]\n", "shape: 'brnch' is not one of: branch"),
    (BOX + "hardscape: [{name: a}]\n", "hardscape.0..shape: is needed"),
    (BOX + "hardscape: [a]\n", r"hardscape.0.: must be keys with values: \{name"),
    (BOX + "hardscape: [{name: a, shape: block, at: [30 cm, 20 cm], size: [70 cm, 9 cm, 9 cm]}]\n",
     "the block reaches x = -5 cm; the inside begins at 0"),
    (BOX + "hardscape: [{name: a, shape: block, at: [20 in, 20 cm], size: [24 in, 9 cm, 9 cm]}]\n",
     r"the block reaches x = 32 in; inside width 23.62 in \(60 cm\)"),
    (BOX + "hardscape: [{name: a, shape: rock, at: [30 cm, 20 cm, 85 cm], size: [9 cm, 9 cm, 9 cm]}]\n",
     r"the rock reaches z = 94 cm; inside height 91.44 cm \(36 in\)"),
    (BOX + "hardscape: [{name: a, shape: branch, from: [9 cm, 1 cm, 50 cm], to: [50 cm, 1 cm, 50 cm], "
     "diameter: 4 cm}]\n", "with its thickness it reaches y = -1 cm"),
    (BOX + "hardscape: [{name: a, shape: branch, from: [9 cm, 9 cm, 50 cm], to: [9 cm, 9 cm, 50 cm], "
     "diameter: 4 cm}]\n", "it has no length"),
    (BOX + "hardscape: [{name: a, shape: tube, from: [9 cm, 9 cm, 50 cm], to: [30 cm, 9 cm, 50 cm], "
     "diameter: 4 cm, wall: 1 in}]\n", "a wall of 1 in leaves no hollow: half the diameter is 0.79 in"),
    (BOX + "hardscape:\n - {name: a, shape: rock, at: [9 cm, 9 cm], size: [4 cm, 4 cm, 4 cm], on: b}\n"
     " - {name: b, shape: rock, at: [9 cm, 9 cm], size: [4 cm, 4 cm, 4 cm], on: a}\n",
     "pieces stand in a circle: 'a' on 'b' on 'a'"),
    (BOX + "hardscape:\n - {name: a, shape: rock, at: [30 cm, 9 cm], size: [4 cm, 4 cm, 4 cm], on: b}\n"
     " - {name: b, shape: rock, at: [9 cm, 9 cm], size: [4 cm, 4 cm, 4 cm]}\n",
     r"\[30 cm, 9 cm\] is not over 'b', which reaches x 7 cm to 11 cm"),
    (BOX + "hardscape: [{name: a, shape: rock, at: [9 cm, 9 cm, 9 cm], size: [4 cm, 4 cm, 4 cm], on: floor}]\n",
     "has a height, and 'on' says what it stands on"),
    (BOX + "hardscape: [{name: ground, shape: rock, at: [9 cm, 9 cm], size: [4 cm, 4 cm, 4 cm]}]\n",
     "'ground' is a word of its own"),
    # openings and linings
    (BOX.replace("}}", "}, openings: [{name: o, panel: left, at: [20 cm, 90 cm], size: [9 cm, 9 cm]}]}"),
     r"reaches z 85.5 cm to 94.5 cm; inside height 91.44 cm \(36 in\)"),
    (BOX.replace("}}", "}, openings: [{name: o, panel: top, at: [20 cm, 20 cm], size: [9 cm, 9 cm]}, "
     "{name: p, panel: top, at: [24 cm, 20 cm], size: [9 cm, 9 cm]}]}"), "overlaps 'o'"),
    (BOX.replace("}}", "}, openings: [{name: o, panel: lid, at: [20 cm, 20 cm], size: [9 cm, 9 cm]}]}"),
     "panel: 'lid' is not one of"),
    (BOX.replace("}}", "}, lining: [{name: o, panel: back, material: cork, thickness: 50 cm}]}"),
     "linings of front and back take 50 cm together; inside depth 45 cm"),
    # plants
    (BOX + "plants: [{species: fikus-benjamina, at: [9 cm, 9 cm]}]\n", "no plant 'fikus-benjamina'; "
     "the nearest known is 'ficus-benjamina'"),
    (BOX + "plants: [{species: ficus-benjamina}]\n", "plants.0..at: is needed"),
    (BOX + "plants: [{species: ficus-benjamina, at: [9 cm, 9 cm, 1 cm]}]\n",
     "its foot at z = 1 cm is below the ground's surface at"),
    (BOX + "ground: []\nplants: [{species: ficus-benjamina, at: [9 cm, 9 cm], height: 95 cm}]\n",
     r"is 95 cm tall on a foot at 0 cm and reaches z = 95 cm; inside height 91.44 cm \(36 in\)"),
    (BOX + "plants: [{species: ficus-benjamina, at: [9 cm, 60 cm], height: 20 cm}]\n",
     "its foot reaches y = 60 cm; inside depth 45 cm"),
    (BOX + "plants: [{species: ficus-benjamina, at: [9 cm, 9 cm], along: 0.5}]\n", "along: needs 'on'"),
    # sites
    (BOX + "sites: [{name: s}]\n", "sites.0..at: is needed"),
    (BOX + "sites: [{name: s, at: [9 cm]}]\n", "at: has 1 parts; 2 are needed"),
    (BOX + "sites: [{name: s, at: [9 cm, 9 cm, 2 m]}]\n", "the site reaches z = 2 m; inside height 0.9144 m"),
    (BOX + "sites: [{name: s, at: [9 cm, 9 cm, 5 cm], role: perch}]\n",
     "a perch site at z = 5 cm is below the ground's surface at"),
    (BOX + "hardscape: [{name: r, shape: rock, at: [30 cm, 20 cm], size: [20 cm, 20 cm, 20 cm]}]\n"
     "sites: [{name: s, at: [30 cm, 20 cm, 28 cm]}]\n", r"the site at \[30 cm, 20 cm, 28 cm\] is inside 'r'"),
    (BOX + "hardscape: [{name: r, shape: rock, at: [30 cm, 20 cm], size: [20 cm, 20 cm, 20 cm]}]\n"
     "sites: [{name: s, on: r, along: 0.5}]\n", "'r' is a rock: give 'at"),
    (BOX + "sites: [{name: s, at: [9 cm, 9 cm, 50 cm], for: [phelsuma-grandis, gecko-x]}]\n",
     "sites.0..for.1.: the catalogue has no animal 'gecko-x'"),
    (BOX + "sites: [{name: s, at: [9 cm, 9 cm, 50 cm], normal: sideways}]\n", "'sideways' is not one of: up"),
    (BOX + "sites: [{name: s, at: [9 cm, 9 cm, 50 cm], inside: true}]\n", "needs 'on' with the tube"),
    (BOX + "plants: [{name: f, species: ficus-benjamina, at: [9 cm, 9 cm], height: 20 cm}]\n"
     "sites: [{name: f crown, at: [9 cm, 9 cm, 50 cm]}]\n", "is the name of a plant's crown already"),
    # lamps
    (BOX + "ground: [{kind: mix, depth: 10 cm}]\nlamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 4 cm]}]\n",
     "the lamp at z = 4 cm is below the ground's surface at 10 cm"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 92 cm]}]\n",
     "the lamp is in the top panel: 0.56 cm behind its inner face, and the panel is 1 cm thick"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 99 cm]}]\n",
     r"the lamp at z = 99 cm is behind the closed top panel \(inside height 91.44 cm \(36 in\)\)"),
    (BOX + "lamps: [{name: l, type: t5ho-uvb-medium-54w, at: [30 cm, 9 cm, 80 cm]}]\n",
     "the lamp is 1[01][0-9.]+ cm long and its left end is at x = -"),
    (BOX + "hardscape: [{name: r, shape: rock, at: [30 cm, 20 cm, 60 cm], size: [20 cm, 20 cm, 20 cm]}]\n"
     "lamps: [{name: l, type: halogen-flood-50w, at: [30 cm, 20 cm, 70 cm]}]\n", "the lamp at z = 70 cm is inside 'r'"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], dim: 0.8}]\n", "0.8 has no unit"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], dim: 120 %}]\n", "must lie between"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], aim: nowhere}]\n",
     "no site or piece named 'nowhere'"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], aim: [9 cm, 9 cm, 80 cm]}]\n",
     "is the lamp's own place"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], along: z}]\n", "lies across that"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], along: w}]\n", "'w' is not one of: x"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], hours: night}]\n", "'night' is not one of: day"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], hours: {from: 07:00}}]\n", "hours.to: is needed"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], guard: wire-cge}]\n", "no cover 'wire-cge'"),
    (BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [9 cm, 9 cm, 80 cm], ies: a.ies, eulumdat: b.ldt}]\n", "one light distribution"),
    (BOX + "lamps: [{name: l, type: t5ho-uvb-medium-24w, at: [30 cm, 9 cm, 80 cm], readings: [{distance: 30 cm}]}]\n", "has no reading"),
    # bowls
    (BOX + "water: [{name: w, at: [5 cm, 9 cm], size: [20 cm, 9 cm], depth: 3 cm}]\n", "the bowl reaches x = -5 cm"),
    # residents
    (BOX.replace("males: 1", "males: 0"), "has no animals"),
    (BOX.replace("males: 1", "males: 1.5"), "must be a whole number"),
    (BOX.replace("males: 1", "males: 1, from: old"), "no existing habitat named 'old'"),
    (BOX.replace("males: 1", "males: 2, individuals: [A]") + "pedigree: [{name: A, sex: male}]\n",
     "males: is 2, but the individuals named hold 1 male"),
    (BOX.replace("males: 1", "individuals: [A, A]") + "pedigree: [{name: A, sex: male}]\n", "'A' is named twice"),
    (BOX.replace("males: 1", "individuals: [A]") + "pedigree: [{name: A, species: gekko-gecko}]\n",
     "'A' is gekko-gecko in the pedigree, not phelsuma-grandis"),
    (BOX.replace("males: 1", "males: 3, from: e") + "existing: [{name: e, animals: [A]}]\npedigree: [{name: A}]\n",
     "3 animals, but 'e' holds 1 of phelsuma-grandis by name"),
    (BOX + "pedigree: [{name: A, sire: B}]\n", "sire: there is no animal in the pedigree named 'B'"),
    (BOX + "pedigree: [{name: A, sire: B}, {name: B, sex: female}]\n", "'B' is female; a sire is male"),
    (BOX + "pedigree: [{name: A, dam: B}, {name: B, sex: male}]\n", "'B' is male; a dam is female"),
    (BOX + "pedigree: [{name: A, sire: B, dam: B}, {name: B}]\n", "'B' is the sire too"),
    (BOX + "pedigree: [{name: A, sire: A}]\n", "is its own ancestor: 'A' from 'A'"),
    (BOX + "pedigree: [{name: A, sire: B}, {name: B, dam: C}, {name: C, sire: A}]\n",
     "is its own ancestor: 'A' from 'B' from 'C' from 'A'"),
    (BOX + "pedigree: [{name: A}, {name: A}]\n", "name of another animal"),
    (BOX + "existing: [{name: e, animals: [A]}, {name: f, animals: [A]}]\npedigree: [{name: A}]\n",
     "'A' already lives in 'e'"),
    # needs
    (BOX + "needs: [{quantity: uv, low: 1, source: me}]\n", "'uv' is not known; the nearest known is"),
    (BOX + "needs: [{quantity: uva, low: 1, source: me}]\n", "needs.0..low: 1 has no unit"),
    (BOX + "needs: [{quantity: uvi, low: 3, high: 2, source: me}]\n", "3 is more than high, 2"),
    (BOX + "needs: [{quantity: uvi, source: me}]\n", "asks for nothing"),
    (BOX + "needs: [{quantity: uvi, low: 1}]\n", "source: is needed"),
    (BOX + "needs: [{quantity: uvi, low: 1, source: ''}]\n", "source: is empty"),
    (BOX + "needs: [{quantity: uvi, low: 1, source: me, about: nobody}]\n", "no animal, plant or lamp named 'nobody'"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "said"), WRONG)
def test_each_kind_of_problem(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        read(text)
    assert all(p.line > 0 and p.column > 0 for p in caught.value.problems)


def test_the_base_of_the_wrong_files_is_right() -> None:
    assert read(BOX).name == "B"


@pytest.mark.parametrize("at", ["[30 cm, 20 cm, 99 cm]", "[30 cm, 20 cm, 92 cm]"])
def test_a_lamp_may_stand_over_or_in_an_opening(at: str) -> None:
    hole = "}, openings: [{name: o, panel: top, at: [30 cm, 20 cm], size: [30 cm, 20 cm]}]}"
    text = BOX.replace("}}", hole) + f"lamps: [{{name: l, type: halogen-flood-50w, at: {at}}}]\n"
    assert read(text).lamps[0].at[2] > 0.9


def test_a_lamp_may_shine_in_through_glass() -> None:
    text = BOX + "lamps: [{name: l, type: halogen-flood-50w, at: [30 cm, -9 cm, 50 cm]}]\n"
    assert read(text).lamps[0].at[1] == pytest.approx(-0.09)


def test_a_burrow_may_lie_below_the_ground() -> None:
    text = BOX + "sites: [{name: s, at: [30 cm, 9 cm, 3 cm], role: retreat}]\n"
    assert read(text).sites[0].at[2] == pytest.approx(0.03)


# -- files the habitat file names ---------------------------------------------------------------

TETRAHEDRON = """\
solid t
{}endsolid t
"""


def tetrahedron() -> str:
    corners = [(0, 0, 0), (100, 0, 0), (0, 100, 0), (0, 0, 100)]
    facets = ""
    for face in ((0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)):
        points = "".join("vertex {} {} {}\n".format(*corners[i]) for i in face)
        facets += f"facet normal 0 0 0\nouter loop\n{points}endloop\nendfacet\n"
    return TETRAHEDRON.format(facets)


@pytest.mark.slow  # loads the mesh library
def test_a_scanned_piece_is_scaled_placed_and_solid(tmp_path: Path) -> None:
    (tmp_path / "scans").mkdir()
    (tmp_path / "scans" / "root.stl").write_text(tetrahedron())
    piece = "hardscape: [{name: root, mesh: scans/root.stl, at: [30 cm, 20 cm, 50 cm]}]\n"
    habitat = read(BOX + piece + "sites: [{name: s, on: root, at: [26 cm, 16 cm]}]\n", tmp_path)
    v = np.array(habitat.hardscape[0].vertices)
    assert v.min(axis=0) == pytest.approx([0.25, 0.15, 0.5]), "1 unit is 1 mm where nothing is said"
    assert v.max(axis=0) == pytest.approx([0.35, 0.25, 0.6])
    # The sloping face x + y + z = 0.1 m, 1 cm in from both edges, is 8 cm up; its normal (1,1,1)/sqrt 3.
    site = habitat.sites[0]
    assert site.normal == pytest.approx([3**-0.5] * 3)
    assert site.at == pytest.approx(
        [0.26 + 0.002 / 3**0.5, 0.16 + 0.002 / 3**0.5, 0.58 + 0.002 / 3**0.5], abs=1e-6
    )
    inside = "sites: [{name: s, at: [26 cm, 16 cm, 52 cm]}]\n"
    with pytest.raises(InputError, match="is inside 'root'"):
        read(BOX + piece + inside, tmp_path)
    outside = "sites: [{name: s, at: [32 cm, 22 cm, 56 cm]}]\n"
    assert read(BOX + piece + outside, tmp_path).sites[0].name == "s"
    turned = piece.replace("50 cm]", "50 cm], unit: 1 cm, turn: 90 deg")
    with pytest.raises(InputError, match=r"the mesh reaches x = -20 cm"):
        read(BOX + turned, tmp_path)


@pytest.mark.parametrize(
    ("named", "said"),
    [
        ("/etc/passwd", "is an absolute path"),
        ("../secret.stl", r"leaves the project's folder \(\.\.\)"),
        ("a/../../secret.stl", "leaves the project's folder"),
        ("'C:/x.stl'", "is an absolute path"),
        ("'..\\x.stl'", "write folders with /"),
        ("~/x.stl", "must be a file in the project's folder"),
        ("'file://x.stl'", "must be a file in the project's folder"),
        ("out.stl", "is a link that leaves the project's folder"),
        ("folder/x.stl", "is a link that leaves the project's folder"),
        ("none.stl", "there is no file 'none.stl'"),
        ("sub", "'sub' is not a file"),
        ('"a\\0b"', "character U.0000 does not belong"),
        ("x" * 300 + ".stl", "cannot be read|there is no file"),
    ],
)
def test_paths_may_not_leave_the_project(tmp_path: Path, named: str, said: str) -> None:
    home = tmp_path / "home"
    (home / "sub").mkdir(parents=True)
    (tmp_path / "secret.stl").write_text(tetrahedron())
    (home / "out.stl").symlink_to(tmp_path / "secret.stl")
    (home / "folder").symlink_to(tmp_path)
    text = BOX + f"hardscape: [{{name: r, mesh: {named}, at: [30 cm, 20 cm]}}]\n"
    with pytest.raises(InputError, match=said):
        read(text, home)
    with pytest.raises(InputError, match=said):
        read(BOX + f"catalogue: [{named}]\n", home)


def test_a_link_inside_the_project_is_followed(tmp_path: Path) -> None:
    (tmp_path / "a.stl").write_text(tetrahedron())
    (tmp_path / "b.stl").symlink_to(tmp_path / "a.stl")
    text = BOX + "hardscape: [{name: r, mesh: b.stl, at: [30 cm, 20 cm]}]\n"
    assert read(text, tmp_path).hardscape[0].shape == "mesh"


def test_an_own_catalogue_and_its_problems(tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    own.write_text(
        "lamps:\n  my-spot:\n    like: halogen-flood-50w\n    power: 60 W\n"
        "    sources: {'*': {kind: builder, text: the label}}\n"
    )
    text = BOX + (
        "catalogue: [own.yaml]\nlamps: [{name: l, type: my-spot, at: [30 cm, 20 cm, 80 cm]}]\n"
    )
    assert read(text, tmp_path).lamps[0].type.power == 60.0
    own.write_text(own.read_text().replace("60 W", "60"))
    with pytest.raises(InputError, match=r"own\.yaml:4:12: lamps\.my-spot\.power") as caught:
        read(text, tmp_path)
    assert len(caught.value.problems) == 1, "the habitat file is not blamed for the lamp"


def test_a_name_lost_in_one_list_is_still_wanted_in_another() -> None:
    """A faulty piece named like a good site hides nothing else, and is not called unknown."""
    text = (
        BOX
        + "hardscape: [{name: basking, shape: rock, at: [30 cm, 20 cm], size: 3}]\n"
        + "sites: [{name: basking, at: [9 cm, 9 cm, 50 cm]}, {name: t, on: basking}]\n"
        + "pedigree: [{name: A, sire: B}]\n"
    )
    fields = [p.split(": ")[1] for p in problems(text)]
    assert fields == ["hardscape[0].size", "pedigree[0].sire"]


@pytest.mark.slow  # loads the light engine
def test_a_lamp_fitted_to_own_readings() -> None:
    lamp = "lamps: [{name: l, type: t5ho-uvb-medium-24w, at: [30 cm, 20 cm, 80 cm]"
    plain = read(BOX + lamp + "}]\n").lamps[0].type
    fitted = read(BOX + lamp + ", readings: [{distance: 30 cm, uvi: 1.0}]}]\n").lamps[0].type
    double = read(BOX + lamp + ", readings: [{distance: 30 cm, uvi: 2.0}]}]\n").lamps[0].type
    assert fitted.band_watts != plain.band_watts
    # Twice the reading is twice the ultraviolet B: the engine is linear in the lamp.
    assert double.band_watts[0] == pytest.approx(2 * fitted.band_watts[0], rel=1e-6)
    with pytest.raises(InputError, match=r"4:\d+: lamps\[0\]\.readings\[1\]\.uvi: uvi is 0"):
        read(BOX + lamp + ", readings: [{distance: 9 cm, uvi: 4}, {distance: 1 m, uvi: 0}]}]\n")


def test_readings_that_make_more_light_than_the_lamp_draws_are_refused() -> None:
    lamp = "lamps: [{name: l, type: t5ho-uvb-medium-24w, at: [30 cm, 20 cm, 80 cm]"
    with pytest.raises(InputError, match=r"4:\d+: lamps\[0\]\.readings: .* a lamp that draws 24 W"):
        read(BOX + lamp + ", readings: [{distance: 30 cm, uvi: 18}]}]\n")


def test_wrong_photometric_files_are_located(tmp_path: Path) -> None:
    (tmp_path / "a.ies").write_text("IESNA:LM-63-2002\nTILT=NONE\n1 2\n")
    lamp = "lamps: [{name: l, type: led-bar-40w, at: [30 cm, 20 cm, 80 cm], ies: a.ies}]\n"
    with pytest.raises(InputError, match=r"a\.ies:\d+"):
        read(BOX + lamp, tmp_path)
    with pytest.raises(InputError, match=r"'a\.ies' must end in \.ldt"):
        read(BOX + lamp.replace("ies: a", "eulumdat: a"), tmp_path)


def test_read_habitat_takes_its_own_folder_as_the_project(tmp_path: Path) -> None:
    path = tmp_path / "habitat.yaml"
    path.write_text(FULL, encoding="utf-8")
    assert read_habitat(path) == read(FULL)
    with pytest.raises(InputError, match="there is no such file"):
        read_habitat(tmp_path / "none.yaml")


# -- the schema ---------------------------------------------------------------------------------


def test_every_field_has_a_description_and_the_schema_is_sound() -> None:
    schema = habitat_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    for part in (schema, *schema["$defs"].values()):
        assert part.get("description")
        for key, value in part["properties"].items():
            assert value.get("description"), key


def test_the_schema_accepts_what_is_right_and_refuses_what_is_not() -> None:
    schema = jsonschema.Draft202012Validator(habitat_schema())
    for text in (FULL, BOX, SMALL + "plants:\n" + RESIDENT):
        assert list(schema.iter_errors(parse_document(text, Path("x")).data)) == []
    for text in (SMALL, BOX + "fans: []\n", BOX.replace("60 cm", "60"), BOX + "purpose: zoo\n"):
        assert list(schema.iter_errors(parse_document(text, Path("x")).data))


def test_the_reference_page_names_every_key() -> None:
    page = schema_markdown()
    for part in (habitat_schema(), *habitat_schema()["$defs"].values()):
        for key in part["properties"]:
            assert f"`{key}`" in page
    assert page == schema_markdown()
