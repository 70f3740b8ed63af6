"""The animals for the machine: the ``animals`` document and its schema."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from loamwright.engine.findings import Finding, worst_first
from loamwright.engine.life.places import Laying, above_ground
from loamwright.engine.life.space import Asked
from loamwright.engine.life.study import Animals, Residents
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.report.json_out import (
    document_schema,
    finding_document,
    finding_schema,
    finite,
    object_schema,
)

VERSION = 1
"""Version of the ``animals`` document; it rises when something a script may rely on changes."""

SPACE = {
    "floor": "floor_m2", "long": "long_m", "short": "short_m", "height": "height_m",
    "pool": "pool_m2", "pool_depth": "pool_depth_m",
}  # fmt: skip
"""Fields of a standard's room and their keys."""


def animals_document(
    habitat: Habitat, animals: Animals, findings: Iterable[Finding], system: str
) -> dict[str, Any]:
    """The ``animals`` document: units in the keys, null where nothing is known."""
    box = animals.box
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "room": {
            "floor_m2": finite(box.floor),
            "long_m": finite(box.long),
            "short_m": finite(box.short),
            "height_m": finite(box.height),
            "volume_m3": finite(box.volume),
            "pieces_m3": finite(box.pieces),
            "pool_m2": finite(box.pool),
            "pool_depth_m": finite(box.pool_depth),
        },
        "perches": [
            {
                "name": p.name,
                "diameter_m": finite(p.diameter),
                "length_m": finite(p.length),
                "low_m": finite(p.low),
                "high_m": finite(p.high),
                "slope_rad": finite(p.slope),
            }
            for p in animals.perches
        ],
        "species": [_residents(habitat, one) for one in animals.residents],
        "findings": [finding_document(f, habitat, system) for f in worst_first(list(findings))],
    }


def _residents(habitat: Habitat, one: Residents) -> dict[str, Any]:
    return {
        "species": one.species.key,
        "males": one.males,
        "females": one.females,
        "young": one.young,
        "standards": [_asked(a) for a in one.asked],
        "rests": [_site(habitat, s) for s in one.rests],
        "hides": [_site(habitat, s) for s in one.hides],
        "laying": [_laying(habitat, s) for s in one.laying],
    }


def _asked(asked: Asked) -> dict[str, Any]:
    standard, space = asked.standard, asked.space
    return {
        "standard": standard.key,
        "country": standard.country,
        "title": standard.title,
        "status": standard.status,
        "seen": standard.seen,
        "caution": standard.caution,
        "group": asked.when,
        "animals": asked.animals,
        "spoken_of": asked.spoken,
        "measure": standard.measure,
        "length_m": None if asked.length is None else finite(asked.length.value),
        "length_source": None if asked.length is None else asked.length.source.text,
        **{key: None if space is None else finite(getattr(space, name))
           for name, key in SPACE.items()},
    }  # fmt: skip


def _site(habitat: Habitat, site: Site) -> dict[str, Any]:
    return {"name": site.name, "above_ground_m": finite(above_ground(habitat, site))}


def _laying(habitat: Habitat, spot: Laying) -> dict[str, Any]:
    return {**_site(habitat, spot.site), "depth_m": finite(spot.depth)}


def animals_schema() -> dict[str, Any]:
    """JSON Schema of the ``animals`` document."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    count = {"type": "integer", "minimum": 0}
    site = {"name": text, "above_ground_m": number}

    def listed(item: dict[str, Any]) -> dict[str, Any]:
        return {"type": "array", "items": item}

    standard = object_schema(
        {
            **dict.fromkeys(("standard", "country", "title", "status", "seen", "caution"), text),
            "group": {"enum": ["now", "grown"]},
            "animals": count,
            "spoken_of": count,
            "measure": text,
            "length_m": number,
            "length_source": {"type": ["string", "null"]},
            **dict.fromkeys(SPACE.values(), number),
        }
    )
    species = object_schema(
        {
            "species": text,
            **dict.fromkeys(("males", "females", "young"), count),
            "standards": listed(standard),
            "rests": listed(object_schema(site)),
            "hides": listed(object_schema(site)),
            "laying": listed(object_schema({**site, "depth_m": number})),
        }
    )
    perch = object_schema(
        {"name": text, **dict.fromkeys(
            ("diameter_m", "length_m", "low_m", "high_m", "slope_rad"), number)}
    )  # fmt: skip
    room = ("floor_m2", "long_m", "short_m", "height_m", "volume_m3", "pieces_m3", "pool_m2",
            "pool_depth_m")  # fmt: skip
    return document_schema(
        "loamwright animals",
        {
            "version": {"const": VERSION},
            "habitat": text,
            "room": object_schema(dict.fromkeys(room, number)),
            "perches": listed(perch),
            "species": listed(species),
            "findings": listed(finding_schema()),
        },
    )
