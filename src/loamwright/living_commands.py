"""Commands of the living parts: ``plants``, ``decomposers``. Nothing heavy is imported before."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from loamwright.workflow import Note

_FILE = click.argument("file", type=click.Path(path_type=Path))
_UNITS = click.option("--units", type=click.Choice(["metric", "us"]),
                      help="What people are shown; default: the file's own.")  # fmt: skip
_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document and nothing else.")
_FORCE = click.option("--force", is_flag=True, help="Write over what is there.")
_AFRESH = click.option("--afresh", is_flag=True, help="Compute anew, use nothing kept from before.")
_SEASON = click.option("--season", type=click.Choice(["winter", "summer"]), default="winter",
                       show_default=True, help="In the middle of which it is planted.")  # fmt: skip


@contextmanager
def _progress() -> Iterator[Note]:
    """Says on a terminal what is going on; silent when piped."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield lambda text: status.update(f"{text} …")


def _kept(afresh: bool) -> Path | None:
    from loamwright.workflow import kept_folder

    return None if afresh else kept_folder()


@click.command()
@_FILE
@_SEASON
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write numbers and matter of every day.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw numbers and matter over the year, as .png or .svg.")  # fmt: skip
@_JSON
@_UNITS
@_FORCE
@_AFRESH
def decomposers(
    file: Path, season: str, table: Path | None, plot: Path | None, as_json: bool,
    units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """What lives in the ground: starters, day of readiness, waste it carries, leaves, by hand."""
    from loamwright import living_pages

    with _progress() as note:
        found = living_pages.decomposers(file, season=season, csv=table, plot=plot,
                                         kept=_kept(afresh), force=force, note=note)  # fmt: skip
    if as_json:
        from loamwright.report.decomposers_out import decomposers_document
        from loamwright.report.json_out import dump

        click.echo(dump(decomposers_document(found.habitat, found.found)))
        return
    from loamwright.report.decomposers_blocks import decomposers_tables
    from loamwright.report.terminal import console, print_tables

    system = units or found.habitat.units
    print_tables(decomposers_tables(found.habitat, found.found, system), console())
    for path in found.written:
        click.echo(f"wrote {path}")


@click.command()
@_FILE
@_SEASON
@click.option("--csv", "table", type=click.Path(path_type=Path), metavar="FILE.csv",
              help="Write height, spread and light of every day.")  # fmt: skip
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw height and light over the year, as .png or .svg.")  # fmt: skip
@_JSON
@_UNITS
@_FORCE
@_AFRESH
def plants(
    file: Path, season: str, table: Path | None, plot: Path | None, as_json: bool,
    units: str | None, force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Plants over a year: light and warmth, growth, pruning days, shade, a planting plan."""
    from loamwright import living_pages

    with _progress() as note:
        found = living_pages.plants(file, season=season, csv=table, plot=plot, units=units,
                                    kept=_kept(afresh), force=force, note=note)  # fmt: skip
    if as_json:
        from loamwright.report.json_out import dump
        from loamwright.report.plants_out import plants_document

        click.echo(dump(plants_document(found.habitat, found.planting)))
        return
    from loamwright.report.plants_blocks import plants_tables
    from loamwright.report.terminal import console, print_tables

    system = units or found.habitat.units
    print_tables(plants_tables(found.habitat, found.planting, system), console())
    for path in found.written:
        click.echo(f"wrote {path}")


def register(main: click.Group) -> None:
    """Add the commands to the program's."""
    main.add_command(plants)
    main.add_command(decomposers)
