"""The order of work as a chart of bars over the days."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from loamwright.plan.order import OrderOfWork, Step
from loamwright.report.figure import FAINT, INK, PAPER, SOFT_INK, style, to_bytes
from loamwright.report.order_blocks import day_words, short_name, task_words
from loamwright.report.plain import capital

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WORK, WAIT, BINDING = "#2C5F7C", "#B9CBD6", "#C4622D"
"""Colours of work, of waiting, and of what keeps the animals out; hatches and marks say the same."""

ROW = 0.25
"""Height of a task's row [in]."""

LINE = 52
"""Letters of a task's name on one line."""


def order_chart(
    order: OrderOfWork,
    start: date | None = None,
    kind: str = "svg",
    width: float = 10.0,
    system: str = "metric",
) -> bytes:
    """The chart as a file's bytes (``png`` or ``svg``).

    Parameters
    ----------
    start : date, optional
        The day it begins; without one the axis counts days.
    width : float
        Width of the picture [in].
    system : str
        Units people are shown.
    """
    import matplotlib.pyplot as plt

    with style():
        rows = len(order.steps)
        figure, axes = plt.subplots(figsize=(width, 1.35 + ROW * rows), layout="constrained")
        axes.set_facecolor(PAPER)
        closed = _closed(axes, order, start)
        for row, step in enumerate(order.steps):
            _bar(axes, order, step, row)
        _axis(axes, order, start, system)
        _legend(axes, closed)
        made = to_bytes(figure, kind)
        plt.close(figure)
    return made


def _days(order: OrderOfWork, minute: int) -> float:
    """A minute of work on the axis of days."""
    return minute / order.week.minutes


def _bar(axes: Axes, order: OrderOfWork, step: Step, row: int) -> None:
    """Work solid, the wait after it light and hatched; the chain that binds in its own colour."""
    binding = step.task.key in order.chain
    colour = BINDING if binding else WORK
    worked = order.week.work(step.start, step.task.minutes)
    begin, done, end = (_days(order, x) for x in (step.start, worked, step.end))
    least = 0.006 * max(order.days, 1)
    if step.task.minutes:
        axes.barh(row, max(done - begin, least), left=begin, height=0.62, color=colour, zorder=3)
    if end > done:
        axes.barh(row, end - done, left=done, height=0.62, color=WAIT, edgecolor=colour,
                  linewidth=0.7, hatch="////" if binding else None, zorder=2)  # fmt: skip
    slack = _days(order, step.slack)
    if slack > least and not binding:
        axes.plot([end, end + slack], [row, row], color=SOFT_INK, linewidth=0.8, linestyle=":",
                  zorder=1)  # fmt: skip


def _closed(axes: Axes, order: OrderOfWork, start: date | None) -> bool:
    """Days on which nobody works, shaded; True where there are any."""
    shut = [] if start is None else [d for d in range(order.days + 1) if not order.week.open(d)]
    for day in shut:
        axes.axvspan(day, day + 1, color=FAINT, alpha=0.28, linewidth=0, zorder=0)
    return bool(shut)


def _row_name(step: Step, system: str) -> str:
    """A task's name beside its row: whole, on two lines where it is long, else its short name."""
    from textwrap import wrap

    lines = wrap(capital(task_words(step, system, 200)), LINE)
    return "\n".join(lines) if len(lines) <= 2 else capital(short_name(step, system))


def _axis(axes: Axes, order: OrderOfWork, start: date | None, system: str) -> None:
    names = [_row_name(step, system) for step in order.steps]
    axes.set_yticks(range(len(names)), names)
    axes.set_ylim(len(names) - 0.4, -0.6)
    axes.set_xlim(0, order.days * 1.01 + 0.5)
    step = next((s for s in (1, 2, 7, 14, 28) if order.days / s <= 15), 56)
    ticks = list(range(0, order.days + 1, step))
    if start is None:
        axes.set_xticks([t + 0.0 for t in ticks], [f"{t + 1}" for t in ticks])
        axes.set_xlabel("day of the build")
    else:
        dates = [start + timedelta(days=t) for t in ticks]
        axes.set_xticks(ticks, [f"{d.day}\n{d:%b}" for d in dates])
        axes.set_xlabel(f"{start.year}" if dates[-1].year == start.year
                        else f"{start.year} – {dates[-1].year}")  # fmt: skip
    axes.tick_params(axis="y", length=0, labelsize=7.0)
    axes.grid(axis="x", color=FAINT, linewidth=0.4, zorder=0)
    axes.set_axisbelow(True)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    if order.enter is not None:
        axes.axvline(order.enter, color=BINDING, linewidth=1.2, zorder=4)
        axes.annotate(
            f"animals may enter: {day_words(order.enter, start)}", (order.enter, -0.6),
            xytext=(-4, 5), textcoords="offset points", ha="right", va="bottom", fontsize=8,
            color=INK, annotation_clip=False,
        )  # fmt: skip


def _legend(axes: Axes, closed: bool) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    handles: list[Any] = [
        Patch(facecolor=WORK, label="work"),
        Patch(facecolor=WAIT, edgecolor=WORK, label="waiting"),
        Patch(facecolor=BINDING, edgecolor=BINDING, label="keeps the animals out: work"),
        Patch(facecolor=WAIT, edgecolor=BINDING, hatch="////", label="the same: waiting"),
        Line2D([], [], color=SOFT_INK, linestyle=":", label="slack"),
    ]
    if closed:
        handles.append(Patch(facecolor=FAINT, alpha=0.28, label="nobody works"))
    axes.figure.legend(
        handles=handles, loc="outside lower center", ncols=len(handles), frameon=False, fontsize=7.5,
        facecolor=PAPER,
    )  # fmt: skip
