"""Battens across the outside of panels that would bulge: where each stands, and what it takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.habitat.enclosure import Panel, Vec2, Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES, holes_of, panel_boxes
from loamwright.plan.screws import Screw, Screws, batten_screw, edge_screw, takes_screws

THICK, WIDE = 0.020, 0.040
"""Section of a batten [m]: it stands out by the first; common practice, no source."""

KEY, LABEL = "fixings/batten-20x40", "softwood batten, 20 x 40 mm"

SPACING = 0.20
"""Greatest distance between its screws [m]; common practice, no source."""

END = 0.05
"""Distance of the first and last screw from the ends [m]; common practice, no source."""


MORE = 8
"""How many numbers of screws are tried for one that is clear of others."""


@dataclass(frozen=True, slots=True)
class Batten:
    """A batten on a ``side``: its middle ``at`` [m] along the panel's first direction, from the
    inside's corner; ``length`` [m]; the place it takes, ``low`` to ``high`` [m]; ``screw`` None where
    the panel takes none (it is glued alone), ``screws`` and their ``spacing`` [m]; ``ends`` one for
    each end that lies over the edge of floor or top, None where that edge takes none."""

    name: str
    side: str
    at: float
    length: float
    low: Vec3
    high: Vec3
    screw: Screw | None
    screws: int
    spacing: float
    ends: tuple[Screw | None, ...] = ()

    def mark(self, start: Vec2) -> tuple[Vec2, Vec2]:
        """Where it lies on the panel's drawing, from the panel's lower left corner ``start`` [m]."""
        first, second = FREE_AXES[self.side]
        return (
            (self.low[first] - start[0], self.low[second] - start[1]),
            (self.high[first] - start[0], self.high[second] - start[1]),
        )


OUTSIDE_SEEN = ("top", "right")
"""Sides whose drawing shows the face that battens stand on: the top is seen from above, the right side
from the right; of all others the inside is seen."""


def seen_from(side: str) -> str:
    """Where a batten stands on its panel's drawing, in words."""
    return "on it" if side in OUTSIDE_SEEN else "behind it"


def spread(length: float, most: float, end: float = END) -> tuple[int, float]:
    """How many screws a length takes that stand no further apart than ``most``, and how far they do
    [m]."""
    inner = max(0.0, length - 2.0 * end)
    count = max(2, math.ceil(inner / most - 1e-9) + 1)
    return count, inner / (count - 1)


def spread_clear(
    length: float, most: float, avoid: Sequence[float], clear: float, end: float = END
) -> tuple[int, float]:
    """As `spread`, with the fewest more screws that keep none nearer than ``clear`` to the places
    ``avoid`` [m]; where no number does, the one that keeps furthest from them."""
    first, _ = spread(length, most, end)
    best, far = first, -1.0
    for count in range(first, first + MORE):
        apart = max(0.0, length - 2.0 * end) / (count - 1)
        gap = min((abs(end + n * apart - x) for n in range(count) for x in avoid), default=clear)
        if gap >= clear - 1e-9:
            return count, apart
        if gap > far:
            best, far = count, gap
    return best, max(0.0, length - 2.0 * end) / (best - 1)


def battens(habitat: Habitat) -> tuple[Batten, ...]:
    """All battens, side by side: upright on walls, from front to back on top and floor, at even
    distances of no more than the panel's ``ribs``.

    On walls they are as long as the box is high outside, so that their ends lie over the edges of floor
    and top, or over the sides that cover those, and are screwed into them.
    """
    boxes = panel_boxes(habitat)
    inside = habitat.enclosure.inside
    out = []
    for panel in habitat.enclosure.panels:
        if not panel.ribs or panel.side not in boxes:
            continue
        first, second = FREE_AXES[panel.side]
        across = next(k for k in range(3) if k not in (first, second))
        along, length = inside[first], inside[second]
        count = math.ceil(along / panel.ribs - 1e-9) - 1
        far = panel.side in ("back", "right", "top")
        outer = boxes[panel.side][1][across] if far else boxes[panel.side][0][across]
        screw = None
        if takes_screws(panel.material.key):
            screw = batten_screw(panel.thickness, THICK)
        screws, spacing = spread(length, SPACING)
        start, end = 0.0, length
        ends: tuple[Screw | None, ...] = ()
        if second == 2:
            start, end = boxes["floor"][0][2], boxes["top"][1][2]
            ends = _ends(habitat, panel)
        for n in range(1, count + 1):
            at = along * n / (count + 1)
            low, high = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
            low[first], high[first] = at - WIDE / 2, at + WIDE / 2
            low[second], high[second] = start, end
            low[across], high[across] = sorted((outer, outer + (THICK if far else -THICK)))
            name = f"batten {n} of {panel.side}" if count > 1 else f"batten of {panel.side}"
            out.append(
                Batten(name, panel.side, at, end - start, (low[0], low[1], low[2]),
                       (high[0], high[1], high[2]), screw, screws if screw else 0, spacing, ends)
            )  # fmt: skip
    return tuple(out)


def _ends(habitat: Habitat, panel: Panel) -> tuple[Screw | None, ...]:
    """The screws through a wall's batten into the edges of floor and top, through the wall too where it
    covers them."""
    covers = habitat.cutting.joint == "sides-through" and panel.side in ("left", "right")
    through = THICK + (panel.thickness if covers else 0.0)
    out = []
    for side in ("floor", "top"):
        other = habitat.enclosure.panel(side)
        fits = takes_screws(other.material.key) and not other.doors
        fits = fits and (not covers or takes_screws(panel.material.key))
        out.append(edge_screw(through, other.thickness) if fits else None)
    return tuple(out)


def crossed(habitat: Habitat, batten: Batten) -> tuple[str, ...]:
    """Names of openings and fans that a batten would stand across."""
    return tuple(
        name for name, side, at, size in holes_of(habitat)
        if side == batten.side and abs(at[0] - batten.at) < (size[0] + WIDE) / 2
    )  # fmt: skip


def batten_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """The screws of all battens."""
    out = []
    for b in battens(habitat):
        if b.screw is not None:
            out.append(Screws(b.name, b.screws, b.screw, "from the inside through the panel into the "
                              "batten, heads sunk and sealed"))  # fmt: skip
        out += [
            Screws(b.name, 1, end, "from outside through a batten's end into the edge of floor or top, "
                   "drilled first")
            for end in b.ends if end is not None
        ]  # fmt: skip
    return tuple(out)
