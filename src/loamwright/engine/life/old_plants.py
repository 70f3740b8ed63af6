"""Plants of old habitats: which of the new plants each may be, by what the file calls them.

The file tells old plants in words, ``a tired bromeliad``, and no more: kind and size are looked at by
who takes them out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.habitat.habitat import Habitat
from loamwright.habitat.planting import Plant
from loamwright.habitat.residents import Existing

ANY_PLANT = frozenset({"plant", "tree", "grass", "cutting", "pot", "clump"})
"""Words that many kinds share: they tell none by themselves."""


@dataclass(frozen=True, slots=True)
class OldPlant:
    """A plant of an old habitat in the file's ``words``, and the names of the new plants that it
    ``may`` stand for, empty where the new habitat has no place for its kind."""

    words: str
    may: tuple[str, ...]


def old_plants(habitat: Habitat, old: Existing) -> tuple[OldPlant, ...]:
    """The plants of one old habitat, in the order of the file.

    A plant is of a new one's kind where the last word of its name that tells a kind is among those of
    the new one's: its own name, its species' names or its key. Where some of these share more of its
    words, only they are.
    """
    return tuple(OldPlant(words, _alike(words, habitat.plants)) for words in old.plants)


def stays_out(habitat: Habitat, old: Existing) -> tuple[str, ...]:
    """The plants of an old habitat, in the file's words, that have no place in the new one."""
    return tuple(p.words for p in old_plants(habitat, old) if not p.may)


def _alike(words: str, plants: Iterable[Plant]) -> tuple[str, ...]:
    said = _told(words)
    kind = next((w for w in reversed(said) if w not in ANY_PLANT), None)
    if kind is None:
        return ()
    found = [(len(set(said) & known), p.name) for p in plants if kind in (known := _known(p))]
    most = max((n for n, _ in found), default=0)
    return tuple(name for n, name in found if n == most)


def _known(plant: Plant) -> set[str]:
    """Every word a new plant is called by."""
    kind = plant.type
    return set(_told(" ".join((plant.name, kind.label, kind.latin, kind.key))))


def _told(text: str) -> list[str]:
    """The words of a text in small letters, plurals without their s."""
    found = re.findall(r"[^\W\d_]+", text.casefold())
    return [w[:-1] if len(w) > 3 and w.endswith("s") and not w.endswith("ss") else w for w in found]
