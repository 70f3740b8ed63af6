"""The catalogue as rows: what `list` and `show` print. Data only; nothing is drawn here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from loamwright.engine.light.ahead import value_ahead
from loamwright.habitat.air import FanType, FilterType
from loamwright.habitat.bands import BANDS
from loamwright.habitat.catalogue import Cover, LampType, Material, Spectrum
from loamwright.habitat.decomposers import DecomposerType
from loamwright.habitat.media import Component, Medium, Mix
from loamwright.habitat.misting import NozzleType
from loamwright.habitat.sources import Source, Sourced, SourceKind
from loamwright.units import show


@dataclass(frozen=True, slots=True)
class Listing:
    """A group as a table: column heads and one row of texts per entry."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One labelled value of an entry, where it comes from, and how far to trust that."""

    label: str
    value: str
    source: str
    kind: str

    @property
    def weak(self) -> bool:
        """True for numbers with no document behind them."""
        return self.kind in (SourceKind.COMMON_PRACTICE, SourceKind.FROM_MEMORY)


CALCULATED = Source("from the values above", SourceKind.CALCULATED)
"""The source of what is worked out here from an entry's own numbers."""

Kinds = tuple[tuple[str, str, str], ...]

_FIELDS: dict[str, Kinds] = {
    "materials": (
        ("reflect_uv", "reflects of ultraviolet", "ratio"),
        ("reflect_par", "reflects of plant light", "ratio"),
        ("reflect_nir", "reflects of near infrared", "ratio"),
        ("conductivity", "heat conductivity", "conductivity"),
        ("density", "density", "density"),
        ("heat_capacity", "heat capacity", "heat_capacity"),
        ("emissivity", "long-wave emissivity", "number"),
        ("young", "Young's modulus", "pressure"),
        ("poisson", "Poisson's ratio", "number"),
        ("creep", "share of its stiffness left under a load of years", "ratio"),
        ("strength", "bending stress it bears for years, safety in it", "pressure"),
    ),
    "covers": (
        ("pitch", "pitch", "length"),
        ("wire", "wire", "length"),
        ("reflect", "wire reflects", "ratio"),
    ),
    "spectra": (),
    "lamps": (
        ("power", "power drawn", "power"),
        ("length", "length", "length"),
        ("width", "width", "length"),
        ("diameter", "diameter", "length"),
        ("reflector_width", "mouth of the reflector", "length"),
        ("beam_angle", "beam angle, full, at half intensity", "angle"),
        ("spread", "standard uncertainty of the output", "ratio"),
        ("life", "hours until the share below is left", "hours"),
        ("end_share", "share of the output left then", "ratio"),
        ("min_distance", "least distance to anything alive", "length"),
    ),
    "plants": (
        ("latin", "species", "text"),
        ("form", "form", "text"),
        ("leaf_area_index", "leaf area per crown area", "number"),
        ("crown_base", "crown begins at this share of the height", "ratio"),
        ("absorb_uv", "leaf absorbs of ultraviolet", "ratio"),
        ("absorb_par", "leaf absorbs of plant light", "ratio"),
        ("absorb_nir", "leaf absorbs of near infrared", "ratio"),
        ("dli", "daily light", "dli"),
        ("lux", "illuminance", "lux"),
        ("temperature", "temperature", "temperature"),
        ("humidity_min", "least humidity", "share"),
        ("mature_height", "height when grown", "length"),
        ("mature_spread", "spread when grown", "length"),
        ("rooting_depth", "rooting depth", "length"),
        ("water", "water", "text"),
        ("growth", "growth", "text"),
        ("toxicity", "toxicity", "text"),
    ),
    "animals": (
        ("latin", "species", "text"),
        ("animal_class", "class", "text"),
        ("activity", "active", "text"),
        ("stratum", "lives", "text"),
        ("ferguson_zone", "Ferguson zone", "count"),
        ("body_length", "snout-vent length", "length"),
        ("mass", "mass", "mass"),
        ("preferred_body", "preferred body temperature", "temperature"),
        ("voluntary_max", "voluntary maximum", "temperature"),
        ("critical_max", "critical maximum", "temperature"),
        ("critical_min", "critical minimum", "temperature"),
        ("basking_surface", "basking surface", "temperature"),
        ("air_warm", "air, warm end", "temperature"),
        ("air_cool", "air, cool end", "temperature"),
        ("night", "night", "temperature"),
        ("humidity_day", "humidity by day", "share"),
        ("humidity_night", "humidity by night", "share"),
        ("group_max", "most in one group", "count"),
        ("sex_ratio", "males.females of a group", "text"),
        ("family", "family", "text"),
        ("length_max", "greatest snout-vent length", "length"),
        ("total_length", "greatest length with the tail", "length"),
        ("reproduction", "lays eggs or bears young", "text"),
        ("clutch", "eggs or young at a time", "number"),
        ("egg_site", "where it lays", "text"),
        ("incubation", "eggs take", "time"),
        ("incubation_temperature", "at", "temperature"),
    ),
    "fans": (
        ("diameter", "diameter", "length"),
        ("free_flow", "flow with nothing in the way", "flow"),
        ("static_pressure", "pressure with the way shut", "pressure"),
        ("power", "power drawn", "power"),
    ),
    "nozzles": (
        ("flow", "flow of water", "flow"),
        ("cone", "angle of the cone, full", "angle"),
        ("drop", "mean diameter of the drops", "length"),
        ("pressure", "pressure of the water it needs", "pressure"),
    ),
    "filters": (
        ("pressure", "pressure lost at the speed below", "pressure"),
        ("face_speed", "speed of the air before it", "speed"),
        ("exponent", "the loss grows with the speed to the power of", "number"),
    ),
    "media": (
        ("residual", "water left at great suction", "share"),
        ("saturated", "water when full", "share"),
        ("air_entry", "begins to drain at a suction of", "length"),
        ("n", "n, spread of the pore sizes", "number"),
        ("hydraulic_conductivity", "lets water through when full", "speed"),
        ("bend", "exponent for bent pores", "number"),
        ("air_entry_factor", "air-entry suction, factor either way", "number"),
        ("conductivity_factor", "water let through, factor either way", "number"),
        ("dry_density", "density, dry", "density"),
        ("holds", "water its leaves hold, by dry mass", "number"),
        ("heat_conductivity_dry", "heat conductivity, dry", "conductivity"),
        ("heat_conductivity_wet", "heat conductivity, full of water", "conductivity"),
        ("heat_capacity", "heat capacity of the dry mass", "heat_capacity"),
        ("carbon_nitrogen", "carbon to nitrogen", "number"),
    ),
    "components": (
        ("role", "what it is for", "text"),
        ("dry_density", "density, dry", "density"),
        ("moist_density", "density, moist", "density"),
        ("porosity", "pores", "share"),
        ("container_capacity", "water held after draining", "share"),
        ("air_porosity", "air left after draining", "share"),
        ("ph", "pH", "number"),
        ("shrink", "volume lost in a first year", "share"),
        ("grain", "size of grains", "length"),
    ),
    "mixes": (("use", "what it is for", "text"),),
    "decomposers": (
        ("latin", "species", "text"),
        ("kind", "kind", "text"),
        ("role", "what it does", "text"),
        ("sexes", "sexes", "text"),
        ("moisture", "ground", "text"),
        ("body_length", "length", "length"),
        ("body_mass", "mass", "mass"),
        ("temperature_low", "no growth below", "temperature"),
        ("temperature_best", "grows fastest at", "temperature"),
        ("temperature_high", "no growth above", "temperature"),
        ("measured_at", "times below are those at", "temperature"),
        ("egg_time", "egg to hatching", "time"),
        ("grow_time", "hatching to the first young", "time"),
        ("brood", "young at a time", "number"),
        ("young_a_year", "young of a female in a year at best", "number"),
        ("life", "life", "time"),
        ("survival", "share of the young that grow up", "share"),
        ("eats", "dry litter eaten in a day", "mass"),
        ("starter", "let in on a square metre", "number"),
        ("risk", "beware", "text"),
    ),
}

_HEADS: dict[str, tuple[str, ...]] = {
    "materials": ("material", "what it is", "UV", "plant light", "near infrared"),
    "covers": ("cover", "what it is", "lets through"),
    "spectra": ("spectrum", "what it is", "UVB", "UVA", "plant light", "infrared"),
    "lamps": ("lamp", "what it is", "power", "UVI at {}", "lumens", "plant light"),
    "plants": ("plant", "what it is", "species", "daily light"),
    "animals": ("animal", "what it is", "species", "zone", "basking surface"),
    "fans": ("fan", "what it is", "diameter", "free flow", "static pressure", "power"),
    "nozzles": ("nozzle", "what it is", "flow", "cone", "drops"),
    "filters": ("filter", "what it is", "pressure lost"),
    "media": ("medium", "what it is", "water when full", "begins to drain", "density, dry"),
    "components": ("component", "what it is", "what it is for", "density, moist"),
    "mixes": ("mix", "what it is", "parts by volume"),
    "decomposers": ("decomposer", "what it is", "ground", "followed"),
}


NEAR: dict[str, tuple[float, str]] = {"metric": (0.30, "30 cm"), "us": (0.3048, "12 in")}
"""Distance in front of a lamp at which tables say what it gives [m], and how it is written."""


def listing(group: str, entries: Mapping[str, Sourced], system: str = "metric") -> Listing:
    """One group as a table, in the order of the catalogue."""
    rows = tuple((key, entry.label, *_brief(entry, system)) for key, entry in entries.items())
    return Listing(tuple(head.format(NEAR[system][1]) for head in _HEADS[group]), rows)


def lines(group: str, entry: Sourced, system: str = "metric") -> list[Line]:
    """One entry as labelled lines with their sources; what is not known is said so."""
    out = []
    for name, label, kind in _FIELDS[group]:
        value = getattr(entry, name)
        if value in (None, "", (None, None)):
            out.append(Line(label, "not known", "", ""))
        elif not (value == 0.0 and kind in ("length", "angle")):
            out.append(_line(label, _text(value, kind, system), _source(entry, name)))
    return out + _derived(entry, system)


def _source(entry: Sourced, name: str) -> Source | None:
    return entry.sources.get(name) or entry.sources.get("*")


def _line(label: str, value: str, source: Source | None) -> Line:
    return Line(label, value, source.text if source else "", source.kind if source else "")


def _text(value: Any, kind: str, system: str) -> str:
    """A value, or a range, in words."""
    if isinstance(value, tuple):
        low, high = value
        if low == high:
            return _text(low, kind, system)
        if low is None or high is None:
            end = low if high is None else high
            return f"{'from' if high is None else 'up to'} {_text(end, kind, system)}"
        return f"{_text(low, kind, system)} to {_text(high, kind, system)}"
    if kind == "text":
        return str(value)
    if kind in ("count", "number"):
        return f"{value:g}"
    if kind == "hours":
        return f"{value:,.0f} h"
    return show(value, "share" if kind == "ratio" else kind, system)


def _brief(entry: Sourced, system: str) -> tuple[str, ...]:
    """The columns of an entry in its group's table, after key and label."""
    if isinstance(entry, Material):
        return tuple(
            show(v, "share") for v in (entry.reflect_uv, entry.reflect_par, entry.reflect_nir)
        )
    if isinstance(entry, Cover):
        return (_through(entry),)
    if isinstance(entry, Spectrum):
        uvb, uva, par, nir, fir = spectrum_shares(entry)
        return tuple(_percent(v) for v in (uvb, uva, par, nir + fir))
    if isinstance(entry, LampType):
        uvi = value_ahead(entry, "uvi", NEAR[system][0])
        lumens, photons = _amount(entry, "lux"), _amount(entry, "ppfd")
        return (
            show(entry.power, "power", system),
            f"{uvi:.1f}" if uvi >= 0.05 else "none",
            show(lumens, "luminous_flux", system) if lumens >= 1.0 else "none",
            f"{photons:.3g} µmol/s" if photons >= 0.1 else "none",
        )
    if isinstance(entry, FanType | NozzleType | FilterType):
        return _air_and_water(entry, system)
    if isinstance(entry, Medium):
        kinds = (("saturated", "share"), ("air_entry", "length"), ("dry_density", "density"))
        return tuple(_text(getattr(entry, name), kind, system) for name, kind in kinds)
    if isinstance(entry, Mix):
        return (_recipe(entry),)
    if isinstance(entry, DecomposerType):
        return (entry.moisture, "no" if entry.unknown else "yes")
    if isinstance(entry, Component):
        return (entry.role, _text(entry.moist_density, "density", system))
    columns = {"dli": "dli", "ferguson_zone": "count", "basking_surface": "temperature"}
    shown = [str(getattr(entry, "latin", ""))]
    for name, kind in columns.items():
        if hasattr(entry, name):
            value = getattr(entry, name)
            empty = value in (None, (None, None))
            shown.append("not known" if empty else _text(value, kind, system))
    return tuple(shown)


def _air_and_water(entry: FanType | NozzleType | FilterType, system: str) -> tuple[str, ...]:
    """The columns of a fan, a nozzle or a filter."""
    if isinstance(entry, FilterType):
        speed = show(entry.face_speed, "speed", system)
        return (f"{show(entry.pressure, 'pressure', system)} at {speed}",)
    group = "fans" if isinstance(entry, FanType) else "nozzles"
    fields = _FIELDS[group][: 4 if group == "fans" else 3]
    return tuple(_text(getattr(entry, name), kind, system) for name, _, kind in fields)


def _recipe(mix: Mix) -> str:
    return ", ".join(f"{parts:g} {component.key}" for component, parts in mix.parts)


def _through(cover: Cover) -> str:
    if cover.kind == "mesh":
        return show((1.0 - cover.wire / cover.pitch) ** 2, "share")
    return f"as {cover.sheet.label}" if cover.sheet else "all"


def _amount(lamp: LampType, quantity: str) -> float:
    """All of a quantity that leaves a lamp: lumens, or micromoles a second."""
    return sum(w * q for w, q in zip(lamp.band_watts, lamp.per_watt[quantity], strict=True))


_BAND_NAMES = {
    "uvb": "ultraviolet B (250-315 nm)",
    "uva": "ultraviolet A (315-400 nm)",
    "par": "plant light (400-700 nm)",
    "nir": "near infrared (700-3000 nm)",
    "fir": "thermal infrared (over 3000 nm)",
}


def _derived(entry: Sourced, system: str) -> list[Line]:
    """What follows from an entry's own numbers."""
    out: list[Line] = []
    if isinstance(entry, FanType):
        for flow, pressure in entry.curve:
            value = f"{show(pressure, 'pressure', system)} at {show(flow, 'flow', system)}"
            out.append(_line("point of its curve", value, _source(entry, "curve")))
    if isinstance(entry, Component) and entry.medium is not None:
        out.append(_line("holds water as", entry.medium.key, _source(entry, "medium")))
    if isinstance(entry, Mix):
        out.append(_line("parts by volume", _recipe(entry), _source(entry, "parts")))
    if isinstance(entry, Material) and entry.clear:
        source = _source(entry, "transmit")
        for band, share in zip(BANDS, entry.transmit, strict=True):
            out.append(_line(f"lets through {_BAND_NAMES[band]}", show(share, "share"), source))
        index = _source(entry, "refractive_index")
        out.append(_line("refractive index", f"{entry.refractive_index:g}", index))
    if isinstance(entry, Cover):
        out.append(_line("lets through at right angles", _through(entry), CALCULATED))
    if isinstance(entry, Spectrum):
        source = _source(entry, "power")
        for band, share in zip(BANDS, spectrum_shares(entry), strict=True):
            out.append(_line(f"share in {_BAND_NAMES[band]}", _percent(share), source))
        if spectrum_shares(entry)[0] > 0.001:
            out.append(_line(_RATIO, _uvb_per_uvi(entry), CALCULATED))
    if isinstance(entry, LampType):
        source = _source(entry, "band_watts")
        for band, watts in zip(BANDS, entry.band_watts, strict=True):
            out.append(_line(f"radiates {_BAND_NAMES[band]}", show(watts, "power"), source))
        if min(entry.beam_share) < 1.0:
            held = sum(w * s for w, s in zip(entry.band_watts, entry.beam_share, strict=True))
            wide = sum(entry.band_watts) - held
            out.append(_line("of it in the beam", show(held, "power"), source))
            beside = _source(entry, "beam_share")
            out.append(_line("of it wide, beside the beam", show(wide, "power"), beside))
        if entry.spectrum is not None:
            shape = _source(entry, "per_watt")
            out.append(_line("spectrum", entry.spectrum.label, shape))
        out.append(_line("light", show(_amount(entry, "lux"), "luminous_flux"), CALCULATED))
        photons = f"{_amount(entry, 'ppfd'):.3g} µmol/s"
        out.append(_line("plant light", photons, CALCULATED))
        rest = entry.power - sum(entry.band_watts)
        # What is left is often half way between two figures shown: last bits of a machine don't decide.
        rest = round(rest, 9)
        out.append(_line("warms the lamp and the air round it", show(rest, "power"), CALCULATED))
        out += _straight_ahead(entry, system)
        if entry.spectrum is not None and _amount(entry, "uvi") > 0.01:
            out.append(_line(_RATIO, _uvb_per_uvi(entry.spectrum), CALCULATED))
    return out


def _straight_ahead(lamp: LampType, system: str) -> list[Line]:
    """What a new lamp gives in front of its middle, nothing in the way."""
    far, written = NEAR[system]
    out: list[Line] = []
    if (uvi := value_ahead(lamp, "uvi", far)) >= 0.005:
        out.append(_line(f"UV index {written} ahead", f"{uvi:.2g}", CALCULATED))
    if (lux := value_ahead(lamp, "lux", far)) >= 1.0:
        out.append(_line(f"illuminance {written} ahead", show(lux, "lux", system), CALCULATED))
    heat = value_ahead(lamp, "radiant", far)
    out.append(_line(f"radiant heat {written} ahead", f"{heat:.3g} W/m²", CALCULATED))
    return out


_RATIO = "ultraviolet B (280-320 nm) per unit of UV index"


def _uvb_per_uvi(spectrum: Spectrum) -> str:
    from loamwright.physics.spectra import uvb_per_uvi

    return f"{uvb_per_uvi(spectrum.wavelength, spectrum.power):.3g} µW/cm²"


def _percent(share: float) -> str:
    """A share, without digits nobody can mean."""
    return show(share, "share") if share >= 0.0005 or share == 0.0 else "under 0.1 %"


def spectrum_shares(spectrum: Spectrum) -> tuple[float, ...]:
    """Shares of a spectrum's power in the bands."""
    from loamwright.physics.spectra import band_shares

    return band_shares(spectrum.wavelength, spectrum.power)
