"""Slopes, terraces and additions of a layer, from the file."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from loamwright.files.build_context import SIZES, Build, box_size, in_unit_of, written
from loamwright.files.document import Loc
from loamwright.files.schema_box import LayerPart, TerracePart
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.ground import Addition, Ground, Layer, Relief, Terrace

FLAT = ("drainage-mat", "fleece")
"""Kinds of layer that come as sheets: they are as thick everywhere."""

SLACK = 1e-3
"""How far over the box's edge is still taken as on it [m]."""


def build_relief(
    build: Build, loc: Loc, part: LayerPart, depth: float, box: Enclosure
) -> Relief | None:
    """Slope and terraces of a layer ``depth`` deep in its middle [m]; None where it is level."""
    found = [key for key in ("slope", "terraces") if getattr(part, key)]
    if not found:
        return None
    if part.kind in FLAT:
        for key in found:
            message = f"belongs to loose ground; a {part.kind} is as thick everywhere"
            build.say((*loc, key), message, key=True)
        return None
    left, right, front, back = box.floor
    wide, deep = max(right - left, 1e-9), max(back - front, 1e-9)
    slope = (0.0, 0.0)
    if part.slope is not None:
        rise = float(part.slope.rise)
        slope = {
            "right": (rise / wide, 0.0), "left": (-rise / wide, 0.0),
            "back": (0.0, rise / deep), "front": (0.0, -rise / deep),
        }[part.slope.high]  # fmt: skip
    terraces = []
    for i, step in enumerate(part.terraces or []):
        made = _terrace(build, (*loc, "terraces", i), step, box)
        if made is not None:
            terraces.append(made)
    return Relief(depth, ((left + right) / 2, (front + back) / 2), slope, tuple(terraces))


def _terrace(build: Build, loc: Loc, step: TerracePart, box: Enclosure) -> Terrace | None:
    low = (float(step.start[0]), float(step.start[1]))
    high = (float(step.end[0]), float(step.end[1]))
    fits = True
    for i in range(2):
        for key, value in (("from", low[i]), ("to", high[i])):
            text = written(build, (*loc, key, i))
            what = f"the terrace reaches {'xy'[i]} = {in_unit_of(value, text)}"
            if value < -SLACK:
                build.say((*loc, key, i), f"{what}; the inside begins at 0")
                fits = False
            elif value > box.inside[i] + SLACK and build.box_known:
                build.say((*loc, key, i), f"{what}; {box_size(build, box, i, text)}")
                fits = False
        if fits and high[i] <= low[i]:
            text = written(build, (*loc, "to", i))
            ends = f"{in_unit_of(high[i], text)} is not beyond {in_unit_of(low[i], text)}"
            side = ("left to right", "front to back")[i]
            build.say((*loc, "to", i), f"{ends}; give the corners {side}")
            fits = False
    return Terrace(step.name or "terrace", low, high, float(step.rise)) if fits else None


def mean_depth(relief: Relief, box: Enclosure) -> float:
    """Mean depth of a layer over the floor between the linings [m]."""
    left, right, front, back = box.floor
    area = max((right - left) * (back - front), 1e-9)
    mean = relief.level
    for step in relief.terraces:
        wide = min(step.high[0], right) - max(step.low[0], left)
        deep = min(step.high[1], back) - max(step.low[1], front)
        mean += step.rise * max(0.0, wide) * max(0.0, deep) / area
    return mean


def build_additions(build: Build, loc: Loc, part: LayerPart) -> tuple[Addition, ...]:
    """What is mixed into a layer."""
    if not part.additions:
        return ()
    if part.kind in (*FLAT, "leaf-litter"):
        message = f"belong to ground that is mixed, not to {part.kind}"
        build.say((*loc, "additions"), message, key=True)
        return ()
    out: list[Addition] = []
    for i, entry in enumerate(part.additions):
        if any(entry.what == made.what for made in out):
            build.say(
                (*loc, "additions", i, "what"), f"{entry.what!r} is added twice; give one dose"
            )
            continue
        by_volume = entry.dose.kind == "share"
        value = float(entry.dose)
        out.append(Addition(entry.what, 0.0 if by_volume else value, value if by_volume else 0.0))
    return tuple(out)


def check_relief(build: Build, box: Enclosure, ground: Ground) -> None:
    """Say which layer a slope or terrace leaves without depth, and where ground meets the top."""
    locs = _locs(build, ground.layers)
    # A layer that could not be read is left out, and said already.
    if ground.level or not build.box_known or len(locs) != len(ground.layers):
        return
    for loc, layer in zip(locs, ground.layers, strict=True):
        if layer.relief is None:
            continue
        least, (x, y) = min((layer.depth_at(x, y), (x, y)) for x, y in _corners(box, [layer]))
        if least <= 0.0:
            text = written(build, (*loc, "depth"))
            place = f"x = {in_unit_of(x, text)}, y = {in_unit_of(y, text)}"
            key = "slope" if build.doc.get((*loc, "slope")) else "terraces"
            message = (
                f"leaves the layer {in_unit_of(least, text)} deep at {place}; it is "
                f"{in_unit_of(layer.relief.level, text)} deep in its middle: make it deeper, or the "
                "rise less"
            )
            build.say((*loc, key), message)
    highest = max(ground.surface_at(x, y) for x, y in _corners(box, ground.layers))
    if highest >= box.inside[2] > ground.depth:
        unit = written(build, ("ground", 0, "depth"), ("enclosure", "inside", "height"))
        total = in_unit_of(highest, unit)
        height = box_size(build, box, SIZES.index("height"), unit)
        build.say(("ground",), f"slopes and terraces reach {total} high; {height}")


def _locs(build: Build, layers: Sequence[Layer]) -> list[Loc]:
    places = build.places.get("ground", range(len(layers)))
    return [("ground", place) for place in places]


def _corners(box: Enclosure, layers: Sequence[Layer]) -> list[tuple[float, float]]:
    """Places where depths are extreme: corners of the floor and of all terraces, just inside each."""
    left, right, front, back = box.floor
    hair = 1e-6
    xs, ys = {left, right - hair}, {front, back - hair}
    for layer in layers:
        for step in layer.relief.terraces if layer.relief else ():
            for edge in (step.low[0], step.high[0]):
                xs |= {x for x in (edge - hair, edge) if left <= x < right}
            for edge in (step.low[1], step.high[1]):
                ys |= {y for y in (edge - hair, edge) if front <= y < back}
    return list(itertools.product(sorted(xs), sorted(ys)))
