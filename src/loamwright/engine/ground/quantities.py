"""How much of what: volumes, bags, sheets and masses of the ground, and the load on the stand.

Ground lies level; slopes and terraces are not in the file and not counted, nor are the root balls
that plants bring along.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.engine.ground.blend import POT
from loamwright.engine.ground.displaced import piece_below, piece_solid
from loamwright.engine.ground.from_habitat import layer_water
from loamwright.habitat.ground import Layer
from loamwright.habitat.habitat import Habitat
from loamwright.physics import held_water

SPARE = 0.05
"""Share bought over what is filled in, for what is spilt and sticks to the bag; common practice."""

SETTLES = {
    "coir": 0.12, "peat": 0.20, "bark": 0.10, "soil": 0.10, "clay": 0.05, "loam-sand": 0.05,
    "moss": 0.20,
}  # fmt: skip
"""Share of its volume that a layer of one thing loses [1]; common practice, no source. Grains that
bear each other (sand, gravel, pebbles) lose none."""

SHEETS = ("drainage-mat", "fleece")
"""Kinds of layer that are cut from a sheet and bought by area."""

COVERS = ("leaf-litter",)
"""Kinds of layer that are strewn and bought by dry mass."""

QUART = 1.101220942715e-3
"""A dry quart of the United States [m3]: 67.200625 cubic inches."""

BAGS_METRIC = (5e-3, 10e-3, 20e-3, 40e-3, 50e-3, 70e-3)
BAGS_US = (4 * QUART, 8 * QUART, 16 * QUART, 24 * QUART, 0.0566336931)
"""Bags that are sold [m3]: litres; dry quarts and 2 cubic feet. Common practice, no source."""

WATER = 1000.0
"""Density of water [kg/m3]."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """One thing to buy. ``key`` the component or kind, ``unit`` what ``amount`` is measured in
    (``m3``, ``m2`` or ``kg``); ``bags`` (size [m3], how many), largest first, empty for what is not
    sold by the bag; ``left`` what the bags hold over the amount [m3]."""

    layer: str
    key: str
    unit: str
    amount: float
    bags: tuple[tuple[float, int], ...] = ()
    left: float = 0.0


@dataclass(frozen=True, slots=True)
class LayerAmount:
    """One layer: ``depth`` settled and ``loose`` as tipped in [m], ``area`` [m2], ``volume`` settled
    and net of pieces [m3], ``displaced`` by them [m3]; ``new`` and ``reused`` (habitat, volume as it
    lies [m3]) ground; masses ``dry``, ``moist`` (at container capacity) and ``flooded`` [kg];
    ``buy`` what it takes."""

    name: str
    kind: str
    depth: float
    loose: float
    area: float
    volume: float
    displaced: float
    new: float
    reused: tuple[tuple[str, float], ...]
    dry: float
    moist: float
    flooded: float
    buy: tuple[Purchase, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """What presses on the stand, each (what, mass [kg]), moist ground among it, and the most it is
    ``rated`` for [kg], None where not known; ``unknown`` pieces and panels without a density."""

    parts: tuple[tuple[str, float], ...]
    rated: float | None
    flooded: float
    unknown: tuple[str, ...]

    @property
    def total(self) -> float:
        """All of it [kg]."""
        return math.fsum(mass for _, mass in self.parts)


@dataclass(frozen=True, slots=True)
class Quantities:
    """All layers, bottom first, and the load."""

    area: float
    layers: tuple[LayerAmount, ...]
    load: Load

    @property
    def buy(self) -> tuple[Purchase, ...]:
        """Everything to buy."""
        return tuple(p for layer in self.layers for p in layer.buy)


def ground_area(habitat: Habitat) -> float:
    """Area of the ground between the linings [m2]."""
    box = habitat.enclosure
    wide = box.inside[0] - box.lining_depth("left") - box.lining_depth("right")
    deep = box.inside[1] - box.lining_depth("front") - box.lining_depth("back")
    return wide * deep


def bags_for(volume: float, sizes: Sequence[float]) -> tuple[tuple[tuple[float, int], ...], float]:
    """Bags that hold a volume [m3], and what is left: the largest as often as it fits, and for the
    rest one bag that holds it, or one more of the largest."""
    largest = max(sizes)
    # A rounding error is no reason for a bag.
    count = int(volume / largest + 1e-9)
    rest = volume - count * largest
    out: dict[float, int] = {largest: count} if count else {}
    if rest > 1e-9 * volume:
        size = min(size for size in sizes if size >= rest * (1.0 - 1e-9))
        out[size] = out.get(size, 0) + 1
    held = math.fsum(size * number for size, number in out.items())
    return tuple(sorted(out.items(), reverse=True)), held - volume


def ground_quantities(habitat: Habitat, us: bool = False) -> Quantities:
    """Volumes, what to buy and masses of a habitat's ground.

    ``us`` rounds to bags as sold in the United States, by dry quarts.
    """
    area = ground_area(habitat)
    layers = []
    bottom = 0.0
    for layer in habitat.ground.layers:
        layers.append(_layer(habitat, layer, bottom, area, BAGS_US if us else BAGS_METRIC))
        bottom += layer.depth
    return Quantities(area, tuple(layers), _load(habitat, layers))


def _layer(
    habitat: Habitat, layer: Layer, bottom: float, area: float, sizes: Sequence[float]
) -> LayerAmount:
    top = bottom + layer.depth
    taken = math.fsum(piece_below(p, top) - piece_below(p, bottom) for p in habitat.hardscape)
    volume = max(0.0, area * layer.depth - taken)
    reused = tuple((name, share * volume) for name, share in layer.reuse)
    new = max(0.0, volume - math.fsum(v for _, v in reused))
    settled = 1.0 - SETTLES.get(layer.kind, 0.0)
    water = layer_water(layer)
    porous = water.porous
    medium, blend = layer.medium, water.blend
    if blend is None and layer.components:
        from loamwright.engine.ground.blend import predict_blend

        pairs = [(c, part) for c, (_, part) in zip(layer.components, layer.parts, strict=True)]
        blend = predict_blend(pairs)
    if blend is not None:
        settled = blend.settled[1]
        # Masses are of the ground as it lies, settled: the same mass in less volume.
        dry = blend.dry_density[1] * volume / settled
    else:
        assert medium is not None
        dry = medium.dry_density * volume
    buy = _purchases(layer, area, new / settled, blend.volume[1] if blend else 1.0, dry, sizes)
    if medium is not None and medium.form == "cover":
        moist = dry * (1.0 + (medium.holds or 0.0))
        flooded = max(moist, dry + WATER * medium.saturated * volume)
    else:
        held = held_water.container_content(
            POT, 0.0, porous.residual, porous.saturated, porous.alpha, porous.n
        )
        moist, flooded = dry + WATER * held * volume, dry + WATER * porous.saturated * volume
    return LayerAmount(
        layer.name, layer.kind, layer.depth, layer.depth / settled, area, volume, taken, new,
        reused, dry, moist, flooded, buy,
    )  # fmt: skip


def _purchases(
    layer: Layer, area: float, mixed: float, shrinks: float, dry: float, sizes: Sequence[float]
) -> tuple[Purchase, ...]:
    """What a layer takes: a sheet, dry leaves, or bags of each component (``mixed`` volume [m3] of
    new ground before it settles, ``shrinks`` its share of the loose volumes)."""
    if layer.kind in SHEETS:
        return (Purchase(layer.name, layer.kind, "m2", area * (1.0 + SPARE)),)
    if layer.kind in COVERS:
        leaf = f"{layer.leaf}-litter" if layer.leaf else layer.kind
        return (Purchase(layer.name, leaf, "kg", dry * (1.0 + SPARE)),)
    if mixed <= 0.0:
        return ()
    parts = layer.parts or ((layer.kind, 1.0),)
    total = math.fsum(part for _, part in parts)
    out = []
    for key, part in parts:
        if part > 0.0:
            amount = mixed / shrinks * part / total * (1.0 + SPARE)
            bags, left = bags_for(amount, sizes)
            out.append(Purchase(layer.name, key, "m3", amount, bags, left))
    return tuple(out)


def _load(habitat: Habitat, layers: Sequence[LayerAmount]) -> Load:
    box = habitat.enclosure
    wide, deep, high = box.inside
    areas = {
        "floor": wide * deep, "top": wide * deep, "back": wide * high, "front": wide * high,
        "left": deep * high, "right": deep * high,
    }  # fmt: skip
    unknown: list[str] = []

    def mass(name: str, volume: float, density: float | None) -> float:
        if density is None:
            unknown.append(name)
        return volume * (density or 0.0)

    holes = dict.fromkeys(areas, 0.0)
    for opening in box.openings:
        holes[opening.side] += opening.size[0] * opening.size[1]
    panels = math.fsum(
        mass(p.side, (areas[p.side] - holes[p.side]) * p.thickness, p.material.density)
        for p in box.panels
    )
    linings = math.fsum(
        mass(x.name, areas[x.side] * x.thickness, x.material.density) for x in box.linings
    )
    pieces = math.fsum(mass(p.name, piece_solid(p), p.material.density) for p in habitat.hardscape)
    bowls = math.fsum(WATER * b.size[0] * b.size[1] * b.depth for b in habitat.water)
    moist = math.fsum(layer.moist for layer in layers)
    parts = (("panels", panels), ("linings", linings), ("ground", moist), ("hardscape", pieces),
             ("bowls", bowls))  # fmt: skip
    over = math.fsum(layer.flooded for layer in layers) - moist
    stand = box.stand
    return Load(
        tuple((what, m) for what, m in parts if m > 0.0), stand.rated if stand else None,
        math.fsum(m for _, m in parts) + over, tuple(unknown),
    )  # fmt: skip
