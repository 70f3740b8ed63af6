"""The front: what its doors run in or hang on, its section from below, and its fixed strip."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from bad_case import METRIC, swap
from loamwright import workflow
from loamwright.engine.ground.outlook import amounts
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import front_zone
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.front_fittings import door_lines
from loamwright.plan.lines import Stocked
from loamwright.plan.panels import panel_loads
from loamwright.plan.runner_carrier import carrier_of, carrier_parts
from loamwright.report.front_blocks import front_table

FOLDER = Path(workflow.__file__).parent / "data" / "examples"


@cache
def example(name: str) -> Habitat:
    return read_habitat(FOLDER / f"{name}.yaml")


def box(panels: str, cuts: str = "") -> Habitat:
    text = swap("90 cm}", f"90 cm}}\n  panels: {{{panels}}}", METRIC)
    return read_habitat_text(text + (f"cuts: {cuts}\n" if cuts else ""), Path("box.yaml"))


def found(habitat: Habitat, side: str = "front") -> dict[str, float]:
    return {x.key.removeprefix("panels/"): x.amount
            for x in door_lines(habitat, habitat.enclosure.panel(side))}  # fmt: skip


def test_sliding_doors_take_runners_a_seal_grips_and_a_lock() -> None:
    # 140 less 26.5 cm of strip and 1.2 cm of runners is a door's height.
    assert found(example("forest-edge")) == pytest.approx({
        "runner-lower-5mm": 1.5, "runner-upper-5mm": 1.5, "strip-seal-5mm": 1.123, "finger-grip": 2,
        "lock-sliding": 1,
    })  # fmt: skip
    edge = example("forest-edge")
    lines = {x.key: x for x in door_lines(edge, edge.enclosure.panel("front"))}
    # Runners are not pieced together: 1.5 m out of one of 2 m, not out of two of 1 m.
    assert lines["panels/runner-lower-5mm"].stock == (Stocked("length", 1, 2.0),)
    assert lines["panels/strip-seal-5mm"].stock == (Stocked("length", 1, 1.25),)
    three = found(example("school-meadow"))
    assert three["strip-seal-6mm"] == pytest.approx(2 * 0.818)
    assert (three["finger-grip"], three["lock-sliding"]) == (3, 2)


def test_the_outer_track_stands_on_a_part_of_its_own() -> None:
    """16 mm of front less 5 mm of strip: 10 mm of the box's board and 1 mm of silicone."""
    edge = example("forest-edge")
    (part,) = [p for p in cut_plan(edge).parts if p.kind == "carrier"]
    assert (part.material, part.thickness) == ("pvc-foam-board", 0.010)
    assert (part.width, part.height) == pytest.approx((1.498, 0.265))
    assert (part.low, part.high) == (
        pytest.approx((0.001, -0.016, 0.0)), pytest.approx((1.499, -0.006, 0.265)),
    )  # fmt: skip
    assert part.number > 0
    # Without a board that is thin enough two panes of the front: 5 + 5 mm and 1 mm between.
    thick = replace(edge, enclosure=replace(edge.enclosure, panels=tuple(
        replace(p, thickness=0.018) if p.side != "front" else p for p in edge.enclosure.panels
    )))  # fmt: skip
    made = carrier_of(thick)
    assert (made.layers, made.thickness, made.material) == (2, 0.005, "toughened-glass")
    assert made.bed == pytest.approx(0.001)
    assert len(carrier_parts(thick)) == 2
    assert carrier_of(example("rain-glass")) is None or not carrier_of(example("rain-glass")).packed
    assert carrier_of(box("front: {doors: 2}", "{doors: hinged}")) is None
    for name in ("forest-edge", "dry-rock", "rain-glass", "school-meadow"):
        found = carrier_of(example(name))
        if found is not None:
            whole = found.layers * found.thickness + found.bed
            strip = next(p for p in cut_plan(example(name)).parts if p.kind == "fixed")
            assert whole == pytest.approx(front_zone(example(name)) - strip.thickness)


def test_hinged_doors_take_hinges_by_their_height() -> None:
    low = found(example("rain-glass"))  # 43.3 cm high
    assert low["hinge-glass-5mm"] == 2
    tall = box("front: {doors: 2}", "{doors: hinged, sill: 20 cm}")  # 90 - 20 - 1.2 cm high
    assert found(tall)["hinge-glass-5mm"] == 2 * 3
    # Two doors of (60 - 3 x 0.2) / 2 cm width.
    assert found(tall)["door-seal-5mm"] == pytest.approx(2 * 2 * (0.297 + 0.688))
    assert not any("runner" in key for key in found(tall))


def test_doors_of_other_sides_are_hinged_and_walls_have_no_fittings() -> None:
    lid = box("top: {doors: 2}")
    assert found(lid, "top")["door-handle"] == 2
    assert found(lid, "back") == {}


def test_the_front_is_told_from_below() -> None:
    table = front_table(example("forest-edge"), "metric")
    assert [row[1:] for row in table.rows] == [
        ("0", "265", "0 to 5"), ("0", "265", "6 to 16"), ("265", "271", "0 to 16"),
        ("271", "1394", "0 to 5"), ("271", "1394", "11 to 16"), ("1394", "1400", "0 to 16"),
    ]  # fmt: skip
    assert "of foamed PVC board, white, 10 mm, as high as the strip and 2 mm shorter" in table.note
    assert "two beads of silicone 1 mm thick" in table.note
    assert "upper runner hangs under the top in two beads of silicone" in table.note
    inches = front_table(example("dry-rock"), "us")
    assert [row[2] for row in inches.rows] == ["7", "7", "7 1/4", "37 3/4", "37 3/4", "38"]
    assert front_table(box("front: {doors: 0}"), "metric").rows == ()


def test_the_strip_below_doors_has_a_free_edge_unless_the_file_says_otherwise() -> None:
    habitat = example("forest-edge")
    (strip,) = [p for p in panel_loads(habitat, amounts(habitat)) if p.part == "sill"]
    assert (strip.held, strip.allowed) == ("three", pytest.approx(1.5 / 200))
    assert box("front: {doors: 2}").enclosure.panel("front").held == "three"
    assert box("front: {doors: 2, held: four}").enclosure.panel("front").held == "four"
    assert box("front: {doors: 0}").enclosure.panel("front").held == "four"
    assert box("top: {doors: 2}").enclosure.panel("top").held == "four"
