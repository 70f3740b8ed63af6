"""The course of a quantity through one day, between a value by day and one by night."""

from __future__ import annotations

import math
from typing import Final

DAY: Final = 86400.0
"""Length of a day [s]."""

WARMING: Final = 4.0 * 3600.0
"""Time a room takes from its night's to its day's value [s]; common practice, no source."""

COOLING: Final = 8.0 * 3600.0
"""Time a room takes from its day's to its night's value [s]; common practice, no source."""


def daily_course(
    time: float,
    day: float,
    night: float,
    rise: float,
    fall: float,
    warming: float = WARMING,
    cooling: float = COOLING,
) -> float:
    """Value at a time of day; smooth, without kinks, and the same every day.

    From `rise` on it goes to `day`, stays there until `fall`, goes to `night`, and stays there until
    the next `rise`. Where day or night are too short for that, the way takes as long as they do, so
    that both values are reached.

    Parameters
    ----------
    time : float
        Time after midnight, any number of days on [s].
    day, night : float
        Values held by day and by night, such as temperatures [K].
    rise, fall : float
        When the day begins and ends, after midnight; it may run across midnight, and the same
        time twice (or 0 and 86400) is a day without night [s].
    warming, cooling : float
        How long the ways up and down take, above 0 [s].

    Returns
    -------
    float
        The value, never beyond `day` and `night`.

    Source: raised cosines between two plateaus, a convention of this program; a first-order room
    answers a step by an exponential, which is steeper at first and has a kink.
    """
    length = (fall - rise) % DAY
    if length in (0.0, DAY):  # the remainder of a hair below 0 rounds to a whole day
        return day
    since = (time - rise) % DAY
    if since < length:
        way = min(since / min(warming, length), 1.0)
        share = 0.5 - 0.5 * math.cos(math.pi * way)
    else:
        way = min((since - length) / min(cooling, DAY - length), 1.0)
        share = 0.5 + 0.5 * math.cos(math.pi * way)
    return night + (day - night) * share
