"""Words on the charts: on no line, on no other word, whole, beside what they name."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from matplotlib.text import Text

from chart_words import apart, drawn, struck, texts
from climate_sample import FROG, WARM_GECKO, ZERO, climate_habitat, run
from loamwright import workflow
from loamwright.engine.climate import drills
from loamwright.engine.ground.coupled import Coupled
from loamwright.engine.ground.outlook import amounts, look_ahead
from loamwright.engine.ground.weather import STEP, DayOfGround
from loamwright.engine.life import decomposers_study, matter, plants_year
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.residents import Group
from loamwright.report import (
    climate_charts,
    decomposers_charts,
    ground_charts,
    pack_sections,
    plants_charts,
)
from loamwright.report import figure as sheet
from loamwright.report.drill_chart import Limit, Track, drill_chart, picture_of
from loamwright.report.line_labels import Named, Region, both, name_all, name_ends

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"
NAMES = ("forest-edge", "dry-rock", "rain-glass", "school-meadow")
LONG = "the white-veined nerve plant beside the lower waterfall"


@cache
def example(name: str) -> Habitat:
    return workflow.read(EXAMPLES / f"{name}.yaml")


def axes(wide: float = 6.0, high: float = 2.5):
    page = climate_charts.page(wide, high)
    ax = climate_charts.frame(page, 0.5, 0.4, wide - 1, high - 0.8)
    ax.set_xlim(0, 24)
    ax.set_ylim(0, 40)
    return page, ax


def box_of(page, words: str):
    return next(Text.get_window_extent(t) for t, _ in texts(page) if t.get_text() == words)


# -- names at lines ------------------------------------------------------------------------------


def test_a_spike_between_two_rows_counts_as_a_line() -> None:
    with sheet.style():
        page, ax = axes()
        x = np.arange(0.0, 24.5, 0.5)
        spikes = np.where(np.arange(len(x)) % 4 == 0, 39.0, 1.0)
        spikes[x > 18] = 1.0
        ax.plot(x, spikes)
        ax.plot(x, np.full(len(x), 20.0))
        name_all(ax, [Named(x, spikes, "", "k"), Named(x, np.full(len(x), 20.0), "level", "k")],
                 [Region(0.0, 24.0, 22.0, 34.0, "wanted", "k")])  # fmt: skip
        assert {t.get_text() for t in ax.texts} == {"level", "wanted"}
        assert not struck(page)


def test_a_band_without_room_is_named_over_the_axes() -> None:
    with sheet.style():
        page, ax = axes()
        x = np.linspace(0.0, 24.0, 120)
        everywhere = np.where(np.arange(120) % 2 == 0, 39.5, 0.5)
        ax.plot(x, everywhere)
        name_all(ax, [Named(x, everywhere, "", "k")],
                 [Region(0.0, 24.0, 10.0, 30.0, "wanted 10 to 30", "k"),
                  Region(0.0, 24.0, 5.0, 12.0, "wanted 5 to 12", "k")])  # fmt: skip
        frame = ax.get_window_extent()
        boxes = [Text.get_window_extent(t) for t in ax.texts]
        assert all(b.y0 > frame.y1 for b in boxes)
        assert all(frame.x0 < b.x0 and b.x1 <= frame.x1 + 0.5 for b in boxes)
        apart(page)


def test_a_narrow_band_is_named_on_two_lines_or_in_its_other_stretch() -> None:
    name = "wanted air at night 18 to 23"
    for also, lines in (((), 2), (((10.0, 24.0),), 1)):
        with sheet.style():
            page, ax = axes()
            name_all(ax, [], [Region(0.0, 5.0, 4.0, 36.0, name, "k", also)])
            (text,) = ax.texts
            assert len(text.get_text().split("\n")) == lines
            assert text.get_text().replace("\n", " ") == name
            apart(page)


def test_lines_that_hide_each_other_share_a_name() -> None:
    with sheet.style():
        _, ax = axes()
        x = np.linspace(0.0, 24.0, 145)
        lines = [Named(x, 20.0 + np.sin(x), "burrow hide air", "k"),
                 Named(x, 20.01 + np.sin(x), "crevice air", "k"),
                 Named(x, 30.0 + np.sin(x), "basking air", "k")]  # fmt: skip
        name_all(ax, lines)
        assert {t.get_text() for t in ax.texts} == {"burrow hide, crevice air", "basking air"}


def test_a_name_that_another_line_is_nearer_to_is_led_to_its_own() -> None:
    with sheet.style():
        _, ax = axes()
        x = np.linspace(0.0, 24.0, 145)
        lines = [Named(x, np.full(145, y), f"line {y}", "k") for y in (20.0, 21.0, 22.0)]
        name_all(ax, lines)
        (led,) = ax.lines  # the middle one has no room at its own
        assert led.get_ydata()[1] == pytest.approx(21.0)


@pytest.mark.parametrize(("one", "other", "said"), [
    ("burrow hide air", "crevice air", "burrow hide, crevice air"),
    ("body", "surface", "body, surface"), ("hide air", "hide air", "hide air"),
    ("air", "hide air", "air, hide air"),
    ("body (day gecko)", "body (leaf gecko)", "body (day gecko), body (leaf gecko)"),
])  # fmt: skip
def test_two_names_are_told_as_one(one: str, other: str, said: str) -> None:
    assert both(one, other) == said


def test_names_at_ends_are_pushed_apart_in_their_order() -> None:
    with sheet.style():
        _, ax = axes(8.0)
        ax.set_position((0.1, 0.2, 0.6, 0.6))
        x = np.array([0.0, 24.0])
        ends = {"c": 21.0, "a": 20.0, "b": 20.5, "far": 38.0}
        name_ends(ax, [Named(x, np.array([1.0, y]), name, "k") for name, y in ends.items()])
        boxes = {t.get_text(): Text.get_window_extent(t) for t in ax.texts}
        for low, high in (("a", "b"), ("b", "c"), ("c", "far")):
            assert boxes[low].y1 < boxes[high].y0
        level = ax.transData.transform((24.0, 38.0))[1]
        assert (boxes["far"].y0 + boxes["far"].y1) / 2 == pytest.approx(level, abs=3.0)
        # Those that were moved are led to their ends.
        assert len(ax.lines) == 2


# -- charts of a day -----------------------------------------------------------------------------


def made_run(habitat: Habitat, season: str):
    """A made-up day in an example: nothing is computed."""
    rows = 145
    flat = np.zeros((rows, len(habitat.fans)))
    return run(habitat, season, fans=flat)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("season", ["winter", "summer"])
@pytest.mark.parametrize("name", NAMES)
def test_a_days_words_are_clear_of_its_lines(name: str, season: str, system: str) -> None:
    habitat = example(name)
    found = made_run(habitat, season)
    page = drawn(lambda: climate_charts.day_chart(habitat, found, system=system))
    assert apart(page) > 30
    assert not struck(page)
    assert [ax.get_xlabel() for ax in page.axes if ax.get_xlabel()] == ["hour of day"]
    # No name stands across the beginning or the end of a night.
    turns = [x for s in climate_charts.spans(found, "night") for x in s if 0.0 < x < 24.0]
    assert turns
    for ax in page.axes[:-1]:
        for text in ax.texts:
            box = Text.get_window_extent(text)
            (left, _), (right, _) = ax.transData.inverted().transform(
                [(box.x0, box.y0), (box.x1, box.y1)]
            )
            above = box.y0 > ax.get_window_extent().y1
            assert above or not any(left < x < right for x in turns), text.get_text()


@pytest.mark.parametrize("season", ["winter", "summer"])
def test_names_of_many_residents_bands_lie_on_no_other_word(season: str) -> None:
    other = replace(WARM_GECKO, key="other", label="northern spotted gecko", night=(290.0, 294.0))
    groups = (Group(WARM_GECKO, 1), Group(FROG, 2), Group(other, 1))
    habitat = climate_habitat(animals=groups)
    found = run(habitat, season)
    page = drawn(lambda: climate_charts.day_chart(habitat, found, system="us"))
    assert apart(page) > 30
    said = [t.get_text().replace("\n", " ") for ax in page.axes for t in ax.texts]
    # What two of them want alike is one band with one name.
    assert "wanted surface 95 to 104 °F (giant day gecko, northern spotted gecko)" in said


# -- drills --------------------------------------------------------------------------------------

HABITAT = climate_habitat()


def fault(*crossings: drills.Crossing, **changes: object) -> drills.Drill:
    made = run(HABITAT, fault="heat wave", **changes)
    ends = (311.0, "basking", 5.0), (290.0, "basking", 1.0)
    return drills.Drill(
        "heat-wave", "", "winter", 540, 2880, made, crossings, *ends, 0.2, 0.2, 1e6, 1e6
    )


def test_times_of_marks_that_touch_are_told_together_and_once() -> None:
    found = fault().run
    tracks = [Track("air", s) for s in ("basking", "mid perch", "cool hide", "fig crown")]
    page = drawn(lambda: drill_chart(HABITAT, found, tracks, [Limit("air", ZERO + 19.0, "most")]))
    (ax,) = page.axes
    rings = [ax.transData.transform(line.get_xydata())[0] for line in ax.lines
             if line.get_marker() == "o"]  # fmt: skip
    assert len(rings) == 4
    times = [t for t in ax.texts if t.get_text().endswith("min") or t.get_text().endswith(" h")]
    told = [part for t in times for part in t.get_text().split(", ")]
    assert 0 < len(told) < 4
    assert len(told) == len(set(told))
    for text in times:
        box = Text.get_window_extent(text)
        gaps = [np.hypot(max(box.x0 - x, x - box.x1, 0.0), max(box.y0 - y, y - box.y1, 0.0))
                for x, y in rings]  # fmt: skip
        assert 3.0 < min(gaps) < 25.0
    apart(page)
    assert not struck(page)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_a_drills_words_are_clear_of_its_lines(system: str) -> None:
    source = WARM_GECKO.source_of("preferred_body")
    hot = drills.Limit("phelsuma-grandis", "hot", "preferred_body", 303.15, source)
    dry = drills.Limit("phelsuma-grandis", "dry", "humidity_day", 0.6, source)
    warm = replace(hot, name="air_warm", value=296.0)
    one = fault(drills.Crossing(hot, 3600.0, 311.0, "basking", 5.0),
                drills.Crossing(warm, 3600.0, 311.0, "cool hide", 5.0),
                drills.Crossing(dry, 3600.0, 0.3, "mid perch", 5.0))  # fmt: skip
    page = drawn(lambda: picture_of(HABITAT, one, system=system))
    assert apart(page) > 20
    assert not struck(page)


def test_faults_stand_one_under_another_at_full_width() -> None:
    from loamwright.report.typst_blocks import Shown

    charts = [("a", b"<svg/>"), ("b", b"<svg/>"), ("c", b"<svg/>")]
    section = pack_sections.drills_section(HABITAT, [fault()], charts, "metric")
    assert [b.width for b in section.blocks if isinstance(b, Shown)] == [1.0, 1.0, 1.0]


# -- plants --------------------------------------------------------------------------------------


def planted(habitat: Habitat) -> plants_year.Planting:
    names = [p.name for p in habitat.plants]
    warm = (ZERO + 24.0, ZERO + 24.0)
    return plants_year.plant_year(habitat, dict.fromkeys(names, 6.0), dict.fromkeys(names, warm))


@pytest.mark.parametrize("name", NAMES)
def test_both_columns_of_plants_tell_their_days_under_the_last_row(name: str) -> None:
    habitat = example(name)
    page = drawn(lambda: plants_charts.plants_chart(habitat, planted(habitat), "svg", "us"))
    assert apart(page) > 20
    assert not struck(page)
    told = [ax for ax in page.axes if ax.get_xlabel() == "days after planting"]
    lowest = min(ax.get_position().y0 for ax in page.axes)
    assert [ax.get_position().y0 for ax in told] == [lowest, lowest]
    for ax in page.axes:
        shown = [t.label1.get_visible() for t in ax.xaxis.get_major_ticks()]
        assert all(shown) if ax in told else not any(shown)
    for ax in told:
        gap = ax.get_window_extent().y0 - Text.get_window_extent(ax.xaxis.label).y1
        assert 0.0 < gap < 30.0


@pytest.mark.parametrize("plant", ["white nerve plant", LONG])
def test_a_plants_name_is_told_whole_beside_its_row(plant: str) -> None:
    habitat = example("rain-glass")
    habitat = replace(
        habitat, plants=(replace(habitat.plants[0], name=plant), *habitat.plants[1:3])
    )
    page = drawn(lambda: plants_charts.plants_chart(habitat, planted(habitat), "svg", "metric"))
    assert plant in [t.get_text().replace("\n", " ") for t in page.texts]
    apart(page)


# -- what lives in the ground --------------------------------------------------------------------


@pytest.mark.parametrize("name", ["forest-edge", "rain-glass", "school-meadow"])
def test_the_small_lifes_words_are_clear_of_its_lines(name: str) -> None:
    habitat = example(name)
    mild = matter.Weather((ZERO + 21.0, ZERO + 24.0), (0.5, 0.5))
    found = decomposers_study.study_in(habitat, mild, None, {})
    assert found is not None
    page = drawn(lambda: decomposers_charts.decomposers_chart(habitat, found, "svg"))
    assert apart(page) > 20
    assert not struck(page)
    assert [bool(ax.get_xlabel()) for ax in page.axes] == [False, False, True]
    for ax in page.axes[:2]:
        assert not any(t.label1.get_visible() for t in ax.xaxis.get_major_ticks())
    # Clear of what is shaded: over the axes.
    assert box_of(page, "residents move in").y0 > page.axes[0].get_window_extent().y1


# -- the ground ----------------------------------------------------------------------------------


@pytest.mark.parametrize("lands", [0.2, 2.3])
@pytest.mark.parametrize("name", NAMES)
def test_the_grounds_words_are_clear_of_its_lines(name: str, lands: float) -> None:
    habitat = example(name)
    at_nine = np.zeros(24)
    at_nine[9] = lands * 1e-3 / STEP
    even = np.full(24, 1e-3 / 86400.0)
    of_day = DayOfGround(at_nine, 0.3 * even, 0.0 * even, 0.8, 1.0, 0.5)
    ahead = look_ahead(habitat, of_day, of_day, 10, "winter")
    water = Coupled((ahead,), {}, 1, 0.0)
    page = drawn(
        lambda: ground_charts.ground_chart(habitat, amounts(habitat), water, "svg", "metric")
    )
    assert apart(page) > 30
    assert not struck(page)
    titles = [ax.get_title(loc="left") for ax in page.axes]
    assert all("[" in t or "% vol." in t for t in titles), titles
    # The lower charts' titles keep off what stands over them.
    labels = [Text.get_window_extent(ax.xaxis.label) for ax in page.axes if ax.get_xlabel()]
    low = [ax for ax in page.axes if ax.get_title(loc="left").startswith("water that stands")]
    title = Text.get_window_extent(low[0]._left_title)
    over = [b.y0 - title.y1 for b in labels if b.y0 > title.y1]
    assert min(over) > 12.0
