"""Wrong arguments: status 2, words on standard error, nothing on standard output, nothing written."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from bad_case import METRIC
from loamwright.cli import main
from loamwright.report.schemas import SCHEMAS

GOOD = "good.yaml"
BAD = "bad.yaml"
LIT = """\
lamps: [{name: bar, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm]}]
sites: [{name: perch, at: [30 cm, 20 cm, 40 cm], role: perch}]
"""

WRONG: list[tuple[str, str]] = [
    # arguments that no command has
    ("", "Usage: "),
    ("frobnicate", "No such command 'frobnicate'"),
    ("--bogus", "No such option"),
    ("check", "Missing argument 'FILE'"),
    ("check a.yaml b.yaml", "unexpected extra argument"),
    ("check good.yaml --bogus", "No such option"),
    ("check good.yaml --units imperial", "'imperial' is not one of 'metric', 'us'"),
    ("light", "Missing argument 'FILE'"),
    ("light good.yaml -o", "requires an argument"),
    ("new", "Missing argument 'FILE'"),
    ("new x.yaml --units k", "'k' is not one of 'metric', 'us'"),
    ("day", "Missing argument 'FILE'"),
    ("day good.yaml --season autumn", "'autumn' is not one of 'winter', 'middle', 'summer', 'all'"),
    ("day good.yaml --season all --json", "--season: one document holds one season; say which"),
    ("day good.yaml --season all --plot x.png", "--plot: a chart shows one season"),
    ("day good.yaml --plot x.pdf", "x.pdf: --plot: a chart is written as .png or .svg"),
    ("day good.yaml --site perch", "--site chooses what --plot draws"),
    ("day good.yaml --plot x.png --site attic", "no site is called 'attic'; there are: perch"),
    ("day good.yaml --csv bad.yaml", "bad.yaml: is there already; --force writes over it"),
    ("day none.yaml", "none.yaml: there is no such file"),
    ("day bad.yaml", r"bad.yaml:1:7: name: must be a text"),
    ("strength bad.yaml --json", r"bad.yaml:1:7: name: must be a text"),
    ("wiring none.yaml --json", "none.yaml: there is no such file"),
    ("wiring good.yaml --json --plot-mist x.png", "good.yaml: --plot-mist: there is no misting"),
    ("wiring good.yaml --json --plot x.pdf", "x.pdf: --plot: a chart is written as .png"),
    ("list", "Missing argument"),
    ("list fish", "'fish' is not one of 'animals', 'plants'"),
    ("list animals --units x", "'x' is not one of 'metric', 'us'"),
    ("show", "Missing argument"),
    ("show lamps", "Missing argument 'NAME'"),
    ("show fish a", "'fish' is not one of 'animals'"),
    ("schema extra", "unexpected extra argument"),
    ("schema --of nothing", "'nothing' is not one of 'habitat', 'check', 'light'"),
    # files that are not there, or not what they should be
    ("check none.yaml", "none.yaml: there is no such file"),
    ("check none/none.yaml", "none/none.yaml: there is no such file"),
    ("check .", ".: is not a file"),
    ("check ''", "''|is not a file"),
    ("check /dev/null", "/dev/null: is not a file"),
    (
        "check bad.yaml",
        r"bad.yaml:1:7: name: must be a text(.|\n)*2 problems; nothing was computed",
    ),
    ("check bad.yaml --json", r"bad.yaml:1:7: name: must be a text"),
    ("check bad.yaml --explain -o out", r"bad.yaml:1:7: name: must be a text"),
    ("check bad.yaml --afresh", r"bad.yaml:1:7: name: must be a text"),
    ("light bad.yaml", r"bad.yaml:1:7: name: must be a text"),
    ("light bad.yaml --json", r"bad.yaml:1:7: name: must be a text"),
    ("light bad.yaml --grid '5 cm' -o x.nc", r"bad.yaml:1:7: name: must be a text"),
    ("light none.yaml --grid '5 cm' -o x.nc", "none.yaml: there is no such file"),
    ("list lamps --catalogue none.yaml", "none.yaml: there is no such file"),
    ("list lamps --catalogue bad.yaml", r"bad.yaml:1:1: name: there is no group 'name'"),
    ("show lamps halogen-flood-50w --catalogue bad.yaml", r"bad.yaml:1:1: name: there is no group"),
    # values that are wrong
    ("check good.yaml --only heat", "--only: no engine is called 'heat'; there is light"),
    ("check good.yaml --only ,", "--only: no engine is called ''"),
    ("light good.yaml --grid '5 cm'", "--grid and -o go together"),
    ("light good.yaml -o x.nc", "--grid and -o go together"),
    ("show animals nope", "no animals entry is called 'nope'; "),
    ("show animals phelsuma-grandi", "did you mean phelsuma-grandis"),
    ("show lamps ''", "no lamps entry is called ''"),
    ("new x.yaml --example nope", "no example is called 'nope'; there are forest-edge"),
    ("new x.yaml --example forest-edge --size '1 m x 1 m x 1 m'", "an example has its own size"),
    ("new x.yaml --size 3", "--size: '3' is not three lengths; write width x depth x height"),
    ("new x.yaml --size '60 x 45 x 90'", "has no unit"),
    ("new x.yaml --size '60 x 45 x 90 kg'", "--size: "),
    ("new x.yaml --size '60 x 45 x nan cm'", "--size: "),
    ("new x.yaml --size '1e9 x 1e9 x 1e9 m'", "--size: "),
    ("new x.yaml --animal nope", "--animal: the catalogue has no animal 'nope'"),
    ("new good.yaml", "good.yaml: is there already; --force writes over it"),
    ("new good.yaml --example forest-edge", "good.yaml: is there already; --force writes over it"),
    ("new .", "is there already|is a folder"),
    ("new . --force", "is a folder|cannot be written"),
    ("new none/x.yaml", "none/x.yaml: cannot be written"),
    ("new /dev/full/x.yaml", "cannot be written"),
]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "work"
    folder.mkdir()
    monkeypatch.chdir(folder)
    monkeypatch.setenv("LOAMWRIGHT_CACHE", str(tmp_path / "kept"))
    Path(GOOD).write_text(METRIC + LIT)
    Path(BAD).write_text(METRIC.replace("Small", "12") + "fans: 3\n")
    return folder


def contents(folder: Path) -> dict[str, bytes | None]:
    return {
        str(p.relative_to(folder)): p.read_bytes() if p.is_file() else None
        for p in folder.rglob("*")
    }


@pytest.mark.parametrize(("line", "said"), WRONG, ids=[line or "nothing" for line, _ in WRONG])
def test_wrong_arguments(line: str, said: str, home: Path) -> None:
    before = contents(home.parent)
    result = CliRunner().invoke(main, _split(line))
    assert isinstance(result.exception, SystemExit), "an error that is told, not one that escapes"
    assert (result.exit_code, result.stdout) == (2, "")
    assert re.search(said, result.stderr), result.stderr
    assert "Traceback" not in result.stderr
    assert contents(home.parent) == before, "nothing is written"


def _split(line: str) -> list[str]:
    import shlex

    return shlex.split(line)


@pytest.mark.slow  # follows the light first
@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("light good.yaml --grid 5 -o x.nc", "--grid: '5': the unit is missing"),
        ("light good.yaml --grid '0 cm' -o x.nc", "--grid: '0 cm' is too fine"),
        ("light good.yaml --grid '-5 cm' -o x.nc", "--grid: '-5 cm' is too fine"),
        ("light good.yaml --grid '1 mm' -o x.nc", "--grid: '1 mm' is too fine"),
        ("light good.yaml --grid '5 cm' -o good.yaml", "good.yaml: is there already; --force"),
        ("light good.yaml --grid '5 cm' -o none/x.nc", "none/x.nc: cannot be written"),
        ("check good.yaml -o bad.yaml", "bad.yaml"),
    ],
)
def test_wrong_places_to_write(line: str, said: str, home: Path) -> None:
    before = contents(home)
    result = CliRunner().invoke(main, _split(line))
    assert isinstance(result.exception, SystemExit), result.exception
    assert (result.exit_code, result.stdout) == (2, "")
    assert re.search(said, result.stderr), result.stderr
    assert contents(home) == before, "nothing is written where the person is"


def run(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "loamwright", *words],
        capture_output=True, text=True, check=False, env={**os.environ, **environment},
    )  # fmt: skip


def test_in_a_process_of_its_own(home: Path) -> None:
    before = contents(home.parent)
    done = run("check", BAD)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.splitlines() == [
        'bad.yaml:1:7: name: must be a text; put it in quotes: "12"',
        "bad.yaml:6:1: fans: unknown key; the nearest known is 'mains'",
        "2 problems; nothing was computed or written",
    ]
    assert contents(home.parent) == before


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [("check", BAD, "--json"), ("light", "none.yaml"), ("show", "lamps", "nope"),
     ("new", GOOD), ("list", "fish"), ("schema", "--of", "x")],
)  # fmt: skip
def test_every_command_in_a_process_of_its_own(words: tuple[str, ...], home: Path) -> None:
    before = contents(home.parent)
    done = run(*words, FORCE_COLOR="1")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.strip()
    assert "Traceback" not in done.stderr
    assert contents(home.parent) == before


@pytest.mark.parametrize("of", ["habitat", *SCHEMAS])
def test_a_schema_is_one_document(of: str) -> None:
    result = CliRunner().invoke(main, ["schema", "--of", of])
    assert (result.exit_code, result.stderr) == (0, "")
    assert json.loads(result.stdout)["$schema"]


@pytest.mark.slow
def test_json_is_one_document_and_nothing_else(home: Path) -> None:
    for words in (("check", GOOD, "--json"), ("light", GOOD, "--json")):
        done = run(*words)
        assert done.returncode in (0, 1)
        assert isinstance(json.loads(done.stdout), dict)
        assert done.stderr == ""


@pytest.mark.slow
def test_no_colour_where_none_is_wanted(home: Path) -> None:
    coloured = run("check", GOOD, FORCE_COLOR="1")
    plain = run("check", GOOD, NO_COLOR="1")
    piped = run("check", GOOD)
    assert plain.returncode in (0, 1)
    assert "\x1b[" not in plain.stdout
    assert "\x1b[" not in piped.stdout
    assert plain.stdout == piped.stdout
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured.stdout) == plain.stdout


@pytest.mark.slow
def test_a_reader_who_goes_away_is_no_error(home: Path) -> None:
    line = f"'{sys.executable}' -m loamwright list plants | head -1"
    done = subprocess.run(["sh", "-c", line], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout.count("\n") == 1
