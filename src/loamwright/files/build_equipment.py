"""Lamps: from what the file says to lamps in their places."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from loamwright.errors import InputError
from loamwright.files.build_context import COMMON_PRACTICE as PRACTICE
from loamwright.files.build_context import Build, unit_vector
from loamwright.files.build_controls import driven_by
from loamwright.files.build_day import span
from loamwright.files.build_solids import Solid, dot, minus, plus, size_of
from loamwright.files.document import Loc
from loamwright.files.paths import inside
from loamwright.files.schema_equipment import HoursPart, LampPart, ReadingPart
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.controls import Control
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.sites import Site

_READ = ("uvi", "ppfd", "lux")
_NUMBER = re.compile(r"readings\[(\d+)\]")
_DIMMED = re.compile(r"\b(leds?|halogen|incandescent|tungsten|heat emitters?|ceramic)\b")
_NOT_DIMMED = re.compile(r"\b(fluorescent|metal halide|mercury|discharge)\b")
_AXES: dict[str, Vec3] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}
_AIMS: dict[str, Vec3] = {"down": (0.0, 0.0, -1.0), "up": (0.0, 0.0, 1.0)}


def build_lamps(
    build: Build,
    parts: Sequence[LampPart],
    day: tuple[float, float],
    controls: Mapping[str, Control],
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
            _within_power(build, loc, part, kind)
        guard = None
        if part.guard is not None:
            guard = build.cover(part.guard, (*loc, "guard"))
        at = (float(part.at[0]), float(part.at[1]), float(part.at[2]))
        aim = aim_of(build, loc, part.aim, at, sites, solids, "the lamp")
        along = _along(build, loc, part, aim, where) if aim is not None else None
        control = driven_by(build, loc, part.control, "lamp", controls)
        on, follows = _hours(build, loc, part, day, control)
        dimmable = _dimmable(build, loc, part, kind, control)
        for key, shown, why in (
            ("aim", "down", "the usual way to hang a lamp"),
            ("dim", "100 %", "nothing dims it"),
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
        made.append(
            (loc, Lamp(part.name, kind, at, aim, along, dim, run, on, guard, part.control or "",
                       follows, dimmable, part.protection or ""))
        )  # fmt: skip
    return made


def _hours(
    build: Build, loc: Loc, part: LampPart, day: tuple[float, float], control: Control | None
) -> tuple[tuple[float, float], bool]:
    """When a lamp may be on [s after midnight], and whether those hours are the day's."""
    if isinstance(part.hours, HoursPart):
        return span(build, (*loc, "hours"), part.hours), False
    word = part.hours
    if word is None:
        at_night = control is not None and build.doc.get(("controls", control.name, "night"))
        word, why = "day", "lit from lights on to lights off"
        if at_night and control is not None and control.night_low is not None:
            word, why = "always", "its control holds a temperature at night"
        build.default(f"lamps[{part.name}].hours", word, why)
    return ((0.0, 86400.0), False) if word == "always" else (day, True)


def _dimmable(
    build: Build, loc: Loc, part: LampPart, kind: LampType | None, control: Control | None
) -> bool:
    """Whether a lamp can be dimmed, as said or usual for its kind."""
    can = part.dimmable
    if can is None:
        can = kind is None or can_be_dimmed(kind)
        if kind is not None:
            shown = "true" if can else "false"
            build.default(f"lamps[{part.name}].dimmable", shown, f"usual for its kind; {PRACTICE}")
    if control is not None and control.kind == "dimming-thermostat" and not can:
        build.say(
            (*loc, "control"),
            f"{control.name!r} dims, and this lamp cannot be dimmed; take a control of kind "
            "thermostat, or say dimmable: true where it can",
        )
    return can


def can_be_dimmed(kind: LampType) -> bool:
    """Whether lamps of a kind can usually be dimmed: light diodes and hot wires, not discharges."""
    told = f"{kind.key} {kind.label} {kind.group}".replace("-", " ").casefold()
    return _DIMMED.search(told) is not None and _NOT_DIMMED.search(told) is None


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


def _within_power(build: Build, loc: Loc, part: LampPart, kind: LampType | None) -> None:
    """Nothing radiates more than it draws; what is left of the power heats the air."""
    sent = 0.0 if kind is None else sum(kind.band_watts)
    if kind is None or sent <= kind.power * (1.0 + 1e-9):
        return
    key = "readings" if part.readings else "ies" if part.ies is not None else "eulumdat"
    build.say(
        (*loc, key),
        f"makes {sent:.3g} W of radiation of a lamp that draws {kind.power:.3g} W; take a type of the "
        "lamp's own power, or look at the readings' distances and units",
    )


def aim_of(
    build: Build,
    loc: Loc,
    named: str | Sequence[float] | None,
    at: Vec3,
    sites: Mapping[str, Site],
    solids: Mapping[str, Solid],
    what: str,
) -> Vec3 | None:
    """Unit vector the way a lamp shines or a nozzle sprays, None after saying what is wrong."""
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
        build.say((*loc, "aim"), f"is {what}'s own place: it has no direction")
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
