"""The ground of a habitat as a column: each layer's medium, or the blend its mix makes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.blend import Blend, predict_blend
from loamwright.engine.ground.column import (
    CLOSED,
    NO_LITTER,
    Bottom,
    Column,
    Litter,
    Porous,
    Slab,
    build_column,
    leaf_layer,
)
from loamwright.habitat.ground import Ground, Layer
from loamwright.habitat.media import Component

TRANSFER = 3.3e-3
"""Coefficient of vapour transfer over still ground [m/s]: 4 W/(m2 K) of room air (Lewis relation)."""


@dataclass(frozen=True)
class LayerWater:
    """How a layer of a habitat holds water: its law, and for a mix the blend it was told from."""

    name: str
    porous: Porous
    blend: Blend | None = None


def layer_water(layer: Layer) -> LayerWater:
    """How one layer holds water.

    A mix measured as a whole has its medium, where no other ground goes into it; any other is
    predicted from its components. Ground of an existing habitat is taken to be like the rest of the
    mix where the file does not say what it was made of.

    Raises
    ------
    ValueError
        If neither a medium nor components are known, or of no component the water is.
    """
    medium = layer.medium
    if medium is not None and not (layer.old and layer.mix):
        porous = Porous(
            medium.residual, medium.saturated, medium.alpha, medium.n,
            medium.hydraulic_conductivity, medium.bend,
        )  # fmt: skip
        return LayerWater(layer.name, porous)
    if not layer.components:
        raise ValueError(f"nothing is known of what {layer.name} is made of")
    blend = predict_blend([*new_parts(layer), *layer.old])
    return LayerWater(layer.name, blend.porous, blend)


def new_parts(layer: Layer) -> list[tuple[Component, float]]:
    """Components of a mix with their shares of it, old ground that is known left out [1]."""
    rest = 1.0 - math.fsum(share for _, share in layer.old)
    total = math.fsum(part for _, part in layer.parts) or 1.0
    return [
        (component, max(0.0, rest) * part / total)
        for component, (_, part) in zip(layer.components, layer.parts, strict=True)
    ]


def ground_column(
    ground: Ground,
    *,
    bottom: Bottom = CLOSED,
    rooting: float = 0.0,
    transfer: float = TRANSFER,
) -> Column:
    """The column of a habitat's ground; litter that lies on top holds water as leaves do.

    Parameters
    ----------
    ground : Ground
        Layers, bottom first.
    bottom : Bottom
        What is below: the closed floor of an enclosure, or a drain.
    rooting : float
        Depth the roots reach from the ground's surface [m].
    transfer : float
        Coefficient of vapour transfer over the ground [m/s].

    Raises
    ------
    ValueError
        If there is no ground, or nothing is known of a layer.
    """
    layers = list(ground.layers)
    litter = NO_LITTER
    while layers and layers[-1].medium is not None and layers[-1].medium.form == "cover":
        top = layers.pop()
        medium = top.medium
        assert medium is not None
        leaves = leaf_layer(
            top.depth, medium.dry_density, medium.holds or 0.0, medium.saturated, transfer
        )
        litter = Litter(litter.capacity + leaves.capacity, litter.passes * leaves.passes)
    slabs = [Slab(layer.name, layer.depth, layer_water(layer).porous) for layer in layers]
    return build_column(slabs, litter=litter, bottom=bottom, rooting=rooting)
