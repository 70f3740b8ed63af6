"""The arrays the engines work on, and the way back to names."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]

PANEL, GROUND, PIECE, SHEET, WATER = 0, 1, 2, 3, 4
"""What a patch belongs to."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Flat things that let part of the light through: covers over openings, clear panels.

    ``corner``, ``edge_u``, ``edge_v`` (S, 3) [m]; ``mesh`` (S,) 1 for a wire mesh, 0 for a clear
    sheet; ``pitch``, ``wire`` (S,) [m]; ``transmit`` (S, 5) at normal incidence by band;
    ``index`` (S,) refractive index.
    """

    corner: Floats
    edge_u: Floats
    edge_v: Floats
    mesh: Ints
    pitch: Floats
    wire: Floats
    transmit: Floats
    index: Floats
    names: tuple[str, ...]

    def only(self, keep: NDArray[np.bool_]) -> Sheets:
        """The sheets chosen by ``keep`` (S,)."""
        return Sheets(
            self.corner[keep],
            self.edge_u[keep],
            self.edge_v[keep],
            self.mesh[keep],
            self.pitch[keep],
            self.wire[keep],
            self.transmit[keep],
            self.index[keep],
            tuple(n for n, k in zip(self.names, keep, strict=True) if k),
        )


@dataclass(frozen=True, slots=True)
class Canopies:
    """Leaves as turbid ellipsoids: ``centre``, ``half`` (C, 3) [m]; ``extinction`` (C, 5) by
    band [1/m]."""

    centre: Floats
    half: Floats
    extinction: Floats
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Scene:
    """Surfaces, sheets and canopies of one habitat.

    ``triangles`` (T, 3, 3) [m] with ``patch_of`` (T,) the patch each belongs to; sheets' triangles
    come last, from ``first_sheet_triangle`` on. Patches: ``centre``, ``normal`` (P, 3), ``area`` (P,)
    [m2], ``reflect`` (P, 3) by optical band, ``kind`` (P,), ``owner`` (P,) index into ``owners``,
    ``both_sides`` (P,) True where light leaves a patch on both faces; ``doors`` the owners that go
    when the doors open.
    """

    triangles: Floats
    patch_of: Ints
    first_sheet_triangle: int
    centre: Floats
    normal: Floats
    area: Floats
    reflect: Floats
    kind: Ints
    owner: Ints
    owners: tuple[str, ...]
    both_sides: NDArray[np.bool_]
    sheets: Sheets
    canopies: Canopies
    doors: tuple[str, ...] = ()

    @property
    def patches(self) -> int:
        """Number of patches."""
        return len(self.area)
