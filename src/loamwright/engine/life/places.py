"""Structure: what animals rest on, hide in, lay into and drink from."""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.findings import loose_depth
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site

RESTS = ("basking", "perch")
SHELTERS = ("hide", "retreat")

ON = 0.03
"""A site nearer than this to the ground's surface lies on it [m]."""


@dataclass(frozen=True, slots=True)
class Perch:
    """A rod animals can rest on: its ``diameter``, ``length``, lowest and highest point above the
    ground [m] and its ``slope`` to the level [rad]."""

    name: str
    diameter: float
    length: float
    low: float
    high: float
    slope: float


def perches(habitat: Habitat) -> list[Perch]:
    """The branches, and tubes from outside, highest first."""
    out = []
    for piece in habitat.hardscape:
        if piece.shape not in ("branch", "tube"):
            continue
        low, high = sorted(
            end[2] - habitat.ground.surface_at(end[0], end[1]) for end in (piece.start, piece.end)
        )
        length = math.dist(piece.start, piece.end)
        rise = abs(piece.end[2] - piece.start[2])
        out.append(
            Perch(piece.name, piece.diameter, length, low, high,
                  math.asin(min(1.0, rise / length)) if length else 0.0)
        )  # fmt: skip
    return sorted(out, key=lambda p: -p.high)


def for_species(habitat: Habitat, species: Species, roles: tuple[str, ...]) -> list[Site]:
    """Sites of these roles that are meant for a species, or for everybody."""
    return [
        s for s in habitat.sites if s.role in roles and (not s.species or species.key in s.species)
    ]


def above_ground(habitat: Habitat, site: Site) -> float:
    """Height of a site above the ground [m]."""
    return site.at[2] - habitat.ground.surface_at(site.at[0], site.at[1])


def rests(habitat: Habitat, species: Species) -> list[Site]:
    """Named places off the ground to rest at."""
    return [s for s in for_species(habitat, species, RESTS) if above_ground(habitat, s) > ON]


@dataclass(frozen=True, slots=True)
class Laying:
    """A place to lay: ``depth`` of loose ground under it [m], 0 where it does not lie on the ground."""

    site: Site
    depth: float


def laying(habitat: Habitat, species: Species) -> list[Laying]:
    """The places to lay of a species."""
    out = []
    for site in for_species(habitat, species, ("laying",)):
        on = abs(above_ground(habitat, site)) <= ON
        out.append(Laying(site, loose_depth(habitat.ground, *site.at[:2]) if on else 0.0))
    return out


def climbs(species: Species) -> bool:
    """True for one that lives off the ground before anywhere else."""
    return species.stratum.split("+")[0] == "arboreal"


def buries(species: Species) -> bool:
    """True for one that digs its eggs in."""
    words = ("soil", "sand", "loam", "coir", "litter", "buried", "dug")
    return species.reproduction == "oviparous" and any(w in species.egg_site for w in words) and (
        "leaf litter" not in species.egg_site
    )  # fmt: skip


def lays(habitat: Habitat, species: Species) -> bool:
    """True where eggs are to be expected: it lays, and a female or young is in the group."""
    mine = [g for g in habitat.animals if g.species.key == species.key]
    return species.reproduction == "oviparous" and any(g.females + g.young for g in mine)
