"""What is written for people to keep: the overview with its pictures, a day's table and chart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.targets import checked_targets, write_all
from loamwright.workflow import (
    SEASONS,
    Checked,
    Note,
    climate_days,
    climate_year,
    light_model,
    quiet,
    read,
    results_in,
    write_file,
)

if TYPE_CHECKING:
    from loamwright.engine.climate.drills import Drill
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.habitat.habitat import Habitat
    from loamwright.report.blocks import Table
    from loamwright.report.overview import Picture


def draw_sections(
    checked: Checked, system: str, note: Note = quiet, kind: str = "png", printed: bool = False
) -> list[tuple[str, Picture]]:
    """Pictures of ultraviolet and plant light through the habitat, with a file name for each;
    ``kind`` ``png`` or ``svg``, ``printed`` in the size in which they are printed."""
    from loamwright.report.pictures import light_pictures

    model = light_model(checked.habitat)
    return light_pictures(checked.habitat, model, checked.light.sites, system, note, kind,
                          printed)  # fmt: skip


def draw_days(
    checked: Checked, system: str, note: Note = quiet, kind: str = "png", printed: bool = False
) -> list[tuple[str, Picture]]:
    """Pictures of the climate of the days that were checked, with a file name for each; ``kind``
    ``png`` or ``svg``, sections ``printed`` in the size in which they are printed."""
    from loamwright.report.pictures import day_pictures

    return day_pictures(checked.habitat, checked.climate, system, note, kind, printed)


def work_tables(
    habitat: Habitat, water: Coupled | None, system: str, drills: Sequence[Drill] = ()
) -> list[Table]:
    """What the overview says of the ground and of what may fail; drills where they were run."""
    from loamwright.engine.ground.quantities import ground_quantities
    from loamwright.report.drill_report import drills_table
    from loamwright.report.ground_blocks import ground_tables

    out: list[Table] = []
    if habitat.ground.layers:
        amount = ground_quantities(habitat, us=system == "us")
        out = ground_tables(habitat, amount, water, system, weeks=False)
    return [*out, drills_table(habitat, drills, system)] if drills else out


def write_pages(
    checked: Checked, folder: Path, *, system: str, made: str = "", force: bool = False,
    note: Note = quiet,
) -> list[Path]:  # fmt: skip
    """Write the one-page overview and its pictures into a folder; returns what was written.

    ``made`` says when and by what, as it is to stand on the page.
    """
    from loamwright.report import pictures as drawn
    from loamwright.report.overview import overview_html

    names = ["overview.html", *drawn.day_names(list(checked.climate)), *drawn.LIGHT_NAMES]
    taken = [n for n in names if (folder / n).exists()]
    if taken and not force:
        more = f" and {len(taken) - 1} more of these pages are" if len(taken) > 1 else " is"
        problem = f"{taken[0]}{more} there already; --force writes over them"
        raise InputError(Problem(problem, file=str(folder)))
    pictures = [*draw_days(checked, system, note), *draw_sections(checked, system, note)]
    page = overview_html(
        checked.habitat, checked.findings, checked.light.sites, [p for _, p in pictures],
        system=system, made=made, work=work_tables(checked.habitat, checked.water, system),
    )  # fmt: skip
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError(Problem(f"{folder} cannot be made: {error.strerror}", "-o")) from error
    written = [folder / "overview.html"]
    write_file(written[0], page, force=force)
    for name, picture in pictures:
        write_file(folder / name, picture.content, force=force)
        written.append(folder / name)
    return written


@dataclass(frozen=True)
class Day:
    """A habitat's typical days by season, and where their table and chart were written."""

    habitat: Habitat
    runs: dict[str, ClimateRun]
    written: tuple[Path, ...] = ()


def day(
    path: Path, *, season: str = "winter", sites: Sequence[str] = (), csv: Path | None = None,
    plot: Path | None = None, units: str | None = None, kept: Path | None = None,
    force: bool = False, note: Note = quiet,
) -> Day:  # fmt: skip
    """Run the typical day of a season (of `SEASONS`, or ``all``) until it repeats itself.

    ``csv`` and ``plot`` are files to write every row and a chart to (`png` or `svg`, one season),
    ``sites`` the places in the chart, ``units`` what people are shown in place of the file's own.
    """
    from loamwright.report.day_out import day_csv

    seasons = SEASONS if season == "all" else (season,)
    kind = checked_targets(csv, plot, force=force)
    if plot is not None and len(seasons) > 1:
        raise InputError(Problem("a chart shows one season; say which with --season", "--plot"))
    note("reading the habitat")
    habitat = read(path)
    _known_sites(habitat, sites)
    runs = climate_days(habitat, seasons, results_in(kept), note)
    system = units or habitat.units
    contents: dict[Path, bytes] = {}
    if csv is not None:
        contents[csv] = day_csv(habitat, list(runs.values()), system).encode()
    if plot is not None:
        from loamwright.report.climate_charts import day_chart

        contents[plot] = day_chart(habitat, runs[season], kind, sites=sites, system=system)
    written = write_all(contents, force=force)
    return Day(habitat, runs, written)


def draw_drills(
    habitat: Habitat, drills: Sequence[Drill], folder: Path, *, system: str, force: bool = False
) -> list[Path]:
    """Draw every fault into a folder; returns what was written."""
    from loamwright.report.drill_chart import picture_of

    drawn: dict[Path, bytes] = {}
    for drill in drills:
        content = picture_of(habitat, drill, "png", system=system)
        if content:
            words = f"{drill.key}-{drill.subject}".rstrip("-")
            name = "".join(c if c.isalnum() else "-" for c in words)
            drawn[folder / f"drill-{name}.png"] = content
    taken = [path for path in drawn if path.exists()]
    if taken and not force:
        problem = f"{taken[0].name} is there already; --force writes over it"
        raise InputError(Problem(problem, file=str(folder)))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputError(Problem(f"{folder} cannot be made: {error.strerror}", "-o")) from error
    for path, content in drawn.items():
        write_file(path, content, force=force)
    return list(drawn)


def year(
    path: Path, *, csv: Path | None = None, units: str | None = None, kept: Path | None = None,
    force: bool = False, note: Note = quiet,
) -> Day:  # fmt: skip
    """Run a whole year; ``csv`` a file to write every hour to."""
    from loamwright.report.day_out import day_csv

    checked_targets(csv, None, force=force)
    note("reading the habitat")
    habitat = read(path)
    run = climate_year(habitat, kept=kept, note=note)
    written: tuple[Path, ...] = ()
    if csv is not None:
        content = day_csv(habitat, [run], units or habitat.units).encode()
        write_file(csv, content, force=force)
        written = (csv,)
    return Day(habitat, {"year": run}, written)


def _known_sites(habitat: Habitat, sites: Sequence[str]) -> None:
    from loamwright.report.climate_charts import MOST_SITES

    names = [s.name for s in habitat.sites]
    unknown = [s for s in sites if s not in names]
    if unknown:
        told = ", ".join(names) or "none"
        raise InputError(Problem(f"no site is called '{unknown[0]}'; there are: {told}", "--site"))
    if len(sites) > MOST_SITES:
        raise InputError(Problem(f"a chart holds {MOST_SITES} sites at most", "--site"))
