"""What is written on a chart, and where its lines run: for tests that no word lies on either."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, pairwise

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from loamwright.report import figure as sheet


def drawn(draw: Callable[[], bytes]) -> Figure:
    """The figure a report paints, without painting it."""
    found: list[Figure] = []

    def keep(figure: Figure, kind: str) -> bytes:
        figure.draw_without_rendering()
        found.append(figure)
        return b""

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sheet, "to_bytes", keep)
        draw()
    return found[0]


def _ticks(ax: Axes) -> list[Text]:
    """Labels of the ticks that are shown."""
    out: list[Text] = []
    for axis in (ax.xaxis, ax.yaxis):
        low, high = sorted(axis.get_view_interval())
        out += [label for tick in axis.get_major_ticks() for label in (tick.label1, tick.label2)
                if low - 1e-9 <= tick.get_loc() <= high + 1e-9 and label.get_visible()]  # fmt: skip
    return out


def texts(figure: Figure) -> list[tuple[Text, Bbox]]:
    """What is written on a figure, with its boxes [pixels]."""
    found = list(figure.texts)
    for ax in figure.axes:
        found += [*ax.texts, ax.title, ax._left_title, ax._right_title]  # type: ignore[attr-defined]
        found += [ax.xaxis.label, ax.yaxis.label, *_ticks(ax)]
    # The box of the words alone, without the arrow of a note.
    return [
        (t, Text.get_window_extent(t)) for t in found if t.get_visible() and t.get_text().strip()
    ]


def apart(figure: Figure) -> int:
    """How many words a figure has; fails where one lies on another or runs off the figure."""
    return clear_of(figure, [(t.get_text(), b) for t, b in texts(figure)])


def clear_of(figure: Figure, boxes: list[tuple[str, Bbox]]) -> int:
    """How many words there are; fails where a box lies on another or runs off the figure."""
    wide, high = figure.bbox.width, figure.bbox.height
    for words, b in boxes:
        assert min(b.x0, b.y0, wide - b.x1, high - b.y1) > 0.0, words
    for (one, a), (other, b) in combinations(boxes, 2):
        shared = min(min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0))
        # A letter's box is higher than the letter: a pixel more is no touch.
        assert shared <= 1.0, (one, other, shared)
    return len(boxes)


def _points(path: np.ndarray) -> np.ndarray:
    """Points on a drawn line, one at least every half pixel."""
    out = [path[:1]]
    for a, b in pairwise(path):
        if np.isfinite([a, b]).all():
            count = int(np.ceil(2.0 * np.abs(b - a).max())) + 1
            out.append(a + np.linspace(0.0, 1.0, count)[:, None] * (b - a))
    return np.concatenate(out)


def struck(figure: Figure) -> list[tuple[str, str]]:
    """Words within axes that a line of these axes runs through, with the title of the axes. Lines of
    the grid do not count."""
    out = []
    for ax in figure.axes:
        lines = [_points(line.get_transform().transform(line.get_xydata())) for line in ax.lines]
        for text in ax.texts:
            box = Text.get_window_extent(text)
            for points in lines:
                x, y = points.T
                within = (x > box.x0) & (x < box.x1) & (y > box.y0) & (y < box.y1)
                if within.any():
                    out.append((text.get_text(), ax.get_title(loc="left")))
                    break
    return out
