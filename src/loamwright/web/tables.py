"""Tables of the report as the pages show them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from loamwright.report.plain import clean

if TYPE_CHECKING:
    from loamwright.habitat.habitat import Habitat
    from loamwright.report.blocks import Table


def shown(table: Table, habitat: Habitat) -> dict[str, Any]:
    """A table as plain data: title, heads, rows, columns that stand to the right, and its note."""
    title = table.title.removeprefix(f"{clean(habitat.name)}: ")
    heads = [c.replace("\n", " ") for c in table.columns]
    if not title:  # such a table has its title over its first column
        title, heads = heads[0], ["" for _ in heads]
    return {
        "title": title[:1].upper() + title[1:], "columns": heads if any(heads) else [],
        "rows": [list(r) for r in table.rows], "right": sorted(table.right), "note": table.note,
    }  # fmt: skip
