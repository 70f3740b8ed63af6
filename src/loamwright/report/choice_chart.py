"""The choice chart: every place an animal gets to, by the warmth its body takes there and the UV."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from loamwright.engine.life.choice import SPOT, Choice
from loamwright.engine.life.study import Residents
from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.climate_charts import frame, page, titled
from loamwright.report.climate_words import SEASONS
from loamwright.report.draft_page import POINT, text_width
from loamwright.report.labels import Wish, arrange
from loamwright.report.plain import capital, clean

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WIDE, _TALL = 8.4, 3.1
_HEAD, _ROW, _FOOT = 0.44, 3.9, 0.26
"""Height [in] of the head, of a species with its panels, and of the words at the foot."""

SPOT_SIZE = 4.2
"""Size of a mark without a name at midday [pt]."""

MARKS = {"basking": "^", "perch": "o", "hide": "s", "retreat": "s", "laying": "D"}
"""Mark of a place by its role; its name stands beside it."""

WARM, BRIGHT, BOTH = "#F3DDC6", "#E4E0F0", "#DDBFC4"
"""Shades of the preferred warmth, of the UV index sought, and of both."""

PLACE = "#25302B"


def drawable(one: Residents) -> bool:
    """True where a body's warmth is known, so that there is something to draw."""
    return any(c.operative is not None for c in one.choices.values())


def choice_chart(habitat: Habitat, residents: Sequence[Residents], kind: str, system: str) -> bytes:
    """A chart of one or more species one under another, each with its seasons side by side; ``png`` or
    ``svg``. All must be `drawable`."""
    with sheet.style():
        high = _HEAD + _ROW * len(residents) + _FOOT
        figure = page(_WIDE, high)
        figure.text(sheet.EDGE / _WIDE, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13,
                    weight="bold", va="center")  # fmt: skip
        for number, one in enumerate(residents):
            top = high - _HEAD - number * _ROW
            told = f"what {clean(one.species.label, 60)} can choose from"
            figure.text(sheet.EDGE / _WIDE, (top - 0.12) / high, capital(told), fontsize=9,
                        color=sheet.SOFT_INK, va="center")  # fmt: skip
            choices = [c for c in one.choices.values() if c.operative is not None]
            wide = (_WIDE - 0.65 - 0.3 - 0.55 * (len(choices) - 1)) / max(len(choices), 1)
            limits = _limits(choices, system)
            for i, choice in enumerate(choices):
                ax = frame(figure, 0.65 + i * (wide + 0.55), top - _ROW + 0.36, wide, _TALL)
                _panel(ax, choice, limits, system)
        figure.text(sheet.EDGE / _WIDE, 0.14 / high, "Large marks: midday; small ones: other hours of "
                    "the day. Triangle basking, circle perch, square hide, diamond laying; ring: a "
                    "spot without a name.",
                    fontsize=7.5, color=sheet.SOFT_INK, va="center")  # fmt: skip
        return sheet.to_bytes(figure, kind.lower())


def _limits(choices: list[Choice], system: str) -> tuple[float, float, float]:
    """Ends of the warmth axis and the top of the UV axis, the same for every season."""
    warm: list[float] = []
    top = 1.0
    for choice in choices:
        assert choice.operative is not None
        shown = quantities.shown_all("operative_temperature", choice.operative[choice.day], system)
        warm += [float(np.nanmin(shown)), float(np.nanmax(shown))]
        warm += [quantities.shown("operative_temperature", v, system)
                 for v in choice.body_band if v is not None]  # fmt: skip
        ends = [v for v in choice.uvi_band if v is not None]
        top = max([top, float(choice.uvi[choice.day].max(initial=0.0)), *ends])
    low, high = min(warm), max(warm)
    edge = 0.06 * (high - low) + 0.5
    return low - edge, high + edge, 1.12 * top


def _around(ax: Axes, x: float, y: float, half: float) -> tuple[float, float, float, float]:
    """The box [pixels] of a mark at a point, ``half`` its size [pixels]."""
    px, py = ax.transData.transform((x, y))
    return float(px - half), float(py - half), float(px + half), float(py + half)


def _panel(ax: Axes, choice: Choice, limits: tuple[float, float, float], system: str) -> None:
    """One season."""
    from matplotlib.patheffects import withStroke

    assert choice.operative is not None
    left, right, top = limits
    ax.set_xlim(left, right)
    ax.set_ylim(-0.03 * top, top)
    body = [None if v is None else quantities.shown("operative_temperature", v, system)
            for v in choice.body_band]  # fmt: skip
    warm = (body[0] if body[0] is not None else left, body[1] if body[1] is not None else right)
    low, high = choice.uvi_band
    bright = (low if low is not None else 0.0, high if high is not None else top)
    if body[0] is not None or body[1] is not None:
        ax.axvspan(*warm, color=WARM, lw=0, zorder=0)
        ax.text(warm[0], top, " preferred warmth", fontsize=7, va="top", color=sheet.SOFT_INK)
    if choice.uvi_source is not None:
        ax.axhspan(*bright, color=BRIGHT, lw=0, zorder=0.1, alpha=0.8)
        ax.text(left, bright[1], " UV sought", fontsize=7, va="top", color=sheet.SOFT_INK)
        if body[0] is not None:
            across = (warm[0] - left) / (right - left), (warm[1] - left) / (right - left)
            ax.axhspan(*bright, *across, color=BOTH, lw=0, zorder=0.2)
    hours = np.flatnonzero(choice.day)
    noon = int(hours[len(hours) // 2])
    wishes, names = [], []
    marks: list[tuple[float, float, float, float]] = []
    for i, name in enumerate(choice.sites):
        x = quantities.shown_all("operative_temperature", choice.operative[:, i], system)
        y = choice.uvi[:, i]
        if choice.roles[i] == SPOT:
            ax.plot(x[noon : noon + 1], y[noon : noon + 1], "o", ms=SPOT_SIZE, mfc="none",
                    mec=sheet.FAINT, mew=0.8, zorder=2.5)  # fmt: skip
            marks.append(_around(ax, float(x[noon]), float(y[noon]), 5.0))
            continue
        mark = MARKS.get(choice.roles[i], "o")
        ax.plot(x[hours], y[hours], mark, ms=2.4, color=sheet.FAINT, zorder=2)
        ax.plot(x[noon : noon + 1], y[noon : noon + 1], mark, ms=7, color=PLACE, mec="white",
                mew=0.8, zorder=3)  # fmt: skip
        anchor = ax.transData.transform((float(x[noon]), float(y[noon])))
        marks += [_around(ax, float(x[h]), float(y[h]), 3.0) for h in hours]
        words = clean(name, 22)
        # Pixels of a text: its points by the sheet's own resolution.
        wide = text_width(words, 7.5 * POINT) / 25.4 * ax.figure.dpi
        wishes.append(Wish(wide + 4.0, 12.0, tuple(anchor), clear=8.0))
        names.append(words)
    box = ax.get_window_extent()
    # A named mark counts ten times: a name over one cannot be told from the name of another.
    marks += [(x - 8, y - 8, x + 8, y + 8) for x, y in (w.anchor for w in wishes)] * 10
    boxes = arrange(wishes, marks, (box.x0, box.y0, box.x1, box.y1))
    for words, wish, place in zip(names, wishes, boxes, strict=True):
        if place is None:
            continue
        middle = ((place[0] + place[2]) / 2, (place[1] + place[3]) / 2)
        near = np.clip(wish.anchor, place[:2], place[2:])
        at = ax.transData.inverted().transform(np.array([middle, near, wish.anchor]))
        # Every line under every name: the rim of a name parts a line that runs behind it.
        ax.plot(*at[1:].T, color=sheet.SOFT_INK, lw=0.5, zorder=3.5)
        ax.text(float(at[0, 0]), float(at[0, 1]), words, fontsize=7.5, zorder=4,
                ha="center", va="center",
                bbox={"boxstyle": "square,pad=0.1", "fc": "white", "ec": "none", "alpha": 0.85},
                path_effects=[withStroke(linewidth=2.2, foreground="white")])  # fmt: skip
    ax.set_xlabel(f"warmth its body takes [{quantities.unit('operative_temperature', system)}]",
                  fontsize=8)  # fmt: skip
    titled(ax, f"UV index, {SEASONS.get(choice.season, choice.season)}")
