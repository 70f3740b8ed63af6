"""What the engines say, as the page shows it: findings, what a change did, values at the sites."""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from loamwright.engine.findings import ORDER, Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.report import advice, quantities
from loamwright.report.blocks import check_report
from loamwright.report.plain import capital, clean
from loamwright.report.terminal import SYMBOLS
from loamwright.report.words import STATES, Worded, about_words, cure_words, word
from loamwright.web import tree

SITE_COLUMNS = (
    ("uvi", "brightest", "UVI", "meter turned to the brightest"),
    ("ppfd", "up", "PPFD", "plant light, facing up"),
    ("dli", "up", "DLI", "plant light of a day, facing up"),
    ("lux", "up", "light", "illuminance, facing up"),
    ("radiant", "brightest", "radiant", "radiant power, meter turned to the brightest"),
)
"""Columns of the sites' table: quantity, facing, head and what it is."""

WORK = {"light": "light", "climate": "climate", "ground": "ground", "build": "plan"}
"""What work an engine's findings come of; those not named come of the life's."""

LEAST_CHANGE = 0.01
"""A value that moves by less than this share is not called changed."""


def key_of(finding: Finding) -> str:
    """What makes two findings the same one, before and after a change."""
    return "|".join((finding.need, finding.about, finding.quantity, finding.site, finding.when,
                     finding.facing))  # fmt: skip


def earlier(findings: Sequence[Finding], before: Sequence[Finding]) -> dict[str, Finding]:
    """What each finding was before a change, by its key. One that is told of another place or time
    than before is the same still, where it is the only one of its need."""
    old = {key_of(f): f for f in before}
    out = {key_of(f): old.pop(key_of(f)) for f in findings if key_of(f) in old}

    def alone(some: Iterable[Finding]) -> dict[tuple[str, str, str], Finding]:
        kinds: dict[tuple[str, str, str], list[Finding]] = {}
        for f in some:
            kinds.setdefault((f.need, f.about, f.quantity), []).append(f)
        return {kind: fs[0] for kind, fs in kinds.items() if len(fs) == 1}

    left, news = alone(old.values()), alone(f for f in findings if key_of(f) not in out)
    return out | {key_of(f): left[kind] for kind, f in news.items() if kind in left}


def report(
    habitat: Habitat, findings: Sequence[Finding], before: Sequence[Finding] | None, system: str
) -> dict[str, Any]:
    """All findings for the page, with what the last change did."""
    made = check_report(habitat, findings, system)
    old = earlier(findings, before or ())
    sites = {s.name: n for n, s in enumerate(habitat.sites)}
    groups = []
    for group in made.groups:
        items = [_item(w, habitat, sites, old, system) for w in group.findings]
        groups.append({"about": group.about, "heading": group.heading, "items": items})
    counts = [
        {"state": s.value, "sign": SYMBOLS[s], "word": STATES[s], "count": made.counts[s]}
        for s in (State.MISSED, State.CLOSE, State.NOT_KNOWN, State.MET)
    ]
    return {
        "groups": groups, "counts": counts, "caution": made.caution, "coverage": made.coverage,
        "changed": changes(habitat, findings, before or (), old, system),
        "none": "" if findings else "Nothing is computed yet.",
    }  # fmt: skip


def _item(
    w: Worded, habitat: Habitat, sites: Mapping[str, int], old: Mapping[str, Finding], system: str
) -> dict[str, Any]:
    f = w.finding
    todo = advice.steps(f, habitat) if f.cure is None else ()
    rows = [("wanted", w.wanted.removeprefix("wanted ")), ("margin", w.margin), ("where", w.where),
            ("when", w.when), ("why", w.why), ("to try", "" if todo else w.advice),
            ("mind", w.mind), ("source", w.source)]  # fmt: skip
    past = old.get(key_of(f))
    was = ""
    if past is not None and _moved(past, f):
        told, _ = quantities.worded_with(f.quantity, past.value, (), system)
        was = f"was {told}" + (f", {STATES[past.state]}" if past.state is not f.state else "")
    lamp = next((n for n, x in enumerate(habitat.lamps) if x.name == f.about), None)
    pick = (
        f"sites/{sites[f.site]}" if f.site in sites else f"lamps/{lamp}" if lamp is not None else ""
    )
    item = {
        "key": key_of(f), "work": WORK.get(f.engine, "life"), "need": f.need,
        "state": f.state.value, "sign": SYMBOLS[f.state],
        "word": w.state, "title": w.title, "value": w.value if w.value != w.state else "",
        "wanted": w.wanted if f.state in (State.MISSED, State.CLOSE) else "",
        "site": clean(f.site), "rows": [r for r in rows if r[1]], "was": was, "pick": pick,
        "cure": _cure(f, system), "steps": [_step(s) for s in todo],
    }  # fmt: skip
    # What the page looks at to see whether it must be drawn anew.
    return item | {"print": f"{zlib.crc32(repr(item).encode()):08x}"}


def _step(step: advice.Step) -> dict[str, str]:
    """Something to try, with the entry it is done in: one to open, or a kind to add one of."""
    section = ".".join(str(p) for p in step.loc)
    add = section if section in tree.ADDABLE else ""
    return {"text": capital(step.text), "label": step.label, "add": add,
            "what": tree.ADDABLE.get(add, ""), "pick": "" if add else tree.ident(step.loc)}  # fmt: skip


def _cure(finding: Finding, system: str) -> str:
    if finding.cure is None:
        return ""
    told = cure_words(finding.cure, finding.quantity, system).split(" gives ")[0]
    first, _, rest = told.partition(" ")
    verb = {"Moving": "Move", "Dimming": "Dim"}.get(first, first)
    return f"{verb} {rest}"


def _moved(past: Finding, now: Finding) -> bool:
    if past.state is not now.state:
        return True
    if past.value is None or now.value is None:
        return past.value is not now.value
    size = 10.0 if "temperature" in now.quantity else max(abs(past.value), abs(now.value))
    return abs(now.value - past.value) > LEAST_CHANGE * size


SIGNS = {"better": "▲", "worse": "▼", "changed": "◆"}
"""Signs of changes, beside their words."""


def changes(
    habitat: Habitat, findings: Sequence[Finding], before: Sequence[Finding],
    old: Mapping[str, Finding], system: str,
) -> list[dict[str, str]]:  # fmt: skip
    """What got better or worse, states first, then values; ``old`` as `earlier` gives it."""
    if not before:
        return []
    engines = {f.engine for f in findings}
    out = []
    for now in findings:
        past = old.get(key_of(now))
        if past is None or not _moved(past, now):
            continue
        better = _better(past, now)
        told = word(now, habitat, system)
        was, is_ = (quantities.worded_with(f.quantity, f.value, (), system)[0] for f in (past, now))
        if past.state is not now.state:
            was, is_ = f"{STATES[past.state]} ({was})", f"{STATES[now.state]} ({is_})"
        elif was == is_:
            continue
        kind = "changed" if better is None else "better" if better else "worse"
        where = f", {clean(now.site)}" if now.site else ""
        about = about_words(now.about, habitat)
        weight = (abs(ORDER[past.state] - ORDER[now.state]), now.state is not State.MET)
        out.append((weight, {
            "kind": kind, "word": f"{SIGNS[kind]} {kind}:",
            "title": f"{told.title}{where} ({about})", "was": was, "now": is_,
        }))  # fmt: skip
    # A need may be told of another place than before: then it is still asked.
    asked = {(f.need, f.about) for f in findings}
    gone = [f for f in before if f.engine in engines and (f.need, f.about) not in asked]
    rows = [row for _, row in sorted(out, key=lambda r: r[0], reverse=True)]
    rows += [
        {"kind": "gone", "word": "no longer asked:", "title": word(f, habitat, system).title,
         "was": STATES[f.state], "now": "–"}
        for f in gone
    ]  # fmt: skip
    return rows[:12]


def _better(past: Finding, now: Finding) -> bool | None:
    """Whether it got better; None where nothing is wanted that would tell."""
    if past.state is not now.state:
        return ORDER[now.state] > ORDER[past.state]
    if past.margin is not None and now.margin is not None:
        return now.margin >= past.margin
    return None


def sites_table(
    habitat: Habitat, values: Mapping[str, Any] | None, before: Mapping[str, Any] | None,
    system: str, when: str,
) -> dict[str, Any]:  # fmt: skip
    """Values at the sites for the page."""
    columns = [["site", "", ""]]
    for quantity, _, head, about in SITE_COLUMNS:
        columns.append([head, quantities.unit(quantity, system), about])
    rows = []
    for n, site in enumerate(habitat.sites):
        cells = []
        for quantity, facing, _, _ in SITE_COLUMNS:
            now = _value(values, facing, quantity, n)
            past = _value(before, facing, quantity, n)
            cells.append(_cell(quantity, now, past, system))
        rows.append({"id": f"sites/{n}", "name": clean(site.name, 40), "values": cells})
    return {"columns": columns, "rows": rows, "caption": f"Light at the sites, {when}"}


def _value(values: Mapping[str, Any] | None, facing: str, quantity: str, n: int) -> float | None:
    if values is None:
        return None
    found = values[facing][quantity]
    return found[n] if n < len(found) else None


def _cell(quantity: str, now: float | None, past: float | None, system: str) -> dict[str, str]:
    if now is None:
        return {"now": "…", "change": "", "kind": ""}
    told = quantities.number(quantity, quantities.shown(quantity, now, system))
    change = kind = ""
    if past is not None and abs(now - past) > LEAST_CHANGE * max(abs(now), abs(past), 1e-9):
        was = quantities.number(quantity, quantities.shown(quantity, past, system))
        if was != told:
            kind = "up" if now > past else "down"
            change = f"{'▲' if now > past else '▼'} was {was}"
    return {"now": told, "change": change, "kind": kind}


def labels(
    habitat: Habitat, values: Mapping[str, Any] | None, quantity: str, system: str
) -> dict[str, str]:
    """A value for each site's label in the scene."""
    facing = next((f for q, f, _, _ in SITE_COLUMNS if q == quantity), "brightest")
    if values is None:
        return {}
    return {
        f"sites/{n}": quantities.worded(quantity, _value(values, facing, quantity, n), system)
        for n in range(len(habitat.sites))
    }
