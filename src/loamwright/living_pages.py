"""Plants and decomposers as a person asks for them, with their tables and charts."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.targets import checked_targets, write_all
from loamwright.workflow import (
    CHECK_SEASONS,
    CHECK_WEEKS,
    Note,
    ground_water,
    light_result,
    planting,
    quiet,
    read,
    results_in,
    small_life,
)

if TYPE_CHECKING:
    from loamwright.engine.life.decomposers_study import Found
    from loamwright.engine.life.plants_year import Planting
    from loamwright.habitat.habitat import Habitat


@dataclass(frozen=True)
class Decomposers:
    """A habitat's small life (None where its ground is dry), and where its table and chart were
    written."""

    habitat: Habitat
    found: Found | None
    written: tuple[Path, ...] = ()


def decomposers(
    path: Path, *, season: str = "winter", csv: Path | None = None, plot: Path | None = None,
    units: str | None = None, kept: Path | None = None, force: bool = False, note: Note = quiet,
) -> Decomposers:  # fmt: skip
    """What lives in a habitat's ground, from planting in the middle of a season on.

    ``csv`` and ``plot`` are files to write the days and a chart to; ``units`` what people are shown.

    Raises
    ------
    InputError
        If the file is wrong, its ground holds no water, or something may not be written.
    """
    kind = checked_targets(csv, plot, force=force)
    note("reading the habitat")
    habitat = read(path)
    store = results_in(kept)
    water = None
    if habitat.ground.layers:
        water = ground_water(habitat, CHECK_WEEKS, CHECK_SEASONS, store, note)
    if water is None:
        problem = "has no ground that holds water: give its layers, the lowest first, under ground:"
        raise InputError(Problem(problem, "ground", file=str(path)))
    found = small_life(habitat, light_result(habitat, store, note), water, store, note, season)
    contents: dict[Path, bytes] = {}
    if found is None and (csv is not None or plot is not None):
        problem = "this ground is dry and nothing is let in, so there are no days to write"
        raise InputError(Problem(problem, "--csv" if csv is not None else "--plot"))
    if csv is not None and found is not None:
        from loamwright.report.decomposers_out import decomposers_csv

        contents[csv] = decomposers_csv(found).encode()
    if plot is not None and found is not None:
        from loamwright.report.decomposers_charts import decomposers_chart

        contents[plot] = decomposers_chart(habitat, found, kind, units or habitat.units)
    written = write_all(contents, force=force)
    return Decomposers(habitat, found, written)


@dataclass(frozen=True)
class Plants:
    """A habitat's plants over a year, and where their table and chart were written."""

    habitat: Habitat
    planting: Planting
    written: tuple[Path, ...] = ()


def plants(
    path: Path, *, season: str = "winter", csv: Path | None = None, plot: Path | None = None,
    units: str | None = None, kept: Path | None = None, force: bool = False, note: Note = quiet,
) -> Plants:  # fmt: skip
    """A habitat's plants over a year from planting in the middle of a season on.

    ``csv`` and ``plot`` are files to write the days and a chart to; ``units`` what people are shown.

    Raises
    ------
    InputError
        If the file is wrong, has no plants, or something may not be written.
    """
    kind = checked_targets(csv, plot, force=force)
    note("reading the habitat")
    habitat = read(path)
    if not habitat.plants:
        raise InputError(
            Problem("has no plants: name some under plants:", "plants", file=str(path))
        )
    store = results_in(kept)
    found = planting(habitat, light_result(habitat, store, note), store, note, season)
    contents: dict[Path, bytes] = {}
    if csv is not None:
        from loamwright.report.plants_out import plants_csv

        contents[csv] = plants_csv(found).encode()
    if plot is not None:
        from loamwright.report.plants_charts import plants_chart

        contents[plot] = plants_chart(habitat, found, kind, units or habitat.units)
    written = write_all(contents, force=force)
    return Plants(habitat, found, written)
