"""The frame of a top that is held everywhere: aluminium tube on its edges and beside its windows.

It lies on the outside of the top, which hangs on it; covers of windows are fixed from below. Sizes of
tube and how they are joined are common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.engine.ground.lamp_mass import lamp_mass
from loamwright.habitat.enclosure import Vec2, Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.physics import beams
from loamwright.physics.nozzles import GRAVITY
from loamwright.plan.battens import spread
from loamwright.plan.box_joints import panel_boxes
from loamwright.plan.lines import Line
from loamwright.plan.screws import Screw, Screws, at_least, by_length, takes_screws

SIZES = ((0.020, 0.002), (0.025, 0.002), (0.030, 0.002), (0.040, 0.003))
"""Outer size and wall of square tube there is [m], lightest first; common practice, no source."""

SIZES_US = ((0.01905, 0.0015875), (0.0254, 0.0015875), (0.03175, 0.003175), (0.0381, 0.003175))
"""The same in the United States [m]: 3/4 to 1 1/2 in; common practice, no source."""

YOUNG, DENSITY = 70e9, 2700.0
"""Young's modulus [Pa] and density [kg/m3] of aluminium; from memory."""

SAG = 1.0 / 300.0
"""Deflection over doors as a share of the span from which on they bind [1]; common practice, no
source."""

SHARE = 0.5
"""Share of top and lamps that one member which spans freely is taken to bear [1]: of two at least."""

SPACING = 0.20
"""Greatest distance between the screws of a member [m]; common practice, no source."""

ON_PANEL = 0.010
"""Least width of a member that lies on the panel and takes its screws [m]; common practice."""

FAN_AIR = 0.002
"""Least distance of a member from a fan's frame [m]; common practice."""

BITE = 0.004
"""How far a screw reaches beyond the tube's wall [m]; common practice."""

A_CORNER = 4
"""Screws of a corner connector, two in each leg; common practice."""

CONNECTOR = Screw(0.0035, 0.012)


@dataclass(frozen=True, slots=True)
class Member:
    """A bar of the frame: the place it takes from ``low`` to ``high`` [m], its ``length`` [m], whether
    it lies ``across`` the width, and names of what it ``crosses``: openings and fans. ``line`` is where
    its screws stand, across it [m]: the middle of what bears on the panel; where it ``overhangs`` the
    window called ``over`` [m], ``beside`` names what is in the way behind it;
    ``near`` names fans whose frames are nearer than they may be."""

    name: str
    low: Vec3
    high: Vec3
    length: float
    across: bool
    crosses: tuple[str, ...] = ()
    line: float = 0.0
    overhangs: float = 0.0
    over: str = ""
    beside: tuple[str, ...] = ()
    near: tuple[str, ...] = ()

    def mark(self, start: Vec2) -> tuple[Vec2, Vec2]:
        """Where it lies on the top's drawing, from the panel's lower left corner ``start`` [m]."""
        return (
            (self.low[0] - start[0], self.low[1] - start[1]),
            (self.high[0] - start[0], self.high[1] - start[1]),
        )


@dataclass(frozen=True, slots=True)
class Frame:
    """Tube of a ``size`` and a ``wall`` [m] and its ``members``. ``span`` of those that span freely
    [m], ``load`` by length on one [N/m], its ``deflection`` and the ``allowed`` one [m]; ``screw``
    from the inside through the top into the tube, None where the top takes none."""

    size: float
    wall: float
    members: tuple[Member, ...]
    span: float
    load: float
    deflection: float
    allowed: float
    screw: Screw | None

    @property
    def key(self) -> str:
        """Its key in a price list."""
        return "fixings/aluminium-tube-" + "x".join(_mm(x) for x in self._sizes) + "mm"

    @property
    def label(self) -> str:
        """``aluminium square tube, 25 x 25 x 2 mm``."""
        return f"aluminium square tube, {' x '.join(_mm(x) for x in self._sizes)} mm"

    @property
    def _sizes(self) -> tuple[float, float, float]:
        return self.size, self.size, self.wall

    @property
    def holds(self) -> bool:
        """Whether it bends no more than it may."""
        return self.deflection <= self.allowed

    @property
    def corners(self) -> int:
        """Places where members meet: each but those along front and back ends at two others."""
        return 2 * (len(self.members) - 2)


def _mm(length: float) -> str:
    return f"{1000.0 * length:.4g}"


def tube_inertia(size: float, wall: float) -> float:
    """Second moment of area of a square tube [m4], by its outer size and wall [m]."""
    return beams.rectangle_inertia(size, size) - beams.rectangle_inertia(*[size - 2.0 * wall] * 2)


def framed(habitat: Habitat, side: str) -> bool:
    """Whether a panel brings a frame: a fixed top that is held everywhere."""
    panel = habitat.enclosure.panel(side)
    return side == "top" and panel.held == "everywhere" and not panel.doors


def frame_of(habitat: Habitat) -> Frame | None:
    """The frame of the top in the smallest size that is stiff enough, else in the largest; None where
    the top has none."""
    if not framed(habitat, "top"):
        return None
    panel = habitat.enclosure.panel("top")
    low, high = panel_boxes(habitat)["top"]
    span = habitat.enclosure.inside[0]
    top = (
        (high[0] - low[0]) * (high[1] - low[1]) * panel.thickness * (panel.material.density or 0.0)
    )
    mass = SHARE * (top + math.fsum(lamp_mass(x) for x in habitat.lamps))
    sizes = SIZES_US if habitat.units == "us" else SIZES
    for size, wall in sizes:
        area = size**2 - (size - 2.0 * wall) ** 2
        load = GRAVITY * (mass / span + DENSITY * area)
        # Aluminium does not creep at room temperature.
        bent = beams.uniform_deflection(load, span, YOUNG, tube_inertia(size, wall))
        if bent <= SAG * span:
            break
    screw = None
    if takes_screws(panel.material.key):
        screw = by_length(at_least(panel.thickness + wall + BITE))
    return Frame(size, wall, _members(habitat, size), span, load, bent, SAG * span, screw)


def _members(habitat: Habitat, size: float) -> tuple[Member, ...]:
    """Front and back over the whole inside width, the sides between them, and the others between
    those: within the walls, whose joint to the top stays free and whose corners leave room to drive
    screws from inside."""
    z = panel_boxes(habitat)["top"][1][2]
    low, high = (0.0, 0.0), habitat.enclosure.inside[:2]

    def bar(name: str, start: Vec2, end: Vec2, across: bool) -> Member:
        k = 0 if across else 1
        line, over = _bearing(habitat, start, end, 1 - k)
        far = 2.0 * abs((start[1 - k] + end[1 - k]) / 2 - line)
        # Without the panel's room behind it, it would lie right beside the window.
        aside = _moved(start, end, 1 - k, far if line > (start[1 - k] + end[1 - k]) / 2 else -far)
        beside: tuple[str, ...] = ()
        if over:
            beside = (
                *_crossed(habitat, *aside, across),
                *_tight(habitat, *aside),
                *_rims(habitat, *aside, 1 - k, over),
            )
        return Member(name, (*start, z), (*end, z + size), end[k] - start[k], across,
                      _crossed(habitat, start, end, across), line, far if over else 0.0, over,
                      beside, _tight(habitat, start, end))  # fmt: skip

    out = [
        bar("frame, front", (low[0], low[1]), (high[0], low[1] + size), True),
        bar("frame, back", (low[0], high[1] - size), (high[0], high[1]), True),
        bar("frame, left", (low[0], low[1] + size), (low[0] + size, high[1] - size), False),
        bar("frame, right", (high[0] - size, low[1] + size), (high[0], high[1] - size), False),
    ]
    windows = [o for o in habitat.enclosure.openings if o.side == "top"]
    for k, across in ((1, True), (0, False)):
        inner = (low[k] + size, high[k] - size)
        ends = (low[1 - k] + size, high[1 - k] - size)
        wanted: list[tuple[float, float, str]] = []
        for o in windows:
            if (o.size[0] >= o.size[1]) == across:
                edges = (o.at[k] - o.size[k] / 2, o.at[k] + o.size[k] / 2)
                words = ("before", "behind") if across else ("left of", "right of")
                wanted.append((edges[0], -1.0, f"frame, {words[0]} {o.name}"))
                wanted.append((edges[1], 1.0, f"frame, {words[1]} {o.name}"))
        taken: list[tuple[float, float]] = []
        for edge, way, name in sorted(wanted):
            at = _place(habitat, edge, way, size, k, ends)
            # One that would lie in another's place, or in the outer ones', is that one.
            if any(at < t[1] and t[0] < at + size for t in taken):
                continue
            if at < inner[0] or at + size > inner[1]:
                continue
            taken.append((at, at + size))
            a, b = (ends[0], at), (ends[1], at + size)
            start, end = (a, b) if across else ((a[1], a[0]), (b[1], b[0]))
            out.append(bar(name, start, end, across))
    return tuple(out)


def _bearing(habitat: Habitat, start: Vec2, end: Vec2, k: int) -> tuple[float, str]:
    """Middle of what of a bar bears on the panel, across it [m], and the window whose rim it lies over;
    of windows on both sides the one it lies over further."""
    low, up, over, most = start[k], end[k], "", 1e-6
    for o in habitat.enclosure.openings:
        if o.side != "top" or not _meet(start, end, o.at, o.size):
            continue
        rims = (o.at[k] - o.size[k] / 2, o.at[k] + o.size[k] / 2)
        if start[k] < rims[1] < end[k]:
            deep, low = rims[1] - start[k], max(low, rims[1])
        elif start[k] < rims[0] < end[k]:
            deep, up = end[k] - rims[0], min(up, rims[0])
        else:
            continue
        if deep > most:
            over, most = o.name, deep
    if not over or up <= low:
        return (start[k] + end[k]) / 2, ""
    return (low + up) / 2, over


def _rims(habitat: Habitat, start: Vec2, end: Vec2, k: int, but: str) -> tuple[str, ...]:
    """Names of other windows, a rim of which a bar would lie over."""
    return tuple(
        o.name for o in habitat.enclosure.openings
        if o.side == "top" and o.name != but and _meet(start, end, o.at, o.size)
        and any(start[k] < o.at[k] + way * o.size[k] / 2 < end[k] for way in (-1, 1))
    )  # fmt: skip


def _moved(start: Vec2, end: Vec2, k: int, by: float) -> tuple[Vec2, Vec2]:
    """A bar moved across itself [m]."""
    if k == 0:
        return (start[0] + by, start[1]), (end[0] + by, end[1])
    return (start[0], start[1] + by), (end[0], end[1] + by)


def _place(
    habitat: Habitat, edge: float, way: float, size: float, k: int, ends: tuple[float, float]
) -> float:
    """Lower edge of a member beside a window's ``edge`` [m]: outside it, or drawn over the window as
    far as leaves room for its screws where a fan or another opening is beside it."""
    outside = edge if way > 0.0 else edge - size
    close: float | None = None
    for step in range(round((size - ON_PANEL) * 1000.0) + 1):
        at = outside - way * step / 1000.0
        a, b = (ends[0], at), (ends[1], at + size)
        start, end = (a, b) if k == 1 else ((a[1], a[0]), (b[1], b[0]))
        if _crossed(habitat, start, end, k == 1):
            continue
        if not _tight(habitat, start, end):
            return at
        close = at if close is None else close
    return outside if close is None else close


def _tight(habitat: Habitat, start: Vec2, end: Vec2) -> tuple[str, ...]:
    """Names of fans that a bar does not lie across, but whose frames it is too near to."""
    return tuple(
        f.name for f in habitat.fans
        if f.side == "top" and not _meet(start, end, f.at, (f.type.diameter,) * 2)
        and _meet(start, end, f.at, (f.type.diameter + 2.0 * FAN_AIR,) * 2)
    )  # fmt: skip


def _crossed(habitat: Habitat, start: Vec2, end: Vec2, across: bool) -> tuple[str, ...]:
    """Names of openings and fans that a bar lies across; over the rim of a window beside it, it may."""
    k = 1 if across else 0
    out = []
    for o in habitat.enclosure.openings:
        rims = (o.at[k] - o.size[k] / 2, o.at[k] + o.size[k] / 2)
        beside = any(start[k] - 1e-9 <= r <= end[k] + 1e-9 for r in rims)
        if o.side == "top" and not beside and _meet(start, end, o.at, o.size):
            out.append(o.name)
    for fan in habitat.fans:
        if fan.side == "top" and _meet(start, end, fan.at, (fan.type.diameter,) * 2):
            out.append(fan.name)
    return tuple(out)


def _meet(start: Vec2, end: Vec2, at: Vec2, size: Vec2) -> bool:
    return all(
        start[k] < at[k] + size[k] / 2 - 1e-9 and at[k] - size[k] / 2 + 1e-9 < end[k]
        for k in (0, 1)
    )


def frame_screws(habitat: Habitat) -> tuple[Screws, ...]:
    """The screws of the frame: through the top into each member, and those of the corners."""
    frame = frame_of(habitat)
    if frame is None:
        return ()
    out = []
    if frame.screw is not None:
        way = "from the inside through the top into the tube, drilled first, heads sunk and sealed"
        out = [
            Screws(m.name, spread(m.length, SPACING)[0], frame.screw, way) for m in frame.members
        ]
    corners = "into the tube at the corner connectors, drilled first"
    return (*out, Screws("frame of the top", A_CORNER * frame.corners, CONNECTOR, corners))


def frame_lines(habitat: Habitat) -> list[Line]:
    """Tube and corner connectors."""
    frame = frame_of(habitat)
    if frame is None:
        return []
    uses = tuple(m.name for m in frame.members)
    size = _mm(frame.size)
    return [
        Line(frame.key, "fixings", frame.label, math.fsum(m.length for m in frame.members), "m",
             why="the frame that the top hangs on", uses=uses),
        Line(f"fixings/frame-corner-{size}mm", "fixings",
             f"corner connectors for aluminium tube, {size} mm",
             float(frame.corners), "piece", why="one where two members of the frame meet",
             uses=("frame of the top",)),
    ]  # fmt: skip
