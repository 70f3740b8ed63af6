"""Changes to a habitat file that leave everything else as it was, to the last space.

A change is made in the text itself, at the place of the value, so comments, order, units and
layout stay. What the changed text says is then read back and must be exactly what was meant;
where it is not (a shared anchor, an unusual layout), the whole file goes through the round trip
of the YAML library instead, which keeps comments and order but may respace lines.
"""

from __future__ import annotations

import io
import json
import os
import re
import tempfile
from collections.abc import Callable
from copy import copy
from pathlib import Path
from typing import Any

from loamwright.errors import InputError, Problem
from loamwright.files.document import Document, Loc, Node, parse_document, read_text, suggest

_PLAIN = re.compile(r"[A-Za-z0-9_.+/(-][^\x00-\x1f:#,\[\]{}&*!|>'\"%@`\x7f-\x9f]*( %|%)?")
_KEY = re.compile(r"[A-Za-z_][A-Za-z0-9_ -]*")


class Editor:
    """One file being changed; nothing is written before `save`.

    Parameters
    ----------
    path : Path
        The file, read at once.
    text : str, optional
        Its text, where it is not (yet) on disk.
    """

    def __init__(self, path: Path, text: str | None = None) -> None:
        self.path = path
        self._on_disk = text is None
        raw = read_text(path) if text is None else text
        self._read = raw
        self._bom = text is None and path.read_bytes()[:3] == b"\xef\xbb\xbf"
        self._doc: Document = parse_document(raw, path)
        self.text: str = raw

    @property
    def data(self) -> Any:
        """What the text says now, as plain data."""
        return _plain_data(self._doc.data)

    def copy(self) -> Editor:
        """Another editor of the same text; changes of the one are not in the other."""
        return copy(self)

    @property
    def document(self) -> Document:
        """What the text says now, with the place of everything in it."""
        return self._doc

    def find(self, section: str, name: str) -> tuple[str, int]:
        """The place of the entry of a list that has this name."""
        entries = self._doc.get((section,))
        names = [e.get("name") for e in entries or [] if isinstance(e, dict)]
        if isinstance(entries, list):
            for i, entry in enumerate(entries):
                if isinstance(entry, dict) and entry.get("name") == name:
                    return (section, i)
        known = [str(n) for n in names if n]
        raise InputError(
            Problem(f"there is no {name!r} in it; {suggest(name, known)}", section, str(self.path))
        )

    def set(self, loc: Loc, value: Any) -> None:
        """Give the value at ``loc`` another value, or add the key where it is missing.

        ``value`` is a text as it would be written (``"80 %"``), a number, true or false, or a
        list or dict of those.
        """
        where = tuple(loc)
        if not where:
            raise InputError(Problem("the whole file cannot be set", file=str(self.path)))

        def put(data: Any) -> None:
            holder = data
            for i, part in enumerate(where[:-1]):
                holder = _step(holder, part, where[i + 1], self._fail)
            if isinstance(holder, list) and where[-1] == len(holder):
                holder.append(value)
            elif not _has(holder, where[-1]) and not isinstance(holder, dict):
                self._fail(where, "is not there")
            else:
                holder[where[-1]] = value

        self._change(lambda: self._set_text(where, value), put, where)

    def add(self, loc: Loc, value: Any) -> None:
        """Add an entry at the end of the list at ``loc``, making the list where there is none."""
        entries = self._doc.get(tuple(loc))
        if entries is not None and not isinstance(entries, list):
            self._fail(tuple(loc), "is not a list")
        self.set((*loc, len(entries or [])), value)

    def remove(self, loc: Loc) -> None:
        """Take the key or entry at ``loc`` out; its comments on lines of their own stay."""
        where = tuple(loc)
        if not where or not self._exists(where):
            self._fail(where, "is not there")

        def put(data: Any) -> None:
            holder = data
            for part in where[:-1]:
                holder = holder[part]
            del holder[where[-1]]

        self._change(lambda: self._remove_text(where), put, where)

    def save(self, path: Path | None = None, *, force: bool = False) -> None:
        """Write the file whole. The file that was read is written over unless it has changed on
        disk meanwhile; any other existing file only with ``force``."""
        target = path or self.path
        same = self._on_disk and target == self.path
        if same and not force and read_text(target) != self._read:
            message = "has changed on disk since it was read; read it again, then change it"
            raise InputError(Problem(message, file=str(target)))
        raw = (b"\xef\xbb\xbf" if self._bom else b"") + self.text.encode("utf-8")
        write_whole(target, raw, force=force or same)
        if target == self.path:
            self._read, self._on_disk = self.text, True

    # -- how a change is made -----------------------------------------------------------------

    def _change(self, edit: Callable[[], str | None], put: Callable[[Any], None], loc: Loc) -> None:
        wanted = self.data
        put(wanted)
        wanted = _plain_data(wanted)
        for attempt in (edit, lambda: self._round_trip(put)):
            text = attempt()
            if text is None:
                continue
            try:
                doc = parse_document(text, self.path)
            except InputError:
                continue
            if doc.data == wanted:
                self.text, self._doc = text, doc
                return
        self._fail(loc, "cannot be changed in this file; change it by hand")

    def _round_trip(self, put: Callable[[Any], None]) -> str | None:
        from ruamel.yaml import YAML
        from ruamel.yaml.error import YAMLError

        yaml = YAML()
        yaml.preserve_quotes = True
        yaml.width = 10_000
        yaml.indent(mapping=2, sequence=4, offset=2)
        out = io.StringIO()
        try:
            data = yaml.load(self.text)
            put(data)
            yaml.dump(data, out)
        except (YAMLError, ValueError, TypeError, KeyError, IndexError, RecursionError):
            return None
        return out.getvalue()

    def _fail(self, loc: Loc, message: str) -> None:
        raise InputError(self._doc.problem(loc, message))

    def _exists(self, loc: Loc) -> bool:
        node: Node | None = self._doc.root
        for part in loc:
            node = node.children.get(part) if node is not None else None
        return node is not None

    def _node(self, loc: Loc) -> Node:
        node = self._doc.root
        for part in loc:
            node = node.children[part]
        return node

    def _set_text(self, loc: tuple[str | int, ...], value: Any) -> str | None:
        text = self.text
        if self._exists(loc):
            holder, node = self._node(loc[:-1]), self._node(loc)
            start, end = holder.spans[loc[-1]]
            if start == end:
                return f"{text[:start]} {render(value)}{text[end:]}"
            new = render(value, node.style)
            if node.style in ("|", ">"):
                new += self._newline()
            return text[:start] + new + text[end:]
        if not self._exists(loc[:-1]) or self._node(loc[:-1]).data is None:
            parent: Any = [value] if isinstance(loc[-1], int) else {loc[-1]: value}
            return self._set_text(loc[:-1], parent) if loc[:-1] else None
        holder = self._node(loc[:-1])
        if not isinstance(holder.data, dict | list):
            return None
        as_list = isinstance(holder.data, list)
        entry = render(value) if as_list else f"{_key(str(loc[-1]))}: {render(value)}"
        if not holder.spans:
            return text[: holder.start + 1] + entry + text[holder.start + 1 :]
        last = next(reversed(holder.spans))
        end = holder.spans[last][1]
        if holder.flow:
            return f"{text[:end]}, {entry}{text[end:]}"
        indent = self._indent(holder)
        if as_list:
            block = not holder.children[last].flow and isinstance(value, dict)
            lines = (
                _block(value) if block and isinstance(holder.children[last].data, dict) else [entry]
            )
            lines = [("- " if i == 0 else "  ") + line for i, line in enumerate(lines)]
        else:
            lines = [entry]
            if isinstance(value, list) and value and all(isinstance(e, dict) for e in value):
                lines = [f"{_key(str(loc[-1]))}:", *(f"  - {render(e)}" for e in value)]
        new = self._newline().join(indent + line for line in lines)
        at = self._line_end(end)
        if at and text[at - 1] == "\n":
            return text[:at] + new + self._newline() + text[at:]
        return text[:at] + self._newline() + new + text[at:]

    def _remove_text(self, loc: tuple[str | int, ...]) -> str | None:
        text, holder, key = self.text, self._node(loc[:-1]), loc[-1]
        order = list(holder.spans)
        place = order.index(key)
        start = holder.key_starts[key] if isinstance(key, str) else holder.spans[key][0]
        end = holder.spans[key][1]
        if len(order) == 1:
            if holder.flow:
                return text[:start] + text[end:]
            empty = "[]" if isinstance(holder.data, list) else "{}"
            return text[: holder.start] + empty + text[end:]
        following = order[place + 1] if place + 1 < len(order) else None
        if holder.flow:
            if following is None:
                return text[: holder.spans[order[place - 1]][1]] + text[end:]
            after = holder.key_starts.get(str(following), holder.spans[following][0])
            return text[:start] + text[after:]
        if isinstance(key, int):
            start = text.rfind("-", 0, start)
        line = text.rfind("\n", 0, start) + 1
        if text[line:start].strip():  # the first key beside the dash of an entry
            if following is None:
                return None
            after = holder.key_starts.get(str(following), holder.spans[following][0])
            return text[:start] + text[after:]
        stop = self._line_end(end)
        if not (stop and text[stop - 1] == "\n"):
            stop = len(text) if (eol := text.find("\n", stop)) < 0 else eol + 1
        return text[:line] + text[stop:]

    def _indent(self, holder: Node) -> str:
        first = next(iter(holder.spans))
        start = holder.key_starts[first] if isinstance(first, str) else holder.start
        line = self.text.rfind("\n", 0, start) + 1
        return " " * (start - line)

    def _line_end(self, at: int) -> int:
        """Where the line that holds the last character before ``at`` ends."""
        if at and self.text[at - 1] == "\n":
            return at
        eol = self.text.find("\n", at)
        eol = len(self.text) if eol < 0 else eol
        return eol - 1 if eol and self.text[eol - 1 : eol] == "\r" else eol

    def _newline(self) -> str:
        return "\r\n" if "\r\n" in self.text else "\n"


def set_value(path: Path, loc: Loc, text: Any) -> None:
    """Change one value of a file on disk, keeping all else."""
    editor = Editor(path)
    editor.set(loc, text)
    editor.save()


def write_whole(path: Path, content: str | bytes, *, force: bool = False) -> None:
    """Write a file whole or not at all: a temporary file beside it, then renamed.

    An existing file is written over only with ``force``. Raises `InputError` where it cannot be.
    """
    raw = content.encode("utf-8") if isinstance(content, str) else content
    target = path.resolve() if path.is_symlink() else path
    exists = Problem("is there already; --force writes over it", file=str(path))
    temporary: str | None = None
    try:
        if not force and target.exists():
            raise InputError(exists)
        if target.is_dir():
            raise InputError(Problem("is a folder", file=str(path)))
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(raw)
            stream.flush()
            os.fsync(stream.fileno())
        Path(temporary).chmod(target.stat().st_mode & 0o777 if target.exists() else _new_mode())
        if force or not _linked(temporary, target, exists):
            Path(temporary).replace(target)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem(f"cannot be written: {reason}", file=str(path))) from None
    finally:
        if temporary is not None:
            Path(temporary).unlink(missing_ok=True)


def _linked(temporary: str, target: Path, exists: Problem) -> bool:
    """Give the finished file its name, which fails where another was quicker."""
    try:
        os.link(temporary, target)
    except FileExistsError:
        raise InputError(exists) from None
    except OSError:  # a file system without links
        return False
    return True


def _new_mode() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def render(value: Any, style: str | None = None) -> str:
    """A value as one line of YAML; a text keeps the quotes of ``style`` where it had some."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_key(str(k))}: {render(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(render(v) for v in value) + "]"
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    text = str(value)
    if style == "'" and text.isprintable():
        return "'" + text.replace("'", "''") + "'"
    if style != '"' and _stays_text(text):
        return text
    return json.dumps(text, ensure_ascii=False)


def _stays_text(text: str) -> bool:
    """Whether a text without quotes is read back as that text, in a list too."""
    if not _PLAIN.fullmatch(text) or text != text.strip() or text.startswith(("- ", "-")):
        return False
    try:
        return bool(parse_document(f"[{text}]", Path("value")).data == [text])
    except InputError:
        return False


def _key(text: str) -> str:
    return text if _KEY.fullmatch(text) and _stays_text(text) else json.dumps(text)


def _block(value: dict[str, Any]) -> list[str]:
    return [f"{_key(str(k))}: {render(v)}" for k, v in value.items()] or ["{}"]


def _step(holder: Any, part: str | int, following: str | int, fail: Callable[..., None]) -> Any:
    """One level down, making what is missing."""
    if not isinstance(holder, dict | list):
        fail((), f"there is nothing at {part!r} to change")
    if not _has(holder, part) or holder[part] is None:
        made: Any = [] if isinstance(following, int) else {}
        if isinstance(holder, list):
            if part != len(holder):
                fail((), f"there is no entry {part!r}")
            holder.append(made)
        else:
            holder[part] = made
    return holder[part]


def _has(holder: Any, part: str | int) -> bool:
    if isinstance(holder, dict):
        return part in holder
    return isinstance(holder, list) and isinstance(part, int) and 0 <= part < len(holder)


def _plain_data(value: Any) -> Any:
    """A copy in which nothing is shared (an alias is a value of its own), tuples as lists."""
    if isinstance(value, dict):
        return {str(k): _plain_data(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_plain_data(v) for v in value]
    return value
