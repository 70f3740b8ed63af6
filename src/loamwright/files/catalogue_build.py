"""Checked values to the frozen entries of the catalogue, group by group."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from loamwright.files.catalogue_read import Parsed
from loamwright.files.document import suggest
from loamwright.habitat.air import FanType, FilterType
from loamwright.habitat.bands import BANDS, OPTICS, OPTICS_OF_BAND
from loamwright.habitat.catalogue import (
    Cover,
    LampType,
    Material,
    PlantType,
    Species,
)
from loamwright.habitat.decomposers import DecomposerType
from loamwright.habitat.media import Component, Medium, Mix
from loamwright.habitat.misting import NozzleType
from loamwright.habitat.sources import Source, SourceKind

if TYPE_CHECKING:
    from loamwright.files.catalogue_spectra import Light

NOT_GIVEN = Source("not given in the catalogue; a general default", SourceKind.COMMON_PRACTICE)
"""The source of a field an entry leaves out."""


class WrongError(Exception):
    """A value that does not go with the others: the field and what is wrong."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


class Related:
    """Where a builder looks up the entries of other groups that an entry names."""

    def __init__(
        self,
        material: Callable[[str], Material],
        light: Callable[[str], Light],
        medium: Callable[[str], Medium],
        component: Callable[[str], Component],
        keys: Callable[[str], list[str]],
    ) -> None:
        self.material = material
        self.light = light
        self.medium = medium
        self.component = component
        self.keys = keys


def build(group: str, entry: Parsed, related: Related) -> Any:
    """The entry of a group; `WrongError` where its values do not go together."""
    sources = {"*": NOT_GIVEN, **entry.sources}
    makers: Mapping[str, Callable[[Parsed, dict[str, Source], Related], Any]] = {
        "materials": _material,
        "covers": _cover,
        "spectra": _spectrum,
        "lamps": _lamp,
        "plants": lambda e, s, _: PlantType(e.key, e.label, s, **e.values),
        "animals": _animal,
        "fans": _fan,
        "nozzles": _nozzle,
        "filters": _filter,
        "media": _medium,
        "components": _component,
        "mixes": _mix,
        "decomposers": _decomposer,
    }
    return makers[group](entry, sources, related)


def _material(entry: Parsed, sources: dict[str, Source], _: Related) -> Material:
    made = Material(entry.key, entry.label, sources, **entry.values)
    if made.clear and "transmit" not in entry.values:
        raise WrongError("clear", f"a clear material needs transmit for {', '.join(BANDS)}")
    if not made.clear and "transmit" in entry.values:
        raise WrongError("transmit", "only a clear material lets light through; add clear: true")
    reflect = (made.reflect_uv, made.reflect_par, made.reflect_nir)
    for band, through, optic in zip(BANDS, made.transmit, OPTICS_OF_BAND, strict=True):
        if optic >= 0 and through + reflect[optic] > 1.0 + 1e-9:
            raise WrongError(
                "transmit",
                f"lets through {through:g} of {band} and reflects {reflect[optic]:g} "
                f"(reflect_{OPTICS[optic]}): together more than falls on it",
            )
    return made


def _cover(entry: Parsed, sources: dict[str, Source], related: Related) -> Cover:
    values = dict(entry.values)
    name = values.pop("sheet", None)
    kind, pitch, wire = values["kind"], values.get("pitch", 0.0), values.get("wire", 0.0)
    if kind == "mesh":
        if not pitch > 0.0 or not wire > 0.0:
            raise WrongError("kind", "a mesh needs pitch and wire, both above 0 mm")
        if wire >= pitch:
            raise WrongError("wire", "the wire is as thick as the pitch: nothing passes")
    if (kind == "sheet") != (name is not None):
        raise WrongError("sheet", "a sheet names its clear material, and only a sheet does")
    sheet = None
    if name is not None:
        try:
            sheet = related.material(name)
        except KeyError:
            known = suggest(name, related.keys("materials"))
            raise WrongError("sheet", f"there is no material {name!r}; {known}") from None
        if not sheet.clear:
            raise WrongError("sheet", f"{name} is not a clear material")
    return Cover(entry.key, entry.label, sources, sheet=sheet, **values)


def _spectrum(entry: Parsed, sources: dict[str, Source], _: Related) -> Light:
    # Here and not above: numpy is not needed to name a plant.
    from loamwright.files.catalogue_spectra import build_light

    try:
        return build_light(entry, sources)
    except ValueError as error:
        raise WrongError("", str(error)) from None


def _animal(entry: Parsed, sources: dict[str, Source], _: Related) -> Species:
    return Species(entry.key, entry.label, sources, **entry.values)


_NEEDED = {
    "tube": ("length", "diameter"),
    "bar": ("length", "width"),
    "spot": ("diameter", "beam_angle"),
}


def _lamp(entry: Parsed, sources: dict[str, Source], related: Related) -> LampType:
    from loamwright.files.catalogue_spectra import combine

    values = dict(entry.values)
    for name in _NEEDED[values["shape"]]:
        if not values.get(name, 0.0) > 0.0:
            raise WrongError(name, f"a lamp of shape {values['shape']} needs {name} above zero")
    beam, wide = values.pop("radiant"), values.pop("wide", {})
    if math.fsum(wide.values()) > 0.0 and values["shape"] != "spot":
        message = "only a spot has a beam beside which light leaves wide; add it to radiant"
        raise WrongError("wide", message)
    lights = {}
    for field, given in (("radiant", beam), ("wide", wide)):
        for name in given:
            try:
                lights[name] = related.light(name)
            except KeyError:
                known = suggest(name, related.keys("spectra"))
                raise WrongError(field, f"there is no spectrum {name!r}; {known}") from None
    watts = [(beam.get(n, 0.0) + wide.get(n, 0.0), one) for n, one in lights.items()]
    light, bands = combine(entry.key, [pair for pair in watts if pair[0] > 0.0])
    if math.fsum(bands) > values["power"] * (1.0 + 1e-9):
        raise WrongError(
            "radiant",
            f"{math.fsum(bands):.4g} W of radiation leave a lamp that draws {values['power']:g} W",
        )
    if ("life" in values) != ("end_share" in values):
        raise WrongError("life", "life and end_share go together: the share left after that time")
    if "life" in values:
        values["life"] = values["life"] / 3600.0
        if not values["life"] > 0.0 or not values["end_share"] > 0.0:
            raise WrongError("life", "life and end_share must be above zero")
    if wide:
        in_beam = [math.fsum(w * lights[n].shares[k] for n, w in beam.items()) for k in range(5)]
        # Rounded, so that bands of one spectrum have one share to the last digit.
        values["beam_share"] = tuple(
            round(part / whole, 9) if whole > 0.0 else 1.0
            for part, whole in zip(in_beam, bands, strict=True)
        )
        sources["beam_share"] = sources["wide"]
    sources["band_watts"] = sources["radiant"]
    sources["per_watt"] = light.source
    return LampType(
        entry.key,
        entry.label,
        sources,
        band_watts=bands,
        per_watt=light.per_watt,
        spectrum=light.spectrum,
        **values,
    )


def _above_zero(entry: Parsed, *names: str) -> None:
    for name in names:
        if not entry.values[name] > 0.0:
            raise WrongError(name, "must be above zero")


def _fan(entry: Parsed, sources: dict[str, Source], _: Related) -> FanType:
    _above_zero(entry, "diameter", "free_flow", "static_pressure")
    made = FanType(entry.key, entry.label, sources, **entry.values)
    points = [(0.0, made.static_pressure), *made.curve, (made.free_flow, 0.0)]
    for i, (before, here) in enumerate(pairwise(points)):
        if here[0] > before[0] and here[1] < before[1]:
            continue
        which = f"point {i + 1}" if i < len(made.curve) else "its last point"
        raise WrongError(
            "curve",
            f"{which} does not lie on the way down from static_pressure (no flow) to free_flow "
            "(no pressure): the flow must rise and the pressure fall from point to point; leave "
            "out the points of a dip",
        )
    return made


def _nozzle(entry: Parsed, sources: dict[str, Source], _: Related) -> NozzleType:
    _above_zero(entry, "flow", "cone", "drop")
    return NozzleType(entry.key, entry.label, sources, **entry.values)


def _filter(entry: Parsed, sources: dict[str, Source], _: Related) -> FilterType:
    _above_zero(entry, "pressure", "face_speed")
    return FilterType(entry.key, entry.label, sources, **entry.values)


def _medium(entry: Parsed, sources: dict[str, Source], _: Related) -> Medium:
    _above_zero(entry, "saturated", "air_entry", "hydraulic_conductivity")
    made = Medium(entry.key, entry.label, sources, **entry.values)
    if made.residual >= made.saturated:
        message = f"{made.residual:.4g} is not below saturated, {made.saturated:.4g}"
        raise WrongError("residual", message)
    if made.form == "cover" and made.holds is None:
        raise WrongError("form", "a cover needs holds: water over dry mass when all of it is wet")
    if made.form != "cover" and made.holds is not None:
        raise WrongError("holds", "belongs to a cover; ground holds water by its suction")
    dry, wet = made.heat_conductivity_dry, made.heat_conductivity_wet
    if (dry is None) != (wet is None):
        name = "heat_conductivity_wet" if wet is None else "heat_conductivity_dry"
        raise WrongError("", f"{name} is missing; dry and wet go together")
    if dry is not None and wet is not None and dry > wet:
        raise WrongError("heat_conductivity_dry", f"{dry:g} W/(m K) is more than wet, {wet:g}")
    return made


def _named_medium(entry: Parsed, related: Related) -> Medium | None:
    name = entry.values.get("medium")
    if name is None:
        return None
    try:
        return related.medium(name)
    except KeyError:
        known = suggest(name, related.keys("media"))
        raise WrongError("medium", f"there is no medium {name!r}; {known}") from None


def _mix(entry: Parsed, sources: dict[str, Source], related: Related) -> Mix:
    parts: list[tuple[Component, float]] = []
    for name, share in entry.values["parts"].items():
        try:
            parts.append((related.component(name), share))
        except KeyError:
            known = suggest(name, related.keys("components"))
            raise WrongError("parts", f"there is no component {name!r}; {known}") from None
    medium = _named_medium(entry, related)
    return Mix(entry.key, entry.label, sources, entry.values["use"], tuple(parts), medium)


def _component(entry: Parsed, sources: dict[str, Source], related: Related) -> Component:
    values = {**entry.values, "medium": _named_medium(entry, related)}
    made = Component(entry.key, entry.label, sources, **values)
    for name in ("dry_density", "moist_density"):
        if getattr(made, name) == (None, None):
            raise WrongError(name, "is not known at all; give its low end, its high end or both")
    dry, moist = made.dry_density[0], made.moist_density[1]
    if dry is not None and moist is not None and dry > moist:
        message = f"at most {moist:g} kg/m3, but the dry density is {dry:g} kg/m3 or more"
        raise WrongError("moist_density", message)
    held = (made.container_capacity[0] or 0.0) + (made.air_porosity[0] or 0.0)
    pores = made.porosity[1]
    if pores is not None and held > pores + 1e-9:
        raise WrongError(
            "porosity",
            f"{pores:.4g} of the volume are pores, but container_capacity and air_porosity "
            f"together fill at least {held:.4g}",
        )
    return made


def _decomposer(entry: Parsed, sources: dict[str, Source], _: Related) -> DecomposerType:
    made = DecomposerType(entry.key, entry.label, sources, **entry.values)
    low, high = made.temperature_low, made.temperature_high
    best = [x for x in made.temperature_best if x is not None]
    if low is not None and high is not None and low >= high:
        raise WrongError("temperature_low", "is not below temperature_high")
    if best and low is not None and min(best) <= low:
        raise WrongError("temperature_best", "must lie above temperature_low")
    if best and high is not None and max(best) >= high:
        raise WrongError("temperature_best", "must lie below temperature_high")
    if made.unknown:
        return made
    for name in ("body_mass", "egg_time", "grow_time", "young_a_year", "life", "survival"):
        if not getattr(made, name)[0] > 0.0:
            raise WrongError(name, "must be above zero")
    if not low < made.measured_at < high:  # type: ignore[operator]
        raise WrongError("measured_at", "must lie between temperature_low and temperature_high")
    if made.life[0] <= made.egg_time[1] + made.grow_time[1]:  # type: ignore[operator]
        raise WrongError("life", "ends before the animal has grown up: egg_time and grow_time")
    return made
