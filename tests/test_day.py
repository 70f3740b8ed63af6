"""`loamwright day` end to end on an example: table, CSV, JSON, chart, units, kept results, refusals."""

from __future__ import annotations

import csv
import io
import json
import xml.etree.ElementTree as ET
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result
from rich.cells import cell_len

from loamwright import workflow
from loamwright.cli import main

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with an example; its results are kept there for all tests of this file."""
    folder = tmp_path_factory.mktemp("day")
    workflow.new(folder / "rain.yaml", example="rain-glass")
    return folder


def command(place: Path, *words: str) -> Result:
    runner = CliRunner(env={"LOAMWRIGHT_CACHE": str(place / "kept"), "COLUMNS": "80",
                            "NO_COLOR": "1"})  # fmt: skip
    return runner.invoke(main, ["day", str(place / "rain.yaml"), *words])


def test_a_day_is_printed_at_eighty_columns(place: Path) -> None:
    done = command(place)
    assert (done.exit_code, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert max(cell_len(line.rstrip()) for line in lines) <= 80
    text = done.stdout
    for part in ("a typical winter day", "room", "tunnel hide", "air °C", "RH %", "surface °C",
                 "electricity a day", "together", "sprayed by the nozzles", "a full tank",
                 "front panel wet", "heat missing from its balance"):  # fmt: skip
        assert part in text, part
    assert (place / "kept").exists()


def test_json_is_one_document_that_keeps_to_its_schema(place: Path) -> None:
    done = command(place, "--json", "--season", "summer")
    assert done.exit_code == 0, done.output
    document = json.loads(done.stdout)
    schema = json.loads(CliRunner().invoke(main, ["schema", "--of", "day"]).stdout)
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    assert document["season"] == "summer"
    assert abs(document["balance"]["energy_pct"]) < 0.1
    assert abs(document["balance"]["water_pct"]) < 0.1
    # What the room has at noon is what the file says of it.
    room = workflow.read(place / "rain.yaml").room.summer
    assert document["room"]["air_c"][12] == pytest.approx(room.day - 273.15, abs=1e-3)
    assert document["room"]["rh_pct"][12] == pytest.approx(100 * room.humidity, abs=0.1)
    used = document["energy_by_user_kwh_d"]
    assert document["energy_kwh_d"] == pytest.approx(sum(used.values()))


def test_a_second_run_answers_the_same_from_what_is_kept(place: Path) -> None:
    first = command(place, "--json").stdout
    kept = sorted(p.name for p in (place / "kept").iterdir())
    assert command(place, "--json").stdout == first
    assert sorted(p.name for p in (place / "kept").iterdir()) == kept
    afresh = json.loads(command(place, "--json", "--afresh").stdout)
    before = json.loads(first)
    # Summed in the same order: the same digits.
    assert afresh["sites"] == before["sites"]


def test_table_and_chart_are_written_whole_and_not_over(place: Path) -> None:
    table, chart = place / "day.csv", place / "day.svg"
    words = ["--csv", str(table), "--plot", str(chart), "--units", "us", "--site", "pot"]
    done = command(place, *words)
    assert done.exit_code == 0, done.output
    assert done.stdout.endswith(f"wrote {table}\nwrote {chart}\n")
    rows = list(csv.reader(io.StringIO(table.read_text("utf-8"), newline="")))
    assert len(rows) == 146
    assert "air: pot [degF]" in rows[0]
    ET.fromstring(chart.read_bytes())
    before = table.read_bytes()
    again = command(place, *words)
    assert (again.exit_code, again.stdout) == (2, "")
    assert "day.csv: is there already; --force writes over it" in again.stderr
    assert table.read_bytes() == before
    assert command(place, *words, "--force").exit_code == 0


def test_all_seasons_follow_each_other(place: Path) -> None:
    table = place / "all.csv"
    done = command(place, "--season", "all", "--csv", str(table))
    text = done.stdout
    told = [text.index(f"a typical {s}") for s in ("winter", "day between", "summer")]
    assert told == sorted(told)
    rows = list(csv.reader(io.StringIO(table.read_text("utf-8"), newline="")))
    assert [r[0] for r in rows[1::145]] == ["winter", "middle", "summer"]


def test_unknown_places_are_told_with_those_there_are(place: Path) -> None:
    done = command(place, "--plot", str(place / "x.png"), "--site", "attic")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "--site: no site is called 'attic'; there are: lit root, " in done.stderr
    assert not (place / "x.png").exists()


def test_wrong_wishes_are_refused_before_anything_is_computed(place: Path) -> None:
    for words, said in (
        (["--season", "all", "--json"], "--season: one document holds one season"),
        (["--season", "all", "--plot", "x.png"], "--plot: a chart shows one season"),
        (["--plot", "x.pdf"], "a chart is written as .png or .svg"),
        (["--site", "pot"], "--site chooses what --plot draws"),
        (["--season", "autumn"], "'autumn' is not one of"),
        (["--plot", "x.png", *(w for s in ("pot", "litter", "lit root", "mid air", "pot")
                               for w in ("--site", s))], "a chart holds 4 sites at most"),
    ):  # fmt: skip
        done = command(place, *words)
        assert (done.exit_code, done.stdout) == (2, ""), words
        assert said in done.stderr, (words, done.stderr)


def test_pages_show_the_days_and_refuse_a_second_run_in_one_line(place: Path) -> None:
    out = place / "pages"
    runner = CliRunner(env={"LOAMWRIGHT_CACHE": str(place / "kept")})
    done = runner.invoke(main, ["check", str(place / "rain.yaml"), "-o", str(out)])
    assert done.exit_code in (0, 1), done.output
    names = {p.name for p in out.iterdir()}
    assert {"overview.html", "day-winter.png", "day-summer.png", "sums.png", "air-winter.png",
            "air-summer.png", "humidity-winter.png", "uvi-y.png"} <= names  # fmt: skip
    page = (out / "overview.html").read_text("utf-8")
    assert page.count("<img ") == len(names) - 1
    assert page.index("A typical winter day") < page.index("Findings, worst first")
    assert "from rain.yaml, 20" in page
    again = runner.invoke(main, ["check", str(place / "rain.yaml"), "-o", str(out)])
    assert (again.exit_code, again.stdout) == (2, "")
    told = again.stderr.splitlines()
    assert len(told) == 1
    assert told[0].endswith(f"overview.html and {len(names) - 1} more of these pages are there "
                            "already; --force writes over them")  # fmt: skip
