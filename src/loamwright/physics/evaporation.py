"""Evaporation and condensation: pools, wet films and moist ground.

Plain arithmetic on floats, so that a compiled loop can take each function as it is. A flux is kg
of vapour per second and m2, positive away from the surface; a negative one is dew. The driving
force is a difference of vapour pressure, not of density: across a warm and a cold face equal
densities are no equilibrium, and dew has to begin where the surface is at the dew point.
"""

from __future__ import annotations

from math import exp
from typing import Final

from loamwright.physics.convection import GRAVITY, air_conductivity
from loamwright.physics.moist_air import (
    DRY_AIR_HEAT,
    VAPOUR_GAS,
    moist_air_volume,
    vapour_diffusivity,
)

QUIET_POOL: Final = 0.74
"""Measured over computed evaporation of undisturbed pools [1].

Smith et al. 1998, ASHRAE Transactions 104 (abstract of paper 4146)."""


def pool_evaporation(
    surface_pressure: float, air_pressure: float, speed: float, latent: float
) -> float:
    """Evaporation from a pool with people's usual disturbance [kg/(s m2)].

    Parameters
    ----------
    surface_pressure : float
        Saturation vapour pressure at the water's temperature [Pa].
    air_pressure : float
        Vapour pressure of the air above [Pa].
    speed : float
        Air speed over the water [m/s], 0 to 0.7.
    latent : float
        Heat of evaporation at the water's temperature [J/kg].

    For still water multiply by `QUIET_POOL`. The equation is that of swimming pools; for a small
    bowl of known convection coefficient, `vapour_transfer` and `vapour_flux` are better founded.

    Source: Carrier 1918 as in the ASHRAE Handbook, HVAC Applications; I-P form
    W = (95 + 0.425 V) (pw - pa) / Y in Smith et al. 1998, SI constants from memory.
    """
    return (0.089 + 0.0782 * speed) * (surface_pressure - air_pressure) / latent


def lewis_number(temperature: float, pressure: float) -> float:
    """Thermal diffusivity of air over the diffusivity of vapour in it [1].

    Parameters
    ----------
    temperature : float
        Air temperature [K], 282 to 450.
    pressure : float
        Air pressure [Pa].

    Source: definition, on dry air; `air_conductivity` and `vapour_diffusivity`.
    """
    heat = DRY_AIR_HEAT / moist_air_volume(temperature, 0.0, pressure)
    return air_conductivity(temperature) / (heat * vapour_diffusivity(temperature, pressure))


def vapour_transfer(convection: float, heat_capacity: float, lewis: float) -> float:
    """Coefficient of vapour transfer at a surface [m/s].

    Parameters
    ----------
    convection : float
        Convection coefficient of the same surface [W/(m2 K)].
    heat_capacity : float
        Heat capacity of the air per volume [J/(m3 K)].
    lewis : float
        Lewis number [1].

    Source: Chilton-Colburn analogy, h_m = h / (rho cp) Le^(-2/3); Incropera, *Fundamentals of
    Heat and Mass Transfer*, eq. 6.60 (from memory).
    """
    return convection / heat_capacity * lewis ** (-2.0 / 3.0)


def vapour_flux(
    transfer: float,
    surface_pressure: float,
    air_pressure: float,
    temperature: float,
    resistance: float = 0.0,
) -> float:
    """Vapour leaving a surface [kg/(s m2)]; negative where it condenses.

    Parameters
    ----------
    transfer : float
        Coefficient of vapour transfer [m/s], 0 or more.
    surface_pressure : float
        Vapour pressure where the water is [Pa]: that of saturation for a wet film.
    air_pressure : float
        Vapour pressure of the air [Pa].
    temperature : float
        Temperature of the film of air at the surface [K].
    resistance : float
        Further resistance between the water and the surface [s/m], 0 or more.

    Low rates: the drift of air away from the surface is left out, 3 to 4 % of the flux at 30 degC.

    Source: Incropera eq. 6.8 (from memory) with the ideal gas law, resistances in series.
    """
    difference = (surface_pressure - air_pressure) / (VAPOUR_GAS * temperature)
    return transfer * difference / (1.0 + transfer * resistance)


def wet_fraction(film: float, capacity: float) -> float:
    """Share of an area still covered by a film that breaks up as it dries [1].

    Parameters
    ----------
    film : float
        Water on the area [kg/m2]; below 0 counts as 0.
    capacity : float
        Water it holds when wholly wet [kg/m2], above 0.

    Source: Deardorff 1978, J Geophys Res 83:1889, eq. 24: the power 2/3 (from memory).
    """
    if film <= 0.0:
        return 0.0
    if film >= capacity:
        return 1.0
    return float((film / capacity) ** (2.0 / 3.0))


def film_drying_time(film: float, capacity: float, flux: float) -> float:
    """Time until a film is gone, conditions held [s].

    Parameters
    ----------
    film : float
        Water on the area [kg/m2], 0 to `capacity`.
    capacity : float
        Water it holds when wholly wet [kg/m2], above 0.
    flux : float
        Evaporation per wet area [kg/(s m2)], above 0.

    Source: dm/dt = -flux (m / capacity)^(2/3) with `wet_fraction`, integrated.
    """
    return float(3.0 * capacity / flux * (film / capacity) ** (1.0 / 3.0))


def pore_humidity(suction_head: float, temperature: float) -> float:
    """Relative humidity of the air in the pores of moist ground [1].

    Parameters
    ----------
    suction_head : float
        Matric head [m of water], 0 or below.
    temperature : float
        Temperature of the ground [K].

    Source: Kelvin equation; Philip 1957, J Meteorol 14:354 (from memory).
    """
    return exp(GRAVITY * suction_head / (VAPOUR_GAS * temperature))


def ground_resistance(saturation: float) -> float:
    """Resistance of the top 5 cm of ground to evaporation, by degree of saturation [s/m].

    Parameters
    ----------
    saturation : float
        Water content of the top 5 cm over its pore space [1], 0 to 1. Counting by saturation, it
        also serves mixes of high porosity, for which nobody measured it.

    Source: Sellers, Heiser & Hall 1992, J Geophys Res 97:19033, eq. 19 (as public land-surface
    codes print it): exp(8.206 - 4.255 W), from prairie soil.
    """
    return exp(8.206 - 4.255 * saturation)


def ground_resistance_sand(water_content: float) -> float:
    """Resistance of the top centimetre of mineral ground to evaporation [s/m].

    Parameters
    ----------
    water_content : float
        Volumetric water content of the top centimetre [1], 0 to 0.4: fine sandy loam.

    Source: van de Griend & Owe 1994, Water Resour Res 30:181 (as public soil-water codes print
    it): 10 exp(35.63 (0.15 - theta)), 10 above 0.15.
    """
    if water_content >= 0.15:
        return 10.0
    return 10.0 * exp(35.63 * (0.15 - water_content))


def porous_diffusivity(diffusivity: float, air_filled: float, porosity: float) -> float:
    """Diffusivity of vapour through the air in the pores of ground or litter [m2/s].

    Parameters
    ----------
    diffusivity : float
        Diffusivity of vapour in free air [m2/s].
    air_filled : float
        Share of the volume filled with air [1], up to `porosity`.
    porosity : float
        Share of the volume not solid [1], above 0.

    Source: Millington & Quirk 1961, Trans Faraday Soc 57:1200: air^(10/3) / porosity^2 (from
    memory).
    """
    return float(diffusivity * air_filled ** (10.0 / 3.0) / (porosity * porosity))


def dry_layer_resistance(depth: float, diffusivity: float) -> float:
    """Resistance of a dry layer (litter, dried-out top) above the water [s/m].

    Parameters
    ----------
    depth : float
        Thickness of the dry layer [m].
    diffusivity : float
        Diffusivity of vapour through it [m2/s], see `porous_diffusivity`.

    Source: Fick's law across a layer.
    """
    return depth / diffusivity


def ground_flux(
    transfer: float,
    saturated_pressure: float,
    air_pressure: float,
    temperature: float,
    humidity: float,
    resistance: float,
) -> float:
    """Vapour leaving ground [kg/(s m2)]; dew forms on top and meets no resistance of the ground.

    Parameters
    ----------
    transfer : float
        Coefficient of vapour transfer above the ground [m/s].
    saturated_pressure : float
        Saturation vapour pressure at the ground's temperature [Pa].
    air_pressure : float
        Vapour pressure of the air [Pa].
    temperature : float
        Temperature of the film of air above the ground [K].
    humidity : float
        Relative humidity in the pores [1], see `pore_humidity`.
    resistance : float
        Resistance of the ground and of what lies on it [s/m].

    Between the pores' humidity and saturation nothing moves: too dry to evaporate, not cold
    enough for dew.

    Source: alpha-and-resistance form, Sellers et al. 1992 eq. 18 (from memory).
    """
    pores = humidity * saturated_pressure
    if air_pressure < pores:
        return vapour_flux(transfer, pores, air_pressure, temperature, resistance)
    if air_pressure > saturated_pressure:
        return vapour_flux(transfer, saturated_pressure, air_pressure, temperature)
    return 0.0
