"""What a run of the climate says: by hour, at every place, and in sums."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_TABLES = ("operative", "time_constant")


@dataclass(frozen=True)
class ClimateRun:
    """One run, a row every few minutes (R rows, Z sites, N air cells, S surfaces, L lamps, F fans).

    ``season`` and ``fault`` say what was run (no fault: ``""``). ``hours`` (R,) since the run began,
    ``clock`` (R,) hour of the day. At the sites ``air`` [K], ``humidity`` (share of saturation) and
    ``surface`` [K] (NaN in free air), all (R, Z); ``operative`` and ``time_constant`` (R, Z) by species
    [K], [s]. ``room`` [K] and ``room_humidity`` (R,). ``cell_air`` [K] and ``cell_humidity`` (R, N) on
    ``grid`` (columns, layers) between ``low`` and ``high`` (3,) [m]. ``surfaces`` (R, S) [K], ``films``
    (R, S) [kg/m2] with ``surface_owner`` and ``surface_area`` [m2] (S). ``lamps`` (R, L) share of full,
    ``bodies`` (R, L) [K], ``fans`` (R, F) speed, ``fan_flow`` (R, F) [m3/s], ``mist`` (R,) seconds
    since the row before, ``changes`` (R,) air changes [1/s]. ``energy`` [J] by what used it, ``water``
    [kg] by where it came from or went, ``heat`` [J] as `network.LEDGER` has it, all over the run;
    ``balance`` shares of heat and water that are missing; ``days`` a day was run until it repeated.
    """

    season: str
    hours: Floats
    clock: Floats
    sites: tuple[str, ...]
    air: Floats
    humidity: Floats
    surface: Floats
    operative: Mapping[str, Floats]
    time_constant: Mapping[str, Floats]
    room: Floats
    room_humidity: Floats
    grid: tuple[int, int]
    low: Floats
    high: Floats
    cell_air: Floats
    cell_humidity: Floats
    surfaces: Floats
    films: Floats
    surface_owner: tuple[str, ...]
    surface_area: Floats
    lamps: Floats
    bodies: Floats
    fans: Floats
    fan_flow: Floats
    mist: Floats
    changes: Floats
    energy: Mapping[str, float]
    water: Mapping[str, float]
    heat: Mapping[str, float]
    balance: tuple[float, float]
    days: int = 1
    fault: str = ""
    lamp_names: tuple[str, ...] = ()
    fan_names: tuple[str, ...] = ()
    daytime: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, bool))

    def arrays(self) -> dict[str, NDArray[Any]]:
        """The run as named arrays of plain kinds."""
        out: dict[str, NDArray[Any]] = {}
        plain: dict[str, Any] = {}
        for f in fields(self):
            value = getattr(self, f.name)
            if isinstance(value, np.ndarray):
                out[f.name] = value
            elif f.name in _TABLES:
                plain[f.name] = list(value)
                out |= {f"{f.name}/{key}": table for key, table in value.items()}
            else:
                plain[f.name] = dict(value) if isinstance(value, Mapping) else value
        out["plain"] = np.array(json.dumps(plain))
        return out

    @classmethod
    def from_arrays(cls, arrays: Mapping[str, NDArray[Any]]) -> ClimateRun:
        """The run from what `arrays` gave."""
        values: dict[str, Any] = json.loads(str(arrays["plain"]))
        for f in fields(cls):
            if f.name in _TABLES:
                values[f.name] = {k: arrays[f"{f.name}/{k}"] for k in values[f.name]}
            elif f.name in arrays:
                values[f.name] = arrays[f.name]
            elif isinstance(values[f.name], list):
                values[f.name] = tuple(values[f.name])
        return cls(**values)

    def site(self, name: str) -> int:
        """Column of a site."""
        return self.sites.index(name)

    @property
    def rows_by_hour(self) -> NDArray[np.int64]:
        """Rows that fall on full hours."""
        return np.nonzero(np.abs(self.hours - np.round(self.hours)) < 1e-6)[0]

    @property
    def electricity(self) -> float:
        """Electricity used over the run [J]."""
        return float(sum(self.energy.values()))
