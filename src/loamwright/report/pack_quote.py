"""The customer's quote: what is built, what is in the price, what it costs."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.money import MoneyPlan
from loamwright.report.blocks import Table
from loamwright.report.money_words import money as worded
from loamwright.report.money_words import share
from loamwright.report.overview import facts
from loamwright.report.plain import clean, on_paper
from loamwright.report.quote_scope import scope_table
from loamwright.report.typst_blocks import Block, Facts, Section, Stamp, Words

FINDS_NOT = "What is not said here is not in the price."

BLANK = "______________________"
"""Where something is written by hand."""

ADDRESS = "\n".join(["______________________________________"] * 2)
"""Room for a name and an address."""


LEFT_OUT = ("purpose", "plants")
"""Facts that the quote leaves out; plants stand in what is in the price."""


def quote_section(
    habitat: Habitat, money: MoneyPlan, on: str, system: str, stamp: str = ""
) -> Section | None:
    """The customer's quote on a page of its own; None where the file names no currency.

    ``on`` the quote's date; ``stamp`` what is said at its top while the plan misses a need
    (`stamp.stamp_words`), empty where it misses none.
    """
    if not money.currency:
        return None
    with on_paper():
        said = tuple((a, b) for a, b in facts(habitat, system) if a not in LEFT_OUT)
        scope = scope_table(habitat, money, system)
    blocks: list[Block] = [Stamp(stamp)] if stamp else []
    blocks += [
        Words(clean(habitat.name), "lead"),
        Facts((("date", clean(on)), ("valid until", BLANK), ("builder", ADDRESS),
               ("customer", ADDRESS))),
        Facts(said), scope, _price(money),
    ]  # fmt: skip
    if not money.complete:
        count = len(money.missing)
        things = "one thing has" if count == 1 else f"{count} things have"
        blocks.append(
            Words(f"DRAFT, not to be sent: {things} no price yet, so the sum is too low.")
        )
    blocks += [
        Words("Animals, their papers and their quarantine are not part of this quote, nor is fixed "
              f"wiring, which a licensed electrician quotes. {FINDS_NOT}"),
        Facts((("signed", f"builder {BLANK}    customer {BLANK}"),)),
    ]  # fmt: skip
    return Section("quote", "Quote", tuple(blocks))


def _price(money: MoneyPlan) -> Table:
    """Sum, tax and total."""
    q, c = money.quote, money.currency
    rows = [("habitat, built, planted and handed over as described", worded(q.net, c))]
    if money.tax_share is not None:
        rows.append((f"tax, {share(money.tax_share)}", worded(q.tax, c)))
    else:
        rows.append(("tax", "as the law asks"))
    rows.append(("total" if money.tax_share is not None else "total before tax",
                 worded(q.total if money.tax_share is not None else q.net, c)))  # fmt: skip
    return Table("Price", ("what", clean(c, 3)), tuple(rows), right=frozenset({1}))
