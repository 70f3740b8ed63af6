"""The misting line drawn as seen from the front: tank, line, nozzles, and the pressure each gets."""

from __future__ import annotations

import math

from loamwright.habitat.habitat import Habitat
from loamwright.plan.mist_line import MistLine
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.figure import FAINT, INK, PAPER, SOFT_INK
from loamwright.report.mist_blocks import flow_words
from loamwright.report.plain import clean

WATER = "#2C6E8F"

SPRAY = 0.35
"""Length of a spray as drawn, as a share of the box's height."""


def mist_drawing(habitat: Habitat, line: MistLine, system: str, kind: str = "svg") -> bytes:
    """The line as seen from the front, to scale, as the bytes of an ``svg`` or ``png``."""
    from matplotlib.figure import Figure
    from matplotlib.patches import Polygon, Rectangle

    name, size = quantities.edge(system)
    wide, _, high = (v / size for v in habitat.enclosure.inside)
    mist = habitat.mist
    assert mist is not None
    tank = mist.tank_at[0] / size, mist.tank_at[2] / size
    low = min(0.0, tank[1]) - 0.16 * high
    right = max(wide, tank[0]) + 0.12 * wide
    # Room over the box for one label a nozzle, each a step higher.
    step = 0.085 * max(high, 0.55 * wide)
    up = high + step * (len(line.mouths) + 1)
    scale = min(8.6 / (right + 0.06 * wide), 6.6 / (up - low))
    with sheet.style():
        figure = Figure(figsize=((right + 0.06 * wide) * scale + 0.9, (up - low) * scale + 1.3))
        axes = figure.add_subplot()
        axes.set_facecolor(PAPER)
        axes.set_title(f"{clean(habitat.name, 50)}\nmisting line, from the front", fontsize=10,
                       loc="left")  # fmt: skip
        room = Rectangle((0, 0), wide, high, fill=False, ec=FAINT, lw=1.4)
        axes.add_patch(room)
        trunk = [(p[0] / size, p[2] / size) for p in line.trunk]
        axes.plot(*zip(*trunk, strict=True), color=WATER, lw=2.0, zorder=3)
        for i, m in enumerate(line.mouths):
            x, z = m.at[0] / size, m.at[2] / size
            axes.plot([x, x], [high, z], color=WATER, lw=1.4, zorder=3)
            nozzle = next(n for n in mist.nozzles if n.name == m.name)
            spray = Polygon(_cone((x, z), nozzle.aim, nozzle.type.cone, SPRAY * high), closed=True,
                            fc=WATER, alpha=0.13, lw=0)  # fmt: skip
            axes.add_patch(spray)
            spray.set_clip_path(room)
            axes.plot([x], [z], "v", ms=6, mfc=PAPER, mec=WATER, mew=1.3, zorder=4)
            at = high + step * (i + 1)
            axes.plot([x, x], [high, at - 0.25 * step], color=FAINT, lw=0.7, zorder=1)
            told = (f"{clean(m.name, 24)}: {quantities.worded('pressure', m.pressure, system)}, "
                    f"{flow_words(m.flow, system)}")  # fmt: skip
            # Towards the middle, so that nothing leaves the drawing.
            side = "left" if x < 0.33 * wide else "right" if x > 0.67 * wide else "center"
            axes.text(x, at, told, ha=side, va="center", fontsize=8, zorder=5,
                      bbox={"fc": PAPER, "ec": "none", "pad": 1.0})  # fmt: skip
        box = max(0.09 * wide, 0.55 / scale), max(0.08 * high, 0.25 / scale)
        axes.add_patch(Rectangle((tank[0] - box[0], tank[1] - box[1]), 2 * box[0], 2 * box[1],
                                 fc=PAPER, ec=INK, lw=1.0, zorder=4))  # fmt: skip
        held = quantities.water(1000.0 * mist.tank, system)
        axes.text(tank[0], tank[1], f"tank {held}\npump {mist.pump:g} W", ha="center", va="center",
                  fontsize=7.6, zorder=5)  # fmt: skip
        axes.text(
            0.0, low + 0.03 * high,
            f"pump {'keeps' if line.said else 'taken to keep'} "
            f"{quantities.worded('pressure', line.pump, system)}; line "
            f"{quantities.length(line.length, system)}",
            fontsize=8, color=SOFT_INK, va="bottom",
        )  # fmt: skip
        axes.set_aspect("equal")
        axes.set_xlim(-0.06 * wide, right)
        axes.set_ylim(low, up)
        axes.set_xlabel(f"from inner left [{name}]")
        axes.set_ylabel(f"over the inside floor [{name}]")
        for spine in ("top", "right"):
            axes.spines[spine].set_visible(False)
        figure.tight_layout()
        return sheet.to_bytes(figure, kind)


def _cone(
    tip: tuple[float, float], aim: tuple[float, float, float], cone: float, long: float
) -> list[tuple[float, float]]:
    """Outline of a spray as seen from the front; one that points at the viewer shows its width."""
    middle = math.atan2(aim[0], -aim[2])
    angles = [middle + cone * (k / 8 - 0.5) for k in range(9)]
    return [tip, *((tip[0] + long * math.sin(a), tip[1] - long * math.cos(a)) for a in angles)]
