"""Spectra of the catalogue: built from parts or from a table, with what a watt of each is worth."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.files.catalogue_read import Parsed
from loamwright.habitat.bands import BAND_EDGES_NM
from loamwright.habitat.catalogue import Spectrum
from loamwright.habitat.sources import Source
from loamwright.physics.lamp_spectra import gaussian_band, glass_edge, planck, tungsten
from loamwright.physics.spectra import band_shares, integrate, mix, per_watt

Array = NDArray[np.float64]
Five = tuple[float, float, float, float, float]

LINE_HALF_WIDTH = 1.0
"""Half the foot of the triangle a line is drawn as [nm]; weights hardly change across it."""

EDGE = 0.01
"""Steepness of a glass edge where none is given, as a share of its wavelength."""

_ULTRAVIOLET = np.arange(250.0, 400.0, 1.0)
_VISIBLE = np.arange(400.0, 782.0, 2.0)
_INFRARED = np.geomspace(790.0, 50_000.0, 240)


@dataclass(frozen=True, slots=True)
class Light:
    """A spectrum with its shares [1] in the bands and its worth per watt in each."""

    spectrum: Spectrum
    shares: Five
    per_watt: Mapping[str, Five]

    @property
    def source(self) -> Source:
        """The source of the spectrum's shape."""
        return self.spectrum.source_of("power")


def build_light(entry: Parsed, sources: Mapping[str, Source]) -> Light:
    """A spectrum ready for use; ValueError says what is wrong with the whole."""
    values = entry.values
    if ("parts" in values) == ("power" in values):
        raise ValueError("a spectrum is given either by parts or by wavelength and power")
    nm, power = from_parts(values) if "parts" in values else from_table(values)
    if "wavelength" not in sources and "parts" in sources:
        sources = {**sources, "wavelength": sources["parts"], "power": sources["parts"]}
    spectrum = Spectrum(entry.key, entry.label, sources, tuple(nm.tolist()), tuple(power.tolist()))
    return Light(
        spectrum, band_shares(nm, power, BAND_EDGES_NM), per_watt(nm, power, BAND_EDGES_NM)
    )


def from_table(values: Mapping[str, Any]) -> tuple[Array, Array]:
    """A measured or published table."""
    if "wavelength" not in values:
        raise ValueError("power needs wavelength beside it, in nanometres")
    nm, power = np.array(values["wavelength"]), np.array(values["power"])
    if len(nm) != len(power):
        raise ValueError(f"wavelength has {len(nm)} numbers, but power has {len(power)}")
    if np.any(np.diff(nm) <= 0.0):
        raise ValueError("wavelength does not rise from each number to the next")
    return _normal(nm, power)


def from_parts(values: Mapping[str, Any]) -> tuple[Array, Array]:
    """A sum of bands, lines and hot bodies, seen through the lamp's glass.

    Shares are those of the radiant power before the glass takes its part.
    """
    parts = values["parts"]
    hot = any("black" in p or "tungsten" in p for p in parts)
    wide = max((p["band"] + 2.5 * p["width"] for p in parts if "band" in p), default=0.0)
    pieces = [_ULTRAVIOLET, _VISIBLE]
    if hot or wide > 780.0:
        pieces.append(_INFRARED if hot else _INFRARED[wide > _INFRARED])
    for part in parts:
        if "line" in part:
            pieces.append(part["line"] + LINE_HALF_WIDTH * np.array([-1.0, 0.0, 1.0]))
    nm = np.unique(np.concatenate(pieces))
    power = np.zeros_like(nm)
    for part in parts:
        power += part["share"] * _shape(part, nm)
    for name, sign in (("clear", 1.0), ("opaque", -1.0)):
        edge = values.get(f"{name}_from")
        if edge is not None:
            power = power * glass_edge(nm, edge, sign * values.get(f"{name}_width", EDGE * edge))
    return _normal(nm, power)


def _shape(part: Mapping[str, float], nm: Array) -> Array:
    """One part at unit power."""
    if "band" in part:
        return gaussian_band(nm, part["band"], part["width"])
    if "line" in part:
        away = np.abs(nm - part["line"]) / LINE_HALF_WIDTH
        return np.clip(1.0 - away, 0.0, None) / LINE_HALF_WIDTH
    body = planck(nm, part["black"]) if "black" in part else tungsten(nm, part["tungsten"])
    return body / np.trapezoid(body, nm)


def _normal(nm: Array, power: Array) -> tuple[Array, Array]:
    """Scaled to one watt within the bands."""
    whole = integrate(nm, power, BAND_EDGES_NM[0][0], BAND_EDGES_NM[-1][1])
    if not whole > 0.0:
        raise ValueError("the spectrum holds no light between 250 nm and 50 um")
    return nm, power / whole


def combine(key: str, watts: Sequence[tuple[float, Light]]) -> tuple[Light, Five]:
    """The light of a lamp with one or more spectra in it, and its power in each band [W].

    Its source is that of the spectrum with most light: glass that is merely warm has none.
    """
    total, worth = mix([(w, light.shares, dict(light.per_watt)) for w, light in watts])
    if len(watts) == 1:
        return watts[0][1], total
    nm = np.unique(np.concatenate([np.array(light.spectrum.wavelength) for _, light in watts]))
    power = np.zeros_like(nm)
    for w, light in watts:
        power += w * np.interp(nm, light.spectrum.wavelength, light.spectrum.power, left=0, right=0)
    brightest = max(watts, key=lambda pair: pair[0] * (1.0 - pair[1].shares[-1]))[1]
    sources = dict(brightest.spectrum.sources)
    label = "; ".join(light.spectrum.label for _, light in watts)
    spectrum = Spectrum(key, label, sources, tuple(nm.tolist()), tuple(power.tolist()))
    all_watts = sum(total)
    a, b, c, d, e = (t / all_watts for t in total)
    return Light(spectrum, (a, b, c, d, e), worth), total
