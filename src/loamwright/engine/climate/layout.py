"""Where the parts of a state lie in its one vector, and room for what the rates leave behind."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from loamwright.engine.climate.network import LEDGER
from loamwright.engine.compiled import bare

Floats = NDArray[np.float64]
LEDGERS = len(LEDGER)


class Work(NamedTuple):
    """What the rates write besides the rates; N cells, S surfaces, Z places, P paths.

    ``flow`` (P+1,) out of the paths [m3/s], its last number the pressure; ``lean`` (P,) the air
    columns' part of what drives them [Pa]; ``density`` of the air by layer [kg/m3]. By cell: ``vapour``
    its pressure [Pa], ``warmth`` gained [W], ``wet`` vapour gained [kg/s], ``virtual`` temperature [K],
    ``gain`` air that enters [m3/s], ``height`` the potential that carries it off. By surface:
    ``temp`` [K], ``fourth`` its fourth power, ``thermal``, ``light``, ``infrared``, ``shine`` what
    arrives.
    Slopes, for the step: air that reaches a cell from its right neighbour ``from_right``, that one from
    it ``to_right``, and the same upward ``from_above``, ``to_above`` [m3/s] (N,), how stirring grows
    with the difference of virtual temperatures, ``spur_right``, ``spur_above`` [m3/(s K)] (N,); air
    that a cell's warmth ``loses`` and its vapour ``parts`` with otherwise, and what fog and drops in it
    take up as vapour strays from saturation, ``mists`` [m3/s] (N,); of surfaces towards their air heat
    ``conducts`` [W/K], vapour ``breathes`` [m3/s], that of it from the film ``dries`` [m3/s], by a
    kelvin of theirs ``steams`` and of the air's ``leans`` back [kg/(s K)], radiation ``shines`` [W/K],
    and the film's surplus ``runs`` off [1/s]; of places ``place`` to all above and ``place_air`` to the
    air alone [W/(m2 K)], ``place_runs`` [1/s].
    """

    flow: Floats
    lean: Floats
    density: Floats
    vapour: Floats
    warmth: Floats
    wet: Floats
    virtual: Floats
    gain: Floats
    height: Floats
    temp: Floats
    fourth: Floats
    thermal: Floats
    light: Floats
    infrared: Floats
    shine: Floats
    from_right: Floats
    to_right: Floats
    from_above: Floats
    to_above: Floats
    spur_right: Floats
    spur_above: Floats
    loses: Floats
    parts: Floats
    mists: Floats
    conducts: Floats
    breathes: Floats
    dries: Floats
    steams: Floats
    leans: Floats
    shines: Floats
    runs: Floats
    place: Floats
    place_air: Floats
    place_runs: Floats


@njit(cache=True)
def work_for(net):
    """Room for the rates of a network."""
    n, s, z = len(net.volume), len(net.area), len(net.site_on)
    return Work(
        np.zeros(len(net.path_kind) + 1), np.zeros(len(net.path_kind)), np.zeros(net.layers),
        np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n),
        np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s),
        np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n),
        np.zeros(n), np.zeros(n), np.zeros(n),
        np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s), np.zeros(s),
        np.zeros(z), np.zeros(z), np.zeros(z),
    )  # fmt: skip


@bare(forceinline=True)
def offsets(net):
    """Where each part of the state begins: air, vapour, solids, leaves, films, bodies, places (nodes,
    then films), ledger, end."""
    n, m = len(net.volume), len(net.store)
    s, lamps = len(net.area), len(net.body_power)
    leaf = len(net.leaf)
    leaves = 2 * n + m
    films = leaves + leaf
    bodies = films + s
    places = bodies + lamps
    ledger = places + len(net.site_store) + len(net.site_on)
    return 0, n, 2 * n, leaves, films, bodies, places, ledger, ledger + LEDGERS
