"""Nozzles and the thin line that feeds them."""

from __future__ import annotations

import math

from loamwright.physics.flow_losses import duct_loss, friction_factor, loss_pressure

DENSITY = 998.2
"""Density of water at 20 degC [kg/m3]."""

VISCOSITY = 1.002e-3
"""Dynamic viscosity of water at 20 degC [Pa s]; IAPWS, from memory."""

GRAVITY = 9.80665
"""Standard gravity [m/s2]."""


def nozzle_constant(flow: float, pressure: float) -> float:
    """Constant K of a nozzle in Q = K sqrt(p) [m3/(s Pa^0.5)].

    Parameters
    ----------
    flow : float
        Flow [m3/s] at a pressure.
    pressure : float
        That pressure [Pa].
    """
    return flow / math.sqrt(pressure)


def nozzle_flow(constant: float, pressure: float) -> float:
    """Flow of a nozzle at a pressure [m3/s]: Q = K sqrt(p); nothing below no pressure.

    Parameters
    ----------
    constant : float
        Constant of the nozzle [m3/(s Pa^0.5)].
    pressure : float
        Pressure before it [Pa].
    """
    return constant * math.sqrt(max(pressure, 0.0))


def line_loss(flow: float, diameter: float, length: float, roughness: float = 1.5e-6) -> float:
    """Pressure lost along a round line full of water at 20 degC [Pa]: Darcy and Weisbach.

    Parameters
    ----------
    flow : float
        Flow [m3/s].
    diameter : float
        Inner diameter [m].
    length : float
        Length [m].
    roughness : float
        Roughness of the wall [m]; that of drawn tube.
    """
    if flow <= 0.0:
        return 0.0
    speed = flow / (0.25 * math.pi * diameter**2)
    reynolds = DENSITY * speed * diameter / VISCOSITY
    friction = friction_factor(reynolds, roughness / diameter)
    return loss_pressure(duct_loss(friction, length, diameter), DENSITY, speed)


def head(height: float) -> float:
    """Pressure of a column of water at 20 degC [Pa].

    Parameters
    ----------
    height : float
        Its height [m].
    """
    return DENSITY * GRAVITY * height


def pump_power(flow: float, pressure: float, efficiency: float) -> float:
    """Power a pump draws [W]: Q p / eta.

    Parameters
    ----------
    flow : float
        Flow [m3/s].
    pressure : float
        Pressure it makes [Pa].
    efficiency : float
        Share of the power that becomes pressure and flow [1].
    """
    return flow * pressure / efficiency
