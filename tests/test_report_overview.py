"""The page: self-contained, complete, and harmless whatever the habitat file says."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

from loamwright.report.overview import CAUTIONS, Picture, facts, overview_html, write_overview
from report_sample import finding, findings, habitat, site_lights

HABITAT = habitat()
DOT = Picture(b"<svg xmlns='http://www.w3.org/2000/svg'/>", "svg", "UV index at y = 40 cm")


class Reader(HTMLParser):
    """Collects tags, attributes and text, and checks that what opens is closed."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "img", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.text += data


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    assert reader.open == []
    return reader


def page(**changes: object) -> str:
    return overview_html(
        changes.get("habitat", HABITAT), changes.get("findings", findings()),  # type: ignore[arg-type]
        site_lights(HABITAT), [DOT], system=str(changes.get("system", "metric")), made="edge.yaml",
    )  # fmt: skip


def test_everything_is_on_the_page() -> None:
    text = " ".join(read(page()).text.split())
    for part in (
        "Estuary Room, forest edge", "150 × 75 × 140 cm", "giant day gecko (Phelsuma grandis)",
        "1 male and 2 females", "UV at the basking place", "wanted UVI 1.0 to 2.6", "58 % above",
        "96 % of it comes from 'uv'", "Moving 'uv' to [75 cm, 40 cm, 122 cm]",
        "from memory, seen in no document", "common practice, no source", "fig crown",
        "UV index at y = 40 cm", "room.altitude", "sea level unless", "edge.yaml",
    ):  # fmt: skip
        assert part in text
    for head, caution in CAUTIONS:
        assert head in text
        assert caution in text
    assert text.index("missed: UV at the basking place") < text.index("met: daily plant light")


def test_what_is_missed_and_the_first_pictures_come_before_the_findings() -> None:
    lead = Picture(b"<svg xmlns='http://www.w3.org/2000/svg'/>", "svg", "the day", lead=True)
    text = " ".join(read(overview_html(HABITAT, findings(), (), [DOT, lead])).text.split())
    short = "✗ missed for giant day gecko: UV at the basking place"
    parts = (short, "the day", "Findings, worst first", "More pictures", "UV index at y = 40 cm")
    order = [text.index(part) for part in parts]
    assert order == sorted(order)
    alone = " ".join(read(page()).text.split())
    assert "More pictures" not in alone
    assert "swipe for more" in alone


def test_from_what_when_and_by_which_version_stands_under_the_title() -> None:
    text = " ".join(read(page()).text.split())
    assert text.index("Estuary Room, forest edge") < text.index("edge.yaml") < text.index("inside")
    assert "Computed edge.yaml." in text
    bare = " ".join(read(overview_html(HABITAT, findings())).text.split())
    assert "Computed from one habitat file with loamwright." in bare


def test_what_is_met_takes_two_lines_with_its_source() -> None:
    text = " ".join(read(page()).text.split())
    assert (
        "✓ met: daily plant light (DLI): 6.4 ± 0.8 mol/m²/d, wanted at least 4 mol/m²/d "
        "(60 % inside the limit) 'fig crown' at [110 cm, 50 cm, 82 cm], facing up, over the day; "
        "common practice, no source"
    ) in text


def test_who_decides_is_said_plainly() -> None:
    assert "Local codes, licensed trades and a veterinarian decide" in page()


def test_nothing_is_fetched_from_outside_and_nothing_runs() -> None:
    reader = read(page())
    assert not {t for t, _ in reader.tags} & {"script", "link", "iframe", "object", "form", "a"}
    for tag, attributes in reader.tags:
        assert not [a for a in attributes if a.startswith("on")]
        if tag == "img":
            assert str(attributes["src"]).startswith("data:image/svg+xml;base64,")
            assert attributes["alt"]
    assert not re.search(r"url\(|@import|https?://", page())
    assert "default-src 'none'" in page()


def test_hostile_names_are_escaped_everywhere() -> None:
    bad = "<script>alert(1)</script>\"'><img src=x onerror=a>{{ 7*7 }}\x1b\u202e"
    hostile = habitat(name=bad)
    text = page(
        habitat=hostile, findings=[finding(about=bad, site=bad, when=bad, need=bad, causes=())]
    )
    reader = read(text)
    assert {t for t, _ in reader.tags}.isdisjoint({"script"})
    assert sum(t == "img" for t, _ in reader.tags) == 1
    assert "{{ 7*7 }}" in text
    assert "\x1b" not in text
    assert "\u202e" not in text


def test_the_same_input_gives_the_same_page_in_the_system_asked_for() -> None:
    assert page() == page()
    us = " ".join(read(page(system="us")).text.split())
    assert "59 1/16 × 29 1/2 × 55 1/8 in" in us
    assert "fc" in us
    assert " cm" not in us.replace("UV index at y = 40 cm", "")


def test_a_habitat_with_nothing_in_it_still_gives_a_page() -> None:
    bare = habitat(animals=(), plants=(), lamps=(), sites=(), defaults=(), hardscape=())
    text = read(overview_html(bare, [])).text
    assert "No needs to check" in text
    assert "leaves nothing out" in text
    assert dict(facts(bare))["inside"].startswith("150")


def test_written_whole(tmp_path: Path) -> None:
    path = write_overview(tmp_path / "out" / "overview.html", HABITAT, findings())
    assert path.read_text("utf-8").startswith("<!doctype html>")
    assert [p.name for p in path.parent.iterdir()] == ["overview.html"]
