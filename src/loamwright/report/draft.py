"""A drawing as data: lines, circles, words and measures in metres, for paper and for a CAD file alike.

Every shape lies on a layer; `LAYERS` says how a layer looks on paper and which colour it has in a
CAD file. Nothing here draws: `draft_page` puts it on a page, `dxf` writes it as a CAD file.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Look:
    """How a layer is drawn: ``pen`` [mm], ``color`` on paper, ``dash`` on and off [mm], empty for a
    whole line, and ``aci``, its number among the standard colours of a CAD file."""

    pen: float
    color: str
    dash: tuple[float, ...] = ()
    aci: int = 7


LAYERS: dict[str, Look] = {
    "OUTLINE": Look(0.35, "#25302B", aci=7),
    "GLASS": Look(0.25, "#4F7F92", aci=4),
    "HIDDEN": Look(0.18, "#5C6862", (1.6, 1.0), aci=8),
    "OPENINGS": Look(0.30, "#9A3B1E", aci=1),
    "GROUND": Look(0.18, "#6B5843", aci=32),
    "HARDSCAPE": Look(0.22, "#7A6143", aci=42),
    "PLANTS": Look(0.18, "#55684F", (0.5, 0.7), aci=92),
    "LAMPS": Look(0.30, "#8A6D00", aci=2),
    "AIR": Look(0.30, "#2F6690", aci=5),
    "MIST": Look(0.25, "#00707A", aci=140),
    "WATER": Look(0.22, "#3C7A9A", aci=150),
    "SITES": Look(0.25, "#25302B", aci=7),
    "DIMENSIONS": Look(0.13, "#25302B", aci=3),
    "TEXT": Look(0.18, "#25302B", aci=7),
    "SHEET": Look(0.45, "#25302B", aci=7),
    "PARTS": Look(0.30, "#25302B", aci=7),
    "HOLES": Look(0.30, "#9A3B1E", aci=1),
    "CUTS": Look(0.25, "#2F6690", (3.0, 1.0, 0.6, 1.0), aci=5),
    "OFFCUTS": Look(0.13, "#A9B2AC", aci=8),
}


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points [m], ``closed`` or not; ``fill`` and ``hatch`` on paper only."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = True
    fill: str = ""
    hatch: str = ""
    alpha: float = 1.0


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle [m]."""

    layer: str
    centre: Point
    radius: float
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Word:
    """A text with its middle at a point [m]; ``size`` [mm] on paper, ``turned`` a quarter to the left,
    ``back`` the colour behind it on paper, ``pad`` [mm] wider than the text on each side."""

    layer: str
    at: Point
    text: str
    size: float = 2.3
    turned: bool = False
    bold: bool = False
    back: str = ""
    pad: float = 0.2


@dataclass(frozen=True, slots=True)
class Chain:
    """Measures one after the other: positions ``at`` [m] along x (``level``) or y, drawn beside the
    coordinate ``beside`` [m] of the other direction, ``off`` [mm] on paper away from it (negative: left
    or below)."""

    at: tuple[float, ...]
    level: bool
    beside: float
    off: float


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number in a circle on paper, ``at`` [m], shifted by ``shift`` [mm]; ``to`` the point a leader
    runs to [m], None without one."""

    layer: str
    at: Point
    text: str
    shift: Point = (0.0, 0.0)
    to: Point | None = None


def balloon_radius(text: str) -> float:
    """Radius of the circle round a number [mm]: three letters need more room than two."""
    return 1.95 if len(text) < 3 else 2.35


Shape = Line | Ring | Word | Chain | Balloon


@dataclass(frozen=True, slots=True)
class Draft:
    """One view: its ``name`` for files, ``title`` and ``shapes``, in the order they are drawn."""

    name: str
    title: str
    shapes: tuple[Shape, ...]


def rectangle(
    layer: str, low: Point, high: Point, fill: str = "", hatch: str = "", alpha: float = 1.0
) -> Line:
    """A rectangle between two corners [m]."""
    points = (low, (high[0], low[1]), high, (low[0], high[1]))
    return Line(layer, points, True, fill, hatch, alpha)


def extent(shapes: tuple[Shape, ...]) -> tuple[Point, Point]:
    """Lower left and upper right corner of what is drawn [m], words and measures not counted."""
    xs, ys = [], []
    for shape in shapes:
        if isinstance(shape, Line):
            xs += [p[0] for p in shape.points]
            ys += [p[1] for p in shape.points]
        elif isinstance(shape, Ring):
            xs += [shape.centre[0] - shape.radius, shape.centre[0] + shape.radius]
            ys += [shape.centre[1] - shape.radius, shape.centre[1] + shape.radius]
    return (min(xs), min(ys)), (max(xs), max(ys))
