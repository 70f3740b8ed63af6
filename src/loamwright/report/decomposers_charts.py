"""What lives in the ground on paper: numbers, leaves and dung, nitrogen through the year."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.findings import State
from loamwright.engine.life.decomposers_findings import decomposer_findings
from loamwright.engine.life.decomposers_study import NITRATE_LIMIT, Found
from loamwright.engine.life.matter import LEAF_CARBON, TOP_UP_BELOW
from loamwright.habitat.habitat import Habitat
from loamwright.physics import populations as pop
from loamwright.report import figure as sheet
from loamwright.report.climate_charts import LIMIT, SITE_COLORS, SITE_DASHES, frame, page, titled
from loamwright.report.decomposers_words import MATTER, TITLES
from loamwright.report.plain import clean

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WIDE, _HIGH = 8.4, 7.4


def decomposers_chart(habitat: Habitat, found: Found, kind: str, system: str = "metric") -> bytes:
    """Numbers by species with their range, then leaves and dung, then nitrogen, by day after planting;
    ``png`` or ``svg``."""
    with sheet.style():
        figure = page(_WIDE, _HIGH)
        figure.text(sheet.EDGE / _WIDE, 1 - 0.32 / _HIGH, clean(habitat.name, 70), fontsize=13,
                    weight="bold", va="center")  # fmt: skip
        figure.text(sheet.EDGE / _WIDE, 1 - 0.56 / _HIGH, f"What lives in its ground: ready on day "
                    f"{found.moved_in[1]}, then a year with the residents", fontsize=9,
                    color=sheet.SOFT_INK, va="center")  # fmt: skip
        missed = [f for f in decomposer_findings(found) if f.state is State.MISSED]
        if missed:
            names = list(dict.fromkeys(TITLES[f.need] for f in missed))
            more = f"; {len(names) - 2} more" if len(names) > 2 else ""
            figure.text(sheet.EDGE / _WIDE, 1 - 0.76 / _HIGH, f"Missed: {'; '.join(names[:2])}{more}",
                        fontsize=9, weight="bold", color=LIMIT, va="center")  # fmt: skip
        _numbers(frame(figure, 0.75, 5.0, 6.0, 1.35), found)
        _matter(frame(figure, 0.75, 2.75, 6.0, 1.5), found, system)
        _nitrogen(frame(figure, 0.75, 0.5, 6.0, 1.5), found)
        return sheet.to_bytes(figure, kind)


def _months(ax: Axes, found: Found) -> None:
    ax.set_xlim(0, found.middle.days[-1])
    ax.axvline(found.moved_in[1], color=sheet.FAINT, lw=0.8, ls=(0, (2, 2)), zorder=0)


def _name(ax: Axes, words: str, value: float, color: str) -> None:
    """A line's name right of its end."""
    ax.annotate(clean(words, 26), (1.0, value), (5, 0), xycoords=("axes fraction", "data"),
                textcoords="offset points", va="center", fontsize=7.5, color=color,
                annotation_clip=False)  # fmt: skip


def _numbers(ax: Axes, found: Found) -> None:
    titled(
        ax,
        "animals on the whole floor, without eggs; shaded: slowest to quickest growth",
    )
    run, area = found.middle, found.area
    ax.set_yscale("log")
    ax.yaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")
    top = 10.0
    for row, x in enumerate(found.community.species):
        color, dash = SITE_COLORS[row % 4], SITE_DASHES[row % 4]
        days = min(len(r.days) for r in found.runs)
        each = [np.maximum(r.numbers(row)[:days] * area, 0.5) for r in found.runs]
        ax.fill_between(run.days[:days], np.min(each, axis=0), np.max(each, axis=0), color=color,
                        alpha=0.14, lw=0)  # fmt: skip
        values = np.maximum(run.numbers(row) * area, 0.5)
        ax.plot(run.days, values, color=color, ls=dash, lw=1.5)
        _name(ax, x.label, float(values[-1]), color)
        top = max(top, float(np.max(each)))
    if not found.community.species:
        ax.text(0.5, 0.5, "nothing is let in", transform=ax.transAxes, ha="center", fontsize=8.5)
    ax.set_ylim(1, 2 * top)
    ax.annotate("residents move in", (found.moved_in[1], 2 * top), (3, -2), va="top",
                textcoords="offset points", fontsize=7.5, color=sheet.SOFT_INK)  # fmt: skip
    _months(ax, found)


Floats = NDArray[np.float64]
Curve = tuple[str, Floats, str, Any]
"""Words, values, color and dash."""


def _curves(ax: Axes, days: Floats, scale: float, each: Iterable[Curve]) -> float:
    """Curves with their names at their ends; the highest value drawn."""
    most = 0.0
    for words, values, color, dash in each:
        ax.plot(days, scale * values, color=color, ls=dash, lw=1.5)
        _name(ax, words, float(scale * values[-1]), color)
        most = max(most, float(scale * values.max()))
    return most


def _limit(ax: Axes, value: float, words: str) -> None:
    ax.axhline(value, color=LIMIT, lw=0.9, ls=(0, (5, 2)))
    ax.text(0.01, value, words, transform=ax.get_yaxis_transform(), fontsize=7.5, color=LIMIT,
            va="bottom")  # fmt: skip


def _matter(ax: Axes, found: Found, system: str) -> None:
    name, size = MATTER[system]
    titled(ax, f"dry matter on the whole floor [{name}]")
    run, area = found.middle, found.area
    each = (
        ("leaves", run.litter(), SITE_COLORS[0], SITE_DASHES[0]),
        ("dung and dead", run.state[:, pop.WASTE] / LEAF_CARBON, SITE_COLORS[1], SITE_DASHES[1]),
        ("humus", run.state[:, pop.HUMUS] / LEAF_CARBON, SITE_COLORS[2], SITE_DASHES[2]),
    )  # fmt: skip
    _curves(ax, run.days, area / size, each)
    if found.community.floor.litter > 0.0:
        least = area / size * min(TOP_UP_BELOW, 0.5 * found.community.floor.litter)
        _limit(ax, least, "lay leaves anew")
    ax.set_ylim(0, None)
    _months(ax, found)


def _nitrogen(ax: Axes, found: Found) -> None:
    # Grams in both systems: there are some tenths of a gram, hundredths of an ounce.
    titled(ax, "nitrogen on the whole floor [g]")
    run, area = found.middle, found.area
    each = (
        ("ammonium, nitrate", run.mineral(), SITE_COLORS[1], SITE_DASHES[0]),
        ("in plants", run.state[:, pop.TAKEN], SITE_COLORS[2], SITE_DASHES[1]),
    )  # fmt: skip
    most = _curves(ax, run.days, 1000 * area, each)
    limit = 1000 * area * NITRATE_LIMIT * found.community.floor.pore_water
    if 0.0 < limit < 4.0 * most:
        _limit(ax, limit, "more than plants bear")
    ax.set_ylim(0, 1.15 * max(most, limit if limit < 4.0 * most else 0.0, 1e-6))
    ax.set_xlabel("days after planting", fontsize=7.5)
    _months(ax, found)
