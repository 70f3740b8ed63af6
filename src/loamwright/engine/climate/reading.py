"""From a run's tape to what it says at the places."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.air_film import RV
from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.network import LEAF, LEDGER, PASSIVE
from loamwright.engine.climate.operative import beam_and_even, operative_table
from loamwright.engine.climate.plan import Plan, Tape
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.values import lamp_worth
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.physics import moist_air

Floats = NDArray[np.float64]

_saturation = np.vectorize(moist_air.saturation_pressure_water, otypes=[float])


def humidity(vapour: Floats, air: Floats) -> Floats:
    """Relative humidity from vapour [kg/m3] and temperature [K]."""
    return vapour * RV * air / _saturation(air)


def saturated(air: Floats) -> Floats:
    """Vapour that air holds at most at a temperature [K], [kg/m3]."""
    return np.asarray(_saturation(air) / (RV * air))


def surface_owners(habitat: Habitat, built: Built) -> tuple[str, ...]:
    """Who each surface belongs to: an owner of the scene, a plant, an opening."""
    return (
        *(g.owner for g in built.groups),
        *(habitat.plants[p].name for p in built.leaf_plants),
        *(h.owner for h in built.holes),
    )


def read_tape(
    habitat: Habitat, study: LightStudy, built: Built, plan: Plan, tape: Tape, *, season: str,
    every: int, begin: int = 0, balance: tuple[float, float] = (0.0, 0.0), days: int = 1,
    fault: str = "",
) -> ClimateRun:  # fmt: skip
    """Everything a run says; ``every`` minutes between rows, ``begin`` the minute it began at."""
    net = built.net
    rows = len(tape.room)
    hours = np.arange(rows) * every / 60.0
    clock = np.mod(begin / 60.0 + hours, 24.0)
    clock[-1] = 24.0 if begin == 0 and clock[-1] == 0.0 else clock[-1]
    air = tape.air @ net.site_cells.T
    vapour = tape.vapour @ net.site_cells.T
    on = net.site_on >= 0
    surface = tape.sites.copy()
    radiant = radiant_at(built, tape.room, tape.surface, built.site_round)
    beam, even, warm = light_at(
        habitat.lamps, built, study.at_sites[:, :, 2:], tape.lamps, tape.bodies
    )
    operative: dict[str, Floats] = {}
    constant: dict[str, Floats] = {}
    ground = np.where(on[None, :], tape.sites, 0.0)
    for group in habitat.animals:
        found = operative_table(group.species, beam, even, warm, radiant, air, vapour, ground)
        if found is not None:
            operative[group.species.key], constant[group.species.key] = found
    fans = [i for i, p in enumerate(built.paths) if p.kind != PASSIVE]
    entering = np.maximum(-tape.flows, 0.0).sum(axis=1)
    seconds = every * 60.0
    ledger = dict(zip(LEDGER, (tape.ledger[-1] - tape.ledger[0]).tolist(), strict=True))
    minute = (begin + np.arange(rows) * every) % len(plan.daytime)
    return ClimateRun(
        season=season, hours=hours, clock=clock, sites=tuple(s.name for s in habitat.sites),
        air=air, humidity=humidity(vapour, air), surface=surface, operative=operative,
        time_constant=constant, room=tape.room,
        room_humidity=humidity(tape.room_vapour, tape.room),
        grid=(built.cells.columns, built.cells.layers), low=built.cells.low,
        high=built.cells.high, cell_air=tape.air,
        cell_humidity=humidity(tape.vapour, tape.air), surfaces=tape.surface, films=tape.films,
        surface_owner=surface_owners(habitat, built), surface_area=net.area, lamps=tape.lamps,
        bodies=tape.bodies + about_lamps(built, tape.air, tape.room), fans=tape.fans[:, fans],
        fan_flow=np.abs(tape.flows[:, fans]), mist=tape.mist,
        changes=entering / float(net.volume.sum()),
        energy=_electricity(habitat, built, tape, seconds),
        water={k: ledger[k] for k in ("mist", "bowls", "soil", "leaves", "soaked", "vented")},
        heat=ledger, balance=balance, days=days, fault=fault,
        lamp_names=tuple(x.name for x in habitat.lamps),
        fan_names=tuple(built.paths[i].owner for i in fans),
        daytime=plan.daytime[minute] > 0,
    )  # fmt: skip


def radiant_at(built: Built, room: Floats, surface: Floats, share: Floats) -> Floats:
    """Mean radiant temperature of what a body sees at each place (R, Z) [K], from the ``room``'s (R,)
    and the surfaces' (R, S) temperature and the ``share`` (Z, S) it sees of each; what no ray met
    counts as what the others saw."""
    total = np.maximum(share.sum(axis=1), 1e-9)
    temperature = surface.copy()
    net = built.net
    for a in range(len(net.area)):
        if a >= net.solids and net.wetting[a] != LEAF:
            sees = net.see_room[a]
            blend = sees * room**4 + (1.0 - sees) * surface[:, a] ** 4
            temperature[:, a] = blend**0.25
    return ((temperature**4) @ share.T / total[None, :]) ** 0.25


def light_at(
    lamps: Sequence[Lamp], built: Built, transport: NDArray[np.float32], on: Floats, bodies: Floats
) -> tuple[Floats, Floats, Floats]:
    """Beam, even light and lamps' thermal infrared at each place and time (R, Z) [W/m2]: ``transport``
    (L, Z, ways, 5) to a meter turned every way, ``on`` the share of full of each lamp and ``bodies``
    what its body is over the air about it [K] (R, L)."""
    shape = (len(on), transport.shape[1])
    beam, even, warm = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    net = built.net
    for k, lamp in enumerate(lamps):
        worth = lamp_worth(lamp, "radiant").copy()
        worth[4] = 0.0
        ways = transport[k].astype(float)
        light = ways @ worth
        b, e = beam_and_even(light.max(axis=1), light.mean(axis=1))
        beam += on[:, k : k + 1] * b[None, :]
        even += on[:, k : k + 1] * e[None, :]
        body = net.body_loss[k] * (1.0 - net.body_air[k])
        warm += bodies[:, k : k + 1] * body * ways[:, :, 4].mean(axis=1)[None, :]
    return beam, even, warm


def about_lamps(built: Built, air: Floats, room: Floats) -> Floats:
    """Air about each lamp (R, L) [K]: that of the cells its heat goes to, or the room's."""
    shares = built.net.air_heat
    inside = air @ shares.T
    outside = shares.sum(axis=1) <= 0.0
    return np.where(outside[None, :], room[:, None], inside)


def _electricity(habitat: Habitat, built: Built, tape: Tape, seconds: float) -> dict[str, float]:
    """Electricity over the run [J], by what used it."""
    out: dict[str, float] = {}
    run = tape.lamps[1:].sum(axis=0) * seconds
    for k, lamp in enumerate(habitat.lamps):
        out[lamp.name] = float(run[k]) * lamp.type.power * lamp.dim
    for i, path in enumerate(built.paths):
        if path.kind != PASSIVE:
            out[path.owner] = float((tape.fans[1:, i] ** 3).sum()) * seconds * path.power
    if habitat.mist:
        out["pump"] = float(tape.mist[1:].sum()) * habitat.mist.pump
    return out
