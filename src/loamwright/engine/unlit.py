"""A habitat without what rays do not meet: what studies of light and warmth are made of and kept by."""

from __future__ import annotations

from dataclasses import replace

from loamwright.habitat.controls import Schedule
from loamwright.habitat.cutting import Cutting
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.mains import Mains
from loamwright.habitat.misting import Mist
from loamwright.habitat.room import Room
from loamwright.habitat.workshop import Workshop


def bare(habitat: Habitat) -> Habitat:
    """The habitat without what no ray meets, and with its lamps new and fully on. The study is made
    from this, so what is left out cannot make a kept study stale."""
    lamps = tuple(
        replace(x, dim=1.0, hours_run=0.0, on=(0.0, 1.0), control="", follows_day=False,
                dimmable=False, protection="")
        for x in habitat.lamps
    )  # fmt: skip
    ground = replace(habitat.ground, layers=tuple(x.seen for x in habitat.ground.layers))
    plants = tuple(replace(x, growth=None, planted=None, carries=None) for x in habitat.plants)
    animals = tuple(replace(x, companions=(), offspring="", enters=None) for x in habitat.animals)
    box = replace(
        habitat.enclosure, stand=None,
        panels=tuple(replace(x, held="", sill=0.0, ribs=0.0) for x in habitat.enclosure.panels),
        linings=tuple(replace(x, fixing="", screws=None, glued=None)
                      for x in habitat.enclosure.linings),
    )  # fmt: skip
    pieces = tuple(replace(x, fixing="", screws=None, glued=None, footing="")
                   for x in habitat.hardscape)  # fmt: skip
    return replace(
        habitat, enclosure=box, hardscape=pieces, mains=Mains(), name="",
        purpose="", units="", room=Room(), lamps=lamps, needs=(), existing=(),
        plants=plants, animals=animals, ground=ground, decomposers=(),
        pedigree=(), day=(0.0, 1.0), defaults=(), fans=(), mist=None, controls=(), money=None,
        schedule=Schedule(), workshop=Workshop(),
        cutting=Cutting(),
    )  # fmt: skip


def climate_bare(habitat: Habitat) -> Habitat:
    """The habitat as the climate's rays meet it: `bare` with the nozzles."""
    nozzles = habitat.mist.nozzles if habitat.mist else ()
    return replace(bare(habitat), mist=Mist(1.0, nozzles) if nozzles else None)


def costless(habitat: Habitat) -> Habitat:
    """The habitat without its prices and its workshop: no engine's result depends on them."""
    return replace(habitat, money=None, workshop=Workshop())
