"""The documentation does what it says: commands run, links lead somewhere, made pages are current."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import click
import pytest
from ruamel.yaml import YAML

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "tools"))

import doc_pages  # noqa: E402
import make_docs  # noqa: E402
from doc_compare import differences  # noqa: E402

import weather_made  # noqa: E402

DOCS = ROOT / "docs"
PAGES = sorted(DOCS.rglob("*.md"))
TOLD = [*PAGES, *(ROOT / n for n in ("README.md", "CHANGELOG.md", "CONTRIBUTING.md"))]


def text_of(path: Path) -> str:
    return path.read_text("utf-8")


def named(path: Path) -> str:
    return str(path.relative_to(ROOT))


WITH_COMMANDS = [
    p for p in TOLD if p.exists() and any(s.kind == "command" for s in doc_pages.steps(text_of(p)))
]


@pytest.fixture(scope="module")
def kept(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("kept")


# -- commands -----------------------------------------------------------------------------------


def test_the_pages_that_show_commands_are_found():
    names = {p.name for p in WITH_COMMANDS}
    assert {"index.md", "tour.md", "commands.md", "own-lamps.md"} <= names


@pytest.mark.slow
@pytest.mark.parametrize("path", WITH_COMMANDS, ids=named)
def test_commands_shown_run_with_the_status_they_say(path, tmp_path, kept):
    with doc_pages.inside(tmp_path):
        for step in doc_pages.steps(text_of(path)):
            if step.kind == "file":
                Path(step.name).write_text(step.text, "utf-8")
            elif step.kind == "edit":
                doc_pages.edit(step)
            elif step.kind == "command":
                status, _, error = doc_pages.run(step.text, kept)
                # A page that does not say shows a check for what it prints, missed or not.
                asks = doc_pages.words(step.text)[1:2] == ["check"]
                allowed = step.statuses or ((0, 1) if asks else (0,))
                assert status in allowed, f"{step.text}: {status}\n{error}"


def test_the_tour_moves_the_lamp_to_where_the_program_says():
    page = text_of(DOCS / "tour.md")
    edits = [s for s in doc_pages.steps(page) if s.kind == "edit"]
    assert len(edits) == 1
    told = " ".join(page.split())
    assert f"Moving 'uv' to {edits[0].new.removeprefix('at: ')}" in told
    assert f"{{name: uv, …, {edits[0].new}, …}}" in page


def test_every_command_and_option_is_on_the_commands_page():
    from loamwright.cli import main

    page = text_of(DOCS / "commands.md")
    for name, command in main.commands.items():
        assert f"\n## {name}\n" in page
        for option in command.params:
            if isinstance(option, click.Option):
                assert option.opts[0] in page, f"{name} {option.opts[0]}"


def test_every_need_is_on_the_findings_page():
    from loamwright.report.words import TITLES

    page = text_of(DOCS / "findings.md")
    for code in (*TITLES, "own-need"):
        assert f"`{code}`" in page


# -- the file's fragments ------------------------------------------------------------------------

FRAGMENTS = [
    (path.name, number, fence["body"])
    for path in (DOCS / n for n in ("animals.md", "findings.md", "own-lamps.md", "room-year.md"))
    for number, fence in enumerate(doc_pages._FENCE.finditer(text_of(path)))
    if fence["info"].strip() == "yaml"
]


@pytest.mark.parametrize(("page", "number", "fragment"), FRAGMENTS)
def test_parts_of_the_file_shown_are_valid(page, number, fragment, tmp_path):
    from loamwright.files.reader import read_habitat

    yaml = YAML()
    whole = yaml.load(text_of(doc_pages.EXAMPLES / "forest-edge.yaml"))
    whole.update(yaml.load(fragment))
    # A fragment takes the place of a whole section: what was driven there needs its control no more.
    named = {entry.get("control") for entry in (*whole["lamps"], *whole["air"], whole["mist"])}
    for name in set(whole["controls"]) - named:
        del whole["controls"][name]
    for name, sample in (("grow.ies", "lambertian.ies"), ("aside.ldt", "bar-aside.ldt")):
        (tmp_path / name).write_bytes((ROOT / "tests" / "data" / sample).read_bytes())
    prices = doc_pages.EXAMPLES / "forest-edge-prices.csv"
    for name, text in (("roof.epw", weather_made.epw()), ("log.csv", weather_made.log()),
                       (prices.name, text_of(prices))):  # fmt: skip
        (tmp_path / name).write_text(text, "utf-8")
    path = tmp_path / "with-fragment.yaml"
    with path.open("w", encoding="utf-8") as out:
        yaml.dump(whole, out)
    read_habitat(path)


def test_there_are_fragments():
    assert len(FRAGMENTS) >= 3


# -- links ---------------------------------------------------------------------------------------

_LINK = re.compile(r"\]\(([^)\s]+)\)")


def anchors(page: str) -> set[str]:
    from markdown.extensions.toc import slugify

    out = set()
    for heading in re.finditer(r"^#+ (.+)$", page, re.M):
        own = re.search(r"\{ *#([\w-]+) *\}\s*$", heading[1])
        out.add(own[1] if own else slugify(re.sub(r"[`*]", "", heading[1]), "-"))
    return out


def broken_links(path: Path) -> list[str]:
    out = []
    for target in _LINK.findall(text_of(path)):
        if target.startswith(("http:", "https:", "mailto:")):
            continue
        name, _, anchor = target.partition("#")
        other = (path.parent / name).resolve() if name else path
        missing = not other.exists()
        if missing or (anchor and other.suffix == ".md" and anchor not in anchors(text_of(other))):
            out.append(target)
    return out


@pytest.mark.parametrize("path", [p for p in TOLD if p.exists()], ids=named)
def test_links_inside_resolve(path):
    assert broken_links(path) == []


def test_a_broken_link_is_seen(tmp_path):
    page = tmp_path / "page.md"
    page.write_text("# One\n[a](#one) [b](#two) [c](none.md) [d](page.md#one)\n")
    assert broken_links(page) == ["#two", "none.md"]


def test_every_page_is_in_the_navigation():
    nav = text_of(ROOT / "mkdocs.yml").split("\nnav:")[1]
    listed = re.findall(r": ([\w/-]+\.md)$", nav, re.M)
    assert sorted(listed) == [str(p.relative_to(DOCS)) for p in PAGES]


# -- nothing from elsewhere ----------------------------------------------------------------------

_FETCHED = re.compile(
    r"<(?:script|img|iframe|source|video|audio)\b[^>]*\bsrc=[\"']?(?:https?:)?//[^\s\"'>]+"
    r"|<link\b(?=[^>]*rel=[\"']?(?:stylesheet|preconnect|preload|icon))[^>]*href=[\"']?(?:https?:)?//"
    r"[^\s\"'>]+|@import\s+(?:url\()?[\"']?(?:https?:)?//[^\s\"')]+"
    r"|url\([\"']?(?:https?:)?//[^\s\"')]+",
    re.I,
)


def test_what_is_fetched_is_seen():
    assert _FETCHED.search('<script async src="https://cdn.example/x.js">')
    assert _FETCHED.search('<link rel="stylesheet" href="//fonts.example/css">')
    assert _FETCHED.search("@font-face{src:url(https://fonts.example/a.woff2)}")
    assert not _FETCHED.search('<a href="https://example.org">read</a>')


@pytest.mark.slow
def test_the_site_builds_strictly_and_fetches_nothing(tmp_path):
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "-d", str(tmp_path)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    made = [p for p in tmp_path.rglob("*") if p.suffix in (".html", ".css")]
    assert len(made) > len(PAGES)
    assert {named_: found[0] for p in made if (found := _FETCHED.search(text_of(p)))
            for named_ in [p.name]} == {}  # fmt: skip


# -- made pages ----------------------------------------------------------------------------------


@pytest.mark.slow
def test_made_pages_are_current(kept):
    stale = make_docs.out_of_date(make_docs.generated(kept))
    assert {name: gaps[:3] for name, gaps in stale.items()} == {}, "run: make docs"


def test_no_value_of_the_validation_page_is_outside_its_tolerance():
    page = text_of(DOCS / "validation.md")
    assert page.count("\n| ") > 100
    assert ": outside**" not in page


def test_a_value_outside_its_tolerance_is_marked():
    from doc_light_proof import Row

    assert "outside" in Row("a", 1.0, 1.006, "0.5 %", "b").text()
    assert "outside" in Row("a", 1.0, 1.02, "0.01", "b").text()
    assert "outside" not in Row("a", 1.0, 1.004, "0.5 %", "b").text()


def test_pictures_of_the_pages_exist():
    assert all((DOCS / "pictures" / name).exists() for name in make_docs.PICTURES)


@pytest.mark.parametrize(
    ("old", "new", "last_place"),
    [
        ("UVI 0.781 at 47.70 cm", "UVI 0.7811 at 47.69 cm", False),
        ("| 1,250 lm | 0.000256 W |", "| 1,251 lm | 0.000256 W |", False),
        ("off by 0.001 %", "off by 0.002 %", True),
    ],
)
def test_noise_in_the_last_digits_is_let_pass(old, new, last_place):
    assert differences(old, new, last_place=last_place) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("reflects 30 %", "reflects 31 %"),
        ("0.10 W", "0.11 W"),
        ("UV index", "UV-index"),
        ("a\nb", "a"),
        ("1 missed", "none missed"),
        ("zone 2", "zone 3"),
    ],
)
def test_a_real_change_is_seen(old, new):
    assert differences(old, new) != []
