"""How fast leaves of different kinds decay where it is warm and moist: published litterbags."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

YEAR: Final = 365.25 * 86_400.0
"""Seconds in a year [s]; Julian."""


class LeafDecay(NamedTuple):
    """Decay of one kind of leaf in litterbags of about a millimetre, some of the fauna in them."""

    slow: float
    """Slowest of the decay constants [1/s]."""
    quick: float
    """Quickest [1/s]."""
    temperature: float
    """Mean temperature of the places [K]."""
    q10: float
    """Factor for ten kelvin [1]."""
    ratio: float
    """Carbon to nitrogen of the fresh leaves [1]."""
    source: str
    """Where the numbers come from."""


_LIDET = "litterbags of LIDET (Harmon 2013) in Panama, Costa Rica and Puerto Rico"

LEAVES: Final[Mapping[str, LeafDecay]] = MappingProxyType(
    {
        "oak": LeafDecay(0.723 / YEAR, 1.26 / YEAR, 298.15, 1.46, 50.5, f"{_LIDET}, chestnut oak"),
        "maple": LeafDecay(1.02 / YEAR, 1.39 / YEAR, 298.15, 1.56, 61.8, f"{_LIDET}, sugar maple"),
        "beech": LeafDecay(
            0.289 / YEAR, 0.289 / YEAR, 286.15, 1.46, 58.4,
            "litterbags of LIDET (Harmon 2013) in North Carolina, American beech; its change with "
            "temperature is that of oak",
        ),
        "pine": LeafDecay(
            0.495 / YEAR, 0.663 / YEAR, 297.65, 1.46, 92.7,
            f"{_LIDET}, red pine; its change with temperature is that of oak",
        ),
        "tropical": LeafDecay(
            1.29 / YEAR, 2.85 / YEAR, 298.15, 1.84, 24.2, f"{_LIDET}, Drypetes, an evergreen"
        ),
        "mango": LeafDecay(
            4.64 / YEAR, 4.64 / YEAR, 301.15, 1.46, 76.6,
            "Mubarak et al. 2008, Commun Soil Sci Plant Anal, crushed leaves on irrigated clay; its "
            "change with temperature is that of oak",
        ),
        "fig": LeafDecay(
            3.14 / YEAR, 3.14 / YEAR, 301.15, 1.46, 28.4,
            "Mubarak et al. 2008, Commun Soil Sci Plant Anal, crushed shoots on irrigated clay; its "
            "change with temperature is that of oak",
        ),
    }
)  # fmt: skip
"""Decay by kind of leaf. Q10 of oak, maple and Drypetes is that across the humid places of LIDET
(calculated)."""

RICH: Final = LeafDecay(
    4.25 / YEAR, 4.25 / YEAR, 301.15, 1.46, 19.3,
    "Mubarak et al. 2008, Commun Soil Sci Plant Anal: leucaena, the richest litter of the table",
)  # fmt: skip
"""What dung is taken to decay like; that it does is from memory."""

FAUNA_SHARE: Final = (0.26, 0.40)
"""Share of the decay that is the fauna's outside the tropics and in them [1]: global synthesis of
476 litterbag pairs (preprint)."""
