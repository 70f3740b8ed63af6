"""Names and values on a section: what is named, and where each name stands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report import outlines, quantities
from loamwright.report.blocks import SiteValues
from loamwright.report.labels import Box, Wish, arrange, overlap
from loamwright.report.plain import clean
from loamwright.report.section_key import Entry, numbers

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

NEAR = 0.10
"""A site no further from the plane than this [m] is drawn as lying in it."""

_AGAIN = 90.0
"""Distance [pixels] within which a contour line's value is not written twice."""

Place = tuple[str, tuple[float, float]]
"""A name, and the point of the drawing it belongs to [m]."""

Mark = tuple[str, str, tuple[float, float]]
"""A site's name, its value in words, and its point [m]."""


def sites(
    ax: Axes,
    shown: Sequence[SiteValues],
    axis: str,
    position: float,
    quantity: str,
    facing: str,
    system: str,
) -> list[Mark]:
    """A mark for each site, full in the plane and hollow off it; what is to be written at it."""
    right, up, across = outlines.AXES[axis]
    marks: list[Mark] = []
    for site in shown:
        at = (site.at[right], site.at[up])
        full = abs(site.at[across] - position) <= NEAR
        ax.plot(*at, marker="o", ms=6.2, mfc=sheet.INK if full else "white", mec="white" if full
                else sheet.INK, mew=1.1, zorder=8.5)  # fmt: skip
        value = site.values.get(facing, {}).get(quantity)
        told = quantities.worded(quantity, value, system)
        unit = quantities.unit(quantity, system)
        # A long unit stands at the scale of colours and not at every site.
        told = told.removesuffix(unit).rstrip() if len(unit) > 3 else told
        marks.append((site.name, told, at))
    return marks


def numbered_names(
    habitat: Habitat, marks: list[Mark], names: dict[str, list[Place]], unit: str
) -> tuple[list[Place], dict[str, list[Place]], list[Entry]]:
    """Numbers in place of names, a bare value at each site, and the key to them."""
    known, key = numbers(habitat), []
    bare = []
    for name, told, at in marks:
        number = known["SITES", name]
        value = told.removeprefix("UVI ").removesuffix(unit).rstrip()
        key.append(Entry(number, name, value))
        bare.append((f"{number}: {value}", at))
    out = {}
    for layer, entries in names.items():
        out[layer] = [(known[layer, name], at) for name, at in entries]
        key += [Entry(known[layer, name], name) for name, _ in entries]
    return bare, out, key


def unhidden(
    habitat: Habitat, axis: str, position: float, names: dict[str, list[Place]]
) -> dict[str, list[Place]]:
    """Names of what can be seen: nothing that lies behind or before a piece that is cut."""
    from matplotlib.path import Path as Ring

    cuts = {p.name: outlines.cut(outlines.triangles(p), axis, position)[0]
            for p in habitat.hardscape}  # fmt: skip
    rings = [Ring(ring) for found in cuts.values() for ring in found]
    crowns = {p.name for p in habitat.plants if outlines.crown(p, axis, position) is not None}

    def seen(entry: Place) -> bool:
        if cuts.get(entry[0]) or entry[0] in crowns:
            return True
        return not any(ring.contains_point(entry[1]) for ring in rings)

    return {layer: [e for e in entries if layer == "LAMPS" or seen(e)]
            for layer, entries in names.items()}  # fmt: skip


def labels(
    figure: Figure,
    ax: Axes,
    marks: list[Place],
    names: dict[str, list[Place]],
    spans: list[Floats],
    lid_at: tuple[float, float, float],
    written: list[Any],
    layers: Sequence[Any],
    numbers_only: bool,
) -> None:
    """Names on the drawing, pushed off each other, off the names of ``layers`` (texts) and off most
    values of contour lines (``written``, texts: those that are covered all the same go); far ones get
    a leader line. A name of a thing that is neither site nor lamp is left out where it has no room; a
    number has room, and is there."""
    renderer = figure.canvas.get_renderer()  # type: ignore[attr-defined]
    card = {"boxstyle": "round,pad=0.25", "fc": "white", "ec": sheet.SOFT_INK, "lw": 0.6}
    tag = {"boxstyle": "round,pad=0.2", "fc": "#FFF6CC", "ec": sheet.SOFT_INK, "lw": 0.5}
    kinds: list[tuple[list[Place], dict[str, Any], float, bool]] = [
        (marks, {"fontsize": 7.6, "bbox": card, "zorder": 10}, 11.0, False),
        (names["LAMPS"], {"fontsize": 7.2, "bbox": tag, "zorder": 9.6}, 13.0, False),
        (names["PLANTS"], {"fontsize": 7.2, "style": "italic", "color": "#22371F"}, 4.0, True),
        ([*names["HARDSCAPE"], *names["WATER"]], {"fontsize": 7.0, "color": sheet.INK}, 4.0, True),
    ]
    wishes, texts, points = [], [], []
    for entries, look, clear, inside in kinds:
        for words, at in entries:
            if inside:
                look = {**look, "path_effects": halo("white", 2.2), "zorder": 9.2}
            text = ax.text(*at, clean_lines(words), ha="center", va="center",
                           linespacing=1.15, **look)  # fmt: skip
            extent = text.get_window_extent(renderer)
            point = ax.transData.transform(at)
            pad = (4 if numbers_only else 0) if inside else 7
            wishes.append(
                Wish(extent.width + pad, extent.height + pad, (point[0], point[1]), clear, inside,
                     optional=inside and not numbers_only)
            )  # fmt: skip
            texts.append(text)
            points.append(at)
    taken: list[Box] = []
    for _, at in marks:
        x, y = ax.transData.transform(at)
        taken.append((x - 6, y - 6, x + 6, y + 6))
    # What is named is not hidden under the value of a site.
    for entries in names.values():
        for _, at in entries:
            x, y = ax.transData.transform(at)
            taken.append((x - 4, y - 4, x + 4, y + 4))
    for ends in spans:
        a, b = ax.transData.transform(ends)
        taken.append(
            (min(a[0], b[0]) - 9, min(a[1], b[1]) - 9, max(a[0], b[0]) + 9, max(a[1], b[1]) + 9)
        )
    lid = ax.transData.transform([(0.0, lid_at[0]), (lid_at[2], lid_at[1])])
    taken.append((lid[0][0], lid[0][1], lid[1][0], lid[1][1]))
    told = [(e.x0, e.y0, e.x1, e.y1) for e in (t.get_window_extent(renderer) for t in layers)]
    values = _thinned(written, [*taken, *told], renderer)
    frame = ax.get_window_extent(renderer)
    edges = (frame.x0, frame.y0, frame.x1, frame.y1 + 30)
    places = arrange(wishes, [*taken, *(box for _, box in values)], edges, told)
    for value, at_box in values:
        if any(overlap(at_box, place) > 0.0 for place in places if place is not None):
            value.remove()
    for text, wish, box in zip(texts, wishes, places, strict=True):
        if box is None:
            text.remove()
            continue
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        text.set_position(tuple(ax.transData.inverted().transform(middle)))
        nearest = (
            float(np.clip(wish.anchor[0], box[0], box[2])),
            float(np.clip(wish.anchor[1], box[1], box[3])),
        )
        gap = np.hypot(nearest[0] - wish.anchor[0], nearest[1] - wish.anchor[1])
        if gap > (14 if wish.inside else 5):
            ends = ax.transData.inverted().transform([wish.anchor, nearest])
            ax.plot(*ends.T, color=sheet.INK, lw=0.7, zorder=8.2, path_effects=halo("white", 1.8))


def _thinned(written: list[Any], taken: list[Box], renderer: Any) -> list[tuple[Any, Box]]:
    """Take away values of contour lines that lie on lamps, marks, words or each other, or say close by
    what is said already; the rest with their boxes."""
    kept: list[tuple[Any, Box]] = []
    for text in written:
        e = text.get_window_extent(renderer)
        box, words = (e.x0, e.y0, e.x1, e.y1), text.get_text()
        covered = any(overlap(box, other) > 0.0 for other in (*taken, *(b for _, b in kept)))
        again = any(t.get_text() == words and math.dist(b[:2], box[:2]) < _AGAIN for t, b in kept)
        if covered or again:
            text.remove()
        else:
            kept.append((text, box))
    return kept


def clean_lines(text: str) -> str:
    """Each line made safe on its own."""
    return "\n".join(clean(line, 48) for line in text.split("\n"))


def halo(color: str, width: float) -> list[Any]:
    """A rim of a colour round letters or lines, so that they can be read on anything."""
    from matplotlib.patheffects import withStroke

    return [withStroke(linewidth=width, foreground=color)]
