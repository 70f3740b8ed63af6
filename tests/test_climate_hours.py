"""Hours and ramps of lamps by the minute."""

from __future__ import annotations

import numpy as np
import pytest

from loamwright.engine.climate.schedule import ramp, share_of_minutes

HOUR = 3600.0


def test_a_ramp_takes_half_its_span_at_each_end() -> None:
    lit = ramp(share_of_minutes(8 * HOUR, 18 * HOUR), 8 * HOUR, 18 * HOUR, HOUR / 2)
    assert lit.sum() / 60.0 == pytest.approx(10.0 - 0.5)
    assert lit.max() == 1.0
    assert lit[8 * 60 + 15] == pytest.approx(0.5, abs=0.02)


@pytest.mark.parametrize(("start", "end"), [(0.0, 24 * HOUR), (0.0, 0.0), (7 * HOUR, 7 * HOUR)])
def test_what_is_always_on_is_not_dimmed_at_midnight(start: float, end: float) -> None:
    assert np.array_equal(ramp(share_of_minutes(start, end), start, end, HOUR / 2), np.ones(1440))
