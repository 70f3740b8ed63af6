"""Commands of the build: ``strength``, ``wiring``. Nothing heavy is imported before."""

from __future__ import annotations

from pathlib import Path

import click

from loamwright.command_parts import FILE, FORCE, JSON, SHOWN_IN, progress, show_tables


@click.command()
@FILE
@JSON
@SHOWN_IN
def strength(file: Path, as_json: bool, units: str | None) -> None:
    """What it weighs and how it stands; panels under load, fixings, stones."""
    from loamwright import build_pages

    with progress() as note:
        found = build_pages.build(file, units=units, note=note)
    if as_json:
        from loamwright.report.json_out import dump
        from loamwright.report.strength_out import strength_document

        click.echo(dump(strength_document(found.habitat, found.build.strength)))
        return
    from loamwright.report.strength_blocks import strength_tables

    show_tables(strength_tables(found.habitat, found.build.strength, found.system))


@click.command()
@FILE
@click.option("--plot", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw the wiring, as .png or .svg.")  # fmt: skip
@click.option("--plot-mist", type=click.Path(path_type=Path), metavar="FILE.png",
              help="Draw the misting line, as .png or .svg.")  # fmt: skip
@JSON
@SHOWN_IN
@FORCE
def wiring(
    file: Path, plot: Path | None, plot_mist: Path | None, as_json: bool, units: str | None,
    force: bool,
) -> None:  # fmt: skip
    """Circuit, loads, supplies, cables, protection against water; the misting line."""
    from loamwright import build_pages

    with progress() as note:
        found = build_pages.build(file, units=units, plot=plot, plot_mist=plot_mist, force=force,
                                  note=note)  # fmt: skip
    if as_json:
        from loamwright.report.json_out import dump
        from loamwright.report.wiring_out import wiring_document

        click.echo(dump(wiring_document(found.habitat, found.build.wiring, found.build.mist)))
        return
    from loamwright.report.mist_blocks import mist_line_tables
    from loamwright.report.wiring_blocks import wiring_tables

    tables = wiring_tables(found.habitat, found.build.wiring, found.system)
    if found.build.mist is not None:
        tables += mist_line_tables(found.habitat, found.build.mist, found.system)
    show_tables(tables, found.written)


def register(main: click.Group) -> None:
    """Add the commands to the program's."""
    main.add_command(strength)
    main.add_command(wiring)
