"""A run: minute by minute, controllers read their probes and the network moves on."""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from loamwright.engine.climate.air_film import RV, _pws
from loamwright.engine.climate.layout import offsets, work_for
from loamwright.engine.climate.network import LEAF, PASSIVE, Forcing
from loamwright.engine.climate.plan import (
    AS_SET,
    COOLING,
    DIMMING,
    HUMIDISTAT,
    MINUTE,
    NOT_ELECTRIC,
    PULSE_MIST,
    THERMOSTAT,
)
from loamwright.engine.climate.stepping import advance, desk_for
from loamwright.engine.compiled import bare


@bare(forceinline=True)
def site_air(net, y, z):
    """Air temperature [K] and relative humidity at a site."""
    n = len(net.volume)
    temperature, vapour = 0.0, 0.0
    for i in range(n):
        share = net.site_cells[z, i]
        temperature += share * y[i]
        vapour += share * y[n + i]
    return temperature, vapour * RV * temperature / _pws(temperature)


@bare(forceinline=True)
def _probe(net, y, at, z, humid):
    air, humidity = site_air(net, y, z)
    if humid:
        return humidity
    return y[at[6] + net.site_first[z]] if net.site_on[z] >= 0 else air


@bare()
def _lagged(old, new, lag):
    return new if math.isnan(old) else new + (old - new) * math.exp(-MINUTE / max(lag, 1e-3))


@bare(forceinline=True)
def decide(net, plan, y, memory, minute, output, cut):
    """Write each controller's answer for the coming minute into ``output`` (C,) (share of full, of
    a mister the share of the minute), and into ``cut`` (C,) 1 where an independent limit acts."""
    at = offsets(net)
    row = minute % len(plan.daytime)
    night = 0 if plan.daytime[row] else 1
    for c in range(len(plan.kind)):
        kind = plan.kind[c]
        humid = kind in (HUMIDISTAT, PULSE_MIST)
        sensed = _lagged(memory.sensed[c], _probe(net, y, at, plan.probe[c], humid), plan.lag[c])
        memory.sensed[c] = sensed
        cut[c] = 0.0
        if not math.isnan(plan.cut[c]):
            felt = _probe(net, y, at, plan.cut_probe[c], False)
            felt = _lagged(memory.cut_sensed[c], felt, plan.lag[c])
            memory.cut_sensed[c] = felt
            if felt > plan.cut[c]:
                cut[c] = 1.0
        low, high = plan.low[c, night], plan.high[c, night]
        on = memory.switched[c] > 0.5
        if math.isnan(low):
            memory.switched[c] = 0.0
            memory.owed[c] = 0.0
            output[c] = 0.0
        elif kind == DIMMING:
            output[c] = min(1.0, max(0.0, (high - sensed) / max(high - low, 1e-6)))
        else:
            if kind in (THERMOSTAT, PULSE_MIST):
                on = sensed < high if on else sensed < low
            elif kind in (COOLING, HUMIDISTAT):
                on = sensed > low if on else sensed > high
            memory.switched[c] = 1.0 if on else 0.0
            output[c] = memory.switched[c]
            if kind == PULSE_MIST:
                memory.waits[c] -= MINUTE
                if on and memory.waits[c] <= 0.0:
                    memory.owed[c] += plan.pulse[c]
                    memory.waits[c] = plan.pause[c]
                run = min(memory.owed[c], MINUTE)
                memory.owed[c] -= run
                output[c] = run / MINUTE


@bare(forceinline=True)
def _drive(plan, minute, output, cut, memory, lamps, speed):
    """Lamps, fan speeds and the mister's share of the coming minute, faults included."""
    row = minute % len(plan.daytime)
    place = minute % len(plan.room)
    faulty = plan.fault_from <= minute < plan.fault_to
    for c in range(len(output)):
        if faulty and plan.stuck[c] != AS_SET:
            output[c] = plan.stuck[c]
    for lamp in range(len(lamps)):
        c = plan.lamp_control[lamp]
        share = plan.lamps[row, lamp]
        if c >= 0:
            if faulty and plan.stuck[c] > 0.0:
                share = plan.stuck[c]
            share *= output[c]
            if cut[c] > 0.5 and not (faulty and plan.no_cut):
                share = 0.0
        if faulty:
            if plan.lamp_fault[lamp] != AS_SET:
                share = plan.lamp_fault[lamp]
            if plan.dead:
                share = 0.0
        lamps[lamp] = share
    for p in range(len(speed)):
        c = plan.fan_control[p]
        share = plan.fans[row, p]
        if c >= 0:
            share *= output[c]
        if faulty:
            if plan.fan_fault[p] != AS_SET:
                share = plan.fan_fault[p]
            elif plan.dead and c != NOT_ELECTRIC:
                share = 0.0
        speed[p] = share
    mist = plan.mist[row]
    if plan.mist_control >= 0:
        mist = min(1.0, mist + output[plan.mist_control])
    if faulty:
        if plan.mist_fault != AS_SET:
            mist = plan.mist_fault
        if plan.dead:
            mist = 0.0
    left = plan.tank - memory.used[0]
    most = left / (plan.rate * MINUTE) if plan.rate > 0.0 else 0.0
    mist = max(0.0, min(mist, most))
    memory.used[0] += mist * MINUTE * plan.rate
    rise = plan.room_rise if faulty else 0.0
    return mist, plan.room[place] + rise, plan.vapour[place]


@njit(cache=True, nogil=True)
def run(net, plan, y, memory, begin, minutes, every, tape):
    """Carry the state ``y`` (changed in place) over ``minutes`` from minute ``begin`` of the plan,
    writing a row of ``tape`` before the first and after every ``every`` minutes.

    Returns the number of evaluations of the rates.
    """
    at = offsets(net)
    n, s = len(net.volume), len(net.area)
    lamps, paths = len(net.body_power), len(net.path_kind)
    sites = len(net.site_on)
    work = work_for(net)
    desk = desk_for(net, len(y))
    output, cut = np.zeros(len(plan.kind)), np.zeros(len(plan.kind))
    light, speed = np.zeros(lamps), np.zeros(paths)
    lamp_sum, fan_sum, mist_sum = np.zeros(lamps), np.zeros(paths), 0.0
    calls = 0
    row = 0
    for step in range(minutes + 1):
        minute = begin + step
        if step % every == 0:
            for i in range(n):
                tape.air[row, i] = y[i]
                tape.vapour[row, i] = y[n + i]
            for a in range(s):
                tape.films[row, a] = y[at[4] + a]
                if a < net.solids:
                    tape.surface[row, a] = y[at[2] + net.first[a]]
                elif net.wetting[a] == LEAF:
                    tape.surface[row, a] = y[at[3] + a - net.solids]
                else:
                    tape.surface[row, a] = y[net.cell[a]]
            for z in range(sites):
                on = net.site_on[z] >= 0
                tape.sites[row, z] = y[at[6] + net.site_first[z]] if on else math.nan
            for lamp in range(lamps):
                tape.bodies[row, lamp] = y[at[5] + lamp]
                tape.lamps[row, lamp] = lamp_sum[lamp] / every
            for p in range(paths):
                tape.flows[row, p] = work.flow[p]
                tape.fans[row, p] = fan_sum[p] / every
            tape.mist[row] = mist_sum
            place = minute % len(plan.room)
            hot = plan.fault_from <= minute < plan.fault_to
            tape.room[row] = plan.room[place] + (plan.room_rise if hot else 0.0)
            tape.room_vapour[row] = plan.vapour[place]
            tape.ledger[row] = y[at[7] : at[8]]
            row += 1
            lamp_sum[:] = 0.0
            fan_sum[:] = 0.0
            mist_sum = 0.0
        if step == minutes:
            break
        decide(net, plan, y, memory, minute, output, cut)
        mist, room, vapour = _drive(plan, minute, output, cut, memory, light, speed)
        force = Forcing(light, speed, mist, room, vapour)
        calls += advance(net, force, y, MINUTE, work, desk)
        for lamp in range(lamps):
            lamp_sum[lamp] += light[lamp]
        for p in range(paths):
            fan_sum[p] += speed[p] if net.path_kind[p] != PASSIVE else 0.0
        mist_sum += mist * MINUTE
        if step == 0:
            # Flows follow from what fans do; before the first minute nobody had decided that.
            for p in range(paths):
                tape.flows[0, p] = work.flow[p]
    return calls
