"""What stands round a section: title, where the cut lies, colour bar, legend."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.plain import capital, clean
from loamwright.report.scales import Scale

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

VIEWS: dict[str, str] = {"x": "from the right", "y": "from the front", "z": "from above"}


def head(
    figure: Figure,
    habitat: Habitat,
    name: str,
    facing: str,
    axis: str,
    position: float,
    system: str,
    title: str | None,
    note: str | None = None,
) -> None:
    """Title and what is shown, top left; ``note`` in place of how the sensor is held."""
    wide, high = figure.get_size_inches()
    x, top = sheet.EDGE / wide, 1 - 0.34 / high
    name_shown = clean(title or habitat.name, 70)
    # A bold letter is about 0.68 of its size wide; a long name is set smaller, not cut.
    room = (wide - 1.75) * 72 / 0.68 / max(len(name_shown), 1)
    figure.text(x, top, name_shown, fontsize=max(min(13.0, room), 6.0), weight="bold", va="center")
    kind = "horizontal" if axis == "z" else "vertical"
    where = f"{axis} = {quantities.measure(position, system)} {quantities.edge(system)[0]}"
    sense = {"up": "facing up", "brightest": "turned to the brightest", "normal": "facing out"}
    figure.text(
        x, top - 0.25 / high,
        f"{capital(name)}, {kind} section at {where}, seen {VIEWS[axis]}",
        fontsize=9, color=sheet.SOFT_INK, va="center",
    )  # fmt: skip
    figure.text(
        x, top - 0.44 / high, note or f"sensor {sense.get(facing, clean(facing))}",
        fontsize=7.5, color=sheet.SOFT_INK, va="center",
    )  # fmt: skip


def inset(figure: Figure, habitat: Habitat, axis: str, position: float) -> None:
    """A small plan or front view that shows where the cut lies."""
    from matplotlib.patches import Rectangle

    width, depth, height = habitat.enclosure.inside
    size = (width, height) if axis == "z" else (width, depth)
    wide, high = figure.get_size_inches()
    fit = min(0.95 / size[0], 0.56 / size[1])
    w, h = size[0] * fit, size[1] * fit
    ax = figure.add_axes(((wide - 0.28 - w) / wide, (high - 0.2 - h) / high, w / wide, h / high))
    ax.set_xlim(0, size[0])
    ax.set_ylim(0, size[1])
    ax.set_axis_off()
    look: dict[str, Any] = {"fill": False, "ec": sheet.SOFT_INK, "lw": 0.9, "clip_on": False}
    ax.add_patch(Rectangle((0, 0), *size, **look))
    line = ([position, position], [0, size[1]]) if axis == "x" else ([0, size[0]], [position] * 2)
    ax.plot(*line, color="#B4431F", lw=1.6, clip_on=False, solid_capstyle="butt")
    seen = "front view" if axis == "z" else "plan, front below"
    # Under the view, but never over the picture's right edge.
    figure.text((wide - 0.06) / wide, (high - 0.2 - h - 0.1) / high, f"cut · {seen}",
                fontsize=6.6, color=sheet.SOFT_INK, ha="right", va="center")  # fmt: skip


_CLOSE = 0.13
"""Height of a colour's step [in] under which only the steps that have lines are told."""


def bar(figure: Figure, ax: Axes, scale: Scale, most: float) -> None:
    """The colour steps with their limits, and the categories beside them."""
    from matplotlib.patches import Rectangle

    wide, high = figure.get_size_inches()
    place = ax.get_position(original=False)
    tall = min(place.height * high - 0.4, 0.27 * len(scale.colors))
    left = place.x1 * wide + 0.32
    bottom = place.y0 * high + 0.05
    bar = figure.add_axes((left / wide, bottom / high, 0.2 / wide, tall / high))
    count = len(scale.colors)
    bar.set_xlim(0, 1)
    bar.set_ylim(0, count)
    bar.set_axis_off()
    for number, color in enumerate(scale.colors):
        bar.add_patch(Rectangle((0, number), 1, 1, facecolor=color, edgecolor="none"))
    bar.add_patch(Rectangle((0, 0), 1, count, fill=False, ec=sheet.SOFT_INK, lw=0.6, clip_on=False))
    open_end = most > scale.edges[-1] or (scale.groups and scale.groups[-1][0] == "extreme")
    narrow = tall / count < _CLOSE
    for number, edge in enumerate(scale.edges):
        if number == count and open_end:
            continue
        strong = edge in scale.lines or number in (0, count)
        if narrow and not strong:
            continue
        bar.plot([1, 1.18], [number] * 2, color=sheet.SOFT_INK, lw=0.6, clip_on=False)
        bar.text(1.3, number, f"{edge:,g}", fontsize=6.5 if narrow else 7, va="center",
                 color=sheet.INK if strong else sheet.FAINT)  # fmt: skip
    for name, first, last in scale.groups:
        x = 3.6
        bar.plot([x, x], [first + 0.12, last - 0.12], color=sheet.SOFT_INK, lw=0.8, clip_on=False)
        bar.text(x + 0.4, (first + last) / 2, name, fontsize=7, va="center", ha="left",
                 color=sheet.SOFT_INK)  # fmt: skip
    bar.text(0, count + 0.35, scale.title.replace(" (", "\n("), fontsize=7.6, va="bottom",
             linespacing=1.3)  # fmt: skip


def legend(figure: Figure, plants: bool, sites: bool) -> None:
    """What the kinds of line and mark mean, in one row at the foot."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    word: dict[str, Any] = {"fc": "#B39A78", "ec": sheet.INK, "lw": 0.8, "hatch": "////"}
    entries: list[Any] = []
    if sites:
        dot: dict[str, Any] = {"marker": "o", "ls": "", "ms": 5.5}
        entries += [
            Line2D([], [], mfc=sheet.INK, mec=sheet.INK, label="site in the cut", **dot),
            Line2D([], [], mfc="white", mec=sheet.INK, label="site in front or behind", **dot),
        ]
    entries += [
        Patch(label="cut", **word),
        Patch(fc="#D5D5CF", ec=sheet.SOFT_INK, lw=0.7, ls=(0, (4, 2)), label="behind"),
        Line2D([], [], color=sheet.SOFT_INK, lw=0.9, ls=(0, (1, 2)), label="in front"),
    ]
    if plants:
        entries.append(Patch(fc="#7E9078", ec="#3F5340", alpha=0.6, label="crown cut"))
    wide, high = figure.get_size_inches()
    columns = len(entries) if wide > 7.2 else (len(entries) + 1) // 2
    figure.legend(handles=entries, loc="lower left", bbox_to_anchor=(-0.08 / wide, 0.06 / high),
                  ncols=columns, frameon=False, fontsize=7, handlelength=1.6,
                  columnspacing=1.3, handletextpad=0.5)  # fmt: skip
