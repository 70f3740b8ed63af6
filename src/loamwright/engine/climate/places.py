"""The places: what a probe or a resting body would touch, warmer and drier than what is round it."""

from __future__ import annotations

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
from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.network import DRY, EDGE, GROUND
from loamwright.engine.compiled import bare


@bare(forceinline=True)
def place_rates(net, force, y, dy, work, landed):
    """Write the rates of change of the nodes under places and of the films on them into ``dy``, their
    slopes into ``work``; ``landed`` spray that falls [kg/s].

    A place gives nothing back to the network: it is a point of the surface that is counted already.
    """
    at = offsets(net)
    ib, ip = at[5], at[6]
    films = ip + len(net.site_store)
    n, s, lamps = len(net.volume), len(net.area), len(net.body_power)
    pv, fourth = work.vapour, work.fourth
    for z in range(len(net.site_on)):
        on = net.site_on[z]
        if on < 0:
            continue
        begin, end = net.site_first[z], net.site_first[z + 1]
        t0 = y[ip + begin]
        air, damp = 0.0, 0.0
        for i in range(n):
            air += net.site_cells[z, i] * y[i]
            damp += net.site_cells[z, i] * pv[i]
        arriving, seen = 0.0, 0.0
        for a in range(s):
            arriving += net.site_sees[z, a] * fourth[a]
            seen += net.site_sees[z, a]
        load = net.site_emits[z] * SIGMA * (arriving - seen * t0 * t0 * t0 * t0)
        for lamp in range(lamps):
            load += force.lamps[lamp] * net.site_lit[z, lamp]
            load += y[ib + lamp] * net.site_warm[z, lamp]
        h = film(t0 - air, EDGE, net.site_free[z], net.site_free[z])
        load -= h * (t0 - air)
        grows = film_slope(t0 - air, EDGE, net.site_free[z], net.site_free[z], h)
        work.place_air[z] = h + grows * (t0 - air)
        steep = work.place_air[z] + 4.0 * SIGMA * net.site_emits[z] * t0**3
        work.place_runs[z] = 0.0
        # -- water: a film of its own, fed by what lands there --------------------------------
        wetting = net.wetting[on]
        if wetting != DRY:
            carry = h * LEWIS / net.heat
            saturated = _pws(t0)
            scale = 1.0 / (RV * 0.5 * (t0 + air))
            lack = (saturated - damp) * scale
            m = y[films + z]
            covered = min(max(m / net.capacity[on], 0.0), 1.0) if lack > 0.0 else 1.0
            gone = carry * lack * covered
            dy[films + z] -= gone
            if wetting == GROUND and lack > 0.0:
                below = max(net.pores[on] * saturated - damp, 0.0) * scale
                gone += (1.0 - covered) * carry / (1.0 + carry * net.resist[on]) * below
            fell = landed * net.site_mist[z]
            dy[films + z] += fell - max(m - net.capacity[on], 0.0) / RUN_OFF
            load += 4186.0 * fell * (net.mist_heat - t0) - LATENT * gone
            slope = saturated * SLOPE / (t0 - 35.85) ** 2
            steep += LATENT * carry * covered * slope * scale
            if m > net.capacity[on]:
                work.place_runs[z] = 1.0 / RUN_OFF
        work.place[z] = steep
        dy[ip + begin] += load
        for node in range(begin, end):
            onward = net.site_link[node]
            next_ = y[ip + node + 1] if node + 1 < end else force.room
            across_heat = onward * (y[ip + node] - next_)
            dy[ip + node] -= across_heat
            if node + 1 < end:
                dy[ip + node + 1] += across_heat
            else:
                dy[ip + node] -= net.site_back[z] * (y[ip + node] - air)
            dy[ip + node] /= net.site_store[node]
