"""The pack of each example: every section, every file readable by another program, same bytes twice."""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Callable
from pathlib import Path

import pytest
import typst
from click.testing import CliRunner, Result

from loamwright import pack_pages, workflow
from loamwright.cli import main
from loamwright.engine.ground.quantities import ground_quantities
from loamwright.errors import InputError
from loamwright.pack_commands import date_of
from loamwright.report.blocks import Table
from loamwright.report.letters import font_folder
from loamwright.report.pack_pdf import Document, source_files, typeset
from loamwright.report.pack_words import WORDS, texts_of
from test_pack_blocks import ink_in_margins

DATE = (2027, 3, 1)
MOST = 5_000_000

SECTIONS = [
    "The habitat", "Findings", "Light", "Heat, humidity and air", "Ground",
    "Animals, plants, decomposers", "Shopping list", "Cuts", "Wiring and water",
    "Strength and loads", "Order of work", "What fails, what follows", "Costs", "Quote",
    "Handover sheet", "Care guide", "Cautions", "Words used",
    "Sources and defaults",
]  # fmt: skip


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("kept")


@pytest.fixture(scope="module")
def run(kept: Path) -> Callable[..., Result]:
    def call(*args: str) -> Result:
        return CliRunner().invoke(main, list(args), env={"LOAMWRIGHT_CACHE": str(kept)})

    return call


def everything(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def headings(document: Document, folder: Path) -> list[str]:
    """Headings of sections as the typesetter sees them."""
    for name, content in source_files(document, "a4").items():
        (folder / name).write_bytes(content)
    found = typst.query(str(folder / "main.typ"), "heading.where(level: 1)", root=str(folder),
                        font_paths=[font_folder()], ignore_system_fonts=True)  # fmt: skip
    return [one["body"]["text"] for one in json.loads(found)]


@pytest.mark.slow
def test_pack_of_the_demo_in_each_system(
    run: Callable[..., Result], kept: Path, tmp_path: Path
) -> None:
    example = "forest-edge"
    file = tmp_path / f"{example}.yaml"
    workflow.new(file, example=example)
    done = run("pack", str(file), "-o", str(tmp_path / "pack"), "--date", "2027-03-01")
    assert done.exit_code in (0, 1), done.output
    found = everything(tmp_path / "pack")
    assert len(found[pack_pages.PDF]) <= MOST
    assert found[pack_pages.PDF].startswith(b"%PDF-")
    _read_back(found)
    # The same again: every byte, and the overview's own words stand in it.
    again = run("pack", str(file), "-o", str(tmp_path / "again"), "--date", "2027-03-01")
    assert again.exit_code == done.exit_code
    assert everything(tmp_path / "again") == found
    # Pages of both papers: every section, nothing that runs out into a margin.
    habitat = workflow.read(file)
    for paper, system in (("a4", "metric"), ("letter", "us")):
        work = pack_pages.study(habitat, date=DATE, start=None, system=system, paper=paper,
                                kept=kept, note=workflow.quiet)  # fmt: skip
        document = pack_pages.compose(work, "0" * 64, "loamwright")
        told = headings(document, tmp_path)
        _no_code_words(document)
        missing = [s for s in SECTIONS if s not in told]
        allowed = set() if habitat.money else {"Quote"}
        assert set(missing) <= allowed
        assert told == [s for s in SECTIONS if s in told]
        for number, page in enumerate(typeset(document, paper, "png", 30.0)):
            # Drawings to scale hang out of the line, but stay on the paper a printer reaches.
            assert not ink_in_margins(page, 30.0, 0.30), f"page {number + 1} on {paper}"


CODE_WORDS = (
    r"\b[a-z]+_[a-z_]+\b", r"\w\[[^\]]*\]", r"\bdeg[CF]\b",
    r"\b(?:give|say|under|with|role|let) [a-z]+:(?![/\d])",
)  # fmt: skip
"""How names of fields and hints at the habitat file look."""


def _no_code_words(document: Document) -> None:
    """The pack is for trades: no field, no key of a catalogue or a price list; every word that its
    last page but one explains stands in it."""
    from loamwright.files.catalogue import load_catalogue

    told = [t for s in document.sections if s.key != "words" for t in texts_of(s)]
    text = "\n".join(told)
    for pattern in CODE_WORDS:
        assert not re.findall(pattern, text), pattern
    catalogue = load_catalogue()
    groups = ("animals", "lamps", "plants", "materials", "fans", "nozzles", "covers")
    keys = {k for g in groups for k in getattr(catalogue, g) if "-" in k}
    assert len(keys) > 50
    assert not {k for k in keys if re.search(rf"(?<![\w-]){re.escape(k)}(?![\w-])", text)}
    words = next(s for s in document.sections if s.key == "words")
    rows = next(b for b in words.blocks if isinstance(b, Table)).rows
    known = {e.word: e for e in WORDS}
    assert len(rows) > 25
    assert all(known[row[0]].occurs(text) for row in rows)


def _read_back(found: dict[str, bytes]) -> None:
    """Every file is read by a program that is not its writer."""
    import ezdxf.recover
    import icalendar
    import trimesh

    kinds = {name.rpartition(".")[2] for name in found}
    assert {"pdf", "csv", "dxf", "ics", "svg", "glb"} <= kinds
    for name, content in found.items():
        kind = name.rpartition(".")[2]
        if kind == "svg":
            assert ElementTree.fromstring(content).tag.endswith("svg")
        elif kind == "csv":
            rows = list(csv.reader(io.StringIO(content.decode())))
            assert len(rows) > 1
            assert {len(r) for r in rows} == {len(rows[0])}
        elif kind == "dxf":
            _, audit = ezdxf.recover.read(io.BytesIO(content))
            assert not audit.errors, name
        elif kind == "ics":
            events = icalendar.Calendar.from_ical(content).walk("VEVENT")
            assert len(events) > 5
        elif kind == "glb":
            scene = trimesh.load(io.BytesIO(content), file_type="glb")
            assert len(scene.geometry) > 5


@pytest.mark.slow
def test_quantities_are_the_engines(kept: Path, tmp_path: Path) -> None:
    file = tmp_path / "forest-edge.yaml"
    workflow.new(file, example="forest-edge")
    habitat = workflow.read(file)
    work = pack_pages.study(habitat, date=DATE, start=None, system="metric", paper="a4", kept=kept,
                            note=workflow.quiet)  # fmt: skip
    lines = {line.key: line for line in work.plan.lines}
    for layer in ground_quantities(habitat).layers:
        for bought in layer.buy:
            group = {"m2": "sheets", "kg": "litter", "m3": "media"}[bought.unit]
            size = 1e-3 if bought.unit == "m3" else 1.0
            assert lines[f"{group}/{bought.key}"].amount == bought.amount / size
    assert work.checked.life is not None
    kinds = work.checked.life.community.species
    for kind, count in zip(kinds, work.checked.life.counts(), strict=True):
        assert lines[f"decomposers/{kind.key}"].amount == count


@pytest.mark.slow
def test_hostile_names_go_through(run: Callable[..., Result], tmp_path: Path) -> None:
    file = tmp_path / "hostile.yaml"
    workflow.new(file, example="rain-glass")
    text = file.read_text()
    name = next(line for line in text.splitlines() if line.startswith("name:"))
    hostile = "#panic() $x$ *b* _u_ <l> @r `c` \\\\ \u05e9\u05dc\u05d5\u05dd 🦎 "
    hostile += "n" * (80 - len(hostile))
    file.write_text(text.replace(name, f'name: "{hostile}"'))
    done = run("pack", str(file), "-o", str(tmp_path / "pack"), "--date", "2027-03-01")
    assert done.exit_code in (0, 1), done.output
    assert everything(tmp_path / "pack")[pack_pages.PDF].startswith(b"%PDF-")


def test_wrong_targets_and_dates_write_nothing(run: Callable[..., Result], tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    workflow.new(file, example="forest-edge")
    before = everything(tmp_path)
    taken = tmp_path / "taken"
    taken.mkdir()
    (taken / "pack.pdf").write_bytes(b"mine")
    for args, told in (
        (("-o", str(file)), "is a file; name a folder"),
        (("-o", str(file / "below")), "cannot be written"),
        (("-o", str(taken)), "pack.pdf is there already; --force writes over them"),
        (("-o", str(tmp_path / "new"), "--date", "2027-02-30"), "'2027-02-30' is no day"),
        (("-o", str(tmp_path / "new"), "--start", "tomorrow"), "'tomorrow' is no day"),
    ):
        done = run("pack", str(file), *args)
        assert done.exit_code == 2, done.output
        assert told in done.output
        assert "Traceback" not in done.output
    (taken / "pack.pdf").unlink()
    taken.rmdir()
    assert everything(tmp_path) == before


def test_dates_are_days() -> None:
    assert date_of(None, "--date") is None
    assert date_of("2028-02-29", "--date") == (2028, 2, 29)
    for wrong in ("2027-13-01", "2027-00-10", "27-01-01", "1979-01-01", "2027-02-29", ""):
        with pytest.raises(InputError, match="is no day"):
            date_of(wrong, "--date")


def test_start_is_the_options_else_the_files_else_the_date(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    workflow.new(file, example="forest-edge")
    habitat = workflow.read(file)
    assert habitat.workshop.start
    assert pack_pages.beginning(habitat, None, DATE) is habitat
    begun = pack_pages.beginning(habitat, (2027, 5, 5), DATE)
    assert (begun.workshop.start, begun.workshop.weekday) == ("2027-05-05", 2)
