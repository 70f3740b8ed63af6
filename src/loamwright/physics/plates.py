"""Thin plates: how far a panel bends and how hard it is strained, with its edges held on four, three or
two sides.

One solution serves all of them: Lévy's series, exact for a plate whose two opposite edges (x = 0 and
x = span) are simply held, whatever holds the other two. It is that of Timoshenko and Woinowsky-Krieger
1959, Theory of Plates and Shells, 2nd ed., chapter 5; their tables, and those of Roark's Formulas for
Stress and Strain, 7th ed., Table 11.4, are what it is checked against.

Small deflections are assumed. Beyond about half of its thickness a plate begins to carry by stretching
too and is stiffer than told here: what is told is then too much, not too little.
"""

from __future__ import annotations

import bisect
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

EDGES: tuple[str, ...] = ("held", "clamped", "free")
"""How an edge is held: kept in place but free to turn, kept from turning too, or not at all."""

TERMS = 24
"""Terms of the series; the deflection has four right digits after three of them."""

SMALL = 0.5
"""Deflection as a share of the thickness up to which the theory holds [1]; from memory."""

ROARK_RATIO = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 1e9)
ROARK_CENTRE = (0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000)
"""Roark's Formulas for Stress and Strain, 7th ed., Table 11.4, case 1b: long over short side, beta."""


@dataclass(frozen=True, slots=True)
class Bent:
    """A plate under load: greatest ``deflection`` [m], greatest bending ``stress`` [Pa] in any
    direction, and where each is, (x, y) [m]."""

    deflection: float
    stress: float
    deflected_at: tuple[float, float]
    stressed_at: tuple[float, float]


def rigidity(young: float, thickness: float, poisson: float) -> float:
    """Flexural rigidity of a plate [N m]: E t^3 / (12 (1 - nu^2)).

    Parameters
    ----------
    young : float
        Young's modulus [Pa].
    thickness : float
        Thickness [m].
    poisson : float
        Poisson's ratio [1].
    """
    return young * thickness**3 / (12.0 * (1.0 - poisson**2))


def plate(
    span: float, height: float, thickness: float, young: float, poisson: float,
    low: float, high: float, loaded: float, low_edge: str = "held", high_edge: str = "held",
) -> Bent:  # fmt: skip
    """A plate under a pressure that runs straight from its low edge up to a height, and ends there.

    Its edges x = 0 and x = ``span`` are held. Lévy's series, see the module.

    Parameters
    ----------
    span : float
        Width between the two held edges [m].
    height : float
        The other side [m].
    thickness : float
        Thickness [m].
    young : float
        Young's modulus [Pa].
    poisson : float
        Poisson's ratio [1].
    low : float
        Pressure at the low edge y = 0 [Pa].
    high : float
        Pressure at y = ``loaded`` [Pa].
    loaded : float
        Height up to which the pressure acts [m]; of more than ``height`` all of it.
    low_edge : str
        One of `EDGES`: how the edge y = 0 is held [1].
    high_edge : str
        One of `EDGES`: how the edge y = ``height`` is held [1].
    """
    for edge in (low_edge, high_edge):
        if edge not in EDGES:
            raise ValueError(f"no edge is {edge!r}; there is {', '.join(EDGES)}")
    if loaded >= height:
        high = low + (high - low) * height / loaded
        loaded = height
    bend = rigidity(young, thickness, poisson)
    lengths = [loaded] if loaded >= height * (1.0 - 1e-9) else [loaded, height - loaded]
    grids = [np.linspace(0.0, length, 33) for length in lengths]
    x = np.linspace(0.0, 0.5 * span, 25)
    rows = sum(len(g) for g in grids)
    fields = np.zeros((4, rows, len(x)))  # deflection, curvature moments along x and y, twist
    for k in range(TERMS):
        beta = (2 * k + 1) * math.pi / span
        load = 4.0 / ((2 * k + 1) * math.pi)
        shapes = _term(beta, load / bend, lengths, low, high, grids, poisson, (low_edge, high_edge))
        sine, cosine = np.sin(beta * x), np.cos(beta * x)
        value, slope, curve = shapes
        fields[0] += np.outer(value, sine)
        fields[1] += np.outer(beta**2 * value - poisson * curve, sine)
        fields[2] += np.outer(poisson * beta**2 * value - curve, sine)
        fields[3] += np.outer((1.0 - poisson) * beta * slope, cosine)
    moments = bend * fields[1:]
    middle, half = 0.5 * (moments[0] + moments[1]), 0.5 * (moments[0] - moments[1])
    principal = np.abs(middle) + np.hypot(half, moments[2])
    y = np.concatenate([grids[0], *(lengths[0] + g for g in grids[1:])])
    bent, strained = np.abs(fields[0]), 6.0 * principal / thickness**2

    def place(field: Floats) -> tuple[float, float]:
        row, column = np.unravel_index(int(field.argmax()), field.shape)
        return float(x[column]), float(y[row])

    return Bent(float(bent.max()), float(strained.max()), place(bent), place(strained))


def _basis(beta: float, length: float, at: Floats) -> list[Floats]:
    """The four solutions without load, decaying from either end, and their first three derivatives:
    four arrays (places, 4)."""
    near, far = beta * at, beta * (length - at)
    down, up = np.exp(-near), np.exp(-far)
    out = []
    for k in range(4):
        sign = (-1.0) ** k
        # d^k/ds^k of s exp(-s) is (-1)^k (s - k) exp(-s).
        out.append(
            beta**k * np.stack([sign * down, sign * (near - k) * down, up, (far - k) * up], axis=1)
        )
    return out


def _term(
    beta: float, scale: float, lengths: list[float], low: float, high: float,
    grids: list[Floats], poisson: float, edges: tuple[str, str],
) -> tuple[Floats, Floats, Floats]:  # fmt: skip
    """One term's shape along y with its first two derivatives, at the places of all grids."""
    parts = len(lengths)
    matrix, right = np.zeros((4 * parts, 4 * parts)), np.zeros(4 * parts)
    slope = scale * (high - low) / (beta**4 * lengths[0])

    def particular(at: Floats) -> list[Floats]:
        value = scale * low / beta**4 + slope * at
        return [value, np.full_like(at, slope), np.zeros_like(at), np.zeros_like(at)]

    def rows_of(edge: str, d: list[Floats]) -> list[Floats]:
        if edge == "held":
            return [d[0], d[2]]
        if edge == "clamped":
            return [d[0], d[1]]
        return [d[2] - poisson * beta**2 * d[0], d[3] - (2.0 - poisson) * beta**2 * d[1]]

    row = 0
    for edge, part, end in ((edges[0], 0, 0.0), (edges[1], parts - 1, lengths[-1])):
        at = np.array([end])
        of = rows_of(edge, _basis(beta, lengths[part], at))
        loaded = rows_of(edge, particular(at)) if part == 0 else [np.zeros(1)] * 2
        for i in range(2):
            matrix[row, 4 * part : 4 * part + 4] = of[i][0]
            right[row] = -loaded[i][0]
            row += 1
    if parts == 2:
        seam = np.array([lengths[0]])
        here, there = _basis(beta, lengths[0], seam), _basis(beta, lengths[1], np.array([0.0]))
        for k, own in enumerate(particular(seam)):
            matrix[row, :4], matrix[row, 4:], right[row] = here[k][0], -there[k][0], -own[0]
            row += 1
    # Derivatives of high order are large: rows are brought to one size before they are solved.
    size = np.abs(matrix).max(axis=1)
    found = np.linalg.solve(matrix / size[:, None], right / size)
    out = []
    for k in range(3):
        pieces = []
        for part, grid in enumerate(grids):
            value = _basis(beta, lengths[part], grid)[k] @ found[4 * part : 4 * part + 4]
            pieces.append(value + particular(grid)[k] if part == 0 else value)
        out.append(np.concatenate(pieces))
    return out[0], out[1], out[2]


def centre_deflection(
    force: float, long: float, short: float, thickness: float, young: float, poisson: float
) -> float:
    """Deflection of a plate held on four sides under a force in its middle [m].

    Timoshenko and Woinowsky-Krieger 1959, eq. 147.

    Parameters
    ----------
    force : float
        Force [N].
    long : float
        Long side [m].
    short : float
        Short side [m].
    thickness : float
        Thickness [m].
    young : float
        Young's modulus [Pa].
    poisson : float
        Poisson's ratio [1].
    """
    total = 0.0
    for m in range(1, 60, 2):
        angle = min(m * math.pi * long / (2.0 * short), 300.0)
        total += (math.tanh(angle) - angle / math.cosh(angle) ** 2) / m**3
    return force * short**2 / (2.0 * math.pi**3 * rigidity(young, thickness, poisson)) * total


def centre_stress(
    force: float, long: float, short: float, thickness: float, poisson: float, radius: float
) -> float:
    """Greatest stress of a plate held on four sides under a force on a small circle in its middle [Pa].

    Roark's Formulas for Stress and Strain, 7th ed., Table 11.4, case 1b (its beta is for nu = 0.3).

    Parameters
    ----------
    force : float
        Force [N].
    long : float
        Long side [m].
    short : float
        Short side [m].
    thickness : float
        Thickness [m].
    poisson : float
        Poisson's ratio [1].
    radius : float
        Radius of the circle [m].
    """
    reach = radius
    if radius < 0.5 * thickness:
        reach = math.sqrt(1.6 * radius**2 + thickness**2) - 0.675 * thickness
    ratio = long / short
    i = min(max(bisect.bisect_right(ROARK_RATIO, ratio) - 1, 0), len(ROARK_RATIO) - 2)
    # Over the reciprocal of the ratio, so that the last step of the table has an end.
    a, b = 1.0 / ROARK_RATIO[i], 1.0 / ROARK_RATIO[i + 1]
    share = (a - 1.0 / ratio) / (a - b)
    beta = ROARK_CENTRE[i] + share * (ROARK_CENTRE[i + 1] - ROARK_CENTRE[i])
    log = math.log(2.0 * short / (math.pi * reach))
    return 3.0 * force / (2.0 * math.pi * thickness**2) * ((1.0 + poisson) * log + beta)
