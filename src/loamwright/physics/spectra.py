"""From a spectrum to what it does: UV index, hazard to people, plant light, light to the eye.

A spectrum is a pair of arrays (wavelength [nm] rising, power [W/nm] or relative), a straight line
between its points and nothing outside them. Ultraviolet is counted from 250 nm, so that a lamp's
short-wave output is never missed. No fixed factor stands for a spectrum anywhere: the ratio of
ultraviolet B to UV index differs by more than six times between lamps.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.physics.action_tables import (
    ACTINIC,
    ACTINIC_NM,
    PHOTOPIC,
    PHOTOPIC_NM,
    PREVITAMIN,
    PREVITAMIN_NM,
)

Array = NDArray[np.float64]
Weight = Callable[[ArrayLike], Array]
Five = tuple[float, float, float, float, float]

BAND_EDGES_NM: tuple[tuple[float, float], ...] = (
    (250.0, 315.0),
    (315.0, 400.0),
    (400.0, 700.0),
    (700.0, 3000.0),
    (3000.0, 50000.0),
)
"""Ultraviolet B (from 250 nm), ultraviolet A, plant light, near and thermal infrared [nm]."""

UVI_PER_ERYTHEMAL = 40.0
"""UV index per erythemal irradiance [m2/W]; WHO, WMO, UNEP, ICNIRP 2002, Global Solar UV Index."""

LUMENS_PER_WATT = 683.0
"""Luminous efficacy of light at 555 nm [lm/W]; definition of the candela, SI."""

PLANCK_H = 6.62607015e-34
"""Planck constant [J s]; exact, SI 2019."""

LIGHT_SPEED = 299_792_458.0
"""Speed of light in vacuum [m/s]; exact, SI."""

AVOGADRO = 6.02214076e23
"""Avogadro constant [1/mol]; exact, SI 2019."""

STANDARD_ERYTHEMA_DOSE = 100.0
"""One standard erythema dose [J/m2]; ISO/CIE 17166."""

ACTINIC_LIMIT = 30.0
"""Effective radiant exposure of skin and eye not to be passed in 8 h [J/m2]; ICNIRP 2004, Health
Physics 87(2):171-186."""

UVA_EYE_LIMIT = 10_000.0
"""Unweighted ultraviolet A at the eye not to be passed in 8 h [J/m2]; ICNIRP 2004."""


def erythema_weight(wavelength: ArrayLike) -> Array:
    """Sunburn effectiveness of ultraviolet, ISO/CIE 17166 (CIE S 007).

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Weight [1], same shape: 1 up to 298 nm, zero below 250 and above 400 nm.

    Notes
    -----
    The third branch uses 140 nm, with which the curve is continuous at 328 nm; the form of 1987
    had 139 nm and a step of 3 %.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    # Clipped, so that thermal infrared does not drive the power of ten to overflow.
    x = np.clip(nm, 250.0, 400.0)
    middle = 10.0 ** (0.094 * (298.0 - x))
    long = 10.0 ** (0.015 * (140.0 - x))
    weight = np.where(x <= 298.0, 1.0, np.where(x <= 328.0, middle, long))
    return np.where((nm >= 250.0) & (nm <= 400.0), weight, 0.0)


def actinic_weight(wavelength: ArrayLike) -> Array:
    """Hazard of ultraviolet to human eye and skin, S(lambda) of IEC 62471 / ICNIRP 2004.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Weight [1], same shape; zero outside 200-400 nm. Between the table's points the logarithm
        is linear in wavelength.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    weight = np.exp(np.interp(nm, ACTINIC_NM, np.log(ACTINIC)))
    return np.where((nm >= 200.0) & (nm <= 400.0), weight, 0.0)


def previtamin_d3_weight(wavelength: ArrayLike) -> Array:
    """Effectiveness of ultraviolet in making previtamin D3 in skin, CIE 174:2006.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Weight [1], same shape; linear between the 1 nm points, zero outside 252-330 nm.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    return np.interp(nm, PREVITAMIN_NM, PREVITAMIN, left=0.0, right=0.0)


def photopic_weight(wavelength: ArrayLike) -> Array:
    """Luminous efficiency of the light-adapted human eye, V(lambda), CIE 1924.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Weight [1], same shape; linear between the 5 nm points, zero outside 360-830 nm.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    return np.interp(nm, PHOTOPIC_NM, PHOTOPIC, left=0.0, right=0.0)


def photon_yield(wavelength: ArrayLike) -> Array:
    """Photons carried by radiant energy, lambda / (h c N_A).

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Photons [umol/J], same shape.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    return nm * (1e-9 * 1e6 / (PLANCK_H * LIGHT_SPEED * AVOGADRO))


def integrate(
    wavelength: ArrayLike,
    power: ArrayLike,
    low: float,
    high: float,
    weight: Weight | None = None,
    step: float = 1.0,
) -> float:
    """Integral of a spectrum, weighted or not, between two wavelengths.

    Trapezoid on the spectrum's own points and both limits, which is exact for a spectrum of
    straight pieces. With a weight, points every `step` are added: action spectra fall threefold
    within 5 nm, and a trapezoid on a coarse grid would overstate them.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral power [W/nm] or relative, shape (n,).
    low, high : float
        Limits [nm].
    weight : callable, optional
        Weight of a wavelength [nm].
    step : float
        Spacing of the added points [nm].

    Returns
    -------
    float
        Integral [unit of power x nm x weight].
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    value = np.asarray(power, dtype=np.float64)
    low, high = max(low, float(nm[0])), min(high, float(nm[-1]))
    if high <= low:
        return 0.0
    parts = [nm[(nm > low) & (nm < high)], np.array([low, high])]
    if weight is not None:
        parts.append(np.arange(np.ceil(low / step), np.floor(high / step) + 1.0) * step)
    nodes = np.unique(np.concatenate(parts))
    y = np.interp(nodes, nm, value)
    if weight is not None:
        y = y * weight(nodes)
    return float(np.trapezoid(y, nodes))


def erythemal(wavelength: ArrayLike, power: ArrayLike) -> float:
    """Erythemally weighted power of a spectrum, 250-400 nm.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral irradiance [W/(m2 nm)], shape (n,).

    Returns
    -------
    float
        Erythemal irradiance [W/m2].
    """
    return integrate(wavelength, power, 250.0, 400.0, erythema_weight)


def uv_index(wavelength: ArrayLike, power: ArrayLike) -> float:
    """UV index of a spectral irradiance, WHO 2002: 40 m2/W times its erythemal irradiance.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral irradiance [W/(m2 nm)], shape (n,).

    Returns
    -------
    float
        UV index [1].
    """
    return UVI_PER_ERYTHEMAL * erythemal(wavelength, power)


def uvb_per_uvi(wavelength: ArrayLike, power: ArrayLike) -> float:
    """Ultraviolet B that goes with one unit of UV index in this spectrum.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral power [W/nm] or relative, shape (n,).

    Returns
    -------
    float
        Irradiance 280-320 nm per UV index [uW/cm2], as meters of ultraviolet B count it.
    """
    return 100.0 * integrate(wavelength, power, 280.0, 320.0) / uv_index(wavelength, power)


_QUANTITIES: dict[str, tuple[float, Weight, float, float]] = {
    "uvi": (UVI_PER_ERYTHEMAL, erythema_weight, 250.0, 400.0),
    "actinic": (1.0, actinic_weight, 250.0, 400.0),
    "d3": (1.0, previtamin_d3_weight, 250.0, 330.0),
    "ppfd": (1.0, photon_yield, 400.0, 700.0),
    "lux": (LUMENS_PER_WATT, photopic_weight, 360.0, 830.0),
}


def quantity(
    wavelength: ArrayLike, power: ArrayLike, name: str, low: float = 0.0, high: float = 1e6
) -> float:
    """One quantity of a spectral irradiance, wholly or between two wavelengths.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral irradiance [W/(m2 nm)], shape (n,).
    name : str
        ``uvi`` [1], ``actinic`` [W/m2], ``d3`` [W/m2], ``ppfd`` [umol/(m2 s)] or ``lux`` [lx].
    low, high : float
        Limits [nm] within those of the quantity.

    Returns
    -------
    float
        The quantity, in the unit given above.
    """
    factor, weight, start, stop = _QUANTITIES[name]
    return factor * integrate(wavelength, power, max(low, start), min(high, stop), weight)


def band_shares(
    wavelength: ArrayLike,
    power: ArrayLike,
    edges: tuple[tuple[float, float], ...] = BAND_EDGES_NM,
) -> Five:
    """Shares of a spectrum's power in the five bands; they sum to one.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral power [W/nm] or relative, shape (n,).
    edges : tuple of pairs
        Limits of the bands [nm].

    Returns
    -------
    tuple of 5 floats
        Shares [1] of the power within all bands together.
    """
    watts = [integrate(wavelength, power, low, high) for low, high in edges]
    whole = sum(watts)
    return _five([w / whole for w in watts])


def per_watt(
    wavelength: ArrayLike,
    power: ArrayLike,
    edges: tuple[tuple[float, float], ...] = BAND_EDGES_NM,
) -> dict[str, Five]:
    """What one watt of each band of this spectrum is worth, by quantity.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], shape (n,), rising.
    power : array_like
        Spectral power [W/nm] or relative, shape (n,).
    edges : tuple of pairs
        Limits of the bands [nm].

    Returns
    -------
    dict of str to tuple of 5 floats
        ``uvi``, ``actinic``, ``d3``, ``ppfd`` and ``lux`` per irradiance in each band [quantity
        per W/m2]; zero where the band holds nothing.
    """
    watts = [integrate(wavelength, power, low, high) for low, high in edges]
    return {
        name: _five(
            [
                quantity(wavelength, power, name, low, high) / w if w > 0.0 else 0.0
                for w, (low, high) in zip(watts, edges, strict=True)
            ]
        )
        for name in _QUANTITIES
    }


def mix(
    parts: list[tuple[float, Five, dict[str, Five]]],
) -> tuple[Five, dict[str, Five]]:
    """Band powers and worth per watt of several sources in one lamp.

    Parameters
    ----------
    parts : list of (float, tuple, dict)
        For each source its radiant power [W], `band_shares` [1] and `per_watt` [quantity per
        W/m2].

    Returns
    -------
    tuple, dict
        Power in each band [W], and `per_watt` of the whole [quantity per W/m2].
    """
    watts = np.array([[power * share for share in shares] for power, shares, _ in parts])
    total = watts.sum(axis=0)
    safe = np.where(total > 0.0, total, 1.0)
    worth = {
        name: _five(list((watts * np.array([p[2][name] for p in parts])).sum(axis=0) / safe))
        for name in _QUANTITIES
    }
    return _five(list(total)), worth


def _five(values: list[float]) -> Five:
    a, b, c, d, e = (float(v) for v in values)
    return (a, b, c, d, e)


def seconds_to_standard_dose(uvi: float) -> float:
    """Time in which skin takes one standard erythema dose, 100 J/m2 (ISO/CIE 17166).

    Parameters
    ----------
    uvi : float
        UV index [1].

    Returns
    -------
    float
        Time [s].
    """
    return STANDARD_ERYTHEMA_DOSE * UVI_PER_ERYTHEMAL / uvi


def actinic_time(effective: float) -> float:
    """Longest exposure of skin and eye in a day of 8 h, ICNIRP 2004: 30 J/m2 over E_eff.

    Parameters
    ----------
    effective : float
        S(lambda)-weighted irradiance [W/m2].

    Returns
    -------
    float
        Time [s].
    """
    return ACTINIC_LIMIT / effective


def uva_eye_time(uva: float) -> float:
    """Longest exposure of the eye to ultraviolet A in a day of 8 h, ICNIRP 2004.

    Parameters
    ----------
    uva : float
        Unweighted irradiance 315-400 nm [W/m2].

    Returns
    -------
    float
        Time [s].
    """
    return UVA_EYE_LIMIT / uva


def daily_light_integral(ppfd: float, hours: float) -> float:
    """Plant light of a day: photon flux density times time.

    Parameters
    ----------
    ppfd : float
        Photosynthetic photon flux density [umol/(m2 s)].
    hours : float
        Hours lit [h].

    Returns
    -------
    float
        Daily light integral [mol/(m2 d)].
    """
    return ppfd * hours * 3600.0 / 1e6
