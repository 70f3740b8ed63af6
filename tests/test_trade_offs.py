"""Needs that ask for the opposite of each other are named together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loamwright.engine.findings import Finding, State
from loamwright.files.reader import read_habitat
from loamwright.habitat.sources import Source, SourceKind
from loamwright.report import advice, trade_offs
from loamwright.report.blocks import check_report

SOURCE = Source("invented for a test", SourceKind.BUILDER)
EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"


def found(need: str, side: str, when: str = "", state: State = State.CLOSE) -> Finding:
    limits = {"low": 1.0, "value": 0.9} if side == "low" else {"high": 1.0, "value": 1.1}
    return Finding(need, "climate", "habitat", "humidity", state, SOURCE, when=when, **limits)


@pytest.mark.parametrize(
    ("one", "two", "asked"),
    [
        (("humidity-night", "low"), ("wet-leaves", "high"), "less mist"),
        (("wet-leaves", "high"), ("humidity-night", "low"), "more mist"),
        (("air-changes", "low"), ("humidity-day", "low"), "less blowing"),
        (("basking-surface", "low"), ("hot-surface", "high"), "less warmth"),
        (("root-depth", "low"), ("load", "high"), "less ground"),
        (("plant-light", "low"), ("lamp-distance", "low"), "less plant light"),
        (("uv-maximum", "high"), ("uv-basking", "low"), "more ultraviolet"),
    ],
)
def test_the_opposite_is_named(one, two, asked):
    first, second = found(*one), found(*two)
    assert trade_offs.against(first, (first, second)) == ((second, asked),)


def test_what_goes_the_same_way_or_is_met_or_in_another_season_is_not():
    dry, drier = found("humidity-day", "low"), found("ground-moist", "low")
    assert trade_offs.against(dry, (dry, drier)) == ()
    met = found("wet-leaves", "high", state=State.MET)
    assert trade_offs.against(dry, (met,)) == ()
    cold, warm = (
        found("air-cool", "low", "winter midday"),
        found("air-cool", "high", "summer midday"),
    )
    assert trade_offs.against(cold, (warm,)) == ()
    assert trade_offs.against(cold, (replace(warm, when="winter night"),)) != ()


def test_every_need_that_turns_something_has_advice():
    told = set(trade_offs.LOW) | set(trade_offs.HIGH)
    assert told <= set(advice._RULES)


def test_it_is_said_among_the_findings():
    habitat = read_habitat(EXAMPLES / "rain-glass.yaml")
    report = check_report(habitat, [found("humidity-night", "low"), found("wet-leaves", "high")])
    minds = [w.mind for group in report.groups for w in group.findings]
    assert any("asks for less mist" in m for m in minds)
    assert any("asks for more mist" in m for m in minds)
