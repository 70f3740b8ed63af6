"""The plan as tables, in one place: what a pack or a page takes from it."""

from __future__ import annotations

from loamwright.report.handover_blocks import (
    handover_tables,
    hours_tables,
    instruments_table,
    limits_tables,
    places_table,
)
from loamwright.report.money_blocks import (
    labour_table,
    money_tables,
    quote_table,
    running_table,
    shopping_table,
    shopping_tables,
    why_table,
)
from loamwright.report.order_blocks import (
    chain_words,
    enter_tables,
    meanwhile_tables,
    order_tables,
    sources_table,
    tasks_table,
)

__all__ = [
    "chain_words", "enter_tables", "handover_tables", "hours_tables", "instruments_table",
    "labour_table", "limits_tables", "meanwhile_tables", "money_tables", "order_tables",
    "places_table", "quote_table", "running_table", "shopping_table", "shopping_tables",
    "sources_table", "tasks_table", "why_table",
]  # fmt: skip
