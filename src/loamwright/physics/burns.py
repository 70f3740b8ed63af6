"""Contact burns: the lowest surface temperature that burns human skin, by material and time.

For adults and small areas of skin. No threshold for reptile or amphibian skin is published; used
for them, these values are a stand-in and must be called so. Every function stands alone on `math`
and floats, so that a kernel compiler can take it as it is.
"""

from __future__ import annotations

import math

BARE_METAL, COATED_METAL, STONE, PLASTIC, WOOD = 0, 1, 2, 3, 4
"""Kinds of surface; stone stands for ceramic and glass too."""

CONTACT_TIMES = (1.0, 10.0, 60.0, 600.0, 28800.0)
"""Contact times of the columns of `THRESHOLDS` [s]."""
THRESHOLDS = (
    (338.15, 328.15, 324.15, 321.15, 316.15),
    (343.15, 330.15, 324.15, 321.15, 316.15),
    (353.15, 339.15, 329.15, 321.15, 316.15),
    (358.15, 344.15, 333.15, 321.15, 316.15),
    (372.15, 349.15, 333.15, 321.15, 316.15),
)
"""Burn thresholds by surface and contact time [K]: ISO 13732-1 (from memory); from 1 min its
table, at 1 and 10 s the lower edge of its graphs' bands, the weakest of them."""


def burn_threshold(surface: int, time: float) -> float:
    """Lowest surface temperature that can burn skin in a contact time [K].

    Linear in the logarithm of time between the standard's times; shorter contacts get the value
    of 1 s and longer ones that of 8 h, both on the careful side.

    Parameters
    ----------
    surface : int
        `BARE_METAL`, `COATED_METAL`, `STONE`, `PLASTIC` or `WOOD`.
    time : float
        Contact time, 1..28800 [s].

    Source: ISO 13732-1 (from memory).
    """
    row = THRESHOLDS[surface]
    threshold = row[0]
    for i in range(4):
        if time > CONTACT_TIMES[i]:
            span = math.log(CONTACT_TIMES[i + 1] / CONTACT_TIMES[i])
            share = min(1.0, math.log(time / CONTACT_TIMES[i]) / span)
            threshold = row[i] + share * (row[i + 1] - row[i])
    return threshold


def burn_time(surface: int, temperature: float) -> float:
    """Contact time after which a surface can burn skin [s]; infinite where it cannot.

    Hotter surfaces than the threshold at 1 s give 1 s, which then means "a second or less".

    Parameters
    ----------
    surface : int
        `BARE_METAL`, `COATED_METAL`, `STONE`, `PLASTIC` or `WOOD`.
    temperature : float
        Temperature the surface keeps during contact [K].

    Source: ISO 13732-1 (from memory), the inverse of `burn_threshold`.
    """
    row = THRESHOLDS[surface]
    if temperature < row[4]:
        return math.inf
    for i in range(4):
        if temperature >= row[i]:
            return CONTACT_TIMES[i]
        if temperature >= row[i + 1]:
            share = (row[i] - temperature) / (row[i] - row[i + 1])
            return CONTACT_TIMES[i] * (CONTACT_TIMES[i + 1] / CONTACT_TIMES[i]) ** share
    return CONTACT_TIMES[4]
