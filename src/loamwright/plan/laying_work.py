"""How places to lay eggs are made: a task for each, with depth and filling from the file.

What a female takes differs from species to species, and from one to the next: the shape of such places
is common practice, no source.
"""

from __future__ import annotations

import math

from loamwright.engine.life import places
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.sites import Site
from loamwright.plan.lines import Line
from loamwright.plan.task import Task, in_minutes, numbered

LEAST = 0.01
"""Depth below which a hollow is lined, not filled [m]."""

LIES = 0.5
"""Rise over length up to which a tube lies and its bore bears what is filled in [1]: 30 degrees."""

ABOVE = 0.015
"""How far above the ground a tube's lower end is open [m]."""


def laying_tasks(habitat: Habitat) -> list[Task]:
    """A task for each place to lay that residents who lay eggs have, once the ground is in."""
    found: dict[str, str] = {}
    for group in habitat.animals:
        species = group.species
        if not places.lays(habitat, species):
            continue
        dry = "dry" in species.egg_site
        for spot in places.laying(habitat, species):
            found.setdefault(spot.site.name, _words(habitat, spot, dry))
    keys = numbered("laying", len(found))
    return [
        Task(key, words, ("ground", "on-ground", "anchor"), minutes=in_minutes(0.25))
        for key, words in zip(keys, found.values(), strict=True)
    ]


PLUG = 0.02
"""Thickness of the cork that closes a tube [m]; common practice, no source."""


def laying_lines(habitat: Habitat) -> list[Line]:
    """What places to lay eggs take beside the ground: a piece of cork for each tube that is closed."""
    closed: dict[str, Piece] = {}
    for group in habitat.animals:
        if not places.lays(habitat, group.species):
            continue
        for spot in places.laying(habitat, group.species):
            tube = _around(habitat, spot.site)
            if tube is not None:
                deep, open_below = _bore(habitat, tube, spot.site)
                if open_below and deep >= LEAST:
                    closed[tube.name] = tube
    return [
        Line(f"hardscape/cork-plug-{round(1000.0 * (t.diameter - 2.0 * t.wall))}mm", "hardscape",
             f"piece of cork to close a tube, {100.0 * (t.diameter - 2.0 * t.wall):.3g} cm across, "
             f"{1000.0 * PLUG:.0f} mm thick", 1.0, "piece", uses=(t.name,),
             why="holds what is filled in for eggs; cut to the bore, in silicone that has cured before "
             "animals; common practice")
        for t in closed.values()
    ]  # fmt: skip


def _words(habitat: Habitat, spot: places.Laying, dry: bool) -> str:
    name = f"'{spot.site.name}'"
    tube = _around(habitat, spot.site)
    if tube is not None:
        deep, open_below = _bore(habitat, tube, spot.site)
        told = f"make the laying place {name} in '{tube.name}'"
        if deep < LEAST:
            return f"{told}: wipe it smooth, line it with {'dry' if dry else 'damp'} litter"
        close = "close its lower end with a piece of cork and silicone, " if open_below else ""
        what = "dry sand" if dry else "moist mix, pressed firm"
        return f"{told}: {close}fill it {_cm(deep)} deep with {what}"
    if spot.depth > 0.0:
        held = (
            "loose and dry" if dry
            else "pressed firm, moist below its top"
        )  # fmt: skip
        return f"make the laying place {name}: {_cm(spot.depth)} of ground without stones, {held}"
    return f"keep the laying place {name} clear, so that a female can reach it and turn"


def _cm(depth: float) -> str:
    return f"{100.0 * depth:.3g} cm"


def _around(habitat: Habitat, site: Site) -> Piece | None:
    """The tube in whose bore a place lies."""
    for piece in habitat.hardscape:
        if piece.shape == "tube":
            along, off = _along(piece, site)
            if 0.0 <= along <= 1.0 and off < 0.5 * piece.diameter:
                return piece
    return None


def _along(piece: Piece, site: Site) -> tuple[float, float]:
    """Where along a tube a place is, from 0 to 1, and how far from its axis [m]."""
    axis = [b - a for a, b in zip(piece.start, piece.end, strict=True)]
    off = [b - a for a, b in zip(piece.start, site.at, strict=True)]
    size = math.fsum(v * v for v in axis)
    along = math.fsum(a * b for a, b in zip(axis, off, strict=True)) / size
    return along, math.dist(off, [along * v for v in axis])


def _bore(habitat: Habitat, tube: Piece, site: Site) -> tuple[float, bool]:
    """How deep what is filled in lies under a place [m], and whether the tube's lower end must be
    closed for it to stay: it stands open above the ground."""
    low, high = sorted((tube.start, tube.end), key=lambda p: p[2])
    rise, long = high[2] - low[2], math.dist(low, high)
    if rise <= LIES * long:
        along, _ = _along(tube, site)
        axis = tube.start[2] + along * (tube.end[2] - tube.start[2])
        return site.at[2] - (axis - 0.5 * tube.diameter + tube.wall), False
    open_below = low[2] - habitat.ground.surface_at(low[0], low[1]) > ABOVE
    return site.at[2] - low[2], open_below
