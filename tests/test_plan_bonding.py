"""Metal joined to the protective earth, and names and counts that list and wiring share."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import jsonschema
import pytest

from loamwright.engine.ground.outlook import amounts
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.mains import Mains
from loamwright.plan import bonding
from loamwright.plan.bonding import BOARD, bonding_lines, bonds_of
from loamwright.plan.build import build_of
from loamwright.plan.control_words import CONTROLS
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.joined import joined_list
from loamwright.plan.lines import Line
from loamwright.plan.mounts import RAILS, mounts_of
from loamwright.plan.quantities import part_lines
from loamwright.plan.service_holes import services_of
from loamwright.plan.wiring import wiring_of
from loamwright.report.wiring_blocks import KINDS, wiring_tables
from loamwright.report.wiring_out import wiring_document, wiring_schema
from loamwright.workflow import read

EXAMPLES = Path(__file__).parent.parent / "src/loamwright/data/examples"


@cache
def example(name: str) -> Habitat:
    return read(EXAMPLES / f"{name}.yaml")


@cache
def bought(name: str) -> dict[str, Line]:
    made = example(name)
    amount = amounts(made)
    lines = joined_list(made, amount, {}, cut_plan(made), build_of(made, amount))
    return {x.key: x for x in lines}


def test_metal_beside_the_lamps_is_bonded_once_each() -> None:
    made = example("forest-edge")
    bonds = bonds_of(made)
    rails = sum(len(m.at) for m in mounts_of(made) if m.how == RAILS)
    kinds = [b.kind for b in bonds]
    assert kinds.count(bonding.RAIL) == rails == 10
    assert [b.name for b in bonds if b.kind != bonding.RAIL] == [
        "frame of the top", "lamp window", "guard of heater",
    ]  # fmt: skip
    assert [b.to for b in bonds] == [BOARD, *["frame of the top"] * (len(bonds) - 1)]
    assert len({b.name for b in bonds}) == len(bonds)
    # The guard hangs 67 cm below the top, the rails beside the frame.
    guard = bonds[-1]
    assert guard.length >= 0.67
    assert min(b.length for b in bonds) == bonding.SHORT


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_the_list_buys_what_the_wiring_sheet_counts(name: str) -> None:
    made = example(name)
    bonds = wiring_of(made).bonds
    assert bonds == bonds_of(made) != ()
    lead = next(x for k, x in bought(name).items() if k.startswith("wiring/bonding-lead"))
    assert lead.amount == pytest.approx(sum(b.length for b in bonds))
    assert bought(name)["wiring/bonding-clamp"].amount == sum(b.clamps for b in bonds)
    assert bought(name)["wiring/bonding-clamp"].amount == 2 * len(bonds) - 1
    assert "electrician decide" in lead.why
    table = next(t for t in wiring_tables(made, wiring_of(made), made.units)
                 if t.title == "Metal joined to the protective earth")  # fmt: skip
    assert [r[0] for r in table.rows] == [b.name for b in bonds]
    assert "the local code and the electrician decide" in table.note


def test_what_is_no_metal_or_beside_no_lamp_is_not_bonded() -> None:
    made = example("rain-glass")
    assert bonds_of(replace(made, lamps=())) == ()
    assert bonding_lines(made, ()) == []
    cover = replace(made.enclosure.openings[0].cover, key="net", label="nylon net, 1 mm")
    openings = (replace(made.enclosure.openings[0], cover=cover),)
    nylon = replace(made, enclosure=replace(made.enclosure, openings=openings))
    assert {b.kind for b in bonds_of(nylon)} == {bonding.RAIL}
    # The vents of dry rock lie in its walls, beside low voltage alone.
    assert [b.name for b in bonds_of(example("dry-rock"))] == ["guard of basking flood"]
    glass = [o.name for o in example("school-meadow").enclosure.openings if o.cover.kind == "sheet"]
    assert glass
    assert not set(glass) & {b.name for b in bonds_of(example("school-meadow"))}


def test_the_lead_is_as_thick_as_the_circuit_asks() -> None:
    made = example("dry-rock")
    bonds = bonds_of(made)

    def size(mains: Mains) -> str:
        return bonding_lines(replace(made, mains=mains), bonds)[0].key.rsplit("-", 1)[1]

    assert size(made.mains) == "awg12"
    assert size(replace(made.mains, fuse=30.0)) == "awg10"
    assert size(replace(made.mains, fuse=400.0)) == "awg8"
    assert size(example("forest-edge").mains) == "4mm2"


def test_bonds_are_in_the_document() -> None:
    made = example("forest-edge")
    document = wiring_document(made, wiring_of(made), build_of(made).mist)
    jsonschema.validate(document, wiring_schema())
    assert document["bonds"][0] == {
        "metal": "frame of the top", "kind": "frame", "to": "board",
        "length_m": pytest.approx(bonds_of(made)[0].length), "clamps": 1,
    }  # fmt: skip


# -- one name, one count -------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_controls_have_one_name(name: str) -> None:
    made = example(name)
    listed = {x.key: x.name for x in part_lines(made, amounts(made))}
    wired = {x.key: x.name for x in wiring_of(made).lines}
    both = {k for k in listed.keys() & wired.keys() if k.startswith("controls/")}
    assert {f"controls/{c.kind}" for c in made.controls} <= both
    assert [k for k in both if listed[k] != wired[k]] == []
    for c in made.controls:
        told = listed[f"controls/{c.kind}"]
        assert told.removesuffix(" with a clock of its own") == CONTROLS[c.kind] == KINDS[c.kind]
    if any(c.cut_out is not None for c in made.controls):
        assert listed["controls/limit"] == wired["controls/cut-out"]


@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_glands_are_the_holes_for_cables(name: str) -> None:
    made = example(name)
    holes = [s.name for s in services_of(made) if s.kind == "cable" and s.side]
    wired = [x for x in wiring_of(made).lines if x.key == "wiring/cable-gland"]
    assert sum(x.amount for x in wired) == len(holes)
    assert [u for x in wired for u in x.uses] == holes
    line = bought(name).get("wiring/cable-gland")
    assert (line.amount if line else 0) == len(holes)


def test_where_no_panel_is_drilled_no_gland_is_bought() -> None:
    made = example("dry-rock")
    glass = made.enclosure.panel("front").material
    panels = tuple(replace(p, material=glass) for p in made.enclosure.panels)
    closed = replace(made, enclosure=replace(made.enclosure, panels=panels))
    assert [s for s in services_of(closed) if s.kind == "cable"]
    keys = {x.key for x in (*wiring_of(closed).lines, *part_lines(closed, amounts(closed)))}
    assert not [k for k in keys if k.endswith("-gland")]
