"""What the engines say, as the page shows it: findings, what a change did, values at the sites."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from loamwright.engine.findings import ORDER, Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import COVERAGE, check_report
from loamwright.report.plain import clean
from loamwright.report.terminal import SYMBOLS
from loamwright.report.words import STATES, Worded, about_words, cure_words, word

SITE_COLUMNS = (
    ("uvi", "brightest", "UVI", "meter turned to the brightest"),
    ("ppfd", "up", "PPFD", "plant light, facing up"),
    ("dli", "up", "DLI", "plant light of a day, facing up"),
    ("lux", "up", "light", "illuminance, facing up"),
    ("radiant", "brightest", "radiant", "radiant power, meter turned to the brightest"),
)
"""Columns of the sites' table: quantity, facing, head and what it is."""

LEAST_CHANGE = 0.01
"""A value that moves by less than this share is not called changed."""


def key_of(finding: Finding) -> str:
    """What makes two findings the same one, before and after a change."""
    return "|".join((finding.need, finding.about, finding.quantity, finding.site, finding.when,
                     finding.facing))  # fmt: skip


def report(
    habitat: Habitat, findings: Sequence[Finding], before: Sequence[Finding] | None, system: str
) -> dict[str, Any]:
    """All findings for the page, with what the last change did."""
    made = check_report(habitat, findings, system)
    old = {key_of(f): f for f in before or ()}
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
        "groups": groups, "counts": counts, "caution": made.caution, "coverage": COVERAGE,
        "changed": changes(habitat, findings, before, system),
        "none": "" if findings else "Nothing is computed yet.",
    }  # fmt: skip


def _item(
    w: Worded, habitat: Habitat, sites: Mapping[str, int], old: Mapping[str, Finding], system: str
) -> dict[str, Any]:
    f = w.finding
    rows = [("wanted", w.wanted.removeprefix("wanted ")), ("margin", w.margin), ("where", w.where),
            ("when", w.when), ("why", w.why), ("to try", w.advice), ("source", w.source)]  # fmt: skip
    past = old.get(key_of(f))
    was = ""
    if past is not None and _moved(past, f):
        told, _ = quantities.worded_with(f.quantity, past.value, (), system)
        was = f"was {told}" + (f", {STATES[past.state]}" if past.state is not f.state else "")
    lamp = next((n for n, x in enumerate(habitat.lamps) if x.name == f.about), None)
    pick = (
        f"sites/{sites[f.site]}" if f.site in sites else f"lamps/{lamp}" if lamp is not None else ""
    )
    return {
        "key": key_of(f), "need": f.need, "state": f.state.value, "sign": SYMBOLS[f.state],
        "word": w.state, "title": w.title, "value": w.value if w.value != w.state else "",
        "site": clean(f.site), "rows": [r for r in rows if r[1]], "was": was, "pick": pick,
        "cure": _cure(f, system),
    }  # fmt: skip


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


def changes(
    habitat: Habitat, findings: Sequence[Finding], before: Sequence[Finding] | None, system: str
) -> list[dict[str, str]]:
    """What got better or worse, states first, then values."""
    if not before:
        return []
    old = {key_of(f): f for f in before}
    engines = {f.engine for f in findings}
    out = []
    for now in findings:
        past = old.pop(key_of(now), None)
        if past is None or not _moved(past, now):
            continue
        better = _better(past, now)
        told = word(now, habitat, system)
        was, is_ = (quantities.worded_with(f.quantity, f.value, (), system)[0] for f in (past, now))
        if past.state is not now.state:
            was, is_ = f"{STATES[past.state]} ({was})", f"{STATES[now.state]} ({is_})"
        kind = "better" if better else "worse"
        where = f", {clean(now.site)}" if now.site else ""
        about = about_words(now.about, habitat)
        out.append((abs(ORDER[past.state] - ORDER[now.state]), {
            "kind": kind, "word": f"{'▲' if better else '▼'} {kind}:",
            "title": f"{told.title}{where} ({about})", "was": was, "now": is_,
        }))  # fmt: skip
    gone = [f for f in old.values() if f.engine in engines]
    rows = [row for _, row in sorted(out, key=lambda r: -r[0])]
    rows += [
        {"kind": "gone", "word": "no longer asked:", "title": word(f, habitat, system).title,
         "was": STATES[f.state], "now": "–"}
        for f in gone
    ]  # fmt: skip
    return rows[:12]


def _better(past: Finding, now: Finding) -> bool:
    if past.state is not now.state:
        return ORDER[now.state] > ORDER[past.state]
    if past.margin is not None and now.margin is not None:
        return now.margin >= past.margin
    return True


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
