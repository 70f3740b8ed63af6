"""All cuts of a build: which sheet holds which parts, in which order it is cut, and what is ordered."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.cutting import Stock
from loamwright.plan.bars import Bar
from loamwright.plan.cut_parts import PartToCut


@dataclass(frozen=True, slots=True)
class Laid:
    """A part on a sheet: its lower left corner at ``x``, ``y`` and its size there [m]; ``turned`` True
    where its width runs up the sheet."""

    part: PartToCut
    x: float
    y: float
    width: float
    height: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut: upright at x = ``at`` or level at y = ``at`` [m], from ``low`` to ``high`` along the
    other direction [m]; its kerf lies beyond ``at``."""

    number: int
    upright: bool
    at: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left of a sheet: lower left corner and size [m]."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet, or the used length of a roll: ``width`` along its longer edge (of a roll: across it)
    and ``height`` [m]; ``key`` in the price list."""

    stock: Stock
    key: str
    width: float
    height: float
    laid: tuple[Laid, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def used(self) -> float:
        """Share of it that becomes parts [1]."""
        return sum(x.width * x.height for x in self.laid) / (self.width * self.height)


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that is cut from one material of one thickness.

    ``bought`` and ``bound``, what no way of cutting can beat: areas of sheets [m2], or lengths of a
    roll [m]; ``kerf`` and ``trim`` [m].
    """

    material: str
    label: str
    thickness: float
    roll: bool
    kerf: float
    trim: float
    sheets: tuple[Sheet, ...]
    bought: float
    bound: float

    @property
    def gap(self) -> float:
        """Share by which more is bought than the bound [1]; 0 is proved to be the least."""
        return self.bought / self.bound - 1.0 if self.bound > 0.0 else 0.0

    @property
    def parts(self) -> tuple[PartToCut, ...]:
        """Its parts, by number."""
        found = [x.part for s in self.sheets for x in s.laid]
        return tuple(sorted(found, key=lambda p: (p.number, p.suffix)))


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that cannot be cut: ``kind`` ``too_large`` (``part`` and the ``largest`` stock, trim
    taken off [m]), ``lost_hole`` (``name`` of a hole of the front that no pane holds whole),
    ``hole_over_edge`` (``name`` of a hole, ``part``), ``too_long`` (a batten, a bar of the frame or
    a rail longer than every bar) or ``no_doors`` (the front is too low)."""

    kind: str
    name: str
    part: PartToCut | None = None
    largest: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Cuts:
    """The whole cut plan. ``ordered``: parts that are not cut from stock but ordered cut to size, or
    made in place; ``bars`` those that are cut to length only."""

    parts: tuple[PartToCut, ...]
    jobs: tuple[Job, ...]
    ordered: tuple[PartToCut, ...]
    troubles: tuple[Trouble, ...]
    joint: str
    runner: float
    overlap: float
    bars: tuple[Bar, ...] = ()
