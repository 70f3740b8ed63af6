"""Small adaptors that let a reference sheet call the climate's physics with plain numbers."""

from __future__ import annotations

import math

from loamwright.physics import (
    airflow,
    bodies,
    burns,
    conduction,
    convection,
    flow_losses,
    longwave,
    plumes,
)

ZERO = 273.15


def many(module: str, name: str, values: list[float], *rest: float) -> list[float]:
    """One function of physics over several first arguments."""
    modules = {
        "airflow": airflow, "bodies": bodies, "convection": convection,
        "flow_losses": flow_losses, "burns": burns,
    }  # fmt: skip
    return [getattr(modules[module], name)(value, *rest) for value in values]


def plate(law: str, surface: float, air: float, length: float) -> list[float]:
    """Rayleigh number, Nusselt number and coefficient of a plate in room air [degC]."""
    film = 0.5 * (surface + air) + ZERO
    k, nu, prandtl, _ = convection.air_film(film, 101325.0)
    ra = convection.rayleigh(surface - air, length, film, nu, prandtl)
    if law == "vertical_plate":
        nusselt = convection.vertical_plate(ra, prandtl)
    else:
        nusselt = getattr(convection, law)(ra)
    return [ra, nusselt, nusselt * k / length]


def cavities(pairs: list[list[float]]) -> list[float]:
    return [convection.cavity_vertical(*pair) for pair in pairs]


def u_value(thicknesses: list[float], conductivities: list[float]) -> list[float]:
    """U-value and resistance of a wall between two rooms."""
    side = conduction.SURFACE_RESISTANCE_HORIZONTAL
    total = conduction.wall_resistance(tuple(thicknesses), tuple(conductivities), side, side)
    return [1.0 / total, total]


def wall_profile(
    thicknesses: list[float], conductivities: list[float], inside: float, outside: float
) -> list[float]:
    """Heat flow and the temperatures of all faces from the inside [degC]."""
    side = conduction.SURFACE_RESISTANCE_HORIZONTAL
    total = conduction.wall_resistance(tuple(thicknesses), tuple(conductivities), side, side)
    out, before = [(inside - outside) / total], side
    for i in range(len(thicknesses) + 1):
        warm, cold = inside + ZERO, outside + ZERO
        out.append(conduction.interface_temperature(warm, cold, before, total) - ZERO)
        if i < len(thicknesses):
            before += thicknesses[i] / conductivities[i]
    return out


def air_layers(thicknesses: list[float]) -> list[float]:
    """Still air layers as the standard's table has them: mean 10 degC, emissivities 0.9."""
    return [conduction.air_layer_resistance(d, 0, 5.0, 283.15, 0.9, 0.9) for d in thicknesses]


def cooling_sphere() -> list[float]:
    """Time constant, temperature after 600 s and Biot number of D-80 [degC]."""
    diameter, coefficient = 0.03, 10.0
    volume, area = math.pi * diameter**3 / 6.0, math.pi * diameter**2
    constant = conduction.lumped_time_constant(1000.0 * volume * 3600.0, coefficient * area)
    then = conduction.lumped_temperature(25.0, 40.0, 600.0, constant)
    return [constant, then, conduction.biot(coefficient, diameter / 6.0, 0.5)]


def thermocouple(diameter: float) -> list[float]:
    """Time constant, Biot number and time to 199 degC of Incropera's junction."""
    volume, area = math.pi * diameter**3 / 6.0, math.pi * diameter**2
    constant = conduction.lumped_time_constant(8500.0 * volume * 400.0, 400.0 * area)
    time = conduction.lumped_time(25.0, 199.0, 200.0, constant)
    return [constant, conduction.biot(400.0, diameter / 6.0, 20.0), time]


def plate_exchange(one: float, two: float, temperature: float) -> float:
    return longwave.linear_coefficient(longwave.parallel_emissivity(one, two), temperature)


def warm_stack(inside: float, outside: float, height: float) -> float:
    """Stack pressure with density 353/T [degC]."""
    heavy, light = 353.0 / (outside + ZERO), 353.0 / (inside + ZERO)
    return airflow.stack_pressure(height, heavy, light)


def warm_flow(inside: float, outside: float, height: float, area: float, discharge: float) -> float:
    return airflow.stack_flow(discharge, area, height, inside + ZERO, outside + ZERO)


def tracer(changes_per_hour: float, start: float, background: float, minutes: float) -> float:
    return airflow.diluted(start, background, changes_per_hour / 3600.0, 60.0 * minutes)


def tracer_changes(start: float, end: float, background: float, minutes: float) -> float:
    return 3600.0 * airflow.changes_from_decay(start, end, background, 60.0 * minutes)


def grilles(open_share: float) -> list[float]:
    """The reference table's columns that are laws at every open share."""
    return [
        flow_losses.wire_screen_loss(open_share, 100.0),
        flow_losses.wire_screen_loss(open_share, 400.0),
        flow_losses.square_edge_screen_loss(open_share),
        flow_losses.diamond_mesh_loss(open_share),
        flow_losses.thick_grille_loss(open_share),
    ]


def wires(open_share: float, numbers: list[float]) -> list[float]:
    return [flow_losses.wire_screen_loss(open_share, reynolds) for reynolds in numbers]


def measured_screen(warp: float, weft: float, porosity: float, velocity: float) -> float:
    """Discharge coefficient of a woven screen by `wire_screen_loss_slow` at 20 degC.

    ``warp`` and ``weft`` are threads per metre; the thread's diameter d follows from the porosity,
    (1 - warp d)(1 - weft d).
    """
    both, cross = warp + weft, warp * weft
    wire = (both - math.sqrt(both * both - 4.0 * cross * (1.0 - porosity))) / (2.0 * cross)
    _, nu, _, _ = convection.air_film(293.15, 101325.0)
    return 1.0 / math.sqrt(flow_losses.wire_screen_loss_slow(porosity, velocity * wire / nu))


def net(porosity: float) -> list[float]:
    return [flow_losses.net_permeability(porosity), flow_losses.net_inertia(porosity)]


def plume_volume(power: float, height: float, density: float) -> float:
    return plumes.plume_mass_flow(power, height) / density


def body_sizes(grams: float) -> list[float]:
    """Areas [cm2] and length [mm] of the reference table."""
    mass = grams / 1000.0
    areas = [
        bodies.lizard_area(mass), bodies.lizard_silhouette_broadside(mass),
        bodies.lizard_silhouette_end_on(mass), bodies.frog_area(mass),
    ]  # fmt: skip
    length = bodies.body_length_scale(mass, bodies.TISSUE_DENSITY)
    return [*(1e4 * a for a in areas), 1e3 * length]


def shape(name: str) -> tuple[float, float]:
    pair: tuple[float, float] = getattr(bodies, name)
    return pair


def shape_coefficient(name: str, velocity: float, length: float) -> float:
    """Coefficient of a shape with k = 0.0257 W/mK and nu = 1.53e-5 m2/s."""
    nusselt = bodies.nusselt_forced(velocity * length / 1.53e-5, *shape(name))
    return nusselt * 0.0257 / length


def shape_nusselt(reynolds: float, names: list[str]) -> list[float]:
    return [bodies.nusselt_forced(reynolds, *shape(name)) for name in names]


def animal(grams: float, air: float, skin: float, velocity: float) -> list[float]:
    """Re, forced Nu, Ra, free Nu and h of a lizard, with the air of the source at air temperature."""
    t = air + ZERO
    density = 101325.0 / (287.04 * t)
    viscosity = 1.8325e-5 * (416.16 / (t + 120.0)) * (t / 296.16) ** 1.5
    k = 0.02425 + 7.038e-5 * air
    length = bodies.body_length_scale(grams / 1000.0, 1000.0)
    nu = viscosity / density
    reynolds = velocity * length / nu
    forced = bodies.nusselt_forced(reynolds, *bodies.LIZARD_ACROSS)
    ra = convection.rayleigh(skin - air, length, t, nu, viscosity * 1005.7 / k)
    free = bodies.nusselt_free(ra)
    return [reynolds, forced, ra, free, convection.mixed(free, forced) * k / length]


def animal_coefficient(grams: float, air: float, skin: float, velocity: float) -> float:
    return animal(grams, air, skin, velocity)[-1]


def linear_operative(
    shortwave: float, air: float, emissivity: float, velocity: float, length: float
) -> float:
    """Campbell & Norman with the long-wave in balance at air temperature [degC]."""
    longwave_in = emissivity * longwave.black_exitance(air + ZERO)
    t = bodies.operative_temperature_linear(
        shortwave + longwave_in, air + ZERO, emissivity, velocity, length
    )
    return t - ZERO


def gates() -> float:
    """Body temperature of the full balance of G-33 [degC]."""
    area, ground, air = 0.1, 30.0 + ZERO, 37.0 + ZERO
    sky = 1.22 * 37.0 - 20.4 + ZERO
    radiant = (0.6 * sky**4 + 0.4 * ground**4) ** 0.25
    contact = 0.2 * area * 0.5 / 0.025
    t = bodies.operative_temperature(
        2.0, 0.95 * area, radiant, 1.23 * 10.0 * 0.6 * area, air, contact, ground
    )
    return t - ZERO


def gates_short() -> float:
    """Body temperature of the simplified balance of G-34 [degC]."""
    area, ground, sky = 0.1, 27.0 + ZERO, 1.22 * (37.0 - 20.4) + ZERO
    radiant = (0.5 * (ground**4 + sky**4)) ** 0.25
    h = bodies.coefficient_gates(0.1, 0.025)
    t = bodies.operative_temperature(2.0, area, radiant, h * area, 37.0 + ZERO, 0.0, 300.0)
    return t - ZERO


def longwave_open_and_enclosed() -> list[float]:
    """The two net losses of G-36; its open sky is 1.22 Ta - 20.4 degC."""
    body, ground, air = 303.0, 293.0, 298.0
    sky = 1.22 * (air - ZERO) - 20.4 + ZERO
    open_air = longwave.net_loss(0.96, 0.4, body, sky) + longwave.net_loss(0.96, 0.6, body, ground)
    return [open_air, longwave.net_loss(0.96, 0.6, body, air)]


def small_lizard_constant() -> float:
    """Time constant of a 10 g lizard, h 9.12 W/m2K and radiation at 5.9 W/m2K."""
    area = bodies.lizard_area(0.010)
    temperature = (5.9 / (4.0 * bodies.STEFAN_BOLTZMANN)) ** (1.0 / 3.0)
    return bodies.body_time_constant(0.010, 3600.0, 9.12 * area, area, 0.0, temperature)


def resting(grams: float, celsius: float) -> float:
    return bodies.resting_heat_lizard(grams / 1000.0, celsius + ZERO)


def burn_row(time: float) -> list[float]:
    """Thresholds of all surfaces [degC]."""
    return [burns.burn_threshold(surface, time) - ZERO for surface in range(5)]
