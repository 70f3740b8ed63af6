"""Decomposers for the machine: the ``decomposers`` document, its schema, and rows of CSV."""

from __future__ import annotations

import csv
import io
from typing import Any

from loamwright.engine.life.decomposers_study import Found
from loamwright.engine.life.matter import LEAF_CARBON
from loamwright.habitat.habitat import Habitat
from loamwright.physics import populations as pop
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.plain import clean

VERSION = 1
"""Version of the ``decomposers`` document; it rises when something a script may rely on changes."""

DAY = 86_400.0
WAYS = ("slow", "middle", "quick")

_SERIES: tuple[tuple[str, int, float], ...] = (
    ("waste_g", pop.WASTE, LEAF_CARBON),
    ("humus_g", pop.HUMUS, LEAF_CARBON),
    ("urate_nitrogen_g", pop.URATE, 1.0),
    ("ammonium_nitrogen_g", pop.AMMONIUM, 1.0),
    ("nitrate_nitrogen_g", pop.NITRATE, 1.0),
    ("plant_nitrogen_g", pop.TAKEN, 1.0),
)
"""Pools told by day: key, place in a state, and what its kilogram is of the mass told."""


def decomposers_document(habitat: Habitat, found: Found | None) -> dict[str, Any]:
    """The ``decomposers`` document, all on the whole floor; ``life`` null where the ground is dry."""
    return {"version": VERSION, "habitat": habitat.name,
            "life": None if found is None else _life(found)}  # fmt: skip


def _by_way(values: Any) -> dict[str, Any]:
    return dict(zip(WAYS, (None if v is None else finite(float(v)) for v in values), strict=True))


def _life(found: Found) -> dict[str, Any]:
    run, area, weather = found.middle, found.area, found.community.weather
    floor = found.community.floor
    return {
        "area_m2": finite(area),
        "ground_c": {"winter": finite(weather.temperature[0] - 273.15),
                     "summer": finite(weather.temperature[1] - 273.15)},
        "pores_wet": {"winter": finite(weather.saturation[0]),
                      "summer": finite(weather.saturation[1])},
        "species": {
            x.key: {
                "count": count,
                "starters_computed": found.computed,
                "doubles_in_d": [
                    finite(0.6931471805599453 / r / DAY) if r > 0.0 else None for r in rates
                ],
                "after_a_year": _by_way(r.numbers(i)[-1] * area for r in found.runs),
                "after_a_year_residents_fed": finite(float(found.fed.numbers(i)[-1]) * area),
                "after_a_year_residents_hungry": finite(float(found.hungry.numbers(i)[-1]) * area),
                "numbers": [finite(round(float(v) * area, 3)) for v in run.numbers(i)],
                "grown": [finite(round(float(v) * area, 3)) for v in run.grown(i)],
            }
            for i, (x, count, rates) in enumerate(
                zip(found.community.species, found.counts(), found.rates, strict=True)
            )
        },
        "not_followed": [x.key for x in found.unfollowed],
        "ready_d": _by_way(found.ready),
        "residents_move_in_d": found.moved_in[1],
        "waste_g_d": finite(found.waste * DAY * 1000.0),
        "waste_not_known": list(found.unknown),
        "carries_g_d": None if found.carries is None
        else _by_way(c * DAY * 1000.0 for c in found.carries),
        "by_hand_share": found.by_hand,
        "dung_half_life_d": finite(found.dung_half_life()),
        "litter_start_g": finite(1000.0 * floor.litter * area),
        "litter_lasts_d": _by_way(found.litter_lasts(i) for i in range(3)),
        "litter_laid": [{"day": d, "g": finite(1000.0 * m * area)} for d, m in run.topped],
        "days": [int(d) for d in run.days],
        "litter_g": [finite(round(1000.0 * float(v) * area, 3)) for v in run.litter()],
        **{key: [finite(round(1000.0 * float(v) / share * area, 5)) for v in run.state[:, at]]
           for key, at, share in _SERIES},
        "balance": finite(found.balance),
    }  # fmt: skip


def decomposers_csv(found: Found) -> str:
    """Numbers and pools by day on the whole floor as CSV (RFC 4180)."""
    run, area = found.middle, found.area
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    names = [clean(x.key) for x in found.community.species]
    heads = [key.removesuffix("_g").replace("_", " ") for key, _, _ in _SERIES]
    write.writerow(
        ["day", *(f"{n} [1]" for n in names), *(f"{n} grown [1]" for n in names), "leaves [g]",
         *(f"{h} [g]" for h in heads)]
    )  # fmt: skip
    for day in range(len(run.days)):
        write.writerow(
            [day,
             *(f"{run.numbers(i)[day] * area:.2f}" for i in range(len(names))),
             *(f"{run.grown(i)[day] * area:.2f}" for i in range(len(names))),
             f"{1000.0 * run.litter()[day] * area:.2f}",
             *(f"{1000.0 * run.state[day, at] / share * area:.4f}" for _, at, share in _SERIES)]
        )  # fmt: skip
    return out.getvalue()


def decomposers_schema() -> dict[str, Any]:
    """JSON Schema of the ``decomposers`` document."""
    number = {"type": ["number", "null"]}
    numbers = {"type": "array", "items": number}
    text, whole = {"type": "string"}, {"type": "integer"}
    ways = object_schema(dict.fromkeys(WAYS, number))
    seasons = object_schema(dict.fromkeys(("winter", "summer"), number))
    species = object_schema(
        {
            "count": whole,
            "starters_computed": {"type": "boolean"},
            "doubles_in_d": numbers,
            "after_a_year": ways,
            "after_a_year_residents_fed": number,
            "after_a_year_residents_hungry": number,
            "numbers": numbers,
            "grown": numbers,
        }
    )
    life = object_schema(
        {
            "area_m2": number,
            "ground_c": seasons,
            "pores_wet": seasons,
            "species": {"type": "object", "additionalProperties": species},
            "not_followed": {"type": "array", "items": text},
            "ready_d": ways,
            "residents_move_in_d": whole,
            "waste_g_d": number,
            "waste_not_known": {"type": "array", "items": text},
            "carries_g_d": {"anyOf": [{"type": "null"}, ways]},
            "by_hand_share": number,
            "dung_half_life_d": number,
            "litter_start_g": number,
            "litter_lasts_d": ways,
            "litter_laid": {
                "type": "array",
                "items": object_schema({"day": whole, "g": number}),
            },
            "days": {"type": "array", "items": whole},
            "litter_g": numbers,
            **{key: numbers for key, _, _ in _SERIES},
            "balance": number,
        }
    )
    return document_schema(
        "loamwright decomposers",
        {
            "version": {"const": VERSION},
            "habitat": text,
            "life": {"anyOf": [{"type": "null"}, life]},
        },
    )
