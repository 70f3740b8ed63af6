"""The shopping list, the quote and a year's costs as tables."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.plan.buying import Bought
from loamwright.plan.money import MoneyPlan
from loamwright.report.blocks import Table
from loamwright.report.money_words import (
    amount,
    in_system,
    minutes,
    money,
    needed,
    packs,
    share,
    thing,
    water_amount,
)
from loamwright.report.plain import capital, clean, listing
from loamwright.report.quote_scope import price_sources

ROUNDING = (
    "Each line is rounded to the smallest coin, halves up; sums are of rounded lines."
)  # fmt: skip

NAMED = 8
"""Things without a price that are named in a note; the list shows them all."""


NO_PRICES = "No prices: the habitat file names no currency."


def _priced(plan: MoneyPlan) -> bool:
    """Whether anything can have a price: without a currency nothing has, and no sum is told."""
    return bool(plan.currency)


def incomplete(plan: MoneyPlan) -> str:
    """What is said of a sum that leaves something out; empty where it is whole."""
    if plan.complete:
        return ""
    if not _priced(plan):
        return NO_PRICES
    named = [clean(key) for key in plan.missing[:NAMED]]
    more = len(plan.missing) - len(named)
    if more:
        named.append(f"{more} more")
    return f"Not complete: no price for {listing(named)}. What has no price is not in the sum."


def _row(b: Bought, plan: MoneyPlan, system: str) -> tuple[str, ...]:
    cost = (money(b.cost, plan.currency),) if _priced(plan) else ()
    return (clean(thing(b.line, system), 90), needed(b.line, system), packs(b, system), *cost)


def shopping_table(plan: MoneyPlan, system: str = "metric") -> Table:
    """Everything to buy in one table, with the heading it stands under."""
    rows = [(clean(b.line.group), *_row(b, plan, system)) for b in plan.bought]
    return Table(
        "Shopping list", ("for", "what", "needed", "to buy", *_cost(plan)), tuple(rows),
        right=frozenset({2, 4}), note=_note(plan),
    )  # fmt: skip


def shopping_tables(plan: MoneyPlan, system: str = "metric") -> list[Table]:
    """The same, one table a heading, the first with what is said of the whole."""
    groups: dict[str, list[Bought]] = {}
    for b in plan.bought:
        groups.setdefault(b.line.group, []).append(b)
    return [
        Table(capital(clean(group)), ("what", "needed", "to buy", *_cost(plan)),
              tuple(_row(b, plan, system) for b in found), right=frozenset({1, 3}),
              note=_note(plan) if number == 0 else "")
        for number, (group, found) in enumerate(groups.items())
    ]  # fmt: skip


LONG = 4000
"""Letters of a reason and of the names it is for: neither is cut, who buys by them needs them all."""


def names(uses: Sequence[str]) -> str:
    """Names one after the other, told apart by semicolons where one of them has a comma of its own."""
    if any("," in x for x in uses):
        return "; ".join(uses)
    return listing(list(uses))


def why_table(plan: MoneyPlan, system: str = "metric") -> Table:
    """Where each amount comes from, and the key a price list calls it by."""
    rows = []
    for b in plan.bought:
        why = in_system("; ".join(x for x in (b.line.why, b.problem) if x), system)
        rows.append((clean(b.line.key, 60), clean(why, LONG), clean(names(b.line.uses), LONG)))
    return Table("Where the amounts come from", ("key in the price list", "why", "for"),
                 tuple(rows))  # fmt: skip


def _cost(plan: MoneyPlan) -> tuple[str, ...]:
    """The heading of what things cost; none where nothing has a price."""
    return (f"cost\n{clean(plan.currency, 3)}",) if _priced(plan) else ()


def _note(plan: MoneyPlan) -> str:
    said = (
        "Needed: with waste and spares. To buy: whole packs, at least cost; of sheets, rolls and bars "
        "those of the cut plan, charged by what they hold."
    )
    owned = "Instruments are for who does not own them; they are in no sum."
    kept = owned if any(b.line.owned for b in plan.bought) else ""
    return " ".join(x for x in (said, kept, incomplete(plan)) if x)


def quote_table(plan: MoneyPlan) -> Table:
    """From materials and labour to what the customer is asked; of a plan with a currency."""
    q, c = plan.quote, plan.currency
    work = sum(x.minutes for x in plan.labour)
    wage = "" if plan.wage is None else f" at {money(plan.wage, c)} an hour"
    rows = [
        ("materials", money(q.materials, c)),
        (f"labour, {minutes(work)}{wage}",
         money(q.labour if plan.wage is not None or not work else None, c)),
        ("cost", money(q.cost, c)),
        (f"margin, {share(plan.margin_share)} of the cost", money(q.margin, c)),
    ]  # fmt: skip
    if plan.tax_share is None:
        rows.append(("total before tax: the file names no tax", money(q.total, c)))
    else:
        rows.append(("before tax", money(q.net, c)))
        rows.append((f"tax, {share(plan.tax_share)}", money(q.tax, c)))
        rows.append(("total", money(q.total, c)))
    if not plan.complete:
        rows[-1] = (f"{rows[-1][0]}, NOT COMPLETE", rows[-1][1])
    note = " ".join(x for x in (incomplete(plan), ROUNDING, price_sources(plan)) if x)
    return Table("Quote", ("", clean(c, 3)), tuple(rows), right=frozenset({1}),
                 note=note)  # fmt: skip


def labour_table(plan: MoneyPlan, system: str = "metric") -> Table:
    """Work by task and what it costs."""
    whole = None if plan.wage is None else plan.quote.labour
    found = [(clean(in_system(x.task, system), 70), x.minutes, x.cost) for x in plan.labour]
    found.append(("together", sum(x.minutes for x in plan.labour), whole))
    rows = tuple(
        (task, minutes(work), *((money(cost, plan.currency),) if _priced(plan) else ()))
        for task, work, cost in found
    )
    return Table("Labour", ("task", "work", *_cost(plan)), rows, right=frozenset({1, 2}),
                 note="Times of common practice, all hands together.")  # fmt: skip


def running_table(plan: MoneyPlan, system: str = "metric") -> Table:
    """What a year takes and costs."""
    rows = []
    for r in plan.running:
        use = r.use
        if use.amount is None:
            told = "not known"
        elif use.key == "water/tap":
            told = water_amount(use.amount, system)
        else:
            told = "none" if use.amount == 0.0 else amount(use.amount, use.unit, system)
        cost = "–" if use.amount == 0.0 else money(r.cost, plan.currency)
        rows.append((clean(in_system(use.name, system), 50), told, *((cost,) if _priced(plan) else ()),
                     clean(in_system(use.why, system), 90)))  # fmt: skip
    whole = "in a year" if not plan.missing_year else "in a year, NOT COMPLETE"
    if _priced(plan):
        rows.append((whole, "", money(plan.year, plan.currency), ""))
    note = "" if _priced(plan) else NO_PRICES
    if _priced(plan) and plan.missing_year:
        named = listing([clean(k) for k in plan.missing_year])
        note = f"Not complete: nothing is known of the cost of {named}."
    right = frozenset({1, 2}) if _priced(plan) else frozenset({1})
    return Table("A year of running", ("what", "in a year", *_cost(plan), "from"), tuple(rows),
                 right=right, note=note)  # fmt: skip


def money_tables(plan: MoneyPlan, system: str = "metric") -> list[Table]:
    """Quote (with prices), labour and a year of running."""
    return [
        *([quote_table(plan)] if _priced(plan) else []),
        labour_table(plan, system),
        running_table(plan, system),
    ]
