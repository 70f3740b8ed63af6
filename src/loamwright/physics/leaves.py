"""Leaves: conductances of stomata and boundary layer, transpiration, leaf temperature.

Plain arithmetic on floats, so that a compiled loop can take each function as it is. All fluxes
and conductances are per one-sided leaf area; conductances for heat and vapour are in m/s and count
both faces of the leaf unless said otherwise. Keeping the two apart matters: a leaf gives heat off
from both faces but most leaves transpire from one (Schymanski & Or 2017, Hydrol Earth Syst Sci 21:685).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from types import MappingProxyType
from typing import Final

from loamwright.physics.convection import GRAVITY, air_conductivity, air_viscosity, mixed
from loamwright.physics.moist_air import (
    DRY_AIR_HEAT,
    VAPOUR_GAS,
    humidity_ratio,
    latent_heat,
    moist_air_volume,
    saturation_pressure,
    saturation_slope,
    volumetric_heat_capacity,
)

MOLAR_GAS: Final = 8.314462618
"""Molar gas constant [J/(mol K)], exact in the SI."""

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m2 K4)]."""

LEAF_EMISSIVITY: Final = 0.96
"""Long-wave emissivity of leaves [1]; table III of the article PMC3982738."""

HALF_LIGHT: Final = 100.0
"""Photon flux at which stomata are half open [umol/(m2 s)]; from memory, of shade plants."""

HALF_DEFICIT: Final = 1500.0
"""Vapour pressure deficit that halves the opening [Pa]; from memory, 1 to 2 kPa is usual."""

NIGHT_SHARE: Final = 0.1
"""Stomatal conductance in the dark over that in full light [1].

From memory: 5 to 30 %, Caird, Richards & Donovan 2007, Plant Physiol 143:4."""

CUTICLE: Final = 0.004
"""Conductance of the cuticle, both faces together [mol/(m2 s)]; from memory, 0.002 to 0.01."""

OPEN_CONDUCTANCE: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "woody": (0.1, 0.3),
        "herb": (0.3, 0.7),
        "shade or fern": (0.05, 0.15),
        "CAM at night": (0.02, 0.1),
    }
)
"""Usual stomatal conductance when open, low and high end [mol/(m2 s)].

From memory, after Koerner 1995, Ecophysiology of Photosynthesis, p. 463."""


def mole_to_velocity(conductance: float, temperature: float, pressure: float) -> float:
    """Conductance in m/s from one in mol/(m2 s).

    Parameters
    ----------
    conductance : float
        Conductance [mol/(m2 s)].
    temperature : float
        Air temperature [K].
    pressure : float
        Air pressure [Pa].

    Source: ideal gas law, g R T / p.
    """
    return conductance * MOLAR_GAS * temperature / pressure


def velocity_to_mole(conductance: float, temperature: float, pressure: float) -> float:
    """Conductance in mol/(m2 s) from one in m/s.

    Parameters
    ----------
    conductance : float
        Conductance [m/s].
    temperature : float
        Air temperature [K].
    pressure : float
        Air pressure [Pa].

    Source: ideal gas law, g p / (R T).
    """
    return conductance * pressure / (MOLAR_GAS * temperature)


def stomatal_conductance(
    photons: float,
    deficit: float,
    light_open: float,
    dark_open: float,
    half_light: float,
    half_deficit: float,
) -> float:
    """Stomatal conductance of a well-watered leaf [mol/(m2 s)].

    Parameters
    ----------
    photons : float
        Photon flux on the leaf, 400-700 nm [umol/(m2 s)], 0 or more.
    deficit : float
        Vapour pressure deficit at the leaf [Pa]; below 0 counts as 0.
    light_open : float
        Conductance in full light and moist air [mol/(m2 s)].
    dark_open : float
        Conductance in the dark and moist air [mol/(m2 s)]: a tenth of `light_open` in most
        plants, more than it in CAM plants, which open by night.
    half_light : float
        Photon flux at which the change is half made [umol/(m2 s)].
    half_deficit : float
        Deficit that halves the conductance [Pa].

    Source: factors multiplied after Jarvis 1976, Phil Trans R Soc B 273:593; light as a
    hyperbola; deficit as 1 / (1 + D / D0), Lohammar et al. 1980, Ecol Bull 32:505 (from memory).
    """
    lit = photons / (photons + half_light)
    dry = 1.0 / (1.0 + max(deficit, 0.0) / half_deficit)
    return (dark_open + (light_open - dark_open) * lit) * dry


def leaf_nusselt_forced(reynolds: float) -> float:
    """Nusselt number of one face of a leaf in a laminar stream [1].

    Parameters
    ----------
    reynolds : float
        Reynolds number on the leaf's length along the stream [1], up to 2e4.

    In turbulent outdoor wind leaves exchange 1.4 times as much.

    Source: Monteith & Unsworth, *Principles of Environmental Physics*, table A.5: 0.60 Re^0.5
    (from memory).
    """
    return 0.60 * sqrt(reynolds)


def leaf_nusselt_free(grashof: float) -> float:
    """Nusselt number of a level leaf in still air, mean of its two faces [1].

    Parameters
    ----------
    grashof : float
        Grashof number on the leaf's length [1], up to 1e7.

    Source: Monteith & Unsworth table A.5: 0.50 Gr^0.25 on the face that stirs the air, 0.23
    Gr^0.25 on the other (from memory).
    """
    return 0.5 * (0.50 + 0.23) * sqrt(sqrt(grashof))


def leaf_boundary_conductance(
    speed: float, length: float, excess: float, temperature: float, pressure: float
) -> float:
    """Boundary-layer conductance to heat of one face of a leaf, mean of the two [m/s].

    Parameters
    ----------
    speed : float
        Air speed [m/s].
    length : float
        Leaf length along the stream [m]; 0.72 of the width for usual shapes.
    excess : float
        Leaf temperature less air temperature [K], either sign.
    temperature : float
        Air temperature [K].
    pressure : float
        Air pressure [Pa].

    Source: `leaf_nusselt_forced` and `leaf_nusselt_free` joined by `mixed`, Churchill 1977, AIChE
    J 23:10; the 0.72 of Campbell & Norman 1998 (both from memory).
    """
    density = 1.0 / moist_air_volume(temperature, 0.0, pressure)
    diffusivity = air_conductivity(temperature) / (density * DRY_AIR_HEAT)
    viscosity = air_viscosity(temperature) / density
    forced = leaf_nusselt_forced(speed * length / viscosity)
    lift = GRAVITY * abs(excess) / temperature
    free = leaf_nusselt_free(lift * length * length * length / (viscosity * viscosity))
    return diffusivity / length * mixed(free, forced)


def leaf_vapour_conductance(
    stomatal: float, cuticular: float, boundary: float, upper_share: float
) -> float:
    """Conductance of a whole leaf to vapour, its two faces side by side [m/s].

    Parameters
    ----------
    stomatal : float
        Stomatal conductance of both faces together [m/s].
    cuticular : float
        Conductance of the cuticle of both faces together [m/s].
    boundary : float
        Boundary-layer conductance to vapour of one face [m/s], above 0: that to heat times
        Le^(-2/3).
    upper_share : float
        Share of the stomata on the upper face [1]: 0 in most trees and shade plants, about 0.5
        in many grasses and herbs.

    Source: conductances in series on each face, Foster & Smith 1986, Plant Cell Environ 9:751
    (from memory).
    """
    upper = stomatal * upper_share + 0.5 * cuticular
    lower = stomatal * (1.0 - upper_share) + 0.5 * cuticular
    return boundary * (upper / (upper + boundary) + lower / (lower + boundary))


def radiative_conductance(emissivity: float, temperature: float, heat_capacity: float) -> float:
    """Long-wave exchange of both faces of a leaf as a conductance to heat [m/s].

    Parameters
    ----------
    emissivity : float
        Long-wave emissivity of the leaf [1].
    temperature : float
        Air temperature, taken for the mean of leaf and surroundings [K].
    heat_capacity : float
        Heat capacity of the air per volume [J/(m3 K)].

    Source: derivative of 2 epsilon sigma T^4; Campbell & Norman 1998 eq. 12.7 (from memory).
    """
    t = temperature
    return 8.0 * emissivity * STEFAN_BOLTZMANN * t * t * t / heat_capacity


def penman_monteith(
    available: float,
    deficit: float,
    slope: float,
    psychrometric: float,
    heat_capacity: float,
    heat: float,
    vapour: float,
) -> float:
    """Latent heat given off by a transpiring or wet surface [W/m2]; negative: dew.

    Parameters
    ----------
    available : float
        Net radiation that the surface would have at air temperature, less what it stores [W/m2].
    deficit : float
        Vapour pressure deficit of the air [Pa].
    slope : float
        Slope of the saturation pressure at air temperature [Pa/K].
    psychrometric : float
        Psychrometric constant [Pa/K].
    heat_capacity : float
        Heat capacity of the air per volume [J/(m3 K)].
    heat : float
        Conductance to heat [m/s], above 0; for a leaf its boundary layers and
        `radiative_conductance`.
    vapour : float
        Conductance to vapour [m/s], 0 or more.

    Linear in temperature: the excess over the air found with it is off by up to 3 % of itself for
    each kelvin of it. `leaf_temperature` is exact.

    Source: Monteith 1965; Allen et al. 1998 (FAO-56) eq. 3, with the two conductances apart.
    """
    dry = heat_capacity * deficit * heat
    return vapour * (slope * available + dry) / (slope * vapour + psychrometric * heat)


def leaf_excess(available: float, latent: float, heat_capacity: float, heat: float) -> float:
    """Leaf temperature less air temperature [K] from the linear balance.

    Parameters
    ----------
    available : float
        Net radiation at air temperature, less what is stored [W/m2].
    latent : float
        Latent heat given off [W/m2], from `penman_monteith`.
    heat_capacity : float
        Heat capacity of the air per volume [J/(m3 K)].
    heat : float
        Conductance to heat [m/s], above 0.

    Source: energy balance, the rest of the available heat leaves as sensible heat.
    """
    return (available - latent) / (heat_capacity * heat)


def leaf_temperature(
    absorbed: float,
    emissivity: float,
    air: float,
    vapour_pressure: float,
    pressure: float,
    heat: float,
    vapour: float,
) -> float:
    """Leaf temperature at which gains and losses of heat are equal [K].

    Parameters
    ----------
    absorbed : float
        Radiation absorbed on both faces, short-wave and long-wave [W/m2].
    emissivity : float
        Long-wave emissivity of the leaf [1].
    air : float
        Air temperature [K], 273 to 333.
    vapour_pressure : float
        Vapour pressure of the air [Pa].
    pressure : float
        Air pressure [Pa].
    heat : float
        Conductance to heat of the boundary layers [m/s], without radiation.
    vapour : float
        Conductance to vapour [m/s].

    Source: absorbed = 2 epsilon sigma T^4 + rho cp g (T - Ta) + L g_v (es(T) - ea) / (R_v Ta), eight
    Newton steps from air temperature; Campbell & Norman 1998 chapter 14 (from memory).
    """
    ratio = humidity_ratio(vapour_pressure, pressure)
    sensible = heat * volumetric_heat_capacity(air, ratio, pressure)
    t = air
    for _ in range(8):
        grey = 2.0 * emissivity * STEFAN_BOLTZMANN * t * t * t
        latent = latent_heat(t) * vapour / (VAPOUR_GAS * air)
        lost = grey * t + sensible * (t - air) + latent * (saturation_pressure(t) - vapour_pressure)
        t += (absorbed - lost) / (4.0 * grey + sensible + latent * saturation_slope(t))
    return t
