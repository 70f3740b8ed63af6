"""The documents of strength and wiring: their schemas, the engine's own numbers, nothing left out."""

from __future__ import annotations

import copy
import json
import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from bad_case import METRIC
from loamwright.cli import main
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.plan.build import Build, build_of
from loamwright.plan.fixings import SAFETY
from loamwright.plan.lines import Line
from loamwright.plan.standing import PUSH
from loamwright.report.json_out import dump
from loamwright.report.mist_blocks import mist_line_tables
from loamwright.report.schemas import SCHEMAS
from loamwright.report.strength_blocks import strength_tables
from loamwright.report.strength_out import strength_document
from loamwright.report.wiring_blocks import wiring_tables
from loamwright.report.wiring_out import wiring_document
from loamwright.workflow import EXAMPLES

FOLDER = Path(__file__).parent.parent / "src/loamwright/data/examples"
BOTH = ("strength", "wiring")
MAPS = ("parts_kg", "even_load_pa")
"""Objects whose keys depend on the habitat."""


@cache
def example(name: str) -> tuple[Habitat, Build]:
    habitat = read_habitat(FOLDER / f"{name}.yaml")
    return habitat, build_of(habitat)


def document(of: str, habitat: Habitat, build: Build) -> dict[str, Any]:
    """A document as a script reads it."""
    if of == "strength":
        return json.loads(dump(strength_document(habitat, build.strength)))
    return json.loads(dump(wiring_document(habitat, build.wiring, build.mist)))


def validate(of: str, told: object) -> None:
    jsonschema.validate(told, SCHEMAS[of](), jsonschema.Draft202012Validator)


def objects(value: object, key: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object in a document with the key it stands under."""
    if isinstance(value, dict):
        yield key, value
        for name, inner in value.items():
            yield from objects(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from objects(inner, key)


# -- schemas -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("of", BOTH)
def test_documents_keep_to_their_schemas(of: str, name: str) -> None:
    habitat, build = example(name)
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[of]())
    told = document(of, habitat, build)
    validate(of, told)
    assert (told["version"], told["habitat"]) == (1, habitat.name)


@pytest.mark.slow
@pytest.mark.parametrize("of", BOTH)
def test_a_schema_lets_no_key_be_missing_or_unknown(of: str) -> None:
    """Of each kind of object the first: with a key more, and with each of its keys away."""
    habitat, build = example("forest-edge")
    if of == "strength":  # a second trunk in the place of the first, so that there is an overlap
        twin = replace(habitat.hardscape[0], name="twin")
        habitat = replace(habitat, hardscape=(*habitat.hardscape, twin))
        build = build_of(habitat)
    told = document(of, habitat, build)
    check = jsonschema.Draft202012Validator(SCHEMAS[of]())
    seen = set()
    for place, (key, made) in enumerate(objects(told)):
        if key in seen or key in MAPS:
            continue
        seen.add(key)
        for left_out in (None, *made):
            changed = copy.deepcopy(told)
            inner = list(objects(changed))[place][1]
            if left_out is None:
                inner["surplus"] = 1.0
            else:
                del inner[left_out]
            assert not check.is_valid(changed), (key, left_out)
    wanted = {"strength": {"panels", "fixings", "screws", "stones", "load", "standing", "pieces",
                           "battens", "overlaps", "lamps", "buy", ""},
              "wiring": {"circuit", "residual_current", "devices", "channels", "supplies", "runs",
                         "bonds", "buy", "mist", "nozzles", ""}}  # fmt: skip
    assert seen == wanted[of]


@pytest.mark.parametrize("of", BOTH)
def test_a_box_and_nothing_else_has_documents(of: str) -> None:
    """No lamp, no mist, no stand, no ground, panels of unknown mass."""
    text = METRIC.replace("[{kind: mix, depth: 10 cm}]", "[]")
    bare = read_habitat_text(text, Path("habitat.yaml"))
    light = tuple(
        replace(p, material=replace(p.material, density=None, young=None, strength=None))
        for p in bare.enclosure.panels
    )
    for habitat in (bare, replace(bare, enclosure=replace(bare.enclosure, panels=light))):
        build = build_of(habitat)
        told = document(of, habitat, build)
        validate(of, told)
        if of == "wiring":
            assert (told["mist"], told["devices"], told["circuit"]["power_w"]) == (None, [], 0.0)
        else:
            assert (told["fixings"], told["stones"]) == ([], [])
            assert told["load"]["not_known"] == list(build.strength.stands.unknown)


def test_what_json_cannot_hold_is_null() -> None:
    habitat, build = example("forest-edge")
    s, w, m = build.strength, build.wiring, build.mist
    assert m is not None
    stands = replace(s.stands, pressure=math.inf, tilt=math.nan, rated=None)
    panels = (replace(s.panels[0], deflection=math.inf, stress=None), *s.panels[1:])
    odd = replace(s, stands=stands, panels=panels)
    told = json.loads(dump(strength_document(habitat, odd)))
    validate("strength", told)
    assert told["standing"]["pressure_pa"] is told["standing"]["tips_at_deg"] is None
    assert told["standing"]["rated_kg"] is None
    assert told["panels"][0]["deflection_m"] is told["panels"][0]["stress_pa"] is None
    runs = (replace(w.runs[0], drop=math.nan), *w.runs[1:])
    mouths = (replace(m.mouths[0], pressure=-math.inf, needs=None), *m.mouths[1:])
    told = json.loads(
        dump(wiring_document(habitat, replace(w, standard=None, runs=runs),
                             replace(m, mouths=mouths, lasts=None)))
    )  # fmt: skip
    validate("wiring", told)
    assert told["circuit"]["standard_rating_a"] is told["runs"][0]["drop_pct"] is None
    nozzle = told["mist"]["nozzles"][0]
    assert nozzle["pressure_pa"] is nozzle["made_for_pa"] is told["mist"]["tank_lasts_d"] is None


# -- the engine's numbers ------------------------------------------------------------------------


def assert_lines(told: list[dict[str, Any]], lines: tuple[Line, ...]) -> None:
    assert [(x["key"], x["group"], x["name"], x["unit"], x["why"], tuple(x["uses"])) for x in told] == [
        (x.key, x.group, x.name, x.unit, x.why, x.uses) for x in lines
    ]  # fmt: skip
    for found, x in zip(told, lines, strict=True):
        assert (found["amount"], found["spares"], found["wanted"]) == (x.amount, x.spares, x.wanted)
        assert found["waste_pct"] == pytest.approx(100.0 * x.waste)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_strength_tells_the_engines_numbers(name: str) -> None:
    habitat, build = example(name)
    strength, s = build.strength, build.strength.stands
    told = document("strength", habitat, build)
    load, stands = told["load"], told["standing"]
    assert list(load["parts_kg"].items()) == list(s.parts)
    assert math.fsum(load["parts_kg"].values()) == pytest.approx(load["moist_kg"])
    for what in ("dry", "moist", "flooded", "tank", "stand", "on_floor"):
        assert load[f"{what}_kg"] == getattr(s, what)
    assert load["dry_kg"] < load["moist_kg"] < load["flooded_kg"] < load["on_floor_kg"]
    assert (stands["heaviest_corner"], stands["heaviest_corner_kg"]) == s.corner
    assert tuple(stands["footprint_m"]) == s.footprint
    assert stands["even_load_pa"] == dict(s.floor)
    names = ("rated_kg", "pressure_pa", "floor_bears_pa", "floor_said", "height_m", "push_height_m",
             "tied")  # fmt: skip
    assert [stands[x] for x in names] == [
        s.rated,
        s.pressure,
        s.bears,
        s.said,
        s.high,
        s.push_height,
        s.tied,
    ]
    assert math.radians(stands["tips_at_deg"]) == pytest.approx(s.tilt)
    assert stands["tips_at_push_n"] == pytest.approx(PUSH * s.tipping)
    fields = {
        "side": "side", "part": "part", "bent_by": "kind", "material": "material",
        "thickness_m": "thickness", "span_m": "span", "height_m": "height", "held": "held",
        "loaded_height_m": "loaded", "pressure_pa": "pressure", "pressure_flooded_pa": "flooded",
        "deflection_m": "deflection", "deflection_allowed_m": "allowed", "stress_pa": "stress",
        "strength_pa": "strength", "beyond_theory": "beyond", "needs_frame": "narrow",
    }  # fmt: skip
    assert told["panels"] == [
        {key: getattr(p, field) for key, field in fields.items()} for p in strength.panels
    ]
    fields = {
        "name": "name", "what": "what", "dry_kg": "mass", "wet_kg": "wet", "screws": "screws",
        "glued_m2": "glued", "glued_taken": "assumed", "holds_n": "holds",
        "holds_its_load_times": "factor", "screws_needed": "needs",
    }  # fmt: skip
    assert told["fixings"] == [
        {"should_hold_times": SAFETY, **{key: getattr(f, field) for key, field in fields.items()}}
        for f in strength.fixings
    ]
    assert told["stones"] == [
        {"name": x.name, "mass_kg": x.mass, "footing": x.footing,
         "footing_height_m": {f.stone: f.height for f in strength.footings}.get(x.name),
         "could_be_dug_away_m": x.under, "at_m": list(x.at)}
        for x in strength.stones
    ]  # fmt: skip
    assert told["screws"] == [
        {"name": x.name, "count": x.count, "diameter_m": x.screw.diameter,
         "length_m": x.screw.length, "washer": x.screw.washer, "way": x.way}
        for x in strength.screws
    ]  # fmt: skip
    assert_lines(told["buy"], strength.lines)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_wiring_tells_the_engines_numbers(name: str) -> None:
    habitat, build = example(name)
    w = build.wiring
    told = document("wiring", habitat, build)
    circuit, residual = told["circuit"], told["residual_current"]
    assert circuit == {
        "rules": w.mains.system, "voltage_v": w.mains.voltage, "power_w": w.power,
        "others_w": w.mains.others, "continuous_a": w.continuous, "other_a": w.other,
        "least_rating_a": w.least, "standard_rating_a": w.standard, "fuse_a": w.mains.fuse,
        "circuits": w.circuits,
    }  # fmt: skip
    assert residual["trips_at_a"] == w.mains.residual
    assert residual["leaks_a"] == w.leakage == pytest.approx(
        math.fsum(d["leaks_a"] for d in told["devices"]) + 0.00025 * len(told["supplies"])
    )  # fmt: skip
    assert residual["leaks_at_most_a"] == pytest.approx(0.3 * w.mains.residual)
    assert (told["outlet_m"], told["board_m"]) == (list(w.mains.outlet), list(w.mains.board))
    runs = {r["to"]: r for r in told["runs"]}
    channels = {c["by"]: c for c in told["channels"]}
    for device, d in zip(told["devices"], w.devices, strict=True):
        assert (device["name"], device["kind"], device["power_w"]) == (d.name, d.kind, d.power)
        assert (device["low_voltage"], device["continuous"], device["earthed"], device["leaks_a"]) == (
            d.low, d.continuous, d.earthed, d.leakage
        )  # fmt: skip
        assert (device["place"], device["at_m"]) == (d.place, list(d.at))
        assert (device["ipx_has"], device["ipx_needed"]) == (d.water_digit, d.needs)
        assert (device["protection"] or "") == d.protection
        if d.kind == "control":
            assert (device["control"], device["switched_by"]) == (d.control, None)
            continue
        assert d.name in channels[device["switched_by"]]["feeds"]
        # The same current as in the cable to it, by another way.
        assert runs[d.name]["current_a"] == device["current_a"]
        assert runs[d.name]["voltage_v"] == device["voltage_v"]
        power = device["current_a"] * device["voltage_v"] * device["power_factor"]
        assert power == pytest.approx(d.power)
    assert [(c["by"], c["kind"] or "", tuple(c["feeds"]), c["power_w"], c["own_limit"])
            for c in told["channels"]] == [
        (c.by, c.kind, c.feeds, c.power, c.cut_out) for c in w.channels
    ]  # fmt: skip
    for supply, s in zip(told["supplies"], w.supplies, strict=True):
        assert (supply["switched_by"], tuple(supply["feeds"]), supply["at_hand"]) == (
            s.name, s.feeds, s.given
        )  # fmt: skip
        assert (supply["voltage_v"], supply["power_w"], supply["size_w"]) == (
            s.voltage,
            s.power,
            s.size,
        )
        assert supply["loaded_pct"] == pytest.approx(100.0 * s.power / s.size)
    for run, r in zip(told["runs"], w.runs, strict=True):
        assert (run["to"], run["length_m"], run["drip_loops"]) == (r.device, r.length, r.loops)
        assert [tuple(corner) for corner in run["way_m"]] == list(r.way)
        assert run["probe"] == r.device.startswith(("probe of ", "cut-out probe of "))
        if run["probe"]:
            assert run["drop_pct"] is run["current_a"] is run["section_mm2"] is None
            continue
        assert (run["current_a"], run["bears_a"], run["awg"]) == (
            r.current,
            r.cable.bears,
            r.cable.gauge,
        )
        assert run["section_mm2"] == pytest.approx(1e6 * r.cable.section)
        assert run["drop_pct"] == pytest.approx(100.0 * r.drop)
        assert run["drop_v"] == pytest.approx(r.drop * r.voltage)
        assert run["conductors"] == (2 if r.low else 3)
    assert_lines(told["buy"], w.lines)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_misting_line_tells_the_engines_numbers(name: str) -> None:
    habitat, build = example(name)
    mist, line = document("wiring", habitat, build)["mist"], build.mist
    if habitat.mist is None:
        assert name == "dry-rock"
        assert mist is line is None
        return
    assert line is not None
    assert (mist["pump_keeps_pa"], mist["pump_said"], mist["length_m"]) == (
        line.pump, line.said, line.length
    )  # fmt: skip
    assert (mist["draws_at_least_w"], mist["pump_w"]) == (line.draws, line.power)
    assert mist["tank_above_nozzle"] == line.above
    assert mist["bore_mm"] == pytest.approx(1000.0 * line.bore)
    assert mist["sprayed_l_d"] == pytest.approx(1000.0 * line.a_day)
    assert mist["tank_l"] == pytest.approx(1000.0 * habitat.mist.tank)
    if line.lasts is None:
        assert mist["tank_lasts_d"] is None
    else:
        assert mist["tank_lasts_d"] == pytest.approx(mist["tank_l"] / mist["sprayed_l_d"])
    assert [tuple(corner) for corner in mist["trunk_m"]] == list(line.trunk)
    assert mist["flow_ml_min"] == pytest.approx(
        math.fsum(n["flow_ml_min"] for n in mist["nozzles"])
    )
    for nozzle, m in zip(mist["nozzles"], line.mouths, strict=True):
        names = ("name", "length_m", "rise_m", "lost_pa", "pressure_pa", "made_for_pa")
        assert [nozzle[x] for x in names] == [
            m.name, m.length, m.rise, m.lost, m.pressure, m.needs
        ]  # fmt: skip
        assert (nozzle["at_m"], nozzle["way_m"]) == (list(m.at), [list(c) for c in m.way])
        assert nozzle["flow_ml_min"] / 6e7 == pytest.approx(m.flow)
    assert_lines(mist["buy"], line.lines)


def test_what_is_made_of_wet_and_low_voltage_is_told() -> None:
    forest, build = example("forest-edge")
    devices = {d["name"]: d for d in document("wiring", forest, build)["devices"]}
    heater, intake, uv = devices["heater"], devices["intake"], devices["uv"]
    assert (heater["ipx_needed"], heater["protected_enough"]) == (4, True)
    assert (intake["ipx_needed"], intake["ipx_to_last"], intake["panel"]) == (0, 4, "right")
    assert (intake["low_voltage"], intake["voltage_v"], uv["voltage_v"]) == (True, 12.0, 230.0)
    splashed = replace(forest, lamps=tuple(replace(x, protection="IP20") for x in forest.lamps))
    told = document("wiring", splashed, build_of(splashed))
    heater = next(d for d in told["devices"] if d["name"] == "heater")
    assert (heater["ipx_has"], heater["protected_enough"]) == (0, False)
    rock = document("wiring", *example("dry-rock"))
    assert rock["circuit"]["rules"] == "us"
    assert {type(r["awg"]) for r in rock["runs"] if not r["probe"]} == {int}


# -- what tables tell, documents tell ------------------------------------------------------------


@pytest.mark.parametrize("name", EXAMPLES)
def test_documents_leave_out_nothing_of_the_tables(name: str) -> None:
    """A row of a table is an object of the document, and what is to be said for safety is in both."""
    habitat, build = example(name)
    told = document("strength", habitat, build)
    tables = {t.title: t for t in strength_tables(habitat, build.strength, "metric")}
    rows = {
        "Panels under load": "panels",
        "What is held up": "fixings",
        "Heavy stones": "stones",
        "What each piece touches": "pieces",
    }
    for title, key in rows.items():
        assert len(tables[title].rows if title in tables else ()) == len(told[key])
    notes = " ".join(t.note for t in tables.values())
    assert all(text in notes for text in told["cautions"])
    assert "structural engineer" in told["cautions"][0]

    told = document("wiring", habitat, build)
    made = wiring_tables(habitat, build.wiring, "metric")
    if build.mist is not None:
        made += mist_line_tables(habitat, build.mist, "metric")
        line = next(t for t in made if t.title == "The misting line")
        assert all(text in line.note for text in told["mist"]["cautions"])
        assert len(made[-1].rows) == len(told["mist"]["nozzles"])
    tables = {t.title: t for t in made}
    rows = {"What draws current": "devices", "What is switched together": "channels",
            "Low-voltage supplies": "supplies", "Cables, from the board": "runs"}  # fmt: skip
    for title, key in rows.items():
        assert len(tables[title].rows) == len(told[key])
    placed = [d for d in told["devices"] if d["kind"] != "control"]
    fits = {None: "", True: "yes", False: "no"}
    assert [row[4] for row in tables["Protection against water, by place"].rows] == [
        fits[d["protected_enough"]] for d in placed
    ]
    assert tables["The circuit"].note == " ".join(told["cautions"])
    assert "licensed electrician" in told["cautions"][0]


# -- the commands --------------------------------------------------------------------------------


@pytest.mark.slow
def test_the_commands_print_one_document_and_nothing_else(tmp_path: Path) -> None:
    run = CliRunner().invoke
    file = str(FOLDER / "rain-glass.yaml")
    plot, mist = tmp_path / "w.svg", tmp_path / "m.png"
    asked = {"strength": [], "wiring": ["--plot", str(plot), "--plot-mist", str(mist)]}
    for of, more in asked.items():
        done = run(main, [of, file, "--json", *more])
        assert (done.exit_code, done.stderr) == (0, "")
        assert json.loads(done.stdout) == document(of, *example("rain-glass"))
        # What people are shown in changes nothing a script reads.
        again = run(main, [of, file, "--json", "--units", "us"])
        assert again.stdout == done.stdout
    # Drawings are made as well, and not spoken of.
    assert plot.read_bytes().startswith(b"<?xml")
    assert mist.read_bytes().startswith(b"\x89PNG")


def test_a_schema_can_be_asked_for_of_every_document() -> None:
    (of,) = [p for p in main.commands["schema"].params if p.name == "of"]
    assert list(of.type.choices) == ["habitat", *SCHEMAS]
    for name in BOTH:
        done = CliRunner().invoke(main, ["schema", "--of", name])
        assert json.loads(done.stdout) == json.loads(json.dumps(SCHEMAS[name]()))
