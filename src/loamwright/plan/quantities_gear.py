"""What is put into the box: plants, decomposers, lamps, fans, mist, controls, bowls."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from loamwright.habitat.catalogue import LampType
from loamwright.habitat.habitat import Habitat
from loamwright.plan.control_words import LIMIT, bought_as, own_clock
from loamwright.plan.keys import slug
from loamwright.plan.lines import Line
from loamwright.plan.loads import time_switches

SPARE_KINDS = ("halogen", "tube", "ceramic", "uvb", "mercury", "t5", "t8")
"""Words in a lamp's key that mark one that fails at once or is needed daily: one of each kind is kept
beside it; common practice, no source."""

SPARE_NOZZLES = 1
SPARE_FILTERS = 1
"""Nozzles clog and mats are washed: one of each kind beside; common practice."""

PROBES = {
    "thermostat": "temperature", "dimming-thermostat": "temperature", "cooling": "temperature",
    "humidistat": "humidity", "pulse-mist": "humidity",
}  # fmt: skip
"""What the probe of each kind of control measures."""


def plants(habitat: Habitat) -> list[Line]:
    """Plants by species, as tall and wide as they are drawn."""
    sizes: dict[str, list[tuple[float, float]]] = {}
    for p in habitat.plants:
        sizes.setdefault(p.type.key, []).append((p.height, p.spread))
    out = []
    for p in habitat.plants:
        tall, wide = (_range(x) for x in zip(*sizes[p.type.key], strict=True))
        out.append(Line(f"plants/{p.type.key}", "plants",
                        f"{p.type.label} ({p.type.latin}), {tall} tall and {wide} wide", 1.0, "piece",
                        why="one a place, of the size that is drawn", uses=(p.name,)))  # fmt: skip
        if p.on:
            out.append(Line("fixings/plant-tie", "plants", "ties for plants on branches, coated wire "
                            "or cotton, and a handful of moss", 1.0, "piece", uses=(p.name,),
                            why="one a plant that stands on a piece; common practice"))  # fmt: skip
    return out


def _range(lengths: Sequence[float]) -> str:
    """Lengths [m] from the least to the most: ``14 cm``, ``6 cm to 10 cm``."""
    low, high = min(lengths), max(lengths)
    told = [f"{100 * x:.3g} cm" for x in (low, high)]
    return told[0] if told[0] == told[1] else " to ".join(told)


def decomposers(habitat: Habitat, starters: Mapping[str, int]) -> list[Line]:
    """Decomposers by number: the engine's where it computed them, else the file's."""
    out = []
    for x in habitat.decomposers:
        count = starters.get(x.species.key, x.count if x.named else None)
        if count is None:
            continue
        out.append(Line(
            f"decomposers/{x.species.key}", "decomposers",
            f"{x.species.label} ({x.species.latin})", float(count), "piece", uses=("ground",),
            why="starters for the whole floor, let in at planting",
        ))  # fmt: skip
    return out


def keeps_spare(lamp: LampType) -> bool:
    """True for a lamp of which one more is kept."""
    return any(word in lamp.key for word in SPARE_KINDS)


def lamps(habitat: Habitat) -> list[Line]:
    """Lamps by type, a spare of those that fail at once, and their guards."""
    out, seen = [], set()
    for x in habitat.lamps:
        spare = float(x.type.key not in seen and keeps_spare(x.type))
        seen.add(x.type.key)
        out.append(Line(f"lamps/{x.type.key}", "lamps", x.type.label, 1.0, "piece", spares=spare,
                        why="one a place" + (", one spare" if spare else "")
                        + (f"; its fitting {x.protection} or better" if x.protection else ""),
                        uses=(x.name,)))  # fmt: skip
        if x.guard is not None:
            out.append(Line(f"guards/{x.guard.key}", "lamps", f"{x.guard.label}, round a lamp",
                            1.0, "piece", why="one a lamp", uses=(x.name,)))  # fmt: skip
    return out


def air(habitat: Habitat) -> list[Line]:
    """Fans and their filters."""
    out, seen = [], set()
    for x in habitat.fans:
        out.append(Line(f"fans/{x.type.key}", "air", x.type.label, 1.0, "piece", why="one a place",
                        uses=(x.name,)))  # fmt: skip
        if x.filter is not None:
            spare = 0.0 if x.filter.key in seen else float(SPARE_FILTERS)
            seen.add(x.filter.key)
            out.append(Line(f"filters/{x.filter.key}", "air", x.filter.label, 1.0, "piece",
                            spares=spare, why="one a fan, cut to its frame, one spare",
                            uses=(x.name,)))  # fmt: skip
        if x.speed < 1.0:
            out.append(Line("air/speed", "air", "speed control for a low-voltage fan", 1.0, "piece",
                            why="one a fan that runs slower", uses=(x.name,)))  # fmt: skip
        if x.duct_length > 0.0:
            mm = round(1000.0 * x.type.diameter)
            out.append(Line(f"ducts/{mm}mm", "air", f"duct, {mm} mm", x.duct_length, "m", 0.1,
                            why="its length, a tenth over", uses=(x.name,)))  # fmt: skip
    return out


def mist(habitat: Habitat) -> list[Line]:
    """Tank, pump and nozzles. Line and fittings follow from their layout, which is drawn elsewhere."""
    x = habitat.mist
    if x is None:
        return []
    litres = round(1000.0 * x.tank, 1)
    out = [Line(f"mist/tank-{litres:g}l", "mist", f"water tank, {litres:g} L, with lid", 1.0, "piece",
                why="one")]  # fmt: skip
    if x.nozzles:
        out.append(Line(f"mist/pump-{x.pump:g}w", "mist", f"misting pump, {x.pump:g} W", 1.0, "piece",
                        why="one for all nozzles; what switches it stands under controls"))  # fmt: skip
    seen = set()
    for nozzle in x.nozzles:
        spare = 0.0 if nozzle.type.key in seen else float(SPARE_NOZZLES)
        seen.add(nozzle.type.key)
        out.append(Line(f"nozzles/{nozzle.type.key}", "mist", nozzle.type.label, 1.0, "piece",
                        spares=spare, why="one a place, one spare", uses=(nozzle.name,)))  # fmt: skip
    return out


def controls(habitat: Habitat) -> list[Line]:
    """Controllers, their probes, and the independent limits that cut heat."""
    out = []
    for x in habitat.controls:
        why = "one a control"
        if own_clock(habitat, x):
            why += "; its clock keeps values of the night and hours of lamps"
        out.append(Line(f"controls/{x.kind}", "controls", bought_as(habitat, x.kind), 1.0, "piece",
                        why=why, uses=(x.name,)))  # fmt: skip
        measured = PROBES[x.kind]
        out.append(Line(f"probes/{measured}", "controls", f"{measured} probe", 1.0, "piece",
                        why="one a control or limit", uses=(x.probe,)))  # fmt: skip
        if x.cut_out is not None:
            out.append(Line("controls/limit", "controls", LIMIT, 1.0, "piece", why="one a cut-out",
                            uses=(x.name,)))  # fmt: skip
            out.append(Line("probes/temperature", "controls", "temperature probe", 1.0, "piece",
                            why="one a control or limit",
                            uses=(x.cut_out_probe or x.probe,)))  # fmt: skip
    timed = time_switches(habitat)
    if timed:
        out.append(Line("controls/timer", "controls", "timer channel for lamps and fans",
                        float(len(timed)), "piece", why="one for each set of hours"))  # fmt: skip
    return out


def bowls(habitat: Habitat) -> list[Line]:
    """Water bowls by size."""
    out = []
    for x in habitat.water:
        size = "x".join(f"{round(100.0 * s, 1):g}" for s in (*x.size, x.depth))
        out.append(Line(f"bowls/{slug(size)}cm", "water", f"water bowl, {size.replace('x', ' x ')} cm",
                        1.0, "piece", why="one a place", uses=(x.name,)))  # fmt: skip
    return out
