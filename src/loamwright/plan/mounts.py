"""Where lamps and probes are held: the place over each, its height, and what a spot is turned to.

A lamp inside hangs from the top on rods or brackets; one above an opening lies on rails across it or
hangs from them; one above a closed top stands on it. All of it common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loamwright.engine.lamp_bodies import body_of, box_body, depth_of, gap_of
from loamwright.habitat.controls import Control
from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.plan.contacts import ROUGH, cloud_of, distance_to
from loamwright.plan.lamp_kinds import is_long, is_turned
from loamwright.plan.lines import Line
from loamwright.plan.rails import (
    KEY,
    LABEL,
    SHARE,
    Rail,
    laid_rails,
    length_of,
    opening_under,
    rails_of,
)

ON_AXIS = 0.05
"""How far from a spot's axis a named place may be to be what it is turned to [m]."""

CLIPPED = 0.05
"""How far from a piece a probe's place may be to be clipped to it [m]; judgement."""

LIES = 0.005
"""How far above what carries it a lamp may be and still lie on it [m]; common practice."""

THICK = 0.02
"""Width of a rod or a bracket's arm [m]; common practice."""

REACHES, TURNS = (0.03, 0.06, 0.09, 0.12, 0.15), 16
"""How far beside a lamp its bracket may be fixed [m], and in how many directions that is looked for;
common practice."""

RINGS = 60
"""Places looked at along a rod."""

STEP = 0.01
"""Distance of the points looked at along a spot's axis [m]."""

ROD, RAILS, STANDS, CLIP, CABLE = "rod", "rails", "stands", "clip", "cable"
"""How things are held: on rods from the top, on rails over an opening, standing on the top, clipped
to a piece, hanging on their cable."""


@dataclass(frozen=True, slots=True)
class Mount:
    """How one thing is held: ``kind`` (``lamp`` or ``probe``), ``how`` one of the ways here, ``at``
    the places over it (x, y) [m]; ``height`` of its back below the top's inner face, or of its face
    above the top's outer one [m]; ``to`` the opening or the piece that carries it; ``target`` what a
    spot is turned to, and ``aim`` where that is [m]; its ``rails``, and how far its face is ``over``
    what carries it above the top [m]; ``hangers`` or stand-offs it takes, and whether a ``bracket``
    holds its lampholder; ``beside`` other lamps and pieces that its rods would go through. What a
    lamp hangs from is decided here alone."""

    name: str
    kind: str
    how: str
    at: tuple[Vec2, ...]
    height: float
    to: str = ""
    target: str = ""
    aim: Vec3 | None = None
    rails: tuple[Rail, ...] = ()
    over: float = 0.0
    hangers: int = 0
    bracket: bool = False
    beside: tuple[str, ...] = ()

    @property
    def long(self) -> float:
        """Length of each of its rails [m], 0 without any."""
        return max((length_of(r) for r in self.rails), default=0.0)

    @property
    def meets(self) -> tuple[str, ...]:
        """What its rods go through, or its rails lie over or run into where no place avoids that."""
        return tuple(dict.fromkeys((*self.beside, *(name for r in self.rails for name in r.meets))))


def mounts_of(habitat: Habitat) -> tuple[Mount, ...]:
    """How every lamp and every controller's probe is held, in the order of the file."""
    sites = {s.name: s for s in habitat.sites}
    probes = [
        (name, sites[place])
        for c in habitat.controls
        for name, place in (
            (f"probe of {c.name}", c.probe), (f"cut-out probe of {c.name}", _cut_out(c)),
        )
        if place in sites
    ]  # fmt: skip
    return (
        *lamp_mounts(habitat),
        *(_probe(habitat, name, site) for name, site in probes),
    )


def _cut_out(control: Control) -> str:
    """Where a cut-out's probe sits, empty where there is none."""
    return "" if control.cut_out is None else control.cut_out_probe or control.probe


def lamp_mounts(habitat: Habitat) -> list[Mount]:
    """How every lamp is held, in the order of the file."""
    laid: dict[str, list[Rail]] = {}
    for rail in rails_of(habitat):
        laid.setdefault(rail.lamp, []).append(rail)
    return [_lamp(habitat, x, tuple(laid.get(x.name, ()))) for x in habitat.lamps]


def _lamp(habitat: Habitat, lamp: Lamp, rails: tuple[Rail, ...]) -> Mount:
    box, deep = habitat.enclosure, depth_of(lamp)
    top = box.inside[2]
    back = [a - deep * d for a, d in zip(lamp.at, lamp.aim, strict=True)]
    inside = lamp.at[2] <= top
    # Inside, what holds it begins where its body ends; above, its face lies on what carries it.
    middle = (back[0], back[1]) if inside else (lamp.at[0], lamp.at[1])
    places: tuple[Vec2, ...] = (middle,)
    if is_long(lamp):
        half = SHARE * lamp.type.length
        step = (half * lamp.along[0], half * lamp.along[1])
        places = (
            (middle[0] - step[0], middle[1] - step[1]),
            (middle[0] + step[0], middle[1] + step[1]),
        )
    target, aim = _target(habitat, lamp) if lamp.type.shape == "spot" else ("", None)
    turned = is_turned(lamp)
    if inside:
        beside = _through(habitat, lamp, places, back[2])
        if beside and turned:
            places, beside = _aside(habitat, lamp, middle, back[2])
        return Mount(lamp.name, "lamp", ROD, places, max(0.0, top - back[2]), "", target, aim,
                     hangers=0 if turned else len(places), bracket=turned,
                     beside=beside)  # fmt: skip
    height = lamp.at[2] - top - box.panel("top").thickness
    hole = opening_under(habitat, lamp)
    hung = bool(rails) and rails[0].hung
    over = lamp.at[2] - rails[0].high[2] if rails else height
    hangers = 0 if turned or (abs(over) <= LIES and not hung) else max(len(rails), len(places))
    return Mount(
        lamp.name, "lamp", STANDS if hole is None else RAILS,
        tuple(r.at for r in rails) or places, max(0.0, height), "" if hole is None else hole.name,
        target, aim, rails, over, hangers, turned,
    )  # fmt: skip


def _through(
    habitat: Habitat, lamp: Lamp, places: tuple[Vec2, ...], back: float
) -> tuple[str, ...]:  # fmt: skip
    """Names of other lamps and of pieces that rods from a lamp's back to the top would go through."""
    top = habitat.enclosure.inside[2]
    if top - back < ROUGH:
        return ()
    bodies = [(x.name, body_of(x)) for x in habitat.lamps if x.name != lamp.name]
    out = []
    for x, y in places:
        half = THICK / 2
        rod = box_body((x - half, y - half, back), (x + half, y + half, top))
        out += [name for name, body in bodies if gap_of(rod, body) < 0.0]
        axis = np.stack([[x, y, z] for z in np.linspace(back, top, RINGS)])
        out += [
            p.name for p in habitat.hardscape if float(distance_to(p, axis).min()) < half - ROUGH
        ]
    return tuple(dict.fromkeys(out))


def _aside(
    habitat: Habitat, lamp: Lamp, middle: Vec2, back: float
) -> tuple[tuple[Vec2, ...], tuple[str, ...]]:  # fmt: skip
    """The nearest place beside a turned lamp's own where its bracket's arm is clear up to the top, bent
    over from there; its own, and what it goes through, where none is."""
    wide, deep, _ = habitat.enclosure.inside
    for far in REACHES:
        for turn in range(TURNS):
            angle = 2.0 * math.pi * turn / TURNS
            place = middle[0] + far * math.cos(angle), middle[1] + far * math.sin(angle)
            inside = THICK < place[0] < wide - THICK and THICK < place[1] < deep - THICK
            if inside and not _through(habitat, lamp, (place,), back):
                return (place,), ()
    return (middle,), _through(habitat, lamp, (middle,), back)


def _target(habitat: Habitat, lamp: Lamp) -> tuple[str, Vec3]:
    """The named place nearest to a spot's axis and where that is, else what the axis meets first."""
    best: tuple[float, str, Vec3] | None = None
    for site in habitat.sites:
        away = [b - a for a, b in zip(lamp.at, site.at, strict=True)]
        along = math.fsum(a * b for a, b in zip(away, lamp.aim, strict=True))
        if along <= 0.0:
            continue
        beside = math.sqrt(max(0.0, math.fsum(v * v for v in away) - along * along))
        if beside <= ON_AXIS and (best is None or beside < best[0]):
            best = (beside, site.name, site.at)
    if best is not None:
        return best[1], best[2]
    return _met(habitat, lamp)


def _met(habitat: Habitat, lamp: Lamp) -> tuple[str, Vec3]:
    """The first piece that a spot's axis meets, else where it meets the ground or a wall."""
    far = np.arange(STEP, max(habitat.enclosure.inside) * 1.8, STEP)
    points = np.asarray(lamp.at) + far[:, None] * np.asarray(lamp.aim)
    first, found = len(far) - 1, ""
    out = (points < 0.0).any(axis=1) | (points > np.asarray(habitat.enclosure.inside)).any(axis=1)
    # Above the top it has to come inside first.
    out &= points[:, 2] <= habitat.enclosure.inside[2]
    out |= points[:, 2] <= habitat.ground.depth
    if out.any():
        first = int(np.argmax(out))
    for piece in habitat.hardscape:
        inside = distance_to(piece, points[: first + 1]) <= 0.0
        if inside.any() and int(np.argmax(inside)) <= first:
            first, found = int(np.argmax(inside)), piece.name
    x, y, z = (float(v) for v in points[first])
    return found, (x, y, z)


def rail_lines(habitat: Habitat) -> list[Line]:
    """Rails that carry lamps over openings: two a lamp, across the opening's shorter way."""
    return [
        Line(KEY, "lamps", f"rails for lamps, {LABEL}", length_of(rail), "m", 0.05, uses=(rail.lamp,),
             why="two a lamp, or those of a lamp before it; across its opening to the far edges of the "
             "frame beside it, else 5 cm over; common practice")
        for _, rail in laid_rails(habitat)
    ]  # fmt: skip


def _probe(habitat: Habitat, name: str, site: Site) -> Mount:
    at = (site.at[0], site.at[1])
    drop = max(0.0, habitat.enclosure.inside[2] - site.at[2])
    here = np.asarray(site.at)
    near = min(
        ((float(np.linalg.norm(cloud_of(p)[0] - here, axis=1).min()), p.name)
         for p in habitat.hardscape),
        default=(math.inf, ""),
    )  # fmt: skip
    if near[0] <= CLIPPED:
        return Mount(name, "probe", CLIP, (at,), drop, near[1], site.name, site.at)
    return Mount(name, "probe", CABLE, (at,), drop, "", site.name, site.at)
