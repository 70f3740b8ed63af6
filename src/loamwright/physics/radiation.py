"""View factors in closed form, and the irradiance of a Lambertian line.

F12 is the share of the diffuse energy leaving surface 1 that reaches surface 2; an element's
factor is the share of its cosine-weighted half-sphere that the surface fills, so the irradiance of a
diffuse emitter of exitance M is E = M F. Lengths in any one unit.
"""

from __future__ import annotations

from math import atan, cos, log, pi, sin, sqrt


def rectangles_opposed(a: float, b: float, c: float) -> float:
    """F12 of two equal, directly opposed rectangles.

    Parameters
    ----------
    a, b : float
        Sides [m], above 0.
    c : float
        Gap [m], above 0.

    Source: Howell, *A Catalog of Radiation Heat Transfer Configuration Factors*, C-11; Incropera,
    *Fundamentals of Heat and Mass Transfer*, Table 13.2.
    """
    x, y = a / c, b / c
    x1, y1 = sqrt(1 + x * x), sqrt(1 + y * y)
    return (
        2
        / (pi * x * y)
        * (
            log(x1 * y1 / sqrt(1 + x * x + y * y))
            + x * y1 * atan(x / y1)
            + y * x1 * atan(y / x1)
            - x * atan(x)
            - y * atan(y)
        )
    )


def rectangles_at_right_angles(w: float, h: float, l: float) -> float:  # noqa: E741
    """F12 of two rectangles at 90 degrees with a common edge.

    Parameters
    ----------
    w : float
        Width of surface 1 [m].
    h : float
        Height of surface 2 [m].
    l : float
        Length of the common edge [m].

    Source: Howell C-14; Incropera Table 13.2 (from memory; confirmed by quadrature).
    """
    H, W = h / l, w / l
    h2, w2 = H * H, W * W
    product = (
        (1 + w2) * (1 + h2) / (1 + w2 + h2)
        * (w2 * (1 + w2 + h2) / ((1 + w2) * (w2 + h2))) ** w2
        * (h2 * (1 + h2 + w2) / ((1 + h2) * (h2 + w2))) ** h2
    )  # fmt: skip
    root = sqrt(h2 + w2)
    return (W * atan(1 / W) + H * atan(1 / H) - root * atan(1 / root) + log(product) / 4) / (pi * W)


def disks_coaxial(r1: float, r2: float, gap: float) -> float:
    """F12 of two coaxial parallel disks.

    Parameters
    ----------
    r1, r2 : float
        Radii [m].
    gap : float
        Distance [m].

    Source: Howell C-41; Siegel & Howell, *Thermal Radiation Heat Transfer*, 4th ed., p. 845.
    """
    a, b = r1 / gap, r2 / gap
    s = 1 + (1 + b * b) / (a * a)
    return 0.5 * (s - sqrt(s * s - 4 * (r2 / r1) ** 2))


def element_to_rectangle_parallel(a: float, b: float, c: float) -> float:
    """Factor of an element to a parallel rectangle whose corner stands on the element's normal.

    Parameters
    ----------
    a, b : float
        Sides [m].
    c : float
        Distance [m].

    Source: Howell B-3 (from memory; confirmed by quadrature).
    """
    x, y = a / c, b / c
    x1, y1 = sqrt(1 + x * x), sqrt(1 + y * y)
    return (x / x1 * atan(y / x1) + y / y1 * atan(x / y1)) / (2 * pi)


def element_to_rectangle_upright(a: float, b: float, c: float) -> float:
    """Factor of an element to a rectangle that stands at right angles to the element's plane,
    opposite its lower corner.

    Parameters
    ----------
    a : float
        Height along the element's normal [m].
    b : float
        Width [m].
    c : float
        Distance [m].

    Source: Howell B-4 (from memory; confirmed by quadrature).
    """
    x, y = a / b, c / b
    root = sqrt(x * x + y * y)
    return (atan(1 / y) - y / root * atan(1 / root)) / (2 * pi)


def element_to_disk(r: float, h: float) -> float:
    """Factor of an element facing a coaxial disk.

    Parameters
    ----------
    r : float
        Radius [m].
    h : float
        Distance [m].

    Source: Howell B-12 (from memory).
    """
    return r * r / (h * h + r * r)


def beam_exponent(beam_angle: float) -> float:
    """Exponent n of a cosine-power beam I(t) = I(0) cos^n t that falls to half at half of its angle.

    Parameters
    ----------
    beam_angle : float
        Full angle at half intensity [rad], 0.02 to 3.1 (held inside).

    Source: definition of the beam angle, CIE S 017 term 17-27-080 (from memory).
    """
    half = min(max(beam_angle, 0.02) / 2, 1.5533)
    return log(0.5) / log(cos(half))


def disk_beam_irradiance(d: float, radius: float, exponent: float) -> float:
    """Irradiance straight ahead of a disk that shines evenly in a cosine-power beam.

    Parameters
    ----------
    d : float
        Distance from the disk's middle [m], above 0.
    radius : float
        Radius of the disk [m], above 0.
    exponent : float
        Exponent n of the beam, 0 or more; 1 is a Lambertian disk [1].

    Returns
    -------
    float
        Irradiance per watt of flux [1/m2]. A point's (n + 1)/(2 pi d^2) far away.

    Source: integral of (n + 1)/(2 pi) cos^(n+1) t / (d^2 + r^2) over the disk, in closed form; with
    n = 1 it is Howell B-12.
    """
    steep = d / sqrt(d * d + radius * radius)
    return (1.0 - steep ** (exponent + 1.0)) / (pi * radius * radius)


def element_to_cylinder_end(length: float, h: float, r: float) -> float:
    """Factor of an element to a finite cylinder parallel to its plane, the element opposite one end.

    Parameters
    ----------
    length : float
        Length of the cylinder [m].
    h : float
        Distance of its axis [m], above r.
    r : float
        Radius [m].

    Source: Howell B-31 (from memory; confirmed by quadrature).
    """
    L, H = length / r, h / r
    x, y = (1 + H) ** 2 + L * L, (1 - H) ** 2 + L * L
    return atan(L / sqrt(H * H - 1)) / (pi * H) + L / pi * (
        (x - 2 * H) / (H * sqrt(x * y)) * atan(sqrt(x * (H - 1) / (y * (H + 1))))
        - atan(sqrt((H - 1) / (H + 1))) / H
    )


def line_irradiance(d: float, length: float, x: float = 0.0) -> float:
    """Irradiance of a Lambertian line on a receiver that faces it.

    Parameters
    ----------
    d : float
        Distance from the line's axis [m].
    length : float
        Length of the line [m].
    x : float
        Offset of the receiver from the line's middle along its axis [m].

    Returns
    -------
    float
        Irradiance per watt of flux [1/m2]. The far field is 1/(pi^2 d^2).

    Source: Keitz equation, as in the 2007 ultraviolet-lamp power paper and reproduced by several
    lamp makers' notes; offset form by the same integral.
    """

    def part(t: float) -> float:
        return t / 2 + sin(2 * t) / 4

    high, low = atan((length / 2 - x) / d), atan((-length / 2 - x) / d)
    return (part(high) - part(low)) / (pi * pi * length * d)
