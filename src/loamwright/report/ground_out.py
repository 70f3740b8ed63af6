"""The ground for the machine: the ``ground`` document, its schema, and rows of CSV."""

from __future__ import annotations

import csv
import io
from typing import Any

from loamwright.engine.ground import readings
from loamwright.engine.ground.coupled import Coupled
from loamwright.engine.ground.inspection import inspect
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.quantities import LayerAmount, Purchase, Quantities
from loamwright.engine.ground.study import litres
from loamwright.habitat.habitat import Habitat
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.plain import clean

VERSION = 1
"""Version of the ``ground`` document; it rises when something a script may rely on changes."""


def standing_litres(outlook: Outlook) -> list[float | None]:
    """Free water in the pores under its level on the floor, and above the ground, by day [L]."""
    setting = outlook.setting
    column = setting.column
    pores = readings.slice_pores(column)
    out = []
    for depth in outlook.forecast.run.standing:
        below = (depth - column.height[:-1]).clip(0.0, column.length)
        over = max(0.0, float(depth) - column.depth)
        out.append(finite(litres(float(below @ pores) + over, setting)))
    return out


def ground_document(habitat: Habitat, amount: Quantities, water: Coupled | None) -> dict[str, Any]:
    """The ``ground`` document: layers bottom first, water by day and node height, units in keys."""
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "layers": [
            {
                "name": x.name,
                "depth_m": finite(x.depth),
                "loose_depth_m": finite(x.loose),
                "volume_l": finite(1000 * x.volume),
                "least_depth_m": finite(x.least),
                "most_depth_m": finite(x.most),
                "displaced_l": finite(1000 * x.displaced),
                "bags": sum(count for b in x.buy for _, count in b.bags),
                "buy": [_bought(b) for b in x.buy],
                "mix": _mix(x),
                "additions": [
                    {
                        "what": d.what,
                        "amount": finite(1000 * d.amount if d.unit == "m3" else d.amount),
                        "unit": "L" if d.unit == "m3" else d.unit,
                    }
                    for d in x.doses
                ],
                "reused_l": {name: finite(1000 * v) for name, v in x.reused},
                "dry_kg": finite(x.dry),
                "moist_kg": finite(x.moist),
                "flooded_kg": finite(x.flooded),
            }
            for x in amount.layers
        ],
        "load": {
            "parts_kg": dict(amount.load.parts),
            "total_kg": finite(amount.load.total),
            "flooded_kg": finite(amount.load.flooded),
            "rated_kg": amount.load.rated,
            "centre_m": [finite(v) for v in amount.load.centre],
            "heaviest_corner": amount.load.corner[0],
            "heaviest_corner_kg": finite(amount.load.corner[1]),
        },
        "old_ground": {
            s.name: {"verdict": s.verdict, "points": s.points, "share_at_most": s.share}
            for s in map(inspect, habitat.existing)
        },
        "water": None if water is None else _water(water.outlooks[0], water.balance),
    }


def _mix(layer: LayerAmount) -> dict[str, Any] | None:
    """What is told of a mix: middle, low and high."""
    blend = layer.blend
    if blend is None:
        return None
    low, middle, high = (d / blend.settled[1] for d in blend.dry_density)
    return {
        "container_capacity": _range(blend.container_capacity),
        "air_filled_porosity": _range(blend.air_porosity),
        "dry_density_kg_m3": _range((low, middle, high)),
        "ph": None if blend.ph is None else _range(blend.ph),
    }


def _range(values: tuple[float, float, float]) -> dict[str, Any]:
    return {"value": finite(values[1]), "low": finite(values[0]), "high": finite(values[2])}


def _bought(bought: Purchase) -> dict[str, Any]:
    return {
        "what": bought.key,
        "amount": finite(1000 * bought.amount if bought.unit == "m3" else bought.amount),
        "unit": "L" if bought.unit == "m3" else bought.unit,
        "bags": [{"size_l": finite(1000 * size), "count": n} for size, n in bought.bags],
        "left_l": finite(1000 * bought.left),
    }


def _water(outlook: Outlook, balance: float) -> dict[str, Any]:
    found, setting = outlook.forecast, outlook.setting
    return {
        "season": outlook.season,
        "days": [finite(float(d)) for d in found.days],
        "depth_m": [finite(setting.column.depth - float(h)) for h in setting.column.height],
        "content": [[finite(round(float(v), 5)) for v in row] for row in found.run.content],
        "standing_l": standing_litres(outlook),
        "middle_content": [finite(float(v)) for v in found.middle],
        "wanted": [finite(v) for v in setting.band],
        "first_watering_l": finite(litres(found.watering.first, setting)),
        "by_hand_l": finite(litres(found.watering.amount, setting)),
        "by_hand_every_d": found.watering.days,
        "by_hand_from_d": found.watering.start if found.watering.days else None,
        "mist_share_at_most": outlook.plan.mist_most,
        "dries_out_d": outlook.dries,
        "draw_off_from_d": outlook.draw_off(),
        "stuck_mist": _stuck(outlook),
        "balance": finite(balance),
    }


def _stuck(outlook: Outlook) -> dict[str, Any] | None:
    """A stuck mist valve: what it sprays, what of it lands, how high it stands."""
    if outlook.stuck is None or outlook.landing is None:
        return None
    return {
        "sprayed_l": finite(outlook.landing.sprayed),
        "landed_l": finite(litres(outlook.landing.depth, outlook.setting)),
        "standing_m": finite(float(outlook.stuck.run.standing.max())),
    }


def ground_csv(outlook: Outlook) -> str:
    """Water by day as CSV (RFC 4180): sums in litres, then content by depth."""
    found, setting = outlook.forecast, outlook.setting
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    depths = [setting.column.depth - float(h) for h in setting.column.height]
    sums = ("supplied", "evaporated", "from_litter", "taken", "drained")
    write.writerow(
        ["day", "water on the floor [m]", "middle [1]", *(f"{clean(s)} [L]" for s in sums),
         *(f"content at {1000 * d:.0f} mm [1]" for d in depths)]
    )  # fmt: skip
    for row, day in enumerate(found.days):
        write.writerow(
            [f"{day:.3f}", f"{found.run.standing[row]:.5f}", f"{found.middle[row]:.5f}",
             *(f"{litres(float(getattr(found.run, s)[row]), setting):.4f}" for s in sums),
             *(f"{v:.5f}" for v in found.run.content[row])]
        )  # fmt: skip
    return out.getvalue()


def ground_schema() -> dict[str, Any]:
    """JSON Schema of the ``ground`` document."""
    number = {"type": ["number", "null"]}
    numbers = {"type": "array", "items": number}
    named = {"type": "object", "additionalProperties": number}
    text = {"type": "string"}
    told = object_schema(dict.fromkeys(("value", "low", "high"), number))
    bought = object_schema(
        {
            "what": text,
            "amount": number,
            "unit": {"enum": ["L", "m2", "kg"]},
            "bags": {
                "type": "array",
                "items": object_schema({"size_l": number, "count": {"type": "integer"}}),
            },
            "left_l": number,
        }
    )
    layer = object_schema(
        {
            "name": text,
            **dict.fromkeys(
                (
                    "depth_m",
                    "loose_depth_m",
                    "least_depth_m",
                    "most_depth_m",
                    "volume_l",
                    "displaced_l",
                ),
                number,
            ),
            "bags": {"type": "integer"},
            "buy": {"type": "array", "items": bought},
            "mix": {
                "anyOf": [
                    {"type": "null"},
                    object_schema(
                        {
                            **dict.fromkeys(
                                ("container_capacity", "air_filled_porosity", "dry_density_kg_m3"),
                                told,
                            ),
                            "ph": {"anyOf": [{"type": "null"}, told]},
                        }
                    ),
                ]
            },
            "additions": {
                "type": "array",
                "items": object_schema(
                    {"what": text, "amount": number, "unit": {"enum": ["L", "kg"]}}
                ),
            },
            "reused_l": named,
            **dict.fromkeys(("dry_kg", "moist_kg", "flooded_kg"), number),
        }
    )
    water = object_schema(
        {
            "season": text,
            "days": numbers,
            "depth_m": numbers,
            "content": {"type": "array", "items": numbers},
            "standing_l": numbers,
            "middle_content": numbers,
            "wanted": numbers,
            "first_watering_l": number,
            "by_hand_l": number,
            "by_hand_every_d": {"type": "integer"},
            "by_hand_from_d": {"type": ["integer", "null"]},
            "mist_share_at_most": number,
            "dries_out_d": number,
            "draw_off_from_d": number,
            "stuck_mist": {
                "anyOf": [
                    {"type": "null"},
                    object_schema(dict.fromkeys(("sprayed_l", "landed_l", "standing_m"), number)),
                ]
            },
            "balance": number,
        }
    )
    old = object_schema({"verdict": text, "points": {"type": "integer"}, "share_at_most": number})
    return document_schema(
        "loamwright ground",
        {
            "version": {"const": VERSION},
            "habitat": text,
            "layers": {"type": "array", "items": layer},
            "load": object_schema(
                {
                    "parts_kg": named,
                    **dict.fromkeys(("total_kg", "flooded_kg", "rated_kg"), number),
                    "centre_m": numbers,
                    "heaviest_corner": text,
                    "heaviest_corner_kg": number,
                }
            ),
            "old_ground": {"type": "object", "additionalProperties": old},
            "water": {"anyOf": [{"type": "null"}, water]},
        },
    )
