"""Lamps, fans, misting and controllers in tables: places, directions, hours and limits as set."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from loamwright import workflow
from loamwright.report.equipment_blocks import equipment_tables, way

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


@pytest.mark.parametrize(
    ("vector", "words"),
    [
        ((0.0, 0.0, -1.0), "down"),
        ((0.0, 0.0, 1.0), "up"),
        ((math.sin(0.5), 0.0, -math.cos(0.5)), "29° off down, to the right"),
        ((0.0, -1.0, 0.0), "90° off down, to the front"),
        ((-0.5, 0.5, -math.sqrt(0.5)), "45° off down, to the left and the back"),
    ],
)
def test_directions_in_words(vector: tuple[float, float, float], words: str) -> None:
    assert way(vector) == words


def test_everything_that_is_hung_set_or_timed_is_listed() -> None:
    habitat = workflow.read(EXAMPLES / "forest-edge.yaml")
    lamps, fans, mist, controls = equipment_tables(habitat, "metric")
    assert [r[0] for r in lamps.rows] == [x.name for x in habitat.lamps]
    by_name = {r[0]: r for r in lamps.rows}
    assert by_name["uv"][2:6] == ("44 cm, 54 cm, 145 cm", "down", "along the width",
                                  "08:00 to 18:00")  # fmt: skip
    assert by_name["front bar"][5] == (
        "07:30 to 18:30 winter; 06:30 to 19:30 summer; up and down over 30 min"
    )
    assert by_name["heater"][5:] == ("always", "low warmth")
    assert "wire lamp guard" in by_name["heater"][1]
    assert fans.rows[0][2:5] == ("right: 14 cm, 40 cm", "blows in", "25 %")
    assert fans.rows[1][-1] == "when controller damp asks"
    assert "12:30 for 70 s" in mist.note
    assert "25 L" in mist.note
    told = {r[0]: r[1:] for r in controls.rows}
    assert told["basking"] == ("warms, by dimming", "basking", "on below 36.0 °C, off above 38.0 °C",
                               "off", "44.0 °C")  # fmt: skip
    assert told["damp"][2:] == (
        "on above 85 %, off below 75 %",
        "on above 90 %, off below 84 %",
        "–",
    )


def test_us_units_and_what_is_not_there() -> None:
    habitat = workflow.read(EXAMPLES / "forest-edge.yaml")
    bare = replace(habitat, fans=(), mist=None, controls=())
    (lamps,) = equipment_tables(bare, "us")
    assert lamps.rows[0][2].endswith("in")
    assert equipment_tables(replace(bare, lamps=()), "us") == []


def test_names_out_of_a_file_come_as_one_clean_line() -> None:
    habitat = workflow.read(EXAMPLES / "forest-edge.yaml")
    rude = replace(habitat.lamps[0], name="uv\u202e\n<b>")
    (lamps, *_) = equipment_tables(replace(habitat, lamps=(rude,)), "metric")
    assert lamps.rows[0][0] == "uv <b>"


def test_hours_say_what_they_ask_of_timers() -> None:
    habitat = workflow.read(EXAMPLES / "forest-edge.yaml")
    lamps, _, _, controls = equipment_tables(habitat, "metric")
    by_name = {r[0]: r for r in lamps.rows}
    assert by_name["second flood"][5] == "09:00 to 17:00, up and down over 30 min"
    assert by_name["uv"][5] == "08:00 to 18:00"
    assert "dimming timer channel; a plain time switch cannot do this" in lamps.note
    assert (
        "Controller 'basking' keeps the hours of 'basking flood' by a clock of its own"
        in lamps.note
    )
    assert "'low warmth'" not in lamps.note
    assert controls.note == (
        "By day: 07:30 to 18:30 winter; 06:30 to 19:30 summer. At night: the other hours."
    )
    still = replace(habitat, schedule=replace(habitat.schedule, ramp=0.0))
    plain = equipment_tables(still, "metric")[0]
    assert "up and down" not in " ".join(r[5] for r in plain.rows)
    assert "dimming" not in plain.note
    free = tuple(replace(x, control="") for x in habitat.lamps)
    assert "Controller" not in equipment_tables(replace(habitat, lamps=free), "metric")[0].note
