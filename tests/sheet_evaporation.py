"""Adaptors that let a reference sheet speak of evaporation in degrees Celsius and grams an hour."""

from __future__ import annotations

from loamwright.physics import evaporation, leaves, moist_air
from sheet_moist_air import mean_vapour_pressure

ZERO = moist_air.ZERO_CELSIUS
SEA = moist_air.STANDARD_PRESSURE
GRAMS_AN_HOUR = 3.6e6
DAY = 86_400.0


def pool(water: float, air: float, humidity: float, speed: float) -> float:
    """Evaporation of a pool [kg/(s m2)]."""
    return evaporation.pool_evaporation(
        moist_air.saturation_pressure(ZERO + water),
        moist_air.vapour_pressure_at(ZERO + air, humidity),
        speed,
        moist_air.latent_heat(ZERO + water),
    )


def quiet_bowl(water: float, air: float, humidity: float, speed: float) -> float:
    return evaporation.QUIET_POOL * pool(water, air, humidity, speed) * GRAMS_AN_HOUR


def quiet_share() -> float:
    return evaporation.QUIET_POOL


def lewis(celsius: list[float]) -> list[float]:
    return [evaporation.lewis_number(ZERO + t, SEA) for t in celsius]


def transfer(convection: float, celsius: float) -> float:
    """Coefficient of vapour transfer in dry air [m/s]."""
    heat = moist_air.volumetric_heat_capacity(ZERO + celsius, 0.0, SEA)
    lewis_number = evaporation.lewis_number(ZERO + celsius, SEA)
    return evaporation.vapour_transfer(convection, heat, lewis_number)


def transfer_per_convection(celsius: list[float]) -> list[float]:
    return [transfer(1.0, t) for t in celsius]


def wet_surface(surface: float, air: float, humidity: float, convection: float) -> float:
    """Evaporation from a wet surface [g/(h m2)]."""
    saturated = moist_air.saturation_pressure(ZERO + surface)
    outside = moist_air.vapour_pressure_at(ZERO + air, humidity)
    film = ZERO + 0.5 * (surface + air)
    return GRAMS_AN_HOUR * evaporation.vapour_flux(
        transfer(convection, air), saturated, outside, film
    )


def daily(
    warmest: float, coolest: float, vapour: float, speed: float, available: float, altitude: float,
    textbook: bool,
) -> float:  # fmt: skip
    """Reference evapotranspiration [mm/d] by the leaf module's Penman-Monteith equation.

    The reference grass has r_a = 208 / u2 and r_s = 70 s/m. FAO-56 also rounds its constants to
    900 and 0.34, and takes L = 2.45 MJ/kg; with `textbook` the same roundings are put in here,
    without it the air has the properties that this project gives it. `vapour` in kPa, `available`
    (R_n - G) in MJ/(m2 d).
    """
    mean = ZERO + 0.5 * (warmest + coolest)
    both = [moist_air.saturation_pressure(ZERO + t) for t in (warmest, coolest)]
    deficit = 0.5 * sum(both) - 1000.0 * vapour
    pressure = moist_air.standard_pressure(altitude, 293.0)
    if textbook:
        latent, grass = 2.45e6, 0.34 * 208.0
        gamma = 0.665e-3 * pressure
        heat_capacity = gamma * latent * 0.9 * 208.0 / (DAY * (mean - 0.15))
    else:
        latent, grass = moist_air.latent_heat(mean), 70.0
        ratio = moist_air.humidity_ratio(1000.0 * vapour, pressure)
        gamma = moist_air.psychrometric_constant(mean, ratio, pressure)
        heat_capacity = moist_air.volumetric_heat_capacity(mean, ratio, pressure)
    air = 208.0 / speed
    lost = leaves.penman_monteith(
        available * 1e6 / DAY, deficit, moist_air.saturation_slope(mean), gamma, heat_capacity,
        1.0 / air, 1.0 / (air + grass),
    )  # fmt: skip
    return lost * DAY / latent


def daily_by_humidity(
    warmest: float, coolest: float, driest: float, dampest: float, speed: float,
    available: float, altitude: float, textbook: bool,
) -> float:  # fmt: skip
    vapour = mean_vapour_pressure([warmest, coolest], [driest, dampest])
    return daily(warmest, coolest, vapour, speed, available, altitude, textbook)


def mole_to_velocity(conductance: float, celsius: float) -> float:
    return leaves.mole_to_velocity(conductance, ZERO + celsius, SEA)


def sunlit_leaf() -> tuple[float, float, float, float, float]:
    """The leaf of Muir 2019: (temperature [K], latent, sensible [W/m2], vapour [mol/(m2 s)], lost).

    Given are the absorbed radiation, the stomata (5 umol/(m2 s Pa), half on each face), the
    cuticle (0.1) and the boundary layers: 0.0297282 m/s for vapour, and for heat less by
    (19.0 / 21.2)^0.67, the diffusivities he takes.
    """
    air, pressure, emissivity = 298.15, 101_324.6, 0.97
    vapour_pressure = moist_air.vapour_pressure_at(air, 0.5)
    face = 0.0297282 / 2
    stomata = leaves.mole_to_velocity(5e-6 * pressure, air, pressure)
    cuticle = leaves.mole_to_velocity(0.1e-6 * pressure, air, pressure)
    vapour = leaves.leaf_vapour_conductance(stomata, cuticle, face, 0.5)
    heat = 2 * face * (19.0 / 21.2) ** 0.67
    found = leaves.leaf_temperature(
        1363.813, emissivity, air, vapour_pressure, pressure, heat, vapour
    )
    inside = moist_air.saturation_pressure(found)
    flux = evaporation.vapour_flux(vapour, inside, vapour_pressure, air)
    ratio = moist_air.humidity_ratio(vapour_pressure, pressure)
    capacity = moist_air.volumetric_heat_capacity(air, ratio, pressure)
    latent = moist_air.latent_heat(found) * flux
    sensible = capacity * heat * (found - air)
    grey = 2 * emissivity * leaves.STEFAN_BOLTZMANN * found**4
    return found, latent, sensible, flux / 0.018015, latent + sensible + grey


def sunlit_temperature() -> float:
    return sunlit_leaf()[0]


def sunlit_fluxes() -> tuple[float, ...]:
    return sunlit_leaf()[1:]


def boundary_moles(speed: float, length: float, celsius: float) -> float:
    """Boundary layer of one face in a stream, no buoyancy [mol/(m2 s)]."""
    t = ZERO + celsius
    found = leaves.leaf_boundary_conductance(speed, length, 0.0, t, SEA)
    return leaves.velocity_to_mole(found, t, SEA)


def series(stomatal: float, boundary: float) -> float:
    """Conductance of a leaf with all stomata on one face and a tight cuticle."""
    return leaves.leaf_vapour_conductance(stomatal, 0.0, boundary, 0.0)
