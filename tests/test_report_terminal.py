"""The terminal: 80 columns, no colour on request, state in words, hostile names harmless."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from rich.cells import cell_len

from loamwright.report.blocks import (
    catalogue_table,
    check_report,
    coverage,
    list_table,
    places_table,
    sites_table,
)
from loamwright.report.terminal import console, print_check, print_table, print_tables
from report_sample import finding, findings, habitat, site_lights

HABITAT = habitat()


def shown(width: int = 80, color: bool | None = None, **kinds: object) -> str:
    out = io.StringIO()
    report = check_report(
        kinds.get("habitat", HABITAT),
        kinds.get("findings", findings()),
        explain=True,  # type: ignore[arg-type]
    )
    print_check(report, console(out, width=width, color=color))
    return out.getvalue()


def test_no_colour_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("FORCE_COLOR", "1")
    text = shown()
    assert "\x1b[3" not in text
    assert "\x1b[9" not in text
    assert "MISSED: UV at the basking place" in text


def test_colour_where_wanted_never_carries_the_state_alone() -> None:
    text = shown(color=True)
    assert "\x1b[" in text
    for state in ("✗ MISSED", "≈ close", "? not known", "✓ met"):
        assert state in text


@pytest.mark.parametrize("width", [40, 60, 80])
def test_no_line_is_longer_than_the_terminal(width: int) -> None:
    out = io.StringIO()
    to = console(out, width=width)
    print_check(check_report(HABITAT, findings(), explain=True), to)
    print_tables([places_table(site_lights(HABITAT)), catalogue_table("gecko", ROWS)], to)
    if width == 80:
        print_table(sites_table(site_lights(HABITAT), "up"), to)
    lines = out.getvalue().splitlines()
    assert len(lines) > 30
    assert max(cell_len(line.rstrip()) for line in lines) <= width


def test_misses_counts_and_what_was_checked_come_last() -> None:
    lines = shown().rstrip().splitlines()
    counts = lines.index("1 missed, 1 close, 1 not known, 2 met")
    assert lines[counts - 1].startswith(("✗ missed: ", "x missed: "))
    assert " ".join(lines[counts + 1 :]) == coverage(habitat(), findings())


def test_what_is_covered_is_what_is_there() -> None:
    made = habitat()
    text = coverage(made, findings())
    assert "misting line" not in text
    assert "what lives in the ground" not in text
    alive = replace(finding(), engine="decomposers")
    assert "plants and what lives in the ground over a year" in coverage(made, [alive])
    bare = coverage(replace(made, plants=(), animals=()), [])
    assert "animals, their room" not in bare
    assert "over a year" not in bare
    assert "misting line" in coverage()


def test_a_finding_reads_as_a_builder_needs_it() -> None:
    text = " ".join(shown().split())
    for part in (
        "UVI 4.1 ± 0.6, wanted UVI 1.0 to 2.6, 58 % above the upper limit",
        "where 'basking' at [97 cm, 38 cm, 102 cm]",
        "why 96 % of it comes from 'uv' and 4 % from 'left spot'",
        "to try Moving 'uv' to [75 cm, 40 cm, 122 cm] gives UVI 1.6",
        "source from memory, seen in no document",
        "room.altitude 0 m sea level",
    ):
        assert part in text


def test_markup_and_escapes_in_names_are_shown_not_obeyed() -> None:
    bad = "[red]x[/red]\x1b[2J:smile:"
    text = shown(habitat=habitat(name=bad), findings=[finding(about=bad, site=bad, when=bad)])
    assert "\x1b" not in text
    assert "[red]x[/red]" in text
    assert ":smile:" in text


def test_a_terminal_without_unicode_gets_plain_letters() -> None:
    raw = io.BytesIO()
    out = io.TextIOWrapper(raw, encoding="ascii")
    to = console(out, width=80)
    print_check(check_report(habitat(name="Gewächs 緑"), findings()), to)
    print_table(sites_table(site_lights(HABITAT), "up"), to)
    out.flush()
    text = raw.getvalue().decode("ascii")
    assert "x MISSED: UV at the basking place" in text
    assert "4.1 +/- 0.6" in text


ROWS = [
    ("Ferguson zone", "3", "A. Author 2001", "published"),
    ("humidity by day", "60 % to 80 %", "common practice, no source", "common practice"),
    ("night", "20 °C", "", "from memory"),
]


def test_catalogue_entries_show_each_source_and_warn_of_weak_ones() -> None:
    table = catalogue_table("phelsuma", ROWS)
    assert [r[2] for r in table.rows] == [
        "A. Author 2001 (published)", "common practice, no source", "from memory"
    ]  # fmt: skip
    assert "no document" in table.note
    assert catalogue_table("x", ROWS[:1]).note == ""
    assert list_table("animals", ROWS).columns == ("name", "what it is", "source")
