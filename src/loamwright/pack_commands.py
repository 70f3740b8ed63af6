"""The command that writes the pack. Nothing heavy is imported before."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import click

from loamwright import __version__
from loamwright.command_parts import AFRESH, FILE, FORCE, SHOWN_IN, kept_in, name_written, progress
from loamwright.errors import InputError, Problem

Date = tuple[int, int, int]


def date_of(text: str | None, option: str) -> Date | None:
    """Year, month and day of ``YYYY-MM-DD``; None of None.

    Raises
    ------
    InputError
        If it is no such day.
    """
    if text is None:
        return None
    import calendar

    found = re.fullmatch(r"(\d{4})-(\d{2})-(\d{2})", text)
    if found:
        year, month, day = (int(x) for x in found.groups())
        if year >= 1980 and 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]:
            return year, month, day
    problem = f"'{text}' is no day; write it as 2026-03-01 (from 1980 on)"
    raise InputError(Problem(problem, option))


def today() -> Date:
    """The day on the clock here."""
    import time

    now = time.localtime()
    return now.tm_year, now.tm_mon, now.tm_mday


@click.command()
@FILE
@click.option("-o", "folder", required=True, type=click.Path(path_type=Path), metavar="DIR",
              help="Where the pack is written; made where it is not there.")  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--date", metavar="YYYY-MM-DD",
              help="The date on the cover and in every file; default: today.")  # fmt: skip
@click.option("--start", metavar="YYYY-MM-DD",
              help="The day work begins; default: the date.")  # fmt: skip
@SHOWN_IN
@FORCE
@AFRESH
def pack(
    file: Path, folder: Path, paper: str, date: str | None, start: str | None, units: str | None,
    force: bool, afresh: bool,
) -> None:  # fmt: skip
    """Everything the build needs, on paper: one PDF, and its lists, drawings and calendar as files."""
    on, begins = date_of(date, "--date"), date_of(start, "--start")
    from loamwright import pack_pages

    with progress() as note:
        packed = pack_pages.pack(
            file, folder, date=on or today(), start=begins, paper=paper, units=units,
            made=f"loamwright {__version__}", kept=kept_in(afresh), force=force, note=note,
        )  # fmt: skip
    name_written(packed.written)
    sys.exit(1 if packed.missed else 0)


def register(main: click.Group) -> None:
    """Add the commands to the program's."""
    main.add_command(pack)
