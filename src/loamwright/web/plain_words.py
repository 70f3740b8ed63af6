"""What the file holds in brackets and braces, told and typed in plain words: ``08:00 to 18:00``,
``4 coir, 3 composted-bark``, ``08:00 for 70 s, 12:30 for 70 s``, ``10 cm, 20 cm, 30 cm``."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

Node = dict[str, Any]
Plain = Callable[[Node], Node]

JOINS = {"misttime": "for"}
"""The word between the two values of a part, where it is not ``to``."""


def options(node: Node, plain: Plain) -> list[Node]:
    """The kinds of value that a place takes."""
    return [plain(n) for n in node.get("oneOf") or node.get("anyOf") or [node]]


def _pair(node: Node) -> tuple[str, str] | None:
    """The two keys of a part that has two, both needed."""
    wanted = node.get("required", [])
    known = list(node.get("properties", {}))
    return (known[0], known[1]) if len(known) == 2 and set(known) == set(wanted) else None


def _join(node: Node) -> str:
    return JOINS.get(node.get("name", ""), "to")


def _share_out(node: Node) -> bool:
    """Whether a place holds numbers by names of any kind."""
    return bool(node.get("patternProperties"))


def kinds(node: Node, plain: Plain) -> bool:
    """Whether a list holds what can be told in words here: texts, numbers, or pairs."""
    items = plain(node.get("items", {}))
    return not items.get("properties") or _pair(items) is not None


def shown(value: Any, node: Node, plain: Plain) -> str | None:
    """A value in plain words; None where this knows none for it."""
    for option in options(node, plain):
        if isinstance(value, Mapping):
            told = _shown_keys(value, option)
        elif isinstance(value, list) and option.get("type") == "array":
            told = _shown_list(value, plain(option.get("items", {})))
        else:
            continue
        if told is not None:
            return told
    return None


def _shown_keys(value: Mapping[str, Any], node: Node) -> str | None:
    pair = _pair(node)
    if pair is not None and set(value) == set(pair):
        first, second = (value[k] for k in pair)
        flat = all(isinstance(v, (str, int, float)) for v in (first, second))
        return f"{first} {_join(node)} {second}" if flat else None
    if _share_out(node) and all(isinstance(v, (int, float)) for v in value.values()):
        if any("," in k for k in value):
            return None
        return ", ".join(f"{v:g} {k}" for k, v in value.items())
    return None


def _shown_list(value: list[Any], items: Node) -> str | None:
    if all(isinstance(v, Mapping) for v in value) and _pair(items) is not None:
        parts = [_shown_keys(v, items) for v in value]
        return ", ".join(p for p in parts if p) if all(parts) else None
    if any(not isinstance(v, (str, int, float)) or "," in str(v) for v in value):
        return None
    return ", ".join(f"{v:g}" if isinstance(v, float) else str(v) for v in value)


def meant(text: str, node: Node, plain: Plain) -> Any:
    """What typed words mean; the text itself where no kind of value can be told from them."""
    for option in options(node, plain):
        value = _meant(text, option, plain)
        if value is not None:
            return value
    return text


def _meant(text: str, node: Node, plain: Plain) -> Any:
    pair = _pair(node)
    if pair is not None:
        return _meant_pair(text, pair, _join(node))
    if _share_out(node):
        found = [re.fullmatch(r"([\d.]+)\s+(?:parts?\s+)?(\S.*)", p) for p in _parts(text)]
        if not all(found):
            return None
        return {m.group(2): number(m.group(1)) for m in found if m}
    if node.get("type") != "array":
        return None
    items = plain(node.get("items", {}))
    pair = _pair(items)
    if pair is not None:
        pairs = [_meant_pair(p, pair, _join(items)) for p in _parts(text)]
        return pairs if pairs and all(pairs) else None
    numbers = items.get("type") in ("number", "integer")
    if "," not in text and not numbers:
        return None
    return [number(p) if numbers else p for p in _parts(text)]


def _meant_pair(text: str, keys: tuple[str, str], join: str) -> dict[str, str] | None:
    found = re.fullmatch(rf"(\S.*?)\s+(?:{join}|–)\s+(\S.*)", text.strip())
    return dict(zip(keys, found.groups(), strict=True)) if found else None


def _parts(text: str) -> list[str]:
    return [p.strip() for p in text.split(",") if p.strip()]


def number(text: str) -> Any:
    """A whole or decimal number, or the text where it is none."""
    for kind in (int, float):
        try:
            return kind(text)
        except ValueError:
            continue
    return text


def example(node: Node, plain: Plain, system: str) -> str:
    """How such a value is typed; empty where any text will do."""
    for option in options(node, plain):
        items = plain(option.get("items", {})) if option.get("type") == "array" else option
        pair = _pair(items)
        if pair is not None:
            said = []
            for key in pair:
                given = plain(items["properties"][key]).get("examples", [""])
                said.append(str(given[min(len(given) - 1, int(system == "us"))]))
            return f" {_join(items)} ".join(said)
        if _share_out(option):
            return "2 coir, 1 sand"
    return ""


def meaning(node: Node, plain: Plain) -> str:
    """What the two values of a pair are, in the order they are typed."""
    for option in options(node, plain):
        items = plain(option.get("items", {})) if option.get("type") == "array" else option
        pair = _pair(items)
        if pair is not None and pair != ("from", "to"):
            first, second = (k.replace("_", " ") for k in pair)
            return f"Typed as: {first}, the word '{_join(items)}', {second}."
    return ""
