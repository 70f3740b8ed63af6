"""How a wrong habitat file is written down: its text, with a mark where each message must point."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from loamwright.errors import InputError, Problem
from loamwright.files.reader import read_habitat

MARK = "▸"
"""Stands in a text right before the character that the message's line and column must name."""

METRIC = """\
name: Small
enclosure:
  inside: {width: 60 cm, depth: 45 cm, height: 90 cm}
ground: [{kind: mix, depth: 10 cm}]
animals: [{species: phelsuma-grandis, males: 1}]
"""
US = """\
name: Small
units: us
enclosure:
  inside: {width: 24 in, depth: 18 in, height: 36 in}
ground: [{kind: mix, depth: 4 in}]
animals: [{species: phelsuma-grandis, males: 1}]
"""


@dataclass(frozen=True)
class Case:
    """A wrong file (``text``), files beside it, and what must be told: (field, words), in order."""

    name: str
    text: str
    told: tuple[tuple[str, str], ...]
    beside: Mapping[str, str] = field(default_factory=dict)


def case(
    name: str, text: str, *told: tuple[str, str], beside: Mapping[str, str] | None = None
) -> Case:
    """A case; what is told is written as pairs of a field and a pattern of the message."""
    return Case(name, text, told, beside or {})


def swap(old: str, new: str, base: str = METRIC) -> str:
    """A base with one thing in it changed."""
    assert base.count(old) == 1, f"{old!r} must stand once in the base"
    return base.replace(old, new)


def marks(text: str) -> tuple[str, list[tuple[int, int]]]:
    """A text without its marks, and the line and column of each."""
    places: list[tuple[int, int]] = []
    while (at := text.find(MARK)) >= 0:
        lines = re.split("\r\n|\r|\n", text[:at])
        places.append((len(lines), len(lines[-1]) + 1))
        text = text[:at] + text[at + 1 :]
    return text, places


def write(case: Case, folder: Path) -> tuple[Path, list[tuple[str, int, int]]]:
    """Put a case on disk; returns the habitat file and the places that must be named."""
    wanted: list[tuple[str, int, int]] = []
    path = folder / "habitat.yaml"
    for name, content in {path.name: case.text, **case.beside}.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        text, places = marks(content)
        target.write_text(text, encoding="utf-8", newline="")
        wanted += [(str(target), line, column) for line, column in places]
    return path, sorted(wanted)


def told(path: Path) -> list[Problem]:
    """The problems of a file; none where it can be read."""
    try:
        read_habitat(path)
    except InputError as error:
        return list(error.problems)
    return []
