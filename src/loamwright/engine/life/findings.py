"""Everything the animals need, held against what was computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.findings import Finding
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.life.choice_findings import choice_findings, way_findings
from loamwright.engine.life.descent_findings import descent_findings
from loamwright.engine.life.moving_findings import moving_findings
from loamwright.engine.life.room_findings import room_findings
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
    for one in animals.residents:
        out += way_findings(one.species, one.climb)
        out += choice_findings(one.species, one.choices)
    return out + moving_findings(animals.moving)
