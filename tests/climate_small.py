"""A small habitat with everything of the climate in it, and its settled days, made once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from loamwright import workflow
from loamwright.engine.climate import study as climate
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.study import Settled
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.study import study_light
from loamwright.engine.unlit import bare
from loamwright.habitat.habitat import Habitat

FILE = Path(__file__).parent / "data" / "small-climate.yaml"


@cache
def habitat() -> Habitat:
    return workflow.read(FILE)


@cache
def light() -> LightStudy:
    return study_light(bare(habitat()))


@cache
def built() -> Built:
    return climate.build(habitat(), light(), climate.prepare(habitat()))


@cache
def settled(season: str) -> Settled:
    return climate.typical_day(habitat(), light(), built(), season)
