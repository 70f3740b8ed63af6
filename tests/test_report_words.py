"""Findings in sentences: every state, every kind of cause, both unit systems, hostile names."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest

from loamwright.engine.findings import Cause, Cure, Finding, State
from loamwright.habitat.catalogue import Cover
from loamwright.habitat.sources import Source, SourceKind
from loamwright.report import quantities
from loamwright.report.blocks import check_report, counts_words, sites_table, sources_table
from loamwright.report.plain import LONGEST, clean, listing
from loamwright.report.words import cause_words, source_words, why_words, word
from report_sample import MEMORY, PUBLISHED, finding, findings, habitat

HABITAT = habitat()


@pytest.mark.parametrize(
    ("cause", "sentence"),
    [
        (Cause("lamp_share", "uv", 0.96), "96 % of it comes from 'uv'"),
        (Cause("distance", "uv", 0.62), "'uv' is 62 cm away"),
        (Cause("cover", "lamp window", 0.63), "the mesh over 'lamp window' keeps back 37 %"),
        (Cause("cover", "uv", 0.9), "the guard round 'uv' keeps back 10 %"),
        (Cause("cover", "front", 0.0), "the front panel keeps back 100 %"),
        (Cause("cover", "elsewhere", 1.0), "the cover at 'elsewhere' keeps back nothing"),
        (Cause("shadow", "cork tube", 0.92), "'cork tube' shades off 92 % of the lamp's light"),
        (Cause("canopy", "fig", 0.41), "the crown of 'fig' lets 41 % through"),
        (Cause("canopy", "fig", 0.004), "the crown of 'fig' lets less than 1 % through"),
        (Cause("bounced", "", 0.34), "34 % of it comes off panels, ground and other surfaces"),
        (Cause("dim", "grow", 0.8), "'grow' is dimmed to 80 %"),
        (Cause("aged", "uv", 0.7), "'uv' has aged to 70 % of its light when new"),
        (Cause("no_number", "dli"), "the catalogue has no number for this: daily plant light"),
        (Cause("no_site", "retreat"), "the file names no site with the role retreat"),
        (Cause("no_site", "gone"), "the file has no site 'gone'"),
        (Cause("no_site", "door"), "no panel opens, so nobody works in front of open doors"),
        (Cause("no_lamp"), "no light of this kind from any lamp gets here"),
        (Cause("no_lamp", "uvi"), "no ultraviolet from any lamp gets here"),
        (Cause("some_new_kind", "x"), "some new kind 'x'"),
        (Cause("some_new_kind", "x", 0.5), "some new kind 'x' 0.5"),
    ],
)
def test_each_cause_has_its_clause(cause: Cause, sentence: str) -> None:
    assert cause_words(cause, HABITAT, "metric") == sentence


def test_sheet_over_an_opening_is_not_called_a_mesh() -> None:
    opening = HABITAT.enclosure.openings[0]
    from dataclasses import replace

    sheet = replace(opening, cover=Cover("s", "sheet", {"*": MEMORY}, "sheet"))
    changed = habitat(enclosure=replace(HABITAT.enclosure, openings=(sheet,)))
    text = cause_words(Cause("cover", "lamp window", 0.5), changed, "metric")
    assert text == "the clear sheet over 'lamp window' keeps back 50 %"


def test_causes_become_one_sentence_with_shares_together() -> None:
    causes = (
        Cause("canopy", "fig", 0.41), Cause("lamp_share", "uv", 0.9), Cause("lamp_share", "a", 0.1)
    )  # fmt: skip
    assert why_words(causes, HABITAT, "metric") == (
        "90 % of it comes from 'uv' and 10 % from 'a'; the crown of 'fig' lets 41 % through."
    )
    assert why_words((), HABITAT, "metric") == ""


def test_a_missed_finding_says_everything() -> None:
    told = word(finding(), HABITAT)
    assert (told.state, told.title) == ("missed", "UV at the basking place")
    assert told.value == "UVI 4.1 ± 0.6"
    assert told.wanted == "wanted UVI 1.0 to 2.6"
    assert told.margin == "58 % above the upper limit"
    assert told.where == "'basking' at [97 cm, 38 cm, 102 cm], meter turned to the brightest"
    assert told.when == "lamps on"
    assert told.advice == (
        "Moving 'uv' to [75 cm, 40 cm, 122 cm] gives UVI 1.6 by this computation; "
        "try it and check again. Mind there: what carries 'uv' meets 'left spot'."
    )
    assert told.source == "A. Author 2001, a made-up table (published)"
    assert not told.weak


def test_us_units_at_the_edge() -> None:
    told = word(finding(), HABITAT, "us")
    assert "[38 3/16 in, 14 15/16 in, 40 3/16 in]" in told.where
    assert "[29 1/2 in, 15 3/4 in, 48 1/16 in]" in told.advice
    assert "'uv' is 24 7/16 in away" in told.why
    lux = word(finding(quantity="lux", value=5382.0, low=1076.391, high=None), HABITAT, "us")
    assert lux.value.startswith("500 ")
    assert lux.wanted == "wanted at least 100 fc"


def test_every_state_has_its_word() -> None:
    states = {word(f, HABITAT).state for f in findings()}
    assert states == {"missed", "close", "not known", "met"}


def test_dimming_cure_and_below_the_limit() -> None:
    told = word(
        finding(value=0.5, low=1.0, cure=Cure("dim", "uv", 1.2, value=0.6), margin=-0.5), HABITAT
    )
    assert told.margin == "50 % below the lower limit"
    assert told.advice.startswith("Dimming 'uv' to 60 % gives UVI 1.2")


def test_limit_of_zero_is_told_in_the_quantity_not_in_percent() -> None:
    told = word(finding(value=0.3, low=None, high=0.0, margin=-2.0), HABITAT)
    assert told.margin == "UVI 0.30 above the limit"


def test_not_known_says_what_would_make_it_known() -> None:
    blank = {"state": State.NOT_KNOWN, "value": None, "low": None, "high": None, "cure": None}
    number = word(finding(**blank, margin=None, causes=(Cause("no_number", "dli"),)), HABITAT)
    assert number.value == "not known"
    assert "needs:" in number.advice
    place = word(finding(**blank, margin=None, causes=(Cause("no_site", "retreat"),)), HABITAT)
    assert place.advice == (
        "Name such a place under sites: in the habitat file, with role: retreat."
    )


def test_weak_sources_say_so_first() -> None:
    assert source_words(MEMORY).startswith("from memory, seen in no document: ")
    for twice in ("from memory", "from memory, not seen in a document", ""):
        told = source_words(Source(twice, SourceKind.FROM_MEMORY))
        assert told == "from memory, seen in no document"
    for text, rest in (
        ("from memory of ISO 10456 table 3", "ISO 10456 table 3"),
        ("from memory; a leaflet gives 20 °C", "a leaflet gives 20 °C"),
        ("lowest tolerated, from memory; grows well from 50 %",
         "lowest tolerated; grows well from 50 %"),
    ):  # fmt: skip
        told = source_words(Source(text, SourceKind.FROM_MEMORY))
        assert told == f"from memory, seen in no document: {rest}"
    common = Source("common practice, no source", SourceKind.COMMON_PRACTICE)
    assert source_words(common) == "common practice, no source"
    other = Source("keepers measure so", SourceKind.COMMON_PRACTICE)
    assert source_words(other) == "common practice, no source: keepers measure so"
    assert (
        source_words(Source("own meter", SourceKind.BUILDER)) == "given by the builder: own meter"
    )
    assert source_words(PUBLISHED).endswith("(published)")


def test_value_and_limit_that_differ_never_look_alike() -> None:
    told = word(finding(value=2.634, low=None, high=2.6, uncertainty=None, margin=-0.01), HABITAT)
    assert told.value == "UVI 2.63"
    assert told.wanted == "wanted at most UVI 2.60"


@pytest.mark.parametrize(
    ("quantity", "value", "text"),
    [
        ("uvi", 0.0, "UVI 0"),
        ("uvi", 0.684, "UVI 0.68"),
        ("uvi", 4.12, "UVI 4.1"),
        ("uvi", 12.0, "UVI 12.0"),
        ("lux", 12345.0, "12,300 lx"),
        ("ppfd", 151.6, "152 µmol/m²/s"),
        ("dli", 6.41, "6.4 mol/m²/d"),
        ("uvb", 0.3274, "0.327 W/m²"),
        ("distance", 0.62, "62 cm"),
        ("exposure_time", 90.0, "90 s"),
        ("exposure_time", 11400.0, "3 h 10 min"),
        ("exposure_time", math.inf, "no limit"),
        ("uvi", math.nan, "not known"),
        ("uvi", None, "not known"),
    ],
)
def test_sensible_digits(quantity: str, value: float | None, text: str) -> None:
    assert quantities.worded(quantity, value, "metric") == text


def test_shares_are_honest_near_the_ends() -> None:
    assert quantities.percent(0.0) == "0 %"
    assert quantities.percent(0.004) == "less than 1 %"
    assert quantities.percent(0.998) == "more than 99 %"


def test_names_cannot_move_the_cursor_or_turn_the_line() -> None:
    hostile = "a\x1b[31mred\x1b[0m\r\nb\u202ecd\u200be\x9b2J\ud800"
    told = clean(hostile)
    assert all(c.isprintable() for c in told)
    assert "\x1b" not in told
    assert "\u202e" not in told
    assert len(clean("x" * 5000)) == LONGEST
    assert listing(["a", "b", "c"]) == "a, b and c"


def test_groups_stand_worst_first_and_are_counted() -> None:
    report = check_report(HABITAT, findings(), explain=True)
    assert [g.about for g in report.groups] == [
        "phelsuma-grandis", "left bromeliad", "fig", "people"
    ]  # fmt: skip
    assert report.groups[0].heading == "giant day gecko (Phelsuma grandis)"
    assert [f.state for f in report.groups[0].findings] == ["missed", "close"]
    assert report.counts_line == "1 missed, 1 close, 1 not known, 2 met"
    assert report.caution.startswith("2 findings rest on a number without a document")
    assert [t.title for t in report.tables] == ["Defaults used", "Sources of the limits"]
    assert counts_words(dict.fromkeys(State, 0)) == "no needs to check"


def test_each_source_is_listed_once_with_its_needs() -> None:
    rows = dict(sources_table(findings()).rows)
    assert (
        rows["A. Author 2001, a made-up table (published)"] == "uv-basking, plant-light, people-uv"
    )


def test_values_that_are_no_number_are_a_dash_in_the_table() -> None:
    from report_sample import SiteLight

    site = SiteLight("a", (0.0, 0.0, 0.0), "probe", {"up": {"uvi": math.nan, "lux": 10.0}})
    row = sites_table([site], "up").rows[0]
    assert row[:2] == ("a", "–")
    assert row[6] == "10"
    assert row[7] == "–"


def test_findings_are_worded_without_loading_anything_heavy() -> None:
    code = (
        "import sys; import loamwright.report.terminal, loamwright.report.json_out, "
        "loamwright.report.overview; heavy = {'matplotlib', 'scipy', 'xarray', 'numba', 'trimesh', "
        "'jinja2', 'rich'} & set(sys.modules); print(', '.join(sorted(heavy)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.stderr) == ("", "")


def test_time_in_front_of_the_doors_speaks_of_the_dose() -> None:
    told = word(
        finding(
            need="people-uv", about="people", quantity="exposure_time", state=State.MET,
            value=28800.0, low=1800.0, high=None, uncertainty=0.0, margin=15.0, cure=None,
            causes=(Cause("lamp_share", "uv", 1.0),),
        ),
        HABITAT,
    )  # fmt: skip
    assert (told.value, told.wanted) == ("8 h", "wanted at least 30 min")
    assert told.margin == "16.0 times the limit"
    assert told.why == "100 % of the dose comes from 'uv'."


# -- the climate ---------------------------------------------------------------------------------


def warm(**changes: object) -> Finding:
    made = {
        "need": "basking-surface", "engine": "climate", "quantity": "surface_temperature",
        "value": 306.35, "low": 308.15, "high": 313.15, "uncertainty": 1.4, "margin": -0.18,
        "when": "winter midday", "facing": "", "cure": None,
        "causes": (
            Cause("lamp_heat", "left spot", 0.7), Cause("lamp_heat", "uv", 0.3),
            Cause("air_here", "basking", 297.35), Cause("room_air", "winter", 292.15),
        ),
    }  # fmt: skip
    return finding(**(made | changes))


def test_temperatures_are_told_in_degrees_and_their_gaps_in_kelvins() -> None:
    told = word(warm(), HABITAT)
    assert told.title == "surface of the basking place"
    assert told.value == "33.2 ± 1.4 °C"
    assert told.wanted == "wanted 35.0 to 40.0 °C"
    assert told.margin == "1.8 K below the lower limit"
    assert told.why == (
        "70 % of the lamps' light that warms it comes from 'left spot' and 30 % from 'uv'; "
        "the air there is at 24.2 °C; the room is at 19.0 °C in winter."
    )


def test_a_difference_is_not_turned_into_a_temperature() -> None:
    told = word(warm(), HABITAT, "us")
    assert told.value == "91.8 ± 2.5 °F"
    assert told.wanted == "wanted 95.0 to 104.0 °F"
    assert told.margin == "3.2 °F below the lower limit"
    assert "the air there is at 75.6 °F" in told.why
    assert quantities.worded_difference("air_temperature", -5.0, "us") == "9.0 °F"
    assert quantities.worded_difference("air_temperature", -5.0, "metric") == "5.0 K"


def test_humidity_is_told_in_percent_and_its_gaps_in_points() -> None:
    told = word(
        warm(need="humidity-day", quantity="humidity", value=0.23, low=0.6, high=0.8,
             uncertainty=0.05, site="mean of its places", at=None,
             causes=(Cause("air_changes", "", 4.8 / 3600), Cause("room_humidity", "winter", 0.35))),
        HABITAT,
    )  # fmt: skip
    assert (told.value, told.wanted) == ("23 ± 5 %", "wanted 60 to 80 %")
    assert told.margin == "37 points below the lower limit"
    assert told.where == "mean of its places"
    assert told.why == (
        "The air is renewed 4.8 times an hour; the room's air holds 35 % in winter."
    )
    assert quantities.worded_difference("humidity", 0.011, "metric") == "1 point"
    assert quantities.worded_difference("humidity", -0.02, "metric") == "2 points"
    small = quantities.worded_difference("humidity", 0.004, "metric")
    assert small == "less than 1 point"


def test_times_of_the_climate_are_told_as_times() -> None:
    wet = word(
        warm(need="wet-pane", about="habitat", quantity="condensation_time", value=7.5 * 3600,
             low=None, high=6 * 3600.0, uncertainty=3600.0, site="front", at=None, causes=()),
        HABITAT,
    )  # fmt: skip
    assert (wet.value, wet.wanted) == ("7 h 30 min ± 60 min", "wanted at most 6 h")
    assert (wet.where, wet.margin) == ("the front panel", "25 % above the limit")
    tank = word(
        warm(need="tank", about="habitat", quantity="tank_time", value=138.9 * 86400,
             low=3 * 86400.0, high=None, uncertainty=13.9 * 86400, site="tank", at=None, causes=()),
        HABITAT,
    )  # fmt: skip
    assert (tank.value, tank.wanted) == ("139 days ± 14 days", "wanted at least 3 days")
    assert (tank.margin, tank.where) == ("46.3 times the limit", "tank")
    report = check_report(HABITAT, [tank.finding])
    assert report.groups[0].heading == "the habitat itself"


@pytest.mark.parametrize(
    ("cause", "sentence"),
    [
        (Cause("hour", "", 14.5), "at 14:30"),
        (Cause("no_surface", "mid perch"), "'mid perch' hangs in the air, over no surface"),
        (Cause("no_guard", "left spot"), "'left spot' has no guard round it"),
        (Cause("warming", "basking", 540.0), "a body gets there from its morning shelter in "
         "9 min"),
        (Cause("warming", "basking", math.inf), "a body never gets there from its morning "
         "shelter"),
        (Cause("air_changes", "", 1 / 3600), "the air is renewed once an hour"),
        (Cause("burn_after", "slab", 480.0), "it can burn after 8 min of contact"),
        (Cause("no_number", "mass"), "the catalogue has no number for this: body mass"),
        (Cause("no_number", "night-air"), "the catalogue has no number for this: air temperature "
         "at night"),
        (Cause("fan_air", "exhaust", 0.005), "'exhaust' moves 18,000 L of air an hour"),
        (Cause("wettest", "front", 7200.0), "'front' is wet for longest: 2 h a day"),
    ],
)  # fmt: skip
def test_each_cause_of_the_climate_has_its_clause(cause: Cause, sentence: str) -> None:
    assert cause_words(cause, HABITAT, "metric") == sentence


@pytest.mark.parametrize(
    ("quantity", "value", "system", "text"),
    [
        ("air_temperature", 273.15, "metric", "0 °C"),
        ("air_temperature", 297.31, "metric", "24.2 °C"),
        ("air_temperature", 310.15, "us", "98.6 °F"),
        ("humidity", 0.554, "us", "55 %"),
        ("air_changes", 0.5 / 3600, "metric", "0.5 per hour"),
        ("energy", 1.512e6, "metric", "0.42 kWh"),
        ("water", 0.18, "metric", "0.18 L"),
        ("water", 0.0204, "metric", "20 mL"),
        ("water", 0.18, "us", "6.09 fl oz"),
        ("water", 25.0, "us", "6.6 gal"),
        ("speed", 0.05, "metric", "5 cm/s"),
        ("speed", 0.05, "us", "9.84 ft/min"),
        ("tank_time", 2.5 * 86400, "metric", "2.5 days"),
        ("tank_time", math.inf, "metric", "no limit"),
        ("wet_time", 0.0, "metric", "0 s"),
    ],
)
def test_quantities_of_the_climate(quantity: str, value: float, system: str, text: str) -> None:
    assert quantities.worded(quantity, value, system) == text


@pytest.mark.parametrize(
    ("metres", "text"),
    [(0.9144, "36"), (0.9271, "36 1/2"), (0.0015875, "1/16"), (-0.0127, "-1/2"), (1e-5, "0")],
)
def test_inches_are_told_in_sixteenths_as_on_a_tape(metres: float, text: str) -> None:
    from loamwright.units import parse

    assert quantities.measure(metres, "us") == text
    # What is shown can be written into the file again.
    assert parse(f"{text} in", "length") == pytest.approx(metres, abs=0.0254 / 32)
