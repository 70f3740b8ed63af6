"""Small adaptors that let a reference sheet call the ground's physics with the units of its tables:
suctions and depths in cm, conductivities in cm/d or cm/s, times in hours."""

from __future__ import annotations

from loamwright.files.catalogue import load_catalogue
from loamwright.physics import held_water, infiltration, leaf_litter, mixes, peat, soil_water

DAY, HOUR = 86400.0, 3600.0
SUCTIONS = (10.0, 100.0, 330.0, 15000.0)


def texture_contents(residual: float, saturated: float, alpha: float, n: float) -> list[float]:
    """Water contents at the table's suctions."""
    a = 100.0 * alpha
    return [soil_water.water_content(-h / 100.0, residual, saturated, a, n) for h in SUCTIONS]


def texture_conductivity(alpha: float, n: float) -> float:
    return soil_water.conductivity(-1.0, 1.0, 100.0 * alpha, n, 0.5)


def shipped_texture(key: str) -> list[float]:
    """The catalogue's medium as the table prints it: contents, 1/cm, n, cm/d."""
    m = load_catalogue().media[key]
    return [m.residual, m.saturated, m.alpha / 100.0, m.n, m.hydraulic_conductivity * 100.0 * DAY]


def container(
    depths: list[float], residual: float, saturated: float, alpha: float, n: float
) -> list[float]:
    return [
        held_water.container_content(d / 100.0, 0.0, residual, saturated, 100.0 * alpha, n)
        for d in depths
    ]


PF = (0.0, 1.0, 1.5, 2.0, 3.0, 4.0, 4.2)


def peat_contents(density: float) -> list[float]:
    return [peat.peat_content(pf, 1000.0 * density) for pf in PF]


def peat_flow(density: float) -> list[float]:
    """Conductivity of sphagnum peat and of all peats [m/s]."""
    return [peat.peat_conductivity(1000.0 * density, kind) for kind in ("sphagnum", "all")]


def fitted_peat(residual: float, saturated: float, alpha: float, n: float) -> list[float]:
    """Water contents of a fitted curve at the same suctions."""
    heads = (1e-6, 0.10, 0.32, 1.0, 10.0, 100.0, 150.0)
    return [soil_water.water_content(-h, residual, saturated, 100.0 * alpha, n) for h in heads]


def moss_flow(suction: float) -> float:
    """Conductivity of the catalogue's moss at a suction [cm], in um/s."""
    m = load_catalogue().media["moss"]
    k = m.hydraulic_conductivity
    return 1e6 * soil_water.conductivity(-suction / 100.0, k, m.alpha, m.n, m.bend)


def rise(radii: list[float]) -> list[float]:
    """Capillary rise [mm] in pores of these radii [mm]."""
    return [1000.0 * soil_water.capillary_rise(r / 1000.0) for r in radii]


def interface(flows: list[float], alpha: float, n: float, saturated: float) -> list[float]:
    """Suction [cm] at which a coarse layer (1/m, m/h) carries these flows [cm/h]."""
    k = saturated / HOUR
    return [-100.0 * soil_water.interface_head(q / 100.0 / HOUR, k, alpha, n, 0.5) for q in flows]


def steady_heads(heights: list[float], alpha: float, share: float) -> list[float]:
    a = 100.0 * alpha
    return [100.0 * infiltration.steady_exponential_head(z / 100.0, share, 1.0, a) for z in heights]


def wetting_heads(heights: list[float], hours: float) -> list[float]:
    """The one-layer case: L 100 cm, K 1 cm/h, contents 0.40 and 0.06, flow 0.1 to 0.9 cm/h."""
    k = 0.01 / HOUR
    return [
        100.0
        * infiltration.wetting_exponential_head(
            z / 100.0, hours * HOUR, 1.0, 0.1 * k, 0.9 * k, k, 10.0, 0.34
        )
        for z in heights
    ]


def green_ampt(saturated: float, suction: float, deficit: float, hours: float) -> list[float]:
    """Depth [cm] and rate [cm/h] after a time; conductivity [cm/h], suction [cm]."""
    k = saturated / 100.0 / HOUR
    depth = infiltration.green_ampt_depth(hours * HOUR, k, suction / 100.0, deficit)
    rate = infiltration.green_ampt_rate(depth, k, suction / 100.0, deficit)
    return [100.0 * depth, 100.0 * HOUR * rate]


def litter_capacity(kilograms: float) -> float:
    """Most water [mm] that so much dry litter a square metre holds."""
    return kilograms * leaf_litter.LEAF_HOLDS


def pair_packing(shares: list[float], ratio: float, solid: float) -> list[float]:
    """Solid share of mixed beads of two sizes, by the share of the large ones."""
    return [mixes.packed_share([1.0 - x, x], [1e-3, ratio * 1e-3], solid) for x in shares]
