"""Metric units do not stand on pages set in inches, and one good has one name on all of them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from loamwright import workflow
from loamwright.habitat.habitat import Default
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.lines import Line
from loamwright.plan.running import Use
from loamwright.report import quantities
from loamwright.report.animals_blocks import _over_ground
from loamwright.report.blocks import defaults_table
from loamwright.report.care_blocks import _mass
from loamwright.report.cut_words import material_words
from loamwright.report.default_words import value_words, why_words
from loamwright.report.equipment_blocks import equipment_tables
from loamwright.report.ground_blocks import bag, volume
from loamwright.report.money_blocks import running_table
from loamwright.report.money_words import thing
from loamwright.report.pack_cautions import CAUTIONS
from loamwright.report.strength_blocks import _stiffness
from loamwright.report.system_words import in_system
from loamwright.report.words import source_words

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


@pytest.mark.parametrize(
    ("text", "us"),
    [("two places, 10 cm apart", "two places, 3 15/16 in apart"),
     ("20-30 cm before it", "7 7/8 to 11 13/16 in before it"),
     ("gravel, 4 to 16 mm", "gravel, 3/16 to 5/8 in"),
     ("lowest tolerated -10 °C", "lowest tolerated 14 °F"), ("26-30 °C", "78.8 to 86 °F"),
     ("animals of up to 100 g", "animals of up to 3.53 oz"),
     ("300 to 800 g of dry leaves on a square metre",
      "0.98 to 2.6 oz of dry leaves on a square foot"),
     ("0.1 L to a square metre of background", "0.31 fl oz to a square foot of background"),
     ("2 x 5 L", "2 x 1.32 gal"), ("4 K over its upper set point", "7 °F over its upper set point"),
     ("LED, 6500 K, 60 W", "LED, 6500 K, 60 W"), ("cable, 0.75 mm²", "cable, 0.75 mm²"),
     ("80 kg/m3, 200 mg/L", "80 kg/m3, 200 mg/L")],
)  # fmt: skip
def test_sizes_in_texts_follow_the_system(text: str, us: str) -> None:
    assert in_system(text, "us") == us
    assert in_system(text, "metric") == text


@pytest.mark.parametrize(
    ("opening", "us"), [("1", "1/32"), ("2", "1/16"), ("3", "1/8"), ("6", "1/4"), ("12", "1/2")]
)
def test_fine_meshes_are_not_told_alike_nor_as_wider_than_they_are(opening: str, us: str) -> None:
    assert in_system(f"steel mesh, {opening} mm", "us") == f"steel mesh, {us} in"


def test_one_good_has_one_name_on_all_pages() -> None:
    mesh = "galvanised steel mesh, 6 mm"
    line = Line("mesh/x", "air", mesh, 1.0, "m2")
    assert material_words(mesh, "us") == thing(line, "us") == "galvanised steel mesh, 1/4 in"
    assert material_words(mesh, "metric") == mesh
    assert (
        material_words("softwood batten, 20 x 40 mm", "us") == "softwood batten, 13/16 x 1 9/16 in"
    )
    board = Line("wiring/board", "wiring", "varnished plywood, 12 mm, 36 x 50 cm", 1.0, "piece")
    assert thing(board, "us") == "varnished plywood, 1/2 in, 14 3/16 x 19 11/16 in"
    # What goes by its metric size everywhere keeps it.
    assert thing(Line("fans/x", "air", "slow axial fan, 120 mm", 1.0, "piece"), "us").endswith(
        "120 mm"
    )
    assert thing(Line("duct/x", "air", "duct, 120 mm", 1.0, "m"), "us") == "duct, 120 mm"


def test_what_stands_before_a_fan_goes_by_the_name_of_the_shopping_list() -> None:
    habitat = workflow.read(EXAMPLES / "school-meadow.yaml")
    fans = next(t for t in equipment_tables(habitat, "us") if t.title == "Fans")
    assert any("fly mesh, 1/16 in" in row[5] for row in fans.rows)
    assert not any(" mm" in row[5] for row in fans.rows)


@pytest.mark.parametrize(
    ("value", "us", "metric"),
    [("70 cm", "27 9/16 in", "70 cm"), ("27.56 in", "27 9/16 in", "70 cm"),
     ("40 kg", "88.2 lb", "40 kg"), ("400 cm", "13.1 ft", "400 cm"), ("2 mm", "1/16 in", "2 mm"),
     ("28 degC", "82.4 °F", "28 °C"), ("-5 K", "-9 °F", "-5 K"), ("9 degF_diff", "9 °F", "5 K"),
     ("6500 K", "6500 K", "6500 K"), ("60 s", "60 s", "60 s"), ("230 V", "230 V", "230 V"),
     ("none in ground", "none in ground", "none in ground"),
     ("clay-pebbles", "clay pebbles", "clay pebbles")],
)  # fmt: skip
def test_defaults_are_told_in_the_system_shown_not_the_files(value, us, metric) -> None:
    assert value_words(value, "us") == us
    assert value_words(value, "metric") == metric


def test_the_reason_of_a_default_is_told_in_words() -> None:
    assert why_words("usual where units are us", "us") == (
        "usual where units are those of the United States"
    )


def test_what_a_year_takes_goes_by_the_name_of_the_shopping_list() -> None:
    mat = Use("filters/coarse", "coarse dust mat, 10 mm", 1.0, "piece", "a new one a year")
    plan = SimpleNamespace(
        running=(SimpleNamespace(use=mat, cost=None),), currency="", priced=False, missing_year=()
    )
    assert running_table(plan, "us").rows[0][0] == "coarse dust mat, 3/8 in"


def test_what_is_left_out_twice_is_told_once() -> None:
    habitat = workflow.read(EXAMPLES / "school-meadow.yaml")
    one = Default("needs[uvi].facing", "brightest", "how a meter is held")
    table = defaults_table(replace(habitat, defaults=(one, one)))
    assert table.rows == (("needs[uvi].facing", "brightest", "how a meter is held"),)


def test_own_words_of_sources_follow_the_system_and_quotations_do_not() -> None:
    own = Source("range of good growth; lowest tolerated 4 °C", SourceKind.FROM_MEMORY)
    assert source_words(own, "us").endswith("lowest tolerated 39.2 °F")
    assert source_words(own, "metric").endswith("lowest tolerated 4 °C")
    for quoted in (Source("a clinic's sheet: 26-30 °C, never above 60", SourceKind.COMMON_PRACTICE),
                   Source("cool end 26-30 °C", SourceKind.PUBLISHED)):  # fmt: skip
        assert "26-30 °C" in source_words(quoted, "us")


def test_no_number_is_written_as_a_power_of_ten() -> None:
    assert quantities.give_or_take("uvi", "UVI 0", 3e-5, "us") == "UVI 0 ± less than 0.001"
    assert quantities.give_or_take("uvi", "UVI 0", 0.004, "us") == "UVI 0 ± 0.004"
    assert _mass(0.168, "us") == "5.9 oz (170 g)"
    assert _mass(0.784, "us") == "28 oz (780 g)"
    assert _mass(8.4e-4, "us") == "0.03 oz (0.84 g)"
    assert _mass(0.0996, "metric") == "100 g"


def test_a_piece_below_the_ground_has_no_height_over_it() -> None:
    assert _over_ground(-0.15, -0.03, "us") == "in the ground"
    assert _over_ground(-0.05, 0.2286, "us") == "0 in – 9 in"
    assert _over_ground(0.0175, 0.0176, "us") == "11/16 in"


def test_ground_is_told_in_dry_quarts_by_one_word() -> None:
    assert volume(0.005, "us") == "4.5 dry qt"
    assert bag(24 * 0.001101220942715, "us") == "24 dry qt"
    assert volume(0.005, "metric") == "5.0 L"


def test_wood_is_as_stiff_in_both_systems() -> None:
    assert _stiffness("metric") == "10 GPa"
    assert _stiffness("us") == "1.45 million psi"


def test_cautions_have_no_parted_words() -> None:
    assert not [text for _, text in CAUTIONS if "- " in text]
