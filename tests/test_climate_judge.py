"""The whole network of a habitat against SciPy's solvers, and against itself with more cells.

The judge integrates the same rates minute by minute at a relative tolerance of 1e-8. On the small
habitat it is SciPy's LSODA, and the controllers decide on the judge's own state. On the demo, whose 895
equations LSODA takes a second a minute for, it is DOP853; there both follow the same decisions, for a
heater that switches a minute later is not an error of the step, yet moves the air by half a kelvin.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import climate_boxes as boxes
import climate_small as small
from loamwright.engine.climate import drive, study
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import PASSIVE, Forcing
from loamwright.engine.climate.plan import DAY_MINUTES, Memory, at_midnight
from loamwright.engine.climate.rates import rates
from loamwright.engine.climate.reading import humidity, read_tape
from loamwright.engine.climate.running import _drive, decide

pytestmark = [pytest.mark.slow, pytest.mark.judge]

KELVIN, SHARE = 0.05, 0.005
"""Largest departure allowed from the judge: 0.05 K, 0.5 % of humidity."""

FINER_KELVIN, FINER_SHARE = 0.5, 0.03
"""Largest change allowed with twice the cells along each axis."""


def judged(net, plan, state, memory, begin: int, minutes: int, method="LSODA") -> np.ndarray:
    """States (minutes + 1, parts) by LSODA from a state, the controllers deciding as they go."""
    at = offsets(net)
    end = int(at[7])
    full, memory = state.copy(), Memory(*(a.copy() for a in memory))
    work = work_for(net)
    change = np.zeros_like(full)
    output, cut = np.zeros(len(plan.kind)), np.zeros(len(plan.kind))
    light, speed = np.zeros(len(net.body_power)), np.zeros(len(net.path_kind))
    rows = [full[:end].copy()]
    for step in range(minutes):
        decide(net, plan, full, memory, begin + step, output, cut)
        mist, room, vapour = _drive(plan, begin + step, output, cut, memory, light, speed)
        force = Forcing(light, speed, mist, room, vapour)

        def rhs(_t, part, force=force):
            full[:end] = part
            rates(net, force, full, change, work)
            return change[:end].copy()

        found = solve_ivp(rhs, (0.0, 60.0), rows[-1], method=method, rtol=1e-8, atol=1e-10)
        assert found.success
        rows.append(found.y[:, -1])
        full[:end] = found.y[:, -1]
    return np.array(rows)


def at_sites(net, air, vapour, states=None):
    """Air and humidity at the sites, and surfaces where states of the judge are given."""
    place = air @ net.site_cells.T
    return place, humidity(vapour @ net.site_cells.T, place)


@pytest.mark.parametrize(
    ("begin", "minutes", "what"),
    [
        (6 * 60 + 50, 100, "dawn, misting, the bar's ramp and the flood coming on"),
        (17 * 60 + 45, 90, "the flood going off, dusk, misting"),
    ],
)
def test_the_network_against_a_stiff_solver(begin, minutes, what):
    day, built = small.settled("winter"), small.built()
    net = built.net
    state, memory = day.state.copy(), at_midnight(day.memory)
    drive.carry_on(built, day.plan, state, memory, 0, begin, begin)
    judge = judged(net, day.plan, state, memory, begin, minutes)
    own, own_memory = state.copy(), Memory(*(a.copy() for a in memory))
    tape, _ = drive.carry_on(built, day.plan, own, own_memory, begin, minutes, 10)
    at = offsets(net)
    n = int(at[1])
    rows = judge[::10]
    air, damp = at_sites(net, rows[:, :n], rows[:, n : 2 * n])
    own_air, own_damp = at_sites(net, tape.air, tape.vapour)
    assert np.abs(own_air - air).max() < KELVIN, what
    assert np.abs(own_damp - damp).max() < SHARE, what
    for z in range(len(net.site_on)):
        if net.site_on[z] >= 0:
            surface = rows[:, int(at[6]) + net.site_first[z]]
            assert np.abs(tape.sites[:, z] - surface).max() < KELVIN, what


@pytest.mark.parametrize(
    ("begin", "minutes", "what"),
    [
        (3 * 60 + 40, 30, "night, the heater switching"),
        (7 * 60 + 20, 45, "dawn and misting"),
        (18 * 60 + 45, 45, "dusk and misting"),
    ],
)
def test_the_demo_against_an_explicit_solver(begin, minutes, what):
    built, day = boxes.built("forest-edge"), boxes.settled("forest-edge", "winter")
    net, at = built.net, offsets(built.net)
    n, end = int(at[1]), int(at[7])
    own, memory = day.state.copy(), at_midnight(day.memory)
    drive.carry_on(built, day.plan, own, memory, 0, begin, begin)
    judge, work, change = own.copy(), work_for(net), np.zeros(len(own))
    output, cut = np.zeros(len(day.plan.kind)), np.zeros(len(day.plan.kind))
    light, speed = np.zeros(len(net.body_power)), np.zeros(len(net.path_kind))
    for minute in range(begin, begin + minutes):
        same = Memory(*(a.copy() for a in memory))
        decide(net, day.plan, own, same, minute, output, cut)
        mist, room, vapour = _drive(day.plan, minute, output, cut, same, light, speed)
        force, full = Forcing(light, speed, mist, room, vapour), judge.copy()

        def rhs(_t, part, force=force, full=full):
            full[:end] = part
            rates(net, force, full, change, work)
            return change[:end].copy()

        found = solve_ivp(rhs, (0.0, 60.0), judge[:end], method="DOP853", rtol=1e-8, atol=1e-10)
        assert found.success
        judge[:end] = found.y[:, -1]
        drive.carry_on(built, day.plan, own, memory, minute, 1, 1)
        air, damp = at_sites(net, judge[None, :n], judge[None, n : 2 * n])
        own_air, own_damp = at_sites(net, own[None, :n], own[None, n : 2 * n])
        assert np.abs(own_air - air).max() < KELVIN, (what, minute)
        assert np.abs(own_damp - damp).max() < SHARE, (what, minute)
        places = [int(at[6]) + net.site_first[z] for z in np.nonzero(net.site_on >= 0)[0]]
        assert np.abs(own[places] - judge[places]).max() < KELVIN, (what, minute)


# -- more cells ------------------------------------------------------------------------------------


def same_switching(day, built):
    """The plan of a day with what its controllers did written down: a switch that falls some minutes
    apart is not an error of the cells, yet an hour later the air may differ by a kelvin."""
    own, memory = day.state.copy(), at_midnight(day.memory)
    tape, _ = drive.carry_on(built, day.plan, own, memory, 0, DAY_MINUTES, 1)
    plan, passive = day.plan, built.net.path_kind == PASSIVE
    return plan._replace(
        lamps=tape.lamps[1:].copy(), lamp_control=np.full_like(plan.lamp_control, -1),
        fans=np.where(passive, plan.fans, tape.fans[1:]),
        fan_control=np.where(plan.fan_control >= 0, -1, plan.fan_control),
        mist=tape.mist[1:] / 60.0, mist_control=-1,
    )  # fmt: skip


CASES = [
    ("small", "winter"),
    ("small", "summer"),
    ("forest-edge", "winter"),
    ("rain-glass", "winter"),
    ("school-meadow", "winter"),
]


@pytest.mark.parametrize(("name", "season"), CASES)
def test_twice_the_cells_move_no_site(name, season):
    """Air, humidity and surface of every site at every hour (dry-rock passes too, in a minute)."""
    if name == "small":
        habitat, light = small.habitat(), small.light()
        day, built = small.settled(season), small.built()
        finer = study.build(habitat, light, study.prepare(habitat, fineness=2.0))
    else:
        habitat, light = boxes.habitat(name), boxes.light(name)
        day, built, finer = boxes.settled(name, season), boxes.built(name), boxes.built(name, 2.0)
    assert len(finer.net.volume) > 2.5 * len(built.net.volume)
    plan = same_switching(day, built)
    found = []
    for network in (built, finer):
        _, _, tape, _, balance = drive.repeat_day(network, plan)
        found.append(
            read_tape(habitat, light, network, plan, tape, season=season, every=10, balance=balance)
        )
    coarse, fine = found
    hours = coarse.rows_by_hour
    assert np.abs(coarse.air - fine.air)[hours].max() < FINER_KELVIN
    assert np.abs(coarse.humidity - fine.humidity)[hours].max() < FINER_SHARE
    on = np.isfinite(coarse.surface[0]) & np.isfinite(fine.surface[0])
    assert on.any()
    assert np.abs(coarse.surface - fine.surface)[hours][:, on].max() < FINER_KELVIN
