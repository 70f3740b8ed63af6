"""A habitat's climate on the bench: rays followed once, days begun where the last one ended.

What surfaces see of each other is kept as long as no surface moves, what leaves take of a lamp as long
as that lamp does not move, and a day begins with the state in which the one before repeated itself.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate import study as climate
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.drive import state_size
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.study import Settled
from loamwright.engine.climate.tracing import light_in_leaves
from loamwright.engine.light.bench import key_of_lamp
from loamwright.engine.light.emitters import emitter_of
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.sensors import View
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.misting import Mist

Floats = NDArray[np.float64]

MOST_LAMPS = 96
"""Lamps whose light in the leaves is kept; the ones unused for longest go first."""


def surfaces_of(habitat: Habitat) -> Habitat:
    """The part of a habitat that the climate's rays meet, lamps apart: benches of habitats that are
    the same in this are the same."""
    nozzles = habitat.mist.nozzles if habitat.mist else ()
    return Habitat(
        "", habitat.enclosure, ground=habitat.ground, hardscape=habitat.hardscape,
        plants=habitat.plants, sites=habitat.sites, water=habitat.water, fans=habitat.fans,
        mist=Mist(1.0, nozzles) if nozzles else None,
    )  # fmt: skip


class ClimateBench:
    """The surfaces of one habitat, ready for the days of every habitat with the same ones."""

    def __init__(self, habitat: Habitat) -> None:
        self._prepared = climate.prepare(replace(habitat, lamps=()))
        self._view: View | None = None
        self._leaves: OrderedDict[tuple[Any, ...], Floats] = OrderedDict()
        self._begin: dict[str, Floats] = {}

    def _leaves_of(self, habitat: Habitat) -> Floats:
        rows = []
        for lamp in habitat.lamps:
            key = key_of_lamp(lamp)
            if key not in self._leaves:
                self._view = self._view or View.of(self._prepared.scene)
                self._leaves[key] = light_in_leaves(
                    self._view, emitter_of(lamp), self._view.scene.reflect
                )
                if len(self._leaves) > MOST_LAMPS:
                    self._leaves.popitem(last=False)
            self._leaves.move_to_end(key)
            rows.append(self._leaves[key])
        crowns = len(self._prepared.scene.canopies.names)
        return np.array(rows, float).reshape(len(rows), crowns, 5)

    def build(
        self, habitat: Habitat, study: LightStudy, wetness: Mapping[str, float] | None = None
    ) -> Built:
        """The network of a habitat with these surfaces; ``wetness`` as in `study.build`."""
        prepared = replace(self._prepared, leaves=self._leaves_of(habitat))
        built = climate.build(habitat, study, prepared, wetness)
        if self._prepared.exchange is None:
            self._prepared = replace(self._prepared, exchange=built.net.exchange)
        return built

    def day(
        self, habitat: Habitat, study: LightStudy, built: Built, season: str,
        told: Callable[[int], None] | None = None,
        shown: Callable[[ClimateRun], None] | None = None,
    ) -> Settled:  # fmt: skip
        """The typical day of a season; the next one begins where this one ended. ``shown`` gets the
        first day where that began so, and does not repeat itself yet."""
        start = self._begin.get(season)
        if start is not None and len(start) != state_size(built.net):
            start = None

        def first(run: ClimateRun) -> None:
            if shown is not None and start is not None and run.days == 1:
                shown(run)

        found = climate.typical_day(habitat, study, built, season, start, told, first)
        self._begin[season] = found.state
        return found
