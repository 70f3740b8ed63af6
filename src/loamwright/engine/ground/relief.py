"""Slopes and terraces: the ground cut into cells in which every face is a plane."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.engine.ground.displaced import Plane, Rect, piece_below, piece_under
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.ground import Layer
from loamwright.habitat.hardscape import Piece


@dataclass(frozen=True, slots=True)
class Cell:
    """A rectangle of the floor on which no terrace begins or ends: its edges left, right, front and
    back [m]."""

    left: float
    right: float
    front: float
    back: float

    @property
    def area(self) -> float:
        """Its area [m2]."""
        return (self.right - self.left) * (self.back - self.front)

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle [m]."""
        return 0.5 * (self.left + self.right), 0.5 * (self.front + self.back)

    @property
    def rect(self) -> Rect:
        """Its edges."""
        return self.left, self.right, self.front, self.back


def cells(box: Enclosure, layers: Sequence[Layer]) -> list[Cell]:
    """The floor between the linings, cut where a terrace of a layer begins or ends."""
    left, right, front, back = box.floor
    xs, ys = {left, right}, {front, back}
    for layer in layers:
        for step in layer.relief.terraces if layer.relief else ():
            xs |= {x for x in (step.low[0], step.high[0]) if left < x < right}
            ys |= {y for y in (step.low[1], step.high[1]) if front < y < back}
    return [
        Cell(x0, x1, y0, y1)
        for x0, x1 in itertools.pairwise(sorted(xs))
        for y0, y1 in itertools.pairwise(sorted(ys))
    ]


def face(layers: Sequence[Layer], cell: Cell) -> Plane:
    """The plane on which layers end within a cell: height at x = y = 0 [m] and rise along x and y."""
    x, y = cell.middle
    height = sum(layer.depth_at(x, y) for layer in layers)
    along_x = sum(layer.relief.slope[0] for layer in layers if layer.relief)
    along_y = sum(layer.relief.slope[1] for layer in layers if layer.relief)
    return height - along_x * x - along_y * y, along_x, along_y


def taken_up(
    pieces: Sequence[Piece], box: Enclosure, layers: Sequence[Layer], floor: Sequence[Cell]
) -> float:
    """Volume that pieces take up below the upper face of the last of some layers [m3]."""
    if all(layer.relief is None for layer in layers):
        top = sum(layer.depth for layer in layers)
        return sum(piece_below(piece, top) for piece in pieces)
    return sum(
        piece_under(piece, face(layers, cell), cell.rect) for piece in pieces for cell in floor
    )


def extremes(layer: Layer, floor: Sequence[Cell]) -> tuple[float, float]:
    """Least and greatest depth of a layer [m]."""
    if layer.relief is None:
        return layer.depth, layer.depth
    found = []
    for cell in floor:
        base, along_x, along_y = face([layer], cell)
        found += [
            base + along_x * x + along_y * y
            for x in (cell.left, cell.right)
            for y in (cell.front, cell.back)
        ]
    return min(found), max(found)


def centroid(layer: Layer, floor: Sequence[Cell]) -> tuple[float, float]:
    """Middle of a layer's volume, seen from above [m]; pieces in it are left out."""
    volume = moment_x = moment_y = 0.0
    for cell in floor:
        base, along_x, along_y = face([layer], cell)
        x, y = cell.middle
        held = cell.area * (base + along_x * x + along_y * y)
        # A plane's moment about the cell's middle: slope times the second moment of the rectangle.
        wide, deep = cell.right - cell.left, cell.back - cell.front
        moment_x += held * x + along_x * cell.area * wide**2 / 12.0
        moment_y += held * y + along_y * cell.area * deep**2 / 12.0
        volume += held
    return moment_x / volume, moment_y / volume
