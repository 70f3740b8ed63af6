"""Water moving in a column of layers: the mixed form of Richards' equation, compiled.

Nodes sit on the layers' faces and between; each pair of neighbours encloses a slice of one
material. A node stores the water of the two half slices beside it, each by its own material, so
that head and flow are both continuous where layers meet: a capillary break needs no rule of its
own. The top node also stores what stands on the surface, so that ponding needs none either.

Time: the two-stage, stiffly accurate, L-stable Runge-Kutta of Alexander 1977 (SIAM J Numer Anal
14:1006); each stage is an implicit step in the mixed form (Celia, Bouloutas & Zarba 1990, Water
Resour Res 26:1483), solved by Newton's method with the water content as unknown where ground is
dry (Forsyth, Wu & Pruess 1995, Adv Water Resour 18:25). The water of each node is carried
on by its flows alone: what a stage's residual leaves is made good by the next, and none is lost.

The error of a step is that of the third-order quadrature through its start and both stages.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from loamwright.engine.ground.laws import (
    ALPHA,
    GENUCHTEN,
    LAW,
    MOBILE,
    RESIDUAL,
    M,
    N,
    head_of_share,
    material_at,
)
from loamwright.physics import leaf_litter, root_uptake, soil_water

_uptake = njit(cache=True)(root_uptake.uptake_share)
_film = njit(cache=True)(leaf_litter.litter_film)
_evaporated = njit(cache=True)(soil_water.evaporated_share)

GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
"""Length of each implicit part of a step, in steps."""

_THIRD = 1.0 / (6.0 * GAMMA * (1.0 - GAMMA))
_ERROR = (
    -(0.5 + GAMMA * _THIRD) + _THIRD,
    1.0 - GAMMA - _THIRD,
    GAMMA - (0.5 - GAMMA * _THIRD),
)
"""Weights, of the flows at the start and at both stages, of the step's estimated error."""

(
    RAIN, EVAPORATION, ROOTS,
    DRAIN_KIND, DRAIN_CONDUCTANCE, DRAIN_HEIGHT,
    HUMIDITY, AIRLESS, WET, DRY, WILTED, TOP_HEAD, BOTTOM_HEAD,
) = range(13)  # fmt: skip
"""Places in the array of what acts on the column."""

DRAIN, FREE = 0.0, 1.0
"""Below: a drain that opens above a water level (or none), or ground that goes on for ever."""

SUPPLIED, EVAPORATED, FROM_LITTER, TAKEN, DRAINED, CAUGHT = range(6)
"""Places in the array of sums [m]; CAUGHT is what the litter has kept of the supply so far."""

STEPS, REFUSED, UNSOLVED, LOOKS = range(4)
"""Places in the array of counts: steps, refused for their error, unsolved, and looks at all
nodes."""

(
    WATER, SLOPE, K_BELOW, DK_BELOW, K_ABOVE, DK_ABOVE, RATE, LOWER, MIDDLE, UPPER, RATIO, CHANGE,
    FIRST, SECOND, TARGET, RATE_ONE, RATE_START, BEFORE, BASE,
    FULL, SEEN, SEEN_WATER, SEEN_ABOVE, SEEN_BELOW,
) = range(24)  # fmt: skip
"""Rows of the workspace."""

ROWS = 24
"""Rows of the workspace."""

NEAR, UNSEEN = 1e-4, 1e300
"""How near a head must be to that last looked at to be taken along the slopes, as a share of it;
and the head of a node that was never looked at [m]."""

MOST_LOOKS, PATIENCE = 25, 8
"""Newton steps before a stage is given up and a shorter step tried; and before a step that makes
the residual no smaller is halved."""

LOOSE = 0.3
"""Most that a stage's residual may be, as a share of a node's water, by the tolerance of a step:
the next step makes it good."""

LOWEST = -1e6
"""Lowest head [m], beyond oven-dry."""

_HUMID = soil_water.HUMID_HEAD


@njit(cache=True, error_model="numpy")
def fill_nodes(head, near, material, length, table, work):
    """Water of each node and its slope; conductivity at both ends of each slice, with slopes.

    A head within ``near`` of that last looked at, as a share of it, is taken along the slopes: with
    1e-4 the water is right to 1e-8. None is where ``work[SEEN]`` is `UNSEEN`.
    """
    count = len(head)
    water, slope, seen = work[WATER], work[SLOPE], work[SEEN]
    for i in range(count):
        gap = head[i] - seen[i]
        if abs(gap) <= near * abs(seen[i]):
            water[i] = work[SEEN_WATER, i] + slope[i] * gap
            work[K_ABOVE, i] = work[SEEN_ABOVE, i] + work[DK_ABOVE, i] * gap
            work[K_BELOW, i] = work[SEEN_BELOW, i] + work[DK_BELOW, i] * gap
            continue
        held, rise = 0.0, 0.0
        above = i < count - 1
        if above:
            content, c, k, dk = material_at(head[i], table[material[i]])
            work[K_ABOVE, i], work[DK_ABOVE, i] = k, dk
            held += 0.5 * length[i] * content
            rise += 0.5 * length[i] * c
        elif head[i] > 0.0:
            held += head[i]
            rise += 1.0
        if i > 0:
            if not above or material[i - 1] != material[i]:
                content, c, k, dk = material_at(head[i], table[material[i - 1]])
            work[K_BELOW, i], work[DK_BELOW, i] = k, dk
            held += 0.5 * length[i - 1] * content
            rise += 0.5 * length[i - 1] * c
        water[i], slope[i] = held, rise
        seen[i], work[SEEN_WATER, i] = head[i], held
        work[SEEN_ABOVE, i], work[SEEN_BELOW, i] = work[K_ABOVE, i], work[K_BELOW, i]


@njit(cache=True, error_model="numpy")
def fill_rates(head, length, upwind, root, acts, work, out):
    """What each node gains a second, with its derivatives, and the flows at the column's ends.

    ``out``: evaporation of the ground, uptake of roots, drainage, and water through fixed heads.
    """
    count = len(head)
    rate, lower, middle, upper = work[RATE], work[LOWER], work[MIDDLE], work[UPPER]
    for i in range(count):
        rate[i] = 0.0
        lower[i] = 0.0
        middle[i] = 0.0
        upper[i] = 0.0
    for e in range(count - 1):
        low, high = work[K_ABOVE, e], work[K_BELOW, e + 1]
        over = 1.0 / length[e]
        pull = (head[e + 1] - head[e]) * over + 1.0
        k, lean, turn = 0.5 * (low + high), 0.0, 0.0
        if upwind[e] > 0.0:
            # Coarse slices: the end that water comes from counts more, none where it rests.
            size = math.sqrt(pull * pull + 0.01)
            lean, turn = 0.5 * upwind[e] * (size - 0.1), 0.5 * upwind[e] * pull / size
        down = k * pull + (high - low) * lean
        steep = (k + (high - low) * turn) * over
        here = work[DK_ABOVE, e] * (0.5 * pull - lean) - steep
        there = work[DK_BELOW, e + 1] * (0.5 * pull + lean) + steep
        rate[e] += down
        middle[e] += here
        upper[e] += there
        rate[e + 1] -= down
        lower[e + 1] -= here
        middle[e + 1] -= there
    drained = 0.0
    if acts[DRAIN_KIND] == FREE:
        drained = work[K_ABOVE, 0]
        middle[0] -= work[DK_ABOVE, 0]
    elif head[0] > acts[DRAIN_HEIGHT]:
        drained = acts[DRAIN_CONDUCTANCE] * (head[0] - acts[DRAIN_HEIGHT])
        middle[0] -= acts[DRAIN_CONDUCTANCE]
    rate[0] -= drained
    top = count - 1
    share = _evaporated(head[top], acts[HUMIDITY])
    evaporated = acts[EVAPORATION] * share
    if share > 0.0 and head[top] < 0.0:
        over = math.exp(head[top] / _HUMID) / (_HUMID * (1.0 - acts[HUMIDITY]))
        middle[top] -= acts[EVAPORATION] * over
    rate[top] += acts[RAIN] - evaporated
    taken = 0.0
    if acts[ROOTS] > 0.0:
        airless, wet, dry, wilted = acts[AIRLESS], acts[WET], acts[DRY], acts[WILTED]
        for i in range(count):
            if root[i] > 0.0:
                wanted = acts[ROOTS] * root[i]
                part = _uptake(head[i], airless, wet, dry, wilted)
                rate[i] -= wanted * part
                taken += wanted * part
                if wet < head[i] < airless:
                    middle[i] += wanted / (airless - wet)
                elif wilted < head[i] < dry:
                    middle[i] -= wanted / (dry - wilted)
    out[0], out[1], out[2], out[3] = evaporated, taken, drained, 0.0
    if not math.isnan(acts[TOP_HEAD]):
        out[0], out[3] = 0.0, out[3] - rate[top] + acts[RAIN] - evaporated
        rate[top] = 0.0
    if not math.isnan(acts[BOTTOM_HEAD]):
        out[2] = rate[0] + drained
        rate[0] = 0.0


@njit(cache=True, error_model="numpy")
def _moved(head, change, p):
    """A head after a Newton step, taken by the water content where a straight one would err."""
    if head >= 0.0 or abs(change) < 0.3 * abs(head):
        return head + change
    if p[LAW] != GENUCHTEN:
        if change < 0.0:
            return max(head + change, 4.0 * head)
        return min(head + change, 0.1 * head)
    if head < -soil_water.DRY_HEAD:
        if change < 0.0:
            return head * min(3.0, math.exp(change / head))
        return head + change if head + change < 0.0 else max(0.01 * head, -10.0)
    x = -p[ALPHA] * head
    if x <= 0.3:
        return head + change
    power = x ** p[N]
    share = (1.0 + power) ** (-p[M])
    new = share - p[M] * p[N] * share * power / ((1.0 + power) * head) * change
    if change < 0.0:
        if new > 0.2 * share:
            return head_of_share(new, p)
        return max(head + change, 5.0 * head)
    if new < 0.98:
        return head_of_share(new, p)
    if head + change > 0.0:
        return min(head + change, max(-0.1 / p[ALPHA], 0.3 * head))
    return max(head + change, head_of_share(0.98, p))


@njit(cache=True, inline="always")
def _bears(i, head, step, work):
    """Water a node can take up or give off in a step without a head out of proportion [m].

    A trace of water too much in full ground would need great heads to leave at once, so there the
    residual must be smaller, and what earlier ones left is made good at this pace.
    """
    change = work[SLOPE, i] * (1.0 + abs(head))
    flow = step * max(work[K_BELOW, i], work[K_ABOVE, i])
    return change + flow + max(0.0, work[FULL, i] - work[WATER, i])


@njit(cache=True, error_model="numpy")
def solve_stage(
    head, step, material, length, size, upwind, table, root, acts, loose, tight, known, work, out
):
    """Heads at which each node's water is ``work[TARGET]`` plus ``step`` times its rate.

    Newton's steps until each node's residual is under ``loose`` of its water and small beside what
    it `_bears`, and where ``tight`` until it falls no more, too. ``known``: the workspace is
    filled at these heads. Returns the number of looks at all nodes, or -1 where none was found.
    """
    count = len(head)
    ratio, change = work[RATIO], work[CHANGE]
    target, water, slope, rate = work[TARGET], work[WATER], work[SLOPE], work[RATE]
    lower, middle, upper = work[LOWER], work[MIDDLE], work[UPPER]
    fixed_top = not math.isnan(acts[TOP_HEAD])
    fixed_bottom = not math.isnan(acts[BOTTOM_HEAD])
    before, halved = 1e300, 0
    short = min(step, 1.0)  # a residual must not be too much for a short step that may follow
    for look in range(MOST_LOOKS):
        if look > 0 or not known:
            fill_nodes(head, 0.0 if tight else NEAR, material, length, table, work)
        fill_rates(head, length, upwind, root, acts, work, out)
        worst = 0.0
        for i in range(count):
            residual = target[i] + step * rate[i] - water[i]
            change[i] = residual
            limit = min(loose * abs(water[i]), 5e-4 * _bears(i, head[i], short, work))
            worst = max(worst, abs(residual) / max(limit, 1e-12 * size[i]))
        if not worst < 1e12:
            return -1
        if worst < 1.0 and (not tight or worst < 1e-6 or (worst < 0.01 and worst > 0.5 * before)):
            return look + 1
        if look > PATIENCE and worst > 0.9 * before and halved < 3:
            halved += 1
            for i in range(count):
                head[i] = 0.5 * (head[i] + work[BEFORE, i])
            continue
        halved = 0
        before = worst
        for i in range(count):
            work[BEFORE, i] = head[i]
            diagonal = slope[i] - step * middle[i]
            below, above = -step * lower[i], -step * upper[i]
            if (i == 0 and fixed_bottom) or (i == count - 1 and fixed_top):
                diagonal, below, above, change[i] = 1.0, 0.0, 0.0, 0.0
            if i > 0:
                diagonal -= below * ratio[i - 1]
                change[i] -= below * change[i - 1]
            change[i] /= diagonal
            ratio[i] = above / diagonal
        for i in range(count - 2, -1, -1):
            change[i] -= ratio[i] * change[i + 1]
        for i in range(count):
            p = table[material[min(i, count - 2)]]
            if 0 < i < count - 1 and material[i - 1] != material[i] and head[i] < 0.0:
                # Where layers meet, the one whose water changes more decides.
                _, c_below, _, _ = material_at(head[i], table[material[i - 1]])
                _, c_above, _, _ = material_at(head[i], p)
                if c_below * length[i - 1] > c_above * length[i]:
                    p = table[material[i - 1]]
            new = max(LOWEST, _moved(head[i], change[i], p))
            if i == count - 1 and head[i] < 0.0 and new > 0.0 and not fixed_top:
                new = min(new, 1e-9)  # where water begins to stand on the surface
            head[i] = new
    return -1


@njit(cache=True, error_model="numpy", nogil=True)
def march(
    edges, rain, evaporation, roots, polished, head, water, litter, capacity, passes,
    material, length, size, upwind, table, root, acts, tolerance, fixed, least, sums, counts, kept, work
):  # fmt: skip
    """Follow the column from edge to edge; returns the number of edges reached.

    ``edges`` (E+1,) [s] with rates (E,) [m/s] between them; ``polished`` (E,) marks the edges
    that end with the heads solved to the last digits, after which heads, water, litter and sums
    are written to the rows of ``kept``. ``head`` and ``water`` (N,) [m], ``litter`` (1,), ``sums``
    and ``counts`` are changed in place. ``fixed`` above 0 takes steps of that length [s], whatever
    their error.
    """
    count = len(head)
    first, second, target, base = work[FIRST], work[SECOND], work[TARGET], work[BASE]
    rate, rate_one, rate_start = work[RATE], work[RATE_ONE], work[RATE_START]
    out, out_one = np.zeros(4), np.zeros(4)
    work[FULL] = 0.0
    work[SEEN] = UNSEEN
    for e in range(count - 1):
        half = 0.5 * length[e] * (table[material[e], RESIDUAL] + table[material[e], MOBILE])
        work[FULL, e] += half
        work[FULL, e + 1] += half
    loose = LOOSE * tolerance
    step, row, before = fixed if fixed > 0.0 else 1.0, 0, -1.0
    for segment in range(len(edges) - 1):
        now, end = edges[segment], edges[segment + 1]
        wet = litter[0] / capacity if capacity > 0.0 else 0.0
        acts[RAIN] = rain[segment] * wet if capacity > 0.0 else rain[segment]
        acts[EVAPORATION] = evaporation[segment] * (1.0 - wet) * passes
        acts[ROOTS] = roots[segment]
        fill_nodes(head, NEAR, material, length, table, work)
        fill_rates(head, length, upwind, root, acts, work, out)
        for i in range(count):
            rate_start[i] = rate[i]
        jump = abs(rain[segment] - before)
        if segment > 0 and jump > 0.0 and fixed <= 0.0:
            step = min(step, max(40.0 * tolerance * size[count - 1] / jump, least))
        before = rain[segment]
        while now < end:
            left = end - now
            wanted = step
            last = step >= 0.999999 * left
            if last:
                step = left
            elif step > 0.5 * left and fixed <= 0.0:
                step = 0.5 * left
            # What the litter lets through and leaves to evaporate, on the mean over the step.
            film = litter[0]
            p, e = rain[segment], evaporation[segment]
            if capacity > 0.0:
                both = (p + e) * step / capacity
                if both > 0.0:
                    film = _film(litter[0], capacity, p, e, step)
                    wet = (p * step - (film - litter[0])) / (both * capacity)
                    wet = min(max(wet, min(film, litter[0]) / capacity),
                              max(film, litter[0]) / capacity)  # fmt: skip
                    film = litter[0] + step * p - both * capacity * wet
                else:
                    wet = film / capacity
                acts[RAIN] = p * wet
                acts[EVAPORATION] = e * (1.0 - wet) * passes
            tight = last and polished[segment]
            for i in range(count):
                pace = 1e-3 * _bears(i, head[i], step, work)
                base[i] = work[WATER, i] + min(max(water[i] - work[WATER, i], -pace), pace)
                first[i] = head[i]
                target[i] = base[i]
            looks = solve_stage(first, GAMMA * step, material, length, size, upwind, table, root,
                                acts, loose, tight, True, work, out_one)  # fmt: skip
            if looks > 0:
                counts[LOOKS] += looks
                for i in range(count):
                    rate_one[i] = rate[i]
                    target[i] = base[i] + step * (1.0 - GAMMA) * rate_one[i]
                    guess = first[i] + 2.0 * (first[i] - head[i])
                    if first[i] < 0.0:
                        guess = min(max(guess, 1.3 * first[i]), 0.7 * first[i])
                    elif guess < 0.0:
                        guess = 0.5 * first[i]
                    second[i] = guess
                if not math.isnan(acts[TOP_HEAD]):
                    second[count - 1] = head[count - 1]
                if not math.isnan(acts[BOTTOM_HEAD]):
                    second[0] = head[0]
                looks = solve_stage(second, GAMMA * step, material, length, size, upwind, table,
                                    root, acts, loose, tight, False, work, out)  # fmt: skip
            if looks < 0:
                counts[UNSOLVED] += 1
                step *= 0.25
                if step < 1e-7 or counts[UNSOLVED] > 1000.0 + counts[STEPS]:
                    return segment
                fill_nodes(head, NEAR, material, length, table, work)
                continue
            counts[LOOKS] += looks
            error = 0.0
            for i in range(count):
                miss = _ERROR[0] * rate_start[i] + _ERROR[1] * rate_one[i] + _ERROR[2] * rate[i]
                error = max(error, abs(miss) / size[i])
            error *= step / tolerance
            if error > 1.0 and fixed <= 0.0 and step > least:
                counts[REFUSED] += 1
                step *= max(0.2, 0.9 * error ** (-1.0 / 3.0))
                fill_nodes(head, NEAR, material, length, table, work)
                continue
            for i in range(count):
                water[i] += step * ((1.0 - GAMMA) * rate_one[i] + GAMMA * rate[i])
                rate_start[i] = rate[i]
                head[i] = second[i]
            for j in range(3):
                mean = (1.0 - GAMMA) * out_one[j] + GAMMA * out[j]
                sums[EVAPORATED if j == 0 else TAKEN if j == 1 else DRAINED] += step * mean
            sums[SUPPLIED] += step * (p + (1.0 - GAMMA) * out_one[3] + GAMMA * out[3])
            if capacity > 0.0:
                sums[FROM_LITTER] += step * e * wet
                sums[CAUGHT] += step * p * (1.0 - wet)
                litter[0] = film
            counts[STEPS] += 1
            now = end if last else now + step
            if fixed > 0.0:
                step = fixed
            else:
                step *= min(4.0, 0.9 * max(error, 1e-6) ** (-1.0 / 3.0))
                if last:
                    step = max(step, wanted)
        if polished[segment]:
            kept[row, 0:count] = head
            kept[row, count : 2 * count] = water
            kept[row, 2 * count] = litter[0]
            for j in range(6):
                kept[row, 2 * count + 1 + j] = sums[j]
            row += 1
    return len(edges) - 1
