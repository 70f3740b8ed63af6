"""Ferguson zones: the ultraviolet index basking reptiles and amphibians meet in the wild.

The bands are those of Ferguson et al. 2010, Zoo Biology 29:317-334 (15 lizards and snakes followed
in the field, put into four zones), as used by Baines et al. 2016, J Zoo Aquar Res 4(1):42-63.
Neither paper's own table was seen: the figures are from memory, and the same as educational
pages repeat. The upper end of the highest index in zone 4 is 9.5, or 8.0 on another page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

SOURCE_KIND = "from memory"
"""How far the table can be trusted; the kinds are those of catalogue sources."""

SOURCE_TEXT = (
    "Ferguson zones after Ferguson et al. 2010, Zoo Biology 29:317-334, and Baines et al. 2016, "
    "J Zoo Aquar Res 4(1):42-63; bands from memory, not checked against the papers' tables"
)
"""The source of the table in words."""


@dataclass(frozen=True, slots=True)
class Zone:
    """One zone; both bands are ultraviolet indices (low, high) [1].

    ``mean`` bounds the average index the animals met through the day, ``maximum`` the highest
    index recorded for them.
    """

    number: int
    mean: tuple[float, float]
    maximum: tuple[float, float]


ZONES: Mapping[int, Zone] = MappingProxyType(
    {
        1: Zone(1, mean=(0.0, 0.7), maximum=(0.6, 1.4)),  # twilight or shade
        2: Zone(2, mean=(0.7, 1.0), maximum=(1.1, 3.0)),  # occasional basker in partial sun
        3: Zone(3, mean=(1.0, 2.6), maximum=(2.9, 7.4)),  # basker in open or partial sun
        4: Zone(4, mean=(2.6, 3.5), maximum=(4.5, 9.5)),  # basker in the midday sun
    }
)
"""The zones by number."""
