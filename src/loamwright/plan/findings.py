"""The build held against what carries it, what feeds it, and what keeps water and current apart."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from loamwright.engine.findings import Cause, Finding, held_against, worst_or_bad
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source, SourceKind
from loamwright.plan.build import Build
from loamwright.plan.fit import fit_findings
from loamwright.plan.fixings import SAFETY
from loamwright.plan.frames import frame_of
from loamwright.plan.mist_line import ENOUGH, MistLine
from loamwright.plan.panels import PanelLoad
from loamwright.plan.service_holes import covered_holes
from loamwright.plan.standing import PUSH, TILT, Standing
from loamwright.plan.strength import Strength
from loamwright.plan.wiring import MOST_DROP, RESERVE, Wiring

MEMORY, PRACTICE = SourceKind.FROM_MEMORY, SourceKind.COMMON_PRACTICE

BULGES = Source("a two-hundredth of the span: more is seen, and doors bind", PRACTICE)
RIBS = Source("a two-hundredth of the batten's span; battens as beams held at their ends", PRACTICE)
SAGS = Source("a three-hundredth of the span over doors, in the largest tube there is", PRACTICE)
STRENGTH = Source(
    "what the panel's material bears for years (catalogue); bending by Lévy's series, checked against "
    "Roark's tables", MEMORY,
)  # fmt: skip
TIPS = Source(
    "stability test of free-standing equipment, tilted by 10 degrees: IEC 62368-1", MEMORY
)
FLOOR = Source(
    "EN 1991-1-1 table 6.2, lower end for such a room; a structural engineer decides", MEMORY
)
FLOOR_US = Source(
    "IRC table R301.5 and ASCE 7 table 4.3-1 for such a room; a structural engineer decides", MEMORY
)
SAID_FLOOR = Source("what the floor is built for, in the habitat file", SourceKind.BUILDER)
HOLDS = Source(
    "twice the wet load, on fixings loaded for years; animals climb, people lean", PRACTICE
)
FREE = Source("an opening or fan has its whole hole free of backgrounds", PRACTICE)
DIGS = Source(
    "a heavy stone stands on the drainage layer or the floor, since animals dig under it", PRACTICE
)
FUSE = Source(
    "125 % of the continuous load and all of the other within the fuse's rating: NEC 210.20(A); the "
    "local code and a licensed electrician decide", SourceKind.PUBLISHED,
)  # fmt: skip
DROP = Source("3 % for lamps on mains (IEC 60364-5-52 annex G), 5 % at low voltage", MEMORY)
SUPPLY = Source("a supply loaded to four fifths at most", PRACTICE)
WATER = Source(
    "splash water (IPX4 of IEC 60529) for mains inside a misted box: a judgement, no standard names "
    "such boxes; the local code and a licensed electrician decide", MEMORY,
)  # fmt: skip
NOZZLE = Source(
    "nine tenths of the pressure the nozzle is made for: flow 5 % less, by Q = K sqrt(p)",
    SourceKind.CALCULATED,
)

_finding = partial(held_against, "build")


def build_findings(habitat: Habitat, build: Build) -> list[Finding]:
    """All findings of the build; those of panels and cables the worst of each, and all that are not
    met."""
    out = strength_findings(habitat, build.strength) + wiring_findings(build.wiring)
    return out if build.mist is None else out + mist_findings(build.mist)


def strength_findings(habitat: Habitat, strength: Strength) -> list[Finding]:
    """Findings of what holds it."""
    out = [
        *_panels(strength),
        *_battens(strength),
        *_frame(habitat),
        *_stands(habitat, strength.stands),
    ]
    held = [*_fixings(strength), *_stones(strength), *fit_findings(strength.fit)]
    return [*out, *held, *_holes(habitat)]


def wiring_findings(wiring: Wiring) -> list[Finding]:
    """Findings of what feeds it."""
    return [*_circuit(wiring), *_ingress(wiring)]


# -- strength ------------------------------------------------------------------------------------


def _panels(strength: Strength) -> list[Finding]:
    bent, strained = [], []
    for p in strength.panels:
        causes = (Cause("bent_by", p.kind), *_how(p))
        when = "ground flooded" if p.kind == "ground" else ""
        if p.held == "everywhere":
            continue
        if p.deflection is None or p.stress is None:
            bent.append(
                replace(_finding("panel-deflection", "habitat", "deflection", 0.0, (None, None), 0.0,
                                 BULGES, when, (_unknown(p),)),
                        value=None, site=p.side)
            )  # fmt: skip
            continue
        bent.append(
            replace(_finding("panel-deflection", "habitat", "deflection", p.deflection,
                             (None, p.allowed), 0.3 * p.deflection, BULGES, when, causes), site=p.side)
        )  # fmt: skip
        if p.strength is not None:
            strained.append(
                replace(_finding("panel-stress", "habitat", "stress", p.stress, (None, p.strength),
                                 0.2 * p.stress, STRENGTH, when, causes), site=p.side)
            )  # fmt: skip
    return [*worst_or_bad(bent), *worst_or_bad(strained)]


def _battens(strength: Strength) -> list[Finding]:
    """Battens that bend too far."""
    out = []
    for b in strength.battens:
        if b.deflection > b.allowed:
            causes = (Cause("panel_span", "", b.span), Cause("bears_strip", "", b.strip))
            found = _finding("panel-deflection", "habitat", "deflection", b.deflection,
                             (None, b.allowed), 0.2 * b.deflection, RIBS, "ground flooded",
                             causes)  # fmt: skip
            out.append(replace(found, site=b.name))
    return out


def _frame(habitat: Habitat) -> list[Finding]:
    """The top's frame, where no size of tube is stiff enough over the doors."""
    frame = frame_of(habitat)
    if frame is None or frame.holds:
        return []
    found = _finding("panel-deflection", "habitat", "deflection", frame.deflection,
                     (None, frame.allowed), 0.2 * frame.deflection, SAGS, "",
                     (Cause("panel_span", "", frame.span),))  # fmt: skip
    return [replace(found, site="frame of the top")]


def _unknown(p: PanelLoad) -> Cause:
    return Cause("needs_frame", "", p.height) if p.narrow else Cause("no_stiffness", p.material)


def _how(p: PanelLoad) -> tuple[Cause, ...]:
    out = [] if p.part == "whole" else [Cause("part_of_panel", p.part)]
    out += [Cause("panel_span", "", p.span), Cause("held_on", p.held)]
    if p.beyond:
        out.append(Cause("beyond_theory"))
    return tuple(out)


def _stands(habitat: Habitat, stands: Standing) -> list[Finding]:
    out = []
    if not stands.tied:
        out.append(
            _finding("tipping", "habitat", "tilt", stands.tilt, (TILT, None), 0.1 * stands.tilt, TIPS,
                     "ground dry", (Cause("pushes", "", PUSH * stands.tipping),))
        )  # fmt: skip
    if stands.floor:
        # Not knowing how the beams run, it lies between the two.
        loads = [load for _, load in stands.floor]
        value = 0.5 * (max(loads) + min(loads))
        spread = 0.5 * (max(loads) - min(loads)) + 0.1 * value
        source = SAID_FLOOR if stands.said else FLOOR_US if habitat.units == "us" else FLOOR
        causes = [Cause("floor_way", way, load) for way, load in stands.floor]
        if len(loads) > 1:
            causes.append(Cause("floor_unknown"))
        causes.append(Cause("on_floor", "", stands.on_floor))
        out.append(
            _finding("floor-load", "habitat", "floor_load", value, (None, stands.bears), spread,
                     source, "ground flooded", tuple(causes))
        )  # fmt: skip
    return out


def _fixings(strength: Strength) -> list[Finding]:
    found = []
    for f in strength.fixings:
        causes = (Cause("wet_mass", f.name, f.wet), Cause("needs_screws", f.name, float(f.needs)))
        if f.factor is None:
            made = _finding("fixing", "habitat", "factor", 0.0, (None, None), 0.0, HOLDS, "wet",
                            (Cause("no_fixing", f.name), *causes))  # fmt: skip
            found.append(replace(made, value=None, low=SAFETY, site=f.name))
            continue
        made = _finding("fixing", "habitat", "factor", f.factor, (SAFETY, None), 0.3 * f.factor,
                        HOLDS, "wet", causes)  # fmt: skip
        found.append(replace(made, site=f.name))
    return worst_or_bad(found)


def _stones(strength: Strength) -> list[Finding]:
    found = []
    for s in strength.stones:
        cause = Cause("stands_on", s.footing) if s.footing else Cause("digs_under", s.name)
        made = _finding("stone-footing", "habitat", "depth", s.under, (None, 0.0), 0.0, DIGS, "",
                        (cause, Cause("stone_mass", s.name, s.mass)))  # fmt: skip
        found.append(replace(made, site=s.name, at=s.at))
    return worst_or_bad(found)


def _holes(habitat: Habitat) -> list[Finding]:
    """Openings and fans that a background of a neighbouring side reaches into."""
    out = []
    for hole, background, over in covered_holes(habitat):
        made = _finding("hole-covered", "habitat", "length", over, (None, 0.0), 0.0, FREE, "",
                        (Cause("covered_by", background),))  # fmt: skip
        out.append(replace(made, site=hole))
    return out


# -- current and water ---------------------------------------------------------------------------


def _circuit(wiring: Wiring) -> list[Finding]:
    mains = wiring.mains
    causes = [Cause("continuous_current", "", wiring.continuous)]
    if wiring.other:
        causes.append(Cause("other_current", "", wiring.other))
    if wiring.circuits > 1:
        causes.append(Cause("takes_circuits", "", float(wiring.circuits)))
    out = [
        _finding("circuit-load", "habitat", "current", wiring.least, (None, mains.fuse),
                 0.05 * wiring.least, FUSE, "all of it on", tuple(causes))
    ]  # fmt: skip
    drops = []
    for r in wiring.runs:
        if r.current > 0.0:
            most = MOST_DROP["low" if r.low else "mains"]
            causes = [Cause("cable_length", "", r.length), Cause("run_current", "", r.current)]
            made = _finding("voltage-drop", "habitat", "voltage_drop", r.drop, (None, most),
                            0.1 * r.drop, DROP, "", tuple(causes))  # fmt: skip
            drops.append(replace(made, site=r.device))
    loads = [
        replace(_finding("supply-reserve", "habitat", "supply_load", s.load, (None, RESERVE),
                         0.02, SUPPLY, "", (Cause("supply_feeds", s.name, s.power),)), site=s.name)
        for s in wiring.supplies
    ]  # fmt: skip
    return [*out, *worst_or_bad(drops), *worst_or_bad(loads)]


def _ingress(wiring: Wiring) -> list[Finding]:
    """Mains things inside a misted box; low voltage cannot kill, and is told in the tables."""
    found = []
    for d in wiring.devices:
        if d.low or d.place not in ("spray", "damp"):
            continue
        causes: tuple[Cause, ...] = (Cause("wet_place", d.place),)
        digit = d.water_digit
        if digit is None:
            made = _finding("ingress", "habitat", "protection", 0.0, (None, None), 0.0, WATER, "",
                            (Cause("no_protection", d.name), *causes))  # fmt: skip
            found.append(replace(made, value=None, low=float(d.needs), site=d.name, at=d.at))
            continue
        made = _finding("ingress", "habitat", "protection", float(digit), (float(d.needs), None), 0.0,
                        WATER, "", causes)  # fmt: skip
        found.append(replace(made, site=d.name, at=d.at))
    return worst_or_bad(found)


def mist_findings(line: MistLine) -> list[Finding]:
    """Findings of the misting line: the worst nozzle, and all that get too little."""
    found = []
    for m in line.mouths:
        if m.needs is None:
            continue
        causes = (
            Cause("pump_keeps" if line.said else "pump_taken", "", line.pump),
            Cause("line_loses", "", m.lost), Cause("line_rises", "", m.rise),
        )  # fmt: skip
        made = _finding("nozzle-pressure", "habitat", "pressure", m.pressure, (ENOUGH * m.needs, None),
                        0.05 * m.pressure, NOZZLE, "while it mists", causes)  # fmt: skip
        found.append(replace(made, site=m.name, at=m.at))
    return worst_or_bad(found)
