"""Evenly spread numbers and directions, the same on every machine and every run."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_PLASTIC = {2: 1.32471795724474602596, 3: 1.22074408460575947536, 4: 1.16730397826141868425}
"""Roots of x^(d+1) = x + 1, from which the additive sequence in d dimensions is made
(a generalised golden ratio; equidistributed by Weyl's theorem)."""


def spread(count: int, dimensions: int, start: int = 0) -> Floats:
    """``count`` points evenly spread in the unit cube of 2..4 ``dimensions``, shape (count, d)."""
    root = _PLASTIC[dimensions]
    step = (1.0 / root) ** np.arange(1, dimensions + 1)
    return np.mod(0.5 + np.outer(np.arange(start + 1, start + count + 1), step), 1.0)


def sphere(count: int) -> Floats:
    """``count`` unit vectors evenly spread over the sphere by the golden spiral, (count, 3)."""
    k = np.arange(count)
    z = 1.0 - (2.0 * k + 1.0) / count
    angle = np.pi * (3.0 - np.sqrt(5.0)) * k
    r = np.sqrt(1.0 - z * z)
    return np.column_stack([r * np.cos(angle), r * np.sin(angle), z])


def hemisphere(count: int) -> Floats:
    """``count`` directions over the upper half (z up), spread as the cosine to the axis, so that
    each carries the same share of irradiance; shape (count, 3)."""
    k = np.arange(count)
    r2 = (k + 0.5) / count
    angle = np.pi * (3.0 - np.sqrt(5.0)) * k
    r = np.sqrt(r2)
    return np.column_stack([r * np.cos(angle), r * np.sin(angle), np.sqrt(1.0 - r2)])
