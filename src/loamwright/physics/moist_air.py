"""Moist air as an ideal mixture: saturation, humidity, enthalpy, density, vapour.

Every function is plain arithmetic on floats, so that a compiled loop can take it as it is. SI
throughout: kelvin, pascal, kg of water per kg of dry air, kg/m3. The ideal mixture leaves out the
enhancement factor of real moist air: at 101 325 Pa its saturated humidity ratio is 0.5 % low.
ASHRAE below is *ASHRAE Handbook Fundamentals* 2017, chapter 1.
"""

from __future__ import annotations

from math import exp, log
from typing import Final

ZERO_CELSIUS: Final = 273.15
"""0 degC [K]."""

TRIPLE_POINT: Final = 273.16
"""Triple point of water [K]: below it the vapour is held over ice."""

STANDARD_PRESSURE: Final = 101_325.0
"""Standard atmosphere at sea level [Pa]."""

DRY_AIR_GAS: Final = 287.042
"""Gas constant of dry air [J/(kg K)]; ASHRAE eq. 1."""

VAPOUR_GAS: Final = 461.524
"""Gas constant of water vapour [J/(kg K)]; ASHRAE eq. 2."""

MASS_RATIO: Final = 0.621945
"""Molar mass of water over that of dry air [1]; ASHRAE eq. 20."""

DRY_AIR_HEAT: Final = 1006.0
"""Specific heat of dry air at constant pressure [J/(kg K)]; ASHRAE eq. 30."""

VAPOUR_HEAT: Final = 1860.0
"""Specific heat of water vapour at constant pressure [J/(kg K)]; ASHRAE eq. 30."""

VAPOUR_ENTHALPY: Final = 2.501e6
"""Enthalpy of vapour at 0 degC over liquid water at 0 degC [J/kg]; ASHRAE eq. 30."""

LOWEST_DEW_POINT: Final = 173.15
"""Lower end of the saturation equations [K]."""

LOWEST_VAPOUR_PRESSURE: Final = 1.405e-3
"""Saturation pressure at `LOWEST_DEW_POINT` [Pa]: drier air is given that dew point."""

ITERATIONS: Final = 12
"""Newton steps of the wet bulb: 8 suffice from 220 to 343 K, the rest is margin."""


def saturation_pressure_ice(temperature: float) -> float:
    """Saturation vapour pressure over ice [Pa].

    Parameters
    ----------
    temperature : float
        Temperature [K], 173.15 to 273.16.

    Source: Hyland & Wexler 1983; ASHRAE eq. 5.
    """
    t = temperature
    return exp(
        -5.6745359e3 / t
        + 6.3925247
        + t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13)))
        + 4.1635019 * log(t)
    )


def saturation_pressure_water(temperature: float) -> float:
    """Saturation vapour pressure over liquid water [Pa].

    Parameters
    ----------
    temperature : float
        Temperature [K], 273.15 to 473.15.

    Source: Hyland & Wexler 1983; ASHRAE eq. 6.
    """
    t = temperature
    return exp(
        -5.8002206e3 / t
        + 1.3914993
        + t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8))
        + 6.5459673 * log(t)
    )


def saturation_pressure(temperature: float) -> float:
    """Saturation vapour pressure [Pa], over ice below the triple point, over water above it.

    Parameters
    ----------
    temperature : float
        Temperature [K], 173.15 to 473.15.

    Source: Hyland & Wexler 1983; ASHRAE eq. 5 and 6.
    """
    if temperature < TRIPLE_POINT:
        return saturation_pressure_ice(temperature)
    return saturation_pressure_water(temperature)


def saturation_slope(temperature: float) -> float:
    """Slope of the saturation pressure with temperature [Pa/K].

    Parameters
    ----------
    temperature : float
        Temperature [K], 173.15 to 473.15.

    Source: derivative of ASHRAE eq. 5 and 6.
    """
    t = temperature
    if t < TRIPLE_POINT:
        return saturation_pressure_ice(t) * (
            5.6745359e3 / (t * t)
            - 9.677843e-3
            + t * (2 * 6.2215701e-7 + t * (3 * 2.0747825e-9 - t * 4 * 9.484024e-13))
            + 4.1635019 / t
        )
    return saturation_pressure_water(t) * (
        5.8002206e3 / (t * t)
        - 4.8640239e-2
        + t * (2 * 4.1764768e-5 - t * 3 * 1.4452093e-8)
        + 6.5459673 / t
    )


def dew_point(vapour_pressure: float) -> float:
    """Temperature at which the vapour saturates [K]; frost point below 273.16 K.

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of vapour [Pa], up to 1.5e6. Below 0.0014 Pa (and at or below nothing)
        the answer is the lower end of the equations, 173.15 K.

    Source: ASHRAE eq. 5 and 6 inverted: three Newton steps on ln p, from the Magnus form of
    Allen et al. 1998 (FAO-56) solved for temperature.
    """
    if vapour_pressure <= LOWEST_VAPOUR_PRESSURE:
        return LOWEST_DEW_POINT
    target = log(vapour_pressure)
    x = log(vapour_pressure / 610.8)
    t = ZERO_CELSIUS + 237.3 * x / (17.27 - x)
    for _ in range(3):
        p = saturation_pressure(t)
        t -= (log(p) - target) * p / saturation_slope(t)
    return t


def standard_pressure(altitude: float, sea_temperature: float = 288.15) -> float:
    """Air pressure at an altitude [Pa].

    Parameters
    ----------
    altitude : float
        Height above the sea [m], -5000 to 11 000.
    sea_temperature : float
        Air temperature at the sea [K]; 288.15 is the standard atmosphere, 293 that of FAO-56.

    Source: ASHRAE eq. 3 (p = 101 325 (1 - 2.25577e-5 z)^5.2559), with 2.25577e-5 as the lapse
    rate of 0.0065 K/m over the temperature at the sea.
    """
    return STANDARD_PRESSURE * (1.0 - 0.0065 * altitude / sea_temperature) ** 5.2559


def vapour_pressure_at(temperature: float, relative_humidity: float) -> float:
    """Partial pressure of vapour [Pa] of air of known temperature and relative humidity.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 173.15 to 473.15.
    relative_humidity : float
        Share of the saturation pressure [1].

    Source: ASHRAE eq. 12 and 22.
    """
    return relative_humidity * saturation_pressure(temperature)


def relative_humidity_at(temperature: float, vapour_pressure: float) -> float:
    """Vapour pressure as a share of saturation [1]; one or more means condensation.

    With a surface's temperature it is the relative humidity at that surface.

    Parameters
    ----------
    temperature : float
        Temperature of the air, or of a surface in it [K], 173.15 to 473.15.
    vapour_pressure : float
        Partial pressure of vapour [Pa].

    Source: ASHRAE eq. 12 and 22; for surfaces ISO 13788 (from memory).
    """
    return vapour_pressure / saturation_pressure(temperature)


def vapour_pressure_deficit(temperature: float, vapour_pressure: float) -> float:
    """What the vapour pressure lacks to saturation [Pa]; negative if supersaturated.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 173.15 to 473.15.
    vapour_pressure : float
        Partial pressure of vapour [Pa].

    Source: definition; Allen et al. 1998 (FAO-56), chapter 3.
    """
    return saturation_pressure(temperature) - vapour_pressure


def humidity_ratio(vapour_pressure: float, pressure: float) -> float:
    """Water per dry air [kg/kg].

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of vapour [Pa], below `pressure`.
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 20.
    """
    return MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)


def vapour_pressure_from_ratio(ratio: float, pressure: float) -> float:
    """Partial pressure of vapour [Pa].

    Parameters
    ----------
    ratio : float
        Water per dry air [kg/kg].
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 20 solved for the vapour pressure.
    """
    return pressure * ratio / (MASS_RATIO + ratio)


def vapour_density(vapour_pressure: float, temperature: float) -> float:
    """Vapour per volume of air, the absolute humidity [kg/m3].

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of vapour [Pa].
    temperature : float
        Air temperature [K].

    Source: ideal gas law; ASHRAE eq. 2 and 19.
    """
    return vapour_pressure / (VAPOUR_GAS * temperature)


def vapour_pressure_from_density(density: float, temperature: float) -> float:
    """Partial pressure of vapour [Pa].

    Parameters
    ----------
    density : float
        Vapour per volume of air [kg/m3].
    temperature : float
        Air temperature [K].

    Source: ideal gas law; ASHRAE eq. 2 and 19.
    """
    return density * VAPOUR_GAS * temperature


def wet_bulb_ratio(temperature: float, wet_bulb: float, pressure: float) -> float:
    """Water per dry air of air of known dry and wet bulb [kg/kg].

    Parameters
    ----------
    temperature : float
        Air temperature [K], 220 to 343.
    wet_bulb : float
        Thermodynamic wet bulb [K], not above `temperature`; an ice bulb below 273.15 K. If too
        low for the air temperature, the answer is negative.
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 33 and 35.
    """
    t = temperature - ZERO_CELSIUS
    w = wet_bulb - ZERO_CELSIUS
    saturated = humidity_ratio(saturation_pressure(wet_bulb), pressure)
    if w >= 0.0:
        return ((2501.0 - 2.326 * w) * saturated - 1.006 * (t - w)) / (
            2501.0 + 1.86 * t - 4.186 * w
        )
    return ((2830.0 - 0.24 * w) * saturated - 1.006 * (t - w)) / (2830.0 + 1.86 * t - 2.1 * w)


def wet_bulb(temperature: float, ratio: float, pressure: float) -> float:
    """Thermodynamic wet bulb [K], of an ice bulb below 273.15 K.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 220 to 343.
    ratio : float
        Water per dry air [kg/kg], 0 to saturation.
    pressure : float
        Air pressure [Pa], 60 000 or more.

    Source: ASHRAE eq. 33 and 35 inverted by Newton steps from the dry side, where the equation is
    convex and every step stays above the root. Where a wet and an ice bulb both fit (a few
    hundredths of a kelvin about 273.15 K) it is the wet one.
    """
    guess = temperature
    ice = ratio < wet_bulb_ratio(temperature, ZERO_CELSIUS, pressure)
    latent, liquid_less, vapour_less = 2501.0, 2.326, 4.186
    if ice:
        guess = min(temperature, ZERO_CELSIUS)
        latent, liquid_less, vapour_less = 2830.0, 0.24, 2.1
    t = temperature - ZERO_CELSIUS
    for _ in range(ITERATIONS):
        w = guess - ZERO_CELSIUS
        p = saturation_pressure_ice(guess) if ice else saturation_pressure(guess)
        dry = pressure - p
        saturated = MASS_RATIO * p / dry
        rise = MASS_RATIO * pressure * saturation_slope(guess) / (dry * dry)
        below = latent + 1.86 * t - vapour_less * w
        found = ((latent - liquid_less * w) * saturated - 1.006 * (t - w)) / below
        slope = (
            (latent - liquid_less * w) * rise
            - liquid_less * saturated
            + 1.006
            + vapour_less * found
        ) / below
        guess -= (found - ratio) / slope
    return guess


def moist_air_enthalpy(temperature: float, ratio: float) -> float:
    """Enthalpy per kg of dry air [J/kg], over dry air and liquid water at 0 degC.

    Parameters
    ----------
    temperature : float
        Air temperature [K], 220 to 360.
    ratio : float
        Water per dry air [kg/kg].

    Source: ASHRAE eq. 30.
    """
    t = temperature - ZERO_CELSIUS
    return DRY_AIR_HEAT * t + ratio * (VAPOUR_ENTHALPY + VAPOUR_HEAT * t)


def temperature_from_enthalpy(enthalpy: float, ratio: float) -> float:
    """Air temperature [K].

    Parameters
    ----------
    enthalpy : float
        Enthalpy per kg of dry air [J/kg].
    ratio : float
        Water per dry air [kg/kg].

    Source: ASHRAE eq. 30 solved for the temperature.
    """
    return ZERO_CELSIUS + (enthalpy - ratio * VAPOUR_ENTHALPY) / (
        DRY_AIR_HEAT + ratio * VAPOUR_HEAT
    )


def moist_air_volume(temperature: float, ratio: float, pressure: float) -> float:
    """Volume per kg of dry air [m3/kg].

    Parameters
    ----------
    temperature : float
        Air temperature [K].
    ratio : float
        Water per dry air [kg/kg].
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 26.
    """
    return DRY_AIR_GAS * temperature * (1.0 + ratio / MASS_RATIO) / pressure


def moist_air_density(temperature: float, ratio: float, pressure: float) -> float:
    """Mass of air with its vapour per volume [kg/m3].

    Parameters
    ----------
    temperature : float
        Air temperature [K].
    ratio : float
        Water per dry air [kg/kg].
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 11 and 26.
    """
    return (1.0 + ratio) / moist_air_volume(temperature, ratio, pressure)


def volumetric_heat_capacity(temperature: float, ratio: float, pressure: float) -> float:
    """Heat capacity of moist air at constant pressure per volume [J/(m3 K)].

    Parameters
    ----------
    temperature : float
        Air temperature [K].
    ratio : float
        Water per dry air [kg/kg].
    pressure : float
        Air pressure [Pa].

    Source: ASHRAE eq. 26 and 30.
    """
    return (DRY_AIR_HEAT + ratio * VAPOUR_HEAT) / moist_air_volume(temperature, ratio, pressure)


def virtual_temperature(temperature: float, ratio: float) -> float:
    """Temperature of dry air as light as this moist air [K], for buoyancy.

    Parameters
    ----------
    temperature : float
        Air temperature [K].
    ratio : float
        Water per dry air [kg/kg].

    Source: definition, from ASHRAE eq. 11 and 26.
    """
    return temperature * (1.0 + ratio / MASS_RATIO) / (1.0 + ratio)


def latent_heat(temperature: float) -> float:
    """Heat of evaporation of water [J/kg].

    Parameters
    ----------
    temperature : float
        Temperature of the water [K], 273.16 to 333; below freezing an extrapolation.

    Source: cubic fitted to IAPWS-95 from 0 to 60 degC, every kelvin; furthest off 7e-6 of the
    value.
    """
    t = temperature - ZERO_CELSIUS
    return 2_500_921.0 + t * (-2377.816 + t * (0.655876 - t * 0.0137423))


def vapour_diffusivity(temperature: float, pressure: float) -> float:
    """Diffusivity of water vapour in air [m2/s].

    Parameters
    ----------
    temperature : float
        Air temperature [K], 282 to 450.
    pressure : float
        Air pressure [Pa].

    Source: Marrero & Mason 1972, J Phys Chem Ref Data 1:3 (coefficients from memory).
    """
    return 1.87e-10 * temperature**2.072 * STANDARD_PRESSURE / pressure


def psychrometric_constant(temperature: float, ratio: float, pressure: float) -> float:
    """Vapour pressure that a kelvin of sensible heat is worth [Pa/K].

    Parameters
    ----------
    temperature : float
        Temperature of the evaporating water [K], 273.16 to 333.
    ratio : float
        Water per dry air of the air [kg/kg].
    pressure : float
        Air pressure [Pa].

    Source: gamma = cp p / (epsilon L), Allen et al. 1998 (FAO-56) eq. 8, with the specific heat
    of this moist air; so rho cp / gamma is exactly L / (R_v T).
    """
    heat = DRY_AIR_HEAT + ratio * VAPOUR_HEAT
    return heat * pressure / ((MASS_RATIO + ratio) * latent_heat(temperature))
