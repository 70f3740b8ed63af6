"""Long-wave exchange between grey surfaces: coefficients, two surfaces, whole enclosures.

Every function stands alone on `math`, floats and indexed loops, so that a kernel compiler can take
it as it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m2 K4)] (CODATA 2018, exact)."""


def black_exitance(temperature: float) -> float:
    """Radiation leaving a black surface [W/m2].

    Parameters
    ----------
    temperature : float
        Temperature [K].

    Source: Stefan-Boltzmann law.
    """
    square = temperature * temperature
    return STEFAN_BOLTZMANN * square * square


def net_loss(emissivity: float, area: float, temperature: float, surroundings: float) -> float:
    """Net long-wave loss of a small grey body in large surroundings [W].

    Parameters
    ----------
    emissivity : float
        Emissivity of the body [1].
    area : float
        Area that sees these surroundings [m2].
    temperature : float
        Temperature of the body [K].
    surroundings : float
        Temperature of the surroundings [K].

    Source: Incropera eq. 1.7.
    """
    own, other = temperature * temperature, surroundings * surroundings
    return emissivity * STEFAN_BOLTZMANN * area * (own * own - other * other)


def exchange_coefficient(emissivity: float, temperature: float, surroundings: float) -> float:
    """Coefficient h with h (T1 - T2) exactly the radiant exchange [W/(m2 K)].

    Parameters
    ----------
    emissivity : float
        Effective emissivity of the pair [1].
    temperature, surroundings : float
        The two temperatures [K].

    Source: Incropera eq. 1.9, the fourth powers factored.
    """
    squares = temperature * temperature + surroundings * surroundings
    return emissivity * STEFAN_BOLTZMANN * squares * (temperature + surroundings)


def linear_coefficient(emissivity: float, temperature: float) -> float:
    """Coefficient of radiant exchange at small differences, 4 epsilon sigma T^3 [W/(m2 K)].

    Parameters
    ----------
    emissivity : float
        Effective emissivity of the pair [1].
    temperature : float
        Mean temperature [K].

    Source: derivative of the Stefan-Boltzmann law.
    """
    return 4.0 * emissivity * STEFAN_BOLTZMANN * temperature * temperature * temperature


def parallel_emissivity(emissivity_one: float, emissivity_two: float) -> float:
    """Effective emissivity of two large parallel plates [1].

    Parameters
    ----------
    emissivity_one, emissivity_two : float
        Emissivities, above 0 [1].

    Source: Incropera eq. 13.19.
    """
    return 1.0 / (1.0 / emissivity_one + 1.0 / emissivity_two - 1.0)


def two_surface_area(
    area_one: float,
    emissivity_one: float,
    area_two: float,
    emissivity_two: float,
    view_factor: float,
) -> float:
    """Black area that exchanges as much as two grey surfaces that see only each other [m2].

    Parameters
    ----------
    area_one, area_two : float
        Areas [m2].
    emissivity_one, emissivity_two : float
        Emissivities, above 0 [1].
    view_factor : float
        Share of what leaves surface one that reaches surface two, above 0 [1].

    Source: Incropera eq. 13.18.
    """
    space = 1.0 / (area_one * view_factor)
    first = (1.0 - emissivity_one) / (area_one * emissivity_one)
    second = (1.0 - emissivity_two) / (area_two * emissivity_two)
    return 1.0 / (first + space + second)


def enclosure_exchange(
    view_factors: NDArray[np.float64],
    emissivities: NDArray[np.float64],
    areas: NDArray[np.float64],
    work: NDArray[np.float64],
    exchange: NDArray[np.float64],
) -> None:
    """Fill the exchange areas G of an enclosure of grey surfaces, all reflections included.

    Surface i then gains sum_j G_ij sigma (T_j^4 - T_i^4) watts. With rows of view factors that
    sum to one and are reciprocal (A_i F_ij = A_j F_ji), G is symmetric and its rows sum to
    A_i epsilon_i. Elimination needs no pivoting: rows of I - rho F are diagonally dominant. At
    least one surface must have an emissivity above zero.

    Parameters
    ----------
    view_factors : ndarray (N, N)
        Share of what leaves i that reaches j [1].
    emissivities : ndarray (N,)
        Emissivities [1].
    areas : ndarray (N,)
        Areas [m2].
    work : ndarray (N, 2 N)
        Scratch space, overwritten [1].
    exchange : ndarray (N, N)
        Where G is written [m2].

    Source: net radiation method, Hottel & Sarofim 1967 (total exchange areas); Siegel & Howell 4th
    ed. ch. 7.
    """
    n = len(areas)
    for i in range(n):
        reflected = 1.0 - emissivities[i]
        for j in range(n):
            work[i, j] = -reflected * view_factors[i, j]
            work[i, n + j] = 0.0
        work[i, i] += 1.0
        work[i, n + i] = emissivities[i]
    for k in range(n):
        pivot = work[k, k]
        for j in range(k, 2 * n):
            work[k, j] /= pivot
        for i in range(n):
            factor = work[i, k]
            if i != k and factor != 0.0:
                for j in range(k, 2 * n):
                    work[i, j] -= factor * work[k, j]
    # work[:, n:] now holds the radiosity of each surface per exitance of each other one.
    for i in range(n):
        absorbs = areas[i] * emissivities[i]
        for j in range(n):
            arriving = 0.0
            for k in range(n):
                arriving += view_factors[i, k] * work[k, n + j]
            exchange[i, j] = absorbs * arriving


def mean_radiant_temperature(
    weights: NDArray[np.float64], temperatures: NDArray[np.float64]
) -> float:
    """Temperature of even black surroundings that radiate as much on a place [K].

    Parameters
    ----------
    weights : ndarray (N,)
        View factors from the place, or its row of exchange areas; any positive sum [1].
    temperatures : ndarray (N,)
        Surface temperatures [K].

    Source: definition, ISO 7726 annex B (from memory).
    """
    total, power = 0.0, 0.0
    for i in range(len(weights)):
        square = temperatures[i] * temperatures[i]
        total += weights[i]
        power += weights[i] * square * square
    return float((power / total) ** 0.25)
