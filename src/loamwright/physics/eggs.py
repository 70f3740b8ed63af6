"""Eggs: how long they take, which sex they become, and whether some were overlooked.

Temperatures of incubation are constant ones of experiments; in changing warmth development is
summed. Degree-days fail for species whose eggs rest (some chameleons), and never reach above the
warmest temperature that was tried: there development slows and embryos die.
"""

from __future__ import annotations

from math import ceil, exp, inf, log, nan, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.errors import InputError

Array = NDArray[np.float64]


def rate_line(temperatures: ArrayLike, times: ArrayLike) -> tuple[float, float, float]:
    """Straight line through rates of development at constant temperatures.

    Parameters
    ----------
    temperatures : array_like, shape (n,)
        Temperatures of incubation, at least two different [K].
    times : array_like, shape (n,)
        Time to hatching at each, above 0 [s].

    Returns
    -------
    tuple of float
        Threshold [K], thermal constant [K s], and the standard deviation of the relative residuals
        of the rates [1] (nan with two points).

    Use temperatures below the optimum only. Raises InputError when the line does not rise.

    Source: law of the sum of effective temperatures, least squares on 1 / time; Damos &
    Savopoulou-Soultani 2012, Psyche 2012:123405.
    """
    t, rate = np.asarray(temperatures, dtype=float), 1.0 / np.asarray(times, dtype=float)
    if np.unique(t).size < 2:
        raise InputError("all incubations are at one temperature; give two at least")
    slope, intercept = np.polyfit(t - t[0], rate, 1)
    if slope <= 0.0:
        raise InputError(
            "eggs at the warmer temperatures take no less time; leave out those above the optimum"
        )
    off = (rate - intercept - slope * (t - t[0])) / rate
    spread = sqrt(float(off @ off) / (t.size - 2)) if t.size > 2 else nan
    return float(t[0] - intercept / slope), float(1.0 / slope), spread


def incubation_time(
    temperature: float, threshold: float, constant: float, coldest: float, warmest: float
) -> float:
    """Time from laying to hatching at a constant temperature [s]; nan outside what was tried.

    Parameters
    ----------
    temperature : float
        Temperature of the eggs [K].
    threshold : float
        Temperature at which development stops [K].
    constant : float
        Thermal constant [K s].
    coldest, warmest : float
        Temperatures between which the line was measured [K].

    Source: K / (T - T0).
    """
    if not coldest <= temperature <= warmest:
        return nan
    return constant / (temperature - threshold)


def hatching_time(
    temperatures: ArrayLike, step: float, threshold: float, constant: float, warmest: float
) -> float:
    """Time to hatching in changing warmth [s]; infinite if the record ends before.

    Parameters
    ----------
    temperatures : array_like, shape (steps,)
        Mean temperature of the eggs in each step [K].
    step : float
        Length of a step [s].
    threshold : float
        Temperature at which development stops [K].
    constant : float
        Thermal constant [K s].
    warmest : float
        Warmest temperature tried [K]: hotter hours count as that.

    Source: sum of effective temperatures.
    """
    effective = np.clip(np.asarray(temperatures, dtype=float), threshold, warmest) - threshold
    done = np.cumsum(effective) * step / constant
    # A year of summed parts may end a rounding short of the whole.
    at = int(np.searchsorted(done, 1.0 - 1e-12))
    if at == done.size:
        return inf
    before = float(done[at - 1]) if at else 0.0
    return step * (at + (1.0 - before) / (float(done[at]) - before))


def pooled_shares(
    temperatures: ArrayLike, shares: ArrayLike, numbers: ArrayLike
) -> tuple[Array, Array, Array]:
    """Shares of males by temperature, experiments at one temperature put together.

    Parameters
    ----------
    temperatures : array_like, shape (n,)
        Temperature of each experiment [K].
    shares : array_like, shape (n,)
        Share of males in it [1].
    numbers : array_like, shape (n,)
        Hatchlings sexed in it [1].

    Returns
    -------
    tuple of ndarray
        Temperatures, rising [K]; shares of males [1]; hatchlings [1].

    Source: mean weighted by numbers.
    """
    t, n = np.asarray(temperatures, dtype=float), np.asarray(numbers, dtype=float)
    males = np.asarray(shares, dtype=float) * n
    levels, where = np.unique(t, return_inverse=True)
    total = np.bincount(where, weights=n).astype(float)
    return levels, np.bincount(where, weights=males) / total, total


def male_share(temperature: float, temperatures: ArrayLike, shares: ArrayLike) -> float:
    """Share of males from eggs kept at a temperature [1]; nan outside what was tried.

    Parameters
    ----------
    temperature : float
        Constant temperature of the eggs [K].
    temperatures : array_like, shape (n,)
        Temperatures tried, rising [K].
    shares : array_like, shape (n,)
        Share of males at each [1].

    Serves species in which females come from cool and from hot eggs. In changing warmth the mean
    does not decide: wide swings act as a warmer constant.

    Source: straight line between experiments.
    """
    t = np.asarray(temperatures, dtype=float)
    if not t[0] <= temperature <= t[-1]:
        return nan
    return float(np.interp(temperature, t, np.asarray(shares, dtype=float)))


def male_share_logistic(temperature: float, pivotal: float, steepness: float) -> float:
    """Share of males where one sex comes from cool and the other from warm eggs [1].

    Parameters
    ----------
    temperature : float
        Constant temperature of the eggs [K].
    pivotal : float
        Temperature of as many males as females [K].
    steepness : float
        S [K], not 0; negative when males come from cool eggs. From 5 to 95 % it takes 5.9 |S|.

    Source: Girondot 1999, Evol Ecol Res 1:479 (equation from memory): 1 / (1 + exp((P - T) / S)).
    """
    return 1.0 / (1.0 + exp((pivotal - temperature) / steepness))


def share_band(share: float, number: float, deviations: float) -> tuple[float, float]:
    """Band of a true share, from one that was counted [1].

    Parameters
    ----------
    share : float
        Share counted [1].
    number : float
        Animals counted, above 0 [1].
    deviations : float
        Width to each side in standard deviations [1]: 1.96 holds 95 %.

    Source: Wilson 1927, J Am Stat Assoc 22:209.
    """
    z = deviations * deviations / number
    middle = (share + 0.5 * z) / (1.0 + z)
    half = sqrt(z * share * (1.0 - share) + 0.25 * z * z) / (1.0 + z)
    return middle - half, middle + half


def eggs_expected(
    females: float, time: float, interval: float, clutch: float, found: float
) -> float:
    """Eggs laid by the record and not found [1], at least 0.

    Parameters
    ----------
    females : float
        Females that lay [1].
    time : float
        Time since the last clutch that is accounted for, within the season of laying [s].
    interval : float
        Mean time between clutches of one female, above 0 [s].
    clutch : float
        Mean eggs in a clutch [1].
    found : float
        Eggs found in that time [1].

    Source: renewal at an even pace, not followed by any publication.
    """
    return max(females * time / interval * clutch - found, 0.0)


def overlooked_share(detection: float, searches: float) -> float:
    """Chance that an egg that is there is found in none of the searches [1].

    Parameters
    ----------
    detection : float
        Chance to find it in one search [1].
    searches : float
        Searches, each as if the first [1].

    Source: (1 - p)^k; MacKenzie et al. 2002, Ecology 83:2248.
    """
    return float((1.0 - detection) ** searches)


def chance_missed(found: float, overlooked: float, expected: float, shape: float) -> float:
    """Chance that at least one egg is still there after some were found [1].

    Parameters
    ----------
    found : float
        Eggs found [1].
    overlooked : float
        Chance of an egg to be found in no search [1], see `overlooked_share`.
    expected : float
        Eggs to be expected before any search [1]; infinite when nothing is known.
    shape : float
        How sure that is [1]: infinite for a Poisson number, small for clutches that may or may not
        have been laid (variance = mean + mean^2 / shape). With nothing known, 1.

    Source: Bayes' rule with a negative binomial number of eggs, each found or not on its own;
    what was found says nothing more about a Poisson number. Worked out here.
    """
    if shape == inf:
        return 1.0 - exp(-expected * overlooked)
    left = overlooked if expected == inf else overlooked * expected / (expected + shape)
    return float(1.0 - (1.0 - left) ** (found + shape))


def eggs_missed(found: float, overlooked: float, expected: float, shape: float) -> float:
    """Eggs to be expected still there after some were found [1].

    Parameters
    ----------
    found : float
        Eggs found [1].
    overlooked : float
        Chance of an egg to be found in no search, below 1 [1].
    expected : float
        Eggs to be expected before any search [1]; infinite when nothing is known.
    shape : float
        As in `chance_missed` [1].

    Source: mean of the distribution of `chance_missed`.
    """
    if shape == inf:
        return expected * overlooked
    left = overlooked if expected == inf else overlooked * expected / (expected + shape)
    return (found + shape) * left / (1.0 - left)


def searches_needed(
    found: float, detection: float, expected: float, shape: float, risk: float
) -> int:
    """Searches after which the chance of a missed egg is small enough [1].

    Parameters
    ----------
    found : float
        Eggs found so far; what further searches find adds to it [1].
    detection : float
        Chance to find an egg in one search, above 0 and below 1 [1].
    expected : float
        Eggs to be expected before any search [1].
    shape : float
        As in `chance_missed` [1].
    risk : float
        Chance of a missed egg that is accepted, above 0 and below 1 [1].

    Source: `chance_missed`, solved for the searches.
    """
    if shape == inf:
        if expected <= 0.0:
            return 0
        overlooked = -log(1.0 - risk) / expected
    else:
        overlooked = 1.0 - (1.0 - risk) ** (1.0 / (found + shape))
        overlooked *= 1.0 if expected == inf else (expected + shape) / max(expected, 1e-300)
    if overlooked >= 1.0:
        return 0
    # Rounding must not ask for one search more where the count comes out whole.
    return ceil(log(overlooked) / log(1.0 - detection) - 1e-12)


def still_occupied(before: float, overlooked: float) -> float:
    """Chance that a place holds eggs although no search found any [1].

    Parameters
    ----------
    before : float
        Chance before any search [1].
    overlooked : float
        Chance that eggs that are there are found in no search [1].

    Source: Bayes' rule; MacKenzie et al. 2002, Ecology 83:2248.
    """
    missed = before * overlooked
    return missed / (1.0 - before + missed)


def two_searches(first: float, second: float, both: float) -> tuple[float, float]:
    """Eggs there and the chance to find one, from two searches that left and marked what they found.

    Parameters
    ----------
    first, second : float
        Eggs found in the first and in the second search [1].
    both : float
        Eggs found in both, above 0 [1].

    Returns
    -------
    tuple of float
        Number of eggs and the mean chance of an egg in one search [1].

    Source: Petersen 1896, Lincoln 1930: n1 n2 / m.
    """
    return first * second / both, 0.5 * (both / first + both / second)


def removals(counts: ArrayLike) -> tuple[float, float]:
    """Eggs there at first and the chance to find one, from searches that took away what they found.

    Parameters
    ----------
    counts : array_like, shape (searches,)
        Eggs found in each search, at least two searches [1].

    Returns
    -------
    tuple of float
        Most likely number at first, infinite when the counts do not fall, and chance in one search
        [1].

    Source: Moran 1951, Biometrika 38:307; Zippin 1956, Biometrics 12:163: q / p - k q^k / (1 -
    q^k) = sum (i - 1) c_i / sum c_i, by halving.
    """
    c = np.asarray(counts, dtype=float)
    if c.size < 2 or not c.sum() > 0.0:
        raise InputError("give the counts of two searches at least, with an egg in one of them")
    later = float(np.arange(c.size) @ c) / float(c.sum())
    if later >= 0.5 * (c.size - 1):
        return inf, 0.0
    low, high = 0.0, 1.0
    for _ in range(200):
        q = 0.5 * (low + high)
        mean = q / (1.0 - q) - c.size * q**c.size / (1.0 - q**c.size)
        low, high = (q, high) if mean < later else (low, q)
    return float(c.sum()) / (1.0 - q**c.size), 1.0 - q
