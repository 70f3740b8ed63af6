"""Small adaptors that let a reference sheet call the spectral functions with plain numbers."""

from __future__ import annotations

import importlib.util
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from loamwright.files.catalogue import load_catalogue
from loamwright.physics import lamp_spectra, spectra

GRID = np.concatenate([np.arange(200.0, 800.0, 1.0), np.geomspace(800.0, 20_000.0, 3000)])


COLUMNS = {"extraterrestrial": 1, "global": 2, "direct": 3}


@cache
def sun(column: str) -> tuple[Any, Any]:
    """A column of ASTM G173-03, from the table pvlib carries (importing pvlib takes seconds)."""
    spec = importlib.util.find_spec("pvlib")
    assert spec is not None
    assert spec.origin is not None
    path = Path(spec.origin).parent / "data" / "ASTMG173.csv"
    table = np.loadtxt(path, delimiter=",", skiprows=2)
    return table[:, 0], table[:, COLUMNS[column]]


def sun_quantity(column: str, name: str) -> float:
    return spectra.quantity(*sun(column), name)


def sun_erythemal(column: str) -> float:
    return spectra.erythemal(*sun(column))


def sun_band(column: str, low: float, high: float) -> float:
    return spectra.integrate(*sun(column), low, high)


def sun_uvb_per_uvi(column: str) -> float:
    return spectra.uvb_per_uvi(*sun(column))


def sun_to_erythemal(column: str, name: str) -> float:
    return spectra.quantity(*sun(column), name) / spectra.erythemal(*sun(column))


def sun_actinic_time(column: str) -> float:
    return spectra.actinic_time(spectra.quantity(*sun(column), "actinic"))


def sun_lux_per_ppfd(column: str) -> float:
    return spectra.quantity(*sun(column), "lux") / spectra.quantity(*sun(column), "ppfd")


def sun_photons_per_joule(column: str) -> float:
    return spectra.quantity(*sun(column), "ppfd") / sun_band(column, 400.0, 700.0)


def flat_uvi(erythemal: float) -> float:
    """UV index of light at 298 nm alone, where the weight is one."""
    nm = np.array([297.0, 297.5, 298.0])
    return spectra.uv_index(nm, np.full(3, erythemal))  # one nanometre wide


def weight_ratio(over: str, under: str, wavelength: list[float]) -> Any:
    return getattr(spectra, over)(wavelength) / getattr(spectra, under)(wavelength)


def monochromatic_limit(wavelength: list[float]) -> Any:
    return spectra.ACTINIC_LIMIT / spectra.actinic_weight(wavelength)


def photopic_integral() -> float:
    nm = np.arange(360.0, 831.0)
    return spectra.integrate(nm, np.ones_like(nm), 360.0, 830.0, spectra.photopic_weight)


def line_lumens(wavelength: float) -> float:
    """Lumens of one watt in a line a hundredth of a nanometre wide."""
    nm = wavelength + np.array([-0.005, 0.0, 0.005])
    return spectra.quantity(nm, np.array([0.0, 200.0, 0.0]), "lux")


def black_efficacy(temperature: float) -> float:
    body = lamp_spectra.planck(GRID, temperature)
    return spectra.quantity(GRID, body, "lux") / spectra.integrate(GRID, body, 200.0, 20_000.0)


def black_lux_per_ppfd(temperature: float) -> float:
    body = lamp_spectra.planck(GRID, temperature)
    return spectra.quantity(GRID, body, "lux") / spectra.quantity(GRID, body, "ppfd")


def black_photons_per_joule(temperature: float) -> float:
    body = lamp_spectra.planck(GRID, temperature)
    return spectra.quantity(GRID, body, "ppfd") / spectra.integrate(GRID, body, 400.0, 700.0)


def black_share(temperature: float, low: float, high: float) -> float:
    body = lamp_spectra.planck(GRID, temperature)
    whole = spectra.integrate(GRID, body, 200.0, 20_000.0)
    return spectra.integrate(GRID, body, low, high) / whole


def black_shares(temperature: float) -> list[float]:
    edges = [(200, 400), (315, 400), (280, 315), (400, 700), (380, 780), (700, 1400)]
    return [black_share(temperature, *e) for e in [*edges, (1400, 3000), (3000, 20_000)]]


def black_fractions(products: list[float]) -> list[float]:
    return [lamp_spectra.blackbody_fraction(p) for p in products]


def black_peak(temperature: float) -> float:
    """Wavelength of the strongest emission [um], found on a fine grid."""
    nm = np.linspace(500.0, 5000.0, 450_001)
    return float(nm[np.argmax(lamp_spectra.planck(nm, temperature))]) / 1000.0


def black_exitance(temperature: float) -> float:
    nm = np.geomspace(100.0, 1e6, 20_000)
    return float(np.trapezoid(lamp_spectra.planck(nm, temperature), nm))


def catalogue_lux_per_ppfd(key: str) -> float:
    made = load_catalogue().spectra[key]
    lux = spectra.quantity(made.wavelength, made.power, "lux")
    return lux / spectra.quantity(made.wavelength, made.power, "ppfd")


def catalogue_uvb_per_uvi(key: str) -> float:
    made = load_catalogue().spectra[key]
    return spectra.uvb_per_uvi(made.wavelength, made.power)


def catalogue_lumens(key: str) -> float:
    lamp = load_catalogue().lamps[key]
    pairs = zip(lamp.band_watts, lamp.per_watt["lux"], strict=True)
    return sum(watts * lux for watts, lux in pairs)
