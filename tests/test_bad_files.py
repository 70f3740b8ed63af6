"""Wrong habitat files, each with the exact place and field its messages must name.

Every case goes through the command as well: exit status 2, the messages on standard error and
nothing else, nothing on standard output, nothing written.
"""

from __future__ import annotations

import gzip
import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

import bad_beside
import bad_box
import bad_build
import bad_climate
import bad_cuts
import bad_form
import bad_ground
import bad_inside
import bad_plan
import bad_residents
import bad_room
from bad_case import METRIC, US, Case, told, write
from loamwright.cli import main
from loamwright.errors import InputError
from loamwright.files.document import MAX_BYTES
from loamwright.files.reader import read_habitat

CASES: list[Case] = [
    *bad_form.CASES, *bad_box.CASES, *bad_inside.CASES, *bad_residents.CASES, *bad_beside.CASES,
    *bad_climate.CASES, *bad_ground.CASES, *bad_room.CASES, *bad_plan.CASES,
    *bad_build.CASES,
    *bad_cuts.CASES,
]  # fmt: skip


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder for results kept between runs, which a wrong file must leave alone."""
    kept = tmp_path / "kept"
    monkeypatch.setenv("LOAMWRIGHT_CACHE", str(kept))
    (tmp_path / "work").mkdir()
    monkeypatch.chdir(tmp_path / "work")
    return tmp_path / "work"


def contents(folder: Path) -> dict[str, bytes | None]:
    return {
        str(p.relative_to(folder)): p.read_bytes() if p.is_file() else None
        for p in folder.rglob("*")
    }


def refused(path: Path) -> list[str]:
    """The lines `check` says of a file, after seeing that nothing else happened."""
    before = contents(path.parent.parent)
    result = CliRunner().invoke(main, ["check", str(path)])
    assert (result.exit_code, result.stdout) == (2, "")
    assert isinstance(result.exception, SystemExit), "an error that is told, not one that escapes"
    assert contents(path.parent.parent) == before, "nothing is written"
    assert "Traceback" not in result.stderr
    lines = result.stderr.splitlines()
    if len(lines) > 1:
        summary = f"{len(lines) - 1} problems; nothing was computed or written"
        assert lines.pop() == summary
    return lines


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_wrong_file_is_told_where_and_what(case: Case, home: Path) -> None:
    path, places = write(case, home)
    found = told(path)
    assert [(p.file, p.line, p.column) for p in found] == places
    assert [p.field for p in found] == [field for field, _ in case.told]
    for problem, (_, said) in zip(found, case.told, strict=True):
        assert re.search(said, problem.message), problem.message
    lines = refused(path)
    assert lines == [str(p) for p in found]
    for line in lines:
        assert re.match(r"\S+:[1-9]\d*:[1-9]\d*: \S", line)
        assert line.isprintable(), "one line, and nothing that steers a terminal"
        assert len(line) < 1000


def test_there_are_many_and_they_differ() -> None:
    assert len({case.name for case in CASES}) == len(CASES) >= 200
    assert len({(case.text, *case.beside.items()) for case in CASES}) == len(CASES)


def test_the_bases_are_right(home: Path) -> None:
    for i, text in enumerate((METRIC, US)):
        path = home / f"{i}.yaml"
        path.write_text(text)
        assert read_habitat(path).name == "Small"


RIGHT = METRIC.encode()
BYTES = {
    "UTF-16": (METRIC.encode("utf-16"), r":1:1: byte 0xff is not UTF-8; save the file as UTF-8"),
    "UTF-16, other end first": (b"\xfe\xff" + METRIC.encode("utf-16-be"), r":1:1: byte 0xfe"),
    "UTF-16 without a mark": (METRIC.encode("utf-16-le"), r":1:2: character U\+0000"),
    "UTF-32": (METRIC.encode("utf-32"), r":1:1: byte 0xff is not UTF-8"),
    "Latin-1": (RIGHT + "purpose: Grün\n".encode("latin-1"), r":6:12: byte 0xfc is not UTF-8"),
    "a letter cut in two": (RIGHT + "# Grü".encode()[:-1], r":6:5: byte 0xc3 is not UTF-8"),
    "an overlong NUL": (RIGHT + b"# \xc0\x80\n", r":6:3: byte 0xc0 is not UTF-8"),
    "half a pair": (RIGHT + b"# \xed\xa0\x80\n", r":6:3: byte 0xed is not UTF-8"),
    "packed": (gzip.compress(RIGHT), r":1:2: byte 0x8b is not UTF-8"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(99), r":1:1: byte 0x89 is not UTF-8"),
    "NULs": (bytes(4000), r":1:1: character U\+0000 does not belong in a text file; remove it"),
    "a NUL at its end": (RIGHT + b"\x00", r":6:1: character U\+0000"),
    "too large": (RIGHT + b"#" * MAX_BYTES, r"yaml: is larger than 2 MB"),
    "far too large": (RIGHT + b"# a\n" * 3_000_000, r"yaml: is larger than 2 MB \(12 MB\)"),
    "too many values": (RIGHT + b"plants: [" + b"a," * 200_001 + b"]\n", r":6:\d+: .*more than "),
    "long and empty": (b"\n" * 1_900_000, r":1:1: is empty"),
    "one endless line": (RIGHT + b"purpose: " + b"x" * 1_900_000, r":6:10: purpose: 'x+\.\.\. is"),
    "Windows line ends": (RIGHT.replace(b"\n", b"\r\n") + b"fans: 3\r\n", r":6:1: fans: unknown"),
    "old line ends": (RIGHT.replace(b"\n", b"\r") + b"fans: 3\r", r":6:1: fans: unknown key"),
    "a byte order mark": (b"\xef\xbb\xbffans: 3\n" + RIGHT, r":1:1: fans: unknown key"),
}


LONG = ("too many values", "long and empty", "one endless line")


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=pytest.mark.slow) if n in LONG else n for n in BYTES]
)
def test_bytes_that_are_no_habitat(name: str, home: Path) -> None:
    raw, said = BYTES[name]
    path = home / "habitat.yaml"
    path.write_bytes(raw)
    with pytest.raises(InputError, match=said) as caught:
        read_habitat(path)
    if len(raw) < 100_000:
        assert refused(path) == str(caught.value).split("\n")


def test_a_byte_order_mark_alone_is_no_fault(home: Path) -> None:
    path = home / "habitat.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + RIGHT.replace(b"\n", b"\r\n"))
    assert read_habitat(path).name == "Small"


def test_files_that_are_none(home: Path) -> None:
    (home / "folder").mkdir()
    os.mkfifo(home / "pipe")
    (home / "loop").symlink_to("loop")
    (home / "dangling").symlink_to("nowhere")
    for name, said in {
        "none.yaml": "there is no such file",
        "none/none.yaml": "there is no such file",
        "folder": "is not a file",
        "pipe": "is not a file",
        "loop": "cannot be read: ",
        "dangling": "there is no such file",
        "/dev/zero": "is not a file",
        "x" * 300: "cannot be read: File name too long",
    }.items():
        (line,) = refused(home / name) if not name.startswith("/") else _said(name)
        assert said in line
        assert name in line


def _said(name: str) -> list[str]:
    result = CliRunner().invoke(main, ["check", name])
    assert (result.exit_code, result.stdout) == (2, "")
    return result.stderr.splitlines()


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is closed to the superuser")
def test_a_file_that_is_closed(home: Path) -> None:
    path = home / "habitat.yaml"
    path.write_bytes(RIGHT)
    path.chmod(0)
    assert "cannot be read: Permission denied" in refused(path)[0]
