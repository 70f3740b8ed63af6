"""Charts of a day's climate on paper: temperatures, humidity, what runs when, sums.

Lines are told apart by how they are drawn (air solid, surface dashed, body dotted) and by the name
written at each, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.report import climate_bands, quantities
from loamwright.report import figure as sheet
from loamwright.report.climate_bands import Band
from loamwright.report.day_blocks import (
    lived,
    season_words,
    species_labels,
    user_words,
    ways_of_water,
)
from loamwright.report.line_labels import Named, Region, name_all
from loamwright.report.plain import capital, clean
from loamwright.report.scales import mix

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

COLORS: dict[str, str] = {"air": "#0B5FA5", "surface": "#A8400E", "body": "#25302B",
                          "humidity": "#0B5FA5", "room": "#6E7872"}  # fmt: skip
"""Blue, rust and ink are told apart by people with any kind of colour vision."""

DASHES: dict[str, Any] = {"air": "-", "surface": (0, (5, 2)), "body": (0, (1.2, 1.4)),
                          "room": (0, (6, 2, 1, 2))}  # fmt: skip
SITE_COLORS = ("#A8400E", "#0B5FA5", "#00735A", "#8A4A86")
SITE_DASHES: tuple[Any, ...] = ("-", (0, (5, 2)), (0, (1.2, 1.4)), (0, (6, 2, 1, 2)))
NIGHT = "#ECEDE6"
LIMIT = "#7A1F5C"
"""Colours of the night's hours, and of limits not to be passed."""

MOST_SITES = 4

_WIDE, _LEFT, _RIGHT = 8.4, 1.25, 0.78  # inches: the page, and its margins beside the charts
_HEAD, _FOOT, _GAP, _STRIP = 0.72, 0.46, 0.34, 0.165
_TEMPERATURE, _HUMIDITY = 1.62, 1.45


def chosen_sites(habitat: Habitat) -> list[str]:
    """Places a chart shows when nobody says which: the first basking place (or place to rest), and the
    first to withdraw to (or to measure the air at)."""
    found: list[str] = []
    for roles in (("basking",), ("retreat",), ("hide",), ("probe",), ("perch",), ("crown",)):
        name = next((s.name for s in habitat.sites if s.role in roles), None)
        if name is not None and len(found) < 2:
            found.append(name)
    return found


def day_chart(
    habitat: Habitat,
    run: ClimateRun,
    kind: str = "svg",
    *,
    sites: Sequence[str] = (),
    system: str = "metric",
) -> bytes:
    """A day as a picture's bytes (``png`` or ``svg``): at each of the ``sites`` (at most
    `MOST_SITES`; default `chosen_sites`) air, surface and what a body takes, with what is wanted
    there; humidity; and under them what runs when and what it uses."""
    with sheet.style():
        return sheet.to_bytes(_day(habitat, run, list(sites), system), kind.lower())


def _day(habitat: Habitat, run: ClimateRun, sites: list[str], system: str) -> Figure:
    sites = (sites or chosen_sites(habitat))[:MOST_SITES]
    strips = len(run.lamp_names) + len(run.fan_names) + bool(run.mist.any())
    heights = [_TEMPERATURE] * len(sites) + [_HUMIDITY] + [max(strips, 1) * _STRIP + 0.06]
    high = _HEAD + sum(heights) + _GAP * len(heights) + _FOOT - 0.1
    figure = page(_WIDE, high)
    _head(figure, habitat, run, system)
    frames, top = [], high - _HEAD
    for number, tall in enumerate(heights):
        top -= _GAP if number else 0.2
        frames.append(frame(figure, _LEFT, top - tall, _WIDE - _LEFT - _RIGHT, tall))
        top -= tall
    tracks = [_temperature_tracks(habitat, run, name, system) for name in sites]
    bands = [climate_bands.temperature_bands(habitat, _site(habitat, n)) for n in sites]
    span = _span(tracks, bands, run, system)
    for name, ax, lines, wanted in zip(sites, frames, tracks, bands, strict=False):
        _temperatures(ax, habitat, run, name, lines, wanted, span, system)
    _humidity(frames[len(sites)], habitat, run, sites, system)
    _strips(frames[-1], run)
    _hours(frames)
    return figure


def page(wide: float, high: float) -> Figure:
    """An empty page [in]."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(wide, high))
    FigureCanvasAgg(figure)
    figure.dpi = 100
    return figure


def frame(figure: Figure, left: float, bottom: float, wide: float, tall: float) -> Axes:
    """Empty axes on a page, placed in inches."""
    w, h = figure.get_size_inches()
    ax = figure.add_axes((left / w, bottom / h, wide / w, tall / h))
    ax.set_facecolor("white")
    for edge in ("top", "right"):
        ax.spines[edge].set_visible(False)
    ax.tick_params(length=3, width=0.6)
    return ax


def _head(figure: Figure, habitat: Habitat, run: ClimateRun, system: str) -> None:
    wide, high = figure.get_size_inches()
    figure.text(sheet.EDGE / wide, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13, weight="bold",
                va="center")  # fmt: skip
    low, most = (quantities.worded("temperature", float(x), system)
                 for x in (run.room.min(), run.room.max()))  # fmt: skip
    room = f"room at {low}" if low == most else f"room from {quantities.band(low, most)}"
    figure.text(sheet.EDGE / wide, 1 - 0.56 / high, f"{capital(season_words(run.season))}, {room}",
                fontsize=9, color=sheet.SOFT_INK, va="center")  # fmt: skip


def _site(habitat: Habitat, name: str) -> Any:
    return next(s for s in habitat.sites if s.name == name)


Track = tuple[str, str, "Floats"]
"""What is drawn (``air``, ``surface``, ``body``, ``room``), its name, its values as shown (R,)."""


def _temperature_tracks(habitat: Habitat, run: ClimateRun, name: str, system: str) -> list[Track]:
    number, site = run.site(name), _site(habitat, name)

    def shown(values: Any) -> Floats:
        return quantities.shown_all("temperature", np.asarray(values, float), system)

    out: list[Track] = []
    if lived(site):
        labels = species_labels(habitat, run)
        for key, label in labels.items():
            if not site.species or key in site.species:
                who = f"body ({label})" if len(labels) > 1 else "body"
                out.append(("body", who, shown(run.operative[key][:, number])))
    if np.isfinite(run.surface[:, number]).any():
        out.append(("surface", "surface", shown(run.surface[:, number])))
    out.append(("air", "air", shown(run.air[:, number])))
    out.append(("room", "room", shown(run.room)))
    return out


def _span(
    tracks: list[list[Track]], bands: list[list[Band]], run: ClimateRun, system: str
) -> tuple[float, float]:
    """One scale for all temperatures, so that places can be compared."""
    values = [v for lines in tracks for _, _, v in lines]
    ends = [quantities.shown("temperature", x, system) for wanted in bands for b in wanted
            for x in b.limits if x is not None]  # fmt: skip
    known = np.concatenate([*values, np.array(ends)]) if values else np.array([15.0, 30.0])
    low, high = float(np.nanmin(known)), float(np.nanmax(known))
    room = 0.06 * max(high - low, 4.0)
    return low - room, high + room


def _temperatures(
    ax: Axes,
    habitat: Habitat,
    run: ClimateRun,
    name: str,
    lines: list[Track],
    bands: list[Band],
    span: tuple[float, float],
    system: str,
) -> None:
    """One place: its lines, and what is wanted there."""
    site = _site(habitat, name)
    ax.set_xlim(0, 24)
    ax.set_ylim(*span)
    _nights(ax, run)
    degree = quantities.unit("temperature", system)
    role = "" if site.role in clean(name) else f" ({site.role})"
    titled(ax, f"{clean(name, 40)}{role}: temperature [{degree}]")
    regions = _bands(ax, run, bands, span, system)
    named = []
    for what, words, values in lines:
        ax.plot(run.hours, values, color=COLORS[what], ls=DASHES[what], zorder=4 if what != "room"
                else 3, lw={"body": 2.0, "room": 0.9}.get(what, 1.5))  # fmt: skip
        named.append(Named(run.hours, values, words, COLORS[what]))
    name_all(ax, named, regions, uprights=_turns(run))


def titled(ax: Axes, words: str, pad: float = 4.0) -> None:
    """Write what axes show over them, ``pad`` [pt] off their upper edge."""
    ax.set_title(words, fontsize=8.5, loc="left", pad=pad, color=sheet.INK)


def _nights(ax: Axes, run: ClimateRun) -> None:
    for start, end in spans(run, climate_bands.NIGHT):
        ax.axvspan(start, end, color=NIGHT, lw=0, zorder=0)


def _turns(run: ClimateRun) -> list[float]:
    """Hours at which a night begins or ends within the day."""
    ends = {x for stretch in spans(run, climate_bands.NIGHT) for x in stretch}
    return sorted(ends - {float(run.hours[0]), float(run.hours[-1])})


def spans(run: ClimateRun, when: str) -> list[tuple[float, float]]:
    """Unbroken stretches of hours in which a band holds."""
    rows = climate_bands.rows_of(run, when)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], rows.astype(int), [0]])))
    out = []
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        end = run.hours[min(b, len(run.hours) - 1)]
        if end > run.hours[a]:
            out.append((float(run.hours[a]), float(end)))
    return out


def _bands(
    ax: Axes, run: ClimateRun, bands: Sequence[Band], span: tuple[float, float], system: str
) -> list[Region]:
    """Bands as washes with an edge drawn like their line; returns where each may be named."""
    from matplotlib.patches import Rectangle

    several = len({b.whose for b in bands}) > 1
    out: list[Region] = []
    for band in _once(bands):
        quantity = climate_bands.QUANTITY[band.what]
        low, high = (None if x is None else quantities.shown(quantity, x, system)
                     for x in band.limits)  # fmt: skip
        bottom = max(span[0] if low is None else low, span[0])
        top = min(span[1] if high is None else high, span[1])
        color = COLORS[band.what]
        stretches = spans(run, band.when)
        for start, end in stretches:
            ax.add_patch(Rectangle((start, bottom), end - start, top - bottom, lw=0, zorder=1,
                                   fc=mix(color, 0.16, "#FFFFFF"), alpha=0.75))  # fmt: skip
            for level in (low, high):
                if level is not None and span[0] < level < span[1]:
                    ax.plot([start, end], [level] * 2, color=mix(color, 0.7, "#FFFFFF"), lw=0.7,
                            ls=DASHES.get(band.what, "-"), zorder=2)  # fmt: skip
        if stretches:
            (start, end), *also = sorted(stretches, key=lambda s: s[0] - s[1])
            out.append(Region(start, end, low, high, band.words(system, named=several),
                              mix(color, 0.92), tuple(also)))  # fmt: skip
    return out


def _once(bands: Sequence[Band]) -> list[Band]:
    """Bands that lie on each other as one, with the names of all whose they are."""
    out: dict[tuple[Any, ...], Band] = {}
    for band in bands:
        key = (band.what, band.limits, band.when)
        whose = [b.whose for b in bands if (b.what, b.limits, b.when) == key]
        out.setdefault(key, replace(band, whose=", ".join(dict.fromkeys(whose))))
    return list(out.values())


def _humidity(
    ax: Axes, habitat: Habitat, run: ClimateRun, sites: Sequence[str], system: str
) -> None:
    """Humidity at the places and in the room, with what is wanted."""
    ax.set_xlim(0, 24)
    ax.set_ylim(0, 100)
    ax.set_yticks([0, 25, 50, 75, 100])
    _nights(ax, run)
    titled(ax, "relative humidity [%]")
    bands = [b for n in sites for b in climate_bands.humidity_bands(habitat, _site(habitat, n))]
    regions = _bands(ax, run, list(dict.fromkeys(bands)), (0.0, 100.0), system)
    named = []
    for number, name in enumerate(sites):
        values = 100 * run.humidity[:, run.site(name)]
        color = SITE_COLORS[number]
        ax.plot(run.hours, values, color=color, ls=SITE_DASHES[number], lw=1.5, zorder=4)
        named.append(Named(run.hours, values, clean(name, 30), color))
    room = 100 * run.room_humidity
    ax.plot(run.hours, room, color=COLORS["room"], ls=DASHES["room"], lw=0.9, zorder=3)
    named.append(Named(run.hours, room, "room", COLORS["room"]))
    name_all(ax, named, regions, uprights=_turns(run))


def _strips(ax: Axes, run: ClimateRun) -> None:
    """What runs when: a row for each lamp, each fan and the mist, as high as it is turned up."""
    rows: list[tuple[str, Floats, str, str]] = []
    for number, lamp in enumerate(run.lamp_names):
        rows.append((clean(lamp, 20), run.lamps[:, number], "#D9A514", _kwh(run, lamp)))
    for number, fan in enumerate(run.fan_names):
        rows.append((clean(fan, 20), run.fans[:, number], "#5E8F9E", _kwh(run, fan)))
    if run.mist.any():
        rows.append(("mist", run.mist, "#0B5FA5", f"{run.mist.sum():.0f} s"))
    ax.set_xlim(0, 24)
    ax.set_ylim(len(rows) or 1, -0.15)
    _nights(ax, run)
    for number, (_, values, color, used) in enumerate(rows):
        base = number + 0.9
        if color == "#0B5FA5":
            at = run.hours[values > 0]
            ax.vlines(at, number + 0.12, base, color=color, lw=1.6, zorder=3)
        else:
            # A row of the run tells the time since the one before it.
            ax.fill_between(run.hours, base - 0.78 * np.append(values[1:], values[-1:]), base,
                            step="post", facecolor=color, edgecolor=mix(color, 0.8, "#000000"),
                            lw=0.5, zorder=3)  # fmt: skip
        ax.axhline(base, color=sheet.FAINT, lw=0.4, zorder=1)
        ax.text(1.008, base, used, fontsize=7, color=sheet.SOFT_INK, va="bottom", ha="left",
                transform=ax.get_yaxis_transform())  # fmt: skip
    ax.set_yticks([n + 0.55 for n in range(len(rows))], [name for name, *_ in rows], fontsize=7)
    ax.tick_params(axis="y", length=0)
    ax.spines["left"].set_visible(False)
    titled(ax, "on, and how far turned up")


def _kwh(run: ClimateRun, user: str) -> str:
    used = quantities.shown("energy", run.energy.get(user, 0.0), "metric")
    return f"{used:.2f} kWh" if used >= 0.005 else ""


def _hours(frames: Sequence[Axes]) -> None:
    """Hours under the lowest chart, ticks under all."""
    for ax in frames:
        ax.set_xticks(range(0, 25, 3))
        ax.set_xticks(range(25), minor=True)
        ax.tick_params(axis="x", which="minor", length=1.5, width=0.5)
        ax.set_xticklabels([])
        ax.grid(axis="x", color="#DFE3DD", lw=0.5, zorder=0.5)
        ax.set_axisbelow(True)
    frames[-1].set_xticklabels([f"{h:02d}:00" for h in range(0, 25, 3)])
    frames[-1].set_xlabel("hour of day", fontsize=7.5, labelpad=2)


def sums_chart(
    habitat: Habitat, runs: Sequence[ClimateRun], kind: str = "svg", *, system: str = "metric"
) -> bytes:
    """Electricity by user and water by way of the runs' days as bars, side by side."""
    with sheet.style():
        return sheet.to_bytes(_sums(habitat, runs, system), kind.lower())


def _sums(habitat: Habitat, runs: Sequence[ClimateRun], system: str) -> Figure:
    users = sorted({u for r in runs for u, e in r.energy.items() if e >= 0.005 * 3.6e6},
                   key=lambda u: -max(r.energy.get(u, 0.0) for r in runs))  # fmt: skip
    energy = [(user_words(u), [r.energy.get(u, 0.0) for r in runs]) for u in users]
    ways = [dict(ways_of_water(r)) for r in runs]
    names = list(dict.fromkeys(name for found in ways for name in found))
    water = [(name, [found.get(name, 0.0) for found in ways]) for name in names]
    rows = max(len(energy), len(water), 1)
    step = 0.17 * len(runs) + 0.13
    wide, high = 8.4, 1.0 + rows * step + 0.15
    figure = page(wide, high)
    figure.text(sheet.EDGE / wide, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13, weight="bold",
                va="center")  # fmt: skip
    days = " and ".join(season_words(r.season) for r in runs)
    figure.text(sheet.EDGE / wide, 1 - 0.56 / high, f"Used on {days}", fontsize=9,
                color=sheet.SOFT_INK, va="center")  # fmt: skip
    kwh = ", ".join(
        f"{quantities.worded('energy', r.electricity, system)}" + _in(r, runs) for r in runs
    )
    for left, entries, quantity, title in (
        (1.25, energy, "energy", f"electricity: {kwh}"),
        (5.55, water, "water", "water: what comes in, and where it goes"),
    ):
        ax = frame(
            figure, left, high - 1.0 - len(entries) * step, 2.6, max(len(entries) * step, 0.2)
        )
        _bars(ax, entries, [r.season for r in runs], quantity, system)
        # The one over the left bars ends before the one over the right ones begins.
        start, room = (sheet.EDGE, 3.8) if left < 3 else (left - 1.55, 4.3)
        size = min(8.5, room * 72 / 0.6 / len(title))
        figure.text(start / wide, 1 - 0.86 / high, title, fontsize=size, va="center")
    return figure


def _in(run: ClimateRun, runs: Sequence[ClimateRun]) -> str:
    return f" ({run.season})" if len(runs) > 1 else ""


_FILLS = ("#5E8F9E", "#E0A93B", "#9DB17C")
_HATCHES = ("", "////", "....")


def _bars(
    ax: Axes, entries: Sequence[tuple[str, list[float]]], seasons: Sequence[str], quantity: str,
    system: str,
) -> None:  # fmt: skip
    """A group of bars for each entry, one a season, each with its value."""
    most = max((v for _, values in entries for v in values), default=0.0) or 1.0
    thick = 0.8 / max(len(seasons), 1)
    for row, (_, values) in enumerate(entries):
        for number, value in enumerate(values):
            y = row - 0.4 + (number + 0.5) * thick
            ax.barh(y, value / most, thick * 0.86, color=_FILLS[number % 3],
                    hatch=_HATCHES[number % 3], edgecolor=sheet.SOFT_INK, lw=0.5)  # fmt: skip
            told = quantities.worded(quantity, value, system)
            label = f"{told}, {seasons[number]}" if row == 0 and len(seasons) > 1 else told
            ax.text(value / most + 0.02, y, label, fontsize=6.8, va="center")
    ax.set_ylim(max(len(entries), 1) - 0.5, -0.5)
    ax.set_xlim(0, 1.55)
    ax.set_yticks(range(len(entries)), [name for name, _ in entries], fontsize=7.2)
    ax.set_xticks([])
    ax.set_facecolor("none")
    ax.tick_params(axis="y", length=0)
    ax.spines["bottom"].set_visible(False)
