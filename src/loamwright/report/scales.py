"""Levels and colours of the pictures.

The UV index wears the category colours of the World Health Organization (Global Solar UV Index,
a practical guide, 2002; screen values as commonly used for them), with paler steps inside
a category because keepers work within the lower ones. Everything else is drawn in a perceptually
uniform map that colour-blind people can read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

CATEGORIES: tuple[tuple[str, float, float, str], ...] = (
    ("low", 0.0, 3.0, "#289500"),
    ("moderate", 3.0, 6.0, "#F7E400"),
    ("high", 6.0, 8.0, "#F85900"),
    ("very high", 8.0, 11.0, "#D8001D"),
    ("extreme", 11.0, float("inf"), "#6B49C8"),
)
"""WHO exposure categories: name, from, to below, colour."""

_UVI_STEPS: tuple[tuple[float, float], ...] = (
    # lower edge of a step, share of the category's colour in it
    (0.0, 0.05), (0.1, 0.14), (0.25, 0.24), (0.5, 0.36), (1.0, 0.48), (1.5, 0.60), (2.0, 0.74),
    (2.5, 0.86), (3.0, 0.50), (4.0, 0.75), (5.0, 1.0), (6.0, 0.72), (7.0, 1.0), (8.0, 0.75),
    (9.5, 1.0), (11.0, 1.0),
)  # fmt: skip
_UVI_LINES = (0.1, 0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 11.0)

_LADDER = (
    1, 2, 5, 10, 20, 30, 50, 75, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200, 1500, 2000,
    2500, 3000, 4000, 5000,
)  # fmt: skip
_MOST_STEPS = 12
_WIDE = (10, 20, 50, 100, 150, 200, 300, 500, 1000, 2000, 5000)
"""A ladder with room for the light right under a lamp and that in the shade below."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Colour steps of one quantity.

    ``edges`` (n + 1) limits of ``colors`` (n); values above the last edge wear the last colour.
    ``lines`` the levels drawn as labelled contour lines; ``groups`` (name, first step, step
    after the last) bracketed beside the bar; ``title`` over it.
    """

    title: str
    edges: tuple[float, ...]
    colors: tuple[str, ...]
    lines: tuple[float, ...]
    groups: tuple[tuple[str, int, int], ...] = ()


def mix(color: str, share: float, ground: str = "#FDFCF7") -> str:
    """A share of one colour on another, as ``#rrggbb``."""
    front, back = (tuple(int(c[i : i + 2], 16) for i in (1, 3, 5)) for c in (color, ground))
    mixed = (round(f * share + b * (1 - share)) for f, b in zip(front, back, strict=True))
    return "#" + "".join(f"{v:02x}" for v in mixed)


def category(uvi: float) -> tuple[str, str]:
    """Name and colour of the WHO category a UV index falls in."""
    for name, _, high, color in CATEGORIES:
        if uvi < high:
            return name, color
    return CATEGORIES[-1][0], CATEGORIES[-1][3]


def uvi_scale(most: float) -> Scale:
    """Steps of the UV index up to the end of the category that holds ``most``."""
    _, _, end, _ = next(c for c in CATEGORIES if most < c[2])
    steps = [(low, share) for low, share in _UVI_STEPS if low < end]
    edges = (*(low for low, _ in steps), 14.0 if end == float("inf") else end)
    colors = tuple(mix(category(low)[1], share) for low, share in steps)
    groups = []
    for name, low, high, _ in CATEGORIES:
        inside = [i for i, (edge, _) in enumerate(steps) if low <= edge < high]
        if inside:
            groups.append((name, inside[0], inside[-1] + 1))
    return Scale("UV index", edges, colors, _UVI_LINES, tuple(groups))


def light_scale(title: str, most: float) -> Scale:
    """Steps of a light quantity on a 1-2-5 ladder up to ``most``, in the viridis map."""
    from matplotlib import colormaps
    from matplotlib.colors import to_hex

    top = next((i for i, v in enumerate(_LADDER) if v >= most), len(_LADDER) - 1)
    top = max(top, 4)
    edges = (0.0, *(float(v) for v in _LADDER[max(0, top - _MOST_STEPS + 2) : top + 1]))
    if _LADDER[top] > 600:
        last = next((i for i, v in enumerate(_WIDE) if v >= most), len(_WIDE) - 1)
        edges = (0.0, *(float(v) for v in _WIDE[: last + 1]))
    count = len(edges) - 1
    ramp = colormaps["viridis"]
    # Softened a little towards paper, so that drawing and names stay readable on the dark end.
    colors = tuple(mix(to_hex(ramp(i / (count - 1))), 0.86) for i in range(count))
    return Scale(title, edges, colors, edges[1:])


_STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_MOST_EVEN, _LEAST_EVEN = 9, 4


def even_scale(title: str, low: float, high: float, ramp: str, *, backward: bool = False) -> Scale:
    """Even steps of a round width that hold what is shown, in a perceptually uniform map; for
    temperatures and humidity."""
    from matplotlib import colormaps
    from matplotlib.colors import to_hex

    step = next((s for s in _STEPS if (high - low) / s <= _MOST_EVEN - 1), _STEPS[-1])
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    while last - first < _LEAST_EVEN:
        last += 1
        first -= (last - first) < _LEAST_EVEN
    edges = tuple(round(n * step, 6) for n in range(first, last + 1))
    count = len(edges) - 1
    shares = [0.18 + 0.74 * i / (count - 1) for i in range(count)]
    colors = [mix(to_hex(colormaps[ramp](s)), 0.62) for s in shares]
    return Scale(title, edges, tuple(colors[::-1] if backward else colors), edges[1:-1])


def scale_for(quantity: str, title: str, most: float) -> Scale:
    """The scale of a quantity whose largest value shown is ``most``."""
    return uvi_scale(most) if quantity in ("uvi", "uvi_step") else light_scale(title, most)
