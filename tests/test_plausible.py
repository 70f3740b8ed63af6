"""What a keeper would expect to read, where no table exists: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from loamwright import workflow
from loamwright.engine.climate import study as climate
from loamwright.engine.light.study import study_light
from loamwright.engine.unlit import bare

BOX = Path(__file__).parent / "data" / "board-box.yaml"
ZERO = 273.15


@pytest.mark.slow
def test_two_floods_over_a_branch_warm_it_to_the_low_and_middle_thirties():
    """Two 50 W halogen floods 32 cm over a branch and 30 cm apart, closed board box of 2 m3, room of
    22 degC: between them a basking surface of about 31 to 37 degC. Common practice, no source. (Both
    beams on one spot would make it 48 degC: how lamps are aimed is most of the answer.)"""
    habitat = workflow.read(BOX)
    light = study_light(bare(habitat))
    built = climate.build(habitat, light, climate.prepare(habitat))
    run = climate.typical_day(habitat, light, built, "winter").run
    names = [s.name for s in habitat.sites]
    noon = run.rows_by_hour[14]
    basking = run.surface[noon, names.index("basking")] - ZERO
    assert 31.0 < basking < 37.0
    # The box is warmer than the room, its far corner by little; after the night all is room-warm.
    far = run.air[:, names.index("far corner")] - ZERO
    assert 22.5 < far[noon] < 27.0
    assert abs(far[run.rows_by_hour[7]] - 22.0) < 1.0
    assert np.nanmax(run.surface[:, names.index("basking")]) - ZERO < 40.0
