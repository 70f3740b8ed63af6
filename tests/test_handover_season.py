"""The handover between winter and summer, the body where it basks, and handfuls of ground."""

from __future__ import annotations

from dataclasses import replace

import pytest

from climate_sample import WARM_GECKO, climate_habitat, run
from loamwright.engine.findings import Finding, State
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.handover import BODY, HOURS, Check, Limit, handover_checks
from loamwright.plan.handover_between import between, season_of, told_of
from loamwright.plan.handover_ground import ground_checks
from loamwright.plan.handover_limits import Verdict, decisions
from loamwright.report.handover_blocks import (
    EXPECT,
    between_words,
    felt_table,
    handover_tables,
    hours_tables,
)
from report_sample import habitat

SOURCE = Source("made up", SourceKind.BUILDER)


def finding(need: str, quantity: str, band=(None, None), site: str = "", about: str = "habitat"):
    return Finding(need=need, engine="any", about=about, quantity=quantity, state=State.MET,
                   source=SOURCE, value=300.0, low=band[0], high=band[1], uncertainty=0.5,
                   site=site)  # fmt: skip


def check(*limits: Limit) -> Check:
    expected = (("winter", (290.0,) * HOURS), ("summer", (296.0,) * HOURS))
    spread = (("winter", (1.0,) * HOURS), ("summer", (0.5,) * HOURS))
    return Check("X", "perch", (0.0, 0.0, 0.0), "perch", "air_temperature", "meter", expected, spread,
                 limits)  # fmt: skip


@pytest.mark.parametrize(
    ("number", "latitude", "share"),
    [(15, None, 0.0), (15 + 183, 0.9, 1.0), (15, -0.5, 1.0), (106, None, 0.5), (289, None, 0.5)],
)
def test_where_a_day_lies_between_the_seasons(number, latitude, share) -> None:
    assert season_of("x", number, latitude).share == pytest.approx(share, abs=0.01)


def test_bands_of_both_seasons_are_told_together() -> None:
    spring = season_of("2027-05-01", 121)
    assert spring.between
    assert spring.near == "summer"
    need = Limit("air-warm", "x", 294.5, 299.0, "midday",
                 (("winter", (11, 12, 13)), ("summer", (12, 13, 14))))  # fmt: skip
    (d,) = between(check(need), spring)
    # Winter 290 ± 2 K, summer 296 ± 1 K: from 288 to 297 K; the need holds on top of it.
    assert d.fit == (288.0, 297.0)
    assert d.span == (290.0, 296.0)
    assert d.hours == (13,)
    assert d.go == (294.5, 297.0)
    assert d.expected == pytest.approx(290.0 + 6.0 * spring.share)
    assert d.judge(295.0) is Verdict.GO
    assert d.judge(293.0) is Verdict.NO_GO
    free = between(check(), spring)
    assert [x.hours for x in free] == [(13,), (4,)]
    assert free[0].judge(289.0) is Verdict.GO


def test_near_a_season_its_own_values_hold() -> None:
    july = season_of("2027-07-10", 191)
    assert not july.between
    assert between(check(), july) == decisions(check(), "summer")
    assert told_of([check()], july) == ("summer",)
    lone = replace(check(), expected=check().expected[:1], spread=check().spread[:1])
    assert between(lone, july) == decisions(lone, "winter")
    assert told_of([lone], july) == ("winter",)
    assert told_of([], july) == ()


def test_the_sheet_says_which_season_it_is_of() -> None:
    checks = [check()]
    spring, july = season_of("2027-05-01", 121), season_of("2027-07-10", 191)
    assert "63 % of the way from midwinter to midsummer" in between_words(checks, spring)
    assert "from the lower to the higher of both" in between_words(checks, spring)
    assert "those of the summer day are told" in between_words(checks, july)
    tables = handover_tables(checks, None, "metric", spring)
    (table,) = [t for t in tables if "on 2027-05-01" in t.title]
    assert table.rows[0][3:5] == ("16.9 – 22.9", "14.9 – 23.9")
    assert not any("on a winter day" in t.title for t in tables)
    hourly = [t for t in tables if "by hour" in t.title]
    assert hourly[0].note == EXPECT
    assert len(hourly) == 2


def test_columns_left_over_share_a_table() -> None:
    made = [replace(check(), name=f"{n}", site=f"place {n}") for n in range(7)]
    made.append(replace(check(), site="leaf", quantity="humidity"))
    tables = hours_tables(made, "winter")
    assert [len(t.columns) for t in tables] == [7, 3]
    assert tables[1].title.startswith("Air temperature, °C and relative humidity, %")
    assert tables[1].columns[2] == "leaf\nrelative humidity\n%"


def test_a_body_is_measured_where_it_basks() -> None:
    made = climate_habitat()
    day, site = run(made), made.sites[0].name
    told = finding("body-warm", BODY, (305.0, None), site, WARM_GECKO.key)
    checks = handover_checks(made, {"winter": day}, None, [told])
    (body,) = [c for c in checks if c.quantity == BODY]
    assert body.site.startswith(f"{site}, body of ")
    noon = float(day.operative[WARM_GECKO.key][day.rows_by_hour[12], 0])
    assert body.value("winter", 12) == pytest.approx(noon, abs=0.6)
    assert body.limits[0].low == 305.0
    # Without such a finding nobody asks for it.
    assert not [c for c in handover_checks(made, {"winter": day}, None, []) if c.quantity == BODY]


def test_ground_is_felt_beneath_each_probe_as_the_findings_ask() -> None:
    made = habitat()
    probe = replace(made.sites[0], name="low air", role="probe")
    made = replace(made, sites=(*made.sites, probe))
    top = finding("ground-top", "air_filled_porosity", (0.1, None))
    moist = finding("ground-moist", "water_content", (0.15, 0.35))
    found = ground_checks(made, [top, moist])
    assert [(c.site, c.part) for c in found] == [("low air", "top"), ("low air", "middle")]
    assert 0.0 < found[0].depth < found[1].depth < made.ground.depth
    assert found[1].band == (0.15, 0.35)
    table = felt_table(found)
    assert "15 – 35 % water by volume" in table.rows[1][2]
    # What is said follows the limits: only ground that may all but dry out is dry to the touch.
    assert table.rows[0][0] == "below 'low air'"
    assert "dry to the touch" not in table.rows[0][2]
    assert "from 10 % air by volume" in table.rows[0][2]
    assert "cool and moist" in table.rows[1][2]
    dry = felt_table(ground_checks(made, [top, replace(moist, low=0.05)]))
    assert "dry to the touch" in dry.rows[0][2]
    assert "barely moist" in dry.rows[1][2]
    assert ground_checks(made, []) == ()
    assert [c.part for c in ground_checks(made, [top])] == ["top"]
