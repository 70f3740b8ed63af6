"""A typical day for the machine: rows of CSV, the ``day`` document and its schema."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Any

import numpy as np

from loamwright.engine.climate import sums
from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.climate_words import clock
from loamwright.report.day_blocks import SEASONS, WAYS
from loamwright.report.figure import FORMATS
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.plain import clean

VERSION = 1
"""Version of the ``day`` document; it rises when something a script may rely on changes."""

_ZERO = 273.15


def picture_kind(name: str) -> str:
    """Kind of picture a file's name asks for: ``png`` or ``svg``, empty for any other."""
    ending = name.lower().rpartition(".")[2]
    return ending if ending in FORMATS and "." in name else ""


# -- CSV -----------------------------------------------------------------------------------------


def day_csv(habitat: Habitat, runs: Sequence[ClimateRun], system: str) -> str:
    """Every row of the runs of one habitat as CSV (RFC 4180), units in the header.

    What is not known is an empty field. A name from the file never begins a field, so that no
    spreadsheet takes it for a formula.
    """
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    for number, run in enumerate(runs):
        columns = _columns(run, system)
        if number == 0:
            write.writerow(["season", "clock", "hour", *(name for name, _, _ in columns)])
        for row, hour in enumerate(run.hours):
            fields = [_field(values[row], digits) for _, values, digits in columns]
            write.writerow([clean(run.season), clock(run.clock[row]), f"{hour:.4f}", *fields])
    return out.getvalue()


def _columns(run: ClimateRun, system: str) -> list[tuple[str, Any, int]]:
    """Header, values (R,) and decimals of each column after the time."""
    degree = "degF" if system == "us" else "degC"

    def kelvin(words: str, values: Any) -> tuple[str, Any, int]:
        return f"{words} [{degree}]", quantities.shown_all("temperature", values, system), 2

    out = [kelvin("air: room", run.room), ("humidity: room [%]", 100 * run.room_humidity, 1)]
    for number, site in enumerate(run.sites):
        name = clean(site)
        out.append(kelvin(f"air: {name}", run.air[:, number]))
        out.append((f"humidity: {name} [%]", 100 * run.humidity[:, number], 1))
        out.append(kelvin(f"surface: {name}", run.surface[:, number]))
        for key, table in run.operative.items():
            out.append(kelvin(f"operative of {clean(key)}: {name}", table[:, number]))
    for number, lamp in enumerate(run.lamp_names):
        out.append((f"lamp: {clean(lamp)} [% of full]", 100 * run.lamps[:, number], 1))
    flow, size = ("cfm", 0.3048**3 / 60) if system == "us" else ("m3/h", 1 / 3600)
    for number, fan in enumerate(run.fan_names):
        out.append((f"fan: {clean(fan)} [% of full]", 100 * run.fans[:, number], 1))
        out.append((f"flow: {clean(fan)} [{flow}]", run.fan_flow[:, number] / size, 2))
    out.append(("mist: since the row before [s]", run.mist, 1))
    out.append(("air changes [1/h]", 3600 * sums.changes(run), 3))
    return out


def _field(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if np.isfinite(value) else ""


# -- JSON ----------------------------------------------------------------------------------------


def day_document(habitat: Habitat, run: ClimateRun) -> dict[str, Any]:
    """The ``day`` document: places by the full hour from 0 to 23, sums of the day, units in keys.

    ``operative_c`` is that of the first resident of which it is known; a body's temperature in free
    air is that of one that would hang there.
    """
    rows = [int(r) for r in run.rows_by_hour if run.hours[r] < 23.5]
    first = next((g.species.key for g in habitat.animals if g.species.key in run.operative), None)
    nothing: list[float | None] = [None] * len(rows)
    sites = {}
    for number, name in enumerate(run.sites):
        bodies = {k: _celsius(t[rows, number]) for k, t in run.operative.items()}
        sites[name] = {
            "air_c": _celsius(run.air[rows, number]),
            "rh_pct": _rounded(100 * run.humidity[rows, number]),
            "surface_c": _celsius(run.surface[rows, number]),
            "operative_c": nothing if first is None else bodies[first],
            "operative_by_species": bodies,
        }
    heat, water = run.balance
    changes = 3600 * sums.changes(run)
    lasts = sums.tank_time(habitat, run)
    wet = {p.side: sums.wet_time(run, p.side) for p in habitat.enclosure.panels}
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "season": run.season,
        "hours": [round(float(run.hours[r])) for r in rows],
        "room": {
            "air_c": _celsius(run.room[rows]),
            "rh_pct": _rounded(100 * run.room_humidity[rows]),
        },
        "sites": sites,
        "balance": {"energy_pct": finite(100 * heat), "water_pct": finite(100 * water)},
        "energy_kwh_d": _kwh(run.electricity),
        "energy_by_user_kwh_d": {name: _kwh(e) for name, e in run.energy.items()},
        "water_l_d": finite(run.water.get("mist", 0.0)),
        "water_by_way_l_d": {way: finite(run.water.get(way, 0.0)) for way in WAYS},
        "air_changes_h": finite(float(changes.mean())),
        "air_changes_by_hour_h": _rounded(changes[rows]),
        "wet_panels_h_d": {k: None if v is None else finite(v / 3600) for k, v in wet.items()},
        "tank_d": None if lasts is None else finite(lasts / 86400),
    }


def _celsius(kelvin: Any) -> list[float | None]:
    return _rounded(np.asarray(kelvin) - _ZERO)


def _rounded(values: Any) -> list[float | None]:
    """Values to a thousandth: far below what they mean, and readable."""
    return [None if x is None else round(x, 3) for x in (finite(float(v)) for v in values)]


def _kwh(joules: float) -> float | None:
    return finite(joules / 3.6e6)


def day_schema() -> dict[str, Any]:
    """JSON Schema of the ``day`` document."""
    number = {"type": ["number", "null"]}
    by_hour = {"type": "array", "items": number}
    named = {"type": "object", "additionalProperties": number}
    site = object_schema(
        {
            **dict.fromkeys(("air_c", "rh_pct", "surface_c", "operative_c"), by_hour),
            "operative_by_species": {"type": "object", "additionalProperties": by_hour},
        },
        additionalProperties=False,
    )
    return document_schema(
        "loamwright day",
        {
            "version": {"const": VERSION},
            "habitat": {"type": "string"},
            "season": {"enum": list(SEASONS)},
            "hours": {"type": "array", "items": {"type": "integer"}},
            "room": object_schema({"air_c": by_hour, "rh_pct": by_hour}),
            "sites": {"type": "object", "additionalProperties": site},
            "balance": object_schema({"energy_pct": number, "water_pct": number}),
            "energy_kwh_d": number,
            "energy_by_user_kwh_d": named,
            "water_l_d": number,
            "water_by_way_l_d": object_schema(dict.fromkeys(WAYS, number)),
            "air_changes_h": number,
            "air_changes_by_hour_h": by_hour,
            "wet_panels_h_d": named,
            "tank_d": number,
        },
    )
