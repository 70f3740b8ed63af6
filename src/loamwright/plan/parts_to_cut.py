"""From the habitat to the rectangles that are cut for it: panels, doors, backgrounds, covers, cloth.

How panels butt is told in `box_joints`. Widths and heights are those of the finished part; the saw's
kerf is counted when parts are laid on sheets.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from loamwright.habitat.catalogue import Cover
from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan import battens as ribs
from loamwright.plan import rails
from loamwright.plan.box_joints import FREE_AXES, Box, panel_boxes
from loamwright.plan.covers import covers_of
from loamwright.plan.cut_parts import (
    ABOVE,
    BATTEN,
    COVER,
    DOOR,
    FRAME,
    FRONT,
    GROUND,
    LINING,
    PANEL,
    RAIL,
    RIGHT,
    Hole,
    Mark,
    PartToCut,
)  # fmt: skip
from loamwright.plan.frames import frame_of
from loamwright.plan.front_parts import front_parts
from loamwright.plan.runner_carrier import carrier_parts
from loamwright.plan.service_holes import Service, services_of

SEEN = {"floor": ABOVE, "top": ABOVE, "back": FRONT, "front": FRONT, "left": RIGHT, "right": RIGHT}

GRAINED = ("plywood", "softwood", "hardwood")
"""Materials whose grain matters: it runs along a part's longer side, where the part is stiffest."""

COVER_SHEETS = {"float-glass": 0.005}
COVER_SHEET = 0.003
"""Thickness of sheets laid over holes [m], as the catalogue's labels say."""

CLOTH_LAP = 0.10
"""Overlap of lengths of fleece laid side by side [m]; common practice, no source."""

CLOTHS = ("drainage-mat", "fleece")
"""Layers of the ground that are cut."""


@dataclass(frozen=True, slots=True)
class Parts:
    """All parts, and names of holes of the front that no pane holds whole."""

    parts: tuple[PartToCut, ...]
    lost_holes: tuple[str, ...] = ()
    no_doors: bool = False


def parts_to_cut(habitat: Habitat) -> Parts:
    """Everything that is cut, numbered: panels, front, backgrounds, covers, mats and cloth, battens,
    the top's frame, rails of lamps."""
    labels = {p.material.key: p.material.label for p in habitat.enclosure.panels}
    labels |= {x.material.key: x.material.label for x in habitat.enclosure.linings}
    front, lost = front_parts(habitat, labels)
    led = services_of(habitat)
    found = [
        *_panels(habitat, led), *front, *carrier_parts(habitat), *_linings(habitat, led),
        *_covers(habitat), *_cloth(habitat), *_battens(habitat), *_frame(habitat), *_rails(habitat),
    ]  # fmt: skip
    wanted = habitat.enclosure.panel("front").doors
    short = wanted > 0 and not any(p.kind == DOOR and p.seen == FRONT for p in front)
    return Parts(tuple(replace(p, number=n) for n, p in enumerate(found, 1)), tuple(lost), short)


def _panels(habitat: Habitat, led: tuple[Service, ...]) -> list[PartToCut]:
    """The five closed sides; one with doors is parted into leaves."""
    out: list[PartToCut] = []
    standing, frame = ribs.battens(habitat), frame_of(habitat)
    for side, box in panel_boxes(habitat).items():
        panel = habitat.enclosure.panel(side)
        first, second = FREE_AXES[side]
        start = (box[0][first], box[0][second])
        size = (box[1][first] - start[0], box[1][second] - start[1])
        key = panel.material.key
        whole = PartToCut(
            side, PANEL, key, panel.material.label, panel.thickness, *size, SEEN[side],
            _holes(habitat, side, start, size, led), _grain(key, size), *box,
            marks=(
                *(Mark(b.name, *b.mark(start), ribs.seen_from(side))
                  for b in standing if b.side == side),
                *(Mark(m.name, *m.mark(start), "on it")
                  for m in (frame.members if frame and side == "top" else ())),
            ),
        )  # fmt: skip
        out += [whole] if panel.doors < 1 else _leaves(whole, panel.doors, panel.gap, first)
    return out


def _leaves(whole: PartToCut, count: int, gap: float, axis: int) -> list[PartToCut]:
    """A panel parted side by side into doors."""
    one = (whole.width - (count - 1) * gap) / count
    assert whole.low is not None
    assert whole.high is not None
    out = []
    for n in range(count):
        start = n * (one + gap)
        low, high = list(whole.low), list(whole.high)
        low[axis] += start
        high[axis] = low[axis] + one
        holes = tuple(
            replace(h, at=(h.at[0] - start, h.at[1]))
            for h in whole.holes
            if start <= h.at[0] < start + one
        )
        name = f"{whole.name} door" if count == 1 else f"{whole.name} door {n + 1} of {count}"
        out.append(
            replace(whole, name=name, kind=DOOR, width=one, holes=holes, marks=(),
                    low=(low[0], low[1], low[2]), high=(high[0], high[1], high[2]))
        )  # fmt: skip
    return out


def _holes(
    habitat: Habitat, side: str, start: Vec2, size: Vec2, led: tuple[Service, ...]
) -> tuple[Hole, ...]:
    """Openings, fans and what is led through a side, measured from a part's corner; none where they
    miss the part."""
    found = [(o.name, o.at, o.size, False) for o in habitat.enclosure.openings if o.side == side]
    found += [(f.name, f.at, (f.type.diameter, f.type.diameter), True)
              for f in habitat.fans if f.side == side]  # fmt: skip
    found += [(s.name, s.at, (s.diameter, s.diameter), True) for s in led if s.side == side]
    out = []
    for name, at, hole, is_round in found:
        place = (at[0] - start[0], at[1] - start[1])
        ends = [(place[k] - hole[k] / 2, place[k] + hole[k] / 2) for k in (0, 1)]
        if any(e[1] <= 0.0 or e[0] >= size[k] for k, e in enumerate(ends)):
            continue
        over = any(e[0] <= 0.0 or e[1] >= size[k] for k, e in enumerate(ends))
        out.append(Hole(name, place, hole, is_round, over))
    return tuple(out)


def _grain(key: str, size: Vec2) -> str:
    if key not in GRAINED:
        return ""
    return "width" if size[0] >= size[1] else "height"


def _linings(habitat: Habitat, led: tuple[Service, ...]) -> list[PartToCut]:
    """Backgrounds: those of back and front full width, those of the sides between them, those of floor
    and top within all four. A large one is made of several boards side by side."""
    box = habitat.enclosure
    wide, deep, high = box.inside
    left, right, front, back = box.floor
    out = []
    used: dict[str, float] = {}
    for lining in box.linings:
        side, near = lining.side, used.get(lining.side, 0.0)
        used[side] = near + lining.thickness
        place: Box = {
            "back": ((0.0, deep - used[side], 0.0), (wide, deep - near, high)),
            "front": ((0.0, near, 0.0), (wide, used[side], high)),
            "left": ((near, front, 0.0), (used[side], back, high)),
            "right": ((wide - used[side], front, 0.0), (wide - near, back, high)),
            "floor": ((left, front, near), (right, back, used[side])),
            "top": ((left, front, high - used[side]), (right, back, high - near)),
        }[side]
        first, second = FREE_AXES[side]
        start = (place[0][first], place[0][second])
        size = (place[1][first] - start[0], place[1][second] - start[1])
        key = lining.material.key
        out.append(
            PartToCut(lining.name, LINING, key, lining.material.label, lining.thickness, *size,
                      SEEN[side], _holes(habitat, side, start, size, led), _grain(key, size), *place,
                      pieces=True)
        )  # fmt: skip
    return out


def _covers(habitat: Habitat) -> list[PartToCut]:
    """Meshes and sheets over holes, and guards of fans, larger than the hole by their laps."""
    return [_cover(c.name, c.cover, c.size, SEEN[c.side]) for c in covers_of(habitat)]


def _cover(name: str, cover: Cover, size: Vec2, seen: str) -> PartToCut:
    if cover.sheet is None:
        return PartToCut(name, COVER, cover.key, cover.label, cover.wire * 2, *size, seen)
    thick = COVER_SHEETS.get(cover.sheet.key, COVER_SHEET)
    key, label = cover.sheet.key, cover.sheet.label
    return PartToCut(name, COVER, key, label, thick, *size, seen)


def _cloth(habitat: Habitat) -> list[PartToCut]:
    """Mats and fleece over the ground between the backgrounds; fleece is turned up at its edges."""
    left, right, front, back = habitat.enclosure.floor
    out = []
    for layer in habitat.ground.layers:
        if layer.kind not in CLOTHS:
            continue
        up = habitat.cutting.turn_up if layer.kind == "fleece" else 0.0
        lap = CLOTH_LAP if layer.kind == "fleece" else 0.0
        out.append(
            PartToCut(layer.name, GROUND, layer.kind, layer.kind.replace("-", " "), layer.depth,
                      right - left + 2 * up, back - front + 2 * up, ABOVE, pieces=True, lap=lap)
        )  # fmt: skip
    return out


def _battens(habitat: Habitat) -> list[PartToCut]:
    """Battens behind the panels that need them; they are cut to length only."""
    return [
        PartToCut(b.name, BATTEN, ribs.KEY, ribs.LABEL, ribs.THICK, ribs.WIDE, b.length, SEEN[b.side],
                  low=b.low, high=b.high)
        for b in ribs.battens(habitat)
    ]  # fmt: skip


def _frame(habitat: Habitat) -> list[PartToCut]:
    """Bars of the top's frame, cut to length."""
    frame = frame_of(habitat)
    if frame is None:
        return []
    return [
        PartToCut(m.name, FRAME, frame.key, frame.label, frame.size, frame.size, m.length, ABOVE,
                  low=m.low, high=m.high)
        for m in frame.members
    ]  # fmt: skip


def _rails(habitat: Habitat) -> list[PartToCut]:
    """Rails of lamps over openings, cut to length."""
    return [
        PartToCut(name, RAIL, rails.KEY, rails.LABEL, rails.SIZE, rails.SIZE, rails.length_of(r), ABOVE,
                  low=r.low, high=r.high)
        for name, r in rails.laid_rails(habitat)
    ]  # fmt: skip
