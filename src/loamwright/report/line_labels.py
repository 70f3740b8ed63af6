"""Names written at the lines of a chart, where each line stands clear of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.report.labels import Box, overlap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Named:
    """A line, or a single mark, to be named: its points in data units, its name, and the name's
    colour."""

    x: Floats
    y: Floats
    name: str
    color: str


@dataclass(frozen=True, slots=True)
class Region:
    """A band to be named inside: from ``left`` to ``right``, between ``low`` and ``high`` (None: open
    on that side), in data units, its name and the colour of that."""

    left: float
    right: float
    low: float | None
    high: float | None
    name: str
    color: str


def name_all(
    ax: Axes, lines: Sequence[Named], regions: Sequence[Region] = (), size: float = 7.0
) -> None:
    """Name regions just inside their edges and lines just over or under them, where a name covers
    neither a line nor another name. Edges of regions may be written over, but at a cost."""
    frame = ax.get_window_extent(_renderer(ax))
    paths = [ax.transData.transform(np.column_stack([n.x, n.y])) for n in lines]
    edges = [
        ax.transData.transform([(x, level) for x in np.linspace(r.left, r.right, 60)])
        for r in regions for level in (r.low, r.high) if level is not None
    ]  # fmt: skip
    done = _name_regions(ax, regions, paths, frame, size - 0.7)
    for number, named in enumerate(lines):
        if not np.isfinite(named.y).any():
            continue
        text, wide, high = _written(ax, named.name, named.color, size)
        best, least = None, np.inf
        for box in _places(paths[number], wide, high, frame):
            cost = _cost(box, number, paths, done, frame)
            cost += 25.0 * sum(_crossed(box, edge) for edge in edges)
            if cost < least - 1e-9:
                best, least = box, cost
        if best is not None:
            done.append(best)
            _move(ax, text, best)


def _name_regions(
    ax: Axes, regions: Sequence[Region], paths: list[Floats], frame: Any, size: float
) -> list[Box]:
    """Names inside the regions; the boxes they cover [pixels]."""
    done: list[Box] = []
    for region in regions:
        text, wide, high = _written(ax, region.name, region.color, size)
        (left, low), (right, top) = ax.transData.transform(
            [(region.left, region.low or 0.0), (region.right, region.high or 0.0)]
        )
        levels = [top - high / 2 - 1] if region.high is not None else []
        levels += [low + high / 2 + 1] if region.low is not None else []
        levels += [low - high / 2 - 1] if region.low is not None else []
        levels += [top + high / 2 + 1] if region.high is not None else []
        best, least = None, np.inf
        for order, level in enumerate(levels):
            for share in (0.0, 0.25, 0.5, 0.75, 1.0):
                x = left + 3 + wide / 2 + share * max(right - left - wide - 6, 0.0)
                box = (x - wide / 2, level - high / 2, x + wide / 2, level + high / 2)
                cost = 4.0 * order + 2.0 * share + _outside(box, frame)
                cost += 60.0 * sum(_crossed(box, path) for path in paths)
                cost += 30.0 * sum(overlap(box, other) for other in done)
                if cost < least - 1e-9:
                    best, least = box, cost
        assert best is not None
        done.append(best)
        _move(ax, text, best)
    return done


def _renderer(ax: Axes) -> Any:
    return ax.figure.canvas.get_renderer()  # type: ignore[attr-defined]


def _written(ax: Axes, words: str, color: str, size: float) -> tuple[Any, float, float]:
    """The text, and the width and height it needs [pixels]."""
    from matplotlib.patheffects import withStroke

    text = ax.text(0, 0, words, fontsize=size, color=color, ha="center", va="center", zorder=9,
                   path_effects=[withStroke(linewidth=2.2, foreground="white")])  # fmt: skip
    extent = text.get_window_extent(_renderer(ax))
    return text, extent.width + 4.0, extent.height + 1.0


def _move(ax: Axes, text: Any, box: Box) -> None:
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    text.set_position(tuple(ax.transData.inverted().transform(middle)))


def _crossed(box: Box, path: Floats) -> bool:
    inside = path[(path[:, 0] >= box[0]) & (path[:, 0] <= box[2])]
    inside = inside[np.isfinite(inside).all(axis=1)]
    if not len(inside):
        return False
    return bool(inside[:, 1].min() < box[3] and inside[:, 1].max() > box[1])


def _outside(box: Box, frame: Any) -> float:
    out = max(frame.y0 + 1 - box[1], 0.0) + max(box[3] - frame.y1 + 1, 0.0)
    out += max(frame.x0 + 1 - box[0], 0.0) + max(box[2] - frame.x1 + 1, 0.0)
    return 500.0 * float(out)


def _places(path: Floats, wide: float, high: float, frame: Any) -> list[Box]:
    """Boxes along a line, over and under it, that lie on the line's own stretch."""
    out: list[Box] = []
    known = path[np.isfinite(path).all(axis=1)]
    if len(known) == 1:  # a mark: right or left of it, or over or under it aside
        (px, py), gap = known[0], 7.0
        for dx, dy in (
            (1, 0),
            (-1, 0),
            (1, 0.7),
            (-1, 0.7),
            (1, -0.7),
            (-1, -0.7),
            (0, 1),
            (0, -1),
        ):
            x, y = px + dx * (gap + wide / 2), py + dy * (gap + high / 2)
            out.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
        return out
    first = max(float(known[0, 0]), frame.x0) + wide / 2 + 2
    last = min(float(known[-1, 0]), frame.x1) - wide / 2 - 2
    for x in np.linspace(first, last, 49) if last > first else [(first + last) / 2]:
        near = known[np.abs(known[:, 0] - x) <= wide / 2 + 1]
        if not len(near):
            continue
        # Off the line by what it climbs within the name, so that the name does not cross it.
        for y in (near[:, 1].max() + high / 2 + 2, near[:, 1].min() - high / 2 - 2):
            out.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
    return out


def _cost(box: Box, own: int, paths: list[Floats], taken: list[Box], frame: Any) -> float:
    """How bad a place is: what is crossed, how close the next line is, how far it is off its own."""
    cost = 0.0
    middle = (box[1] + box[3]) / 2
    for number, path in enumerate(paths):
        inside = path[(path[:, 0] >= box[0] - 2) & (path[:, 0] <= box[2] + 2)]
        inside = inside[np.isfinite(inside).all(axis=1)]
        if not len(inside):
            continue
        gap = np.maximum(np.maximum(box[1] - inside[:, 1], inside[:, 1] - box[3]), 0.0)
        if number == own:
            # Steep stretches carry a name badly: it hangs far off its line.
            cost += 0.6 * float(np.abs(inside[:, 1] - middle).max())
        else:
            cost += 4000.0 * float((gap <= 0.5).any()) + 300.0 / (float(gap.min()) + 4.0)
    for other in taken:
        cost += 30.0 * overlap(box, other)
    return cost + _outside(box, frame)
