"""What lamps and probes need beside themselves: holders, hangers, guards' mounts, clips.

Which holder a lamp takes follows from its group; common practice, no source: its own base decides.
"""

from __future__ import annotations

from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat
from loamwright.plan.lamp_kinds import SCREWED_IN
from loamwright.plan.lines import Line
from loamwright.plan.mounts import ROD, Mount, mounts_of
from loamwright.plan.service_holes import CABLES, services_of

CABLE_GLAND = "wiring/cable-gland"
"""The key of glands for mains cables in price lists."""

DECIDES = "common practice, the lamp's own base and maker's sheet decide"


def lamp_fittings(habitat: Habitat) -> list[Line]:
    """Holders, ballasts, hangers and mounts of all lamps."""
    out = []
    base = "E26" if habitat.units == "us" else "E27"
    held = {m.name: m for m in mounts_of(habitat) if m.kind == "lamp"}
    for lamp in habitat.lamps:
        holder = _holder(lamp, base)
        if holder is not None:
            out.append(holder)
        out += _hung(held[lamp.name])
        if lamp.guard is not None:
            out.append(Line("hangers/guard-mount", "lamps", "sets to mount a wire guard on its "
                            "lamp's bracket: four screws, washers and spacers, stainless", 1.0, "piece",
                            uses=(lamp.name,), why="one a guard; common practice"))  # fmt: skip
    return out


def _hung(mount: Mount) -> list[Line]:
    """What a lamp above the top hangs from or stands on, as its mount says; the rods and brackets of
    one inside are told in `lamp_holds`."""
    out: list[Line] = []
    if mount.how == ROD:
        return out
    if mount.hangers:
        out.append(Line("hangers/lamp-hanger", "lamps", "hangers or stand-offs for tubes, bars and "
                        "panels, stainless", float(mount.hangers), "piece", uses=(mount.name,),
                        why="at each place a lamp is held that does not lie on what carries it; common "
                        "practice"))  # fmt: skip
    if mount.bracket:
        out.append(Line("hangers/lamp-bracket", "lamps", "brackets that hold a lampholder, "
                        "stainless, to be turned", 1.0, "piece", uses=(mount.name,),
                        why="one a lamp that is turned; common practice"))  # fmt: skip
    return out


def _holder(lamp: Lamp, base: str) -> Line | None:
    """The holder or fitting of a lamp; None where it comes whole, with its driver."""
    kind = lamp.type
    wet = f"; {lamp.protection} or better" if lamp.protection else ""
    if kind.group in SCREWED_IN:
        return Line(f"holders/ceramic-{base.lower()}", "lamps", f"ceramic lampholders, {base}, for hot "
                    "lamps, with earth", 1.0, "piece", uses=(lamp.name,),
                    why=f"one a lamp that is screwed in{wet}; {DECIDES}")  # fmt: skip
    if kind.group == "metal-halide lamps":
        return Line(f"holders/metal-halide-{kind.power:g}w", "lamps", "holder with electronic ballast "
                    f"for a metal-halide lamp, {kind.power:g} W", 1.0, "piece", uses=(lamp.name,),
                    why=f"one a lamp{wet}; {DECIDES}")  # fmt: skip
    if kind.shape == "tube":
        sort = "t8" if kind.key.startswith("t8") else "t5"
        return Line(f"holders/{sort}-{kind.power:g}w", "lamps", "fitting with electronic ballast for a "
                    f"{sort.upper()} tube, {kind.power:g} W, splash-proof ends", 1.0, "piece",
                    uses=(lamp.name,), why=f"one a tube{wet}; {DECIDES}")  # fmt: skip
    return None


def gland_lines(habitat: Habitat) -> list[Line]:
    """Glands of cables and probes, one for each that is led through a panel: the list's and the
    wiring's."""
    kinds = {CABLES: (CABLE_GLAND, "M16"), "probe": ("wiring/probe-gland", "M12")}
    return [
        Line(kinds[s.kind][0], "wiring", f"cable gland, IP68, {kinds[s.kind][1]}",
             1.0, "piece", uses=(s.name,), why="one a cable that is led through a panel")
        for s in services_of(habitat) if s.kind in kinds and s.side
    ]  # fmt: skip


def led_through(habitat: Habitat) -> list[Line]:
    """What is led through panels: glands, clips of probes, a drain."""
    out = gland_lines(habitat)
    for s in services_of(habitat):
        if s.kind == "probe":
            out.append(Line("clips/probe", "controls", "probe clips with a shield against lamps", 1.0,
                            "piece", uses=(s.name,), why="one a probe; common practice"))  # fmt: skip
        if s.kind == "drain" and s.side:
            out.append(Line("fixings/drain-fitting", "fixings", "drain through the panel: half-inch "
                            "fitting with seal, strainer inside and tap outside", 1.0, "piece",
                            uses=("drain",), why="draws off water that stands in the drainage; common "
                            "practice"))  # fmt: skip
        elif s.kind == "drain":
            out.append(Line("fixings/level-tube", "fixings", "level tube of clear plastic, 20 mm "
                            "inside, from the drainage to above the ground", 1.0, "piece",
                            uses=("drain",), why="to see and draw off water where no panel may be "
                            "drilled; common practice"))  # fmt: skip
    return out
