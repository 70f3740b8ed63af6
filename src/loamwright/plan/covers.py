"""Where covers and guards lie: over which hole, on which face of its panel, how far beyond its edge.

Each is as large as its hole and its laps. On which face it lies and how it is fixed is common practice,
no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Cover
from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES, holes_of
from loamwright.plan.screws import Screws, cover_screws, fan_screws

ENDS = {0: ("left", "right"), 1: ("front", "back"), 2: ("floor", "top")}
"""The sides at both ends of each axis."""

NARROW = 0.010
"""Lap below which a washer bears on the cover's edge alone [m]; common practice."""

AIR = 0.002
"""Air between a cover on a panel's inside and the face of a background beside it [m]; common
practice."""

Laps = tuple[float, float, float, float]
"""How far a cover reaches beyond its hole: by its part's drawing left, right, below and above [m]."""


@dataclass(frozen=True, slots=True)
class CoverPlace:
    """A cover or a guard called ``name`` of ``cover``, over the hole ``over`` in a ``side``: its
    corners ``low`` and ``high`` in the panel's coordinates [m] and its ``laps``; ``inside`` the panel
    or, as the second guard of a fan, outside of it under the fan; ``behind`` a background that is put
    in after it, empty where there is none; ``screws`` None where the panel takes none (it is bedded
    in sealant)."""

    name: str
    cover: Cover
    over: str
    side: str
    low: Vec2
    high: Vec2
    laps: Laps
    inside: bool
    behind: str
    screws: Screws | None

    @property
    def size(self) -> Vec2:
        """Its size as it is cut [m]."""
        return self.high[0] - self.low[0], self.high[1] - self.low[1]


def covers_of(habitat: Habitat) -> tuple[CoverPlace, ...]:
    """Covers of openings, then guards of fans, in the order of the file."""
    holes = holes_of(habitat)
    openings = habitat.enclosure.openings
    behind = {x.side: x.name for x in habitat.enclosure.linings}
    round_holes = {s.name: s for s in cover_screws(habitat)}
    at_corners = {s.name: s for s in fan_screws(habitat)}
    out: list[CoverPlace] = []

    def add(number: int, name: str, cover: Cover, inside: bool, screws: Screws | None) -> None:
        hole, side, at, size = holes[number]
        laps = _laps(habitat, holes, number, inside)
        low = (at[0] - size[0] / 2 - laps[0], at[1] - size[1] / 2 - laps[2])
        high = (at[0] + size[0] / 2 + laps[1], at[1] + size[1] / 2 + laps[3])
        out.append(
            CoverPlace(name, cover, hole, side, low, high, laps, inside,
                       behind.get(side, "") if inside else "", screws)
        )  # fmt: skip

    for number, hole in enumerate(openings):
        if hole.cover.kind != "open":
            add(number, f"cover of {hole.name}", hole.cover, True, round_holes.get(hole.name))
    for number, fan in enumerate(habitat.fans, len(openings)):
        many = len(fan.guards)
        screws = at_corners.get(fan.name)
        for n, guard in enumerate(fan.guards):
            told = f" {n + 1} of {many}" if many > 1 else ""
            add(number, f"guard{told} of {fan.name}", guard, n == 0, screws)
    return tuple(out)


def _laps(
    habitat: Habitat, holes: list[tuple[str, str, Vec2, Vec2]], number: int, within: bool
) -> Laps:  # fmt: skip
    """How far a cover reaches beyond its hole: by the overlap, but no further than the inside of the
    panel, of one ``within`` the box the face of a background beside it, nor beyond the middle of what
    is left to a hole beside it."""
    _, side, at, size = holes[number]
    lap = habitat.cutting.cover_overlap
    inside = [habitat.enclosure.inside[k] for k in FREE_AXES[side]]
    found = []
    for k in (0, 1):
        for way in (-1.0, 1.0):
            edge = at[k] + way * size[k] / 2
            room = [lap, inside[k] - edge if way > 0 else edge]
            lined = habitat.enclosure.lining_depth(ENDS[FREE_AXES[side][k]][way > 0])
            if within and lined:
                room[1] -= lined + AIR
            for n, (_, on, other, wide) in enumerate(holes):
                if n == number or on != side or (other[k] - at[k]) * way <= 0:
                    continue
                gaps = [abs(other[j] - at[j]) - (size[j] + wide[j]) / 2 for j in (0, 1)]
                # Two covers that are apart one way need no room the other way.
                if gaps[k] > gaps[1 - k] and gaps[1 - k] < 2.0 * lap:
                    room.append(gaps[k] / 2)
            found.append(max(min(room), 0.0))
    return found[0], found[1], found[2], found[3]
