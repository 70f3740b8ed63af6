"""What a blend of loose materials is like, from its parts by volume.

Volumes do not add: fine grains fall between coarse ones. Masses and grains do. So each property
is summed over the parts and divided by the volume the blend takes up. These laws are coarse: a blend
to be relied on is weighed and drained in a pot of its own.

Sequences run over the components; ``parts`` is a share of each by loose volume, sum 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log, log10
from typing import Final

ALIKE: Final = 0.741
"""Ratio of sizes above which grains do not fall between each other [1]; Yu & Standish 1987."""


def packed_share(volumes: Sequence[float], sizes: Sequence[float], solid: float) -> float:
    """Share of the volume that mixed grains fill, pores inside grains counted as grain [1].

    Parameters
    ----------
    volumes : sequence of float
        Volume of the grains of each component, any unit [m3].
    sizes : sequence of float
        Diameter of the grains of each component [m].
    solid : float
        Share that grains of one size fill, 0.55 to 0.64 [1].

    Made for beads; fibres and flakes fall between each other less.

    Source: Yu & Standish 1987, Powder Technol 52:233, eq. 20 to 25 (as public gas-solid codes
    print it).
    """
    order = sorted(range(len(sizes)), key=lambda i: -sizes[i])
    total = sum(volumes)
    share = [volumes[i] / total for i in order]
    size = [sizes[i] for i in order]
    least = 1.0
    for i in range(len(size)):
        gain = 0.0
        for j in range(len(size)):
            ratio = min(size[i], size[j]) / max(size[i], size[j])
            if j == i or ratio > ALIKE:
                continue
            pair = solid + solid * (1.0 - solid) * (1.0 - 2.35 * ratio + 1.35 * ratio * ratio)
            best = (1.0 - ratio * ratio) / (2.0 - solid)
            gain += (1.0 - solid / pair) * share[j] / (best if j < i else 1.0 - best)
        least = min(least, solid / (1.0 - gain))
    return least if least < 1.0 else solid


def mixed_volume(parts: Sequence[float], sizes: Sequence[float], solid: float) -> float:
    """Volume of a blend over the sum of the loose volumes that went in [1].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by loose volume, sum 1 [1].
    sizes : sequence of float
        Diameter of the grains of each component [m].
    solid : float
        Share of a loose volume that grains of one size fill [1].

    Source: `packed_share`; grains keep their volume.
    """
    used = [i for i, part in enumerate(parts) if part > 0.0]
    filled = packed_share([parts[i] for i in used], [sizes[i] for i in used], solid)
    return solid / filled


def least_volume(parts: Sequence[float], sizes: Sequence[float], solid: float) -> float:
    """Least volume a blend can take up over the sum of the loose volumes [1].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by loose volume, sum 1 [1].
    sizes : sequence of float
        Diameter of the grains of each component [m].
    solid : float
        Share of a loose volume that its grains fill [1].

    As if each finer component fell wholly between the coarser grains: one component fills the
    space, the coarser ones lie in it as grains, the finer ones are lost in it.

    Source: Furnas 1931, Ind Eng Chem 23:1052; Westman & Hugill 1930 (from memory).
    """
    most = 0.0
    for part, size in zip(parts, sizes, strict=True):
        if part <= 0.0:
            continue
        coarser = sum(p for p, s in zip(parts, sizes, strict=True) if s * ALIKE > size)
        alike = sum(
            p for p, s in zip(parts, sizes, strict=True) if s * ALIKE <= size and size * ALIKE <= s
        )
        most = max(most, alike + solid * coarser)
    return most


def blend_density(parts: Sequence[float], densities: Sequence[float], volume: float) -> float:
    """Density of a blend by volume [kg/m3].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by loose volume, sum 1 [1].
    densities : sequence of float
        Density of each by loose volume [kg/m3].
    volume : float
        `mixed_volume`, or 1 where nothing is lost [1].

    Source: conservation of mass.
    """
    return sum(p * d for p, d in zip(parts, densities, strict=True)) / volume


def blend_porosity(parts: Sequence[float], porosities: Sequence[float], volume: float) -> float:
    """Pore space of a blend by volume [1].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by loose volume, sum 1 [1].
    porosities : sequence of float
        Pore space of each by loose volume [1].
    volume : float
        `mixed_volume`, or 1 where nothing is lost [1].

    Source: conservation of solid volume: what the blend loses is pores between grains.
    """
    solid = sum(p * (1.0 - q) for p, q in zip(parts, porosities, strict=True))
    return max(0.0, 1.0 - solid / volume)


def blend_content(parts: Sequence[float], contents: Sequence[float], volume: float) -> float:
    """Water content of a blend at a suction, each component holding what it holds alone [1].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by loose volume, sum 1 [1].
    contents : sequence of float
        Water content of each at that suction by loose volume [1].
    volume : float
        `mixed_volume`, or 1 where nothing is lost [1].

    Holds where the water is inside grains and fibres; between coarse grains that the fine part
    fills, the coarse part alone held other pores. The caller keeps it within the pore space.

    Source: additivity by volume, common for container media; measured near-linear for peat and
    perlite by Londra 2010, HortScience 45:1106 (its abstract).
    """
    return sum(p * c for p, c in zip(parts, contents, strict=True)) / volume


def blend_conductivity(parts: Sequence[float], values: Sequence[float]) -> float:
    """Conductivity of a blend, between its components side by side and one above another [m/s].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by volume, sum 1 [1].
    values : sequence of float
        Conductivity of each, above 0 [m/s].

    Source: geometric mean by volume, exact for a random checkerboard; Matheron 1967 (from memory).
    """
    return exp(sum(p * log(v) for p, v in zip(parts, values, strict=True)))


def conductivity_bounds(parts: Sequence[float], values: Sequence[float]) -> tuple[float, float]:
    """Least and most that a blend of any arrangement can conduct [m/s].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by volume, sum 1 [1].
    values : sequence of float
        Conductivity of each, above 0 [m/s].

    Source: Wiener 1912: harmonic and arithmetic mean.
    """
    pairs = list(zip(parts, values, strict=True))
    return 1.0 / sum(p / v for p, v in pairs), sum(p * v for p, v in pairs)


def blend_ph(amounts: Sequence[float], buffers: Sequence[float], values: Sequence[float]) -> float:
    """pH of a blend once acids and bases have met [1].

    Parameters
    ----------
    amounts : sequence of float
        Dry mass of each component, any unit [kg].
    buffers : sequence of float
        Acid or base that moves a kilogram by one pH [mol/kg].
    values : sequence of float
        pH of each [1].

    Lime that has not dissolved yet is not seen.

    Source: conservation of protons with straight titration curves, as soils show from pH 4.5 to
    6.5; Magdoff & Bartlett 1985, Soil Sci Soc Am J 49:145 (from memory).
    """
    weights = [a * b for a, b in zip(amounts, buffers, strict=True)]
    return sum(w * v for w, v in zip(weights, values, strict=True)) / sum(weights)


def free_proton_ph(parts: Sequence[float], values: Sequence[float]) -> float:
    """pH of mixed water films that nothing buffers: the acid end of what a blend can be [1].

    Parameters
    ----------
    parts : sequence of float
        Share of the water of each component, sum 1 [1].
    values : sequence of float
        pH of each [1].

    Source: mean of the proton concentrations.
    """
    return -log10(sum(p * 10.0**-v for p, v in zip(parts, values, strict=True)))


def settled_volume(parts: Sequence[float], shrinkages: Sequence[float]) -> float:
    """Volume left of a blend after its first year [1].

    Parameters
    ----------
    parts : sequence of float
        Share of each component by volume, sum 1 [1].
    shrinkages : sequence of float
        Share of its volume that each loses [1].

    Source: sum over the components, each as if alone.
    """
    return 1.0 - sum(p * s for p, s in zip(parts, shrinkages, strict=True))
