"""A line of what is needed: the one form in which every part of the plan says what to buy."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import ceil, fsum

UNITS = ("piece", "m", "m2", "L", "kg")
"""What amounts are counted in; L is the trade's litre of ground and water, 0.001 m3."""


@dataclass(frozen=True, slots=True)
class Stocked:
    """Something that is bought whole, or ordered to size: ``count`` of it, ``kind`` one of ``sheet``,
    ``roll`` (its ``width`` across, and the ``length`` taken), ``bar`` and ``length`` of a branch or
    tube (no width) and ``pane`` (ordered to size) [m]."""

    kind: str
    count: int
    length: float
    width: float = 0.0

    @property
    def one(self) -> float:
        """One of it: area [m2], of a bar or length its length [m]."""
        return self.length if self.kind in ("bar", "length") else self.length * self.width

    @property
    def all(self) -> float:
        """All of it [m2], of bars [m]."""
        return self.count * self.one


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that the build needs.

    ``key`` stable name a price list may use (``lamps/led-bar-20w``, ``media/coir``); ``group`` the
    heading it stands under; ``amount`` [``unit``, one of `UNITS`] needed as built; ``waste`` share
    of ``amount`` lost in cutting, settling or spilling; ``spares`` [``unit``] kept beside it; ``why``
    where the amount comes from; ``uses`` names of the things in the habitat it is for; ``bags`` (size
    [``unit``], how many) in which an engine counts it, largest first; ``stock`` the sheets, rolls,
    bars or panes it is, where the cut plan says so; ``owned`` True for what stays with the builder, so
    that no quote counts it.
    """

    key: str
    group: str
    name: str
    amount: float
    unit: str
    waste: float = 0.0
    spares: float = 0.0
    why: str = ""
    uses: tuple[str, ...] = field(default=())
    bags: tuple[tuple[float, int], ...] = ()
    stock: tuple[Stocked, ...] = ()
    owned: bool = False

    @property
    def wanted(self) -> float:
        """All that must be there: needed, lost and spare [``unit``]; whole pieces."""
        found = self.amount * (1.0 + self.waste) + self.spares
        return float(ceil(found - 1e-9)) if self.unit == "piece" else found


def merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Lines of the same key as one, in the order in which they first come.

    Raises
    ------
    ValueError
        If lines of one key are counted in different units or lose different shares.
    """
    by_key: dict[str, list[Line]] = {}
    for line in lines:
        by_key.setdefault(line.key, []).append(line)
    return tuple(_one(same) for same in by_key.values())


def _one(same: list[Line]) -> Line:
    first = same[0]
    if len(same) == 1:
        return first
    if any((x.unit, x.waste) != (first.unit, first.waste) for x in same):
        raise ValueError(f"{first.key} is counted in more than one way")
    bags: dict[float, int] = {}
    for line in same:
        for size, count in line.bags:
            bags[size] = bags.get(size, 0) + count
    return replace(
        first,
        amount=fsum(x.amount for x in same),
        spares=fsum(x.spares for x in same),
        why="; ".join(dict.fromkeys(x.why for x in same if x.why)),
        uses=tuple(dict.fromkeys(name for x in same for name in x.uses)),
        bags=tuple(sorted(bags.items(), reverse=True)),
    )
