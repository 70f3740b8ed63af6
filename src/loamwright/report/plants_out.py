"""Plants for the machine: the ``plants`` document, its schema, and rows of CSV."""

from __future__ import annotations

import csv
import io
from typing import Any

from loamwright.engine.life.plants_findings import settle_days
from loamwright.engine.life.plants_year import (
    DAYS,
    Planting,
    PlantYear,
    latest_planted,
    least_light,
    lit_time,
)
from loamwright.habitat.habitat import Habitat
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.plain import clean
from loamwright.report.plants_blocks import plan_rows

VERSION = 1
"""Version of the ``plants`` document; it rises when something a script may rely on changes."""

WAYS = ("slow", "middle", "quick")


def plants_document(habitat: Habitat, planting: Planting) -> dict[str, Any]:
    """The ``plants`` document; growth null where too little is known of a plant."""
    lit = lit_time(habitat, "middle")
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "days": list(range(DAYS + 1)),
        "plants": {
            p.name: {
                "species": p.type.key,
                "dli_mol_m2_d": planting.light.get(p.name),
                "dli_needed_mol_m2_d": least_light(p.type, lit),
                "air_c": None if p.name not in planting.warmth
                else [finite(t - 273.15) for t in planting.warmth[p.name]],
                "bears_animals_after_d": settle_days(p, latest_planted(habitat.plants)),
                "not_known": planting.unknown.get(p.name, ""),
                "growth": None if p.name in planting.unknown
                else _growth([y[p.name] for y in planting.years]),
            }
            for p in habitat.plants
        },
        "plan": [
            {"what": label, "plants": count, "floor_share": finite(covered),
             "close_a_m2_as_planted": now, "close_a_m2_when_grown": grown}
            for label, count, covered, now, grown in plan_rows(habitat)
        ],
    }  # fmt: skip


def _growth(years: list[PlantYear]) -> dict[str, Any]:
    middle = years[1]
    return {
        "room_m": finite(middle.room),
        "height_after_a_year_m": dict(
            zip(WAYS, (finite(float(y.height[-1])) for y in years), strict=True)
        ),
        "prune_on_d": list(middle.pruned),
        "height_m": [finite(round(float(v), 4)) for v in middle.height],
        "spread_m": [finite(round(float(v), 4)) for v in middle.spread],
        "light_mol_m2_d": [finite(round(float(v), 4)) for v in middle.light],
        "shaded_by": dict(middle.shaded),
    }


def plants_csv(planting: Planting) -> str:
    """Height, spread and light of each plant by day as CSV (RFC 4180)."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    years = list(planting.middle.values())
    columns = ("height [m]", "spread [m]", "light [mol/(m2 d)]")
    heads = [f"{clean(y.name)} {what}" for y in years for what in columns]
    write.writerow(["day", *heads])
    for day in range(DAYS + 1):
        write.writerow([day, *(f"{values[day]:.4f}" for y in years
                               for values in (y.height, y.spread, y.light))])  # fmt: skip
    return out.getvalue()


def plants_schema() -> dict[str, Any]:
    """JSON Schema of the ``plants`` document."""
    number = {"type": ["number", "null"]}
    numbers = {"type": "array", "items": number}
    text, whole = {"type": "string"}, {"type": "integer"}
    growth = object_schema(
        {
            "room_m": number,
            "height_after_a_year_m": object_schema(dict.fromkeys(WAYS, number)),
            "prune_on_d": {"type": "array", "items": whole},
            "height_m": numbers,
            "spread_m": numbers,
            "light_mol_m2_d": numbers,
            "shaded_by": {"type": "object", "additionalProperties": number},
        }
    )
    plant = object_schema(
        {
            "species": text,
            "dli_mol_m2_d": number,
            "dli_needed_mol_m2_d": number,
            "air_c": {"anyOf": [{"type": "null"}, numbers]},
            "bears_animals_after_d": number,
            "not_known": text,
            "growth": {"anyOf": [{"type": "null"}, growth]},
        }
    )
    plan = object_schema(
        {
            "what": text,
            "plants": whole,
            "floor_share": number,
            "close_a_m2_as_planted": number,
            "close_a_m2_when_grown": number,
        }
    )
    return document_schema(
        "loamwright plants",
        {
            "version": {"const": VERSION},
            "habitat": text,
            "days": {"type": "array", "items": whole},
            "plants": {"type": "object", "additionalProperties": plant},
            "plan": {"type": "array", "items": plan},
        },
    )
