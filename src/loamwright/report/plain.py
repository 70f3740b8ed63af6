"""Text from outside made safe to show: names in a habitat file may hold anything."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

LONGEST = 200
"""Characters shown of one name or note; longer ones end in an ellipsis."""

_UNSEEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


_ON_PAPER: ContextVar[bool] = ContextVar("on paper", default=False)


@contextmanager
def on_paper() -> Iterator[None]:
    """Within it the shorter limits of narrow tables do not count: paper breaks lines instead."""
    before = _ON_PAPER.set(True)
    try:
        yield
    finally:
        _ON_PAPER.reset(before)


def clean(text: str, longest: int = LONGEST) -> str:
    """One line of visible characters.

    Control, formatting (bidirectional overrides, zero-width) and surrogate characters become
    spaces, so that a name cannot move the cursor, hide itself or turn a line round; runs of
    white space become one space; what is longer than ``longest`` [characters] is cut.
    """
    if _ON_PAPER.get():
        longest = max(longest, LONGEST)
    kept = "".join(" " if unicodedata.category(c) in _UNSEEN else c for c in str(text))
    line = " ".join(kept.split())
    return line if len(line) <= longest else line[: longest - 1] + "…"


def listing(parts: list[str], last: str = "and") -> str:
    """``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def capital(text: str) -> str:
    """The same text with its first letter large and the rest untouched."""
    return text[:1].upper() + text[1:]
