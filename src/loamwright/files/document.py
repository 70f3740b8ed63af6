"""A YAML file as plain data, with the line and column of every value.

The text is read event by event, so that nothing in a file can make this program build anything
but dictionaries, lists, texts and numbers: tags, merge keys, endless nesting and aliases that
multiply are refused where they stand. Plain scalars follow the core rules of YAML 1.2 (``on`` and
``8:30`` stay text). A date stays the text it was.
"""

from __future__ import annotations

import difflib
import math
import re
import stat
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from loamwright.errors import InputError, Problem
from loamwright.files.yaml_words import yaml_words

MAX_BYTES = 2_000_000
"""Largest file read; a habitat file of a thousand lines has about 60 kB."""
MAX_DEPTH = 24
"""Deepest nesting read; the habitat file needs seven levels."""
MAX_VALUES = 200_000
"""Most values read, counted as if every alias were written out."""
MAX_KEY = 100
"""Longest key [characters]."""
_TOO_DEEP = f"is nested more than {MAX_DEPTH} levels deep; the habitat file needs seven"
EMPTY = "is empty; a habitat file begins with name: and enclosure:"
"""Said of a file without anything in it."""

Loc = Sequence[str | int]

_BAD_CHARACTER = re.compile(
    "[^\x09\x0a\x0d\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
"""Also without the line ends (U+0085, U+2028, U+2029) that no editor counts as such, and without
the byte order mark."""
_INT = re.compile(r"[-+]?[0-9]+", re.ASCII)
_OTHER_INT = re.compile(r"0o[0-7]+|0x[0-9a-fA-F]+", re.ASCII)
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", re.ASCII)
_NOT_FINITE = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")
_NUMBER = "write a number that can be measured"
_WORDS = {"~": None, "": None, "null": None, "Null": None, "NULL": None} | {
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
}  # fmt: skip


@dataclass(slots=True)
class Node:
    """Where a value stands, and its children.

    ``start`` and ``end`` are offsets in the text (a block ends with its last child); ``spans``
    and ``key_starts`` give, for each child, where it is written here, which for an alias is not
    where its value is. ``size`` and ``height`` count with aliases written out.
    """

    line: int
    column: int
    start: int = 0
    end: int = 0
    flow: bool = False
    style: str | None = None
    data: Any = None
    spans: dict[str | int, tuple[int, int]] = field(default_factory=dict)
    key_starts: dict[str, int] = field(default_factory=dict)
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)
    children: dict[str | int, Node] = field(default_factory=dict)
    size: int = 1
    height: int = 0
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """One file: ``data`` is plain (dict, list, text, number, bool, None)."""

    path: Path
    data: Any
    root: Node = field(repr=False)

    def where(self, loc: Loc, *, key: bool = False) -> tuple[int, int]:
        """Line and column (from 1) of the value at ``loc``, or of its key.

        Parts of ``loc`` that are not in the file (a missing key, the tag of a choice) are passed
        over, so that the answer is the nearest enclosing place that is.
        """
        node, place = self.root, (self.root.line, self.root.column)
        for part in loc:
            child = node.children.get(part)
            if child is None:
                continue
            place = (child.line, child.column)
            if key and isinstance(part, str):
                place = node.keys[part]
            node = child
        return place

    def get(self, loc: Loc, default: Any = None) -> Any:
        """The plain value at ``loc``; parts not in the file are passed over as in `where`."""
        node = self.root
        found = not loc
        for part in loc:
            child = node.children.get(part)
            found = child is not None
            if child is not None:
                node = child
        return node.data if found else default

    def problem(self, loc: Loc, message: str, *, key: bool = False) -> Problem:
        """A problem placed at ``loc`` (at its key when ``key``)."""
        line, column = self.where(loc, key=key)
        return Problem(message, self.field(loc), str(self.path), line, column)

    def field(self, loc: Loc) -> str:
        """``loc`` as people write it, such as ``lamps[0].at[2]``, without the tags of choices."""
        text, node = "", self.root
        for i, part in enumerate(loc):
            child = node.children.get(part)
            if child is None and i + 1 < len(loc):
                continue
            if child is None and isinstance(node.data, list) and isinstance(part, str):
                continue
            text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else part
            node = child or node
        return text


def read_document(path: Path) -> Document:
    """Read a YAML file; raise `InputError` with every problem of its form."""
    return parse_document(read_text(path), path)


def read_text(path: Path) -> str:
    """The text of a file that must be a plain, small UTF-8 text."""
    shown = str(path)
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            raise InputError(Problem("is not a file", file=shown))
        if status.st_size > MAX_BYTES:
            raise InputError(_too_large(status.st_size, shown))
        with path.open("rb") as stream:  # the size may have changed since: read no more than that
            raw = stream.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise InputError(Problem("there is no such file", file=shown)) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem(f"cannot be read: {reason}", file=shown)) from None
    if len(raw) > MAX_BYTES:
        raise InputError(_too_large(len(raw), shown))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line, column = _place(raw[: error.start].decode("utf-8-sig"))
        message = f"byte 0x{raw[error.start]:02x} is not UTF-8; save the file as UTF-8 text"
        raise InputError(Problem(message, "", shown, line, column)) from None


def parse_document(text: str, path: Path) -> Document:
    """Read YAML text; ``path`` is what messages call it."""
    if len(text) > MAX_BYTES:
        raise InputError(_too_large(len(text), str(path)))
    if bad := _BAD_CHARACTER.search(text):
        line, column = _place(text[: bad.start()])
        raise InputError(Problem(_bad_character(bad.group()), "", str(path), line, column))
    builder = _Builder(str(path))
    root = builder.build(text)
    if builder.problems:
        raise InputError(builder.problems)
    return Document(path, root.data, root)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like ``word``, or None where nothing is like it."""
    options = list(known)
    folded = {option.casefold(): option for option in reversed(options)}
    close = difflib.get_close_matches(word.casefold()[:80], folded, n=1, cutoff=0.55)
    if close:
        return folded[close[0]]
    inside = [option for key, option in folded.items() if len(word) > 2 and word.casefold() in key]
    return min(inside, key=len) if inside else None


def suggest(word: str, known: Iterable[str]) -> str:
    """The end of a message about an unknown word: the nearest known one, or all where few."""
    options = sorted(set(known))
    if (close := nearest(word, options)) is not None:
        return f"the nearest known is {close!r}"
    if not options:
        return "none is known"
    listed = ", ".join(options[:12]) + (", ..." if len(options) > 12 else "")
    return f"known: {listed}"


def _place(before: str) -> tuple[int, int]:
    """Line and column (from 1) of what follows a text; any usual line end counts."""
    lines = re.split("\r\n|\r|\n", before)
    return len(lines), len(lines[-1]) + 1


def _bad_character(found: str) -> str:
    return f"character U+{ord(found):04X} does not belong in a text file; remove it"


def _too_large(size: int, shown: str) -> Problem:
    message = f"is larger than {MAX_BYTES / 1e6:g} MB ({size / 1e6:.3g} MB); no such file is read"
    return Problem(message, file=shown)


@dataclass(frozen=True, slots=True)
class _Key:
    text: str
    place: tuple[int, int]
    start: int


class _Builder:
    """Events to nodes, collecting problems; stops at the first that makes going on unsafe."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.text = ""
        self.place = (1, 1)
        self.anchors: dict[str, Node] = {}
        self.stack: list[Node] = []
        self.waiting: list[_Key | None] = []  # the key read, per open mapping

    def build(self, text: str) -> Node:
        from ruamel.yaml import YAML
        from ruamel.yaml.error import MarkedYAMLError, YAMLError

        self.text = text
        try:
            return self._walk(iter(YAML(typ="safe", pure=True).parse(text)))
        except MarkedYAMLError as error:
            said, *place = yaml_words(error, text)
        except (YAMLError, ValueError, RecursionError, OverflowError, IndexError) as error:
            said = str(error).splitlines()[0] if str(error) else type(error).__name__
            said, place = f"what follows here cannot be read ({said})", [*self.place]
        message = f"is not well-formed YAML: {said}"
        raise InputError([*self.problems, Problem(message, "", self.file, *place)])

    def _walk(self, events: Iterator[Any]) -> Node:
        """Build the one document; a stack instead of recursion, so depth cannot break it."""
        root: Node | None = None
        stack, waiting = self.stack, self.waiting
        count = 0
        for event in events:
            kind = type(event).__name__
            if kind in ("StreamStartEvent", "StreamEndEvent", "DocumentEndEvent"):
                continue
            place = self.place = (event.start_mark.line + 1, event.start_mark.column + 1)
            if kind == "DocumentStartEvent":
                if root is not None:
                    self._stop(place, "holds a second document; one file holds one document")
                if event.version not in (None, (1, 2)):
                    self._stop((1, 1), "asks for another YAML version; remove the %YAML line")
                continue
            if kind in ("MappingEndEvent", "SequenceEndEvent"):
                node = stack.pop()
                waiting.pop()
                self._close(node, event.end_mark.index)
                if stack:
                    holder = stack[-1]
                    holder.spans[next(reversed(holder.spans))] = (node.start, node.end)
                continue
            count += 1
            if count > MAX_VALUES:
                self._stop(place, f"holds more than {MAX_VALUES} values; no such file is read")
            if len(stack) >= MAX_DEPTH:
                self._stop(place, _TOO_DEEP)
            parent = stack[-1] if stack else None
            if parent is not None and isinstance(parent.data, dict) and waiting[-1] is None:
                key = self._key(event, kind, place)
                waiting[-1] = _Key(key, place, event.start_mark.index)
                continue
            node = self._node(event, kind, place)
            if parent is None:
                root = node
            else:
                self._add(parent, waiting, node, event)
            if kind in ("MappingStartEvent", "SequenceStartEvent"):
                stack.append(node)
                waiting.append(None)
        if root is None:
            self._stop((1, 1), EMPTY)
            raise AssertionError  # _stop has raised
        return root

    def _key(self, event: Any, kind: str, place: tuple[int, int]) -> str:
        if kind != "ScalarEvent":
            self._stop(place, "a key must be a plain word")
        if event.value == "<<" and event.style is None:
            self._stop(place, "merge keys (<<) are not read; write the keys out")
        self._no_tag(event, place)
        if len(event.value) > MAX_KEY or not event.value.isprintable() or not event.value:
            self._say(place, f"a key must be a plain word of 1 to {MAX_KEY} characters")
        if event.anchor:
            self.anchors[event.anchor] = Node(*place, data=event.value, closed=True)
        return str(event.value)

    def _node(self, event: Any, kind: str, place: tuple[int, int]) -> Node:
        if kind == "AliasEvent":
            target = self.anchors.get(event.anchor)
            if target is None:
                self._say(
                    place,
                    f"*{event.anchor} stands for nothing: there is no &{event.anchor} before it",
                )
                return Node(*place, closed=True)
            if not target.closed:
                self._stop(place, f"*{event.anchor} holds itself; write its value out")
            return target
        self._no_tag(event, place)
        key = self.waiting[-1] if self.waiting else None
        if key is not None and kind == "ScalarEvent" and event.value == "" and not event.style:
            place = key.place  # the parser puts a value that is not there at the next one
        node = Node(*place, start=event.start_mark.index, end=event.end_mark.index)
        if kind == "ScalarEvent":
            node.data = self._scalar(event, place)
            node.style = event.style
            node.closed = True
        else:
            node.flow = bool(event.flow_style)
            node.data = {} if kind == "MappingStartEvent" else []
        if event.anchor:
            self.anchors[event.anchor] = node
        return node

    def _add(self, parent: Node, waiting: list[_Key | None], node: Node, event: Any) -> None:
        span = (event.start_mark.index, event.end_mark.index)
        if span[0] == span[1] and not parent.flow:
            span = self._empty_span(span[0], waiting[-1])
        if isinstance(parent.data, list):
            parent.spans[len(parent.data)] = span
            parent.children[len(parent.data)] = node
            parent.data.append(node.data)
            return
        key = waiting[-1]
        waiting[-1] = None
        if key is None:
            raise AssertionError  # a mapping's value comes after its key
        name = key.text
        if name in parent.data:
            first = parent.keys[name][0]
            self._say(key.place, f"{name!r} is here twice, first in line {first}; keep one", name)
            key = replace(key, place=parent.keys[name])
            parent.spans.pop(name)
        parent.spans[name] = span
        parent.key_starts[name] = key.start
        parent.children[name] = node
        parent.keys[name] = key.place
        parent.data[name] = node.data

    def _empty_span(self, found: int, key: _Key | None) -> tuple[int, int]:
        """Where an absent value would be written: right behind its colon or dash."""
        if key is None:
            place = self.text.rfind("-", 0, found) + 1
        else:
            place = self.text.find(":", key.start + len(key.text), found) + 1
        return (place, place) if place else (found, found)

    def _close(self, node: Node, end: int) -> None:
        node.closed = True
        last = next(reversed(node.spans), None)
        node.end = end if node.flow or last is None else node.spans[last][1]
        node.size = 1 + sum(child.size for child in node.children.values())
        node.height = 1 + max((child.height for child in node.children.values()), default=0)
        if node.size > MAX_VALUES:
            self._stop(
                (node.line, node.column),
                f"its aliases (*) write out to more than {MAX_VALUES} values; no such file is read",
            )
        if node.height > MAX_DEPTH:
            self._stop((node.line, node.column), _TOO_DEEP)

    def _scalar(self, event: Any, place: tuple[int, int]) -> Any:
        text = event.value
        if bad := _BAD_CHARACTER.search(text):
            self._say(place, _bad_character(bad.group()))
        if event.style is not None:
            return text
        if text in _WORDS:
            return _WORDS[text]
        if _NOT_FINITE.fullmatch(text):
            self._say(place, f"{text} is not a number anything can be built to; {_NUMBER}")
            return None
        if not (_INT.fullmatch(text) or _FLOAT.fullmatch(text) or _OTHER_INT.fullmatch(text)):
            return text
        if len(text) > 40:
            self._say(place, f"a number of {len(text)} characters is too long; {_NUMBER}")
            return None
        if _INT.fullmatch(text):
            return int(text)
        if _OTHER_INT.fullmatch(text):
            return int(text, 0)
        value = float(text)
        if not math.isfinite(value):
            self._say(place, f"{text} is too large a number; {_NUMBER}")
            return None
        return value

    def _no_tag(self, event: Any, place: tuple[int, int]) -> None:
        tag = getattr(event, "tag", None)
        if tag is not None and str(tag) != "!":
            tag = str(tag).replace("tag:yaml.org,2002:", "!!")
            self._say(place, f"the tag {tag} is not read; write the value without it")

    def _say(self, place: tuple[int, int], message: str, name: str = "") -> None:
        """Add a problem; its field is where the walk stands (and the key ``name`` there)."""
        text = ""
        for node, key in zip(self.stack, self.waiting, strict=True):
            part: str | int | None = key.text if key else name or None
            if node is not self.stack[-1]:
                part = next(reversed(node.spans))
            elif isinstance(node.data, list):
                part = len(node.data)
            if part is not None:
                text += f"[{part}]" if isinstance(part, int) else f".{part}" if text else part
        text = text if len(text) <= MAX_KEY else f"{text[:MAX_KEY]}..."
        self.problems.append(Problem(message, text, self.file, *place))

    def _stop(self, place: tuple[int, int], message: str) -> None:
        self._say(place, message)
        raise InputError(self.problems)
