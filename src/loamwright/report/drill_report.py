"""Drills as tables and as a document for the machine."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from loamwright.engine.climate.drills import Crossing, Drill
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.climate_words import LIMITS, PROTECTIONS, fault_words
from loamwright.report.json_out import VERSION, finite
from loamwright.report.plain import clean

ZERO = 273.15


def _after(seconds: float) -> str:
    return quantities.duration(seconds) if math.isfinite(seconds) else "–"


def _degrees(value: float, system: str) -> str:
    return quantities.worded("temperature", value, system) if math.isfinite(value) else "–"


def drills_table(habitat: Habitat, drills: Sequence[Drill], system: str) -> Table:
    """One row a fault: when it becomes too much for whom, how far it goes, water and electricity."""
    labels = {g.species.key: g.species.label for g in habitat.animals}
    rows = []
    for drill in drills:
        first = drill.first
        limit = "no limit passed"
        if first is not None:
            who = clean(labels.get(first.limit.species, first.limit.species))
            what = LIMITS.get(first.limit.name, first.limit.name)
            limit = f"{who}: {what}, after {_after(first.time)}"
        rows.append(
            (
                fault_words(drill.key, drill.subject), drill.season, limit,
                _spot(drill.hottest, system), _spot(drill.coldest, system), _use(drill, system),
            )
        )  # fmt: skip
    return Table(
        "What fails, what follows in two days",
        ("fault", "season", "first limit passed", "hottest", "coldest", "water, electricity"),
        tuple(rows),
        note="" if rows else "Nothing of this habitat can fail in a way this program knows.",
    )


def _spot(found: tuple[float, str, float], system: str) -> str:
    value, site, hours = found
    return f"{_degrees(value, system)} {clean(site)}, {hours:.0f} h" if site else "–"


def _use(drill: Drill, system: str) -> str:
    parts = []
    if abs(drill.water - drill.water_usual) > 0.05:
        parts.append(
            f"{quantities.worded('water', drill.water, system)} (usual "
            f"{quantities.worded('water', drill.water_usual, system)})"
        )
    if abs(drill.electricity - drill.electricity_usual) > 3.6e4:
        parts.append(
            f"{quantities.worded('energy', drill.electricity, system)} (usual "
            f"{quantities.worded('energy', drill.electricity_usual, system)})"
        )
    return "; ".join(parts) or "as usual"


def limits_table(habitat: Habitat, drills: Sequence[Drill], system: str) -> Table:
    """Every limit each fault passes, with the furthest the best refuge goes, and what would help."""
    labels = {g.species.key: g.species.label for g in habitat.animals}
    rows = []
    for drill in drills:
        for found in drill.crossings:
            if not math.isfinite(found.time):
                continue
            again = next((p for p in drill.protected if p.limit == found.limit), None)
            rows.append(
                (
                    fault_words(drill.key, drill.subject),
                    f"{clean(labels.get(found.limit.species, ''))}: "
                    f"{LIMITS.get(found.limit.name, found.limit.name)} "
                    f"{_degrees(found.limit.value, system)}",
                    "without the fault too" if found.usual else _after(found.time),
                    f"{_degrees(found.peak, system)} {clean(found.site)}",
                    _protection(drill, again),
                )
            )  # fmt: skip
    return Table(
        "Limits passed",
        (
            "fault",
            "limit of its body in its best refuge",
            "after",
            "goes to",
            "would be prevented by",
        ),
        tuple(rows),
        note="" if rows else "No fault passes a limit that is known.",
    )


def _protection(drill: Drill, again: Crossing | None) -> str:
    if not drill.protection or drill.held is None:
        return "–"
    words = PROTECTIONS.get(drill.protection, drill.protection)
    if drill.held or (again is not None and not math.isfinite(again.time)):
        return words
    return f"not by {words}"


def unknown_limits(habitat: Habitat, drills: Sequence[Drill]) -> list[str]:
    """Residents of whom no limit is known, or whose body cannot be computed."""
    known = {c.limit.species for d in drills for c in d.crossings}
    return sorted({clean(g.species.label) for g in habitat.animals if g.species.key not in known})


def drill_document(habitat: Habitat, drills: Sequence[Drill]) -> dict[str, Any]:
    """The ``drill`` document: units in the keys, null where a limit is never passed."""
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "drills": [_one(d) for d in drills],
    }


def _one(drill: Drill) -> dict[str, Any]:
    return {
        "fault": drill.key,
        "subject": drill.subject,
        "season": drill.season,
        "begins_h": drill.begin / 60.0,
        "lasts_h": drill.lasts / 60.0,
        "limits": [_limit(c) for c in drill.crossings],
        "hottest": _place(drill.hottest),
        "coldest": _place(drill.coldest),
        "water_l": finite(drill.water),
        "water_usual_l": finite(drill.water_usual),
        "electricity_kwh": finite(drill.electricity / 3.6e6),
        "electricity_usual_kwh": finite(drill.electricity_usual / 3.6e6),
        "protection": drill.protection,
        "protection_holds": drill.held,
        "balance": {
            "energy_pct": finite(100.0 * drill.run.balance[0]),
            "water_pct": finite(100.0 * drill.run.balance[1]),
        },
    }


def _limit(found: Crossing) -> dict[str, Any]:
    return {
        "species": found.limit.species,
        "limit": found.limit.name,
        "kind": found.limit.kind,
        "limit_c": found.limit.value - ZERO,
        "after_h": finite(found.time / 3600.0),
        "usual": found.usual,
        "furthest_c": found.peak - ZERO,
        "site": found.site,
        "at_h": found.hours,
        "source": found.limit.source.text,
    }


def _place(found: tuple[float, str, float]) -> dict[str, Any]:
    value, site, hours = found
    return {"temperature_c": finite(value - ZERO), "site": site, "at_h": hours}


def drill_schema() -> dict[str, Any]:
    """JSON Schema of the ``drill`` document."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}

    def whole(properties: dict[str, Any], **more: Any) -> dict[str, Any]:
        return {"type": "object", "properties": properties, "required": list(properties),
                "additionalProperties": False, **more}  # fmt: skip

    place = whole({"temperature_c": number, "site": text, "at_h": number})
    limit = whole(
        {
            "species": text, "limit": text, "kind": {"enum": ["hot", "cold"]}, "limit_c": number,
            "after_h": number, "usual": {"type": "boolean"}, "furthest_c": number, "site": text,
            "at_h": number, "source": text,
        }
    )  # fmt: skip
    one = whole(
        {
            "fault": text, "subject": text, "season": text, "begins_h": number, "lasts_h": number,
            "limits": {"type": "array", "items": limit}, "hottest": place, "coldest": place,
            "water_l": number, "water_usual_l": number, "electricity_kwh": number,
            "electricity_usual_kwh": number, "protection": text,
            "protection_holds": {"type": ["boolean", "null"]},
            "balance": whole({"energy_pct": number, "water_pct": number}),
        }
    )  # fmt: skip
    return whole(
        {
            "version": {"const": VERSION}, "habitat": text,
            "drills": {"type": "array", "items": one},
        },
        **{"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "loamwright drill"},
    )  # fmt: skip


CAUTION = (
    "Animals differ and models err: keep spare lamps, a second thermometer with an alarm, and someone "
    "who can come. A veterinarian decides about an animal that was too hot or too cold."
)
"""Said under every table of drills."""
