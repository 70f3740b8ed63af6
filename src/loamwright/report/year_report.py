"""A year of the climate, month by month: tables and a document for the machine."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from loamwright.engine.climate.months import Month, months
from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.plain import clean

VERSION = 1
"""Version of the ``year`` document."""

NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

BAND_WORDS = {
    "air by day": "air by day outside its range",
    "air at night": "air at night outside its range",
    "humidity by day": "humidity by day outside its range",
    "humidity at night": "humidity at night outside its range",
    "cool shelter": "no shelter cool enough",
}


def year_tables(habitat: Habitat, run: ClimateRun, system: str) -> list[Table]:
    """Months with their air, humidity and use; then the hours in which needs are not met."""
    found = months(habitat, run)
    degree = "°F" if system == "us" else "°C"

    def t(value: float) -> str:
        return f"{quantities.shown('temperature', value, system):.1f}"

    rows = tuple(
        (
            NAMES[i], t(m.room), t(m.coldest), t(m.mean), t(m.warmest), f"{100 * m.driest:.0f}",
            f"{100 * m.humidity:.0f}", f"{m.electricity / 3.6e6:.0f}",
            quantities.worded("water", m.sprayed, system),
        )
        for i, m in enumerate(found)
    )  # fmt: skip
    whole = sum(m.electricity for m in found)
    water = sum(m.sprayed for m in found)
    first = Table(
        f"{clean(habitat.name)}: a year at the places animals use",
        (
            "month", f"room\n{degree}", "air\nleast", "mean", "most", "RH %\nleast", "mean", "kWh",
            "mist",
        ),
        rows,
        right=frozenset(range(1, 9)),
        note=f"Together {whole / 3.6e6:.0f} kWh and {quantities.worded('water', water, system)} of "
        "mist.",
    )  # fmt: skip
    labels = {g.species.key: clean(g.species.label) for g in habitat.animals}
    hours = []
    for number, month in enumerate(found):
        for (species, band), out in month.outside.items():
            if out >= 0.5:
                hours.append((NAMES[number], labels.get(species, species),
                              BAND_WORDS.get(band, band), f"{out:.0f}"))  # fmt: skip
    second = Table(
        "Hours outside what is asked for",
        ("month", "animal", "need", "hours"),
        tuple(hours),
        right=frozenset({3}),
        note="" if hours else "None of the needs that are known.",
    )
    return [first, second]


def year_document(habitat: Habitat, run: ClimateRun) -> dict[str, Any]:
    """The ``year`` document: one entry a month, units in the keys."""
    heat, water = run.balance
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "months": [_month(m) for m in months(habitat, run)],
        "electricity_kwh": finite(run.electricity / 3.6e6),
        "water_l": {k: finite(v) for k, v in run.water.items()},
        "balance": {"energy_pct": finite(100 * heat), "water_pct": finite(100 * water)},
    }


def _month(month: Month) -> dict[str, Any]:
    return {
        "room_c": _celsius(month.room),
        "air_least_c": _celsius(month.coldest),
        "air_mean_c": _celsius(month.mean),
        "air_most_c": _celsius(month.warmest),
        "rh_least_pct": finite(100 * month.driest),
        "rh_mean_pct": finite(100 * month.humidity),
        "electricity_kwh": finite(month.electricity / 3.6e6),
        "mist_l": finite(month.sprayed),
        "hours_outside": [
            {"species": species, "need": need, "hours": finite(hours)}
            for (species, need), hours in month.outside.items()
        ],
    }


def _celsius(value: float) -> float | None:
    return finite(round(value - 273.15, 3)) if np.isfinite(value) else None


def year_schema() -> dict[str, Any]:
    """JSON Schema of the ``year`` document."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    outside = object_schema({"species": text, "need": text, "hours": number})
    keys: Sequence[str] = (
        "room_c", "air_least_c", "air_mean_c", "air_most_c", "rh_least_pct", "rh_mean_pct",
        "electricity_kwh", "mist_l",
    )  # fmt: skip
    month = object_schema(
        dict.fromkeys(keys, number) | {"hours_outside": {"type": "array", "items": outside}}
    )
    return document_schema(
        "year",
        {
            "version": {"const": VERSION}, "habitat": text,
            "months": {"type": "array", "items": month, "minItems": 12, "maxItems": 12},
            "electricity_kwh": number,
            "water_l": {"type": "object", "additionalProperties": number},
            "balance": object_schema({"energy_pct": number, "water_pct": number}),
        },
    )  # fmt: skip
