"""The linear system of a step: what is stiff in a network, solved in the order of its parts.

Air cells are tied to their neighbours, each surface to its own air cell by heat and vapour, chains of
nodes to their surface. So chains are eliminated first, from their ends to the air; the air is a narrow
band; then everything is put back. What couples more widely (long-wave, the air's common pressure) is
left out: the step's order does not hang on it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loamwright.engine.climate.air_film import LATENT, RV, held_slope
from loamwright.engine.climate.layout import offsets
from loamwright.engine.climate.network import LEAF, LEDGER, WATER
from loamwright.engine.compiled import bare

Floats = NDArray[np.float64]

WALLS, VENTED = LEDGER.index("walls"), LEDGER.index("vented")
"""Places in the ledger that take what the linear system leaves open."""


class Factors(NamedTuple):
    """Of M solid nodes ``chain``, ``leaf``, Q nodes under places ``under``: what is left of each after
    elimination [J/K]; ``air`` (2 N, 2 b + 1) the factored band of the cells' warmth and vapour in turn,
    b = 2 columns + 1; ``gets`` (2 N,) room for its right side. The rest are slopes of `layout.Work`
    times the step's c."""

    chain: Floats
    leaf: Floats
    under: Floats
    air: Floats
    gets: Floats
    conducts: Floats
    breathes: Floats
    dries: Floats
    steams: Floats
    leans: Floats
    runs: Floats
    place_air: Floats
    place_runs: Floats


@njit(cache=True, error_model="numpy")
def factors_for(net):
    """Room for the factors of a network."""
    n, wide = len(net.volume), 4 * net.columns + 3
    s, z = len(net.area), len(net.site_on)
    return Factors(
        np.zeros(len(net.store)), np.zeros(len(net.leaf)), np.zeros(len(net.site_store)),
        np.zeros((2 * n, wide)), np.zeros(2 * n),
        np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s),
        np.zeros(z), np.zeros(z),
    )  # fmt: skip


@bare()
def _factor_band(a, b):
    """Factor a band matrix in place, without pivots: it is dominated by its diagonal."""
    n = len(a)
    for i in range(n):
        for j in range(i + 1, min(i + b + 1, n)):
            part = a[j, b + i - j]
            if part == 0.0:
                continue
            part /= a[i, b]
            a[j, b + i - j] = part
            for k in range(i + 1, min(i + b + 1, n)):
                a[j, b + k - j] -= part * a[i, b + k - i]


@bare()
def _solve_band(a, b, x):
    n = len(a)
    for i in range(n):
        for j in range(max(0, i - b), i):
            x[i] -= a[i, b + j - i] * x[j]
    for i in range(n - 1, -1, -1):
        for j in range(i + 1, min(i + b + 1, n)):
            x[i] -= a[i, b + j - i] * x[j]
        x[i] /= a[i, b]


@bare(forceinline=True)
def _fold(left, link, c, begin, end):
    """Eliminate a chain from its end to its first node; ``left`` [J/K] holds what its nodes store."""
    for node in range(end - 1, begin - 1, -1):
        onward = c * link[node]
        left[node] += onward
        if node + 1 < end:
            left[node] -= onward * onward / left[node + 1]
        if node > begin:
            left[node] += c * link[node - 1]


@bare(forceinline=True)
def _gather(x, left, link, c, begin, end):
    """Bring the right side of a folded chain to its first node."""
    for node in range(end - 2, begin - 1, -1):
        x[node] += c * link[node] / left[node + 1] * x[node + 1]


@bare(forceinline=True)
def _unfold(x, left, link, c, begin, end):
    """From the first node's solution to those behind it."""
    for node in range(begin + 1, end):
        x[node] += c * link[node - 1] * x[node - 1]
        x[node] /= left[node]


@bare(forceinline=True)
def _air(net, work, y, c, band, b):
    """Cells among themselves."""
    n, heat = len(net.volume), net.heat
    lighter = 0.378 * RV / net.pressure
    for i in range(n):
        t, v = 2 * i, 2 * i + 1
        band[t, b] += heat * (net.volume[i] + c * work.loses[i])
        band[v, b] += net.volume[i] + c * work.parts[i]
        if work.mists[i] > 0.0:
            takes, held = c * work.mists[i], held_slope(y[i])
            band[t, b] += LATENT * takes * held
            band[t, b + 1] -= LATENT * takes
            band[v, b] += takes
            band[v, b - 1] -= takes * held
        for way in range(2):
            if way == 0:
                back, forth, spur = work.from_right[i], work.to_right[i], work.spur_right[i]
                j = i + 1
            else:
                back, forth, spur = work.from_above[i], work.to_above[i], work.spur_above[i]
                j = i + net.columns
            if back + forth == 0.0:
                continue
            far = 2 * (j - i)
            band[t, b] += c * heat * back
            band[t, b + far] -= c * heat * back
            band[t + far, b] += c * heat * forth
            band[t + far, b - far] -= c * heat * forth
            band[v, b] += c * forth
            band[v + far, b - far] -= c * forth
            band[v + far, b] += c * back
            band[v, b + far] -= c * back
            # The stirring itself follows the virtual temperatures.
            warmer = c * spur * heat * (y[i] - y[j])
            damper = c * spur * (y[n + i] - y[n + j])
            for end in range(2):
                k = i if end == 0 else j
                sign = 1.0 if end == 0 else -1.0
                by_warmth = sign * (1.0 + 2.0 * lighter * y[n + k] * y[k])
                by_vapour = sign * lighter * y[k] * y[k]
                at_t, at_v = b + 2 * k, b + 2 * k + 1
                band[t, at_t - t] += warmer * by_warmth
                band[t, at_v - t] += warmer * by_vapour
                band[t + far, at_t - t - far] -= warmer * by_warmth
                band[t + far, at_v - t - far] -= warmer * by_vapour
                band[v, at_t - v] += damper * by_warmth
                band[v, at_v - v] += damper * by_vapour
                band[v + far, at_t - v - far] -= damper * by_warmth
                band[v + far, at_v - v - far] -= damper * by_vapour


@bare(forceinline=True)
def factor(net, work, y, c, out):
    """Factor I - c A into ``out``, times what each part stores; ``c`` [s], A the slopes in ``work`` at
    the state ``y``."""
    s, solids, b = len(net.area), net.solids, 2 * net.columns + 1
    chain, leaf, band = out.chain, out.leaf, out.air
    band[:] = 0.0
    _air(net, work, y, c, band, b)
    for node in range(len(net.store)):
        chain[node] = net.store[node]
    for k in range(len(net.tie)):
        chain[net.tied[k, 0]] += c * net.tie[k]
        chain[net.tied[k, 1]] += c * net.tie[k]
    for a in range(s):
        out.conducts[a], out.breathes[a] = c * work.conducts[a], c * work.breathes[a]
        out.dries[a], out.runs[a] = c * work.dries[a], c * work.runs[a]
        out.steams[a], out.leans[a] = c * work.steams[a], c * work.leans[a]
        if a >= solids and net.wetting[a] != LEAF:
            continue
        own = c * (work.conducts[a] + work.shines[a] + LATENT * work.steams[a])
        if a < solids:
            begin, end = net.first[a], net.first[a + 1]
            _fold(chain, net.link, c, begin, end)
            chain[begin] += own
            left = chain[begin]
        else:
            leaf[a - solids] = left = net.leaf_store[a - solids] + own
        t = 2 * net.cell[a]
        ties, steams, leans = out.conducts[a], out.steams[a], out.leans[a]
        breathes = out.breathes[a]
        by_air, by_vapour = (ties + LATENT * leans) / left, LATENT * breathes / left
        band[t, b] += ties - ties * by_air
        band[t, b + 1] -= ties * by_vapour
        band[t + 1, b] += breathes - steams * by_vapour
        band[t + 1, b - 1] += leans - steams * by_air
    _factor_band(band, b)
    for z in range(len(net.site_on)):
        if net.site_on[z] < 0:
            continue
        out.place_air[z], out.place_runs[z] = c * work.place_air[z], c * work.place_runs[z]
        begin, end = net.site_first[z], net.site_first[z + 1]
        for node in range(begin, end):
            out.under[node] = net.site_store[node]
        out.under[end - 1] += c * net.site_back[z]
        _fold(out.under, net.site_link, c, begin, end)
        out.under[begin] += c * work.place[z]


@bare(forceinline=True)
def solve(net, c, factors, x):
    """Replace ``x`` by the solution of (I - c A) k = x, in the state's order. What heat and water the
    system leaves open goes to the ledger, so that its sums stay whole."""
    at = offsets(net)
    n, s, solids, b = len(net.volume), len(net.area), net.solids, 2 * net.columns + 1
    iv, im, il, iw, ib, ip, iq = at[1], at[2], at[3], at[4], at[5], at[6], at[7]
    films = ip + len(net.site_store)
    chain, leaf, air = factors.chain, factors.leaf, factors.gets
    solids_of, places_of = x[im:il], x[ip:films]
    open_heat, open_water = 0.0, 0.0
    for i in range(n):
        air[2 * i] = net.heat * net.volume[i] * x[i]
        air[2 * i + 1] = net.volume[i] * x[iv + i]
        open_heat -= air[2 * i]
        open_water -= air[2 * i + 1]
    for node in range(len(net.store)):
        solids_of[node] *= net.store[node]
        open_heat -= solids_of[node]
    for a in range(s):
        if net.wetting[a] != WATER:
            open_water -= net.area[a] * x[iw + a]
        if a < solids:
            begin, end = net.first[a], net.first[a + 1]
            _gather(solids_of, chain, net.link, c, begin, end)
            own = solids_of[begin] / chain[begin]
        elif net.wetting[a] == LEAF:
            k = a - solids
            x[il + k] *= net.leaf_store[k]
            open_heat -= x[il + k]
            own = x[il + k] / leaf[k]
        else:
            continue
        air[2 * net.cell[a]] += factors.conducts[a] * own
        air[2 * net.cell[a] + 1] += factors.steams[a] * own
    _solve_band(factors.air, b, air)
    for i in range(n):
        x[i], x[iv + i] = air[2 * i], air[2 * i + 1]
        open_heat += net.heat * net.volume[i] * x[i]
        open_water += net.volume[i] * x[iv + i]
    for a in range(s):
        i = net.cell[a]
        over, damp = x[i], x[iv + i]
        gets = (factors.conducts[a] + LATENT * factors.leans[a]) * over
        gets += LATENT * factors.breathes[a] * damp
        own = 0.0
        if a < solids:
            begin, end = net.first[a], net.first[a + 1]
            own = solids_of[begin] = (solids_of[begin] + gets) / chain[begin]
            _unfold(solids_of, chain, net.link, c, begin, end)
            for node in range(begin, end):
                open_heat += net.store[node] * solids_of[node]
        elif net.wetting[a] == LEAF:
            k = a - solids
            own = x[il + k] = (x[il + k] + gets) / leaf[k]
            open_heat += net.leaf_store[k] * own
        if net.wetting[a] != WATER:
            if factors.breathes[a] > 0.0:
                lost = (
                    factors.steams[a] * own - factors.leans[a] * over - factors.breathes[a] * damp
                )
                share = factors.dries[a] / factors.breathes[a]
                x[iw + a] -= lost * share / net.area[a]
            x[iw + a] /= 1.0 + factors.runs[a]
            open_water += net.area[a] * x[iw + a]
    for lamp in range(len(net.body_power)):
        x[ib + lamp] /= 1.0 + c * net.body_loss[lamp] / net.body_store[lamp]
    for z in range(len(net.site_on)):
        if net.site_on[z] < 0:
            continue
        begin, end = net.site_first[z], net.site_first[z + 1]
        above = 0.0
        for i in range(n):
            above += net.site_cells[z, i] * x[i]
        for node in range(begin, end):
            places_of[node] *= net.site_store[node]
        places_of[begin] += factors.place_air[z] * above
        places_of[end - 1] += c * net.site_back[z] * above
        _gather(places_of, factors.under, net.site_link, c, begin, end)
        places_of[begin] /= factors.under[begin]
        _unfold(places_of, factors.under, net.site_link, c, begin, end)
        x[films + z] /= 1.0 + factors.place_runs[z]
    x[iq + WALLS] -= open_heat
    x[iq + VENTED] -= open_water
