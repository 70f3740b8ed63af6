"""The wiring as tables: circuit, loads, switching, supplies, cables, protection by place."""

from __future__ import annotations

from loamwright import units
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan import bonding
from loamwright.plan.control_words import CONTROLS
from loamwright.plan.loads import NEEDED, Device, voltage_of
from loamwright.plan.wiring import LEAKS, Cable, Wiring
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.build_words import protection_place
from loamwright.report.plain import clean

DEFER = (
    "A check, not a licence to wire: the local code and a licensed electrician have the last word. "
    "Mains near water kills."
)
"""Said beside what is told of wiring."""

KINDS = {**CONTROLS, "dims": "timer that dims", "": "not switched"}
"""What switches a channel, in words."""


DIMS = (
    "A timer that dims brings its lamps up and down: a plain time switch cannot; lamps and drivers "
    "must be made to be dimmed by it. "
)
"""Said where lamps go up and down by the clock."""


def cable_words(cable: Cable, low: bool) -> str:
    """A cable's conductors in words."""
    count = "2 x" if low else "3 x"
    return f"{count} AWG {cable.gauge}" if cable.gauge else f"{count} {1e6 * cable.section:g} mm²"


def amps(value: float) -> str:
    """A current [A]."""
    return f"{value:.2f} A" if value < 9.95 else f"{value:.1f} A"


def milliamps(value: float) -> str:
    """A small current [A]."""
    return f"{1000 * value:.1f} mA".replace(".0 mA", " mA")


def wiring_tables(habitat: Habitat, wiring: Wiring, system: str) -> list[Table]:
    """All tables of the wiring."""
    out = [_circuit(habitat, wiring, system), _loads(wiring), _channels(wiring)]
    if wiring.supplies:
        out.append(_supplies(wiring))
    out.append(_cables(wiring, system))
    if wiring.bonds:
        out.append(_bonds(wiring, system))
    return [*out, _places(wiring)]


def guard_name(wiring: Wiring) -> str:
    """The residual-current device, as the trade calls it where it is used."""
    us = wiring.mains.system == "us"
    return "ground-fault circuit interrupter" if us else "residual-current device"


def spot_words(habitat: Habitat, at: Vec3, system: str) -> str:
    """A place as x, y, z, and on which side of the box that is."""
    wide, deep, high = habitat.enclosure.inside
    x, y, z = at
    sides = [
        word
        for there, word in (
            (x < 0.0, "left of the box"), (x > wide, "right of the box"), (y < 0.0, "before it"),
            (y > deep, "behind it"), (z < 0.0, "below its floor"), (z > high, "over its top"),
        )
        if there
    ]  # fmt: skip
    told = quantities.place(at, system).strip("[]")
    return f"{told} ({', '.join(sides)})" if sides else told


def _circuit(habitat: Habitat, wiring: Wiring, system: str) -> Table:
    mains = wiring.mains
    standard = "none so large" if wiring.standard is None else f"{wiring.standard:g} A"
    rows = [
        ("outlet: x, y, z", spot_words(habitat, mains.outlet, system)),
        (
            "board for sockets, supplies and controls: x, y, z",
            spot_words(habitat, mains.board, system),
        ),
        ("voltage", units.show(mains.voltage, "voltage")),
        ("power, all of it on", f"{wiring.power:.0f} W"),
        ("current that may stay on for three hours or more", amps(wiring.continuous)),
        ("current that comes and goes", amps(wiring.other)),
        ("125 % of the one and all of the other", amps(wiring.least)),
        ("next standard rating", standard),
        ("the circuit's fuse or breaker", f"{mains.fuse:g} A"),
        ("circuits of this rating it takes", f"{wiring.circuits}"),
        (f"{guard_name(wiring)}, trips at", milliamps(mains.residual)),
        ("leaks to earth in good order, about", milliamps(wiring.leakage)),
        (f"should leak less than {100 * LEAKS:.0f} % of that", milliamps(LEAKS * mains.residual)),
    ]
    note = " ".join(wiring_cautions(wiring))
    return Table("The circuit", ("", ""), tuple(rows), right=frozenset({1}), note=note)


def wiring_cautions(wiring: Wiring) -> list[str]:
    """What must be said beside the wiring, the deferral first."""
    out = [DEFER]
    if wiring.leakage > LEAKS * wiring.mains.residual:
        out.append(
            "So much leakage may trip the device without a fault: share the loads out over more than "
            "one device, and measure."
        )
    if any(d.kind == "lamp" and d.factor < 1.0 for d in wiring.devices):
        out.append(
            "Drivers draw many times their current for a moment when switched on: do not put all of "
            "them on one small relay or time switch, and use breakers of a slow type."
        )
    return out


def _protection(d: Device) -> str:
    return d.protection or "not said"


def protected(d: Device) -> bool | None:
    """Whether a device is protected as well as its place asks; None where nothing is asked for or
    its protection is not said."""
    return None if d.water_digit is None or not d.needs else d.water_digit >= d.needs


def _loads(wiring: Wiring) -> Table:
    mains, rows = wiring.mains, []
    for d in wiring.devices:
        volts = voltage_of(mains, d)
        rows.append(
            (clean(d.name, 24), d.kind, f"{d.power:g} W", f"{volts:g} V",
             amps(d.power / volts / d.factor), "for hours" if d.continuous else "now and then",
             "yes" if d.earthed else "no")
        )  # fmt: skip
    return Table(
        "What draws current", ("what", "kind", "power", "voltage", "current", "on", "earthed"),
        tuple(rows), right=frozenset({2, 3, 4}), tight=True,
        note="Earthed: whatever has metal that can be touched, such as reflectors, guards and frames, "
        "joined to the protective earth. Power factor of drivers 0.9, from memory.",
    )  # fmt: skip


def _channels(wiring: Wiring) -> Table:
    rows = tuple(
        (clean(c.by, 26), KINDS.get(c.kind, c.kind), ", ".join(clean(x) for x in c.feeds),
         f"{c.power:g} W", "yes" if c.cut_out else "")
        for c in wiring.channels
    )  # fmt: skip
    return Table(
        "What is switched together", ("by", "kind", "switches", "power", "limit of\nits own"), rows,
        right=frozenset({3}),
        note=(DIMS if any(c.kind == "dims" for c in wiring.channels) else "")
        + "Limit of its own: a second thermostat with its own probe that cuts the heat where the "
        "control sticks. Each control's contact must bear its power.",
    )  # fmt: skip


def _supplies(wiring: Wiring) -> Table:
    rows = tuple(
        (s.name, ", ".join(_fed(wiring, x) for x in s.feeds), f"{s.voltage:g} V", f"{s.power:g} W",
         f"{s.size:g} W" + (" (at hand)" if s.given else ""), f"{100 * s.load:.0f} %")
        for s in wiring.supplies
    )  # fmt: skip
    return Table(
        "Low-voltage supplies", ("switched by", "feeds", "voltage", "draw", "size", "loaded to"), rows,
        right=frozenset({2, 3, 4, 5}),
        note="Safety extra-low voltage (SELV) supplies, double insulated, outside, dry and ventilated."
        + (" A fan's speed control sits on the board between supply and fan." if wiring.slowed else ""),
    )  # fmt: skip


def _fed(wiring: Wiring, name: str) -> str:
    """What a supply feeds, and whether that goes through a speed control."""
    return f"{clean(name)} (its speed control)" if name in wiring.slowed else clean(name)


def _cables(wiring: Wiring, system: str) -> Table:
    rows = []
    for r in wiring.runs:
        name = "outlet to board" if r.device == "board" else r.device
        probe = r.current == 0.0
        rows.append(
            (clean(name, 32), quantities.run_length(r.length, system),
             "its own" if probe else cable_words(r.cable, r.low), "" if probe else amps(r.current),
             "" if probe else f"{r.voltage * r.drop:.2f} V",
             "" if probe else f"{100 * r.drop:.2f} %", f"{r.loops}")
        )  # fmt: skip
    us = system == "us"
    return Table(
        "Cables, from the board",
        ("to", "length", "conductors", "current", "lost", "of it", "drip loops"),
        tuple(rows), right=frozenset({1, 3, 4, 5, 6}), tight=True,
        note=f"Along the edges, a tenth over, and {'12 in' if us else '30 cm'} more for each drip "
        f"loop; lost on the way there and back at {'104 °F' if us else '40 °C'}. The loop's lowest "
        "point lies below socket and entry, so that water drips off there.",
    )  # fmt: skip


BONDED = {
    bonding.FRAME: "frame", bonding.MESH: "mesh", bonding.RAIL: "lamp rail",
    bonding.GUARD: "lamp guard",
}  # fmt: skip
"""Kinds of metal that is bonded, in words."""


def _bonds(wiring: Wiring, system: str) -> Table:
    rows = tuple(
        (clean(b.name, 32), BONDED[b.kind],
         "the board's earth terminal" if b.to == bonding.BOARD else clean(b.to, 32),
         quantities.length(b.length, system), f"{b.clamps}")
        for b in wiring.bonds
    )  # fmt: skip
    return Table(
        "Metal joined to the protective earth", ("metal", "kind", "joined to", "lead", "clamps"), rows,
        right=frozenset({3, 4}),
        note="Bonding of metal beside mains lamps, so that none of it stays live after a fault: bare "
        "metal under each clamp, tested before power is on. Whether it is wanted, of what section and "
        "how it is done, the local code and the electrician decide; it takes the place of no fitting's "
        "own earth. Sections: IEC 60364-5-54 and NEC table 250.122, from memory.",
    )  # fmt: skip


def _places(wiring: Wiring) -> Table:
    rows = []
    for d in wiring.devices:
        if d.kind == "control":
            continue
        # Low voltage does not need it, but lasts longer with it.
        lasts = f"IPX{NEEDED[d.place]} to last" if NEEDED[d.place] else "none"
        needs = f"IPX{d.needs}" if d.needs else lasts
        fits = {None: "", True: "yes", False: "no"}[protected(d)]
        rows.append((clean(d.name, 24), protection_place(d), needs, _protection(d), fits))
    return Table(
        "Protection against water, by place", ("what", "where", "wanted at least", "has", "enough"),
        tuple(rows),
        note="Second digit by IEC 60529: 1 drops, 3 spray, 4 splashes, 5 jets, 7 under water. What a "
        "misted box needs is a judgement; outlet and board stay outside, above the tank, dry.",
    )  # fmt: skip
