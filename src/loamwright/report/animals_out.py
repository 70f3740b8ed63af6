"""The animals for the machine: the ``animals`` document and its schema."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from loamwright.engine.findings import Finding, worst_first
from loamwright.engine.life.descent import Descent, Measures, Pair
from loamwright.engine.life.places import Laying, above_ground
from loamwright.engine.life.space import Asked
from loamwright.engine.life.study import Animals, Residents
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.report.choice_out import (
    choice_document,
    choice_schema,
    climb_document,
    climb_schema,
)
from loamwright.report.json_out import (
    document_schema,
    finding_document,
    finding_schema,
    finite,
    object_schema,
)
from loamwright.report.moving_blocks import moving_document, moving_schema

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
        "moving": moving_document(animals.moving),
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
        "descent": None if one.descent is None else _descent(one.descent),
        "breeding": _breeding(one),
        "climb": climb_document(one.climb),
        "choices": [choice_document(c) for c in one.choices.values()],
    }


def _measures(group: Measures) -> dict[str, Any]:
    return {
        "name": group.name,
        "members": list(group.members),
        "males": group.males,
        "females": group.females,
        "unsexed": group.unsexed,
        "mean_kinship": finite(group.mean_kinship),
        "gene_diversity": finite(group.diversity),
        "founder_genome_equivalents": finite(group.genomes),
        "founder_equivalents": finite(group.founders),
        "greatest_inbreeding": finite(group.inbreeding),
        "effective_size": finite(group.effective),
    }


def _pair(pair: Pair | None) -> dict[str, Any] | None:
    if pair is None:
        return None
    return {"male": pair.male, "female": pair.female, "inbreeding": finite(pair.inbreeding)}


def _descent(descent: Descent) -> dict[str, Any]:
    return {
        "before": [_measures(g) for g in descent.before],
        "joined": _measures(descent.joined),
        "members": [
            {
                "name": m.name,
                "sex": m.sex,
                "inbreeding": finite(m.inbreeding),
                "mean_kinship": finite(m.mean_kinship),
                "parents_known": m.parents_known,
                "lives_in": m.lives_in,
            }
            for m in descent.members
        ],
        "best_pairs": [_pair(p) for p in descent.pairs],
        "closest_pair": _pair(descent.worst),
        "mean_inbreeding_of_young": finite(descent.random),
        "gene_value": finite(descent.gene_value),
        "least_akin": list(descent.trio),
        "exchanges": [
            {"first": x.first, "second": x.second, "leaves": x.leaves, "comes": x.comes}
            for x in descent.exchanges
        ],
        "unnamed": descent.unnamed,
        "joins": [
            {
                "groups": list(x.groups),
                "animals": x.animals,
                "males": x.males,
                "females": x.females,
                "closest_pair": _pair(x.closest),
                "gene_diversity": finite(x.diversity),
            }
            for x in descent.joins
        ],
    }


def _breeding(one: Residents) -> dict[str, Any]:
    species, breeding = one.species, one.breeding
    return {
        "both_sexes": breeding.breeds,
        "clutch": [finite(v) for v in species.clutch],
        "young_of_one_clutch_each": None if breeding.young is None else list(breeding.young),
        "incubation_d": [None if v is None else finite(v / 86400.0) for v in species.incubation],
        "incubation_k": finite(species.incubation_temperature),
        "room_for": [
            {"standard": c.standard, "animals": c.animals, "speaks_of_no_more": c.open}
            for c in breeding.rooms
        ],
        "too_small_at_clutch": None if breeding.clutches is None else list(breeding.clutches),
        "eggs_left": [
            {
                "site": w.site,
                "season": w.season,
                "mean_k": finite(w.warmth),
                "days": None if w.days is None else [finite(v) for v in w.days],
                "males": finite(w.males),
            }
            for w in breeding.warm
        ],
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
            "descent": {"anyOf": [{"type": "null"}, _descent_schema()]},
            "breeding": _breeding_schema(),
            "climb": {"anyOf": [{"type": "null"}, climb_schema()]},
            "choices": listed(choice_schema()),
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
            "moving": {"anyOf": [{"type": "null"}, moving_schema()]},
            "findings": listed(finding_schema()),
        },
    )


def _descent_schema() -> dict[str, Any]:
    """Schema of what the pedigree says of a group."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    count = {"type": "integer", "minimum": 0}
    texts = {"type": "array", "items": text}
    group = object_schema(
        {
            "name": text,
            "members": texts,
            **dict.fromkeys(("males", "females", "unsexed"), count),
            **dict.fromkeys(
                ("mean_kinship", "gene_diversity", "founder_genome_equivalents",
                 "founder_equivalents", "greatest_inbreeding", "effective_size"), number),
        }
    )  # fmt: skip
    member = object_schema(
        {"name": text, "sex": text, "inbreeding": number, "mean_kinship": number,
         "parents_known": count, "lives_in": text}
    )  # fmt: skip
    pair = object_schema({"male": text, "female": text, "inbreeding": number})
    join = object_schema(
        {
            "groups": texts,
            **dict.fromkeys(("animals", "males", "females"), count),
            "closest_pair": {"anyOf": [{"type": "null"}, pair]},
            "gene_diversity": number,
        }
    )
    exchange = object_schema(dict.fromkeys(("first", "second", "leaves", "comes"), text))
    return object_schema(
        {
            "before": {"type": "array", "items": group},
            "joined": group,
            "members": {"type": "array", "items": member},
            "best_pairs": {"type": "array", "items": pair},
            "closest_pair": {"anyOf": [{"type": "null"}, pair]},
            "mean_inbreeding_of_young": number,
            "gene_value": number,
            "least_akin": texts,
            "exchanges": {"type": "array", "items": exchange},
            "unnamed": count,
            "joins": {"type": "array", "items": join},
        }
    )


def _breeding_schema() -> dict[str, Any]:
    """Schema of what breeding brings."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    two = {"type": "array", "items": number, "minItems": 2, "maxItems": 2}
    maybe_two = {"anyOf": [{"type": "null"}, two]}
    room = object_schema(
        {"standard": text, "animals": {"type": "integer"}, "speaks_of_no_more": {"type": "boolean"}}
    )
    left = object_schema(
        {"site": text, "season": text, "mean_k": number, "days": maybe_two, "males": number}
    )
    return object_schema(
        {
            "both_sexes": {"type": "boolean"},
            "clutch": two,
            "young_of_one_clutch_each": maybe_two,
            "incubation_d": two,
            "incubation_k": number,
            "room_for": {"type": "array", "items": room},
            "too_small_at_clutch": maybe_two,
            "eggs_left": {"type": "array", "items": left},
        }
    )
