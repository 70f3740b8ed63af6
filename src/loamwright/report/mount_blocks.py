"""Where lamps and probes are fixed, as a table for who hangs them."""

from __future__ import annotations

import re

from loamwright.habitat.habitat import Habitat
from loamwright.plan import mounts
from loamwright.plan.lamp_holds import HOLE, Rod, hold_screws, rods_of
from loamwright.plan.mounts import Mount, mounts_of
from loamwright.plan.screws import Screw
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.cut_words import unit
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean, listing
from loamwright.report.screw_words import screw_words

NOTE = (
    "Places from the inner front left corner. Rods and brackets end at the back of the lampholder, so "
    "that the lamp's face comes to its height: stainless, their threaded end up through the top, a "
    "washer and nut below and above what they hang from; seal round the hole, trim a plate where a "
    "bar or a gland is in its way. Where the place is beside its lamp, bend the bracket until the lamp "
    "hangs where it should. The wire guard of a hanging lamp is fixed to its bracket, so that both are "
    "turned together. Rails lie on the frame's bars beside the opening, or on the top where it has "
    "none, screwed down at both ends; rails that end between two bars are screwed to small angle "
    "brackets on the bars. Where two lamps have rails at one place, they share them; where the top "
    "takes no screws, bed rails and feet in silicone. Turn spots to what they shine at, then lock the "
    "joint. Leads of hot lamps are heat-resistant (silicone); nothing that melts or burns is nearer to "
    "them than their maker says. "
    "Common practice, no source."
)


def mount_table(habitat: Habitat, system: str) -> Table:
    """How every lamp and probe is held; no rows where there are none."""
    rods: dict[str, list[Rod]] = {}
    for rod in rods_of(habitat):
        rods.setdefault(rod.lamp, []).append(rod)
    rows = tuple(
        _row(m, _rods(m, rods.get(m.name, []), system), system) for m in mounts_of(habitat)
    )
    return Table(
        "Where lamps and probes are fixed", ("what", "held by", "over x, y", "how high", "turned to"),
        rows, note=NOTE + _screwed(habitat, system),
    )  # fmt: skip


def _row(m: Mount, rods: str, system: str) -> tuple[str, ...]:
    spots = "; ".join(quantities.place(p, system).strip("[]") for p in m.at)
    far = quantities.length(m.height, system)
    held, high = {
        mounts.ROD: (rods, f"back {far} below the top"),
        mounts.RAILS: (_rails(m, system), f"face {far} above the top, {_over(m, system)}"),
        mounts.STANDS: ("stand-offs on the top", f"face {far} above the top"),
        mounts.CLIP: (f"a clip on '{clean(m.to, 40)}'", f"{far} below the top"),
        mounts.CABLE: ("its cable, hanging free", f"{far} below the top"),
    }[m.how]  # fmt: skip
    turned = ""
    if m.kind == "lamp" and m.aim is not None:
        place = quantities.place(m.aim, system).strip("[]")
        turned = f"'{clean(m.target, 40)}' at {place}" if m.target else place
    return clean(m.name, 40), held, spots, high, turned or ("down" if m.kind == "lamp" else "–")


def _rods(m: Mount, rods: list[Rod], system: str) -> str:
    """A lamp's rods or bracket: how long, what each hangs from, and what they would go through."""
    if not rods:
        return ""
    long = quantities.length(rods[0].length, system)
    one = f"a bracket of {long}" if m.bracket else f"rods of {long}"
    told = f"{one}, {listing(list(dict.fromkeys(_hangs(r, system) for r in rods)))}"
    if m.beside:
        told += f"; it would go through {listing([clean(x, 30) for x in m.beside])}: move the lamp"
    return told


def _hangs(rod: Rod, system: str) -> str:
    """What a rod hangs from, and its hole."""
    hole = size_words(HOLE, system)
    if rod.under:
        return f"from a bar over '{clean(rod.under, 30)}'"
    where = f"through '{clean(rod.bar, 40)}'" if rod.bar else "from a plate over the top"
    if not rod.drilled:
        return f"{where}; have its hole of Ø {hole} {unit(system)} drilled where the sheet is cut"
    return f"{where}, hole Ø {hole} {unit(system)}"


def _screwed(habitat: Habitat, system: str) -> str:
    """How rails, and lamps on them or on the top, are screwed: each way once, with what it is for."""
    ways: dict[tuple[int, Screw, str], list[str]] = {}
    for s in hold_screws(habitat):
        ways.setdefault((s.count, s.screw, s.way), []).append(_named(s.name))
    told = [
        f"{listing(list(dict.fromkeys(names)))}: {count} of {screw_words(screw, system)} each, {way}."
        for (count, screw, way), names in ways.items()
    ]
    return " ".join(["", *told])


def _named(name: str) -> str:
    """A lamp, or its rails."""
    rail = re.fullmatch(r"rail \d of (.*)", name)
    return f"rails of {clean(rail[1], 40)}" if rail else clean(name, 40)


def _rails(m: Mount, system: str) -> str:
    """A lamp's rails: how long, from where to where they run, what they rest on and meet."""
    if not m.rails:
        return ""
    first = m.rails[0]
    k = 1 if first.high[1] - first.low[1] >= first.high[0] - first.low[0] else 0
    edge = "front" if k == 1 else "left"
    told = (
        f"two rails of {quantities.length(m.long, system)} across '{clean(m.to, 40)}', "
        f"{quantities.length(first.low[k], system)} to {quantities.length(first.high[k], system)} from "
        f"the {edge}"
    )
    if first.hung:
        told += ", over the lamps, on blocks at both ends"
    if first.between:
        told += ", between the bars of its frame"
    if m.meets:
        told += (
            f"; they meet {listing([clean(x, 30) for x in m.meets])}: move the lamp or part them"
        )
    return told


def _over(m: Mount, system: str) -> str:
    """How a lamp's face lies to its rails."""
    if m.rails and m.rails[0].hung and not m.bracket:
        return f"hung from the rails, their upper face {quantities.length(-m.over, system)} over it"
    far = quantities.length(abs(m.over), system)
    if abs(m.over) <= mounts.LIES:
        return "on the rails"
    where = f"{far} over the rails" if m.over > 0.0 else f"{far} below the rails' upper face"
    if m.bracket:
        return f"{where}, in its bracket"
    return f"{where}, on stand-offs" if m.over > 0.0 else f"{where}, on hangers"
