"""Lamps: from what the file says to lamps in their places."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from loamwright.errors import InputError
from loamwright.files.build_context import Build, unit_vector
from loamwright.files.build_solids import Solid, dot, minus, plus, size_of
from loamwright.files.document import Loc
from loamwright.files.paths import inside
from loamwright.files.schema_equipment import HoursPart, LampPart, ReadingPart
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.sites import Site

_READ = ("uvi", "ppfd", "lux")
_NUMBER = re.compile(r"readings\[(\d+)\]")
_AXES: dict[str, Vec3] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
_AIMS: dict[str, Vec3] = {"down": (0.0, 0.0, -1.0), "up": (0.0, 0.0, 1.0)}


def build_day(build: Build, part: HoursPart | None) -> tuple[float, float]:
    """From lights on to lights off [s after midnight]."""
    if part is None:
        day = (7 * 3600.0, 19 * 3600.0)
        build.default("day", "07:00 to 19:00")
        return day
    return _span(build, ("day",), part)


def _span(build: Build, loc: Loc, part: HoursPart) -> tuple[float, float]:
    """From on to off [s after midnight]; the same time twice could mean never or always."""
    if part.start == part.to:
        message = "is the same time as 'from'; from 00:00 to 24:00 is the whole day"
        build.say((*loc, "to"), message)
    return (float(part.start), float(part.to))


def build_lamps(
    build: Build,
    parts: Sequence[LampPart],
    day: tuple[float, float],
    sites: Mapping[str, Site],
    solids: Mapping[str, Solid],
    root: Path,
) -> list[tuple[Loc, Lamp]]:
    """The lamps, each with its place in the file."""
    made: list[tuple[Loc, Lamp]] = []
    entries = build.entries("lamps", parts)
    for loc, part in entries:
        where = f"lamps[{part.name}]"
        kind = build.lamp(part.type, (*loc, "type"))
        if kind is not None:
            kind = _own_output(build, loc, part, kind, root)
        guard = None
        if part.guard is not None:
            guard = build.cover(part.guard, (*loc, "guard"))
        at = (float(part.at[0]), float(part.at[1]), float(part.at[2]))
        aim = _aim(build, loc, part, at, sites, solids)
        along = _along(build, loc, part, aim, where) if aim is not None else None
        on = day
        if isinstance(part.hours, HoursPart):
            on = _span(build, (*loc, "hours"), part.hours)
        for key, shown, why in (
            ("aim", "down", "the usual way to hang a lamp"),
            ("dim", "100 %", "nothing dims it"),
            ("hours", "day", "lit from lights on to lights off"),
            ("hours_run", "0 h", "taken as new"),
            ("guard", "none", "none is named"),
        ):
            if getattr(part, key) is None:
                build.default(f"{where}.{key}", shown, why)
        if kind is None or aim is None or along is None:
            build.lost_names.add(part.name)
            continue
        dim = 1.0 if part.dim is None else float(part.dim)
        run = 0.0 if part.hours_run is None else float(part.hours_run) / 3600.0
        made.append((loc, Lamp(part.name, kind, at, aim, along, dim, run, on, guard)))
    return made


def _own_output(
    build: Build, loc: Loc, part: LampPart, kind: LampType, root: Path
) -> LampType | None:
    """The lamp with the builder's own photometric file and meter readings."""
    if part.ies is not None and part.eulumdat is not None:
        build.say(
            (*loc, "eulumdat"), "a lamp has one light distribution: 'ies' is here too", key=True
        )
        return None
    for key, ending in (("ies", ".ies"), ("eulumdat", ".ldt")):
        named: str | None = getattr(part, key)
        if named is None:
            continue
        from loamwright.files.photometry import read_photometry, to_lamp_type

        try:
            path = inside(root, named)
            if path.suffix.lower() != ending:
                raise InputError(f"{named!r} must end in {ending}")
            kind = to_lamp_type(read_photometry(path), kind)
        except InputError as error:
            build.pass_on((*loc, key), error)
            return None
    return _fitted(build, loc, part.readings, kind) if part.readings else kind


def _aim(
    build: Build,
    loc: Loc,
    part: LampPart,
    at: Vec3,
    sites: Mapping[str, Site],
    solids: Mapping[str, Solid],
) -> Vec3 | None:
    """Unit vector the way a lamp shines."""
    named = part.aim
    if named is None:
        return _AIMS["down"]
    if isinstance(named, str):
        if named in sites:
            target = sites[named].at
        elif named in solids:
            target = solids[named].middle
        elif named in _AIMS:
            return _AIMS[named]
        else:
            build.unknown_name((*loc, "aim"), named, "site or piece", [*sites, *solids, *_AIMS])
            return None
    else:
        target = (float(named[0]), float(named[1]), float(named[2]))
    way = unit_vector(minus(target, at)) if math.dist(target, at) > 1e-4 else None
    if way is None:
        build.say((*loc, "aim"), "is the lamp's own place: it has no direction")
    return way


def _along(build: Build, loc: Loc, part: LampPart, aim: Vec3, where: str) -> Vec3 | None:
    """Unit vector along a lamp's long side, square to the way it shines."""
    named = part.along
    if named is None:
        word = "x" if abs(aim[0]) < 0.9 else "y"
        build.default(f"{where}.along", word, "its long side lies left to right")
        wanted: Vec3 | None = _AXES[word]
    elif isinstance(named, str):
        if named not in _AXES:
            build.say((*loc, "along"), f"{named!r} is not one of: x, y, z, a vector [x, y, z]")
            return None
        wanted = _AXES[named]
    else:
        wanted = unit_vector(named)
    if wanted is None:
        build.say((*loc, "along"), "has no direction: one of its numbers must differ from 0")
        return None
    across = plus(wanted, aim, -dot(wanted, aim))
    if size_of(across) < 0.05:
        build.say((*loc, "along"), "is the way the lamp shines; its long side lies across that")
        return None
    return unit_vector(across)


def _fitted(
    build: Build, loc: Loc, parts: Sequence[ReadingPart], kind: LampType
) -> LampType | None:
    """The lamp fitted to the builder's own meter readings."""
    found: list[tuple[Loc, float, str, float]] = []
    for i, part in enumerate(parts):
        given = {key: getattr(part, key) for key in _READ if getattr(part, key) is not None}
        if not given:
            build.say((*loc, "readings", i), f"has no reading: give one of {', '.join(_READ)}")
        for key, value in given.items():
            found.append(((*loc, "readings", i, key), float(part.distance), key, float(value)))
    if not found:
        return None
    from loamwright.files.lamp_fit import Reading, fit_lamp

    try:
        return fit_lamp(kind, [Reading(far, key, value) for _, far, key, value in found]).lamp
    except InputError as error:
        for problem in error.problems:
            number = _NUMBER.match(problem.field)
            at = found[int(number.group(1))][0] if number else (*loc, "readings")
            build.say(at, problem.message)
        return None
