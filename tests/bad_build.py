# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong mains, floor, stand, panels, fixings and protection of a habitat file."""

from __future__ import annotations

from bad_case import METRIC, US, case, swap


def mains(text: str, base: str = METRIC) -> str:
    return base + "mains: {" + text + "}\n"


def panel(text: str) -> str:
    return swap("90 cm}", "90 cm}\n  panels: " + text)


def stand(text: str) -> str:
    return swap("90 cm}", "90 cm}\n  stand: {kind: bench, " + text + "}")


def piece(text: str) -> str:
    return (
        METRIC
        + "hardscape: [{name: p, shape: block, at: [30 cm, 20 cm], size: [9 cm, 9 cm, 5 cm], "
        + text
        + "}]\n"
    )


def branch(text: str) -> str:
    return (
        METRIC
        + "hardscape: [{name: p, shape: branch, from: [9 cm, 9 cm, 30 cm], to: [40 cm, 9 cm, 40 cm], diameter: 2 cm, "
        + text
        + "}]\n"
    )


def lamp(text: str) -> str:
    return (
        METRIC + "lamps: [{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 85 cm], " + text + "}]\n"
    )


def mist(text: str) -> str:
    return (
        METRIC
        + "mist: {tank: 5 L, times: [{at: '08:00', for: 30 s}], nozzles: [{name: n, type: fine-nozzle, at: [30 cm, 20 cm, 85 cm]}], "
        + text
        + "}\n"
    )


# fmt: off
CASES = [
    case("no such mains", mains("▸volts: 230 V"), ("mains.volts", "unknown key; the nearest known is 'voltage'")),
    case("mains in words", METRIC + "mains: ▸the wall\n", ("mains", "must be keys with values")),
    case("mains without a unit", mains("voltage: ▸230"), ("mains.voltage", "230 has no unit; write it like")),
    case("mains of a battery", mains("voltage: ▸12 V"), ("mains.voltage", "'12 V' must lie between 90 V and 260 V")),
    case("a fuse in volts", mains("fuse: ▸16 V"), ("mains.fuse", "V is a unit of voltage, but a current is wanted")),
    case("a fuse of nothing", mains("fuse: ▸0 A"), ("mains.fuse", "'0 A' must lie between 1 A and 125 A")),
    case("a residual current as large as a fuse", mains("residual: ▸30 A"), ("mains.residual", "'30 A' must lie between 4 mA and 0.5 A")),
    case("an outlet inside", mains("outlet: ▸[30 cm, 20 cm, 40 cm]"), ("mains.outlet", "lies inside the enclosure; sockets, supplies and controls stay outside, dry")),
    case("a board inside, in inches", mains("board: ▸[10 in, 10 in, 10 in]", US), ("mains.board", "lies inside the enclosure")),
    case("an outlet of two numbers", mains("outlet: ▸[1 m, 1 m]"), ("mains.outlet", "3")),
    case("fans at mains voltage", mains("fans: ▸230 V"), ("mains.fans", "must lie between 3 V and 60 V")),
    case("a supply of nothing", mains("fan_supply: ▸0 W"), ("mains.fan_supply", "0 W gives nothing")),
    case("a supply in amperes", mains("pump_supply: ▸2 A"), ("mains.pump_supply", "A is a unit of current, but a power is wanted")),
    case("an unknown way of holding", panel("{back: {held: ▸five}}"), ("enclosure.panels.back.held", "'five' is not one of: everywhere, four, three, two")),
    case("a sill without doors", panel("{back: {▸sill: 10 cm}}"), ("enclosure.panels.back.sill", "belongs to a panel with doors")),
    case("a sill in the top", panel("{top: {doors: 1, ▸sill: 10 cm}}"), ("enclosure.panels.top.sill", "belongs to an upright panel")),
    case("a sill as high as the box", panel("{front: {sill: ▸90 cm}}"), ("enclosure.panels.front.sill", "90 cm leaves no door: the inside height is 90 cm")),
    case("battens nowhere", panel("{back: {ribs: ▸0 cm}}"), ("enclosure.panels.back.ribs", "must be more than 0")),
    case("a stand without height", stand("height: ▸0 cm"), ("enclosure.stand.height", "must be more than 0")),
    case("a stand tied with a rope", stand("tied: ▸rope"), ("enclosure.stand.tied", "true or false")),
    case("a stand's mass in litres", stand("mass: ▸40 L"), ("enclosure.stand.mass", "L is a unit of")),
    case("a floor of sand", METRIC + "room: {floor: {runs: ▸sand}}\n", ("room.floor.runs", "'sand' is not one of: slab, across, along")),
    case("a floor that bears by length", METRIC + "room: {floor: {bears: ▸2 m}}\n", ("room.floor.bears", "m is a unit of length, but a pressure is wanted")),
    case("a floor that bears nothing", METRIC + "room: {floor: {bears: ▸1 Pa}}\n", ("room.floor.bears", "must lie between")),
    case("half a screw", branch("screws: ▸1.5"), ("hardscape[0].screws", "whole number")),
    case("screws in words", branch("screws: ▸two"), ("hardscape[0].screws", "whole number")),
    case("glue by length", branch("glued: ▸20 cm"), ("hardscape[0].glued", "cm is a unit of length, but an area is wanted")),
    case("a footing for a branch", branch("▸footing: bricks"), ("hardscape[0].footing", "unknown key; ")),
    case("a footing of two things", piece("footing: ▸[bricks, slab]"), ("hardscape[0].footing", "must be a text")),
    case("protection in words", lamp("protection: ▸splashproof"), ("lamps[0].protection", "'splashproof' is no ingress protection code; write it like IP65 or IPX4")),
    case("protection as a number", lamp("protection: ▸65"), ("lamps[0].protection", "65 is no ingress protection code")),
    case("a pump's pressure in metres", mist("pressure: ▸70 m"), ("mist.pressure", "m is a unit of length, but a pressure is wanted")),
    case("a pump without pressure", mist("pressure: ▸0 kPa"), ("mist.pressure", "must be more than 0")),
    case("a line without a bore", mist("bore: ▸0 mm"), ("mist.bore", "must be more than 0")),
    case("an own material too soft to be one", METRIC + "catalogue: [own.yaml]\n", ("materials.jelly.young", "1 Pa is below"), beside={"own.yaml": "materials:\n  jelly:\n    like: acrylic\n    young: ▸1 Pa\n    sources: {'*': me}\n"}),
    case("an own material stiffer with time", METRIC + "catalogue: [own.yaml]\n", ("materials.jelly.creep", "above 1"), beside={"own.yaml": "materials:\n  jelly:\n    like: acrylic\n    creep: ▸1.2\n    sources: {'*': me}\n"}),
]
# fmt: on
