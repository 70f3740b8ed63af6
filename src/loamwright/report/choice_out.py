"""Ways and choices for the machine: parts of the ``animals`` document and their schemas."""

from __future__ import annotations

from typing import Any

import numpy as np

from loamwright.engine.life.choice import Choice
from loamwright.engine.life.climbing import Climb
from loamwright.report.json_out import finite, object_schema

SHARES = ("warm", "uv", "both", "cool", "damp", "together")
"""Shares of the day, as `engine.life.choice.Shares` names them."""


def climb_document(climb: Climb | None) -> dict[str, Any] | None:
    """Where a species gets to; None where its reach is not known."""
    if climb is None:
        return None
    return {
        "reach_m": finite(climb.gait.reach),
        "reach_source": climb.gait.reach_source.text,
        "jump_m": finite(climb.gait.jump),
        "walls": climb.gait.walls,
        "within_reach": list(climb.reached),
        "out_of_reach": list(climb.beyond),
        "ways_off_ground": [
            {"from": w.start, "to": w.end, "length_m": finite(w.length)} for w in climb.ways
        ],
        "plants_that_carry_it": list(climb.plants),
        "plants_left_out": list(climb.left_out),
        "dead_ends": [
            {
                "piece": d.piece,
                "at_m": [finite(v) for v in d.at],
                "above_ground_m": finite(d.height),
            }
            for d in climb.dead_ends
        ],
    }


def choice_document(choice: Choice) -> dict[str, Any]:
    """What can be chosen from, by the hour; lists run over hours, then places."""

    def table(values: np.ndarray | None, digits: int) -> list[list[float | None]] | None:
        if values is None:
            return None
        return [[finite(round(float(v), digits)) for v in row] for row in values]

    return {
        "season": choice.season,
        "places": list(choice.sites),
        "roles": list(choice.roles),
        "day": [bool(v) for v in choice.day],
        "uvi": table(choice.uvi, 4),
        "operative_k": table(choice.operative, 3),
        "humidity": table(choice.humidity, 4),
        "uvi_band": list(choice.uvi_band),
        "body_band_k": list(choice.body_band),
        "humidity_band": list(choice.damp_band),
        "share_of_day": {name: finite(getattr(choice.shares, name)) for name in SHARES},
        "off_preferred_k": finite(choice.quality),
    }


def climb_schema() -> dict[str, Any]:
    """Schema of where a species gets to."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    texts = {"type": "array", "items": text}
    way = object_schema({"from": text, "to": text, "length_m": number})
    place = {"type": "array", "items": number, "minItems": 3, "maxItems": 3}
    end = object_schema({"piece": text, "at_m": place, "above_ground_m": number})
    return object_schema(
        {
            "reach_m": number,
            "reach_source": text,
            "jump_m": number,
            "walls": {"enum": ["smooth", "rough", "none"]},
            "within_reach": texts,
            "out_of_reach": texts,
            "ways_off_ground": {"type": "array", "items": way},
            "plants_that_carry_it": texts,
            "plants_left_out": texts,
            "dead_ends": {"type": "array", "items": end},
        }
    )


def choice_schema() -> dict[str, Any]:
    """Schema of what a species can choose from in one season."""
    number, text = {"type": ["number", "null"]}, {"type": "string"}
    table = {"type": "array", "items": {"type": "array", "items": number}}
    band = {"type": "array", "items": number, "minItems": 2, "maxItems": 2}
    return object_schema(
        {
            "season": text,
            "places": {"type": "array", "items": text},
            "roles": {"type": "array", "items": text},
            "day": {"type": "array", "items": {"type": "boolean"}},
            "uvi": table,
            "operative_k": {"anyOf": [{"type": "null"}, table]},
            "humidity": table,
            **dict.fromkeys(("uvi_band", "body_band_k", "humidity_band"), band),
            "share_of_day": object_schema(dict.fromkeys(SHARES, number)),
            "off_preferred_k": number,
        }
    )
