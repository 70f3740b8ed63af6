"""Drills as tables and as a document for the machine."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.climate_words import LIMITS, PROTECTIONS, fault_words
from loamwright.report.json_out import VERSION, finite
from loamwright.report.plain import clean
from loamwright.report.system_words import in_system

if TYPE_CHECKING:
    from loamwright.engine.climate.drills import Crossing, Drill

ZERO = 273.15


def _after(seconds: float) -> str:
    return quantities.duration(seconds) if math.isfinite(seconds) else "–"


def _degrees(value: float, system: str) -> str:
    return quantities.worded("temperature", value, system) if math.isfinite(value) else "–"


@dataclass(frozen=True, slots=True)
class Told:
    """One drill in words: a heading, whether a limit is passed, and labelled lines."""

    heading: str
    passed: bool
    lines: tuple[tuple[str, str], ...]


def told(habitat: Habitat, drill: Drill, system: str) -> Told:
    """What fails, what follows: limits passed and when, extremes, water and electricity."""
    lines = [("passes", line) for line in _limits_passed(habitat, drill, system)]
    lines.append(("hottest", _spot(drill.hottest, system)))
    lines.append(("coldest", _spot(drill.coldest, system)))
    use = _use(drill, system)
    if use:
        lines.append(("uses", use))
    if drill.held is not None:
        words = in_system(PROTECTIONS.get(drill.protection, drill.protection), system)
        verb = "would keep every limit" if drill.held else "would not be enough"
        lines.append(("tried", f"{words} {verb}"))
    elif drill.protection == "own-cut-out":
        lines.append(("kept by", PROTECTIONS["own-cut-out"]))
    heading = f"{fault_words(drill.key, drill.subject)}, {drill.season}, {_span(drill)}"
    return Told(heading, drill.first is not None, tuple(lines))


def _span(drill: Drill) -> str:
    at = f"{drill.begin // 60:02d}:{drill.begin % 60:02d}"
    if drill.lasts < 2880:
        return f"from {at} for {quantities.duration(drill.lasts * 60.0)}"
    return f"from {at} on"


def _limits_passed(habitat: Habitat, drill: Drill, system: str) -> list[str]:
    labels = {g.species.key: clean(g.species.label) for g in habitat.animals}
    lines = []
    for found in sorted(drill.crossings, key=lambda c: c.time):
        if not math.isfinite(found.time):
            continue
        what = LIMITS.get(found.limit.name, found.limit.name.replace("_", " "))
        when = "as without the fault" if found.usual else f"after {_after(found.time)}"
        worded = quantities.percent if found.of == "humidity" else partial(_degrees, system=system)
        refuge = "the air of its best refuge" if found.of == "air" else "its best refuge"
        lines.append(
            f"{labels.get(found.limit.species, '')}: {what}, {worded(found.limit.value)}, {when}; "
            f"{refuge} goes to {worded(found.peak)} ({clean(found.site)})"
        )
    return lines or ["no limit that is known"]


def _spot(found: tuple[float, str, float], system: str) -> str:
    value, site, hours = found
    return (
        f"{_degrees(value, system)} at {clean(site)}, {hours:.0f} h after" if site else "not known"
    )


def _use(drill: Drill, system: str) -> str:
    parts = []
    if abs(drill.water - drill.water_usual) > 0.05:
        parts.append(
            f"{quantities.worded('water', drill.water, system)} of water instead of "
            f"{quantities.worded('water', drill.water_usual, system)}"
        )
    if abs(drill.electricity - drill.electricity_usual) > 3.6e4:
        parts.append(
            f"{quantities.worded('energy', drill.electricity, system)} instead of "
            f"{quantities.worded('energy', drill.electricity_usual, system)}"
        )
    return ", ".join(parts)


def unknown_limits(habitat: Habitat, drills: Sequence[Drill]) -> list[str]:
    """Residents of whom no limit is known, or no place."""
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
    damp = found.of == "humidity"
    return {
        "species": found.limit.species,
        "limit": found.limit.name,
        "kind": found.limit.kind,
        "of": found.of,
        "limit_c": None if damp else found.limit.value - ZERO,
        "limit_pct": 100.0 * found.limit.value if damp else None,
        "after_h": finite(found.time / 3600.0),
        "usual": found.usual,
        "furthest_c": None if damp else found.peak - ZERO,
        "furthest_pct": 100.0 * found.peak if damp else None,
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
            "species": text, "limit": text, "kind": {"enum": ["hot", "cold", "dry"]},
            "of": {"enum": ["body", "air", "humidity"]}, "limit_c": number, "limit_pct": number,
            "after_h": number, "usual": {"type": "boolean"}, "furthest_c": number,
            "furthest_pct": number, "site": text, "at_h": number, "source": text,
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


def drills_table(habitat: Habitat, drills: Sequence[Drill], system: str) -> Table:
    """Every fault with what follows, the one that harms first on top."""
    rows = []
    for drill in drills:
        made = told(habitat, drill, system)
        rows.append((made.heading, "; ".join(f"{what} {line}" for what, line in made.lines)))
    return Table("What fails, what follows", ("fault", "what follows"), tuple(rows))
