"""Section pictures: written, not empty, the same every time, harmless with hostile names."""

from __future__ import annotations

import re
import warnings
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from chart_words import clear_of
from loamwright import workflow
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.habitat import Habitat
from loamwright.report import scales, sections
from loamwright.report.figure import to_bytes
from loamwright.report.overview import Picture
from loamwright.report.pack_sections import printed
from loamwright.report.pictures import NEAR
from loamwright.report.sections import draw_section, section_bytes
from report_sample import habitat, section_field, site_lights

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"
HABITAT = habitat()
SITES = site_lights(HABITAT)


@pytest.fixture(scope="module")
def front() -> bytes:
    field = section_field(HABITAT, "y", 0.4)
    return section_bytes(HABITAT, field, "uvi", "svg", axis="y", position=0.4, sites=SITES)


def test_the_same_picture_twice_is_the_same_bytes(front: bytes) -> None:
    field = section_field(HABITAT, "y", 0.4)
    again = section_bytes(HABITAT, field, "uvi", "svg", axis="y", position=0.4, sites=SITES)
    assert again == front
    assert not re.search(rb"20\d\d-\d\d-\d\dT", front)


def test_the_svg_is_sound_and_names_what_it_shows(front: bytes) -> None:
    ET.fromstring(front)
    text = front.decode("utf-8")
    for name in ("Estuary Room, forest edge", "basking", "UVI 1.6", "uv", "site in the cut",
                 "vertical section at y = 40 cm", "height [cm]", "moderate"):  # fmt: skip
        assert name in text
    assert len(front) < 900_000


@pytest.mark.parametrize(("axis", "position"), [("x", 1.1), ("z", 0.84)])
@pytest.mark.parametrize("quantity", ["uvi", "ppfd"])
def test_png_is_written_whole_in_every_direction(
    tmp_path: Path, axis: str, position: float, quantity: str
) -> None:
    from matplotlib.image import imread

    path = tmp_path / f"{axis}-{quantity}.png"
    field = section_field(HABITAT, axis, position)
    made = draw_section(
        HABITAT, field, quantity, path, axis=axis, position=position, sites=SITES, system="us"
    )
    assert made == path
    assert [p.name for p in tmp_path.iterdir()] == [path.name]
    picture = imread(path)[..., :3]
    assert min(picture.shape[:2]) > 600
    shades = (picture[::3, ::3] * 15).astype(int) @ np.array([1, 16, 256])
    assert len(np.unique(shades)) > 60


def test_us_system_measures_in_inches() -> None:
    field = section_field(HABITAT, "y", 0.4)
    text = section_bytes(HABITAT, field, "ppfd", axis="y", position=0.4, system="us").decode()
    assert "height [in]" in text
    assert "y = 15 3/4 in" in text


def test_hostile_names_are_text_only() -> None:
    bad = "$\\frac{1}{0$ --><script>alert(1)</script>\x1b[2J]]> & 緑"
    plants = tuple(replace(p, name=bad) for p in HABITAT.plants)
    pieces = tuple(replace(p, name=bad) for p in HABITAT.hardscape)
    hostile = habitat(name=bad, plants=plants, hardscape=pieces)
    sites = tuple(replace(s, name=bad) for s in SITES)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        content = section_bytes(
            hostile, section_field(HABITAT, "y", 0.4), "uvi", axis="y", position=0.4, sites=sites
        )
    tree = ET.fromstring(content)
    assert not [e for e in tree.iter() if e.tag.endswith("script")]
    assert b"<script" not in content
    assert b"\x1b" not in content


def test_the_users_own_plot_settings_change_nothing(front: bytes) -> None:
    import matplotlib

    field = section_field(HABITAT, "y", 0.4)
    with matplotlib.rc_context({"font.size": 30, "axes.facecolor": "red"}):
        again = section_bytes(HABITAT, field, "uvi", axis="y", position=0.4, sites=SITES)
        assert matplotlib.rcParams["font.size"] == 30
    assert again == front


def test_fields_at_the_edge_of_sense_are_still_drawn() -> None:
    field = section_field(HABITAT, "y", 0.4)
    bare = Habitat("bare", Enclosure((0.5, 0.4, 0.6), HABITAT.enclosure.panels))
    for made in (field * 0.0, field * np.nan, field * 1e4, field.isel(x=slice(0, 3))):
        content = section_bytes(bare, made, "uvi", axis="y", position=0.2)
        assert b"UV index" in content


def test_unknown_places_stay_blank_and_are_not_guessed_far() -> None:
    from loamwright.report.sections import _smooth

    data = np.ones((20, 20))
    data[:, 10:] = np.nan
    line = np.arange(20.0)
    _, _, fine = _smooth(line, line, data)
    known = np.isfinite(fine).mean()
    assert 0.5 <= known <= 0.65


def test_smoothing_makes_no_new_extremes() -> None:
    from loamwright.report.sections import _smooth

    data = np.random.default_rng(1).random((15, 18))
    _, _, fine = _smooth(np.arange(18.0), np.arange(15.0), data)
    assert fine.size > 10 * data.size
    assert fine.min() >= data.min() - 1e-12
    assert fine.max() <= data.max() + 1e-12


def test_a_wrong_kind_of_file_is_refused(tmp_path: Path) -> None:
    field = section_field(HABITAT, "y", 0.4)
    with pytest.raises(ValueError, match="png or svg"):
        draw_section(HABITAT, field, "uvi", tmp_path / "a.jpg", axis="y", position=0.4)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("uvi", "name"),
    # Limits of the categories: WHO/WMO/UNEP/ICNIRP 2002, Global Solar UV Index.
    [(0, "low"), (2.9, "low"), (3, "moderate"), (6, "high"), (8, "very high"), (11, "extreme")],
)
def test_uvi_categories(uvi: float, name: str) -> None:
    assert scales.category(uvi)[0] == name


@pytest.mark.parametrize("most", [0.0, 0.4, 3.0, 7.5, 30.0])
def test_scales_reach_what_is_shown_and_have_a_colour_for_each_step(most: float) -> None:
    for scale in (scales.uvi_scale(most), scales.light_scale("PPFD", most * 100)):
        assert len(scale.colors) == len(scale.edges) - 1
        assert list(scale.edges) == sorted(set(scale.edges))
    assert scales.uvi_scale(most).edges[-1] > min(most, 13)
    assert scales.light_scale("PPFD", most * 100).edges[-1] >= most * 100


@pytest.mark.parametrize(("axis", "position"), [("y", 0.4), ("x", 1.1), ("z", 0.84)])
def test_a_printed_section_fits_the_line_in_its_own_size(axis, position, monkeypatch) -> None:
    """Set in its own size its letters are as large as they say, and none is too small to read."""
    from matplotlib.text import Text

    sizes: list[float] = []

    def looked_at(figure, kind: str) -> bytes:
        sizes.extend(t.get_fontsize() for t in figure.findobj(Text) if t.get_text().strip())
        return to_bytes(figure, kind)

    monkeypatch.setattr(sections.sheet, "to_bytes", looked_at)
    field = section_field(HABITAT, axis, position)
    content = section_bytes(HABITAT, field, "uvi", "svg", axis=axis, position=position, sites=SITES,
                            printed=True)  # fmt: skip
    shown = printed(Picture(content, "svg", "a caption"))
    assert shown.size is not None
    assert 0.08 < shown.size <= sections.PAPER_WIDE * 0.0254 + 1e-4
    assert len(sizes) > 20
    assert min(sizes) >= 6.5


@pytest.mark.parametrize("axis", ["x", "y", "z"])
@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_nothing_lies_over_a_word_of_a_printed_section(name, axis, monkeypatch) -> None:
    """Names, values, numbers and the key of a full box: no text on another, none off the paper."""
    from matplotlib.text import Text

    made = workflow.read(EXAMPLES / f"{name}.yaml")
    seen = []

    def looked_at(figure, kind: str) -> bytes:
        figure.draw_without_rendering()
        texts = [t for t in figure.findobj(Text) if t.get_text().strip() and t.get_visible()]
        seen.append(clear_of(figure, [(t.get_text(), t.get_window_extent()) for t in texts]))
        return to_bytes(figure, kind)

    monkeypatch.setattr(sections.sheet, "to_bytes", looked_at)
    basking = next((s for s in made.sites if s.role == "basking"), made.sites[0])
    k = "xyz".index(axis)
    position = basking.at[k]
    near = [s for s in site_lights(made) if abs(s.at[k] - position) <= NEAR]
    field = section_field(made, axis, position)
    # A low and a high scale of colours: many steps on a low drawing crowd beside it.
    for most in (None, 12.0):
        section_bytes(made, field, "uvi", "svg", axis=axis, position=position, sites=near, most=most,
                      printed=True)  # fmt: skip
    assert min(seen) > 20
