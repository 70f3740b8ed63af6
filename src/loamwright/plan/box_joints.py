"""How the panels of the box butt, and the zone of its front: where each panel ends.

All lengths in metres, in the axes of the habitat (origin at the inner front left floor corner).
"""

from __future__ import annotations

from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.habitat import Habitat

TRACK = 0.006
"""What the walls of a double runner take beside the two doors [m]; common practice, no source."""

Box = tuple[Vec3, Vec3]
"""Lower and upper corner."""

FREE_AXES: dict[str, tuple[int, int]] = {
    "floor": (0, 1), "top": (0, 1), "back": (0, 2), "front": (0, 2), "left": (1, 2), "right": (1, 2),
}  # fmt: skip
"""The two directions of a panel: the first runs to the right in its drawing, the second up."""


def face_area(habitat: Habitat, side: str) -> float:
    """Inside area of a side [m2]."""
    first, second = FREE_AXES[side]
    return habitat.enclosure.inside[first] * habitat.enclosure.inside[second]


def holes_of(habitat: Habitat) -> list[tuple[str, str, Vec2, Vec2]]:
    """Openings and fans: name, side, middle in the panel's coordinates and size [m], round ones by the
    square round them."""
    found = [(o.name, o.side, o.at, o.size) for o in habitat.enclosure.openings]
    return [
        *found,
        *((f.name, f.side, f.at, (f.type.diameter, f.type.diameter)) for f in habitat.fans),
    ]


def doors_slide(habitat: Habitat) -> bool:
    """Whether the front's doors slide past each other."""
    said, count = habitat.cutting.doors, habitat.enclosure.panel("front").doors
    return count > 0 and (said == "sliding" or (not said and count > 1))


def front_zone(habitat: Habitat) -> float:
    """Depth of the front before the inside: one pane, or two panes and their runners [m]."""
    thick = habitat.enclosure.panel("front").thickness
    return 2.0 * thick + TRACK if doors_slide(habitat) else thick


def panel_boxes(habitat: Habitat) -> dict[str, Box]:
    """Where the five closed panels sit, by side.

    With ``floor-and-top-through`` floor and top reach over the edges of all others and out to the
    front's face, and the back over the back edges of the sides; with ``sides-through`` the sides do
    so. Together with the front's zone they close the box without a gap and without overlap.
    """
    box = habitat.enclosure
    wide, deep, high = box.inside
    t = {p.side: p.thickness for p in box.panels}
    front, back = -front_zone(habitat), deep + t["back"]
    if habitat.cutting.joint == "sides-through":
        low, up = -t["floor"], high + t["top"]
        return {
            "floor": ((0.0, front, low), (wide, back, 0.0)),
            "top": ((0.0, front, high), (wide, back, up)),
            "back": ((0.0, deep, 0.0), (wide, back, high)),
            "left": ((-t["left"], front, low), (0.0, back, up)),
            "right": ((wide, front, low), (wide + t["right"], back, up)),
        }
    left, right = -t["left"], wide + t["right"]
    return {
        "floor": ((left, front, -t["floor"]), (right, back, 0.0)),
        "top": ((left, front, high), (right, back, high + t["top"])),
        "back": ((left, deep, 0.0), (right, back, high)),
        "left": ((left, front, 0.0), (0.0, deep, high)),
        "right": ((wide, front, 0.0), (right, deep, high)),
    }


def outer_box(habitat: Habitat) -> Box:
    """The whole box, front included."""
    boxes = panel_boxes(habitat).values()
    low = tuple(min(b[0][k] for b in boxes) for k in range(3))
    high = tuple(max(b[1][k] for b in boxes) for k in range(3))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
