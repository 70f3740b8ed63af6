"""What the models found wrong, in plain words at its place in the file.

A faulty part is also taken out of the data, so that everything else can still be read and
checked: one wrong lamp must not hide a branch that sticks out of the box.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from loamwright.errors import Problem
from loamwright.files.document import Document, Loc, nearest, suggest
from loamwright.files.schema_climate import CONTROL_KEYS
from loamwright.files.schema_habitat import HabitatPart
from loamwright.files.schema_inside import SHAPES
from loamwright.files.schema_values import Part
from loamwright.habitat.controls import KINDS

_TAGS = frozenset({"word", "many", "pairs"})
_CHOICES = frozenset(
    {"along", "aim", "normal", "for", "from", "hours", "guard", "night", "heating"}
)
_FORMS = {
    "string_type": "must be a text{quote}",
    "list_type": "must be a list: [..., ...]",
    "model_type": "must be keys with values: {{key: value, ...}}",
    "model_attributes_type": "must be keys with values: {{key: value, ...}}",
    "dict_type": "must be keys with values: {{key: value, ...}}",
    "union_tag_invalid": "must be a word or a list: [..., ...]",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "int_parsing_size": "is too large a number",
    "bool_type": "must be true or false",
    "string_too_short": "must not be empty",
    "string_too_long": "is too long: at most {max_length} characters",
    "string_pattern_mismatch": "must be a single line without tabs",
    "greater_than_equal": "must be {ge} or more, not {input}",
    "less_than_equal": "must be {le} or less, not {input}",
    "too_short": "has {actual_length} parts; {min_length} are needed",
    "too_long": "has {actual_length} parts; at most {max_length} are read",
}

_STAND_IN = {"inside": {"width": "50 m", "depth": "50 m", "height": "50 m"}}


@dataclass(slots=True)
class Read:
    """What could be read of a file.

    ``part`` None where nothing could, read from ``data``; ``places`` gives, for a list some
    entries of which were left out, the place in the file of each that remains; ``box_known`` is
    False where the enclosure had to be replaced, so that nothing can be held against its size.
    """

    part: HabitatPart | None = None
    data: Any = None
    problems: list[Problem] = field(default_factory=list)
    places: dict[str, list[int]] = field(default_factory=dict)
    box_known: bool = True


def read_models(doc: Document) -> Read:
    """Read the models; what is faulty is reported and left out."""
    result = Read()
    data = doc.data
    for attempt in range(12):
        models: dict[int, type[Part]] = {}
        result.data = data
        try:
            result.part = HabitatPart.model_validate(data, context=models)
            return result
        except ValidationError as error:
            details = error.errors(include_url=False)
        except (RecursionError, ValueError, OverflowError, TypeError) as error:
            result.problems.append(doc.problem((), f"cannot be read: {type(error).__name__}"))
            return result
        if attempt == 0:
            result.problems += [_problem(doc, detail, models) for detail in details]
        data = _without(data, [_plain(d["loc"]) for d in details], result)
        if data is None:
            break
    return result


def _plain(loc: Loc) -> list[str | int]:
    """A location without the tags of choices."""
    out: list[str | int] = []
    for i, part in enumerate(loc):
        if part in _TAGS and i and loc[i - 1] in _CHOICES:
            continue
        if i == 2 and loc[0] == "hardscape" and part in (*SHAPES, "mesh"):
            continue
        if i == 2 and loc[0] == "controls" and part in KINDS:
            continue
        out.append(part)
    return out


def _problem(doc: Document, detail: ErrorDetails, models: Mapping[int, type[Part]]) -> Problem:
    loc = _plain(detail["loc"])
    kind, found = detail["type"], detail["input"]
    if kind == "missing":
        return doc.problem(loc, f"is needed: {_needed(doc, loc, models)}")
    if kind == "extra_forbidden":
        holder = doc.get(loc[:-1])
        known = models[id(holder)].keys() if id(holder) in models else []
        present = holder if isinstance(holder, dict) else {}
        unused = [k for k in known if k not in present]
        likely = unused if nearest(str(loc[-1]), unused) else known
        hint = suggest(str(loc[-1]), likely)
        return doc.problem(loc, f"unknown key; {hint}", key=True)
    if kind == "literal_error":
        allowed = [w.strip("'") for w in _split(str(detail.get("ctx", {}).get("expected", "")))]
        listed = ", ".join(allowed)
        if isinstance(found, str) and len(allowed) > 6:
            return doc.problem(loc, f"{_short(found)} is not known; {suggest(found, allowed)}")
        return doc.problem(loc, f"{_short(found)} is not one of: {listed}")
    if kind == "union_tag_not_found":
        return (_no_kind if loc[0] == "controls" else _no_shape)(doc, loc, found)
    if kind == "loamwright":
        return doc.problem(loc, str(detail.get("ctx", {}).get("message", detail["msg"])))
    form = _FORMS.get(kind)
    if form is None:
        return doc.problem(loc, detail["msg"].removeprefix("Input should be ").lower())
    quote = (
        f'; put it in quotes: "{_short(found)}"' if isinstance(found, int | float | bool) else ""
    )
    context = {**detail.get("ctx", {}), "quote": quote, "input": _short(found)}
    return doc.problem(loc, form.format(**context))


def _needed(doc: Document, loc: Loc, models: Mapping[int, type[Part]]) -> str:
    """What the missing field is, from its own description."""
    model = models.get(id(doc.get(loc[:-1])))
    for name, info in model.model_fields.items() if model else ():
        if loc[-1] in (name, info.alias) and info.description:
            return info.description.removesuffix(".")
    return "it has no default"


def _no_shape(doc: Document, loc: list[str | int], found: Any) -> Problem:
    if not isinstance(found, dict):
        return doc.problem(loc, "must be keys with values: {name: ..., shape: ...}")
    if "shape" not in found:
        return doc.problem(
            [*loc, "shape"], f"is needed: one of {', '.join(SHAPES)}, or 'mesh' with a file"
        )
    shape = found["shape"]
    message = f"{_short(shape)} is not one of: {', '.join(SHAPES)} (or give 'mesh' with a file)"
    return doc.problem([*loc, "shape"], message)


def _no_kind(doc: Document, loc: list[str | int], found: Any) -> Problem:
    if not isinstance(found, dict):
        message = "must be keys with values: {kind: ..., probe: ...}"
        return doc.problem(loc, message, key=True)
    if found.get("kind") is None:
        strange = [k for k in found if k not in CONTROL_KEYS]
        if "kind" not in found and len(strange) == 1:
            message = f"unknown key; 'kind' is needed: one of {', '.join(KINDS)}"
            return doc.problem([*loc, strange[0]], message, key=True)
        return doc.problem([*loc, "kind"], f"is needed: one of {', '.join(KINDS)}")
    return doc.problem([*loc, "kind"], f"{_short(found['kind'])} is not one of: {', '.join(KINDS)}")


def _split(expected: str) -> list[str]:
    return [word.strip() for word in expected.replace(" or ", ", ").split(",") if word.strip()]


def _short(value: Any) -> str:
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, bool):
        return str(value).lower()  # as YAML writes it
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _without(data: Any, locs: list[list[str | int]], result: Read) -> Any:
    """The data without the smallest parts that can be left out around each location."""
    if not isinstance(data, dict):
        return None
    out = dict(data)
    gone: dict[tuple[str, ...], set[int]] = {}
    for loc in locs:
        if not loc:
            return None
        head = loc[0]
        if head == "name":
            out["name"] = "unnamed"
        elif head == "enclosure":
            if not _trim_enclosure(out, loc, gone):
                box = out.get("enclosure")
                out["enclosure"] = (box if isinstance(box, dict) else {}) | _STAND_IN
                result.box_known = False
        elif head == "mist" and len(loc) > 1 and isinstance(out.get(head), dict):
            _trim_mist(out, loc, gone)
        elif _by_key(loc) and isinstance(out.get(head), dict):
            out[head] = {k: v for k, v in out[head].items() if k != loc[1]}
        elif len(loc) > 1 and isinstance(loc[1], int):
            gone.setdefault((str(head),), set()).add(loc[1])
        else:
            out.pop(str(head), None)
    for path, drop in gone.items():
        holder = out
        for part in path[:-1]:
            holder = holder[part]
        entries = holder.get(path[-1])
        if not isinstance(entries, list):
            continue
        key = ".".join(path)
        places = result.places.get(key, list(range(len(entries))))
        result.places[key] = [p for i, p in enumerate(places) if i not in drop]
        holder[path[-1]] = [e for i, e in enumerate(entries) if i not in drop]
    return out


def _by_key(loc: list[str | int]) -> bool:
    """True where what is faulty is one key of a section and the rest can do without it."""
    if len(loc) < 2:
        return False
    return loc[0] in ("controls", "room", "build") or (loc[0] == "money" and loc[1] != "currency")


def _trim_mist(
    out: dict[str, Any], loc: list[str | int], gone: dict[tuple[str, ...], set[int]]
) -> None:
    """Take one faulty part out of the mist; a tank that cannot be read gets a stand-in."""
    mist = out["mist"] = dict(out["mist"])
    key = str(loc[1])
    if key == "tank":
        mist[key] = "1 L"
    elif key in ("nozzles", "times") and len(loc) > 2 and isinstance(loc[2], int):
        gone.setdefault(("mist", key), set()).add(loc[2])
    else:
        mist.pop(key, None)


def _trim_enclosure(
    out: dict[str, Any], loc: list[str | int], gone: dict[tuple[str, ...], set[int]]
) -> bool:
    """Take one faulty part out of the enclosure; False where its inside is what is faulty."""
    box = out.get("enclosure")
    if len(loc) < 2 or loc[1] == "inside" or not isinstance(box, dict):
        return False
    box = out["enclosure"] = dict(box)
    key = str(loc[1])
    if key == "panels" and len(loc) > 2 and isinstance(box.get(key), dict):
        box[key] = {k: v for k, v in box[key].items() if k != loc[2]}
    elif key in ("openings", "lining") and len(loc) > 2 and isinstance(loc[2], int):
        gone.setdefault(("enclosure", key), set()).add(loc[2])
    else:
        box.pop(key, None)
    return True
