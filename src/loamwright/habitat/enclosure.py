"""The box: panels, openings with their covers, linings, stand."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Cover, Material

PANELS: tuple[str, ...] = ("floor", "back", "left", "right", "top", "front")

Vec2 = tuple[float, float]
Vec3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Panel:
    """One of the six sides. ``doors`` > 0: the panel opens. ``gap`` between doors [m].
    A clear ``material`` makes it a window. ``held``: one of `HELD`; ``sill`` height of the fixed strip
    below the doors [m]; ``ribs`` greatest distance between battens across its outside [m], 0: none."""

    side: str
    material: Material
    thickness: float
    doors: int = 0
    gap: float = 0.0
    held: str = "four"
    sill: float = 0.0
    ribs: float = 0.0


HELD: tuple[str, ...] = ("everywhere", "four", "three", "two")
"""How a panel is held: all over its face or by a frame along all edges, openings' too; on four
edges; on three, the upper (of the top the front) one free; on two, its left and right ones."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole in a panel. ``at`` and ``size`` in panel coordinates: (x, y) for floor and top,
    (x, z) for front and back, (y, z) for left and right; ``at`` is the centre. [m]"""

    name: str
    side: str
    at: Vec2
    size: Vec2
    cover: Cover

    def spans(self, place: Vec2) -> bool:
        """Whether a place of its panel lies in it, its edge included."""
        return all(abs(place[k] - self.at[k]) <= self.size[k] / 2 for k in (0, 1))


@dataclass(frozen=True, slots=True)
class Lining:
    """A background on the inside of a panel; it takes ``thickness`` [m] of the inside. ``fixing`` in
    words; ``screws`` that hold it, and the area that is ``glued`` [m2], None where not said."""

    name: str
    side: str
    material: Material
    thickness: float
    fixing: str = ""
    screws: int | None = None
    glued: float | None = None


@dataclass(frozen=True, slots=True)
class Stand:
    """What it stands on; ``rated`` load [kg] where known, ``height`` [m], ``mass`` [kg], and whether it
    or the enclosure is ``tied`` to a wall."""

    kind: str
    rated: float | None = None
    height: float = 0.7
    mass: float = 40.0
    tied: bool = False


@dataclass(frozen=True, slots=True)
class Enclosure:
    """Inside size (width, depth, height) [m] and what closes it."""

    inside: Vec3
    panels: tuple[Panel, ...]
    openings: tuple[Opening, ...] = ()
    linings: tuple[Lining, ...] = ()
    stand: Stand | None = None

    def panel(self, side: str) -> Panel:
        """The panel of one side."""
        return next(p for p in self.panels if p.side == side)

    def lining_depth(self, side: str) -> float:
        """How far the lining stands out from a side [m]."""
        return sum(x.thickness for x in self.linings if x.side == side)

    @property
    def floor(self) -> tuple[float, float, float, float]:
        """The floor between the linings: left, right, front and back edge [m]."""
        wide, deep, _ = self.inside
        return (
            self.lining_depth("left"), wide - self.lining_depth("right"),
            self.lining_depth("front"), deep - self.lining_depth("back"),
        )  # fmt: skip
