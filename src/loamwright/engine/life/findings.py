"""Everything the animals need, held against what was computed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.findings import Finding
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.life.descent_findings import descent_findings
from loamwright.engine.life.room_findings import room_findings
from loamwright.habitat.habitat import Habitat


def animals_findings(
    habitat: Habitat, days: Mapping[str, ClimateRun], water: Sequence[Outlook]
) -> list[Finding]:
    """All findings of the animals; what needs ``days`` or ``water`` only where they were computed."""
    return [*room_findings(habitat, days, water), *descent_findings(habitat)]
