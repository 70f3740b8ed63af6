"""Drawings of the build: no word lies on another, on a line or on a hole, none runs off the paper."""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path as Place

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.path import Path
from matplotlib.text import Text

from chart_words import clear_of
from loamwright import workflow
from loamwright.habitat.habitat import Habitat
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.cuts import Cuts
from loamwright.plan.mist_line import mist_line_of
from loamwright.plan.wiring import wiring_of
from loamwright.report import (
    cut_drawing,
    draft_page,
    mist_drawing,
    plan_drawing,
    wiring_drawing,
)  # fmt: skip
from loamwright.report.balloons import balloons
from loamwright.report.draft import Balloon, Line, Ring, Word, balloon_radius, extent
from loamwright.report.plan_views import VIEWS, view

EXAMPLES = Place(workflow.__file__).parent / "data" / "examples"
NAMES = ("forest-edge", "dry-rock", "rain-glass", "school-meadow")
Box = tuple[float, float, float, float]


@cache
def made(name: str) -> Habitat:
    return workflow.read(EXAMPLES / f"{name}.yaml")


@cache
def cuts_of(name: str) -> Cuts:
    return cut_plan(made(name))


def shown(figure: Figure) -> list[Text]:
    """Texts that are drawn: numbers of an axis beyond its ends are not."""
    out = list(figure.texts)
    for axes in figure.axes:
        out += axes.texts
        for k, axis in enumerate((axes.xaxis, axes.yaxis) if axes.axison else ()):
            low, high = axis.get_view_interval()
            labels = axis.get_majorticklabels()
            out += [axis.label, *(t for t in labels if low <= t.get_position()[k] <= high)]
    return [t for t in out if t.get_text().strip()]


def clear_words(figure: Figure) -> int:
    """How many words a figure has; fails where one lies on another or runs off the figure."""
    figure.draw_without_rendering()
    return clear_of(figure, [(t.get_text(), t.get_window_extent()) for t in shown(figure)])


def crosses(box: Box, a: tuple[float, float], b: tuple[float, float]) -> bool:
    """Whether a straight line comes into a box (left, foot, right, top)."""
    low, high = 0.0, 1.0
    for k in (0, 1):
        way = b[k] - a[k]
        if way == 0.0:
            if not box[k] < a[k] < box[k + 2]:
                return False
            continue
        ends = sorted(((box[k] - a[k]) / way, (box[k + 2] - a[k]) / way))
        low, high = max(low, ends[0]), min(high, ends[1])
    return low < high


def measure_lines(figure: Figure) -> list[np.ndarray]:
    """Lines of the chains of measures, in the figure's pixels."""
    chains = [p for p in figure.findobj(Polygon) if p.get_zorder() == 8.0]
    return [p.get_transform().transform(p.get_xy()) for p in chains]


def clear_of_measures(figure: Figure) -> None:
    """Fails where a line of a measure runs through a word."""
    lines = measure_lines(figure)
    for text in shown(figure):
        # A letter's box is higher than the letter.
        b = text.get_window_extent().padded(-1.0)
        for line in lines:
            for one, other in pairwise(line):
                assert not crosses((b.x0, b.y0, b.x1, b.y1), tuple(one), tuple(other)), text


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_no_word_lies_on_another(name: str, system: str, paper: str, monkeypatch) -> None:
    counts = []

    def looked_at(page: draft_page.Page, kind: str) -> bytes:
        counts.append(clear_words(page.figure))
        clear_of_measures(page.figure)
        return b""

    monkeypatch.setattr(draft_page.Page, "bytes", looked_at)
    plan_drawing.drawings(made(name), system, paper, ("svg",))
    assert len(counts) == 3
    assert min(counts) > 20


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_the_wirings_words_have_room(name: str, system: str, monkeypatch) -> None:
    counts = []

    def looked_at(figure: Figure, kind: str) -> bytes:
        counts.append(clear_words(figure))
        return b""

    monkeypatch.setattr(wiring_drawing.sheet, "to_bytes", looked_at)
    wiring_drawing.wiring_drawing(made(name), wiring_of(made(name)), system)
    assert counts[0] > 20


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_the_misting_lines_words_have_room(name: str, system: str, monkeypatch) -> None:
    line = mist_line_of(made(name))
    if line is None:
        assert name == "dry-rock", "the one without misting"
        return
    counts = []

    def looked_at(figure: Figure, kind: str) -> bytes:
        counts.append(clear_words(figure))
        return b""

    monkeypatch.setattr(mist_drawing.sheet, "to_bytes", looked_at)
    mist_drawing.mist_drawing(made(name), line, system)
    assert counts[0] > 10


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_the_sheets_words_have_room(name: str, system: str, monkeypatch) -> None:
    counts = []

    def looked_at(page: draft_page.Page, kind: str) -> bytes:
        counts.append(clear_words(page.figure))
        clear_of_measures(page.figure)
        keys = [t for t in shown(page.figure) if "order of cuts" in t.get_text()]
        foot = min(line[:, 1].min() for line in measure_lines(page.figure))
        for key in keys:
            # A millimetre at least, in the figure's pixels.
            assert key.get_window_extent().y1 < foot - page.figure.dpi / 25.4
        return b""

    monkeypatch.setattr(draft_page.Page, "bytes", looked_at)
    cut_drawing.sheet_drawings(cuts_of(name), "svg", system)
    assert len(counts) == len(list(cut_drawing.sheets_of(cuts_of(name)))) > 2
    assert min(counts) > 4


def box_of(word: Word, mm: float) -> Box:
    """What a word covers on a sheet [m]: capitals and figures are 0.73 of their size high."""
    half = [draft_page.text_width(word.text, word.size, word.bold) * mm / 2, 0.37 * word.size * mm]
    x, y = word.at
    across, up = half[::-1] if word.turned else half
    return x - across, y - up, x + across, y + up


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_no_line_or_hole_strikes_a_parts_name(name: str, system: str) -> None:
    seen = 0
    for number, (job, sheet) in enumerate(cut_drawing.sheets_of(cuts_of(name)), 1):
        scale = draft_page.scale_for((sheet.width, sheet.height), (154.0, 150.0), system)
        draft, _ = cut_drawing.sheet_draft(job, sheet, number, scale, system)
        mm = scale / 1000.0
        words = [s for s in draft.shapes if isinstance(s, Word)]
        lines = [s for s in draft.shapes if isinstance(s, Line) and s.layer in ("HIDDEN", "HOLES")]
        edges = [s for s in draft.shapes if isinstance(s, Line) and s.layer in ("PARTS", "SHEET")]
        for word in words:
            box = box_of(word, mm)
            named = word.layer == "TEXT"
            for line in lines if named else edges:
                ring = [*line.points, line.points[0]]
                assert not any(crosses(box, *ends) for ends in pairwise(ring)), (number, word)
                seen += named
            for ring in (s for s in draft.shapes if isinstance(s, Ring)):
                near = [min(max(ring.centre[k], box[k]), box[k + 2]) for k in (0, 1)]
                assert np.hypot(*np.subtract(near, ring.centre)) > ring.radius, (number, word)
            for spot in (s.at for s in draft.shapes if isinstance(s, Balloon)):
                near = [min(max(spot[k], box[k]), box[k + 2]) for k in (0, 1)]
                assert np.hypot(*np.subtract(near, spot)) > balloon_radius("0") * mm, (number, word)
    assert seen > 0 or name in ("rain-glass", "dry-rock"), "those without battens"


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_numbers_stand_on_their_things(name: str, system: str) -> None:
    room = plan_drawing._room(*draft_page.PAPERS["a4"])
    for looked in VIEWS:
        draft, tags = view(made(name), looked)
        low, high = extent(draft.shapes)
        scale = draft_page.scale_for((high[0] - low[0], high[1] - low[1]), room, system)
        mm = scale / 1000.0
        found = balloons(tags, scale, (low, high))
        at = np.array([np.add(np.divide(b.at, mm), b.shift) for b in found])
        radius = np.array([balloon_radius(b.text) for b in found])
        apart = np.linalg.norm(at[:, None] - at[None], axis=-1) - radius[:, None] - radius[None]
        assert (apart + 100.0 * np.eye(len(at))).min() > 0.0, "circles do not touch"
        for balloon, tag in zip(found, tags, strict=True):
            assert (balloon.layer, balloon.text) == (tag.layer, tag.text)
            end = balloon.to or balloon.at
            assert (balloon.to is None) == (balloon.shift == (0.0, 0.0))
            # Outlines are looked at with fewer corners than they are drawn with.
            on = [
                Path(ring).contains_point(end, radius=r * mm) for ring in tag.area for r in (1, -1)
            ]
            assert any(on) or np.allclose(end, tag.at), (looked, tag.text)
            # No circle hides where another's leader ends.
            if balloon.to is not None:
                off = np.linalg.norm(at - np.divide(end, mm), axis=1)
                assert (off > radius).all(), (looked, tag.text)


def test_numbers_of_three_letters_can_be_read() -> None:
    page = draft_page.Page(40.0, 40.0)
    page.balloon(20.0, 20.0, "H10", "#000000")
    (text,) = page.axes.texts
    assert text.get_fontsize() >= 5.0
    wide = draft_page.text_width("H10", text.get_fontsize() * draft_page.POINT)
    assert wide < 2.0 * balloon_radius("H10") - 0.4


def test_cad_files_are_the_same_whatever_the_hash_seed() -> None:
    """A library that goes through a set writes another order in another process."""
    told = (
        "import hashlib; from pathlib import Path; from loamwright import workflow;"
        "from loamwright.report.plan_drawing import drawings;"
        f"made = workflow.read(Path({str(EXAMPLES / 'rain-glass.yaml')!r}));"
        "print(*(hashlib.sha256(c).hexdigest() for _, c in drawings(made, kinds=('dxf',))))"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", told], check=True, capture_output=True, text=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2", "3", "4")
    }  # fmt: skip
    assert len(runs) == 1
