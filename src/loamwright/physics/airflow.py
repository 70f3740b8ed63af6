"""Air through openings: orifices, gaps, stack, two-way exchange, dilution.

Flows are volume flows [m3/s] unless said. Every function stands alone on `math` and floats, so
that a kernel compiler can take it as it is. Losses of meshes and ducts are in `flow_losses`, fans
in `fans`, rising warm air in `plumes`.
"""

from __future__ import annotations

import math

GRAVITY = 9.80665
"""Standard gravity [m/s2] (CGPM 1901)."""
DOORWAY_DISCHARGE = 0.65
"""Usual discharge coefficient of a doorway [1] (default of published multizone airflow codes)."""
ORIFICE_DISCHARGE = 0.6
"""Usual discharge coefficient of a sharp-edged hole [1] (0.60-0.65 in handbooks)."""


def orifice_flow(difference: float, discharge: float, area: float, density: float) -> float:
    """Flow through a sharp opening, with the sign of the pressure difference [m3/s].

    Parameters
    ----------
    difference : float
        Pressure difference [Pa].
    discharge : float
        Discharge coefficient; sharp edge 0.60-0.65 [1].
    area : float
        Open area [m2].
    density : float
        Density of the air that flows [kg/m3].

    Source: Bernoulli with a discharge coefficient, ASHRAE Fundamentals ch. 16.
    """
    flow = discharge * area * math.sqrt(2.0 * abs(difference) / density)
    return flow if difference >= 0.0 else -flow


def orifice_flow_smooth(
    difference: float, discharge: float, area: float, density: float, blend: float
) -> float:
    """`orifice_flow` with a finite slope at zero, for solvers [m3/s].

    Under ``blend`` it turns linear, as a laminar opening would; at ten times that it is within
    0.3 % of the square root.

    Parameters
    ----------
    difference : float
        Pressure difference [Pa].
    discharge : float
        Discharge coefficient [1].
    area : float
        Open area [m2].
    density : float
        Density of the air that flows [kg/m3].
    blend : float
        Pressure difference where the laws meet, above 0 [Pa].

    Source: square-root law with dp / (dp^2 + blend^2)^(1/4), a usual regularisation.
    """
    root = math.sqrt(math.sqrt(difference * difference + blend * blend))
    return discharge * area * math.sqrt(2.0 / density) * difference / root


def power_law_flow(difference: float, coefficient: float, exponent: float) -> float:
    """Flow through leaks as C |dp|^n, with the sign of the pressure difference [m3/s].

    Parameters
    ----------
    difference : float
        Pressure difference [Pa].
    coefficient : float
        Flow at 1 Pa [m3/s].
    exponent : float
        0.5 (orifice) to 1 (laminar); about 0.65 for cracks [1].

    Source: ASHRAE Fundamentals ch. 16; 0.65 of Dols & Walton 2002.
    """
    flow = coefficient * abs(difference) ** exponent
    return flow if difference >= 0.0 else -flow


def leakage_coefficient(area: float, exponent: float, reference: float, density: float) -> float:
    """Flow at 1 Pa of a stated effective leakage area, for `power_law_flow` [m3/s].

    Parameters
    ----------
    area : float
        Effective leakage area, of a hole with discharge coefficient 1 [m2].
    exponent : float
        Exponent of the power law [1].
    reference : float
        Pressure difference the area was stated at, usually 4 [Pa].
    density : float
        Density of the air [kg/m3].

    Source: ASHRAE Fundamentals ch. 16, effective leakage area.
    """
    return area * math.sqrt(2.0 / density) * reference ** (0.5 - exponent)


def gap_coefficients(
    length: float, width: float, depth: float, bends: float, viscosity: float, density: float
) -> tuple[float, float]:
    """Linear and square term of the pressure a straight gap needs, for `quadratic_flow`.

    Parameters
    ----------
    length : float
        Length of the gap along the door [m].
    width : float
        Clear width of the gap [m].
    depth : float
        Distance the air travels in it [m].
    bends : float
        Number of right-angle bends in the path [1].
    viscosity : float
        Dynamic viscosity [Pa s].
    density : float
        Density [kg/m3].

    Returns
    -------
    tuple of float
        a [Pa s/m3] and b [Pa s2/m6] of dp = a Q + b Q^2.

    Source: Baker, Sharples & Ward 1987, Building and Environment 22:293 (from memory): plane
    Poiseuille flow plus 1.5 + bends velocity heads.
    """
    section = length * width
    linear = 12.0 * viscosity * depth / (section * width * width)
    return linear, 0.5 * density * (1.5 + bends) / (section * section)


def quadratic_flow(difference: float, linear: float, square: float) -> float:
    """Flow that needs a pressure difference a Q + b Q^2, with its sign [m3/s].

    Parameters
    ----------
    difference : float
        Pressure difference [Pa].
    linear : float
        a, at least 0 [Pa s/m3].
    square : float
        b, at least 0; not both 0 [Pa s2/m6].

    Source: root of the quadratic, in the form that is safe at b = 0.
    """
    d = abs(difference)
    if d == 0.0:
        return 0.0
    flow = 2.0 * d / (linear + math.sqrt(linear * linear + 4.0 * square * d))
    return flow if difference >= 0.0 else -flow


def stack_pressure(height: float, density_outside: float, density_inside: float) -> float:
    """Pressure difference that a column of lighter air makes [Pa].

    Parameters
    ----------
    height : float
        Height of the column [m].
    density_outside, density_inside : float
        Densities beside and in the column [kg/m3].

    Source: hydrostatics.
    """
    return GRAVITY * height * (density_outside - density_inside)


def stack_flow(
    discharge: float, area: float, height: float, inside: float, outside: float
) -> float:
    """Flow through two equal openings above each other, upward positive [m3/s].

    Parameters
    ----------
    discharge : float
        Discharge coefficient [1].
    area : float
        Area of each opening [m2].
    height : float
        Vertical distance of their middles [m].
    inside, outside : float
        Air temperatures [K].

    Source: ASHRAE Fundamentals ch. 16 (from memory), neutral level midway; it is the
    volume of the denser air, which passes the lower opening.
    """
    drive = GRAVITY * height * abs(inside - outside) / max(inside, outside)
    flow = discharge * area * math.sqrt(drive)
    return flow if inside >= outside else -flow


def neutral_level(
    height: float, area_low: float, area_high: float, density_in: float, density_out: float
) -> float:
    """Height over the lower opening at which inside and outside pressures agree [m].

    Parameters
    ----------
    height : float
        Vertical distance of the openings [m].
    area_low, area_high : float
        Their areas, above 0 [m2].
    density_in, density_out : float
        Density of the air that enters and of the air that leaves at the other end, when it enters
        low; swap the areas when it enters high [kg/m3].

    Source: ASHRAE Fundamentals ch. 16 (from memory): equal mass in and out.
    """
    ratio = area_low / area_high
    return height / (1.0 + ratio * ratio * density_in / density_out)


def stack_mass_flow(
    discharge: float,
    area_low: float,
    area_high: float,
    height: float,
    density_inside: float,
    density_outside: float,
) -> float:
    """Mass flow through two openings above each other, upward positive [kg/s].

    Parameters
    ----------
    discharge : float
        Discharge coefficient of both [1].
    area_low, area_high : float
        Areas, above 0 [m2].
    height : float
        Vertical distance of their middles [m].
    density_inside, density_outside : float
        Densities [kg/m3].

    Source: orifices in series on the hydrostatic difference, equal mass through both.
    """
    resistance = 1.0 / (density_outside * area_low * area_low)
    resistance += 1.0 / (density_inside * area_high * area_high)
    if density_inside > density_outside:  # cold inside: enters high, leaves low
        resistance = 1.0 / (density_outside * area_high * area_high)
        resistance += 1.0 / (density_inside * area_low * area_low)
    drive = 2.0 * GRAVITY * height * abs(density_outside - density_inside)
    flow = discharge * math.sqrt(drive / resistance)
    return flow if density_outside >= density_inside else -flow


def doorway_exchange(
    discharge: float, width: float, height: float, density_one: float, density_two: float
) -> float:
    """Two-way flow through an upright opening, each way, without net flow [m3/s].

    Parameters
    ----------
    discharge : float
        Discharge coefficient, about 0.65 [1].
    width, height : float
        Size of the opening [m].
    density_one, density_two : float
        Densities on both sides [kg/m3].

    Source: Brown & Solvason 1962, Int. J. Heat Mass Transfer 5:859, eq. 6.
    """
    reduced = 2.0 * GRAVITY * abs(density_one - density_two) / (density_one + density_two)
    return discharge / 3.0 * width * height * math.sqrt(reduced * height)


def doorway_flows(
    discharge: float,
    width: float,
    height: float,
    density_one: float,
    density_two: float,
    difference: float,
) -> tuple[float, float]:
    """Flows both ways through an upright opening that also carries a pressure difference [m3/s].

    Parameters
    ----------
    discharge : float
        Discharge coefficient [1].
    width, height : float
        Size of the opening [m].
    density_one, density_two : float
        Densities on both sides [kg/m3].
    difference : float
        Pressure on side one over side two at the sill [Pa].

    Returns
    -------
    tuple of float
        Flow from one to two, and from two to one, both at least 0 [m3/s].

    Source: Brown & Solvason 1962 and Walton 1989: orifice law over the height, each stream with
    the density of the side it comes from.
    """
    sill = difference
    head = difference - GRAVITY * (density_one - density_two) * height
    scale = 2.0 / 3.0 * discharge * width * height * math.sqrt(2.0)
    forward = scale / math.sqrt(density_one)
    backward = scale / math.sqrt(density_two)
    if sill * head >= 0.0:  # one way only
        a, b = math.sqrt(abs(sill)), math.sqrt(abs(head))
        if a + b == 0.0:
            return 0.0, 0.0
        one_way = (a * a + a * b + b * b) / (a + b)
        if sill + head > 0.0:
            return forward * one_way, 0.0
        return 0.0, backward * one_way
    span = abs(sill) + abs(head)
    low, high = abs(sill) ** 1.5 / span, abs(head) ** 1.5 / span
    if sill > 0.0:
        return forward * low, backward * high
    return forward * high, backward * low


def horizontal_exchange(
    area: float, density_above: float, density_below: float, difference: float
) -> float:
    """Two-way flow through a flat opening with denser air above, each way [m3/s].

    Nothing is exchanged when the lighter air is above. A pressure difference adds a net flow by
    the orifice law and drowns the exchange, wholly so at the flooding pressure of a square hole.

    Parameters
    ----------
    area : float
        Area of the opening [m2].
    density_above, density_below : float
        Densities [kg/m3].
    difference : float
        Pressure difference across the opening, beyond hydrostatics (its sign is ignored) [Pa].

    Source: Cooper 1989 (NISTIR 89-4052) as in the public zone fire model of NIST, from salt-water
    experiments in openings thin against their width. Epstein 1988 gives a quarter less.
    """
    excess = density_above - density_below
    if excess <= 0.0 or area <= 0.0:
        return 0.0
    side = math.sqrt(area)
    reduced = 2.0 * GRAVITY * excess / (density_above + density_below)
    flooding = 0.942 * 0.942 * GRAVITY * excess * side / 2.0
    left = max(0.0, 1.0 - abs(difference) / flooding)
    return 0.1 * area * math.sqrt(reduced * side) * left


def chimney_exchange(
    diameter: float, length: float, density_above: float, density_below: float
) -> float:
    """Two-way flow through a round hole or short pipe with denser air above, each way [m3/s].

    Parameters
    ----------
    diameter : float
        Diameter [m].
    length : float
        Length of the hole in the direction of flow; length over diameter 0..10 [m].
    density_above, density_below : float
        Densities [kg/m3].

    Source: Epstein 1988, J. Heat Transfer 110:885, correlation of all four regimes (from memory).
    """
    excess = density_above - density_below
    if excess <= 0.0 or diameter <= 0.0:
        return 0.0
    ratio = length / diameter
    square = ratio * ratio
    lift = 1.0 + 400.0 * square * ratio
    damp = 0.00527 * math.sqrt(lift) * (square * square * square + 117.0 * square) ** 0.75
    froude = 0.055 * lift ** (1.0 / 6.0) / (1.0 + damp) ** (1.0 / 3.0)
    reduced = 2.0 * GRAVITY * excess / (density_above + density_below)
    return froude * diameter * diameter * math.sqrt(reduced * diameter)


def screened_discharge(discharge: float, loss: float) -> float:
    """Discharge coefficient of an opening with a mesh across it [1].

    Parameters
    ----------
    discharge : float
        Discharge coefficient of the bare opening [1].
    loss : float
        Loss coefficient of the mesh on the velocity in the opening [1].

    Source: Bailey et al. 2003, Biosystems Engineering 86:217 (from memory): pressure losses add.
    """
    return 1.0 / math.sqrt(1.0 / (discharge * discharge) + loss)


def diluted(start: float, background: float, changes: float, time: float) -> float:
    """Concentration in a well-mixed space without source after a time [any].

    Parameters
    ----------
    start, background : float
        Concentrations at time zero and of the air that comes in [any].
    changes : float
        Air changes per second [1/s].
    time : float
        Time since then [s].

    Source: ASTM E741, tracer decay.
    """
    return background + (start - background) * math.exp(-changes * time)


def changes_from_decay(start: float, end: float, background: float, time: float) -> float:
    """Air changes per second from a tracer's decay [1/s].

    Parameters
    ----------
    start, end : float
        Concentrations, both above the background [any].
    background : float
        Concentration of the air that comes in [any].
    time : float
        Time between, above 0 [s].

    Source: ASTM E741, two-point decay.
    """
    return math.log((start - background) / (end - background)) / time


def steady_excess(source: float, flow: float) -> float:
    """Steady excess concentration of a constant source [m3/m3 or kg/m3].

    Parameters
    ----------
    source : float
        Release [m3/s or kg/s].
    flow : float
        Air flow, above 0 [m3/s].

    Source: balance of a well-mixed space.
    """
    return source / flow
