"""The wiring: circuit, protective devices, low-voltage supplies, cables and what they lose.

A check of what is planned, never a licence: what the local code asks for and what the electrician
says goes before it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.mains import Mains
from loamwright.physics import circuits
from loamwright.plan.bonding import Bond, bonding_lines, bonds_of
from loamwright.plan.control_words import LIMIT, bought_as
from loamwright.plan.lamp_kinds import SCREWED_IN
from loamwright.plan.lines import Line
from loamwright.plan.loads import (
    DIMMING,
    LEAKAGE,
    Device,
    devices_of,
    time_switches,
    voltage_of,
)
from loamwright.plan.quantities_lamps import CABLE_GLAND, gland_lines
from loamwright.plan.routes import CLIP, cable_length, length_of, route

WARM = 313.15
"""Temperature conductors are taken to have [K]: a warm place beside lamps; common practice."""

MOST_DROP = {"mains": 0.03, "low": 0.05}
"""Greatest share of the voltage lost on the way [1]: 3 % for lamps on mains (IEC 60364-5-52 annex
G, and the informational note of NEC 210.19; both from memory); 5 % at low voltage, common
practice."""

RESERVE = 0.8
"""Greatest share of its size a supply is loaded to [1]; common practice, no source."""

LEAKS = 0.3
"""Greatest share of its tripping current that may leak to earth for good [1]: IEC 60364-5-53, from
memory."""

FLEX = ((0.75e-6, 6.0), (1.0e-6, 10.0), (1.5e-6, 16.0), (2.5e-6, 25.0))
"""Flexible mains cable: section [m2] and current [A]; HD 21 and EN 50565, from memory."""

FLEX_US = ((18, 10.0), (16, 13.0), (14, 18.0), (12, 25.0))
"""Flexible cord of two loaded conductors: gauge and current [A]; NEC table 400.5(A)(1), from memory."""

THIN = ((0.5e-6, 3.0), (0.75e-6, 6.0), (1.0e-6, 10.0), (1.5e-6, 16.0), (2.5e-6, 25.0))
THIN_US = ((20, 3.0), (18, 7.0), (16, 10.0), (14, 15.0), (12, 20.0))
"""The same for low voltage; common practice, no source."""

GROUP = "wiring"

PROBE_OF, LIMIT_OF = "probe of ", "cut-out probe of "
"""How the cables of probes are called: of controls, and of independent limits."""


@dataclass(frozen=True, slots=True)
class Cable:
    """A conductor's size: ``section`` [m2], ``gauge`` (None in metric), ``bears`` [A],
    ``resistance`` of one conductor at 20 degC [ohm/m]."""

    section: float
    gauge: int | None
    bears: float
    resistance: float


@dataclass(frozen=True, slots=True)
class Run:
    """A cable from the board to ``device`` (or from the outlet to the board): its corners ``way``
    [m], its ``length`` with ``loops`` and slack [m], ``voltage`` [V], ``current`` [A], the
    ``cable`` and the ``drop`` at `WARM`, as a share of the voltage [1]; ``low`` True at low
    voltage."""

    device: str
    way: tuple[Vec3, ...]
    length: float
    loops: int
    voltage: float
    current: float
    cable: Cable
    drop: float
    low: bool


@dataclass(frozen=True, slots=True)
class Supply:
    """A low-voltage supply: ``name`` of what switches it, ``feeds`` names, ``voltage``
    [V], their ``power`` [W], its ``size`` [W], ``given`` True where the file says it is at hand."""

    name: str
    feeds: tuple[str, ...]
    voltage: float
    power: float
    size: float
    given: bool

    @property
    def load(self) -> float:
        """Share of its size that is drawn [1]."""
        return self.power / self.size


@dataclass(frozen=True, slots=True)
class Channel:
    """What is switched together: ``by`` the control, its ``kind``, the devices and their ``power`` [W];
    ``cut_out`` True where an independent limit cuts it off."""

    by: str
    kind: str
    feeds: tuple[str, ...]
    power: float
    cut_out: bool = False


@dataclass(frozen=True, slots=True)
class Wiring:
    """The whole wiring: ``continuous`` and ``other`` current [A], the ``least`` rating its fuse may
    have [A], the next standard one ``standard`` (None where none is so large), ``circuits`` of the
    fuse's rating that it takes; ``leakage`` to earth [A]; ``bonds`` the metal that is joined to the
    protective earth; ``slowed`` the fans that each run through a speed control of their own."""

    mains: Mains
    devices: tuple[Device, ...]
    runs: tuple[Run, ...]
    supplies: tuple[Supply, ...]
    channels: tuple[Channel, ...]
    continuous: float
    other: float
    least: float
    standard: float | None
    circuits: int
    leakage: float
    lines: tuple[Line, ...]
    bonds: tuple[Bond, ...] = ()
    slowed: tuple[str, ...] = ()

    @property
    def power(self) -> float:
        """All that can be drawn at once from the mains [W]."""
        return math.fsum(d.power for d in self.devices) + self.mains.others


def wiring_of(habitat: Habitat) -> Wiring:
    """The wiring of a habitat."""
    mains = habitat.mains
    devices = devices_of(habitat)
    channels = _channels(habitat, devices)
    supplies = _supplies(mains, devices, channels)
    runs = _runs(habitat, devices)
    continuous, other = _currents(mains, devices)
    runs = (*runs, _feeder(habitat, continuous + other))
    least = circuits.least_rating(continuous, other)
    standard = circuits.next_size(
        least, circuits.BREAKERS_US if mains.system == "us" else circuits.BREAKERS_IEC
    )
    bonds = bonds_of(habitat)
    # A probe comes with its own: the list counts them.
    glands = [x for x in gland_lines(habitat) if x.key == CABLE_GLAND]
    controls = [
        Line(f"controls/{d.control}", GROUP, bought_as(habitat, d.control), 1.0, "piece",
             why="one for each control", uses=(d.name,))
        for d in devices if d.kind == "control"
    ]  # fmt: skip
    leakage = math.fsum(d.leakage for d in devices) + LEAKAGE["supply"] * len(supplies)
    return Wiring(
        mains, devices, runs, supplies, channels, continuous, other, least, standard,
        max(1, math.ceil(least / mains.fuse - 1e-9)), leakage,
        _lines(mains, devices, runs, supplies, channels, hot_of(habitat),
               [*glands, *bonding_lines(habitat, bonds), *controls]), bonds,
        tuple(x.name for x in habitat.fans if x.speed < 1.0),
    )  # fmt: skip


def hot_of(habitat: Habitat) -> frozenset[str]:
    """Lamps that sit in a holder and get hot: their leads must bear heat; common practice."""
    return frozenset(x.name for x in habitat.lamps if x.type.group in SCREWED_IN)


def _currents(mains: Mains, devices: tuple[Device, ...]) -> tuple[float, float]:
    """Continuous and other current drawn from the mains [A]; supplies waste a fifth."""
    continuous, other = circuits.current_of(mains.others, mains.voltage), 0.0
    for d in devices:
        power = d.power / RESERVE if d.low else d.power
        amps = circuits.current_of(power, mains.voltage, 0.9 if d.low else d.factor)
        if d.continuous:
            continuous += amps
        else:
            other += amps
    return continuous, other


def _supplies(
    mains: Mains, devices: tuple[Device, ...], channels: tuple[Channel, ...]
) -> tuple[Supply, ...]:
    """One supply for each low-voltage channel: its control switches the mains side."""
    known = {d.name: d for d in devices}
    out = []
    for channel in channels:
        fed = [known[name] for name in channel.feeds if known[name].low]
        if not fed:
            continue
        pump = fed[0].kind == "pump"
        given = mains.pump_supply if pump else mains.fan_supply
        power = math.fsum(d.power for d in fed)
        size = given or circuits.next_size(power / RESERVE, circuits.SUPPLIES)
        out.append(
            Supply(channel.by, tuple(d.name for d in fed), mains.pump if pump else mains.fans, power,
                   size or circuits.SUPPLIES[-1], given is not None)
        )  # fmt: skip
    return tuple(out)


def _cables(mains: Mains, low: bool) -> list[Cable]:
    if mains.system == "us":
        return [
            Cable(circuits.wire_section(n), n, amps, circuits.wire_resistance(n))
            for n, amps in (THIN_US if low else FLEX_US)
        ]
    table = dict(circuits.CLASS_5)
    return [Cable(s, None, amps, table[s]) for s, amps in (THIN if low else FLEX)]


def _chosen(
    mains: Mains, low: bool, current: float, length: float, voltage: float, factor: float
) -> tuple[Cable, float]:
    """The thinnest cable that bears the current and loses little enough, else the thickest."""
    most = MOST_DROP["low" if low else "mains"]
    for cable in _cables(mains, low):
        warm = circuits.warm_resistance(cable.resistance, WARM)
        drop = circuits.voltage_drop(current, length, warm, factor) / voltage
        if cable.bears >= current and drop <= most:
            break
    return cable, drop


def _runs(habitat: Habitat, devices: tuple[Device, ...]) -> tuple[Run, ...]:
    mains, out = habitat.mains, []
    for d in devices:
        if d.kind == "control":
            continue
        voltage = voltage_of(mains, d)
        current = circuits.current_of(d.power, voltage, d.factor)
        way = route(habitat.enclosure, d.at, mains.board, d.side)
        length = cable_length(way)
        cable, drop = _chosen(mains, d.low, current, length, voltage, d.factor)
        out.append(Run(d.name, way, length, 1, voltage, current, cable, drop, d.low))
    sites = {s.name: s.at for s in habitat.sites}
    for control in habitat.controls:
        probes = [(f"{PROBE_OF}{control.name}", control.probe)]
        if control.cut_out is not None:
            probes.append((f"{LIMIT_OF}{control.name}", control.cut_out_probe or control.probe))
        for name, site in probes:
            at = sites.get(site)
            if at is not None:
                way = route(habitat.enclosure, at, mains.board)
                thin = _cables(mains, True)[0]
                out.append(Run(name, way, cable_length(way), 1, mains.fans, 0.0, thin, 0.0, True))
    return tuple(out)


def _feeder(habitat: Habitat, current: float) -> Run:
    """The lead from the outlet to the board, with a loop at the outlet."""
    mains = habitat.mains
    way = (mains.outlet, (mains.board[0], mains.outlet[1], mains.outlet[2]),
           (mains.board[0], mains.board[1], mains.outlet[2]), mains.board)  # fmt: skip
    length = cable_length(way)
    # Never thinner than its fuse: nothing else would stop an overload of it.
    cable, drop = _chosen(mains, False, max(current, mains.fuse), length, mains.voltage, 1.0)
    warm = circuits.warm_resistance(cable.resistance, WARM)
    drop = circuits.voltage_drop(current, length, warm) / mains.voltage
    return Run("board", way, length, 1, mains.voltage, current, cable, drop, False)


def _channels(habitat: Habitat, devices: tuple[Device, ...]) -> tuple[Channel, ...]:
    out = []
    kinds = {c.name: c.kind for c in habitat.controls}
    clock = {name: by for by, names in time_switches(habitat) for name in names}
    groups: dict[tuple[str, str], list[Device]] = {}
    for d in devices:
        if d.kind == "control":
            continue
        if d.control:
            both = d.kind == "pump" and habitat.mist is not None and habitat.mist.times
            by = f"{d.control} and mist timer" if both else d.control
            key = (by, kinds.get(d.control, ""))
        elif d.name in clock:
            by = clock[d.name]
            key = (by, "dims" if by.startswith(DIMMING) else "time")
        elif d.kind == "pump":
            key = ("mist timer", "seconds")
        else:
            key = (f"always on, {d.kind}s" if d.low else "always on", "")
        groups.setdefault(key, []).append(d)
    cut = {c.name for c in habitat.controls if c.cut_out is not None}
    for (by, kind), fed in groups.items():
        names = tuple(d.name for d in fed)
        out.append(Channel(by, kind, names, math.fsum(d.power for d in fed), by in cut))
    return tuple(out)


def cable_key(cable: Cable, low: bool) -> str:
    """Stable key of a cable for price lists."""
    size = f"awg{cable.gauge}" if cable.gauge else f"{1e6 * cable.section:g}mm2"
    return f"cables/{'low-voltage-2x' if low else 'mains-3g'}{size}"


def _lines(
    mains: Mains,
    devices: tuple[Device, ...],
    runs: tuple[Run, ...],
    supplies: tuple[Supply, ...],
    channels: tuple[Channel, ...],
    hot: frozenset[str],
    more: list[Line],
) -> tuple[Line, ...]:
    by_cable: dict[tuple[str, str], list[Run]] = {}
    for run in runs:
        if run.device.startswith((PROBE_OF, LIMIT_OF)):
            continue  # a probe comes with its cable
        size = f"AWG {run.cable.gauge}" if run.cable.gauge else f"{1e6 * run.cable.section:g} mm²"
        what = (
            f"two-core low-voltage cable, {size}" if run.low else f"mains cable with earth, {size}"
        )
        key = cable_key(run.cable, run.low)
        if run.device in hot:
            key, what = f"{key}-hot", f"heat-resistant (silicone) {what}"
        by_cable.setdefault((key, what), []).append(run)
    out = [
        Line(key, GROUP, name, math.fsum(r.length for r in found), "m", waste=0.05,
             why="along the edges, with drip loops and slack", uses=tuple(r.device for r in found))
        for (key, name), found in by_cable.items()
    ]  # fmt: skip
    out += [
        Line(f"supplies/{s.voltage:g}v-{s.size:g}w", GROUP,
             f"low-voltage supply, {s.voltage:g} V, {s.size:g} W", 1.0, "piece",
             why=f"for {s.power:g} W, loaded to {100 * s.load:.0f} %", uses=s.feeds)
        for s in supplies if not s.given
    ]  # fmt: skip
    milli = 1000.0 * mains.residual
    guard = (
        "ground-fault circuit interrupter" if mains.system == "us" else "residual-current device"
    )
    out.append(
        Line(f"wiring/residual-{milli:g}ma", GROUP, f"{guard}, {milli:g} mA", 1.0, "piece",
             why="between outlet and board, unless the circuit has one")
    )  # fmt: skip
    sockets = sum(d.kind in ("lamp", "heater") for d in devices) + len(supplies)
    out.append(
        Line("wiring/sockets", GROUP, "earthed sockets on the board", float(sockets), "piece",
             spares=1.0, why="one for each mains device and supply")
    )  # fmt: skip
    clips = math.ceil(math.fsum(length_of(r.way) for r in runs) / CLIP)
    out.append(Line("wiring/cable-clip", GROUP, "cable clip", float(clips), "piece", waste=0.1,
                    why="every 30 cm"))  # fmt: skip
    loops = sum(r.loops for r in runs)
    out.append(Line("wiring/drip-loop-clip", GROUP, "clip that keeps a drip loop", float(loops),
                    "piece", why="one at the lowest point of each cable"))  # fmt: skip
    out += more
    cut = [c.by for c in channels if c.cut_out]
    if cut:
        out.append(Line("controls/cut-out", GROUP, LIMIT, float(len(cut)), "piece",
                        why="cuts the heat where a control sticks", uses=tuple(cut)))  # fmt: skip
    return _joined(out)


def _joined(lines: list[Line]) -> tuple[Line, ...]:
    """Pieces of one key in one line."""
    out: dict[str, Line] = {}
    for line in lines:
        had = out.get(line.key)
        if had is None:
            out[line.key] = line
        else:
            out[line.key] = Line(
                line.key, line.group, line.name, had.amount + line.amount, line.unit, line.waste,
                had.spares + line.spares, line.why, (*had.uses, *line.uses),
            )  # fmt: skip
    return tuple(out.values())
