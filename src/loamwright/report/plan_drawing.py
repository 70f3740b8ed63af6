"""Plan, front and side of the habitat to scale on a page, as SVG, and as CAD files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as style
from loamwright.report.balloons import balloons
from loamwright.report.draft import LAYERS, Draft, Point, extent
from loamwright.report.draft_page import PAPERS, Page, place, scale_for, text_width
from loamwright.report.dxf import dxf_bytes
from loamwright.report.plain import capital, clean
from loamwright.report.plan_views import VIEWS, Tag, view
from loamwright.report.quantities import edge, measure

_MARGIN = 7.0
_HEAD = 14.0
_LEFT, _BELOW, _RIGHT, _ABOVE = 19.0, 18.5, 17.0, 13.0
"""Room for measures round the view [mm]."""

_LEGEND = 62.0
_HEADINGS = {
    "SITES": "Places of probes", "LAMPS": "Lamps", "AIR": "Fans", "MIST": "Nozzles",
    "HARDSCAPE": "Hardscape", "PLANTS": "Plants", "WATER": "Water",
}  # fmt: skip
_TEXT = 2.2
_NOTE = (
    "Check every measure on the built box before",
    "you cut or order. Lamps, fans and pumps: a",
    "licensed electrician and the local code decide.",
)
_BAR = 51.0
"""Longest scale bar [mm]."""

_UNDER = 16.0
"""Room for the scale and the note under the legend [mm]."""


def drawings(
    habitat: Habitat, system: str = "metric", paper: str = "a4",
    kinds: Sequence[str] = ("svg", "dxf"),
) -> list[tuple[str, bytes]]:  # fmt: skip
    """Plan, front and side drawing, each with the name of its file.

    Parameters
    ----------
    habitat : Habitat
        What is drawn.
    system : str
        ``metric`` (millimetres, places in centimetres) or ``us`` (inches).
    paper : str
        ``a4`` or ``letter``; pages lie, and an SVG is exactly as large as its page.
    kinds : sequence of str
        ``svg``, ``png``, ``dxf``.
    """
    out = []
    for name in VIEWS:
        draft, tags = view(habitat, name)
        low, high = extent(draft.shapes)
        size = (high[0] - low[0], high[1] - low[1])
        wide, tall = PAPERS[paper]
        scale = scale_for(size, _room(wide, tall), system)
        numbers = balloons(tags, scale, (low, high))
        numbered = replace(draft, shapes=(*draft.shapes, *numbers))
        for kind in kinds:
            if kind == "dxf":
                out.append((f"{name}.dxf", dxf_bytes(numbered, scale, system)))
                continue
            with style.style():
                page = _page(habitat, numbered, tags, scale, system, paper)
                out.append((f"{name}.{kind}", page.bytes(kind)))
    return out


def _page(
    habitat: Habitat, draft: Draft, tags: Sequence[Tag], scale: int, system: str, paper: str
) -> Page:
    wide, tall = PAPERS[paper]
    page = Page(wide, tall)
    title = clean(habitat.name, 90)
    size = min(4.2, 4.2 * (wide - 2 * _MARGIN) / max(text_width(title, 4.2, True), 1.0))
    page.text(_MARGIN, tall - _MARGIN - 4.0, title, size, bold=True)
    unit = "inches" if system == "us" else "millimetres"
    head = f"{capital(draft.name)}, {draft.title}. Scale 1 : {scale}, measures in {unit}."
    page.text(_MARGIN, tall - _MARGIN - 10.0, head, 2.7, color=style.SOFT_INK)
    low, high = extent(draft.shapes)
    across, upward = (1000.0 * (high[k] - low[k]) / scale for k in (0, 1))
    room = _room(wide, tall)
    corner = (_MARGIN + _LEFT + max(0.0, (room[0] - across) / 2),
              _MARGIN + _BELOW + max(0.0, (room[1] - upward) / 2))  # fmt: skip
    origin = (corner[0] - 1000.0 * low[0] / scale, corner[1] - 1000.0 * low[1] / scale)
    place(page, draft, scale, origin, system)
    column = wide - _MARGIN - _LEGEND + 3.0
    _legend(page, tags, system, column, tall - _MARGIN - 4.0)
    for number, words in enumerate(_NOTE):
        page.text(
            column, _MARGIN + 2.7 * (len(_NOTE) - 1 - number), words, 1.9, color=style.SOFT_INK
        )
    inches = [n * 0.0254 for n in (2, 6, 12, 24, 48)]
    lengths = inches if system == "us" else [0.05, 0.1, 0.2, 0.5, 1.0]
    bar = max([n for n in lengths if 1000.0 * n / scale <= _BAR] or lengths[:1])
    words = f"{measure(bar, system)} {edge(system)[0]}"
    _scale_bar(page, (column, _MARGIN + 2.7 * len(_NOTE) + 1.0), 1000.0 * bar / scale, words)
    return page


def _room(wide: float, tall: float) -> Point:
    """Room for the view itself on a page [mm]."""
    return (
        wide - 2 * _MARGIN - _LEFT - _RIGHT - _LEGEND,
        tall - 2 * _MARGIN - _HEAD - _BELOW - _ABOVE,
    )


def _scale_bar(page: Page, at: Point, length: float, words: str) -> None:
    """A bar that tells whether a print kept its scale."""
    x, y = at
    for n in range(4):
        low, high = x + length * n / 4, x + length * (n + 1) / 4
        page.line([(low, y), (high, y), (high, y + 1.1), (low, y + 1.1)], "DIMENSIONS",
                  fill="#25302B" if n % 2 == 0 else "#FFFFFF")  # fmt: skip
    page.text(x + length + 1.5, y + 0.55, words, 2.0, va="center", color=style.SOFT_INK)


def _legend(page: Page, tags: Sequence[Tag], system: str, left: float, top: float) -> None:
    """Names to the numbers; places of probes with where they are."""
    groups = [(layer, [t for t in tags if t.layer == layer]) for layer in _HEADINGS]
    groups = [(layer, found) for layer, found in groups if found]
    lines = sum(len(found) for _, found in groups) + 1.6 * len(groups) + 2.0
    step = min(3.5, (top - _MARGIN - _UNDER) / lines)
    size = min(_TEXT, 0.68 * step)
    y, room = top, _LEGEND - 4.0
    for layer, found in groups:
        color = LAYERS[layer].color
        page.text(left, y, _HEADINGS[layer], size * 1.08, bold=True, color=color)
        y -= step
        if layer == "SITES":
            unit = "inches" if system == "us" else "cm"
            words = f"x, y, z in {unit} from the inner front left floor corner"
            page.text(left, y, words, size * 0.82, color=style.SOFT_INK)
            y -= step
        for tag in found:
            page.text(left + 5.0, y, tag.text, size, ha="right", color=color)
            words = clean(tag.name, 40)
            if layer == "SITES":
                words += "   " + ", ".join(measure(v, system) for v in tag.where)
            wide = text_width(words, size)
            page.text(left + 6.5, y, words, size * min(1.0, (room - 6.5) / max(wide, 1.0)))
            y -= step
        y -= 0.6 * step
