"""Decomposers let into the ground, from the file and the catalogue."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.files.build_context import Build
from loamwright.files.document import suggest
from loamwright.files.schema_decomposers import DecomposerPart
from loamwright.habitat.decomposers import Starter


def build_decomposers(build: Build, parts: Sequence[DecomposerPart] | None) -> tuple[Starter, ...]:
    """The starters, each species once; all that can be followed, to choose from, where the file is
    silent."""
    known = build.catalogue.decomposers
    if parts is None:
        build.default("decomposers", "a springtail and an isopod",
                      "those that thrive here best; none in ground that is dry")  # fmt: skip
        entries = (known[key] for key in known)
        return tuple(Starter(x, named=False) for x in entries if not x.unknown)
    made: list[Starter] = []
    first: dict[str, int] = {}
    for loc, part in build.entries("decomposers", parts):
        place = (*loc, "species")
        if part.species in first:
            build.say(place, f"{part.species!r} is let in twice, first in line "
                      f"{first[part.species]}; keep one")  # fmt: skip
            continue
        first[part.species] = build.doc.where(place)[0]
        if part.species not in known:
            if not build.own_broken:
                hint = suggest(part.species, known)
                build.say(place, f"the catalogue has no decomposer {part.species!r}; {hint}")
            continue
        if part.count is None:
            build.default(f"decomposers[{part.species}].count", "computed", "for the floor")
        made.append(Starter(known[part.species], part.count))
    return tuple(made)
