"""What draws current: lamps, heaters, fans, the pump and the controls, each with its place and its
protection."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loamwright.habitat.air import Fan
from loamwright.habitat.controls import Control
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.mains import Mains
from loamwright.physics.circuits import CONTINUOUS

DAY = 86400.0
"""A day [s]."""

ELECTRONIC = 0.9
"""Power factor of ballasts and drivers [1]; from memory: 0.9 and more above 25 W, less below."""

CONTROL_POWER = 3.0
"""Power of a thermostat, humidistat or time switch itself [W]; common practice, no source."""

LEAKAGE = {"electronic": 0.0005, "heat": 0.00075, "supply": 0.00025}
"""Current to earth of a thing in order [A]: drivers and ballasts with filters some 0.5 mA, heaters
up to 0.75 mA by kilowatt and 0.75 mA at least, double-insulated supplies 0.25 mA; IEC 60335-1
limits, from memory."""

SPRAY_REACH, SPRAY_WIDER = 1.2, math.radians(10.0)
"""How far a nozzle's spray is taken to wet things directly [m], and by how much beyond its cone
[rad]; common practice, no source."""

NEEDED = {"spray": 4, "damp": 4, "window": 1, "dry": 0, "outside": 0}
"""Least second digit of the ingress protection (IEC 60529) by place: splashes from any side in a
misted box, drops over an open window of one, nothing else in the dry; judgement, no standard names
such boxes."""


@dataclass(frozen=True, slots=True)
class Device:
    """Something that draws current: ``kind`` (``lamp``, ``heater``, ``fan``, ``pump``,
    ``control``), ``power`` [W], ``low`` True for low voltage, ``factor`` power factor [1],
    ``continuous`` True where it is on for three hours or more, ``at`` [m] and ``side`` the panel it
    sits in; ``place`` a key of `NEEDED`; ``protection`` as said in the file, ``needs`` the least
    second digit; ``control`` that switches it; ``earthed`` True where it has metal that is touched;
    ``leakage`` [A]."""

    name: str
    kind: str
    power: float
    low: bool
    factor: float
    continuous: bool
    at: Vec3
    side: str
    place: str
    protection: str
    needs: int
    control: str
    earthed: bool
    leakage: float

    @property
    def water_digit(self) -> int | None:
        """Second digit of its protection, None where not said."""
        digit = self.protection[-1:]
        return int(digit) if digit.isdigit() else None


def devices_of(habitat: Habitat) -> tuple[Device, ...]:
    """Everything that draws current, in the order of the file."""
    out = [_lamp(habitat, lamp) for lamp in habitat.lamps]
    wide, deep, high = habitat.enclosure.inside
    for fan in habitat.fans:
        u, v = fan.at
        at = {"floor": (u, v, 0.0), "top": (u, v, high), "back": (u, deep, v), "front": (u, 0.0, v),
              "left": (0.0, u, v), "right": (wide, u, v)}[fan.side]  # fmt: skip
        place = "damp" if habitat.mist else "dry"
        out.append(
            Device(fan.name, "fan", fan.type.power, True, 1.0, _on_for(fan) >= CONTINUOUS, at, fan.side,
                   place, fan.protection, 0, fan.control, False, 0.0)
        )  # fmt: skip
    mist = habitat.mist
    if mist is not None:
        longest = max((t for _, t in mist.times), default=0.0)
        out.append(
            Device("pump", "pump", mist.pump, True, 1.0, longest >= CONTINUOUS, mist.tank_at, "",
                   "outside", "", 0, mist.control, False, 0.0)
        )  # fmt: skip
    board = habitat.mains.board
    for name, kind in _switches(habitat):
        out.append(
            Device(name, "control", CONTROL_POWER, False, ELECTRONIC, True, board, "", "outside", "",
                   0, kind, False, LEAKAGE["supply"])
        )  # fmt: skip
    return tuple(out)


def voltage_of(mains: Mains, device: Device) -> float:
    """Voltage a device runs on [V]."""
    if not device.low:
        return mains.voltage
    return mains.fans if device.kind == "fan" else mains.pump


def _on_for(fan: Fan) -> float:
    """How long a fan is on a day [s]."""
    start, end = fan.on
    return (end - start) % DAY or DAY


TIMED, DIMMING = "time switch", "dimming timer channel"
"""What switches by the clock is called: one that switches, one that brings lamps up and down."""


def goes_up_and_down(lamp: Lamp, habitat: Habitat) -> bool:
    """Whether a lamp follows the day's ramp: it can be dimmed and its hours have an end. The climate
    engine dims such lamps, those with hours of their own too."""
    start, end = lamp.on
    ends = lamp.follows_day or end - start not in (0.0, DAY)
    return lamp.dimmable and ends and habitat.schedule.ramp > 0.0


def time_switches(habitat: Habitat) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Time switches by name, each with the names of what it switches.

    One for each set of hours of the lamps that no control drives, lamps that go up and down apart from
    those that only switch, and one for each of such fans: low voltage has its supply behind the
    switch. A fan that is always on needs none.
    """
    sets: dict[tuple[object, ...], list[str]] = {}
    for lamp in habitat.lamps:
        if not lamp.control:
            hours = "the day's" if lamp.follows_day else lamp.on
            sets.setdefault((goes_up_and_down(lamp, habitat), "lamps", hours), []).append(lamp.name)
    for fan in habitat.fans:
        if not fan.control and _on_for(fan) < DAY:
            sets.setdefault((False, "fans", fan.on), []).append(fan.name)
    called = [DIMMING if key[0] else TIMED for key in sets]
    found = []
    for k, (name, names) in enumerate(zip(called, sets.values(), strict=True)):
        several = called.count(name) > 1
        number = called[: k + 1].count(name)
        found.append((f"{name} {number}" if several else name, tuple(names)))
    return tuple(found)


def _switches(habitat: Habitat) -> list[tuple[str, str]]:
    """Controls of the file, and time switches for what goes by the clock."""
    found = [(c.name, c.kind) for c in habitat.controls]
    found += [(name, "time") for name, _ in time_switches(habitat)]
    if habitat.mist is not None and habitat.mist.times:
        found.append(("mist timer", "seconds"))
    return found


def _lamp(habitat: Habitat, lamp: Lamp) -> Device:
    heats = "heat emitters" in lamp.type.group
    hot = heats or lamp.type.group in ("halogen lamps", "incandescent lamps")
    place = place_of(habitat, lamp.at)
    driven = _control(habitat.controls, lamp.control)
    # Seldom on for hours without a pause, but nobody can promise it.
    continuous = lamp.hours_a_day * 3600.0 >= CONTINUOUS or driven is not None
    return Device(
        lamp.name, "heater" if heats else "lamp", lamp.type.power, False,
        1.0 if hot else ELECTRONIC, continuous, lamp.at, "", place, lamp.protection, NEEDED[place],
        lamp.control, True, LEAKAGE["heat" if heats else "electronic"] if not hot or heats else 0.0,
    )  # fmt: skip


def _control(controls: Sequence[Control], name: str) -> Control | None:
    return next((c for c in controls if c.name == name), None)


def place_of(habitat: Habitat, at: Vec3) -> str:
    """How wet a place is, a key of `NEEDED`."""
    box = habitat.enclosure
    inside = all(0.0 <= v <= size for v, size in zip(at, box.inside, strict=True))
    if inside:
        if habitat.mist is None:
            return "dry"
        return "spray" if in_spray(habitat, at) else "damp"
    if habitat.mist is not None and at[2] > box.inside[2]:
        for o in box.openings:
            if o.side == "top" and o.spans(at[:2]) and o.cover.kind != "sheet":
                return "window"
    return "outside"


def in_spray(habitat: Habitat, at: Vec3) -> bool:
    """Whether a nozzle's cone reaches a place."""
    for nozzle in habitat.mist.nozzles if habitat.mist else ():
        away = [b - a for a, b in zip(nozzle.at, at, strict=True)]
        size = math.sqrt(math.fsum(v * v for v in away))
        if size > SPRAY_REACH:
            continue
        along = math.fsum(a * b for a, b in zip(away, nozzle.aim, strict=True))
        if size < 1e-9 or math.acos(max(-1.0, min(1.0, along / size))) <= (
            nozzle.type.cone / 2.0 + SPRAY_WIDER
        ):
            return True
    return False
