"""Whether it holds: how it stands, its panels, what is fixed to it, and what that takes to buy."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan.fit import Fit, fit_of
from loamwright.plan.fixings import Fixing, Stone, fixings_of, stones_of
from loamwright.plan.lines import Line
from loamwright.plan.panels import PanelLoad, panel_loads
from loamwright.plan.standing import TILT, Standing, standing_of

BED = 0.003
"""Thickness of an adhesive bed [m]; common practice, no source."""

GROUP = "fixings"


@dataclass(frozen=True, slots=True)
class Strength:
    """How it ``stands``, its ``panels``, ``fixings`` and ``stones``, how things ``fit``, and the
    ``lines`` to buy."""

    stands: Standing
    panels: tuple[PanelLoad, ...]
    fixings: tuple[Fixing, ...]
    stones: tuple[Stone, ...]
    fit: Fit
    lines: tuple[Line, ...]


def strength_of(habitat: Habitat, amount: Quantities) -> Strength:
    """All of it; ``amount`` the ground's quantities, whose load is the only one."""
    stands = standing_of(habitat, amount)
    fixings, stones = fixings_of(habitat), stones_of(habitat)
    return Strength(
        stands,
        panel_loads(habitat, amount),
        fixings,
        stones,
        fit_of(habitat),
        _lines(habitat, stands, fixings, stones),
    )


def _lines(
    habitat: Habitat, stands: Standing, fixings: tuple[Fixing, ...], stones: tuple[Stone, ...]
) -> tuple[Line, ...]:
    out = []
    rows = []
    for panel in habitat.enclosure.panels:
        if panel.ribs:
            wide, deep, high = habitat.enclosure.inside
            along = deep if panel.side in ("left", "right") else wide
            length = deep if panel.side in ("top", "floor") else high
            rows.append((panel.side, (math.ceil(along / panel.ribs - 1e-9) - 1) * length))
    if rows:
        out.append(
            Line(
                "fixings/batten-20x40", GROUP, "batten, 20 x 40 mm", math.fsum(m for _, m in rows),
                "m", waste=0.1, why="across panels that would bulge",
                uses=tuple(side for side, _ in rows),
            )
        )  # fmt: skip
    screwed = [f for f in fixings if f.screws or (f.factor is None and f.needs)]
    count = sum(f.screws or f.needs for f in screwed)
    if count:
        out.append(
            Line("fixings/screw-stainless", GROUP, "stainless screw, 4.5 mm", float(count), "piece",
                 spares=float(math.ceil(0.1 * count)), why="as said, else as many as its load needs",
                 uses=tuple(f.name for f in screwed))
        )  # fmt: skip
    glued = [f for f in fixings if f.glued > 0.0]
    area = math.fsum(f.glued for f in glued)
    if area:
        out.append(
            Line("fixings/silicone", GROUP, "neutral-cure silicone", 1000.0 * BED * area, "L",
                 waste=0.1, why="a bed of 3 mm over the area glued", uses=tuple(f.name for f in glued))
        )  # fmt: skip
    for footing in dict.fromkeys(s.footing for s in stones if s.footing):
        on = [s.name for s in stones if s.footing == footing]
        out.append(
            Line(f"fixings/footing-{footing.replace(' ', '-')}", GROUP, f"footing: {footing}",
                 float(len(on)), "piece", why="carries a stone down to the hard floor", uses=tuple(on))
        )  # fmt: skip
    if stands.tilt < 1.5 * TILT or stands.tied:
        out.append(Line("fixings/wall-tie", GROUP, "bracket that ties it to the wall", 2.0, "piece",
                        why="slim for its height"))  # fmt: skip
    return tuple(out)
