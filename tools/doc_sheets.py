"""The reference sheets as tables: each published value beside the one computed now."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

import test_sheets  # noqa: E402

TITLES = {
    "ground_flow": "Water in the ground: the engine on published problems",
    "soil_water": "Water in the ground: laws and closed forms",
    "allometry": "Residents: food, dung and nitrogen by mass",
    "daylength": "Length of the day",
    "room": "The room round the enclosure through a year",
    "growth": "Plants that grow; eggs, and the search for them",
    "kinship": "Kinship and founders",
    "plates": "Plates and beams: coefficients of handbook tables",
    "circuits": "Circuits: conductors, voltage drop, continuous load",
    "nozzles": "Nozzles and thin lines",
    "cutting": "Sheets cut from edge to edge",
    "space_standards": "Room for animals: worked examples of published standards",
    "populations": "Decomposers, litter and nitrogen",
    "plan": "The plan: critical paths, check characters, currencies",
    "spectra": "Spectra: weightings, the sun, black bodies, lamps",
    "view_factors": "View factors and the line source",
}


NARROW = "\N{NO-BREAK SPACE}"


def number(value: float, digits: int = 6) -> str:
    """A number with a few digits, as people write it."""
    if value == 0 or 1e-4 <= abs(value) < 10.0**digits:
        return f"{value:.{digits}g}"
    return f"{value:.{digits - 1}e}".replace("e-0", "e-").replace("e+0", "e")


def share(value: float) -> str:
    """A relative difference in percent, without digits that are only rounding."""
    percent = abs(value) * 100.0
    return f"{percent:.3f}{NARROW}%" if percent < 0.1 else f"{percent:.2f}{NARROW}%"


def plain(value: Any) -> str:
    """An argument in short."""
    if isinstance(value, list):
        shown = [plain(v) for v in value[:6]]
        return ", ".join(shown) + (", …" if len(value) > 6 else "")
    return f"{value:g}" if isinstance(value, (int, float)) else str(value).replace("-", " ")


def what(case: dict[str, Any]) -> str:
    """The thing computed, in the words of its function's name."""
    name = case["function"].rsplit(".", 1)[1].replace("_", " ")
    arguments = "; ".join(plain(a) for a in case.get("arguments", []))
    return f"{name} ({arguments})" if arguments else name


def allowed(case: dict[str, Any]) -> str:
    """The tolerance in words."""
    if case.get("rel", 1.0) < 1e-8:
        return "rounding"
    if "rel" in case:
        return f"{case['rel'] * 100:.3g}{NARROW}%"
    return f"{case['abs']:.3g}" if case["abs"] else "none"


def row(case: dict[str, Any]) -> str:
    """One case: of several values the one that is furthest off."""
    got = np.atleast_1d(np.asarray(test_sheets.call(case), dtype=float))
    right = np.atleast_1d(np.asarray(case["expected"], dtype=float))
    gap = np.abs(got - right)
    scale = np.abs(right) if "rel" in case else np.ones_like(right)
    worst = int(np.argmax(gap / np.where(scale > 0, scale, 1.0)))
    expected, value = float(right[worst]), float(got[worst])
    off = share(value / expected - 1.0) if expected else number(value - expected, 2)
    inside = gap <= np.maximum(case.get("rel", 0.0) * np.abs(right), case.get("abs", 0.0)) + 1e-12
    off = off if inside.all() else f"**{off}: outside**"
    more = f" (worst of {len(right)})" if len(right) > 1 else ""
    return (
        f"| **{case['id']}** {what(case)} | {number(expected)}{more} | {number(value)} | {off} "
        f"| {allowed(case)} | {case['source']}. *{case['reason'].rstrip('.')}.* |"
    )


def sheet_tables() -> list[str]:
    """Every sheet as a heading and a table."""
    out: list[str] = []
    for path in test_sheets.SHEETS:
        cases = test_sheets.read(path)
        title = TITLES.get(path.stem, path.stem.replace("_", " "))
        out += [f"## {title}", "", f"{len(cases)} cases.", ""]
        out.append("| what | expected | computed | off by | allowed | source; *why this much* |")
        out.append("| --- | --- | --- | --- | --- | --- |")
        out += [row(case) for case in cases]
        out.append("")
    return out
