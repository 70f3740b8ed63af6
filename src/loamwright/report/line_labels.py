"""Names written at the lines of a chart, where each line stands clear of the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.report.labels import Box

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

TOUCH = 1.6
"""Distance [pixels of 1/100 in] under which a name touches a line: half the line's own width."""

_CROSSED, _TAKEN, _EDGE, _UPRIGHT = 4000.0, 6000.0, 700.0, 400.0
"""Costs of a place: over a line, over another name, over an edge of a region, over an upright."""

_ALIKE = 1.5
"""Distance [pixels] within which two lines hide each other."""

_RING = 5.0
"""Radius [pixels] of a mark, with its edge."""


@dataclass(frozen=True, slots=True)
class Named:
    """A line, or a single mark, to be named: its points in data units, its name, and the name's
    colour. A line without a name is one that no name may touch."""

    x: Floats
    y: Floats
    name: str
    color: str


@dataclass(frozen=True, slots=True)
class Region:
    """A band to be named inside: from ``left`` to ``right``, between ``low`` and ``high`` (None: open
    on that side), in data units, its name and the colour of that; ``also`` the further stretches
    (left, right) in which it holds."""

    left: float
    right: float
    low: float | None
    high: float | None
    name: str
    color: str
    also: tuple[tuple[float, float], ...] = ()


def name_all(
    ax: Axes,
    lines: Sequence[Named],
    regions: Sequence[Region] = (),
    size: float = 7.0,
    uprights: Sequence[float] = (),
) -> None:
    """Name regions inside their edges or close by, and lines just over or under them, where a name
    covers neither a line nor another name; ``uprights`` are places along the axis [data] that a name
    had better not stand across. Lines that hide each other share one name. A region for whose name
    there is no such place is named over the axes, at the right of their title, which must be set
    before; where that is full, the name stands off and a line leads to its region."""
    frame = ax.get_window_extent(_renderer(ax))
    lines = _together(ax, [n for n in lines if np.isfinite(n.y).any()])
    paths = [_dense(_shown(ax, n)) for n in lines]
    across = ax.transData.transform([(x, 0.0) for x in uprights])[:, 0] if len(uprights) else ()
    edges = [
        _dense(ax.transData.transform([(left, level), (right, level)]))
        for r in regions for left, right in ((r.left, r.right), *r.also)
        for level in (r.low, r.high) if level is not None
    ]  # fmt: skip
    drawn = _Drawn(paths, edges, np.asarray(across, float), frame, [])
    _name_regions(ax, regions, drawn, size - 0.5)
    for number, named in enumerate(lines):
        if not named.name:
            continue
        text = _text(ax, named.color, size)
        wide, high = _measured(ax, text, named.name)
        path = _shown(ax, named)
        boxes = np.array(_places(path[np.isfinite(path).all(axis=1)], wide, high, frame))
        cost = drawn.cost(boxes) + _own_cost(boxes, number, paths, mark=len(named.x) == 1)
        box = boxes[int(np.argmin(cost))]
        _settle(ax, text, box, drawn)
        gaps = [float(_gaps(box[None], p)[0]) for p in paths]
        if len(named.x) > 1 and gaps[number] > min(gaps) + 0.5:
            _lead(ax, box, paths[number], named.color)


def _lead(ax: Axes, box: Floats, path: Floats, color: str) -> None:
    """A thin line from a name to what it names, where something else is nearer."""
    middle = (box[0] + box[2]) / 2
    end = path[int(np.argmin(np.abs(path[:, 0] - middle)))]
    start = (middle, box[1] if end[1] < box[1] else box[3])
    xs, ys = ax.transData.inverted().transform([start, tuple(end)]).T
    ax.plot(xs, ys, color=color, lw=0.7, zorder=5)


def name_ends(ax: Axes, lines: Sequence[Named], size: float = 7.5) -> None:
    """Name lines right of their last points, in the order of these, apart from one another: a name
    that is not beside its own end is led to it by a thin line. To be called once the axes have their
    scales."""
    if not lines:
        return
    ends = [float(_shown(ax, n)[-1, 1]) for n in lines]
    order = sorted(range(len(lines)), key=lambda k: ends[k])
    step = 1.35 * size * ax.figure.dpi / 72.0
    places = _apart([ends[k] for k in order], step)
    edge, pixel = ax.get_window_extent(_renderer(ax)).x1, ax.figure.dpi / 72.0
    for k, y in zip(order, places, strict=True):
        named, moved = lines[k], abs(y - ends[k]) > 1.0
        at = ax.transAxes.inverted().transform((edge + (12 if moved else 5) * pixel, y))
        ax.text(at[0], at[1], named.name, transform=ax.transAxes, va="center", fontsize=size,
                color=named.color)  # fmt: skip
        if moved:
            led = [(edge + 2 * pixel, ends[k]), (edge + 10 * pixel, y)]
            xs, ys = ax.transAxes.inverted().transform(led).T
            ax.plot(xs, ys, transform=ax.transAxes, color=named.color, lw=0.6, clip_on=False)


def _apart(wished: Sequence[float], step: float) -> list[float]:
    """Places in rising order, at least a step apart, that lie as close to those wished for (rising)
    as that allows: those that would touch are set evenly about their middle."""
    groups: list[list[float]] = []  # each: sum of what its members wish for its first, and its size
    for k, y in enumerate(wished):
        groups.append([y - k * step, 1.0])
        while len(groups) > 1 and groups[-2][0] / groups[-2][1] > groups[-1][0] / groups[-1][1]:
            total, count = groups.pop()
            groups[-1] = [groups[-1][0] + total, groups[-1][1] + count]
    base = [total / count for total, count in groups for _ in range(int(count))]
    return [y + k * step for k, y in enumerate(base)]


@dataclass(slots=True)
class _Drawn:
    """What a name must keep off, in pixels: lines, edges of regions, uprights, other names."""

    paths: list[Floats]
    edges: list[Floats]
    across: Floats
    frame: Any
    taken: list[Box]

    def cost(self, boxes: Floats) -> Floats:
        """What the boxes (n, 4) cover, as costs (n,)."""
        out = np.zeros(len(boxes))
        for path in self.paths:
            out += _CROSSED * (_gaps(boxes, path) < TOUCH)
        for edge in self.edges:
            out += _EDGE * (_gaps(boxes, edge) < 0.8)
        for x in self.across:
            out += _UPRIGHT * ((boxes[:, 0] < x) & (boxes[:, 2] > x))
        for left, low, right, top in self.taken:
            apart = np.maximum(
                np.maximum(left - boxes[:, 2], boxes[:, 0] - right),
                np.maximum(low - boxes[:, 3], boxes[:, 1] - top),
            )
            out += _TAKEN * (apart < 2.0)
        f = self.frame
        beyond = np.maximum(f.x0 + 1 - boxes[:, 0], 0) + np.maximum(boxes[:, 2] - f.x1 + 1, 0)
        beyond += np.maximum(f.y0 + 1 - boxes[:, 1], 0) + np.maximum(boxes[:, 3] - f.y1 + 1, 0)
        costs: Floats = out + 500.0 * beyond
        return costs


def _own_cost(boxes: Floats, own: int, paths: list[Floats], *, mark: bool) -> Floats:
    """How far the boxes are off what they name, and how close to other lines (n,)."""
    gap = _gaps(boxes, paths[own])
    if mark:
        return 3.0 * gap
    middles = (boxes[:, 1] + boxes[:, 3]) / 2
    path, out = paths[own], 2.0 * gap
    for row, box in enumerate(boxes):
        inside = path[(path[:, 0] >= box[0]) & (path[:, 0] <= box[2]), 1]
        if len(inside):  # Steep stretches carry a name badly: it hangs far off its line.
            out[row] += 0.6 * float(np.abs(inside - middles[row]).max())
    for number, other in enumerate(paths):
        if number != own:
            beside = _gaps(boxes, other)
            out += 300.0 / (beside + 4.0) + 200.0 * (beside <= gap)
    return out


def _together(ax: Axes, lines: Sequence[Named]) -> list[Named]:
    """Lines of which one hides another under one name, in the colour of the one that is seen."""
    out: list[Named] = []
    for named in lines:
        for row, other in enumerate(out):
            if len(named.x) > 1 and named.name and other.name and np.array_equal(named.x, other.x):
                apart = np.abs(_shown(ax, named) - _shown(ax, other))[:, 1]
                known = apart[np.isfinite(apart)]
                if len(known) and float(np.quantile(known, 0.97)) <= _ALIKE:
                    out[row] = replace(named, name=both(other.name, named.name))
                    break
        else:
            out.append(named)
    return out


def both(one: str, other: str) -> str:
    """Two names as one, the last words told once where they are the same: ``burrow hide, crevice
    air``."""
    if one == other:
        return one
    if "(" in one + other:
        return f"{one}, {other}"
    a, b, shared = one.split(), other.split(), 0
    while shared < min(len(a), len(b)) - 1 and a[-1 - shared] == b[-1 - shared]:
        shared += 1
    return f"{' '.join(a[: len(a) - shared])}, {other}"


def _name_regions(ax: Axes, regions: Sequence[Region], drawn: _Drawn, size: float) -> None:
    """Names inside the regions, or just outside, on one line or two; over the axes where none fits."""
    right = drawn.frame.x1
    for region in regions:
        text = _text(ax, region.color, size)
        best, least, said = None, np.inf, region.name
        for words in (region.name, _halved(region.name)):
            wide, high = _measured(ax, text, words)
            boxes, cost = _inside(ax, region, wide, high)
            cost = cost + drawn.cost(boxes) + (6.0 if "\n" in words else 0.0)
            row = int(np.argmin(cost))
            if cost[row] < least - 1e-9:
                best, least, said = boxes[row], float(cost[row]), words
        if best is None or least >= _EDGE:
            left = right - _measured(ax, text, region.name)[0]
            if left > _title_end(ax):
                _over_axes(ax, text, left, drawn.frame)
                right = left - 8.0
                continue
            said = _halved(region.name)
            best = _far_off(ax, region, drawn, *_measured(ax, text, said))
        text.set_text(said)
        _settle(ax, text, best, drawn)


def _far_off(ax: Axes, region: Region, drawn: _Drawn, wide: float, high: float) -> Floats:
    """The best box anywhere within the axes, with a line from it to the nearest point of the region."""
    f = drawn.frame
    xs = np.linspace(f.x0 + 5 + wide / 2, max(f.x1 - 5 - wide / 2, f.x0 + 5 + wide / 2), 41)
    ys = np.arange(f.y0 + high / 2 + 2, f.y1 - high / 2 - 1, 4.0)
    x, y = (v.ravel() for v in np.meshgrid(xs, ys))
    boxes = np.column_stack([x - wide / 2, y - high / 2, x + wide / 2, y + high / 2])
    bottom, top = ax.get_ylim()
    (left, low), (right, up) = ax.transData.transform(
        [(region.left, bottom if region.low is None else region.low),
         (region.right, top if region.high is None else region.high)]
    )  # fmt: skip
    to = np.column_stack([np.clip(x, left, right), np.clip(y, low, up)])
    cost = drawn.cost(boxes) + np.hypot(x - to[:, 0], y - to[:, 1])
    row = int(np.argmin(cost))
    if _gaps(boxes[row][None], to[row][None])[0] > 0.0:
        _lead(ax, boxes[row], to[row][None], region.color)
    best: Floats = boxes[row]
    return best


def _title_end(ax: Axes) -> float:
    """Where the title over the axes ends [pixels], and a gap after it."""
    title = ax._left_title  # type: ignore[attr-defined]
    extent = title.get_window_extent(_renderer(ax))
    return float(extent.x1) + 8.0


def _over_axes(ax: Axes, text: Any, left: float, frame: Any) -> None:
    """Put a text over the axes. It is set from its left: letters painted with a halo are a little
    narrower than measured."""
    text.set(ha="left", va="baseline", transform=ax.transAxes)
    above = frame.y1 + 4.0 * ax.figure.dpi / 72.0
    text.set_position(tuple(ax.transAxes.inverted().transform((left, above))))


def _inside(ax: Axes, region: Region, wide: float, high: float) -> tuple[Floats, Floats]:
    """Boxes for a region's name (n, 4) in all its stretches, and how far each is from the best
    place (n,): inside, under the upper edge, at the left."""
    boxes: list[Box] = []
    costs: list[float] = []
    for number, (start, end) in enumerate(((region.left, region.right), *region.also)):
        (left, low), (right, top) = ax.transData.transform(
            [(start, region.low or 0.0), (end, region.high or 0.0)]
        )
        half = high / 2
        levels: list[tuple[float, float]] = []
        if region.low is not None and region.high is not None:
            between = np.arange(top - half - 2, low + half + 1.5, -3.0)
            levels += [(float(y), 0.3 * k) for k, y in enumerate(between)]
        elif region.high is not None:
            levels += [(top - half - 2, 0.0), (top - half - 7, 4.0)]
        if region.low is not None:
            levels += [(low + half + 2, 1.0)] if region.high is None else []
            levels += [(low - half - 2, 12.0)]
        if region.high is not None:
            levels += [(top + half + 2, 12.0)]
        if right - left < wide + 4:
            continue
        for level, cost in levels:
            for share in np.linspace(0.0, 1.0, 33):
                x = left + 5 + wide / 2 + share * max(right - left - wide - 10, 0.0)
                boxes.append((x - wide / 2, level - half, x + wide / 2, level + half))
                costs.append(cost + 3.0 * float(share) + 5.0 * number)
    if not boxes:  # No stretch is as wide as the name.
        return np.zeros((1, 4)), np.array([np.inf])
    return np.array(boxes), np.array(costs)


def _halved(words: str) -> str:
    """A name on two lines, parted at the space nearest to its middle."""
    spaces = [k for k, c in enumerate(words) if c == " "]
    if not spaces:
        return words
    at = min(spaces, key=lambda k: abs(2 * k - len(words)))
    return f"{words[:at]}\n{words[at + 1 :]}"


def _renderer(ax: Axes) -> Any:
    return ax.figure.canvas.get_renderer()  # type: ignore[attr-defined]


def _shown(ax: Axes, named: Named) -> Floats:
    """A line's points in pixels (n, 2)."""
    found: Floats = ax.transData.transform(np.column_stack([named.x, named.y]))
    return found


def _dense(path: Floats) -> Floats:
    """Points on a line at most 2 pixels apart (m, 2), those of a ring for a single point: a steep
    stretch between two rows counts as drawn, too."""
    if len(path) == 1:
        turn = np.linspace(0.0, 2.0 * np.pi, 24)
        around: Floats = path[0] + _RING * np.column_stack([np.cos(turn), np.sin(turn)])
        return around
    steps = np.abs(np.diff(path, axis=0)).max(axis=1)
    counts = np.ceil(np.nan_to_num(steps, nan=1.0, posinf=1.0) / 2.0).clip(1, 2000).astype(int)
    row = np.repeat(np.arange(len(counts)), counts)
    share = (np.arange(len(row)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[row]
    points = path[row] + share[:, None] * (path[row + 1] - path[row])
    points = np.concatenate([points, path[-1:]])
    known: Floats = points[np.isfinite(points).all(axis=1)]
    return known


def _gaps(boxes: Floats, points: Floats) -> Floats:
    """Distance of each box (n, 4) from the nearest of the points (m, 2), 0 where one is inside."""
    x, y = points[:, 0], points[:, 1]
    dx = np.maximum(np.maximum(boxes[:, :1] - x, x - boxes[:, 2:3]), 0.0)
    dy = np.maximum(np.maximum(boxes[:, 1:2] - y, y - boxes[:, 3:4]), 0.0)
    found: Floats = np.hypot(dx, dy).min(axis=1)
    return found


def _text(ax: Axes, color: str, size: float) -> Any:
    from matplotlib.patheffects import withStroke

    return ax.text(0, 0, "", fontsize=size, color=color, ha="center", va="center", zorder=9,
                   linespacing=1.05,
                   path_effects=[withStroke(linewidth=2.2, foreground="white")])  # fmt: skip


def _measured(ax: Axes, text: Any, words: str) -> tuple[float, float]:
    """Width and height that a text needs with these words [pixels]."""
    text.set_text(words)
    extent = text.get_window_extent(_renderer(ax))
    return extent.width + 4.0, extent.height + 1.0


def _settle(ax: Axes, text: Any, box: Floats, drawn: _Drawn) -> None:
    """Put a text into its box."""
    left, low, right, top = (float(v) for v in box)
    drawn.taken.append((left, low, right, top))
    middle = ((left + right) / 2, (low + top) / 2)
    text.set_position(tuple(ax.transData.inverted().transform(middle)))


def _places(known: Floats, wide: float, high: float, frame: Any) -> list[Box]:
    """Boxes beside a mark, or along a line, over and under it, on the line's own stretch."""
    out: list[Box] = []
    if len(known) == 1:
        px, py = known[0]
        for gap in (2.5, 5.0, 8.0, 12.0):
            for turn in np.linspace(0.0, 2.0 * np.pi, 32, endpoint=False):
                dx, dy = np.cos(turn), np.sin(turn)
                x, y = px + dx * (_RING + gap + wide / 2), py + dy * (_RING + gap + high / 2)
                out.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
        return out
    dense = _dense(known)
    first = max(float(known[0, 0]), frame.x0) + wide / 2 + 5
    last = min(float(known[-1, 0]), frame.x1) - wide / 2 - 5
    for x in np.linspace(first, last, 61) if last > first else [(first + last) / 2]:
        near = dense[np.abs(dense[:, 0] - x) <= wide / 2 + 1]
        if not len(near):
            continue
        # Off the line by what it climbs within the name, so that the name does not cross it.
        for off in (2.0, 5.0):
            for y in (near[:, 1].max() + high / 2 + off, near[:, 1].min() - high / 2 - off):
                out.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
    return out
