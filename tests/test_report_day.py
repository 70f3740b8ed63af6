"""A typical day in tables, CSV and JSON: what is shown, in which unit, and that nothing is cut."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import jsonschema
import numpy as np
import pytest
from rich.cells import cell_len

from climate_sample import FROG, WARM_GECKO, climate_habitat, run
from loamwright.engine.climate import sums
from loamwright.habitat.residents import Group
from loamwright.habitat.sites import Site
from loamwright.report.day_blocks import HOURS, day_tables, hours_table
from loamwright.report.day_out import day_csv, day_document, day_schema, picture_kind
from loamwright.report.json_out import dump
from loamwright.report.terminal import console, print_tables

HABITAT = climate_habitat()
RUN = run(HABITAT)


def rows_of(table) -> dict[str, tuple[str, ...]]:
    return {row[0]: row[1:] for row in table.rows}


def block(table, name: str) -> dict[str, tuple[str, ...]]:
    """The rows under a site's heading."""
    names = [row[0] for row in table.rows]
    start = names.index(name) + 1
    end = next((i for i in range(start, len(names)) if not names[i].startswith(" ")), len(names))
    return {row[0].strip(): row[1:] for row in table.rows[start:end]}


def printed(tables, width: int = 80) -> str:
    out = io.StringIO()
    print_tables(tables, console(out, width=width))
    return out.getvalue()


# -- sums ----------------------------------------------------------------------------------------


def test_a_panel_half_wet_for_two_hours_is_wet_for_one() -> None:
    assert sums.wet_time(RUN, "front") == pytest.approx(3600.0)
    assert sums.wet_time(RUN, "left") == 0.0
    assert sums.wet_time(RUN, "nobody") is None


def test_the_tank_lasts_what_is_sprayed_of_it() -> None:
    # 25 L at 0.2 L a day.
    assert sums.tank_time(HABITAT, RUN) == pytest.approx(125 * 86400.0)
    assert sums.tank_time(replace(HABITAT, mist=None), RUN) is None
    dry = replace(RUN, water=RUN.water | {"mist": 0.0})
    assert sums.tank_time(HABITAT, dry) == np.inf


def test_air_changes_before_the_first_step_are_not_known_and_taken_from_it() -> None:
    assert 3600 * sums.changes(RUN).max() == pytest.approx(5.0)
    assert 3600 * RUN.changes[0] > 10.0


# -- tables --------------------------------------------------------------------------------------


def test_every_place_stands_by_the_hour_with_what_it_has() -> None:
    table = hours_table(HABITAT, RUN, "metric")
    assert table.columns == ("hour", *(f"{h:02d}" for h in HOURS))
    basking = block(table, "basking")
    assert set(basking) == {"air °C", "RH %", "surface °C", "body °C"}
    noon = HOURS.index(12)
    number = int(np.argmin(np.abs(RUN.hours - 12.0)))
    for words, values in (("air °C", RUN.air), ("surface °C", RUN.surface)):
        assert basking[words][noon] == f"{values[number, 0] - 273.15:.1f}"
    assert basking["RH %"][noon] == f"{100 * RUN.humidity[number, 0]:.0f}"
    body = RUN.operative["phelsuma-grandis"][number, 0] - 273.15
    assert basking["body °C"][noon] == f"{body:.1f}"
    # A crown is nobody's resting place; the last site hangs in free air.
    assert set(block(table, "fig crown")) == {"air °C", "RH %", "surface °C"}
    assert set(block(table, "fig leaf (perch)")) == {"air °C", "RH %", "body °C"}
    assert set(block(table, "room")) == {"air °C", "RH %"}
    assert "giant day gecko" in table.note


def test_us_units_and_whole_degrees() -> None:
    table = hours_table(HABITAT, RUN, "us")
    at = HOURS.index(0)
    assert block(table, "room")["air °F"][at] == f"{(RUN.room[0] - 273.15) * 1.8 + 32:.0f}"


def test_bodies_of_several_species_are_told_apart() -> None:
    other = replace(WARM_GECKO, key="other", label="other gecko")
    both = climate_habitat(animals=(Group(WARM_GECKO, 1), Group(other, 1), Group(FROG, 2)))
    both = replace(both, sites=(replace(both.sites[0], species=("other",)), *both.sites[1:]))
    table = hours_table(both, run(both), "metric")
    assert set(block(table, "basking")) == {"air °C", "RH %", "surface °C", "body 2 °C"}
    assert {"body 1 °C", "body 2 °C"} <= set(block(table, "mid perch"))
    assert "1 giant day gecko; 2 other gecko" in table.note


def test_sums_of_the_day() -> None:
    _, electricity, water, air = day_tables(HABITAT, RUN, "metric")
    power = rows_of(electricity)
    # 54 W for ten hours; the bar at 40 W and half of full for ten hours.
    assert power["uv"] == ("0.54", "0.19")
    assert power["grow"] == ("0.20", "0.07")
    assert next(iter(power)) == "uv"
    assert list(power)[-1] == "together"
    assert float(power["together"][0]) == pytest.approx(RUN.electricity / 3.6e6, abs=0.005)
    wet = rows_of(water)
    assert wet["sprayed by the nozzles"] == ("0.2 L",)
    assert wet["condensed into bowls"] == ("3 mL",)
    assert wet["a full tank (25 L) lasts"] == ("125 days",)
    assert "run into the ground" not in wet
    other = rows_of(air)
    assert other["air changes an hour"][0].startswith("0.1 least, ")
    assert other["air changes an hour"][0].endswith(" mean, 5 most")
    assert other["front panel wet"] == ("60 min",)
    assert other["heat missing from its balance"] == ("less than 0.001 %",)
    assert other["water missing from its balance"] == ("0.03 %",)


def test_without_prices_mist_or_bodies_nothing_is_made_up() -> None:
    bare = climate_habitat(money=None, mist=None, animals=(Group(FROG, 2),))
    found = run(bare)
    table, electricity, water, _ = day_tables(bare, found, "metric")
    assert not [r for r in table.rows if "body" in r[0]]
    assert table.note == ""
    assert electricity.columns == ("electricity a day", "kWh")
    assert not [r for r in water.rows if "tank" in r[0]]


@pytest.mark.parametrize("system", ["metric", "us"])
def test_eighty_columns_hold_a_day(system: str) -> None:
    hot = run(HABITAT, surface=RUN.surface + 40.0)
    lines = printed(day_tables(HABITAT, hot, system)).splitlines()
    assert max(cell_len(line.rstrip()) for line in lines) <= 80
    # No number is folded: a line of numbers begins with its words.
    assert all(line[:2] != "  " or line.strip()[0].isalpha() for line in lines if line.strip())


def test_hostile_names_are_only_text() -> None:
    bad = "[red]\x1b[2J=1+1\u202e"
    made = climate_habitat(name=bad, sites=(Site(bad, (0.5, 0.4, 0.8), role="perch"),))
    found = run(made, sites=(bad,), lamp_names=(bad, "b", "c"))
    text = printed(day_tables(made, found, "metric"))
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "[red]" in text


# -- CSV -----------------------------------------------------------------------------------------


def read(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def test_csv_holds_every_row_with_units_in_the_header() -> None:
    text = day_csv(HABITAT, [RUN, run(HABITAT, "summer")], "metric")
    assert text.count("\r\n") == text.count("\n")
    rows = read(text)
    assert len(rows) == 1 + 2 * len(RUN.hours)
    assert {len(r) for r in rows} == {len(rows[0])}
    head = rows[0]
    assert head[:3] == ["season", "clock", "hour"]
    for name in ("air: basking [degC]", "humidity: basking [%]", "surface: basking [degC]",
                 "operative of phelsuma-grandis: basking [degC]", "lamp: uv [% of full]",
                 "fan: exhaust [% of full]", "flow: exhaust [m3/h]",
                 "mist: since the row before [s]", "air changes [1/h]"):  # fmt: skip
        assert name in head
    noon = next(r for r in rows if r[:2] == ["winter", "12:00"])
    number = int(np.argmin(np.abs(RUN.hours - 12.0)))
    value = dict(zip(head, noon, strict=True))
    assert float(value["air: basking [degC]"]) == pytest.approx(
        RUN.air[number, 0] - 273.15, abs=0.01
    )
    assert value["surface: fig leaf [degC]"] == ""
    assert value["lamp: grow [% of full]"] == "50.0"
    assert value["flow: exhaust [m3/h]"] == "3.60"
    assert rows[len(RUN.hours)][1] == "24:00"


def test_csv_in_us_units() -> None:
    rows = read(day_csv(HABITAT, [RUN], "us"))
    value = dict(zip(rows[0], rows[1], strict=True))
    assert float(value["air: room [degF]"]) == pytest.approx(
        (RUN.room[0] - 273.15) * 1.8 + 32, abs=0.01
    )
    assert "flow: exhaust [cfm]" in value


def test_csv_keeps_a_name_with_commas_quotes_and_a_formula_in_one_field() -> None:
    bad = '=cmd("x"), a\nb'
    made = climate_habitat(sites=(Site(bad, (0.5, 0.4, 0.8)),))
    rows = read(day_csv(made, [run(made)], "metric"))
    assert {len(r) for r in rows} == {len(rows[0])}
    assert 'air: =cmd("x"), a b [degC]' in rows[0]
    assert not [f for f in rows[0] if f[:1] in "=+-@"]


# -- JSON ----------------------------------------------------------------------------------------


def test_day_document_keeps_to_its_schema() -> None:
    document = json.loads(dump(day_document(HABITAT, RUN)))
    jsonschema.Draft202012Validator.check_schema(day_schema())
    jsonschema.validate(document, day_schema(), jsonschema.Draft202012Validator)
    promised = {"version", "habitat", "season", "hours", "sites", "balance", "energy_kwh_d",
                "water_l_d", "air_changes_h"}  # fmt: skip
    assert promised <= set(document)
    assert document["hours"] == list(range(24))
    basking = document["sites"]["basking"]
    assert {"air_c", "rh_pct", "surface_c", "operative_c"} <= set(basking)
    assert all(len(v) == 24 for k, v in basking.items() if k != "operative_by_species")
    assert basking["air_c"][12] == pytest.approx(float(RUN.air[72, 0]) - 273.15, abs=1e-3)
    assert basking["operative_c"] == basking["operative_by_species"]["phelsuma-grandis"]
    assert document["balance"]["water_pct"] == pytest.approx(0.03)
    assert document["energy_kwh_d"] == pytest.approx(RUN.electricity / 3.6e6)
    assert document["water_l_d"] == 0.2
    assert document["tank_d"] == pytest.approx(125)
    assert document["wet_panels_h_d"]["front"] == pytest.approx(1.0)
    assert document["wet_panels_h_d"]["back"] is None
    hourly = document["air_changes_by_hour_h"]
    assert (hourly[0], hourly[12]) == (pytest.approx(0.1), pytest.approx(5.0))


def test_what_is_not_known_is_null() -> None:
    made = climate_habitat(animals=(Group(FROG, 2),))
    document = json.loads(dump(day_document(made, run(made, balance=(np.nan, np.inf)))))
    jsonschema.validate(document, day_schema())
    assert document["sites"]["fig leaf"]["surface_c"] == [None] * 24
    assert document["sites"]["basking"]["operative_c"] == [None] * 24
    assert document["sites"]["basking"]["operative_by_species"] == {}
    assert document["balance"] == {"energy_pct": None, "water_pct": None}


def test_operative_is_that_of_the_first_resident_of_which_it_is_known() -> None:
    made = climate_habitat(animals=(Group(FROG, 2), Group(WARM_GECKO, 1)))
    document = day_document(made, run(made))
    assert document["sites"]["basking"]["operative_c"][12] is not None


def test_schema_refuses_a_misspelt_key_or_season() -> None:
    document = day_document(HABITAT, RUN)
    document["sites"]["basking"]["air_k"] = document["sites"]["basking"].pop("air_c")
    with pytest.raises(jsonschema.ValidationError, match="air_"):
        jsonschema.validate(document, day_schema())
    with pytest.raises(jsonschema.ValidationError, match="'autumn' is not one of"):
        jsonschema.validate(day_document(HABITAT, run(HABITAT, season="autumn")), day_schema())


@pytest.mark.parametrize(
    ("name", "kind"), [("a.png", "png"), ("a.b.SVG", "svg"), ("a.pdf", ""), ("png", ""), ("a", "")]
)
def test_kind_of_picture_by_its_ending(name: str, kind: str) -> None:
    assert picture_kind(name) == kind


def test_a_habitat_without_sites_still_has_a_room() -> None:
    made = climate_habitat(sites=())
    empty = np.zeros((len(RUN.hours), 0))
    found = run(HABITAT, sites=(), air=empty, humidity=empty, surface=empty, operative={})
    table = hours_table(made, found, "metric")
    assert [r[0] for r in table.rows] == ["room", "  air °C", "  RH %"]
    jsonschema.validate(day_document(made, found), day_schema())
