"""How lamps come to their spectra: hot bodies, phosphor and chip bands, lines, glass edges."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from loamwright.physics.spectra import LIGHT_SPEED, PLANCK_H

Array = NDArray[np.float64]

BOLTZMANN = 1.380649e-23
"""Boltzmann constant [J/K]; exact, SI 2019."""

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m2 K4)]; CODATA 2018."""

WIEN = 2.897771955e6
"""Wien's displacement constant [nm K]; CODATA 2018."""

_C1 = 2.0 * np.pi * PLANCK_H * LIGHT_SPEED**2  # [W m2]
_C2 = PLANCK_H * LIGHT_SPEED / BOLTZMANN * 1e9  # [nm K]

_TUNGSTEN_NM = (250.0, 400.0, 500.0, 600.0, 700.0, 800.0, 1000.0, 1200.0, 1500.0, 2000.0, 2500.0)
_TUNGSTEN = (0.44, 0.465, 0.455, 0.445, 0.435, 0.42, 0.385, 0.345, 0.30, 0.265, 0.245)


def planck(wavelength: ArrayLike, temperature: float) -> Array:
    """Spectral exitance of a black body (Planck's law).

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape, above zero.
    temperature : float
        Temperature [K].

    Returns
    -------
    ndarray
        Spectral exitance [W/(m2 nm)], same shape.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    # Beyond 700 the exponential overflows; there is nothing there to count.
    x = np.minimum(_C2 / (nm * temperature), 700.0)
    return _C1 / (nm * 1e-9) ** 5 / np.expm1(x) * 1e-9


def blackbody_fraction(wavelength_temperature: float) -> float:
    """Share of a black body's power below a wavelength, F(0 - lambda T).

    Series of Siegel & Howell, Thermal Radiation Heat Transfer (Incropera, table 12.2).

    Parameters
    ----------
    wavelength_temperature : float
        Wavelength times temperature [um K].

    Returns
    -------
    float
        Share [1].
    """
    x = _C2 * 1e-3 / wavelength_temperature
    n = np.arange(1.0, 200.0)
    terms = np.exp(-n * x) / n * (x**3 + 3.0 * x**2 / n + 6.0 * x / n**2 + 6.0 / n**3)
    return float(15.0 / np.pi**4 * terms.sum())


def tungsten_emissivity(wavelength: ArrayLike) -> Array:
    """Emissivity of a hot tungsten filament (about 2800 K).

    Linear between points read from memory of J. C. De Vos, Physica 20:690 (1954): 0.45 in the
    visible, a quarter at 2.5 um; beyond, it falls with the root of the wavelength as that of any
    metal does (Hagen-Rubens). Good to about 5 %.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.

    Returns
    -------
    ndarray
        Emissivity [1], same shape.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    near = np.interp(nm, _TUNGSTEN_NM, _TUNGSTEN)
    return np.where(nm > 2500.0, 0.245 * np.sqrt(2500.0 / np.maximum(nm, 1.0)), near)


def tungsten(wavelength: ArrayLike, temperature: float) -> Array:
    """Spectral exitance of a bare tungsten filament.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.
    temperature : float
        Temperature of the filament [K].

    Returns
    -------
    ndarray
        Spectral exitance [W/(m2 nm)], same shape.
    """
    return planck(wavelength, temperature) * tungsten_emissivity(wavelength)


def gaussian_band(wavelength: ArrayLike, centre: float, width: float) -> Array:
    """A phosphor's or a chip's band of unit area.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.
    centre : float
        Wavelength of the peak [nm].
    width : float
        Full width at half of the peak [nm].

    Returns
    -------
    ndarray
        Spectral power [1/nm], same shape.
    """
    sigma = width / np.sqrt(8.0 * np.log(2.0))
    z = (np.asarray(wavelength, dtype=np.float64) - centre) / sigma
    return np.exp(-0.5 * z**2) / (sigma * np.sqrt(2.0 * np.pi))


def glass_edge(wavelength: ArrayLike, edge: float, width: float) -> Array:
    """Transmittance of glass that turns clear at a wavelength, as a logistic curve.

    Parameters
    ----------
    wavelength : array_like
        Wavelength [nm], any shape.
    edge : float
        Wavelength at which half passes [nm].
    width : float
        Steepness [nm]: e-folding of the tail; negative for glass that turns opaque there.

    Returns
    -------
    ndarray
        Transmittance [1], same shape, against 1 on the clear side.
    """
    nm = np.asarray(wavelength, dtype=np.float64)
    return 1.0 / (1.0 + np.exp(np.clip((edge - nm) / width, -700.0, 700.0)))
