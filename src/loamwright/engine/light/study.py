"""All ray work of a light check, as plain arrays that can be kept.

`study_light` looks at a habitat once: transport from every lamp to every site in every direction,
along the ways between basking places and retreats, on every patch, and in front of the open doors;
and what stands in each lamp's way. Dimming and age of the lamps are not in it: they are
applied when values are read, so one study serves every setting. `bench.Bench` does the work, and
keeps what a change of one lamp leaves as it was.
"""

from __future__ import annotations

from loamwright.engine.light.bench import Bench
from loamwright.engine.light.model import Detail
from loamwright.engine.light.record import LightStudy
from loamwright.habitat.habitat import Habitat


def study_light(habitat: Habitat, detail: Detail | None = None) -> LightStudy:
    """Do all ray work of a light check.

    Deterministic: the same habitat gives the same arrays to the last digit, on any number of
    threads.
    """
    return Bench(habitat, detail).study(habitat.lamps)
