"""How lamps are fixed to what carries them: rails on the frame or the top, lamps on rails, rods and
brackets through the top.

The shopping list and the table of mounts read it here. Sizes and numbers: common practice, no
source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.lamp_bodies import depth_of
from loamwright.habitat.enclosure import Vec2
from loamwright.habitat.habitat import Habitat
from loamwright.plan.frames import BITE, CONNECTOR, Frame, frame_of
from loamwright.plan.lines import Line
from loamwright.plan.mounts import RAILS, ROD, STANDS, Mount, lamp_mounts
from loamwright.plan.rails import SIZE, Rail, laid_rails
from loamwright.plan.screws import Screws, at_least, at_most, bolt, by_length, takes_screws

THREAD, HOLE = 0.006, 0.0065
"""Thread of a rod or a bracket's end and the hole it goes through [m]."""

PLATE, PLATE_THICK = 0.07, 0.002
"""Edge of the square plate over the top that a rod hangs from, and its thickness [m]; judgement."""

ENDS = 0.02
"""What a rod's nuts and washers take beyond what it goes through, and in the lamp [m]."""

FOOT = 0.003
"""Thickness of a fitting, a stand-off's foot or a bracket where it is screwed to a rail [m]."""

POINT = 0.001
"""Least stuff before a screw's point in a top that lies bare below it [m]."""

FEET = 2
"""Screws of each stand-off that stands on the top."""

BESIDE = 0.05
"""How far a bar over an opening reaches beyond it on each side [m]."""


@dataclass(frozen=True, slots=True)
class Rod:
    """A rod or a bracket's arm of a ``lamp``: where it goes through the top (``at``) [m], how far it
    ``reaches`` below the top's inner face and how long it is in all [m]; the ``bar`` of the frame it is
    fixed to, empty where a plate over the top carries it; ``under`` an opening, which a bar of its own
    spans; ``drilled`` whether the top takes a hole."""

    lamp: str
    at: Vec2
    reaches: float
    length: float
    bracket: bool
    bar: str
    under: str
    drilled: bool


def rods_of(habitat: Habitat) -> tuple[Rod, ...]:
    """Every rod and bracket of lamps inside, in the order of the file."""
    box, frame = habitat.enclosure, frame_of(habitat)
    lamps = {x.name: x for x in habitat.lamps}
    top = box.panel("top")
    out = []
    for m in lamp_mounts(habitat):
        if m.how != ROD:
            continue
        lamp = lamps[m.name]
        back = [a - depth_of(lamp) * d for a, d in zip(lamp.at, lamp.aim, strict=True)]
        for at in m.at:
            aside = math.dist(at, back[:2]) if m.bracket else 0.0
            bar = _bar_at(frame, at)
            under = next(
                (o for o in box.openings if o.side == "top" and not bar and o.spans(at)), None
            )
            above = frame.size if frame is not None and bar else SIZE if under else PLATE_THICK
            reaches = m.height + aside
            long = reaches + top.thickness + above + ENDS
            out.append(Rod(m.name, at, reaches, math.ceil(100.0 * long - 1e-6) / 100.0, m.bracket, bar,
                           "" if under is None else under.name,
                           takes_screws(top.material.key) and under is None))  # fmt: skip
    return tuple(out)


def _bar_at(frame: Frame | None, at: Vec2) -> str:
    """The bar of the frame that lies over a place with room for a rod, empty where none does."""
    for m in frame.members if frame is not None else ():
        if all(m.low[k] + THREAD / 2 <= at[k] <= m.high[k] - THREAD / 2 for k in (0, 1)):
            return m.name
    return ""


def rail_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """Screws of rails, by the rail's name: one at each end, of one between bars two at each angle."""
    frame = frame_of(habitat)
    out = []
    for name, rail in laid_rails(habitat):
        if rail.between:
            out.append(Screws(name, 4, CONNECTOR, "at each end through a small angle, one into the "
                              "rail and one into the frame's bar, drilled first"))  # fmt: skip
            continue
        through = SIZE + block_height(habitat, rail)
        told = "through the rail and its block" if rail.hung else "through the rail"
        panel = habitat.enclosure.panel("top")
        if frame is not None:
            screw, into = by_length(at_least(through + frame.wall + BITE)), "the frame's bar"
        elif takes_screws(panel.material.key):
            screw, into = by_length(at_most(through + panel.thickness - POINT)), "the top"
        else:
            continue  # bedded in silicone
        out.append(Screws(name, 2, screw, f"one at each end, {told} into {into}, drilled first"))
    return tuple(out)


def block_height(habitat: Habitat, rail: Rail) -> float:
    """Height of the blocks under a rail that lies over lamps [m], 0 for others."""
    if not rail.hung:
        return 0.0
    frame = frame_of(habitat)
    top = habitat.enclosure.inside[2] + habitat.enclosure.panel("top").thickness
    return max(0.0, rail.low[2] - top - (frame.size if frame is not None else 0.0))


def fitting_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """Screws of lamps on what carries them above the top: one at each rail, two in each stand-off."""
    panel = habitat.enclosure.panel("top")
    out = []
    for m in lamp_mounts(habitat):
        if m.how == RAILS and m.rails:
            out.append(Screws(m.name, len(m.rails), bolt(SIZE + FOOT),
                              f"through the rail and {_foot(m)}, one at each rail"))  # fmt: skip
        elif m.how == STANDS and takes_screws(panel.material.key):
            screw = by_length(at_most(panel.thickness + FOOT - POINT))
            out.append(Screws(m.name, FEET * len(m.at), screw, f"through {_foot(m)} into the top, "
                              "two at each place"))  # fmt: skip
    return tuple(out)


def _foot(m: Mount) -> str:
    if m.bracket:
        return "the bracket's foot"
    return "the hanger's or stand-off's foot" if m.hangers else "the lamp's fitting"


def hold_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """All screws of rails and of lamps on them or on the top."""
    return (*rail_screws(habitat), *fitting_screws(habitat))


def hold_lines(habitat: Habitat) -> list[Line]:
    """Rods, brackets with their reach, plates and bars they hang from, angles and blocks of rails."""
    out = []
    for rod in rods_of(habitat):
        cm = f"{100.0 * rod.length:.0f}"
        if rod.bracket:
            out.append(Line(f"hangers/lamp-bracket-{cm}cm", "lamps", "bracket that holds a lampholder, "
                            f"stainless, to be turned, {cm} cm long, its end threaded M6 with two nuts "
                            "and washers", 1.0, "piece", uses=(rod.lamp,), why="one a turned lamp "
                            "inside: from its back up through the top; common practice"))  # fmt: skip
        else:
            out.append(Line(f"hangers/lamp-rod-{cm}cm", "lamps", f"threaded rod, M6, stainless, {cm} "
                            "cm, with four nuts and washers", 1.0, "piece", uses=(rod.lamp,),
                            why="at each place a lamp inside is held, up through the top; common "
                            "practice"))  # fmt: skip
        if rod.under:
            hole = next(o for o in habitat.enclosure.openings if o.name == rod.under)
            long = math.ceil(100.0 * (min(hole.size) + 2.0 * BESIDE) - 1e-6)
            out.append(Line(f"hangers/opening-bar-{long}cm", "lamps", "aluminium square tube over an "
                            f"opening, 15 x 15 x 1.5 mm, {long} cm, for a rod", 1.0, "piece",
                            uses=(rod.lamp,), why="where a rod comes up under an opening; common "
                            "practice"))  # fmt: skip
        elif not rod.bar:
            out.append(Line("hangers/top-plate", "lamps", "plates over the top that a rod or bracket "
                            "hangs from, aluminium, 70 x 70 x 2 mm, drilled for M6", 1.0, "piece",
                            uses=(rod.lamp,), why="where no bar of the frame lies over the rod; common "
                            "practice"))  # fmt: skip
    for _, rail in laid_rails(habitat):
        if rail.between:
            out.append(Line("hangers/rail-angle", "lamps", "small angles for rails between bars, "
                            "stainless, 15 mm", 2.0, "piece", uses=(rail.lamp,),
                            why="one at each end of a rail; common practice"))  # fmt: skip
        high = round(1000.0 * block_height(habitat, rail))
        if rail.hung and high:
            out.append(Line(f"hangers/rail-block-{high}mm", "lamps", "blocks under rails, hardwood "
                            f"or plastic, 15 x 40 mm, {high} mm high", 2.0, "piece", uses=(rail.lamp,),
                            why="one under each end of a rail; common practice"))  # fmt: skip
    return out
