"""Water in ground: how much it holds at a suction, and how readily that water moves.

Every function is plain arithmetic on floats, so that a compiled loop can take it as it is. ``head``
is the pressure head of the water [m]: negative where the ground sucks (suction is its opposite),
zero at a free water surface, positive below one. Water contents are shares of the volume.

The van Genuchten-Mualem law is van Genuchten 1980, Soil Sci Soc Am J 44:892, with m = 1 - 1/n.
Two other laws are here because published solutions of the flow equation use them.
"""

from __future__ import annotations

from math import exp, log, log1p
from typing import Final

WATER_DENSITY: Final = 998.0
"""Density of water near 20 degC [kg/m3]."""

HUMID_HEAD: Final = 14_026.0
"""Head over which pore humidity falls by a factor e [m]: R T / (g M) at 25 degC (Kelvin
equation; 461.52 x 298.15 / 9.81)."""

DRY_HEAD: Final = 150.0
"""Suction from which on the residual water is given off [m]: the wilting point, pF 4.2."""

OVEN_HEAD: Final = 1e5
"""Suction of oven-dry ground [m], pF 7; Campbell & Shiozawa 1992 (from memory)."""


def effective_saturation(head: float, alpha: float, n: float) -> float:
    """Share of the mobile water that is held [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    alpha : float
        Inverse of the air-entry suction [1/m], above 0.
    n : float
        Spread of the pore sizes [1], above 1.

    Source: van Genuchten 1980 eq. 3.
    """
    if head >= 0.0:
        return 1.0
    return float((1.0 + (-alpha * head) ** n) ** (1.0 / n - 1.0))


def water_content(head: float, residual: float, saturated: float, alpha: float, n: float) -> float:
    """Water content at a pressure head [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    Source: van Genuchten 1980 eq. 2 and 3.
    """
    if head >= 0.0:
        return saturated
    share = (1.0 + (-alpha * head) ** n) ** (1.0 / n - 1.0)
    return float(residual + (saturated - residual) * share)


def water_capacity(head: float, residual: float, saturated: float, alpha: float, n: float) -> float:
    """How much the water content rises with the pressure head [1/m].

    Parameters
    ----------
    head : float
        Pressure head [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    Source: derivative of `water_content`; van Genuchten 1980 eq. 12 (C = dtheta/dh).
    """
    if head >= 0.0:
        return 0.0
    x = (-alpha * head) ** n
    share = (1.0 + x) ** (1.0 / n - 1.0)
    return float((saturated - residual) * (n - 1.0) * share * x / ((1.0 + x) * -head))


def conductivity(head: float, saturated: float, alpha: float, n: float, bend: float) -> float:
    """Hydraulic conductivity at a pressure head [m/s].

    Parameters
    ----------
    head : float
        Pressure head [m].
    saturated : float
        Conductivity without suction [m/s].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].
    bend : float
        Exponent for bent and badly joined pores [1]; 0.5 where nobody measured it.

    Source: van Genuchten 1980 eq. 8; the exponent 0.5 from Mualem 1976, Water Resour Res 12:513.
    """
    if head >= 0.0:
        return saturated
    m = 1.0 - 1.0 / n
    x = (-alpha * head) ** n
    # 1 - (x / (1 + x))^m without taking two near equal numbers from each other.
    opened = 1.0 - exp(-m * log1p(1.0 / x))
    if x > 1e8:
        opened = m / x
    return float(saturated * (1.0 + x) ** (-m * bend) * opened * opened)


def head_at(saturation: float, alpha: float, n: float) -> float:
    """Pressure head at an effective saturation [m]; 0 when full.

    Parameters
    ----------
    saturation : float
        Effective saturation [1], above 0.
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].

    Source: van Genuchten 1980 eq. 3 solved for the head.
    """
    if saturation >= 1.0:
        return 0.0
    return float(-((saturation ** (n / (1.0 - n)) - 1.0) ** (1.0 / n)) / alpha)


def saturation_of(content: float, residual: float, saturated: float) -> float:
    """Effective saturation of a water content, kept between 0 and 1 [1].

    Parameters
    ----------
    content : float
        Water content [1].
    residual, saturated : float
        Water contents left at great suction and without any [1].

    Source: definition; van Genuchten 1980 eq. 2.
    """
    share = (content - residual) / (saturated - residual)
    return min(1.0, max(0.0, share))


def adsorbed_release(head: float, residual: float) -> float:
    """Residual water given off to air that is drier than the pores' [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    residual : float
        Residual water content [1].

    The residual water of a fit is no limit: it goes by the logarithm of the suction, and all is
    gone at `OVEN_HEAD`. Under 10 m of suction less than a thousandth of it is given off.

    Source: Fayer & Simmons 1995, Water Resour Res 31:1233 (from memory); the smooth beginning is
    our own.
    """
    if head >= 0.0:
        return 0.0
    return residual * 0.5 * log1p((head / DRY_HEAD) ** 2) / log(OVEN_HEAD / DRY_HEAD)


def vapour_conductivity(
    head: float, air_filled: float, diffusivity: float, vapour_density: float
) -> float:
    """Conductivity of the vapour in the pores for differences of head, one temperature [m/s].

    Parameters
    ----------
    head : float
        Pressure head [m], 0 or below.
    air_filled : float
        Share of the volume filled with air [1].
    diffusivity : float
        Diffusivity of vapour in free air [m2/s].
    vapour_density : float
        Density of saturated vapour [kg/m3].

    Source: Philip & de Vries 1957, Trans Am Geophys Union 38:222, with the tortuosity 0.66 of
    Penman 1940 (from memory): 0.66 a D rho_v dHr/dh / rho_w, and `HUMID_HEAD`.
    """
    humidity = exp(head / HUMID_HEAD)
    density = vapour_density / WATER_DENSITY
    return 0.66 * air_filled * diffusivity * density * humidity / HUMID_HEAD


def evaporated_share(head: float, air_humidity: float) -> float:
    """Evaporation from ground over that of a water surface in the same air [1].

    Parameters
    ----------
    head : float
        Pressure head at the surface [m].
    air_humidity : float
        Relative humidity of the air, taken at the surface's temperature [1], below 1.

    Nothing evaporates from pores drier than the air; what would be taken up then is left out.

    Source: Kelvin equation; Philip 1957, J Meteorol 14:354 (from memory).
    """
    if head >= 0.0:
        return 1.0
    return max(0.0, (exp(head / HUMID_HEAD) - air_humidity) / (1.0 - air_humidity))


def exponential_content(head: float, residual: float, saturated: float, alpha: float) -> float:
    """Water content of the exponential soil [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    alpha : float
        Inverse of the suction over which it falls by a factor e [1/m].

    Source: Srivastava & Yeh 1991, Water Resour Res 27:753 (from memory).
    """
    return residual + (saturated - residual) * exp(min(0.0, alpha * head))


def exponential_conductivity(head: float, saturated: float, alpha: float) -> float:
    """Hydraulic conductivity of the exponential soil [m/s].

    Parameters
    ----------
    head : float
        Pressure head [m].
    saturated : float
        Conductivity without suction [m/s].
    alpha : float
        Inverse of the suction over which it falls by a factor e [1/m].

    Source: Gardner 1958, Soil Sci 85:228 (from memory).
    """
    return saturated * exp(min(0.0, alpha * head))


def haverkamp_content(
    head: float, residual: float, saturated: float, scale: float, power: float
) -> float:
    """Water content of Haverkamp's sand [1].

    Parameters
    ----------
    head : float
        Pressure head [m].
    residual, saturated : float
        Water contents left at great suction and without any [1].
    scale : float
        Suction at which half of the mobile water is held [m].
    power : float
        Exponent [1].

    Source: Haverkamp et al. 1977, Soil Sci Soc Am J 41:285 (from memory); its constant a is
    ``scale ** power``.
    """
    if head >= 0.0:
        return saturated
    return float(residual + (saturated - residual) / (1.0 + (-head / scale) ** power))


def haverkamp_conductivity(head: float, saturated: float, scale: float, power: float) -> float:
    """Hydraulic conductivity of Haverkamp's sand [m/s].

    Parameters
    ----------
    head : float
        Pressure head [m].
    saturated : float
        Conductivity without suction [m/s].
    scale : float
        Suction at which half of the conductivity is left [m].
    power : float
        Exponent [1].

    Source: Haverkamp et al. 1977, Soil Sci Soc Am J 41:285 (from memory); its constant A is
    ``scale ** power``.
    """
    if head >= 0.0:
        return saturated
    return float(saturated / (1.0 + (-head / scale) ** power))


def interface_head(flow: float, saturated: float, alpha: float, n: float, bend: float) -> float:
    """Head at which a medium just carries a steady flow downwards [m].

    Parameters
    ----------
    flow : float
        Flow per area [m/s], above 0.
    saturated : float
        Conductivity without suction [m/s].
    alpha : float
        Inverse of the air-entry suction [1/m].
    n : float
        Spread of the pore sizes [1].
    bend : float
        Exponent for bent pores [1].

    It is the head where a fine medium meets a coarse one that drains: the ground above must be this
    wet before water crosses (a capillary break). 0 where the flow is more than it can carry.

    Source: `conductivity` equal to the flow (Darcy's law at unit gradient), by bisection on the
    logarithm of the suction.
    """
    if flow >= saturated:
        return 0.0
    m = 1.0 - 1.0 / n
    low, high = log(1e-6 / alpha), log(1e6 / alpha)
    for _ in range(60):
        middle = 0.5 * (low + high)
        x = exp(n * (middle + log(alpha)))
        opened = m / x if x > 1e8 else 1.0 - exp(-m * log1p(1.0 / x))
        if saturated * (1.0 + x) ** (-m * bend) * opened * opened > flow:
            low = middle
        else:
            high = middle
    return -exp(0.5 * (low + high))


def capillary_rise(radius: float, tension: float = 0.0728) -> float:
    """Height to which water rises in a round pore that it wets [m].

    Parameters
    ----------
    radius : float
        Radius of the pore [m].
    tension : float
        Surface tension [N/m]; of water at 20 degC where left out.

    Source: Young-Laplace, h = 2 sigma / (rho g r).
    """
    return 2.0 * tension / (1000.0 * 9.81 * radius)
