"""What every ``build_*`` module needs: the document, the catalogue, and where to put problems.

Building goes on after a problem, with stand-ins where something is unknown, so that a person is
told everything at once. What was built is used only where no problem was found.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from loamwright import units
from loamwright.errors import InputError, Problem
from loamwright.files.catalogue import Catalogue
from loamwright.files.document import Document, Loc, suggest
from loamwright.files.schema_values import Quantity
from loamwright.habitat.air import FanType, FilterType
from loamwright.habitat.catalogue import (
    Cover,
    LampType,
    Material,
    PlantType,
    Species,
)
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.habitat import Default
from loamwright.habitat.media import Component, Medium, Mix
from loamwright.habitat.misting import NozzleType
from loamwright.habitat.sources import Source, SourceKind

T = TypeVar("T")

SIZES = ("width", "depth", "height")
"""Keys of the inside's measures along x, y and z."""

COMMON_PRACTICE = "common practice, no source"

_NO_SOURCE = {"*": Source("stand-in for an unknown key", SourceKind.BUILDER)}
_GREY = Material("?", "?", _NO_SOURCE, 0.0, 0.0, 0.0)
_BARE = Cover("open", "open", {"*": Source("nothing covers it", SourceKind.BUILDER)}, "open")


@dataclass(slots=True)
class Build:
    """One reading of one file.

    ``places`` and ``box_known`` as in `schema_errors.Read`; ``own_broken`` says that the file's
    own catalogue could not be read, so that unknown keys are not the file's fault; ``table_broken``
    the same of a table of the pedigree and of names.
    """

    doc: Document
    catalogue: Catalogue
    system: str = "metric"
    places: Mapping[str, Sequence[int]] = field(default_factory=dict)
    box_known: bool = True
    own_broken: bool = False
    table_broken: bool = False
    problems: list[Problem] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    lost_names: set[str] = field(default_factory=set)

    def say(self, loc: Loc, message: str, *, key: bool = False) -> None:
        """Add a problem at a place of the file."""
        self.problems.append(self.doc.problem(loc, message, key=key))

    def pass_on(self, loc: Loc, error: InputError) -> None:
        """Add the problems of something the file names, at the place where it is named."""
        for problem in error.problems:
            if problem.file and problem.line:
                self.problems.append(problem)
            else:
                self.say(loc, ": ".join(p for p in (problem.field, problem.message) if p))

    def default(self, where: str, value: str, why: str = COMMON_PRACTICE) -> None:
        """Record a value the file left out."""
        self.defaults.append(Default(where, value, why))

    def show(self, value: float, kind: str = "length") -> str:
        """A value in the file's system of units."""
        return units.show(value, kind, self.system)

    def entries(self, section: str, parts: Iterable[T]) -> list[tuple[tuple[str | int, ...], T]]:
        """The entries of a list with their places in the file."""
        listed = list(parts)
        places = self.places.get(section, range(len(listed)))
        head = tuple(section.split("."))
        return [((*head, place), part) for place, part in zip(places, listed, strict=True)]

    # -- the catalogue -----------------------------------------------------------------------

    def material(self, key: str, loc: Loc) -> Material:
        """A material, or a stand-in after saying that it is unknown."""
        return self._known(self.catalogue.materials, key, loc, "material") or _GREY

    def cover(self, key: str | None, loc: Loc) -> Cover:
        """A cover; no key or ``open`` is no cover."""
        if key is None or (key == "open" and key not in self.catalogue.covers):
            return _BARE
        return self._known(self.catalogue.covers, key, loc, "cover") or _BARE

    def lamp(self, key: str, loc: Loc) -> LampType | None:
        """A lamp type, or None after saying that it is unknown."""
        return self._known(self.catalogue.lamps, key, loc, "lamp")

    def plant(self, key: str, loc: Loc) -> PlantType | None:
        """A plant type, or None after saying that it is unknown."""
        return self._known(self.catalogue.plants, key, loc, "plant")

    def species(self, key: str, loc: Loc) -> Species | None:
        """An animal, or None after saying that it is unknown."""
        return self._known(self.catalogue.animals, key, loc, "animal")

    def fan(self, key: str, loc: Loc) -> FanType | None:
        """A fan type, or None after saying that it is unknown."""
        return self._known(self.catalogue.fans, key, loc, "fan")

    def nozzle(self, key: str, loc: Loc) -> NozzleType | None:
        """A nozzle type, or None after saying that it is unknown."""
        return self._known(self.catalogue.nozzles, key, loc, "nozzle")

    def filter(self, key: str, loc: Loc) -> FilterType | None:
        """A filter type, or None after saying that it is unknown."""
        return self._known(self.catalogue.filters, key, loc, "filter")

    def component(self, key: str, loc: Loc) -> Component | None:
        """A component of a mix, or None after saying that it is unknown."""
        return self._known(self.catalogue.components, key, loc, "component", is_key=True)

    def medium(self, key: str, loc: Loc) -> Medium | None:
        """A medium of the ground, or None after saying that it is unknown."""
        return self._known(self.catalogue.media, key, loc, "medium")

    def mix(self, key: str, loc: Loc) -> Mix | None:
        """A finished mix, or None after saying that it is unknown."""
        return self._known(self.catalogue.mixes, key, loc, "mix")

    def _known(
        self, entries: Mapping[str, T], key: str, loc: Loc, what: str, *, is_key: bool = False
    ) -> T | None:
        found = entries.get(key)
        if found is None and not self.own_broken:
            hint = suggest(key, entries)
            self.say(loc, f"the catalogue has no {what} {key!r}; {hint}", key=is_key)
        return found

    # -- names -------------------------------------------------------------------------------

    def unknown_name(self, loc: Loc, name: str, what: str, known: Iterable[str]) -> None:
        """Say that a name stands for nothing, unless its entry is there but faulty."""
        if name not in self.lost_names:
            self.say(loc, f"there is no {what} named {name!r}; {suggest(name, known)}")

    def check_names(self, section: str, what: str) -> None:
        """Say which names of a list are there twice, also among entries that are faulty."""
        head = tuple(section.split("."))
        holder = self.doc.data
        for part in head:
            holder = holder.get(part) if isinstance(holder, dict) else None
        first: dict[str, int] = {}
        for i, entry in enumerate(holder if isinstance(holder, list) else []):
            name = entry.get("name") if isinstance(entry, dict) else None
            if not isinstance(name, str):
                continue
            place: Loc = (*head, i, "name")
            name = name.strip()
            if name in first:
                message = f"{name!r} is the name of another {what} too (line {first[name]}); "
                self.say(place, message + "names must differ")
            else:
                first[name] = self.doc.where(place)[0]


def entry_names(data: Any) -> Counter[str]:
    """How often each ``name`` stands in an entry anywhere below the sections of a file."""
    found: Counter[str] = Counter()
    stack, seen = list(data.values()) if isinstance(data, dict) else [], 0
    while stack and seen < 500_000:
        node = stack.pop()
        seen += 1
        if isinstance(node, dict):
            name = node.get("name")
            if isinstance(name, str):
                found[name.strip()] += 1
            stack += [v for v in node.values() if isinstance(v, dict | list)]
        elif isinstance(node, list):
            stack += [v for v in node if isinstance(v, dict | list)]
    return found


def in_unit_of(value: float, written: object) -> str:
    """A length [m] in the unit of a text of the file, so that both numbers can be compared."""
    text = written.text if isinstance(written, Quantity) else str(written)
    unit = next((u for u in ("mm", "cm", "ft", "in", "m", '"', "'") if text.endswith(u)), "cm")
    unit = {'"': "in", "'": "ft"}.get(unit, unit)
    number = value / units.parse(f"1 {unit}", "length")
    rounded = round(number, {"mm": 1, "cm": 2, "in": 2, "ft": 3, "m": 4}[unit])
    return f"{rounded + 0.0:g} {unit}" if abs(rounded) < 1e6 else f"{number:.4g} {unit}"


def unit_vector(vector: Sequence[float]) -> Vec3 | None:
    """A vector of length one, or None where there is no direction in it."""
    size = math.sqrt(sum(c * c for c in vector))
    if size < 1e-9:
        return None
    return (vector[0] / size, vector[1] / size, vector[2] / size)


def written(build: Build, *locs: Loc) -> object:
    """A text of the file at the first of these places that has one, for its unit."""
    for loc in locs:
        value = build.doc.get(loc)
        while isinstance(value, list) and value:
            value = value[0]
        if isinstance(value, str):
            return value
    return "cm"


def box_size(build: Build, box: Enclosure, i: int, unit_of: object) -> str:
    """An inside measure in the unit of another text, and as the file writes it."""
    text = build.doc.get(("enclosure", "inside", SIZES[i]))
    size = in_unit_of(box.inside[i], unit_of)
    as_written = in_unit_of(box.inside[i], text)
    also = "" if size == as_written else f" ({as_written})"
    return f"inside {SIZES[i]} {size}{also}"
