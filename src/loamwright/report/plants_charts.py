"""Plants on paper: height and light of each crown over a year."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

import numpy as np

from loamwright.engine.findings import State
from loamwright.engine.life.plants_findings import plant_findings
from loamwright.engine.life.plants_year import DAYS, Planting, least_light, lit_time
from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.climate_charts import LIMIT, SITE_COLORS, SITE_DASHES, frame, page
from loamwright.report.plain import clean
from loamwright.report.plants_words import TITLES

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from loamwright.habitat.planting import Plant

MOST = 12
"""Plants a chart holds; the tables and files hold all."""

_WIDE, _TALL, _HEAD, _FOOT, _GAP = 8.4, 0.72, 1.15, 0.5, 0.26
_HEIGHT, _LIGHT, _COLUMN = 1.75, 5.1, 2.75  # where the columns begin, and how wide they are [in]


def plants_chart(habitat: Habitat, planting: Planting, kind: str, system: str) -> bytes:
    """A row for each plant: its height with its range and its room on the left, its light with its need
    on the right, by day after planting; ``png`` or ``svg``."""
    shown = [p for p in habitat.plants if p.name in planting.middle][:MOST]
    with sheet.style():
        high = _HEAD + _FOOT + max(1, len(shown)) * (_TALL + _GAP) - _GAP
        figure = page(_WIDE, high)
        figure.text(sheet.EDGE / _WIDE, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13,
                    weight="bold", va="center")  # fmt: skip
        left_out = len(planting.middle) - len(shown)
        told = "Its plants over a year; dashed: their room, the light they need" + (
            f"; {left_out} more are in the table" if left_out else ""
        )
        figure.text(sheet.EDGE / _WIDE, 1 - 0.56 / high, told, fontsize=9, color=sheet.SOFT_INK,
                    va="center")  # fmt: skip
        missed = [f for f in plant_findings(habitat, planting) if f.state is State.MISSED]
        if missed:
            names = list(dict.fromkeys(f"{clean(f.about, 24)}: {TITLES[f.need]}" for f in missed))
            more = f"; {len(names) - 2} more" if len(names) > 2 else ""
            figure.text(sheet.EDGE / _WIDE, 1 - 0.76 / high, f"Missed: {'; '.join(names[:2])}{more}",
                        fontsize=9, weight="bold", color=LIMIT, va="center")  # fmt: skip
        name = quantities.edge(system)[0]
        for row, plant in enumerate(shown):
            bottom = high - _HEAD - (row + 1) * _TALL - row * _GAP
            left = frame(figure, _HEIGHT, bottom, _COLUMN, _TALL)
            right = frame(figure, _LIGHT, bottom, _COLUMN, _TALL)
            _height(left, planting, plant, system)
            _light(right, habitat, planting, plant)
            for ax in (left, right):
                if row < len(shown) - 1:
                    ax.tick_params(labelbottom=False)
                else:
                    ax.set_xlabel("days after planting", fontsize=7.5, labelpad=2)
            words, size = _told(plant.name)
            figure.text(sheet.EDGE / _WIDE, (bottom + 0.5 * _TALL) / high, words, fontsize=size,
                        va="center")  # fmt: skip
        top = (high - _HEAD + 0.14) / high
        for x, words in ((_HEIGHT, f"height [{name}]"), (_LIGHT, "light [mol/m²/d]")):
            figure.text(x / _WIDE, top, words, fontsize=8.5)
        return sheet.to_bytes(figure, kind)


def _told(name: str) -> tuple[str, float]:
    """A plant's name as it fits beside its row, on up to two lines or smaller on three, and the size
    of its letters [pt]."""
    lines = wrap(clean(name, 60), 17)
    if len(lines) <= 2:
        return "\n".join(lines), 8.5
    return "\n".join(wrap(clean(name, 60), 22)), 6.5


def _height(ax: Axes, planting: Planting, plant: Plant, system: str) -> None:
    size = quantities.edge(system)[1]
    each = [y[plant.name].height / size for y in planting.years]
    days = np.arange(DAYS + 1)
    known = plant.name not in planting.unknown
    if known:
        ax.fill_between(days, np.min(each, axis=0), np.max(each, axis=0), color=SITE_COLORS[2],
                        alpha=0.16, lw=0)  # fmt: skip
    ax.plot(days, each[1], color=SITE_COLORS[2], lw=1.4, ls=SITE_DASHES[0] if known else ":")
    room = planting.middle[plant.name].room / size
    top = float(np.max(each))
    if room < 2.0 * top:
        ax.axhline(room, color=LIMIT, lw=0.9, ls=(0, (5, 2)))
        top = max(top, room)
    if not known:
        # Clear of its own level line, and of that of its room.
        level = float(each[1][0]) / (1.15 * top)
        ax.text(0.5, 0.16 if level > 0.4 else 0.55, "growth not known", transform=ax.transAxes,
                ha="center", va="center", fontsize=7.5, color=sheet.SOFT_INK)  # fmt: skip
    ax.set_xlim(0, DAYS)
    ax.set_ylim(0, 1.15 * top)


def _light(ax: Axes, habitat: Habitat, planting: Planting, plant: Plant) -> None:
    values = planting.middle[plant.name].light
    ax.plot(np.arange(DAYS + 1), values, color=SITE_COLORS[1], lw=1.4)
    need = least_light(plant.type, lit_time(habitat, "middle"))
    if need is not None:
        ax.axhline(need, color=LIMIT, lw=0.9, ls=(0, (5, 2)))
    ax.set_xlim(0, DAYS)
    ax.set_ylim(0, 1.15 * max(float(values.max()), need or 0.0, 1e-6))
