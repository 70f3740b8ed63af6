"""A part to cut: its size, its holes, and where it comes to sit."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec2, Vec3

PANEL, DOOR, FIXED, LINING, COVER, GROUND = "panel", "door", "fixed", "lining", "cover", "ground"
BATTEN, FRAME, RAIL, CARRIER = "batten", "frame", "rail", "carrier"
"""What a part is: a side of the box, a door, a fixed pane of the front, a background, a cover over a
hole, a mat or cloth of the ground; a batten, a bar of the top's frame or a rail under lamps, which are
cut to length; the strip under the outer track of sliding doors."""

BARS = (BATTEN, FRAME, RAIL)
"""Parts that are cut to length only."""

ABOVE, FRONT, RIGHT = "above", "front", "right"
"""From where a part's drawing is seen: its width runs to the right, its height up."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in a part: its centre ``at`` from the part's lower left corner and its ``size`` [m];
    ``round`` True for a circle of that diameter; ``edge`` True where it runs out over the edge."""

    name: str
    at: Vec2
    size: Vec2
    round: bool = False
    edge: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """Something that stands on a part, drawn where it comes to stand: ``name`` and its corners from the
    part's lower left corner [m]; ``where`` it stands, in words."""

    name: str
    low: Vec2
    high: Vec2
    where: str = "behind it"


@dataclass(frozen=True, slots=True)
class PartToCut:
    """One rectangle to cut.

    ``name`` what it becomes; ``kind`` one of the words above; ``material`` key and ``label`` of what
    it is made of; ``thickness``, ``width``, ``height`` [m]; ``seen`` from where; ``grain`` along its
    ``width`` or ``height``, or empty where it may run either way; ``low`` and ``high`` the corners of
    the place it sits in [m], None where that is not told; ``pieces`` True where it may be made of
    several side by side, which then overlap by ``lap`` [m]; ``number`` on the drawings, with a letter
    ``suffix`` for one of several pieces, whose lower left corner lies ``offset`` from that of the whole
    [m]; ``marks`` what is fixed on it.
    """

    name: str
    kind: str
    material: str
    label: str
    thickness: float
    width: float
    height: float
    seen: str = ABOVE
    holes: tuple[Hole, ...] = ()
    grain: str = ""
    low: Vec3 | None = None
    high: Vec3 | None = None
    pieces: bool = False
    lap: float = 0.0
    number: int = 0
    suffix: str = ""
    offset: Vec2 = (0.0, 0.0)
    marks: tuple[Mark, ...] = ()

    @property
    def mark(self) -> str:
        """What is written on it: its number, and a letter for one of several pieces."""
        return f"{self.number}{self.suffix}"

    @property
    def area(self) -> float:
        """Its area, holes not taken off [m2]."""
        return self.width * self.height
