"""Peat by its bulk density: how much water it holds at a suction, and how it conducts."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

_POLYNOMIALS: Final = (
    (0.0, 97.95, -79.72, 0.0),
    (1.5, 20.83, 759.69, -2484.3),
    (2.0, 3.81, 705.13, -2036.2),
    (3.0, 9.37, 241.69, -364.6),
    (4.0, -0.06, 249.8, -519.9),
    (4.2, 0.0, 174.48, -348.9),
)
_AT_TEN: Final = ((0.04, 0.63), (0.08, 0.84), (0.10, 0.86), (0.20, 0.80))
_CONDUCTIVITY: Final = {
    "all": (-2.271, -9.80),
    "sphagnum": (-2.321, -13.22),
    "carex": (-1.921, -10.702),
    "woody": (-1.921, -10.702),
}


def peat_content(pf: float, dry_density: float) -> float:
    """Water content of peat at a suction [1].

    Parameters
    ----------
    pf : float
        Logarithm of the suction in cm: 0, 1, 1.5, 2, 3, 4 or 4.2 [1].
    dry_density : float
        Dry mass by volume, 40 to 200 [kg/m3].

    Source: Paivanen 1973, Acta For Fenn 129, as public peatland codes print it. ValueError for
    another suction.
    """
    rho = dry_density / 1000.0
    if pf == 1.0:
        for (low, first), (high, last) in pairwise(_AT_TEN):
            if rho <= high:
                return first + (last - first) * (rho - low) / (high - low)
        return _AT_TEN[-1][1]
    for at, constant, slope, curve in _POLYNOMIALS:
        if pf == at:
            return (constant + slope * rho + curve * rho * rho) / 100.0
    raise ValueError(f"peat was not measured at pF {pf:g}")


def peat_conductivity(dry_density: float, kind: str) -> float:
    """Saturated hydraulic conductivity of peat in the field [m/s].

    Parameters
    ----------
    dry_density : float
        Dry mass by volume, 40 to 200 [kg/m3].
    kind : str
        ``all``, ``sphagnum``, ``carex`` or ``woody``.

    Loosened peat in a pot conducts far better.

    Source: Paivanen 1973, Acta For Fenn 129, as public peatland codes print it.
    """
    constant, slope = _CONDUCTIVITY[kind]
    return float(10.0 ** (constant + slope * dry_density / 1000.0)) / 100.0
