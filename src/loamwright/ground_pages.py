"""The ground as a person asks for it: quantities and water, with their table and chart."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.targets import checked_targets, write_all
from loamwright.workflow import Note, ground_water, quiet, read, results_in

if TYPE_CHECKING:
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.ground.quantities import Quantities
    from loamwright.habitat.habitat import Habitat


@dataclass(frozen=True)
class Ground:
    """A habitat's ground: how much of what, its water (None where no layer holds any), and where
    its table and chart were written."""

    habitat: Habitat
    amount: Quantities
    water: Coupled | None
    written: tuple[Path, ...] = ()


def ground(
    path: Path, *, weeks: int = 8, season: str = "winter", by_hand: bool = True,
    csv: Path | None = None, plot: Path | None = None, units: str | None = None,
    kept: Path | None = None, force: bool = False, note: Note = quiet,
) -> Ground:  # fmt: skip
    """Quantities of the ground, and its water over so many weeks from the middle of a season.

    ``by_hand`` False leaves the computed watering by hand out; ``csv`` and ``plot`` are files to
    write the days and a chart to; ``units`` chooses bags and what people are shown.

    Raises
    ------
    InputError
        If the file is wrong, has no ground, or something may not be written.
    """
    from loamwright.engine.ground.quantities import ground_quantities

    kind = checked_targets(csv, plot, force=force)
    note("reading the habitat")
    habitat = read(path)
    if not habitat.ground.layers:
        problem = "has no ground: give its layers, the lowest first, under ground:"
        raise InputError(Problem(problem, "ground", file=str(path)))
    system = units or habitat.units
    amount = ground_quantities(habitat, us=system == "us")
    water = ground_water(habitat, weeks, (season,), results_in(kept), note, by_hand=by_hand)
    if csv is not None and water is None:
        raise InputError(Problem("no layer holds water, so there are no rows", "--csv"))
    contents: dict[Path, bytes] = {}
    if csv is not None and water is not None:
        from loamwright.report.ground_out import ground_csv

        contents[csv] = ground_csv(water.outlooks[0]).encode()
    if plot is not None:
        from loamwright.report.ground_charts import ground_chart

        contents[plot] = ground_chart(habitat, amount, water, kind, system)
    written = write_all(contents, force=force)
    return Ground(habitat, amount, water, written)
