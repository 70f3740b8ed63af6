"""What a mix is like, predicted from its components, with the range it may really have.

The laws are those of `physics.mixes`: masses and solids add, volumes do not, and each component
holds the water it holds alone. That is good for a water content within some 5 to 10 % of the
volume (the spread of bags is as wide) and for a conductivity within a factor of three or more. The
van Genuchten curve fitted to the sum is one smooth curve where the sum of a fine and a coarse part
has two steps; its own miss is given. A pot of the mix, drained and weighed, is always better.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from loamwright.engine.ground.column import Porous
from loamwright.habitat.media import Component
from loamwright.physics import held_water, mixes, soil_water

Range = tuple[float, float, float]
"""Low end, best estimate, high end."""

GRAIN_SHARE = 0.58
"""Share of a loose volume that grains of one size fill, pores inside them counted as grain [1]:
loose random packing 0.55 to 0.60 (from memory)."""

POT = 0.10
"""Height of the pot for which container capacity is told [m]."""

SUCTIONS = np.logspace(-3.0, 2.2, 40)
"""Suctions at which the components' waters are added [m]: 1 mm to the wilting point."""

FILLS = 0.5
"""How far grains of a mix fall between each other, as a share of what beads do [1]. Moist crumbs,
fibres and flakes do less; nobody measured how much less, so the middle is taken, and the range of
a mix runs from beads to no filling at all."""

UNKNOWN_N = 1.5
"""Spread of the pore sizes taken for a component of which only the pores and the water held after
draining are known [1], the middle of loose organic media here."""


@dataclass(frozen=True)
class Blend:
    """A mix as predicted.

    ``volume`` of the mix over the loose volumes that go in [1]; densities by volume [kg/m3], dry
    and as it lies in a watered ground; ``porosity``, and for a pot of `POT` height the
    ``container_capacity`` and ``air_porosity`` [1]; ``ph``; ``settled`` volume after a first year
    over the volume mixed [1]. Each (low, best, high), None where no component tells.

    ``porous`` the fitted law, ``misses`` by how much it misses the summed curve at most [1];
    ``conductivity`` least, best and most [m/s]. ``assumed`` names the components whose water is
    not known and was taken to be that of the rest.
    """

    volume: Range
    dry_density: Range
    moist_density: Range
    porosity: Range
    container_capacity: Range
    air_porosity: Range
    ph: Range | None
    settled: Range
    porous: Porous
    misses: float
    conductivity: Range
    assumed: tuple[str, ...]


def predict_blend(parts: Sequence[tuple[Component, float]]) -> Blend:
    """Predict a mix from components and their parts by loose volume.

    Raises
    ------
    ValueError
        If the parts sum to nothing, or of no component the water is known.
    """
    used = [(component, part) for component, part in parts if part > 0.0]
    total = math.fsum(part for _, part in used)
    if not total > 0.0:
        raise ValueError("the parts of a mix sum to nothing")
    shares = [part / total for _, part in used]
    components = [component for component, _ in used]
    sizes = [_grain(component) for component in components]
    beads = mixes.mixed_volume(shares, sizes, GRAIN_SHARE)
    volume = (beads, 1.0 - FILLS * (1.0 - beads), 1.0)
    laws = [own_law(component) for component in components]
    assumed = tuple(c.key for c, law in zip(components, laws, strict=True) if law is None)
    known = [(s, law) for s, law in zip(shares, laws, strict=True) if law is not None]
    if not known:
        raise ValueError(f"how {', '.join(assumed)} holds water is not known")
    weight = math.fsum(s for s, _ in known)
    known_shares = [s / weight for s, _ in known]
    known_laws = [law for _, law in known]
    porous, misses = _sum_law(known_shares, known_laws, volume[1])
    held = held_water.container_content(
        POT, 0.0, porous.residual, porous.saturated, porous.alpha, porous.n
    )
    capacity = _range(
        mixes.blend_content, shares, [c.container_capacity for c in components], held, volume, held
    )
    pores = _range(
        mixes.blend_porosity, shares, [c.porosity for c in components], porous.saturated, volume,
        porous.saturated,
    )  # fmt: skip
    air = porous.saturated - held
    less = math.hypot(pores[1] - pores[0], capacity[2] - capacity[1])
    more = math.hypot(pores[2] - pores[1], capacity[1] - capacity[0])
    rates = [law.conductivity for law in known_laws]
    least, most = mixes.conductivity_bounds(known_shares, rates)
    dry, moist = (
        _range(mixes.blend_density, shares, [getattr(c, name) for c in components], 0.0, volume)
        for name in ("dry_density", "moist_density")
    )
    return Blend(
        volume=volume,
        dry_density=dry,
        moist_density=moist,
        porosity=pores,
        container_capacity=(max(0.0, capacity[0]), held, min(capacity[2], pores[2])),
        air_porosity=(max(0.0, air - less), air, air + more),
        ph=_ph(shares, components),
        settled=_settled(shares, components),
        porous=porous,
        misses=misses,
        conductivity=(least, porous.conductivity, most),
        assumed=assumed,
    )


def own_law(component: Component) -> Porous | None:
    """How a component holds water: its medium's law, else one that meets its pores and the water
    it holds after draining; None where neither is known."""
    medium = component.medium
    if medium is not None:
        return Porous(
            medium.residual, medium.saturated, medium.alpha, medium.n,
            medium.hydraulic_conductivity, medium.bend,
        )  # fmt: skip
    pores, held = _middle(component.porosity), _middle(component.container_capacity)
    if pores is None or held is None or not 0.0 < held < pores:
        return None
    residual = 0.2 * held
    low, high = math.log(0.01), math.log(1e4)
    for _ in range(60):
        middle = 0.5 * (low + high)
        content = held_water.container_content(
            POT, 0.0, residual, pores, math.exp(middle), UNKNOWN_N
        )
        low, high = (middle, high) if content > held else (low, middle)
    alpha = math.exp(middle)
    # Pores of the air-entry size carry water by Poiseuille's law: 1e-3 m/s at 2 cm (coir).
    return Porous(residual, pores, alpha, UNKNOWN_N, 1e-3 * (alpha * 0.02) ** 2)


def _sum_law(
    shares: Sequence[float], laws: Sequence[Porous], volume: float
) -> tuple[Porous, float]:
    """The law fitted to the sum of the components' waters, and how far it is off at most."""
    from scipy.optimize import least_squares

    saturated = mixes.blend_porosity(shares, [law.saturated for law in laws], volume)
    sums = np.array(
        [
            mixes.blend_content(
                shares,
                [soil_water.water_content(-h, p.residual, p.saturated, p.alpha, p.n) for p in laws],
                volume,
            )
            for h in SUCTIONS
        ]
    )
    sums = np.minimum(sums, saturated)

    def curve(x: np.ndarray) -> np.ndarray:
        n = 1.0 + math.exp(x[2])
        share = (1.0 + (math.exp(x[1]) * SUCTIONS) ** n) ** (1.0 / n - 1.0)
        return x[0] + (saturated - x[0]) * share

    middle = math.fsum(s * math.log(law.alpha) for s, law in zip(shares, laws, strict=True))
    mean_n = math.fsum(s * math.log(law.n - 1.0) for s, law in zip(shares, laws, strict=True))
    least = float(sums[-1])
    found = least_squares(
        lambda x: curve(x) - sums,
        [0.5 * least, middle, mean_n],
        bounds=([0.0, math.log(1e-2), math.log(0.02)], [least, math.log(1e3), math.log(9.0)]),
        x_scale=[0.1, 1.0, 0.5],
    )
    x = found.x
    rates = [law.conductivity for law in laws]
    bend = math.fsum(s * law.bend for s, law in zip(shares, laws, strict=True))
    porous = Porous(
        float(x[0]),
        saturated,
        math.exp(x[1]),
        1.0 + math.exp(x[2]),
        mixes.blend_conductivity(shares, rates),
        bend,
    )
    return porous, float(np.abs(curve(x) - sums).max())


def _grain(component: Component) -> float:
    """Middle size of the grains [m]; a millimetre where not known."""
    low, high = component.grain
    ends = [end for end in (low, high) if end]
    return math.exp(math.fsum(math.log(end) for end in ends) / len(ends)) if ends else 1e-3


def _middle(pair: tuple[float | None, float | None]) -> float | None:
    ends = [end for end in pair if end is not None]
    return math.fsum(ends) / len(ends) if ends else None


def _ends(pair: tuple[float | None, float | None], fallback: float) -> tuple[float, float]:
    low, high = pair
    one = low if low is not None else high if high is not None else fallback
    two = high if high is not None else one
    return one, two


Law = Callable[[Sequence[float], Sequence[float], float], float]


def _range(
    law: Law,
    shares: Sequence[float],
    pairs: Sequence[tuple[float | None, float | None]],
    fallback: float,
    volume: Range,
    best: float | None = None,
) -> Range:
    """A property of the mix; each component's range and the volume's pull at it on their own.

    ``best`` where it is known better than from the middles of the components' ranges.
    """
    ends = [_ends(pair, fallback) for pair in pairs]
    middles = [0.5 * (low + high) for low, high in ends]
    centre = law(shares, middles, volume[1])
    pulls = [law(shares, middles, volume[0]) - centre, law(shares, middles, volume[2]) - centre]
    for i, pair in enumerate(ends):
        pulls += [
            law(shares, [*middles[:i], end, *middles[i + 1 :]], volume[1]) - centre for end in pair
        ]
    down = math.sqrt(math.fsum(p * p for p in pulls if p < 0.0))
    up = math.sqrt(math.fsum(p * p for p in pulls if p > 0.0))
    value = centre if best is None else best
    return value - down, value, value + up


def _ph(shares: Sequence[float], components: Sequence[Component]) -> Range | None:
    """Between two extremes: nothing buffers, and a kilogram of each buffers alike.

    How components buffer was measured for few; peat and bark buffer by their mass, sand hardly.
    """
    told = [(s, c) for s, c in zip(shares, components, strict=True) if c.ph != (None, None)]
    if not told:
        return None
    total = math.fsum(share for share, _ in told)
    parts = [share / total for share, _ in told]
    masses = [s * (_middle(c.dry_density) or 0.0) for s, (_, c) in zip(parts, told, strict=True)]
    even = [1.0] * len(told)
    lows, highs = zip(*(_ends(c.ph, 7.0) for _, c in told), strict=True)
    middles = [0.5 * (low + high) for low, high in zip(lows, highs, strict=True)]
    acid = mixes.free_proton_ph(parts, middles)
    mild = mixes.blend_ph(masses, even, middles)
    ends = (mixes.free_proton_ph(parts, lows), mixes.blend_ph(masses, even, highs))
    return min(ends), 0.5 * (acid + mild), max(ends)


def _settled(shares: Sequence[float], components: Sequence[Component]) -> Range:
    ends = [_ends(c.shrink, 0.1) for c in components]
    low = mixes.settled_volume(shares, [end[1] for end in ends])
    high = mixes.settled_volume(shares, [end[0] for end in ends])
    return low, 0.5 * (low + high), high
