"""The JSON Schemas of all commands' documents."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from loamwright.report.animals_out import animals_schema
from loamwright.report.day_out import day_schema
from loamwright.report.decomposers_out import decomposers_schema
from loamwright.report.drill_report import drill_schema
from loamwright.report.ground_out import ground_schema
from loamwright.report.json_out import check_schema, light_schema
from loamwright.report.plants_out import plants_schema
from loamwright.report.strength_out import strength_schema
from loamwright.report.wiring_out import wiring_schema
from loamwright.report.year_report import year_schema

SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {
    "check": check_schema,
    "light": light_schema,
    "day": day_schema,
    "year": year_schema,
    "drill": drill_schema,
    "ground": ground_schema,
    "animals": animals_schema,
    "decomposers": decomposers_schema,
    "plants": plants_schema,
    "strength": strength_schema,
    "wiring": wiring_schema,
}
"""What makes the schema of each command's document."""
