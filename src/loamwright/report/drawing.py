"""The habitat drawn in a section: box, ground, pieces, plants, lamps. One function per part.

Every function takes matplotlib axes measured in metres and draws what the plane at ``position``
on ``axis`` cuts strongly and what lies before or behind it faintly.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.habitat.enclosure import Enclosure, Opening
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.report import outlines
from loamwright.report.figure import INK, SOFT_INK

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SIDES: dict[str, tuple[int, bool]] = {
    "left": (0, False),
    "right": (0, True),
    "front": (1, False),
    "back": (1, True),
    "floor": (2, False),
    "top": (2, True),
}
"""Side -> (axis it is normal to, at the far end of it)."""

_SHOWN_THICKNESS = 0.010
_GLASS, _BOARD, _LINING = "#BFD9E0", "#8C918C", "#B5AFA2"
_SOLID = {"branch": "#A98D6B", "tube": "#B39A78", "block": "#B9B2A3", "rock": "#B0ABA2"}
_EARTH = ("#B9B4A8", "#8A735C", "#A5875F", "#776350", "#9C8A70")
_HATCH = {"drainage-mat": "xxxx", "leaf-litter": "\\\\\\\\", "sand": "++", "moss": "|||"}


def _rectangle(ax: Axes, low: tuple[float, float], high: tuple[float, float], **look: Any) -> None:
    from matplotlib.patches import Rectangle

    ax.add_patch(Rectangle(low, high[0] - low[0], high[1] - low[1], **look))


def polygons(ax: Axes, rings: list[Floats], **look: Any) -> None:
    """Closed rings as one filled shape; a ring inside a ring is a hole."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    if not rings:
        return
    # A hole shows only where it winds the other way: outermost rings one way, the next the other.
    turned = []
    for number, ring in enumerate(rings):
        depth = sum(
            Path(other).contains_point(ring[0]) for k, other in enumerate(rings) if k != number
        )
        x, y = ring[:, 0], ring[:, 1]
        left = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) > 0
        ring = ring if left == (depth % 2 == 0) else ring[::-1]
        turned.append(np.vstack([ring, ring[:1]]))
    ax.add_patch(
        PathPatch(Path.make_compound_path(*(Path(r, closed=True) for r in turned)), **look)
    )


def thickness(enclosure: Enclosure, side: str) -> float:
    """Thickness a panel is drawn with [m]: thin glass would vanish."""
    return max(enclosure.panel(side).thickness, _SHOWN_THICKNESS)


def _holes(enclosure: Enclosure, side: str, axis: str, position: float) -> list[Opening]:
    """Openings of a side that the plane cuts."""
    across = outlines.AXES[axis][2]
    free = [i for i in range(3) if i != SIDES[side][0]]
    found = []
    for opening in enclosure.openings:
        if opening.side == side and across in free:
            k = free.index(across)
            if abs(position - opening.at[k]) < opening.size[k] / 2:
                found.append(opening)
    return found


def box(ax: Axes, habitat: Habitat, axis: str, position: float) -> None:
    """Panels cut by the plane, with the openings in them, and the linings."""
    enclosure = habitat.enclosure
    right, up, _ = outlines.AXES[axis]
    wide, high = enclosure.inside[right], enclosure.inside[up]
    for side, (normal, far) in SIDES.items():
        if normal not in (right, up):
            continue
        thick, lining = thickness(enclosure, side), enclosure.lining_depth(side)
        flat = normal == up  # a lying panel in this drawing
        base = (high if flat else wide) if far else 0.0
        outer = base + thick if far else base - thick
        inner = base - lining if far else base + lining
        span = (-thickness_of(enclosure, right, 0), wide + thickness_of(enclosure, right, 1))
        reach = span if flat else (0.0, high)
        if lining:
            corner = _corners(flat, (0.0, wide if flat else high), base, inner)
            _rectangle(ax, *corner, facecolor=_LINING, edgecolor=INK, lw=0.6, hatch="//", zorder=6)
        clear = enclosure.panel(side).material.clear
        color = _GLASS if clear else _BOARD
        corner = _corners(flat, reach, base, outer)
        _rectangle(ax, *corner, facecolor=color, edgecolor=INK, lw=0.7, zorder=6.5)
        free = [i for i in range(3) if i != normal]
        for hole in _holes(enclosure, side, axis, position):
            k = free.index(right if flat else up)
            ends = (hole.at[k] - hole.size[k] / 2, hole.at[k] + hole.size[k] / 2)
            _hole(ax, hole, _corners(flat, ends, base, outer), flat)


def thickness_of(enclosure: Enclosure, normal: int, far: int) -> float:
    """Drawn thickness of the panel at one end of a direction [m]."""
    side = next(s for s, place in SIDES.items() if place == (normal, bool(far)))
    return thickness(enclosure, side)


def _corners(
    flat: bool, reach: tuple[float, float], base: float, other: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    near, away = min(base, other), max(base, other)
    if flat:
        return (reach[0], near), (reach[1], away)
    return (near, reach[0]), (away, reach[1])


def _hole(
    ax: Axes, hole: Opening, corner: tuple[tuple[float, float], tuple[float, float]], flat: bool
) -> None:
    """A gap in a panel; a mesh shows as a dashed line, a sheet as glass, an open one as nothing."""
    low, high = corner
    glass = hole.cover.kind == "sheet"
    _rectangle(
        ax, low, high, facecolor=_GLASS if glass else "white", edgecolor=INK, lw=0.6, zorder=6.7
    )
    if hole.cover.kind == "mesh":
        line = (
            ([low[0], high[0]], [(low[1] + high[1]) / 2] * 2)
            if flat
            else ([(low[0] + high[0]) / 2] * 2, [low[1], high[1]])
        )
        ax.plot(*line, color=INK, lw=1.4, ls=(0, (1.2, 0.9)), zorder=6.8)


def openings_above(ax: Axes, habitat: Habitat) -> None:
    """Seen from above: openings of the top as dashed rectangles."""
    for hole in habitat.enclosure.openings:
        if hole.side == "top":
            low = (hole.at[0] - hole.size[0] / 2, hole.at[1] - hole.size[1] / 2)
            high = (hole.at[0] + hole.size[0] / 2, hole.at[1] + hole.size[1] / 2)
            _rectangle(
                ax, low, high, fill=False, edgecolor=SOFT_INK, lw=0.7, ls=(0, (5, 3)), zorder=5
            )


def ground(ax: Axes, habitat: Habitat, axis: str, position: float) -> list[tuple[str, Floats]]:
    """Layers of the ground; returns name and outline of those thick enough to be named."""
    enclosure = habitat.enclosure
    right, up, _ = outlines.AXES[axis]
    wide = enclosure.inside[right]
    named, level = [], 0.0
    for number, layer in enumerate(habitat.ground.layers):
        look: dict[str, Any] = {
            "facecolor": _EARTH[number % len(_EARTH)],
            "edgecolor": "#4E4237",
            "lw": 0.5,
            "hatch": _HATCH.get(layer.kind),
            "zorder": 5.5,
        }
        below, level = level, level + layer.depth
        if up == 2:
            if layer.depth > 0:
                _rectangle(ax, (0.0, below), (wide, level), **look)
            if layer.depth >= 0.045:
                ring = np.array([(0.0, below), (wide, below), (wide, level), (0.0, level)])
                named.append((layer.name, ring))
        elif below <= position < level:
            _rectangle(ax, (0.0, 0.0), (wide, enclosure.inside[up]), **look)
    return named


def pieces(
    ax: Axes, habitat: Habitat, axis: str, position: float
) -> list[tuple[str, tuple[float, float]]]:
    """Hardscape; returns each name with the point it is hung on."""
    across = outlines.AXES[axis][2]
    viewer = -1.0 if axis == "y" else 1.0  # which way the eye lies from the plane
    named = []
    for piece in habitat.hardscape:
        solid = outlines.triangles(piece)
        if len(solid) == 0:
            continue
        shadows = outlines.shadow(piece, solid, axis)
        rings, lines = outlines.cut(solid, axis, position)
        before = bool(viewer * (solid[:, :, across].mean() - position) > 0) and not rings
        if not before:
            polygons(ax, shadows, facecolor="#D5D5CF", edgecolor="none", alpha=0.6, zorder=3.1)
        dash = (0, (1, 2)) if before else (0, (4, 2))
        polygons(ax, shadows, facecolor="none", edgecolor=SOFT_INK, lw=0.7, ls=dash, zorder=3.2)
        color = _SOLID.get(piece.shape, "#A98D6B")
        polygons(ax, rings, facecolor=color, edgecolor=INK, lw=0.9, hatch="////", zorder=5.6)
        for line in lines:
            ax.plot(line[:, 0], line[:, 1], color=INK, lw=1.2, zorder=5.7)
        shown = rings or shadows or lines
        named.append((piece.name, outlines.middle(max(shown, key=outlines.area))))
    return named


def plants(
    ax: Axes, habitat: Habitat, axis: str, position: float
) -> list[tuple[str, tuple[float, float]]]:
    """Crowns, soft where cut and dotted where not, and stems; returns names and places."""
    right, up, _ = outlines.AXES[axis]
    named = []
    for plant in habitat.plants:
        whole = outlines.crown(plant, axis, None)
        assert whole is not None
        sliced = outlines.crown(plant, axis, position)
        centre, half = plant.crown
        if up == 2:
            foot, base = plant.foot, centre[2] - half[2] * 0.2
            ax.plot([foot[right]] * 2, [foot[2], base], color="#5F6B4E", lw=1.8, zorder=4,
                    solid_capstyle="round")  # fmt: skip
        ax.plot(
            *np.vstack([whole, whole[:1]]).T, color="#55684F", lw=0.7, ls=(0, (1, 2)), zorder=4.1
        )
        if sliced is not None:
            ax.fill(*sliced.T, facecolor="#7E9078", alpha=0.42, lw=0, zorder=4.2)
            ax.plot(*np.vstack([sliced, sliced[:1]]).T, color="#3F5340", lw=1.0, zorder=4.3)
        named.append((plant.name, (centre[right], centre[up])))
    return named


def lamps(ax: Axes, habitat: Habitat, axis: str) -> list[tuple[str, tuple[float, float]]]:
    """Lamps where they hang, with the way they shine; returns names and places.

    Seen from above they hang between the eye and the section, so they are drawn lightly.
    """
    right, up, _ = outlines.AXES[axis]
    for lamp in habitat.lamps:
        _lamp(ax, lamp, right, up, 0.55 if axis == "z" else 1.0, max(habitat.enclosure.inside))
    return [(lamp.name, (lamp.at[right], lamp.at[up])) for lamp in habitat.lamps]


def _lamp(ax: Axes, lamp: Lamp, right: int, up: int, strength: float, whole: float) -> None:
    from matplotlib.patches import Circle, Polygon

    at = np.array([lamp.at[right], lamp.at[up]])
    along = np.array([lamp.along[right], lamp.along[up]])
    aim = np.array([lamp.aim[right], lamp.aim[up]])
    half = lamp.type.length / 2
    thick = max(lamp.type.diameter, lamp.type.width * 0.5, 0.016)
    look = {"facecolor": "#FFF6CC", "edgecolor": INK, "lw": 1.0, "zorder": 7,
            "alpha": strength}  # fmt: skip
    aimed = float(np.linalg.norm(aim)) > 0.25
    if half * np.linalg.norm(along) > thick and lamp.type.width < 0.06:
        a, b = at - along * half, at + along * half
        line = np.array([a, b]).T
        ax.plot(*line, color=INK, lw=5.2, solid_capstyle="round", zorder=7, alpha=strength)
        ax.plot(*line, color="#FFF6CC", lw=3.2, solid_capstyle="round", zorder=7.1, alpha=strength)
        roots = [at + along * half * s for s in (-0.7, -0.35, 0.0, 0.35, 0.7)]
    elif lamp.type.width > 0 and lamp.type.shape != "spot":
        # A panel: its corners as they project, flat in the way it shines.
        across = np.cross(lamp.along, lamp.aim)
        sides = [
            np.array(lamp.at) + np.array(lamp.along) * half * a
            + across * lamp.type.width / 2 * b - np.array(lamp.aim) * 0.025 * c
            for a in (-1, 1) for b in (-1, 1) for c in (0, 1)
        ]  # fmt: skip
        ax.add_patch(Polygon(outlines.hull(np.array(sides)[:, [right, up]]), closed=True, **look))
        roots = [at + (along * half + across[[right, up]] * lamp.type.width / 2) * s
                 for s in (-0.7, 0.0, 0.7)]  # fmt: skip
    elif lamp.type.shape in ("tube", "bar") or not aimed:
        ax.add_patch(Circle((lamp.at[right], lamp.at[up]), max(thick / 2, 0.009 * whole), **look))
        roots = [at]
    else:
        way = aim / np.linalg.norm(aim)
        side = np.array([-way[1], way[0]])
        mouth = max(lamp.type.diameter / 2, 0.016 * whole)
        neck = at - way * mouth * 1.9
        ring = [at + side * mouth, at - side * mouth, neck - side * mouth * 0.4,
                neck + side * mouth * 0.4]  # fmt: skip
        ax.add_patch(Polygon(ring, closed=True, **look))
        roots = [at + side * mouth * s for s in (-0.7, 0.0, 0.7)]
    if aimed:
        way = aim / np.linalg.norm(aim)
        for root in roots:
            line = np.array([root + way * 0.015 * whole, root + way * 0.028 * whole])
            ax.plot(*line.T, color=INK, lw=0.8, zorder=7, solid_capstyle="round")


def water(
    ax: Axes, habitat: Habitat, axis: str, position: float
) -> list[tuple[str, tuple[float, float]]]:
    """Bowls of water; returns names and places."""
    named = []
    right, up, across = outlines.AXES[axis]
    for bowl in habitat.water:
        size = (*bowl.size, bowl.depth)
        low = [bowl.at[0] - size[0] / 2, bowl.at[1] - size[1] / 2, bowl.at[2]]
        high = [bowl.at[0] + size[0] / 2, bowl.at[1] + size[1] / 2, bowl.at[2] + size[2]]
        cut = low[across] <= position <= high[across]
        _rectangle(
            ax, (low[right], low[up]), (high[right], high[up]),
            facecolor="#A9C7D6" if cut else "none", edgecolor=INK if cut else SOFT_INK, lw=0.8,
            zorder=5.6 if cut else 3.3, ls="-" if cut else (0, (4, 2)),
        )  # fmt: skip
        named.append((bowl.name, ((low[right] + high[right]) / 2, (low[up] + high[up]) / 2)))
    return named
