"""How the panels of the box are joined: what holds each edge, how many screws, and what seals it.

Adhesives, screws and their distances are common practice, no source; the maker's sheet decides.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import WIDE, Batten, battens, spread_clear
from loamwright.plan.cut_parts import FIXED
from loamwright.plan.front_parts import front_parts
from loamwright.plan.lines import Line
from loamwright.plan.screws import Screw, Screws, edge_screw, takes_screws

SPACING = 0.18
"""Greatest distance between the screws of an edge [m]: 15 to 20 cm is usual; common practice."""

APART = 0.015
"""Least distance of an edge's screw from one through a batten's end into the same edge: they would meet
[m]; common practice."""

BEAD = 6e-3
"""Legs of a fillet of sealant in a corner [m]; common practice for boxes of this size."""

CARTRIDGE = "sealant by volume; a cartridge holds about 0.3 L"

GLASS_BED = 0.002
"""Thickness of the silicone between two panes [m]; common practice."""

WOODEN = ("plywood", "osb", "mdf", "melamine-board", "softwood", "hardwood")
CLEAR = ("acrylic", "polycarbonate")


@dataclass(frozen=True, slots=True)
class Glue:
    """What an edge is glued with: ``key`` and ``name`` in the list, ``bed`` its thickness [m], and
    whether screws go with it."""

    key: str
    name: str
    bed: float
    screws: bool = True


SILICONE = Glue(
    "fixings/silicone", "silicone sealant, neutral cure, no fungicide", GLASS_BED, False
)
GLUES: dict[str, Glue] = {
    "pvc": Glue("fixings/adhesive-pvc", "polymer adhesive or solvent cement for PVC board", 0.001),
    "wood": Glue("fixings/glue-wood", "water-resistant wood glue", 0.0003),
    "clear": Glue("fixings/cement-plastic", "solvent cement for the clear sheet", 0.0003, False),
    "other": Glue(
        "fixings/adhesive-polymer",
        "polymer adhesive that by its maker bonds what is joined",
        0.001,
    ),
}
"""Adhesives by what is joined; thickness of the bed and all else common practice, no source."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One edge: the panel that lies ``over`` it and the one ``under`` it, its ``length`` [m]; ``glue``
    None where it opens; ``screw`` None where it takes none, with ``count`` and ``spacing`` [m];
    ``sealed`` True where a fillet of sealant runs inside; ``why`` not, in words; ``thick`` of the edge
    [m]."""

    over: str
    under: str
    length: float
    glue: Glue | None
    screw: Screw | None
    count: int
    spacing: float
    sealed: bool
    why: str
    thick: float

    @property
    def name(self) -> str:
        """``floor to back``."""
        return f"{self.over} to {self.under}"


def family(material: str) -> str:
    """What kind of material it is for joining, by its key."""
    if "glass" in material:
        return "glass"
    if "pvc" in material:
        return "pvc"
    if material in WOODEN:
        return "wood"
    return "clear" if any(word in material for word in CLEAR) else "other"


def glue_of(one: str, other: str) -> Glue:
    """What two materials are joined with, by their keys: glass by silicone alone."""
    kinds = {family(one), family(other)}
    if "glass" in kinds:
        return SILICONE
    return GLUES[kinds.pop()] if len(kinds) == 1 else GLUES["other"]


OVER = {
    "floor-and-top-through": (
        ("floor", "back"), ("floor", "left"), ("floor", "right"), ("top", "back"), ("top", "left"),
        ("top", "right"), ("back", "left"), ("back", "right"),
    ),
    "sides-through": (
        ("left", "floor"), ("right", "floor"), ("left", "top"), ("right", "top"), ("left", "back"),
        ("right", "back"), ("floor", "back"), ("top", "back"),
    ),
}  # fmt: skip
"""Which panel lies over the edge of which, by the way the box is put together."""

FRONT = ("floor", "left", "right", "top")
"""Panels that a fixed pane of the front stands between."""

OPENS = "it opens, with the door's own seal or gap"


def _length(habitat: Habitat, one: str, other: str) -> float:
    """Inside length of the edge between two panels [m]."""
    wide, deep, high = habitat.enclosure.inside
    sides = {one, other}
    if sides & {"floor", "top"}:
        return deep if sides & {"left", "right"} else wide
    return high


def joints_of(habitat: Habitat) -> tuple[Joint, ...]:
    """Every edge of the box: of the five closed panels, of the front's fixed pane, and those that
    open."""
    box = habitat.enclosure
    standing = battens(habitat)
    out = []
    for over, under in OVER[habitat.cutting.joint]:
        one, other = box.panel(over), box.panel(under)
        length = _length(habitat, over, under)
        if one.doors or other.doors:
            out.append(_open(over, under, length))
            continue
        out.append(
            _joint(over, under, length, one.material.key, one.thickness, other.material.key,
                   other.thickness, batten_ends(standing, over, under))
        )  # fmt: skip
    return (*out, *_front(habitat))


def batten_ends(standing: Iterable[Batten], one: str, other: str) -> tuple[float, ...]:
    """Where battens' ends are screwed into the edge between two panels, from the inside's edge [m]."""
    out = []
    for side, end in ((one, other), (other, one)):
        if end in ("floor", "top"):
            number = 0 if end == "floor" else 1
            out += [b.at for b in standing if b.side == side and b.ends and b.ends[number]]
    return tuple(out)


def _front(habitat: Habitat) -> list[Joint]:
    """Edges of the front's fixed pane, and of its doors."""
    box = habitat.enclosure
    fixed = [p for p in front_parts(habitat, {})[0] if p.kind == FIXED]
    out = []
    for side in FRONT:
        if box.panel(side).doors:
            out.append(_open(side, "front", _length(habitat, side, "front")))
            continue
        long = _length(habitat, side, "front")
        for pane in fixed:
            if side == "top" and box.panel("front").doors:
                continue  # the doors end there
            length = long if side in ("floor", "top") else pane.height
            panel = box.panel(side)
            out.append(_joint(side, pane.name, length, panel.material.key, panel.thickness,
                              pane.material, pane.thickness))  # fmt: skip
    if box.panel("front").doors:
        tall = box.inside[2] - sum(p.height for p in fixed)
        out.append(_open("sides and top", "front doors", 2.0 * tall + box.inside[0]))
    return out


def _open(over: str, under: str, length: float) -> Joint:
    return Joint(over, under, length, None, None, 0, 0.0, False, OPENS, 0.0)


def _joint(
    over: str, under: str, length: float, one: str, through: float, other: str, into: float,
    avoid: tuple[float, ...] = (),
) -> Joint:  # fmt: skip
    glue = glue_of(one, other)
    screw = edge_screw(through, into) if glue.screws and takes_screws(one) else None
    count, spacing = (0, 0.0)
    if screw is not None:
        count, spacing = spread_clear(length, SPACING, avoid, APART)
    return Joint(over, under, length, glue, screw, count, spacing, True, "", into)


def sealed_length(habitat: Habitat) -> float:
    """Length of the edges that are sealed inside [m]: all between two panels that do not open, and
    those of the front's fixed pane."""
    return math.fsum(j.length for j in joints_of(habitat) if j.sealed)


def sealed_later(habitat: Habitat) -> bool:
    """Whether the box is glued with something that has to set before its corners are sealed; silicone
    joins and seals at once."""
    return any(j.sealed and j.glue not in (None, SILICONE) for j in joints_of(habitat))


def joint_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """The screws along the edges of the box, by edge."""
    return tuple(
        Screws(j.name, j.count, j.screw, "along the box's edges, no more than 18 cm apart, through the "
               "one panel into the edge of the other, drilled first")
        for j in joints_of(habitat) if j.screw is not None
    )  # fmt: skip


def joint_lines(habitat: Habitat) -> list[Line]:
    """Sealant of the corners, silicone under panes, and adhesive of all other edges and of battens."""
    found = joints_of(habitat)
    out = []
    length = math.fsum(j.length for j in found if j.sealed)
    panes = [j for j in found if j.glue is SILICONE]
    if length > 0.0:
        litres = 0.5 * BEAD * BEAD * length + math.fsum(
            j.length * j.thick * GLASS_BED for j in panes
        )
        between = " and a bed of 2 mm under panes of glass" if panes else ""
        out.append(Line(SILICONE.key, "fixings", SILICONE.name, 1000.0 * litres, "L", 0.5,
                        uses=("joints",), why=f"a 6 mm fillet along {length:.1f} m of corners"
                        f"{between}, half as much again for beads and loss; {CARTRIDGE}"))  # fmt: skip
    amounts: dict[Glue, dict[str, float]] = {}
    for j in found:
        if j.glue is not None and j.glue is not SILICONE:
            amounts.setdefault(j.glue, {})[j.name] = j.length * j.thick * j.glue.bed
    for b in battens(habitat):
        panel = habitat.enclosure.panel(b.side).material.key
        glue = glue_of(panel, "softwood")
        if glue is SILICONE:
            glue = GLUES["other"]
        amounts.setdefault(glue, {})[b.name] = b.length * WIDE * glue.bed
    for glue, by_edge in amounts.items():
        out.append(Line(glue.key, "fixings", glue.name, 1000.0 * math.fsum(by_edge.values()), "L", 0.5,
                        uses=tuple(by_edge), why="a thin bed on edges and under "
                        "battens, half as much again for loss; common practice"))  # fmt: skip
    return out
