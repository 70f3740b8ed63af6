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


_SOBOL = ((0, 0, (1,)), (1, 0, (1,)), (2, 1, (1, 3)), (3, 1, (1, 3, 1)))
"""Degree, coefficients and first direction numbers of the first four Sobol dimensions (Joe & Kuo 2008,
SIAM J. Sci. Comput. 30:2635, table new-joe-kuo-6)."""


def sobol(count: int) -> Floats:
    """The first ``count`` points of the four-dimensional Sobol sequence, unscrambled, shape (count, 4);
    at most 2^30. Any 2^k points are evenly spread in all four dimensions together."""
    bits = 30
    gray = np.arange(count) ^ (np.arange(count) >> 1)
    out = np.zeros((count, 4))
    for d, (degree, coefficients, first) in enumerate(_SOBOL):
        m = list(first)
        for i in range(len(m), bits):
            if degree == 0:
                m.append(1)
                continue
            new = m[i - degree] ^ (m[i - degree] << degree)
            for k in range(1, degree):
                new ^= ((coefficients >> (degree - 1 - k)) & 1) * (m[i - k] << k)
            m.append(new)
        whole = np.zeros(count, np.int64)
        for i in range(bits):
            whole ^= np.where((gray >> i) & 1, m[i] << (bits - 1 - i), 0)
        out[:, d] = whole / 2.0**bits
    return out


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
