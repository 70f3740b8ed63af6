"""Pressure losses of meshes, grilles, plates, nets, filters and ducts.

A loss coefficient K is the pressure loss in velocity heads, K rho V^2 / 2, on the approach
velocity V unless said. Every function stands alone on `math` and floats, so that a kernel compiler
can take it as it is.
"""

from __future__ import annotations

import math

ENTRANCE_SHARP = 0.5
"""Loss coefficient of a sharp inlet flush with a wall [1] (Crane; Idelchik)."""
EXIT = 1.0
"""Loss coefficient of a duct's end: all velocity is lost [1]."""
BEND_MITRE = 1.2
"""Loss coefficient of a sharp right-angle bend [1] (Rennels & Hudson give 1.20)."""

WIRE_REYNOLDS = (20.0, 30.0, 40.0, 60.0, 80.0, 100.0, 200.0, 400.0)
WIRE_FACTORS = (1.3, 1.1, 0.95, 0.83, 0.75, 0.70, 0.60, 0.52)
"""Factor of round-wire screens against Reynolds number [1] (Blevins 1984)."""
EDGE_OPEN = (0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 1.0)
EDGE_LOSS = (52.0, 30.0, 17.0, 11.0, 7.7, 5.5, 3.8, 2.8, 2.0, 1.5, 1.1, 0.78, 0.53, 0.35, 0.08, 0.0)
"""Loss coefficient of square-edged screens against open share [1] (Blevins 1984)."""


def loss_pressure(loss: float, density: float, velocity: float) -> float:
    """Pressure loss of a fitting, with the sign of the velocity [Pa].

    Parameters
    ----------
    loss : float
        Loss coefficient on this velocity [1].
    density : float
        Density [kg/m3].
    velocity : float
        Velocity the coefficient belongs to [m/s].

    Source: definition.
    """
    return 0.5 * loss * density * velocity * abs(velocity)


def refer_loss(loss: float, own_area: float, area: float) -> float:
    """Loss coefficient on the velocity in another area of the same flow [1].

    Parameters
    ----------
    loss : float
        Loss coefficient on the velocity in its own area [1].
    own_area : float
        That area [m2].
    area : float
        Area whose velocity is to be used [m2].

    Source: the same pressure at the same volume flow.
    """
    return loss * (area / own_area) * (area / own_area)


def wire_screen_loss(open_share: float, reynolds: float) -> float:
    """Loss coefficient of a screen of round wires at higher speeds [1].

    Outside the table's Reynolds numbers its ends are kept; for slower air see
    `wire_screen_loss_slow`.

    Parameters
    ----------
    open_share : float
        Open share of the area, 0.05..0.8 [1].
    reynolds : float
        Reynolds number on the clear gap between wires, 20..400 [1].

    Source: Blevins, *Applied Fluid Dynamics Handbook*, 1984.
    """
    factor = WIRE_FACTORS[0]
    for i in range(7):
        low, high = WIRE_REYNOLDS[i], WIRE_REYNOLDS[i + 1]
        if reynolds > low:
            share = min(1.0, (reynolds - low) / (high - low))
            factor = WIRE_FACTORS[i] + share * (WIRE_FACTORS[i + 1] - WIRE_FACTORS[i])
    square = open_share * open_share
    return factor * (1.0 - square) / square


def wire_screen_loss_slow(open_share: float, reynolds: float) -> float:
    """Loss coefficient of a woven mesh of round wires, from creeping to fast air [1].

    At low speeds it grows as 1/V, so that the pressure grows as V.

    Parameters
    ----------
    open_share : float
        Open share of the area [1].
    reynolds : float
        Reynolds number on the wire diameter and the approach velocity, 1e-4..1e4 [1].

    Source: Brundrett 1993, J. Fluids Engineering 115:239 (constants from memory); used for insect
    screens by Bailey et al. 2003.
    """
    factor = 7.125 / reynolds + 0.88 / math.log10(reynolds + 1.25) + 0.055 * math.log10(reynolds)
    square = open_share * open_share
    return factor * (1.0 - square) / square


def square_edge_screen_loss(open_share: float) -> float:
    """Loss coefficient of a thin screen of square-edged bars or punched sheet, fast air [1].

    Parameters
    ----------
    open_share : float
        Open share of the area, 0.2..1 [1].

    Source: Blevins 1984, linear between its values.
    """
    loss = EDGE_LOSS[0]
    for i in range(15):
        low, high = EDGE_OPEN[i], EDGE_OPEN[i + 1]
        if open_share > low:
            share = min(1.0, (open_share - low) / (high - low))
            loss = EDGE_LOSS[i] + share * (EDGE_LOSS[i + 1] - EDGE_LOSS[i])
    return loss


def diamond_mesh_loss(open_share: float) -> float:
    """Loss coefficient of a very open diamond-pattern wire mesh, fast air [1].

    Parameters
    ----------
    open_share : float
        Open share of the area, 0.85..1; Reynolds number over 500 [1].

    Source: Blevins 1984.
    """
    solid = 1.0 - open_share
    return 0.67 * solid + 1.3 * solid * solid


def thick_grille_loss(open_share: float) -> float:
    """Loss coefficient of a thick grille with square edges [1].

    Parameters
    ----------
    open_share : float
        Open share of the area [1].

    Source: Blevins 1984: contraction and sudden expansion in series.
    """
    square = open_share * open_share
    return (0.5 * (1.0 - open_share) + 1.0 - square) / square


def thin_plate_loss(open_share: float) -> float:
    """Loss coefficient of a thin perforated plate [1].

    Parameters
    ----------
    open_share : float
        Open share of the area [1].

    Source: Idelchik, *Handbook of Hydraulic Resistance*, diagram 8-1 (from memory).
    """
    solid = 1.0 - open_share
    root = 0.707 * math.sqrt(solid) + solid
    return root * root / (open_share * open_share)


def net_permeability(porosity: float) -> float:
    """Permeability of an insect net [m2].

    Parameters
    ----------
    porosity : float
        Open share, 0.04..0.9 [1].

    Source: Miguel et al. 1997, J. Agric. Eng. Res. 67:191 (from memory).
    """
    return 3.44e-9 * porosity**1.6


def net_inertia(porosity: float) -> float:
    """Inertial factor of an insect net [1].

    Parameters
    ----------
    porosity : float
        Open share, 0.04..0.9 [1].

    Source: Miguel et al. 1997 (from memory).
    """
    return 4.30e-2 * porosity**-2.13


def porous_pressure(
    velocity: float,
    thickness: float,
    permeability: float,
    inertia: float,
    viscosity: float,
    density: float,
) -> float:
    """Pressure loss of a porous sheet, with the sign of the velocity [Pa].

    Parameters
    ----------
    velocity : float
        Approach velocity [m/s].
    thickness : float
        Thickness of the sheet [m].
    permeability : float
        Permeability [m2].
    inertia : float
        Inertial factor [1].
    viscosity : float
        Dynamic viscosity [Pa s].
    density : float
        Density [kg/m3].

    Source: Forchheimer's law, as Miguel et al. 1997 write it.
    """
    linear = viscosity / permeability * velocity
    square = density * inertia / math.sqrt(permeability) * velocity * abs(velocity)
    return thickness * (linear + square)


def filter_coefficients(
    flow_one: float, pressure_one: float, flow_two: float, pressure_two: float
) -> tuple[float, float]:
    """Linear and square term of a filter's loss from two data-sheet points.

    Where the points ask for a negative term, that term is left out and the second point is met.

    Parameters
    ----------
    flow_one, flow_two : float
        Two different flows, above 0 [m3/s].
    pressure_one, pressure_two : float
        Pressure losses there, above 0 [Pa].

    Returns
    -------
    tuple of float
        a [Pa s/m3] and b [Pa s2/m6] of dp = a Q + b Q^2, both at least 0.

    Source: the parabola through the origin and two points.
    """
    one, two = pressure_one / flow_one, pressure_two / flow_two
    square = (two - one) / (flow_two - flow_one)
    linear = one - square * flow_one
    if square < 0.0:
        return two, 0.0
    if linear < 0.0:
        return 0.0, two / flow_two
    return linear, square


def hydraulic_diameter(area: float, perimeter: float) -> float:
    """Diameter of the round duct that rubs as much [m].

    Parameters
    ----------
    area : float
        Cross-section [m2].
    perimeter : float
        Its wetted perimeter [m].

    Source: definition, 4 A/P.
    """
    return 4.0 * area / perimeter


def friction_factor(reynolds: float, roughness: float) -> float:
    """Darcy friction factor of a pipe, laminar to rough, without a jump [1].

    Between Reynolds numbers of 2100 and 4000 the real flow is undecided, this law smooth.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the (hydraulic) diameter, above 0 [1].
    roughness : float
        Roughness over diameter [1].

    Source: Churchill 1977, Chemical Engineering 84:91.
    """
    first = 2.457 * math.log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * roughness))
    second = 37530.0 / reynolds
    power = (first**16 + second**16) ** -1.5
    return 8.0 * ((8.0 / reynolds) ** 12 + power) ** (1.0 / 12.0)


def duct_loss(friction: float, length: float, diameter: float) -> float:
    """Loss coefficient of a straight duct on the velocity in it [1].

    Parameters
    ----------
    friction : float
        Darcy friction factor [1].
    length : float
        Length [m].
    diameter : float
        (Hydraulic) diameter [m].

    Source: Darcy-Weisbach.
    """
    return friction * length / diameter
