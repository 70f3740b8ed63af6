"""How much of what: volumes, bags, sheets and masses of the ground, and the load on the stand.

Slopes and terraces are counted; the root balls that plants bring along are not.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.engine.ground.blend import POT, Blend, predict_blend
from loamwright.engine.ground.from_habitat import layer_water, new_parts
from loamwright.engine.ground.load import WATER, Load, load_on_stand
from loamwright.engine.ground.relief import Cell, cells, centroid, extremes, taken_up
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
class Dose:
    """Something mixed in by dose: ``amount`` in ``unit`` ``kg`` or ``m3``."""

    layer: str
    what: str
    amount: float
    unit: str


@dataclass(frozen=True, slots=True)
class LayerAmount:
    """One layer: mean ``depth`` settled and ``loose`` as tipped in [m], the ``least`` and ``most`` of
    the settled one, ``area`` [m2], ``volume`` settled and net of pieces [m3], ``displaced`` by them
    [m3]; ``new`` and ``reused`` (habitat, volume as it lies [m3]) ground; masses ``dry``, ``moist``
    (at container capacity) and ``flooded`` [kg]; ``buy`` and ``doses`` what it takes; ``centre`` of
    its volume seen from above [m]; ``blend`` what a mix is told to be."""

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
    doses: tuple[Dose, ...]
    least: float
    most: float
    centre: tuple[float, float]
    blend: Blend | None


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
    left, right, front, back = habitat.enclosure.floor
    return (right - left) * (back - front)


def bags_for(volume: float, sizes: Sequence[float]) -> tuple[tuple[tuple[float, int], ...], float]:
    """Bags that hold a volume [m3], and what is left: of the fewest bags, or one more, those that leave
    least over; of equals the fewest."""
    largest = max(sizes)
    # Of much, most comes in the largest bags; a rounding error is no reason for one more.
    sure = max(0, int(volume / largest) - 1)
    rest = volume - sure * largest
    fewest = max(1, math.ceil(rest / largest - 1e-9))
    found = [
        (max(0.0, sum(bags) - rest), count, bags)
        for count in (fewest, fewest + 1)
        for bags in itertools.combinations_with_replacement(sizes, count)
        if sum(bags) >= rest * (1.0 - 1e-9)
    ]
    left, _, bags = min(found, key=lambda x: (round(x[0], 9), x[1]))
    counts = Counter(bags) + Counter({largest: sure})
    return tuple(sorted(counts.items(), reverse=True)), left


def ground_quantities(habitat: Habitat, us: bool = False) -> Quantities:
    """Volumes, what to buy and masses of a habitat's ground.

    ``us`` rounds to bags as sold in the United States, by dry quarts.
    """
    area = ground_area(habitat)
    whole = habitat.ground.layers
    floor = cells(habitat.enclosure, whole)
    layers, below = [], 0.0
    for i, layer in enumerate(whole):
        under = taken_up(habitat.hardscape, habitat.enclosure, whole[: i + 1], floor)
        sizes = BAGS_US if us else BAGS_METRIC
        layers.append(_layer(layer, area, max(0.0, under - below), floor, sizes))
        below = under
    load = load_on_stand(
        habitat, [(x.moist, x.centre) for x in layers], math.fsum(x.flooded for x in layers)
    )
    return Quantities(area, tuple(layers), load)


def _layer(
    layer: Layer, area: float, taken: float, floor: Sequence[Cell], sizes: Sequence[float]
) -> LayerAmount:
    volume = max(0.0, area * layer.depth - taken)
    reused = tuple((name, share * volume) for name, share in layer.reuse)
    new = max(0.0, volume - math.fsum(v for _, v in reused))
    settled = 1.0 - SETTLES.get(layer.kind, 0.0)
    water = layer_water(layer)
    porous = water.porous
    medium, blend = layer.medium, water.blend
    if blend is None and layer.components:
        blend = predict_blend(new_parts(layer))
    if blend is not None:
        settled = blend.settled[1]
        # Masses are of the ground as it lies, settled: the same mass in less volume.
        dry = blend.dry_density[1] * volume / settled
    else:
        assert medium is not None
        dry = medium.dry_density * volume
    doses = _doses(layer, new / settled)
    dry += math.fsum(x.amount for x in doses if x.unit == "kg")
    # What is bought is mixed and settles by itself, without the old ground.
    bought = predict_blend(new_parts(layer)) if new > 0.0 and blend is not None else None
    shrinks = bought.volume[1] if bought else 1.0
    buy = _purchases(layer, area, new / settled, shrinks, dry, sizes)
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
        reused, dry, moist, flooded, buy, doses, *extremes(layer, floor), centroid(layer, floor),
        blend,
    )  # fmt: skip


def _doses(layer: Layer, mixed: float) -> tuple[Dose, ...]:
    """What is mixed into so much new ground [m3] by dose; old ground has had its own."""
    return tuple(
        Dose(layer.name, x.what, x.dose * mixed, "kg")
        if x.dose > 0.0
        else Dose(layer.name, x.what, x.share * mixed, "m3")
        for x in layer.additions
    )


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
