"""A lamp moved on the bench gives what looking at everything anew gives, to the last digit."""

from __future__ import annotations

from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from loamwright import workflow
from loamwright.engine.climate.bench import ClimateBench, surfaces_of
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.light.bench import MOST_LAMPS, Bench, bare_lamp
from loamwright.engine.light.model import Detail
from loamwright.engine.light.study import study_light
from loamwright.habitat.habitat import Habitat

COARSE = Detail(patch_rays=64, grid_rays=32, site_rays=256)


@pytest.fixture(scope="module")
def habitat() -> Habitat:
    return workflow.read(Path(str(files("loamwright").joinpath("data/warm.yaml"))))


@pytest.fixture(scope="module")
def bench(habitat: Habitat) -> Bench:
    made = Bench(habitat, COARSE)
    made.study(habitat.lamps)
    return made


def moved(habitat: Habitat, number: int, by: float) -> Habitat:
    lamp = habitat.lamps[number]
    at = (lamp.at[0] + by, lamp.at[1], lamp.at[2])
    lamps = list(habitat.lamps)
    lamps[number] = replace(lamp, at=at)
    return replace(habitat, lamps=tuple(lamps))


@pytest.mark.slow
def test_a_moved_lamp_is_as_if_all_were_new(habitat: Habitat, bench: Bench) -> None:
    other = moved(habitat, 0, 0.03)
    fresh = study_light(other, COARSE).arrays()
    for name, found in bench.study(other.lamps).arrays().items():
        assert found.dtype == fresh[name].dtype, name
        np.testing.assert_array_equal(found, fresh[name], err_msg=name)


@pytest.mark.slow
def test_moving_one_lamp_looks_at_that_lamp_only(
    habitat: Habitat, bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[float] = []
    whole = Bench._rest

    def counted(self, model, pause):
        looked.append(model.lamps[0].at[0])
        return whole(self, model, pause)

    monkeypatch.setattr(Bench, "_rest", counted)
    other = moved(habitat, 1, -0.02)
    bench.study(other.lamps)
    assert looked == [other.lamps[1].at[0]]
    bench.study(habitat.lamps)  # and moving it back costs nothing
    assert len(looked) == 1


@pytest.mark.slow
def test_no_lamps_and_no_more_than_so_many_are_kept(habitat: Habitat, bench: Bench) -> None:
    assert bench.study(()).at_sites.shape[:2] == (0, len(habitat.sites))
    for n in range(MOST_LAMPS + 3):
        bench.rows(moved(habitat, 0, 1e-5 * (n + 1)).lamps[0], whole=False)
    assert len(bench._kept) == MOST_LAMPS


def test_dimming_and_age_are_not_the_rays_business(habitat: Habitat) -> None:
    lamp = habitat.lamps[0]
    assert bare_lamp(replace(lamp, dim=0.3, hours_run=900.0, name="other")) == bare_lamp(lamp)
    assert bare_lamp(moved(habitat, 0, 0.01).lamps[0]) != bare_lamp(lamp)


@pytest.mark.slow
def test_a_day_begun_where_the_last_ended_is_the_same_day(habitat: Habitat, bench: Bench) -> None:
    """A day counts as repeating while no node drifts by more than 0.02 K; a slow node that closes a
    tenth of its distance a day is then up to 0.2 K from where it will be."""
    assert surfaces_of(moved(habitat, 0, 0.1)) == surfaces_of(habitat)
    study = study_light(habitat, COARSE)
    climate = ClimateBench(habitat)
    built = climate.build(habitat, study)
    cold = climate.day(habitat, study, built, "summer").run
    warm = climate.day(habitat, study, built, "summer").run
    # The first day of another habitat with these surfaces is shown, whole and balanced, as it settles.
    shown: list[ClimateRun] = []
    other = replace(habitat, lamps=(replace(habitat.lamps[0], dim=0.4), *habitat.lamps[1:]))
    again = climate.build(other, study)
    settled = climate.day(other, study, again, "summer", shown=shown.append).run
    assert [r.days for r in shown] == [1]
    assert max(abs(x) for x in shown[0].balance) < 1e-3
    np.testing.assert_allclose(shown[0].air, settled.air, atol=0.6)
    assert again.net.exchange is built.net.exchange
    fresh = ClimateBench(other).build(other, study)
    np.testing.assert_array_equal(again.net.exchange, fresh.net.exchange)
    assert warm.days <= cold.days
    np.testing.assert_allclose(warm.air, cold.air, atol=0.2)
    np.testing.assert_allclose(warm.surfaces, cold.surfaces, atol=0.2)
