"""What commands share: options, progress on a terminal, tables and files told. Nothing heavy is
imported before."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from loamwright.report.blocks import Table
    from loamwright.workflow import Note

UNITS = click.Choice(["metric", "us"])
FILE = click.argument("file", type=click.Path(path_type=Path))
SHOWN_IN = click.option(
    "--units", type=UNITS, help="What people are shown; default: the file's own."
)
JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document and nothing else.")
FORCE = click.option("--force", is_flag=True, help="Write over what is there.")
AFRESH = click.option("--afresh", is_flag=True, help="Compute anew, use nothing kept from before.")


@contextmanager
def progress() -> Iterator[Note]:
    """Says on a terminal what is going on; silent when piped."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield lambda text: status.update(f"{text} …")


def kept_in(afresh: bool) -> Path | None:
    """The folder of kept results; None where nothing kept is to be used."""
    from loamwright.workflow import kept_folder

    return None if afresh else kept_folder()


def name_written(written: Iterable[Path]) -> None:
    """Say what was written."""
    for path in written:
        click.echo(f"wrote {path}")


def show_tables(tables: Iterable[Table], written: Iterable[Path] = ()) -> None:
    """Print tables, then what was written."""
    from loamwright.report.terminal import console, print_tables

    print_tables(list(tables), console())
    name_written(written)
