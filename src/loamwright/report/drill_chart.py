"""The hours after a fault on paper: how places and bodies warm or cool, and when a limit is passed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.report import climate_charts as charts
from loamwright.report import figure as sheet
from loamwright.report import quantities
from loamwright.report.climate_words import LIMITS, clock, fault_words
from loamwright.report.day_blocks import season_words
from loamwright.report.line_labels import Named, Region, name_all
from loamwright.report.plain import capital, clean

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from loamwright.engine.climate.drills import Drill

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that must not be passed: ``what`` it holds for (``air``, ``surface``, ``body``,
    ``humidity``), its ``value`` in SI, ``upper`` or lower, its ``name`` as shown."""

    what: str
    value: float
    name: str
    upper: bool = True


@dataclass(frozen=True, slots=True)
class Track:
    """What is followed: ``what`` (``air``, ``surface``, ``body``, ``humidity``) at a ``site``, for a
    body that of which ``species``."""

    what: str
    site: str
    species: str = ""


def values_of(run: ClimateRun, track: Track) -> Floats:
    """What a track reads in a run, in SI (R,)."""
    column = run.site(track.site)
    if track.what == "body":
        return run.operative[track.species][:, column]
    table = {"air": run.air, "surface": run.surface, "humidity": run.humidity}[track.what]
    return table[:, column]


def passed(hours: Floats, values: Floats, limit: Limit) -> float | None:
    """Hours at which a limit is first passed, between the rows linearly; None where it is not."""
    over = values - limit.value if limit.upper else limit.value - values
    out = np.flatnonzero(over > 0.0)
    if not len(out):
        return None
    row = int(out[0])
    if row == 0:
        return float(hours[0])
    share = -over[row - 1] / (over[row] - over[row - 1])
    return float(hours[row - 1] + share * (hours[row] - hours[row - 1]))


def told_at(hours: Floats, at: float, since: float) -> float:
    """Time that is told for a limit passed at an hour [s]: to the next row, as the tables tell it."""
    row = min(int(np.searchsorted(hours, at - 1e-9)), len(hours) - 1)
    return 3600.0 * (float(hours[row]) - since)


def drill_chart(
    habitat: Habitat,
    run: ClimateRun,
    tracks: Sequence[Track],
    limits: Sequence[Limit],
    kind: str = "svg",
    *,
    title: str = "",
    since: float = 0.0,
    system: str = "metric",
) -> bytes:
    """A drill as a picture's bytes (``png`` or ``svg``): each track over the hours, limits as lines, a
    mark with the time where a track first passes a limit of its own kind.

    ``title`` says in words what failed, ``since`` at which of the run's hours. Temperatures and
    humidity, where both are followed, stand in two charts under each other.
    """
    with sheet.style():
        return sheet.to_bytes(
            _drill(habitat, run, tracks, limits, title or run.fault, since, system), kind.lower()
        )


def picture_of(
    habitat: Habitat, drill: Drill, kind: str = "svg", *, system: str = "metric"
) -> bytes:
    """A drill of the engine as a picture's bytes: the body of each resident in the refuge that holds
    worst, and the air or humidity there, against the resident's limits. Where no limit is known, air
    and humidity where it gets hottest and coldest; empty where the habitat has no places."""
    tracks: list[Track] = []
    limits: list[Limit] = []
    several = len({c.limit.species for c in drill.crossings}) > 1
    labels = {g.species.key: clean(g.species.label, 30) for g in habitat.animals}
    for found in drill.crossings:
        if not found.site:
            continue
        species = found.limit.species
        if found.of == "body":
            tracks.append(Track("body", found.site, species))
        tracks.append(Track("humidity" if found.of == "humidity" else "air", found.site))
        name = LIMITS.get(found.limit.name, found.limit.name)
        name = f"{labels.get(species, species)}: {name}" if several else name
        limits.append(Limit(found.of, found.limit.value, name, found.limit.kind == "hot"))
    if not limits:
        places = [s for s in (drill.hottest[1], drill.coldest[1]) if s]
        tracks = [Track(what, site) for what in ("air", "humidity") for site in places]
    if not tracks:
        return b""
    return drill_chart(habitat, drill.run, list(dict.fromkeys(tracks)), limits, kind,
                       title=fault_words(drill.key, drill.subject), system=system)  # fmt: skip


def _drill(
    habitat: Habitat, run: ClimateRun, tracks: Sequence[Track], limits: Sequence[Limit],
    title: str, since: float, system: str,
) -> Figure:  # fmt: skip
    groups = [[t for t in tracks if (t.what == "humidity") == damp] for damp in (False, True)]
    groups = [g for g in groups if g]
    sites = list(dict.fromkeys(t.site for t in tracks))
    tall = 2.6 if len(groups) == 1 else 1.5  # two such charts fit a page, one under another
    wide, high = 8.4, 1.0 + len(groups) * (tall + 0.45) + 0.02
    figure = charts.page(wide, high)
    figure.text(sheet.EDGE / wide, 1 - 0.32 / high, clean(habitat.name, 70), fontsize=13, weight="bold",
                va="center")  # fmt: skip
    told = capital(clean(title, 90))
    begins = clock(float(np.interp(since, run.hours, np.unwrap(run.clock, period=24))) % 24)
    figure.text(sheet.EDGE / wide, 1 - 0.56 / high,
                f"{told}, from {begins} on {season_words(run.season)}",
                fontsize=9, color=sheet.SOFT_INK, va="center")  # fmt: skip
    top = high - 0.95
    for number, group in enumerate(groups):
        ax = charts.frame(figure, 0.75, top - tall, wide - 1.1, tall)
        _chart(ax, habitat, run, group, limits, since, system, sites)
        top -= tall + 0.45
        if number == len(groups) - 1:
            ax.set_xlabel("hours since it failed", fontsize=7.5)
    return figure


def _chart(
    ax: Any, habitat: Habitat, run: ClimateRun, tracks: Sequence[Track],
    limits: Sequence[Limit], since: float, system: str, sites: Sequence[str],
) -> None:  # fmt: skip
    damp = tracks[0].what == "humidity"
    quantity = "humidity" if damp else "temperature"
    hours = run.hours - since
    labels = {g.species.key: clean(g.species.label, 30) for g in habitat.animals}
    held = [x for x in limits if (x.what == "humidity") == damp]
    lines: list[Named] = []
    marks: list[tuple[float, float, str]] = []
    for track in tracks:
        values = values_of(run, track)
        shown = quantities.shown_all(quantity, values, system)
        place = sites.index(track.site) % len(charts.SITE_COLORS)
        color = charts.SITE_COLORS[place]
        ax.plot(hours, shown, color=color, ls=charts.DASHES.get(track.what, charts.SITE_DASHES[place]),
                lw=2.0 if track.what == "body" else 1.5, zorder=4)  # fmt: skip
        who = labels.get(track.species, clean(track.species))
        several = len({t.species for t in tracks if t.what == "body"}) > 1
        what = {"body": f"body of {who}" if several else "body", "humidity": ""}.get(
            track.what, track.what
        )
        lines.append(Named(hours, shown, f"{clean(track.site, 30)} {what}".strip(), color))
        for limit in held:
            at = passed(run.hours, values, limit) if limit.what == track.what else None
            if at is not None and at >= since:
                y = quantities.shown(quantity, limit.value, system)
                marks.append((at - since, y, quantities.duration(told_at(run.hours, at, since))))
    unit = quantities.unit(quantity, system)
    charts.titled(ax, f"{'relative humidity' if damp else 'temperature'} [{unit}]")
    _limits(ax, hours, held, lines, quantity, system)
    for x, y, _ in marks:
        ax.plot(x, y, marker="o", ms=5.5, mfc="white", mec=sheet.INK, mew=1.2, zorder=6)
    pixels = ax.transData.transform([(x, y) for x, y, _ in marks]) if marks else np.empty((0, 2))
    lines += [Named(np.array([x]), np.array([y]), words, sheet.INK)
              for x, y, words in _one_for_each(marks, pixels)]  # fmt: skip
    regions = [
        Region(float(hours[0]), float(hours[-1]), *_sided(limit, quantity, system),
               f"{clean(limit.name, 60)}: {quantities.worded(quantity, limit.value, system)}",
               charts.LIMIT)
        for limit in held
    ]  # fmt: skip
    name_all(ax, lines, regions, size=7.5)
    if since > run.hours[0]:
        ax.axvline(0.0, color=sheet.INK, lw=0.8, zorder=2)
    # Quarters of a day, so that the same hour of the next day is found again.
    step = 6 if hours[-1] - hours[0] > 24.5 else 3
    first = math.ceil(float(hours[0]) / step) * step
    ax.set_xticks(np.arange(first, float(hours[-1]) + 1e-6, step))
    ax.grid(axis="x", color="#DFE3DD", lw=0.5, zorder=0.5)
    ax.set_axisbelow(True)


_SAME = 16.0
"""Distance [pixels of 1/100 in] within which two marks are too close for a time each."""


def _one_for_each(
    marks: Sequence[tuple[float, float, str]], pixels: Floats
) -> list[tuple[float, float, str]]:
    """Marks (hours, level, time told), those that touch under one name at the last of them: times in
    their order, equal ones told once."""
    order = sorted(range(len(marks)), key=lambda k: marks[k][0])
    groups: list[list[int]] = []
    for k in order:
        if groups and float(np.hypot(*(pixels[k] - pixels[groups[-1][-1]]))) < _SAME:
            groups[-1].append(k)
        else:
            groups.append([k])
    return [(marks[g[-1]][0], marks[g[-1]][1], ", ".join(dict.fromkeys(marks[k][2] for k in g)))
            for g in groups]  # fmt: skip


def _sided(limit: Limit, quantity: str, system: str) -> tuple[float | None, float | None]:
    value = quantities.shown(quantity, limit.value, system)
    return (value, None) if limit.upper else (None, value)


def _limits(
    ax: Any, hours: Floats, limits: Sequence[Limit], lines: Sequence[Named], quantity: str,
    system: str,
) -> None:  # fmt: skip
    """The limits as lines, in a scale that holds them and the tracks."""
    levels = [quantities.shown(quantity, x.value, system) for x in limits]
    known = np.concatenate([*(n.y for n in lines), np.array(levels)])
    low, high = float(np.nanmin(known)), float(np.nanmax(known))
    room = 0.09 * max(high - low, 2.0)
    ax.set_xlim(float(hours[0]), float(hours[-1]))
    ax.set_ylim(low - room, high + room)
    for limit, level in zip(limits, levels, strict=True):
        ax.plot([hours[0], hours[-1]], [level] * 2, color=charts.LIMIT, lw=1.1,
                ls=charts.DASHES.get(limit.what, "-"), zorder=3)  # fmt: skip
