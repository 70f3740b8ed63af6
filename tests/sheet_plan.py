"""What the sheet of the plan asks for: networks from textbooks, codes and currencies."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.plan.critical_path import critical_path
from loamwright.plan.currency import digits
from loamwright.plan.identifiers import ALPHABET, check_character


def on_nodes(tasks: Sequence[tuple[str, int, str]]) -> list[int]:
    """Earliest and latest start of tasks given as (name, duration, letters of those before it)."""
    times = critical_path({n: list(b) for n, _, b in tasks}, {n: d for n, d, _ in tasks})
    return [x for name, _, _ in tasks for x in (times[name].early_start, times[name].late_start)]


def on_arrows(arrows: Sequence[tuple[int, int, int]]) -> list[int]:
    """Earliest start and end, latest start and end and slack of activities given as (from event, to
    event, duration), in their order."""
    before = {
        f"{a}-{b}": [f"{c}-{d}" for c, d, _ in arrows if d == a] for a, b, _ in arrows
    }  # fmt: skip
    times = critical_path(before, {f"{a}-{b}": n for a, b, n in arrows})
    return [
        x
        for a, b, _ in arrows
        for t in [times[f"{a}-{b}"]]
        for x in (t.early_start, t.early_end, t.late_start, t.late_end, t.total)
    ]


def check_number(text: str) -> int:
    """Place of the check character in its alphabet."""
    return ALPHABET.index(check_character(text))


def all_digits(codes: Sequence[str]) -> list[int]:
    """Decimal digits of currencies."""
    return [digits(code) for code in codes]
