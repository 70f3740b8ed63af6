"""Whether it holds: how it stands, its panels, what is fixed to it, and what that takes to buy."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.engine.ground.footings import A_COURSE, COURSE, bricks_under, firm_height
from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan import battens as ribs
from loamwright.plan.batten_loads import BattenLoad, batten_loads
from loamwright.plan.fit import Fit, fit_of
from loamwright.plan.fixings import Fixing, Stone, fixings_of, stones_of
from loamwright.plan.frames import frame_lines
from loamwright.plan.held_screws import held_screws
from loamwright.plan.lines import Line, merged
from loamwright.plan.panels import PanelLoad, panel_loads
from loamwright.plan.screws import Screws, screw_lines
from loamwright.plan.standing import TILT, Standing, standing_of

BED = 0.003
"""Thickness of an adhesive bed [m]; common practice, no source."""

GROUP = "fixings"


@dataclass(frozen=True, slots=True)
class Footing:
    """What carries the stone called ``stone``: ``what`` in words and its ``height`` from the drainage,
    or the floor, to the stone's foot [m]."""

    stone: str
    what: str
    height: float


@dataclass(frozen=True, slots=True)
class Strength:
    """How it ``stands``, its ``panels``, ``fixings`` and ``stones``, the ``screws`` of what is held and
    the ``footings`` of stones, how things ``fit``, how ``battens`` bend, and the ``lines`` to buy."""

    stands: Standing
    panels: tuple[PanelLoad, ...]
    fixings: tuple[Fixing, ...]
    stones: tuple[Stone, ...]
    fit: Fit
    lines: tuple[Line, ...]
    screws: tuple[Screws, ...] = ()
    footings: tuple[Footing, ...] = ()
    battens: tuple[BattenLoad, ...] = ()


def footings_of(habitat: Habitat, stones: Iterable[Stone]) -> tuple[Footing, ...]:
    """The footing of every stone that has one, with its height."""
    return tuple(
        Footing(s.name, s.footing, max(0.0, s.at[2] - firm_height(habitat, s.at[0], s.at[1])))
        for s in stones if s.footing
    )  # fmt: skip


def strength_of(habitat: Habitat, amount: Quantities) -> Strength:
    """All of it; ``amount`` the ground's quantities, whose load is the only one."""
    stands = standing_of(habitat, amount)
    fixings, stones = fixings_of(habitat), stones_of(habitat)
    fit, footings = fit_of(habitat), footings_of(habitat, stones)
    screws = held_screws(habitat, fixings, fit.contacts)
    lines = _lines(habitat, stands, fixings, screws, footings)
    panels = panel_loads(habitat, amount)
    return Strength(
        stands, panels, fixings, stones, fit, lines, screws, footings, batten_loads(habitat, panels)
    )


def _lines(
    habitat: Habitat, stands: Standing, fixings: tuple[Fixing, ...], screws: tuple[Screws, ...],
    footings: tuple[Footing, ...],
) -> tuple[Line, ...]:  # fmt: skip
    out = []
    standing = ribs.battens(habitat)
    if standing:
        out.append(
            Line(
                ribs.KEY, GROUP, ribs.LABEL, math.fsum(b.length for b in standing), "m",
                why="across panels that would bulge", uses=tuple(b.name for b in standing),
            )
        )  # fmt: skip
    out += frame_lines(habitat)
    out += merged(screw_lines(screws))
    glued = [f for f in fixings if f.glued > 0.0]
    area = math.fsum(f.glued for f in glued)
    if area:
        out.append(
            Line("fixings/silicone", GROUP, "neutral-cure silicone", 1000.0 * BED * area, "L",
                 waste=0.1, why="a bed of 3 mm over the area glued", uses=tuple(f.name for f in glued))
        )  # fmt: skip
    out += _footing_lines(footings)
    if stands.tilt < 1.5 * TILT or stands.tied:
        out.append(Line("fixings/wall-tie", GROUP, "bracket that ties it to the wall, with screws and "
                        "plugs for that wall", 2.0, "piece",
                        why="at both upper back corners; slim for its height, or so said"))  # fmt: skip
    return tuple(out)


def _footing_lines(footings: tuple[Footing, ...]) -> list[Line]:
    """Footings by what they are, each with its height; of bricks as many as their courses take."""
    out = []
    for what in dict.fromkeys(f.what for f in footings):
        found = [f for f in footings if f.what == what]
        told = "; ".join(f"{f.stone}: {100 * f.height:.1f} cm high" for f in found)
        count = float(len(found))
        why = "carries each stone down to the drainage layer or the floor"
        if "brick" in what:
            count = float(sum(bricks_under(f.height) for f in found))
            why += (f", {A_COURSE} to a course of about {100 * COURSE:g} cm, the last one cut or "
                    "bedded to the height; common practice")  # fmt: skip
        out.append(
            Line(f"fixings/footing-{what.replace(' ', '-')}", GROUP, f"footing: {what} ({told})",
                 count, "piece", why=why, uses=tuple(f.stone for f in found))
        )  # fmt: skip
    return out
