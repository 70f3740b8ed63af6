"""What it costs to build and to run, and what the customer is quoted.

Everything is counted in exact decimals. Each line is rounded once to the currency's smallest unit,
halves away from zero; sums are of rounded lines. What has no price makes the sum incomplete: it is
named, and never counted as nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from loamwright.habitat.money import Money, Price
from loamwright.plan.buying import Bought, buy
from loamwright.plan.currency import exact, rounded
from loamwright.plan.lines import Line
from loamwright.plan.running import Use


@dataclass(frozen=True, slots=True)
class Labour:
    """One task's work [min] and its cost [currency], None where no wage is known."""

    task: str
    minutes: int
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class Running:
    """A year's use and its cost [currency], None where price or amount is not known; ``price`` for one
    of its unit."""

    use: Use
    price: Decimal | None
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class Quote:
    """All sums [currency]: ``materials`` and ``labour`` known so far, their sum ``cost``, the
    ``margin`` on it, the sum before tax ``net``, the ``tax`` on that, and the ``total``."""

    materials: Decimal
    labour: Decimal
    cost: Decimal
    margin: Decimal
    net: Decimal
    tax: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True)
class MoneyPlan:
    """The money of a build. ``currency`` empty where the file has no money: then nothing has a price.
    What stays with the builder (``Line.owned``) is bought but in no sum. ``missing`` what keeps the
    quote from being complete, ``missing_year`` the same of a year's costs; ``year`` the sum of
    a year's known costs; ``margin_share`` and ``tax_share`` as in the file."""

    currency: str
    bought: tuple[Bought, ...]
    labour: tuple[Labour, ...]
    quote: Quote
    running: tuple[Running, ...]
    year: Decimal
    missing: tuple[str, ...]
    missing_year: tuple[str, ...]
    margin_share: Decimal
    tax_share: Decimal | None
    wage: Decimal | None

    @property
    def complete(self) -> bool:
        """True where everything that is bought and done has a price."""
        return not self.missing


def plan_money(
    money: Money | None,
    lines: Sequence[Line],
    tasks: Iterable[tuple[str, int]],
    year: Sequence[Use],
) -> MoneyPlan:
    """Costs, quote and a year's running costs.

    Parameters
    ----------
    money : Money or None
        The file's prices; None: nothing has a price.
    lines : sequence of Line
        The shopping list.
    tasks : iterable of (name, minutes)
        Work of each task [min], all hands together.
    year : sequence of Use
        What a year takes.
    """
    currency = money.currency if money else ""
    prices = money.price_list if money else ()
    bought = buy(lines, prices, currency)
    wage = exact(money.labour * 3600.0, 6) if money and money.labour is not None else None
    labour = tuple(
        Labour(name, minutes, None if wage is None else rounded(wage * minutes / 60, currency))
        for name, minutes in tasks
        if minutes > 0
    )
    margin_share = exact(money.margin, 6) if money else Decimal(0)
    tax_share = exact(money.tax, 6) if money and money.tax is not None else None
    quote = _quote(bought, labour, margin_share, tax_share or Decimal(0), currency)
    missing = [b.line.key for b in bought if b.cost is None and not b.line.owned]
    if wage is None and labour:
        missing.append("labour")
    running = tuple(_running(use, money, prices, currency) for use in year)
    return MoneyPlan(
        currency, bought, labour, quote, running,
        sum((r.cost for r in running if r.cost is not None), rounded(Decimal(0), currency)),
        tuple(missing), tuple(r.use.key for r in running if r.cost is None),
        margin_share, tax_share, wage,
    )  # fmt: skip


def _quote(
    bought: Sequence[Bought], labour: Sequence[Labour], margin: Decimal, tax: Decimal,
    currency: str,
) -> Quote:  # fmt: skip
    nothing = rounded(Decimal(0), currency)
    counted = [b.cost for b in bought if b.cost is not None and not b.line.owned]
    materials = sum(counted, nothing)
    work = sum((x.cost for x in labour if x.cost is not None), nothing)
    cost = materials + work
    added = rounded(cost * margin, currency)
    net = cost + added
    due = rounded(net * tax, currency)
    return Quote(materials, work, cost, added, net, due, net + due)


def unit_price(prices: Sequence[Price], key: str, unit: str) -> Decimal | None:
    """The cheapest price for one unit of a thing [currency], None where the list has none."""
    return min((p.price / p.pack for p in prices if (p.key, p.unit) == (key, unit)), default=None)


def _running(use: Use, money: Money | None, prices: Sequence[Price], currency: str) -> Running:
    if use.key == "electricity":
        known = money is not None and money.electricity is not None
        price = exact(money.electricity * 3.6e6, 6) if known and money else None  # type: ignore[operator]
    else:
        price = unit_price(prices, use.key, use.unit)
    if use.amount == 0.0:
        return Running(use, price, rounded(Decimal(0), currency))
    if price is None or use.amount is None:
        return Running(use, price, None)
    return Running(use, price, rounded(price * exact(use.amount), currency))
