"""The handover sheet: names that check themselves, bands, and what a reading decides."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from climate_sample import WARM_GECKO, ZERO, climate_habitat, run
from loamwright.engine.findings import Finding, State
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.handover import HOURS, Check, Limit, handover_checks
from loamwright.plan.handover_limits import Verdict, across, decisions, middle_hour
from loamwright.plan.identifiers import (
    LETTERS,
    PREFIX,
    check_character,
    identifier,
    read_identifier,
    scanned,
)
from loamwright.plan.instruments import fewer_words, instrument_lines, logged_places

ANY = Source("made up", SourceKind.BUILDER)
ALL = tuple(range(HOURS))

# -- names ---------------------------------------------------------------------------------------


def test_a_name_stays_whatever_else_changes() -> None:
    # Told to logbooks and printed on labels: it must never change.
    assert identifier("Harbour Lane waiting room, forest edge", "basking", "uvi") == "EVRX-GQR7-XR"
    assert identifier("a  b", "c", "d") == identifier("a b", "c", "d")
    assert identifier("é", "c", "d") == identifier("é", "c", "d")
    assert identifier("ab", "c", "d") != identifier("a", "bc", "d")


@given(st.text(max_size=20), st.text(max_size=20))
def test_a_name_is_of_plain_letters_and_reads_back(habitat: str, site: str) -> None:
    name = identifier(habitat, site, "humidity")
    bare = name.replace("-", "")
    assert len(bare) == 10
    assert set(bare) <= set(LETTERS)
    for written in (name, name.lower(), bare, f" {bare[:5]} {bare[5:]} ", scanned(name),
                    bare.replace("0", "O").replace("1", "l")):  # fmt: skip
        assert read_identifier(written) == name
    assert scanned(name) == PREFIX + bare


@given(st.text(LETTERS, min_size=9, max_size=9), st.integers(0, 9), st.sampled_from(LETTERS))
def test_one_wrong_character_is_always_found(body: str, at: int, wrong: str) -> None:
    whole = body + check_character(body)
    if whole[at] != wrong and whole[-1] in LETTERS:
        assert read_identifier(whole[:at] + wrong + whole[at + 1 :]) is None


def test_what_is_no_name_is_refused() -> None:
    for text in ("", "EVRX-GQR7-X", "EVRX-GQR7-XRR", "EVRX-GQR7-X*", "LW2:EVRXGQR7XR"):
        assert read_identifier(text) is None


# -- decisions -----------------------------------------------------------------------------------


def check(*limits: Limit, quantity: str = "air_temperature") -> Check:
    values = tuple(290.0 + hour for hour in ALL)
    return Check("X", "perch", (0.0, 0.0, 0.0), "perch", quantity, "meter",
                 (("winter", values),), (("winter", (1.0,) * HOURS),), limits)  # fmt: skip


def limit(low, high, hours, *, mean=False) -> Limit:
    return Limit("air-warm", "x", low, high, "midday", (("winter", hours),), mean)


def test_go_wait_and_no_go_at_an_hour() -> None:
    (d,) = decisions(check(limit(302.0, 310.0, (11, 12, 13))), "winter")
    # 302 K expected at noon, give or take 2 K; the need begins at 302 K; the meter errs by 0.5 K.
    assert (d.hours, d.expected, d.fit, d.go) == ((12,), 302.0, (300.0, 304.0), (302.0, 304.0))
    assert d.no_go == (301.5, 310.5)
    for reading, verdict in ((302.0, "go"), (304.0, "go"), (304.1, "wait"), (301.9, "wait"),
                             (301.4, "no-go"), (310.6, "no-go"), (309.0, "wait")):  # fmt: skip
        assert d.judge(reading) is Verdict(verdict)


def test_a_plan_that_misses_its_need_never_says_go() -> None:
    (d,) = decisions(check(limit(306.0, None, (12,))), "winter")
    assert d.go is None
    assert d.judge(302.0) is Verdict.NO_GO
    assert d.judge(307.0) is Verdict.WAIT


def test_a_need_of_the_mean_is_held_to_the_mean() -> None:
    (d,) = decisions(check(limit(None, 295.0, (22, 23, 0, 1), mean=True)), "winter")
    assert d.hours == (22, 23, 0, 1)
    assert d.expected == pytest.approx((312 + 313 + 290 + 291) / 4)
    assert d.no_go == (None, 295.5)


def test_needs_of_one_hour_are_held_together() -> None:
    both = check(limit(302.0, 310.0, (11, 12, 13)), limit(300.0, 303.0, tuple(range(6, 19))))
    first, *rest = decisions(both, "winter")
    assert first.need == (302.0, 303.0)
    assert [d.hours for d in rest] == []


def test_places_without_a_need_are_read_by_day_and_before_dawn() -> None:
    assert [d.hours for d in decisions(check(), "winter")] == [(13,), (4,)]
    assert [d.hours for d in decisions(check(quantity="uvi"), "winter")] == [(13,)]
    assert decisions(check(), "winter")[0].judge(303.0) is Verdict.GO
    assert decisions(check(), "winter")[0].judge(400.0) is Verdict.WAIT


def test_hours_across_midnight() -> None:
    assert across((0, 1, 22, 23)) == (22, 23, 0, 1)
    assert middle_hour((0, 1, 22, 23)) == 0
    assert middle_hour(()) == 13


# -- from the engines ----------------------------------------------------------------------------


def finding(need: str, quantity: str, band, site: str = "", about: str = "") -> Finding:
    return Finding(need=need, engine="climate", about=about or WARM_GECKO.key, quantity=quantity,
                   state=State.MET, source=ANY, value=1.0, low=band[0], high=band[1],
                   uncertainty=0.5, site=site)  # fmt: skip


@pytest.fixture(scope="module")
def made():
    habitat = climate_habitat()
    probe = replace(habitat.sites[0], name="probe", role="probe")
    return replace(habitat, sites=(*habitat.sites, probe))


def test_what_is_expected_is_the_engines_own(made) -> None:
    day = run(made)
    first = made.sites[0].name
    findings = [
        finding("basking-surface", "surface_temperature", (308.0, 313.0), first),
        finding("humidity-day", "humidity", (0.6, 0.8)),
        finding("cool-shelter", "operative_temperature", (None, 300.0), first),
    ]  # fmt: skip
    checks = handover_checks(made, {"winter": day}, None, findings)
    by_name = {(c.site, c.quantity): c for c in checks}
    surface = by_name[first, "surface_temperature"]
    noon = day.surface[69:76, 0]  # every ten minutes, half an hour either way
    assert surface.value("winter", 12) == pytest.approx(float(noon.mean()), abs=1e-9)
    assert surface.limits[0].covers("winter", 13)
    assert not surface.limits[0].covers("winter", 2)
    # A probe is measured whether anything is needed there or not; bodies have no meter.
    assert by_name["probe", "air_temperature"].limits == ()
    assert "operative_temperature" not in {c.quantity for c in checks}
    # What is needed of the mean of its places is held to their mean alone.
    means = [c for c in checks if c.mean_of]
    assert len(means) == 1
    assert means[0].limits[0].mean
    assert means[0].value("winter", 12) == pytest.approx(
        sum(by_name[s, "humidity"].value("winter", 12) for s in means[0].mean_of)
        / len(means[0].mean_of)
    )
    assert all(by_name[s, "humidity"].limits == () for s in means[0].mean_of)
    assert len({c.name for c in checks}) == len(checks)


def test_a_surface_in_free_air_has_no_check(made) -> None:
    day = run(made)
    free = made.sites[-1].name
    checks = handover_checks(
        made, {"winter": day}, None,
        [finding("basking-surface", "surface_temperature", (308.0, None), free)],
    )  # fmt: skip
    assert (free, "surface_temperature") not in {(c.site, c.quantity) for c in checks}


def test_a_thermostat_that_clicks_widens_the_band(made) -> None:
    calm = run(made)
    air = calm.air.copy()
    air[18:31:2] += 4.0  # every other row about 4 o'clock
    clicks = replace(calm, air=air)

    def of(day) -> Check:
        found = handover_checks(made, {"winter": day}, None, [])
        return next(c for c in found if (c.site, c.quantity) == ("probe", "air_temperature"))

    steady, moved = of(calm), of(clicks)
    assert moved.value("winter", 4) == pytest.approx(
        steady.value("winter", 4) + 4.0 * 3 / 7, abs=0.6
    )
    low, high = moved.band("winter", 4)
    assert low <= steady.value("winter", 4)
    assert high >= steady.value("winter", 4) + 4.0
    assert moved.band("winter", 12) == steady.band("winter", 12)


def test_an_hour_of_switching_reaches_no_further_than_off_and_on(made) -> None:
    calm = run(made)
    surface = np.full_like(calm.surface, 290.0)
    surface[48:102] = 320.0  # on at eight, off at five
    lit = replace(calm, surface=surface)
    first = made.sites[0].name
    checks = handover_checks(
        made,
        {"winter": lit},
        None,
        [finding("basking-surface", "surface_temperature", (308.0, 325.0), first)],
    )
    c = next(c for c in checks if c.quantity == "surface_temperature")
    low, high = c.band("winter", 8)
    # The hour about eight is half dark and half lit: its deviation alone would reach 30 K either way.
    assert 2.0 * dict(c.spread)["winter"][8] > 29.0
    before, after = c.band("winter", 7), c.band("winter", 9)
    # It reaches from the dark hour's band to the lit one's: each end as sure as that hour.
    assert low == pytest.approx(before[0], abs=0.01)
    assert high == pytest.approx(after[1], abs=0.01)
    assert 290.0 - low < after[1] - 320.0
    # Mid-lit, mid-dark hours are what they were: two standard uncertainties about their value.
    assert after == pytest.approx((320.0 - (after[1] - 320.0), after[1]), abs=0.01)


def test_light_that_is_switched_is_between_none_and_full() -> None:
    from loamwright.plan.handover import Hours, Made

    made = Made()
    full = np.full(HOURS, 300.0)
    switched = Hours(0.5 * full, 0.5 * full, 0.0 * full, full)
    made.add("winter", switched, np.full(HOURS, 0.1), share=True)
    ((_, reach),) = made.reaches
    assert reach[8] == pytest.approx((0.0, 360.0))
    made.add("summer", Hours(full, 0.0 * full, full, full), np.full(HOURS, 0.1), share=True)
    c = replace(check(quantity="ppfd"), expected=made.bands[0], spread=made.bands[1],
                reach=made.reaches)  # fmt: skip
    assert c.band("winter", 8) == pytest.approx((0.0, 360.0))
    assert c.band("summer", 8) == pytest.approx((240.0, 360.0))


def test_bands_hold_the_meter_too(made) -> None:
    found = handover_checks(made, {"winter": run(made)}, None, [])
    air = next(c for c in found if c.site == "probe")
    low, high = air.band("winter", 3)
    assert high - low >= 4.0 * 0.5
    assert low > ZERO


def test_the_room_is_read_first(made) -> None:
    day = run(made)
    air, damp, *_ = handover_checks(made, {"winter": day}, None, [])
    assert [(c.site, c.quantity) for c in (air, damp)] == [
        ("the room", "air_temperature"), ("the room", "humidity"),
    ]  # fmt: skip
    assert air.value("winter", 12) == pytest.approx(float(day.room[69:76].mean()), abs=1e-9)
    around = [*day.room_humidity[141:144], *day.room_humidity[:4]]
    assert damp.value("winter", 0) == pytest.approx(sum(around) / 7, abs=1e-9)
    (noon, _) = decisions(air, "winter")
    assert noon.judge(noon.expected + 2.0) is Verdict.GO
    assert noon.judge(noon.expected + 3.0) is Verdict.WAIT


def test_another_facing_is_another_measurement(made) -> None:
    from loamwright.engine.light.values import FACINGS, QUANTITIES, LightResult, SiteLight

    count, lamps = len(made.sites), len(made.lamps)
    table = {
        f: {q: np.full((lamps, count), 10.0 * (k + 1)) for q in QUANTITIES}
        for k, f in enumerate(FACINGS)
    }
    places = tuple(SiteLight(s.name, s.at, s.role, {}) for s in made.sites)
    light = LightResult(places, tuple(x.name for x in made.lamps), table)
    first = made.sites[0].name
    asked = [
        replace(finding("own-need", "uvi", (1.0, 3.0), first), facing="brightest"),
        replace(finding("own-need", "uvi", (0.5, 3.0), first), facing="up"),
        # Of 4 mol a day with 10 units of light, 2 mol are 5 units.
        replace(finding("plant-light", "dli", (2.0, None), first), facing="up", value=4.0),
    ]
    checks = handover_checks(made, {"winter": run(made)}, light, asked)
    uvi = [c for c in checks if c.quantity == "uvi"]
    assert [c.site for c in uvi] == [first, f"{first}, facing up"]
    assert uvi[0].name == identifier(made.name, first, "uvi")
    # All lamps but the one that is dimmed in the made-up day are full at noon.
    shares = run(made).lamps[72].sum()
    assert uvi[0].value("winter", 12) == pytest.approx(20.0 * shares)
    assert uvi[1].value("winter", 12) == pytest.approx(10.0 * shares)
    assert uvi[0].value("winter", 2) == 0.0
    (plant,) = [c for c in checks if c.quantity == "ppfd"]
    assert plant.limits[0].low == pytest.approx(0.5 * 10.0 * lamps)


# -- what it is measured with --------------------------------------------------------------------


def test_a_place_read_by_night_or_over_hours_has_a_logger() -> None:
    by_day = replace(check(limit(302.0, 310.0, (12, 13))), site="perch")
    by_night = replace(check(limit(290.0, None, (2, 3, 4))), site="hide")
    over_hours = replace(check(limit(None, 305.0, (11, 12, 13), mean=True)), site="crown")
    light = replace(check(quantity="uvi"), site="flood")
    several = replace(over_hours, site="mean of all places", mean_of=("hide", "low"))
    found = logged_places([by_day, by_night, over_hours, light, several])
    assert found == ("hide", "crown", "low")
    lines = {x.key: x for x in instrument_lines([by_day, by_night, over_hours, several])}
    assert lines["instruments/logger"].amount == 3.0
    assert lines["instruments/logger"].owned
    assert "instruments/logger" not in {x.key for x in instrument_lines([by_day, light])}


def test_fewer_loggers_cost_days_of_the_dry_runs_week() -> None:
    assert "3 moved each day take 6 days" in fewer_words(16)
    assert "one moved each day takes 7 days" in fewer_words(7)
    assert fewer_words(1) == ""
