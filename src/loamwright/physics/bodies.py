"""Bodies of reptiles and amphibians: size, convection, operative temperature, warming, heat made.

Every function stands alone on `math` and floats, so that a kernel compiler can take it as it is.
Sizes follow published allometry of lizards and one frog; a snake or a tortoise is not covered.
Evaporation from the skin is not in these balances: wet-skinned animals run cooler.
"""

from __future__ import annotations

import math

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m2 K4)] (CODATA 2018, exact)."""
TISSUE_DENSITY = 1000.0
"""Density of tissue [kg/m3] (NicheMapR default)."""
TISSUE_CONDUCTIVITY = 0.5
"""Conductivity of tissue [W/(m K)], 0.41-2.8 (NicheMapR default)."""
TISSUE_HEAT_CAPACITY = 3600.0
"""Specific heat capacity of tissue [J/(kg K)], 3073-3600 in models (from memory)."""
SKIN_EMISSIVITY = 0.965
"""Long-wave emissivity of lizard skin [1] (Bartlett & Gates 1967)."""

SPHERE = (0.37, 0.6)
CYLINDER = (0.615, 0.466)
FROG = (0.258, 0.667)
LIZARD_ACROSS = (0.35, 0.6)
LIZARD_ALONG = (0.10, 0.74)
LIZARD_ON_GROUND = (1.36, 0.39)
LIZARD_RAISED = (1.91, 0.45)
"""Factor and exponent of Nu = C Re^n by shape and posture [1] (Mitchell 1976, Table 1)."""


def lizard_area(mass: float) -> float:
    """Skin area of a lizard [m2].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: 10.4713 m^0.688 cm2 with m in g, as coded in NicheMapR.
    """
    return 10.4713e-4 * (1000.0 * mass) ** 0.688


def lizard_silhouette_broadside(mass: float) -> float:
    """Shadow of a lizard lying across the beam [m2].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: Porter & Tracy 1984: 3.798 m^0.683 cm2 with m in g.
    """
    return 3.798e-4 * (1000.0 * mass) ** 0.683


def lizard_silhouette_end_on(mass: float) -> float:
    """Shadow of a lizard pointing along the beam [m2].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: Porter & Tracy 1984: 0.694 m^0.743 cm2 with m in g.
    """
    return 0.694e-4 * (1000.0 * mass) ** 0.743


def frog_area(mass: float) -> float:
    """Skin area of a frog [m2].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: Tracy 1976 (leopard frog): 12.79 m^0.606 cm2 with m in g.
    """
    return 12.79e-4 * (1000.0 * mass) ** 0.606


def body_length_scale(mass: float, density: float) -> float:
    """Length of the convection laws, the cube root of the volume [m].

    Parameters
    ----------
    mass : float
        Body mass [kg].
    density : float
        Density of the body [kg/m3].

    Source: Mitchell 1976.
    """
    return (mass / density) ** (1.0 / 3.0)


def lizard_mass(snout_vent: float) -> float:
    """Body mass of a lizard from its snout-vent length [kg].

    Parameters
    ----------
    snout_vent : float
        Snout-vent length [m].

    Source: 3.55e-5 SVL^3 g with SVL in mm (spiny lizards), as in TrenchR. Slender species weigh
    less.
    """
    return 35.5 * snout_vent * snout_vent * snout_vent


def nusselt_forced(reynolds: float, factor: float, exponent: float) -> float:
    """Nusselt number of an animal in a stream, C Re^n [1].

    Parameters
    ----------
    reynolds : float
        Reynolds number on the body's length [1].
    factor, exponent : float
        Pair for shape and posture, such as `LIZARD_ON_GROUND` [1].

    Source: Mitchell 1976, Table 1; McAdams 1954 for `LIZARD_ACROSS`.
    """
    return factor * reynolds**exponent


def nusselt_free(rayleigh: float) -> float:
    """Nusselt number of an animal in still air [1].

    The source switches law at 100 and 1e4 with steps of 3 and 6 %; here the largest is taken, so
    there is no step and the value is at most 6 % over the source between 1e4 and 6e4.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number on `body_length_scale`, 0..1e9 [1].

    Source: free convection around cylinders as coded in NicheMapR.
    """
    slow = 1.1173 * rayleigh**0.1344
    return max(slow, 0.7455 * rayleigh**0.2167, 0.5168 * rayleigh**0.2501)


def coefficient_spotila(velocity: float, length: float) -> float:
    """Heat transfer coefficient of an animal in a stream, short form [W/(m2 K)].

    Parameters
    ----------
    velocity : float
        Air speed [m/s].
    length : float
        Diameter of the body [m].

    Source: Spotila et al. 1992: 6.77 u^0.6 D^-0.4.
    """
    return 6.77 * velocity**0.6 * length**-0.4


def coefficient_gates(velocity: float, length: float) -> float:
    """Heat transfer coefficient of an animal in a stream, short form [W/(m2 K)].

    Parameters
    ----------
    velocity : float
        Air speed [m/s].
    length : float
        Diameter of the body [m].

    Source: Gates 1980: 3.49 u^0.5 D^-0.5.
    """
    return 3.49 * math.sqrt(velocity / length)


def absorbed_shortwave(
    absorptance: float,
    area: float,
    share_direct: float,
    direct: float,
    share_diffuse: float,
    diffuse: float,
    share_reflected: float,
    reflected: float,
) -> float:
    """Short-wave radiation a body absorbs [W].

    Parameters
    ----------
    absorptance : float
        Absorptance of the skin for this light [1].
    area : float
        Skin area [m2].
    share_direct, share_diffuse, share_reflected : float
        Share of the skin that meets each kind [1].
    direct, diffuse, reflected : float
        Irradiance of each kind [W/m2].

    Source: Gates 1980, as in TrenchR.
    """
    met = share_direct * direct + share_diffuse * diffuse + share_reflected * reflected
    return absorptance * area * met


def contact_flow(
    conductivity: float, depth: float, area: float, body: float, ground: float
) -> float:
    """Heat a resting body gives to the surface under it [W].

    Parameters
    ----------
    conductivity : float
        Conductivity of the body [W/(m K)].
    depth : float
        Thickness of the body [m].
    area : float
        Area in contact [m2].
    body, ground : float
        Temperatures of the body's middle and of the surface [K].

    Source: half the body's depth as the path, as in TrenchR.
    """
    return 2.0 * conductivity * area / depth * (body - ground)


def operative_temperature(
    gained: float,
    radiant: float,
    radiant_temperature: float,
    air_conductance: float,
    air: float,
    contact: float,
    ground: float,
) -> float:
    """Temperature at which a body neither gains nor loses heat [K].

    Solves gained + sigma R (Tr^4 - T^4) + H (Ta - T) + G (Tg - T) = 0 by Newton steps.

    Parameters
    ----------
    gained : float
        Absorbed short-wave plus heat made minus heat lost by water [W].
    radiant : float
        R, emissivity x skin area that radiates, at least 0 [m2].
    radiant_temperature : float
        Tr, mean radiant temperature of what that skin sees [K].
    air_conductance : float
        H, coefficient x skin area in the air, at least 0 [W/K].
    air : float
        Air temperature [K].
    contact : float
        G, conductance to the ground, at least 0; one of R, H, G above 0 [W/K].
    ground : float
        Ground temperature [K].

    Source: Bakken 1976, J. Theor. Biol. 60:337; Porter & Gates 1969; kept as a fourth power.
    """
    t = max(radiant_temperature, air, ground)
    square = radiant_temperature * radiant_temperature
    given = gained + STEFAN_BOLTZMANN * radiant * square * square
    given += air_conductance * air + contact * ground
    linear = air_conductance + contact
    for _ in range(60):
        cube = STEFAN_BOLTZMANN * radiant * t * t * t
        slope = 4.0 * cube + linear
        if slope <= 0.0:
            break
        step = (given - cube * t - linear * t) / slope
        t = max(t + step, 1.0)
        if abs(step) < 1e-9:
            break
    return t


def operative_temperature_linear(
    absorbed: float, air: float, emissivity: float, velocity: float, length: float
) -> float:
    """Operative temperature per square metre of skin, linearised about the air's [K].

    Parameters
    ----------
    absorbed : float
        Absorbed short- and long-wave radiation, per skin area [W/m2].
    air : float
        Air temperature [K].
    emissivity : float
        Long-wave emissivity [1].
    velocity : float
        Air speed [m/s].
    length : float
        Diameter of the body [m].

    Source: Campbell & Norman 1998, ch. 12 (outdoor turbulence factor 1.4 on a laminar plate).
    """
    cube = air * air * air
    capacity = 29.3
    through_air = 1.4 * 0.135 * math.sqrt(velocity / length)
    radiative = 4.0 * emissivity * STEFAN_BOLTZMANN * cube / capacity
    surplus = absorbed - emissivity * STEFAN_BOLTZMANN * cube * air
    return air + surplus / (capacity * (through_air + radiative))


def body_time_constant(
    mass: float,
    heat_capacity: float,
    air_conductance: float,
    radiant: float,
    contact: float,
    temperature: float,
) -> float:
    """Time in which a body covers 63 % of the way to its operative temperature [s].

    Parameters
    ----------
    mass : float
        Body mass [kg].
    heat_capacity : float
        Specific heat capacity [J/(kg K)].
    air_conductance : float
        Coefficient x skin area in the air [W/K].
    radiant : float
        Emissivity x skin area that radiates [m2].
    contact : float
        Conductance to the ground [W/K].
    temperature : float
        Mean temperature of body and surroundings [K].

    Source: lumped body, Bakken & Gates 1975; good while the Biot number is small (mass under
    about 100 g), and too quick a warming of the core above.
    """
    radiative = 4.0 * STEFAN_BOLTZMANN * radiant * temperature * temperature * temperature
    return mass * heat_capacity / (air_conductance + radiative + contact)


def warming_time(start: float, target: float, operative: float, constant: float) -> float:
    """Time in which a body first reaches a temperature [s]; infinite where it never does.

    Parameters
    ----------
    start : float
        Body temperature at time zero [K].
    target : float
        Temperature asked for [K].
    operative : float
        Operative temperature of the place [K].
    constant : float
        `body_time_constant` [s].

    Source: exponential approach of a lumped body.
    """
    if target == start:
        return 0.0
    way, left = start - operative, target - operative
    if way * left <= 0.0 or abs(left) > abs(way):
        return math.inf
    return constant * math.log(way / left)


def resting_heat_lizard(mass: float, temperature: float) -> float:
    """Heat a resting lizard makes [W].

    Parameters
    ----------
    mass : float
        Body mass [kg].
    temperature : float
        Body temperature, 278..318 [K].

    Source: Andrews & Pough 1985: 0.013 m^0.80 10^(0.038 t) ml O2/h with m in g and t in degrees
    Celsius, at 20.1 J/ml.
    """
    celsius = temperature - 273.15
    return 20.1 / 3600.0 * 0.013 * (1000.0 * mass) ** 0.8 * 10.0 ** (0.038 * celsius)


def field_heat_reptile(mass: float) -> float:
    """Heat a free-living reptile makes over the day, on average [W].

    Parameters
    ----------
    mass : float
        Body mass [kg].

    Source: Nagy 2005, J. Exp. Biol. 208:1621: 0.196 m^0.889 kJ/d with m in g.
    """
    return 0.196e3 / 86400.0 * (1000.0 * mass) ** 0.889


def outside_band(temperature: float, low: float, high: float) -> float:
    """How far a temperature lies outside a preferred band; 0 within [K].

    Its mean over the sites an animal can reach is the thermal quality index d_e; over body
    temperatures it is d_b.

    Parameters
    ----------
    temperature : float
        Operative or body temperature [K].
    low, high : float
        Preferred band [K].

    Source: Hertz, Huey & Stevenson 1993, Am. Nat. 142:796.
    """
    return max(low - temperature, temperature - high, 0.0)


def thermoregulation_effectiveness(mean_body: float, mean_sites: float) -> float:
    """Effectiveness of thermoregulation E = 1 - d_b/d_e; 0 where every site suits [1].

    Parameters
    ----------
    mean_body : float
        Mean `outside_band` of body temperatures [K].
    mean_sites : float
        Mean `outside_band` of operative temperatures [K].

    Source: Hertz, Huey & Stevenson 1993, Am. Nat. 142:796; undefined at d_e = 0.
    """
    return 0.0 if mean_sites <= 0.0 else 1.0 - mean_body / mean_sites
