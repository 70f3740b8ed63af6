"""Forms made from the habitat file's own schema: labels, help, units, choices, all from one place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from loamwright import editing, units, workflow
from loamwright.editing import Draft, Loc, field_name
from loamwright.errors import UnitError
from loamwright.web import plain_words

Node = dict[str, Any]
Spec = dict[str, Any]

GROUPS: dict[tuple[str, str], str] = {
    ("lamp", "type"): "lamps", ("lamp", "guard"): "covers", ("fan", "fan"): "fans",
    ("fan", "guard"): "covers", ("fan", "filter"): "filters", ("nozzle", "type"): "nozzles",
    ("animal", "species"): "animals", ("plant", "species"): "plants", ("opening", "cover"): "covers",
    ("panel", "material"): "materials", ("lining", "material"): "materials",
    ("layer", "surface"): "materials",
}  # fmt: skip
"""Fields whose value is the key of a catalogue entry: (part, key) -> group."""

NAMES: dict[tuple[str, str], str] = {
    ("lamp", "control"): "controls", ("fan", "control"): "controls", ("mist", "control"): "controls",
    ("plant", "on"): "hardscape", ("site", "on"): "hardscape",
}  # fmt: skip
"""Fields that name something else of the same file."""

LABELS = {"at": "place", "on": "stands on", "for": "meant for", "from": "from", "to": "to",
          "in_front": "time in front", "hours_run": "hours run", "set": "holds"}  # fmt: skip

AXES = {"at": "xyz", "from": "xyz", "to": "xyz", "size": ("across", "deep", "high")}

UNSHOWN = {"readings", "reuse", "ies", "eulumdat", "nozzles", "panels", "openings", "lining",
           "stand", "condition", "animals", "plants", "individuals", "work", "waits"}  # fmt: skip
"""Keys that have entries of their own in the list, or are better written in the text."""


@lru_cache(maxsize=1)
def _schema() -> Node:
    return workflow.schema("habitat")


@lru_cache(maxsize=32)
def _choices(group: str) -> tuple[tuple[str, str], ...]:
    return tuple(editing.choices(group))


def _plain(node: Node) -> Node:
    """A node with its reference followed and its null choice taken off."""
    while True:
        if "$ref" in node:
            about = {k: v for k, v in node.items() if k == "description"}
            node = {**_schema()["$defs"][node["$ref"].rsplit("/", 1)[1]],
                    "name": node["$ref"].rsplit("/", 1)[1], **about}  # fmt: skip
            continue
        if "anyOf" in node:
            rest = [n for n in node["anyOf"] if n != {"type": "null"}]
            if len(rest) == 1:
                about = {k: v for k, v in node.items() if k == "description"}
                node = {**rest[0], **about}
                continue
        return node


def _alternative(node: Node, value: Any) -> Node:
    """Of a choice of parts the one that a value is."""
    options = node.get("oneOf") or node.get("anyOf")
    if not options:
        return node
    told = value if isinstance(value, Mapping) else {}
    for option in map(_plain, options):
        for key in ("shape", "kind"):
            wanted = _plain(option.get("properties", {}).get(key, {}))
            known = wanted.get("enum") or ([wanted["const"]] if "const" in wanted else [])
            if known and told.get(key) in known:
                return option
        if "mesh" in told and "mesh" in option.get("properties", {}):
            return option
    return node


def node_at(draft: Draft, loc: Loc) -> Node:
    """The schema of a place."""
    node = _plain(_schema())
    for n, part in enumerate(loc):
        if isinstance(part, int):
            node = _plain(node.get("items", {}))
        elif part in node.get("properties", {}):
            node = _plain(node["properties"][part])
        else:
            extra = node.get("additionalProperties")
            node = _plain(extra) if isinstance(extra, dict) else {}
        node = _alternative(node, draft.value(loc[: n + 1]))
    return node


def form(draft: Draft, loc: Loc, system: str) -> Spec:
    """The form of a part: its fields with what they hold, help, and what was refused."""
    node = node_at(draft, loc)
    part = node.get("name", "")
    value = draft.value(loc)
    fields = []
    for key, raw in node.get("properties", {}).items():
        inner = _plain(raw)
        if key in UNSHOWN or _holds_parts(inner):
            continue
        fields.append(_field(draft, (*loc, key), part, key, inner, system, node))
    listed = bool(loc) and (isinstance(loc[-1], int) or (len(loc) == 2 and loc[0] == "controls"))
    return {
        "loc": list(loc), "fields": fields, "about": node.get("description", ""),
        "removable": listed, "there": value is not None,
    }  # fmt: skip


def _holds_parts(node: Node) -> bool:
    """Whether a key holds parts that have entries of their own."""
    if node.get("type") == "array":
        items = _plain(node.get("items", {}))
        return bool(items.get("oneOf")) or not plain_words.kinds(node, _plain)
    if node.get("properties") or (
        node.get("type") == "object" and node.get("additionalProperties")
    ):
        return node.get("name") not in ("hours",)
    return False


def _field(
    draft: Draft, loc: Loc, part: str, key: str, node: Node, system: str, holder: Node
) -> Spec:
    value = draft.value(loc)
    about = " ".join(node.get("description", "").split())
    spec: Spec = {
        "key": key, "name": field_name(loc), "label": LABELS.get(key, key.replace("_", " ")),
        "about": about[:1].upper() + about[1:], "needed": key in holder.get("required", []),
        "kind": "text", "loc": list(loc),
    }  # fmt: skip
    many = node.get("type") == "array" and "x-quantity" in _plain(node.get("items", {}))
    if many:
        inner = _plain(node["items"])
        now = value if isinstance(value, list) else []
        most = max(node.get("maxItems", 3), len(now))
        axes = AXES.get(key, "xyz")
        if part == "opening" or (part == "fan" and key == "at"):
            axes = ("along", "up")
        spec |= {"kind": "many", "example": inner.get("examples", [""])[system == "us"],
                 "parts": [
                     _one(draft, (*loc, n), axes[n], now[n] if n < len(now) else None,
                          inner["x-quantity"], system)
                     for n in range(most)
                 ]}  # fmt: skip
        return spec
    group = GROUPS.get((part, key))
    if key == "material" and group is None and part in ("branch", "tube", "block", "rock", "mesh"):
        group = "materials"
    options = [(k, f"{label}") for k, label in _choices(group)] if group else []
    if (part, key) in NAMES:
        found = draft.value((NAMES[(part, key)],))
        names = list(found) if isinstance(found, dict) else [
            e.get("name") for e in found or [] if isinstance(e, dict)]  # fmt: skip
        options = [(n, n) for n in names if isinstance(n, str)]
        if key == "on":
            options = [("ground", "ground"), *options]
    enum = node.get("enum") or ([node["const"]] if "const" in node else None)
    if enum:
        options = [(str(e), str(e)) for e in enum]
    if node.get("type") == "boolean":
        options, spec["boolean"] = [("true", "yes"), ("false", "no")], True
    if options:
        chosen = (
            "" if value is None else str(value).lower() if isinstance(value, bool) else str(value)
        )
        if chosen and chosen not in {k for k, _ in options}:
            options = [(chosen, chosen), *options]
        spec |= {"kind": "choice", "options": options, "value": chosen,
                 "message": _said(draft, loc)}  # fmt: skip
        return spec
    quantity = node.get("x-quantity", "")
    examples = node.get("examples", [])
    spec |= _one(draft, loc, "", value, quantity, system, node)
    spec["example"] = examples[min(len(examples) - 1, int(system == "us"))] if examples else (
        plain_words.example(node, _plain, system))  # fmt: skip
    spec["about"] = " ".join(t for t in (spec["about"], plain_words.meaning(node, _plain)) if t)
    spec["plain"] = node.get("type") in ("number", "integer")
    return spec


def _one(
    draft: Draft, loc: Loc, label: str, value: Any, quantity: str, system: str,
    node: Node | None = None,
) -> Spec:  # fmt: skip
    """One box to type in: the text, what it is in the other system, and what was refused."""
    key = field_name(loc)
    told = plain_words.shown(value, node, _plain) if node is not None else None
    text = told if told is not None else "" if value is None else editing.written_value(value)
    refused = draft.refused.get(key)
    if refused is not None:
        text = str(refused.text)
    return {"name": key, "axis": label, "value": text, "quantity": quantity,
            "also": _also(text, quantity, system) if refused is None else "",
            "message": _said(draft, loc), "loc": list(loc)}  # fmt: skip


def _said(draft: Draft, loc: Loc) -> list[str]:
    refused = draft.refused.get(field_name(loc))
    return list(refused.messages) if refused else []


def _also(text: str, quantity: str, system: str) -> str:
    """What a quantity is in the units people are shown, where it is written in others."""
    if not text or quantity not in ("length", "temperature", "volume", "mass"):
        return ""
    try:
        shown = units.show(units.parse(text, quantity), quantity, system)
    except UnitError:
        return ""
    unit = units.KINDS[quantity].shows[system]
    if any(text.rstrip().endswith((name, word)) for _, name, word in unit):
        return ""
    return f"= {shown}"


def typed_value(field: Spec, typed: str, before: str, system: str, node: Node | None = None) -> Any:
    """What a typed text is meant to be in the file; None for nothing. ``node`` the place's schema,
    where what it holds may be typed in plain words.

    A bare number takes the unit that stood there, or the one people are shown; where those are of two
    systems it stays bare, and the field asks for its unit.
    """
    text = typed.strip()
    if not text:
        return None
    quantity = field.get("quantity", "")
    if field.get("boolean"):
        return text == "true"
    if field.get("kind") == "choice":
        return text
    if quantity and quantity != "clock" and re.fullmatch(r"[-+]?[\d.]+(/\d+)?", text):
        written = before if re.match(r"[-+]?[\d.]", before) else ""
        unit = re.sub(r"^[-+\d./\s]+", "", written) or _usual_unit(quantity, system)
        return text if _also(written, quantity, system) else f"{text} {unit}"
    if quantity:
        return text
    if field.get("plain"):
        return plain_words.number(text)
    if text[0] in "[{" or field.get("key") == "along":
        return editing.read_value(text)
    return plain_words.meant(text, node or {}, _plain)


def _usual_unit(quantity: str, system: str) -> str:
    if quantity == "length":
        return "in" if system == "us" else "cm"
    shows = units.KINDS[quantity].shows[system]
    return shows[-1][1] if shows else ""
