"""From what is needed to whole packs of a price list."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from loamwright.habitat.money import Price
from loamwright.plan.currency import exact, rounded
from loamwright.plan.lines import Line

ENOUGH = Decimal("1e-9")
"""Share of an amount that may lack: a rounding error is no reason for one more pack."""

MOST_TRIED = 20_000
"""Combinations of packs looked at for one thing; the cheapest found so far is kept then."""


@dataclass(frozen=True, slots=True)
class Bought:
    """A line and the packs it takes (price, how many), the largest pack first; none where the list has
    no price. ``cost`` [currency], None where not known; ``left`` over what is wanted [line's unit].

    What the cut plan takes as whole sheets, rolls, bars or panes is charged by what they hold, so that
    a price for a square metre is no whole pack: ``packs`` are parts of one then."""

    line: Line
    packs: tuple[tuple[Price, int | Decimal], ...]
    cost: Decimal | None
    left: float = 0.0
    problem: str = ""


def buy(lines: Iterable[Line], prices: Iterable[Price], currency: str) -> tuple[Bought, ...]:
    """Every line in whole packs, at least cost; lines without a price keep ``cost`` None.

    A price in another unit than the line's does not serve it; the line says so as its ``problem``.
    """
    by_key: dict[str, list[Price]] = {}
    for price in prices:
        by_key.setdefault(price.key, []).append(price)
    return tuple(_bought(line, by_key.get(line.key, ()), currency) for line in lines)


def _bought(line: Line, prices: Sequence[Price], currency: str) -> Bought:
    fitting = [p for p in prices if p.unit == line.unit]
    if line.wanted <= 0.0:
        return Bought(line, (), rounded(Decimal(0), currency))
    if not fitting:
        units = ", ".join(sorted({p.unit for p in prices}))
        problem = f"priced by {units}, needed by {line.unit}" if prices else ""
        return Bought(line, (), None, problem=problem)
    if line.stock:
        charged = _stocked(line, fitting)
        whole = rounded(sum((p.price * n for p, n in charged), Decimal(0)), currency)
        return Bought(line, charged, whole)
    packs = cheapest(exact(line.wanted), fitting)
    cost = rounded(sum((p.price * n for p, n in packs), Decimal(0)), currency)
    held = sum((p.pack * n for p, n in packs), Decimal(0))
    return Bought(line, packs, cost, max(0.0, float(held - exact(line.wanted))))


def _stocked(line: Line, prices: Sequence[Price]) -> tuple[tuple[Price, int | Decimal], ...]:
    """Sheets, rolls, bars and panes by price: a pack that is one of them, else the cheapest by amount.
    ``wanted`` beyond them, where another part of the plan asks for more, is charged alike."""
    counts: dict[int, tuple[Price, Decimal]] = {}

    def charge(amount: Decimal, one: Decimal | None) -> None:
        same = [p for p in prices if one is not None and abs(p.pack / one - 1) < SAME_SIZE]
        price = min(same or prices, key=lambda p: (p.price / p.pack, p.line))
        had = counts.get(id(price), (price, Decimal(0)))[1]
        counts[id(price)] = (price, had + amount / price.pack)

    for s in line.stock:
        charge(exact(s.all), exact(s.one))
    beyond = exact(line.wanted) - exact(sum(s.all for s in line.stock))
    if beyond > exact(line.wanted) * ENOUGH:
        charge(beyond, None)
    found = [(p, round(n, 6)) for p, n in counts.values()]
    found.sort(key=lambda x: (-x[0].pack, x[0].line))
    return tuple((p, int(n) if n == int(n) else n) for p, n in found)


SAME_SIZE = Decimal("1e-3")
"""Share by which a pack may differ from a sheet or bar and still be one."""


def cheapest(wanted: Decimal, prices: Sequence[Price]) -> tuple[tuple[Price, int], ...]:
    """The packs that hold an amount for the least money; of equals those that leave least over, then
    the fewest. Exact for what a build takes (see `MOST_TRIED`)."""
    order = sorted(prices, key=lambda p: (p.price / p.pack, -p.pack, p.line))
    need = wanted * (1 - ENOUGH)
    rate = [order[i].price / order[i].pack for i in range(len(order))]
    best: list[tuple[tuple[Decimal, Decimal, int], tuple[int, ...]]] = []
    tried = 0

    def look(at: int, counts: tuple[int, ...], held: Decimal, cost: Decimal) -> None:
        nonlocal tried
        tried += 1
        rest = need - held
        if rest <= 0 or at == len(order):
            if rest <= 0:
                found = ((cost, held, sum(counts)), (*counts, *[0] * (len(order) - len(counts))))
                if not best or found < best[0]:
                    best[:] = [found]
            return
        # What is left costs at least this much: packs after this one are dearer by amount.
        if best and (cost + rest * rate[at] > best[0][0][0] or tried > MOST_TRIED):
            return
        most = math.ceil(rest / order[at].pack)
        for n in range(most, -1, -1):
            look(at + 1, (*counts, n), held + n * order[at].pack, cost + n * order[at].price)

    look(0, (), Decimal(0), Decimal(0))
    chosen = [(p, n) for p, n in zip(order, best[0][1], strict=True) if n]
    return tuple(sorted(chosen, key=lambda x: (-x[0].pack, x[0].line)))
