"""The strength for the machine: the ``strength`` document and its schema, and lines to buy."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from loamwright.habitat.enclosure import PANELS
from loamwright.habitat.habitat import Habitat
from loamwright.plan.batten_loads import BattenLoad
from loamwright.plan.contacts import Contact, Overlap
from loamwright.plan.fixings import SAFETY, Fixing, Stone
from loamwright.plan.lamp_room import Room
from loamwright.plan.lines import UNITS, Line
from loamwright.plan.panels import PanelLoad
from loamwright.plan.screws import Screws
from loamwright.plan.standing import PUSH, Standing
from loamwright.plan.strength import Strength
from loamwright.report.build_words import BENT_BY, HELD, PARTS, WAYS
from loamwright.report.json_out import document_schema, finite, object_schema
from loamwright.report.strength_blocks import strength_cautions

VERSION = 1
"""Version of the ``strength`` document; it rises when something a script may rely on changes."""


def strength_document(habitat: Habitat, strength: Strength) -> dict[str, Any]:
    """The ``strength`` document: units in the keys, null where nothing is known."""
    high = {f.stone: f.height for f in strength.footings}
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "cautions": strength_cautions(strength),
        "load": _load(strength.stands),
        "standing": _standing(strength.stands),
        "panels": [_panel(p) for p in strength.panels],
        "battens": [_batten(b) for b in strength.battens],
        "fixings": [_fixing(f) for f in strength.fixings],
        "screws": [_screws(s) for s in strength.screws],
        "stones": [_stone(s, high.get(s.name)) for s in strength.stones],
        "pieces": [_contact(c) for c in strength.fit.contacts],
        "overlaps": [_overlap(o) for o in strength.fit.overlaps],
        "lamps": [_lamp(r) for r in strength.fit.lamps],
        "buy": lines_document(strength.lines),
    }


def _load(s: Standing) -> dict[str, Any]:
    return {
        "parts_kg": {what: finite(mass) for what, mass in s.parts},
        "dry_kg": finite(s.dry),
        "moist_kg": finite(s.moist),
        "flooded_kg": finite(s.flooded),
        "tank_kg": finite(s.tank),
        "stand_kg": finite(s.stand),
        "on_floor_kg": finite(s.on_floor),
        "not_known": list(s.unknown),
    }


def _standing(s: Standing) -> dict[str, Any]:
    even = dict(s.floor)
    return {
        "rated_kg": finite(s.rated),
        "heaviest_corner": s.corner[0],
        "heaviest_corner_kg": finite(s.corner[1]),
        "footprint_m": [finite(v) for v in s.footprint],
        "pressure_pa": finite(s.pressure),
        "even_load_pa": {way: finite(even[way]) for way in WAYS if way in even},
        "floor_bears_pa": finite(s.bears),
        "floor_said": s.said,
        "height_m": finite(s.high),
        "tips_at_deg": finite(math.degrees(s.tilt)),
        "tips_at_push_n": finite(PUSH * s.tipping),
        "push_height_m": finite(s.push_height),
        "tied": s.tied,
    }


def _panel(p: PanelLoad) -> dict[str, Any]:
    return {
        "side": p.side,
        "part": p.part,
        "bent_by": p.kind,
        "material": p.material,
        "thickness_m": finite(p.thickness),
        "span_m": finite(p.span),
        "height_m": finite(p.height),
        "held": p.held,
        "loaded_height_m": finite(p.loaded),
        "pressure_pa": finite(p.pressure),
        "pressure_flooded_pa": finite(p.flooded),
        "deflection_m": finite(p.deflection),
        "deflection_allowed_m": finite(p.allowed),
        "stress_pa": finite(p.stress),
        "strength_pa": finite(p.strength),
        "beyond_theory": p.beyond,
        "needs_frame": p.narrow,
    }


def _batten(b: BattenLoad) -> dict[str, Any]:
    return {
        "name": b.name,
        "side": b.side,
        "span_m": finite(b.span),
        "strip_m": finite(b.strip),
        "load_n_m": finite(b.load),
        "deflection_m": finite(b.deflection),
        "deflection_allowed_m": finite(b.allowed),
    }


def _fixing(f: Fixing) -> dict[str, Any]:
    return {
        "name": f.name,
        "what": f.what,
        "dry_kg": finite(f.mass),
        "wet_kg": finite(f.wet),
        "screws": f.screws,
        "glued_m2": finite(f.glued),
        "glued_taken": f.assumed,
        "holds_n": finite(f.holds),
        "holds_its_load_times": finite(f.factor),
        "should_hold_times": finite(SAFETY),
        "screws_needed": f.needs,
    }


def _screws(s: Screws) -> dict[str, Any]:
    return {
        "name": s.name,
        "count": s.count,
        "diameter_m": finite(s.screw.diameter),
        "length_m": finite(s.screw.length),
        "washer": s.screw.washer,
        "way": s.way,
    }


def _stone(s: Stone, footing: float | None) -> dict[str, Any]:
    return {
        "name": s.name,
        "mass_kg": finite(s.mass),
        "footing": s.footing,
        "footing_height_m": finite(footing),
        "could_be_dug_away_m": finite(s.under),
        "at_m": [finite(v) for v in s.at],
    }


def _contact(c: Contact) -> dict[str, Any]:
    return {
        "name": c.name,
        "length_m": finite(c.length),
        "touches": [t.what for t in c.touches],
        "held_at": c.places,
        "should_be_held_at": c.needs,
    }


def _overlap(o: Overlap) -> dict[str, Any]:
    return {
        "name": o.name,
        "other": o.other,
        "depth_m": finite(o.depth),
        "depth_allowed_m": finite(o.allowed),
    }


def _lamp(r: Room) -> dict[str, Any]:
    return {
        "name": r.name,
        "depth_m": finite(r.behind),
        "next_to": r.nearest,
        "gap_m": finite(r.gap),
    }


def lines_document(lines: Iterable[Line]) -> list[dict[str, Any]]:
    """Lines to buy; ``amount``, ``spares`` and ``wanted`` in the line's own ``unit``."""
    return [
        {
            "key": x.key,
            "group": x.group,
            "name": x.name,
            "unit": x.unit,
            "amount": finite(x.amount),
            "waste_pct": finite(100.0 * x.waste),
            "spares": finite(x.spares),
            "wanted": finite(x.wanted),
            "why": x.why,
            "uses": list(x.uses),
        }
        for x in lines
    ]


NUMBER: dict[str, Any] = {"type": ["number", "null"]}
TEXT: dict[str, Any] = {"type": "string"}
TEXTS: dict[str, Any] = {"type": "array", "items": TEXT}
FLAG: dict[str, Any] = {"type": "boolean"}
WHOLE: dict[str, Any] = {"type": "integer", "minimum": 0}


def point_schema(dimensions: int = 3) -> dict[str, Any]:
    """Schema of a place or a size [m] of so many numbers."""
    return {"type": "array", "items": NUMBER, "minItems": dimensions, "maxItems": dimensions}


def whole(properties: dict[str, Any]) -> dict[str, Any]:
    """Schema of an object that holds the listed keys, all of them and no other."""
    return object_schema(properties, additionalProperties=False)


def lines_schema() -> dict[str, Any]:
    """JSON Schema of lines to buy."""
    return {
        "type": "array",
        "items": whole(
            {
                **dict.fromkeys(("key", "group", "name"), TEXT),
                "unit": {"enum": list(UNITS)},
                **dict.fromkeys(("amount", "waste_pct", "spares", "wanted"), NUMBER),
                "why": TEXT,
                "uses": TEXTS,
            }
        ),
    }


def strength_schema() -> dict[str, Any]:
    """JSON Schema of the ``strength`` document."""
    masses = ("dry_kg", "moist_kg", "flooded_kg", "tank_kg", "stand_kg", "on_floor_kg")
    load = whole(
        {
            "parts_kg": {"type": "object", "additionalProperties": NUMBER},
            **dict.fromkeys(masses, NUMBER),
            "not_known": TEXTS,
        }
    )
    even = {"type": "object", "properties": dict.fromkeys(WAYS, NUMBER),
            "additionalProperties": False}  # fmt: skip
    standing = whole(
        {
            "rated_kg": NUMBER, "heaviest_corner": TEXT, "heaviest_corner_kg": NUMBER,
            "footprint_m": point_schema(2), "pressure_pa": NUMBER, "even_load_pa": even,
            "floor_bears_pa": NUMBER, "floor_said": FLAG, "height_m": NUMBER,
            "tips_at_deg": NUMBER, "tips_at_push_n": NUMBER, "push_height_m": NUMBER, "tied": FLAG,
        }
    )  # fmt: skip
    panel = whole(
        {
            "side": {"enum": list(PANELS)}, "part": {"enum": list(PARTS)},
            "bent_by": {"enum": list(BENT_BY)}, "material": TEXT,
            **dict.fromkeys(("thickness_m", "span_m", "height_m"), NUMBER),
            "held": {"enum": list(HELD)},
            **dict.fromkeys(
                ("loaded_height_m", "pressure_pa", "pressure_flooded_pa", "deflection_m",
                 "deflection_allowed_m", "stress_pa", "strength_pa"), NUMBER,
            ),
            "beyond_theory": FLAG, "needs_frame": FLAG,
        }
    )  # fmt: skip
    batten = whole(
        {
            "name": TEXT, "side": {"enum": list(PANELS)},
            **dict.fromkeys(("span_m", "strip_m", "load_n_m", "deflection_m", "deflection_allowed_m"),
                            NUMBER),
        }
    )  # fmt: skip
    fixing = whole(
        {
            "name": TEXT, "what": {"enum": ["background", "piece"]}, "dry_kg": NUMBER,
            "wet_kg": NUMBER, "screws": WHOLE, "glued_m2": NUMBER, "glued_taken": FLAG,
            "holds_n": NUMBER, "holds_its_load_times": NUMBER, "should_hold_times": NUMBER,
            "screws_needed": WHOLE,
        }
    )  # fmt: skip
    screws = whole(
        {
            "name": TEXT, "count": WHOLE, "diameter_m": NUMBER, "length_m": NUMBER, "washer": FLAG,
            "way": TEXT,
        }
    )  # fmt: skip
    stone = whole(
        {
            "name": TEXT, "mass_kg": NUMBER, "footing": TEXT, "footing_height_m": NUMBER,
            "could_be_dug_away_m": NUMBER, "at_m": point_schema(),
        }
    )  # fmt: skip
    contact = whole({"name": TEXT, "length_m": NUMBER, "touches": TEXTS, "held_at": WHOLE,
                     "should_be_held_at": WHOLE})  # fmt: skip
    overlap = whole({"name": TEXT, "other": TEXT, "depth_m": NUMBER, "depth_allowed_m": NUMBER})
    lamp = whole({"name": TEXT, "depth_m": NUMBER, "next_to": TEXT, "gap_m": NUMBER})
    return document_schema(
        "loamwright strength",
        {
            "version": {"const": VERSION},
            "habitat": TEXT,
            "cautions": TEXTS,
            "load": load,
            "standing": standing,
            "panels": {"type": "array", "items": panel},
            "battens": {"type": "array", "items": batten},
            "fixings": {"type": "array", "items": fixing},
            "screws": {"type": "array", "items": screws},
            "stones": {"type": "array", "items": stone},
            **{
                k: {"type": "array", "items": v}
                for k, v in (("pieces", contact), ("overlaps", overlap), ("lamps", lamp))
            },
            "buy": lines_schema(),
        },
    ) | {"additionalProperties": False}
