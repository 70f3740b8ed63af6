"""Strength as tables: what it weighs, how it stands, panels, fixings and stones."""

from __future__ import annotations

import math

from loamwright.habitat.habitat import Habitat
from loamwright.plan.batten_loads import CREEP, YOUNG
from loamwright.plan.contacts import APART
from loamwright.plan.fixings import SAFETY, SCREW
from loamwright.plan.held_screws import of_each
from loamwright.plan.panels import PanelLoad
from loamwright.plan.screws import Screws
from loamwright.plan.strength import Strength
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.build_words import PARTS, POUND_FORCE, SIDES, WAYS
from loamwright.report.ground_words import LOADS
from loamwright.report.plain import clean
from loamwright.report.screw_words import screw_words
from loamwright.report.system_words import in_system

DEFER = "A check, not a proof: local rules and a structural engineer have the last word."
"""Said beside what is told of strength."""

EMPTY = "Empty the ground before it is moved."
CURE = "Let adhesives cure to the end before anything hangs on them."
FOOTING = "Set stones on their footing before the ground goes in; animals dig under them."


def strength_cautions(strength: Strength) -> list[str]:
    """What must be said beside the strength, the deferral first."""
    out = [DEFER, EMPTY]
    if any(f.glued > 0.0 for f in strength.fixings):
        out.append(CURE)
    if strength.stones:
        out.append(FOOTING)
    return out


_SHORT = {
    "four": "four edges",
    "three": "three edges",
    "two": "two edges",
    "everywhere": "all over",
}


def force(value: float, system: str) -> str:
    """A force [N], in pounds-force with US units."""
    return f"{value / POUND_FORCE:.0f} lbf" if system == "us" else f"{value:.0f} N"


def strength_tables(habitat: Habitat, strength: Strength, system: str) -> list[Table]:
    """All tables of the strength, in the order a builder asks."""
    out = [_masses(strength, system), _standing(strength, system), _panels(strength, system)]
    if strength.battens:
        out.append(_battens(strength, system))
    if strength.fixings:
        out.append(_fixings(strength, system))
    if strength.fit.contacts:
        out.append(_contacts(strength, system))
    if strength.stones:
        out.append(_stones(strength, system))
    return out


def _masses(strength: Strength, system: str) -> Table:
    s = strength.stands

    def load(value: float) -> str:
        return quantities.worded("load", value, system)

    rows = [(LOADS.get(what, what), load(m)) for what, m in s.parts]
    rows += [
        ("set up, ground dry", load(s.dry)), ("in use, ground moist", load(s.moist)),
        ("ground flooded", load(s.flooded)),
    ]  # fmt: skip
    if s.tank:
        rows.append(("misting tank, full, under it", load(s.tank)))
    if s.stand:
        rows.append(("the stand itself", load(s.stand)))
    rows.append(("on the room's floor, flooded", load(s.on_floor)))
    if s.unknown:
        rows.append(("not known, left out", ", ".join(clean(x) for x in s.unknown)))
    return Table(
        "What it weighs", ("", "mass"), tuple(rows), right=frozenset({1}),
        note=f"Masses of lamps are common practice. {EMPTY}",
    )  # fmt: skip


def _standing(strength: Strength, system: str) -> Table:
    s = strength.stands

    def even(value: float) -> str:
        return quantities.worded("floor_load", value, system)

    rated = "not said" if s.rated is None else quantities.worded("load", s.rated, system)
    rows = [
        ("stand rated for", rated),
        (f"heaviest corner, {s.corner[0]}", quantities.worded("load", s.corner[1], system)),
        ("footprint", " x ".join(quantities.length(x, system) for x in s.footprint)),
        ("pressure under the footprint", even(s.pressure)),
    ]
    for way, value in s.floor:
        rows.append((f"as bad as an even load, {WAYS[way]}", even(value)))
    if not s.floor:
        rows.append(("the floor", "a slab on the ground"))
    rows += [
        ("imposed load the floor is built for" if s.said else "usual imposed load of such a floor",
         even(s.bears)),
        ("height over all, with the stand", quantities.length(s.high, system)),
        ("tips over at a tilt of", f"{math.degrees(s.tilt):.0f}°"),
        (f"or at a level push, {quantities.length(s.push_height, system)} high, of",
         force(200.0 * s.tipping, system)),
        ("tied to a wall", "yes" if s.tied else "no"),
    ]  # fmt: skip
    return Table("How it stands", ("", ""), tuple(rows), right=frozenset({1}), note=DEFER)


def panel_name(p: PanelLoad) -> str:
    """A panel, or the part of it, in words."""
    part = PARTS.get(p.part, p.part)
    return f"{p.side}: {part.removeprefix('the ')}" if part else p.side


def _held(p: PanelLoad) -> str:
    """How a panel is held; a top that is held everywhere hangs on its frame."""
    if p.side == "top" and p.held == "everywhere":
        return "its frame"
    return _SHORT.get(p.held, p.held)


def _panels(strength: Strength, system: str) -> Table:
    rows = []
    for p in strength.panels:
        pressure = quantities.worded("pressure", max(p.pressure, p.flooded), system)
        bends = "rests" if p.held == "everywhere" else "not known"
        if p.deflection is not None:
            bends = quantities.worded("deflection", p.deflection, system) + (
                " *" if p.beyond else ""
            )
        stress = "" if p.stress is None else quantities.worded("stress", p.stress, system)
        bears = "" if p.strength is None else quantities.worded("stress", p.strength, system)
        size = f"{quantities.length(p.span, system)} x {quantities.length(p.height, system)}"
        rows.append(
            (panel_name(p), clean(p.material, 24), quantities.worded("deflection", p.thickness, system),
             size, _held(p), pressure, bends,
             "" if p.deflection is None else quantities.worded("deflection", p.allowed, system), stress,
             bears)
        )  # fmt: skip
    note = (
        "Ground and water press by depth, most of all flooded; moist ground bends panels for years."
    )
    if any(p.beyond for p in strength.panels):
        note += " * More than half its thickness: the theory for small bending then says too much."
    return Table(
        "Panels under load",
        ("panel", "of", "thick", "span x height", "held on", "pressure\nat most", "bends", "at most",
         "stress", "bears"),
        tuple(rows), right=frozenset({2, 3, 5, 6, 7, 8, 9}), note=f"{note} {DEFER}", tight=True,
    )  # fmt: skip


def _battens(strength: Strength, system: str) -> Table:
    rows = tuple(
        (clean(b.name, 30), quantities.length(b.span, system), quantities.length(b.strip, system),
         quantities.worded("deflection", b.deflection, system),
         quantities.worded("deflection", b.allowed, system))
        for b in strength.battens
    )  # fmt: skip
    return Table(
        "Battens under load", ("batten", "spans", "strip it bears", "bends", "at most"), rows,
        right=frozenset({1, 2, 3, 4}),
        note="Beams held at their ends; each bears what of the panel is nearer to it than to another "
        "batten or a held edge. "
        f"Softwood of {_stiffness(system)}, {CREEP:g} of it left under what stays for years (from "
        f"memory); at most a two-hundredth of the span, common practice. {DEFER}",
    )  # fmt: skip


def _stiffness(system: str) -> str:
    """The modulus of elasticity of softwood."""
    if system == "us":
        return f"{quantities.shown('stress', YOUNG, system) / 1e6:.3g} million psi"
    return f"{YOUNG / 1e9:g} GPa"


def _screwed(s: Screws, system: str) -> str:
    """Screws in words: how many of which, and where."""
    return f"{s.count} of {screw_words(s.screw, system)}, {in_system(s.way, system)}"


def _fixings(strength: Strength, system: str) -> Table:
    rows = []
    sizes = {
        name: "; ".join(_screwed(s, system) for s in same)
        for name, same in of_each(strength.screws).items()
    }
    for f in strength.fixings:
        by = [f"{f.screws} screws" if f.screws != 1 else "1 screw"] if f.screws else []
        if f.glued:
            size = quantities.worded("area", f.glued, system)
            by.append(f"{size} glued" + (" (taken)" if f.assumed else ""))
        rows.append(
            (clean(f.name, 24), quantities.worded("load", f.mass, system),
             quantities.worded("load", f.wet, system), " and ".join(by) or "not said",
             "" if f.factor is None else f"{f.factor:.1f} times", f"{f.needs}",
             sizes.get(f.name, "–"))
        )  # fmt: skip
    others = [s for s in strength.screws if all(f.name != s.name for f in strength.fixings)]
    beside = "; ".join(f"{clean(s.name)}, {_screwed(s, system)}" for s in others)
    also = f" Screwed too, though it stands on something: {beside}." if others else ""
    return Table(
        "What is held up",
        ("piece", "dry", "wet, with plants", "held by", "holds its load", "screws it needs",
         "which screws"),
        tuple(rows), right=frozenset({1, 2, 4, 5}),
        note=f"At least {SAFETY:g} times its wet load; {force(SCREW, system)} a screw for years, taken "
        f"low (from memory). Sizes and ways of screws: common practice.{also} {CURE}",
    )  # fmt: skip


def _contacts(strength: Strength, system: str) -> Table:
    rows = []
    for c in strength.fit.contacts:
        met = ", ".join(SIDES.get(t.what, clean(t.what, 24)) for t in c.touches)
        rows.append((clean(c.name, 24), "" if not c.length else quantities.length(c.length, system),
                     met or "nothing", f"{c.places}", f"{c.needs}"))  # fmt: skip
    return Table(
        "What each piece touches", ("piece", "length", "touches", "held at", "needs"), tuple(rows),
        right=frozenset({1, 3, 4}),
        note=f"Places at least {quantities.length(APART, system)} apart, at things that are held "
        "themselves. Cut branches to the place and screw every joint once it sits; common practice.",
    )  # fmt: skip


def _stones(strength: Strength, system: str) -> Table:
    high = {f.stone: quantities.length(f.height, system) for f in strength.footings}
    rows = tuple(
        (clean(s.name, 24), quantities.worded("load", s.mass, system), clean(s.footing) or "none",
         high.get(s.name, "–"), quantities.length(s.under, system))
        for s in strength.stones
    )  # fmt: skip
    return Table(
        "Heavy stones",
        ("stone", "mass", "footing", "its height", "ground under it that could be dug away"), rows,
        right=frozenset({1, 3, 4}),
        note="Height of the footing: from the top of the drainage, or the floor where there is none, "
        f"to the stone's foot. {FOOTING}",
    )  # fmt: skip
