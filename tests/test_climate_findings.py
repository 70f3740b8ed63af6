"""The climate's needs: what is held against what, and the worst season speaks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import climate_small as small
from loamwright.engine.climate import housekeeping as house
from loamwright.engine.climate.findings import climate_findings
from loamwright.engine.climate.windows import cooled, middle_of_day, night
from loamwright.engine.findings import State, judge
from loamwright.habitat.habitat import Habitat

pytestmark = pytest.mark.slow


def found(habitat: Habitat | None = None, runs=None):
    runs = runs or {s: small.settled(s).run for s in ("winter", "summer")}
    return climate_findings(habitat or small.habitat(), small.built(), runs)


def one(code: str, findings=None):
    hits = [f for f in findings or found() if f.need == code]
    assert len(hits) == 1, code
    return hits[0]


def test_every_need_of_warmth_and_damp_is_held():
    codes = {f.need for f in found()}
    assert codes >= {
        "basking-surface", "body-warm", "air-warm", "air-cool", "night-air", "humidity-day",
        "humidity-night", "cool-shelter", "plant-cold", "plant-heat", "plant-humidity",
        "air-changes", "wet-pane", "wet-leaves", "hot-lamp", "hot-surface", "tank", "own-need",
    }  # fmt: skip


def test_the_middle_of_the_day_and_the_night_are_what_the_hours_say():
    run = small.settled("winter").run
    clock = run.clock[middle_of_day(small.habitat(), run)]
    assert clock.min() == pytest.approx(10.0)
    assert clock.max() == pytest.approx(16.0)
    dark = run.clock[night(small.habitat(), run)]
    assert ((dark >= 21.0) | (dark < 7.0)).all()
    late = run.clock[cooled(small.habitat(), run)]
    assert late.min() == pytest.approx(3.0)  # the room takes 8 hours from 19:00
    assert late.max() == pytest.approx(7.0, abs=0.2)
    rows = cooled(small.habitat(), run)
    assert run.room[rows] == pytest.approx(small.habitat().room.winter.night, abs=0.05)


def test_a_short_night_speaks_by_its_last_hour():
    habitat = small.habitat()
    short = replace(
        habitat, schedule=replace(habitat.schedule, day=(5 * 3600.0, 23 * 3600.0), winter=None)
    )
    run = small.settled("winter").run
    run = replace(run, daytime=(run.clock >= 5.0) & (run.clock < 23.0))
    late = run.clock[cooled(short, run)]
    assert late.min() == pytest.approx(4.0, abs=0.2)
    assert late.max() < 5.0


def test_the_worst_season_speaks():
    finding = one("night-air")
    runs = {s: small.settled(s).run for s in ("winter", "summer")}
    means = {}
    for season, run in runs.items():
        rows = cooled(small.habitat(), run)
        means[season] = run.air[rows][:, :3].mean()
    low, high = finding.low, finding.high
    worst = min(runs, key=lambda s: min(means[s] - low, high - means[s]))
    assert finding.when.startswith(worst)


def test_the_builders_own_need_takes_the_catalogues_place():
    finding = one("basking-surface")
    assert (finding.low, finding.high) == (pytest.approx(303.15), pytest.approx(311.15))
    assert finding.source.text == "a book of the builder's"
    assert sum(f.quantity == "humidity" and f.need == "own-need" for f in found()) == 1


def test_what_the_catalogue_lacks_is_not_known():
    group = small.habitat().animals[0]
    bare = replace(group.species, night=(None, None), mass=None, body_length=None)
    habitat = replace(small.habitat(), animals=(replace(group, species=bare),))
    runs = {
        s: replace(small.settled(s).run, operative={}, time_constant={})
        for s in ("winter", "summer")
    }
    findings = found(habitat, runs)
    assert one("night-air", findings).state is State.NOT_KNOWN
    assert one("body-warm", findings).state is State.NOT_KNOWN
    assert one("body-warm", findings).causes[0].subject == "mass"


def test_uncertain_heat_comes_from_the_lamp():
    finding = one("basking-surface")
    kinds = {c.kind: c for c in finding.causes}
    assert kinds["lamp_heat"].subject == "flood"
    # Thirty per cent of what a halogen adds over the air, and the engine's own kelvin.
    assert 1.5 < finding.uncertainty < 5.0


def test_margins_of_temperatures_are_shares_of_ten_kelvins():
    assert judge(305.0, 300.0, None, 1.0, kelvin=True) == (State.MET, pytest.approx(0.5))
    assert judge(299.5, 300.0, None, 1.0, kelvin=True) == (State.CLOSE, pytest.approx(-0.05))
    assert judge(295.0, 300.0, None, 1.0, kelvin=True) == (State.MISSED, pytest.approx(-0.5))
    # Nothing at least is always there; a gap that may be less than nothing is not.
    assert judge(0.0, 0.0, None, 1.0)[0] is State.MET
    assert judge(-5.0, 0.0, None, 1.0)[0] is State.MISSED


@pytest.mark.parametrize(
    ("rows", "seconds"),
    [
        (
            "1100111",
            2400.0,
        ),  # the fifth and sixth, then the first and second: the last is the first
        ("0000000", 0.0),
        ("1111111", 3600.0),
        ("0111010", 1800.0),
    ],
)
def test_wet_time_goes_on_over_midnight(rows, seconds):
    assert house.longest(np.array([c == "1" for c in rows]), 600.0) == seconds


def test_a_guard_ends_the_warning_of_a_hot_lamp():
    lamps = tuple(
        replace(x, guard=small.habitat().enclosure.openings[0].cover) if x.name == "flood" else x
        for x in small.habitat().lamps
    )
    assert not [f for f in found(replace(small.habitat(), lamps=lamps)) if f.need == "hot-lamp"]


def test_a_tank_lasts_as_long_as_what_is_sprayed_allows():
    finding = one("tank")
    sprayed = max(small.settled(s).run.water["mist"] for s in ("winter", "summer"))
    assert finding.value == pytest.approx(2.0 / sprayed * 86400.0)
    # Two times thirty seconds of a nozzle of 45 mL a minute.
    assert sprayed == pytest.approx(0.045, rel=1e-6)
