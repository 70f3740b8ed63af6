"""A habitat file being changed by a person: every change checked, undone, kept safe, saved with care.

A `Draft` always holds a habitat that can be computed: what would make it wrong is refused with the
reader's own messages, and what was typed is kept beside it. The draft lies on disk after every
change, so that a crash or a reload loses nothing; the file itself is written only by `Draft.save`,
which keeps its comments and never writes over what somebody else wrote meanwhile.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loamwright.errors import InputError, Problem
from loamwright.files.field_words import Loc as Loc
from loamwright.files.field_words import field_name as field_name
from loamwright.files.field_words import idle_controls, messages_at, still_used

if TYPE_CHECKING:
    from loamwright.files.writer import Editor
    from loamwright.habitat.habitat import Habitat

MOST_STEPS = 200
"""Changes that can be undone."""

SAME, CHANGED, GONE = "same", "changed", "gone"
"""How the file on disk stands to what was read of it."""


def state_folder(environment: Mapping[str, str] | None = None) -> Path:
    """Where drafts and recent files are kept: ``LOAMWRIGHT_STATE``, else the user's state folder."""
    found = os.environ if environment is None else environment
    if found.get("LOAMWRIGHT_STATE"):
        return Path(found["LOAMWRIGHT_STATE"])
    base = found.get("XDG_STATE_HOME") or str(Path.home() / ".local" / "state")
    return Path(base) / "loamwright"


@dataclass(frozen=True, slots=True)
class Refused:
    """Something typed that would make the habitat wrong: the text, and why it was refused."""

    text: Any
    messages: tuple[str, ...]


@dataclass
class _Stored:
    """A draft as it lies on disk."""

    base: str
    text: str
    undo: list[tuple[str, str]] = field(default_factory=list)
    redo: list[tuple[str, str]] = field(default_factory=list)
    refused: dict[str, dict[str, Any]] = field(default_factory=dict)


class Draft:
    """One person's changes to one file.

    Parameters
    ----------
    path : Path
        The habitat file; it must be there.
    owner : str
        Whose draft it is: each owner has their own of every file.
    folder : Path, optional
        Where drafts are kept; nowhere when left out.
    root : Path, optional
        The folder no file named in the habitat may leave; the file's own when left out.

    Raises
    ------
    InputError
        If the file cannot be read as text. A file with mistakes in it is opened: `problems` has
        them, and `habitat` is None until they are mended.
    """

    def __init__(
        self, path: Path, owner: str = "", folder: Path | None = None, root: Path | None = None
    ) -> None:
        self.path, self.root = path, root
        self.base = self.text = ""
        self.undone: list[tuple[str, str]] = []
        self.done: list[tuple[str, str]] = []
        self.refused: dict[str, Refused] = {}
        self.problems: list[Problem] = []
        self.habitat: Habitat | None = None
        self._editor: Editor | None = None
        name = hashlib.sha256(f"{owner}\0{path.resolve()}".encode()).hexdigest()[:40]
        self._stored = folder / "drafts" / f"{name}.json" if folder else None
        if not self._take_up():
            from loamwright.files.document import read_text

            self.base = self.text = read_text(path)
        self._read(self.text)

    # -- what it says ------------------------------------------------------------------------

    @property
    def dirty(self) -> bool:
        """Whether there is something to save."""
        return self.text != self.base

    @property
    def data(self) -> Any:
        """What the text says, as plain data; None while it cannot be read at all."""
        return self._editor.document.data if self._editor else None

    def value(self, loc: Loc, default: Any = None) -> Any:
        """The plain value at a place, or the default where it is not in the file."""
        node = self.data
        for part in loc:
            try:
                node = node[part]
            except (KeyError, IndexError, TypeError):
                return default
        return node

    def on_disk(self) -> str:
        """`SAME`, `CHANGED` or `GONE`."""
        from loamwright.files.document import read_text

        try:
            now = read_text(self.path)
        except InputError:
            return CHANGED if self.path.exists() else GONE
        return SAME if now == self.base else CHANGED

    # -- changes -----------------------------------------------------------------------------

    def set(self, loc: Loc, value: Any, label: str = "") -> None:
        """Give a place another value; raises `InputError` and stays as it was where that would make
        the habitat wrong. What was typed is then kept in `refused` under the field's name."""
        key = field_name(loc)
        try:
            self._apply(lambda editor: editor.set(tuple(loc), value), label or key)
        except InputError as error:
            self.refused[key] = Refused(value, messages_at(error.problems, loc, self.value))
            self._keep()
            raise
        self.refused.pop(key, None)
        self._keep()

    def change(self, changes: Sequence[tuple[Loc, Any]], label: str) -> None:
        """Several changes as one step."""

        def all_of(editor: Editor) -> None:
            for loc, value in changes:
                editor.set(tuple(loc), value)

        self._apply(all_of, label)
        self._keep()

    def add(self, loc: Loc, value: Any, label: str = "") -> None:
        """Add an entry at the end of a list."""
        self._apply(lambda editor: editor.add(tuple(loc), value), label or f"add to {loc[0]}")
        self._keep()

    def remove(self, loc: Loc, label: str = "") -> None:
        """Take a key or an entry out; raises `InputError` where others name it still."""
        try:
            self._apply(
                lambda editor: editor.remove(tuple(loc)), label or f"remove {field_name(loc)}"
            )
        except InputError as error:
            used = still_used(error.problems, loc, self.value)
            raise (InputError(used) if used is not None else error) from None
        # Places behind it have moved up: what was refused there has no field any more.
        self.refused = {k: v for k, v in self.refused.items() if not k.startswith(str(loc[0]))}
        self._keep()

    def write(self, text: str, label: str = "the text") -> None:
        """Put another text in its place, right or wrong; what is wrong is in `problems`."""
        if text == self.text:
            return
        self._push(label)
        self.refused = {}
        self._read(text)
        self._keep()

    def set_price(self, key: str, pack: str, price: str, name: str = "", date: str = "") -> None:
        """Write what a ``pack`` (``70 L``) of a thing costs into the price list that the file names; a
        file without one is given one beside it. What is refused is kept under `price_field`."""
        from loamwright.files.paths import inside
        from loamwright.files.prices_edit import Typed, pack_of, write_price

        field = price_field(key, pack)
        folder, listed = self.root or self.path.parent, self.value(("money", "prices"))
        try:
            currency = self.value(("money", "currency"))
            if not isinstance(currency, str):
                raise InputError(Problem("say the currency first, in the form of the money"))
            target = f"{self.path.stem}-prices.csv" if listed is None else str(listed)
            there = listed is not None or (folder / target).exists()
            path = inside(folder, target) if there else folder / target
            write_price(path, currency, Typed(key, *pack_of(pack), price, name, date))
            self.refused.pop(field, None)
            if listed is None:
                self.change([(("money", "prices"), target)], "a price list")
            else:
                self._read(self.text)
        except InputError as error:
            self.refused[field] = Refused(price, tuple(p.message for p in error.problems))
            self._keep()
            raise
        self._keep()

    def undo(self) -> str:
        """Take the last change back; what it was, or nothing."""
        return self._swap(self.done, self.undone)

    def redo(self) -> str:
        """Make the last change that was taken back again; what it was, or nothing."""
        return self._swap(self.undone, self.done)

    def forget(self, key: str) -> None:
        """Let go of what was typed in a field and refused."""
        if self.refused.pop(key, None) is not None:
            self._keep()

    # -- the file ----------------------------------------------------------------------------

    def save(self, *, force: bool = False) -> None:
        """Write the file, comments kept; raises `InputError` where it has changed on disk since it
        was read, unless with ``force``."""
        from loamwright.files.writer import write_whole

        state = self.on_disk()
        if state == CHANGED and not force:
            message = "has changed on disk since it was read; choose which of the two to keep"
            raise InputError(Problem(message, file=str(self.path)))
        mark = b"\xef\xbb\xbf" if state != GONE and _marked(self.path) else b""
        write_whole(self.path, mark + self.text.encode("utf-8"), force=True)
        self.base = self.text
        self._keep()

    def take_disk(self) -> None:
        """Put what is on disk in place of the draft; the draft can be had back with `undo`."""
        from loamwright.files.document import read_text

        now = read_text(self.path)
        self.base = now
        self.write(now, "the file as it is on disk")
        self._keep()

    def keep_mine(self) -> None:
        """Know of what is on disk, and keep the draft: saving then writes over it."""
        from loamwright.files.document import read_text

        self.base = read_text(self.path)
        self._keep()

    # -- how it is done ----------------------------------------------------------------------

    def _apply(self, edit: Callable[[Editor], None], label: str) -> None:
        from loamwright.files.reader import read_habitat_document
        from loamwright.files.writer import Editor

        editor = Editor(self.path, self.text) if self._editor is None else self._editor.copy()
        edit(editor)
        if editor.text == self.text:
            return
        try:
            habitat = read_habitat_document(editor.document, self.root)
        except InputError as error:
            idle = idle_controls(error.problems)
            if not idle:
                raise
            # A controller goes with the last thing that it drives: neither could go alone.
            for name in idle:
                editor.remove(("controls", name))
            habitat = read_habitat_document(editor.document, self.root)
            label += " with controller " + ", ".join(f"'{name}'" for name in idle)
        self._push(label)
        self.text, self.habitat, self.problems = editor.text, habitat, []
        self._editor = editor

    def _push(self, label: str) -> None:
        self.done.append((label, self.text))
        del self.done[:-MOST_STEPS]
        self.undone.clear()

    def _swap(self, here: list[tuple[str, str]], there: list[tuple[str, str]]) -> str:
        if not here:
            return ""
        label, text = here.pop()
        there.append((label, self.text))
        self.refused = {}
        self._read(text)
        self._keep()
        return label

    def _read(self, text: str) -> None:
        from loamwright.files.reader import read_habitat_document
        from loamwright.files.writer import Editor

        self.text = text
        self._editor, self.habitat, self.problems = None, None, []
        try:
            self._editor = Editor(self.path, text)
            self.habitat = read_habitat_document(self._editor.document, self.root)
        except InputError as error:
            self.problems = error.problems

    # -- the draft on disk -------------------------------------------------------------------

    def _keep(self) -> None:
        from loamwright.files.writer import write_whole

        if self._stored is None:
            return
        if not self.dirty and not self.refused:
            self._stored.unlink(missing_ok=True)
            return
        stored = {
            "path": str(self.path), "base": self.base, "text": self.text, "undo": self.done[-50:],
            "redo": self.undone[-50:],
            "refused": {k: {"text": r.text, "messages": r.messages}
                        for k, r in self.refused.items()},
        }  # fmt: skip
        self._stored.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_whole(self._stored, json.dumps(stored), force=True)

    def _take_up(self) -> bool:
        """Go on with what was kept of an earlier session, if anything was."""
        if self._stored is None or not self._stored.exists():
            return False
        try:
            raw = json.loads(self._stored.read_text("utf-8"))
            self.base, self.text = str(raw["base"]), str(raw["text"])
            self.done = [(str(a), str(b)) for a, b in raw["undo"]]
            self.undone = [(str(a), str(b)) for a, b in raw["redo"]]
            self.refused = {
                str(k): Refused(v["text"], tuple(v["messages"])) for k, v in raw["refused"].items()
            }
        except (OSError, ValueError, KeyError, TypeError):
            return False
        return True


def _marked(path: Path) -> bool:
    """Whether a file begins with a byte order mark."""
    with path.open("rb") as stream:
        return stream.read(3) == b"\xef\xbb\xbf"


def price_field(key: str, pack: str) -> str:
    """The name under which a refused price of a pack is kept."""
    return f"prices:{key}:{pack}"


@dataclass(frozen=True, slots=True)
class Wish:
    """What the guided form asks: texts as typed. ``size`` width, depth and height; ``animals`` keys
    with males, females and young; ``room`` winter and summer by day and night, and humidity."""

    name: str
    units: str = "metric"
    size: tuple[str, str, str] = ("", "", "")
    animals: tuple[tuple[str, int, int, int], ...] = ()
    room: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    altitude: str = ""


def _of_form(problem: Problem) -> str:
    """The form's field that a starter's problem belongs to."""
    if problem.field == "--size":
        sides = ("width", "depth", "height")
        return (
            f"size[{next((n for n, x in enumerate(sides) if f'a {x} of' in problem.message), 0)}]"
        )
    if problem.field == "--animal":
        return "animals[0]"
    if problem.field.startswith(("room.altitude", "enclosure")):
        return "altitude" if problem.field.startswith("room") else "size[0]"
    head = re.match(r"animals\[\d+\]|room\.\w+\.\w+", problem.field)
    return head[0] if head else "name"


def _not_a(kind: str, text: str, field: str) -> list[Problem]:
    """What is wrong with a quantity that was typed, if anything."""
    from loamwright import units

    try:
        units.parse(text, kind)
    except InputError as error:
        return [Problem(error.problems[0].message, field)]
    return []


def first_habitat(wish: Wish, path: Path) -> str:
    """The text of a first valid habitat: box, ground, hardscape, plants and lamps from the needs of
    the first of the animals, the others beside it.

    Raises `InputError` with every problem; its fields are ``size[0..2]``, ``animals[n]``, ``name``,
    ``altitude`` and ``room.season.key``.
    """
    from loamwright.files.reader import read_habitat_document
    from loamwright.files.starter import starter
    from loamwright.files.writer import Editor

    problems: list[Problem] = []
    if not wish.name.strip():
        problems.append(Problem("give it a name", "name"))
    if not wish.animals:
        problems.append(Problem("choose who will live in it", "animals"))
    for n, (_, males, females, young) in enumerate(wish.animals):
        if males + females + young < 1:
            problems.append(Problem("how many? at least one animal", f"animals[{n}]"))
    sizes = [text.strip() for text in wish.size]
    for n, text in enumerate(sizes):
        if text:
            problems += _not_a("length", text, f"size[{n}]")
        elif any(sizes):
            problems.append(Problem("give all three measures, or none", f"size[{n}]"))
    for season, values in wish.room.items():
        for key, text in values.items():
            kind = "share" if key == "humidity" else "temperature"
            problems += _not_a(kind, text, f"room.{season}.{key}")
    if wish.altitude.strip():
        problems += _not_a("length", wish.altitude, "altitude")
    # What can be read is tried further, so that all mistakes are said at once.
    wrong = {p.field for p in problems}
    whole = all(sizes) and not any(f.startswith("size") for f in wrong)
    try:
        text = starter(
            wish.name.strip() or "habitat", size=" x ".join(sizes) if whole else None,
            animal=wish.animals[0][0] if wish.animals else None, units=wish.units,
        )  # fmt: skip
    except InputError as error:
        raise InputError(
            [*problems, *(Problem(p.message, _of_form(p)) for p in error.problems)]
        ) from None
    editor = Editor(path, text)
    for n, (key, males, females, young) in enumerate(wish.animals):
        if f"animals[{n}]" in wrong:
            continue
        counts = {"males": males, "females": females} | ({"young": young} if young else {})
        if n:
            editor.add(("animals",), {"species": key, **counts})
        else:
            for word, count in counts.items():
                editor.set(("animals", 0, word), count)
    for season, values in wish.room.items():
        for key, written in values.items():
            if f"room.{season}.{key}" not in wrong:
                editor.set(("room", season, key), written.strip())
    if wish.altitude.strip() and "altitude" not in wrong:
        editor.set(("room", "altitude"), wish.altitude.strip())
    try:
        read_habitat_document(editor.document)
    except InputError as error:
        problems += [Problem(p.message, _of_form(p)) for p in error.problems]
    if problems:
        raise InputError(problems)
    return editor.text


def choices(group: str, own: Sequence[Path] = ()) -> list[tuple[str, str]]:
    """Keys and labels of a group of the catalogue, by label."""
    from loamwright.files.catalogue import load_catalogue

    found = load_catalogue(own).group(group)
    return sorted(((k, str(v.label)) for k, v in found.items()), key=lambda e: e[1].casefold())


def read_value(text: str) -> Any:
    """What a value typed by hand is, read as the file would read it (a list, keys, a number, text)."""
    from loamwright.files.document import parse_document

    return parse_document(f"[{text}\n]", Path("value")).data[0] if text.strip() else None


def written_value(value: Any) -> str:
    """A value as one line of the file."""
    from loamwright.files.writer import render

    return value if isinstance(value, str) else render(value)


def length_like(metres: float, written: Any, system: str) -> str:
    """A length in the unit of what stands in the file, else in the one people are shown."""
    from loamwright.files.build_context import in_unit_of

    usual = "1 in" if system == "us" else "1 cm"
    return in_unit_of(metres, written if isinstance(written, str) else usual)
