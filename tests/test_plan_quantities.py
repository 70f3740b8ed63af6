"""The shopping list: the engines' own numbers, every part of the file once, other parts' lines."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import fsum
from pathlib import Path

import pytest

from loamwright.engine.ground.outlook import amounts
from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.enclosure import Panel
from loamwright.habitat.habitat import Habitat
from loamwright.plan.front_parts import sill_height
from loamwright.plan.keys import panel_key, slug
from loamwright.plan.lines import Line
from loamwright.plan.quantities import GROUPS, ground_lines, shopping_list
from loamwright.plan.quantities_gear import controls
from loamwright.plan.screws import screws_of
from loamwright.workflow import EXAMPLES, read

FOLDER = Path(__file__).parent.parent / "src/loamwright/data/examples"


@cache
def example(name: str) -> tuple[Habitat, Quantities]:
    habitat = read(FOLDER / f"{name}.yaml")
    return habitat, amounts(habitat)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_ground_is_the_engines_to_the_last_unit(name: str) -> None:
    habitat, ground = example(name)
    by_key = {x.key: x for x in shopping_list(habitat, ground)}
    told: dict[str, list] = {}
    for p in ground.buy:
        group = {"m2": "sheets", "kg": "litter", "m3": "media"}[p.unit]
        told.setdefault(f"{group}/{p.key}", []).append(p)
    assert told
    for key, purchases in told.items():
        line = by_key[key]
        scale = 1e-3 if line.unit == "L" else 1.0
        assert line.wanted == fsum(p.amount / scale for p in purchases)
        if line.unit == "L":
            held = sum(size * n for size, n in line.bags)
            assert held == pytest.approx(
                sum(size * n / 1e-3 for p in purchases for size, n in p.bags)
            )
            assert sum(n for _, n in line.bags) == sum(n for p in purchases for _, n in p.bags)
            assert held >= line.wanted - 1e-6


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_of_the_file_is_on_the_list_once(name: str) -> None:
    habitat, ground = example(name)
    lines = shopping_list(habitat, ground)
    assert len({x.key for x in lines}) == len(lines)
    assert all(x.amount > 0.0 and x.why for x in lines)
    assert [GROUPS.index(x.group) for x in lines] == sorted(GROUPS.index(x.group) for x in lines)
    uses = [use for x in lines for use in x.uses]
    named = [
        *habitat.enclosure.openings, *habitat.enclosure.linings, *habitat.hardscape, *habitat.plants,
        *habitat.lamps, *habitat.fans, *habitat.controls, *habitat.water, *habitat.ground.layers,
        *(habitat.mist.nozzles if habitat.mist else ()),
    ]  # fmt: skip
    assert {x.name for x in named} <= set(uses)
    assert {p.side for p in habitat.enclosure.panels} <= set(uses)

    def count(group: str) -> float:
        return sum(x.amount for x in lines if x.key.startswith(group))

    assert count("lamps/") == len(habitat.lamps)
    assert count("plants/") == len(habitat.plants)
    assert count("fans/") == len(habitat.fans)
    cuts = sum(c.cut_out is not None for c in habitat.controls)
    assert count("probes/") == len(habitat.controls) + cuts


def test_the_panels_of_a_box_by_hand() -> None:
    habitat, ground = example("forest-edge")
    by_key = {x.key: x for x in shopping_list(habitat, ground)}
    board, glass = by_key["panels/pvc-foam-board-10mm"], by_key["panels/toughened-glass-5mm"]
    # 150 x 75 x 140 cm inside; 10 mm board, two panes of 5 mm and runners of 6 mm in front: floor and
    # top 152 x 77.6 cm, back 152 x 140, sides 76.6 x 140; the runner carrier 149.8 x 26.5 cm.
    assert board.amount == pytest.approx(
        2 * 1.52 * 0.776 + 1.52 * 1.40 + 2 * 0.766 * 1.40 + 1.498 * 0.265
    )
    # A sill between the sides, and two doors above it that overlap by 3 cm.
    sill = sill_height(habitat)
    doors = 2 * (1.498 + 0.03) / 2 * (1.40 - sill - 0.012)
    assert glass.amount == pytest.approx(1.498 * sill + doors)


def test_other_parts_take_the_place_of_lines_and_add_their_own() -> None:
    habitat, ground = example("forest-edge")
    sheets = Line("panels/pvc-foam-board-10mm", "panels", "whole sheets", 4.0, "piece")
    cable = Line("wiring/cable", "wiring", "cable", 12.0, "m", 0.1)
    lines = shopping_list(habitat, ground, instead=[sheets, cable])
    assert [x for x in lines if x.key == sheets.key] == [sheets]
    assert cable in lines
    assert len(lines) == len(shopping_list(habitat, ground)) + 1
    assert lines.index(sheets) < lines.index(cable)


def test_decomposers_are_those_that_the_engine_counts() -> None:
    habitat, ground = example("forest-edge")
    none = shopping_list(habitat, ground)
    assert not [x for x in none if x.group == "decomposers"]
    lines = shopping_list(habitat, ground, {"folsomia-candida": 518})
    assert [(x.key, x.amount) for x in lines if x.group == "decomposers"] == [
        ("decomposers/folsomia-candida", 518.0)
    ]


def test_what_mixes_by_dose_is_bought_too() -> None:
    _, ground = example("forest-edge")
    bed = next(i for i, x in enumerate(ground.layers) if x.kind == "mix")
    from loamwright.engine.ground.quantities import Dose

    dosed = replace(ground.layers[bed], doses=(Dose("mix", "crushed shell", 0.4, "kg"),
                                              Dose("mix", "char", 2e-3, "m3")))  # fmt: skip
    lines = ground_lines(replace(ground, layers=(dosed,)))
    assert [(x.key, x.amount, x.unit) for x in lines[-2:]] == [
        ("additions/crushed-shell", 0.4, "kg"), ("additions/char", pytest.approx(2.0), "L"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("fixing", "screws"),
    [("two screws", 2), ("two screws into the rock face", 2), ("one screw", 1), ("6 screws", 6),
     ("screws and silicone", 2), ("screwed to the rock face", 2), ("set in the ground", 0), ("", 0),
     ("three long screws", 3)],
)  # fmt: skip
def test_screws_are_counted_by_the_words(fixing: str, screws: int) -> None:
    assert screws_of(fixing) == screws


def test_keys_are_plain() -> None:
    assert slug("Bank of oak, 2 m") == "bank-of-oak-2-m"
    assert slug("Eiche für Ö") == "eiche-fur-o"
    assert slug("木") == "thing"
    assert panel_key("plywood", 0.0191) == "panels/plywood-19.1mm"


def test_a_panel_that_is_thicker_makes_its_neighbours_no_smaller() -> None:
    habitat, ground = example("forest-edge")
    panels = tuple(
        Panel(p.side, p.material, 0.02 if p.side == "floor" else p.thickness, p.doors, p.gap)
        for p in habitat.enclosure.panels
    )
    made = replace(habitat, enclosure=replace(habitat.enclosure, panels=panels))
    by_key = {x.key: x for x in shopping_list(made, ground)}
    assert by_key["panels/pvc-foam-board-20mm"].amount == pytest.approx(1.52 * 0.776)


def test_a_control_that_must_tell_the_time_is_bought_with_a_clock() -> None:
    made, _ = example("forest-edge")
    names = {x.key: x.name for x in controls(made)}
    assert names["controls/dimming-thermostat"] == "dimming thermostat with a clock of its own"
    lamps = tuple(replace(x, on=(0.0, 0.0), follows_day=False) for x in made.lamps)
    alike = tuple(replace(c, night_low=c.low, night_high=c.high) for c in made.controls)
    plain = {x.key: x.name for x in controls(replace(made, lamps=lamps, controls=alike))}
    assert plain["controls/dimming-thermostat"] == "dimming thermostat"
