"""What a quote's price is for: a row for each part of the habitat that the list buys something for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from loamwright.habitat.habitat import Habitat
from loamwright.plan.lines import Line
from loamwright.plan.money import MoneyPlan
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.equipment_blocks import KINDS
from loamwright.report.money_words import thing
from loamwright.report.plain import clean, listing

LONGEST = 600
"""Characters of what is said of one part."""

Told = Callable[[Habitat, Sequence[Line], str], str]


def scope_table(habitat: Habitat, money: MoneyPlan, system: str = "metric") -> Table:
    """Every part of the habitat that is in the price, in the order of the build, and the work."""
    lines = [b.line for b in money.bought if not b.line.owned]
    rows = []
    for label, groups, told in PARTS:
        found = [x for x in lines if x.group in groups]
        if found:
            rows.append((label, clean(told(habitat, found, system), LONGEST)))
    if money.labour:
        rows.append(
            ("work", "building, filling, planting, running it in, handing it over with readings")
        )
    return Table("What is in the price", ("part", "what"), tuple(rows))


def price_sources(money: MoneyPlan) -> str:
    """Where the prices that are counted come from, in the price list's words; empty where it does not
    say."""
    packs = [p for b in money.bought for p, _ in b.packs]
    said = _each(clean(p.source, 60) for p in packs if p.source)
    if not said:
        return ""
    more = len(said) - 3
    named = [*said[:3], f"{more} more"] if more > 0 else said
    days = sorted({clean(p.date, 12) for p in packs if p.date})
    of = "" if not days else f", of {days[0]}" if len(days) == 1 else f", {days[0]} to {days[-1]}"
    return f"Prices: {listing(named)}{of}."


def _each(texts: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(x for x in texts if x))


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def _listed(_: Habitat, lines: Sequence[Line], system: str) -> str:
    """The things by their names in the list."""
    return listing(_each(thing(x, system) for x in lines))


def _box(habitat: Habitat, _: Sequence[Line], system: str) -> str:
    box = habitat.enclosure
    stuff: dict[str, list[str]] = {}
    for p in box.panels:
        what = f"{clean(p.material.label)}, {quantities.length(p.thickness, system)}"
        stuff.setdefault(what, []).append(p.side)
    parts = [f"{what} ({listing(sides)})" for what, sides in stuff.items()]
    doors = sum(p.doors for p in box.panels)
    if doors:
        parts.append(f"{_count(doors, 'door')} with fittings")
    if box.openings:
        parts.append(f"{_count(len(box.openings), 'opening')} with covers")
    return "; ".join(parts)


def _backed(habitat: Habitat, _: Sequence[Line], system: str) -> str:
    return "; ".join(
        f"{clean(x.material.label)}, {quantities.length(x.thickness, system)} ({x.side})"
        for x in habitat.enclosure.linings
    )


def _stand(habitat: Habitat, lines: Sequence[Line], system: str) -> str:
    stand = habitat.enclosure.stand
    told = _listed(habitat, lines, system)
    return f"{told}, tied to the wall" if stand is not None and stand.tied else told


SHAPES = {"branch": ("branch", "branches"), "tube": ("tube", "tubes"), "block": ("block", "blocks"),
          "rock": ("stone", "stones"), "mesh": ("piece as scanned", "pieces as scanned")}  # fmt: skip
"""Shapes of hardscape, one and several."""


def _pieces(habitat: Habitat, _: Sequence[Line], __: str) -> str:
    kinds: dict[tuple[str, str], int] = {}
    for p in habitat.hardscape:
        key = (p.shape, clean(p.material.label))
        kinds[key] = kinds.get(key, 0) + 1
    return "; ".join(f"{_count(n, *SHAPES[shape])} ({of})" for (shape, of), n in kinds.items())


def _grown(habitat: Habitat, lines: Sequence[Line], _: str) -> str:
    layers = [clean(x.name) for x in habitat.ground.layers]
    parts = [f"the ground: {listing(layers)}"] if layers else []
    if any(x.group == "plants" for x in lines):
        kinds: dict[str, int] = {}
        for p in habitat.plants:
            kinds[clean(p.type.label)] = kinds.get(clean(p.type.label), 0) + 1
        parts.append("plants: " + ", ".join(f"{n} {kind}" for kind, n in kinds.items()))
    return "; ".join(parts)


def _lamps(habitat: Habitat, lines: Sequence[Line], _: str) -> str:
    guards = sum(x.guard is not None for x in habitat.lamps)
    parts = [f"{_count(len(habitat.lamps), 'lamp')} as said above, with holders"]
    if guards:
        parts.append(_count(guards, "guard"))
    spares = sum(x.spares for x in lines if x.key.startswith("lamps/"))
    if spares:
        parts.append(f"{_count(round(spares), 'spare lamp')}")
    return ", ".join(parts)


def _air(habitat: Habitat, lines: Sequence[Line], system: str) -> str:
    fans = _count(len(habitat.fans), "fan")
    return f"{fans}: {_listed(habitat, lines, system)}" if habitat.fans else _listed(
        habitat, lines, system)  # fmt: skip


def _mist(habitat: Habitat, _: Sequence[Line], system: str) -> str:
    mist = habitat.mist
    if mist is None:
        return "as listed"
    tank = quantities.water(1000.0 * mist.tank, system)
    return f"tank of {tank}, pump, line, {_count(len(mist.nozzles), 'nozzle')}"


def _switched(habitat: Habitat, lines: Sequence[Line], _: str) -> str:
    parts = [
        f"controller '{clean(c.name)}' ({KINDS.get(c.kind, c.kind)})" for c in habitat.controls
    ]
    limits = sum(c.cut_out is not None for c in habitat.controls)
    if limits:
        parts.append(_count(limits, "independent cut-out"))
    clocks = sum(x.wanted for x in lines if x.key == "controls/timer")
    if clocks:
        parts.append(_count(round(clocks), "timer channel"))
    if any(x.group == "wiring" for x in lines):
        parts.append("cables, sockets and residual-current protection from the outlet on")
    return ", ".join(parts) or "as listed"


PARTS: tuple[tuple[str, tuple[str, ...], Told], ...] = (
    ("box with its doors", ("panels", "openings", "fixings"), _box),
    ("background", ("background",), _backed),
    ("stand", ("stand",), _stand),
    ("branches and stones", ("hardscape",), _pieces),
    ("ground and plants", ("ground", "plants"), _grown),
    ("decomposers", ("decomposers",), _listed),
    ("lamps", ("lamps",), _lamps),
    ("air", ("air",), _air),
    ("misting", ("mist",), _mist),
    ("controls and wiring", ("controls", "wiring"), _switched),
    ("water", ("water",), _listed),
)
"""Parts of a quote: what each is called, the list's headings it is made of, and how it is told."""
