"""Numbers in place of names on a printed section, and what they stand for under it.

A full box has some forty things with names; on paper they would lie over one another and over the
light. The numbers are those of the plan, front and side drawings.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report.draft_page import POINT, text_width
from loamwright.report.plain import clean
from loamwright.report.plan_views import numbered

if TYPE_CHECKING:
    from matplotlib.figure import Figure

_ROW, _SIZE, _NUMBER = 0.125, 6.6, 0.26
"""Height of a row [in], size of its letters [points], room for the number [in]."""
_FOOT = 0.46
"""Where the key begins, over the legend [in]."""
_HEAD = "numbers as on the plan, front and side drawings"


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the key: the number, the name, the value where there is one."""

    number: str
    name: str
    value: str = ""


def numbers(habitat: Habitat) -> dict[tuple[str, str], str]:
    """The number of a thing by its layer (see `draft.LAYERS`) and name. A site at a plant has the
    plant's."""
    out = {(layer, name): number for layer, number, name, _ in numbered(habitat)}
    for site in habitat.sites:
        if site.plant:
            out["SITES", site.name] = out["PLANTS", site.plant]
    return out


def _words(entry: Entry) -> str:
    return f"{clean(entry.name, 40)}  {entry.value}".rstrip()


def _grid(entries: Sequence[Entry], wide: float) -> tuple[int, int]:
    """Columns and rows of a key on a picture so wide [in]: each column takes the longest line."""
    longest = max(text_width(_words(e), _SIZE * POINT) for e in entries) / 25.4
    columns = max(1, min(len(entries), int((wide - sheet.EDGE) / (longest + _NUMBER + 0.1))))
    return columns, math.ceil(len(entries) / columns)


def key_height(entries: Sequence[Entry], wide: float) -> float:
    """Height a key takes [in] on a picture so wide [in]."""
    return (_grid(entries, wide)[1] + 1.4) * _ROW if entries else 0.0


def draw_key(figure: Figure, entries: Sequence[Entry]) -> None:
    """Write the key over the legend, column by column."""
    if not entries:
        return
    wide, high = figure.get_size_inches()
    columns, rows = _grid(entries, wide)
    top = _FOOT + rows * _ROW
    figure.text(sheet.EDGE / wide, (top + 0.5 * _ROW) / high, _HEAD, fontsize=_SIZE,
                color=sheet.SOFT_INK, va="center")  # fmt: skip
    column = (wide - sheet.EDGE) / columns
    for at, entry in enumerate(entries):
        x, y = sheet.EDGE + (at // rows) * column, top - (at % rows + 0.5) * _ROW
        figure.text((x + _NUMBER - 0.06) / wide, y / high, entry.number, fontsize=_SIZE,
                    weight="bold", ha="right", va="center")  # fmt: skip
        figure.text((x + _NUMBER) / wide, y / high, _words(entry), fontsize=_SIZE, va="center")
