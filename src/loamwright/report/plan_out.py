"""The plan for the machine: shopping list, order of work and handover sheet as CSV (RFC 4180)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from loamwright.plan.handover import HOURS, Check
from loamwright.plan.handover_limits import decisions
from loamwright.plan.identifiers import scanned
from loamwright.plan.money import MoneyPlan
from loamwright.plan.order import OrderOfWork
from loamwright.report import quantities
from loamwright.report.handover_blocks import when_words
from loamwright.report.money_words import in_system, money, sold_in, thing
from loamwright.report.plain import clean


def table_csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows under their heads; no cell is taken for a formula."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    write.writerow(head)
    write.writerows([_cell(x) for x in row] for row in rows)
    return out.getvalue()


def _cell(value: object) -> str:
    """A cell that no spreadsheet takes for a formula; nothing for what is not known."""
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.6g}"
    text = clean(str(value), 400)
    number = text.lstrip("-").replace(".", "", 1).isdigit()
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") and not number else text


def shopping_csv(plan: MoneyPlan, system: str = "metric") -> str:
    """The shopping list: a row for each pack to buy, or one for a thing without a price. Amounts in the
    unit of the row, in the system people are shown; money in the plan's currency, empty where there is
    none."""
    rows: list[tuple[object, ...]] = []
    c = plan.currency
    for b in plan.bought:
        line = b.line
        unit, size = sold_in(line.unit, line.group, system)
        why = in_system(line.why, system)
        same = (line.group, line.key, thing(line, system), line.amount / size, line.waste,
                line.spares / size, line.wanted / size, unit)  # fmt: skip
        if not b.packs:
            rows.append((*same, None, None, None, None, None, "", "", why))
        for price, count in b.packs:
            cost = money(price.price * count, c).replace(",", "")
            rows.append((*same, float(price.pack) / size, float(count), str(price.price), cost, c,
                         price.source, price.date, why))  # fmt: skip
    return table_csv(
        ("group", "key", "name", "amount", "waste", "spares", "wanted", "unit", "pack", "packs",
         "price", "cost", "currency", "source", "date", "why"),
        rows,
    )  # fmt: skip


def running_csv(plan: MoneyPlan, system: str = "metric") -> str:
    """What a year takes and costs, in the system people are shown."""
    rows: list[tuple[object, ...]] = []
    for r in plan.running:
        unit, size = sold_in(r.use.unit, r.use.key.partition("/")[0], system)
        rows.append((
            r.use.key, r.use.name, None if r.use.amount is None else r.use.amount / size, unit,
            None if r.cost is None else money(r.cost, plan.currency).replace(",", ""),
            plan.currency, in_system(r.use.why, system),
        ))  # fmt: skip
    return table_csv(("key", "name", "amount", "unit", "cost", "currency", "why"), rows)


def order_csv(order: OrderOfWork, start: date | None = None, system: str = "metric") -> str:
    """The order of work: days from the start (0 the first) and, where it is known, dates."""

    def day(number: int) -> str:
        return "" if start is None else (start + timedelta(days=number)).isoformat()

    return table_csv(
        ("task", "name", "first_day", "last_day", "done_day", "first_date", "last_date",
         "work_min", "crew", "wait_d", "slack_d", "critical", "after", "source"),
        (
            (s.task.key, in_system(s.task.name, system), s.first, s.last, s.done,
             day(s.first), day(s.last),
             s.task.minutes, s.task.crew, s.task.wait, s.slack / order.week.minutes,
             "yes" if s.times.critical else "no", " ".join(s.task.before), s.task.source)
            for s in order.steps
        ),
    )  # fmt: skip


def handover_csv(checks: Sequence[Check], system: str = "metric") -> str:
    """Every reading of the handover sheet, and under it the band of every full hour: what a logbook
    needs to judge readings. ``when`` is an hour, a mean, or ``hourly``."""
    rows: list[tuple[object, ...]] = []
    for c in checks:
        unit = quantities.unit(c.quantity, system).replace("°", "deg")
        for season in c.seasons:
            same = (c.name, scanned(c.name), c.site, c.quantity, unit, season)
            for d in decisions(c, season):
                go = d.go or (None, None)
                rows.append((*same, when_words(d), _shown(c, d.expected, system),
                             *(_shown(c, x, system) for x in (*go, *d.no_go))))  # fmt: skip
            for hour in range(HOURS):
                band = (_shown(c, x, system) for x in c.band(season, hour))
                value = _shown(c, c.value(season, hour), system)
                rows.append((*same, f"hourly {hour:02d}:00", value, *band, None, None))
    return table_csv(
        ("id", "code", "place", "quantity", "unit", "season", "when", "expected", "low", "high",
         "no_go_below", "no_go_above"),
        rows,
    )  # fmt: skip


def _shown(check: Check, value: float | None, system: str) -> float | None:
    return None if value is None else quantities.shown(check.quantity, value, system)
