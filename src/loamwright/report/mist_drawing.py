"""The misting line drawn as seen from the front: tank, line, nozzles, and the pressure each gets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from loamwright.habitat.habitat import Habitat
from loamwright.plan.mist_line import MistLine, Mouth
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.figure import FAINT, INK, PAPER, SOFT_INK
from loamwright.report.mist_blocks import flow_words
from loamwright.report.plain import clean

WATER = "#2C6E8F"

LETTER = 0.06
"""Width of a letter of a label as taken [in]; 8 points high."""

HEAD = 0.75
"""Height that the title takes [in]."""

SIDE, FOOT = 0.9, 0.6
"""Room beside the axes, most of it on the left, and under them, for their numbers and words [in]."""

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
    left, right = -0.06 * wide, max(wide, tank[0]) + 0.12 * wide
    labels = [_label(m, system) for m in line.mouths]
    longest = max((len(x) for x in labels), default=0)
    # Room over the box for one label a nozzle, each a step higher.
    step = 0.085 * max(high, 0.55 * wide)
    up = high + step * (len(line.mouths) + 1)
    scale = min(8.6 / (right - left), 6.6 / (up - low))
    xs = [m.at[0] / size for m in line.mouths]
    flags = flags_of(xs, longest * LETTER / scale, left, right)
    for x, (_, on_right) in zip(xs, flags, strict=True):
        reach = (1.0 if on_right else -1.0) * (longest + 2) * LETTER / scale
        left, right = min(left, x + reach), max(right, x + reach)
    with sheet.style():
        across, tall = (right - left) * scale + SIDE, (up - low) * scale + FOOT + HEAD
        figure = Figure(figsize=(across, tall))
        figure.text(sheet.EDGE / across, 1 - 0.32 / tall, clean(habitat.name, 70), fontsize=13,
                    weight="bold", va="center")  # fmt: skip
        figure.text(sheet.EDGE / across, 1 - 0.56 / tall, "Misting line, from the front", fontsize=9,
                    color=SOFT_INK, va="center")  # fmt: skip
        # Laid out by hand: a layout that is found shrinks the axes by what their words take and
        # then, as their scale is kept, cuts the words off.
        axes = figure.add_axes((0.75 / across, FOOT / tall, 1.0 - SIDE / across,
                                1.0 - (FOOT + HEAD) / tall))  # fmt: skip
        axes.set_facecolor(PAPER)
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
            level, on_right = flags[i]
            at = high + step * (level + 1)
            axes.plot([x, x], [high, at + 0.2 * step], color=FAINT, lw=0.7, zorder=1)
            gap, side = (0.5, "left") if on_right else (-0.5, "right")
            axes.text(x + gap * LETTER / scale, at, labels[i], ha=side, va="center", fontsize=8,
                      zorder=5)  # fmt: skip
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
        axes.set_xlim(left, right)
        axes.set_ylim(low, up)
        axes.set_xlabel(f"from inner left [{name}]")
        axes.set_ylabel(f"over the inside floor [{name}]")
        for spine in ("top", "right"):
            axes.spines[spine].set_visible(False)
        return sheet.to_bytes(figure, kind)


def _label(mouth: Mouth, system: str) -> str:
    """A nozzle's name, pressure and flow."""
    pressure = quantities.worded("pressure", mouth.pressure, system)
    return f"{clean(mouth.name, 24)}: {pressure}, {flow_words(mouth.flow, system)}"


def flags_of(
    xs: Sequence[float], width: float, left: float, right: float
) -> list[tuple[int, bool]]:
    """Where labels go that stand as flags on poles over their nozzles: for each of ``xs`` its level
    (0 the lowest) and whether it flies to the right.

    No flag crosses another pole: from the left end on each flies to the right and stands higher than
    all after it; from some nozzle on they fly to the left, each higher than the one before and all
    lower than the others, where there is room for them between. Of all such places to change over the
    one is taken with which the flags, so ``width`` wide, stay best between ``left`` and ``right``.
    """
    order = sorted(range(len(xs)), key=lambda i: xs[i])
    best: tuple[float, int] | None = None
    for turn in range(len(xs), -1, -1):
        first, rest = [xs[i] for i in order[:turn]], [xs[i] for i in order[turn:]]
        if first and rest and rest[0] - width < first[-1]:
            continue
        over = max([0.0, *(x + width - right for x in first), *(left - x + width for x in rest)])
        if best is None or over < best[0] - 1e-9:
            best = over, turn
    turn = best[1] if best is not None else 0
    out = [(0, True)] * len(xs)
    for place, i in enumerate(order):
        out[i] = (place - turn, False) if place >= turn else (len(xs) - 1 - place, True)
    return out


def _cone(
    tip: tuple[float, float], aim: tuple[float, float, float], cone: float, long: float
) -> list[tuple[float, float]]:
    """Outline of a spray as seen from the front; one that points at the viewer shows its width."""
    middle = math.atan2(aim[0], -aim[2])
    angles = [middle + cone * (k / 8 - 0.5) for k in range(9)]
    return [tip, *((tip[0] + long * math.sin(a), tip[1] - long * math.cos(a)) for a in angles)]
