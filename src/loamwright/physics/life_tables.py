"""Life tables and stage matrices: how fast a population grows that is left to itself.

A life table lists, by age, the share still alive and the young (daughters, in a species of two
sexes) of each that lives. A stage matrix says how the numbers by stage follow from those one time
step before; column j holds what one animal of stage j leaves to each stage. Time is in steps or in
the ages' unit, and every rate comes back per that unit.
"""

from __future__ import annotations

from math import exp, log

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.errors import InputError

Array = NDArray[np.float64]


def net_reproduction(survivorship: ArrayLike, maternity: ArrayLike) -> float:
    """Young that replace one newborn, R0 [1].

    Parameters
    ----------
    survivorship : array_like, shape (ages,)
        Share of newborns alive at each age, l_x [1].
    maternity : array_like, shape (ages,)
        Young of one animal of that age until the next age listed, m_x [1].

    Source: Birch 1948, J Anim Ecol 17:15: sum of l_x m_x.
    """
    return float(np.asarray(survivorship, dtype=float) @ np.asarray(maternity, dtype=float))


def cohort_generation_time(ages: ArrayLike, survivorship: ArrayLike, maternity: ArrayLike) -> float:
    """Mean age of the mothers of all young of one cohort [unit of the ages].

    Parameters
    ----------
    ages : array_like, shape (ages,)
        Ages [any unit of time].
    survivorship : array_like, shape (ages,)
        Share alive at each age [1].
    maternity : array_like, shape (ages,)
        Young of one animal of that age [1].

    In a growing population it is longer than `generation_time`.

    Source: Birch 1948: sum of x l_x m_x / sum of l_x m_x.
    """
    born = np.asarray(survivorship, dtype=float) * np.asarray(maternity, dtype=float)
    return float(np.asarray(ages, dtype=float) @ born) / float(born.sum())


def intrinsic_rate(ages: ArrayLike, survivorship: ArrayLike, maternity: ArrayLike) -> float:
    """Intrinsic rate of increase r [1 / unit of the ages]; minus infinity if no young are born.

    Parameters
    ----------
    ages : array_like, shape (ages,)
        Ages [any unit of time], above 0 where young are born.
    survivorship : array_like, shape (ages,)
        Share alive at each age [1].
    maternity : array_like, shape (ages,)
        Young of one animal of that age [1].

    Raises InputError for young born at age 0 or below.

    Source: Euler 1760, Lotka 1907: sum of exp(-r x) l_x m_x = 1, which falls in r without end and
    so has one root; Newton's steps from below reach it without passing it.
    """
    x = np.asarray(ages, dtype=float)
    born = np.asarray(survivorship, dtype=float) * np.asarray(maternity, dtype=float)
    x, born = x[born > 0.0], born[born > 0.0]
    if x.size == 0:
        return -np.inf
    if x.min() <= 0.0:
        raise InputError("young are born at age 0; give ages above 0, the middle of each class")
    total = float(born.sum())
    # Some young come at or after the last age, none after it: the root lies above this one.
    r = log(total) / float(x.max() if total >= 1.0 else x.min())
    for _ in range(200):
        terms = born * np.exp(-r * x)
        step = (float(terms.sum()) - 1.0) / float(x @ terms)
        r += step
        if abs(step) <= 1e-15 * max(abs(r), 1e-300):
            break
    return r


def generation_time(net: float, rate: float) -> float:
    """Time in which a population grows R0-fold [unit of time of the rate].

    Parameters
    ----------
    net : float
        Net reproduction R0 [1], above 0, not 1.
    rate : float
        Intrinsic rate of increase [1 / unit of time], not 0.

    Source: definition, T = ln R0 / r; Birch 1948.
    """
    return log(net) / rate


def approximate_rate(net: float, generation: float) -> float:
    """Rate of increase from net reproduction and the cohort's generation time [1 / unit of time].

    Parameters
    ----------
    net : float
        Net reproduction R0 [1], above 0.
    generation : float
        Cohort generation time [any unit of time], above 0.

    Too near 0, by about r^2 times half the variance of the mothers' ages over this time: 10 to
    20 % in woodlice.

    Source: Laughlin 1965, J Anim Ecol 34:77 (from memory): r_c = ln R0 / T_c.
    """
    return log(net) / generation


def finite_rate(rate: float) -> float:
    """Factor by which a population grows in one unit of time, lambda [1].

    Parameters
    ----------
    rate : float
        Intrinsic rate of increase [1 / unit of time].

    Source: lambda = exp(r).
    """
    return exp(rate)


def doubling_time(rate: float) -> float:
    """Time in which a population doubles [unit of time of the rate]; negative: halves.

    Parameters
    ----------
    rate : float
        Intrinsic rate of increase [1 / unit of time], not 0.

    Source: ln 2 / r.
    """
    return log(2.0) / rate


def leslie_matrix(survival: ArrayLike, fertility: ArrayLike) -> Array:
    """Matrix of a population by age classes one time step wide [1], shape (n, n).

    Parameters
    ----------
    survival : array_like, shape (n - 1,)
        Share of each class that reaches the next one [1].
    fertility : array_like, shape (n,)
        Young alive at the next count of one animal of each class [1].

    Source: Leslie 1945, Biometrika 33:183.
    """
    births = np.asarray(fertility, dtype=float)
    out = np.diag(np.asarray(survival, dtype=float), -1)
    if out.shape != (births.size, births.size):
        raise InputError(
            f"{out.shape[0] - 1} survivals for {births.size} fertilities; give one fewer"
        )
    out[0] += births
    return out


def stage_matrix(survival: ArrayLike, duration: ArrayLike, fertility: ArrayLike) -> Array:
    """Matrix of a population by stages that each last many time steps [1], shape (n, n).

    Parameters
    ----------
    survival : array_like, shape (n,)
        Share of a stage alive after one step [1], below 1.
    duration : array_like, shape (n,)
        Steps a stage lasts [1], at least 1; infinite for a last stage without end.
    fertility : array_like, shape (n,)
        Young alive at the next count of one animal of each stage [1].

    Ages inside a stage are taken as in a population that neither grows nor shrinks.

    Source: Crouse, Crowder & Caswell 1987, Ecology 68:1412, eqs. 1 to 4: P = p (1 - p^(d-1)) /
    (1 - p^d), G = p^d (1 - p) / (1 - p^d).
    """
    p, d = np.asarray(survival, dtype=float), np.asarray(duration, dtype=float)
    whole = p**d
    onward = whole * (1.0 - p) / (1.0 - whole)
    out = np.diag(p - onward)
    out += np.diag(onward[:-1], -1)
    out[0] += np.asarray(fertility, dtype=float)
    return out


def growth_factor(matrix: ArrayLike) -> float:
    """Factor by which the population grows in a time step once its stages are stable, lambda [1].

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix [1], no entry negative.

    Source: dominant eigenvalue; Caswell 2001, *Matrix Population Models*, sec. 4.4.
    """
    return float(np.linalg.eigvals(np.asarray(matrix, dtype=float)).real.max())


def stable_stages(matrix: ArrayLike) -> Array:
    """Share of each stage once the shares no longer change [1], shape (n,), adding up to 1.

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix [1], no entry negative.

    Source: right eigenvector of the dominant eigenvalue; Caswell 2001, sec. 4.5.
    """
    values, vectors = np.linalg.eig(np.asarray(matrix, dtype=float))
    vector = np.abs(vectors[:, int(np.argmax(values.real))].real)
    return np.asarray(vector / vector.sum())


def reproductive_values(matrix: ArrayLike) -> Array:
    """Worth of one animal of each stage for the population to come [1], shape (n,); first stage 1.

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix [1], no entry negative.

    Source: left eigenvector of the dominant eigenvalue; Caswell 2001, sec. 4.5.
    """
    vector = stable_stages(np.asarray(matrix, dtype=float).T)
    return np.asarray(vector / vector[0])


def sensitivities(matrix: ArrayLike) -> Array:
    """Change of the growth factor with each entry of the matrix [1], shape (n, n).

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix [1], no entry negative.

    Source: Caswell 1978, Theor Popul Biol 14:215: v_i w_j / <v, w>.
    """
    stages, values = stable_stages(matrix), reproductive_values(matrix)
    return np.asarray(np.outer(values, stages) / float(values @ stages))


def elasticities(matrix: ArrayLike) -> Array:
    """Relative change of the growth factor with that of each entry [1], (n, n), adding up to 1.

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix [1], no entry negative.

    Source: de Kroon et al. 1986, Ecology 67:1427 (from memory): a_ij / lambda times sensitivity.
    """
    return np.asarray(np.asarray(matrix, dtype=float) * sensitivities(matrix)) / growth_factor(
        matrix
    )


def matrix_reproduction(matrix: ArrayLike, births: ArrayLike) -> float:
    """Net reproduction R0 of a stage matrix [1].

    Parameters
    ----------
    matrix : array_like, shape (n, n)
        Stage matrix, births included [1].
    births : array_like, shape (n, n)
        The part of it that is births [1].

    Source: Cushing & Yicang 1994, Nat Resour Model 8:297: dominant eigenvalue of F (I - T)^-1;
    Caswell 2001, sec. 5.3.
    """
    f = np.asarray(births, dtype=float)
    living = np.eye(f.shape[0]) - (np.asarray(matrix, dtype=float) - f)
    return growth_factor(f @ np.linalg.inv(living))
