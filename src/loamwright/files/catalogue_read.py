"""One catalogue entry: from plain data to checked values in SI, each with its source."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from loamwright.errors import Problem, UnitError
from loamwright.files.catalogue_fields import COMMON, FIELDS, Field
from loamwright.files.document import suggest
from loamwright.habitat.bands import BANDS
from loamwright.habitat.sources import Source, SourceKind
from loamwright.units import parse, show


class Say(Protocol):
    """Places a message at a part of the file: at its value, or at its key."""

    def __call__(self, loc: Sequence[str | int], message: str, *, key: bool = False) -> Problem:
        """The problem in its place."""


KINDS: tuple[str, ...] = tuple(k.value for k in SourceKind)


@dataclass(frozen=True, slots=True)
class Parsed:
    """Checked values [SI] of an entry and the source of each numeric field."""

    key: str
    label: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)


def read_entry(
    group: str, key: str, raw: Any, say: Say, problems: list[Problem], base: Parsed | None = None
) -> Parsed | None:
    """Read one entry over a ``base`` it is like; None when it cannot be used.

    Every problem found is added to ``problems``; ``say`` places them.
    """
    if not isinstance(raw, Mapping):
        problems.append(say((), "is not a set of fields; write label:, sources: and its values"))
        return None
    before = len(problems)
    fields = FIELDS[group]
    for name in raw:
        if name not in fields and name not in COMMON:
            known = suggest(str(name), [*fields, *COMMON])
            problems.append(say((name,), f"there is no field {name!r}; {known}", key=True))
    given = {name: raw[name] for name in fields if raw.get(name) is not None}
    values: dict[str, Any] = dict(base.values) if base else {}
    for name, value in given.items():
        try:
            values[name] = read_value(value, fields[name])
        except _AtError as error:
            problems.append(say((name, *error.loc), error.message))
    sources = _sources(raw.get("sources"), given, fields, say, problems)
    merged = {**(base.sources if base else {}), **sources}
    for name, what in fields.items():
        if what.required and name not in values and name not in given:
            problems.append(say((), f"{name} is missing{_hint(what)}"))
    label = raw.get("label") or (base.label if base else "") or key
    if not isinstance(label, str):
        problems.append(say(("label",), "is not a text"))
    if len(problems) > before:
        return None
    return Parsed(key, label, values, merged)


def _hint(what: Field) -> str:
    if what.choices:
        return f"; one of {', '.join(what.choices)}"
    return {
        "ratio": "; a fraction such as 0.3",
        "radiant": "; such as {led-4000k: 18 W}",
        "flow": "; such as 85 m3/h",
        "pressure": "; such as 36 Pa",
        "speed": "; such as 1 m/s",
        "recipe": "; such as {coir: 4, sand: 1}",
    }.get(what.kind, "")


def _sources(
    raw: Any,
    given: Mapping[str, Any],
    fields: Mapping[str, Field],
    say: Say,
    problems: list[Problem],
) -> dict[str, Source]:
    """The source of each field given here; ``*`` is written out, so that a copy keeps its own and
    a field nobody gave is not laid at its door."""
    table: dict[str, Source] = {}
    if raw is not None and not isinstance(raw, Mapping):
        problems.append(say(("sources",), 'is not a list of sources; write "*": {kind, text}'))
        return table
    for name, value in (raw or {}).items():
        if name != "*" and name not in fields:
            known = suggest(str(name), fields)
            message = f"there is no field {name!r}; {known}"
            problems.append(say(("sources", name), message, key=True))
            continue
        try:
            table[str(name)] = read_source(value)
        except _AtError as error:
            problems.append(say(("sources", name, *error.loc), error.message))
    default = table.pop("*", None)
    for name in given:
        if name in table:
            continue
        if default is not None:
            table[name] = default
        elif not fields[name].numeric:
            continue
        elif raw is None or not isinstance(raw.get(name), Mapping):
            message = "has no source; name one under sources: (for this field, or * for all)"
            problems.append(say((name,), message))
    return table


def read_source(value: Any) -> Source:
    """A source: its kind and words; words alone are the builder's own."""
    if isinstance(value, str):
        return Source(value, SourceKind.BUILDER)
    if not isinstance(value, Mapping):
        raise _AtError("is not a source; write {kind: published, text: who and where}")
    for name in value:
        if name not in ("kind", "text"):
            raise _AtError(f"there is no {name!r} in a source; it has kind and text", name)
    kind, text = value.get("kind"), value.get("text")
    if kind not in KINDS:
        raise _AtError(f"{kind!r} is not a kind of source; one of {', '.join(KINDS)}", "kind")
    if not isinstance(text, str) or not text.strip():
        raise _AtError("a source needs a text that says where the number comes from", "text")
    return Source(text.strip(), SourceKind(kind))


class _AtError(Exception):
    """A value that is wrong at a place inside its field."""

    def __init__(self, message: str, *loc: str | int) -> None:
        super().__init__(message)
        self.message = message
        self.loc = loc


def read_value(value: Any, what: Field) -> Any:
    """One field's value in SI."""
    if what.kind == "text":
        if not isinstance(value, str):
            raise _AtError(f"{value!r} is not a text")
        return value
    if what.kind == "flag":
        if not isinstance(value, bool):
            raise _AtError(f"{value!r} is neither true nor false")
        return value
    if what.kind == "choice":
        if value not in what.choices:
            raise _AtError(f"{value!r} is not one of {', '.join(what.choices)}")
        return value
    if what.pair:
        return _pair(value, what)
    special = {
        "bands": _bands, "radiant": _radiant, "parts": _parts, "numbers": _numbers, "curve": _curve,
        "recipe": _recipe,
    }  # fmt: skip
    if what.kind in special:
        return special[what.kind](value, what)
    return _number(value, what)


def _number(value: Any, what: Field) -> float | int:
    """One number of a kind, in SI, within its limits."""
    try:
        if what.kind == "count":
            if isinstance(value, bool) or not isinstance(value, int):
                raise _AtError(f"{value!r} is not a whole number")
            number: float | int = value
        elif what.kind == "ratio":
            number = parse(value, "share" if isinstance(value, str) else "number")
        else:
            number = parse(value, what.kind)
    except UnitError as error:
        raise _AtError(str(error)) from None
    if what.low is not None and number < what.low:
        raise _AtError(f"{value} is below {_shown(what.low, what)}, the least that makes sense")
    if what.high is not None and number > what.high:
        raise _AtError(f"{value} is above {_shown(what.high, what)}, the most that makes sense")
    return number


def _shown(limit: float, what: Field) -> str:
    plain = what.kind in ("count", "ratio", "number", "numbers", "bands")
    return f"{limit:g}" if plain else show(limit, what.kind)


def _pair(value: Any, what: Field) -> tuple[float | None, float | None]:
    if not isinstance(value, list) or len(value) != 2:
        raise _AtError(f"{value!r} is not a range; write [low, high], null where open")
    single = replace(what, pair=False)
    ends: list[float | None] = []
    for i, end in enumerate(value):
        try:
            ends.append(None if end is None else _number(end, single))
        except _AtError as error:
            raise _AtError(error.message, i) from None
    low, high = ends
    if low is not None and high is not None and low > high:
        raise _AtError(f"{value[0]} is more than {value[1]}; write the lower one first")
    return low, high


def _bands(value: Any, what: Field) -> tuple[float, ...]:
    if not isinstance(value, Mapping):
        raise _AtError(f"is not given by band; write {{{': ..., '.join(BANDS)}: ...}}")
    for name in value:
        if name not in BANDS:
            raise _AtError(f"there is no band {name!r}; bands are {', '.join(BANDS)}", name)
    if missing := [name for name in BANDS if value.get(name) is None]:
        raise _AtError(f"the band {missing[0]} is missing; all of {', '.join(BANDS)} are needed")
    out: list[float] = []
    for name in BANDS:
        try:
            out.append(_number(value[name], replace(what, kind="ratio")))
        except _AtError as error:
            raise _AtError(error.message, name) from None
    return tuple(out)


def _radiant(value: Any, what: Field) -> dict[str, float]:
    if not isinstance(value, Mapping) or not value:
        raise _AtError("is not given by spectrum; write it like {led-4000k: 18 W}")
    out: dict[str, float] = {}
    for name, watts in value.items():
        try:
            out[str(name)] = _number(watts, Field("power", low=0.0))
        except _AtError as error:
            raise _AtError(error.message, name) from None
    if what.required and not math.fsum(out.values()) > 0.0:
        raise _AtError("nothing shines: at least one spectrum needs more than 0 W")
    return out


def _recipe(value: Any, what: Field) -> dict[str, float]:
    if not isinstance(value, Mapping) or not value:
        raise _AtError("is not a recipe; write parts by volume like {coir: 4, sand: 1}")
    if len(value) > 50:
        raise _AtError(f"has {len(value)} components; 50 are enough for any mix")
    out: dict[str, float] = {}
    for name, parts in value.items():
        try:
            out[str(name)] = _number(parts, Field("number", low=0.0, high=1e6))
        except _AtError as error:
            raise _AtError(error.message, name) from None
    if not math.fsum(out.values()) > 0.0:
        raise _AtError("sums to 0: at least one component needs more than 0 parts")
    return out


PART_SHAPES: dict[str, str] = {
    "band": "wavelength",
    "line": "wavelength",
    "black": "temperature",
    "tungsten": "temperature",
}
"""What a part of a spectrum can be, and what its number is: a bell-shaped band or a line at a
wavelength, a black body or a tungsten filament at a temperature."""


def _parts(value: Any, what: Field) -> tuple[dict[str, float], ...]:
    if not isinstance(value, list) or not value:
        raise _AtError("is not a list of parts; write it like [{band: 450 nm, width: 20 nm, ...}]")
    return tuple(_part(part, i) for i, part in enumerate(value))


def _part(part: Any, i: int) -> dict[str, float]:
    if not isinstance(part, Mapping):
        raise _AtError("is not a part of a spectrum", i)
    allowed = (*PART_SHAPES, "width", "share")
    for name in part:
        if name not in allowed:
            raise _AtError(f"there is no {name!r} here; {suggest(str(name), allowed)}", i, name)
    shapes = [name for name in PART_SHAPES if part.get(name) is not None]
    if len(shapes) != 1:
        raise _AtError(f"a part is one of {', '.join(PART_SHAPES)}", i)
    needed = [shapes[0], "share", *(["width"] if shapes[0] == "band" else [])]
    out: dict[str, float] = {}
    for name in needed:
        if part.get(name) is None:
            raise _AtError(f"a part that is a {shapes[0]} needs {name}", i)
        kind = PART_SHAPES.get(name, "wavelength" if name == "width" else "ratio")
        low, high = {
            "wavelength": (0.5 if name == "width" else 200.0, 3000.0),
            "temperature": (300.0, 10_000.0),
        }.get(kind, (0.0, 1e6))
        try:
            out[name] = _number(part[name], Field(kind, low=low, high=high))
        except _AtError as error:
            raise _AtError(error.message, i, name) from None
    return out


def _numbers(value: Any, what: Field) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) < 2:
        raise _AtError("is not a list of two or more plain numbers")
    if len(value) > 5000:
        raise _AtError(f"has {len(value)} numbers; 5000 are enough for any spectrum")
    out: list[float] = []
    single = replace(what, kind="number")
    for i, number in enumerate(value):
        try:
            out.append(_number(number, single))
        except _AtError as error:
            raise _AtError(error.message, i) from None
    return tuple(out)


def _curve(value: Any, what: Field) -> tuple[tuple[float, float], ...]:
    """Points of a fan's data sheet: flow and pressure, in the order of the flow."""
    if not isinstance(value, list):
        raise _AtError("is not a list of points; write it like [[40 m3/h, 25 Pa], ...]")
    if len(value) > 100:
        raise _AtError(f"has {len(value)} points; 100 are enough for any fan")
    return tuple(_point(point, i) for i, point in enumerate(value))


def _point(point: Any, i: int) -> tuple[float, float]:
    if not isinstance(point, list) or len(point) != 2:
        raise _AtError("is not a point; write it like [40 m3/h, 25 Pa]", i)
    out: list[float] = []
    for k, kind in enumerate(("flow", "pressure")):
        try:
            out.append(_number(point[k], Field(kind, low=0.0)))
        except _AtError as error:
            raise _AtError(error.message, i, k) from None
    return out[0], out[1]
