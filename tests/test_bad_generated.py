"""Thousands of spoilt examples: each is read as a habitat or refused well, and nothing else.

Hypothesis draws what to spoil, from a fixed seed. The quotas below make sure that at least 5,000
different wrong files are read in a whole run; files that stay right are counted apart.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from loamwright.cli import main
from loamwright.errors import InputError
from loamwright.files.document import parse_document
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from mutations import LIKELY, SURE, Base, Place

EXAMPLES = Path(__file__).parent.parent / "src" / "loamwright" / "data" / "examples"
HEAD = ("format", "name", "purpose", "units", "room", "enclosure", "animals")

EVERY_NTH_BY_COMMAND = 25
"""Of the wrong files, how many go through the command as well."""
FOREIGN = ("Traceback", "object at 0x", "pydantic", "ruamel", "Input should", "NoneType", "<class")
"""Words of the machinery, which have no place in a message."""


def bases() -> list[Base]:
    """The examples, whole and in parts: small files are quick, and what is in them is hit more."""
    found: list[Base] = []
    for path in sorted(EXAMPLES.glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        found.append(Base(path.name, text, EXAMPLES))
        data = parse_document(text, path)
        starts = sorted(data.root.key_starts.items(), key=lambda item: item[1])
        ends = [start for _, start in starts[1:]] + [len(text)]
        parts = {key: text[start:end] for (key, start), end in zip(starts, ends, strict=True)}
        head = "".join(parts.get(key, "") for key in HEAD)
        for key in parts:
            small = head + parts[key] if key not in HEAD else head
            if small in (base.text for base in found) or not _right(small, path):
                continue
            found.append(Base(f"{path.stem}-{key}.yaml", small, EXAMPLES))
    return found


def _right(text: str, path: Path) -> bool:
    try:
        read_habitat_text(text, path, EXAMPLES)
    except InputError:
        return False
    return True


BASES = bases()


class Count:
    """What became of the files of one kind of mutation."""

    def __init__(self, folder: Path) -> None:
        self.wrong: set[str] = set()
        self.right = 0
        self.folder = folder

    def read(self, base: Base, text: str, place: Place | None, *, sure: bool) -> None:
        """Read one file and hold what is said of it against what was done to it."""
        path = self.folder / "habitat.yaml"
        try:
            habitat = read_habitat_text(text, path, base.folder)
        except InputError as error:
            well_told(error, path, text, place)
            self.wrong.add(text)
            if len(self.wrong) % EVERY_NTH_BY_COMMAND == 0:
                by_command(path, text.encode("utf-8", "surrogatepass"))
        else:
            assert isinstance(habitat, Habitat)
            assert not sure, "this file is wrong"
            self.right += 1


def well_told(error: InputError, path: Path, text: str, place: Place | None) -> None:
    """Every message has its place, one line, and words a builder knows."""
    lines = re.split("\r\n|\r|\n", text)
    said = [str(p) for p in error.problems]
    assert said
    assert len(set(said)) == len(said), "nothing is told twice"
    for problem in error.problems:
        line = str(problem)
        assert line.startswith(f"{path}:{problem.line}:{problem.column}: ")
        assert 1 <= problem.line <= len(lines)
        assert 1 <= problem.column <= len(lines[problem.line - 1]) + 1
        assert line.isprintable(), "one line, and nothing that steers a terminal"
        assert len(problem.message) < 500
        assert not any(word in line for word in FOREIGN)
    if place is not None:
        assert place in [(p.line, p.column) for p in error.problems]


def by_command(path: Path, raw: bytes) -> None:
    """The same through the command: status 2, all on standard error, nothing written."""
    path.write_bytes(raw)
    try:
        result = CliRunner().invoke(main, ["check", str(path)])
        assert (result.exit_code, result.stdout) == (2, "")
        assert isinstance(result.exception, SystemExit)
        assert result.stderr.startswith(str(path))
        assert [p.name for p in path.parent.iterdir()] == [path.name]
    finally:
        path.unlink()


@pytest.fixture
def count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Count:
    monkeypatch.setenv("LOAMWRIGHT_CACHE", str(tmp_path / "kept"))
    (tmp_path / "work").mkdir()
    return Count(tmp_path / "work")


def draw(examples: int, what: Callable[[st.DataObject], None]) -> None:
    """Run a property over so many draws, always the same ones."""
    settings(
        max_examples=examples, derandomize=True, database=None, deadline=None,
        suppress_health_check=list(HealthCheck), phases=[Phase.generate, Phase.shrink],
    )(given(st.data())(what))()  # fmt: skip


def spoil(name: str, examples: int, count: Count) -> None:
    change = {**SURE, **LIKELY}[name]
    fit = [base for base in BASES if base.places or name != "outside"]

    def one(data: st.DataObject) -> None:
        base = data.draw(st.sampled_from(fit))
        text, place = change(base, data)
        count.read(base, text, place, sure=name in SURE)

    draw(examples, one)


def rot(examples: int, count: Count) -> None:
    """Random bytes in, over and instead of those of an example, read from disk."""

    def one(data: st.DataObject) -> None:
        raw = data.draw(st.sampled_from(BASES)).text.encode()
        for _ in range(data.draw(st.integers(1, 4))):
            start = data.draw(st.integers(0, len(raw)))
            junk = data.draw(st.binary(min_size=1, max_size=20))
            raw = raw[:start] + junk + raw[start + data.draw(st.integers(0, 40)) :]
        path = count.folder / "habitat.yaml"
        path.write_bytes(raw)
        try:
            read_habitat(path)
        except InputError as error:
            well_told(error, path, raw.decode("latin-1"), None)
            count.wrong.add(raw.decode("latin-1"))
        else:
            count.right += 1
        finally:
            path.unlink()

    draw(examples, one)


# Drawn, and how many different wrong files those must give at least.
QUOTAS = dict.fromkeys(SURE, (410, 380))
QUOTAS |= {"drop": (260, 100), "swap": (260, 100), "indent": (300, 150), "lines": (300, 170),
           "cut": (300, 120), "text": (300, 130), "signs": (300, 220), "bytes": (420, 380)}  # fmt: skip


def test_the_quotas_make_five_thousand() -> None:
    assert sum(least for _, least in QUOTAS.values()) >= 5000


def test_the_bases_are_right_and_hold_what_is_to_be_spoilt() -> None:
    assert len(BASES) >= 5
    for base in BASES:
        assert isinstance(read_habitat_text(base.text, EXAMPLES / base.name, EXAMPLES), Habitat)
        assert base.keys
        assert base.quantities
        assert base.references


@pytest.mark.parametrize("name", QUOTAS)
def test_a_few_spoilt_examples(name: str, count: Count) -> None:
    rot(8, count) if name == "bytes" else spoil(name, 8, count)
    assert len(count.wrong) + count.right > 0


@pytest.mark.slow
@pytest.mark.parametrize("name", QUOTAS)
def test_thousands_of_spoilt_examples(name: str, count: Count) -> None:
    drawn, least = QUOTAS[name]
    rot(drawn, count) if name == "bytes" else spoil(name, drawn, count)
    print(f"{name}: {len(count.wrong)} different wrong files, {count.right} still right")
    assert len(count.wrong) >= least
