"""Sections with the air's temperature or humidity in them, from the front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities, scales
from loamwright.report.climate_words import clock
from loamwright.report.day_blocks import row_at, season_words
from loamwright.report.plain import capital
from loamwright.report.sections import section_bytes

if TYPE_CHECKING:
    import xarray as xr
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SPACING = 0.025
"""Distance between drawn points [m]."""

HERE = "here"
"""The one facing of quantities that have none."""

RAMPS: dict[str, tuple[str, bool]] = {"air_temperature": ("inferno", False),
                                      "humidity": ("cividis", True)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SiteAir:
    """A site with its air, in the shape the sections read."""

    name: str
    at: Vec3
    role: str
    values: Mapping[str, Mapping[str, float]] = field(default_factory=dict)


def cell_values(run: ClimateRun, quantity: str, row: int) -> Floats:
    """A quantity in the cells of air at a row, (layers, columns) from below left, in SI."""
    table = {"air_temperature": run.cell_air, "humidity": run.cell_humidity}[quantity]
    columns, layers = run.grid
    return np.asarray(table[row], float).reshape(layers, columns)


def between_cells(run: ClimateRun, cells: Floats, x: Floats, z: Floats) -> Floats:
    """Values (len(z), len(x)) at points, linear between the middles of the cells and level beyond the
    outermost, as the engine reads them at sites."""
    columns, layers = run.grid
    middles_x = run.low[0] + (np.arange(columns) + 0.5) * (run.high[0] - run.low[0]) / columns
    middles_z = run.low[2] + (np.arange(layers) + 0.5) * (run.high[2] - run.low[2]) / layers
    across = np.array([np.interp(x, middles_x, row) for row in cells])
    return np.array([np.interp(z, middles_z, column) for column in across.T]).T


def air_section(run: ClimateRun, quantity: str, row: int, position: float) -> xr.Dataset:
    """The air between the cells on a grid of the front view; ``position`` [m] of the cut along y."""
    import xarray as xr

    low, high = run.low, run.high
    x, z = (np.linspace(low[k], high[k], max(int((high[k] - low[k]) / SPACING), 2) + 1)
            for k in (0, 2))  # fmt: skip
    values = between_cells(run, cell_values(run, quantity, row), x, z)
    return xr.Dataset(
        {quantity: (("x", "z"), values.T, {"facing": HERE})},
        coords={"x": x, "z": z, "y": position},
    )


def shared_span(runs: Sequence[ClimateRun], quantity: str, hour: float) -> tuple[float, float]:
    """Least and most [SI] of a quantity in the air of several runs at an hour, for one scale."""
    found = [cell_values(run, quantity, row_at(run, hour)) for run in runs]
    return min(float(f.min()) for f in found), max(float(f.max()) for f in found)


def climate_section_bytes(
    habitat: Habitat,
    run: ClimateRun,
    hour: float,
    quantity: str,
    kind: str = "svg",
    *,
    position: float | None = None,
    span: tuple[float, float] | None = None,
    system: str = "metric",
    printed: bool = False,
) -> bytes:
    """The air at an hour, seen from the front, as a picture's bytes (``png`` or ``svg``).

    ``quantity`` is ``air_temperature`` or ``humidity``; ``position`` [m] the cut along the depth
    (default: through the first basking place, or the middle), ``span`` least and most [SI] where
    several pictures are to share a scale of colours, ``printed`` as in `section_bytes`. The engine
    keeps one value over the whole depth.
    """
    row = row_at(run, hour)
    if position is None:
        position = basking_depth(habitat)
    low, high = span or shared_span([run], quantity, hour)
    low, high = (quantities.shown(quantity, v, system) for v in (low, high))
    name, unit = quantities.NAMES[quantity], quantities.unit(quantity, system)
    ramp, backward = RAMPS[quantity]
    scale = scales.even_scale(f"{capital(name)}\n{unit}", low, high, ramp, backward=backward)
    table = {"air_temperature": run.air, "humidity": run.humidity}[quantity]
    # Crowns are named already; a second name at each would bury the drawing.
    sites = [
        SiteAir(s.name, s.at, s.role, {HERE: {quantity: float(table[row, run.site(s.name)])}})
        for s in habitat.sites
        if s.role != "crown" and s.name in run.sites
    ]
    return section_bytes(
        habitat, air_section(run, quantity, row, position), quantity, kind, axis="y",
        position=position, sites=sites, system=system, facing=HERE, scale=scale,
        note=f"{season_words(run.season)}, {clock(run.clock[row])}; one value over the whole depth",
        printed=printed,
    )  # fmt: skip


def basking_depth(habitat: Habitat) -> float:
    """Where the front view is cut [m]: through the first basking place, else the middle."""
    basking = next((s for s in habitat.sites if s.role == "basking"), None)
    return basking.at[1] if basking else habitat.enclosure.inside[1] / 2
