"""Heat in moist ground: conductivity and heat capacity by how much water is in the pores.

Plain arithmetic on floats, so that a compiled loop can take each function as it is.
"""

from __future__ import annotations

from typing import Final

GRAVEL, SAND, SILT_AND_CLAY, FIBROUS = 4.60, 3.55, 1.90, 0.60
"""`conductivity_share`'s shape for gravel and coarse sand, medium and fine sand, silt and clay, and
fibrous organic ground, all thawed [1]; Cote & Konrad 2005, Can Geotech J 42:443 (from memory)."""

WATER_HEAT: Final = 4.18e6
"""Heat capacity of water per volume [J/(m3 K)]."""


def conductivity_share(saturation: float, shape: float) -> float:
    """How far the heat conductivity has come from dry to saturated (Kersten number) [1].

    Parameters
    ----------
    saturation : float
        Water content over the pore space [1], 0 to 1.
    shape : float
        `GRAVEL`, `SAND`, `SILT_AND_CLAY` or `FIBROUS` [1].

    Source: Cote & Konrad 2005, Can Geotech J 42:443: k S / (1 + (k - 1) S).
    """
    return shape * saturation / (1.0 + (shape - 1.0) * saturation)


def ground_conductivity(saturation: float, dry: float, wet: float, shape: float) -> float:
    """Heat conductivity of moist ground [W/(m K)].

    Parameters
    ----------
    saturation : float
        Water content over the pore space [1], 0 to 1.
    dry, wet : float
        Heat conductivity dry and saturated [W/(m K)].
    shape : float
        See `conductivity_share` [1].

    Source: Johansen 1975, *Thermal conductivity of soils*, with the Kersten number of Cote &
    Konrad 2005.
    """
    share = shape * saturation / (1.0 + (shape - 1.0) * saturation)
    return dry + (wet - dry) * share


def ground_heat(content: float, dry_density: float, solid_heat: float) -> float:
    """Heat capacity of moist ground per volume [J/(m3 K)].

    Parameters
    ----------
    content : float
        Water content [1].
    dry_density : float
        Dry mass by volume [kg/m3].
    solid_heat : float
        Specific heat of the dry mass [J/(kg K)].

    Source: De Vries 1963, the sum over what is in the volume, air left out.
    """
    return dry_density * solid_heat + content * WATER_HEAT
