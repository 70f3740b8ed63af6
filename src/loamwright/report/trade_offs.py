"""Which needs ask for the opposite of each other: what helps one costs the other.

Nothing is computed: each need that is missed or close asks to turn something (mist, fan, warmth, light,
depth of ground) up or down, and two that turn the same thing differently are named together.
"""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.engine.findings import Finding, State
from loamwright.report.advice import kind_of, side_of

MOST = 3
"""So many are named at most."""

WORDS = {
    "mist": ("less mist", "more mist"),
    "fan": ("less blowing", "more blowing"),
    "warmth": ("less warmth", "more warmth"),
    "plant light": ("less plant light", "more plant light"),
    "ultraviolet": ("less ultraviolet", "more ultraviolet"),
    "depth of ground": ("less ground", "deeper ground"),
}
"""What turning a thing down, and up, is called."""

SEASONS = ("winter", "summer")

Turns = dict[str, int]
"""What is to be turned, and whether up (1) or down (-1)."""

_TOO_LOW: tuple[tuple[str, Turns], ...] = (
    ("air-warm air-cool night-air plant-cold plant-heat hide-warm hide-cool cool-shelter",
     {"warmth": 1, "fan": -1}),
    ("basking-surface body-warm", {"warmth": 1}),
    ("humidity-day humidity-night plant-humidity", {"mist": 1, "fan": -1}),
    ("ground-moist laying-moist holiday", {"mist": 1}),
    ("ground-air tank", {"mist": -1}),
    ("uv-basking", {"ultraviolet": 1}),
    ("people-uv", {"ultraviolet": -1}),
    ("plant-light plant-light-grown", {"plant light": 1}),
    ("lamp-distance", {"warmth": -1, "ultraviolet": -1, "plant light": -1}),
    ("root-depth laying-depth", {"depth of ground": 1}),
    ("air-changes", {"fan": 1}),
)  # fmt: skip
_TOO_HIGH: tuple[tuple[str, Turns], ...] = (
    ("hot-surface", {"warmth": -1}),
    ("uv-retreat uv-maximum", {"ultraviolet": -1}),
    ("wet-pane wet-leaves", {"mist": -1, "fan": 1}),
    ("ground-top ground-drowned standing-water stuck-mist", {"mist": -1}),
    ("load buried", {"depth of ground": -1}),
)
LOW = {need: turns for needs, turns in _TOO_LOW for need in needs.split()}
"""What a value that is too low asks for, by its need; too high asks for the opposite."""

HIGH = {need: turns for needs, turns in _TOO_HIGH for need in needs.split()}
"""What a value that is too high asks for, where too low asks for nothing."""


def turns_of(finding: Finding) -> Turns:
    """What a missed or close need asks to be turned up or down; empty where nothing is known."""
    if finding.state not in (State.MISSED, State.CLOSE):
        return {}
    side, need = side_of(finding), kind_of(finding)
    if side == "high" and need in HIGH:
        return HIGH[need]
    found = LOW.get(need, {})
    return found if side == "low" else {k: -v for k, v in found.items()} if side else {}


def against(finding: Finding, others: Sequence[Finding]) -> tuple[tuple[Finding, str], ...]:
    """Other needs, one of a kind, that ask for the opposite, each with what it asks for in words; at
    most `MOST`."""
    mine = turns_of(finding)
    if not mine:
        return ()
    out: dict[tuple[str, str], tuple[Finding, str]] = {}
    for other in others:
        if _other_season(finding, other):
            continue
        theirs = turns_of(other)
        turned = next((k for k, way in mine.items() if theirs.get(k) == -way), "")
        if turned:
            asked = WORDS[turned][theirs[turned] > 0]
            out.setdefault((other.need, other.about), (other, asked))
    return tuple(out.values())[:MOST]


def _other_season(one: Finding, two: Finding) -> bool:
    """Whether the two are told of different seasons, and so can be held apart."""
    named = [{s for s in SEASONS if s in f.when} for f in (one, two)]
    return all(named) and not named[0] & named[1]
