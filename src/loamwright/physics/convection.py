"""Heat carried by air along surfaces: dry-air properties, Rayleigh number, Nusselt numbers.

Every function stands alone on `math` and floats, so that a kernel compiler can take it as it is.
A heat transfer coefficient is ``h = Nu k / L`` with the length the law asks for. Air properties
belong at the film temperature, the mean of surface and air.
"""

from __future__ import annotations

import math

GRAVITY = 9.80665
"""Standard gravity [m/s2] (CGPM 1901)."""
GAS_CONSTANT_DRY_AIR = 287.055
"""Gas constant of dry air [J/(kg K)]: 8.314462618 J/(mol K) over 28.965 g/mol."""


def air_density(temperature: float, pressure: float) -> float:
    """Density of dry air as an ideal gas [kg/m3].

    Parameters
    ----------
    temperature : float
        Air temperature, 230..600 [K].
    pressure : float
        Air pressure [Pa].

    Source: ideal gas law; within 0.1 % of real air at room pressure.
    """
    return pressure / (GAS_CONSTANT_DRY_AIR * temperature)


def air_viscosity(temperature: float) -> float:
    """Dynamic viscosity of air [Pa s].

    Parameters
    ----------
    temperature : float
        Air temperature, 230..600 [K].

    Source: U.S. Standard Atmosphere 1976, eq. 51 (Sutherland) (from memory).
    """
    return 1.458e-6 * temperature * math.sqrt(temperature) / (temperature + 110.4)


def air_conductivity(temperature: float) -> float:
    """Thermal conductivity of air [W/(m K)].

    Parameters
    ----------
    temperature : float
        Air temperature, 230..600 [K].

    Source: U.S. Standard Atmosphere 1976, eq. 53 (from memory).
    """
    bend = 245.4 * 10.0 ** (-12.0 / temperature)
    return 2.64638e-3 * temperature * math.sqrt(temperature) / (temperature + bend)


def air_heat_capacity(temperature: float) -> float:
    """Specific heat capacity of dry air at constant pressure [J/(kg K)].

    Parameters
    ----------
    temperature : float
        Air temperature, 273..1800 [K].

    Source: Çengel, *Thermodynamics*, Table A-2(c), cubic for air over 28.97 g/mol (from memory);
    0.7 % at most.
    """
    t = temperature
    return (28.11 + t * (1.967e-3 + t * (4.802e-6 - t * 1.966e-9))) / 28.97e-3


def air_film(temperature: float, pressure: float) -> tuple[float, float, float, float]:
    """What convection needs of dry air at a film temperature, in one call.

    Parameters
    ----------
    temperature : float
        Film temperature, 273..600 [K].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    tuple of float
        Conductivity k [W/(m K)], kinematic viscosity nu [m2/s], Prandtl number [1] and
        g beta/(nu alpha) [1/(K m3)], so that Ra = that x difference x length^3.

    Source: the laws of `air_density`, `air_viscosity`, `air_conductivity`, `air_heat_capacity`,
    written out; beta = 1/T of an ideal gas.
    """
    t = temperature
    root = t * math.sqrt(t)
    viscosity = 1.458e-6 * root / (t + 110.4)
    conductivity = 2.64638e-3 * root / (t + 245.4 * 10.0 ** (-12.0 / t))
    capacity = (28.11 + t * (1.967e-3 + t * (4.802e-6 - t * 1.966e-9))) / 28.97e-3
    density = pressure / (GAS_CONSTANT_DRY_AIR * t)
    nu = viscosity / density
    prandtl = viscosity * capacity / conductivity
    return conductivity, nu, prandtl, GRAVITY / t * prandtl / (nu * nu)


def rayleigh(difference: float, length: float, film: float, nu: float, prandtl: float) -> float:
    """Rayleigh number of a gas, g beta |dT| L^3 / (nu alpha) [1].

    Parameters
    ----------
    difference : float
        Surface minus air temperature, of either sign [K].
    length : float
        Length of the law: height, diameter, or area over perimeter [m].
    film : float
        Film temperature; beta = 1/film [K].
    nu : float
        Kinematic viscosity [m2/s].
    prandtl : float
        Prandtl number [1].

    Source: definition.
    """
    return GRAVITY / film * abs(difference) * length * length * length * prandtl / (nu * nu)


def vertical_plate(rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of free convection along a vertical plate, any Rayleigh number [1].

    It smooths over the transition to turbulence, and so lies 5 % over `vertical_plate_laminar` at
    1e7, 17 % at 1e8 and 33 % at 1e9.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the height, 0..1e12 [1].
    prandtl : float
        Prandtl number [1].

    Source: Churchill & Chu 1975; Incropera eq. 9.26.
    """
    shape = (1.0 + (0.492 / prandtl) ** 0.5625) ** (8.0 / 27.0)
    root = 0.825 + 0.387 * rayleigh ** (1.0 / 6.0) / shape
    return root * root


def vertical_plate_laminar(rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of laminar free convection along a vertical plate [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the height, 0..1e9 [1].
    prandtl : float
        Prandtl number [1].

    Source: Churchill & Chu 1975; Incropera eq. 9.27 (from memory).
    """
    shape = (1.0 + (0.492 / prandtl) ** 0.5625) ** (4.0 / 9.0)
    return 0.68 + 0.670 * rayleigh**0.25 / shape


def horizontal_plate_unstable(rayleigh: float) -> float:
    """Mean Nusselt number of a plate hot on its upper side, or cold on its lower side [1].

    The laminar and turbulent laws meet with a step of 6 % at 1e7 in the source; here the larger
    is taken, which crosses without a step at 4.7e6.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on area over perimeter, 1e4..1e11 [1].

    Source: McAdams 1954; Incropera eqs. 9.30, 9.31.
    """
    return max(0.54 * rayleigh**0.25, 0.15 * rayleigh ** (1.0 / 3.0))


def horizontal_plate_stable(rayleigh: float) -> float:
    """Mean Nusselt number of a plate hot on its lower side, or cold on its upper side [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on area over perimeter, 1e5..1e10 [1].

    Source: McAdams 1954 (from memory).
    """
    return 0.27 * rayleigh**0.25


def horizontal_plate_stable_newer(rayleigh: float) -> float:
    """As `horizontal_plate_stable`, by a later law; about 6 % more at a Rayleigh number of 1e5 [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on area over perimeter, 1e4..1e9 [1].

    Source: Incropera 7th ed. eq. 9.32 (from memory).
    """
    return 0.52 * rayleigh**0.2


def sphere(rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of free convection from a sphere [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the diameter, 0..1e11 [1].
    prandtl : float
        Prandtl number, at least 0.7 [1].

    Source: Churchill 1983; Incropera eq. 9.35.
    """
    shape = (1.0 + (0.469 / prandtl) ** 0.5625) ** (4.0 / 9.0)
    return 2.0 + 0.589 * rayleigh**0.25 / shape


def horizontal_cylinder(rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of free convection from a long horizontal cylinder [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the diameter, 0..1e12 [1].
    prandtl : float
        Prandtl number [1].

    Source: Churchill & Chu 1975; Incropera eq. 9.34.
    """
    shape = (1.0 + (0.559 / prandtl) ** 0.5625) ** (8.0 / 27.0)
    root = 0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / shape
    return root * root


def cavity_heated_below(rayleigh: float) -> float:
    """Nusselt number across a horizontal layer of air that is warmer below [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the layer's depth and full difference, 0..1e8 [1].

    Source: Hollands et al. 1975 (from memory). A layer warmer above only conducts: Nu = 1.
    """
    if rayleigh <= 1708.0:
        return 1.0
    turbulent = max(0.0, (rayleigh / 5830.0) ** (1.0 / 3.0) - 1.0)
    return 1.0 + 1.44 * (1.0 - 1708.0 / rayleigh) + turbulent


def cavity_vertical(rayleigh: float, aspect: float) -> float:
    """Nusselt number across a vertical layer of air between two panes [1].

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on the gap and full difference, above 0 up to 2e7 [1].
    aspect : float
        Height over gap, 5..110 [1].

    Source: ElSherbiny, Raithby & Hollands 1982 (from memory).
    """
    if rayleigh <= 0.0:
        return 1.0
    conduction = 0.104 * rayleigh**0.293 / (1.0 + (6310.0 / rayleigh) ** 1.36)
    middle = (1.0 + conduction * conduction * conduction) ** (1.0 / 3.0)
    turbulent = 0.0605 * rayleigh ** (1.0 / 3.0)
    return max(turbulent, middle, 0.242 * (rayleigh / aspect) ** 0.272)


def flat_plate_forced(reynolds: float, prandtl: float) -> float:
    """Mean Nusselt number of a laminar stream along a plate [1].

    Parameters
    ----------
    reynolds : float
        Reynolds number on the length, up to 5e5 [1].
    prandtl : float
        Prandtl number, at least 0.6 [1].

    Source: Pohlhausen 1921; Incropera eq. 7.30 (from memory).
    """
    return 0.664 * math.sqrt(reynolds) * prandtl ** (1.0 / 3.0)


def cylinder_forced(reynolds: float, prandtl: float) -> float:
    """Mean Nusselt number of a stream across a cylinder [1].

    Parameters
    ----------
    reynolds : float
        Reynolds number on the diameter, 0..1e7 [1].
    prandtl : float
        Prandtl number; reynolds x prandtl at least 0.2 [1].

    Source: Churchill & Bernstein 1977; Incropera eq. 7.54 (from memory).
    """
    shape = (1.0 + (0.4 / prandtl) ** (2.0 / 3.0)) ** 0.25
    boost = (1.0 + (reynolds / 282000.0) ** 0.625) ** 0.8
    return 0.3 + 0.62 * math.sqrt(reynolds) * prandtl ** (1.0 / 3.0) / shape * boost


def sphere_forced(reynolds: float, prandtl: float) -> float:
    """Mean Nusselt number of a stream past a sphere (viscosity ratio left at one) [1].

    Parameters
    ----------
    reynolds : float
        Reynolds number on the diameter, 3.5..7.6e4 [1].
    prandtl : float
        Prandtl number, 0.71..380 [1].

    Source: Whitaker 1972; Incropera eq. 7.56 (from memory).
    """
    return 2.0 + (0.4 * math.sqrt(reynolds) + 0.06 * reynolds ** (2.0 / 3.0)) * prandtl**0.4


def mixed(free: float, forced: float) -> float:
    """Nusselt number where free and forced convection help each other or cross [1].

    Parameters
    ----------
    free : float
        Nusselt number of free convection alone, on the same length [1].
    forced : float
        Nusselt number of forced convection alone [1].

    Source: cubic sum, Incropera eq. 9.64 with n = 3 and plus.
    """
    return (free * free * free + forced * forced * forced) ** (1.0 / 3.0)
