"""Commands: what a person types, turned into workflow calls and an exit status.

0 done and nothing missed; 1 done and something missed; 2 the input is wrong; 3 an engine failed its
own balance. Nothing heavy is imported until a command needs it.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import click

from loamwright import __version__, build_commands, living_commands, pack_commands
from loamwright.command_parts import (
    AFRESH,
    FILE,
    FORCE,
    JSON,
    SHOWN_IN,
    UNITS,
    kept_in,
    name_written,
    progress,
    show_tables,
)
from loamwright.errors import BalanceError, InputError, Problem

GROUPS = (
    "animals", "plants", "lamps", "fans", "nozzles", "filters", "mixes", "media", "components",
    "covers", "materials", "spectra", "decomposers",
)  # fmt: skip

MISSED, WRONG, UNBALANCED = 1, 2, 3


class _Commands(click.Group):
    """Turns this package's errors into one message and the documented status."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except InputError as error:
            for problem in error.problems:
                click.echo(str(problem), err=True)
            count = len(error.problems)
            if count > 1:
                click.echo(f"{count} problems; nothing was computed or written", err=True)
            ctx.exit(WRONG)
        except BalanceError as error:
            click.echo(str(error), err=True)
            ctx.exit(UNBALANCED)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="loamwright")
def main() -> None:
    """Planted, live-soil habitats for reptiles and amphibians, computed before they are built.

    Start with: loamwright new my.yaml, then: loamwright check my.yaml
    """


def _system(units: str | None, habitat_units: str) -> str:
    return units or habitat_units


def _made(file: Path) -> str:
    """From what, when and by which version a page was made."""
    import time

    return f"from {file.name}, {time.strftime('%Y-%m-%d')}, loamwright {__version__}"


@main.command()
@FILE
@click.option("--example", metavar="NAME",
              help="Write an example: forest-edge, dry-rock, rain-glass, school-meadow.")  # fmt: skip
@click.option("--size", help='Inside size, e.g. "120 x 60 x 90 cm" (width x depth x height).')
@click.option("--animal", help="A species of the catalogue (loamwright list animals).")
@click.option("--units", type=UNITS, default="metric", show_default=True)
@FORCE
def new(
    file: Path, example: str | None, size: str | None, animal: str | None, units: str, force: bool
) -> None:
    """Write a commented starter habitat file, or an example."""
    from loamwright import workflow

    for path in workflow.new(file, example=example, size=size, animal=animal, units=units,
                             force=force):  # fmt: skip
        click.echo(f"wrote {path}")
    click.echo(f"next: loamwright check {file}")


@main.command()
@FILE
@click.option("-o", "folder", type=click.Path(path_type=Path), metavar="DIR",
              help="Also write the one-page overview and its pictures there.")  # fmt: skip
@click.option("--explain", is_flag=True, help="Show defaults used and every source.")
@click.option("--only", metavar="NAMES", help="Engines to run, with commas, e.g. light,climate.")
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def check(
    file: Path,
    folder: Path | None,
    explain: bool,
    only: str | None,
    as_json: bool,
    units: str | None,
    force: bool,
    afresh: bool,
) -> None:
    """Compute everything needed and print the findings, worst first."""
    from loamwright import workflow

    engines = tuple(n.strip() for n in only.split(",")) if only else workflow.ENGINES
    written: list[Path] = []
    with progress() as note:
        checked = workflow.check(file, kept=kept_in(afresh), only=engines, note=note)
        system = _system(units, checked.habitat.units)
        if folder is not None:
            from loamwright.pages import write_pages

            written = write_pages(checked, folder, system=system, made=_made(file), force=force,
                                  note=note)  # fmt: skip
    if as_json:
        from loamwright.report.json_out import check_document, dump

        click.echo(dump(check_document(checked.habitat, checked.findings, checked.engines, system)))
    else:
        from loamwright.report.blocks import check_report
        from loamwright.report.terminal import console, print_check

        report = check_report(checked.habitat, checked.findings, system, explain=explain)
        print_check(report, console())
        name_written(written)
    sys.exit(MISSED if checked.missed else 0)


@main.command()
@FILE
@click.option("--grid", metavar="LENGTH", help='Spacing of a grid, e.g. "5 cm"; needs -o.')
@click.option("-o", "output", type=click.Path(path_type=Path), metavar="FILE.nc",
              help="Write the grid as labelled NetCDF.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def light(
    file: Path,
    grid: str | None,
    output: Path | None,
    as_json: bool,
    units: str | None,
    force: bool,
    afresh: bool,
) -> None:
    """Ultraviolet, plant light and radiant heat at the sites, or on a grid."""
    from loamwright import lookup, volumes, workflow

    if (grid is None) != (output is None):
        raise InputError(Problem("--grid and -o go together, e.g. --grid '5 cm' -o fields.nc"))
    spacing = None
    if grid is not None and output is not None:
        spacing = lookup.grid_spacing(grid, output, force=force)
    with progress() as note:
        note("reading the habitat")
        habitat = workflow.read(file)
        sites = workflow.light_result(habitat, workflow.results_in(kept_in(afresh)), note).sites
        if spacing is not None and output is not None:
            dataset = volumes.light_volume(habitat, spacing, note)
            volumes.write_fields(dataset, output, force=force)
    if as_json:
        from loamwright.report.json_out import dump, light_document

        click.echo(dump(light_document(habitat, sites)))
        return
    from loamwright.report.blocks import places_table, sites_table

    system = _system(units, habitat.units)
    tables = [sites_table(sites, facing, system) for facing in ("brightest", "up", "normal")]
    show_tables([*tables, places_table(sites, system)], [output] if output is not None else [])


@main.command()
@FILE
@click.option("--only", metavar="FAULT", help="One kind of fault, e.g. stuck-on, power-cut.")
@click.option("-o", "folder", type=click.Path(path_type=Path), metavar="DIR",
              help="Also draw each fault there.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def drill(
    file: Path, only: str | None, folder: Path | None, as_json: bool, units: str | None,
    force: bool, afresh: bool,
) -> None:  # fmt: skip
    """What fails, what follows: each fault for two days, against the residents' limits."""
    from loamwright import workflow

    habitat = workflow.read(file)
    with progress() as note:
        found = workflow.drills(habitat, only=only, kept=kept_in(afresh), note=note)
        system = _system(units, habitat.units)
        written: list[Path] = []
        if folder is not None:
            from loamwright import pages

            written = pages.draw_drills(habitat, found, folder, system=system, force=force)
    from loamwright.report import drill_report

    if as_json:
        from loamwright.report.json_out import dump

        click.echo(dump(drill_report.drill_document(habitat, found)))
    else:
        from loamwright.report.terminal import console, print_drills

        print_drills(habitat, found, system, console())
        name_written(written)
    sys.exit(MISSED if any(d.first is not None for d in found) else 0)


@main.command("open")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(0, 65535), default=8321, show_default=True,
              help="0 takes any that is free.")  # fmt: skip
@click.option("--host", default="127.0.0.1", show_default=True,
              help="Another than this machine demands a pass-phrase.")  # fmt: skip
@click.option("--no-browser", is_flag=True, help="Do not open a browser.")
def open_(file: Path | None, port: int, host: str, no_browser: bool) -> None:
    """Serve the workbench and open it in a browser.

    On a network (--host) it asks for the pass-phrase in LOAMWRIGHT_PASSPHRASE, or one typed here.
    """
    from loamwright.web import base, serving

    phrase = os.environ.get("LOAMWRIGHT_PASSPHRASE")
    if phrase is None and host not in base.LOCAL and sys.stdin.isatty():
        phrase = click.prompt("pass-phrase of the workbench", hide_input=True,
                              confirmation_prompt=True)  # fmt: skip
    settings = serving.settings_for(file, host, phrase)
    with serving.listener(host, port) as sock:
        at = serving.address(host, sock.getsockname()[1], file)
        click.echo(f"the workbench is at {at}")
        click.echo("end it with Ctrl-C; drafts are kept")
        serving.serve(settings, sock, browse="" if no_browser else at)


@main.command()
@FILE
@click.option("--season", type=click.Choice(["winter", "middle", "summer", "all"]),
              default="winter", show_default=True)  # fmt: skip
@click.option(
    "--year", is_flag=True, help="A whole year instead, month by month (a minute or more)."
)
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write every row of the run.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw the day, as .png or .svg.")  # fmt: skip
@click.option("--site", "sites", multiple=True, metavar="NAME",
              help="A place to draw; may be said up to four times.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def day(
    file: Path, season: str, year: bool, table: Path | None, plot: Path | None,
    sites: tuple[str, ...], as_json: bool, units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Heat, humidity and air through a typical day, or through a year."""
    from loamwright import pages

    if year:
        if plot is not None or sites:
            raise InputError(Problem("a year is not drawn; leave --plot and --site out", "--year"))
        _year(file, table, as_json=as_json, units=units, force=force, afresh=afresh)
        return

    if as_json and season == "all":
        raise InputError(Problem("one document holds one season; say which", "--season"))
    if sites and plot is None:
        raise InputError(Problem("--site chooses what --plot draws; say --plot too", "--site"))
    with progress() as note:
        found = pages.day(file, season=season, sites=sites, csv=table, plot=plot, units=units,
                          kept=kept_in(afresh), force=force, note=note)  # fmt: skip
    if as_json:
        from loamwright.report.day_out import day_document
        from loamwright.report.json_out import dump

        click.echo(dump(day_document(found.habitat, found.runs[season])))
        return
    from loamwright.report.day_blocks import day_tables

    system = _system(units, found.habitat.units)
    show_tables([t for run in found.runs.values() for t in day_tables(found.habitat, run, system)],
                found.written)  # fmt: skip


def _year(
    file: Path, table: Path | None, *, as_json: bool, units: str | None, force: bool, afresh: bool
) -> None:
    from loamwright import pages

    with progress() as note:
        found = pages.year(
            file, csv=table, units=units, kept=kept_in(afresh), force=force, note=note
        )
    run = found.runs["year"]
    if as_json:
        from loamwright.report.json_out import dump
        from loamwright.report.year_report import year_document

        click.echo(dump(year_document(found.habitat, run)))
        return
    from loamwright.report.year_report import year_tables

    system = _system(units, found.habitat.units)
    show_tables(year_tables(found.habitat, run, system), found.written)


@main.command()
@FILE
@click.option("--weeks", type=click.IntRange(1, 52), default=8, show_default=True,
              help="How long the ground's water is followed.")  # fmt: skip
@click.option("--season", type=click.Choice(["winter", "summer"]), default="winter",
              show_default=True, help="In the middle of which it begins.")  # fmt: skip
@click.option("--mist-only", is_flag=True, help="Do not follow the computed watering by hand.")
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write the water of every day.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw layers and water, as .png or .svg.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def ground(
    file: Path, weeks: int, season: str, mist_only: bool, table: Path | None, plot: Path | None,
    as_json: bool, units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Layers, volumes, bags and weights of the ground, and its water over weeks."""
    from loamwright import ground_pages

    with progress() as note:
        found = ground_pages.ground(
            file, weeks=weeks, season=season, by_hand=not mist_only, csv=table, plot=plot,
            units=units, kept=kept_in(afresh), force=force, note=note,
        )  # fmt: skip
    if as_json:
        from loamwright.report.ground_out import ground_document
        from loamwright.report.json_out import dump

        click.echo(dump(ground_document(found.habitat, found.amount, found.water)))
        return
    from loamwright.report.ground_blocks import ground_tables

    system = _system(units, found.habitat.units)
    show_tables(ground_tables(found.habitat, found.amount, found.water, system), found.written)


@main.command()
@FILE
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write UV and warmth of every hour at every place.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw the choice chart, as .png or .svg.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def animals(
    file: Path, table: Path | None, plot: Path | None, as_json: bool, units: str | None,
    force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Room for the animals, their places and ways, what they can choose from, their descent."""
    from loamwright import animals_pages

    with progress() as note:
        found = animals_pages.animals(file, csv=table, plot=plot, units=units, kept=kept_in(afresh),
                                      force=force, note=note)  # fmt: skip
    system = _system(units, found.habitat.units)
    if as_json:
        from loamwright.report.animals_out import animals_document
        from loamwright.report.json_out import dump

        click.echo(dump(animals_document(found.habitat, found.animals, found.findings, system)))
    else:
        from loamwright.report.animals_blocks import animals_tables
        from loamwright.report.blocks import check_report
        from loamwright.report.terminal import console, print_findings, print_tables

        out = console()
        print_tables(animals_tables(found.habitat, found.animals, system), out)
        print_findings(check_report(found.habitat, found.findings, system), out)
        name_written(found.written)
    sys.exit(MISSED if found.missed else 0)


@main.command("list")
@click.argument("group", type=click.Choice(GROUPS))
@click.option("--catalogue", "own", multiple=True, type=click.Path(path_type=Path),
              help="An own catalogue file to read as well.")  # fmt: skip
@SHOWN_IN
def list_(group: str, own: tuple[Path, ...], units: str | None) -> None:
    """List a group of the catalogue."""
    from loamwright import lookup
    from loamwright.report.terminal import console, print_table

    print_table(lookup.catalogue_list(group, own, units or "metric"), console())


@main.command()
@click.argument("group", type=click.Choice(GROUPS))
@click.argument("name")
@click.option("--catalogue", "own", multiple=True, type=click.Path(path_type=Path),
              help="An own catalogue file to read as well.")  # fmt: skip
@SHOWN_IN
def show(group: str, name: str, own: tuple[Path, ...], units: str | None) -> None:
    """Show one catalogue entry with the source of every number."""
    from loamwright import lookup
    from loamwright.report.terminal import console, print_table

    print_table(lookup.catalogue_entry(group, name, own, units or "metric"), console())


@main.command()
@click.option("--of", default="habitat", show_default=True,
              type=click.Choice(["habitat", "check", "light", "day", "year", "drill", "ground",
                                 "animals", "decomposers", "plants", "strength", "wiring"]),
              help="Of the habitat file, or of a command's --json.")  # fmt: skip
def schema(of: str) -> None:
    """Print a JSON Schema."""
    import json

    from loamwright import workflow

    click.echo(json.dumps(workflow.schema(of), indent=2, ensure_ascii=False))


living_commands.register(main)
build_commands.register(main)
pack_commands.register(main)


def run() -> None:
    """Entry point; a closed pipe ends quietly."""
    try:
        main()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
