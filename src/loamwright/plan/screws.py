"""Screws by size: diameter and length follow from what a screw goes through.

All sizes are common practice, no source: a screw must hold in what is behind and come out nowhere.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.habitat.enclosure import Opening
from loamwright.habitat.habitat import Habitat
from loamwright.plan.lines import Line

PRACTICE = "common practice"

LENGTHS = (
    0.010, 0.012, 0.016, 0.020, 0.025, 0.030, 0.035, 0.040, 0.045, 0.050, 0.060, 0.070, 0.080,
    0.090, 0.100, 0.120, 0.140, 0.160, 0.180, 0.200, 0.220, 0.240,
)  # fmt: skip
"""Lengths in which screws are sold [m]; from memory."""

THIN = (0.0045, 0.0040, 0.0035, 0.0030)
"""Diameters of screws into the edge of a board, thickest first [m]."""

BY_LENGTH = ((0.025, 0.0035), (0.040, 0.0040), (0.060, 0.0045), (0.100, 0.0050))
"""Diameter of other screws by the length up to which it serves [m]; 6 mm beyond."""

EDGE_SHARE = 0.4
"""Greatest diameter as a share of the edge it goes into: more splits it [1]; common practice."""

LEAST_EDGE = 0.008
"""Thickness of an edge below which no screw goes into it [m]; common practice."""

GRIP = 0.03
"""How far a screw reaches into what is behind [m]; common practice."""

BEHIND = 0.8
"""Share of a panel's thickness that a screw through a background holds in [1]."""

A_FAN = 4
"""Screws of a fan, which hold the guard before it too."""

FAN_DEEP = 0.025
"""Depth of an axial fan's frame, which its screws go through from end to end [m]; taken, from memory:
most small ones are 25 mm deep."""

BOLT, NUT = 0.004, 0.008
"""Diameter of a machine screw through a fan, and what of it washers, nut and its end take [m]; common
practice."""

MAT = 0.003
"""Thickness of a dust mat where a screw presses it flat [m]; common practice."""

BOLT_STEP = 0.005
"""Step of the lengths in which machine screws are sold [m]; from memory."""

MESH_SPACING = 0.15
"""Distance between screws round a mesh [m]; common practice."""

SPARE = 0.2
"""Share of screws kept over: they get lost and break; common practice."""

A_METRE2 = 6
"""Screws of a background that is screwed, to a square metre; common practice."""

A_PIECE = 2
"""Screws of a piece whose fixing says screws and no number; common practice."""

NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}

UNSCREWED = ("glass", "acrylic", "polycarbonate")
"""Words in the key of a material that no wood screw goes into."""


@dataclass(frozen=True, slots=True)
class Screw:
    """A stainless screw: ``diameter`` and ``length`` [m], ``washer`` True with a large washer; with a
    ``nut`` a machine screw."""

    diameter: float
    length: float
    washer: bool = False
    nut: bool = False

    @property
    def size(self) -> str:
        """``4 x 40 mm``; of a machine screw ``M4 x 45 mm``."""
        metric = "M" if self.nut else ""
        return f"{metric}{1000 * self.diameter:g} x {1000 * self.length:g} mm"

    @property
    def key(self) -> str:
        """Its key in a price list."""
        kind = "machine-screws-stainless-m" if self.nut else "screws-stainless-"
        return f"fixings/{kind}{1000 * self.diameter:g}x{1000 * self.length:g}mm"

    @property
    def label(self) -> str:
        """What it is called in a list."""
        if self.nut:
            return f"stainless machine screws, {self.size}, each with a self-locking nut"
        return f"stainless screws, {self.size}"


@dataclass(frozen=True, slots=True)
class Screws:
    """So many screws for the thing called ``name``; ``way`` they go, in words."""

    name: str
    count: int
    screw: Screw
    way: str


def screws_of(fixing: str) -> int:
    """Screws that a fixing's words ask for, 0 where they speak of none."""
    if "screw" not in fixing:
        return 0
    found = re.search(r"(\d+|[a-z]+)\s+(?:long\s+|short\s+|stainless\s+)*screws?\b", fixing)
    word = found.group(1) if found else ""
    return int(word) if word.isdigit() else NUMBERS.get(word, A_PIECE)


def takes_screws(material: str) -> bool:
    """Whether a screw goes into a material, by its key."""
    return not any(word in material for word in UNSCREWED)


def at_least(length: float) -> float:
    """The next length sold that is not shorter, else the longest [m]."""
    return next((x for x in LENGTHS if x >= length - 1e-9), LENGTHS[-1])


def at_most(length: float) -> float:
    """The next length sold that is not longer, else the shortest [m]."""
    return next((x for x in reversed(LENGTHS) if x <= length + 1e-9), LENGTHS[0])


def by_length(length: float, washer: bool = False) -> Screw:
    """A screw of a length, as thick as is usual for it."""
    return Screw(next((d for most, d in BY_LENGTH if length <= most + 1e-9), 0.006), length, washer)


def edge_screw(through: float, into: float) -> Screw | None:
    """A screw through one board into another's edge, by both thicknesses [m]; None where the edge is
    too thin for one."""
    if into < LEAST_EDGE:
        return None
    thick = next((d for d in THIN if d <= EDGE_SHARE * into + 1e-9), THIN[-1])
    return Screw(thick, at_least(through + GRIP))


def batten_screw(panel: float, batten: float) -> Screw:
    """A screw from the inside through a panel into a batten that stands behind it [m]."""
    return by_length(at_most(panel + batten - 0.002))


def mesh_screw(panel: float, cover: float) -> Screw:
    """A screw that holds a mesh on a panel and does not come out of it [m]."""
    return Screw(0.0035, at_most(panel + cover), washer=True)


def cover_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """Screws with washers round the meshes and sheets over openings."""
    out = []
    for opening in habitat.enclosure.openings:
        panel = habitat.enclosure.panel(opening.side)
        if opening.cover.kind == "open" or not takes_screws(panel.material.key):
            continue
        count = max(4, math.ceil(2.0 * sum(opening.size) / MESH_SPACING))
        screw = mesh_screw(panel.thickness, _thick(opening))
        out.append(Screws(opening.name, count, screw, "every 15 cm round the hole"))
    return tuple(out)


def _thick(opening: Opening) -> float:
    """Thickness of a cover [m]: twice the wire, or a sheet of 3 mm."""
    return 2.0 * opening.cover.wire if opening.cover.sheet is None else 0.003


def bolt(through: float, washer: bool = False) -> Screw:
    """A machine screw of 4 mm with its nut through so much [m]."""
    steps = math.ceil((through + NUT) / BOLT_STEP - 1e-6)
    return Screw(BOLT, round(steps * BOLT_STEP, 6), washer, nut=True)


def fan_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """Machine screws at the corners of fans, through the panel and the guards of each."""
    out = []
    for fan in habitat.fans:
        panel = habitat.enclosure.panel(fan.side)
        if not takes_screws(panel.material.key):
            continue
        guards = math.fsum(0.003 if g.sheet is not None else 2.0 * g.wire for g in fan.guards)
        mat = MAT if fan.filter is not None else 0.0
        named = ["the fan's corners", "the panel"]
        named += ["its dust mat"] if fan.filter is not None else []
        named += ["its guards" if len(fan.guards) > 1 else "its guard"] if fan.guards else []
        way = f"through {', '.join(named[:-1])} and {named[-1]}, the nut on a large washer inside"
        out.append(
            Screws(fan.name, A_FAN, bolt(FAN_DEEP + panel.thickness + guards + mat, True), way)
        )
    return tuple(out)


def screw_lines(found: Iterable[Screws]) -> list[Line]:
    """Screws by size, and the washers under their heads."""
    out: list[Line] = []
    for x in found:
        out.append(Line(x.screw.key, "fixings", x.screw.label, float(x.count), "piece",
                        SPARE, uses=(x.name,),
                        why=f"{x.way}; size by {PRACTICE}, a fifth over"))  # fmt: skip
        if x.screw.washer:
            thick = f"{1000 * x.screw.diameter:g}"
            out.append(Line(f"fixings/washers-{thick}mm", "fixings",
                            f"large stainless washers for screws of {thick} mm", float(x.count),
                            "piece", SPARE, uses=(x.name,), why="one under each head that bears on a "
                            "soft or thin sheet, a fifth over"))  # fmt: skip
    return out
