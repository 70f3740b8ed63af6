"""How fast everything in a network changes: the one right-hand side of every run.

The state is one vector: air temperatures (N) [K], vapour densities (N) [kg/m3], solid nodes (M) and
leaves [K], films (S) [kg/m2], lamp bodies over their air (L) [K], nodes under places (Q) [K] and films
on them (Z) [kg/m2], and the ledger (see `network.LEDGER`) that adds up what crosses the borders.
Flows between cells, plumes and stirring follow the state of the moment; nothing is averaged over a
step.
"""

from __future__ import annotations

import math

from numba import njit

from loamwright.engine.climate.air_film import (
    LATENT,
    LEWIS,
    RUN_OFF,
    RV,
    SIGMA,
    SLOPE,
    _pws,
    film,
    film_slope,
)
from loamwright.engine.climate.balance_of_air import outflows
from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.network import (
    FAN_IN,
    GROUND,
    LEAF,
    PASSIVE,
    WATER,
)
from loamwright.engine.climate.places import place_rates
from loamwright.engine.compiled import bare
from loamwright.physics import airflow, leaves, moist_air, plumes

_stomata = njit(cache=True, error_model="numpy")(leaves.stomatal_conductance)
_plume = njit(cache=True, error_model="numpy")(plumes.plume_flow)

GRAVITY = airflow.GRAVITY
MOLAR = leaves.MOLAR_GAS
HALF_LIGHT, HALF_DEFICIT = leaves.HALF_LIGHT, leaves.HALF_DEFICIT
FOG = 30.0
"""Time [s] in which fog falls out of air past saturation."""


SOFT = GRAVITY * 0.5 / 300.0
"""Gradient of buoyancy [1/s2], of half a kelvin a metre, under which the root law is made smooth."""


@bare()
def _soft_root(x):
    """The root of x, with a finite slope at nothing."""
    return x / math.sqrt(x + SOFT)


@bare()
def _root_slope(x):
    """Slope of that root."""
    return (0.5 * x + SOFT) / (x + SOFT) ** 1.5


@bare(forceinline=True)
def rates(net, force, y, dy, work):
    """Write the rate of change of the state ``y`` into ``dy``, and flows and slopes into ``work``
    (`layout.Work`)."""
    at = offsets(net)
    n, s, solids = len(net.volume), len(net.area), net.solids
    columns, layers = net.columns, net.layers
    iv, im, il, iw, ib, iq = at[1], at[2], at[3], at[4], at[5], at[7]
    dy[:] = 0.0
    heat, room = net.heat, force.room
    lamps = len(net.body_power)
    pv, warm_air, wet, virtual = work.vapour, work.warmth, work.wet, work.virtual
    loses, parts, gain, height = work.loses, work.parts, work.gain, work.height
    temp, fourth, flow = work.temp, work.fourth, work.flow
    for i in range(n):
        pv[i] = y[iv + i] * RV * y[i]
        virtual[i] = y[i] * (1.0 + 0.378 * pv[i] / net.pressure)
        warm_air[i] = wet[i] = loses[i] = parts[i] = gain[i] = height[i] = 0.0
        work.from_right[i] = work.to_right[i] = work.from_above[i] = work.to_above[i] = 0.0
        work.spur_right[i] = work.spur_above[i] = work.mists[i] = 0.0
    room_pv = force.vapour * RV * room
    room_virtual = room * (1.0 + 0.378 * room_pv / net.pressure)

    # -- air that comes and goes -------------------------------------------------------------
    gas = net.pressure / moist_air.DRY_AIR_GAS
    density = work.density
    for k in range(layers):
        mean = 0.0
        for c in range(columns):
            mean += virtual[k * columns + c]
        density[k] = gas * columns / mean
    paths = len(net.path_kind)
    outflows(net, force, density, gas / room_virtual, work)
    for p in range(paths):
        q = flow[p]
        if net.path_kind[p] != PASSIVE:
            power = net.fan_power[p] * force.speed[p] ** 3
            if net.path_kind[p] == FAN_IN:
                # The motor of a fan that blows out warms the room.
                dy[iq + 1] += power
                for i in range(n):
                    warm_air[i] += power * net.path_cells[p, i]
        for i in range(n):
            share = net.path_cells[p, i]
            if share == 0.0:
                continue
            gain[i] -= q * share
            if q < 0.0:
                warm_air[i] -= q * share * heat * (room - y[i])
                wet[i] -= q * share * force.vapour
                loses[i] -= q * share
                dy[iq + 3] += q * share * heat * room
                dy[iq + 12] += q * share * force.vapour
            else:
                wet[i] -= q * share * y[iv + i]
                dy[iq + 3] += q * share * heat * y[i]
                dy[iq + 12] += q * share * y[iv + i]
                parts[i] += q * share
        top = net.open_top[p]
        if top > 0.0 and force.speed[p] > 0.0:
            # Warm air under an opening changes places with cooler room air above it.
            for i in range(n):
                share = net.path_cells[p, i]
                if share > 0.0 and virtual[i] > room_virtual:
                    side = math.sqrt(top)
                    reduced = GRAVITY * (virtual[i] - room_virtual) / room_virtual
                    flooding = 0.942 * 0.942 * GRAVITY * side * 0.5 * gas
                    flooding *= 1.0 / room_virtual - 1.0 / virtual[i]
                    q_net = abs(q) / top
                    drop = net.path_square[p] * top * top * q_net * q_net
                    left = max(0.0, 1.0 - drop / max(flooding, 1e-9))
                    swap = 0.1 * top * math.sqrt(reduced * side) * left * net.screen[p] * share
                    swap *= force.speed[p]
                    warm_air[i] += swap * heat * (room - y[i])
                    wet[i] += swap * (force.vapour - y[iv + i])
                    dy[iq + 3] += swap * heat * (y[i] - room)
                    dy[iq + 12] += swap * (y[iv + i] - force.vapour)
                    loses[i] += 1.5 * swap
                    parts[i] += swap
    # Warm air over lamps takes along what it meets and gives it to the ceiling; what it took flows
    # back through the rest (Baines & Turner 1969, J. Fluid Mech. 37:51).
    for lamp in range(lamps):
        base, end = net.plume_from[lamp], net.plume_to[lamp]
        power = net.body_loss[lamp] * net.body_air[lamp] * y[ib + lamp]
        if end <= base or power <= 1e-6:
            continue
        buoyancy = GRAVITY * power / (heat * room)
        below = 0.0
        risen, warmth, vapour = 0.0, 0.0, 0.0
        for k in range(layers):
            reached = min((k + 1) * net.dz, end) - base
            if reached <= 0.0 or k * net.dz >= end:
                continue
            above = _plume(buoyancy, reached)
            for c in range(columns):
                drawn = (above - below) * net.plume_columns[lamp, c]
                if drawn == 0.0:
                    continue
                i = k * columns + c
                gain[i] -= drawn
                wet[i] -= drawn * y[iv + i]
                parts[i] += drawn
                risen += drawn
                warmth += drawn * y[i]
                vapour += drawn * y[iv + i]
            below = above
        for i in range(n):
            share = net.air_heat[lamp, i]
            if share > 0.0:
                gain[i] += risen * share
                warm_air[i] += share * heat * (warmth - risen * y[i])
                wet[i] += share * vapour
                loses[i] += share * risen
    # What enters one cell leaves through others: a potential on the graph of cells.
    for i in range(n):
        total = 0.0
        for j in range(n):
            total += net.potential[i, j] * gain[j]
        height[i] = total
    # -- between cells -----------------------------------------------------------------------
    across, up = net.dz * net.depth, net.dx * net.depth
    for k in range(layers):
        for c in range(columns):
            i = k * columns + c
            for way in range(2):
                if way == 0:
                    if c + 1 >= columns:
                        continue
                    j, area, gap = i + 1, across, net.dx
                    tilt = abs(virtual[i] - virtual[j]) / gap
                    lively = GRAVITY / virtual[i]
                    stir = net.mixing + net.sway * _soft_root(lively * tilt)
                    quickens = net.sway * lively * _root_slope(lively * tilt)
                else:
                    if k + 1 >= layers:
                        continue
                    j, area, gap = i + columns, up, net.dz
                    tilt = max(0.0, virtual[i] - virtual[j]) / gap
                    lively = GRAVITY / virtual[i]
                    stir = net.mixing + net.lift * _soft_root(lively * tilt)
                    quickens = net.lift * lively * _root_slope(lively * tilt) if tilt > 0.0 else 0.0
                through = (height[i] - height[j]) * area / gap
                # Taking the upwind cell's air stirs by half the flow; that much is left out
                # (hybrid scheme, Patankar 1980, section 5.2).
                swap = max(stir * area / gap - 0.5 * abs(through), 0.0)
                move_heat = swap * heat * (y[i] - y[j])
                move_wet = swap * (y[iv + i] - y[iv + j])
                if through > 0.0:
                    move_wet += through * y[iv + i]
                    warm_air[j] += through * heat * (y[i] - y[j])
                else:
                    move_wet += through * y[iv + j]
                    warm_air[i] -= through * heat * (y[j] - y[i])
                warm_air[i] -= move_heat
                warm_air[j] += move_heat
                wet[i] -= move_wet
                wet[j] += move_wet
                back, forth = swap + max(-through, 0.0), swap + max(through, 0.0)
                spur = quickens * area / (gap * gap) if swap > 0.0 else 0.0
                if way == 0:
                    if virtual[i] < virtual[j]:
                        spur = -spur
                    work.from_right[i], work.to_right[i], work.spur_right[i] = back, forth, spur
                else:
                    work.from_above[i], work.to_above[i], work.spur_above[i] = back, forth, spur

    # -- surfaces ----------------------------------------------------------------------------
    thermal, light = work.thermal, work.light
    infrared, shine = work.infrared, work.shine
    for a in range(s):
        thermal[a] = 0.0
        if a < solids:
            temp[a] = y[im + net.first[a]]
        elif net.wetting[a] == LEAF:
            temp[a] = y[il + a - solids]
        else:
            sees, mean = net.see_room[a], y[net.cell[a]]
            blend = sees * room**4 + (1.0 - sees) * mean**4
            temp[a] = math.sqrt(math.sqrt(blend))
        fourth[a] = temp[a] * temp[a] * temp[a] * temp[a]
    for b in range(s):
        # Summed surface by surface, so that a wide adder keeps the order of the sum.
        column = net.exchange[b]
        given = fourth[b]
        for a in range(s):
            thermal[a] += column[a] * given
    for a in range(s):
        light[a] = infrared[a] = shine[a] = 0.0
    for lamp in range(lamps):
        on = force.lamps[lamp]
        body = net.body_loss[lamp] * (1.0 - net.body_air[lamp]) * y[ib + lamp]
        dy[ib + lamp] = (
            net.body_power[lamp] * on - net.body_loss[lamp] * y[ib + lamp]
        ) / net.body_store[lamp]
        blown = net.body_loss[lamp] * net.body_air[lamp] * y[ib + lamp]
        for i in range(n):
            if net.air_heat[lamp, i] != 0.0:
                warm_air[i] += blown * net.air_heat[lamp, i]
                dy[iq] += blown * net.air_heat[lamp, i]
        if on > 0.0:
            for a in range(s):
                light[a] += on * net.lit[lamp, a]
                shine[a] += on * net.par[lamp, a]
        for a in range(s):
            infrared[a] += body * net.warm[lamp, a]
    wet_spray = force.mist * net.mist_rate
    flown = 0.0
    if wet_spray > 0.0:
        for i in range(n):
            share = net.mist_cell[i]
            if share > 0.0:
                ps = _pws(y[i])
                lack = max(ps - pv[i], 0.0)
                ease = 66.0 / (66.0 + ps * 0.062)
                drying = 8.0 * 2.6e-5 * lack / (RV * y[i]) * ease / 1000.0
                life = net.drop * net.drop / max(drying, 1e-16)
                part = 1.0 - max(0.0, 1.0 - net.flight / life) ** 1.5
                lost = wet_spray * share * part
                flown += lost
                wet[i] += lost
                warm_air[i] -= lost * LATENT
                # Damper and cooler air dries drops more slowly: how fast that takes hold.
                steeper = wet_spray * share * 1.5 * net.flight * drying / max(lack, 1.0)
                work.mists[i] += steeper / net.drop**2 * RV * y[i]
        dy[iq + 5] += flown * LATENT
        dy[iq + 7] += wet_spray
    landed = wet_spray - flown
    for a in range(s):
        wetting = net.wetting[a]
        absorbed = light[a] + infrared[a]
        dy[iq] += absorbed
        own = fourth[a]
        radiant = SIGMA * (thermal[a] - net.views[a] * own)
        i = net.cell[a]
        work.conducts[a] = work.breathes[a] = work.dries[a] = work.steams[a] = 0.0
        work.leans[a] = work.shines[a] = work.runs[a] = 0.0
        if a >= solids and wetting != LEAF:
            dy[iq + 4] += radiant + absorbed
            continue
        area = net.area[a]
        h = film(temp[a] - y[i], net.stand[a], net.free[a], net.still[a])
        sensible = h * area * (temp[a] - y[i])
        warm_air[i] += sensible
        carry = h * LEWIS / heat
        saturated = _pws(temp[a])
        scale = 1.0 / (RV * 0.5 * (temp[a] + y[i]))
        lack = (saturated - pv[i]) * scale
        m = y[iw + a]
        gone = 0.0
        wets = 0.0
        film_wets = 0.0
        drip = 0.0
        if wetting != 0:
            holds = net.capacity[a]
            if wetting == WATER:
                gone = area * carry * lack
                dy[iq + 8] += gone
                wets = 1.0
            elif lack < 0.0:
                gone = area * carry * lack
                dy[iw + a] -= gone / area
                dy[iq + 13] -= gone
                wets = film_wets = 1.0
            else:
                covered = min(max(m / holds, 0.0), 1.0)
                rest = 1.0 - covered
                film_gone = area * carry * lack * covered
                dy[iw + a] -= film_gone / area
                gone = film_gone
                wets = film_wets = covered
                if wetting == GROUND:
                    below = net.pores[a] * saturated - pv[i]
                    if below > 0.0:
                        ways = carry / (1.0 + carry * net.resist[a])
                        soil = area * rest * ways * below * scale
                        dy[iq + 9] += soil
                        gone += soil
                        wets += rest * ways / carry
                elif wetting == LEAF and rest > 0.0:
                    b = a - solids
                    photons = shine[a] * 4.6 / net.leaf[b]
                    opens = _stomata(photons, saturated - pv[i], net.stomata[b],
                                     net.stomata_dark[b], HALF_LIGHT, HALF_DEFICIT)  # fmt: skip
                    opens = opens * MOLAR * temp[a] / net.pressure
                    ways = opens * carry / (opens + carry)
                    breath = net.leaf[b] * rest * ways * lack
                    dy[iq + 10] += breath
                    gone += breath
                    wets += 0.5 * rest * ways / carry
            if landed > 0.0:
                fell = landed * net.mist_surface[a]
                if wetting == WATER:
                    dy[iq + 8] -= fell
                else:
                    dy[iw + a] += fell / area
                    warmth = 4186.0 * fell * (net.mist_heat - temp[a])
                    sensible -= warmth
                    dy[iq + 6] += warmth
            if wetting != WATER and m > holds:
                drip = (m - holds) / RUN_OFF * area
                work.runs[a] = 1.0 / RUN_OFF
                dy[iw + a] -= drip / area
                to = net.drain[a]
                if to < 0:
                    dy[iq + 11] += drip
                else:
                    dy[iw + to] += drip / net.area[to]
        wet[i] += gone
        dy[iq + 5] += gone * LATENT
        net_heat = absorbed + radiant - sensible - gone * LATENT
        slope = saturated * SLOPE / (temp[a] - 35.85) ** 2
        grows = film_slope(temp[a] - y[i], net.stand[a], net.free[a], net.still[a], h)
        work.conducts[a] = area * max(h + grows * (temp[a] - y[i]), 0.0)
        work.breathes[a] = area * carry * wets
        work.dries[a] = area * carry * film_wets
        work.leans[a] = gone * grows / h
        work.steams[a] = area * carry * wets * slope * scale + work.leans[a]
        work.shines[a] = 4.0 * SIGMA * own / temp[a] * net.views[a]
        if a < solids:
            node = net.first[a]
            dy[im + node] += net_heat
        else:
            b = a - solids
            dy[il + b] = net_heat / net.leaf_store[b]

    # -- inside solids: heat by node first, then what it does to its temperature ---------------
    for a in range(solids):
        begin, end = net.first[a], net.first[a + 1]
        for node in range(begin, end):
            onward = net.link[node]
            if onward == 0.0:
                continue
            if node + 1 < end:
                across_heat = onward * (y[im + node] - y[im + node + 1])
                dy[im + node] -= across_heat
                dy[im + node + 1] += across_heat
            else:
                across_heat = onward * (y[im + node] - room)
                dy[im + node] -= across_heat
                dy[iq + 2] += across_heat
    for k in range(len(net.tie)):
        one, two = net.tied[k, 0], net.tied[k, 1]
        across_heat = net.tie[k] * (y[im + one] - y[im + two])
        dy[im + one] -= across_heat
        dy[im + two] += across_heat
    for node in range(len(net.store)):
        dy[im + node] /= net.store[node]
    # -- air ---------------------------------------------------------------------------------
    for i in range(n):
        volume = net.volume[i]
        over = y[iv + i] - _pws(y[i]) / (RV * y[i])
        if over > 0.0:
            fog = over / FOG * volume
            wet[i] -= fog
            warm_air[i] += fog * LATENT
            dy[iq + 5] -= fog * LATENT
            dy[iq + 11] += fog
            work.mists[i] += volume / FOG
        dy[i] = warm_air[i] / (heat * volume)
        dy[iv + i] = wet[i] / volume

    place_rates(net, force, y, dy, work, landed)
