"""The drawings to scale: no word lies on another, none runs off the paper."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from matplotlib.text import Text

from loamwright import workflow
from loamwright.report import draft_page
from loamwright.report.plan_drawing import drawings

EXAMPLES = Path(workflow.__file__).parent / "data" / "examples"


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", ["forest-edge", "dry-rock", "rain-glass", "school-meadow"])
def test_no_word_lies_on_another(name: str, system: str, paper: str, monkeypatch) -> None:
    made = workflow.read(EXAMPLES / f"{name}.yaml")
    counts = []

    def looked_at(page: draft_page.Page, kind: str) -> bytes:
        page.figure.draw_without_rendering()
        texts = [t for t in page.figure.findobj(Text) if t.get_text().strip()]
        boxes = [(t.get_text(), t.get_window_extent()) for t in texts]
        wide, high = page.figure.bbox.width, page.figure.bbox.height
        for words, b in boxes:
            assert min(b.x0, b.y0, wide - b.x1, high - b.y1) > 0.0, words
        for (one, a), (other, b) in combinations(boxes, 2):
            shared = min(min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0))
            # A letter's box is higher than the letter: a pixel more is no touch.
            assert shared <= 1.0, (one, other, shared)
        counts.append(len(boxes))
        return b""

    monkeypatch.setattr(draft_page.Page, "bytes", looked_at)
    drawings(made, system, paper, ("svg",))
    assert len(counts) == 3
    assert min(counts) > 20
