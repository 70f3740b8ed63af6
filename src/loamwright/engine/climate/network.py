"""The climate of a habitat as arrays: what stores heat and water, and what carries them.

All compiled loops read these tuples; nothing in them is made for a certain habitat. Surfaces are
solid groups first, then leaves, then openings. Each solid surface is the first node of a chain of
nodes that leads to its core or to the room.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

PASSIVE, FAN_IN, FAN_OUT = 0, 1, 2
"""Kinds of flow path."""

EDGE, UPWARD, DOWNWARD = 0, 1, 2
"""How a surface stands to the air: upright, facing up, facing down."""

DRY, FILM, GROUND, WATER, LEAF, OPENING = 0, 1, 2, 3, 4, 5
"""What a surface does with water: nothing, carries a film, moist ground below, open water,
transpires, is a hole."""


class Net(NamedTuple):
    """A habitat's network. N cells, S surfaces (s0 solid), M nodes, P flow paths, L lamps, Z sites.

    Air: ``columns``, ``layers``; cells are numbered layer by layer from below. ``volume`` (N,)
    [m3], ``dx``, ``dz``, ``depth`` [m] of a cell, ``heat`` volumetric heat capacity [J/(m3 K)],
    ``mixing`` eddy diffusivity of still air [m2/s], ``lift`` and ``sway`` of `mixing.py`.
    Surfaces: ``area`` (S,) that air touches [m2], ``cell`` (S,), ``stand`` (S,), ``free`` and
    ``still`` (S,) factors of the fourth root of the excess [W/(m2 K^1.25)], ``wetting`` (S,) kind,
    ``capacity`` (S,) film it holds [kg/m2], ``resist`` (S,) of the ground [s/m], ``pores`` (S,)
    relative humidity in it, ``drain`` (S,) the surface its surplus runs to (-1: into the ground),
    ``exchange`` (S, S) long-wave areas [m2], ``views`` (S,) their sums, ``see_room`` (S,) share
    of an opening through which the room is seen. Nodes: ``first`` (s0+1,) first node of each chain,
    ``store`` (M,) [J/K], ``link`` (M,) to the next node [W/K], the last of a chain to the room.
    Leaves: ``stomata`` (S,) conductance in light, ``stomata_dark`` (S,) [mol/(m2 s)], ``leaf`` (S,)
    one-sided leaf area [m2]. Lamps: ``lit`` (L, S) heat of light absorbed [W], ``warm`` (L, S)
    thermal infrared absorbed [W], ``par`` (L, S) plant light absorbed [W], ``air_heat`` (L, N)
    convected [W], ``body_power`` (L,) that warms the body [W], ``body_loss`` (L,) [W/K],
    ``body_store`` (L,) [J/K]; all with the lamp fully on. ``plume_from`` (L,) [m] height of its
    body above the ground and ``plume_to`` where what rises from it spreads out (not above it: nothing
    rises inside), ``plume_columns`` (L, columns) shares it stands in.
    Flows: ``path_kind``, ``path_height`` [m], ``path_linear`` [Pa s/m3], ``path_square``
    [Pa s2/m6], ``fan_shut`` [Pa], ``fan_linear``, ``fan_square``, ``fan_power`` [W], ``fan_idle``
    further square loss of a stopped fan, all (P,),
    ``path_cells`` (P, N) shares, ``open_top`` (P,) horizontal area that exchanges by density [m2],
    ``potential`` (N, N) inverse of the graph of cells. ``screen`` (P,)
    what a mesh leaves of that. Mist: ``mist_surface`` (S,) share of the sprayed water that falls
    there, ``mist_cell`` (N,) where drops evaporate on their way, ``drop`` mean diameter [m],
    ``flight`` [s].
    Sites: ``site_cells`` (Z, N) shares for air, ``site_on`` (Z,) surface it lies on (-1:
    in the air), ``site_first`` (Z+1,) first of its own nodes, ``site_store`` and ``site_link`` (Q,)
    of those per area, the last of a place to the room, ``site_back`` (Z,) its end to the air,
    ``site_sees`` (Z, S) shares of its half space, ``site_lit`` and ``site_warm`` (Z, L) absorbed
    [W/m2], ``site_free`` (Z,), ``site_emits`` (Z,), ``site_mist`` (Z,) share of the spray
    that lands there [1/m2].
    """

    columns: int
    layers: int
    dx: float
    dz: float
    depth: float
    heat: float
    pressure: float
    mixing: float
    lift: float
    sway: float
    volume: Floats
    solids: int
    area: Floats
    cell: Ints
    stand: Ints
    free: Floats
    still: Floats
    wetting: Ints
    capacity: Floats
    resist: Floats
    pores: Floats
    drain: Ints
    exchange: Floats
    views: Floats
    see_room: Floats
    first: Ints
    store: Floats
    link: Floats
    tied: Ints
    tie: Floats
    leaf: Floats
    leaf_store: Floats
    stomata: Floats
    stomata_dark: Floats
    lit: Floats
    warm: Floats
    par: Floats
    air_heat: Floats
    body_power: Floats
    body_loss: Floats
    body_store: Floats
    body_air: Floats
    plume_from: Floats
    plume_to: Floats
    plume_columns: Floats
    path_kind: Ints
    path_height: Floats
    path_linear: Floats
    path_square: Floats
    fan_shut: Floats
    fan_linear: Floats
    fan_square: Floats
    fan_power: Floats
    path_cells: Floats
    fan_idle: Floats
    open_top: Floats
    screen: Floats
    potential: Floats
    mist_surface: Floats
    mist_cell: Floats
    mist_rate: float
    mist_heat: float
    drop: float
    flight: float
    site_cells: Floats
    site_on: Ints
    site_first: Ints
    site_store: Floats
    site_link: Floats
    site_back: Floats
    site_sees: Floats
    site_lit: Floats
    site_warm: Floats
    site_free: Floats
    site_emits: Floats
    site_mist: Floats


class Forcing(NamedTuple):
    """What drives the network during one step, held constant in it.

    ``lamps`` (L,) share of full output, ``speed`` (P,) fan speed as a share of full (0: off; 1 for
    passive paths that are open, 0 for shut ones), ``mist`` share of the step the pump runs,
    ``room`` air temperature [K], ``vapour`` of the room [kg/m3].
    """

    lamps: Floats
    speed: Floats
    mist: float
    room: float
    vapour: float


LEDGER = (
    "lamps",
    "fans",
    "walls",
    "air",
    "windows",
    "evaporated",
    "water",
    "mist",
    "bowls",
    "soil",
    "leaves",
    "soaked",
    "vented",
    "condensed",
)
"""What is summed while a run goes on. Heat [J]: from ``lamps`` and ``fans``, to the room through
``walls``, with the ``air`` and as long-wave through open ``windows``, taken by water ``evaporated``,
brought by cold ``water``. Water [kg]: from ``mist``, ``bowls``, ``soil`` and ``leaves``, ``soaked``
into the ground, ``vented``; ``condensed`` on surfaces (part of what they hold)."""
