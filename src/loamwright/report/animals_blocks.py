"""The animals as tables: the room, what standards ask for, places."""

from __future__ import annotations

import math

from loamwright.engine.life.places import above_ground
from loamwright.engine.life.space import NOW, Asked
from loamwright.engine.life.study import Animals, Residents
from loamwright.habitat.habitat import Habitat
from loamwright.plan.order import OrderOfWork
from loamwright.report import quantities
from loamwright.report.animals_words import MEASURES
from loamwright.report.blocks import Table
from loamwright.report.choice_blocks import choice_tables, way_tables
from loamwright.report.descent_blocks import descent_tables
from loamwright.report.moving_blocks import moving_tables
from loamwright.report.order_blocks import start_date
from loamwright.report.plain import clean, listing


def animals_tables(
    habitat: Habitat, animals: Animals, system: str, order: OrderOfWork | None = None
) -> list[Table]:
    """Everything that is told of the animals beside the findings; of moving in the days of the
    ``order`` of work where it is planned."""
    out = [_room(habitat, animals, system)]
    for one in animals.residents:
        out += [_asked(one, system), *_notes(one)]
    out.append(_perches(animals, system))
    for one in animals.residents:
        out += [_places(habitat, one, system), *way_tables(one, system)]
        out += [*choice_tables(one, system), *descent_tables(one, system)]
    out += moving_tables(animals.moving, system, order, start_date(habitat.workshop.start))
    return [t for t in out if t.rows]


def group_words(one: Residents) -> str:
    """``1 male, 2 females and 3 young``."""
    parts = [
        f"{count} {name if count == 1 else more}"
        for count, name, more in (
            (one.males, "male", "males"), (one.females, "female", "females"),
            (one.young, "young", "young"),
        )
        if count
    ]  # fmt: skip
    return listing(parts)


def _room(habitat: Habitat, animals: Animals, system: str) -> Table:
    box = animals.box

    def told(quantity: str, value: float) -> str:
        return quantities.worded(quantity, value, system)

    rows = [
        ("floor between the backgrounds", told("area", box.floor)),
        ("length and width", f"{told('length', box.long)} x {told('length', box.short)}"),
        ("height over the ground", told("length", box.height)),
        ("volume net of ground, backgrounds and pieces", told("volume", box.volume)),
        ("pieces above the ground take", told("volume", box.pieces)),
        ("open water", told("area", box.pool) if box.pool else "none"),
    ]
    return Table(f"{clean(habitat.name)}: room", ("what", ""), tuple(rows), right=frozenset({1}))


def _asked(one: Residents, system: str) -> Table:
    rows = []
    numbers = _numbers(one)
    for asked in one.asked:
        number, space = numbers[asked.standard.key], asked.space
        length = "–"
        if asked.length is not None:
            length = quantities.length(asked.length.value, system)
        if space is None:
            figures = ("not known", "", "")
        else:
            floor = _told("area", space.floor, system)
            if asked.spoken != asked.animals and space.floor is not None:
                floor = f"{floor} for {asked.spoken}"
            sides = " x ".join(
                quantities.length(v, system) for v in (space.long, space.short) if v is not None
            )
            figures = (floor, sides or "–", _told("length", space.height, system))
        when = "now" if asked.when == NOW else "grown"
        rows.append((str(number), when, length, *figures))
    return Table(
        f"{clean(one.species.label)}, {group_words(one)}: least room by published standards",
        ("", "group", "length", "floor", "sides", "height"), tuple(rows),
        right=frozenset({2, 3, 4, 5}),
    )  # fmt: skip


def _numbers(one: Residents) -> dict[str, int]:
    """Each standard's number in the tables."""
    return {key: n for n, key in enumerate(dict.fromkeys(a.standard.key for a in one.asked), 1)}


def _told(quantity: str, value: float | None, system: str) -> str:
    return "–" if value is None else quantities.worded(quantity, value, system)


def standard_words(asked: Asked) -> str:
    """A standard with its country, kind and how its figures were read."""
    standard = asked.standard
    seen = "" if standard.seen == "own text" else ", figures as others restate them"
    where = f"{standard.country}: " if standard.country else ""
    measure = MEASURES.get(standard.measure)
    length = f"; length {measure}" if measure else ""
    caution = f"; mind: {standard.caution}" if standard.caution else ""
    return f"{where}{standard.title} ({standard.status}{seen}{length}{caution})"


def _notes(one: Residents) -> list[Table]:
    told = {a.standard.key: standard_words(a) for a in one.asked}
    rows = tuple((str(number), told[key]) for key, number in _numbers(one).items())
    return [Table("", ("", "standard"), rows)]


def _perches(animals: Animals, system: str) -> Table:
    rows = tuple(
        (
            clean(p.name, 24), quantities.length(p.diameter, system),
            quantities.length(p.length, system),
            _over_ground(p.low, p.high, system),
            f"{math.degrees(p.slope):.0f}°",
        )
        for p in animals.perches
    )  # fmt: skip
    return Table(
        "Branches and tubes, highest first",
        ("piece", "diameter", "length", "above the ground", "slope"), rows,
        right=frozenset({1, 2, 3, 4}),
        note="Which diameter a species likes best is not known: nothing was found that says it.",
    )  # fmt: skip


def _over_ground(low: float, high: float, system: str) -> str:
    """From where to where a piece stands above the ground [m]; one that lies below it is in it."""
    ends = [quantities.length(max(x, 0.0), system) for x in (low, high)]
    if ends[0] == ends[1]:
        return ends[0] if high > 0.0 else "in the ground"
    return " – ".join(ends)


def _places(habitat: Habitat, one: Residents, system: str) -> Table:
    rows = []
    for what, sites in (("rest off the ground", one.rests), ("hide", one.hides)):
        for site in sites:
            height = quantities.length(max(above_ground(habitat, site), 0.0), system)
            rows.append((clean(site.name, 24), what, height, ""))
    for spot in one.laying:
        height = quantities.length(max(above_ground(habitat, spot.site), 0.0), system)
        depth = quantities.length(spot.depth, system) if spot.depth else "not in the ground"
        rows.append((clean(spot.site.name, 24), "laying", height, depth))
    lays = clean(one.species.egg_site)
    return Table(
        f"Places of {clean(one.species.label)}",
        ("site", "for", "above the ground", "loose ground"), tuple(rows), right=frozenset({2, 3}),
        note=f"It lays in: {lays}." if lays else "",
    )  # fmt: skip
