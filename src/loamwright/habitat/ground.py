"""The ground: layers from the bottom up, level or with slopes and terraces."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Material
from loamwright.habitat.media import Component, Medium

Point = tuple[float, float]

DRAINING = ("fleece", "drainage-mat", "clay-pebbles", "gravel")
"""Kinds of layer in which water may stand, and in which nothing roots."""


@dataclass(frozen=True, slots=True)
class Terrace:
    """A step in a layer's upper face: a rectangle seen from above between its corners ``low`` and
    ``high`` [m], ``rise`` higher than the rest (lower where negative) [m]."""

    name: str
    low: Point
    high: Point
    rise: float

    def holds(self, x: float, y: float) -> bool:
        """True where a point [m] lies on it."""
        return self.low[0] <= x < self.high[0] and self.low[1] <= y < self.high[1]


@dataclass(frozen=True, slots=True)
class Relief:
    """How a layer's depth differs from place to place: ``level`` [m] at ``middle`` [m] without
    terraces, ``slope`` its rise along x and y [1], and terraces, whose rises add up where they
    overlap."""

    level: float
    middle: Point
    slope: Point = (0.0, 0.0)
    terraces: tuple[Terrace, ...] = ()

    def depth_at(self, x: float, y: float) -> float:
        """Depth of the layer at a place [m]."""
        sloped = self.slope[0] * (x - self.middle[0]) + self.slope[1] * (y - self.middle[1])
        return self.level + sloped + sum(t.rise for t in self.terraces if t.holds(x, y))


@dataclass(frozen=True, slots=True)
class Addition:
    """Something mixed into a layer by dose: ``dose`` of mass by volume of new ground as it is mixed
    [kg/m3], or ``share`` of that volume [1] where it is measured by volume (dose 0 then)."""

    what: str
    dose: float = 0.0
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: ``kind`` (drainage-mat, fleece, mix, leaf-litter, sand, moss, ...),
    ``depth`` [m], the material its surface shows to the light, and for leaf-litter the kind of
    ``leaf`` (empty where not said).

    For a mix: ``parts`` by volume (component's key, parts) with their ``components`` in the same
    order, ``mix`` the key of the finished mix they are from (empty where none), and ``reuse`` (name
    of an existing habitat, share 0..1 of this layer's volume that its ground makes up).
    ``medium``: how it holds and conducts water and heat; None for a mix, where it follows from the
    components. ``relief`` is None where the layer is equally deep everywhere; elsewhere ``depth``
    is its mean. ``additions`` are mixed in by dose. ``old`` are components of reused ground whose mix
    is known, each with its share of the layer [1].
    """

    name: str
    kind: str
    depth: float
    surface: Material
    leaf: str = ""
    parts: tuple[tuple[str, float], ...] = ()
    reuse: tuple[tuple[str, float], ...] = ()
    components: tuple[Component, ...] = ()
    mix: str = ""
    medium: Medium | None = None
    relief: Relief | None = None
    additions: tuple[Addition, ...] = ()
    old: tuple[tuple[Component, float], ...] = ()

    @property
    def seen(self) -> Layer:
        """The layer as light meets it: level, and of nothing but its surface."""
        return Layer(self.name, self.kind, self.depth, self.surface, self.leaf)

    def depth_at(self, x: float, y: float) -> float:
        """Depth of the layer at a place [m]."""
        return self.depth if self.relief is None else self.relief.depth_at(x, y)


@dataclass(frozen=True, slots=True)
class Ground:
    """Layers, bottom first."""

    layers: tuple[Layer, ...] = ()

    @property
    def depth(self) -> float:
        """Height of the ground's surface above the inside floor [m], the mean where it is not level."""
        return sum(layer.depth for layer in self.layers)

    @property
    def level(self) -> bool:
        """True where no layer has a slope or a terrace."""
        return all(layer.relief is None for layer in self.layers)

    def surface_at(self, x: float, y: float) -> float:
        """Height of the ground's surface at a place [m]."""
        return sum(layer.depth_at(x, y) for layer in self.layers)
