"""The habitat file's JSON Schema, and the reference page made from it."""

from __future__ import annotations

from typing import Any

from loamwright.files.schema_habitat import HabitatPart

_DRAFT = "https://json-schema.org/draft/2020-12/schema"


def habitat_schema() -> dict[str, Any]:
    """The JSON Schema of the habitat file (draft 2020-12).

    It says what the keys are and how values are written. What only the reader can know (names
    that must exist, geometry that must fit, limits of a quantity) is not in it. Texts with
    ``x-quantity`` are a number with a unit of that kind.
    """
    raw = HabitatPart.model_json_schema(by_alias=True)
    names = {name: name.removesuffix("Part").lower() for name in raw["$defs"]}
    schema: dict[str, Any] = {"$schema": _DRAFT, "title": "Habitat file"}
    schema.update(_clean({k: v for k, v in raw.items() if k != "$defs"}, names))
    schema["title"] = "Habitat file"
    schema["anyOf"] = [{"required": ["animals"]}, {"required": ["plants"]}]
    schema["$defs"] = {names[k]: _clean(v, names) for k, v in sorted(raw["$defs"].items())}
    return schema


def _clean(node: Any, names: dict[str, str]) -> Any:
    """Without generated titles; a key that may be left out may also be empty."""
    if isinstance(node, list):
        return [_clean(item, names) for item in node]
    if not isinstance(node, dict):
        return node
    out: dict[str, Any] = {}
    for key, value in node.items():
        if key == "title" and isinstance(value, str):
            continue
        if key == "default":
            continue
        if key == "$ref":
            out[key] = f"#/$defs/{names[value.rsplit('/', 1)[1]]}"
        elif key == "properties":
            needed = node.get("required", [])
            out[key] = {k: _optional(_clean(v, names), k in needed) for k, v in value.items()}
        else:
            out[key] = _clean(value, names)
    if "description" in out:
        out["description"] = " ".join(out["description"].split())
    return out


def _optional(schema: dict[str, Any], needed: bool) -> dict[str, Any]:
    if needed or {"type": "null"} in schema.get("anyOf", []):
        return schema
    described = {"description": schema["description"]} if "description" in schema else {}
    rest = {k: v for k, v in schema.items() if k != "description"}
    return {"anyOf": [rest, {"type": "null"}], **described}


def schema_markdown() -> str:
    """The reference page of the habitat file, made from its JSON Schema."""
    schema = habitat_schema()
    lines = [
        "# The habitat file",
        "",
        "This page is made from the JSON Schema (`loamwright schema`).",
        "",
        *_paragraphs(HabitatPart.__doc__ or ""),
        "",
        "Unknown keys are errors. A key without a value counts as left out. Whatever is left out",
        "gets the default that stands here; `loamwright check --explain` shows each one used.",
        "",
        "## The keys of the file",
        "",
        *_table(schema),
    ]
    seen: set[str] = set()
    for name in _order(schema):
        if name in seen:
            continue
        seen.add(name)
        part = schema["$defs"][name]
        lines += ["", f"## {name}", "", part.get("description", ""), "", *_table(part)]
    return "\n".join(lines) + "\n"


def _paragraphs(text: str) -> list[str]:
    return [line.strip() for line in text.strip().splitlines()]


def _table(part: dict[str, Any]) -> list[str]:
    needed = part.get("required", [])
    lines = ["| key | written as | what it is |", "| --- | --- | --- |"]
    for key, value in part.get("properties", {}).items():
        name = f"**`{key}`**" if key in needed else f"`{key}`"
        text = value.get("description", "").replace("|", "\\|")
        lines.append(f"| {name} | {_form(value)} | {text} |")
    return [*lines, "", "Bold keys are needed."] if needed else lines


def _form(schema: dict[str, Any]) -> str:
    """How a value is written, in a few words."""
    if "$ref" in schema:
        name = schema["$ref"].rsplit("/", 1)[1]
        return f"[{name}](#{name})"
    options = [o for o in schema.get("anyOf", schema.get("oneOf", [])) if o != {"type": "null"}]
    if options:
        return " or ".join(dict.fromkeys(_form(o) for o in options))
    if "const" in schema:
        return f"`{schema['const']}`"
    if "enum" in schema:
        return ", ".join(f"`{word}`" for word in schema["enum"])
    kind = schema.get("type")
    if kind == "array":
        inner = schema.get("items", {})
        low, high = schema.get("minItems"), schema.get("maxItems")
        if high is not None and high <= 3:
            count = f"{high}" if low == high else f"{low} or {high}"
            return f"list of {count}: {_form(inner)}"
        return f"list of: {_form(inner)}"
    if "x-quantity" in schema:
        return f"{schema['x-quantity']}: " + ", ".join(f"`{e}`" for e in schema["examples"])
    words = {"string": "text", "integer": "whole number", "boolean": "`true`, `false`"}
    if kind == "object":
        # Where names have a form of their own, what they name stands under it.
        named = schema.get("patternProperties", {})
        inner = next(iter(named.values()), schema.get("additionalProperties", {}))
        return (
            "texts by key"
            if inner.get("type") == "string" and ("x-quantity" not in inner)
            else f"by name: {_form(inner)}"
        )
    return words.get(str(kind), str(kind))


def _order(schema: dict[str, Any]) -> list[str]:
    """Names of the parts in the order a reader meets them."""
    found: list[str] = []
    waiting = [schema.get("properties", {})]
    while waiting:
        node = waiting.pop(0)
        refs: list[str] = []
        _refs(node, refs)
        for name in refs:
            if name not in found:
                found.append(name)
                waiting.append(schema["$defs"][name].get("properties", {}))
    return found


def _refs(node: Any, found: list[str]) -> None:
    if isinstance(node, list):
        for item in node:
            _refs(item, found)
    elif isinstance(node, dict):
        if "$ref" in node:
            found.append(node["$ref"].rsplit("/", 1)[1])
        for value in node.values():
            _refs(value, found)
