"""Whether lamps find room: their bodies against the panels behind them and against each other."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.engine.lamp_bodies import body_of, depth_of, nearest_of
from loamwright.habitat.habitat import Habitat


@dataclass(frozen=True, slots=True)
class Room:
    """The room of a lamp: ``behind`` its body reaches from its face [m]; ``nearest`` the panel's side
    or the lamp that is nearest to it, and the ``gap`` to that [m], negative where they would have to
    be in one place; ``cover`` the name of an opening whose mesh its body would go through."""

    name: str
    behind: float
    nearest: str
    gap: float
    cover: str


def rooms_of(habitat: Habitat) -> tuple[Room, ...]:
    """The room of every lamp, in the order of the file."""
    bodies = {lamp.name: body_of(lamp) for lamp in habitat.lamps}
    out = []
    for lamp in habitat.lamps:
        others = [(name, body) for name, body in bodies.items() if name != lamp.name]
        gap, nearest, cover = nearest_of(habitat, lamp, bodies[lamp.name], others)
        out.append(Room(lamp.name, depth_of(lamp), nearest, gap, cover))
    return tuple(out)
