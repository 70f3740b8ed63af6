"""What is to be hung, set and timed: lamps, fans, misting and controllers as tables."""

from __future__ import annotations

import math

import numpy as np

from loamwright.habitat.controls import Control
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.plan.loads import DIMMING, goes_up_and_down
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean, listing
from loamwright.report.system_words import in_system

DAY = 86400.0

ALWAYS = "always"

KINDS = {
    "thermostat": "warms", "dimming-thermostat": "warms, by dimming", "cooling": "cools",
    "humidistat": "dries", "pulse-mist": "mists in pulses",
}  # fmt: skip
"""What controllers do, by kind."""


def equipment_tables(habitat: Habitat, system: str) -> list[Table]:
    """The tables that there is something for."""
    made = [_lamps(habitat, system), _fans(habitat, system), _mist(habitat, system),
            _controls(habitat, system)]  # fmt: skip
    return [t for t in made if t.rows]


def clock(seconds: float) -> str:
    """A time of day: ``07:30``."""
    minutes = round(seconds / 60.0) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _spot(at: tuple[float, ...], system: str) -> str:
    return quantities.place(at, system).strip("[]")


def way(vector: tuple[float, float, float]) -> str:
    """A direction in words: ``down``, ``30° off down, to the right and the back``."""
    x, y, z = vector
    off = math.degrees(math.acos(min(1.0, max(-1.0, -z))))
    if off < 2.0:
        return "down"
    if off > 178.0:
        return "up"
    sides = [
        word
        for value, word in ((x, "right"), (-x, "left"), (y, "back"), (-y, "front"))
        if value > 0.3 * math.hypot(x, y)
    ]
    return f"{off:.0f}° off down, to the {' and the '.join(sides)}"


def hours_words(lamp: Lamp, habitat: Habitat) -> str:
    """When a lamp may be on, one that follows the day in winter and in summer, and how long it takes to
    go up and down."""
    told = _hours(lamp, habitat)
    if not goes_up_and_down(lamp, habitat):
        return told
    parted = ";" if ";" in told else ","
    return f"{told}{parted} up and down over {quantities.duration(habitat.schedule.ramp)}"


def _hours(lamp: Lamp, habitat: Habitat) -> str:
    if not lamp.follows_day:
        start, end = lamp.on
        return ALWAYS if end - start in (0.0, DAY) else f"{clock(start)} to {clock(end)}"
    return day_words(habitat)


def day_words(habitat: Habitat) -> str:
    """The day's hours, in winter and in summer where they differ."""
    told = {s: habitat.schedule.hours(s) for s in ("winter", "middle", "summer")}
    if len(set(told.values())) == 1:
        start, end = told["middle"]
        return f"{clock(start)} to {clock(end)}"
    return "; ".join(
        f"{clock(a)} to {clock(b)} {s}" for s, (a, b) in told.items() if s != "middle"
    )  # fmt: skip


def _lamp_note(habitat: Habitat) -> str:
    """What the hours ask of timers and controllers."""
    out = []
    if any(goes_up_and_down(x, habitat) and not x.control for x in habitat.lamps):
        out.append(f"Up and down: by a {DIMMING}; a plain time switch cannot do this.")
    timed: dict[str, list[str]] = {}
    for lamp in habitat.lamps:
        if lamp.control and _hours(lamp, habitat) != ALWAYS:
            timed.setdefault(lamp.control, []).append(f"'{clean(lamp.name)}'")
    out += [
        f"Controller '{clean(control)}' keeps the hours of {listing(names)} by a clock of its own, as "
        "the list buys it; one that dims brings its lamps up and down by itself."
        for control, names in timed.items()
    ]
    return " ".join(out)


def _lamps(habitat: Habitat, system: str) -> Table:
    rows = []
    for lamp in habitat.lamps:
        dim = "" if lamp.dim >= 1.0 else f", dimmed to {quantities.percent(lamp.dim)}"
        guard = (
            f"; {clean(in_system(lamp.guard.label, system))} round it"
            if lamp.guard is not None
            else ""
        )
        rows.append((
            clean(lamp.name), f"{clean(lamp.type.label)}{dim}{guard}", _spot(lamp.at, system),
            way(lamp.aim), _long(lamp), hours_words(lamp, habitat), clean(lamp.control) or "–",
        ))  # fmt: skip
    return Table("Lamps: where they hang and when they burn",
                 ("lamp", "kind", "middle at\nx, y, z", "shines", "long side", "on", "controller"),
                 tuple(rows), note=_lamp_note(habitat))  # fmt: skip


def _long(lamp: Lamp) -> str:
    """The way a lamp's long side runs."""
    if lamp.type.length < 0.15:
        return "–"
    axis = int(np.argmax(np.abs(lamp.along)))
    straight = abs(lamp.along[axis]) > 0.985
    return ("along the width", "along the depth", "upright")[axis] if straight else "aslant"


def _fans(habitat: Habitat, system: str) -> Table:
    rows = []
    for fan in habitat.fans:
        start, end = fan.on
        hours = "always" if start == end else f"{clock(start)} to {clock(end)}"
        when = f"when controller {clean(fan.control)} asks" if fan.control else hours
        before = [*fan.guards, *([] if fan.filter is None else [fan.filter])]
        also = [clean(in_system(x.label, system)) for x in before]
        rows.append((
            clean(fan.name), clean(fan.type.label), f"{fan.side}: {_spot(fan.at, system)}",
            "blows in" if fan.inward else "draws out", quantities.percent(fan.speed),
            ", ".join(also) or "–", when,
        ))  # fmt: skip
    return Table("Fans", ("fan", "kind", "panel and place", "way", "speed", "before it", "on"),
                 tuple(rows))  # fmt: skip


def _mist(habitat: Habitat, system: str) -> Table:
    mist = habitat.mist
    rows: list[tuple[str, ...]] = []
    note = ""
    if mist is not None:
        rows = [
            (clean(n.name), clean(n.type.label), _spot(n.at, system), way(n.aim))
            for n in mist.nozzles
        ]
        times = ", ".join(f"{clock(t)} for {quantities.duration(d)}" for t, d in mist.times)
        asked = f"controller {clean(mist.control)} asks for more" if mist.control else ""
        note = "; ".join(t for t in (
            f"All nozzles together at {times}" if times else "", asked,
            f"the tank holds {quantities.water(1000.0 * mist.tank, system)}",
        ) if t) + "."  # fmt: skip
    return Table("Misting", ("nozzle", "kind", "at\nx, y, z", "sprays"), tuple(rows), note=note)


def _controls(habitat: Habitat, system: str) -> Table:
    rows = []
    for c in habitat.controls:
        cut = "–" if c.cut_out is None else quantities.worded("temperature", c.cut_out, system)
        rows.append((
            clean(c.name), KINDS.get(c.kind, c.kind), clean(c.probe),
            _limits(c, c.low, c.high, system),
            "off" if c.night_low is None or c.night_high is None
            else _limits(c, c.night_low, c.night_high, system), cut,
        ))  # fmt: skip
    return Table("Controllers",
                 ("controller", "what it does", "probe", "by day", "at night", "independent cut-out"),
                 tuple(rows), note=f"By day: {day_words(habitat)}. At night: the other hours."
                 if rows else "")  # fmt: skip


def _limits(control: Control, low: float, high: float, system: str) -> str:
    damp = control.kind in ("humidistat", "pulse-mist")
    a, b = (
        quantities.worded("humidity" if damp else "temperature", v, system) for v in (low, high)
    )
    rising = control.kind in ("cooling", "humidistat")
    return f"on above {b}, off below {a}" if rising else f"on below {a}, off above {b}"
