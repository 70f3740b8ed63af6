"""Glass measured on the joined box before it is ordered: what opens, and what closes a made front.

Ordered from the drawing, a pane is as wrong as the box; made of glass all round, the box is as right as
its panes, which are ordered at the start. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.habitat import Habitat
from loamwright.plan.front_parts import sill_height

BODY = ("floor", "back", "left", "right")
"""Sides that make a box; all of glass, their panes come first."""


def is_glass(key: str) -> bool:
    """Whether a material, by its key, is ordered cut and never cut in the workshop."""
    return "glass" in key


@dataclass(frozen=True, slots=True)
class LaterGlass:
    """Glass ordered after measuring: ``panes`` how many, ``where`` (sides) and ``what`` in words; the
    fixed part of a made front that is of glass (``strip``, empty where there is none)."""

    panes: int
    where: str
    what: str
    strip: str

    @property
    def there(self) -> bool:
        """Whether any glass is measured later."""
        return self.panes > 0


def all_glass(habitat: Habitat) -> bool:
    """Whether the box itself is made of panes."""
    return all(is_glass(habitat.enclosure.panel(side).material.key) for side in BODY)


def strip_height(habitat: Habitat) -> float:
    """Height of the fixed part of the front [m]: all of it where it does not open."""
    front = habitat.enclosure.panel("front")
    return sill_height(habitat) if front.doors else habitat.enclosure.inside[2]


def later_glass(habitat: Habitat) -> LaterGlass:
    """Glass that is measured on the joined box."""
    front = habitat.enclosure.panel("front")
    of = habitat.cutting.sill_material if front.doors else ""
    strip = ""
    if (
        not all_glass(habitat)
        and is_glass(of or front.material.key)
        and strip_height(habitat) > 0.0
    ):
        strip = "fixed front strip" if front.doors else "front pane"
    opening = [p for p in habitat.enclosure.panels if p.doors and is_glass(p.material.key)]
    doors = sum(p.doors for p in opening)
    sides = dict.fromkeys([*(["front"] if strip else []), *(p.side for p in opening)])
    told = [strip] if strip else []
    if doors:
        told.append("1 door" if doors == 1 else f"{doors} doors")
    return LaterGlass(doors + bool(strip), " and the ".join(sides), ", ".join(told), strip)
