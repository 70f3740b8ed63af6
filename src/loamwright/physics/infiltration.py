"""Published solutions of water going into ground: what the flow engine is held against.

Depths of water are metres, rates metres a second, suctions positive.
"""

from __future__ import annotations

from math import cos, exp, log, log1p, pi, sin, sqrt


def green_ampt_depth(time: float, saturated: float, front_suction: float, deficit: float) -> float:
    """Water taken up since ponding began, with a sharp wetting front [m].

    Parameters
    ----------
    time : float
        Time since ponding began [s].
    saturated : float
        Hydraulic conductivity behind the front [m/s].
    front_suction : float
        Suction at the front [m].
    deficit : float
        Water content behind the front less that before it [1].

    Source: Green & Ampt 1911, J Agric Sci 4:1: F - S D ln(1 + F / (S D)) = K t; Newton's steps
    from the limit without gravity.
    """
    scale = front_suction * deficit
    target = saturated * time
    if target <= 0.0:
        return 0.0
    depth = target + sqrt(2.0 * scale * target)
    for _ in range(50):
        miss = depth - scale * log1p(depth / scale) - target
        step = miss * (scale + depth) / depth
        depth -= step
        if abs(step) < 1e-14 * depth:
            break
    return depth


def green_ampt_rate(depth: float, saturated: float, front_suction: float, deficit: float) -> float:
    """Rate of uptake once a depth of water has gone in [m/s].

    Parameters
    ----------
    depth : float
        Water taken up so far, above 0 [m].
    saturated : float
        Hydraulic conductivity behind the front [m/s].
    front_suction : float
        Suction at the front [m].
    deficit : float
        Water content behind the front less that before it [1].

    Source: Green & Ampt 1911: f = K (1 + S D / F).
    """
    return saturated * (1.0 + front_suction * deficit / depth)


def ponding_time(supply: float, saturated: float, front_suction: float, deficit: float) -> float:
    """Time until steady water from above begins to stand on the surface [s].

    Parameters
    ----------
    supply : float
        Water per area and time, above `saturated` [m/s].
    saturated : float
        Hydraulic conductivity of the wetted ground [m/s].
    front_suction : float
        Suction at the wetting front [m].
    deficit : float
        Water content behind the front less that before it [1].

    Source: Mein & Larson 1973, Water Resour Res 9:384 (from memory): K S D / (i (i - K)).
    """
    return saturated * front_suction * deficit / (supply * (supply - saturated))


def philip_depth(time: float, sorptivity: float, gravity_term: float) -> float:
    """Water taken up at short times, two terms of Philip's series [m].

    Parameters
    ----------
    time : float
        Time since the surface was wetted [s].
    sorptivity : float
        Sorptivity [m/s^0.5].
    gravity_term : float
        Factor of the second term, a third to two thirds of the conductivity [m/s].

    Source: Philip 1957, Soil Sci 84:257.
    """
    return sorptivity * sqrt(time) + gravity_term * time


def steady_exponential_head(height: float, flow: float, saturated: float, alpha: float) -> float:
    """Head above a water table in exponential soil under a steady flow [m].

    Parameters
    ----------
    height : float
        Height above the water table [m].
    flow : float
        Flow downwards, negative where water evaporates; under `saturated` [m/s].
    saturated : float
        Conductivity without suction [m/s].
    alpha : float
        Inverse of the suction over which conductivity falls by a factor e [1/m].

    Source: Gardner 1958, Soil Sci 85:228: (1/a) ln(q/K + (1 - q/K) exp(-a z)). ValueError where
    no steady flow up can be that strong.
    """
    share = flow / saturated
    inside = share + (1.0 - share) * exp(-alpha * height)
    if inside <= 0.0:
        raise ValueError("no water rises that fast to this height")
    return log(inside) / alpha


def wetting_exponential_head(
    height: float,
    time: float,
    depth: float,
    before: float,
    after: float,
    saturated: float,
    alpha: float,
    mobile: float,
) -> float:
    """Head above a water table in exponential soil after the flow from above has changed [m].

    Parameters
    ----------
    height : float
        Height above the water table [m].
    time : float
        Time since the change, above 0 [s].
    depth : float
        Height of the surface above the water table [m].
    before, after : float
        Steady flow into the surface before the change, and from it on [m/s].
    saturated : float
        Conductivity without suction [m/s].
    alpha : float
        Inverse of the suction over which content and conductivity fall by a factor e [1/m].
    mobile : float
        Saturated less residual water content [1].

    Source: Srivastava & Yeh 1991, Water Resour Res 27:753, one layer (from memory).
    """
    z, top = alpha * height, alpha * depth
    first, last = before / saturated, after / saturated
    t = alpha * saturated * time / mobile
    total, k = 0.0, 0
    while True:
        root = _tangent_root(k, top)
        fade = exp(-root * root * t)
        if fade < 1e-17 or k > 20_000:
            break
        total += (
            sin(root * z) * sin(root * top) * fade / (1.0 + top / 2.0 + 2.0 * root * root * top)
        )
        k += 1
    relative = last - (last - 1.0) * exp(-z)
    relative -= 4.0 * (last - first) * exp((top - z) / 2.0 - t / 4.0) * total
    return log(relative) / alpha


def _tangent_root(number: int, top: float) -> float:
    """Root number 0, 1, 2 ... of tan(x top) + 2 x = 0, by bisection in its branch."""
    low, high = (number + 0.5) * pi / top, (number + 1.0) * pi / top
    for _ in range(60):
        middle = 0.5 * (low + high)
        # sin + 2 x cos has the sign of (tan + 2 x) times that of the cosine, which is fixed here.
        side = sin(middle * top) + 2.0 * middle * cos(middle * top)
        if side * (-1.0) ** number > 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
