"""Two texts that say the same up to noise in the last digits of their numbers."""

from __future__ import annotations

import re

_NUMBER = re.compile(r"(?<![\w.])[-+]?\d[\d,]*(?:\.\d+)?(?:e[-+]?\d+)?(?![\w])")

RELATIVE = 2e-3
"""Difference that is noise [share]: floats summed in another order on another machine."""


def _split(line: str) -> tuple[str, list[str]]:
    return _NUMBER.sub("0", line), _NUMBER.findall(line)


def _near(old: str, new: str, last_place: bool) -> bool:
    a, b = float(old.replace(",", "")), float(new.replace(",", ""))
    allowed = RELATIVE * max(abs(a), abs(b))
    if last_place and "." in old and "." in new and "e" not in (old + new).lower():
        # A value printed with few digits may round either way.
        places = min(len(t.rsplit(".", 1)[1]) for t in (old, new))
        allowed = max(allowed, 1.01 * 10.0**-places)
    return abs(a - b) <= allowed


def differences(old: str, new: str, *, last_place: bool = False) -> list[str]:
    """Lines of ``new`` that are not those of ``old``, in words; none where both say the same.

    Numbers may differ by `RELATIVE`; with ``last_place`` also by one in the last printed place.
    """
    before, after = old.splitlines(), new.splitlines()
    out = []
    for number, (a, b) in enumerate(zip(before, after, strict=False), 1):
        (text_a, numbers_a), (text_b, numbers_b) = _split(a), _split(b)
        same = text_a == text_b and len(numbers_a) == len(numbers_b)
        if not same or not all(
            _near(x, y, last_place) for x, y in zip(numbers_a, numbers_b, strict=True)
        ):
            out.append(f"line {number}: '{a}' would be '{b}'")
    if len(before) != len(after):
        out.append(f"{len(before)} lines would be {len(after)}")
    return out
