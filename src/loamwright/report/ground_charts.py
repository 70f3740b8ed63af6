"""The ground on paper: its column to scale, and its water by depth over weeks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.ground.coupled import Coupled
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.climate_charts import LIMIT, frame, page, titled
from loamwright.report.climate_words import SEASONS
from loamwright.report.ground_blocks import depths_words, volume
from loamwright.report.ground_words import TITLES
from loamwright.report.line_labels import Named, Region, name_all
from loamwright.report.plain import clean

Floats = NDArray[np.float64]

if TYPE_CHECKING:
    from matplotlib.axes import Axes

FILLS: dict[str, tuple[str, str]] = {
    "mix": ("#8A6A4C", ".."), "coir": ("#8A6A4C", "--"), "peat": ("#6B5038", ".."),
    "soil": ("#7A5C40", ".."), "clay": ("#A0764F", "--"), "loam-sand": ("#C2A06B", ".."),
    "sand": ("#DCC48F", "."), "bark": ("#9A7350", "\\\\"), "moss": ("#7E8F52", "//"),
    "clay-pebbles": ("#C08A68", "oo"), "gravel": ("#B4B0A6", "oo"), "fleece": ("#E8E6DC", ""),
    "drainage-mat": ("#C9CFC9", "xx"), "leaf-litter": ("#B98B4E", "\\\\"),
}  # fmt: skip
"""Colour and hatch of a layer by kind; its name is written beside it."""

WATER = ("standing-water", "ground-drowned", "ground-moist", "ground-air", "ground-top", "stuck-mist",
         "holiday")  # fmt: skip
"""Needs whose misses a chart of the water names."""

_WIDE, _HIGH = 8.4, 6.95


def ground_chart(
    habitat: Habitat, amount: Quantities, water: Coupled | None, kind: str, system: str
) -> bytes:
    """The column of layers to scale with volumes, beside it the water by depth over the days, and
    below it the middle against its band and what stands on the floor; ``png`` or ``svg``."""
    with sheet.style():
        figure = page(_WIDE, _HIGH if water else 4.2)
        high = figure.get_size_inches()[1]
        figure.text(sheet.EDGE / _WIDE, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13,
                    weight="bold", va="center")  # fmt: skip
        outlook = water.outlooks[0] if water else None
        told = "the ground"
        if outlook is not None:
            told += f", {_weeks(outlook)} from {SEASONS[outlook.season].removeprefix('in ')} on"
        figure.text(sheet.EDGE / _WIDE, 1 - 0.56 / high, told.capitalize(), fontsize=9,
                    color=sheet.SOFT_INK, va="center")  # fmt: skip
        missed = _missed(habitat, amount, water)
        if missed:
            figure.text(sheet.EDGE / _WIDE, 1 - 0.76 / high, missed, fontsize=9, weight="bold",
                        color=LIMIT, va="center")  # fmt: skip
        _column(frame(figure, 0.65, high - 3.75, 1.0, 2.75), habitat, amount, system)
        if outlook is not None:
            depth = amount_depth(amount)
            shown = _map(frame(figure, 3.9, high - 3.75, 3.35, 2.75), outlook, depth, system)
            bar = frame(figure, 7.4, high - 3.75, 0.14, 2.75)
            figure.colorbar(shown, cax=bar)
            bar.set_title("water\n% vol.", fontsize=7.5, loc="left", color=sheet.SOFT_INK)
            _middle(frame(figure, 0.65, 0.5, 3.2, 1.75), outlook)
            _standing(frame(figure, 4.6, 0.5, 3.2, 1.75), outlook, system)
        return sheet.to_bytes(figure, kind.lower())


def _missed(habitat: Habitat, amount: Quantities, water: Coupled | None) -> str:
    """What of the water is missed, in words; empty where nothing is."""
    from loamwright.engine.findings import State
    from loamwright.engine.ground.findings import ground_findings

    found = ground_findings(habitat, amount, water.outlooks if water else ())
    missed = {f.need for f in found if f.state is State.MISSED}
    names = [TITLES[need] for need in WATER if need in missed]
    if not names:
        return ""
    told = "; ".join(names[:2])
    return f"Missed: {told}" + (f"; {len(names) - 2} more" if len(names) > 2 else "")


def amount_depth(amount: Quantities) -> float:
    """Depth of all layers [m]."""
    return sum(x.depth for x in amount.layers)


def _weeks(outlook: Outlook) -> str:
    return f"{round(float(outlook.forecast.days[-1]) / 7)} weeks"


def _column(ax: Axes, habitat: Habitat, amount: Quantities, system: str) -> None:
    name, size = quantities.edge(system)
    whole = amount_depth(amount)
    ax.set_xlim(0, 1)
    ax.set_ylim(0, whole / size)
    ax.set_xticks([])
    ax.spines["bottom"].set_visible(False)
    titled(ax, f"height [{name}]")
    along, profiles, told = _profiles(habitat)
    if told:
        ax.set_xlabel(told, fontsize=7.5)
    highest = max(float(profiles[-1].max()), whole)
    ax.set_ylim(0, highest / size)
    label = -1e9
    gap = 0.13 * whole
    for i, x in enumerate(amount.layers):
        color, hatch = FILLS.get(x.kind, ("#A9B2AC", ""))
        ax.fill_between(along, profiles[i] / size, profiles[i + 1] / size, fc=color, ec="#FFFFFF",
                        hatch=hatch, lw=0.8)  # fmt: skip
        # Beside the right edge of what is drawn.
        middle = float(profiles[i][-1] + profiles[i + 1][-1]) / 2
        label = max(middle, label + gap)
        words = f"{clean(x.name, 18)}\n{depths_words(x.least, x.most, system)}, " + volume(
            x.volume, system
        )
        ax.annotate(words, (1.0, middle / size), (1.12, label / size), va="center", fontsize=7.5,
                    annotation_clip=False,
                    arrowprops={"arrowstyle": "-", "lw": 0.5, "color": sheet.FAINT})  # fmt: skip


def _profiles(habitat: Habitat) -> tuple[Floats, list[Floats], str]:
    """Faces of the layers from the floor up, seen along the axis on which they vary less: (n,) from
    0 to 1, heights [m], means of what lies behind one another; and what is drawn, in words."""
    left, right, front, back = habitat.enclosure.floor
    t = np.linspace(0.0, 1.0, 2 if habitat.ground.level else 121)
    inner = np.clip(t, 1e-6, 1.0 - 1e-6)
    xs, ys = left + inner * (right - left), front + inner * (back - front)
    faces = [np.zeros((len(t), len(t)))]
    for layer in habitat.ground.layers:
        depth = np.array([[layer.depth_at(x, y) for x in xs] for y in ys])
        faces.append(faces[-1] + depth)
    from_front = np.ptp(faces[-1].mean(axis=0)) >= np.ptp(faces[-1].mean(axis=1))
    told = "" if habitat.ground.level else "left to right" if from_front else "front to back"
    return t, [face.mean(axis=0 if from_front else 1) for face in faces], told


def _map(ax: Axes, outlook: Outlook, depth: float, system: str):  # type: ignore[no-untyped-def]
    name, size = quantities.edge(system)
    found, column = outlook.forecast, outlook.setting.column
    height = column.height / size
    ax.set_ylim(0, depth / size)
    shown = ax.pcolormesh(found.days, height, 100 * found.run.content.T, cmap="YlGnBu",
                          shading="gouraud", vmin=0, vmax=90, rasterized=True)  # fmt: skip
    for face in column.faces[1:-1]:
        ax.axhline(face / size, color="#FFFFFF", lw=0.8)
    stands = found.run.standing / size
    if stands.max() > 1e-3:
        ax.plot(found.days, stands, color=LIMIT, lw=1.6)
    ax.set_xlim(0, found.days[-1])
    if stands.max() > 1e-3:
        faces = [_level(outlook, face / size) for face in column.faces[1:-1]]
        name_all(
            ax, [*faces, Named(found.days, stands, "water stands up to here", LIMIT)], size=7.5
        )
    ax.set_xlabel("days after planting", fontsize=7.5)
    titled(ax, f"water by height [{name}] over the days")
    return shown


def _level(outlook: Outlook, value: float, words: str = "") -> Named:
    """A level line over all the days; without words one that no name may touch."""
    return Named(outlook.forecast.days, np.full(len(outlook.forecast.days), value), words, LIMIT)


def _middle(ax: Axes, outlook: Outlook) -> None:
    found, (low, high) = outlook.forecast, outlook.setting.band
    ax.axhspan(100 * low, 100 * high, color="#DDE9E2", lw=0, zorder=0)
    ax.plot(found.days, 100 * found.middle, color="#0B5FA5", lw=1.6)
    ax.set_xlim(0, found.days[-1])
    ax.set_ylim(0, max(100 * high * 1.1, 100 * float(np.max(found.middle)) * 1.1))
    titled(ax, "water in the middle of the ground [% by volume]")
    band = Region(0.0, float(found.days[-1]), 100 * low, 100 * high, "wanted", sheet.SOFT_INK)
    name_all(ax, [Named(found.days, 100 * found.middle, "", "")], [band], size=8.0)
    ax.set_xlabel("days after planting", fontsize=7.5)


def _standing(ax: Axes, outlook: Outlook, system: str) -> None:
    name, size = quantities.edge(system)
    found, most = outlook.forecast, outlook.setting.brim / size
    stands = found.run.standing / size
    ax.axhline(most, color=LIMIT, lw=1.0, ls=(0, (5, 2)))
    words = "top of the drainage" if outlook.setting.drainage else "a quarter of the depth"
    ax.fill_between(found.days, 0, stands, color="#0B5FA5", alpha=0.35, lw=0)
    ax.plot(found.days, stands, color="#0B5FA5", lw=1.6)
    ax.set_xlim(0, found.days[-1])
    ax.set_ylim(0, 1.25 * max(most, float(stands.max())))
    lines = [Named(found.days, stands, "", ""), _level(outlook, most, words)]
    name_all(ax, lines, size=7.5)
    ax.set_xlabel("days after planting", fontsize=7.5)
    titled(ax, f"water that stands on the floor [{name}]")
