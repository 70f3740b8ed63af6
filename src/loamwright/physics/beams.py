"""Beams and bodies that stand: shelves, rails, joists under a heavy thing, and what tips it over."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray


def rectangle_inertia(width: float, depth: float) -> float:
    """Second moment of area of a rectangle [m4]: b h^3 / 12.

    Parameters
    ----------
    width : float
        Width across the load [m].
    depth : float
        Depth along the load [m].
    """
    return width * depth**3 / 12.0


def uniform_deflection(load: float, span: float, young: float, inertia: float) -> float:
    """Deflection in the middle of a beam held at its ends under an even load [m]: 5 w L^4 / (384 E I).

    Parameters
    ----------
    load : float
        Load by length [N/m].
    span : float
        Span [m].
    young : float
        Young's modulus [Pa].
    inertia : float
        Second moment of area [m4].
    """
    return 5.0 * load * span**4 / (384.0 * young * inertia)


def part_moment(load: float, start: float, length: float, span: float) -> float:
    """Greatest moment of a beam held at its ends under an even load on a part of it [N m].

    By the equilibrium of the beam: the moment is greatest where the shear goes through zero.

    Parameters
    ----------
    load : float
        Load by length [N/m].
    start : float
        Where the loaded part begins, from one end [m].
    length : float
        Its length [m].
    span : float
        Span [m].
    """
    length = min(length, span - start)
    reaction = load * length * (span - start - 0.5 * length) / span
    zero = reaction / load if load else 0.0
    return reaction * (start + zero) - 0.5 * load * zero**2


def part_shear(load: float, start: float, length: float, span: float) -> float:
    """Greater of the two end reactions of a beam under an even load on a part of it [N].

    Parameters
    ----------
    load : float
        Load by length [N/m].
    start : float
        Where the loaded part begins, from one end [m].
    length : float
        Its length [m].
    span : float
        Span [m].
    """
    length = min(length, span - start)
    left = load * length * (span - start - 0.5 * length) / span
    return max(left, load * length - left)


def even_load_of_moment(moment: float, span: float) -> float:
    """Even load all along a beam that bends it as much [N/m]: 8 M / L^2.

    Parameters
    ----------
    moment : float
        Greatest moment [N m].
    span : float
        Span [m].
    """
    return 8.0 * moment / span**2


def even_load_of_shear(shear: float, span: float) -> float:
    """Even load all along a beam with as great an end reaction [N/m]: 2 V / L.

    Parameters
    ----------
    shear : float
        End reaction [N].
    span : float
        Span [m].
    """
    return 2.0 * shear / span


def tipping_factor(weight: float, lever: float, push: float, height: float) -> float:
    """How many times the push could grow before a body tips over its edge [1]: W d / (F h).

    Parameters
    ----------
    weight : float
        Weight of the body [N].
    lever : float
        Level distance of its centre of mass from the edge it tips over [m].
    push : float
        Level push [N].
    height : float
        Height of the push over that edge [m].
    """
    return weight * lever / (push * height)


def rest_coefficient(friction_angle: float) -> float:
    """Level over upright pressure in ground at rest [1]: 1 - sin(phi); Jaky 1944, J. Soc. Hungarian
    Architects and Engineers 78(22):355.

    Parameters
    ----------
    friction_angle : float
        Angle of inner friction [rad].
    """
    return 1.0 - math.sin(friction_angle)


def varied_deflection(
    loads: NDArray[np.float64], span: float, young: float, inertia: float
) -> float:
    """Greatest deflection of a beam held at its ends under a load that varies along it [m].

    By integrating E I y'' = -M twice, M from the equilibrium of the beam; trapezoids between stations.

    Parameters
    ----------
    loads : array of float
        Load by length at stations that are even from end to end [N/m] (N,).
    span : float
        Span [m].
    young : float
        Young's modulus [Pa].
    inertia : float
        Second moment of area [m4].
    """
    at = np.linspace(0.0, span, len(loads))
    step = at[1] - at[0]

    def summed(values: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate([[0.0], np.cumsum(0.5 * (values[1:] + values[:-1]) * step)])

    borne = summed(loads)
    moment = at / span * summed(borne)[-1] - summed(borne)
    slope = summed(moment)
    bent = at / span * summed(slope)[-1] - summed(slope)
    return float(np.abs(bent).max()) / (young * inertia)
