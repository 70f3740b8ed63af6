"""The ground: layers from the bottom up."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Material
from loamwright.habitat.media import Component, Medium


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: ``kind`` (drainage-mat, fleece, mix, leaf-litter, sand, moss, ...),
    ``depth`` [m], the material its surface shows to the light, and for leaf-litter the kind of
    ``leaf`` (empty where not said).

    For a mix: ``parts`` by volume (component's key, parts) with their ``components`` in the same
    order, ``mix`` the key of the finished mix they are from (empty where none), and ``reuse`` (name
    of an existing habitat, share 0..1 of this layer's volume that its ground makes up).
    ``medium``: how it holds and conducts water and heat; None for a mix, where it follows from the
    components.
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


@dataclass(frozen=True, slots=True)
class Ground:
    """Layers, bottom first."""

    layers: tuple[Layer, ...] = ()

    @property
    def depth(self) -> float:
        """Height of the ground's surface above the inside floor [m]."""
        return sum(layer.depth for layer in self.layers)
