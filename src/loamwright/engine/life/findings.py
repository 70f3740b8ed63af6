"""Everything the animals need, held against what was computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.findings import Finding
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.life.choice_findings import choice_findings, way_findings
from loamwright.engine.life.descent_findings import descent_findings
from loamwright.engine.life.joining_findings import joining_findings, young_findings
from loamwright.engine.life.moving_findings import moving_findings
from loamwright.engine.life.room_findings import room_findings
from loamwright.engine.life.space import by_species
from loamwright.engine.life.study import Animals
from loamwright.habitat.habitat import Habitat


def animals_findings(
    habitat: Habitat,
    animals: Animals,
    days: Mapping[str, ClimateRun],
    water: Sequence[Outlook],
) -> list[Finding]:
    """All findings of the animals; what needs ``days`` or ``water`` only where they were computed."""
    out = room_findings(habitat, days, water)
    known = {one.species.key: one.descent for one in animals.residents}
    out += descent_findings(habitat, known)
    for groups, one in zip(by_species(habitat), animals.residents, strict=True):
        out += way_findings(one.species, one.climb, one.males + one.females + one.young)
        out += choice_findings(one.species, one.choices)
        out += young_findings(groups, one.breeding)
    return out + joining_findings(habitat, animals.moving) + moving_findings(animals.moving)
