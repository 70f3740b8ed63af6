"""A made-up run of the climate over a day for the made-up habitat of `report_sample`.

Nothing here is computed by the engine: smooth curves of a size that occurs, so that what the reports
make of them can be told beforehand.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.air import Fan, FanType
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.misting import Mist, Nozzle, NozzleType
from loamwright.habitat.money import Money
from loamwright.habitat.residents import Group
from report_sample import ANY, GECKO, habitat

ZERO = 273.15

WARM_GECKO = replace(
    GECKO, preferred_body=(305.15, 309.15), basking_surface=(308.15, 313.15), air_warm=303.15,
    air_cool=298.15, night=(291.15, 296.15), humidity_day=(0.6, 0.8), humidity_night=(0.7, 0.9),
)  # fmt: skip
FROG = Species(
    "dendrobates", "dart frog", ANY, "Dendrobates", "Amphibia", "diurnal", "terrestrial",
    humidity_day=(0.75, 0.9), night=(291.15, 294.15),
)  # fmt: skip

FAN = FanType("fan", "small fan", ANY, 0.092, 0.01, 20.0, 1.2)
NOZZLE = NozzleType("fine", "fine nozzle", ANY, 1e-6, 1.0, 1e-4)


def climate_habitat(**changes: object) -> Habitat:
    """The sample habitat with a fan, mist and prices."""
    made = {
        "fans": (Fan("exhaust", FAN, "top", (1.3, 0.6), False),),
        "mist": Mist(0.025, (Nozzle("n1", NOZZLE, (0.5, 0.4, 1.3)),), ((27000.0, 40.0),)),
        "money": Money("EUR", electricity=0.36 / 3.6e6),
        "animals": (Group(WARM_GECKO, 1, 2),),
    }
    return habitat(**(made | changes))


def run(
    made: Habitat | None = None, season: str = "winter", every: int = 10, **changes: object
) -> ClimateRun:
    """A day in which lamps are on from 8 to 18 and warm the first site most, the others less."""
    made = made or climate_habitat()
    rows = 1440 // every + 1
    hours = np.arange(rows) * every / 60.0
    on = ((hours > 8.0) & (hours <= 18.0)).astype(float)
    warm = np.clip(np.sin(np.pi * (hours - 7.0) / 12.0), 0.0, None)
    count = len(made.sites)
    room = ZERO + (22.0 if season == "summer" else 18.0) + 2.0 * warm
    lift = np.linspace(5.0, 2.0, count)
    air = room[:, None] + warm[:, None] * lift[None, :]
    humidity = 0.72 - 0.3 * warm[:, None] + np.linspace(0.0, 0.12, count)[None, :]
    surface = air + 8.0 * warm[:, None]
    surface[:, -1] = np.nan
    columns, layers = 3, 4
    low, high = np.array([0.0, 0.0, made.ground.depth]), np.array([1.5, 0.69, 1.4])
    rise = np.repeat(np.arange(layers), columns) + 0.25 * np.tile(np.arange(columns), layers)
    cells = room[:, None] + warm[:, None] * rise[None, :]
    owners = ("front", "front", "left", "ground", "fig")
    films = np.zeros((rows, 5))
    films[(hours >= 20.0) & (hours < 22.0), 0] = 0.02  # half of the front is wet for two hours
    films[:, 3] = 0.5
    mist = np.zeros(rows)
    mist[np.abs(hours - 7.5) < 1e-6] = 40.0
    lamps = np.column_stack([on * (0.5 if x.name == "grow" else 1.0) for x in made.lamps])
    sums = {x.name: x.type.power * lamps[1:, i].sum() * every * 60.0
            for i, x in enumerate(made.lamps)}  # fmt: skip
    found = ClimateRun(
        season=season, hours=hours, clock=np.append(hours[:-1] % 24.0, 24.0),
        sites=tuple(s.name for s in made.sites), air=air, humidity=humidity, surface=surface,
        operative={g.species.key: air + 11.0 * warm[:, None] for g in made.animals
                   if g.species is not FROG},
        time_constant={g.species.key: np.full_like(air, 400.0) for g in made.animals
                       if g.species is not FROG},
        room=room, room_humidity=0.42 - 0.07 * warm, grid=(columns, layers), low=low, high=high,
        cell_air=cells, cell_humidity=0.75 - 0.05 * warm[:, None] * rise[None, :],
        surfaces=np.full((rows, 5), 293.0), films=films, surface_owner=owners,
        surface_area=np.array([0.5, 0.5, 1.0, 1.0, 0.4]), lamps=lamps,
        bodies=np.full((rows, len(made.lamps)), 320.0), fans=0.4 * on[:, None],
        fan_flow=0.001 * on[:, None], mist=mist,
        changes=np.where(hours > 0, (0.1 + 4.9 * on) / 3600.0, 0.02),
        energy={**sums, "exhaust": 9.6e3, "pump": 960.0},
        water={"mist": 0.2, "bowls": -0.003, "soil": 0.15, "leaves": 0.25, "soaked": 0.0,
               "vented": 0.597},
        heat={"condensed": 0.01}, balance=(2e-7, 3e-4), days=3, lamp_names=tuple(
            x.name for x in made.lamps), fan_names=tuple(f.name for f in made.fans),
        daytime=(hours >= 7.0) & (hours < 19.0),
    )  # fmt: skip
    return replace(found, **changes)  # type: ignore[arg-type]
