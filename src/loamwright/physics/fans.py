"""Fans: speed laws, a curve from two or three data-sheet numbers, where it meets the losses.

A curve is p = p0 + a Q + b Q^2 with Q the volume flow and p the static pressure. Every function
stands alone on `math` and floats, so that a kernel compiler can take it as it is.
"""

from __future__ import annotations

import math


def fan_laws(
    flow: float, pressure: float, power: float, speed_ratio: float
) -> tuple[float, float, float]:
    """Flow, pressure and shaft power of a fan at another speed, on the same system.

    Parameters
    ----------
    flow : float
        Flow [m3/s].
    pressure : float
        Pressure rise [Pa].
    power : float
        Shaft power [W].
    speed_ratio : float
        New speed over old [1].

    Returns
    -------
    tuple of float
        Flow [m3/s], pressure [Pa] and power [W] at the new speed.

    Source: affinity laws.
    """
    square = speed_ratio * speed_ratio
    return flow * speed_ratio, pressure * square, power * square * speed_ratio


def curve_from_two(
    free_flow: float, shut_pressure: float, bulge: float
) -> tuple[float, float, float]:
    """Curve of a fan of which only the free flow and the greatest pressure are known.

    Parameters
    ----------
    free_flow : float
        Flow without back pressure [m3/s].
    shut_pressure : float
        Pressure without flow [Pa].
    bulge : float
        0 for a straight line, 1 for a parabola with its top at no flow; small axial fans lie
        near or under the straight line, which is the careful choice [1].

    Returns
    -------
    tuple of float
        p0 [Pa], a [Pa s/m3] and b [Pa s2/m6].

    Source: both shapes are textbook approximations; which one fits is not known from two numbers.
    """
    linear = -(1.0 - bulge) * shut_pressure / free_flow
    return shut_pressure, linear, -bulge * shut_pressure / (free_flow * free_flow)


def curve_from_three(
    free_flow: float, shut_pressure: float, flow: float, pressure: float
) -> tuple[float, float, float]:
    """Curve of a fan through free flow, greatest pressure and one working point.

    Parameters
    ----------
    free_flow : float
        Flow without back pressure [m3/s].
    shut_pressure : float
        Pressure without flow [Pa].
    flow : float
        Flow at the working point, between 0 and the free flow, both excluded [m3/s].
    pressure : float
        Pressure there [Pa].

    Returns
    -------
    tuple of float
        p0 [Pa], a [Pa s/m3] and b [Pa s2/m6].

    Source: the parabola through three points. `curve_falls` says whether it falls all the way.
    """
    end = -shut_pressure / free_flow
    middle = (pressure - shut_pressure) / flow
    square = (end - middle) / (free_flow - flow)
    return shut_pressure, middle - square * flow, square


def curve_falls(shut_pressure: float, linear: float, square: float, free_flow: float) -> bool:
    """Whether a curve falls from no flow to the free flow, as the pressure of a healthy fan does.

    Parameters
    ----------
    shut_pressure : float
        p0, above 0 [Pa].
    linear : float
        a [Pa s/m3].
    square : float
        b [Pa s2/m6].
    free_flow : float
        Flow without back pressure [m3/s].

    Source: sign of the slope at both ends of a parabola.
    """
    return shut_pressure > 0.0 and linear <= 0.0 and linear + 2.0 * square * free_flow <= 0.0


def curve_at_speed(
    shut_pressure: float, linear: float, square: float, speed_ratio: float
) -> tuple[float, float, float]:
    """Curve of the same fan at another speed.

    Parameters
    ----------
    shut_pressure : float
        p0 [Pa].
    linear : float
        a [Pa s/m3].
    square : float
        b [Pa s2/m6].
    speed_ratio : float
        New speed over old [1].

    Returns
    -------
    tuple of float
        p0 [Pa], a [Pa s/m3] and b [Pa s2/m6].

    Source: affinity laws put into the curve.
    """
    return shut_pressure * speed_ratio * speed_ratio, linear * speed_ratio, square


def curve_pressure(shut_pressure: float, linear: float, square: float, flow: float) -> float:
    """Pressure rise of a fan at a flow [Pa].

    Parameters
    ----------
    shut_pressure : float
        p0 [Pa].
    linear : float
        a [Pa s/m3].
    square : float
        b [Pa s2/m6].
    flow : float
        Flow [m3/s].

    Source: the curve.
    """
    return shut_pressure + flow * (linear + flow * square)


def operating_flow(
    shut_pressure: float,
    linear: float,
    square: float,
    system_linear: float,
    system_square: float,
    aid: float,
) -> float:
    """Flow at which a fan's pressure equals the losses of guards, meshes, ducts and filters [m3/s].

    Solves p0 + aid + a Q + b Q^2 = k1 Q + k2 Q^2 for the smallest Q that is not negative. A fan
    that cannot overcome a pressure against it gives 0: flow backwards through a fan is not
    modelled. A curve and system that never meet give infinity.

    Parameters
    ----------
    shut_pressure : float
        p0 [Pa].
    linear : float
        a [Pa s/m3].
    square : float
        b [Pa s2/m6].
    system_linear : float
        k1, at least 0 [Pa s/m3].
    system_square : float
        k2, at least 0 [Pa s2/m6].
    aid : float
        Pressure that helps the fan (stack, another fan), negative against it [Pa].

    Source: intersection of two parabolas, in the form that is safe without a square term.
    """
    drive = shut_pressure + aid
    if drive <= 0.0:
        return 0.0
    rise = system_linear - linear
    bend = system_square - square
    inner = rise * rise + 4.0 * bend * drive
    if inner < 0.0:
        return math.inf
    if rise >= 0.0:
        below = rise + math.sqrt(inner)
        return 2.0 * drive / below if below > 0.0 else math.inf
    if bend <= 0.0:
        return math.inf
    return (math.sqrt(inner) - rise) / (2.0 * bend)


def shaft_power(flow: float, pressure: float, efficiency: float) -> float:
    """Power a fan takes; all of it ends as heat, in the air it moves if the motor sits there [W].

    Parameters
    ----------
    flow : float
        Flow [m3/s].
    pressure : float
        Pressure rise [Pa].
    efficiency : float
        Efficiency, above 0; of motor and fan for electrical power [1].

    Source: definition of efficiency.
    """
    return flow * pressure / efficiency
