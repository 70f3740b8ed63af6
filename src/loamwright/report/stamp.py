"""What stands at the top of a pack and of a quote while the plan misses a need."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.engine.findings import Finding, State
from loamwright.report.plain import clean, listing
from loamwright.report.words import title_words

NAMED = 3
"""Needs that are named; the findings tell them all."""


def stamp_words(findings: Sequence[Finding]) -> str:
    """That it is not ready to build, and why: ``Not ready to build: 1 need is missed (...)``; empty
    where nothing is missed."""
    missed = [f for f in findings if f.state is State.MISSED]
    if not missed:
        return ""
    names = list(dict.fromkeys(_name(f) for f in missed))
    more = len(names) - NAMED
    told = listing([*names[:NAMED], f"{more} more"] if more > 0 else names)
    count = "1 need is" if len(missed) == 1 else f"{len(missed)} needs are"
    return f"Not ready to build: {count} missed ({told}). Mend the plan first."


def _name(finding: Finding) -> str:
    """A need and where it is missed, once where its title says so."""
    title = title_words(finding)
    where = clean(finding.site, 40)
    return f"{title}, {where}" if where and where not in title else title
