"""The wiring drawn: from the outlet over its protection to each device, channel by channel."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loamwright.habitat.habitat import Habitat
from loamwright.plan.wiring import Channel, Wiring
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.draft_page import POINT, text_width
from loamwright.report.figure import FAINT, INK, PAPER, SOFT_INK
from loamwright.report.plain import clean
from loamwright.report.wiring_blocks import KINDS, cable_words, guard_name, milliamps

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ROW, GAP = 0.34, 0.22
"""Height of a device's row and space between channels [in]."""

WIDE = 8.4
"""Width of the drawing [in]."""

BUS, SWITCH, SUPPLY, DEVICE = 2.6, 2.8, 4.85, 6.02
"""Where the board's bar, the switches, the supplies and the devices stand [in]."""

MAINS, LOW = "#25302B", "#2C6E8F"
"""Colours of mains and of low voltage; the lines differ too: low voltage is dashed."""


def wiring_drawing(habitat: Habitat, wiring: Wiring, system: str, kind: str = "svg") -> bytes:
    """A one-line diagram of the wiring, as the bytes of an ``svg`` or ``png``."""
    from matplotlib.figure import Figure

    rows = sum(len(c.feeds) for c in wiring.channels)
    high = max(3.1, rows * ROW + len(wiring.channels) * GAP + 1.6)
    with sheet.style():
        figure = Figure(figsize=(WIDE, high))
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0.0, WIDE)
        axes.set_ylim(0.0, high)
        axes.axis("off")
        axes.text(
            sheet.EDGE,
            high - 0.42,
            f"{clean(habitat.name, 60)}: wiring",
            fontsize=12,
            weight="bold",
        )
        axes.text(
            sheet.EDGE, high - 0.68,
            "One line for each cable. The local code and a licensed electrician have the last word.",
            fontsize=8, color=SOFT_INK,
        )  # fmt: skip
        _draw(axes, wiring, system, high - 1.05)
        return sheet.to_bytes(figure, kind)


def _box(
    axes: Axes, x: float, y: float, wide: float, high: float, lines: list[str], bold: int = 1
) -> None:
    """A box with its left middle at (x, y), the first of its lines bold."""
    from matplotlib.patches import FancyBboxPatch

    axes.add_patch(
        FancyBboxPatch((x, y - high / 2), wide, high, boxstyle="round,pad=0,rounding_size=0.06",
                       facecolor=PAPER, edgecolor=INK, linewidth=0.9, zorder=3)
    )  # fmt: skip
    step = 0.17
    top = y + step * (len(lines) - 1) / 2
    for i, text in enumerate(lines):
        size = 7.6 if i >= bold else 8.0
        needs = text_width(text, size * POINT, i < bold) / 25.4
        axes.text(x + wide / 2, top - i * step, text, ha="center", va="center", zorder=4,
                  fontsize=size * min(1.0, (wide - 0.1) / max(needs, 0.1)),
                  weight="normal" if i >= bold else "bold",
                  color=SOFT_INK if i >= bold else INK)  # fmt: skip


def _draw(axes: Axes, wiring: Wiring, system: str, top: float) -> None:
    mains = wiring.mains
    runs = {r.device: r for r in wiring.runs}
    supplies = {name: s for s in wiring.supplies for name in s.feeds}
    devices = {d.name: d for d in wiring.devices}
    y, middles = top, []
    for channel in wiring.channels:
        first = y - ROW / 2
        last = first - ROW * (len(channel.feeds) - 1)
        middle = (first + last) / 2
        middles.append(middle)
        low = devices[channel.feeds[0]].low
        colour, style = (LOW, (0, (4, 2))) if low else (MAINS, "-")
        axes.plot([BUS, SWITCH], [middle, middle], color=MAINS, lw=1.1, zorder=1)
        _box(axes, SWITCH, middle, 1.95, 0.46, _switch(channel))
        start = SWITCH + 1.95
        if low:
            supply = supplies[channel.feeds[0]]
            axes.plot([start, SUPPLY], [middle, middle], color=MAINS, lw=1.1, zorder=1)
            _box(axes, SUPPLY, middle, 0.85, 0.46, [f"{supply.voltage:g} V", f"{supply.size:g} W"])
            start = SUPPLY + 0.85
        fork = DEVICE - 0.28
        axes.plot([start, fork], [middle, middle], color=colour, lw=1.1, ls=style, zorder=1)
        axes.plot([fork, fork], [first, last], color=colour, lw=1.1, ls=style, zorder=1)
        for i, name in enumerate(channel.feeds):
            at, device, run = first - i * ROW, devices[name], runs[name]
            axes.plot([fork, DEVICE], [at, at], color=colour, lw=1.1, ls=style, zorder=1)
            axes.plot([DEVICE], [at], "o", ms=4.5, mfc=PAPER, mec=colour, mew=1.1, zorder=3)
            axes.text(DEVICE + 0.12, at + 0.07, clean(name, 30), va="center", fontsize=8.2)
            if name in wiring.slowed:
                axes.plot(
                    [DEVICE - 0.14], [at], "s", ms=6.5, mfc=PAPER, mec=colour, mew=1.1, zorder=3
                )
            told = "speed control, " if name in wiring.slowed else ""
            told += f"{device.power:g} W, " + (
                f"{device.protection}, " if device.protection else ""
            )
            told += (
                f"{quantities.run_length(run.length, system)}, {cable_words(run.cable, run.low)}"
            )
            axes.text(DEVICE + 0.12, at - 0.085, told, va="center", fontsize=7.2, color=SOFT_INK)
        y = last - ROW / 2 - GAP
    if not middles:
        middles = [top - ROW]
        axes.text(SWITCH, top - ROW, "nothing in the file draws current", va="center", fontsize=8.2)
    centre = (max(middles) + min(middles)) / 2
    axes.plot([BUS, BUS], [max(middles) + 0.12, min(middles) - 0.12], color=MAINS, lw=3.2,
              solid_capstyle="butt", zorder=2)  # fmt: skip
    axes.text(BUS, max(middles) + 0.2, "board", ha="center", fontsize=7.6, color=SOFT_INK)
    axes.plot([0.5, BUS], [centre, centre], color=MAINS, lw=1.6, zorder=1)
    _box(
        axes,
        sheet.EDGE,
        centre,
        0.85,
        0.64,
        ["outlet", f"{mains.voltage:g} V", f"{mains.fuse:g} A"],
    )
    words = guard_name(wiring).split(" ")
    half = (len(words) + 1) // 2
    guard = [" ".join(words[:half]), " ".join(words[half:]), milliamps(mains.residual)]
    _box(axes, 1.05, centre, 1.3, 0.64, guard, bold=2)
    feed = runs["board"]
    axes.text(
        sheet.EDGE, centre - 0.5,
        f"lead to the board {quantities.run_length(feed.length, system)},\n"
        f"{cable_words(feed.cable, False)}",
        fontsize=7.2, color=SOFT_INK, va="top",
    )  # fmt: skip
    _legend(axes, bool(wiring.slowed))


def _switch(channel: Channel) -> list[str]:
    told = KINDS.get(channel.kind, channel.kind)
    if channel.kind in ("time", "dims", ""):
        lines = [told if channel.kind == "" else clean(channel.by, 24)]
    else:
        lines = [clean(channel.by, 24), told]
    if channel.cut_out:
        lines[-1] += " + second limit"
    return lines


def _legend(axes: Axes, slowed: bool) -> None:
    y = 0.32
    if slowed:
        axes.plot([0.275], [0.12], "s", ms=6.5, mfc=PAPER, mec=LOW, mew=1.1)
        axes.text(0.6, 0.12, "speed control of a fan, on the board", va="center", fontsize=7.6,
                  color=SOFT_INK)  # fmt: skip
    axes.plot([sheet.EDGE, 0.5], [y, y], color=MAINS, lw=1.1)
    axes.text(0.6, y, "mains with protective earth", va="center", fontsize=7.6, color=SOFT_INK)
    axes.plot([2.6, 3.05], [y, y], color=LOW, lw=1.1, ls=(0, (4, 2)))
    axes.text(3.15, y, "low voltage", va="center", fontsize=7.6, color=SOFT_INK)
    axes.text(4.4, y, "Every cable hangs in a drip loop before it enters.", va="center", fontsize=7.6,
              color=SOFT_INK)  # fmt: skip
    axes.plot([sheet.EDGE, WIDE - sheet.EDGE], [0.55, 0.55], color=FAINT, lw=0.6)
