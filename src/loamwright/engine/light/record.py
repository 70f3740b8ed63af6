"""What a light check keeps: plain arrays, no compiled code needed to read them."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]

WAYS = 240
"""Directions a meter is turned to at each site; neighbours are 8 degrees apart, so the brightest
is found within 0.3 %."""

UP, NORMAL = 0, 1
"""Rows before the `WAYS`: facing up, and along the site's own surface normal."""


@dataclass(frozen=True)
class LightStudy:
    """Arrays of a light check; shapes with L lamps, S sites, W ways, P patches, C crowns.

    ``at_sites`` (L, S, 2+`WAYS`, 5) transport [1/m2] per watt in each band, ``way_points`` (N, 3) [m]
    with ``way_light`` (L, N, 1+`WAYS`, 5), ``way_of`` (N,) number of the way each belongs to and
    ``way_ends`` (ways, 2) its basking and retreat site; ``patch_light`` (L, P, 5),
    ``patch_centre`` (P, 3), ``patch_normal`` (P, 3), ``patch_area``, ``patch_kind``,
    ``patch_owner`` (P,); ``people`` (L, K, `WAYS`, 5) at ``people_at`` (K, 3);
    ``solids_keep`` (L, S) share of each lamp that no solid hides, ``blocker`` (L, S) the owner
    that hides most (-1 none), ``crowns_keep`` (L, S, C, 5) and ``sheets_keep`` (L, S, sheets, 5)
    share of each band let through, ``distance`` (L, S) to the lamp's body [m]; ``lamp_near`` (L,)
    distance to the nearest thing an animal can sit on [m] with its site or owner number (else -1);
    ``balance`` (L,) share of each lamp's flux that the patches miss or find too much.
    """

    at_sites: NDArray[np.float32]
    way_points: Floats
    way_light: NDArray[np.float32]
    way_of: NDArray[np.int32]
    way_ends: NDArray[np.int32]
    patch_light: NDArray[np.float32]
    patch_centre: Floats
    patch_normal: Floats
    patch_area: Floats
    patch_kind: NDArray[np.int32]
    patch_owner: NDArray[np.int32]
    people: NDArray[np.float32]
    people_at: Floats
    solids_keep: Floats
    blocker: NDArray[np.int32]
    crowns_keep: Floats
    sheets_keep: Floats
    distance: Floats
    lamp_near: Floats
    lamp_near_site: NDArray[np.int32]
    lamp_near_owner: NDArray[np.int32]
    balance: Floats
    owners: tuple[str, ...]
    crowns: tuple[str, ...]
    sheets: tuple[str, ...]

    def arrays(self) -> dict[str, NDArray]:
        """The study as named arrays of plain kinds."""
        out: dict[str, NDArray] = {}
        for f in fields(self):
            value = getattr(self, f.name)
            out[f.name] = np.array(value, dtype=np.str_) if isinstance(value, tuple) else value
        return out

    @classmethod
    def from_arrays(cls, arrays: dict[str, NDArray]) -> LightStudy:
        """The study from what `arrays` gave."""
        values: dict[str, Any] = {
            f.name: tuple(str(v) for v in arrays[f.name])
            if f.name in ("owners", "crowns", "sheets")
            else arrays[f.name]
            for f in fields(cls)
        }
        return cls(**values)


def basking_sites(habitat: Habitat, species: str) -> list[int]:
    """Numbers of the basking sites meant for a species."""
    return [
        i
        for i, s in enumerate(habitat.sites)
        if s.role == "basking" and (not s.species or species in s.species)
    ]


def retreat_sites(habitat: Habitat, species: str) -> list[int]:
    """Numbers of the hides and retreats meant for a species."""
    return [
        i
        for i, s in enumerate(habitat.sites)
        if s.role in ("hide", "retreat") and (not s.species or species in s.species)
    ]
