"""Rectangles of whole numbers: what is cut, what it is cut from, and where it lies."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Item:
    """A rectangle to cut; ``turns`` True where it may lie turned by a quarter."""

    width: int
    height: int
    turns: bool = True

    @property
    def ways(self) -> tuple[tuple[int, int], ...]:
        """Its sizes as it may lie."""
        if self.turns and self.width != self.height:
            return (self.width, self.height), (self.height, self.width)
        return ((self.width, self.height),)

    @property
    def area(self) -> int:
        """Its area."""
        return self.width * self.height

    def fits(self, width: int, height: int) -> bool:
        """Whether it fits into a rectangle in some way."""
        return any(w <= width and h <= height for w, h in self.ways)


@dataclass(frozen=True, slots=True)
class Bin:
    """A sheet that there is, as often as wanted."""

    width: int
    height: int

    @property
    def area(self) -> int:
        """Its area."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Spot:
    """Item number ``item`` with its lower left corner at ``x``, ``y``, as ``width`` x ``height``."""

    item: int
    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Pattern:
    """One sheet, number ``bin`` of those there are, and what lies on it."""

    bin: int
    spots: tuple[Spot, ...]
