"""A draft on a page of paper, to scale, in millimetres. Matplotlib is imported when used."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from loamwright.report import figure as sheet
from loamwright.report.draft import (
    LAYERS,
    Chain,
    Draft,
    Line,
    Point,
    Ring,
    Word,
    balloon_radius,
)  # fmt: skip
from loamwright.report.quantities import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

POINT = 25.4 / 72.0
"""A printer's point [mm]."""

PAPERS: dict[str, tuple[float, float]] = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
"""Pages lying, width and height [mm]: ISO 216 A4; ANSI A."""

SCALES = {"metric": (1, 2, 5, 10, 15, 20, 25, 50, 100), "us": (1, 2, 4, 6, 8, 12, 16, 24, 48, 96)}
"""Scales 1 : n that drawings are made in; those of inches divide the foot evenly."""

SMALL = 2.1
"""Height of the text of measures [mm]: the size a font is named by."""


def size_words(value: float, system: str) -> str:
    """A length [m] as the workshop writes it: millimetres, or inches with sixteenths."""
    if system == "us":
        return measure(value, "us")
    text = f"{1000.0 * value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def scale_for(size: Point, room: Point, system: str) -> int:
    """The largest usual scale 1 : n at which a size [m] fits into a room [mm]."""
    for n in SCALES[system]:
        if size[0] * 1000.0 / n <= room[0] and size[1] * 1000.0 / n <= room[1]:
            return n
    return SCALES[system][-1]


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text set in a size [mm]."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    if not text.strip():
        return 0.0
    font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    box = TextPath((0.0, 0.0), text, size=size, prop=font, usetex=False).get_extents()
    return float(box.x1)


def fitted(
    text: str, size: float, room: float, least: float = 1.4, bold: bool = False
) -> float | None:
    """The size [mm] at which a text fits a room [mm]; None where it would be smaller than ``least``."""
    wide = text_width(text, size, bold)
    if wide <= room:
        return size
    smaller = size * room / wide
    return smaller if smaller >= least else None


class Page:
    """A page being drawn on: everything by millimetres from its lower left corner."""

    def __init__(self, width: float, height: float) -> None:
        import matplotlib.figure

        self.width, self.height = width, height
        self.figure: Figure = matplotlib.figure.Figure(figsize=(width / 25.4, height / 25.4))
        self.axes: Axes = self.figure.add_axes((0.0, 0.0, 1.0, 1.0))
        self.axes.set_xlim(0.0, width)
        self.axes.set_ylim(0.0, height)
        self.axes.set_axis_off()

    def line(self, points: list[Point], layer: str, **look: Any) -> None:
        """A line; ``closed``, ``fill``, ``hatch``, ``alpha``, ``pen`` as wanted."""
        from matplotlib.patches import Polygon

        style = LAYERS[layer]
        given: dict[str, Any] = {
            "closed": look.get("closed", True),
            "fill": bool(look.get("fill")),
            "edgecolor": look.get("color", style.color),
            "lw": look.get("pen", style.pen) / POINT,
            "joinstyle": "miter",
            "zorder": look.get("zorder", 2.0),
        }
        if look.get("fill"):
            given["facecolor"] = look["fill"]
        if style.dash:
            given["ls"] = (0.0, tuple(d / style.pen for d in style.dash))
        if look.get("hatch"):
            given["hatch"] = look["hatch"]
        if look.get("alpha", 1.0) < 1.0:
            # Only the fill is faint; the outline stays.
            self.axes.add_artist(Polygon(points, **{**given, "alpha": look["alpha"], "lw": 0.0}))
            given |= {"fill": False}
            given.pop("hatch", None)
        self.axes.add_artist(Polygon(points, **given))

    def text(self, x: float, y: float, words: str, size: float = 2.5, **look: Any) -> None:
        """A text at a point; ``ha``, ``va``, ``bold``, ``turned``, ``color``, ``back`` as wanted;
        ``back`` is a colour, ``pad`` [mm] wider than the text on each side."""
        given: dict[str, Any] = {
            "fontsize": size / POINT,
            "ha": look.get("ha", "left"),
            "va": look.get("va", "baseline"),
            "color": look.get("color", sheet.INK),
            "weight": "bold" if look.get("bold") else "normal",
            "rotation": 90.0 if look.get("turned") else 0.0,
            "zorder": look.get("zorder", 9.0),
        }
        if look.get("back"):
            given["bbox"] = {"facecolor": look["back"], "edgecolor": "none",
                             "pad": look.get("pad", 0.2) / POINT}  # fmt: skip
        self.axes.text(x, y, words, **given)

    def balloon(self, x: float, y: float, words: str, color: str) -> None:
        """A number in a circle."""
        from matplotlib.patches import Circle

        size = 1.9 if len(words) < 3 else 1.8
        self.axes.add_artist(
            Circle((x, y), balloon_radius(words), facecolor="white", edgecolor=color,
                   lw=0.25 / POINT, zorder=9.5)
        )  # fmt: skip
        self.axes.text(x, y - 0.05, words, fontsize=size / POINT, ha="center", va="center_baseline",
                       color=color, zorder=9.6)  # fmt: skip

    def leader(self, end: Point, start: Point, color: str) -> None:
        """A line from a number to a dot on its thing."""
        from matplotlib.patches import Circle

        self.line([end, start], "DIMENSIONS", closed=False, zorder=9.0, color=color, pen=0.18)
        self.axes.add_artist(Circle(end, 0.4, facecolor=color, edgecolor="none", zorder=9.2))

    def bytes(self, kind: str) -> bytes:
        """The page as a file."""
        return sheet.to_bytes(self.figure, kind)


def place(page: Page, draft: Draft, scale: int, origin: Point, system: str) -> None:
    """Draw a draft; ``origin`` is where its point (0, 0) comes to lie [mm]."""

    def at(point: Point) -> Point:
        return origin[0] + 1000.0 * point[0] / scale, origin[1] + 1000.0 * point[1] / scale

    for number, shape in enumerate(draft.shapes):
        depth = 2.0 + 0.001 * number
        if isinstance(shape, Line):
            page.line([at(p) for p in shape.points], shape.layer, closed=shape.closed,
                      fill=shape.fill, hatch=shape.hatch, alpha=shape.alpha, zorder=depth)  # fmt: skip
        elif isinstance(shape, Ring):
            _ring(page, at(shape.centre), 1000.0 * shape.radius / scale, shape, depth)
        elif isinstance(shape, Word):
            page.text(*at(shape.at), shape.text, shape.size, ha="center", va="center",
                      bold=shape.bold, turned=shape.turned, back=shape.back, pad=shape.pad,
                      color=LAYERS[shape.layer].color)  # fmt: skip
        elif isinstance(shape, Chain):
            _chain(page, shape, scale, at, system)
        else:
            x, y = at(shape.at)
            x, y = x + shape.shift[0], y + shape.shift[1]
            if shape.to is not None:
                page.leader(at(shape.to), (x, y), LAYERS[shape.layer].color)
            page.balloon(x, y, shape.text, LAYERS[shape.layer].color)


def _ring(page: Page, centre: Point, radius: float, shape: Ring, depth: float) -> None:
    from matplotlib.patches import Circle

    look = LAYERS[shape.layer]
    page.axes.add_artist(
        Circle(centre, radius, fill=bool(shape.fill), facecolor=shape.fill or "none",
               edgecolor=look.color, lw=look.pen / POINT, zorder=depth)
    )  # fmt: skip


def _chain(page: Page, chain: Chain, scale: int, at: Any, system: str) -> None:
    """A line of measures with oblique ticks. A measure too long for its place stands beyond the end of
    the line where it is the first or last; else away from the line: under a level line on a short
    leader, over it upright, beside an upright line lying."""
    level, color = chain.level, LAYERS["DIMENSIONS"].color
    beside = at((0.0, chain.beside))[1] if level else at((chain.beside, 0.0))[0]
    line = beside + chain.off
    ends = [at((p, 0.0))[0] if level else at((0.0, p))[1] for p in chain.at]

    def spot(along: float, away: float) -> Point:
        return (along, away) if level else (away, along)

    def draw(*points: Point, pen: float = 0.13) -> None:
        page.line(list(points), "DIMENSIONS", closed=False, pen=pen, zorder=8.0)

    sign = 1.0 if chain.off >= 0 else -1.0
    told = [size_words(b - a, system) for a, b in pairwise(chain.at)]
    fits = [
        text_width(w, SMALL) + 1.6 <= b - a for w, (a, b) in zip(told, pairwise(ends), strict=True)
    ]
    # The line runs on under a measure beyond its end.
    over = [1.2 if fits[k] else 2.4 + text_width(told[k], SMALL) for k in (0, -1)]
    if len(told) == 1:
        over[0] = 1.2
    draw(spot(ends[0] - over[0], line), spot(ends[-1] + over[1], line))
    for end in ends:
        draw(spot(end, beside + 0.8 * sign), spot(end, line + 1.2 * sign))
        draw((spot(end, line)[0] - 0.8, spot(end, line)[1] - 0.8),
             (spot(end, line)[0] + 0.8, spot(end, line)[1] + 0.8), pen=0.3)  # fmt: skip
    last = beyond_row = -1e9
    for k, (a, b) in enumerate(pairwise(ends)):
        words, middle = told[k], (a + b) / 2
        beyond = None
        if not fits[k] and k == len(told) - 1:
            beyond = b + 1.8 + text_width(words, SMALL) / 2
        elif not fits[k] and k == 0:
            beyond = a - 1.8 - text_width(words, SMALL) / 2
        if fits[k] or beyond is not None:
            # Above a level line, left of an upright one, as drawings are read.
            x, y = spot(middle if beyond is None else beyond, line + (0.5 if level else -0.5))
            page.text(x, y, words, SMALL, ha="center" if level else "right",
                      va="bottom" if level else "center", turned=not level, color=color)  # fmt: skip
            continue
        if level and sign < 0.0:
            # Lying, between this line and the next further out, on a short leader, and towards the
            # middle of the chain, so that no line of the next one's ends runs through it.
            left = middle < (ends[0] + ends[-1]) / 2
            wide = text_width(words, SMALL)
            low = middle - 0.4 if left else middle + 0.4 - wide
            row = 1 if low < beyond_row else 0
            beyond_row = low + wide + 0.8
            foot = line - 1.7 - row * 1.1 * SMALL
            draw((middle, line), (middle, foot))
            page.text(low, foot - 0.2, words, SMALL, va="top", color=color, back="white")
            continue
        middle = max(middle, last + SMALL * 1.15)
        last = middle
        x, y = spot(middle, line + (1.6 if level else 2.4) * sign)
        if level:
            page.text(x, y, words, SMALL, ha="center", va="bottom",
                      turned=True, color=color, back="white")  # fmt: skip
        else:
            page.text(x, y, words, SMALL, ha="left" if sign > 0 else "right", va="center",
                      color=color, back="white")  # fmt: skip
