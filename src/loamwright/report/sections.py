"""Sections through the habitat with the light in them, as pictures for people.

``draw_section`` writes a file; ``section_bytes`` gives its bytes. Matplotlib is imported when
a picture is drawn and never before.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.habitat.habitat import Habitat
from loamwright.report import drawing, margins, outlines, quantities, section_names
from loamwright.report import figure as sheet
from loamwright.report.blocks import SiteValues
from loamwright.report.plain import capital, clean
from loamwright.report.scales import Scale, scale_for
from loamwright.report.section_key import Entry, draw_key, key_height

if TYPE_CHECKING:
    import xarray as xr
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

NEAR = 0.10
"""A site no further from the plane than this [m] is drawn as lying in it."""

_LONGEST, _TALLEST = 8.0, 7.2  # inches the drawing may take
PAPER_WIDE, _PAPER_TALL, _PAPER_NARROW = 6.69, 4.2, 5.6
"""Inches that a picture, and how high its drawing, may be where it is printed in its own size: its
letters then are as large as they say. One less than two thirds as wide as high may be higher, or its
labels have no room."""
_LEFT, _RIGHT, _TOP, _BOTTOM = 0.62, 1.65, 1.18, 0.92  # inches round it
_AGAIN = 90.0
"""Distance [pixels] within which a contour line's value is not written twice."""
_FINE = 180
"""Points along the longer side after smoothing between the computed ones."""


def draw_section(
    habitat: Habitat,
    field: xr.Dataset,
    quantity: str,
    path: Path,
    *,
    axis: str,
    position: float,
    sites: Sequence[SiteValues] = (),
    system: str = "metric",
    title: str | None = None,
    facing: str | None = None,
) -> Path:
    """Draw one section to a file, PNG or SVG by its ending; the same input gives the same bytes.

    ``field`` has the two dimensions of the section among x, y, z, with coordinates [m] and data
    variables such as ``uvi`` (NaN inside solids); ``axis`` and ``position`` [m] say where the cut
    is; ``facing`` which of the sites' values is written (default: the field's ``facing``
    attribute, else ``up``).
    """
    content = section_bytes(
        habitat, field, quantity, path.suffix.lstrip("."), axis=axis, position=position,
        sites=sites, system=system, title=title, facing=facing,
    )  # fmt: skip
    sheet.write_whole(path, content)
    return path


def section_bytes(
    habitat: Habitat,
    field: xr.Dataset,
    quantity: str,
    kind: str = "svg",
    *,
    axis: str,
    position: float,
    sites: Sequence[SiteValues] = (),
    system: str = "metric",
    title: str | None = None,
    facing: str | None = None,
    most: float | None = None,
    scale: Scale | None = None,
    note: str | None = None,
    printed: bool = False,
) -> bytes:
    """The picture as bytes of a ``png`` or ``svg`` file; see `draw_section`.

    ``most`` is the largest value [SI] of several sections that are to share one scale of colours,
    ``scale`` a scale made elsewhere (in the unit shown), ``note`` the line under the title;
    ``printed`` True for a picture that fits a page's width in its own size, with the drawings'
    numbers in place of names and a key to them.
    """
    if kind.lower() not in sheet.FORMATS:
        raise ValueError(f"pictures are written as {' or '.join(sheet.FORMATS)}, not {kind!r}")
    with sheet.style():
        figure = _compose(habitat, field, quantity, axis, position, sites, system, title, facing,
                          most, scale, note, printed)  # fmt: skip
        return sheet.to_bytes(figure, kind.lower())


def _compose(
    habitat: Habitat,
    field: xr.Dataset,
    quantity: str,
    axis: str,
    position: float,
    sites: Sequence[SiteValues],
    system: str,
    title: str | None,
    facing: str | None,
    most: float | None,
    scale: Scale | None,
    note: str | None,
    printed: bool,
) -> Figure:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    limits = _limits(habitat, axis)
    wide, high = limits[1] - limits[0], limits[3] - limits[2]
    most_wide = PAPER_WIDE - _LEFT - _RIGHT if printed else _LONGEST
    tallest = _PAPER_NARROW if 3.0 * wide < 2.0 * high else _PAPER_TALL
    inches = min(most_wide / wide, (tallest if printed else _TALLEST) / high)
    size = (max(wide * inches, 4.3), high * inches)
    figure = Figure()
    FigureCanvasAgg(figure)
    figure.dpi = 100
    ax = figure.add_axes((0.1, 0.1, 0.8, 0.8))
    ax.set_aspect("equal")
    ax.set_xlim(limits[0], limits[1])
    ax.set_ylim(limits[2], limits[3])
    _fit(figure, ax, size, 0.0)
    _rulers(ax, habitat, axis, system)

    right, up, _ = outlines.AXES[axis]
    values = field[quantity].transpose("xyz"[up], "xyz"[right])
    facing = facing or str(values.attrs.get("facing", "up"))
    u = np.asarray(values.coords["xyz"[right]], float)
    v = np.asarray(values.coords["xyz"[up]], float)
    data = np.array(values, float)
    data[~np.isfinite(data)] = np.nan
    known = data[np.isfinite(data)]
    unit = quantities.unit(quantity, system)
    name = quantities.NAMES.get(quantity, clean(quantity))
    data = quantities.shown_all(quantity, data, system)
    top = max(float(known.max()) if len(known) else 0.0, most or 0.0)
    top = quantities.shown(quantity, top, system)
    if scale is None:
        scale = scale_for(quantity, f"{capital(name)}\n{unit}" if unit else name, top)
    written = _light(ax, habitat, axis, position, u, v, data, scale)

    drawing.box(ax, habitat, axis, position)
    if axis == "z":
        drawing.openings_above(ax, habitat)
    layers = drawing.ground(ax, habitat, axis, position)
    names = {
        "LAMPS": drawing.lamps(ax, habitat, axis),
        "PLANTS": drawing.plants(ax, habitat, axis, position),
        "HARDSCAPE": drawing.pieces(ax, habitat, axis, position),
        "WATER": drawing.water(ax, habitat, axis, position),
    }
    # A crown that is labelled with its value needs no second name.
    told = {s.plant for s in habitat.sites if s.plant and s.name in {x.name for x in sites}}
    names["PLANTS"] = [entry for entry in names["PLANTS"] if entry[0] not in told]
    names = section_names.unhidden(habitat, axis, position, names)
    marks = section_names.sites(ax, sites, axis, position, quantity, facing, system)
    shown = [(f"{clean(site, 40)}\n{value}", at) for site, value, at in marks]
    key: list[Entry] = []
    if printed:
        shown, names, key = section_names.numbered_names(habitat, marks, names, unit)
        _fit(figure, ax, size, key_height(key, size[0] + _LEFT + _RIGHT))
    told_layers = [
        ax.text(0.02, float(outlines.middle(ring)[1]), clean(layer, 40), fontsize=7, color="white",
                va="center", zorder=9, path_effects=section_names.halo("#5A4A3B", 2.0))
        for layer, ring in layers
    ]  # fmt: skip
    spans = []
    for lamp in habitat.lamps:
        hung, along = (np.array([v[right], v[up]]) for v in (lamp.at, lamp.along))
        reach = along * lamp.type.length / 2
        spans.append(np.array([hung - reach, hung + reach]))
    wide, high = (habitat.enclosure.inside[k] for k in (right, up))
    lid = (high, high + drawing.thickness_of(habitat.enclosure, up, 1), wide)
    section_names.labels(figure, ax, shown, names, spans, lid, written, told_layers, printed)
    margins.head(figure, habitat, name, facing, axis, position, system, title, note)
    margins.inset(figure, habitat, axis, position)
    margins.bar(figure, ax, scale, top)
    margins.legend(figure, bool(habitat.plants), bool(marks))
    draw_key(figure, key)
    return figure


def _fit(figure: Figure, ax: Axes, size: tuple[float, float], key: float) -> None:
    """Make the sheet as large as a drawing of a size, what stands round it and a key want [in]."""
    wide, high = size[0] + _LEFT + _RIGHT, size[1] + _TOP + _BOTTOM + key
    figure.set_size_inches(wide, high)
    ax.set_position((_LEFT / wide, (_BOTTOM + key) / high, size[0] / wide, size[1] / high))
    # Names are placed by where points come to lie once both ways have one scale.
    ax.apply_aspect()


def _limits(habitat: Habitat, axis: str) -> tuple[float, float, float, float]:
    """Left, right, bottom, top of what is drawn [m]: the box and the lamps above it."""
    right, up, _ = outlines.AXES[axis]
    inside = habitat.enclosure.inside
    low = [-drawing.thickness_of(habitat.enclosure, k, 0) - 0.02 for k in (right, up)]
    high = [inside[k] + drawing.thickness_of(habitat.enclosure, k, 1) + 0.02 for k in (right, up)]
    for lamp in habitat.lamps:
        # The housing of a spot is drawn behind its mouth, twice as long as that is wide.
        neck = 2.0 * max(lamp.type.diameter / 2, 0.016 * max(inside)) + 0.01
        for k, way in enumerate((right, up)):
            reach = abs(lamp.along[way]) * lamp.type.length / 2 + 0.05
            if lamp.type.shape == "spot":
                reach = max(reach, neck * abs(lamp.aim[way]))
            low[k] = min(low[k], lamp.at[way] - reach)
            high[k] = max(high[k], lamp.at[way] + reach)
    return low[0], high[0], low[1], high[1]


def _rulers(ax: Axes, habitat: Habitat, axis: str, system: str) -> None:
    """Measures along the inside of the box, in centimetres or inches."""
    right, up, _ = outlines.AXES[axis]
    word, unit = quantities.edge(system)
    ways = (("width", "depth", "height")[right], ("width", "depth", "height")[up])
    for way, k, line in ((ways[0], right, ax.xaxis), (ways[1], up, ax.yaxis)):
        length = habitat.enclosure.inside[k]
        steps = (10, 20, 50, 100) if system == "metric" else (6, 12, 24, 48)
        step = next((s for s in steps if length / (s * unit) <= 9), steps[-1])
        ticks = np.arange(0.0, length + 1e-9, step * unit)
        line.set_ticks(ticks, [quantities.measure(t, system) for t in ticks])
        line.set_tick_params(length=3, width=0.6)
        line.set_label_text(f"{way} [{word}]", fontsize=7.5)
    for edge in ("top", "right", "left", "bottom"):
        ax.spines[edge].set_visible(False)
    ax.set_facecolor(sheet.PAPER)


def _smooth(u: Floats, v: Floats, data: Floats) -> tuple[Floats, Floats, Floats]:
    """Values between the grid points by monotone cubics, which make no new highs or lows.

    Unknown points within about one cell and a half of a known one take its value first: they lie
    inside solids, which are drawn over them. Others stay unknown and blank.
    """
    from scipy.interpolate import PchipInterpolator
    from scipy.ndimage import distance_transform_edt

    missing = ~np.isfinite(data)
    far = np.zeros_like(missing)
    if missing.all():
        return u, v, data
    if missing.any():
        gap, near = distance_transform_edt(missing, return_indices=True)
        data, far = data[tuple(near)], gap > 1.6
    factor = int(np.clip(round(_FINE / max(len(u), len(v))), 1, 8))
    if factor > 1 and min(len(u), len(v)) > 2:
        fine_u = np.interp(np.arange((len(u) - 1) * factor + 1) / factor, np.arange(len(u)), u)
        fine_v = np.interp(np.arange((len(v) - 1) * factor + 1) / factor, np.arange(len(v)), v)
        data = PchipInterpolator(u, data, axis=1)(fine_u)
        data = PchipInterpolator(v, data, axis=0)(fine_v)
        cell_u = np.round(np.interp(fine_u, u, np.arange(len(u)))).astype(int)
        cell_v = np.round(np.interp(fine_v, v, np.arange(len(v)))).astype(int)
        far = far[np.ix_(cell_v, cell_u)]
        u, v = fine_u, fine_v
    return u, v, np.where(far, np.nan, data)


def _light(
    ax: Axes,
    habitat: Habitat,
    axis: str,
    position: float,
    u: Floats,
    v: Floats,
    data: Floats,
    scale: Scale,
) -> list[Any]:
    """Filled steps and labelled lines of the light, inside the box; returns the labels."""
    right, up, _ = outlines.AXES[axis]
    inside = habitat.enclosure.inside
    step = (u[1] - u[0] if len(u) > 1 else 0.0, v[1] - v[0] if len(v) > 1 else 0.0)
    u, v, data = _smooth(u, v, data)
    # The outermost points lie half a cell inside; the steps are drawn on to the panels.
    u, v = u.copy(), v.copy()
    for line, end, gap in ((u, inside[right], step[0]), (v, inside[up], step[1])):
        line[0] = 0.0 if 0 < line[0] <= 1.05 * gap else line[0]
        line[-1] = end if 0 < end - line[-1] <= 1.05 * gap else line[-1]
    if not np.isfinite(data).any() or min(data.shape) < 2:
        return []
    masked = np.ma.masked_invalid(data)
    colors = [*scale.colors, scale.colors[-1]]  # the last one for what is above the scale
    filled = ax.contourf(u, v, masked, levels=scale.edges, colors=colors, extend="max", zorder=1)
    filled.set_edgecolor("face")
    filled.set_linewidth(0.25)
    open_air = np.ma.masked_where(_solid(habitat, axis, position, u, v), masked)
    if open_air.count() == 0:
        return []
    levels = [x for x in scale.lines if float(open_air.min()) < x < float(open_air.max())]
    if not levels:
        return []
    look: dict[str, Any] = {"levels": levels, "corner_mask": False}
    lines = ax.contour(u, v, open_air, colors="white", linewidths=0.9, zorder=2, **look)
    ax.contour(u, v, open_air, colors=sheet.INK, linewidths=0.4, zorder=2.1, **look)
    written = ax.clabel(lines, fmt="%g", fontsize=7.2, colors=sheet.INK, inline=False)
    for text in written:
        text.set_path_effects(section_names.halo("white", 2.2))
        text.set_zorder(8)
    return list(written)


def _solid(habitat: Habitat, axis: str, position: float, u: Floats, v: Floats) -> NDArray[np.bool_]:
    """True at grid points (v, u) inside linings, ground and cut pieces, where no lines go."""
    from matplotlib.path import Path as Ring

    right, up, _ = outlines.AXES[axis]
    box = habitat.enclosure
    sides = {place: box.lining_depth(side) for side, place in drawing.SIDES.items()}
    low = [sides[(k, False)] for k in (right, up)]
    high = [box.inside[k] - sides[(k, True)] for k in (right, up)]
    if up == 2:
        low[1] = max(low[1], habitat.ground.depth)
    grid_u, grid_v = np.meshgrid(u, v)
    hidden = (grid_u < low[0]) | (grid_u > high[0]) | (grid_v < low[1]) | (grid_v > high[1])
    points = np.column_stack([grid_u.ravel(), grid_v.ravel()])
    for piece in habitat.hardscape:
        inside = np.zeros(len(points), bool)
        for ring in outlines.cut(outlines.triangles(piece), axis, position)[0]:
            inside ^= Ring(ring).contains_points(points)
        hidden |= inside.reshape(hidden.shape)
    return hidden
