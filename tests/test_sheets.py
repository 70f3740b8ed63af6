"""Published and computed reference values: every sheet of tests/sheets is one parametrised test.

A case names where its number comes from and why its tolerance is what it is; without either it
is refused. ``function`` is a dotted name; ``arguments`` are its positional arguments; a list in
``expected`` is compared value by value.
"""

from __future__ import annotations

import importlib
import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

SHEETS = sorted((Path(__file__).parent / "sheets").glob("*.toml"))
NEEDED = ("id", "source", "function", "expected", "reason")
KNOWN = {*NEEDED, "arguments", "rel", "abs", "quantity"}


def complaints(case: dict[str, Any]) -> list[str]:
    """What is missing or strange in one case."""
    out = [f"no {name}" for name in NEEDED if case.get(name) in (None, "")]
    out += [f"unknown key {name}" for name in case if name not in KNOWN]
    tolerances = [case[name] for name in ("rel", "abs") if name in case]
    if not tolerances:
        out.append("no tolerance: give rel or abs")
    if any(not 0.0 <= t < 1.0 and "rel" in case for t in tolerances):
        out.append("a relative tolerance of one or more proves nothing")
    return out


def read(path: Path) -> list[dict[str, Any]]:
    """Cases of one sheet; a sheet's own defaults serve cases that lack the key."""
    sheet = tomllib.loads(path.read_text(encoding="utf-8"))
    default = sheet.get("default", {})
    return [{**default, **case} for case in sheet["case"]]


CASES = [(path.stem, case) for path in SHEETS for case in read(path)]


def call(case: dict[str, Any]) -> Any:
    module, name = case["function"].rsplit(".", 1)
    return getattr(importlib.import_module(module), name)(*case.get("arguments", []))


@pytest.mark.parametrize(
    ("sheet", "case"), [pytest.param(s, c, id=f"{s}:{c.get('id', '?')}") for s, c in CASES]
)
def test_case(sheet: str, case: dict[str, Any]) -> None:
    assert complaints(case) == [], f"{sheet}: {case.get('id')}"
    got = np.atleast_1d(np.asarray(call(case), dtype=float))
    expected = np.atleast_1d(np.asarray(case["expected"], dtype=float))
    assert got.shape == expected.shape
    for value, right in zip(got, expected, strict=True):
        assert math.isclose(
            value, right, rel_tol=case.get("rel", 0.0), abs_tol=case.get("abs", 0.0)
        ), f"{value} is not {right} ({case['source']})"


def test_ids_are_unique() -> None:
    names = [(sheet, case["id"]) for sheet, case in CASES]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("gone", ["source", "reason", "expected", "function", "rel"])
def test_an_incomplete_case_is_refused(gone: str) -> None:
    case = {
        "id": "x", "source": "s", "function": "math.sqrt", "arguments": [4.0], "expected": 2.0,
        "rel": 1e-9, "reason": "r",
    }  # fmt: skip
    assert complaints(case) == []
    del case[gone]
    assert complaints(case) != []


def test_a_wrong_value_is_seen() -> None:
    case = {
        "id": "x", "source": "s", "function": "math.sqrt", "arguments": [4.0], "expected": 2.1,
        "rel": 1e-3, "reason": "r",
    }  # fmt: skip
    with pytest.raises(AssertionError, match=r"2\.0 is not 2\.1"):
        test_case("none", case)
