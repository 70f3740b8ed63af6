"""Where a number comes from: every catalogue number and every need carries one of these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class SourceKind(StrEnum):
    """How far a number can be trusted."""

    PUBLISHED = "published"
    CALCULATED = "calculated"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"
    BUILDER = "builder"


@dataclass(frozen=True, slots=True)
class Source:
    """A source in words and its kind."""

    text: str
    kind: SourceKind

    @property
    def weak(self) -> bool:
        """True where nobody should let an animal's life hang on the number."""
        return self.kind in (SourceKind.COMMON_PRACTICE, SourceKind.FROM_MEMORY)


PRACTICE = Source("common practice, no source", SourceKind.COMMON_PRACTICE)
"""What the trade does, where no document says it."""


@dataclass(frozen=True, slots=True)
class Sourced:
    """Base of catalogue entries: a key, a plain name, and a source for each numeric field.

    `sources` maps a field's name to its source; the key ``"*"`` serves every field not named.
    """

    key: str
    label: str
    sources: Mapping[str, Source] = field(repr=False)

    def source_of(self, name: str) -> Source:
        """The source of one field."""
        if name in self.sources:
            return self.sources[name]
        return self.sources["*"]
