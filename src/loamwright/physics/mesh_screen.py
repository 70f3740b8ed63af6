"""What a wire mesh or a clear sheet lets through, by angle of incidence.

The scalar functions use `math` only, so that a kernel compiler can take them as they are; the
array functions at the end say the same in numpy. Angles are held as cosines to the normal.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def screen_transmittance(cos_theta: float, pitch: float, wire: float) -> float:
    """Share of a beam that passes a square mesh tilted about one of its wire directions.

    Along the beam, wires that lie across the tilt keep their distance ``pitch`` and their width
    ``wire`` (they are round); wires parallel to the tilt axis crowd together to
    ``pitch`` x cos(theta) while their width stays. The two families of shadow strips cross at
    right angles, so the open shares multiply::

        T = (1 - d/p) (1 - d/(p cos theta)),   not below 0

    Exact for parallel light on straight, black, round wires. By the symmetry of a square mesh
    both wire directions give the same value, which therefore is their mean too; at other
    azimuths see `screen_transmittance_toward`. At normal incidence this is (1 - d/p)^2.

    Parameters
    ----------
    cos_theta : float
        Cosine of the angle between beam and mesh normal (its sign is ignored) [1].
    pitch : float
        Distance from wire to wire, centre to centre [m].
    wire : float
        Wire diameter [m].

    Returns
    -------
    float
        Share let through, 0..1 [1].
    """
    c = abs(cos_theta)
    if wire <= 0.0:
        return 1.0
    if wire >= pitch * c or wire >= pitch:
        return 0.0
    ratio = wire / pitch
    return (1.0 - ratio) * (1.0 - ratio / c)


def screen_transmittance_toward(
    across_x: float, across_y: float, along_normal: float, pitch: float, wire: float
) -> float:
    """Share of a beam of any direction that passes a square mesh with wires along x and y.

    A wire along x is passed at a slant only by the part of the beam in the y-normal plane: its
    shadow on the mesh plane is d sqrt(1 + (s_y/s_n)^2) wide. With both families::

        T = (1 - d/p sqrt(1 + (s_y/s_n)^2)) (1 - d/p sqrt(1 + (s_x/s_n)^2)),   each not below 0

    Exact for parallel light on straight, black, round wires; weaving offsets one family along the
    normal, which only shifts its strips.

    Parameters
    ----------
    across_x, across_y, along_normal : float
        Direction of the beam along the two wire directions and the mesh normal, any length [1].
    pitch : float
        Distance from wire to wire, centre to centre [m].
    wire : float
        Wire diameter [m].

    Returns
    -------
    float
        Share let through, 0..1 [1].
    """
    if wire <= 0.0:
        return 1.0
    if along_normal == 0.0 or wire >= pitch:
        return 0.0
    ratio = wire / pitch
    tan_x = across_x / along_normal
    tan_y = across_y / along_normal
    open_x = 1.0 - ratio * math.sqrt(1.0 + tan_y * tan_y)
    open_y = 1.0 - ratio * math.sqrt(1.0 + tan_x * tan_x)
    if open_x <= 0.0 or open_y <= 0.0:
        return 0.0
    return open_x * open_y


def surface_reflectances(cos_theta: float, n: float) -> tuple[float, float, float]:
    """Fresnel reflectances of one surface of a clear sheet in air.

    Parameters
    ----------
    cos_theta : float
        Cosine of the angle of incidence, 0..1 [1].
    n : float
        Refractive index of the sheet, at least 1 [1].

    Returns
    -------
    tuple of float
        Reflectance of light polarised across and along the plane of incidence (s, p), and the
        cosine of the refracted angle [1].
    """
    c = min(abs(cos_theta), 1.0)
    inside = math.sqrt(max(0.0, 1.0 - (1.0 - c * c) / (n * n)))
    if c == 0.0:
        return 1.0, 1.0, inside
    s = (c - n * inside) / (c + n * inside)
    p = (n * c - inside) / (n * c + inside)
    return s * s, p * p, inside


def internal_transmittance(normal_transmittance: float, n: float) -> tuple[float, float]:
    """Internal (one pass, normal) transmittance behind a measured normal transmittance.

    Solves T = (1-r)^2 a / (1 - r^2 a^2) for a. A sheet that lets more through than two bare
    surfaces of this index can (a coating against reflection, or a rounded figure) gets a = 1 and
    a factor over 1, by which its transmittance is lifted at every angle.

    Parameters
    ----------
    normal_transmittance : float
        Transmittance at normal incidence, 0..1 [1].
    n : float
        Refractive index [1].

    Returns
    -------
    tuple of float
        Internal transmittance a, 0..1, and the factor [1].
    """
    root_r = (n - 1.0) / (n + 1.0)
    r = root_r * root_r
    best = (1.0 - r) / (1.0 + r)
    if normal_transmittance >= best:
        return 1.0, normal_transmittance / best
    q = (1.0 - r) * (1.0 - r)
    t = normal_transmittance
    return 2.0 * t / (q + math.sqrt(q * q + 4.0 * r * r * t * t)), 1.0


def sheet_transmittance(cos_theta: float, normal_transmittance: float, n: float) -> float:
    """Share of unpolarised light that passes a clear sheet at an angle.

    Both surfaces by Fresnel, all reflections between them summed (incoherently), the internal
    transmittance raised to the path length 1/cos(theta').

    Parameters
    ----------
    cos_theta : float
        Cosine of the angle of incidence (its sign is ignored) [1].
    normal_transmittance : float
        Transmittance at normal incidence, reflections included, 0..1 [1].
    n : float
        Refractive index; soda-lime glass 1.52 [1].

    Returns
    -------
    float
        Share let through, 0..1 [1].
    """
    c = min(abs(cos_theta), 1.0)
    if c == 0.0 or normal_transmittance <= 0.0:
        return 0.0
    # Written out, and not by the two functions above, so that it compiles on its own.
    root_r = (n - 1.0) / (n + 1.0)
    r0 = root_r * root_r
    t0 = normal_transmittance
    best = (1.0 - r0) / (1.0 + r0)
    if t0 >= best:
        a0, lift = 1.0, t0 / best
    else:
        q = (1.0 - r0) * (1.0 - r0)
        a0, lift = 2.0 * t0 / (q + math.sqrt(q * q + 4.0 * r0 * r0 * t0 * t0)), 1.0
    inside = math.sqrt(max(0.0, 1.0 - (1.0 - c * c) / (n * n)))
    a = a0 ** (1.0 / inside)
    across = (c - n * inside) / (c + n * inside)
    along = (n * c - inside) / (n * c + inside)
    rs, rp = across * across, along * along
    ts = (1.0 - rs) * (1.0 - rs) * a / (1.0 - rs * rs * a * a)
    tp = (1.0 - rp) * (1.0 - rp) * a / (1.0 - rp * rp * a * a)
    return 0.5 * (ts + tp) * lift


def sheet_reflectance(cos_theta: float, normal_transmittance: float, n: float) -> float:
    """Share of unpolarised light that a clear sheet throws back at an angle.

    The companion of `sheet_transmittance`; what neither passes nor returns is absorbed.

    Parameters
    ----------
    cos_theta : float
        Cosine of the angle of incidence (its sign is ignored) [1].
    normal_transmittance : float
        Transmittance at normal incidence, reflections included, 0..1 [1].
    n : float
        Refractive index; soda-lime glass 1.52 [1].

    Returns
    -------
    float
        Share thrown back, 0..1 [1].
    """
    c = min(abs(cos_theta), 1.0)
    if c == 0.0:
        return 1.0
    a0, lift = internal_transmittance(max(normal_transmittance, 0.0), n)
    if lift > 1.0:  # clear and coated: nothing is absorbed
        return 1.0 - sheet_transmittance(c, normal_transmittance, n)
    rs, rp, inside = surface_reflectances(c, n)
    a = a0 ** (1.0 / inside) if a0 > 0.0 else 0.0
    back_s = rs + rs * (1.0 - rs) * (1.0 - rs) * a * a / (1.0 - rs * rs * a * a)
    back_p = rp + rp * (1.0 - rp) * (1.0 - rp) * a * a / (1.0 - rp * rp * a * a)
    return 0.5 * (back_s + back_p)


def screen_transmittances(directions: Array, pitch: float, wire: float) -> Array:
    """`screen_transmittance_toward` for many beams.

    Parameters
    ----------
    directions : ndarray (N, 3)
        Beam directions along the two wire directions and the normal, any length [1].
    pitch : float
        Distance from wire to wire, centre to centre [m].
    wire : float
        Wire diameter [m].

    Returns
    -------
    ndarray (N,)
        Shares let through, 0..1 [1].
    """
    s = np.asarray(directions, dtype=np.float64)
    if wire <= 0.0:
        return np.ones(len(s))
    if wire >= pitch:
        return np.zeros(len(s))
    normal = s[:, 2]
    safe = np.where(normal == 0.0, 1.0, normal)
    slant = np.sqrt(1.0 + (s[:, :2] / safe[:, None]) ** 2)
    open_shares = np.clip(1.0 - wire / pitch * slant, 0.0, None)
    passed: Array = np.where(normal == 0.0, 0.0, open_shares[:, 0] * open_shares[:, 1])
    return passed


def sheet_transmittances(cos_theta: Array, normal_transmittance: Array, n: float) -> Array:
    """`sheet_transmittance` for many angles and bands.

    Parameters
    ----------
    cos_theta : ndarray (N,)
        Cosines of the angles of incidence (signs ignored) [1].
    normal_transmittance : ndarray (B,)
        Transmittance at normal incidence in each band, 0..1 [1].
    n : float
        Refractive index [1].

    Returns
    -------
    ndarray (N, B)
        Shares let through, 0..1 [1].
    """
    c = np.minimum(np.abs(np.asarray(cos_theta, dtype=np.float64)), 1.0)[:, None]
    t0 = np.asarray(normal_transmittance, dtype=np.float64)
    pairs = [internal_transmittance(max(float(t), 0.0), n) for t in t0]
    a0 = np.array([p[0] for p in pairs])
    lift = np.array([p[1] for p in pairs])
    grazing = c == 0.0
    c = np.where(grazing, 1.0, c)
    inside = np.sqrt(np.maximum(0.0, 1.0 - (1.0 - c * c) / (n * n)))
    a = a0 ** (1.0 / inside)
    total = np.zeros(np.broadcast_shapes(c.shape, t0.shape))
    for amplitude in ((c - n * inside) / (c + n * inside), (n * c - inside) / (n * c + inside)):
        r = amplitude**2
        total += 0.5 * (1.0 - r) ** 2 * a / (1.0 - (r * a) ** 2)
    passed: Array = np.where(grazing, 0.0, total * lift)
    return passed


def screen_transmittance_diffuse(pitch: float, wire: float) -> float:
    """Share of evenly diffuse light that passes a square mesh.

    The cosine-weighted mean of `screen_transmittance_toward` over the hemisphere.

    Parameters
    ----------
    pitch : float
        Distance from wire to wire, centre to centre [m].
    wire : float
        Wire diameter [m].

    Returns
    -------
    float
        Share let through, 0..1 [1].
    """
    nodes, weights = np.polynomial.legendre.leggauss(64)
    squared = 0.5 * (nodes + 1.0)  # even steps of sin^2 are even steps of projected solid angle
    azimuth = (np.arange(16) + 0.5) * (math.pi / 4.0 / 16)  # the rest is mirrored
    sine, cosine = np.sqrt(squared), np.sqrt(1.0 - squared)
    beams = np.stack(
        [
            np.outer(sine, np.cos(azimuth)),
            np.outer(sine, np.sin(azimuth)),
            np.outer(cosine, np.ones(16)),
        ],
        axis=-1,
    )
    passed = screen_transmittances(beams.reshape(-1, 3), pitch, wire).reshape(64, 16)
    return float(0.5 * weights @ passed.mean(axis=1))


def sheet_transmittance_diffuse(normal_transmittance: float, n: float) -> float:
    """Share of evenly diffuse light that passes a clear sheet.

    The cosine-weighted mean of `sheet_transmittance` over the hemisphere.

    Parameters
    ----------
    normal_transmittance : float
        Transmittance at normal incidence, reflections included, 0..1 [1].
    n : float
        Refractive index [1].

    Returns
    -------
    float
        Share let through, 0..1 [1].
    """
    nodes, weights = np.polynomial.legendre.leggauss(64)
    cosine = 0.5 * (nodes + 1.0)
    passed = sheet_transmittances(cosine, np.array([normal_transmittance]), n)[:, 0]
    return float(weights @ (passed * cosine))
