"""Commands of the living parts: ``plants``, ``decomposers``. Nothing heavy is imported before."""

from __future__ import annotations

from pathlib import Path

import click

from loamwright.command_parts import (
    AFRESH,
    FILE,
    FORCE,
    JSON,
    SHOWN_IN,
    kept_in,
    progress,
    show_tables,
)

_SEASON = click.option("--season", type=click.Choice(["winter", "summer"]), default="winter",
                       show_default=True, help="In the middle of which it is planted.")  # fmt: skip


@click.command()
@FILE
@_SEASON
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write numbers and matter of every day.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw numbers and matter over the year, as .png or .svg.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def decomposers(
    file: Path, season: str, table: Path | None, plot: Path | None, as_json: bool,
    units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """What lives in the ground: starters, day of readiness, waste it carries, leaves, by hand."""
    from loamwright import living_pages

    with progress() as note:
        found = living_pages.decomposers(file, season=season, csv=table, plot=plot, units=units,
                                         kept=kept_in(afresh), force=force, note=note)  # fmt: skip
    if as_json:
        from loamwright.report.decomposers_out import decomposers_document
        from loamwright.report.json_out import dump

        click.echo(dump(decomposers_document(found.habitat, found.found)))
        return
    from loamwright.report.decomposers_blocks import decomposers_tables

    system = units or found.habitat.units
    show_tables(decomposers_tables(found.habitat, found.found, system), found.written)


@click.command()
@FILE
@_SEASON
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write height, spread and light of every day.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw height and light over the year, as .png or .svg.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
@AFRESH
def plants(
    file: Path, season: str, table: Path | None, plot: Path | None, as_json: bool,
    units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Plants over a year: light and warmth, growth, pruning days, shade, a planting plan."""
    from loamwright import living_pages

    with progress() as note:
        found = living_pages.plants(file, season=season, csv=table, plot=plot, units=units,
                                    kept=kept_in(afresh), force=force, note=note)  # fmt: skip
    if as_json:
        from loamwright.report.json_out import dump
        from loamwright.report.plants_out import plants_document

        click.echo(dump(plants_document(found.habitat, found.planting)))
        return
    from loamwright.report.plants_blocks import plants_tables

    system = units or found.habitat.units
    show_tables(plants_tables(found.habitat, found.planting, system), found.written)


def register(main: click.Group) -> None:
    """Add the commands to the program's."""
    main.add_command(plants)
    main.add_command(decomposers)
