# ruff: noqa: E501 (a habitat file reads best with one thing a line)
"""Mixes, reused ground and prices as read from a file, and a file that uses every section."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import get_args

import jsonschema
import pytest
import trimesh
from ruamel.yaml import YAML

from bad_case import METRIC, swap, told
from loamwright.files.catalogue import load_catalogue
from loamwright.files.json_schema import habitat_schema, schema_markdown
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.files.schema_box import GroundKind
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.money import Money
from loamwright.habitat.workshop import Workshop

WHOLE = """\
format: 1
name: Landing, cloud forest corner
purpose: private
units: metric
room:
  winter: {day: 20 degC, night: 17 degC, humidity: 40 %}
  summer: {day: 26 degC, night: 21 degC, humidity: 55 %}
  altitude: 210 m
enclosure:
  inside: {width: 120 cm, depth: 60 cm, height: 130 cm}
  panels:
    floor: {material: pvc-foam-board, thickness: 12 mm}
    back:  {material: pvc-foam-board, thickness: 12 mm}
    left:  {material: pvc-foam-board, thickness: 12 mm}
    right: {material: pvc-foam-board, thickness: 12 mm}
    top:   {material: pvc-foam-board, thickness: 12 mm}
    front: {material: float-glass, thickness: 6 mm, doors: 2, gap: 2 mm}
  openings:
    - {name: light slot, panel: top, at: [60 cm, 30 cm], size: [80 cm, 18 cm], cover: steel-mesh-6mm}
  lining:
    - {name: bark wall, panel: back, material: coated-pu-foam, thickness: 5 cm, fixing: glue}
  stand: {kind: steel frame, rated: 350 kg}
ground:
  - {name: drainage, kind: drainage-mat, depth: 3 cm}
  - {name: cloth, kind: fleece}
  - {name: bed, kind: mix, depth: 15 cm, parts: {coir: 3, composted-bark: 2.5, sand: 1, leaf-mould: 2}, reuse: [{from: hall box, share: 0.2}, {from: desk box, share: 5 %}]}
  - {name: litter, kind: leaf-litter, leaf: beech, depth: 2 cm}
hardscape:
  - {name: sun branch, shape: branch, from: [15 cm, 35 cm, 50 cm], to: [90 cm, 30 cm, 95 cm], diameter: 4 cm, material: hardwood, fixing: three screws}
  - {name: bark tube, shape: tube, from: [70 cm, 15 cm, 30 cm], to: [100 cm, 20 cm, 30 cm], diameter: 15 cm, wall: 2 cm, material: cork}
  - {name: step, shape: block, at: [30 cm, 15 cm], size: [20 cm, 15 cm, 5 cm], material: sandstone, on: floor}
  - {name: stump, mesh: scans/stump.glb, at: [100 cm, 40 cm], material: hardwood}
plants:
  - {name: tree, species: ficus-benjamina, at: [85 cm, 42 cm], height: 60 cm, spread: 30 cm}
  - {name: high cup, species: neoregelia-small, on: sun branch, along: 0.6}
lamps:
  - {name: tube, type: t5ho-uvb-medium-39w, at: [60 cm, 30 cm, 126 cm], along: x, hours: day}
  - {name: spot, type: halogen-flood-50w, at: [80 cm, 30 cm, 122 cm], aim: sun branch, guard: wire-cage, control: warmth}
  - {name: bar, type: led-bar-40w, at: [60 cm, 14 cm, 126 cm], along: x, hours: day, dim: 80 %}
air:
  - {name: inlet, fan: axial-80mm-12v, panel: right, at: [12 cm, 40 cm], flow: in, speed: 50 %}
  - {name: outlet, fan: axial-80mm-12v, panel: top, at: [108 cm, 50 cm], flow: out, speed: 50 %, control: moist}
mist:
  tank: 15 L
  nozzles: [{name: n1, type: fine-nozzle, at: [40 cm, 48 cm, 126 cm], aim: down}]
  times: [{at: "07:00", for: 30 s}, {at: "20:00", for: 45 s}]
water: [{name: dish, at: [55 cm, 12 cm], size: [12 cm, 12 cm], depth: 2 cm}]
controls:
  warmth: {kind: dimming-thermostat, probe: sun place, set: 34 degC, night: off}
  moist:  {kind: humidistat, probe: middle, on_above: 90 %, off_below: 78 %}
day: {from: "07:30", to: "19:30"}
animals:
  - {species: phelsuma-grandis, males: 1, females: 1, from: hall box}
sites:
  - {name: sun place, on: sun branch, along: 0.85, role: basking, for: phelsuma-grandis}
  - {name: shade, at: [85 cm, 17 cm, 30 cm], role: hide}
  - {name: middle, at: [60 cm, 30 cm, 70 cm], role: probe}
existing:
  - {name: hall box, ground: 30 L, condition: {moist: even, clumps: none, smell: earthy}, animals: [Moss, Fern], plants: [a fern]}
  - {name: desk box, ground: 6 L, condition: {moist: dry, clumps: few, smell: none}}
pedigree:
  - {name: Moss, species: phelsuma-grandis, sex: male}
  - {name: Fern, species: phelsuma-grandis, sex: female}
money: {currency: CHF, electricity: 0.36/kWh, labour: 54/h, margin: 25 %, tax: 8.1 %, prices: lists/prices.csv}
build: {start: "2027-03-01", people: 2, hours: 7 h, closed: [sunday, saturday], delivery: 10 d, work: {cut: 5 h}, waits: {cure: 10 d}}
needs: []
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    (tmp_path / "scans").mkdir()
    (tmp_path / "lists").mkdir()
    (tmp_path / "lists" / "prices.csv").write_text("key,pack,unit,price\nmedia/sand,25,L,6.20\n")
    trimesh.creation.box(extents=(0.2, 0.3, 0.2)).export(tmp_path / "scans" / "stump.glb")
    (tmp_path / "habitat.yaml").write_text(WHOLE)
    return tmp_path / "habitat.yaml"


def read(text: str) -> Habitat:
    return read_habitat_text(text, Path("habitat.yaml"))


def test_a_file_with_every_section_reads(project: Path) -> None:
    habitat = read_habitat(project)
    jsonschema.validate(YAML(typ="safe").load(WHOLE), habitat_schema())
    bed = habitat.ground.layers[2]
    assert bed.parts == (
        ("coir", 3.0), ("composted-bark", 2.5), ("sand", 1.0), ("leaf-mould", 2.0),
    )  # fmt: skip
    assert bed.reuse == (("hall box", 0.2), ("desk box", pytest.approx(0.05)))
    assert {layer.name for layer in habitat.ground.layers if layer.parts or layer.reuse} == {"bed"}
    assert habitat.animals[0].origins == ("hall box",)
    assert len(habitat.fans) == 2
    assert len(habitat.hardscape) == 4
    assert habitat.schedule.day == (27000.0, 70200.0)


def test_money_is_in_si(project: Path) -> None:
    money = read_habitat(project).money
    assert money is not None
    assert (money.currency, money.prices) == ("CHF", "lists/prices.csv")
    assert money.electricity == pytest.approx(0.36 / 3.6e6)
    assert money.labour == pytest.approx(54 / 3600)
    assert money.margin == pytest.approx(0.25)
    assert money.tax == pytest.approx(0.081)
    (price,) = money.price_list
    assert (price.key, price.unit, price.told) == ("media/sand", "L", "25 L")
    assert (price.pack, price.price, price.line) == (Decimal(25), Decimal("6.20"), 2)


def test_the_workshop_is_in_days_and_seconds(project: Path) -> None:
    found = read_habitat(project).workshop
    assert found == Workshop(
        "2027-03-01", 0, 2, 7 * 3600.0, (5, 6), 10, (("cut", 18000.0),), (("cure", 10),)
    )
    assert read(METRIC).workshop == Workshop()


def test_money_may_be_left_out_or_say_little() -> None:
    assert read(METRIC).money is None
    habitat = read(METRIC + "money: {currency: EUR}\n")
    assert habitat.money == Money("EUR")
    (told_default,) = [d for d in habitat.defaults if d.field.startswith("money")]
    assert (told_default.field, told_default.value) == ("money.margin", "0 %")


def test_mix_and_money_change_nothing_else(project: Path) -> None:
    whole = read_habitat(project)
    start, end = WHOLE.index(", parts:"), WHOLE.index("}\n  - {name: litter")
    plain = WHOLE[:start] + WHOLE[end:]
    plain = "".join(x for x in plain.splitlines(keepends=True) if not x.startswith("money:"))
    project.write_text(plain)
    bare = read_habitat(project)
    assert bare.money is None
    assert whole != bare
    assert bare.ground.layers[2].mix == "tropical"
    assert [d for d in bare.defaults if d not in whole.defaults] == [
        d for d in bare.defaults if d.field == "ground[bed].mix"
    ]

    def plainly(habitat: Habitat) -> Habitat:
        layers = tuple(
            replace(layer, parts=(), reuse=(), components=(), mix="")
            for layer in habitat.ground.layers
        )
        ground = replace(habitat.ground, layers=layers)
        return replace(habitat, money=None, ground=ground, defaults=())

    assert plainly(whole) == plainly(bare)


@pytest.mark.parametrize(
    ("share", "fits"), [("0.185", True), ("18.5 %", True), ("0.186", False), ("18.6 %", False)]
)
def test_all_of_the_old_ground_may_be_used_and_no_more(share: str, fits: bool, tmp_path) -> None:
    """60 cm x 45 cm x 10 cm are 27 L; 5 L of them are 18.52 %."""
    text = swap("10 cm}", f"10 cm, reuse: [{{from: old, share: {share}}}]}}")
    path = tmp_path / "habitat.yaml"
    path.write_text(text + "existing: [{name: old, ground: 5 L}]\n")
    found = told(path)
    assert not found if fits else "holds 5 L" in found[0].message


def test_a_box_that_cannot_be_read_says_nothing_of_volumes(tmp_path: Path) -> None:
    text = swap("10 cm}", "10 cm, reuse: [{from: old, share: 0.9}]}").replace("60 cm", "60")
    path = tmp_path / "habitat.yaml"
    path.write_text(text + "existing: [{name: old, ground: 5 L}]\n")
    assert [p.field for p in told(path)] == ["enclosure.inside.width"]


def test_a_faulty_old_habitat_is_not_unknown_as_well(tmp_path: Path) -> None:
    path = tmp_path / "habitat.yaml"
    text = swap("10 cm}", "10 cm, reuse: [{from: old, share: 0.1}]}")
    path.write_text(text + "existing: [{name: old, ground: 5 kg}]\n")
    assert [p.field for p in told(path)] == ["existing[0].ground"]


def test_every_layer_has_a_medium_or_components() -> None:
    kinds = [k for k in get_args(GroundKind) if k != "mix"]
    text = METRIC.replace("[{kind: mix, depth: 10 cm}]", "[{kind: KIND, depth: 2 cm}]")
    for kind in kinds:
        (layer,) = read(text.replace("KIND", kind)).ground.layers
        assert layer.medium is not None, kind
        assert (layer.medium.form == "cover") == (kind == "leaf-litter")
        assert layer.components == ()
    (leaves,) = read(text.replace("KIND", "leaf-litter, leaf: oak")).ground.layers
    assert leaves.medium is not None
    assert leaves.medium.key == "oak-litter"
    (grit,) = read(text.replace("KIND", "sand, medium: coarse-sand")).ground.layers
    assert grit.medium is not None
    assert grit.medium.key == "coarse-sand"


def test_a_finished_mix_is_its_parts() -> None:
    layer = read(swap("10 cm}", "10 cm, mix: woodland}")).ground.layers[0]
    assert layer.mix == "woodland"
    assert layer.parts == (
        ("loam", 3.0),
        ("leaf-mould", 3.0),
        ("sand", 2.0),
        ("composted-bark", 2.0),
    )
    assert [c.key for c in layer.components] == [key for key, _ in layer.parts]
    assert layer.medium is None
    usual = read(METRIC)
    assert usual.ground.layers[0].mix == "tropical"
    assert [d.value for d in usual.defaults if d.field.endswith(".mix")] == ["tropical"]


def test_an_own_mix_may_be_measured_as_a_whole(tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text(
        "media: {bag: {like: coir, saturated: 88 %, sources: {saturated: my pot}}}\n"
        "mixes: {mine: {use: all, parts: {coir: 1, sand: 1}, medium: bag, sources: {'*': me}}}\n"
    )
    path = tmp_path / "habitat.yaml"
    path.write_text("catalogue: [own.yaml]\n" + swap("10 cm}", "10 cm, mix: mine}"))
    layer = read_habitat(path).ground.layers[0]
    assert layer.medium is not None
    assert layer.medium.saturated == pytest.approx(0.88)
    assert layer.medium.source_of("saturated").kind == "builder"


def test_an_own_component_can_be_a_part(tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text(
        "components:\n  grit: {like: sand, label: sharp grit, sources: {'*': weighed}}\n"
    )
    path = tmp_path / "habitat.yaml"
    path.write_text("catalogue: [own.yaml]\n" + swap("10 cm}", "10 cm, parts: {grit: 1, coir: 1}}"))
    assert read_habitat(path).ground.layers[0].parts == (("grit", 1.0), ("coir", 1.0))


def test_the_schema_describes_mix_and_money() -> None:
    page = schema_markdown()
    for said in ("## money", "## reuse", "0.31/kWh", "42/h", "{coir: 4, composted-bark: 3"):
        assert said in page
    for wrong in ("{currency: euro}", "{currency: EUR, wages: 3}", "{labour: 3/h}"):
        text = METRIC + f"money: {wrong}\n"
        with pytest.raises(jsonschema.ValidationError, match=r"valid|match|unexpected|required"):
            jsonschema.validate(YAML(typ="safe").load(text), habitat_schema())


def test_components_are_plausible_among_themselves() -> None:
    """Mass and volume of what was wetted: dry mass and all pores full of water (1000 kg/m3) are
    the most a litre can weigh; clays and loose piles settle when wetted, so those without porosity
    are left out. A tenth more is allowed: the ranges are of different samples."""
    for key, part in load_catalogue().components.items():
        (dry, dry_most), (moist, moist_most) = part.dry_density, part.moist_density
        assert dry <= moist <= moist_most, key
        if part.porosity[1] is not None:
            assert moist_most <= 1.1 * (dry_most + 1000.0 * part.porosity[1]), key
    by_key = load_catalogue().components
    assert by_key["peat"].ph[1] < by_key["coir"].ph[0]
    assert by_key["sand"].dry_density[0] > 10 * by_key["coir"].dry_density[1]
    assert by_key["coir"].source_of("porosity").kind == "published"
