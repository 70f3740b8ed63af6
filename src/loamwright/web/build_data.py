"""The plan of a build as the page draws it: shopping with its prices, the order of work, its chart."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Any

from loamwright import editing
from loamwright.report.plain import capital, clean

if TYPE_CHECKING:
    from loamwright.editing import Draft, Refused
    from loamwright.plan.buying import Bought
    from loamwright.plan.order import OrderOfWork, Step
    from loamwright.plan.whole import Plan

UNIT_WORDS = {"piece": "1", "m": "1 m", "m2": "1 m2", "L": "1 L", "kg": "1 kg"}
"""A pack of one, as it is proposed for a thing without a price."""


def shopping(draft: Draft, plan: Plan, system: str) -> dict[str, Any]:
    """The list by its headings, every price with the row of the price list that it stands in."""
    from loamwright.report.money_blocks import incomplete
    from loamwright.report.money_words import money

    sheet = plan.money
    groups: dict[str, list[dict[str, Any]]] = {}
    for b in sheet.bought:
        groups.setdefault(b.line.group, []).append(_row(draft, b, sheet.currency, system))
    listed = draft.value(("money", "prices"))
    return {
        "currency": clean(sheet.currency, 3),
        "groups": [{"title": capital(clean(k)), "rows": rows} for k, rows in groups.items()],
        "incomplete": incomplete(sheet),
        "sum": money(sheet.quote.materials, sheet.currency) if sheet.currency else "",
        "list": clean(str(listed), 80) if listed else "",
        "no_money": sheet.currency == "",
        "new_list": clean(f"{draft.path.stem}-prices.csv", 80),
    }  # fmt: skip


def _row(draft: Draft, b: Bought, currency: str, system: str) -> dict[str, Any]:
    from loamwright.report.money_words import in_system, money, needed, packs, thing

    line = b.line
    listed = draft.habitat.money.price_list if draft.habitat and draft.habitat.money else ()
    prices = [p for p in listed if p.key == line.key and p.unit == line.unit]
    refused = {
        k.removeprefix(f"prices:{line.key}:"): v
        for k, v in draft.refused.items() if k.startswith(f"prices:{line.key}:")
    }  # fmt: skip
    cells = [_cell(p.told, str(p.price), refused.pop(p.told, None)) for p in prices]
    new = None
    if not prices or refused:
        pack, said = next(iter(refused.items()), (UNIT_WORDS[line.unit], None))
        new = _cell(pack, "", said)
    why = in_system("; ".join(x for x in (line.why, b.problem) if x), system)
    return {
        "key": clean(line.key, 80), "name": clean(thing(line, system), 90),
        "needed": needed(line, system), "buy": packs(b, system),
        "cost": money(b.cost, currency), "known": b.cost is not None, "prices": cells, "new": new,
        "why": clean(why, 240), "uses": [clean(u, 60) for u in line.uses[:8]],
    }  # fmt: skip


def _cell(pack: str, price: str, refused: Refused | None) -> dict[str, Any]:
    return {
        "pack": clean(pack, 30), "price": clean(str(refused.text), 40) if refused else price,
        "message": [clean(m, 200) for m in refused.messages] if refused else [],
    }  # fmt: skip


def tasks(draft: Draft, order: OrderOfWork, system: str = "metric") -> list[dict[str, Any]]:
    """Every task with its days, and the times a person may give it."""
    from loamwright.report.money_words import minutes
    from loamwright.report.order_blocks import slack_words, span_words, start_date, task_words

    assert draft.habitat is not None
    start = start_date(draft.habitat.workshop.start)
    out = []
    for step in order.steps:
        t = step.task
        out.append({
            "key": t.key, "name": capital(task_words(step, system)),
            "when": span_words(step, start).replace("\n", " "),
            "hands": t.crew if t.minutes else 0, "slack": slack_words(order, step),
            "binding": t.key in order.chain,
            "work": _time(draft, "work", t.key, minutes(t.minutes) if t.minutes else ""),
            "wait": _time(draft, "waits", t.key, f"{t.wait} d" if t.wait else ""),
        })  # fmt: skip
    return out


def _time(draft: Draft, section: str, key: str, told: str) -> dict[str, Any]:
    """A time: what the file gives, what holds without it, and what was refused."""
    loc = ("build", section, key)
    own, refused = draft.value(loc), draft.refused.get(editing.field_name(loc))
    return {
        "section": section, "told": told,
        "value": clean(str(refused.text), 40) if refused else clean(str(own or ""), 40),
        "message": [clean(m, 200) for m in refused.messages] if refused else [],
    }  # fmt: skip


def chart(order: OrderOfWork, start_text: str, system: str = "metric") -> dict[str, Any]:
    """The order of work as bars over the days."""
    from loamwright.report.order_blocks import day_words, short_name, start_date, task_words

    start = start_date(start_text)
    week = order.week

    def days(minute: float) -> float:
        return round(minute / week.minutes, 4)

    def bar(step: Step) -> dict[str, Any]:
        t = step.task
        worked = week.work(step.start, t.minutes)
        slack = 0.0 if step.times.critical else days(step.slack)
        span = day_words(step.first, start)
        return {
            "key": t.key, "name": capital(short_name(step, system)), "begin": days(step.start),
            "worked": days(worked) if t.minutes else days(step.start), "end": days(step.end),
            "slack": slack, "binding": t.key in order.chain,
            "told": f"{capital(task_words(step, system))}: {span}"
                    + (f", then {t.wait} d for {clean(t.waits_for) or 'it'}" if t.wait else ""),
        }  # fmt: skip

    step = next((s for s in (1, 2, 7, 14, 28) if order.days / s <= 14), 56)
    ticks = []
    for day in range(0, order.days + 1, step):
        when = None if start is None else start + timedelta(days=day)
        ticks.append([day, f"{day + 1}" if when is None else f"{when.day} {when:%b}"])
    shut = [] if start is None else [d for d in range(order.days + 1) if not week.open(d)]
    return {
        "bars": [bar(s) for s in order.steps], "days": order.days, "ticks": ticks, "shut": shut,
        "enter": order.enter,
        "told": "" if order.enter is None else day_words(order.enter, start),
        "axis": "day of the build" if start is None else f"from {start.isoformat()}",
    }  # fmt: skip


def entering(order: OrderOfWork, start_text: str, system: str = "metric") -> dict[str, Any]:
    """The day animals may enter and why not earlier, for a sheet of tables."""
    from loamwright.report.order_blocks import chain_words, day_words, start_date

    start = start_date(start_text)
    if order.enter is None:
        return {"heading": "When it is done", "told": ["No animals are in this habitat."],
                "tables": []}  # fmt: skip
    return {
        "heading": f"Animals may enter: {day_words(order.enter, start)}",
        "told": [
            "Only if every reading of the handover sheet says go, and the veterinarian agrees. "
            "Why not earlier:"
        ],
        "steps": chain_words(order, start, system), "tables": [],
    }  # fmt: skip
