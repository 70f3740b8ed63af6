"""What a chart of a day marks as wanted: bands of temperature and humidity by place and hours.

The bands are those the findings hold values against: the catalogue's for each resident and plant,
the builder's own needs in their place.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.report import quantities
from loamwright.report.plain import clean

if TYPE_CHECKING:
    from numpy.typing import NDArray

Limits = tuple[float | None, float | None]

QUANTITY = {"air": "air_temperature", "surface": "surface_temperature",
            "body": "operative_temperature", "humidity": "humidity"}  # fmt: skip

DAY, NIGHT, ALWAYS = "day", "night", "always"


@dataclass(frozen=True, slots=True)
class Band:
    """``what`` is held (``air``, ``surface``, ``body``, ``humidity``) within ``limits`` in SI (None:
    open), when (``day``, ``night``, ``always``), and whose need it is."""

    what: str
    limits: Limits
    when: str
    about: str
    whose: str

    def words(self, system: str, *, named: bool) -> str:
        """``wanted surface 35.0 to 40.0 °C``, with the name of whose it is where there are several."""
        quantity = QUANTITY[self.what]
        low, high = ("" if x is None else quantities.worded(quantity, x, system)
                     for x in self.limits)  # fmt: skip
        # Whole degrees are shown whole: a band's name must be short.
        told = quantities.band(low, high).replace(".0 ", " ")
        what = "humidity" if self.what == "humidity" else self.what
        when = {DAY: "", NIGHT: " at night", ALWAYS: ""}[self.when]
        return f"wanted {what}{when} {told}" + (f" ({self.whose})" if named else "")


def rows_of(run: ClimateRun, when: str) -> NDArray[np.bool_]:
    """Rows of a run in which a band holds."""
    day = np.asarray(run.daytime, bool)
    if len(day) != len(run.hours):
        day = np.ones(len(run.hours), bool)
    return {DAY: day, NIGHT: ~day, ALWAYS: np.ones(len(day), bool)}[when]


def _species(habitat: Habitat, site: Site) -> list[Species]:
    """Residents a place is meant for, each once."""
    found = {g.species.key: g.species for g in habitat.animals}
    return [s for key, s in found.items() if not site.species or key in site.species]


def temperature_bands(habitat: Habitat, site: Site) -> list[Band]:
    """What is wanted of the temperatures at a place."""
    return [
        b for b in _own(habitat, site, _temperatures(habitat, site)) if b.limits != (None, None)
    ]


def humidity_bands(habitat: Habitat, site: Site) -> list[Band]:
    """What is wanted of the humidity at a place."""
    return [b for b in _own(habitat, site, _humidities(habitat, site)) if b.limits != (None, None)]


def _temperatures(habitat: Habitat, site: Site) -> Iterator[Band]:
    plant = next((p for p in habitat.plants if site.plant and p.name == site.plant), None)
    if plant is not None:
        yield Band("air", plant.type.temperature, ALWAYS, plant.name, clean(plant.name, 30))
        return
    for s in _species(habitat, site):
        label = clean(s.label, 30)
        if site.role == "basking":
            yield Band("surface", s.basking_surface, DAY, s.key, label)
            yield Band("body", (s.preferred_body[0], None), DAY, s.key, label)
        else:
            yield Band("air", (s.air_cool, s.air_warm), DAY, s.key, label)
        if site.role in ("hide", "retreat"):
            most = s.preferred_body[1] if s.voluntary_max is None else s.voluntary_max
            yield Band("body", (None, most), DAY, s.key, label)
        yield Band("air", s.night, NIGHT, s.key, label)


def _humidities(habitat: Habitat, site: Site) -> Iterator[Band]:
    plant = next((p for p in habitat.plants if site.plant and p.name == site.plant), None)
    if plant is not None:
        yield Band("humidity", (plant.type.humidity_min, None), ALWAYS, plant.name,
                   clean(plant.name, 30))  # fmt: skip
        return
    for s in _species(habitat, site):
        label = clean(s.label, 30)
        yield Band("humidity", s.humidity_day, DAY, s.key, label)
        yield Band("humidity", s.humidity_night, NIGHT, s.key, label)


def _own(habitat: Habitat, site: Site, bands: Iterator[Band]) -> list[Band]:
    """The builder's own needs in place of those of the same quantity, place and subject."""
    out = list(bands)
    for need in habitat.needs:
        here = need.site == site.name or (not need.site and bool(need.about))
        what = next((w for w, q in QUANTITY.items() if q == need.quantity), None)
        if what is None or not here:
            continue
        same = [i for i, b in enumerate(out) if b.what == what and need.about in ("", b.about)]
        for i in same:
            out[i] = replace(out[i], limits=(need.low, need.high))
        if not same and need.site == site.name:
            out.append(Band(what, (need.low, need.high), DAY, need.about, "your own need"))
    return out
