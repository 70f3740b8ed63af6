"""Heads counted and eggs searched for, held against what must agree and what risk is borne."""

from __future__ import annotations

from loamwright.engine.findings import Cause, Finding, State, judge
from loamwright.engine.life.moving import RISK, Down, Moving
from loamwright.habitat.sources import PRACTICE, Source, SourceKind

ENGINE = "animals"

NAMED = Source("the animals named in it, in the habitat file", SourceKind.BUILDER)


def _heads(down: Down) -> Finding:
    """Animals counted against those named."""
    value = None if down.counted is None else float(down.counted)
    wanted = float(down.named)
    state, margin = judge(value, wanted, wanted, 0.0)
    causes: tuple[Cause, ...] = ()
    if value is None:
        causes = (Cause("not_counted", down.old.name),)
    elif value < wanted:
        causes = (Cause("heads_short", down.old.name, wanted - value),)
    elif value > wanted:
        causes = (Cause("heads_over", down.old.name, value - wanted),)
    return Finding(need="headcount", engine=ENGINE, about="habitat", quantity="count", state=state,
                   source=NAMED, value=value, low=wanted, high=wanted,
                   uncertainty=None if value is None else 0.0, margin=margin, site=down.old.name,
                   causes=causes)  # fmt: skip


def _eggs(down: Down) -> Finding | None:
    """Chance that an egg was missed."""
    search = down.search
    if search is None:
        return None
    causes = [Cause("eggs_found", str(search.searches), float(search.found))]
    if search.expected is None:
        causes.append(Cause("no_laying_record", down.old.name))
    else:
        causes.append(Cause("eggs_expected", "", search.expected))
    if search.detection is None:
        causes.append(Cause("no_detection", down.old.name))
    else:
        kind = "finds" if search.told else "file"
        causes.append(Cause("detection", kind, search.detection))
    if search.needed is not None and search.needed > search.searches:
        causes.append(Cause("more_searches", "", float(search.needed - search.searches)))
    state, margin = judge(search.missed, None, RISK, 0.0)
    if search.missed is None:
        state = State.NOT_KNOWN
    return Finding(need="eggs-missed", engine=ENGINE, about="habitat", quantity="chance",
                   state=state, source=PRACTICE, value=search.missed, high=RISK,
                   uncertainty=None if search.missed is None else 0.0, margin=margin,
                   site=down.old.name, causes=tuple(causes))  # fmt: skip


def moving_findings(moving: Moving | None) -> list[Finding]:
    """All findings of taking old habitats down."""
    out: list[Finding] = []
    for down in moving.downs if moving else ():
        if down.named or down.counted is not None:
            out.append(_heads(down))
        eggs = _eggs(down)
        if eggs is not None:
            out.append(eggs)
    return out
