"""Rising warm air over lamps and heaters: buoyancy, flow, virtual origin.

The three flow laws span about 40 %: `plume_flow` lies in the middle. They hold for round turbulent
plumes in still, even air, from a few source diameters up. Every function stands alone on `math`
and floats, so that a kernel compiler can take it as it is.
"""

from __future__ import annotations

import math

GRAVITY = 9.80665
"""Standard gravity [m/s2] (CGPM 1901)."""


def buoyancy_flux(power: float, density: float, heat_capacity: float, temperature: float) -> float:
    """Buoyancy flux of a source of heat, g P/(rho c_p T) [m4/s3].

    Parameters
    ----------
    power : float
        Heat given to the air [W].
    density : float
        Density of the surroundings [kg/m3].
    heat_capacity : float
        Specific heat capacity of air [J/(kg K)].
    temperature : float
        Temperature of the surroundings [K].

    Source: Morton, Taylor & Turner 1956.
    """
    return GRAVITY * power / (density * heat_capacity * temperature)


def plume_flow(buoyancy: float, height: float) -> float:
    """Flow in a round turbulent plume over a small source [m3/s].

    Parameters
    ----------
    buoyancy : float
        `buoyancy_flux` [m4/s3].
    height : float
        Height over the virtual origin [m].

    Source: Rouse, Yih & Humphreys 1952, Tellus 4:201 (constant 0.153 from memory).
    """
    return 0.153 * buoyancy ** (1.0 / 3.0) * max(height, 0.0) ** (5.0 / 3.0)


def plume_flow_entrained(buoyancy: float, height: float, entrainment: float) -> float:
    """Flow in a round turbulent plume, by entrainment theory [m3/s].

    Parameters
    ----------
    buoyancy : float
        `buoyancy_flux` [m4/s3].
    height : float
        Height over the virtual origin [m].
    entrainment : float
        Entrainment coefficient on the mean ("top-hat") velocity, 0.10-0.13 [1].

    Source: Morton, Taylor & Turner 1956, Proc. R. Soc. A 234:1.
    """
    spread = 1.2 * entrainment * (0.9 * entrainment) ** (1.0 / 3.0)
    shape = spread * math.pi ** (2.0 / 3.0)
    return shape * buoyancy ** (1.0 / 3.0) * max(height, 0.0) ** (5.0 / 3.0)


def plume_mass_flow(power: float, height: float) -> float:
    """Mass flow in the plume over a strong small source, as measured over flames [kg/s].

    Parameters
    ----------
    power : float
        Heat given to the air [W].
    height : float
        Height over the virtual origin [m].

    Source: Zukoski et al. 1980: 0.071 Qc^(1/3) z^(5/3) with Qc in kW.
    """
    return 0.0071 * power ** (1.0 / 3.0) * max(height, 0.0) ** (5.0 / 3.0)


def virtual_origin(power: float, diameter: float) -> float:
    """Height of a plume's virtual origin over its source; below it when negative [m].

    Parameters
    ----------
    power : float
        Heat given to the air [W].
    diameter : float
        Diameter of the source [m].

    Source: Heskestad: 0.083 Q^(2/5) - 1.02 D with Q in kW; found on fires, carried over here.
    """
    return 0.083 * (power / 1000.0) ** 0.4 - 1.02 * diameter
