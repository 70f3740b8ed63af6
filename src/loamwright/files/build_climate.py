"""Fans and misting: from what the file says to things in their places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from loamwright.files.build_context import COMMON_PRACTICE, Build
from loamwright.files.build_controls import driven_by
from loamwright.files.build_day import span
from loamwright.files.build_equipment import aim_of
from loamwright.files.build_solids import Solid
from loamwright.files.document import Loc
from loamwright.files.schema_climate import FanPart, MistPart
from loamwright.files.schema_equipment import HoursPart
from loamwright.files.schema_values import words
from loamwright.habitat.air import Fan
from loamwright.habitat.catalogue import Cover
from loamwright.habitat.controls import Control
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.misting import Mist, Nozzle, NozzleType
from loamwright.habitat.sites import Site
from loamwright.habitat.sources import Source, SourceKind

_NO_SOURCE = {"*": Source("stand-in for an unknown key", SourceKind.BUILDER)}
_ANY_NOZZLE = NozzleType("?", "?", _NO_SOURCE, 1e-6, 1.0, 1e-4)

WATER, PUMP, BORE = 293.15, 20.0, 0.004
"""Usual temperature of the water [K], power of the pump [W] and inner diameter of the line [m]."""


def build_fans(
    build: Build, parts: Sequence[FanPart], controls: Mapping[str, Control]
) -> list[tuple[Loc, Fan]]:
    """The fans, each with its place in the file."""
    made: list[tuple[Loc, Fan]] = []
    for loc, part in build.entries("air", parts):
        where = f"air[{part.name}]"
        kind = build.fan(part.fan, (*loc, "fan"))
        guards = _guards(build, loc, part)
        mat = None if part.filter is None else build.filter(part.filter, (*loc, "filter"))
        driven_by(build, loc, part.control, "fan", controls)
        on = (0.0, 0.0)
        if part.control is not None and part.hours is not None:
            message = f"the control {part.control!r} switches this fan already; keep one of them"
            build.say((*loc, "hours"), message, key=True)
        if isinstance(part.hours, HoursPart):
            on = span(build, (*loc, "hours"), part.hours)
        for key, shown, why in (
            ("speed", "100 %", "nothing slows it"),
            ("guard", "none", "none is named"),
            ("filter", "none", "none is named"),
            ("duct", "none", "none is named"),
        ):
            if getattr(part, key) is None:
                build.default(f"{where}.{key}", shown, why)
        if part.hours is None and part.control is None:
            build.default(f"{where}.hours", "always", "nothing switches it")
        if kind is None:
            continue
        speed = 1.0 if part.speed is None else float(part.speed)
        duct = 0.0 if part.duct is None else float(part.duct)
        at = (float(part.at[0]), float(part.at[1]))
        made.append(
            (loc, Fan(part.name, kind, part.panel, at, part.flow == "in", speed, guards, mat, duct,
                      part.control or "", on, part.protection or ""))
        )  # fmt: skip
    return made


def _guards(build: Build, loc: Loc, part: FanPart) -> tuple[Cover, ...]:
    found = []
    for i, key in enumerate(words(part.guard)):
        place = (*loc, "guard", i) if isinstance(part.guard, list) else (*loc, "guard")
        cover = build.cover(key, place)
        if cover.kind == "sheet":
            build.say(place, f"{key!r} is a sheet, which lets no air through")
        elif cover.kind == "mesh":
            found.append(cover)
    return tuple(found)


def build_mist(
    build: Build,
    part: MistPart | None,
    controls: Mapping[str, Control],
    sites: Mapping[str, Site],
    solids: Mapping[str, Solid],
    box: Enclosure,
) -> tuple[Mist | None, list[tuple[Loc, Nozzle]]]:
    """The misting, and its nozzles each with its place in the file."""
    if part is None:
        return None, []
    nozzles: list[tuple[Loc, Nozzle]] = []
    for loc, entry in build.entries("mist.nozzles", part.nozzles):
        kind = build.nozzle(entry.type, (*loc, "type"))
        at = (float(entry.at[0]), float(entry.at[1]), float(entry.at[2]))
        aim = aim_of(build, loc, entry.aim, at, sites, solids, "the nozzle")
        if entry.aim is None:
            build.default(f"mist.nozzles[{entry.name}].aim", "down", "the usual way to fix one")
        if (
            aim is not None
        ):  # with a stand-in for an unknown type, its place is checked all the same
            nozzles.append((loc, Nozzle(entry.name, kind or _ANY_NOZZLE, at, aim)))
    for key, usual, quantity in (
        ("water_temperature", WATER, "temperature"),
        ("pump", PUMP, "power"),
    ):
        if getattr(part, key) is None:
            build.default(f"mist.{key}", build.show(usual, quantity))
    driven_by(build, ("mist",), part.control, "mist", controls)
    times = _times(build, part)
    for key, shown, why in (
        ("bore", build.show(BORE), COMMON_PRACTICE),
        ("tank_at", "under the box", COMMON_PRACTICE),
    ):
        if getattr(part, key) is None:
            build.default(f"mist.{key}", shown, why)
    if part.tank <= 0.0:
        build.say(("mist", "tank"), f"{part.tank.text} holds no water")
    if not build.doc.get(("mist", "nozzles")):
        build.say(("mist", "nozzles"), "is needed: mist comes out of one nozzle at least")
    if not build.doc.get(("mist", "times")) and build.doc.get(("mist", "control")) is None:
        build.say(("mist",), "never runs: give 'times', or a 'control' that asks for it", key=True)
    mist = Mist(
        float(part.tank),
        tuple(nozzle for _, nozzle in nozzles),
        times,
        part.control or "",
        WATER if part.water_temperature is None else float(part.water_temperature),
        PUMP if part.pump is None else float(part.pump),
        None if part.pressure is None else float(part.pressure),
        BORE if part.bore is None else float(part.bore),
        _tank_at(part, box),
    )
    return mist, nozzles


def _tank_at(part: MistPart, box: Enclosure) -> Vec3:
    """Where the tank's water stands; under the box where nothing is said, beside it without a stand."""
    if part.tank_at is not None:
        return (float(part.tank_at[0]), float(part.tank_at[1]), float(part.tank_at[2]))
    wide, deep, _ = box.inside
    if box.stand is None:
        return (wide + 0.3, 0.5 * deep, 0.0)
    return (0.8 * wide, 0.5 * deep, -0.5 * box.stand.height)


def _times(build: Build, part: MistPart) -> tuple[tuple[float, float], ...]:
    """Start and length [s] of each misting, by the hour of the day."""
    entries = build.entries("mist.times", part.times)
    for loc, time in entries:
        end = float(time.at) + float(time.duration)
        if end > 86400.0:
            over = build.show(end - 86400.0, "time")
            build.say(
                (*loc, "for"),
                f"{time.duration.text} from {time.at.text} runs {over} past midnight; end it at "
                "24:00, and begin another at 00:00",
            )
    ordered = sorted(entries, key=lambda entry: float(entry[1].at))
    for (one, before), (two, after) in pairwise(ordered):
        if float(before.at) + float(before.duration) > float(after.at):
            later = max(one, two, key=lambda loc: build.doc.where(loc))
            other = before if later is two else after
            line = build.doc.where(one if later is two else two)[0]
            message = f"overlaps the misting of {other.duration.text} at {other.at.text}"
            build.say((*later, "at"), f"{message} (line {line})")
    return tuple((float(time.at), float(time.duration)) for _, time in ordered)
