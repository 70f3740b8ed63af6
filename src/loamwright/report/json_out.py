"""Results for the machine: the JSON documents of ``check`` and ``light``, and their schemas."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from loamwright.engine.findings import Cure, Finding, State, worst_first
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.needs import QUANTITIES
from loamwright.habitat.sources import SourceKind
from loamwright.report.blocks import SiteValues
from loamwright.report.words import FACINGS, word

VERSION = 1
"""Version of both documents; it rises when something a script may rely on changes."""

LIGHT_KEYS: dict[str, str] = {
    "uvi": "uvi",
    "uva": "uva_w_m2",
    "uvb": "uvb_w_m2",
    "ppfd": "ppfd_umol_m2_s",
    "lux": "lux",
    "radiant": "radiant_w_m2",
    "dli": "dli_mol_m2_d",
}
"""Quantity of the engine -> key in the ``light`` document, which ends in the unit."""


def finite(value: float | None) -> float | None:
    """A number JSON can hold: not-a-number and infinity become null."""
    return None if value is None or not math.isfinite(value) else float(value)


def check_document(
    habitat: Habitat,
    findings: Iterable[Finding],
    engines: Mapping[str, tuple[float, float]],
    system: str = "metric",
) -> dict[str, Any]:
    """The ``check`` document.

    ``engines`` maps an engine's name to (seconds taken, share its balance misses by). Numbers
    are in the SI unit each finding names; only the sentences follow ``system``.
    """
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "findings": [finding_document(f, habitat, system) for f in worst_first(list(findings))],
        "engines": {
            name: {"seconds": finite(seconds), "balance": finite(balance)}
            for name, (seconds, balance) in engines.items()
        },
    }


def finding_document(finding: Finding, habitat: Habitat, system: str) -> dict[str, Any]:
    """One finding as the documents hold it."""
    told = word(finding, habitat, system)
    return {
        "need": finding.need,
        "engine": finding.engine,
        "about": finding.about,
        "quantity": finding.quantity,
        "unit": QUANTITIES.get(finding.quantity, "1"),
        "value": finite(finding.value),
        "low": finite(finding.low),
        "high": finite(finding.high),
        "uncertainty": finite(finding.uncertainty),
        "margin": finite(finding.margin),
        "state": finding.state.value,
        "site": finding.site,
        "at_m": None if finding.at is None else [finite(x) for x in finding.at],
        "facing": finding.facing,
        "when": finding.when,
        "why": told.why,
        "advice": told.advice,
        "cure": None if finding.cure is None else _cure(finding.cure),
        "source": finding.source.text,
        "source_kind": finding.source.kind.value,
    }


def _cure(cure: Cure) -> dict[str, Any]:
    return {
        "kind": cure.kind,
        "subject": cure.subject,
        "to_m": None if cure.to is None else [finite(x) for x in cure.to],
        "share": finite(cure.value),
        "result": finite(cure.result),
    }


def light_document(habitat: Habitat, sites: Sequence[SiteValues]) -> dict[str, Any]:
    """The ``light`` document: for each site one block per facing, units in the keys."""
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "sites": {
            site.name: {
                facing: {
                    key: finite(site.values.get(facing, {}).get(quantity))
                    for quantity, key in LIGHT_KEYS.items()
                }
                for facing in FACINGS
            }
            for site in sites
        },
        "places": {
            site.name: {"at_m": [finite(x) for x in site.at], "role": site.role} for site in sites
        },
    }


def dump(document: Mapping[str, Any]) -> str:
    """The document as text: one object, a newline at the end, never ``NaN``."""
    return json.dumps(document, indent=2, allow_nan=False) + "\n"


_NUMBER = {"type": ["number", "null"]}
_TEXT = {"type": "string"}
_PLACE = {"type": ["array", "null"], "items": _NUMBER, "minItems": 3, "maxItems": 3}
_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def object_schema(properties: dict[str, Any], **more: Any) -> dict[str, Any]:
    """Schema of an object in which every listed key is there."""
    return {"type": "object", "properties": properties, "required": list(properties), **more}


def document_schema(title: str, properties: dict[str, Any]) -> dict[str, Any]:
    """Schema of a whole document."""
    return {"$schema": _DIALECT, "title": title, **object_schema(properties)}


def finding_schema() -> dict[str, Any]:
    """JSON Schema of one finding."""
    cure = object_schema(
        {
            "kind": {"enum": ["move", "dim"]},
            "subject": _TEXT,
            "to_m": _PLACE,
            "share": _NUMBER,
            "result": _NUMBER,
        }
    )
    return object_schema(
        {
            "need": _TEXT,
            "engine": _TEXT,
            "about": _TEXT,
            "quantity": {"enum": sorted(QUANTITIES)},
            "unit": _TEXT,
            "value": _NUMBER,
            "low": _NUMBER,
            "high": _NUMBER,
            "uncertainty": {"type": ["number", "null"], "minimum": 0},
            "margin": _NUMBER,
            "state": {"enum": [s.value for s in State]},
            "site": _TEXT,
            "at_m": _PLACE,
            "facing": {"enum": ["", *FACINGS]},
            "when": _TEXT,
            "why": _TEXT,
            "advice": _TEXT,
            "cure": {"anyOf": [{"type": "null"}, cure]},
            "source": _TEXT,
            "source_kind": {"enum": [k.value for k in SourceKind]},
        },
        additionalProperties=False,
    )


def check_schema() -> dict[str, Any]:
    """JSON Schema of the ``check`` document."""
    engine = object_schema({"seconds": _NUMBER, "balance": _NUMBER})
    return document_schema(
        "loamwright check",
        {
            "version": {"const": VERSION},
            "habitat": _TEXT,
            "findings": {"type": "array", "items": finding_schema()},
            "engines": {"type": "object", "additionalProperties": engine},
        },
    )


def light_schema() -> dict[str, Any]:
    """JSON Schema of the ``light`` document."""
    values = object_schema(dict.fromkeys(LIGHT_KEYS.values(), _NUMBER), additionalProperties=False)
    site = object_schema(dict.fromkeys(FACINGS, values), additionalProperties=False)
    place = object_schema({"at_m": _PLACE, "role": _TEXT})
    return document_schema(
        "loamwright light",
        {
            "version": {"const": VERSION},
            "habitat": _TEXT,
            "sites": {"type": "object", "additionalProperties": site},
            "places": {"type": "object", "additionalProperties": place},
        },
    )
