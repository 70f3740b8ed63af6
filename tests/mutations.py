"""Ways to spoil a habitat file: each takes a right text and draws what to do to it.

A mutation knows what the parser knows: where every value and key stands. It returns the new text
and, where it is sure to be wrong at one place, the line and column that a message must name.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from hypothesis import strategies as st
from hypothesis.strategies import DataObject

from loamwright.files.document import Node, parse_document

Place = tuple[int, int]
Spoilt = tuple[str, Place | None]
"""The new text, and where a message must point (None: wrong somewhere, or perhaps not at all)."""


@dataclass(frozen=True)
class Value:
    """A scalar in the file: where it is and what it says."""

    loc: tuple[str | int, ...]
    start: int
    end: int
    text: str
    node: Node = field(repr=False)

    @property
    def key(self) -> str:
        """The nearest key above it."""
        return next(str(p) for p in reversed(self.loc) if isinstance(p, str))


@dataclass(frozen=True)
class Base:
    """A right file, and everything in it that can be spoilt."""

    name: str
    text: str = field(repr=False)
    folder: Path = field(repr=False)

    @cached_property
    def root(self) -> Node:
        """The file as nodes."""
        return parse_document(self.text, Path(self.name)).root

    @cached_property
    def values(self) -> list[Value]:
        """Every scalar."""
        out: list[Value] = []

        def walk(node: Node, loc: tuple[str | int, ...]) -> None:
            for part, child in node.children.items():
                start, end = node.spans[part]
                if child.children:
                    walk(child, (*loc, part))
                elif end > start and not isinstance(child.data, dict | list):
                    out.append(Value((*loc, part), start, end, self.text[start:end], child))

        walk(self.root, ())
        return out

    @cached_property
    def quantities(self) -> list[Value]:
        """Scalars that are a number with a unit."""
        return [
            v
            for v in self.values
            if re.fullmatch(r"-?[\d.]+ (cm|mm|m|in|ft|degC|degF|%|kg|h|L)", v.text)
        ]

    @cached_property
    def references(self) -> list[Value]:
        """Scalars that name something that must be there."""
        keys = {"species", "type", "material", "cover", "guard", "on", "aim", "for", "site",
                "about", "surface", "sire", "dam", "individuals", "animals", "fan", "filter",
                "control", "probe"}  # fmt: skip
        return [
            v for v in self.values
            if v.key in keys and isinstance(v.node.data, str) and " cm" not in v.text
        ]  # fmt: skip

    @cached_property
    def places(self) -> list[Value]:
        """Coordinates of things that must lie inside the box."""
        inside = {"hardscape", "sites", "water", "mist"}
        return [
            v for v in self.quantities
            if v.loc[0] in inside and v.key in ("at", "from", "to") and isinstance(v.loc[-1], int)
        ]  # fmt: skip

    @cached_property
    def keys(self) -> list[tuple[tuple[str | int, ...], int, Node]]:
        """Every key: its place in the tree, where it is written, and the node of its value."""
        out: list[tuple[tuple[str | int, ...], int, Node]] = []

        def walk(node: Node, loc: tuple[str | int, ...]) -> None:
            for part, child in node.children.items():
                if isinstance(part, str):
                    out.append(((*loc, part), node.key_starts[part], node))
                walk(child, (*loc, part))

        walk(self.root, ())
        return out

    def at(self, index: int) -> Place:
        """Line and column of a character."""
        return place(self.text, index)

    def put(self, value: Value, text: str) -> str:
        """The file with one value written otherwise."""
        return self.text[: value.start] + text + self.text[value.end :]


def place(text: str, index: int) -> Place:
    """Line and column, from 1, of a character."""
    return text.count("\n", 0, index) + 1, index - text.rfind("\n", 0, index)


WORD = st.text(alphabet="abcdefghijklmnopqrstuvwxyz", min_size=3, max_size=8).map("zq{}".format)
"""A word that names nothing."""


def unit(base: Base, data: DataObject) -> Spoilt:
    """A quantity with a wrong unit, none, or a number no one reads."""
    value = data.draw(st.sampled_from(base.quantities))
    number, _, own = value.text.partition(" ")
    other = "kg" if own in ("cm", "mm", "m", "in", "ft") else "cm"
    form = data.draw(st.sampled_from([
        "{n}", "'{n}'", "{n} {o}", "{n} {w}", "'{n},5 {u}'", "{n}-{n} {u}", "{n} * 2 {u}",
        "{w} {u}", "{u}", "'{n} {u} {u}'", "{n} {u}/s", "{n}.{n}.1 {u}", "'{n}{n}e{n}{n}{n}9 {u}'",
        "± {n} {u}", "yes", "''", "{n} {w}{u}",
    ]))  # fmt: skip
    text = form.format(n=number, o=other, u=own, w=data.draw(WORD))
    return base.put(value, text), base.at(value.start)


def kind(base: Base, data: DataObject) -> Spoilt:
    """A quantity that is a list, a group, a bare number, true, or a date."""
    value = data.draw(st.sampled_from(base.quantities))
    made = st.recursive(
        st.one_of(st.integers(), st.booleans().map(lambda b: str(b).lower()), WORD,
                  st.dates().map(str), st.floats(allow_nan=False, allow_infinity=False)),
        lambda inner: st.one_of(
            st.lists(inner, max_size=3).map(lambda x: f"[{', '.join(map(str, x))}]"),
            st.dictionaries(WORD, inner, max_size=3).map(
                lambda x: "{" + ", ".join(f"{k}: {v}" for k, v in x.items()) + "}"),
        ), max_leaves=6,
    )  # fmt: skip
    return base.put(value, str(data.draw(made))), base.at(value.start)


def number(base: Base, data: DataObject) -> Spoilt:
    """Gigantic, endless, vanishing and impossible numbers."""
    value = data.draw(st.sampled_from(base.quantities))
    own = value.text.partition(" ")[2]
    bare = st.sampled_from([".nan", ".inf", "-.inf", "1e999", "-1e400", ".NaN", "nan", "Infinity"])
    text = data.draw(st.one_of(
        bare,
        st.integers(6, 10**6).map(lambda e: f"1e{e} {own}"),
        st.integers(1, 10**6).map(lambda e: f"1e-{400 + e} {own}"),
        st.integers(10**9, 10**60).map(lambda n: f"{n} {own}"),
        st.integers(-(10**60), -(10**9)).map(lambda n: f"{n} {own}"),
        st.integers(41, 3000).map(lambda n: "9" * n),
        st.integers(80, 3000).map(lambda n: "9" * n + f" {own}"),
    ))  # fmt: skip
    return base.put(value, text), base.at(value.start)


def key(base: Base, data: DataObject) -> Spoilt:
    """A key misspelt, or one nobody knows added."""
    found = [k for k in base.keys if "condition" not in k[0]]
    loc, start, holder = data.draw(st.sampled_from(found))
    name = str(loc[-1])
    word = data.draw(WORD)
    form = data.draw(st.sampled_from(["{w}{k}", "{k}{w}", "{k}-{w}", "{K}", "add"]))
    if form == "add":
        if not holder.flow:
            line = base.text.rfind("\n", 0, start) + 1
            if base.text[line:start].strip():
                form = "{k}{w}"
            else:
                new = f"{base.text[line:start]}{word}: 1\n"
                return base.text[:line] + new + base.text[line:], base.at(start)
        else:
            return f"{base.text[:start]}{word}: 1, {base.text[start:]}", base.at(start)
    new = form.format(k=name, K=name.upper(), w=word)
    # A piece without its shape is asked for the shape, and nothing else is said of its keys.
    where = None if name in ("shape", "mesh") else base.at(start)
    return base.text[:start] + new + base.text[start + len(name) :], where


def twice(base: Base, data: DataObject) -> Spoilt:
    """A key that is there twice."""
    inside = [k for k in base.keys if k[2].flow]
    loc, start, _ = data.draw(st.sampled_from(inside))
    name = str(loc[-1])
    copy = f"{name}: {data.draw(WORD)}, "
    new = base.text[:start] + copy + base.text[start:]
    return new, place(new, start + len(copy))


def reference(base: Base, data: DataObject) -> Spoilt:
    """A name of nothing."""
    value = data.draw(st.sampled_from(base.references))
    return base.put(value, data.draw(WORD)), base.at(value.start)


def outside(base: Base, data: DataObject) -> Spoilt:
    """A thing out of the box."""
    value = data.draw(st.sampled_from(base.places))
    length = data.draw(st.integers(11, 99))
    form = data.draw(
        st.sampled_from(["{n} m", "-{n} m", "{n}00 cm", "-{n} ft", "{n}0 ft", "-{n}0 in"])
    )
    return base.put(value, form.format(n=length)), None


def character(base: Base, data: DataObject) -> Spoilt:
    """A character that no text file holds."""
    index = data.draw(st.integers(0, len(base.text)))
    bad = [chr(c) for c in (*range(9), 11, 12, *range(14, 32), *range(127, 160), 0xFFFE, 0x2028)]
    found = data.draw(st.sampled_from(bad))
    return base.text[:index] + found + base.text[index:], base.at(index)


def nesting(base: Base, data: DataObject) -> Spoilt:
    """A value so many levels deep."""
    value = data.draw(st.sampled_from(base.quantities))
    levels = data.draw(st.integers(1, 60))
    opened, closed = data.draw(st.sampled_from([("[", "]"), ("{a: ", "}"), ("[{b: ", "}]")]))
    text = opened * levels + value.text
    text += closed * data.draw(st.sampled_from([levels, levels, levels, max(levels - 1, 0)]))
    return base.put(value, text), None


def marker(base: Base, data: DataObject) -> Spoilt:
    """Aliases of nothing and of themselves, tags, merge keys."""
    value = data.draw(st.sampled_from(base.values))
    word = data.draw(WORD)
    form = data.draw(st.sampled_from([
        "*{w}", "!!{w} {t}", "!{w} {t}", "!!python/object/apply:os.{w} [{t}]", "&{w} [*{w}]",
        "{{<<: {t}}}", "{{<<: *{w}}}", "!<{w}> {t}", "&{w} {{a: *{w}}}", "{{[{t}]: {w}}}",
    ]))  # fmt: skip
    return base.put(value, form.format(w=word, t=value.text)), None


def drop(base: Base, data: DataObject) -> Spoilt:
    """A key with its value, or a value, left out."""
    loc, start, holder = data.draw(st.sampled_from(base.keys))
    end = holder.spans[loc[-1]][1]
    if data.draw(st.booleans()):
        start = holder.spans[loc[-1]][0]
    rest = base.text[end:]
    return base.text[:start] + (re.sub(r"^, ", "", rest) if holder.flow else rest), None


def swap(base: Base, data: DataObject) -> Spoilt:
    """Two values exchanged."""
    one, two = sorted(
        (data.draw(st.sampled_from(base.values)), data.draw(st.sampled_from(base.values))),
        key=lambda v: v.start,
    )
    if one.start == two.start:
        return base.text, None
    between = base.text[one.end : two.start]
    return base.text[: one.start] + two.text + between + one.text + base.text[two.end :], None


def indent(base: Base, data: DataObject) -> Spoilt:
    """Lines pushed in or out, by blanks or tabs."""
    lines = base.text.split("\n")
    for _ in range(data.draw(st.integers(1, 3))):
        i = data.draw(st.integers(0, len(lines) - 1))
        lead = data.draw(st.sampled_from([" ", "  ", "\t", "    ", " \t", ""]))
        lines[i] = lead + (lines[i] if data.draw(st.booleans()) else lines[i].lstrip())
    return "\n".join(lines), None


def lines(base: Base, data: DataObject) -> Spoilt:
    """Lines doubled, lost and moved."""
    found = base.text.split("\n")
    for _ in range(data.draw(st.integers(1, 3))):
        i, j = (data.draw(st.integers(0, len(found) - 1)) for _ in range(2))
        deed = data.draw(st.sampled_from(["double", "lose", "move"]))
        line = found[i] if deed == "double" else found.pop(i)
        if deed != "lose":
            found.insert(j, line)
    return "\n".join(found), None


def cut(base: Base, data: DataObject) -> Spoilt:
    """A file cut off, or with a hole in it."""
    start = data.draw(st.integers(0, len(base.text) - 1))
    end = data.draw(st.one_of(st.just(len(base.text)), st.integers(start, start + 200)))
    return base.text[:start] + base.text[end:], None


def text(base: Base, data: DataObject) -> Spoilt:
    """A value that is any text at all, as it is or in quotes."""
    value = data.draw(st.sampled_from(base.values))
    said = data.draw(st.text(max_size=30))
    quote = data.draw(st.sampled_from(["", '"', "'"]))
    return base.put(value, f"{quote}{said}{quote}"), None


def signs(base: Base, data: DataObject) -> Spoilt:
    """Signs that mean something in YAML, put anywhere."""
    made = base.text
    for _ in range(data.draw(st.integers(1, 4))):
        i = data.draw(st.integers(0, len(made)))
        sign = data.draw(st.sampled_from("[]{},:&*!|>'\"%@`#?-\\\n\t"))
        made = made[:i] + sign + made[i + data.draw(st.integers(0, 1)) :]
    return made, None


SURE: dict[str, Callable[[Base, DataObject], Spoilt]] = {
    "unit": unit, "kind": kind, "number": number, "key": key, "twice": twice,
    "reference": reference, "outside": outside, "character": character, "nesting": nesting,
    "marker": marker,
}  # fmt: skip
"""Mutations after which a file is wrong for sure."""

LIKELY: dict[str, Callable[[Base, DataObject], Spoilt]] = {
    "drop": drop, "swap": swap, "indent": indent, "lines": lines, "cut": cut, "text": text,
    "signs": signs,
}  # fmt: skip
"""Mutations after which a file may still be right."""
