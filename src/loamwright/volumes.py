"""The light of the whole air space on a grid, and its file."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.workflow import Note, light_model, quiet, write_file

if TYPE_CHECKING:
    import xarray as xr

    from loamwright.habitat.habitat import Habitat


def light_volume(habitat: Habitat, spacing: float, note: Note = quiet) -> xr.Dataset:
    """The light of the whole air space on a grid [m]."""
    from loamwright.engine.light.fields import volume
    from loamwright.engine.lower import air_box

    low, high = air_box(habitat)
    points = math.prod(max(2.0, (high[k] - low[k]) / spacing + 1) for k in range(3))
    if points > MOST_POINTS:
        message = f"a grid of {spacing * 100:g} cm has {points:,.0f} points, more than "
        raise InputError(Problem(f"{message}{MOST_POINTS:,}; take a wider one", "--grid"))
    note("following light to every point of the grid")
    return volume(habitat, light_model(habitat), spacing)


MOST_POINTS = 400_000
"""Largest grid that is computed in one go (about a minute and 1 GB)."""


def write_fields(dataset: xr.Dataset, path: Path, *, force: bool = False) -> None:
    """Write labelled fields as NetCDF, whole or not at all."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        made = Path(folder) / "fields.nc"
        dataset.to_netcdf(made, engine="h5netcdf")
        write_file(path, made.read_bytes(), force=force)
