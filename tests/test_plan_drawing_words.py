"""Drawings of the build: no word lies on another, none runs off the paper."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from matplotlib.figure import Figure
from matplotlib.text import Text

from loamwright import workflow
from loamwright.plan.wiring import wiring_of
from loamwright.report import draft_page, wiring_drawing
from loamwright.report.plan_drawing import drawings

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


def clear_words(figure: Figure) -> int:
    """How many words a figure has; fails where one lies on another or runs off the figure."""
    figure.draw_without_rendering()
    texts = [t for t in figure.findobj(Text) if t.get_text().strip()]
    boxes = [(t.get_text(), t.get_window_extent()) for t in texts]
    wide, high = figure.bbox.width, figure.bbox.height
    for words, b in boxes:
        assert min(b.x0, b.y0, wide - b.x1, high - b.y1) > 0.0, words
    for (one, a), (other, b) in combinations(boxes, 2):
        shared = min(min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0))
        # A letter's box is higher than the letter: a pixel more is no touch.
        assert shared <= 1.0, (one, other, shared)
    return len(boxes)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_no_word_lies_on_another(name: str, system: str, paper: str, monkeypatch) -> None:
    made = workflow.read(EXAMPLES / f"{name}.yaml")
    counts = []

    def looked_at(page: draft_page.Page, kind: str) -> bytes:
        counts.append(clear_words(page.figure))
        return b""

    monkeypatch.setattr(draft_page.Page, "bytes", looked_at)
    drawings(made, system, paper, ("svg",))
    assert len(counts) == 3
    assert min(counts) > 20


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_the_wirings_words_have_room(name: str, system: str, monkeypatch) -> None:
    made = workflow.read(EXAMPLES / f"{name}.yaml")
    counts = []

    def looked_at(figure: Figure, kind: str) -> bytes:
        counts.append(clear_words(figure))
        return b""

    monkeypatch.setattr(wiring_drawing.sheet, "to_bytes", looked_at)
    wiring_drawing.wiring_drawing(made, wiring_of(made), system)
    assert counts[0] > 20
