"""Heat through layers and into bodies: walls, finite-volume cells, lumped bodies, contact.

Every function stands alone on `math` and floats (layer lists are tuples), so that a kernel
compiler can take it as it is. Conductances and capacities are per square metre unless said.
"""

from __future__ import annotations

import math

SURFACE_RESISTANCE_HORIZONTAL = 0.13
"""Surface resistance, heat flowing sideways [m2K/W] (ISO 6946 Table 7; 0.13 also printed)."""
SURFACE_RESISTANCE_UP = 0.10
"""Surface resistance, heat flowing up [m2K/W] (ISO 6946 Table 7, from memory)."""
SURFACE_RESISTANCE_DOWN = 0.17
"""Surface resistance, heat flowing down [m2K/W] (ISO 6946 Table 7, from memory)."""

SIDEWAYS, UP, DOWN = 0, 1, 2
"""Directions of heat flow for `air_layer_resistance`."""

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m2 K4)] (CODATA 2018, exact)."""


def wall_resistance(
    thicknesses: tuple[float, ...],
    conductivities: tuple[float, ...],
    surface_inside: float,
    surface_outside: float,
) -> float:
    """Resistance of a wall of even layers from air to air [m2K/W]; U is one over it.

    Parameters
    ----------
    thicknesses : tuple of float
        Layer thicknesses [m].
    conductivities : tuple of float
        Layer conductivities, as many [W/(m K)].
    surface_inside, surface_outside : float
        Surface resistances; in a room, the inside value serves on both sides [m2K/W].

    Source: ISO 6946, total thermal resistance of homogeneous layers.
    """
    total = surface_inside + surface_outside
    for i in range(len(thicknesses)):
        total += thicknesses[i] / conductivities[i]
    return total


def interface_temperature(
    inside: float, outside: float, resistance_before: float, resistance_total: float
) -> float:
    """Steady temperature at a depth of a wall [K].

    Parameters
    ----------
    inside, outside : float
        Air temperatures on both sides [K].
    resistance_before : float
        Resistance from the inside air to this depth [m2K/W].
    resistance_total : float
        Resistance from air to air [m2K/W].

    Source: steady conduction; the same flow crosses every layer.
    """
    return inside - (inside - outside) * resistance_before / resistance_total


def air_layer_resistance(
    thickness: float,
    direction: int,
    difference: float,
    mean: float,
    emissivity_one: float,
    emissivity_two: float,
) -> float:
    """Resistance of a still air layer in a wall, convection and radiation together [m2K/W].

    Parameters
    ----------
    thickness : float
        Depth along the heat flow, above 0 and under 0.3 [m].
    direction : int
        `SIDEWAYS`, `UP` or `DOWN`: where the heat flows.
    difference : float
        Temperature difference across the layer (its sign is ignored) [K].
    mean : float
        Mean temperature of the two faces [K].
    emissivity_one, emissivity_two : float
        Hemispherical emissivities of the faces, above 0 [1].

    Source: ISO 6946 Annex D of 2017 (Annex B of 2007) (from memory); reproduces its Table 8.
    """
    d = abs(difference)
    conduction = 0.025 / thickness
    if direction == 1:
        convection = 1.95 if d <= 5.0 else 1.14 * d ** (1.0 / 3.0)
    elif direction == 2:
        convection = (0.12 if d <= 5.0 else 0.09 * d**0.187) * thickness**-0.44
    else:
        convection = 1.25 if d <= 5.0 else 0.73 * d ** (1.0 / 3.0)
    exchange = 1.0 / (1.0 / emissivity_one + 1.0 / emissivity_two - 1.0)
    radiation = 4.0 * exchange * STEFAN_BOLTZMANN * mean * mean * mean
    return 1.0 / (max(convection, conduction) + radiation)


def cell_capacity(thickness: float, density: float, heat_capacity: float) -> float:
    """Heat a finite-volume cell stores per kelvin and square metre [J/(m2 K)].

    Parameters
    ----------
    thickness : float
        Cell thickness [m].
    density : float
        Density [kg/m3].
    heat_capacity : float
        Specific heat capacity [J/(kg K)].

    Source: definition.
    """
    return thickness * density * heat_capacity


def cell_link(
    thickness_one: float,
    conductivity_one: float,
    thickness_two: float,
    conductivity_two: float,
    contact_resistance: float,
) -> float:
    """Conductance between the centres of two neighbouring cells [W/(m2 K)].

    Parameters
    ----------
    thickness_one, thickness_two : float
        Cell thicknesses [m].
    conductivity_one, conductivity_two : float
        Conductivities [W/(m K)].
    contact_resistance : float
        Resistance of the joint between them, 0 where they are one piece [m2K/W].

    Source: two half cells in series (Patankar 1980, harmonic mean at the interface).
    """
    halves = thickness_one / conductivity_one + thickness_two / conductivity_two
    return 1.0 / (0.5 * halves + contact_resistance)


def surface_link(thickness: float, conductivity: float, film: float) -> float:
    """Conductance between a cell's centre and the air before it [W/(m2 K)].

    Parameters
    ----------
    thickness : float
        Thickness of the outermost cell [m].
    conductivity : float
        Its conductivity [W/(m K)].
    film : float
        Heat transfer coefficient at the surface, above 0 [W/(m2 K)].

    Source: half a cell and a film in series.
    """
    return 1.0 / (0.5 * thickness / conductivity + 1.0 / film)


def surface_temperature(
    cell: float, thickness: float, conductivity: float, film: float, air: float, absorbed: float
) -> float:
    """Temperature of a surface from its outermost cell, the air and absorbed radiation [K].

    Parameters
    ----------
    cell : float
        Temperature at the outermost cell's centre [K].
    thickness : float
        Thickness of that cell [m].
    conductivity : float
        Its conductivity [W/(m K)].
    film : float
        Heat transfer coefficient at the surface [W/(m2 K)].
    air : float
        Air temperature [K].
    absorbed : float
        Radiation absorbed in the surface, net of what it sends out [W/m2].

    Source: balance of a surface without mass.
    """
    inward = 2.0 * conductivity / thickness
    return (inward * cell + film * air + absorbed) / (inward + film)


def explicit_step_limit(capacity: float, conductance: float) -> float:
    """Longest forward-Euler step that cannot make a node overshoot its neighbours [s].

    Parameters
    ----------
    capacity : float
        Heat capacity of the node [J/K], or per square metre [J/(m2 K)].
    conductance : float
        Sum of all conductances at the node, in the same terms, above 0 [W/K].

    Source: positive-coefficient criterion (Patankar 1980, section 4.3).
    """
    return capacity / conductance


def penetration_depth(
    conductivity: float, density: float, heat_capacity: float, period: float
) -> float:
    """Depth at which a periodic surface swing has shrunk to 1/e [m].

    Parameters
    ----------
    conductivity : float
        Conductivity [W/(m K)].
    density : float
        Density [kg/m3].
    heat_capacity : float
        Specific heat capacity [J/(kg K)].
    period : float
        Period of the swing [s].

    Source: Carslaw & Jaeger 1959, section 2.6: sqrt(alpha P / pi).
    """
    return math.sqrt(conductivity / (density * heat_capacity) * period / math.pi)


def cells_in_layer(thickness: float, depth: float, per_depth: float) -> int:
    """How many equal cells a layer needs, at least one.

    Parameters
    ----------
    thickness : float
        Layer thickness [m].
    depth : float
        `penetration_depth` of the shortest swing to be resolved [m].
    per_depth : float
        Cells wanted in one such depth; 2 or 3 are usual practice [1].

    Source: the layer's share of the depth, rounded up.
    """
    return max(1, math.ceil(per_depth * thickness / depth - 1e-9))


def biot(coefficient: float, length: float, conductivity: float) -> float:
    """Biot number of a body: under 0.1, it may be taken as one temperature [1].

    Parameters
    ----------
    coefficient : float
        Heat transfer coefficient [W/(m2 K)].
    length : float
        Volume over surface [m].
    conductivity : float
        Conductivity of the body [W/(m K)].

    Source: Incropera eq. 5.9.
    """
    return coefficient * length / conductivity


def lumped_time_constant(capacity: float, conductance: float) -> float:
    """Time in which a lumped body covers 63 % of the way to its surroundings [s].

    Parameters
    ----------
    capacity : float
        Heat capacity, mass x specific heat [J/K].
    conductance : float
        Sum of its conductances to the surroundings, coefficient x area [W/K].

    Source: Incropera eq. 5.7.
    """
    return capacity / conductance


def lumped_temperature(start: float, surroundings: float, time: float, constant: float) -> float:
    """Temperature of a lumped body after a time [K].

    Parameters
    ----------
    start : float
        Temperature at time zero [K].
    surroundings : float
        Temperature it moves to [K].
    time : float
        Time since then [s].
    constant : float
        `lumped_time_constant` [s].

    Source: Incropera eq. 5.6; valid for a Biot number under 0.1.
    """
    return surroundings + (start - surroundings) * math.exp(-time / constant)


def lumped_time(start: float, target: float, surroundings: float, constant: float) -> float:
    """Time in which a lumped body first reaches a temperature [s]; infinite where it never does.

    Parameters
    ----------
    start : float
        Temperature at time zero [K].
    target : float
        Temperature asked for [K].
    surroundings : float
        Temperature it moves to [K].
    constant : float
        `lumped_time_constant` [s].

    Source: Incropera eq. 5.5.
    """
    if target == start:
        return 0.0
    way, left = start - surroundings, target - surroundings
    if way * left <= 0.0 or abs(left) > abs(way):
        return math.inf
    return constant * math.log(way / left)


def effusivity(conductivity: float, density: float, heat_capacity: float) -> float:
    """How readily a body gives and takes heat in sudden contact [J/(m2 K s^0.5)].

    Parameters
    ----------
    conductivity : float
        Conductivity [W/(m K)].
    density : float
        Density [kg/m3].
    heat_capacity : float
        Specific heat capacity [J/(kg K)].

    Source: Carslaw & Jaeger 1959, section 2.4.
    """
    return math.sqrt(conductivity * density * heat_capacity)


def contact_temperature(
    temperature_one: float, effusivity_one: float, temperature_two: float, effusivity_two: float
) -> float:
    """Temperature of the joint right after two thick bodies touch [K].

    Parameters
    ----------
    temperature_one, temperature_two : float
        Temperatures before contact [K].
    effusivity_one, effusivity_two : float
        Their effusivities, above 0 [J/(m2 K s^0.5)].

    Source: Carslaw & Jaeger 1959, section 2.15; Incropera eq. 5.66.
    """
    total = effusivity_one + effusivity_two
    return (effusivity_one * temperature_one + effusivity_two * temperature_two) / total


def spreading_conductance(area: float, conductivity: float) -> float:
    """Steady conductance from a warm patch into deep ground around it [W/K].

    Parameters
    ----------
    area : float
        Area of the patch, taken as a disk of one temperature [m2].
    conductivity : float
        Conductivity of the ground [W/(m K)].

    Source: Carslaw & Jaeger 1959, section 8.2: 4 k a; Incropera Table 4.1 (2 D k).
    """
    return 4.0 * conductivity * math.sqrt(area / math.pi)


def ground_contact(
    area: float, depth: float, body_conductivity: float, ground_conductivity: float
) -> float:
    """Conductance from the middle of a resting body into the deep ground under it [W/K].

    Parameters
    ----------
    area : float
        Area that touches the ground; 0 gives 0 [m2].
    depth : float
        Thickness of the body across the contact [m].
    body_conductivity : float
        Conductivity of the body [W/(m K)].
    ground_conductivity : float
        Conductivity of the ground [W/(m K)].

    Source: half the body (as Gates 1980) in series with a disk on a half-space (Carslaw & Jaeger
    1959, section 8.2).
    """
    if area <= 0.0:
        return 0.0
    body = 0.5 * depth / (body_conductivity * area)
    ground = 1.0 / (4.0 * ground_conductivity * math.sqrt(area / math.pi))
    return 1.0 / (body + ground)


def sol_air_temperature(air: float, absorbed: float, lost: float, film: float) -> float:
    """Air temperature that would heat a dark surface as air and radiation do together [K].

    Parameters
    ----------
    air : float
        Air temperature [K].
    absorbed : float
        Absorbed short-wave radiation [W/m2].
    lost : float
        Long-wave loss beyond that to surroundings at air temperature [W/m2].
    film : float
        Combined coefficient of convection and radiation [W/(m2 K)].

    Source: ASHRAE Fundamentals 2017 ch. 18 (from memory).
    """
    return air + (absorbed - lost) / film
