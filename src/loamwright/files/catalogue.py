"""The catalogue: shipped entries, and a builder's own files laid over them.

Shipped entries are read once a process and built when first asked for. Own files are checked
whole, with every problem located. An own entry may take the place of a shipped one (which is
recorded); it may be ``like`` another entry and give only what differs. Shipped entries go on
referring to shipped ones: an own spectrum does not change a shipped lamp.
"""

from __future__ import annotations

import difflib
import functools
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, TypeVar

from loamwright.errors import InputError, Problem
from loamwright.files.catalogue_build import Related, WrongError, build
from loamwright.files.catalogue_fields import GROUPS
from loamwright.files.catalogue_pack import raw_group, yaml_path
from loamwright.files.catalogue_read import Parsed, Say, read_entry
from loamwright.files.document import Document, read_document, suggest
from loamwright.habitat.air import FanType, FilterType
from loamwright.habitat.catalogue import (
    Cover,
    LampType,
    Material,
    PlantType,
    Species,
    Spectrum,
)
from loamwright.habitat.decomposers import DecomposerType
from loamwright.habitat.media import Component, Medium, Mix
from loamwright.habitat.misting import NozzleType

E = TypeVar("E", covariant=True)

_KEY = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")

MAX_LIKE = 50
"""Longest chain of entries that are like each other."""


class Group(Mapping[str, E], Generic[E]):
    """Entries of one group by key, each built when first asked for."""

    def __init__(self, keys: Callable[[], list[str]], make: Callable[[str], E]) -> None:
        self._keys = keys
        self._make = make

    def __getitem__(self, key: str) -> E:
        return self._make(key)

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys())

    def __len__(self) -> int:
        return len(self._keys())


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every entry by group and key. ``overrides``: shipped entries an own file took the place of,
    as ``group/key``; ``origins``: the own file each own entry stands in, by ``group/key``."""

    materials: Mapping[str, Material]
    covers: Mapping[str, Cover]
    spectra: Mapping[str, Spectrum]
    lamps: Mapping[str, LampType]
    plants: Mapping[str, PlantType]
    animals: Mapping[str, Species]
    fans: Mapping[str, FanType]
    nozzles: Mapping[str, NozzleType]
    filters: Mapping[str, FilterType]
    media: Mapping[str, Medium]
    components: Mapping[str, Component]
    mixes: Mapping[str, Mix]
    decomposers: Mapping[str, DecomposerType]
    overrides: tuple[str, ...] = ()
    origins: Mapping[str, str] = field(default_factory=dict)

    def group(self, name: str) -> Mapping[str, Any]:
        """The entries of one group of `GROUPS`."""
        if name not in GROUPS:
            raise InputError(
                f"there is no group {name!r} of the catalogue; {suggest(name, GROUPS)}"
            )
        entries: Mapping[str, Any] = getattr(self, name)
        return entries

    def nearest(self, group: str, key: str) -> list[str]:
        """Up to three keys of a group most like a key that is not in it, best first."""
        keys = list(self.group(group))
        word = key.casefold().replace(" ", "-").replace("_", "-")
        close = difflib.get_close_matches(word, keys, n=3, cutoff=0.5)
        parts = set(word.split("-")) - {""}
        inside = [k for k in keys if parts and parts <= set(k.split("-")) and k not in close]
        # People write "panther chameleon": names in words come first where one holds it.
        named = [
            k
            for k, entry in self.group(group).items()
            if parts and parts <= set(re.split(r"[^a-z]+", entry.label.casefold()))
        ]
        return list(dict.fromkeys(named + close + inside))[:3]


def load_catalogue(own: Sequence[Path] = (), root: Path | None = None) -> Catalogue:
    """The shipped catalogue with own files over it.

    Raises `InputError` with every problem of the own files. ``root``: own files must lie in this
    folder.
    """
    if not own:
        return _catalogue(_shipped())
    problems: list[Problem] = []
    raw: dict[str, dict[str, tuple[Any, Say]]] = {group: {} for group in GROUPS}
    origins: dict[str, str] = {}
    for path in own:
        try:
            _collect(path, root, raw, origins, problems)
        except InputError as error:
            problems.extend(error.problems)
    layer = _Layer(raw, _shipped(), problems)
    layer.check()
    if problems:
        raise InputError(problems)
    return _catalogue(layer, origins)


def _collect(
    path: Path,
    root: Path | None,
    raw: dict[str, dict[str, tuple[Any, Say]]],
    origins: dict[str, str],
    problems: list[Problem],
) -> None:
    """Add the entries of one own file."""
    if root is not None and not path.resolve().is_relative_to(root.resolve()):
        message = f"lies outside the project's folder {root}; move it in"
        raise InputError(Problem(message, file=str(path)))
    document = read_document(path)
    if not isinstance(document.data, dict):
        message = f"is not a catalogue; it has groups: {', '.join(GROUPS)}"
        raise InputError(document.problem((), message))
    for group, entries in document.data.items():
        if group not in GROUPS:
            message = f"there is no group {group!r} of the catalogue; {suggest(group, GROUPS)}"
            problems.append(document.problem((group,), message, key=True))
            continue
        if not isinstance(entries, dict):
            problems.append(document.problem((group,), "is not a set of entries, key: fields"))
            continue
        for key, value in entries.items():
            name = f"{group}/{key}"
            if not _KEY.fullmatch(key):
                message = "is not a key: small letters, digits and hyphens, at most 64"
                problems.append(document.problem((group, key), message, key=True))
            elif name in origins:
                message = f"is already in {origins[name]}; an own entry is given once"
                problems.append(document.problem((group, key), message, key=True))
            else:
                origins[name] = str(path)
                raw[group][key] = (value, _say(document, group, key))


def _say(document: Document, group: str, name: str) -> Say:
    def say(loc: Sequence[str | int], message: str, *, key: bool = False) -> Problem:
        return document.problem((group, name, *loc), message, key=key)

    return say


def _say_file(group: str, entry: str) -> Say:
    def say(loc: Sequence[str | int], message: str, *, key: bool = False) -> Problem:
        name = ".".join(str(part) for part in (group, entry, *loc))
        return Problem(message, name, str(yaml_path(group)))

    return say


def _catalogue(layer: _Layer, origins: Mapping[str, str] | None = None) -> Catalogue:
    def group(name: str) -> Group[Any]:
        return Group(functools.partial(layer.keys, name), functools.partial(layer.entry, name))

    def spectrum(key: str) -> Spectrum:
        made: Spectrum = layer.entry("spectra", key).spectrum
        return made

    groups: dict[str, Group[Any]] = {name: group(name) for name in GROUPS if name != "spectra"}
    return Catalogue(
        **groups,
        spectra=Group(functools.partial(layer.keys, "spectra"), spectrum),
        overrides=tuple(layer.overrides),
        origins=dict(origins or {}),
    )


class _BrokenError(Exception):
    """An entry that is known but wrong; its problem is already told."""


class _Layer:
    """Raw entries over a layer below, parsed and built on demand, once."""

    def __init__(
        self,
        raw: Mapping[str, Mapping[str, tuple[Any, Say]]],
        below: _Layer | None,
        problems: list[Problem],
    ) -> None:
        self.raw = raw
        self.below = below
        self.problems = problems
        self._parsed: dict[tuple[str, str], Parsed | None] = {}
        self._built: dict[tuple[str, str], Any] = {}
        self.overrides: list[str] = []
        if below is not None:
            self.overrides = [f"{g}/{k}" for g in GROUPS for k in raw[g] if k in below.raw[g]]

    def keys(self, group: str) -> list[str]:
        lower = self.below.keys(group) if self.below else []
        return list(dict.fromkeys([*lower, *self.raw[group]]))

    def check(self) -> None:
        """Parse and build everything of this layer, so that every problem is told."""
        for group in GROUPS:
            for key in self.raw[group]:
                try:
                    self.entry(group, key)
                except _BrokenError:
                    continue

    def entry(self, group: str, key: str) -> Any:
        """A built entry; KeyError where there is none."""
        if key not in self.raw[group]:
            if self.below is None:
                raise KeyError(key)
            return self.below.entry(group, key)
        if (group, key) not in self._built:
            self._built[group, key] = self._build(group, key)
        made = self._built[group, key]
        if made is None:
            raise _BrokenError(key)
        return made

    def _build(self, group: str, key: str) -> Any:
        before = len(self.problems)
        parsed = self.parsed(group, key)
        made = None
        if parsed is not None:
            try:
                made = build(group, parsed, self._related())
            except WrongError as error:
                say = self.raw[group][key][1]
                loc = (error.field,) if error.field else ()
                self.problems.append(say(loc, error.message))
            except _BrokenError:
                made = None
        if self.below is None and len(self.problems) > before:
            # Shipped data are wrong: no one to hand the whole list to, so say it now.
            raise InputError(self.problems[before:])
        return made

    def _related(self) -> Related:
        return Related(
            functools.partial(self.entry, "materials"),
            functools.partial(self.entry, "spectra"),
            functools.partial(self.entry, "media"),
            functools.partial(self.entry, "components"),
            self.keys,
        )

    def parsed(self, group: str, key: str, chain: tuple[str, ...] = ()) -> Parsed | None:
        """Checked values of an entry, those of what it is like below its own."""
        if key not in self.raw[group]:
            return self.below.parsed(group, key) if self.below else None
        if (group, key) in self._parsed:
            return self._parsed[group, key]
        raw, say = self.raw[group][key]
        base: Parsed | None = None
        like = raw.get("like") if isinstance(raw, Mapping) else None
        made: Parsed | None = None
        if like is not None and (wrong := self._wrong_like(group, key, like, chain)):
            self.problems.append(say(("like",), wrong))
        else:
            if like == key and self.below is not None:
                base = self.below.parsed(group, key)
            elif like is not None:
                base = self.parsed(group, like, (*chain, key))
            if like is None or base is not None:
                made = read_entry(group, key, raw, say, self.problems, base)
        self._parsed[group, key] = made
        return made

    def _wrong_like(self, group: str, key: str, like: Any, chain: tuple[str, ...]) -> str:
        """What is wrong with the entry that this one wants to be like, or nothing."""
        if not isinstance(like, str):
            return f"{like!r} is not a key; name an entry of {group}"
        below = self.below is not None and like in self.below.keys(group)
        if like == key and below:
            return ""
        if like in (key, *chain):
            return f"goes round in a circle: {' -> '.join((*chain, key, like))}"
        if len(chain) >= MAX_LIKE:
            return f"is the end of a chain of {MAX_LIKE} entries; name the entry meant itself"
        if like not in self.raw[group] and not below:
            return f"there is no {like!r} in {group}; {suggest(like, self.keys(group))}"
        return ""


class _Lazy(Mapping[str, Mapping[str, tuple[Any, Say]]]):
    """Raw shipped groups, each read when first asked for."""

    def __init__(self) -> None:
        self._read: dict[str, dict[str, tuple[Any, Say]]] = {}

    def __getitem__(self, group: str) -> Mapping[str, tuple[Any, Say]]:
        if group not in self._read:
            entries, document = raw_group(group)
            self._read[group] = {
                key: (raw, _say(document, group, key) if document else _say_file(group, key))
                for key, raw in entries.items()
            }
        return self._read[group]

    def __iter__(self) -> Iterator[str]:
        return iter(GROUPS)

    def __len__(self) -> int:
        return len(GROUPS)


@functools.lru_cache(maxsize=1)
def _shipped() -> _Layer:
    """The shipped layer, one for the whole process."""
    return _Layer(_Lazy(), None, [])
