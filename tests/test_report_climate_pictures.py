"""Charts and sections of the climate: what they say, the same every time, harmless with odd input."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from climate_sample import FROG, WARM_GECKO, ZERO, climate_habitat, run
from loamwright.habitat.needs import Need
from loamwright.habitat.residents import Group
from loamwright.habitat.sites import Site
from loamwright.report import climate_bands, climate_charts, climate_sections, pictures, scales
from loamwright.report import figure as sheet
from loamwright.report.drill_chart import Limit, Track, drill_chart, passed, picture_of
from loamwright.report.line_labels import Named, Region, name_all
from report_sample import MEMORY

HABITAT = climate_habitat()
RUN = run(HABITAT)


def words(draw: Callable[[], bytes]) -> str:
    """Everything written in a picture, by line, without painting it."""
    from matplotlib.text import Text

    found: list[str] = []

    def read(figure, kind: str) -> bytes:
        found.extend(t.get_text() for t in figure.findobj(Text) if t.get_visible())
        return b""

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sheet, "to_bytes", read)
        draw()
    return "\n".join(found)


# -- bands ---------------------------------------------------------------------------------------


def bands(role: str, **site: object) -> set[tuple[str, str, tuple[float | None, float | None]]]:
    place = Site("here", (0.5, 0.4, 0.8), role=role, **site)  # type: ignore[arg-type]
    return {(b.what, b.when, b.limits) for b in climate_bands.temperature_bands(HABITAT, place)}


def test_bands_are_those_the_findings_hold() -> None:
    night = ("air", "night", (291.15, 296.15))
    assert bands("basking") == {
        ("surface", "day", (308.15, 313.15)), ("body", "day", (305.15, None)), night
    }  # fmt: skip
    assert bands("retreat") == {
        ("air", "day", (298.15, 303.15)), ("body", "day", (None, 309.15)), night
    }  # fmt: skip
    assert bands("probe") == {("air", "day", (298.15, 303.15)), night}
    assert bands("perch", species=("somebody-else",)) == set()
    crown = HABITAT.sites[3]
    assert climate_bands.temperature_bands(HABITAT, crown) == []  # this fig's needs are not known


def test_the_builders_own_need_takes_the_catalogues_place() -> None:
    need = Need("air_temperature", 295.15, None, MEMORY, "", "phelsuma-grandis")
    other = Need("surface_temperature", None, 310.15, MEMORY, "mid perch")
    made = replace(HABITAT, needs=(need, other))
    perch = next(s for s in made.sites if s.name == "mid perch")
    found = climate_bands.temperature_bands(made, perch)
    assert {b.limits for b in found if b.what == "air"} == {(295.15, None)}
    assert [b.limits for b in found if b.what == "surface"] == [(None, 310.15)]
    # A need of another resident's is not this one's.
    others = replace(HABITAT, needs=(replace(need, about="somebody-else"),))
    found = climate_bands.temperature_bands(others, perch)
    assert {b.limits for b in found if b.what == "air"} == {(298.15, 303.15), (291.15, 296.15)}


@pytest.mark.parametrize(
    ("band", "system", "named", "text"),
    [
        (("surface", (308.15, 313.15), "day"), "metric", False, "wanted surface 35 to 40 °C"),
        (("air", (291.15, 296.15), "night"), "us", False, "wanted air at night 64.4 to 73.4 °F"),
        (("body", (None, 309.15), "day"), "metric", True, "wanted body at most 36 °C (gecko)"),
        (("humidity", (0.6, None), "day"), "us", False, "wanted humidity at least 60 %"),
    ],
)
def test_a_band_is_named_in_few_words(band, system: str, named: bool, text: str) -> None:
    what, limits, when = band
    found = climate_bands.Band(what, limits, when, "gecko", "gecko")
    assert found.words(system, named=named) == text


def test_stretches_of_day_and_night_follow_the_run() -> None:
    assert climate_charts.spans(RUN, "day") == [(7.0, 19.0)]
    assert climate_charts.spans(RUN, "night") == [(0.0, 7.0), (19.0, 24.0)]
    assert climate_charts.spans(RUN, "always") == [(0.0, 24.0)]
    # A run that does not say is taken as day all through.
    silent = replace(RUN, daytime=np.zeros(0, bool))
    assert climate_charts.spans(silent, "night") == []


# -- the day -------------------------------------------------------------------------------------


def test_the_chart_names_its_lines_bands_and_what_runs() -> None:
    text = words(lambda: climate_charts.day_chart(HABITAT, RUN))
    for part in (
        "Estuary Room, forest edge", "A typical winter day, room from 18.0 to 20.0 °C",
        "basking: temperature [°C]", "cool hide (retreat): temperature [°C]",
        "relative humidity [%]", "body", "surface", "air", "room", "wanted surface 35 to 40 °C",
        "wanted air at night 18 to 23 °C", "wanted humidity 60 to 80 %", "uv", "left spot",
        "exhaust", "mist", "0.54 kWh", "40 s", "12:00",
    ):  # fmt: skip
        assert part in text, part


def test_us_units_and_chosen_places() -> None:
    text = words(lambda: climate_charts.day_chart(HABITAT, RUN, system="us", sites=["mid perch"]))
    assert "mid perch: temperature [°F]" in text
    assert "room from 64.4 to 68.0 °F" in text
    assert "basking: temperature" not in text
    assert "°C" not in text


@pytest.mark.slow
def test_the_same_chart_twice_is_the_same_bytes() -> None:
    for draw in (
        lambda: climate_charts.day_chart(HABITAT, RUN),
        lambda: climate_charts.sums_chart(HABITAT, [RUN]),
        lambda: climate_sections.climate_section_bytes(HABITAT, RUN, 12.0, "humidity"),
    ):
        first = draw()
        assert draw() == first
        assert not re.search(rb"20\d\d-\d\d-\d\dT", first)


def test_sites_are_chosen_warm_and_cool() -> None:
    assert climate_charts.chosen_sites(HABITAT) == ["basking", "cool hide"]
    bare = replace(HABITAT, sites=(Site("probe", (0.5, 0.4, 0.8)),))
    assert climate_charts.chosen_sites(bare) == ["probe"]
    assert climate_charts.chosen_sites(replace(HABITAT, sites=())) == []


@pytest.mark.slow
def test_odd_habitats_are_still_drawn() -> None:
    nobody = replace(HABITAT, sites=(), animals=(), lamps=(), fans=(), mist=None)
    empty = np.zeros((len(RUN.hours), 0))
    found = replace(
        RUN, sites=(), air=empty, humidity=empty, surface=empty, operative={}, lamps=empty,
        lamp_names=(), fans=empty, fan_names=(), mist=np.zeros(len(RUN.hours)), energy={}, water={},
    )  # fmt: skip
    assert "relative humidity" in words(lambda: climate_charts.day_chart(nobody, found))
    assert "electricity" in words(lambda: climate_charts.sums_chart(nobody, [found]))
    flat = replace(RUN, air=np.full_like(RUN.air, 293.0), surface=np.full_like(RUN.air, np.nan))
    assert "basking" in words(lambda: climate_charts.day_chart(HABITAT, flat))
    both = climate_habitat(animals=(Group(WARM_GECKO, 1), Group(FROG, 2)))
    assert "(dart frog)" in words(lambda: climate_charts.day_chart(both, run(both)))


@pytest.mark.slow
def test_hostile_names_are_text_only() -> None:
    bad = "$\\frac{1}{0$ --><script>alert(1)</script>\x1b[2J]]> & 緑"
    made = climate_habitat(name=bad, sites=(Site(bad, (0.5, 0.4, 0.8), role="perch"),))
    found = run(made, lamp_names=(bad, "b", "c"), fan_names=(bad,))
    for content in (
        climate_charts.day_chart(made, found), climate_charts.sums_chart(made, [found]),
        climate_sections.climate_section_bytes(made, found, 12.0, "air_temperature"),
        drill_chart(made, found, [Track("air", bad)], [Limit("air", 295.0, bad)], title=bad),
    ):  # fmt: skip
        assert not [e for e in ET.fromstring(content).iter() if e.tag.endswith("script")]
        assert b"\x1b" not in content


def test_sums_tell_both_seasons() -> None:
    text = words(lambda: climate_charts.sums_chart(HABITAT, [RUN, run(HABITAT, "summer")]))
    for part in ("Used on a typical winter day and a typical summer day", "0.54 kWh", ", winter",
                 ", summer", "sprayed by the nozzles", "0.2 L", "condensed into bowls"):  # fmt: skip
        assert part in text, part


# -- names at lines ------------------------------------------------------------------------------


def test_names_stand_off_lines_and_each_other() -> None:
    with sheet.style():
        page = climate_charts.page(6, 2.5)
        ax = climate_charts.frame(page, 0.5, 0.4, 5, 1.8)
        ax.set_xlim(0, 24)
        ax.set_ylim(0, 40)
        x = np.linspace(0, 24, 145)
        # Lines that run together in the morning and part in the afternoon.
        spread = np.clip((x - 12.0) / 6.0, 0.0, 1.0)
        lines = [Named(x, 12.0 + np.sin(x / 2) + spread * level, f"line {k}", "k")
                 for k, level in enumerate((-9.0, 0.0, 9.0, 18.0))]  # fmt: skip
        same = Region(0.0, 10.0, 20.0, 34.0, "wanted", "k")
        name_all(ax, lines, [same, replace(same, name="wanted too")])
        shown = page.canvas.get_renderer()
        boxes = {t.get_text(): t.get_window_extent(shown) for t in ax.texts}
        assert set(boxes) == {"line 0", "line 1", "line 2", "line 3", "wanted", "wanted too"}
        frame = ax.get_window_extent(shown)
        names = list(boxes)
        for i, a in enumerate(names):
            assert boxes[a].x0 >= frame.x0 - 1
            assert boxes[a].x1 <= frame.x1 + 1
            for b in names[i + 1 :]:
                assert not boxes[a].overlaps(boxes[b])
            for k, line in enumerate(lines):
                path = ax.transData.transform(np.column_stack([line.x, line.y]))
                inside = path[(path[:, 0] > boxes[a].x0) & (path[:, 0] < boxes[a].x1)]
                crossing = (inside[:, 1] > boxes[a].y0 + 1) & (inside[:, 1] < boxes[a].y1 - 1)
                assert not crossing.any(), (a, k)
        # Each name is nearest to its own line.
        for k in range(4):
            box = boxes[f"line {k}"]
            middle = np.array([(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2])
            gaps = [np.abs(ax.transData.transform(np.column_stack([n.x, n.y])) - middle).sum(axis=1)
                    .min() for n in lines]  # fmt: skip
            assert int(np.argmin(gaps)) == k


def test_lines_that_lie_close_to_each_other_have_names_that_do_not_touch() -> None:
    with sheet.style():
        page = climate_charts.page(6, 2.5)
        ax = climate_charts.frame(page, 0.5, 0.4, 5, 1.8)
        ax.set_xlim(0, 24)
        ax.set_ylim(0, 40)
        x = np.linspace(0, 24, 145)
        name_all(ax, [Named(x, np.full(145, 20.0 + 0.6 * k), f"close {k}", "k") for k in range(3)])
        shown = page.canvas.get_renderer()
        boxes = [t.get_window_extent(shown) for t in ax.texts]
        assert len(boxes) == 3
        for i, box in enumerate(boxes):
            assert not any(box.overlaps(other) for other in boxes[i + 1 :])


# -- drills --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("values", "upper", "at"),
    [
        ([20.0, 30.0, 40.0], True, 1.5),
        ([20.0, 30.0, 34.0], True, None),
        ([40.0, 30.0, 20.0], True, 0.0),
        ([40.0, 36.0, 34.0], False, 1.5),
    ],
)
def test_a_limit_is_passed_between_rows(values, upper: bool, at: float | None) -> None:
    limit = Limit("body", 35.0, "limit", upper)
    found = passed(np.array([0.0, 1.0, 2.0]), np.array(values), limit)
    assert found == (None if at is None else pytest.approx(at))


def test_a_drill_shows_its_limits_and_when_they_are_passed() -> None:
    tracks = [Track("body", "basking", "phelsuma-grandis"), Track("air", "cool hide"),
              Track("humidity", "cool hide")]  # fmt: skip
    limits = [Limit("body", ZERO + 30.0, "the most it bears"),
              Limit("humidity", 0.3, "driest", upper=False)]  # fmt: skip
    fault = replace(RUN, fault="controller 'basking' stuck on")
    text = words(lambda: drill_chart(HABITAT, fault, tracks, limits, since=6.0))
    values = RUN.operative["phelsuma-grandis"][:, 0]
    hour = passed(RUN.hours, values, limits[0])
    assert hour is not None
    # Told to the row in which it is seen, as the tables tell it.
    row = next(h for h in RUN.hours if h >= hour)
    minutes = round(60 * (row - 6.0))
    assert 0 <= row - hour < 1 / 6
    for part in ("Controller 'basking' stuck on, from 06:00 on a typical winter day",
                 "basking body", "cool hide air", "the most it bears: 30.0 °C", "driest: 30 %",
                 f"{minutes // 60} h {minutes % 60} min", "hours since it failed"):  # fmt: skip
        assert part in text, part
    us = words(lambda: drill_chart(HABITAT, fault, tracks[:1], limits, system="us"))
    assert "the most it bears: 86.0 °F" in us
    assert "humidity" not in us


def test_a_drill_of_the_engine_is_drawn_with_its_own_limits() -> None:
    from loamwright.engine.climate import drills

    source = WARM_GECKO.source_of("preferred_body")
    limit = drills.Limit("phelsuma-grandis", "hot", "preferred_body", 309.15, source)
    cold = drills.Limit("phelsuma-grandis", "cold", "night", 291.15, source)
    fault = drills.Drill(
        "stuck-on", "basking", "winter", 540, 2880, RUN,
        (drills.Crossing(limit, 3600.0, 311.0, "cool hide", 5.0),
         drills.Crossing(cold, float("inf"), 290.0, "basking", 1.0)),
        (311.0, "basking", 5.0), (290.0, "basking", 1.0), 0.2, 0.2, 1e6, 1e6,
    )  # fmt: skip
    text = words(lambda: picture_of(HABITAT, fault))
    for part in ("Controller 'basking' stuck on", "cool hide body", "cool hide air", "basking body",
                 "the top of its preferred band: 36.0 °C",
                 "its night's lower end: 18.0 °C"):  # fmt: skip
        assert part in text, part


def test_a_drill_without_limits_shows_where_it_gets_hottest_and_coldest() -> None:
    from loamwright.engine.climate import drills

    fault = drills.Drill("heat-wave", "", "summer", 540, 2880, RUN, (), (311.0, "basking", 5.0),
                         (290.0, "cool hide", 1.0), 0.2, 0.2, 1e6, 1e6)  # fmt: skip
    text = words(lambda: picture_of(HABITAT, fault))
    for part in ("basking air", "cool hide air", "relative humidity [%]"):
        assert part in text, part
    nowhere = replace(fault, hottest=(311.0, "", 5.0), coldest=(290.0, "", 1.0))
    assert picture_of(HABITAT, nowhere) == b""


# -- sections ------------------------------------------------------------------------------------


def test_air_between_cells_is_that_of_the_cells_at_their_middles() -> None:
    cells = climate_sections.cell_values(RUN, "air_temperature", 72)
    assert cells.shape == (4, 3)
    dz = (RUN.high[2] - RUN.low[2]) / 4
    x, z = np.array([0.25, 0.75, 1.25]), RUN.low[2] + dz * (np.arange(4) + 0.5)
    found = climate_sections.between_cells(RUN, cells, x, z)
    assert found == pytest.approx(cells)
    # Halfway between two middles lies their mean; beyond the last one it stays.
    half = climate_sections.between_cells(RUN, cells, np.array([0.5, 0.0]), z[:1])
    assert half[0] == pytest.approx([(cells[0, 0] + cells[0, 1]) / 2, cells[0, 0]])


@pytest.mark.parametrize(("quantity", "system", "told"), [
    ("air_temperature", "metric", "Air temperature"), ("humidity", "us", "Relative humidity"),
])  # fmt: skip
def test_a_section_of_the_air_is_a_drawing_of_the_habitat(
    quantity: str, system: str, told: str
) -> None:
    draw = climate_sections.climate_section_bytes
    text = words(lambda: draw(HABITAT, RUN, 12.0, quantity, system=system))
    where = "y = 38 cm" if system == "metric" else "y = 14 15/16 in"
    for part in (f"{told}, vertical section at {where}, seen from the front",
                 "a typical winter day, 12:00; one value over the whole depth", "basking",
                 "basking branch", "left spot"):  # fmt: skip
        assert part in text, part
    assert "fig crown" not in text


def test_values_at_the_sites_are_those_of_the_run() -> None:
    text = words(
        lambda: climate_sections.climate_section_bytes(HABITAT, RUN, 12.0, "air_temperature")
    )
    assert f"{RUN.air[72, 0] - ZERO:.1f} °C" in text


def test_two_seasons_share_one_scale() -> None:
    summer = run(HABITAT, "summer")
    span = climate_sections.shared_span([RUN, summer], "air_temperature", 12.0)
    assert span[0] == pytest.approx(RUN.cell_air[72].min())
    assert span[1] == pytest.approx(summer.cell_air[72].max())


@pytest.mark.parametrize(("low", "high"), [(22.3, 25.0), (16.0, 16.0), (31.0, 98.0), (60.1, 140.0)])
def test_even_scales_hold_what_is_shown_in_round_steps(low: float, high: float) -> None:
    scale = scales.even_scale("x", low, high, "inferno")
    assert scale.edges[0] <= low
    assert scale.edges[-1] >= high
    assert 4 <= len(scale.colors) <= 10
    assert len(scale.colors) == len(scale.edges) - 1
    steps = np.diff(scale.edges)
    assert steps == pytest.approx([steps[0]] * len(steps))


@pytest.mark.slow
def test_pictures_of_the_days_have_the_names_that_are_checked_beforehand() -> None:
    days = {"winter": RUN, "summer": run(HABITAT, "summer")}
    said: list[str] = []
    made = pictures.day_pictures(HABITAT, days, "metric", said.append)
    assert [n for n, _ in made] == pictures.day_names(list(days))
    assert [p.lead for _, p in made] == [True, False, False, False, False, False]
    assert all(p.content[:4] == b"\x89PNG" for _, p in made)
    assert said
    assert pictures.day_pictures(HABITAT, {}, "metric", said.append) == []
    assert pictures.day_names([]) == []
    assert pictures.middle_hour(HABITAT, "winter") == 13.0
