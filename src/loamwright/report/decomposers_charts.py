"""What lives in the ground on paper: numbers, leaves and dung, nitrogen through the year."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
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
from loamwright.report.line_labels import Named, name_all, name_ends
from loamwright.report.plain import clean

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WIDE, _HIGH = 8.4, 7.1


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
        _numbers(frame(figure, 0.75, 4.5, 6.0, 1.35), found)
        _matter(frame(figure, 0.75, 2.5, 6.0, 1.5), found, system)
        _nitrogen(frame(figure, 0.75, 0.5, 6.0, 1.5), found)
        return sheet.to_bytes(figure, kind)


def _months(ax: Axes, found: Found, *, lowest: bool = False) -> None:
    """One axis of days for all panels, told under the lowest; a line where residents move in."""
    ax.set_xlim(0, found.middle.days[-1])
    ax.axvline(found.moved_in[1], color=sheet.FAINT, lw=0.8, ls=(0, (2, 2)), zorder=0)
    ax.tick_params(labelbottom=lowest)
    if lowest:
        ax.set_xlabel("days after planting", fontsize=7.5, labelpad=2)


def _numbers(ax: Axes, found: Found) -> None:
    words = "animals on the whole floor, without eggs; shaded: slowest to quickest growth"
    titled(ax, words, pad=15)  # over the words at the line where residents move in
    run, area = found.middle, found.area
    ax.set_yscale("log")
    ax.yaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")
    top, named = 10.0, []
    for row, x in enumerate(found.community.species):
        color, dash = SITE_COLORS[row % 4], SITE_DASHES[row % 4]
        days = min(len(r.days) for r in found.runs)
        each = [np.maximum(r.numbers(row)[:days] * area, 0.5) for r in found.runs]
        ax.fill_between(run.days[:days], np.min(each, axis=0), np.max(each, axis=0), color=color,
                        alpha=0.14, lw=0)  # fmt: skip
        values = np.maximum(run.numbers(row) * area, 0.5)
        ax.plot(run.days, values, color=color, ls=dash, lw=1.5)
        named.append(Named(run.days, values, clean(x.label, 26), color))
        top = max(top, float(np.max(each)))
    if not found.community.species:
        ax.text(0.5, 0.5, "nothing is let in", transform=ax.transAxes, ha="center", fontsize=8.5)
    ax.set_ylim(1, 2 * top)
    ax.annotate("residents move in", (found.moved_in[1], 1.0), (0, 3), va="bottom", ha="left",
                xycoords=("data", "axes fraction"), textcoords="offset points", fontsize=7.5,
                color=sheet.SOFT_INK)  # fmt: skip
    _months(ax, found)
    name_ends(ax, named)


Floats = NDArray[np.float64]
Curve = tuple[str, Floats, str, Any]
"""Words, values, color and dash."""


def _curves(ax: Axes, days: Floats, scale: float, each: Iterable[Curve]) -> list[Named]:
    """Draw curves; returns what is to be named at their ends."""
    out = []
    for words, values, color, dash in each:
        ax.plot(days, scale * values, color=color, ls=dash, lw=1.5)
        out.append(Named(days, scale * values, clean(words, 26), color))
    return out


def _named(ax: Axes, found: Found, curves: list[Named], limit: float | None, words: str) -> None:
    """Names of curves at their ends, that of a limit where it is clear of all lines."""
    if limit is not None:
        ends = np.array([0.0, float(found.middle.days[-1])])
        ax.axhline(limit, color=LIMIT, lw=0.9, ls=(0, (5, 2)))
        moved = Named(np.full(2, float(found.moved_in[1])), np.array(ax.get_ylim()), "", LIMIT)
        unnamed = [replace(n, name="") for n in curves]
        name_all(ax, [*unnamed, moved, Named(ends, np.full(2, limit), words, LIMIT)], size=7.5)
    name_ends(ax, curves)


def _matter(ax: Axes, found: Found, system: str) -> None:
    name, size = MATTER[system]
    titled(ax, f"dry matter on the whole floor [{name}]")
    run, area = found.middle, found.area
    each = (
        ("leaves", run.litter(), SITE_COLORS[0], SITE_DASHES[0]),
        ("dung and dead", run.state[:, pop.WASTE] / LEAF_CARBON, SITE_COLORS[1], SITE_DASHES[1]),
        ("humus", run.state[:, pop.HUMUS] / LEAF_CARBON, SITE_COLORS[2], SITE_DASHES[2]),
    )  # fmt: skip
    curves = _curves(ax, run.days, area / size, each)
    least = None
    if found.community.floor.litter > 0.0:
        least = area / size * min(TOP_UP_BELOW, 0.5 * found.community.floor.litter)
    most = max(least or 0.0, *(float(n.y.max()) for n in curves))
    ax.set_ylim(0, 1.05 * max(most, 1e-6))
    _months(ax, found)
    _named(ax, found, curves, least, "lay leaves anew")


def _nitrogen(ax: Axes, found: Found) -> None:
    # Grams in both systems: there are some tenths of a gram, hundredths of an ounce.
    titled(ax, "nitrogen on the whole floor [g]")
    run, area = found.middle, found.area
    each = (
        ("ammonium, nitrate", run.mineral(), SITE_COLORS[1], SITE_DASHES[0]),
        ("in plants", run.state[:, pop.TAKEN], SITE_COLORS[2], SITE_DASHES[1]),
    )  # fmt: skip
    curves = _curves(ax, run.days, 1000 * area, each)
    most = max(float(n.y.max()) for n in curves)
    limit = 1000 * area * NITRATE_LIMIT * found.community.floor.pore_water
    near = limit if 0.0 < limit < 4.0 * most else None
    ax.set_ylim(0, 1.15 * max(most, near or 0.0, 1e-6))
    _months(ax, found, lowest=True)
    _named(ax, found, curves, near, "more than plants bear")
